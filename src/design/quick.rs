//! Single questions that need no design.
use crate::model::electrical::cable::{Cable, Insulation, Material, Size, SizeSystem};
use crate::model::electrical::feed::{Feed, FeedRequest, ReturnPath, feed};
use crate::model::electrical::fuse::FuseFamily;
use crate::model::electrical::meter::Meter;
use crate::model::electrical::quick::{coil_resistance_band, drop_over, gain_voltage, sagged_gain};
use crate::model::error::ModelError;
use crate::units::{CableUnit, Current, Length, Power, Resistance, Temperature, Voltage};

/// A question.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Question {
    /// Is this coil sound?
    Coil,
    /// Which cable and fuse?
    Cable,
    /// What does this cable lose?
    Drop,
    /// What should the AC meter show?
    Gain,
}

/// What was entered: SI numbers in the order of the question's fields, a cable size, the list of sizes in use, the meter.
#[derive(Clone, Debug, PartialEq)]
pub struct Values {
    /// The numbers.
    pub numbers: Vec<Option<f64>>,
    /// Index into [`Question::sizes`].
    pub choice: usize,
    /// Which list of sizes.
    pub cable: CableUnit,
    /// The meter a coil is read with.
    pub meter: Meter,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// The band a sound coil lies in, and where the reading lies.
    Coil {
        /// Low end.
        low: Resistance,
        /// High end.
        high: Resistance,
        /// The reading, if there is one, and how far off the meter may be there.
        read: Option<(Resistance, Resistance)>,
    },
    /// The feed.
    Cable(Box<Feed>),
    /// What is lost.
    Drop {
        /// Volts.
        drop: Voltage,
        /// Percent of the supply.
        percent: f64,
        /// Resistance out and back.
        resistance: Resistance,
    },
    /// What the meter should show.
    Gain(Voltage),
    /// The same for what the supply's sag leaves of the power.
    SaggedGain {
        /// What is left of the power.
        power: Power,
        /// What the meter should show.
        volts: Voltage,
        /// What it would show without sag.
        unsagged: Voltage,
    },
    /// The numbers can't be so.
    Refused(ModelError),
}

impl Answer {
    /// Whether what was read may be right, what was asked for exists, and what is lost is not too much; `None` where the
    /// answer is a figure to work with and no verdict. A reading is right as soon as what the meter may be off reaches it.
    #[must_use]
    pub fn is_good(&self) -> Option<bool> {
        match self {
            Self::Coil { low, high, read: Some((read, off)) } => {
                Some(*read + *off >= *low && *read <= *high + *off)
            }
            Self::Cable(feed) => Some(feed.choice().is_some()),
            Self::Drop { percent, .. } => Some(*percent <= MOST_DROP_PERCENT),
            Self::Refused(_) => Some(false),
            Self::Coil { .. } | Self::Gain(_) | Self::SaggedGain { .. } => None,
        }
    }
}

/// As in the meter check.
const MOST_READING_OHM: f64 = 1e6;
/// Most of the supply that a feed may lose: ABYC E-11 has 3 % for what must work and 10 % for the rest; by the design's own
/// default, 3 %.
const MOST_DROP_PERCENT: f64 = 3.0;

impl Question {
    /// Every question, in the order offered.
    pub const ALL: &'static [Self] = &[Self::Coil, Self::Cable, Self::Drop, Self::Gain];

