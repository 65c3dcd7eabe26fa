//! A filament lamp in the fuse's place: whatever is wrong behind it, no more than its own current flows.
use crate::model::electrical::check::{supply_v, within};
use crate::model::error::ModelError;
use crate::units::{Current, Power, Voltage};

/// The current of a filament lamp with its whole rated voltage across it: the most that a short behind it draws.
///
/// I = P/U. A cold filament takes several times as much for some milliseconds, and a little more above its rated
/// voltage; a battery's fuse and cable do not notice either.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a power outside 0.1 W to 200 W or a voltage outside 1 V to 1000 V.
pub fn lamp_current(power: Power, voltage: Voltage) -> Result<Current, ModelError> {
    let watts = within("lamp power in watts", power.watts(), 0.1, 200.0)?;
    Ok(Current::from_amperes(watts / supply_v("lamp voltage in volts", voltage.volts())?))
}
