//! How far first power has come: each step's reading, its verdict, and what it holds up.
use super::facts::{Facts, facts};
use super::step::{Expected, Step, expected};
use crate::design::document::{Design, Reading};
use crate::design::meter::{LINE, OVERRULED, judge, judge_round, round};
use crate::design::report::Report;
use crate::model::electrical::commission::Verdict;
use crate::model::electrical::meter;
use crate::units::{CableUnit, Resistance, Unit};

/// Subject that begins a new run.
pub const START: &str = "powerup start";

/// Subject of a step's reading.
#[must_use]
pub fn subject(step: Step) -> String {
    match step {
        Step::Load => LINE.into(),
        _ => format!("powerup {}", step.key()),
    }
}

/// Subject under which a step's verdict is overruled.
#[must_use]
pub fn overrule_subject(step: Step) -> String {
    format!("powerup overrule {}", step.key())
}

/// A step as it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct StepState<'a> {
    /// Which.
    pub step: Step,
    /// What it expects.
    pub expected: Expected,
    /// Its last reading.
    pub reading: Option<&'a Reading>,
    /// What that comes to.
    pub verdict: Option<Verdict>,
    /// The reason why it was overruled or left out, after that reading.
    pub overruled: Option<&'a Reading>,
    /// Whether an earlier step has to be cleared first.
    pub held: bool,
}

impl StepState<'_> {
    /// Whether the next step may be taken.
    #[must_use]
    pub fn passed(&self) -> bool {
        self.overruled.is_some() || matches!(self.verdict, Some(Verdict::Right | Verdict::LookAgain))
    }
}

/// Every step in its order, and the facts they rest on.
#[must_use]
pub fn run<'a>(design: &'a Design, report: &Report, cable: CableUnit) -> (Facts, Vec<StepState<'a>>) {
    let facts = facts(report, &design.sheet, cable);
    let readings = &design.log.readings;
    let from = readings.iter().rposition(|reading| reading.subject == START).unwrap_or(0);
    let readings = readings.get(from..).unwrap_or(&[]);
    let mut held = false;
    let mut states = Vec::with_capacity(Step::ALL.len());
    for step in Step::ALL.iter().copied() {
        let expected = expected(step, &facts);
        let last = |subject: &str| readings.iter().rposition(|reading| reading.subject == subject);
        let read = last(&subject(step));
        let overruled = last(&overrule_subject(step)).filter(|at| read.is_none_or(|read| *at > read));
        // The same reading overruled in the meter check, with its reason, need not be overruled twice.
        let at_check =
            || last(OVERRULED).filter(|at| step == Step::Load && read.is_some_and(|read| *at > read));
        let overruled = overruled.or_else(at_check);
        let reading = read.and_then(|at| readings.get(at));
        let verdict = reading.map(|reading| verdict(step, reading, &expected, design, report, &facts));
        let overruled = overruled.and_then(|at| readings.get(at));
        let state = StepState { step, expected, reading, verdict, overruled, held };
        held |= !state.passed();
        states.push(state);
    }
    (facts, states)
}

/// Index of the step to take next; the last one when all are passed.
#[must_use]
pub fn current(states: &[StepState<'_>]) -> usize {
    states.iter().position(|state| !state.passed()).unwrap_or(states.len().saturating_sub(1))
}

fn verdict(
    step: Step,
    reading: &Reading,
    expected: &Expected,
    design: &Design,
    report: &Report,
    facts: &Facts,
) -> Verdict {
    if step == Step::Load {
        return if facts.stable { load(reading, design, report) } else { Verdict::Stop };
    }
    match expected {
        Expected::Seen(choices) => seen(reading, choices),
        Expected::Number { unit, limits, open, .. } => match (reading.value, limits) {
            (None, _) => {
                if *open {
                    Verdict::Right
                } else {
                    Verdict::LookAgain
                }
            }
            // A value of another quantity, as a file made by hand may hold, is no reading of this step.
            (Some(value), _) if value.unit.quantity() != unit.quantity() => Verdict::LookAgain,
            // Swapped probes turn the sign of a current; an AC reading has none.
            (Some(value), Some(limits)) if matches!(step, Step::Idle | Step::Gain) => {
                limits.judge(value.si().abs())
            }
            (Some(value), Some(limits)) => limits.judge(value.si()),
            (Some(_), None) => Verdict::LookAgain,
        },
    }
}

/// What was seen; an index that no list holds has to be looked at again.
fn seen(reading: &Reading, choices: &[(super::step::Choice, Verdict)]) -> Verdict {
    let index = reading.value.filter(|value| value.unit == Unit::One).map(|value| value.si());
    let found = choices.iter().zip(0_u8..).find(|(_, at)| index == Some(f64::from(*at)));
    // What can't be told is not passed by.
    found.map_or(Verdict::Stop, |((_, verdict), _)| *verdict)
}

/// The load by the meter check, which knows the meter's own error, and whatever was read beside the line in the same
/// round: the same reading has the same verdict here and there.
fn load(reading: &Reading, design: &Design, report: &Report) -> Verdict {
    let Ok(wiring) = &report.wiring else { return Verdict::LookAgain };
    let round = round(&design.log);
    let shown = reading.value.map(|value| Resistance::from_ohms(value.si()));
    let result = match round.line {
        Some(line) if line == reading => judge_round(&design.sheet, wiring, &round),
        _ => judge(&design.sheet, wiring, shown).ok(),
    };
    match result.map(|result| result.verdict) {
        Some(meter::Verdict::AsDrawn) => Verdict::Right,
        Some(meter::Verdict::NotAsDrawn | meter::Verdict::Unexplained) => Verdict::Stop,
        _ => Verdict::LookAgain,
    }
}
