//! The other way round: which coil version of a driver to order for an amplifier.
use std::cmp::Ordering;

use super::{Tree, balanced};
use crate::model::electrical::amplifier::{Amplifier, PowerAtLoad, PowerBasis};
use crate::model::error::ModelError;
use crate::units::{Resistance, Voltage};

/// Versions a driver may come in: coils, and nominal ohms of each (common practice, no source).
pub const VERSIONS: [(u8, f64); 9] =
    [(1, 1.0), (1, 2.0), (1, 4.0), (1, 8.0), (2, 1.0), (2, 2.0), (2, 4.0), (4, 1.0), (4, 2.0)];

/// A version of the driver.
#[derive(Clone, Debug, PartialEq)]
pub struct CoilVersion {
    /// Coils on a driver.
    pub coils: u8,
    /// Nominal impedance of one.
    pub nominal: Resistance,
    /// The load of its best wiring.
    pub load: Resistance,
}

/// What a version comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct VersionChoice {
    /// The version, with its best load.
    pub version: CoilVersion,
    /// The wiring that makes the load.
    pub tree: Tree,
    /// Power of the amplifier there.
    pub power: PowerAtLoad,
    /// Every load the version can be wired to, rising.
    pub loads: Vec<Resistance>,
}

/// Every version with its best wiring for this amplifier and number of drivers, best first.
///
/// A wiring is better if the amplifier stands it, then if it gives more power there; of two within 1 % of each other
/// the one at a rated load, then the higher load, which asks less of amplifier and cable. Versions follow the same order, then
/// fewer coils, as they are less to join wrongly.
///
/// # Errors
/// As [`balanced`] and [`Amplifier::power_at`].
pub fn versions(
    drivers: u8,
    amplifier: &Amplifier,
    supply: Voltage,
) -> Result<Vec<VersionChoice>, ModelError> {
    let mut found = Vec::new();
    for (coils, ohm) in VERSIONS {
        let nominal = Resistance::from_ohms(ohm);
        let mut best: Option<VersionChoice> = None;
        let mut loads: Vec<Resistance> = Vec::new();
        for wiring in balanced(drivers, coils)? {
            let load = wiring.load(nominal);
            if loads.last().is_none_or(|last| load.ohms() > last.ohms() * 1.001) {
                loads.push(load);
            }
            let power = amplifier.power_at(load, supply)?;
            let version = CoilVersion { coils, nominal, load };
            let choice = VersionChoice { version, tree: wiring.tree, power, loads: Vec::new() };
            if best.as_ref().is_none_or(|so_far| order(&choice, so_far) == Ordering::Less) {
                best = Some(choice);
            }
        }
        found.extend(best.map(|choice| VersionChoice { loads, ..choice }));
    }
    crate::small::sort_by(&mut found, |a, b| order(a, b).then(a.version.coils.cmp(&b.version.coils)));
    Ok(found)
}

/// The better one first.
fn order(a: &VersionChoice, b: &VersionChoice) -> Ordering {
    // Powers in steps of about 1 %, so that the order has no rings.
    let step =
        |choice: &VersionChoice| (choice.power.expected().watts().max(1e-3).ln() * 100.0).round() as i64;
    let rated = |choice: &VersionChoice| choice.power.basis == PowerBasis::Rated;
    b.power
        .stable
        .cmp(&a.power.stable)
        .then(step(b).cmp(&step(a)))
        .then(rated(b).cmp(&rated(a)))
        .then(b.version.load.ohms().total_cmp(&a.version.load.ohms()))
}
