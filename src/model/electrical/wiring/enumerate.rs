//! Every regular wiring of equal drivers.
use std::cmp::Ordering;

use super::{CoilId, Join, MAX_COILS_PER_DRIVER, MAX_DRIVERS, Tree};
use crate::model::electrical::check::within;
use crate::model::error::ModelError;
use crate::units::Resistance;

/// A wiring in which equal coils take equal power.
#[derive(Clone, Debug, PartialEq)]
pub struct BalancedWiring {
    /// The wiring, in canonical form.
    pub tree: Tree,
    /// Coils in series, s.
    pub series_count: u32,
    /// Coils in parallel, p; s·p is the number of coils.
    pub parallel_count: u32,
}

impl BalancedWiring {
    /// The load of equal coils, Z·s/p; also the DC resistance, given that of a coil.
    #[must_use]
    pub fn load(&self, coil: Resistance) -> Resistance {
        coil * (f64::from(self.series_count) / f64::from(self.parallel_count))
    }
}

/// Every distinct regular wiring of equal drivers with equal coils, by rising load.
///
/// Regular: each group is made of members that are alike, so all coils take equal power. The coils of one driver
/// are joined with each other before drivers are joined, each driver's the same way: any load s/p that coils can reach is reached in this way,
/// because s dividing drivers × coils splits into a divisor of each. Two wirings that only exchange names of drivers
/// or coils are one. Wirings of equal load but different structure (pairs in series side by side, or pairs side by
/// side in series) are both listed. Wirings that share equally without being regular are listed by
/// [`irregular`](super::irregular).
///
/// # Errors
/// [`ModelError::OutOfRange`] unless there are 1 to 8 drivers of 1 to 4 coils.
pub fn balanced(drivers: u8, coils_per_driver: u8) -> Result<Vec<BalancedWiring>, ModelError> {
    within("number of drivers", f64::from(drivers), 1.0, f64::from(MAX_DRIVERS))?;
    within("coils per driver", f64::from(coils_per_driver), 1.0, f64::from(MAX_COILS_PER_DRIVER))?;
    let mut found = Vec::new();
    for outer in level_plans(usize::from(drivers)) {
        for inner in level_plans(usize::from(coils_per_driver)) {
            let units = (0..drivers)
                .map(|driver| {
                    let coils = (0..coils_per_driver).map(|coil| Tree::Coil(CoilId { driver, coil }));
                    assemble(&inner, coils.collect())
                })
                .collect();
            let tree = assemble(&outer, units).canonical();
            if let Some((series_count, parallel_count)) = tree.balance() {
                found.push(BalancedWiring { tree, series_count, parallel_count });
            }
        }
    }
    crate::small::sort_by(&mut found, by_load);
    Ok(found)
}

pub(super) fn by_load(a: &BalancedWiring, b: &BalancedWiring) -> Ordering {
    // s₁/p₁ against s₂/p₂ in whole numbers.
    (a.series_count * b.parallel_count)
        .cmp(&(b.series_count * a.parallel_count))
        .then_with(|| a.tree.to_string().cmp(&b.tree.to_string()))
}

/// One level of a regular tree: so many alike members, joined so.
pub(super) type Level = (Join, usize);

/// The ways to build `count` out of alternating series and parallel levels, outermost first.
pub(super) fn level_plans(count: usize) -> Vec<Vec<Level>> {
    if count <= 1 {
        return vec![Vec::new()];
    }
    let mut plans = plans_from(count, Join::Series);
    plans.extend(plans_from(count, Join::Parallel));
    plans
}

fn plans_from(count: usize, join: Join) -> Vec<Vec<Level>> {
    let mut plans = Vec::new();
    for members in (2..=count).filter(|k| count.is_multiple_of(*k)) {
        if members == count {
            plans.push(vec![(join, members)]);
            continue;
        }
        for rest in plans_from(count / members, join.other()) {
            let mut plan = vec![(join, members)];
            plan.extend(rest);
            plans.push(plan);
        }
    }
    plans
}

pub(super) fn assemble(plan: &[Level], leaves: Vec<Tree>) -> Tree {
    let Some(((join, members), rest)) = plan.split_first() else {
        return Tree::group(Join::Series, leaves);
    };
    let size = (leaves.len() / members).max(1);
    let groups = leaves.chunks(size).map(|part| assemble(rest, part.to_vec())).collect();
    Tree::group(*join, groups)
}
