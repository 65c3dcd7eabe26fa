//! The states a line may be in, merged by reading and ranked.
use super::circuit::Node;
use super::faults::{Fault, Operator, SingleFault, single_faults};
use super::probes::Proof;
use super::reading::{Band, Measured, overlap};
use super::{COPPER_PER_KELVIN, MAX_STATES_LISTED, WARMEST_RISE_K};
use crate::model::electrical::wiring::{CoilId, CoilSet, Tree, balanced};
use crate::units::Resistance;

/// A state of the line.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum State {
    /// As drawn, cold.
    AsDrawn,
    /// As drawn, coils up to [`WARMEST_RISE_K`] above room temperature.
    Warm,
    /// One fault or two.
    Faulty(Vec<Fault>),
    /// One fault or two, coils up to [`WARMEST_RISE_K`] above room temperature.
    WarmFaulty(Vec<Fault>),
    /// All coils sound, but joined as another wiring. Where that has the same load and equal shares, it does no harm.
    OtherWiring {
        /// The wiring found instead.
        tree: Tree,
        /// Whether load and shares are those of the wiring as drawn.
        harmless: bool,
    },
}

impl State {
    /// Whether its coils are warm.
    #[must_use]
    pub const fn is_warm(&self) -> bool {
        matches!(self, Self::Warm | Self::WarmFaulty(_))
    }
}

/// States with one and the same reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// The reading they should give, cold, or the middle of the band of warm coils; `None` for an open line.
    pub expected: Option<Resistance>,
    /// Its band by the coils' tolerance, and by their temperature where they are warm.
    pub band: Band,
    /// The states, commonest first, at most [`MAX_STATES_LISTED`].
    pub states: Vec<State>,
    /// How many states there are in all.
    pub state_count: usize,
    /// Whether band and reading meet.
    pub explains: bool,
    /// Share of the belief among all that explains the reading, 0 to 1. How common each fault is enters by common
    /// practice, no source: use it for the order, not as a probability.
    pub likelihood: f64,
}

/// How one state is made; numbers index the list of single faults.
#[derive(Clone, Copy, Debug)]
enum Origin {
    Drawn,
    Warm,
    One(usize),
    WarmOne(usize),
    Two(usize, usize),
    WarmTwo(usize, usize),
    Other(usize),
}

impl Origin {
    const fn is_warm(self) -> bool {
        matches!(self, Self::Warm | Self::WarmOne(_) | Self::WarmTwo(..))
    }
}

/// A state's readings in ohms, infinite when open.
#[derive(Clone, Copy, Debug)]
struct Outcome {
    origin: Origin,
    expected: f64,
    low: f64,
    high: f64,
    prior: f64,
}

/// A state with the circuit it makes.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub(super) state: State,
    pub(super) node: Node,
    pub(super) prior: f64,
    single: bool,
}

/// [`Candidate`] before it is shown.
#[derive(Clone, Debug)]
pub(super) struct Merged {
    expected: f64,
    low: f64,
    high: f64,
    pub(super) entries: Vec<Entry>,
    state_count: usize,
    weight: f64,
    likelihood: f64,
}

/// Two faults at once are this much rarer than their product says, so that no pair outranks a single fault.
const PAIR_FACTOR: f64 = 0.02;
/// Another balanced wiring; the one with every group joined the other way is the commonest mix-up.
const OTHER_WIRING_PRIOR: f64 = 0.03;
const DUAL_WIRING_PRIOR: f64 = 0.10;
const WARM_PRIOR: f64 = 0.20;
/// Warm coils beside a fault or two: so much rarer that none outranks the cold faults that explain the reading as well.
const WARM_FAULT_FACTOR: f64 = 0.004;

/// Reads a coil of the set at an end of its tolerance (−1, 0, +1).
pub(super) fn coil_ohm(coils: &CoilSet, end: f64) -> impl Fn(CoilId) -> f64 + '_ {
    move |id| coils.get(id).map_or(0.0, |coil| coil.dc.ohms() * (1.0 + end * coil.tolerance_percent / 100.0))
}

/// The band of the wiring as drawn.
pub(super) fn band(tree: &Tree, coils: &CoilSet, cable_ohm: f64) -> Band {
    let node = Node::build(tree, &[]);
    let at = |end| node.resistance(&coil_ohm(coils, end)) + cable_ohm;
    Band::new(at(-1.0), at(1.0))
}

