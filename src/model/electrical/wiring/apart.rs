//! Every wiring that shares equally with the coils of a driver apart from each other.
use super::enumerate::{BalancedWiring, by_load};
use super::{CoilId, Join, Tree, balanced, irregular};
use crate::model::error::ModelError;

/// Most coils in all for which such wirings are listed: their number grows beyond any use.
pub const MOST_APART: u8 = 8;

/// Every distinct wiring of equal drivers with equal coils in which all coils take equal power and at least one driver has
/// its coils in different places, by rising load; none beyond [`MOST_APART`] coils.
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
    let together = [regular, irregular(drivers, coils_per_driver)?].concat();
    let orders = orders(usize::from(drivers));
    let mut seen: Vec<String> =
        together.iter().map(|wiring| lowest(&wiring.tree, &|id| id.driver, &orders)).collect();
    let count = drivers * coils_per_driver;
    let mut found = Vec::new();
    for shape in [balanced(count, 1)?, irregular(count, 1)?].concat() {
        for dealt in deals(drivers, coils_per_driver) {
            // In the shape each coil is a driver of its own.
            let driver = |id: CoilId| dealt.get(usize::from(id.driver)).copied().unwrap_or(0);
            let name = lowest(&shape.tree, &driver, &orders);
            if seen.contains(&name) {
                continue;
            }
            seen.push(name);
            let tree = named(&shape.tree, &driver, &mut vec![0; usize::from(drivers)]).canonical();
            found.push(BalancedWiring { tree, ..shape.clone() });
        }
    }
    crate::small::sort_by(&mut found, by_load);
    Ok(found)
}

/// Whether [`apart`] lists any.
#[must_use]
pub const fn has_apart(drivers: u8, coils_per_driver: u8) -> bool {
    drivers >= 2 && coils_per_driver >= 2 && drivers.saturating_mul(coils_per_driver) <= MOST_APART
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

/// The same text for all wirings that only exchange names.
fn lowest(tree: &Tree, driver: &dyn Fn(CoilId) -> u8, orders: &[Vec<u8>]) -> String {
    let text = |order: &Vec<u8>| text(tree, &|id| order.get(usize::from(driver(id))).copied().unwrap_or(0));
    orders.iter().map(text).min().unwrap_or_default()
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
