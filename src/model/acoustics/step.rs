//! The sound pressure after a voltage step.

use super::solve::{Drive, respond};
use super::{Network, SignalPath};
use crate::model::error::ModelError;
use std::f64::consts::{PI, TAU};

/// Distance of the frequencies the step is put together from, Hz: what comes before 1/STEP_HZ does not repeat.
const STEP_HZ: f64 = 1.5;
/// Highest of them.
const TOP_HZ: f64 = 1200.0;

/// Pressure at `times_s` after the source steps from 0 V to 1 V, as a share of that at the same moment in an ideal
/// loudspeaker without lower or upper limit; without travel time.
///
/// For a causal system without response at 0 Hz: s(t) = (2/π)·∫ Re H(ω)·sin(ωt)/ω dω. The frequencies end softly at
/// 1.2 kHz, so that the rise takes about 1 ms. Valid for times well below 0.6 s.
///
/// # Errors
/// Those of [`respond`] and [`SignalPath::check`].
pub fn step_response(
    network: &Network,
    drive: &Drive,
    path: &SignalPath,
    times_s: &[f64],
) -> Result<Vec<f64>, ModelError> {
    path.check()?;
    let reference = super::figures::reference_level_db(network, *drive)?;
    let frequencies: Vec<f64> = (1..=(TOP_HZ / STEP_HZ) as usize).map(|k| k as f64 * STEP_HZ).collect();
    let response = respond(network, *drive, &frequencies)?;
    let mut weights = Vec::with_capacity(frequencies.len());
    for ((f, level), phase) in frequencies.iter().zip(&response.spl_db).zip(&response.phase_deg) {
        let size = 10f64.powf((level - reference) / 20.0);
        let h = num_complex::Complex64::from_polar(size, phase.to_radians()) * path.at(TAU * f).0;
        // A raised cosine over the upper half: a sharp end would ring.
        let x = (2.0 * f / TOP_HZ - 1.0).max(0.0);
        weights.push(h.re / f * 0.5 * (1.0 + (PI * x).cos()) * STEP_HZ * 2.0 / PI);
    }
    let value = |t: &f64| {
        // sin(kx) by its recurrence: a sine for each product would be most of the work.
        let (mut before, mut now, twice) = (0.0, (TAU * STEP_HZ * t).sin(), 2.0 * (TAU * STEP_HZ * t).cos());
        weights.iter().fold(0.0, |sum, weight| {
            let term = weight * now;
            (before, now) = (now, twice * now - before);
            sum + term
        })
    };
    Ok(times_s.iter().map(value).collect())
}