/// Every state of the tree that the proofs leave open, merged by reading, by rising reading.
pub(super) fn pool(tree: &Tree, coils: &CoilSet, cable_ohm: f64, proofs: &[Proof]) -> Vec<Merged> {
    let singles = single_faults(tree);
    let others = other_wirings(tree, coils);
    let source = Source { tree, coils, cable_ohm, proofs, singles: &singles, others: &others };
    // What is warm has a band instead of a reading, and must not part cold states that read alike.
    let (warm, cold): (Vec<Outcome>, Vec<Outcome>) =
        source.outcomes().into_iter().partition(|outcome| outcome.origin.is_warm());
    let mut merged = source.merged(cold);
    merged.extend(source.merged(warm));
    crate::small::sort_by_number(&mut merged, |candidate| candidate.expected);
    merged
}

/// The states that the proofs leave open and that meet the reading, commonest first, each with what it should read.
pub(super) fn meeting(
    tree: &Tree,
    coils: &CoilSet,
    cable_ohm: f64,
    proofs: &[Proof],
    measured: &Measured,
) -> Vec<(State, Band)> {
    let singles = single_faults(tree);
    let others = other_wirings(tree, coils);
    let source = Source { tree, coils, cable_ohm, proofs, singles: &singles, others: &others };
    let mut found = source.outcomes();
    found.retain(|outcome| overlap(outcome.low, outcome.high, measured.low(), measured.high()));
    crate::small::sort_by_number(&mut found, |outcome| -outcome.prior);
    found.iter().map(|outcome| (source.state(outcome.origin), Band::new(outcome.low, outcome.high))).collect()
}

/// Every state one by one with its circuit and its expected reading in ohms, infinite when open.
pub(super) fn each(tree: &Tree, coils: &CoilSet, cable_ohm: f64) -> Vec<(State, Node, f64)> {
    let singles = single_faults(tree);
    let others = other_wirings(tree, coils);
    let source = Source { tree, coils, cable_ohm, proofs: &[], singles: &singles, others: &others };
    let state =
        |outcome: &Outcome| (source.state(outcome.origin), source.node(outcome.origin), outcome.expected);
    source.outcomes().iter().map(state).collect()
}

fn same_reading(a: &Outcome, b: &Outcome) -> bool {
    // An open line is like an open line and like nothing else: infinities have no difference.
    let close = |a: f64, b: f64| a == b || (b.is_finite() && (a - b).abs() <= 1e-9 * b.abs());
    // Warm coils: the whole band.
    let band = || !a.origin.is_warm() || (close(a.low, b.low) && close(a.high, b.high));
    close(a.expected, b.expected) && band()
}

/// The balanced wirings other than the one drawn, and the one with every group joined the other way.
fn other_wirings(tree: &Tree, coils: &CoilSet) -> Vec<(Tree, f64)> {
    let drawn = tree.canonical();
    let mut found = Vec::new();
    let dual = dual(&drawn);
    // A single group is already covered by its own swap.
    if drawn.members().is_some_and(|(_, members)| members.iter().any(|m| m.members().is_some())) {
        found.push((dual.clone(), DUAL_WIRING_PRIOR));
    }
    let counts = (u8::try_from(coils.driver_count()), coils.coils_per_driver().map(u8::try_from));
    if let (true, (Ok(drivers), Some(Ok(per_driver)))) = (tree.unused(coils).is_empty(), counts) {
        let wirings = balanced(drivers, per_driver).unwrap_or_default().into_iter().map(|wiring| wiring.tree);
        found.extend(
            wirings
                .filter(|other| *other != drawn && *other != dual)
                .map(|other| (other, OTHER_WIRING_PRIOR)),
        );
    }
    found
}

fn dual(tree: &Tree) -> Tree {
    match tree.members() {
        None => tree.clone(),
        Some((join, members)) => Tree::group(join.other(), members.iter().map(dual).collect()),
    }
}

struct Source<'a> {
    tree: &'a Tree,
    coils: &'a CoilSet,
    cable_ohm: f64,
    proofs: &'a [Proof],
    singles: &'a [SingleFault],
    others: &'a [(Tree, f64)],
}

