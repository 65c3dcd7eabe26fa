//! How a panel stands the pressure in the box: force, sag, first resonance, and what a brace does to them.
//!
//! A panel is taken as a thin plate, simply supported at its edges: glued edges hold better, so the true sag is less and
//! the true resonance higher.
use std::f64::consts::PI;

use crate::model::error::ModelError;
use crate::units::{Area, Frequency, Length, Pressure, Volume};

/// A panel between its supports.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plate {
    /// One side.
    pub a: Length,
    /// The other side.
    pub b: Length,
    /// Thickness.
    pub thickness: Length,
    /// Modulus of elasticity in Pa.
    pub modulus_pa: f64,
    /// Density in kg/m³.
    pub density_kg_m3: f64,
}

/// Poisson's ratio of wood-based panels (from memory; 0.2 to 0.35 changes the stiffness by 8 %).
const POISSON: f64 = 0.3;

/// Terms of the series for the sag, each way.
const TERMS: i32 = 15;

impl Plate {
    /// Bending stiffness E t³ / 12 (1 − ν²), in N m.
    fn rigidity(&self) -> f64 {
        self.modulus_pa * self.thickness.metres().powi(3) / (12.0 * (1.0 - POISSON * POISSON))
    }

    fn check(&self) -> Result<(), ModelError> {
        let positive = |value: f64| value.is_finite() && value > 0.0;
        let all =
            [self.a.metres(), self.b.metres(), self.thickness.metres(), self.modulus_pa, self.density_kg_m3];
        if all.into_iter().all(positive) {
            Ok(())
        } else {
            Err(ModelError::Impossible { what: "a panel has sides, a thickness, a stiffness and a density" })
        }
    }

    /// First resonance: (π/2) √(D/m) (1/a² + 1/b²), m the mass per area.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] for a panel with a size that is none.
    ///
    /// # Source
    /// A. W. Leissa, Vibration of Plates, NASA SP-160 (1969), simply supported rectangle (from memory).
    pub fn first_mode(&self) -> Result<Frequency, ModelError> {
        self.check()?;
        let [a, b] = [self.a.metres(), self.b.metres()];
        let per_area = self.density_kg_m3 * self.thickness.metres();
        let shape = 1.0 / (a * a) + 1.0 / (b * b);
        Ok(Frequency::from_hertz(PI / 2.0 * (self.rigidity() / per_area).sqrt() * shape))
    }

    /// Sag in the middle under an even, slow pressure, by Navier's series.
    ///
    /// # Errors
    /// As [`Plate::first_mode`].
    ///
    /// # Source
    /// S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells (1959), section 30 (from memory).
    pub fn sag(&self, pressure: Pressure) -> Result<Length, ModelError> {
        self.check()?;
        let [a, b] = [self.a.metres(), self.b.metres()];
        let mut sum = 0.0;
        for i in 0..TERMS {
            for k in 0..TERMS {
                let (m, n) = (f64::from(2 * i + 1), f64::from(2 * k + 1));
                let sign = if (i + k) % 2 == 0 { 1.0 } else { -1.0 };
                let shape = (m / a).powi(2) + (n / b).powi(2);
                sum += sign / (m * n * shape * shape);
            }
        }
        let scale = 16.0 * pressure.pascals() / (PI.powi(6) * self.rigidity());
        Ok(Length::from_metres(scale * sum))
    }

    /// The larger of the two fields into which a brace divides the panel, half way along its longer side.
    #[must_use]
    pub fn braced(&self) -> Self {
        let half = |side: Length| Length::from_metres((side.metres() - self.thickness.metres()) / 2.0);
        if self.a.metres() >= self.b.metres() {
            Self { a: half(self.a), ..*self }
        } else {
            Self { b: half(self.b), ..*self }
        }
    }

    /// Force on the whole panel.
    #[must_use]
    pub fn force_newtons(&self, pressure: Pressure) -> f64 {
        pressure.pascals() * self.a.metres() * self.b.metres()
    }
}

/// Peak pressure in a closed volume whose air is squeezed by the drivers' stroke: K Sd x / V, K the bulk modulus of air.
/// Of a vented box it is the most there is, as its port gives way.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a volume that is none.
pub fn peak_pressure(
    bulk_modulus_pa: f64,
    area: Area,
    travel: Length,
    volume: Volume,
) -> Result<Pressure, ModelError> {
    let litres = volume.litres();
    if !(litres > 0.0 && litres.is_finite()) {
        return Err(ModelError::OutOfRange { what: "volume in L", value: litres, min: 0.1, max: 1e6 });
    }
    let squeezed = area.square_metres() * travel.metres().abs();
    Ok(Pressure::from_pascals(bulk_modulus_pa * squeezed / volume.cubic_metres()))
}
