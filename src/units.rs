//! Quantities with SI inside, exact lengths, decimal entries as typed, and the user's choice of units.
mod decimal;
mod entered;
mod length;
mod prefs;
mod quantity;

pub use decimal::{Decimal, ParseNumberError, parse_number};
pub use entered::{Entered, Quantity, Unit};
pub use length::ExactLength;
pub use prefs::{CableUnit, LengthUnit, RunUnit, TemperatureUnit, UnitPrefs, VolumeUnit};
pub use quantity::{
    Area, Compliance, Current, ForceFactor, Frequency, Inductance, Length, Mass, Power, Pressure, Resistance,
    Temperature, Voltage, Volume,
};
