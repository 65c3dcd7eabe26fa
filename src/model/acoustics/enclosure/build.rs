//! What enclosures are put together from: chambers with losses, ports, passive radiators.
use std::f64::consts::TAU;

use super::{Losses, PassiveRadiator, SealedChamber, VentedChamber};
use crate::model::acoustics::check::within;
use crate::model::acoustics::closed::load_volume_m3;
use crate::model::acoustics::network::{Chamber, Duct, Network, Place};
use crate::model::acoustics::port::chamber_volume;
use crate::model::error::ModelError;

impl Network {
    /// Adds a closed chamber; its losses count at the resonance of the drivers on it.
    pub(super) fn add_sealed(&mut self, chamber: &SealedChamber) -> Result<(), ModelError> {
        let volume = chamber_volume(chamber.volume)?;
        let stiffening = 1.0 + load_volume_m3(&self.load, &self.air) / volume;
        let omega = self.load.driver.resonance_rad_s() * stiffening.sqrt();
        self.add_chamber(volume, &chamber.losses, omega)
    }

    /// Adds a chamber with its ports to `to`; its losses count at its own tuning.
    pub(super) fn add_vented(&mut self, chamber: &VentedChamber, to: Place) -> Result<(), ModelError> {
        let volume = chamber_volume(chamber.volume)?;
        let port = &chamber.port;
        let omega = TAU * port.tuning(chamber.volume, &self.air)?.hertz();
        let mass = port.acoustic_mass_kg_m4(&self.air)?;
        self.ducts.push(Duct {
            from: self.chambers.len(),
            to,
            mass_kg_m4: mass,
            resistance_pa_s_m3: match port.qp {
                Some(qp) => omega * mass / quality("port QP", qp)?,
                None => 0.0,
            },
            area: port.opening.area() * f64::from(port.count),
        });
        self.add_chamber(volume, &chamber.losses, omega)
    }

    /// Adds a chamber with passive radiators; its losses count at its own tuning.
    pub(super) fn add_radiators(
        &mut self,
        chamber: &SealedChamber,
        radiator: &PassiveRadiator,
    ) -> Result<(), ModelError> {
        let volume = chamber_volume(chamber.volume)?;
        let omega = TAU * radiator.tuning(chamber.volume, &self.air)?.hertz();
        self.radiators.push(radiator.branch(self.chambers.len())?);
        self.add_chamber(volume, &chamber.losses, omega)
    }

    /// Adds a chamber whose losses are given at the angular frequency `omega`.
    fn add_chamber(&mut self, volume: f64, losses: &Losses, omega: f64) -> Result<(), ModelError> {
        let compliance = volume / self.air.bulk_modulus_pa();
        self.chambers.push(Chamber {
            compliance_m3_pa: compliance,
            absorption_pa_s_m3: match losses.qa {
                Some(qa) => 1.0 / (omega * compliance * quality("absorption QA", qa)?),
                None => 0.0,
            },
            leakage_m3_pa_s: match losses.ql {
                Some(ql) => omega * compliance / quality("leakage QL", ql)?,
                None => 0.0,
            },
        });
        Ok(())
    }
}

fn quality(what: &'static str, q: f64) -> Result<f64, ModelError> {
    within(what, q, 0.1, 1e6)
}
