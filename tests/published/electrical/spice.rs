//! The wirings and their faulty states as netlists, solved by ngspice (Debian package `ngspice`).
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::process::Command;

use kerf_and_coil::model::electrical::meter::{
    Fault, Meter, MeterCheck, ReadAt, Reading, State, every_state, every_state_across,
};
use kerf_and_coil::model::electrical::wiring::{CoilSet, Tree, apart, balanced, irregular};
use kerf_and_coil::units::Resistance;

use super::bench::Bench;
use super::network::Network;
use super::wiring::coil;
use crate::assert_near;

/// Circuits that stand beside one another in one netlist, 1 A through each.
struct Batch {
    text: String,
    plus: Vec<String>,
}

impl Batch {
    fn new() -> Self {
        Self { text: String::from("coil wirings, 1 A through each\n"), plus: Vec::new() }
    }

    /// Adds a circuit; one whose ends are one node reads 0 V without being asked.
    fn add(&mut self, network: &Network) {
        let name = self.plus.len();
        let node = |n: usize| {
            if n == network.minus { "0".to_string() } else { format!("w{name}n{n}") }
        };
        for (id, a, b, ohm) in &network.resistors {
            writeln!(self.text, "R{name}x{}x{} {} {} {ohm}", id.driver, id.coil, node(*a), node(*b)).unwrap();
        }
        // A loose end still needs a way to ground for the matrix: a leak far above any reading.
        let ends = network.resistors.iter().flat_map(|(_, a, b, _)| [*a, *b]).chain([network.plus]);
        for end in ends.filter(|end| *end != network.minus).collect::<BTreeSet<usize>>() {
            writeln!(self.text, "R{name}leak{end} {} 0 1e12", node(end)).unwrap();
        }
        if network.plus != network.minus {
            writeln!(self.text, "I{name} 0 {} DC 1", node(network.plus)).unwrap();
        }
        self.plus.push(node(network.plus));
    }

    fn is_full(&self) -> bool {
        // Larger netlists take ngspice longer than several small ones.
        self.plus.len() >= 400
    }

    /// Ohms of every circuit, as ngspice solves them; an open one reads above a gigaohm.
    fn solve(mut self, tag: &str) -> Vec<f64> {
        self.text.push_str(".options numdgt=10\n.control\nop\n");
        for node in self.plus.iter().filter(|node| *node != "0") {
            writeln!(self.text, "print v({node})").unwrap();
        }
        self.text.push_str("quit\n.endc\n.end\n");
        let path = std::env::temp_dir().join(format!("coil-{tag}-{}.cir", std::process::id()));
        std::fs::write(&path, &self.text).unwrap();
        let output = Command::new("ngspice").arg("-b").arg(&path).output();
        std::fs::remove_file(&path).unwrap();
        let output = output.expect("this check runs ngspice: install the Debian package of that name");
        let text = String::from_utf8_lossy(&output.stdout).to_lowercase();
        let volts: BTreeMap<&str, f64> = text
            .lines()
            .filter_map(|line| {
                let (name, value) = line.trim().strip_prefix("v(")?.split_once(") =")?;
                Some((name, value.trim().parse().ok()?))
            })
            .collect();
        let read = |node: &String| match node.as_str() {
            "0" => 0.0,
            node => *volts
                .get(node)
                .unwrap_or_else(|| panic!("no v({node})\n{}", String::from_utf8_lossy(&output.stderr))),
        };
        self.plus.iter().map(read).collect()
    }
}

/// ngspice prints seven digits or more; every node leaks 1e-12 S.
#[track_caller]
fn assert_same(spice: f64, ohm: Option<f64>, what: &dyn std::fmt::Debug) {
    match ohm {
        None => assert!(spice > 1e9, "{what:?}: ngspice reads {spice} where the line is open"),
        Some(ohm) => {
            assert!((spice - ohm).abs() <= 1e-5 * (ohm + 1e-3), "{what:?}: ngspice {spice}, model {ohm}")
        }
    }
}

