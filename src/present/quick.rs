//! Quick checks in words.
use super::format::fixed;
use super::meter::{Mark, ohms};
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

/// How an answer is marked; `None` for a figure to work with, which is neither good nor bad.
#[must_use]
pub fn mark(answer: &Answer) -> Option<Mark> {
    answer.is_good().map(|good| match (good, answer) {
        (true, _) => Mark::Good,
        (false, Answer::Cable(_)) => Mark::Stop,
        (false, _) => Mark::Care,
    })
}

/// The answer in one or two sentences.
#[must_use]
pub fn text(answer: &Answer, _prefs: &UnitPrefs) -> String {
    match answer {
        Answer::Coil { low, high, read } => {
            let band = format!("{} to {}", fixed(low.ohms(), 2), ohms(Some(*high)));
            let Some((read, off)) = read else { return words::coil_band(&band) };
            let (shown, may_be_off) = (ohms(Some(*read)), ohms(Some(*off)));
            let outside = *read < *low || *read > *high;
            match answer.is_good() {
                Some(true) if outside => words::coil_near(&shown, &band, &may_be_off),
                Some(true) => words::coil_good(&shown, &band, &may_be_off),
                _ if *read < *low => words::coil_low(&shown, &band, &may_be_off),
                _ => words::coil_high(&shown, &band, &may_be_off),
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
