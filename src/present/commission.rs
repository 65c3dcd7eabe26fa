//! The steps of first power in words.
use super::figures::hertz;
use super::format::{NO_NUMBER, fixed};
use super::meter::{Mark, ohms};
use crate::design::commission::{Basis, Choice, Expected, Facts, ReadUnit, Step, StepState, parse_reading};
use crate::design::document::Reading;
use crate::model::electrical::commission::{Limits, Verdict, niosh_time_s, osha_time_s};
use crate::units::Resistance;
use crate::words::powerup as words;

/// A step's name.
#[must_use]
pub const fn title(step: Step) -> &'static str {
    match step {
        Step::Route => words::ROUTE,
        Step::GainLow => words::GAIN_LOW,
        Step::BatteryOff => words::BATTERY_OFF,
        Step::Insulation => words::INSULATION,
        Step::Ends => words::ENDS,
        Step::Load => words::LOAD,
        Step::Lamp => words::LAMP,
        Step::Idle => words::IDLE,
        Step::Supply => words::SUPPLY,
        Step::Offset => words::OFFSET,
        Step::Tone => words::TONE,
        Step::Polarity => words::POLARITY,
        Step::Gain => words::GAIN,
        Step::Back => words::BACK_DROP,
        Step::OverFuse => words::FUSE_DROP,
        Step::Terminals => words::TERMINALS,
    }
}

/// What to do at a step.
#[must_use]
pub fn what_to_do(step: Step, facts: &Facts) -> String {
    let text = match step {
        Step::Route => words::ROUTE_DO,
        Step::GainLow => words::GAIN_LOW_DO,
        Step::BatteryOff => words::BATTERY_OFF_DO,
        Step::Insulation => words::INSULATION_DO,
        Step::Ends => words::ENDS_DO,
        Step::Load => words::LOAD_DO,
        Step::Lamp => words::LAMP_DO,
        Step::Idle => words::IDLE_DO,
        Step::Supply => words::SUPPLY_DO,
        Step::Offset => words::OFFSET_DO,
        Step::Tone => return words::tone_do(facts.tone.map(|tone| hertz(tone.hertz())).as_deref()),
        Step::Polarity => words::POLARITY_DO,
        Step::Gain => {
            return words::gain_do(facts.gain.map(|gain| fixed(gain.volts.volts(), 1)).as_deref());
        }
        Step::Back => return words::back_do(facts.back.map(|back| amperes(back.at.amperes())).as_deref()),
        Step::OverFuse => words::FUSE_DROP_DO,
        Step::Terminals => words::TERMINALS_DO,
    };
    text.into()
}

/// The cautions of a step, where the hurt could happen.
#[must_use]
pub fn cautions(step: Step, facts: &Facts) -> Vec<String> {
    let texts: &[&str] = match step {
        Step::Route => &[words::CAUTION_HIGH_VOLTAGE, words::CAUTION_DRILL],
        Step::BatteryOff => &[words::CAUTION_BATTERY, words::CAUTION_LATCHES],
        Step::Lamp => &[words::CAUTION_BATTERY],
        Step::Idle => &[words::CAUTION_AMPERE],
        Step::Supply => &[words::CAUTION_ENGINE],
        Step::Offset => &[words::CAUTION_OUTPUT],
        Step::Gain => &[words::CAUTION_LOADED, words::CAUTION_OUTPUT],
        Step::Back | Step::OverFuse | Step::Terminals => &[words::CAUTION_ENGINE],
        _ => &[],
    };
    let mut cautions: Vec<String> = texts.iter().map(|text| (*text).to_owned()).collect();
    match step {
        Step::Lamp => cautions.extend(facts.lamp.map(|lamp| words::lamp_most(&fixed(lamp.amperes(), 2)))),
        Step::Tone | Step::Back | Step::OverFuse | Step::Terminals => cautions.push(hearing(facts)),
        _ => {}
    }
    cautions
}

