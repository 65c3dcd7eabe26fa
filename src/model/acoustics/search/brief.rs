//! What a search is given.

use super::Kind;
use super::room::Room;
use crate::model::acoustics::check::within;
use crate::model::acoustics::{Air, Load, Losses, PassiveRadiator};
use crate::model::electrical::wiring::Tree;
use crate::model::error::ModelError;
use crate::units::{Current, Frequency, Length, Power, Resistance, Voltage};

/// How hard the drivers, the amplifier and the air in a port may be worked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Most the amplifier gives at the terminals, rms.
    pub voltage: Voltage,
    /// Most current it gives, rms; `None` where that is not known.
    pub current: Option<Current>,
    /// Heat one driver's coil takes, I²·Re; `None` where that is not known.
    pub coil_power: Option<Power>,
    /// Travel of a cone one way; `None` where that is not known.
    pub travel: Option<Length>,
    /// Peak speed of the air in a port, m/s.
    pub port_speed_m_s: f64,
}

/// The frequencies a box is wanted for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// From here on the level and the decay count.
    pub low: Frequency,
    /// Up to here, where another loudspeaker takes over.
    pub top: Frequency,
}

/// What matters, each from 0, not at all; 1 is the exchange rate that [`super::Merit`] states.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weights {
    /// How low it reaches.
    pub reach: f64,
    /// How loud it plays within its limits.
    pub level: f64,
    /// How even its response is.
    pub evenness: f64,
    /// How small it is.
    pub size: f64,
    /// How soon it is silent again.
    pub decay: f64,
}

/// A pipe there is, and how many of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tube {
    /// Inside diameter.
    pub inside: Length,
    /// Wall.
    pub wall: Length,
    /// How many side by side.
    pub count: u32,
}

/// A passive radiator there is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RadiatorUnit {
    /// One radiator without added weight; its `count` is the most that may be used.
    pub radiator: PassiveRadiator,
    /// Diameter of its frame.
    pub frame: Length,
    /// Travel one way it is good for; `None` where that is not known.
    pub travel: Option<Length>,
    /// Air that each takes from the box, m³; below zero where its hole gives more than it takes.
    pub taken_m3: f64,
}

/// What there is and what is wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct Brief {
    /// The drivers as wired; where `unequal` says how they are wired, its wiring only stands in.
    pub load: Load,
    /// A wiring whose coils don't share equally: the coil and the cone with most of it then set the limits.
    pub unequal: Option<Tree>,
    /// The air.
    pub air: Air,
    /// Cable and amplifier output resistance.
    pub source_resistance: Resistance,
    /// The limits.
    pub limits: Limits,
    /// The free space and what stands in it.
    pub room: Room,
    /// Losses of every chamber.
    pub losses: Losses,
    /// Q of the port losses.
    pub port_loss: Option<f64>,
    /// Kinds to look at.
    pub kinds: Vec<Kind>,
    /// Pipes for ports.
    pub tubes: Vec<Tube>,
    /// Passive radiator, if one is at hand.
    pub radiator: Option<RadiatorUnit>,
    /// The band.
    pub band: Band,
    /// The wishes.
    pub weights: Weights,
}

impl Brief {
    /// Checks every value.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] with the value and its range; [`ModelError::Missing`] without any wish, kind, or a
    /// pipe where a kind needs one.
    pub fn check(&self) -> Result<(), ModelError> {
        self.load.check()?;
        self.room.check()?;
        let low = within("lowest frequency in Hz", self.band.low.hertz(), 10.0, 200.0)?;
        within("highest frequency in Hz", self.band.top.hertz(), 2.0 * low, 500.0)?;
        within("port speed in m/s", self.limits.port_speed_m_s, 1.0, 100.0)?;
        within("voltage limit in V", self.limits.voltage.volts(), 0.01, 1e4)?;
        if let Some(current) = self.limits.current {
            within("current limit in A", current.amperes(), 1e-3, 1e4)?;
        }
        if let Some(power) = self.limits.coil_power {
            within("coil power in W", power.watts(), 1e-3, 1e6)?;
        }
        if let Some(travel) = self.limits.travel {
            within("travel in m", travel.metres(), 1e-5, 1.0)?;
        }
        let weights = &self.weights;
        let all = [weights.reach, weights.level, weights.evenness, weights.size, weights.decay];
        for weight in all {
            within("weight", weight, 0.0, 100.0)?;
        }
        if all.iter().sum::<f64>() <= 0.0 {
            return Err(ModelError::Missing { what: "a wish above zero" });
        }
        if self.kinds.is_empty() {
            return Err(ModelError::Missing { what: "a kind of box to look at" });
        }
        for tube in &self.tubes {
            within("pipe diameter in m", tube.inside.metres(), 0.01, 1.0)?;
            within("pipe wall in m", tube.wall.metres(), 0.0, 0.1)?;
            within("number of pipes", f64::from(tube.count), 1.0, 16.0)?;
        }
        Ok(())
    }
}
