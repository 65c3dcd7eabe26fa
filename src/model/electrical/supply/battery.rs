//! A battery by its data: resting voltage, internal resistance, short-circuit current.
use super::Source;
use crate::model::electrical::check::within;
use crate::model::error::ModelError;
use crate::units::{Resistance, Voltage};

/// How a battery is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Chemistry {
    /// Lead-acid with free electrolyte.
    Flooded,
    /// Lead-acid with the electrolyte held in glass mat or gel.
    Agm,
    /// Lithium iron phosphate, four cells in series, with its own disconnecting electronics.
    LithiumIron,
}

/// A battery.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Battery {
    /// How it is made.
    pub chemistry: Chemistry,
    /// Rated capacity in ampere hours.
    pub capacity_ah: f64,
    /// Internal resistance, if measured or printed.
    pub internal: Option<Resistance>,
}

impl Battery {
    /// Internal resistance: as given, else by capacity (450, 280 or 250 mΩ·Ah for flooded, AGM, lithium iron
    /// phosphate: from memory, no source; a cold, old or half-empty battery has several times as much).
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for a capacity outside 1 Ah to 2000 Ah or a resistance outside 0.05 mΩ to 1 Ω.
    pub fn resistance(&self) -> Result<Resistance, ModelError> {
        let capacity = within("battery capacity in Ah", self.capacity_ah, 1.0, 2e3)?;
        let milliohm_ah = match self.chemistry {
            Chemistry::Flooded => 450.0,
            Chemistry::Agm => 280.0,
            Chemistry::LithiumIron => 250.0,
        };
        let ohms = self.internal.map_or(1e-3 * milliohm_ah / capacity, Resistance::ohms);
        Ok(Resistance::from_ohms(within("internal resistance in ohms", ohms, 5e-5, 1.0)?))
    }

    /// Voltage at rest, charged: the middle of the published band for lead-acid, 13.3 V for lithium iron phosphate
    /// (from memory).
    #[must_use]
    pub fn charged_voltage(&self) -> Voltage {
        match self.chemistry {
            Chemistry::Flooded | Chemistry::Agm => {
                let (low, high) = resting_voltage_band(1.0);
                (low + high) * 0.5
            }
            Chemistry::LithiumIron => Voltage::from_volts(13.3),
        }
    }

    /// The charged battery as a source.
    ///
    /// # Errors
    /// As [`Battery::resistance`].
    pub fn source(&self) -> Result<Source, ModelError> {
        Ok(Source { emf: self.charged_voltage(), resistance: self.resistance()? })
    }
}

/// State of charge in percent, and open-circuit voltage of a rested 12 V lead-acid battery by two informal texts: a
/// rounded rule, and one with specific gravity, which gives nothing at 0 %.
const REST: [(f64, f64, f64); 4] =
    [(25.0, 12.0, 12.15), (50.0, 12.2, 12.3), (75.0, 12.4, 12.45), (100.0, 12.6, 12.66)];
/// The rounded rule at 0 %.
const EMPTY_V: f64 = 11.6;

/// Open-circuit voltage of a rested lead-acid battery at a state of charge of 0 to 1: the lower and higher of two
/// texts, both informal. Rest it for 6 h to 8 h before reading; AGM rests some 0.1 V higher (from memory).
#[must_use]
pub fn resting_voltage_band(charge: f64) -> (Voltage, Voltage) {
    let percent = 100.0 * charge.clamp(0.0, 1.0);
    let mut before = (0.0, EMPTY_V, EMPTY_V);
    for row in REST {
        if percent <= row.0 {
            let t = (percent - before.0) / (row.0 - before.0);
            let at = |a: f64, b: f64| Voltage::from_volts(a + t * (b - a));
            return (at(before.1, row.1), at(before.2, row.2));
        }
        before = row;
    }
    (Voltage::from_volts(before.1), Voltage::from_volts(before.2))
}

/// State of charge, 0 to 1, that a rested lead-acid battery of this voltage may have: the band of the two texts.
///
/// # Errors
/// [`ModelError::OutOfRange`] outside 6 V to 16 V.
pub fn charge_band(rest: Voltage) -> Result<(f64, f64), ModelError> {
    let volts = within("resting voltage in volts", rest.volts(), 6.0, 16.0)?;
    let share = |column: fn((f64, f64, f64)) -> f64, empty: f64| {
        let mut before = (0.0, empty);
        for row in REST {
            let v = column(row);
            if volts <= v {
                let t = ((volts - before.1) / (v - before.1)).max(0.0);
                return 0.01 * (before.0 + t * (row.0 - before.0));
            }
            before = (row.0, v);
        }
        1.0
    };
    // The second text says nothing below 25 %; it is taken to fall to the rounded rule's empty battery.
    Ok((share(|row| row.2, EMPTY_V), share(|row| row.1, EMPTY_V)))
}
