//! Conductors of the feed and of the loudspeaker line: metal, size, resistance.
mod ampacity;
mod size;

pub use ampacity::{Ampacity, Insulation, ambient_factor, ampacity};
pub use size::{AwgSize, MetricSize, Size, SizeSystem};

use super::check::{current_a, within};
use crate::model::error::ModelError;
use crate::units::{Area, Current, Length, Resistance, Temperature, Voltage};

/// Resistivity of annealed copper at 20 °C, 1/58 Ω·mm²/m (IEC 60028).
pub const COPPER_OHM_MM2_PER_M: f64 = 1.0 / 58.0;

/// The metal of a conductor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Material {
    /// Annealed copper, 100 % IACS (IEC 60028).
    Copper,
    /// Copper-clad aluminium with 10 % copper by volume, at the class's least conductivity of 62.9 % IACS
    /// (ASTM B566, class 10A).
    CopperCladAluminium,
    /// Electrical aluminium, 61 % IACS (IEC 60889 / ASTM B230).
    Aluminium,
}

impl Material {
    /// Every metal, copper first.
    pub const ALL: [Self; 3] = [Self::Copper, Self::CopperCladAluminium, Self::Aluminium];

    /// Conductivity as part of annealed copper's, 0 to 1.
    #[must_use]
    pub const fn conductivity(self) -> f64 {
        match self {
            Self::Copper => 1.0,
            Self::CopperCladAluminium => 0.629,
            Self::Aluminium => 0.61,
        }
    }

    /// Change of resistance per kelvin at 20 °C.
    ///
    /// Copper IEC 60028; aluminium 61 % IACS grade; copper-clad aluminium 0.00404 is from memory.
    #[must_use]
    pub const fn temperature_coefficient(self) -> f64 {
        match self {
            Self::Copper => 0.00393,
            Self::CopperCladAluminium => 0.00404,
            Self::Aluminium => 0.00403,
        }
    }
}

/// A conductor: metal and size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Cable {
    /// Its metal.
    pub material: Material,
    /// Its size.
    pub size: Size,
}

impl Cable {
    /// Area of annealed copper with the resistance of this conductor at 20 °C.
    #[must_use]
    pub fn copper_equivalent_area(self) -> Area {
        self.size.copper_equivalent_area() * self.material.conductivity()
    }

    /// DC resistance of a length of the conductor.
    ///
    /// R = ρ L / A · (1 + α (T − 20 °C)). AWG and SAE sizes are taken as solid metal of their area; stranding adds
    /// about 2 % to 5 % (from memory). Metric sizes follow the greatest resistance that IEC 60228 class 5 allows.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for a length outside 0 m to 1000 m or a temperature outside −60 °C to 250 °C.
    pub fn resistance(self, length: Length, at: Temperature) -> Result<Resistance, ModelError> {
        let length_m = within("cable length in metres", length.metres(), 0.0, 1e3)?;
        let celsius = within("conductor temperature in °C", at.celsius(), -60.0, 250.0)?;
        let area_mm2 = self.copper_equivalent_area().square_metres() * 1e6;
        let warm = 1.0 + self.material.temperature_coefficient() * (celsius - 20.0);
        Ok(Resistance::from_ohms(COPPER_OHM_MM2_PER_M * length_m / area_mm2 * warm))
    }

    /// Voltage lost out and back over a route of `one_way` length, by one such conductor each way.
    ///
    /// # Errors
    /// As [`Cable::resistance`] for twice the length; [`ModelError::OutOfRange`] for a current outside 1 mA to 100 kA.
    pub fn voltage_drop(
        self,
        one_way: Length,
        current: Current,
        conductor: Temperature,
    ) -> Result<Voltage, ModelError> {
        let amperes = current_a("current in amperes", current.amperes())?;
        let there_and_back = self.resistance(one_way * 2.0, conductor)?;
        Ok(Voltage::from_volts(amperes * there_and_back.ohms()))
    }
}
