//! The spread of each figure.
use super::figures::hertz;
use super::format::{fixed, si};
use crate::model::acoustics::slack::{Slack, Spreading};
use crate::units::{Quantity, UnitPrefs};
use crate::words::{name, slack as words};

/// Each figure that has a spread: its name, and what nine in ten lie between.
#[must_use]
pub fn spreads(slack: &Slack, closed: bool, prefs: &UnitPrefs) -> Vec<(&'static str, String)> {
    let rows = slack.figures.iter().map(|(figure, spread)| {
        let one = |value: f64| match figure {
            Spreading::Net => si(value, Quantity::Volume, prefs).number,
            Spreading::Resonance => fixed(value, 1),
            Spreading::F3 | Spreading::F10 => hertz(value),
            Spreading::Qtc | Spreading::Impedance => fixed(value, 2),
            Spreading::Travel => fixed(value * 1e3, 1),
            Spreading::Port => fixed(value, 1),
        };
        let (name, unit) = match figure {
            Spreading::Net => (name::NET, si(spread.low, Quantity::Volume, prefs).unit),
            Spreading::Resonance => (if closed { name::FC } else { name::FB }, "Hz"),
            Spreading::Qtc => (name::QTC, ""),
            Spreading::F3 => (name::F3, "Hz"),
            Spreading::F10 => (name::F10, "Hz"),
            Spreading::Travel => (name::TRAVEL, "mm"),
            Spreading::Port => (name::PORT_SPEED, "m/s"),
            Spreading::Impedance => (name::LEAST_Z, "Ω"),
        };
        let between = words::between(&one(spread.low), &one(spread.high));
        (name, format!("{between}\u{a0}{unit}").trim_end().to_owned())
    });
    rows.collect()
}
