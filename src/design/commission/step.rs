//! The steps in their order, and what each may show.
use super::facts::{Facts, OverFeed};
use super::read::ReadUnit;
use crate::model::electrical::commission::{Limits, Verdict, joint_excess};

/// One step of first power.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    /// What lies on the route and behind the panels.
    Route,
    /// Gain at its minimum, before anything is powered.
    GainLow,
    /// Battery ground off.
    BatteryOff,
    /// Feed against body.
    Insulation,
    /// Which end of the feed is which.
    Ends,
    /// Resistance of the loudspeaker line.
    Load,
    /// First power, through a lamp.
    Lamp,
    /// Current without a signal.
    Idle,
    /// Voltage at the amplifier.
    Supply,
    /// DC at the output.
    Offset,
    /// First tone.
    Tone,
    /// Which way the cones move.
    Polarity,
    /// The gain.
    Gain,
    /// Lost on the way back.
    Back,
    /// Lost over the main fuse.
    OverFuse,
    /// What arrives at the amplifier at power.
    Terminals,
}

/// Something that may be seen; its place in the list is what is stored, so new ones are appended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// As it should be.
    AsAsked,
    /// Not so, or not sure.
    NotSure,
    /// Not so, and dangerous.
    Wrong,
    /// Stays bright.
    Bright,
    /// Glows and dims.
    Dims,
    /// Stays dark.
    Dark,
    /// Glows faintly all the time.
    Faint,
    /// Clean and quiet.
    Clean,
    /// Nothing is heard.
    Silent,
    /// Hum or noise.
    Noise,
    /// Rough, or it smells.
    Rough,
    /// Every cone outwards.
    Outward,
    /// Every cone inwards.
    Inward,
    /// Against one another.
    Against,
    /// Hardly at all.
    Hardly,
}

/// Where an expected value comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Worked out from this design.
    Design,
    /// From this design, by a rule of common practice without a source.
    DesignByPractice,
    /// The maker's figure as entered.
    Maker,
    /// Common practice, no source.
    Practice,
    /// ISO 16750-2 for what is dangerous; the design for what is right.
    Iso16750,
    /// The same, with what is lost on the way at power.
    Iso16750AtPower,
}

/// What a step expects.
#[derive(Clone, Debug, PartialEq)]
pub enum Expected {
    /// A number.
    Number {
        /// Unit it is read in.
        unit: ReadUnit,
        /// What is right; `None` while the design does not say.
        limits: Option<Limits>,
        /// Whether an open circuit is what is wanted.
        open: bool,
        /// Where the limits come from.
        basis: Basis,
    },
    /// Something seen: each with its verdict, the wanted one first where there is one.
    Seen(&'static [(Choice, Verdict)]),
}

use Choice::{
    Against, AsAsked, Bright, Clean, Dark, Dims, Faint, Hardly, Inward, Noise, NotSure, Outward, Rough,
    Silent, Wrong,
};
use Verdict::{LookAgain, Right, Stop};

const ASKED: &[(Choice, Verdict)] = &[(AsAsked, Right), (NotSure, Stop)];
const ENDS: &[(Choice, Verdict)] = &[(AsAsked, Right), (Wrong, Stop), (NotSure, Stop)];
const LAMP: &[(Choice, Verdict)] = &[(Dims, Right), (Faint, LookAgain), (Dark, LookAgain), (Bright, Stop)];
const TONE: &[(Choice, Verdict)] = &[(Clean, Right), (Silent, LookAgain), (Noise, LookAgain), (Rough, Stop)];
const POLARITY: &[(Choice, Verdict)] =
    &[(Outward, Right), (Inward, LookAgain), (Against, Stop), (Hardly, LookAgain)];

impl Step {
    /// Every step, in the order of work.
    pub const ALL: &'static [Self] = &[
        Self::Route,
        Self::GainLow,
        Self::BatteryOff,
        Self::Insulation,
        Self::Ends,
        Self::Load,
        Self::Lamp,
        Self::Idle,
        Self::Supply,
        Self::Offset,
        Self::Tone,
        Self::Polarity,
        Self::Gain,
        Self::Back,
        Self::OverFuse,
        Self::Terminals,
    ];

