//! What a resistance reading means, before anything is powered.
//!
//! Nothing here knows a value by heart: faults are operators on the wiring tree ([`faults`]), every faulted tree has a
//! reading, and the states whose reading fits are ranked. Further readings, of single coils or at other places, rule
//! out the states they speak against, and a coil read by itself is from then on known as well as it was read.
mod candidates;
mod circuit;
mod coil;
pub mod faults;
mod probes;
mod reading;

pub use candidates::{Candidate, State};
pub use coil::{CoilState, CoilVerdict, check_coil};
pub use faults::{Fault, Unseen, unseen};
pub use probes::{NextMeasurement, Probe, ProbeExpectation};
pub use reading::{Band, Meter, ReadAt, Reading};

use super::check::within;
use super::wiring::{Coil, CoilId, CoilSet, Tree};
use crate::model::error::ModelError;
use crate::units::{Resistance, Temperature};

/// Change of copper's resistance per kelvin, referred to 20 °C (IEC 60028).
pub const COPPER_PER_KELVIN: f64 = 0.00393;
/// The warmest coil that a reading is explained by, in kelvin above room temperature.
pub const WARMEST_RISE_K: f64 = 80.0;
/// Most faults that are listed one by one in a candidate; [`Candidate::state_count`] tells how many there are.
pub const MAX_STATES_LISTED: usize = 32;

/// Everything a meter check needs.
#[derive(Clone, Debug, PartialEq)]
pub struct MeterCheck {
    /// The wiring as drawn.
    pub tree: Tree,
    /// The coils.
    pub coils: CoilSet,
    /// What the meter showed.
    pub reading: Reading,
    /// The meter.
    pub meter: Meter,
    /// Where it was read.
    pub read_at: ReadAt,
    /// Further readings in the same state of the line, by the same meter; empty where there are none.
    pub evidence: Vec<Evidence>,
}

/// A reading at another place than the line's end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Evidence {
    /// Where.
    pub probe: Probe,
    /// What the meter showed.
    pub reading: Reading,
}

/// What the reading comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Verdict {
    /// The wiring as drawn explains the reading, and nothing else does that is commoner than two faults at once and
    /// would do harm.
    AsDrawn,
    /// The wiring as drawn explains the reading, but so do other states.
    AsDrawnOrOther,
    /// Too high for the wiring as drawn when cold, right when its coils are this much warmer than room temperature; no
    /// single fault explains it. Read again cold.
    WarmCoils {
        /// Rise over room temperature, 0 K to [`WARMEST_RISE_K`].
        rise_k: f64,
    },
    /// Not as drawn; the candidates say what it may be.
    NotAsDrawn,
    /// Nothing that the tree can become explains the reading.
    Unexplained,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct MeterResult {
    /// Reading with the leads taken off; `None` for an open line.
    pub measured: Option<Resistance>,
    /// What the meter may have been off by, each way; zero for an open line.
    pub uncertainty: Resistance,
    /// What the wiring as drawn should read, cold, at the place of reading.
    pub expected: Resistance,
    /// The band of that, from the coils' tolerance.
    pub expected_band: Band,
    /// What it comes to.
    pub verdict: Verdict,
    /// States that explain the reading, most likely first; states with equal reading are one candidate.
    pub explanations: Vec<Candidate>,
    /// Every state considered, explaining or not, in the same form, by expected reading: for a table.
    pub all: Vec<Candidate>,
    /// Where to measure next to tell the explanations apart; `None` where nothing is left to tell or no place tells.
    pub next: Option<NextMeasurement>,
    /// Mistakes that no resistance reading shows.
    pub unseen: Vec<Unseen>,
}

