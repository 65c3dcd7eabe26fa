//! Ports: the air that moves in them and the air that moves with it outside their ends.

use super::Air;
use super::check::within;
use crate::model::error::ModelError;
use crate::units::{Area, Frequency, Length, Volume};
use std::f64::consts::{PI, TAU};

/// The cross-section of a port.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Opening {
    /// A round pipe.
    Round {
        /// Inside diameter.
        diameter: Length,
    },
    /// A rectangular slot; a wall that one end lies along is parallel to `width`.
    Slot {
        /// Inside width.
        width: Length,
        /// Inside height.
        height: Length,
    },
}

/// How one end of a port meets the air, which sets its end correction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum End {
    /// In a large baffle: 0.8217·a. Norris & Sheng 1989; Nomura et al. 1960.
    Flanged,
    /// A thin-walled pipe in the open: 0.6133·a. Levine & Schwinger 1948.
    Free,
    /// A slot in a large baffle, as a rigid rectangular piston.
    RectFlanged,
    /// A slot that lies against one wall along its width, as the piston and its mirror image.
    RectWall,
    /// A slot in a corner, against two walls.
    RectCorner,
    /// Flared to a quarter circle of a radius that counts as part of the port's length, its mouth in a large baffle.
    Flared {
        /// Radius of the quarter circle.
        radius: Length,
    },
}

/// Identical ports of one chamber.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Port {
    /// Cross-section of each.
    pub opening: Opening,
    /// Physical length of each; zero is a hole.
    pub length: Length,
    /// The end in the chamber.
    pub inner: End,
    /// The other end.
    pub outer: End,
    /// How many there are.
    pub count: u32,
    /// Q of the port losses at the tuning frequency; `None` is lossless.
    pub qp: Option<f64>,
}

impl Opening {
    /// Area of one opening.
    #[must_use]
    pub fn area(&self) -> Area {
        Area::from_square_metres(match *self {
            Self::Round { diameter } => PI * (0.5 * diameter.metres()).powi(2),
            Self::Slot { width, height } => width.metres() * height.metres(),
        })
    }

    /// Length of the air column that one end adds to the port.
    ///
    /// The flanged and free values of a slot are those of the circle of the same area.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for a cross-section under 1 mm or over 10 m; [`ModelError::Impossible`] for a
    /// rectangular end on a round port.
    ///
    /// # Source
    /// Circle: see [`End`]. Flare: the mass of the widening air column, ∫dx/S(x), and the flanged mouth. Slot: the static air mass before a rigid rectangular piston, from the integral of 1/r over
    /// the piston twice, with mirror images for walls.
    pub fn end_correction(&self, end: End) -> Result<Length, ModelError> {
        self.check()?;
        let radius = (self.area().square_metres() / PI).sqrt();
        let metres = match (end, *self) {
            (End::Flanged, _) => 0.8217 * radius,
            (End::Free, _) => 0.6133 * radius,
            (End::Flared { radius: flare }, _) => {
                flare_correction(radius, within("flare radius in m", flare.metres(), 0.0, 1.0)?)
            }
            (_, Self::Round { .. }) => {
                return Err(ModelError::Impossible { what: "A round port can't have the end of a slot" });
            }
            (End::RectFlanged, Self::Slot { width, height }) => {
                let (w, h) = (width.metres(), height.metres());
                inverse_distance_integral(w, h) / (TAU * w * h)
            }
            (End::RectWall, Self::Slot { width, height }) => {
                let (w, h) = (width.metres(), height.metres());
                inverse_distance_integral(w, 2.0 * h) / (2.0 * TAU * w * h)
            }
            (End::RectCorner, Self::Slot { width, height }) => {
                let (w, h) = (width.metres(), height.metres());
                inverse_distance_integral(2.0 * w, 2.0 * h) / (4.0 * TAU * w * h)
            }
        };
        Ok(Length::from_metres(metres))
    }

    fn check(&self) -> Result<(), ModelError> {
        let size = |what, l: Length| within(what, l.metres(), 1e-3, 10.0);
        match *self {
            Self::Round { diameter } => {
                size("port diameter in m", diameter)?;
            }
            Self::Slot { width, height } => {
                size("port width in m", width)?;
                size("port height in m", height)?;
            }
        }
        Ok(())
    }
}

/// ∬∬ dS dS'/|r − r'| over a rectangle a × b with itself, m³.
fn inverse_distance_integral(a: f64, b: f64) -> f64 {
    2.0 / 3.0
        * (3.0 * a * a * b * (b / a).asinh() + 3.0 * a * b * b * (a / b).asinh() + a.powi(3) + b.powi(3)
            - a.hypot(b).powi(3))
}

