//! The lift a small cabin gives to low bass, as a simple model.
//!
//! Below the frequency whose half wavelength is the cabin's length the pressure is the same everywhere and follows the
//! displaced volume: 12 dB per octave towards low frequencies (a rigid, closed cabin). The model is that slope and a
//! smooth knee; the modes above the corner, seats, trim and the listener's place are not in it.

use super::check::within;
use crate::model::error::ModelError;
use crate::units::{Frequency, Length, Volume};
use std::f64::consts::TAU;

/// A cabin as the ear at low frequencies finds it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cabin {
    /// Where the lift begins: 3 dB here, 12 dB per octave below.
    pub corner: Frequency,
    /// Below this the leaks let the pressure go and the lift rises by 6 dB per octave only; `None` is airtight.
    pub leak: Option<Frequency>,
    /// Share of the lift, in dB, that soft or open bodywork leaves: 1 is rigid and closed, 0 is the open air.
    pub share: f64,
}

impl Cabin {
    /// Checks every value.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`].
    pub fn check(&self) -> Result<(), ModelError> {
        within("cabin corner in Hz", self.corner.hertz(), 1.0, 1e3)?;
        if let Some(leak) = self.leak {
            within("cabin leak corner in Hz", leak.hertz(), 0.01, 1e3)?;
        }
        within("share of the cabin's lift", self.share, 0.0, 1.0)?;
        Ok(())
    }

    /// The lift over half space in dB: share·(10·lg(1 + (fc/f)⁴) − 10·lg(1 + (fl/f)²)), not below 0.
    ///
    /// # Source
    /// Slope and leak: pressure zone and its RC with the leaks, `circuits.md` section 7 of the reference data. Knee and
    /// share: a smooth curve chosen here, no source.
    #[must_use]
    pub fn gain_db(&self, f: Frequency) -> f64 {
        let lift = 10.0 * (1.0 + (self.corner.hertz() / f.hertz()).powi(4)).log10();
        let lost = self.leak.map_or(0.0, |leak| 10.0 * (1.0 + (leak.hertz() / f.hertz()).powi(2)).log10());
        self.share * (lift - lost).max(0.0)
    }
}

/// The corner of a cabin of a length: c/(2L), where half a wavelength fits.
///
/// Common practice: the lowest mode of a rigid room of that length (Rayleigh) marks where the pressure zone ends.
///
/// # Errors
/// [`ModelError::OutOfRange`] unless the length is 0.5 m to 20 m.
pub fn corner_of_length(length: Length, speed_of_sound_m_s: f64) -> Result<Frequency, ModelError> {
    let metres = within("cabin length in m", length.metres(), 0.5, 20.0)?;
    Ok(Frequency::from_hertz(speed_of_sound_m_s / (2.0 * metres)))
}

/// Where the pressure in a closed rigid cabin of a volume equals that in half space at a distance: (c/2π)·√(2πr/V).
///
/// # Errors
/// [`ModelError::OutOfRange`] for a volume outside 0.1 m³ to 100 m³ or a distance outside 1 cm to 100 m.
///
/// # Source
/// Pressure zone p = ρc²·Q/(ωV) against p = ρfQ/r.
pub fn corner_of_volume(
    volume: Volume,
    distance: Length,
    speed_of_sound_m_s: f64,
) -> Result<Frequency, ModelError> {
    let volume = within("cabin volume in m³", volume.cubic_metres(), 0.1, 100.0)?;
    let distance = within("distance in m", distance.metres(), 0.01, 100.0)?;
    Ok(Frequency::from_hertz(speed_of_sound_m_s / TAU * (TAU * distance / volume).sqrt()))
}