/// Judges a reading against the wiring as drawn.
///
/// The amplifier must be unplugged from the line and the cones still.
///
/// # Errors
/// As [`Tree::validate`]; [`ModelError::OutOfRange`] for a reading outside 0 Ω to 100 MΩ, leads outside 0 Ω to 100 Ω, an
/// accuracy outside 0 % to 20 %, counts outside 0 to 1000, a count outside 0 Ω to 100 Ω, or a cable outside 0 Ω to 100 Ω.
pub fn check(input: &MeterCheck) -> Result<MeterResult, ModelError> {
    input.tree.validate(&input.coils)?;
    let measured = reading::measure(input.meter, input.reading)?;
    let cable_ohm = cable_ohm(input)?;
    let proofs = proofs(input)?;
    let coils = known_coils(&input.coils, &proofs);
    let input = &MeterCheck { coils: coils.clone(), ..input.clone() };
    let pool = candidates::pool(&input.tree, &coils, cable_ohm, &proofs);
    let expected_band = candidates::band(&input.tree, &coils, cable_ohm);
    let expected = input.tree.figures(&coils)?.dc.ohms() + cable_ohm;
    let explanations = candidates::explain(&pool, &measured);
    let verdict = judge(&explanations, &measured, expected_band, cable_ohm);
    Ok(MeterResult {
        measured: measured.ohm.is_finite().then(|| Resistance::from_ohms(measured.ohm)),
        uncertainty: Resistance::from_ohms(measured.uncertainty_ohm),
        expected: Resistance::from_ohms(expected),
        expected_band,
        verdict,
        next: if verdict == Verdict::AsDrawn { None } else { probes::next(input, &explanations, cable_ohm) },
        explanations: explanations.iter().map(|found| found.public(&measured)).collect(),
        all: pool.iter().map(|found| found.public(&measured)).collect(),
        unseen: unseen(&input.tree),
    })
}

/// Every state that explains the reading, one by one, commonest first, with the band it should read: what the
/// explanations of [`check`] only count where more than [`MAX_STATES_LISTED`] read alike.
///
/// # Errors
/// As [`check`].
pub fn every_explanation(input: &MeterCheck) -> Result<Vec<(State, Band)>, ModelError> {
    input.tree.validate(&input.coils)?;
    let measured = reading::measure(input.meter, input.reading)?;
    let cable_ohm = cable_ohm(input)?;
    let proofs = proofs(input)?;
    let coils = known_coils(&input.coils, &proofs);
    Ok(candidates::meeting(&input.tree, &coils, cable_ohm, &proofs, &measured))
}

/// Every state considered, one by one, with the reading it should give, cold, at the place of reading; `None` for open.
///
/// The states of [`check`], whose lists may be shortened. Reading, meter and further readings play no part.
///
/// # Errors
/// As [`check`].
pub fn every_state(input: &MeterCheck) -> Result<Vec<(State, Option<Resistance>)>, ModelError> {
    input.tree.validate(&input.coils)?;
    let states = candidates::each(&input.tree, &input.coils, cable_ohm(input)?);
    Ok(states.into_iter().map(|(state, _, ohm)| (state, shown(ohm))).collect())
}

/// The same states with what each reads across one coil's terminals, cold, everything left in place; empty for a coil that
/// the tree does not hold.
///
/// # Errors
/// As [`check`].
pub fn every_state_across(
    input: &MeterCheck,
    coil: CoilId,
) -> Result<Vec<(State, Option<Resistance>)>, ModelError> {
    input.tree.validate(&input.coils)?;
    let of = candidates::coil_ohm(&input.coils, 0.0);
    let states = candidates::each(&input.tree, &input.coils, cable_ohm(input)?);
    let read = |(state, node, _): (State, circuit::Node, f64)| {
        Some((state, shown(node.across(coil, &of, f64::INFINITY)?)))
    };
    Ok(states.into_iter().filter_map(read).collect())
}

fn shown(ohm: f64) -> Option<Resistance> {
    ohm.is_finite().then(|| Resistance::from_ohms(ohm))
}