impl Source<'_> {
    fn outcomes(&self) -> Vec<Outcome> {
        let mut found = Vec::new();
        self.add(&mut found, (Origin::Drawn, 1.0), Some((Origin::Warm, WARM_PRIOR)));
        for (i, (_, prior)) in self.others.iter().enumerate() {
            self.add(&mut found, (Origin::Other(i), *prior), None);
        }
        for (i, first) in self.singles.iter().enumerate() {
            let warm = (Origin::WarmOne(i), first.prior * WARM_FAULT_FACTOR);
            self.add(&mut found, (Origin::One(i), first.prior), Some(warm));
            for (j, second) in self.singles.iter().enumerate().skip(i + 1) {
                if first.operator.goes_with(second.operator) {
                    let prior = first.prior * second.prior * PAIR_FACTOR;
                    let warm = (Origin::WarmTwo(i, j), prior * WARM_FAULT_FACTOR);
                    self.add(&mut found, (Origin::Two(i, j), prior), Some(warm));
                }
            }
        }
        found
    }

    /// One circuit, cold and, where that is a state too, warm.
    fn add(&self, found: &mut Vec<Outcome>, cold: (Origin, f64), warm: Option<(Origin, f64)>) {
        let node = self.node(cold.0);
        let at = |end| node.resistance(&coil_ohm(self.coils, end)) + self.cable_ohm;
        let reads = [at(0.0), at(-1.0), at(1.0)];
        found.extend(
            [Some(cold), warm].into_iter().flatten().filter_map(|one| self.outcome(&node, reads, one)),
        );
    }

    /// `None` where a further reading speaks against the state, or where its coils' warmth changes nothing.
    fn outcome(&self, node: &Node, reads: [f64; 3], (origin, prior): (Origin, f64)) -> Option<Outcome> {
        let warm = origin.is_warm();
        let [mut expected, mut low, mut high] = reads;
        if warm {
            if !high.is_finite() || high <= self.cable_ohm {
                return None;
            }
            // From above the top of the cold band upwards, so that a cold line is not also called warm.
            let top = high;
            high += (high - self.cable_ohm) * COPPER_PER_KELVIN * WARMEST_RISE_K;
            expected = 0.5 * (top + high);
            low = top + 3e-9 * (1.0 + top);
        }
        if !self.proofs.iter().all(|proof| proof.allows(node, warm, self.coils, self.cable_ohm)) {
            return None;
        }
        if self.operators(origin).contains(&Operator::BridgeLine) {
            // The bridge may sit anywhere along the cable.
            low = 0.0;
        }
        Some(Outcome { origin, expected, low, high, prior })
    }

    fn operators(&self, origin: Origin) -> Vec<Operator> {
        let operator = |index: usize| self.singles.get(index).map(|single| single.operator);
        match origin {
            Origin::Drawn | Origin::Warm | Origin::Other(_) => Vec::new(),
            Origin::One(i) | Origin::WarmOne(i) => operator(i).into_iter().collect(),
            Origin::Two(i, j) | Origin::WarmTwo(i, j) => operator(i).into_iter().chain(operator(j)).collect(),
        }
    }

    fn node(&self, origin: Origin) -> Node {
        let tree = match origin {
            Origin::Other(i) => self.others.get(i).map_or(self.tree, |(tree, _)| tree),
            _ => self.tree,
        };
        Node::build(tree, &self.operators(origin))
    }

    fn state(&self, origin: Origin) -> State {
        let fault = |index: usize| self.singles.get(index).map(|single| single.fault.clone());
        match origin {
            Origin::Drawn => State::AsDrawn,
            Origin::Warm => State::Warm,
            Origin::One(i) => State::Faulty(fault(i).into_iter().collect()),
            Origin::WarmOne(i) => State::WarmFaulty(fault(i).into_iter().collect()),
            Origin::Two(i, j) => State::Faulty(fault(i).into_iter().chain(fault(j)).collect()),
            Origin::WarmTwo(i, j) => State::WarmFaulty(fault(i).into_iter().chain(fault(j)).collect()),
            Origin::Other(i) => self.others.get(i).map_or(State::AsDrawn, |(tree, _)| State::OtherWiring {
                tree: tree.clone(),
                harmless: tree.balance().is_some() && tree.balance() == self.tree.balance(),
            }),
        }
    }

    /// Outcomes of equal reading as one candidate each, by rising reading.
    fn merged(&self, mut outcomes: Vec<Outcome>) -> Vec<Merged> {
        crate::small::sort_by_number(&mut outcomes, |outcome| outcome.expected);
        let mut merged = Vec::new();
        let mut run: Vec<Outcome> = Vec::new();
        for outcome in outcomes {
            if run.last().is_some_and(|last| !same_reading(last, &outcome)) {
                merged.push(self.merge(&run));
                run.clear();
            }
            run.push(outcome);
        }
        if !run.is_empty() {
            merged.push(self.merge(&run));
        }
        merged
    }

    /// Joins outcomes of equal reading; `run` is never empty.
    fn merge(&self, run: &[Outcome]) -> Merged {
        let mut by_prior = run.to_vec();
        crate::small::sort_by_number(&mut by_prior, |entry| -entry.prior);
        let entry = |outcome: &Outcome| Entry {
            state: self.state(outcome.origin),
            node: self.node(outcome.origin),
            prior: outcome.prior,
            single: !matches!(outcome.origin, Origin::Two(..) | Origin::WarmOne(_) | Origin::WarmTwo(..)),
        };
        Merged {
            expected: run.first().map_or(f64::INFINITY, |outcome| outcome.expected),
            low: run.iter().map(|outcome| outcome.low).fold(f64::INFINITY, f64::min),
            high: run.iter().map(|outcome| outcome.high).fold(0.0, f64::max),
            entries: by_prior.iter().take(MAX_STATES_LISTED).map(entry).collect(),
            state_count: run.len(),
            weight: run.iter().map(|outcome| outcome.prior).sum(),
            likelihood: 0.0,
        }
    }
}

