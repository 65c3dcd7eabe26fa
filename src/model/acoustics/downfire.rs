//! A driver that fires at the floor: its cone's sag, and the air in the gap under it.

use super::check::within;
use super::{Air, Load};
use crate::model::error::ModelError;
use crate::units::{Area, Frequency, Length, Mass};
use std::f64::consts::{PI, TAU};

/// Standard gravity, m/s².
const GRAVITY: f64 = 9.806_65;

/// How far a cone sags with its axis upright: g/(2π·fs)².
///
/// A few per cent too much: the moving mass contains air, which does not sag.
///
/// # Errors
/// [`ModelError::OutOfRange`] for fs outside 1 Hz to 10 kHz.
pub fn cone_sag(fs: Frequency) -> Result<Length, ModelError> {
    let omega = TAU * within("fs in Hz", fs.hertz(), 1.0, 1e4)?;
    Ok(Length::from_metres(GRAVITY / (omega * omega)))
}

/// The air way from under a cone to the room: a flat gap, then windows between legs. For one driver.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FloorGap {
    /// Height of the gap between the baffle and the floor.
    pub height: Length,
    /// Radius at which the gap ends: that of the flange, or half the box's shorter side.
    pub reach: Length,
    /// Area of all windows together; `None` where the gap is open all round.
    pub windows: Option<Area>,
    /// Depth of the windows: how thick the legs are.
    pub depth: Length,
}

impl FloorGap {
    /// The acoustic mass of the air under the cone, kg/m⁴.
    ///
    /// Under the cone the flow grows with r² and passes a ring 2πr·h: ρ/(8π·h). From the cone's edge a outwards:
    /// ρ·ln(b/a)/(2π·h). Windows: ρ·(depth + 2·0.8217·√(S/π))/S, both ends flanged. Low frequencies, no friction.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for a size outside its range.
    ///
    /// # Source
    /// Kinetic energy of incompressible radial flow; derived here.
    pub fn acoustic_mass_kg_m4(&self, sd: Area, air: &Air) -> Result<f64, ModelError> {
        let height = within("gap under the driver in m", self.height.metres(), 1e-3, 1.0)?;
        let sd = within("Sd in m²", sd.square_metres(), 1e-6, 100.0)?;
        let cone = (sd / PI).sqrt();
        let reach = within("reach of the gap in m", self.reach.metres(), 1e-3, 10.0)?.max(cone);
        let mut mass = 1.0 / (8.0 * PI * height) + (reach / cone).ln() / (TAU * height);
        if let Some(windows) = self.windows {
            let area = within("windows between the legs in m²", windows.square_metres(), 1e-5, 10.0)?;
            let depth = within("depth of the windows in m", self.depth.metres(), 0.0, 1.0)?;
            mass += (depth + 2.0 * 0.8217 * (area / PI).sqrt()) / area;
        }
        Ok(air.density_kg_m3() * mass)
    }

    /// The mass that the air under it adds to each cone: Sd²·M.
    ///
    /// # Errors
    /// Those of [`FloorGap::acoustic_mass_kg_m4`].
    pub fn mass_on_cone(&self, sd: Area, air: &Air) -> Result<Mass, ModelError> {
        let sd_m2 = sd.square_metres();
        Ok(Mass::from_kilograms(self.acoustic_mass_kg_m4(sd, air)? * sd_m2 * sd_m2))
    }

    /// The drivers with the gap's air on their cones; sound and box are as before.
    ///
    /// # Errors
    /// Those of [`FloorGap::acoustic_mass_kg_m4`].
    #[inline(never)]
    pub fn loaded(&self, load: &Load, air: &Air) -> Result<Load, ModelError> {
        let mut loaded = *load;
        loaded.driver.mms = loaded.driver.mms + self.mass_on_cone(load.driver.sd, air)?;
        Ok(loaded)
    }
}

/// The least gap: room for the travel both ways and the sag, and a ring at the cone's edge as large as the cone.
///
/// The ring means a height of half the cone's radius; common practice, no source.
#[must_use]
pub fn least_gap(sd: Area, xmax: Option<Length>, sag: Length) -> Length {
    let ring = 0.5 * (sd.square_metres() / PI).sqrt();
    let travel = xmax.map_or(0.0, |xmax| 2.0 * xmax.metres()) + sag.metres();
    Length::from_metres(ring.max(travel))
}
