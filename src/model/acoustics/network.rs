//! What a box is made of once its shape is forgotten: chambers, ducts, radiators, and drivers between two places.

use super::check::within;
use super::{Air, Load};
use crate::model::electrical::wiring::Tree;
use crate::model::error::ModelError;
use crate::units::Area;

/// Most chambers in one network.
pub const MAX_CHAMBERS: usize = 4;
/// Most duct groups in one network.
pub const MAX_DUCTS: usize = 8;
/// Most passive radiator groups in one network.
pub const MAX_RADIATORS: usize = 4;

/// Where one side of a cone, a duct or a radiator ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// The listener's air: no pressure at these frequencies, and what flows into it is heard.
    Outside,
    /// The chamber with this index.
    Chamber(usize),
    /// Air so large and so far away that it neither presses back nor is heard.
    Absorbed,
}

/// An air volume with its losses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chamber {
    /// Compliance Cab = V/(ρc²) in m³/Pa.
    pub compliance_m3_pa: f64,
    /// Absorption Rab in series with the compliance, Pa·s/m³.
    pub absorption_pa_s_m3: f64,
    /// Conductance of the leaks to the outside, 1/Ral in m³/(Pa·s).
    pub leakage_m3_pa_s: f64,
}

/// Identical ducts side by side from a chamber to a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Duct {
    /// The chamber it starts in; flow out of it counts as positive.
    pub from: usize,
    /// Where it ends.
    pub to: Place,
    /// Acoustic mass of all of them together, kg/m⁴.
    pub mass_kg_m4: f64,
    /// Acoustic resistance of all of them together, Pa·s/m³.
    pub resistance_pa_s_m3: f64,
    /// Area of all of them together.
    pub area: Area,
}

/// Identical passive radiators side by side from a chamber to a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Radiator {
    /// The chamber it starts in; movement out of it counts as positive.
    pub from: usize,
    /// Where it ends.
    pub to: Place,
    /// Acoustic mass of all of them together, kg/m⁴.
    pub mass_kg_m4: f64,
    /// Acoustic compliance of all of them together, m³/Pa.
    pub compliance_m3_pa: f64,
    /// Acoustic resistance of all of them together, Pa·s/m³.
    pub resistance_pa_s_m3: f64,
    /// Area of all of them together.
    pub area: Area,
}

/// Drivers and the air elements around them.
#[derive(Clone, Debug, PartialEq)]
pub struct Network {
    /// The air, outside as inside.
    pub air: Air,
    /// The drivers; where `unequal` says how they are wired, its wiring only stands in.
    pub load: Load,
    /// A wiring whose coils don't share equally.
    pub unequal: Option<Tree>,
    /// Where the cones' fronts are; cone movement towards it counts as positive.
    pub front: Place,
    /// Where the cones' backs are.
    pub back: Place,
    /// Air volumes.
    pub chambers: Vec<Chamber>,
    /// Ducts.
    pub ducts: Vec<Duct>,
    /// Passive radiators.
    pub radiators: Vec<Radiator>,
}

impl Network {
    /// Drivers between two places, without any chamber yet.
    #[must_use]
    pub fn new(load: Load, air: Air, front: Place, back: Place) -> Self {
        Self {
            air,
            load,
            unequal: None,
            front,
            back,
            chambers: Vec::new(),
            ducts: Vec::new(),
            radiators: Vec::new(),
        }
    }

    /// Checks every element and that every place named exists.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] with the element and its range.
    pub fn check(&self) -> Result<(), ModelError> {
        self.load.check()?;
        if let Some(tree) = &self.unequal {
            super::unequal::check(tree, self.load.wiring.drivers)?;
        }
        let count = |what, count: usize, max: usize| within(what, count as f64, 0.0, max as f64);
        count("number of chambers", self.chambers.len(), MAX_CHAMBERS)?;
        count("number of port groups", self.ducts.len(), MAX_DUCTS)?;
        count("number of passive radiator groups", self.radiators.len(), MAX_RADIATORS)?;
        self.check_place(self.front)?;
        self.check_place(self.back)?;
        for chamber in &self.chambers {
            compliance(chamber.compliance_m3_pa)?;
            resistance(chamber.absorption_pa_s_m3)?;
            within("leakage in m³/(Pa·s)", chamber.leakage_m3_pa_s, 0.0, 1e6)?;
        }
        for duct in &self.ducts {
            self.check_branch(duct.from, duct.to, duct.mass_kg_m4, duct.area)?;
            resistance(duct.resistance_pa_s_m3)?;
        }
        for radiator in &self.radiators {
            self.check_branch(radiator.from, radiator.to, radiator.mass_kg_m4, radiator.area)?;
            compliance(radiator.compliance_m3_pa)?;
            resistance(radiator.resistance_pa_s_m3)?;
        }
        Ok(())
    }

    fn check_branch(&self, from: usize, to: Place, mass: f64, area: Area) -> Result<(), ModelError> {
        self.check_place(Place::Chamber(from))?;
        self.check_place(to)?;
        within("acoustic mass in kg/m⁴", mass, 1e-9, 1e12)?;
        within("opening in m²", area.square_metres(), 1e-9, 1e4)?;
        Ok(())
    }

    fn check_place(&self, place: Place) -> Result<(), ModelError> {
        match place {
            Place::Chamber(index) if index >= self.chambers.len() => Err(ModelError::Impossible {
                what: "A part of the enclosure leads into a chamber that isn't there",
            }),
            _ => Ok(()),
        }
    }
}

fn compliance(value: f64) -> Result<f64, ModelError> {
    within("acoustic compliance in m³/Pa", value, 1e-18, 1e6)
}

fn resistance(value: f64) -> Result<f64, ModelError> {
    within("acoustic resistance in Pa·s/m³", value, 0.0, 1e15)
}
