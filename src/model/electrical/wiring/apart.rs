//! The wirings that share equally with the coils of a driver apart from each other.
use super::enumerate::{BalancedWiring, by_load};
use super::irregular::shapes;
use super::{CoilId, Join, Tree, balanced, irregular};
use crate::model::error::ModelError;
use crate::small::TextSet;

/// Most coils in all for which every such wiring is listed: with two more there are above a thousand.
pub const MOST_APART: u8 = 10;

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
    crate::small::sort_by(&mut found, by_load);
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

/// Every one beside those with the coils of each driver together.
fn every(drivers: u8, each: u8, together: &[BalancedWiring]) -> Vec<BalancedWiring> {
    let orders = orders(usize::from(drivers));
    // All names of what was met: drivers in every order.
    let mut seen = TextSet::default();
    let mut meet = |tree: &Tree, driver: &dyn Fn(CoilId) -> u8| {
        if seen.contains(&text(tree, driver)) {
            return false;
        }
        for order in &orders {
            seen.insert(text(tree, &|id| order.get(usize::from(driver(id))).copied().unwrap_or(0)));
        }
        true
    };
    for wiring in together {
        meet(&wiring.tree, &|id| id.driver);
    }
    let mut found = Vec::new();
    for shape in shapes(drivers * each) {
        for dealt in deals(drivers, each) {
            // In the shape each coil is a driver of its own.
            let driver = |id: CoilId| dealt.get(usize::from(id.driver)).copied().unwrap_or(0);
            if meet(&shape, &driver) {
                let tree = named(&shape, &driver, &mut vec![0; usize::from(drivers)]).canonical();
                found.extend(balanced_wiring(tree));
            }
        }
    }
    found
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

/// Every way to deal so many coils to each driver, drivers numbered as they first appear.
fn deals(drivers: u8, each: u8) -> Vec<Vec<u8>> {
    let mut rows: Vec<Vec<u8>> = vec![Vec::new()];
    for _ in 0..drivers * each {
        let mut longer = Vec::new();
        for row in &rows {
            let used = row.iter().max().map_or(0, |most| most + 1);
            for driver in 0..drivers.min(used + 1) {
                if row.iter().filter(|one| **one == driver).count() < usize::from(each) {
                    longer.push([row.as_slice(), &[driver]].concat());
                }
            }
        }
        rows = longer;
    }
    rows
}

/// Every order of so many drivers.
fn orders(count: usize) -> Vec<Vec<u8>> {
    let mut orders: Vec<Vec<u8>> = vec![Vec::new()];
    for next in (0u8..).take(count) {
        let longer = orders.iter().flat_map(|order| {
            (0..=order.len()).map(|at| {
                let mut longer = order.clone();
                longer.insert(at, next);
                longer
            })
        });
        orders = longer.collect();
    }
    orders
}

/// The tree with a digit for each coil's driver, members in alphabetical order.
fn text(tree: &Tree, driver: &dyn Fn(CoilId) -> u8) -> String {
    match (tree, tree.members()) {
        (Tree::Coil(id), _) => driver(*id).to_string(),
        (_, Some((join, members))) => {
            let mut texts: Vec<String> = members.iter().map(|member| text(member, driver)).collect();
            crate::small::sort_by(&mut texts, Ord::cmp);
            let sign = if join == Join::Series { "-" } else { "|" };
            ["(", &texts.join(sign), ")"].concat()
        }
        _ => String::new(),
    }
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
