//! The air a loudspeaker works in.

use super::check::within;
use crate::model::error::ModelError;
use crate::units::{Pressure, Temperature};

/// Specific gas constant of dry air, J/(kg·K).
const GAS_CONSTANT: f64 = 287.058;
/// Ratio of specific heats of a diatomic gas.
const GAMMA: f64 = 1.4;

/// Dry air at one temperature and pressure, treated as an ideal gas.
///
/// Humidity, which raises the speed of sound by 0.6 % at most, is neglected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    density_kg_m3: f64,
    speed_of_sound_m_s: f64,
}

impl Air {
    /// Air at a temperature and an absolute pressure.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] unless the air is between −60 °C and 100 °C and between 20 kPa and 200 kPa.
    ///
    /// # Source
    /// Ideal gas: ρ = P/(RT), c = √(γRT) with R = 287.058 J/(kg·K), γ = 7/5.
    pub fn at(temperature: Temperature, pressure: Pressure) -> Result<Self, ModelError> {
        within("air temperature in °C", temperature.celsius(), -60.0, 100.0)?;
        let pascals = within("air pressure in Pa", pressure.pascals(), 2e4, 2e5)?;
        Ok(Self::ideal(temperature.kelvin(), pascals))
    }

    /// Air at 20 °C and 101 325 Pa, at which data sheets are read.
    #[must_use]
    pub fn standard() -> Self {
        Self::ideal(293.15, 101_325.0)
    }

    fn ideal(kelvin: f64, pascals: f64) -> Self {
        Self {
            density_kg_m3: pascals / (GAS_CONSTANT * kelvin),
            speed_of_sound_m_s: (GAMMA * GAS_CONSTANT * kelvin).sqrt(),
        }
    }

    /// Density ρ in kg/m³.
    #[must_use]
    pub fn density_kg_m3(&self) -> f64 {
        self.density_kg_m3
    }

    /// Speed of sound c in m/s.
    #[must_use]
    pub fn speed_of_sound_m_s(&self) -> f64 {
        self.speed_of_sound_m_s
    }

    /// Bulk modulus ρc² = γP in Pa: the pressure a unit relative change of volume makes.
    #[must_use]
    pub fn bulk_modulus_pa(&self) -> f64 {
        self.density_kg_m3 * self.speed_of_sound_m_s * self.speed_of_sound_m_s
    }
}