/// The candidates that meet the reading, most likely first, with their shares of the belief.
pub(super) fn explain(pool: &[Merged], measured: &Measured) -> Vec<Merged> {
    let mut found: Vec<Merged> = pool.iter().filter(|candidate| candidate.meets(measured)).cloned().collect();
    for candidate in &mut found {
        candidate.likelihood = candidate.weight * candidate.fit(measured);
    }
    let sum: f64 = found.iter().map(|candidate| candidate.likelihood).sum();
    if sum > 0.0 {
        for candidate in &mut found {
            candidate.likelihood /= sum;
        }
    }
    crate::small::sort_by_number(&mut found, |candidate| -candidate.likelihood);
    found
}

impl Merged {
    fn meets(&self, measured: &Measured) -> bool {
        overlap(self.low, self.high, measured.low(), measured.high())
    }

    /// 1 where the reading is the expected one, falling as a bell to e⁻² where the bands only just meet.
    fn fit(&self, measured: &Measured) -> f64 {
        let off = (measured.ohm - self.expected).abs();
        let reach = 0.5 * (self.high - self.low) + measured.uncertainty_ohm;
        // An open line reads open: no distance to speak of.
        if off.is_finite() && reach.is_finite() && off > 0.0 {
            (-2.0 * (off / reach.max(1e-12)).min(1.0).powi(2)).exp()
        } else {
            1.0
        }
    }

    /// Whether nothing commoner than a double fault, and nothing harmful, stands here beside the wiring as drawn.
    pub(super) fn only_as_drawn(&self) -> bool {
        self.entries.iter().filter(|entry| entry.single).all(|entry| match &entry.state {
            State::AsDrawn | State::Warm => true,
            State::OtherWiring { harmless, .. } => *harmless,
            State::Faulty(_) | State::WarmFaulty(_) => false,
        })
    }

    pub(super) fn likelihood(&self) -> f64 {
        self.likelihood
    }

    pub(super) fn public(&self, measured: &Measured) -> Candidate {
        Candidate {
            expected: self.expected.is_finite().then(|| Resistance::from_ohms(self.expected)),
            band: Band::new(self.low, self.high),
            states: self.entries.iter().map(|entry| entry.state.clone()).collect(),
            state_count: self.state_count,
            explains: self.meets(measured),
            likelihood: self.likelihood,
        }
    }
}
