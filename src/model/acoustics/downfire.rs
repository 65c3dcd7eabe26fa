//! A driver that fires at the floor: its cone's sag, and the air in the gap under it.

use super::check::within;
use super::figures::figures;
use super::{Air, Enclosure, Load, Network, respond_either_way};
use crate::model::electrical::wiring::Tree;
use crate::model::error::ModelError;
use crate::model::numeric::log_grid;
use crate::units::{Area, Frequency, Length, Mass, Voltage};
use std::f64::consts::{PI, TAU};

/// Standard gravity, m/s².
const GRAVITY: f64 = 9.806_65;
/// Frequencies between which a box's impedance is looked through for peaks, Hz, and how many.
const PEAKS_HZ: [f64; 2] = [4.0, 400.0];
const PEAK_POINTS: usize = 160;

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

    /// Where the impedance of the box peaks without and with the gap, from low to high: fc of a closed box, both sides of
    /// the tuning of a vented one. `tree` is a wiring whose coils don't share equally. Empty where the air takes a peak away.
    ///
    /// # Errors
    /// Those of [`FloorGap::acoustic_mass_kg_m4`], [`Enclosure::network`] and [`respond_either_way`].
    #[inline(never)]
    pub fn peaks(
        &self,
        enclosure: &Enclosure,
        load: &Load,
        tree: Option<&Tree>,
        air: &Air,
    ) -> Result<Vec<(Frequency, Frequency)>, ModelError> {
        let of = |load: Load| {
            let mut network = enclosure.network(load, *air)?;
            network.unequal = tree.cloned();
            impedance_peaks(&network)
        };
        let (without, with) = (of(*load)?, of(self.loaded(load, air)?)?);
        let alike = without.len() == with.len();
        Ok(if alike { without.into_iter().zip(with).collect() } else { Vec::new() })
    }
}

/// Where |Z| of a network peaks, to some millionths.
fn impedance_peaks(network: &Network) -> Result<Vec<Frequency>, ModelError> {
    let within = |low: f64, high: f64, count: usize| -> Result<Vec<f64>, ModelError> {
        let drive = Voltage::from_volts(1.0);
        let response = respond_either_way(network, drive, &log_grid(low, high, count))?;
        let found = figures(network, drive, &response)?.impedance_peaks;
        Ok(found.iter().map(|peak| peak.at.hertz()).collect())
    };
    let step = (PEAKS_HZ[1] / PEAKS_HZ[0]).powf(1.0 / (PEAK_POINTS - 1) as f64);
    let mut peaks = Vec::new();
    for about in within(PEAKS_HZ[0], PEAKS_HZ[1], PEAK_POINTS)? {
        // A parabola through points a thousandth apart.
        let near = within(about / step, about * step, 61)?;
        peaks.push(Frequency::from_hertz(near.first().copied().unwrap_or(about)));
    }
    Ok(peaks)
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
