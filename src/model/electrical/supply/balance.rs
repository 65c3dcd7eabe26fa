//! Ampere hours in and out: alternator against the loads, battery with the engine off, drain asleep.
use super::Battery;
use crate::model::electrical::check::within;
use crate::model::error::ModelError;
use crate::units::Current;

/// What the alternator has left for the amplifiers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// At hot idle, once the vehicle's own load is fed; negative where even that is not.
    pub idle: Current,
    /// At driving speed.
    pub driving: Current,
    /// Whether the average draw is covered at hot idle.
    pub covers_idle: bool,
    /// Whether it is covered at driving speed.
    pub covers_driving: bool,
    /// Hours at hot idle until the battery is down to its reserve; `None` where the alternator covers the draw.
    pub idle_hours: Option<f64>,
}

/// Alternator of a rating, of which `idle_share` is left at hot idle, against the vehicle's own load and the
/// amplifiers' average draw. `usable_ah` is what the battery gives down to its reserve.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a rating outside 1 A to 2000 A, a share outside 0 to 1, a load or draw outside 0 A
/// to 100 kA or ampere hours outside 0 to 10 000.
pub fn balance(
    rating: Current,
    idle_share: f64,
    own_load: Current,
    average: Current,
    usable_ah: f64,
) -> Result<Balance, ModelError> {
    let rated = within("alternator rating in amperes", rating.amperes(), 1.0, 2e3)?;
    let share = within("share at hot idle", idle_share, 0.0, 1.0)?;
    let own = within("the vehicle's own load in amperes", own_load.amperes(), 0.0, 1e5)?;
    let draw = within("average draw in amperes", average.amperes(), 0.0, 1e5)?;
    let usable = within("usable ampere hours", usable_ah, 0.0, 1e4)?;
    let (idle, driving) = (rated * share - own, rated - own);
    let short = draw - idle;
    Ok(Balance {
        idle: Current::from_amperes(idle),
        driving: Current::from_amperes(driving),
        covers_idle: short <= 0.0,
        covers_driving: draw <= driving,
        idle_hours: (short > 0.0).then(|| usable / short),
    })
}

/// What the battery is good for with the engine off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Budget {
    /// Ampere hours from its charge down to the reserve; zero where it is below already.
    pub usable_ah: f64,
    /// Hours of music; `None` where nothing is drawn.
    pub hours: Option<f64>,
    /// Days asleep from its charge down to the reserve; `None` without drain.
    pub days_asleep: Option<f64>,
}

/// Hours and days that a battery gives down to a reserve.
///
/// `charge` and `reserve` are shares of its capacity. Capacity counts as rated; at currents far above the 20-hour
/// rate lead-acid gives less, so the hours are an upper bound.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a capacity outside 1 Ah to 2000 Ah, shares outside 0 to 1 or currents outside 0 A
/// to 100 kA.
pub fn budget(
    battery: &Battery,
    charge: f64,
    reserve: f64,
    draw: Current,
    drain: Current,
) -> Result<Budget, ModelError> {
    let capacity = within("battery capacity in Ah", battery.capacity_ah, 1.0, 2e3)?;
    let charge = within("state of charge", charge, 0.0, 1.0)?;
    let reserve = within("reserve", reserve, 0.0, 1.0)?;
    let draw = within("draw in amperes", draw.amperes(), 0.0, 1e5)?;
    let drain = within("drain in amperes", drain.amperes(), 0.0, 1e5)?;
    let usable_ah = capacity * (charge - reserve).max(0.0);
    Ok(Budget {
        usable_ah,
        hours: (draw > 0.0).then(|| usable_ah / draw),
        days_asleep: (drain > 0.0).then(|| usable_ah / drain / 24.0),
    })
}
