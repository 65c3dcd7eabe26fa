//! A meter reading's meaning in words.
use super::format::fixed;
use crate::design::commission::{self, Step};
use crate::design::meter::{Judged, OVERRULED, Spot};
use crate::design::report::{MeasureKind, WiringOption, WiringReport};
use crate::model::electrical::meter::{
    Band, Candidate, CoilState, Fault, MeterResult, Probe, State, Unseen, Verdict,
};
use crate::model::electrical::wiring::{CoilId, Join};
use crate::units::Resistance;
use crate::words::guide;
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

/// What a reading at a place comes to: its mark, its meaning, what it should have been.
#[must_use]
pub fn judged(judged: &Judged) -> (Mark, String) {
    match judged {
        Judged::Leads { good: true } => (Mark::Good, guide::LEADS_GOOD.into()),
        Judged::Leads { good: false } => (Mark::Care, guide::LEADS_HIGH.into()),
        Judged::Coil(found) => match found.state {
            CoilState::Sound => (Mark::Good, guide::COIL_SOUND.into()),
            CoilState::Warm { rise_k } => (Mark::Care, guide::coil_warm(&fixed(rise_k, 0))),
            CoilState::Open => (Mark::Stop, guide::COIL_OPEN.into()),
            CoilState::Shorted => (Mark::Stop, guide::COIL_SHORTED.into()),
            CoilState::Other => (Mark::Stop, guide::COIL_OTHER.into()),
        },
        Judged::Line(result) => verdict(result),
    }
}

/// The question at a place.
#[must_use]
pub fn ask(spot: Spot, at_amplifier: bool) -> String {
    match spot {
        Spot::Leads => guide::ASK_LEADS.into(),
        Spot::Line if at_amplifier => guide::ASK_LINE_AMPLIFIER.into(),
        Spot::Line | Spot::At(Probe::BoxTerminals) => guide::ASK_LINE_BOX.into(),
        Spot::At(Probe::AcrossCoil(id)) => guide::ask_across(&id.to_string()),
        Spot::At(Probe::CoilAlone(id)) => guide::ask_alone(&id.to_string()),
    }
}

/// What was read, in two or three words.
#[must_use]
pub fn subject(subject: &str) -> String {
    match Spot::of(subject) {
        Some(Spot::Leads) => guide::SUBJECT_LEADS.into(),
        Some(Spot::Line) => guide::SUBJECT_LINE.into(),
        Some(Spot::At(Probe::BoxTerminals)) => guide::SUBJECT_BOX.into(),
        Some(Spot::At(Probe::AcrossCoil(id))) => guide::subject_across(&id.to_string()),
        Some(Spot::At(Probe::CoilAlone(id))) => guide::subject_alone(&id.to_string()),
        None if subject == OVERRULED => guide::SUBJECT_OVERRULED.into(),
        None if subject.starts_with("quick ") => guide::SUBJECT_QUICK.into(),
        None => elsewhere(subject).unwrap_or(subject).into(),
    }
}

/// What was read at first power or along the feed.
fn elsewhere(subject: &str) -> Option<&'static str> {
    if subject == commission::START {
        return Some(guide::SUBJECT_START);
    }
    let step = Step::ALL.iter().find(|step| {
        [commission::subject(**step), commission::overrule_subject(**step)].iter().any(|own| own == subject)
    });
    let place = || {
        MeasureKind::ALL.iter().find(|kind| {
            kind.key() == subject || crate::design::feed_check::overrule_subject(**kind) == subject
        })
    };
    step.map(|step| super::commission::title(*step))
        .or_else(|| place().map(|kind| super::feed::measure::place(*kind)))
}

/// What should be read at a place by the wiring as drawn; the coil's own band where it is read by itself.
#[must_use]
pub fn should_read(spot: Spot, wiring: &WiringReport, result: Option<&MeterResult>) -> String {
    let range = |low: f64, high: f64| {
        band(Band { low: Some(Resistance::from_ohms(low)), high: Some(Resistance::from_ohms(high)) })
    };
    let through = wiring.cable.ohms();
    match (spot, wiring.chosen()) {
        (Spot::Leads, _) => guide::LEADS_BELOW.into(),
        (_, None) => super::format::NO_NUMBER.into(),
        (Spot::Line, Some(chosen)) => range(chosen.reading_low.ohms(), chosen.reading_high.ohms()),
        (Spot::At(Probe::CoilAlone(id)), _) => match wiring.coils.get(id) {
            Some(coil) => {
                let half = coil.dc.ohms() * coil.tolerance_percent / 100.0;
                range(coil.dc.ohms() - half, coil.dc.ohms() + half)
            }
            None => super::format::NO_NUMBER.into(),
        },
        (Spot::At(probe), Some(chosen)) => {
            let expected = result.and_then(|result| result.next.as_ref()).filter(|next| next.probe == probe);
            let drawn = expected
                .and_then(|next| next.expectations.iter().find(|e| e.states.contains(&State::AsDrawn)));
            match (drawn, probe) {
                (Some(drawn), _) => band(drawn.band),
                (None, Probe::AcrossCoil(id)) => {
                    across_as_drawn(chosen, wiring, id).unwrap_or_else(|| super::format::NO_NUMBER.into())
                }
                _ => {
                    let off = if chosen.reading_low.ohms() > through { through } else { 0.0 };
                    range(chosen.reading_low.ohms() - off, chosen.reading_high.ohms() - off)
                }
            }
        }
    }
}

/// Across a coil of the wiring as drawn, amplifier unplugged.
fn across_as_drawn(chosen: &WiringOption, wiring: &WiringReport, id: CoilId) -> Option<String> {
    let ends = chosen.tree.across(&wiring.coils, id)?;
    Some(band(Band { low: Some(ends.0), high: Some(ends.1) }))
}

/// A mistake that no resistance shows.
#[must_use]
pub fn unseen(mistake: Unseen) -> String {
    match mistake {
        Unseen::CoilReversed(id) => guide::unseen_coil(&id.to_string()),
        Unseen::DriverReversed(driver) => guide::unseen_driver(&(u16::from(driver) + 1).to_string()),
        Unseen::LineReversed => guide::UNSEEN_LINE.into(),
    }
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
    let warm = candidate.states.iter().any(State::is_warm);
    Row { text, value: if warm { band(candidate.band) } else { ohms(candidate.expected) } }
}

/// Every state that explains a reading, one by one, commonest first.
#[must_use]
pub fn one_by_one(states: &[(State, Band)]) -> Vec<Row> {
    states.iter().map(|(one, reads)| Row { text: state(one), value: band(*reads) }).collect()
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
        State::WarmFaulty(found) => words::warm_fault(&together(found)),
        State::Faulty(found) => together(found),
        State::OtherWiring { tree, harmless } => words::other_wiring(&tree.to_string(), *harmless),
    }
}

fn together(faults: &[Fault]) -> String {
    faults.iter().map(fault).collect::<Vec<_>>().join(" + ")
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
