//! The wirings that share equally with the coils of a driver apart from each other.
use super::enumerate::BalancedWiring;
use super::irregular::shapes;
use super::{CoilId, Join, MAX_DRIVERS, Tree, balanced, irregular};
use crate::model::error::ModelError;
use crate::small::sort_by_number;

/// Most coils in all for which every such wiring is listed; with two more there are tens of thousands.
pub const MOST_APART: u8 = 14;

/// Distinct wirings of equal drivers with equal coils in which all coils take equal power and at least one driver has
/// its coils in different places, by rising load: every one up to [`MOST_APART`] coils, beyond only those in which each
/// group divides its drivers, or the coils of each of its drivers, or both, into equal parts.
///
/// Loads and shares are those of [`balanced`]: which coil sits on which cone is no matter of the circuit. These are the
/// wirings of as many single coils, with the coils dealt out to drivers in every way; two that only exchange names of
/// drivers or coils are one.
///
/// # Errors
/// As [`balanced`].
pub fn apart(drivers: u8, coils_per_driver: u8) -> Result<Vec<BalancedWiring>, ModelError> {
    let regular = balanced(drivers, coils_per_driver)?;
    if !has_apart(drivers, coils_per_driver) {
        return Ok(Vec::new());
    }
    let mut found = if lists_every_apart(drivers, coils_per_driver) {
        every(drivers, coils_per_driver, &[regular, irregular(drivers, coils_per_driver)?].concat())
    } else {
        divided(drivers, coils_per_driver)
    };
    sort_by_number(&mut found, |wiring| f64::from(wiring.series_count) / f64::from(wiring.parallel_count));
    Ok(found)
}

/// Whether [`apart`] lists any.
#[must_use]
pub const fn has_apart(drivers: u8, coils_per_driver: u8) -> bool {
    drivers >= 2 && coils_per_driver >= 2
}

/// Whether [`apart`] lists every one.
#[must_use]
pub const fn lists_every_apart(drivers: u8, coils_per_driver: u8) -> bool {
    drivers.saturating_mul(coils_per_driver) <= MOST_APART
}

/// How many wirings share equally in all where not every one is listed; `None` where there are millions and more.
///
/// # Source
/// Pólya's count: inner products of cycle indices, summed over the shapes (F. Harary, E. M. Palmer, Graphical Enumeration,
/// 1973, chapter 8, from memory).
#[must_use]
pub const fn ways_in_all(drivers: u8, coils_per_driver: u8) -> Option<u32> {
    match (drivers, coils_per_driver) {
        (8, 2) => Some(26_406),
        (4, 4) => Some(64_856),
        _ => None,
    }
}

/// Every one beside those with the coils of each driver together.
///
/// Coils are dealt to the places of a shape in turn, drivers numbered as they first appear; a deal in which two alike
/// branches could change places and give an earlier row of numbers is left out at once. Of what is left a few are still one
/// wiring; their marks tell.
fn every(drivers: u8, each: u8, together: &[BalancedWiring]) -> Vec<BalancedWiring> {
    let shapes = shapes(drivers * each);
    // Of each deal its shape and its row, for most are not needed further.
    let mut dealt: Vec<(usize, Vec<u8>)> = Vec::new();
    let known = together.iter().map(|wiring| seen_from(&wiring.tree, &|id| id.driver, drivers, None));
    let mut met: Vec<(u64, usize)> = known.zip(0..).collect();
    let first_new = met.len();
    for (at, shape) in shapes.iter().enumerate() {
        let mut dealer = Dealer { drivers, each, twins: Vec::new(), row: Vec::new() };
        let places = dealer.find_twins(shape, 0);
        dealer.deal(places, &mut |row| {
            met.push((seen_from(shape, &|id| owner(row, id), drivers, None), first_new + dealt.len()));
            dealt.push((at, row.to_vec()));
        });
    }
    let of_deal = |at: usize| dealt.get(at.checked_sub(first_new)?);
    let full_mark = |at: usize| match (together.get(at), of_deal(at)) {
        (Some(wiring), _) => mark(&wiring.tree, &|id| id.driver, drivers),
        (_, Some((shape, row))) => shapes.get(*shape).map_or(0, |s| mark(s, &|id| owner(row, id), drivers)),
        _ => 0,
    };
    let mut kept = first_of_each(met, &full_mark);
    kept.sort_unstable();
    let wiring = |at: usize| {
        let (shape, row) = of_deal(at)?;
        dealt_wiring(shapes.get(*shape)?, row, drivers)
    };
    kept.into_iter().filter_map(wiring).collect()
}

