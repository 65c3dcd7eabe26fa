//! One coil read by itself, before it is joined or taken off the wiring.
use super::reading::{self, Band, Meter, Reading, overlap};
use super::{COPPER_PER_KELVIN, WARMEST_RISE_K};
use crate::model::electrical::wiring::Coil;
use crate::model::error::ModelError;

/// What a coil's reading says of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CoilState {
    /// Within its tolerance.
    Sound,
    /// Sound if it is this much warmer than room temperature, in kelvin.
    Warm {
        /// The least rise that explains the reading.
        rise_k: f64,
    },
    /// No current flows.
    Open,
    /// As good as nothing between its ends.
    Shorted,
    /// Neither: another coil than entered, a bad contact, or coils still joined.
    Other,
}

/// A coil's reading beside what it should be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilVerdict {
    /// What the reading says.
    pub state: CoilState,
    /// What a sound, cold coil reads.
    pub expected: Band,
}

/// Judges a coil read by itself.
///
/// # Errors
/// As [`super::check`] for reading and meter.
pub fn check_coil(coil: Coil, reading: Reading, meter: Meter) -> Result<CoilVerdict, ModelError> {
    let measured = reading::measure(meter, reading)?;
    let half = coil.dc.ohms() * coil.tolerance_percent / 100.0;
    let (low, high) = (coil.dc.ohms() - half, coil.dc.ohms() + half);
    let rise_k = (measured.low() / high - 1.0) / COPPER_PER_KELVIN;
    let state = if overlap(low, high, measured.low(), measured.high()) {
        CoilState::Sound
    } else if !measured.ohm.is_finite() {
        CoilState::Open
    } else if measured.low() <= 0.0 {
        CoilState::Shorted
    } else if rise_k > 0.0 && rise_k <= WARMEST_RISE_K {
        CoilState::Warm { rise_k }
    } else {
        CoilState::Other
    };
    Ok(CoilVerdict { state, expected: Band::new(low, high) })
}
