//! Enclosures as one would describe them, each turned into a network.

use super::check::within;
use super::closed::load_volume_m3;
use super::network::{Chamber, Duct, Network, Place, Radiator};
use super::port::chamber_volume;
use super::{Air, Load, Port};
use crate::model::error::ModelError;
use crate::units::{Area, Compliance, Frequency, Mass, Volume};
use std::f64::consts::TAU;

/// Losses of a chamber, each as a Q at the chamber's reference frequency; `None` is lossless.
///
/// The reference is the tuning of a chamber with a port or passive radiators, and fs·√(1 + N·Vas/V) of a closed one.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Losses {
    /// Leakage QL.
    pub ql: Option<f64>,
    /// Absorption QA.
    pub qa: Option<f64>,
}

/// A closed chamber.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SealedChamber {
    /// Net volume.
    pub volume: Volume,
    /// Losses.
    pub losses: Losses,
}

/// A chamber with ports.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VentedChamber {
    /// Net volume, without the air in the ports.
    pub volume: Volume,
    /// Losses.
    pub losses: Losses,
    /// The ports.
    pub port: Port,
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

/// An enclosure; the cone's front is outside unless there is a front chamber.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Enclosure {
    /// The back radiates into air that neither presses back nor is heard.
    InfiniteBaffle,
    /// A closed box.
    Closed {
        /// The box.
        rear: SealedChamber,
    },
    /// A vented box.
    Vented {
        /// The box.
        rear: VentedChamber,
    },
    /// A box with passive radiators.
    PassiveRadiator {
        /// The box.
        rear: SealedChamber,
        /// The radiators.
        radiator: PassiveRadiator,
    },
    /// 4th-order band-pass: closed behind the cone, ported before it.
    Bandpass4 {
        /// Chamber behind the cone.
        rear: SealedChamber,
        /// Chamber before the cone.
        front: VentedChamber,
    },
    /// 6th-order band-pass whose chambers both vent outside.
    Bandpass6Parallel {
        /// Chamber behind the cone.
        rear: VentedChamber,
        /// Chamber before the cone.
        front: VentedChamber,
    },
    /// 6th-order band-pass whose rear chamber vents into the front one, and that outside.
    Bandpass6Series {
        /// Chamber behind the cone.
        rear: VentedChamber,
        /// Chamber before the cone.
        front: VentedChamber,
    },
}

impl Enclosure {
    /// The network of this enclosure with its drivers; ports are in the order rear, front.
    ///
    /// # Errors
    /// [`ModelError`] if any value, or one that follows from them, is outside its range.
    pub fn network(&self, load: Load, air: Air) -> Result<Network, ModelError> {
        load.check()?;
        let (outside, rear_place, front_place) = (Place::Outside, Place::Chamber(0), Place::Chamber(1));
        let (front, back) = match self {
            Self::InfiniteBaffle => (outside, Place::Absorbed),
            Self::Closed { .. } | Self::Vented { .. } | Self::PassiveRadiator { .. } => (outside, rear_place),
            _ => (front_place, rear_place),
        };
        let mut network = Network::new(load, air, front, back);
        match self {
            Self::InfiniteBaffle => {}
            Self::Closed { rear } => network.add_sealed(rear)?,
            Self::Vented { rear } => network.add_vented(rear, outside)?,
            Self::PassiveRadiator { rear, radiator } => network.add_radiators(rear, radiator)?,
            Self::Bandpass4 { rear, front } => {
                network.add_sealed(rear)?;
                network.add_vented(front, outside)?;
            }
            Self::Bandpass6Parallel { rear, front } => {
                network.add_vented(rear, outside)?;
                network.add_vented(front, outside)?;
            }
            Self::Bandpass6Series { rear, front } => {
                network.add_vented(rear, front_place)?;
                network.add_vented(front, outside)?;
            }
        }
        network.check()?;
        Ok(network)
    }
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

    fn branch(&self, from: usize) -> Result<Radiator, ModelError> {
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

impl Network {
    fn add_sealed(&mut self, chamber: &SealedChamber) -> Result<(), ModelError> {
        let volume = chamber_volume(chamber.volume)?;
        let stiffening = 1.0 + load_volume_m3(&self.load, &self.air) / volume;
        let omega = self.load.driver.resonance_rad_s() * stiffening.sqrt();
        self.add_chamber(volume, &chamber.losses, omega)
    }

    fn add_vented(&mut self, chamber: &VentedChamber, to: Place) -> Result<(), ModelError> {
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

    fn add_radiators(
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