/// The first of those alike. Most differ by a mark that is soon found; only where that is the same the full one is asked for.
fn first_of_each(mut met: Vec<(u64, usize)>, full_mark: &dyn Fn(usize) -> u64) -> Vec<usize> {
    met.sort_unstable();
    let mut kept = Vec::new();
    for run in met.chunk_by(|a, b| a.0 == b.0) {
        if let [(_, only)] = run {
            kept.push(*only);
            continue;
        }
        let mut full: Vec<(u64, usize)> = run.iter().map(|(_, at)| (full_mark(*at), *at)).collect();
        full.sort_unstable();
        full.dedup_by_key(|(mark, _)| *mark);
        kept.extend(full.into_iter().map(|(_, at)| at));
    }
    kept
}

/// In a shape each coil is a driver of its own; the row says whose it becomes.
fn owner(row: &[u8], id: CoilId) -> u8 {
    row.get(usize::from(id.driver)).copied().unwrap_or(0)
}

fn dealt_wiring(shape: &Tree, row: &[u8], drivers: u8) -> Option<BalancedWiring> {
    let tree = named(shape, &|id| owner(row, id), &mut vec![0; usize::from(drivers)]);
    balanced_wiring(tree.canonical())
}

/// Two alike branches of one group: their first places, and how many places each has.
type Twins = (usize, usize, usize);

/// Deals coils to the places of a shape.
struct Dealer {
    drivers: u8,
    each: u8,
    /// Pairs of alike branches by the place that fills the second of them.
    twins: Vec<Vec<Twins>>,
    row: Vec<u8>,
}

impl Dealer {
    /// Notes every pair of alike branches from a place on; how many places the shape has.
    fn find_twins(&mut self, shape: &Tree, from: usize) -> usize {
        let Some((_, members)) = shape.members() else { return 1 };
        let mut before: Vec<(String, usize)> = Vec::new();
        let mut at = from;
        for member in members {
            let places = self.find_twins(member, at);
            let text = outline(member);
            let alike = before.iter().filter(|(other, _)| *other == text);
            let alike: Vec<Twins> = alike.map(|(_, first)| (*first, at, places)).collect();
            if self.twins.len() <= at + places {
                self.twins.resize(at + places + 1, Vec::new());
            }
            if let Some(twins) = self.twins.get_mut(at + places) {
                twins.extend(alike);
            }
            before.push((text, at));
            at += places;
        }
        at - from
    }

    /// Gives `take` every row of drivers that `row` can be continued to.
    fn deal(&mut self, places: usize, take: &mut dyn FnMut(&[u8])) {
        if self.row.len() == places {
            take(&self.row);
            return;
        }
        let used = self.row.iter().max().map_or(0, |most| most + 1);
        for driver in 0..self.drivers.min(used + 1) {
            if self.row.iter().filter(|one| **one == driver).count() < usize::from(self.each) {
                self.row.push(driver);
                if self.is_first() {
                    self.deal(places, take);
                }
                self.row.pop();
            }
        }
    }

    /// Whether no exchange of two alike branches, the second of which was just filled, gives an earlier row.
    fn is_first(&self) -> bool {
        let just_filled = self.twins.get(self.row.len()).into_iter().flatten();
        just_filled.copied().all(|twins| !self.is_earlier(twins))
    }