    /// Stable key in the log.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Route => "route",
            Self::GainLow => "gain low",
            Self::BatteryOff => "battery off",
            Self::Insulation => "insulation",
            Self::Ends => "ends",
            Self::Load => "load",
            Self::Lamp => "lamp",
            Self::Idle => "idle",
            Self::Supply => "supply",
            Self::Offset => "offset",
            Self::Tone => "tone",
            Self::Polarity => "polarity",
            Self::Gain => "gain",
            Self::Back => "ground",
            Self::OverFuse => "fuse",
            Self::Terminals => "terminals",
        }
    }
}

/// Insulation: right from 100 kΩ, stop below 1 kΩ (common practice, no source).
const INSULATION: Limits = Limits::between(1e5, f64::INFINITY).stopping(1e3, f64::INFINITY);
/// DC at the output: right to 50 mV, stop above 100 mV (common practice, no source).
const OFFSET: Limits = Limits::between(-0.05, 0.05).stopping(-0.1, 0.1);
/// A supply outside stops: ISO 16750-2, 12 V, codes D (least) and all codes (most).
const SUPPLY_V: (f64, f64) = (10.5, 16.0);
/// A charging voltage under load strays so far from the one entered, V (common practice, no source).
pub(super) const SUPPLY_STRAYS_V: f64 = 0.7;

/// What a step expects of this design.
#[must_use]
pub fn expected(step: Step, facts: &Facts) -> Expected {
    match step {
        Step::Route | Step::GainLow | Step::BatteryOff => Expected::Seen(ASKED),
        Step::Ends => Expected::Seen(ENDS),
        Step::Lamp => Expected::Seen(LAMP),
        Step::Tone => Expected::Seen(TONE),
        Step::Polarity => Expected::Seen(POLARITY),
        _ => number(step, facts),
    }
}

fn number(step: Step, facts: &Facts) -> Expected {
    use Basis::{Design, DesignByPractice, Iso16750, Maker, Practice};
    let (unit, limits, basis) = match step {
        Step::Insulation => (ReadUnit::Kiloohm, Some(INSULATION), Practice),
        Step::Load => {
            let limits = facts.load.map(|(low, high)| Limits::between(low.ohms(), high.ohms()));
            (ReadUnit::Ohm, limits, Design)
        }
        Step::Idle => {
            let idle = facts.idle;
            let limits = Limits::between(idle.low.amperes(), idle.high.amperes());
            let basis = if idle.given { Maker } else { DesignByPractice };
            (ReadUnit::Ampere, Some(limits.stopping(0.0, idle.stop.amperes())), basis)
        }
        Step::Supply => {
            let (low, high) = facts.supply;
            (ReadUnit::Volt, Some(at_amplifier(low.volts(), high.volts())), Iso16750)
        }
        Step::Terminals => {
            let limits = facts.terminals.map(|found| at_power(found.low.volts(), found.high.volts()));
            (ReadUnit::Volt, limits, Basis::Iso16750AtPower)
        }
        Step::Offset => (ReadUnit::Millivolt, Some(OFFSET), Practice),
        Step::Gain => {
            // 3 % is what a meter and a hand on the knob resolve; 10 % more voltage are 21 % more power.
            let limits = facts.gain.map(|gain| gain.volts.volts());
            let limits = limits.map(|v| Limits::between(0.9 * v, 1.03 * v).stopping(0.0, 1.1 * v));
            (ReadUnit::Volt, limits, DesignByPractice)
        }
        Step::Back => (ReadUnit::Volt, facts.back.map(lost), DesignByPractice),
        _ => (ReadUnit::Volt, facts.over_fuse.map(lost), DesignByPractice),
    };
    Expected::Number { unit, limits, open: step == Step::Insulation, basis }
}

/// Volts at the amplifier's supply terminals at power, give or take what the supply strays.
pub(in crate::design) fn at_power(low: f64, high: f64) -> Limits {
    at_amplifier(low - SUPPLY_STRAYS_V, high + SUPPLY_STRAYS_V)
}

/// Volts of a 12 V system, at the battery or at the amplifier.
pub(in crate::design) fn at_amplifier(low: f64, high: f64) -> Limits {
    let within = |volts: f64| volts.clamp(SUPPLY_V.0, SUPPLY_V.1);
    Limits::between(within(low), within(high)).stopping(SUPPLY_V.0, SUPPLY_V.1)
}

fn lost(over: OverFeed) -> Limits {
    joint_excess(over.high, over.at)
}