/// How long the design's level may be heard.
#[must_use]
pub fn hearing(facts: &Facts) -> String {
    let Some(level) = facts.level else { return words::HEARING_UNKNOWN.into() };
    let (dba, db) = (times(level.dba), times(level.db));
    let pair = |[a, b]: &[String; 2]| [a.clone(), b.clone()];
    let ([a, b], [c, d]) = (pair(&dba), pair(&db));
    words::hearing(
        &fixed(level.db, 0),
        &hertz(level.at.hertz()),
        &fixed(level.dba, 0),
        [a.as_str(), b.as_str()],
        [c.as_str(), d.as_str()],
    )
}

/// Times a day by NIOSH and OSHA, for the level as it is shown.
fn times(level: f64) -> [String; 2] {
    let level = level.round();
    [niosh_time_s(level), osha_time_s(level)].map(|time| match time {
        Ok(seconds) => duration(seconds),
        Err(_) if level < 80.0 => words::NO_LIMIT.into(),
        Err(_) => words::NO_TIME.into(),
    })
}

/// A time no finer than anyone keeps it.
#[must_use]
pub fn duration(seconds: f64) -> String {
    let (value, unit) = if seconds < 90.0 {
        (seconds, "s")
    } else if seconds < 5400.0 {
        (seconds / 60.0, "min")
    } else {
        (seconds / 3600.0, "h")
    };
    // Rounded down, but 15 min stay 15 min.
    let whole = (value + 1e-6).floor();
    if whole < 1.0 { format!("under 1\u{a0}{unit}") } else { format!("{}\u{a0}{unit}", fixed(whole, 0)) }
}

fn amperes(value: f64) -> String {
    fixed(value, usize::from(value < 10.0))
}

/// A value at a step, with the digits a meter shows there.
#[must_use]
pub fn value(si: f64, unit: ReadUnit) -> String {
    if unit == ReadUnit::Ohm {
        return ohms(Some(Resistance::from_ohms(si)));
    }
    let shown = si / unit.si();
    let places = match unit {
        ReadUnit::Millivolt | ReadUnit::Kiloohm | ReadUnit::Milliampere => 0,
        _ if shown.abs() < 1.0 => 2,
        ReadUnit::Ampere if shown.abs() < 10.0 => 1,
        _ => usize::from(shown.abs() < 100.0),
    };
    format!("{}\u{a0}{}", fixed(shown, places), unit.symbol())
}

/// What a step expects, in few words.
#[must_use]
pub fn expected(state: &StepState<'_>) -> String {
    match &state.expected {
        Expected::Seen(choices) => choices.first().map_or("", |(seen, _)| choice(state.step, *seen)).into(),
        Expected::Number { limits: None, .. } => words::NOT_KNOWN.into(),
        Expected::Number { limits: Some(limits), unit, .. } => {
            let (low, high) = (limits.low, limits.high);
            if !high.is_finite() {
                words::at_least(&value(low, *unit))
            } else if low < 0.0 {
                words::up_to(&value(high, *unit))
            } else {
                let least = value(low, *unit);
                words::to(least.split('\u{a0}').next().unwrap_or(NO_NUMBER), &value(high, *unit))
            }
        }
    }
}

/// Where the expectation comes from; empty for what is seen.
#[must_use]
pub fn basis(state: &StepState<'_>, facts: &Facts) -> String {
    let Expected::Number { basis, .. } = &state.expected else { return String::new() };
    let source = match basis {
        Basis::Design => words::FROM_DESIGN,
        Basis::DesignByPractice => words::FROM_DESIGN_PRACTICE,
        Basis::Maker => words::FROM_MAKER,
        Basis::Practice => words::FROM_PRACTICE,
        Basis::Iso16750 if facts.varies => words::FROM_ISO_VARIES,
        Basis::Iso16750 => words::FROM_ISO,
        Basis::Iso16750AtPower => words::FROM_ISO_POWER,
    };
    let lost = match state.step {
        Step::Back => facts.back,
        Step::OverFuse => facts.over_fuse,
        _ => None,
    };
    let way = if state.step == Step::Back && facts.body { words::THROUGH_BODY } else { "" };
    let lost = lost
        .map(|lost| words::lost(&value(lost.high.volts(), ReadUnit::Volt), &amperes(lost.at.amperes()), way));
    match lost {
        Some(lost) => format!("{lost} ({source})"),
        None => source.into(),
    }
}

