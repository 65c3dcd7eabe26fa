//! What a capacitor beside the amplifier can and cannot do.
use crate::model::electrical::check::{supply_v, within};
use crate::model::error::ModelError;
use crate::units::{Current, Resistance, Voltage};

/// A capacitor in numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CapacitorHelp {
    /// Energy stored at the supply, ½CV², in joules.
    pub stored_j: f64,
    /// What it gives while its voltage falls by the sag allowed, in joules.
    pub given_j: f64,
    /// How long it covers the current, in seconds; zero where its own resistance takes the whole sag.
    pub covers_s: f64,
    /// The step its own resistance makes at that current.
    pub step: Voltage,
}

/// How long a capacitor covers a current that the feed does not bring, within a sag: t = C·(ΔV − I·ESR)/I.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a capacitance outside 1 mF to 10 kF, a resistance outside 0 Ω to 1 Ω, a supply
/// outside 1 V to 1000 V, a sag outside 1 mV to the supply or a current outside 1 mA to 100 kA.
pub fn capacitor(
    farads: f64,
    own: Resistance,
    supply: Voltage,
    sag: Voltage,
    current: Current,
) -> Result<CapacitorHelp, ModelError> {
    let c = within("capacitance in farads", farads, 1e-3, 1e4)?;
    let r = within("resistance of the capacitor in ohms", own.ohms(), 0.0, 1.0)?;
    let v = supply_v("supply in volts", supply.volts())?;
    let fall = within("sag allowed in volts", sag.volts(), 1e-3, v)?;
    let i = crate::model::electrical::check::current_a("current in amperes", current.amperes())?;
    let low = v - fall;
    Ok(CapacitorHelp {
        stored_j: 0.5 * c * v * v,
        given_j: 0.5 * c * (v * v - low * low),
        covers_s: (c * (fall - i * r) / i).max(0.0),
        step: Voltage::from_volts(i * r),
    })
}
