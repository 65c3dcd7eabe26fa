//! Short circuits: a fuse must interrupt the strongest and open promptly on the weakest.
use std::time::Duration;

use super::FeedRequest;
use crate::model::electrical::Standing;
use crate::model::electrical::check::{supply_v, within};
use crate::model::electrical::fuse::{self, FuseChoice, FuseFamily, NoFuse};
use crate::model::error::ModelError;
use crate::units::{Current, Resistance, Voltage};

/// A short at the far end must bring this many times the fuse's rating: the highest gate that is verified for a large
/// blade, which must then open within 7 s (DIN 72581-3 extract).
pub const PROMPT: f64 = 3.5;

/// What drives a short circuit in a cable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShortSource {
    /// Voltage of the charged battery.
    pub emf: Voltage,
    /// Battery and what lies before the fuse at its strongest: for the current the fuse must interrupt.
    pub strongest: Resistance,
    /// Battery and what lies before the cable at its weakest: for the current that must open the fuse.
    pub weakest: Resistance,
}

/// Short circuits of one cable behind its fuse.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Short {
    /// Right behind the fuse.
    pub at_fuse: Current,
    /// At the far end, cable cold.
    pub far_end: Current,
    /// The far end's current over the fuse's rating; zero without a fuse.
    pub over_rating: f64,
    /// By when every family that offers the rating, and whose points are at hand, must have opened.
    pub opens_within: Option<Duration>,
    /// How well that time is known.
    pub standing: Standing,
    /// Whether a family that offers the rating can interrupt the current right behind it.
    pub interrupts: bool,
}

type Fused = (Result<FuseChoice, NoFuse>, Option<Short>);

/// The fuse for a cable that stands `stands` and whose loop has `cold` ohms; with a short's source, one that opens
/// promptly, out of the families that can interrupt it where there are any.
pub(super) fn fuse(request: &FeedRequest, stands: Current, cold: Resistance) -> Result<Fused, ModelError> {
    let Some(source) = request.short else {
        return Ok((fuse::choose(request.load, stands, request.supply, &request.families)?, None));
    };
    let emf = supply_v("battery voltage in volts", source.emf.volts())?;
    let before = |ohm: Resistance| within("source resistance in ohms", ohm.ohms(), 1e-5, 100.0);
    let at_fuse = Current::from_amperes(emf / before(source.strongest)?);
    let far_end = Current::from_amperes(emf / (before(source.weakest)? + cold.ohms()));
    let prompt = far_end * (1.0 / PROMPT);
    let limit = if prompt < stands { prompt } else { stands };
    let strong: Vec<FuseFamily> =
        request.families.iter().copied().filter(|family| family.breaking_capacity() >= at_fuse).collect();
    let mut found = fuse::choose(request.load, limit, request.supply, &strong)?;
    if found.is_err() {
        // The rating still protects the cable; what is missing is a type that can interrupt, which is told.
        found = fuse::choose(request.load, limit, request.supply, &request.families)?;
    }
    if found.is_err() && prompt < request.load && stands >= request.load {
        found = Err(NoFuse::ShortTooWeak { far_end });
    }
    let short = judge(found.as_ref().ok(), at_fuse, far_end);
    Ok((found, Some(short)))
}

fn judge(fuse: Option<&FuseChoice>, at_fuse: Current, far_end: Current) -> Short {
    let rating = fuse.map_or(0.0, |fuse| fuse.rating.amperes());
    let over_rating = if rating > 0.0 { far_end.amperes() / rating } else { 0.0 };
    let offers = || fuse.into_iter().flat_map(|fuse| fuse.offers.iter());
    let points = offers().filter_map(|offer| offer.family.opening_bound(over_rating));
    let slowest = points.max_by(|a, b| a.longest.cmp(&b.longest));
    Short {
        at_fuse,
        far_end,
        over_rating,
        opens_within: slowest.and_then(|point| point.longest),
        standing: slowest.map_or(Standing::Memory, |point| point.standing),
        interrupts: offers().any(|offer| offer.family.breaking_capacity() >= at_fuse),
    }
}