/// Something seen, in words.
#[must_use]
pub const fn choice(step: Step, choice: Choice) -> &'static str {
    match (step, choice) {
        (Step::Route, Choice::AsAsked) => words::ROUTE_CLEAR,
        (Step::Ends, Choice::AsAsked) => words::ENDS_RIGHT,
        (_, Choice::AsAsked) => words::AS_ASKED,
        (_, Choice::NotSure) => words::NOT_SURE,
        (_, Choice::Wrong) => words::ENDS_WRONG,
        (_, Choice::Bright) => words::BRIGHT,
        (_, Choice::Dims) => words::DIMS,
        (_, Choice::Dark) => words::DARK,
        (_, Choice::Faint) => words::FAINT,
        (_, Choice::Clean) => words::CLEAN,
        (_, Choice::Silent) => words::SILENT,
        (_, Choice::Noise) => words::NOISE,
        (_, Choice::Rough) => words::ROUGH,
        (_, Choice::Outward) => words::OUTWARD,
        (_, Choice::Inward) => words::INWARD,
        (_, Choice::Against) => words::AGAINST,
        (_, Choice::Hardly) => words::HARDLY,
    }
}

/// The choice a reading holds.
#[must_use]
pub fn chosen(state: &StepState<'_>) -> Option<Choice> {
    let Expected::Seen(choices) = &state.expected else { return None };
    let index = state.reading?.value?.si();
    choices.iter().zip(0_u8..).find(|(_, at)| index == f64::from(*at)).map(|((choice, _), _)| *choice)
}

/// A step's reading in words; empty without one.
#[must_use]
pub fn found(state: &StepState<'_>) -> String {
    let Some(reading) = state.reading else { return String::new() };
    match &state.expected {
        Expected::Seen(_) => chosen(state).map_or(NO_NUMBER, |seen| choice(state.step, seen)).into(),
        Expected::Number { unit, .. } => read(reading, *unit),
    }
}

/// A reading keeps the digits it was typed with.
pub(super) fn read(reading: &Reading, unit: ReadUnit) -> String {
    let Some(entered) = reading.value else { return words::OPEN_WORD.into() };
    let moved = match unit {
        ReadUnit::Millivolt | ReadUnit::Milliampere => 3,
        ReadUnit::Kiloohm => -3,
        _ => 0,
    };
    if moved == 0 || entered.unit.quantity() != unit.quantity() {
        return entered.to_text();
    }
    let places = i32::from(entered.number.places()) - moved;
    let shown = entered.si() / unit.si();
    let places = if moved < 0 { usize::from(shown < 10.0) } else { usize::try_from(places).unwrap_or(0) };
    format!("{}\u{a0}{}", fixed(shown, places), unit.symbol())
}

/// One count of a meter that is read to about `near` (SI), in the unit.
#[must_use]
pub fn count(unit: ReadUnit, near: f64) -> f64 {
    match unit {
        ReadUnit::Millivolt | ReadUnit::Milliampere => 1.0,
        ReadUnit::Kiloohm => 10.0,
        _ if near.abs() < 1.0 => 0.01,
        _ => 0.1,
    }
}

/// What is typed, one count less and one more; from `start` (SI) on where nothing is. `count` is in the unit.
#[must_use]
pub fn stepped(text: &str, unit: ReadUnit, start: f64, count: f64) -> [String; 2] {
    let now = parse_reading(text, unit).map_or(start, crate::units::Entered::si) / unit.si();
    let places = [1.0, 0.1, 0.01].iter().position(|least| count >= *least).unwrap_or(3);
    [-1.0, 1.0].map(|sign| fixed(((now / count).round() + sign) * count, places))
}

