//! The fuse for a cable: the largest standard rating that protects it and carries the load.
mod placement;
mod ratings;
mod timing;

pub use placement::{PLACEMENT_RULES, PlacementCondition, PlacementRule};
pub use ratings::{FuseFamily, FuseRating};
pub use timing::TimeCurrentPoint;

use super::check::{current_a, supply_v, within};
use crate::model::error::ModelError;
use crate::units::{Current, Voltage};

/// The fuse chosen.
#[derive(Clone, Debug, PartialEq)]
pub struct FuseChoice {
    /// Its rating.
    pub rating: Current,
    /// The families that offer the rating.
    pub offers: Vec<FuseRating>,
}

/// Why no fuse fits; a thicker cable is the way out of the first two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoFuse {
    /// The cable may carry less than the load.
    CableBelowLoad,
    /// No standard rating lies between load and ampacity.
    NoneBetween {
        /// The next standard rating that carries the load: a cable of at least this ampacity can be fused.
        next_above_load: Current,
    },
    /// The load is above every rating of the families allowed, or none is allowed at this voltage.
    NoneForLoad,
    /// A short at the cable's far end is too weak to open a fuse of the load's size promptly.
    ShortTooWeak {
        /// What the short brings.
        far_end: Current,
    },
}

/// The largest standard rating not above `ampacity` and not below `load`, out of `families` rated for `supply`.
///
/// The regulation's ceiling is looser, see [`regulatory_ceiling`]; this rule keeps to the cable, because a large blade
/// fuse may carry 135 % of its rating for half an hour.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a load outside 1 mA to 100 kA, an ampacity outside 0 A to 100 kA or a supply outside
/// 1 V to 1000 V. Inside that, [`NoFuse`] is an answer, not an error.
pub fn choose(
    load: Current,
    ampacity: Current,
    supply: Voltage,
    families: &[FuseFamily],
) -> Result<Result<FuseChoice, NoFuse>, ModelError> {
    let load_a = current_a("load in amperes", load.amperes())?;
    let limit_a = within("cable ampacity in amperes", ampacity.amperes(), 0.0, 1e5)?;
    let supply_v = supply_v("supply in volts", supply.volts())?;
    let offers = || {
        let rated = families.iter().filter(|family| family.rated_voltage().volts() >= supply_v);
        rated.flat_map(|family| family.ratings()).filter(|offer| offer.rating.amperes() >= load_a)
    };
    if limit_a < load_a {
        return Ok(Err(NoFuse::CableBelowLoad));
    }
    // Most questions are for a cable that has none: only the answer is collected.
    let (mut best, mut next) = (None::<f64>, None::<f64>);
    for rating in offers().map(|offer| offer.rating.amperes()) {
        next = Some(next.map_or(rating, |next| next.min(rating)));
        if rating <= limit_a {
            best = Some(best.map_or(rating, |best| best.max(rating)));
        }
    }
    Ok(match (best, next) {
        (Some(best), _) => Ok(FuseChoice {
            rating: Current::from_amperes(best),
            offers: offers().filter(|offer| offer.rating.amperes() == best).collect(),
        }),
        (None, Some(next)) => Err(NoFuse::NoneBetween { next_above_load: Current::from_amperes(next) }),
        (None, None) => Err(NoFuse::NoneForLoad),
    })
}

/// The most that 33 CFR 183.455(c) allows a device to be rated: 150 % of the ampacity below 50 V, else 100 %.
///
/// Shown beside a choice, never used for one.
#[must_use]
pub fn regulatory_ceiling(ampacity: Current, system: Voltage) -> Current {
    ampacity * if system.volts() < 50.0 { 1.5 } else { 1.0 }
}
