//! The closed box by formula: its resonance, its Q, the volume for a wanted Q.

use super::check::within;
use super::port::chamber_volume;
use super::{Air, Load};
use crate::model::error::ModelError;
use crate::units::{Frequency, Volume};
use std::f64::consts::TAU;

/// Resonance fc of drivers in a closed box: fs·√(1 + N·Vas/V).
///
/// # Errors
/// Those of [`Load::check`], or [`ModelError::OutOfRange`] for the volume.
///
/// # Source
/// Small, JAES 20 (1972) 798.
pub fn closed_box_frequency(load: &Load, volume: Volume, air: &Air) -> Result<Frequency, ModelError> {
    load.check()?;
    let ratio = load_volume_m3(load, air) / chamber_volume(volume)?;
    let omega_s = load.driver.resonance_rad_s();
    Ok(Frequency::from_hertz(omega_s * (1.0 + ratio).sqrt() / TAU))
}

/// Qtc of drivers in a closed box without losses, Re being the only resistance: Qts·√(1 + N·Vas/V).
///
/// # Errors
/// As [`closed_box_frequency`].
///
/// # Source
/// Small, JAES 20 (1972) 798.
pub fn closed_box_q(load: &Load, volume: Volume, air: &Air) -> Result<f64, ModelError> {
    load.check()?;
    let ratio = load_volume_m3(load, air) / chamber_volume(volume)?;
    Ok(load.driver.small_signal(air)?.qts() * (1.0 + ratio).sqrt())
}

/// Volume in which a closed box without losses has the wanted Qtc, or `None` if that is not above Qts.
///
/// # Errors
/// Those of [`Load::check`], or [`ModelError::OutOfRange`] for a Qtc outside 0.1 to 10.
pub fn closed_box_volume(load: &Load, qtc: f64, air: &Air) -> Result<Option<Volume>, ModelError> {
    load.check()?;
    within("Qtc", qtc, 0.1, 10.0)?;
    let ratio = (qtc / load.driver.small_signal(air)?.qts()).powi(2) - 1.0;
    let volume = load_volume_m3(load, air) / ratio;
    Ok((ratio > 0.0 && volume.is_finite()).then(|| Volume::from_cubic_metres(volume)))
}

/// N·Vas in m³.
pub(super) fn load_volume_m3(load: &Load, air: &Air) -> f64 {
    load.wiring.drivers as f64 * load.driver.suspension_volume_m3(air)
}
