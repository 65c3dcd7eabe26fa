//! Enclosures as one would describe them, each turned into a network.
//!
//! One file describes one type; what they share, chambers with their losses and openings, is in `build`.
mod bandpass4;
mod bandpass6_parallel;
mod bandpass6_series;
mod build;
mod closed;
mod infinite_baffle;
mod passive_radiator;
mod push_pull;
mod vented;

pub use passive_radiator::PassiveRadiator;

use super::network::Network;
use super::{Air, Load, Port};
use crate::model::error::ModelError;
use crate::units::Volume;

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

impl SealedChamber {
    /// The chamber with stuffing that makes it act larger by `gain`, a share of its volume.
    ///
    /// Fibres keep the air near one temperature: its stiffness falls from γP towards P, so that the gain is at most
    /// 0.4. What is reached depends on kind, mass and placing; 0.15 to 0.25 is usual (Small, JAES 20 (1972) 798, from
    /// memory). The losses stay: stuffing also lowers QA, which is its own entry.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] unless the gain is 0 to 0.4.
    pub fn stuffed(self, gain: f64) -> Result<Self, ModelError> {
        let gain = super::check::within("gain of volume by stuffing", gain, 0.0, 0.4)?;
        Ok(Self { volume: self.volume * (1.0 + gain), ..self })
    }
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
    /// Pairs of drivers, one behind the other and wired to move alike, on a closed box.
    PushPull {
        /// The box behind the pairs.
        rear: SealedChamber,
    },
}

impl Enclosure {
    /// The network of this enclosure with its drivers; ports are in the order rear, front.
    ///
    /// # Errors
    /// [`ModelError`] if any value, or one that follows from them, is outside its range.
    pub fn network(&self, load: Load, air: Air) -> Result<Network, ModelError> {
        load.check()?;
        let network = match self {
            Self::InfiniteBaffle => infinite_baffle::network(load, air),
            Self::Closed { rear } => closed::network(load, air, rear)?,
            Self::Vented { rear } => vented::network(load, air, rear)?,
            Self::PassiveRadiator { rear, radiator } => passive_radiator::network(load, air, rear, radiator)?,
            Self::Bandpass4 { rear, front } => bandpass4::network(load, air, rear, front)?,
            Self::Bandpass6Parallel { rear, front } => bandpass6_parallel::network(load, air, rear, front)?,
            Self::Bandpass6Series { rear, front } => bandpass6_series::network(load, air, rear, front)?,
            Self::PushPull { rear } => push_pull::network(load, air, rear)?,
        };
        network.check()?;
        Ok(network)
    }
}
