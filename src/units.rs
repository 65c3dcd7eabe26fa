//! Quantities with SI inside, exact lengths, decimal entries as typed, and the user's choice of units.
mod length;
mod quantity;

pub use length::ExactLength;
pub use quantity::{
    Area, Compliance, Current, ForceFactor, Frequency, Inductance, Length, Mass, Power, Pressure,
    Resistance, Temperature, Voltage, Volume,
};
