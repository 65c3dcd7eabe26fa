//! The loudspeaker line: what its cable takes, what it does to the driver's Q, and what power the box lets in.
use num_complex::Complex64;

use super::check::{load_ohm, within};
use crate::model::error::ModelError;
use crate::units::{Power, Resistance, Voltage};

/// A loudspeaker cable's effect.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineEffect {
    /// Level lost at the nominal load, dB, positive.
    pub loss_db: f64,
    /// Share of the power that warms the cable.
    pub power_share: f64,
    /// Qes with the cable in series: Qes·(Re + Rc)/Re.
    pub qes: f64,
    /// Qts with it.
    pub qts: f64,
}

/// What a cable resistance (out and back) does to a load of nominal impedance and DC resistance.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a cable outside 0 Ω to 100 Ω, a load outside 0.01 Ω to 10 kΩ or a Q outside 0.001 to
/// 1000.
///
/// # Source
/// Voltage division; Qes ∝ Re + Rg: Small, JAES 20 (1972) 383, from memory.
pub fn line_effect(
    cable: Resistance,
    nominal: Resistance,
    dc: Resistance,
    qes: f64,
    qms: f64,
) -> Result<LineEffect, ModelError> {
    let rc = within("cable resistance in ohms", cable.ohms(), 0.0, 100.0)?;
    let z = load_ohm("nominal load in ohms", nominal.ohms())?;
    let re = load_ohm("DC resistance in ohms", dc.ohms())?;
    let qes = within("Qes", qes, 1e-3, 1e3)? * (re + rc) / re;
    let qms = within("Qms", qms, 1e-3, 1e3)?;
    Ok(LineEffect {
        loss_db: 20.0 * ((z + rc) / z).log10(),
        power_share: rc / (z + rc),
        qes,
        qts: qes * qms / (qes + qms),
    })
}

/// Real power into an impedance behind a cable at a voltage (rms): U²·Re(Z)/|Z + Rc|²; 0 for an impedance of none.
///
/// Where the box raises |Z|, an amplifier of constant voltage gives less than U²/Znominal; the phase takes more.
#[must_use]
pub fn real_power(voltage: Voltage, impedance: Complex64, cable: Resistance) -> Power {
    let whole = (impedance + cable.ohms()).norm_sqr();
    let watts = voltage.volts().powi(2) * impedance.re / whole;
    Power::from_watts(if watts.is_finite() { watts } else { 0.0 })
}
