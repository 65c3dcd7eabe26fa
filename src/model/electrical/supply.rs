//! What feeds the cable: battery, alternator, the point at which source and amplifier agree, and what a capacitor adds.
mod balance;
mod battery;
mod capacitor;
mod operating;

pub use balance::{Balance, Budget, balance, budget};
pub use battery::{Battery, Chemistry, charge_band, resting_voltage_band};
pub use capacitor::{CapacitorHelp, capacitor};
pub use operating::{NoPoint, OperatingPoint, Source, operate};
