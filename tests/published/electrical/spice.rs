//! The wirings and their faulty states as netlists, solved by ngspice (Debian package `ngspice`).
use std::collections::HashMap;
use std::fmt::Write as _;
use std::process::Command;
use std::rc::Rc;

use kerf_and_coil::model::electrical::meter::{
    COPPER_PER_KELVIN, Fault, Meter, MeterCheck, ReadAt, Reading, State, WARMEST_RISE_K, every_state,
    every_state_across,
};
use kerf_and_coil::model::electrical::wiring::{
    BalancedWiring, Coil, CoilId, CoilSet, Tree, apart, balanced, irregular,
};
use kerf_and_coil::units::Resistance;

use super::bench::Bench;
use super::network::Network;
use super::wiring::coil;

/// A circuit by its resistors, nodes numbered as they are met: plus 1, minus 0. Circuits that differ only in the names of
/// nodes and coils are one.
type Circuit = Vec<(usize, usize, u64)>;

/// `None` where both ends are one node: that reads 0 without being asked.
fn circuit_of(network: &Network) -> Option<Circuit> {
    let mut names = HashMap::from([(network.minus, 0), (network.plus, 1)]);
    let mut name = |node: usize| {
        let next = names.len();
        *names.entry(node).or_insert(next)
    };
    let resistors =
        network.resistors.iter().map(|(_, a, b, ohm)| (name(*a), name(*b), ohm.to_bits())).collect();
    (network.plus != network.minus).then_some(resistors)
}

/// Circuits in one netlist; larger ones take ngspice longer than several small ones.
const IN_A_NETLIST: usize = 400;

/// Ohms of every circuit, as ngspice solves them with 1 A through each; an open one reads above a gigaohm.
fn solve(tag: &str, circuits: &[Circuit]) -> Vec<f64> {
    let mut text = String::from("coil wirings, 1 A through each\n");
    for (name, circuit) in circuits.iter().enumerate() {
        let node = |n: usize| if n == 0 { "0".to_string() } else { format!("w{name}n{n}") };
        for (number, (a, b, ohm)) in circuit.iter().enumerate() {
            let ohm = f64::from_bits(*ohm);
            writeln!(text, "R{name}x{number} {} {} {ohm}", node(*a), node(*b)).unwrap();
        }
        // What is not joined to minus still needs a way there for the matrix: a leak far above any reading.
        for end in loose(circuit) {
            writeln!(text, "R{name}leak{end} {} 0 1e12", node(end)).unwrap();
        }
        writeln!(text, "I{name} 0 {} DC 1", node(1)).unwrap();
    }
    text.push_str(".op\n.end\n");
    let base = std::env::temp_dir().join(format!("coil-{tag}-{}", std::process::id()));
    let (netlist, raw) = (base.with_extension("cir"), base.with_extension("raw"));
    std::fs::write(&netlist, &text).unwrap();
    let output = Command::new("ngspice").arg("-b").arg("-r").arg(&raw).arg(&netlist).output();
    let output = output.expect("this check runs ngspice: install the Debian package of that name");
    let bytes = std::fs::read(&raw).unwrap_or_else(|_| panic!("{}", String::from_utf8_lossy(&output.stderr)));
    std::fs::remove_file(&raw).unwrap();
    let volts = voltages(&bytes).unwrap_or_else(|| panic!("{}", String::from_utf8_lossy(&output.stderr)));
    std::fs::remove_file(&netlist).unwrap();
    (0..circuits.len()).map(|name| volts[&format!("v(w{name}n1)")]).collect()
}

/// One node of every part of the circuit that hangs together without minus.
fn loose(circuit: &Circuit) -> Vec<usize> {
    // Each node's part by the lowest node met in it.
    let count = circuit.iter().map(|(a, b, _)| a.max(b) + 1).max().unwrap_or(0).max(2);
    let mut parts: Vec<usize> = (0..count).collect();
    for (a, b, _) in circuit {
        let (keep, gone) = (parts[*a].min(parts[*b]), parts[*a].max(parts[*b]));
        parts.iter_mut().filter(|part| **part == gone).for_each(|part| *part = keep);
    }
    (1..count).filter(|node| parts[*node] == *node).collect()
}

/// A raw file of one point: names by lines `number, name, kind`, then as many numbers of eight bytes.
fn voltages(bytes: &[u8]) -> Option<HashMap<String, f64>> {
    const MARK: &[u8] = b"Binary:\n";
    let at = bytes.windows(MARK.len()).position(|window| window == MARK)?;
    let head = String::from_utf8_lossy(&bytes[..at]).to_lowercase();
    let names = head.lines().skip_while(|line| *line != "variables:").skip(1);
    let names = names.filter_map(|line| line.split_whitespace().nth(1));
    let numbers = bytes[at + MARK.len()..].chunks_exact(8);
    Some(
        names
            .zip(numbers)
            .map(|(name, eight)| (name.into(), f64::from_le_bytes(eight.try_into().unwrap())))
            .collect(),
    )
}