/// Where the keys of a step begin: the middle of what is right, or its bound where it has one only.
#[must_use]
pub fn start(limits: Option<Limits>) -> f64 {
    match limits {
        Some(limits) if limits.low.is_finite() && limits.high.is_finite() && limits.low >= 0.0 => {
            0.5 * (limits.low + limits.high)
        }
        Some(limits) if !limits.high.is_finite() && limits.low.is_finite() => limits.low,
        _ => 0.0,
    }
}

/// How a step stands: its mark and one or two words; no mark while nothing was read.
#[must_use]
pub fn standing(state: &StepState<'_>) -> (Option<Mark>, &'static str) {
    match (state.overruled, state.verdict) {
        (Some(_), None) => (Some(Mark::Care), words::STATE_LEFT_OUT),
        (Some(_), Some(_)) => (Some(Mark::Care), words::STATE_OVERRULED),
        (None, Some(Verdict::Right)) => (Some(Mark::Good), words::STATE_RIGHT),
        (None, Some(Verdict::LookAgain)) => (Some(Mark::Care), words::STATE_AGAIN),
        (None, Some(Verdict::Stop)) => (Some(Mark::Stop), words::STATE_STOP),
        (None, None) if state.held => (None, words::STATE_HELD),
        (None, None) => (None, words::STATE_OPEN),
    }
}

/// The verdict of a step in words.
#[must_use]
pub fn verdict(state: &StepState<'_>, facts: &Facts) -> Option<(Mark, &'static str)> {
    let verdict = state.verdict?;
    let mark = match verdict {
        Verdict::Right => Mark::Good,
        Verdict::LookAgain => Mark::Care,
        Verdict::Stop => Mark::Stop,
    };
    let unknown = matches!(state.expected, Expected::Number { limits: None, .. });
    let text = match verdict {
        Verdict::Right => words::VERDICT_RIGHT,
        Verdict::LookAgain if unknown => words::MEANS_NOT_KNOWN,
        _ => meaning(state, facts, verdict == Verdict::Stop),
    };
    Some((mark, text))
}

fn meaning(state: &StepState<'_>, facts: &Facts, stop: bool) -> &'static str {
    let either = |stops, odd| if stop { stops } else { odd };
    match state.step {
        Step::Route => words::MEANS_ROUTE,
        Step::GainLow | Step::BatteryOff => words::MEANS_NOT_DONE,
        Step::Insulation => either(words::MEANS_INSULATION_LOW, words::MEANS_INSULATION_SOME),
        Step::Ends => words::MEANS_ENDS,
        Step::Load if !facts.stable => words::MEANS_UNSTABLE,
        Step::Load => either(words::MEANS_LOAD, words::MEANS_LOAD_CLOSE),
        Step::Idle => either(words::MEANS_IDLE_HIGH, words::MEANS_IDLE_ODD),
        Step::Supply => either(words::MEANS_SUPPLY_STOP, words::MEANS_SUPPLY_ODD),
        Step::Offset => either(words::MEANS_OFFSET, words::MEANS_OFFSET_ODD),
        Step::Gain => either(words::MEANS_GAIN_HIGH, words::MEANS_GAIN_ODD),
        Step::Terminals => either(words::MEANS_SUPPLY_STOP, words::MEANS_TERMINALS),
        Step::Back | Step::OverFuse => either(words::MEANS_DROP, words::MEANS_DROP_ODD),
        Step::Lamp | Step::Tone | Step::Polarity => match chosen(state) {
            Some(Choice::Bright) => words::MEANS_BRIGHT,
            Some(Choice::Dark) => words::MEANS_DARK,
            Some(Choice::Faint) => words::MEANS_FAINT,
            Some(Choice::Silent) => words::MEANS_SILENT,
            Some(Choice::Noise) => words::MEANS_NOISE,
            Some(Choice::Rough) => words::MEANS_ROUGH,
            Some(Choice::Inward) => words::MEANS_INWARD,
            Some(Choice::Against) => words::MEANS_AGAINST,
            Some(Choice::Hardly) => words::MEANS_HARDLY,
            _ => words::MEANS_NOT_DONE,
        },
    }
}