/// What a flare of radius `r` on a pipe of radius `a` adds to the physical length, which contains the flare; mostly less
/// than nothing beyond the end correction, as the wide part holds little mass. Derived here.
fn flare_correction(a: f64, r: f64) -> f64 {
    // Midpoints in the angle, in which the profile has no steep end: x = r·sin θ from the throat, radius a + r(1 − cos θ).
    const PARTS: usize = 64;
    let step = std::f64::consts::FRAC_PI_2 / PARTS as f64;
    let inner: f64 = (0..PARTS)
        .map(|k| {
            let angle = (k as f64 + 0.5) * step;
            (a / (a + r * (1.0 - angle.cos()))).powi(2) * r * angle.cos() * step
        })
        .sum();
    inner - r + 0.8217 * a * a / (a + r)
}

impl Port {
    /// Length of the moving air column: the physical length and both end corrections.
    ///
    /// # Errors
    /// Those of [`Opening::end_correction`], or [`ModelError::OutOfRange`] for a length outside 0 m to 10 m.
    pub fn effective_length(&self) -> Result<Length, ModelError> {
        let length = within("port length in m", self.length.metres(), 0.0, 10.0)?;
        Ok(Length::from_metres(length) + self.end_corrections()?)
    }

    /// Both end corrections together.
    ///
    /// # Errors
    /// Those of [`Opening::end_correction`].
    pub fn end_corrections(&self) -> Result<Length, ModelError> {
        Ok(self.opening.end_correction(self.inner)? + self.opening.end_correction(self.outer)?)
    }

    /// Acoustic mass of all the ports together, ρ·Leff/(n·S) in kg/m⁴.
    ///
    /// # Errors
    /// Those of [`Port::effective_length`], or [`ModelError::OutOfRange`] unless there are 1 to 64 ports.
    pub fn acoustic_mass_kg_m4(&self, air: &Air) -> Result<f64, ModelError> {
        let count = within("number of ports", f64::from(self.count), 1.0, 64.0)?;
        let area = count * self.opening.area().square_metres();
        Ok(air.density_kg_m3() * self.effective_length()?.metres() / area)
    }

    /// Tuning fb of this port in a chamber: fb = 1/(2π√(Map·Cab)).
    ///
    /// Valid while the port is short against the wavelength; a pipe resonates near c/(2·Leff).
    ///
    /// # Errors
    /// Those of [`Port::acoustic_mass_kg_m4`], or [`ModelError::OutOfRange`] for the volume.
    pub fn tuning(&self, volume: Volume, air: &Air) -> Result<Frequency, ModelError> {
        let compliance = chamber_volume(volume)? / air.bulk_modulus_pa();
        let mass = self.acoustic_mass_kg_m4(air)?;
        Ok(Frequency::from_hertz(1.0 / (TAU * (mass * compliance).sqrt())))
    }

    /// Physical length that tunes a chamber to `fb`, or `None` where even a hole of no length tunes lower.
    ///
    /// The port's own length is ignored.
    ///
    /// # Errors
    /// Those of [`Port::tuning`], or [`ModelError::OutOfRange`] for fb outside 1 Hz to 1 kHz.
    pub fn length_for_tuning(
        &self,
        fb: Frequency,
        volume: Volume,
        air: &Air,
    ) -> Result<Option<Length>, ModelError> {
        let omega = TAU * within("fb in Hz", fb.hertz(), 1.0, 1e3)?;
        let count = within("number of ports", f64::from(self.count), 1.0, 64.0)?;
        let area = count * self.opening.area().square_metres();
        // ωb² = c²·n·S/(V·Leff)
        let effective = (air.speed_of_sound_m_s() / omega).powi(2) * area / chamber_volume(volume)?;
        let metres = effective - self.end_corrections()?.metres();
        Ok((metres > 0.0).then(|| Length::from_metres(metres)))
    }
}

/// Volume in m³ within the range a chamber may have.
pub(super) fn chamber_volume(volume: Volume) -> Result<f64, ModelError> {
    within("volume in m³", volume.cubic_metres(), 1e-6, 1e3)
}

/// Least total port area that keeps the air slow at full excursion: 0.8·fb·Sd·xmax, all drivers together.
///
/// A rule, not a limit: it means about 17 m/s at 2.2 times the cone's displacement.
///
/// # Source
/// Small, JAES 21 (1973) 438, from memory.
#[must_use]
pub fn minimum_port_area(fb: Frequency, sd_total: Area, xmax: Length) -> Area {
    Area::from_square_metres(0.8 * fb.hertz() * sd_total.square_metres() * xmax.metres())
}