    /// Whether the row is earlier once two branches have changed places and drivers are numbered anew.
    fn is_earlier(&self, twins: Twins) -> bool {
        let mut names = [None::<u8>; MAX_DRIVERS as usize];
        let mut next = 0;
        for (at, own) in self.row.iter().enumerate() {
            let driver = self.row.get(exchanged(at, twins)).copied().unwrap_or(0);
            let Some(slot) = names.get_mut(usize::from(driver)) else { return false };
            let name = *slot.get_or_insert_with(|| {
                next += 1;
                next - 1
            });
            if name != *own {
                return name < *own;
            }
        }
        false
    }
}

/// Where the coil of a place comes from once two branches have changed places.
const fn exchanged(at: usize, (first, second, places): Twins) -> usize {
    if at >= first && at < first + places {
        at - first + second
    } else if at >= second && at < second + places {
        at - second + first
    } else {
        at
    }
}

/// A number for each driver.
type Numbers = [u64; MAX_DRIVERS as usize];

/// A number that is the same for two wirings that only exchange names of drivers or coils.
///
/// In turn one driver is told from the others; then each driver gets a number from where its coils sit and what sits beside
/// them, again and again, so that what one differs in reaches all that are chained to it. That two wirings
/// never share a number is not proved but counted: tests hold the lists to Pólya's count.
fn mark(tree: &Tree, driver: &dyn Fn(CoilId) -> u8, drivers: u8) -> u64 {
    let seen = (0..drivers).map(|told| stir(seen_from(tree, driver, drivers, Some(told))));
    seen.fold(0, u64::wrapping_add)
}

/// What a wiring looks like with one driver told from the others; with none it tells most wirings apart already.
fn seen_from(tree: &Tree, driver: &dyn Fn(CoilId) -> u8, drivers: u8, told: Option<u8>) -> u64 {
    let mut numbers: Numbers = [1; MAX_DRIVERS as usize];
    if let Some(number) = told.and_then(|told| numbers.get_mut(usize::from(told))) {
        *number = 2;
    }
    // As far as the furthest driver of a ring of them.
    for _ in 0..=drivers / 2 {
        let mut met: Numbers = [0; MAX_DRIVERS as usize];
        let all = inside(tree, driver, &numbers);
        around(tree, all, 1, driver, &numbers, &mut met);
        for (number, met) in numbers.iter_mut().zip(met) {
            *number = stir(number.wrapping_add(met));
        }
    }
    inside(tree, driver, &numbers)
}

/// Adds to each driver's number what lies around its coils; `all` is what the tree holds.
fn around(
    tree: &Tree,
    all: u64,
    outside: u64,
    driver: &dyn Fn(CoilId) -> u8,
    numbers: &Numbers,
    met: &mut Numbers,
) {
    match tree {
        Tree::Coil(id) => {
            if let Some(met) = met.get_mut(usize::from(driver(*id))) {
                *met = met.wrapping_add(stir(outside));
            }
        }
        Tree::Series(members) | Tree::Parallel(members) => {
            for member in members {
                let own = inside(member, driver, numbers);
                let beside = all.wrapping_sub(stir(own));
                around(member, own, stir(outside).wrapping_add(beside), driver, numbers, met);
            }
        }
    }
}

/// A number of what a tree holds, whatever the order of its members.
fn inside(tree: &Tree, driver: &dyn Fn(CoilId) -> u8, numbers: &Numbers) -> u64 {
    let sum = |members: &[Tree], start: u64| {
        members.iter().fold(start, |sum, member| sum.wrapping_add(stir(inside(member, driver, numbers))))
    };
    match tree {
        Tree::Coil(id) => numbers.get(usize::from(driver(*id))).copied().unwrap_or(0),
        Tree::Series(members) => sum(members, 0x5E),
        Tree::Parallel(members) => sum(members, 0xBA_0000),
    }
}