// Every wiring that is enumerated for one to eight drivers with one, two or four coils, the irregular ones too.
#[test]
fn ngspice_reads_the_same_dc_resistance() {
    let (mut batches, mut regular) = (vec![Batch::new()], 0);
    let mut expected = Vec::new();
    for drivers in 1..=8 {
        for coils in [1, 2, 4] {
            let set = CoilSet::uniform(drivers, coils, coil(4.0, 3.37, 0.0)).unwrap();
            let beyond = irregular(drivers, coils).unwrap();
            regular += balanced(drivers, coils).unwrap().len();
            for wiring in balanced(drivers, coils).unwrap().into_iter().chain(beyond) {
                if batches.last().is_none_or(Batch::is_full) {
                    batches.push(Batch::new());
                }
                batches
                    .last_mut()
                    .unwrap()
                    .add(&Network::from_connections(&wiring.tree.connections(), |_| 3.37));
                expected.push(wiring.tree.figures(&set).unwrap().dc.ohms());
            }
        }
    }
    // 1 + 2 + 2 + 4 + 2 + 6 + 2 + 8 ordered factorisations, times 1, 2 and 4 for the coils of a driver.
    assert_eq!(regular, 27 * 7);
    let solve = |(number, batch): (usize, Batch)| batch.solve(&format!("wirings-{number}"));
    let solved: Vec<f64> = batches.into_iter().enumerate().flat_map(solve).collect();
    assert_eq!(solved.len(), expected.len());
    for (volts, ohm) in solved.iter().zip(&expected) {
        assert_near(*volts, *ohm, 1e-5 * ohm);
    }
}

// Every single fault and every other wiring of every wiring there is, irregular ones too, for one to eight drivers of one,
// two or four coils (beyond sixteen coils of every sixth, and of hundreds of irregular ones of a dozen); up to four coils every double fault too, and those of a few larger ones. Made on the bench by cutting
// and joining wires.
#[test]
fn ngspice_reads_the_same_in_every_faulty_state() {
    let mut batches = vec![Batch::new()];
    let mut expected = Vec::new();
    for (drivers, coils) in (1..=8).flat_map(|drivers| [1, 2, 4].map(|coils| (drivers, coils))) {
        let set = CoilSet::uniform(drivers, coils, coil(4.0, 3.37, 0.0)).unwrap();
        let count = usize::from(drivers) * usize::from(coils);
        let regular = balanced(drivers, coils).unwrap();
        let beyond = irregular(drivers, coils).unwrap();
        let step = 1 + beyond.len() / 12;
        let all = regular.into_iter().chain(beyond.into_iter().step_by(step));
        for (number, wiring) in all.enumerate() {
            if count > 16 && number % 6 > 0 {
                continue;
            }
            let doubles = count <= 4 || (count <= 8 && number == 0);
            let check = blank(&wiring.tree, &set);
            for (state, ohm) in every_state(&check).unwrap() {
                let Some((tree, faults)) = circuit(&wiring.tree, &state, doubles) else { continue };
                let bench = Bench::new(tree, faults);
                if batches.last().is_none_or(Batch::is_full) {
                    batches.push(Batch::new());
                }
                batches.last_mut().unwrap().add(&bench.network(faults, bench.line, |_| 3.37));
                expected.push((wiring.tree.to_string(), state, ohm.map(Resistance::ohms)));
            }
        }
    }
    assert!(expected.len() > 20_000, "{} states", expected.len());
    solve_and_compare("faults", batches, &expected);
}

/// A check of a wiring by a meter without error.
fn blank(tree: &Tree, coils: &CoilSet) -> MeterCheck {
    MeterCheck {
        tree: tree.clone(),
        coils: coils.clone(),
        reading: Reading::OverRange,
        meter: Meter {
            accuracy_percent: 0.0,
            counts: 0.0,
            count: Resistance::from_ohms(0.01),
            leads: Resistance::from_ohms(0.0),
        },
        read_at: ReadAt::BoxTerminals,
        evidence: Vec::new(),
    }
}

/// The wiring a state is made of, and what is wrong in it; `None` for warm coils, and for two faults where they are not asked for.
fn circuit<'a>(drawn: &'a Tree, state: &'a State, doubles: bool) -> Option<(&'a Tree, &'a [Fault])> {
    match state {
        State::Warm | State::WarmFaulty(_) => None,
        State::Faulty(faults) if faults.len() > 1 && !doubles => None,
        State::AsDrawn => Some((drawn, &[])),
        State::Faulty(faults) => Some((drawn, faults)),
        State::OtherWiring { tree, .. } => Some((tree, &[])),
    }
}