impl Tree {
    /// The band between one coil's terminals, everything joined as drawn and the line open at its far end, cold;
    /// `None` for a coil that the tree does not hold.
    #[must_use]
    pub fn across(&self, coils: &CoilSet, coil: CoilId) -> Option<(Resistance, Resistance)> {
        let node = circuit::Node::build(self, &[]);
        let at = |end| node.across(coil, &candidates::coil_ohm(coils, end), f64::INFINITY);
        Some((Resistance::from_ohms(at(-1.0)?), Resistance::from_ohms(at(1.0)?)))
    }
}

fn cable_ohm(input: &MeterCheck) -> Result<f64, ModelError> {
    match input.read_at {
        ReadAt::BoxTerminals => Ok(0.0),
        ReadAt::AmplifierEnd { cable } => within("cable resistance in ohms", cable.ohms(), 0.0, 100.0),
    }
}

/// The further readings as bands; box terminals are the line itself where that is read there.
fn proofs(input: &MeterCheck) -> Result<Vec<probes::Proof>, ModelError> {
    let at_box = input.read_at == ReadAt::BoxTerminals;
    let counts = input.evidence.iter().filter(|e| !(at_box && e.probe == Probe::BoxTerminals));
    counts.map(|e| Ok(probes::Proof::new(e.probe, &reading::measure(input.meter, e.reading)?))).collect()
}

/// The coils, those read by themselves as well as they were read. A reading outside a coil's tolerance leaves the
/// coil as it was: it speaks for a fault, or for another coil than entered.
fn known_coils(coils: &CoilSet, proofs: &[probes::Proof]) -> CoilSet {
    let mut known = coils.clone();
    for proof in proofs {
        let Probe::CoilAlone(id) = proof.probe else { continue };
        let Some(coil) = known.get(id) else { continue };
        let half = coil.dc.ohms() * coil.tolerance_percent / 100.0;
        let Some((low, high)) = proof.narrowed(coil.dc.ohms() - half, coil.dc.ohms() + half) else {
            continue;
        };
        let middle = 0.5 * (low + high);
        if middle > 0.0 {
            let tolerance_percent = 100.0 * (high / middle - 1.0).max(0.0);
            known = known.with(id, Coil { dc: Resistance::from_ohms(middle), tolerance_percent, ..coil });
        }
    }
    known
}

fn judge(
    explanations: &[candidates::Merged],
    measured: &reading::Measured,
    drawn: Band,
    cable_ohm: f64,
) -> Verdict {
    let sound = explanations.iter().all(candidates::Merged::only_as_drawn);
    let warm = warm_rise(measured, drawn, cable_ohm);
    match (drawn.meets(measured.low(), measured.high()), warm) {
        (true, _) if sound => Verdict::AsDrawn,
        (true, _) => Verdict::AsDrawnOrOther,
        (false, Some(rise_k)) if sound => Verdict::WarmCoils { rise_k },
        (false, _) if explanations.is_empty() => Verdict::Unexplained,
        (false, _) => Verdict::NotAsDrawn,
    }
}

/// The least rise that lifts the top of the cold band up to the reading.
fn warm_rise(measured: &reading::Measured, drawn: Band, cable_ohm: f64) -> Option<f64> {
    let top = drawn.high?.ohms() - cable_ohm;
    let rise = ((measured.low() - cable_ohm) / top - 1.0) / COPPER_PER_KELVIN;
    (rise > 0.0 && rise <= WARMEST_RISE_K).then_some(rise)
}

/// A coil's resistance at another temperature than the one it was read at, by copper's coefficient.
///
/// # Errors
/// [`ModelError::OutOfRange`] for temperatures outside −60 °C to 250 °C.
pub fn coil_at(dc: Resistance, read_at: Temperature, wanted: Temperature) -> Result<Resistance, ModelError> {
    let from = within("coil temperature in °C", read_at.celsius(), -60.0, 250.0)?;
    let to = within("coil temperature in °C", wanted.celsius(), -60.0, 250.0)?;
    let factor = |celsius: f64| 1.0 + COPPER_PER_KELVIN * (celsius - 20.0);
    Ok(dc * (factor(to) / factor(from)))
}
