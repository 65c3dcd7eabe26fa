//! Prove a cable: its metal and true size from a stripped length's mass and from millivolts at a known current.
use super::cable::{COPPER_OHM_MM2_PER_M, Material};
use super::check::{current_a, within};
use crate::model::error::ModelError;
use crate::units::{Area, Current, Length, Mass, Resistance, Temperature, Voltage};

impl Material {
    /// Density in g/cm³: IEC 60028; ASTM B566 class 10A; grade 1350.
    #[must_use]
    pub const fn density_g_cm3(self) -> f64 {
        match self {
            Self::Copper => 8.89,
            Self::CopperCladAluminium => 3.32,
            Self::Aluminium => 2.703,
        }
    }
}

/// What was found on a length of cable; either or both.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sample {
    /// Grams of bare conductor in one metre.
    pub grams_per_metre: Option<f64>,
    /// Ohms of one metre, at `temperature`.
    pub ohm_per_metre: Option<f64>,
}

impl Sample {
    /// Adds the mass of a stripped length.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for a length outside 10 mm to 100 m or a mass outside 0.01 g to 100 kg.
    pub fn weighed(mut self, length: Length, mass: Mass) -> Result<Self, ModelError> {
        let metres = within("stripped length in metres", length.metres(), 0.01, 100.0)?;
        self.grams_per_metre = Some(within("mass in grams", mass.grams(), 0.01, 1e5)? / metres);
        Ok(self)
    }

    /// Adds the voltage over a length at a current, brought to 20 °C by copper's coefficient.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for a length outside 10 mm to 100 m, a voltage outside 1 µV to 100 V, a current
    /// outside 1 mA to 100 kA or a temperature outside −60 °C to 200 °C.
    pub fn measured(
        mut self,
        length: Length,
        voltage: Voltage,
        current: Current,
        at: Temperature,
    ) -> Result<Self, ModelError> {
        let metres = within("length between the probes in metres", length.metres(), 0.01, 100.0)?;
        let volts = within("voltage over it in volts", voltage.volts(), 1e-6, 100.0)?;
        let amperes = current_a("current in amperes", current.amperes())?;
        let celsius = within("conductor temperature in °C", at.celsius(), -60.0, 200.0)?;
        let warm = 1.0 + Material::Copper.temperature_coefficient() * (celsius - 20.0);
        self.ohm_per_metre = Some(volts / amperes / metres / warm);
        Ok(self)
    }
}

/// What the sample would be in one metal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InMetal {
    /// The metal.
    pub material: Material,
    /// Metal area that the mass gives.
    pub by_mass: Option<Area>,
    /// Metal area that the resistance gives.
    pub by_resistance: Option<Area>,
    /// How far it is from fitting: the greatest |ln| between what should agree, 0 for a perfect fit.
    pub misfit: f64,
}

/// What a sample proves.
#[derive(Clone, Debug, PartialEq)]
pub struct Proof {
    /// Every metal, best fit first.
    pub metals: Vec<InMetal>,
    /// Whether the best fit fits at all, and no other does.
    pub sure: bool,
    /// Whether copper fits.
    pub copper_fits: bool,
    /// Whether both mass and resistance are known: then the metal does not depend on the claim.
    pub by_both: bool,
    /// Copper area of the same resistance (by mass of the best metal where no resistance was measured).
    pub copper_equivalent: Area,
    /// That area over the claimed size's; `None` without a claim.
    pub of_claim: Option<f64>,
}

/// Fits within this factor: lay of the strands adds 2 % to 5 % to mass and resistance alike (from memory), scales and
/// meters the rest.
const FITS: f64 = 1.12;

/// Judges a sample against the metals and, where given, the copper area claimed.
///
/// Mass per metre times resistance per metre is a constant of the metal, density times resistivity, whatever the size:
/// 153 g·mΩ/m² for copper, 91 for copper-clad aluminium with 10 % copper, 76 for aluminium. With one of the two, the
/// claimed size decides.
///
/// # Errors
/// [`ModelError::Missing`] without mass and resistance, or with one of them and no claim.
pub fn prove(sample: Sample, claimed: Option<Area>) -> Result<Proof, ModelError> {
    let claim_mm2 = claimed.map(|area| area.square_metres() * 1e6).filter(|area| *area > 0.0);
    let mut metals = Vec::new();
    for material in Material::ALL {
        let by_mass = sample.grams_per_metre.map(|grams| grams / material.density_g_cm3());
        let resistivity = COPPER_OHM_MM2_PER_M / material.conductivity();
        let by_ohm = sample.ohm_per_metre.map(|ohm| resistivity / ohm);
        // Without the other measurement the claim stands for it; mm² of metal either way.
        let (a, b) = match (by_mass, by_ohm) {
            (Some(mass), Some(ohm)) => (mass, ohm),
            (Some(only), None) | (None, Some(only)) => {
                (only, claim_mm2.ok_or(ModelError::Missing { what: "claimed size" })?)
            }
            (None, None) => return Err(ModelError::Missing { what: "mass or voltage" }),
        };
        let area = |mm2: f64| Area::from_square_metres(mm2 * 1e-6);
        metals.push(InMetal {
            material,
            by_mass: by_mass.map(area),
            by_resistance: by_ohm.map(area),
            misfit: (a / b).ln().abs(),
        });
    }
    crate::small::sort_by(&mut metals, |a, b| a.misfit.total_cmp(&b.misfit));
    let fits = metals.iter().filter(|metal| metal.misfit <= FITS.ln()).count();
    let copper = metals.iter().find(|metal| metal.material == Material::Copper);
    let equivalent = copper_equivalent(sample, &metals);
    Ok(Proof {
        sure: fits == 1,
        copper_fits: copper.is_some_and(|metal| metal.misfit <= FITS.ln()),
        by_both: sample.grams_per_metre.is_some() && sample.ohm_per_metre.is_some(),
        copper_equivalent: Area::from_square_metres(equivalent * 1e-6),
        of_claim: claim_mm2.map(|claim| equivalent / claim),
        metals,
    })
}

/// In mm².
fn copper_equivalent(sample: Sample, metals: &[InMetal]) -> f64 {
    match (sample.ohm_per_metre, metals.first()) {
        (Some(ohm), _) => COPPER_OHM_MM2_PER_M / ohm,
        (None, Some(best)) => {
            best.by_mass.map_or(0.0, |area| area.square_metres() * 1e6) * best.material.conductivity()
        }
        (None, None) => 0.0,
    }
}

/// Resistance of a metre of copper of an area at 20 °C, for the millivolts to expect.
#[must_use]
pub fn copper_metre(area: Area) -> Resistance {
    Resistance::from_ohms(COPPER_OHM_MM2_PER_M / (area.square_metres() * 1e6).max(1e-6))
}