/// Spreads a number's bits over all of it: the finisher of the generator splitmix64 (G. Steele, D. Lea, C. Flood, 2014,
/// from memory).
const fn stir(number: u64) -> u64 {
    let a = number.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let b = (a ^ (a >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let c = (b ^ (b >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    c ^ (c >> 31)
}

fn balanced_wiring(tree: Tree) -> Option<BalancedWiring> {
    let (series_count, parallel_count) = tree.balance()?;
    Some(BalancedWiring { tree, series_count, parallel_count })
}

/// A level of a wiring: into how many parts its group divides its drivers, and the coils of each of them.
type Division = (u8, u8);

/// Those in which every group divides alike, groups of the two kinds in turns. Two rows of divisions are two wirings:
/// how many drivers a group of a level holds, and how many coils of each, is the same under every renaming. A driver's
/// coils are apart where a level that divides drivers lies within one that divides coils.
fn divided(drivers: u8, each: u8) -> Vec<BalancedWiring> {
    let mut found = Vec::new();
    for row in divisions(drivers, each) {
        let coils_first = row.iter().position(|(_, coils)| *coils > 1);
        if !row.iter().skip(coils_first.map_or(row.len(), |at| at + 1)).any(|(drivers, _)| *drivers > 1) {
            continue;
        }
        let all: Vec<Vec<CoilId>> =
            (0..drivers).map(|driver| (0..each).map(|coil| CoilId { driver, coil }).collect()).collect();
        for join in [Join::Series, Join::Parallel] {
            found.extend(balanced_wiring(divide(&row, join, &all).canonical()));
        }
    }
    found
}

/// Every row of divisions, outermost first, that leaves one coil of one driver.
fn divisions(drivers: u8, each: u8) -> Vec<Vec<Division>> {
    if (drivers, each) == (1, 1) {
        return vec![Vec::new()];
    }
    let mut rows = Vec::new();
    for into in (1..=drivers).filter(|into| drivers.is_multiple_of(*into)) {
        for coils in (1..=each).filter(|coils| each.is_multiple_of(*coils) && into * coils > 1) {
            let rest = divisions(drivers / into, each / coils);
            rows.extend(rest.into_iter().map(|rest| [vec![(into, coils)], rest].concat()));
        }
    }
    rows
}

/// The group of these drivers with these coils of each.
fn divide(row: &[Division], join: Join, all: &[Vec<CoilId>]) -> Tree {
    let Some((&(into, of_coils), rest)) = row.split_first() else {
        return Tree::group(join, all.iter().flatten().copied().map(Tree::Coil).collect());
    };
    let part = |count: usize, into: u8| (count / usize::from(into)).max(1);
    let mut members = Vec::new();
    for some in all.chunks(part(all.len(), into)) {
        let size = part(some.first().map_or(1, Vec::len), of_coils);
        for first in (0..usize::from(of_coils)).map(|at| at * size) {
            let coils = some.iter().map(|coils| coils.iter().skip(first).take(size).copied().collect());
            members.push(divide(rest, join.other(), &coils.collect::<Vec<_>>()));
        }
    }
    Tree::group(join, members)
}

/// The shape without names, members in alphabetical order.
fn outline(tree: &Tree) -> String {
    let Some((join, members)) = tree.members() else { return "o".into() };
    let mut texts: Vec<String> = members.iter().map(outline).collect();
    crate::small::sort_by(&mut texts, Ord::cmp);
    let sign = if join == Join::Series { "-" } else { "|" };
    ["(", &texts.join(sign), ")"].concat()
}

/// The shape with its coils named by driver, each driver's counted as they come.
fn named(tree: &Tree, driver: &dyn Fn(CoilId) -> u8, used: &mut Vec<u8>) -> Tree {
    match tree {
        Tree::Coil(id) => {
            let driver = driver(*id);
            let coil = used.get(usize::from(driver)).copied().unwrap_or(0);
            if let Some(count) = used.get_mut(usize::from(driver)) {
                *count += 1;
            }
            Tree::Coil(CoilId { driver, coil })
        }
        Tree::Series(members) => Tree::Series(members.iter().map(|m| named(m, driver, used)).collect()),
        Tree::Parallel(members) => Tree::Parallel(members.iter().map(|m| named(m, driver, used)).collect()),
    }
}
