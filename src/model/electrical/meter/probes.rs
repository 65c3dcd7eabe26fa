//! Further places to measure: what a reading there proves, and which place best tells the remaining states apart.
use super::candidates::{Entry, Merged, State, coil_ohm};
use super::circuit::Node;
use super::reading::{Band, Measured, ReadAt, overlap};
use super::{COPPER_PER_KELVIN, MeterCheck, WARMEST_RISE_K};
use crate::model::electrical::wiring::{CoilId, CoilSet};
use crate::units::Resistance;

/// A place to measure, amplifier unplugged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Probe {
    /// Across one coil's plus and minus, everything else left in place.
    AcrossCoil(CoilId),
    /// At the box terminals, the cable pulled off.
    BoxTerminals,
    /// At one coil, taken off the wiring.
    CoilAlone(CoilId),
}

/// A further reading, as the band it may stand for in ohms.
#[derive(Clone, Copy, Debug)]
pub(super) struct Proof {
    pub(super) probe: Probe,
    low: f64,
    high: f64,
}

impl Proof {
    pub(super) fn new(probe: Probe, measured: &Measured) -> Self {
        Self { probe, low: measured.low(), high: measured.high() }
    }

    /// Whether a line in this state may read so at the probe.
    pub(super) fn allows(&self, node: &Node, warm: bool, coils: &CoilSet, cable_ohm: f64) -> bool {
        let (low, high) = (coil_ohm(coils, -1.0), coil_ohm(coils, 1.0));
        let heat = if warm { 1.0 + COPPER_PER_KELVIN * WARMEST_RISE_K } else { 1.0 };
        let meets = |from: f64, to: f64| overlap(from, to * heat, self.low, self.high);
        match self.probe {
            Probe::AcrossCoil(coil) => {
                let least = node.across(coil, &low, f64::INFINITY);
                // A touch of plus and minus may sit anywhere along the cable, which then lies across the coils.
                let most = if node.line_touches() {
                    node.behind_line().across(coil, &high, cable_ohm)
                } else {
                    node.across(coil, &high, f64::INFINITY)
                };
                least.zip(most).is_none_or(|(least, most)| meets(least.min(most), most))
            }
            Probe::CoilAlone(coil) => {
                let ends = node.alone(coil, &low).zip(node.alone(coil, &high));
                ends.is_none_or(|(least, most)| meets(least, most))
            }
            // A fault of the line sits in the cable that is now off, or between the terminals and the coils.
            Probe::BoxTerminals => {
                let behind = node.behind_line();
                meets(behind.resistance(&low), behind.resistance(&high))
                    || meets(node.resistance(&low), node.resistance(&high))
            }
        }
    }

    /// What of the coil's band `[low, high]` in ohms the reading leaves; `None` where it is not of this coil.
    pub(super) fn narrowed(&self, low: f64, high: f64) -> Option<(f64, f64)> {
        overlap(low, high, self.low, self.high)
            .then(|| (low.max(self.low).min(high), high.min(self.high).max(low)))
    }
}

/// A reading at the probe, and the states it would speak for.
#[derive(Clone, Debug, PartialEq)]
pub struct ProbeExpectation {
    /// The reading of the likeliest of the states; `None` for open.
    pub expected: Option<Resistance>,
    /// The band of all of them, coil tolerance and meter included.
    pub band: Band,
    /// The states, likeliest first.
    pub states: Vec<State>,
    /// Their share of the belief, 0 to 1.
    pub likelihood: f64,
}

/// The measurement to make next.
#[derive(Clone, Debug, PartialEq)]
pub struct NextMeasurement {
    /// Where.
    pub probe: Probe,
    /// What it may read, by rising reading: bands that do not touch while the coils are cold.
    pub expectations: Vec<ProbeExpectation>,
}

/// Most states weighed against each other.
const MAX_STATES: usize = 64;

/// One state's reading at a probe.
#[derive(Clone)]
struct Spot<'a> {
    entry: &'a Entry,
    weight: f64,
    expected: f64,
    low: f64,
    /// With the coils at room temperature.
    high_cold: f64,
    high: f64,
}