/// A circuit, the wiring it is of, its state, and the model's ohms; `None` for open.
type Told = (Option<Circuit>, Rc<str>, State, Option<f64>);

/// Readings told by the model that wait for ngspice's.
struct Waiting {
    tag: &'static str,
    waiting: Vec<Told>,
    /// States read so far, and circuits solved for them.
    states: usize,
    circuits: usize,
}

impl Waiting {
    fn new(tag: &'static str) -> Self {
        Self { tag, waiting: Vec::new(), states: 0, circuits: 0 }
    }

    fn add(&mut self, network: &Network, wiring: &Rc<str>, state: State, ohm: Option<Resistance>) {
        self.waiting.push((circuit_of(network), wiring.clone(), state, ohm.map(Resistance::ohms)));
        if self.waiting.len() >= 4 * IN_A_NETLIST {
            self.read();
        }
    }

    /// Solves what waits, each circuit once, and compares.
    fn read(&mut self) {
        let mut known: HashMap<&Circuit, usize> = HashMap::new();
        let mut distinct: Vec<Circuit> = Vec::new();
        for circuit in self.waiting.iter().filter_map(|(circuit, ..)| circuit.as_ref()) {
            known.entry(circuit).or_insert_with(|| {
                distinct.push(circuit.clone());
                distinct.len() - 1
            });
        }
        let solved: Vec<f64> = distinct.chunks(IN_A_NETLIST).flat_map(|some| solve(self.tag, some)).collect();
        for (circuit, wiring, state, told) in &self.waiting {
            let read = circuit.as_ref().map_or(0.0, |circuit| solved[known[circuit]]);
            match told {
                None => {
                    assert!(read > 1e9, "{wiring}, {state:?}: ngspice reads {read} where the line is open")
                }
                Some(ohm) => assert!(
                    (read - ohm).abs() <= 1e-8 * (ohm + 1e-3),
                    "{wiring}, {state:?}: ngspice {read}, model {ohm}"
                ),
            }
        }
        self.states += self.waiting.len();
        self.circuits += solved.len();
        self.waiting.clear();
    }
}

/// Every coil another resistance, so that no two are mistaken for one another.
fn ohm_of(id: CoilId) -> f64 {
    3.37 * (1.0 + 0.011 * f64::from(id.driver * 4 + id.coil))
}

fn coils(drivers: u8, coils: u8) -> CoilSet {
    let one = |driver, coil_of: u8| -> Coil { coil(4.0, ohm_of(CoilId { driver, coil: coil_of }), 0.0) };
    CoilSet::new((0..drivers).map(|driver| (0..coils).map(|c| one(driver, c)).collect()).collect()).unwrap()
}

/// The wiring a state is made of, what is wrong in it, and how much its coils' resistance has risen: warm states are told by
/// the middle of their band, 40 K.
fn made_of<'a>(drawn: &'a Tree, state: &'a State) -> (&'a Tree, &'a [Fault], f64) {
    let heat = if state.is_warm() { 1.0 + COPPER_PER_KELVIN * 0.5 * WARMEST_RISE_K } else { 1.0 };
    match state {
        State::AsDrawn | State::Warm => (drawn, &[], heat),
        State::Faulty(faults) | State::WarmFaulty(faults) => (drawn, faults, heat),
        State::OtherWiring { tree, .. } => (tree, &[], heat),
    }
}

/// Whether a state is one of two faults.
fn is_double(state: &State) -> bool {
    matches!(state, State::Faulty(faults) | State::WarmFaulty(faults) if faults.len() > 1)
}

/// Every state of a wiring, of those with two faults every so many.
fn read_states(waiting: &mut Waiting, drawn: &Tree, set: &CoilSet, every_double: usize) {
    let name: Rc<str> = drawn.to_string().into();
    let mut doubles = 0;
    for (state, told) in every_state(&blank(drawn, set)).unwrap() {
        if is_double(&state) {
            doubles += 1;
            if doubles % every_double > 0 {
                continue;
            }
        }
        let (tree, faults, heat) = made_of(drawn, &state);
        let bench = Bench::new(tree, faults);
        let network = bench.network(faults, bench.line, |id| heat * ohm_of(id));
        waiting.add(&network, &name, state, told);
    }
}

// What is read live. One to eight drivers with one, two or four coils have 7131 wirings that are listed: 189 regular ones, 1348
// irregular ones, 5594 with a driver's coils apart. Their states, most of them two faults at once in 24 coils and more, are some
// 40 million: at 10 000 a second more than an hour. So:
//
// * every wiring as drawn;
// * up to eight coils every state of every wiring: as drawn, one fault, two faults, each cold and warm, and every other wiring
//   found instead;
// * ten and twelve coils the same of every regular and irregular wiring, and of about eight with coils apart;
// * beyond, every state of one fault, cold and warm, of every regular wiring (beyond sixteen coils of every third), of about
//   eight irregular ones and eight with coils apart; of two faults every 16th state, beyond sixteen coils every 128th.
//
// Not read by ngspice: the other states of more than twelve coils. Each is the same operators on a larger tree, and trees of
// ten coils in any order are held to a nodal solution (`figures_equal_a_nodal_solution`).