    /// Stable key.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Coil => "coil",
            Self::Cable => "cable",
            Self::Drop => "drop",
            Self::Gain => "gain",
        }
    }
    /// The cable sizes to choose from; empty where none is asked for.
    #[must_use]
    pub fn sizes(self, unit: CableUnit) -> Vec<Size> {
        match self {
            Self::Drop => system(unit).sizes(),
            _ => Vec::new(),
        }
    }
    /// The answer, once enough is entered.
    #[must_use]
    pub fn answer(self, values: &Values) -> Option<Answer> {
        let number = |index: usize| values.numbers.get(index).copied().flatten();
        let answer = match self {
            Self::Coil => coil(number(0)?, number(1), values.meter),
            Self::Cable => cable(number(0)?, number(1)?, number(2), values.cable),
            Self::Drop => {
                let sizes = self.sizes(values.cable);
                drop(*sizes.get(values.choice)?, number(0)?, number(1)?, number(2))
            }
            Self::Gain => gain(number(0)?, number(1)?, number(2), number(3)),
        };
        Some(answer.unwrap_or_else(Answer::Refused))
    }
}

const fn system(unit: CableUnit) -> SizeSystem {
    match unit {
        CableUnit::SquareMillimetres => SizeSystem::Metric,
        CableUnit::Gauge => SizeSystem::Awg,
    }
}

/// Supply taken where none is entered: engine running.
const SUPPLY_V: f64 = 13.8;

/// Both voltages of the supply, or none: one alone says nothing of the sag.
fn gain(watts: f64, ohms: f64, rest: Option<f64>, loaded: Option<f64>) -> Result<Answer, ModelError> {
    let (power, load) = (Power::from_watts(watts), Resistance::from_ohms(ohms));
    let unsagged = gain_voltage(power, load)?;
    match (rest, loaded) {
        (None, None) => Ok(Answer::Gain(unsagged)),
        (Some(rest), Some(loaded)) => {
            let (rest, loaded) = (Voltage::from_volts(rest), Voltage::from_volts(loaded));
            let (power, volts) = sagged_gain(power, load, rest, loaded)?;
            Ok(Answer::SaggedGain { power, volts, unsagged })
        }
        (None, Some(_)) => Err(ModelError::Missing { what: "the supply at rest" }),
        (Some(_), None) => Err(ModelError::Missing { what: "the supply under load" }),
    }
}

/// The leads are taken off by hand here, which costs another count as well.
fn coil(nominal: f64, read: Option<f64>, meter: Meter) -> Result<Answer, ModelError> {
    let (low, high) = coil_resistance_band(Resistance::from_ohms(nominal))?;
    let meter = Meter { leads: meter.count, ..meter };
    let read = read.map(|ohm| {
        if !(0.0..=MOST_READING_OHM).contains(&ohm) {
            let what = "meter reading in ohms";
            return Err(ModelError::OutOfRange { what, value: ohm, min: 0.0, max: MOST_READING_OHM });
        }
        let shown = Resistance::from_ohms(ohm);
        Ok((shown, meter.uncertainty(shown)))
    });
    Ok(Answer::Coil { low, high, read: read.transpose()? })
}

fn cable(amperes: f64, metres: f64, supply: Option<f64>, unit: CableUnit) -> Result<Answer, ModelError> {
    let request = FeedRequest {
        load: Current::from_amperes(amperes),
        supply: Voltage::from_volts(supply.unwrap_or(SUPPLY_V)),
        one_way: Length::from_metres(metres),
        return_path: ReturnPath::SameCable,
        allowed_drop_percent: MOST_DROP_PERCENT,
        material: Material::Copper,
        system: system(unit),
        insulation: Insulation::C75,
        ambient: Temperature::from_celsius(40.0),
        families: FuseFamily::ALL.to_vec(),
        short: None,
    };
    Ok(Answer::Cable(Box::new(feed(&request)?)))
}

fn drop(size: Size, amperes: f64, metres: f64, supply: Option<f64>) -> Result<Answer, ModelError> {
    let conductor = Cable { material: Material::Copper, size };
    let resistance =
        conductor.resistance(Length::from_metres(metres) * 2.0, Temperature::from_celsius(40.0))?;
    let supply = Voltage::from_volts(supply.unwrap_or(SUPPLY_V));
    let (drop, percent) = drop_over(resistance, Current::from_amperes(amperes), supply)?;
    Ok(Answer::Drop { drop, percent, resistance })
}
