//! Quick checks in words.
use super::format::fixed;
use super::meter::ohms;
use super::tables::{amperes, size};
use crate::design::quick::{Answer, Question};
use crate::units::{Quantity, UnitPrefs};
use crate::words::quick as words;

/// A number a question asks for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct QuickField {
    /// Its name.
    pub label: &'static str,
    /// What it measures.
    pub quantity: Quantity,
    /// Shown while empty.
    pub example: &'static str,
}

const fn field(label: &'static str, quantity: Quantity, example: &'static str) -> QuickField {
    QuickField { label, quantity, example }
}

const COIL: &[QuickField] = &[
    field(words::NOMINAL, Quantity::Resistance, "2"),
    field(words::READING, Quantity::Resistance, words::IF_READ),
];
const CABLE: &[QuickField] = &[
    field(words::CURRENT, Quantity::Current, "60"),
    field(words::RUN, Quantity::Run, "4.6"),
    field(words::SUPPLY, Quantity::Voltage, "13.8"),
];
const DROP: &[QuickField] = CABLE;
const GAIN: &[QuickField] = &[
    field(words::POWER, Quantity::Power, "250"),
    field(words::LOAD, Quantity::Resistance, "4"),
    field(words::AT_REST, Quantity::Voltage, words::IF_KNOWN),
    field(words::UNDER_LOAD, Quantity::Voltage, words::IF_KNOWN),
];

/// The numbers a question asks for.
#[must_use]
pub const fn fields(question: Question) -> &'static [QuickField] {
    match question {
        Question::Coil => COIL,
        Question::Cable => CABLE,
        Question::Drop => DROP,
        Question::Gain => GAIN,
    }
}

/// The name of a question.
#[must_use]
pub const fn title(question: Question) -> &'static str {
    match question {
        Question::Coil => words::COIL,
        Question::Cable => words::CABLE,
        Question::Drop => words::DROP,
        Question::Gain => words::GAIN,
    }
}

/// The answer in one or two sentences.
#[must_use]
pub fn text(answer: &Answer, _prefs: &UnitPrefs) -> String {
    match answer {
        Answer::Coil { low, high, read } => {
            let band = format!("{} to {}", fixed(low.ohms(), 2), ohms(Some(*high)));
            match read {
                None => words::coil_band(&band),
                Some(read) if *read < *low => words::coil_low(&ohms(Some(*read)), &band),
                Some(read) if *read > *high => words::coil_high(&ohms(Some(*read)), &band),
                Some(read) => words::coil_good(&ohms(Some(*read)), &band),
            }
        }
        Answer::Cable(feed) => match feed.choice() {
            Some(option) => words::cable(
                &size(option.cable.size),
                &option.fuse.as_ref().map_or_else(|_| String::new(), |fuse| amperes(fuse.rating.amperes())),
                &fixed(option.drop_percent, 1),
                &fixed(option.ampacity.current.amperes(), 0),
            ),
            None => crate::words::say::NO_CABLE.into(),
        },
        Answer::Drop { drop, percent, resistance } => {
            words::drop(&fixed(drop.volts(), 2), &fixed(*percent, 1), &fixed(resistance.ohms() * 1e3, 1))
        }
        Answer::Gain(voltage) => words::gain(&fixed(voltage.volts(), 1)),
        Answer::SaggedGain { power, volts, unsagged } => words::sagged_gain(
            &fixed(volts.volts(), 1),
            &fixed(power.watts(), 0),
            &fixed(unsagged.volts(), 1),
        ),
        Answer::Refused(error) => crate::words::page::refused(&error.to_string()),
    }
}