// Every wiring that is listed.
#[test]
fn ngspice_reads_the_same_dc_resistance() {
    let (mut waiting, mut regular) = (Waiting::new("wirings"), 0);
    for drivers in 1..=8 {
        for per_driver in [1, 2, 4] {
            let set = coils(drivers, per_driver);
            regular += balanced(drivers, per_driver).unwrap().len();
            let lists = [balanced, irregular, apart].map(|list| list(drivers, per_driver).unwrap());
            for wiring in lists.concat() {
                let network = Network::from_connections(&wiring.tree.connections(), ohm_of);
                let told = wiring.tree.figures(&set).unwrap().dc;
                waiting.add(&network, &wiring.tree.to_string().into(), State::AsDrawn, Some(told));
            }
        }
    }
    waiting.read();
    // 1 + 2 + 2 + 4 + 2 + 6 + 2 + 8 ordered factorisations, times 1, 2 and 4 for the coils of a driver.
    assert_eq!(regular, 27 * 7);
    // Those with a driver's coils together by recursion in Python, 1537; Pólya's counts less those of up to fourteen coils, and
    // the rows of divisions beyond.
    assert_eq!(waiting.states, 7131);
}

// Every state of every wiring of up to eight coils that is listed, regular and irregular: cold and warm, one fault and two,
// other wirings. Made on the bench by cutting and joining wires.
#[test]
fn ngspice_reads_the_same_in_every_state_of_up_to_eight_coils() {
    let mut waiting = Waiting::new("eight");
    for (drivers, per_driver) in sizes(1, 8) {
        let lists = [balanced, irregular].map(|list| list(drivers, per_driver).unwrap());
        for wiring in lists.concat() {
            read_states(&mut waiting, &wiring.tree, &coils(drivers, per_driver), 1);
        }
    }
    waiting.read();
    assert!(waiting.states > 80_000, "{} states", waiting.states);
}

// The same of up to eight coils in which a driver's coils sit apart.
#[test]
fn ngspice_reads_the_same_in_every_state_of_coils_apart() {
    let mut waiting = Waiting::new("apart");
    for (drivers, per_driver) in [(2, 2), (2, 3), (3, 2), (2, 4), (4, 2)] {
        for wiring in apart(drivers, per_driver).unwrap() {
            read_states(&mut waiting, &wiring.tree, &coils(drivers, per_driver), 1);
        }
    }
    waiting.read();
    assert!(waiting.states > 200_000, "{} states", waiting.states);
}

// Ten to thirty-two coils: every state of ten and twelve, a part of the others, as said above.
#[test]
fn ngspice_reads_the_same_in_faulty_states_of_more_coils() {
    let mut waiting = Waiting::new("more");
    for (drivers, per_driver) in sizes(9, 32) {
        let (every_wiring, every_double) = match drivers * per_driver {
            ..=12 => (1, 1),
            13..=16 => (1, 16),
            _ => (3, 128),
        };
        let set = coils(drivers, per_driver);
        let few = |list: Vec<BalancedWiring>, most: usize| {
            let step = 1 + list.len() / most;
            list.into_iter().step_by(step)
        };
        let most = if every_double == 1 { usize::MAX } else { 8 };
        let wirings = balanced(drivers, per_driver).unwrap().into_iter().step_by(every_wiring);
        let irregular = irregular(drivers, per_driver).unwrap();
        let apart = apart(drivers, per_driver).unwrap();
        for wiring in wirings.chain(few(irregular, most)).chain(few(apart, 8)) {
            read_states(&mut waiting, &wiring.tree, &set, every_double);
        }
    }
    waiting.read();
    assert!(waiting.states > 350_000, "{} states", waiting.states);
}

/// Drivers and coils of each, so many coils in all.
fn sizes(least: u8, most: u8) -> impl Iterator<Item = (u8, u8)> {
    let all = (1..=8).flat_map(|drivers| [1, 2, 4].map(|coils| (drivers, coils)));
    all.filter(move |(drivers, coils)| (least..=most).contains(&(drivers * coils)))
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
    let mut waiting = Waiting::new("across");
    let (mut pairs, mut read) = (0, 0);
    for (drawn, drivers, per_driver) in &wirings {
        let set = coils(*drivers, *per_driver);
        for id in drawn.coils() {
            let name: Rc<str> = format!("{drawn} across {id}").into();
            for (state, told) in every_state_across(&blank(drawn, &set), id).unwrap() {
                // All are told cold here.
                let (tree, faults, _) = made_of(drawn, &state);
                let bench = Bench::new(tree, faults);
                let jumpers = faults.iter().filter(|fault| matches!(fault, Fault::JumperMissing { .. }));
                pairs += usize::from(!state.is_warm() && jumpers.count() == 2);
                read += 1;
                waiting.add(&bench.network(faults, bench.ends[&id], ohm_of), &name, state.clone(), told);
            }
        }
    }
    waiting.read();
    assert!(pairs > 150 && read > 10_000, "{pairs} of {read} states");
}
