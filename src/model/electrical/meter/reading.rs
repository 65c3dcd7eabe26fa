//! The reading itself: leads taken off, and what the meter may be off by.
use crate::model::electrical::check::within;
use crate::model::error::ModelError;
use crate::units::Resistance;

/// What the meter showed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reading {
    /// A resistance, leads included.
    Shown(Resistance),
    /// Open circuit or over range.
    OverRange,
}

/// A meter, as its data sheet and its shorted probes describe it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meter {
    /// Accuracy in percent of the reading.
    pub accuracy_percent: f64,
    /// Further counts of the last digit.
    pub counts: f64,
    /// What one count of the last digit is worth.
    pub count: Resistance,
    /// What it showed with the probes shorted.
    pub leads: Resistance,
}

impl Meter {
    /// How far off a shown value may be, each way: percent of it, plus counts, plus one count for the leads taken off.
    #[must_use]
    pub fn uncertainty(&self, shown: Resistance) -> Resistance {
        let lead_count = if self.leads.ohms() > 0.0 { 1.0 } else { 0.0 };
        shown * (self.accuracy_percent / 100.0) + self.count * (self.counts + lead_count)
    }
}

/// Where the line was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ReadAt {
    /// At the box, nothing but coils and their jumpers.
    BoxTerminals,
    /// At the amplifier's end of the cable, its plug pulled.
    AmplifierEnd {
        /// Resistance of the cable out and back.
        cable: Resistance,
    },
}

/// A band of resistance; `None` stands for an open circuit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// Low end; `None` where the whole band is an open circuit.
    pub low: Option<Resistance>,
    /// High end.
    pub high: Option<Resistance>,
}

impl Band {
    pub(super) fn new(low_ohm: f64, high_ohm: f64) -> Self {
        let end = |ohm: f64| ohm.is_finite().then(|| Resistance::from_ohms(ohm));
        Self { low: end(low_ohm), high: end(high_ohm) }
    }

    pub(super) fn meets(self, low_ohm: f64, high_ohm: f64) -> bool {
        let end = |ohm: Option<Resistance>| ohm.map_or(f64::INFINITY, Resistance::ohms);
        overlap(end(self.low), end(self.high), low_ohm, high_ohm)
    }
}

/// Whether two bands share a point; rounding of the last binary digits is forgiven.
pub(super) fn overlap(low_a: f64, high_a: f64, low_b: f64, high_b: f64) -> bool {
    let slack = |ohm: f64| {
        if ohm.is_finite() { 1e-9 * (1.0 + ohm) } else { 0.0 }
    };
    low_a <= high_b + slack(high_b) && low_b <= high_a + slack(high_a)
}

/// A reading in ohms, infinite when open.
pub(super) struct Measured {
    pub(super) ohm: f64,
    pub(super) uncertainty_ohm: f64,
}

impl Measured {
    pub(super) fn low(&self) -> f64 {
        (self.ohm - self.uncertainty_ohm).max(0.0)
    }
    pub(super) fn high(&self) -> f64 {
        self.ohm + self.uncertainty_ohm
    }
}

/// A reading without its leads.
pub(super) fn measure(meter: Meter, reading: Reading) -> Result<Measured, ModelError> {
    within("meter accuracy in percent", meter.accuracy_percent, 0.0, 20.0)?;
    within("meter counts", meter.counts, 0.0, 1000.0)?;
    within("one meter count in ohms", meter.count.ohms(), 0.0, 100.0)?;
    let leads = within("lead resistance in ohms", meter.leads.ohms(), 0.0, 100.0)?;
    match reading {
        Reading::OverRange => Ok(Measured { ohm: f64::INFINITY, uncertainty_ohm: 0.0 }),
        Reading::Shown(shown) => {
            let ohm = within("meter reading in ohms", shown.ohms(), 0.0, 1e8)?;
            Ok(Measured { ohm: (ohm - leads).max(0.0), uncertainty_ohm: meter.uncertainty(shown).ohms() })
        }
    }
}
