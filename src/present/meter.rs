//! A meter reading's meaning in words.
use super::format::fixed;
use crate::model::electrical::meter::{Band, Candidate, Fault, MeterResult, Probe, State, Verdict};
use crate::model::electrical::wiring::{CoilId, Join};
use crate::units::Resistance;
use crate::words::meter as words;

/// How the verdict is marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// Go on.
    Good,
    /// Look closer.
    Care,
    /// Stop.
    Stop,
}

/// One row of a list of states or expectations.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// What would be so.
    pub text: String,
    /// What reads so.
    pub value: String,
}

/// A resistance with the digits a meter near it shows.
#[must_use]
pub fn ohms(value: Option<Resistance>) -> String {
    value.map_or_else(
        || words::NO_READING.into(),
        |r| format!("{}\u{a0}Ω", fixed(r.ohms(), if r.ohms() < 20.0 { 2 } else { 1 })),
    )
}

/// A band, as one value where its ends print alike.
#[must_use]
pub fn band(band: Band) -> String {
    let (low, high) = (ohms(band.low), ohms(band.high));
    if low == high { low } else { format!("{} to {high}", low.trim_end_matches("\u{a0}Ω")) }
}

/// The verdict and how it is marked.
#[must_use]
pub fn verdict(result: &MeterResult) -> (Mark, String) {
    match result.verdict {
        Verdict::AsDrawn => (Mark::Good, words::AS_DRAWN.into()),
        Verdict::AsDrawnOrOther => (Mark::Care, words::AS_DRAWN_OR.into()),
        Verdict::WarmCoils { rise_k } => (Mark::Care, words::warm(&fixed(rise_k, 0))),
        Verdict::NotAsDrawn => (Mark::Stop, words::NOT_AS_DRAWN.into()),
        Verdict::Unexplained => (Mark::Stop, words::UNEXPLAINED.into()),
    }
}

/// States that explain the reading, likeliest first, at most `most`.
#[must_use]
pub fn explanations(result: &MeterResult, most: usize) -> Vec<Row> {
    result.explanations.iter().take(most).map(candidate).collect()
}

fn candidate(candidate: &Candidate) -> Row {
    let mut text = states(&candidate.states, 2);
    let rest = candidate.state_count.saturating_sub(2.min(candidate.states.len()));
    if rest > 0 {
        text = format!("{text}; {}", words::and_more(rest));
    }
    Row { text, value: ohms(candidate.expected) }
}

fn states(states: &[State], most: usize) -> String {
    states.iter().take(most).map(state).collect::<Vec<_>>().join("; ")
}

/// The next place to measure and what it would tell.
#[must_use]
pub fn next(result: &MeterResult) -> Option<(String, Vec<Row>)> {
    let next = result.next.as_ref()?;
    let rows = next.expectations.iter().map(|e| Row { text: states(&e.states, 2), value: band(e.band) });
    Some((probe(next.probe), rows.collect()))
}

fn probe(probe: Probe) -> String {
    match probe {
        Probe::AcrossCoil(id) => words::across_coil(&id.to_string()),
        Probe::BoxTerminals => words::BOX_TERMINALS.into(),
        Probe::CoilAlone(id) => words::coil_alone(&id.to_string()),
    }
}

/// A state of the line in words.
#[must_use]
pub fn state(state: &State) -> String {
    match state {
        State::AsDrawn => words::STATE_DRAWN.into(),
        State::Warm => words::STATE_WARM.into(),
        State::Faulty(faults) => faults.iter().map(fault).collect::<Vec<_>>().join(" + "),
        State::OtherWiring { tree, harmless } => words::other_wiring(&tree.to_string(), *harmless),
    }
}

fn coils(ids: &[CoilId]) -> String {
    ids.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
}

fn fault(fault: &Fault) -> String {
    match fault {
        Fault::CoilOpen(id) => words::coil_open(&id.to_string()),
        Fault::CoilShorted(id) => words::coil_shorted(&id.to_string()),
        Fault::CoilAcrossItself(id) => words::across_itself(&id.to_string()),
        Fault::GroupAcrossItself(ids) => words::group_across(&coils(ids)),
        Fault::GroupSwapped { coils: ids, drawn } => words::swapped(&coils(ids), *drawn == Join::Parallel),
        Fault::JumperMissing { from, to, .. } => words::jumper_missing(&from.to_string(), &to.to_string()),
        Fault::DriverOff(driver) => words::driver_off(&(u16::from(*driver) + 1).to_string()),
        Fault::LineOpen => words::LINE_OPEN.into(),
        Fault::LineShorted => words::LINE_SHORTED.into(),
    }
}
