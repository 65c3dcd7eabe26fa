//! A box with passive radiators: closed but for cones that the air in it moves.
use std::f64::consts::TAU;

use super::SealedChamber;
use crate::model::acoustics::check::within;
use crate::model::acoustics::network::{Network, Place, Radiator};
use crate::model::acoustics::port::chamber_volume;
use crate::model::acoustics::{Air, Load};
use crate::model::error::ModelError;
use crate::units::{Area, Compliance, Frequency, Mass, Volume};

#[inline(never)]
pub(super) fn network(
    load: Load,
    air: Air,
    rear: &SealedChamber,
    radiator: &PassiveRadiator,
) -> Result<Network, ModelError> {
    let mut network = Network::new(load, air, Place::Outside, Place::Chamber(0));
    network.add_radiators(rear, radiator)?;
    Ok(network)
}

/// Identical passive radiators; the values are those of one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PassiveRadiator {
    /// Effective area.
    pub sd: Area,
    /// Moving mass, including the air load and any added weight.
    pub mms: Mass,
    /// Suspension compliance.
    pub cms: Compliance,
    /// Mechanical loss in N·s/m; zero is lossless.
    pub rms_ns_m: f64,
    /// How many there are.
    pub count: u32,
}

impl PassiveRadiator {
    /// Tuning fb of a box with these radiators: fp·√(1 + Cap/Cab).
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for a value outside its range.
    ///
    /// # Source
    /// Small, JAES 22 (1974) 592.
    pub fn tuning(&self, volume: Volume, air: &Air) -> Result<Frequency, ModelError> {
        let cab = chamber_volume(volume)? / air.bulk_modulus_pa();
        let branch = self.branch(0)?;
        let fp = 1.0 / (TAU * (branch.mass_kg_m4 * branch.compliance_m3_pa).sqrt());
        Ok(Frequency::from_hertz(fp * (1.0 + branch.compliance_m3_pa / cab).sqrt()))
    }

    pub(super) fn branch(&self, from: usize) -> Result<Radiator, ModelError> {
        let count = within("number of passive radiators", f64::from(self.count), 1.0, 64.0)?;
        let area = within("passive radiator area in m²", self.sd.square_metres(), 1e-6, 100.0)?;
        let mass = within("passive radiator mass in kg", self.mms.kilograms(), 1e-7, 1e3)?;
        let compliance =
            within("passive radiator compliance in m/N", self.cms.metres_per_newton(), 1e-9, 10.0)?;
        let loss = within("passive radiator loss in N·s/m", self.rms_ns_m, 0.0, 1e6)?;
        Ok(Radiator {
            from,
            to: Place::Outside,
            mass_kg_m4: mass / (count * area * area),
            compliance_m3_pa: count * compliance * area * area,
            resistance_pa_s_m3: loss / (count * area * area),
            area: self.sd * count,
        })
    }
}