/// Wiring, state, and the model's ohms; `None` for open.
type Told = (String, State, Option<f64>);

#[track_caller]
fn solve_and_compare(tag: &str, batches: Vec<Batch>, expected: &[Told]) {
    let solve = |(number, batch): (usize, Batch)| batch.solve(&format!("{tag}-{number}"));
    let solved: Vec<f64> = batches.into_iter().enumerate().flat_map(solve).collect();
    assert_eq!(solved.len(), expected.len());
    for (volts, (wiring, state, ohm)) in solved.iter().zip(expected) {
        assert_same(*volts, *ohm, &(wiring, state));
    }
}

// Wirings in which a driver's coils sit apart: every one that is listed, as drawn and in every state of a single fault or
// another wiring; those of four coils, and of every sixteenth beyond, in every state of two faults too.
#[test]
fn ngspice_reads_coils_apart_in_every_faulty_state() {
    let mut batches = vec![Batch::new()];
    let (mut expected, mut wirings): (Vec<Told>, usize) = (Vec::new(), 0);
    for (drivers, coils) in [(2, 2), (2, 3), (3, 2), (2, 4), (4, 2)] {
        let set = CoilSet::uniform(drivers, coils, coil(4.0, 3.37, 0.0)).unwrap();
        for (number, wiring) in apart(drivers, coils).unwrap().into_iter().enumerate() {
            wirings += 1;
            let doubles = drivers * coils == 4 || number.is_multiple_of(16);
            for (state, ohm) in every_state(&blank(&wiring.tree, &set)).unwrap() {
                let Some((tree, faults)) = circuit(&wiring.tree, &state, doubles) else { continue };
                let bench = Bench::new(tree, faults);
                if batches.last().is_none_or(Batch::is_full) {
                    batches.push(Batch::new());
                }
                batches.last_mut().unwrap().add(&bench.network(faults, bench.line, |_| 3.37));
                expected.push((wiring.tree.to_string(), state, ohm.map(Resistance::ohms)));
            }
        }
    }
    assert!(wirings > 100 && expected.len() > 10_000, "{wirings} wirings, {} states", expected.len());
    solve_and_compare("apart", batches, &expected);
}

// Across each coil's own terminals, as the guided check asks for it, in every state of every wiring of up to four coils; two
// jumpers missing at once are among them, in regular wirings, in one of uneven branches and in those with coils apart.
#[test]
fn ngspice_reads_the_same_across_every_coil() {
    let uneven = |text: &str| (text.parse::<Tree>().unwrap(), 2, 2);
    let mut wirings = vec![uneven("1A-(1B|2A)"), uneven("1A|((1B|2A)-2B)")];
    for (drivers, coils) in [(1, 2), (3, 1), (1, 4), (2, 2)] {
        let lists = [balanced(drivers, coils), apart(drivers, coils)];
        let trees = lists.into_iter().flat_map(Result::unwrap).map(|wiring| (wiring.tree, drivers, coils));
        wirings.extend(trees);
    }
    let mut batches = vec![Batch::new()];
    let mut expected: Vec<Told> = Vec::new();
    for (drawn, drivers, coils) in &wirings {
        let set = CoilSet::uniform(*drivers, *coils, coil(4.0, 3.37, 0.0)).unwrap();
        for id in drawn.coils() {
            for (state, ohm) in every_state_across(&blank(drawn, &set), id).unwrap() {
                let Some((tree, faults)) = circuit(drawn, &state, true) else { continue };
                let bench = Bench::new(tree, faults);
                if batches.last().is_none_or(Batch::is_full) {
                    batches.push(Batch::new());
                }
                batches.last_mut().unwrap().add(&bench.network(faults, bench.ends[&id], |_| 3.37));
                expected.push((format!("{drawn} across {id}"), state, ohm.map(Resistance::ohms)));
            }
        }
    }
    let two_jumpers = |faults: &[Fault]| {
        faults.iter().filter(|fault| matches!(fault, Fault::JumperMissing { .. })).count() == 2
    };
    let pairs = expected.iter().filter(|(_, state, _)| matches!(state, State::Faulty(f) if two_jumpers(f)));
    assert!(pairs.count() > 150 && expected.len() > 10_000, "{} states", expected.len());
    solve_and_compare("across", batches, &expected);
}