/// The best next measurement for what explains the reading so far.
pub(super) fn next(input: &MeterCheck, explanations: &[Merged], cable_ohm: f64) -> Option<NextMeasurement> {
    let states = weighed(explanations);
    if states.len() < 2 {
        return None;
    }
    let read = |probe: Probe| input.evidence.iter().any(|evidence| evidence.probe == probe);
    let mut probes: Vec<Probe> = Vec::new();
    if matches!(input.read_at, ReadAt::AmplifierEnd { .. }) {
        probes.push(Probe::BoxTerminals);
    }
    probes.extend(input.tree.coils().into_iter().map(Probe::AcrossCoil));
    probes.extend(input.tree.coils().into_iter().map(Probe::CoilAlone));
    let mut best: Option<(f64, NextMeasurement)> = None;
    for probe in probes.into_iter().filter(|probe| !read(*probe)) {
        let expectations = outcomes(input, probe, &states, cable_ohm);
        if expectations.len() < 2 {
            continue;
        }
        // The chance that two draws from the belief fall into different outcomes; in-place probes come first and win ties.
        let gain = 1.0 - expectations.iter().map(|e| e.likelihood * e.likelihood).sum::<f64>();
        if best.as_ref().is_none_or(|(so_far, _)| gain > so_far + 1e-9) {
            best = Some((gain, NextMeasurement { probe, expectations }));
        }
    }
    best.map(|(_, measurement)| measurement)
}

/// The states still in question, each with its share of the belief.
fn weighed(explanations: &[Merged]) -> Vec<(&Entry, f64)> {
    let mut states: Vec<(&Entry, f64)> = Vec::new();
    for candidate in explanations {
        let whole: f64 = candidate.entries.iter().map(|entry| entry.prior).sum();
        let shares = candidate.entries.iter();
        states.extend(shares.map(|entry| (entry, candidate.likelihood() * entry.prior / whole.max(1e-300))));
    }
    crate::small::sort_by_number(&mut states, |state| -state.1);
    states.truncate(MAX_STATES);
    let sum: f64 = states.iter().map(|(_, weight)| weight).sum();
    if sum > 0.0 {
        states.iter_mut().for_each(|(_, weight)| *weight /= sum);
    }
    states
}

fn outcomes(
    input: &MeterCheck,
    probe: Probe,
    states: &[(&Entry, f64)],
    cable_ohm: f64,
) -> Vec<ProbeExpectation> {
    let mut spots: Vec<Spot> =
        states.iter().map(|(entry, weight)| spot(input, probe, entry, *weight, cable_ohm)).collect();
    crate::small::sort_by_number(&mut spots, |spot| spot.low);
    let mut clusters: Vec<Vec<Spot>> = Vec::new();
    for spot in spots {
        match clusters.last_mut() {
            // Warm coils reach far up: by them everything would touch, and what can be told would seem not to be.
            Some(cluster)
                if cluster.iter().any(|s| overlap(s.low, s.high_cold, spot.low, spot.high_cold)) =>
            {
                cluster.push(spot)
            }
            _ => clusters.push(vec![spot]),
        }
    }
    clusters.into_iter().map(expectation).collect()
}

fn spot<'a>(input: &MeterCheck, probe: Probe, entry: &'a Entry, weight: f64, cable_ohm: f64) -> Spot<'a> {
    let at = |end: f64| reading(&input.coils, probe, entry, end, cable_ohm);
    let (expected, low, high) = (at(0.0), at(-1.0), at(1.0));
    let heat = if entry.state.is_warm() { 1.0 + COPPER_PER_KELVIN * WARMEST_RISE_K } else { 1.0 };
    let off = |ohm: f64| {
        if ohm.is_finite() { input.meter.uncertainty(Resistance::from_ohms(ohm)).ohms() } else { 0.0 }
    };
    let top = |ohm: f64| ohm + off(ohm);
    let low = (low - off(low)).max(0.0);
    Spot { entry, weight, expected, low, high_cold: top(high), high: top(high * heat) }
}

fn reading(coils: &CoilSet, probe: Probe, entry: &Entry, end: f64, cable_ohm: f64) -> f64 {
    let of = coil_ohm(coils, end);
    // The amplifier is unplugged: nothing is joined across the line's far end.
    let found = match probe {
        Probe::AcrossCoil(coil) => entry.node.across(coil, &of, f64::INFINITY),
        Probe::CoilAlone(coil) => entry.node.alone(coil, &of),
        // A fault of the line read from the amplifier's end sits in the cable that is now off.
        Probe::BoxTerminals => Some(entry.node.behind_line().resistance(&of)),
    };
    found.unwrap_or_else(|| entry.node.resistance(&of) + cable_ohm)
}

fn expectation(mut cluster: Vec<Spot>) -> ProbeExpectation {
    crate::small::sort_by_number(&mut cluster, |spot| -spot.weight);
    let low = cluster.iter().map(|s| s.low).fold(f64::INFINITY, f64::min);
    let high = cluster.iter().map(|s| s.high).fold(0.0, f64::max);
    let expected = cluster.first().map_or(f64::INFINITY, |s| s.expected);
    ProbeExpectation {
        expected: expected.is_finite().then(|| Resistance::from_ohms(expected)),
        band: Band::new(low, high),
        likelihood: cluster.iter().map(|s| s.weight).sum(),
        states: cluster.into_iter().map(|s| s.entry.state.clone()).collect(),
    }
}
