//! Every state of every wiring of up to four coils, read with every error a meter may make: the true one is always found.
use std::collections::BTreeMap;

use kerf_and_coil::model::electrical::meter::{
    COPPER_PER_KELVIN, Fault, MAX_STATES_LISTED, Meter, MeterCheck, MeterResult, ReadAt, Reading, State,
    Unseen, Verdict, WARMEST_RISE_K, check, every_explanation, every_state, every_state_across, unseen,
};
use kerf_and_coil::model::electrical::wiring::{CoilId, CoilSet, Tree, balanced};
use kerf_and_coil::units::Resistance;

use super::bench::Bench;
use super::wiring::coil;

/// DC resistance of a coil, Ω, and its tolerance each way.
const DC: f64 = 1.8;
const TOLERANCE: f64 = 0.07;
const LEADS: f64 = 0.3;
/// 1 % and 3 counts of 0.1 Ω, leads of 0.3 Ω.
const METER: Meter = Meter {
    accuracy_percent: 1.0,
    counts: 3.0,
    count: Resistance::from_ohms(0.1),
    leads: Resistance::from_ohms(LEADS),
};
const CABLE: f64 = 0.12;

fn ends() -> [(ReadAt, f64); 2] {
    [(ReadAt::BoxTerminals, 0.0), (ReadAt::AmplifierEnd { cable: Resistance::from_ohms(CABLE) }, CABLE)]
}

fn wirings() -> Vec<(Tree, CoilSet)> {
    let mut found = Vec::new();
    for (drivers, coils) in [(1, 1), (1, 2), (2, 1), (1, 3), (3, 1), (1, 4), (2, 2), (4, 1)] {
        let set = CoilSet::uniform(drivers, coils, coil(2.0, DC, 100.0 * TOLERANCE)).unwrap();
        found.extend(balanced(drivers, coils).unwrap().into_iter().map(|one| (one.tree, set.clone())));
    }
    found
}

fn blank(tree: &Tree, coils: &CoilSet, read_at: ReadAt) -> MeterCheck {
    let (tree, coils) = (tree.clone(), coils.clone());
    MeterCheck { tree, coils, reading: Reading::OverRange, meter: METER, read_at, evidence: Vec::new() }
}

/// What the meter shows for `ohm` between its probes when it is off by `error` of what it may be off by. The shown value
/// counts for the percentage, as in its data sheet.
fn shown(ohm: f64, error: f64) -> Reading {
    if !ohm.is_finite() {
        return Reading::OverRange;
    }
    let with_leads = ohm + LEADS;
    let reads = (with_leads + error * 0.3) / (1.0 - error * 0.01);
    Reading::Shown(Resistance::from_ohms(reads.max(0.0)))
}

/// Coils at the low end of their tolerance, at the high one, and in turns.
fn patterns() -> [fn(CoilId) -> f64; 3] {
    [
        |_| DC * (1.0 - TOLERANCE),
        |_| DC * (1.0 + TOLERANCE),
        |id| if (id.driver + id.coil) % 2 == 0 { DC * (1.0 + TOLERANCE) } else { DC * (1.0 - TOLERANCE) },
    ]
}

/// The circuit of a state, its true reading there.
fn truth(tree: &Tree, state: &State, ohm: impl Fn(CoilId) -> f64) -> f64 {
    let (tree, faults): (&Tree, &[Fault]) = match state {
        State::AsDrawn | State::Warm => (tree, &[]),
        State::Faulty(faults) | State::WarmFaulty(faults) => (tree, faults),
        State::OtherWiring { tree, .. } => (tree, &[]),
    };
    let bench = Bench::new(tree, faults);
    bench.read(faults, bench.line, ohm)
}

/// Whether the state is among what explains the reading: by name, or as one of those that read alike and are too many
/// to be named one by one.
fn is_found(result: &MeterResult, state: &State, cold: Option<Resistance>) -> bool {
    result.explanations.iter().any(|candidate| {
        let alike = match (candidate.expected, cold) {
            (Some(a), Some(b)) => (a.ohms() - b.ohms()).abs() < 1e-6,
            (None, None) => true,
            _ => false,
        };
        candidate.states.contains(state) || (alike && candidate.state_count > MAX_STATES_LISTED)
    })
}

#[test]
fn the_true_state_is_found_in_every_wiring_state_and_error() {
    let (mut states_read, mut checks) = (0, 0);
    for (tree, coils) in wirings() {
        for (read_at, on_line) in ends() {
            let blank = blank(&tree, &coils, read_at);
            let states: Vec<_> =
                every_state(&blank).unwrap().into_iter().filter(|(state, _)| !state.is_warm()).collect();
            for ohm in patterns() {
                // States that read alike are one reading, judged once.
                let mut readings: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
                let truths: Vec<f64> =
                    states.iter().map(|(state, _)| truth(&tree, state, ohm) + on_line).collect();
                for (at, ohms) in truths.iter().enumerate() {
                    let key = if ohms.is_finite() { (ohms * 1e9).round() as i64 } else { i64::MAX };
                    readings.entry(key).or_default().push(at);
                }
                for (alike, error) in readings.values().flat_map(|alike| [-1.0, 0.0, 1.0].map(|e| (alike, e)))
                {
                    let reading = shown(truths[alike[0]], error);
                    let result = check(&MeterCheck { reading, ..blank.clone() }).unwrap();
                    checks += 1;
                    for at in alike {
                        let (state, cold) = &states[*at];
                        assert!(
                            is_found(&result, state, *cold),
                            "{tree}, {read_at:?}: {state:?} ({cold:?}) at {reading:?} among {:?}",
                            result
                                .explanations
                                .iter()
                                .map(|one| (one.expected, one.state_count))
                                .collect::<Vec<_>>()
                        );
                        states_read += 1;
                    }
                    assert_ne!(result.verdict, Verdict::Unexplained);
                    if alike.iter().any(|at| states[*at].0 == State::AsDrawn) {
                        assert!(matches!(result.verdict, Verdict::AsDrawn | Verdict::AsDrawnOrOther));
                    }
                }
            }
        }
    }
    assert!(states_read > 50_000 && checks > 3_000, "{states_read} states in {checks} readings");
}

// Across every coil's own terminals, in every state of two faults too, by nodal equations; two wirings in which one driver's
// coils sit apart are among them.
#[test]
fn every_state_reads_across_every_coil_what_its_circuit_reads() {
    let apart = ["1A-(1B|2A)", "1A|((1B|2A)-2B)"]
        .map(|text| (text.parse::<Tree>().unwrap(), CoilSet::uniform(2, 2, coil(2.0, DC, 0.0)).unwrap()));
    let cold = wirings().into_iter().map(|(tree, coils)| {
        let per = coils.coils_per_driver().unwrap() as u8;
        let drivers = coils.driver_count() as u8;
        (tree, CoilSet::uniform(drivers, per, coil(2.0, DC, 0.0)).unwrap())
    });
    let (mut read, mut two_jumpers) = (0, 0);
    for (tree, coils) in cold.chain(apart) {
        let blank = blank(&tree, &coils, ReadAt::BoxTerminals);
        for id in tree.coils() {
            for (state, ohms) in every_state_across(&blank, id).unwrap() {
                let (wired, faults): (&Tree, &[Fault]) = match &state {
                    State::AsDrawn | State::Warm => (&tree, &[]),
                    State::Faulty(faults) | State::WarmFaulty(faults) => (&tree, faults),
                    State::OtherWiring { tree, .. } => (tree, &[]),
                };
                let bench = Bench::new(wired, faults);
                let truth = bench.read(faults, bench.ends[&id], |_| DC);
                let same = ohms.map_or(truth.is_infinite(), |ohms| (ohms.ohms() - truth).abs() < 1e-9);
                assert!(same, "{tree}, across {id}, {state:?}: {ohms:?}, on the bench {truth}");
                read += 1;
                let jumpers = faults.iter().filter(|fault| matches!(fault, Fault::JumperMissing { .. }));
                two_jumpers += usize::from(jumpers.count() == 2);
            }
        }
    }
    assert!(read > 10_000 && two_jumpers > 150, "{read}, {two_jumpers}");
}

// A touch of plus and minus may sit anywhere along the cable: any part of it may be in the reading.
#[test]
fn a_touch_along_the_cable_is_found_wherever_it_sits() {
    for (tree, coils) in wirings() {
        let blank = blank(&tree, &coils, ends()[1].0);
        for (part, error) in [0.0, 0.3, 1.0].into_iter().flat_map(|part| [-1.0, 0.0, 1.0].map(|e| (part, e)))
        {
            let result = check(&MeterCheck { reading: shown(part * CABLE, error), ..blank.clone() }).unwrap();
            let named = result.explanations.iter().flat_map(|candidate| &candidate.states);
            assert!(
                named.into_iter().any(|state| *state == State::Faulty(vec![Fault::LineShorted])),
                "{tree}"
            );
        }
    }
}

// Warm coils, up to 80 K over the room: as drawn, or warm, is always among the explanations, at both ends of the cable.
#[test]
fn warm_coils_are_always_among_the_explanations() {
    for (tree, coils) in wirings() {
        for (read_at, on_line) in ends() {
            let blank = blank(&tree, &coils, read_at);
            for (ohm, rise) in
                patterns().into_iter().flat_map(|ohm| [5.0, 30.0, WARMEST_RISE_K].map(|k| (ohm, k)))
            {
                let warm = |id: CoilId| ohm(id) * (1.0 + COPPER_PER_KELVIN * rise);
                for error in [-1.0, 0.0, 1.0] {
                    let reading = shown(truth(&tree, &State::AsDrawn, warm) + on_line, error);
                    let result = check(&MeterCheck { reading, ..blank.clone() }).unwrap();
                    let named: Vec<&State> = result.explanations.iter().flat_map(|one| &one.states).collect();
                    assert!(
                        named.contains(&&State::Warm) || named.contains(&&State::AsDrawn),
                        "{tree} at {rise} K, {read_at:?}: {reading:?}, {:?}",
                        result.verdict
                    );
                    assert_ne!(result.verdict, Verdict::Unexplained);
                }
            }
        }
    }
}

// One fault and warm coils at once, each coil as warm as it likes up to 80 K over the room: the fault is always in the list,
// cold or warm, and nothing that explains it as badly as a warm one stands above a cold single fault of the very reading.
#[test]
fn a_fault_with_warm_coils_is_always_among_the_explanations() {
    let mut read = 0;
    for (tree, coils) in wirings() {
        for (read_at, on_line) in ends() {
            let blank = blank(&tree, &coils, read_at);
            let singles = every_state(&blank).unwrap().into_iter().filter_map(|(state, _)| match state {
                State::Faulty(faults) if faults.len() == 1 => faults.into_iter().next(),
                _ => None,
            });
            for fault in singles {
                for (ohm, rise) in
                    patterns().into_iter().flat_map(|ohm| [0.0, 5.0, 40.0, WARMEST_RISE_K].map(|k| (ohm, k)))
                {
                    // The even coils as warm as that, the others half as much.
                    let warm = |id: CoilId| {
                        let part = if (id.driver + id.coil).is_multiple_of(2) { 1.0 } else { 0.5 };
                        ohm(id) * (1.0 + COPPER_PER_KELVIN * rise * part)
                    };
                    let state = State::Faulty(vec![fault.clone()]);
                    for error in [-1.0, 0.0, 1.0] {
                        let reading = shown(truth(&tree, &state, warm) + on_line, error);
                        let asked = MeterCheck { reading, ..blank.clone() };
                        let named = every_explanation(&asked).unwrap();
                        let hot = State::WarmFaulty(vec![fault.clone()]);
                        assert!(
                            named.iter().any(|(found, _)| *found == state || *found == hot),
                            "{tree}, {read_at:?}: {fault:?} at {rise} K, {reading:?}"
                        );
                        assert_ne!(check(&asked).unwrap().verdict, Verdict::Unexplained);
                        read += 1;
                    }
                }
            }
        }
    }
    assert!(read > 10_000, "{read}");
}

// Two faults and warm coils at once, every fifth such pair: always in the list, and below everything that a cold line explains
// as drawn or by one fault.
#[test]
fn two_faults_with_warm_coils_are_among_the_explanations_and_last() {
    let (mut read, mut asked) = (0, 0);
    for (tree, coils) in wirings() {
        for (read_at, on_line) in ends() {
            let blank = blank(&tree, &coils, read_at);
            let pairs = every_state(&blank).unwrap().into_iter().filter_map(|(state, _)| match state {
                State::WarmFaulty(faults) if faults.len() == 2 => Some(faults),
                _ => None,
            });
            // Pairs that read alike are asked once.
            let mut readings: BTreeMap<i64, Vec<Vec<Fault>>> = BTreeMap::new();
            for faults in pairs.step_by(5) {
                for rise in [30.0, WARMEST_RISE_K] {
                    let warm = |id: CoilId| patterns()[2](id) * (1.0 + COPPER_PER_KELVIN * rise);
                    let ohm = truth(&tree, &State::WarmFaulty(faults.clone()), warm) + on_line;
                    readings.entry((ohm * 1e9).round() as i64).or_default().push(faults.clone());
                }
            }
            for (ohm, alike) in readings {
                for error in [-1.0, 1.0] {
                    let asking = MeterCheck { reading: shown(ohm as f64 * 1e-9, error), ..blank.clone() };
                    let named = every_explanation(&asking).unwrap();
                    for faults in &alike {
                        let (cold, hot) = (State::Faulty(faults.clone()), State::WarmFaulty(faults.clone()));
                        assert!(
                            named.iter().any(|(found, _)| *found == cold || *found == hot),
                            "{tree}, {read_at:?}: {faults:?}, {:?}",
                            asking.reading
                        );
                        read += 1;
                    }
                    asked += 1;
                    let found = check(&asking).unwrap().explanations;
                    let is_pair =
                        |state: &State| matches!(state, State::WarmFaulty(faults) if faults.len() > 1);
                    let is_plain = |state: &State| match state {
                        State::AsDrawn => true,
                        State::Faulty(faults) => faults.len() == 1,
                        _ => false,
                    };
                    let pair = found.iter().position(|one| one.states.iter().all(is_pair));
                    let plain = found.iter().rposition(|one| one.states.iter().any(is_plain));
                    assert!(
                        pair.is_none() || plain < pair,
                        "{tree}, {:?}: {plain:?}, {pair:?}",
                        asking.reading
                    );
                }
            }
        }
    }
    assert!(read > 2_000 && asked > 500, "{read} in {asked}");
}

// By hand, two coils of 1.8 Ω ± 7 % in parallel, one open: 1.8 Ω, cold up to 1.926 Ω. Read 2.3 Ω: not the wiring as drawn
// (warm at most 0.963·1.314 = 1.266 Ω), not a coil open and cold, but 1.926·(1 + 0.00393·80) = 2.531 Ω at most warm.
#[test]
fn a_warm_coil_beside_an_open_one_is_named() {
    let coils = CoilSet::uniform(1, 2, coil(2.0, DC, 100.0 * TOLERANCE)).unwrap();
    let tree: Tree = "1A|1B".parse().unwrap();
    let perfect = Meter { accuracy_percent: 0.0, counts: 0.0, leads: Resistance::from_ohms(0.0), ..METER };
    let at = |ohm| {
        let reading = Reading::Shown(Resistance::from_ohms(ohm));
        MeterCheck { reading, meter: perfect, ..blank(&tree, &coils, ReadAt::BoxTerminals) }
    };
    let open = Fault::CoilOpen(CoilId { driver: 0, coil: 1 });
    let result = check(&at(2.3)).unwrap();
    assert_eq!(result.verdict, Verdict::NotAsDrawn);
    let warm = result
        .explanations
        .iter()
        .find(|c| c.states.contains(&State::WarmFaulty(vec![open.clone()])))
        .unwrap();
    assert!((warm.band.low.unwrap().ohms() - 1.8 * 1.07).abs() < 1e-7);
    assert!((warm.band.high.unwrap().ohms() - 1.8 * 1.07 * (1.0 + 0.00393 * 80.0)).abs() < 1e-9);
    assert_eq!(check(&at(2.6)).unwrap().verdict, Verdict::Unexplained);
    // At 1.8 Ω the cold fault stands above every warm one.
    let cold = check(&at(1.8)).unwrap();
    let place = |wanted: &State| cold.explanations.iter().position(|c| c.states.contains(wanted));
    let first = place(&State::Faulty(vec![open])).unwrap();
    let warm = cold.explanations.iter().position(|c| c.states.iter().any(State::is_warm));
    assert!(warm.is_none_or(|warm| first < warm), "{first} {warm:?}");
}

// What is only counted in the candidates is named one by one: the same states, each once.
#[test]
fn the_full_list_names_what_is_counted() {
    let coils = CoilSet::uniform(2, 4, coil(2.0, DC, 100.0 * TOLERANCE)).unwrap();
    let tree: Tree = "(1A-1B-1C-1D)|(2A-2B-2C-2D)".parse().unwrap();
    for reading in [Reading::OverRange, Reading::Shown(Resistance::from_ohms(LEADS + 3.6))] {
        let asked = MeterCheck { reading, ..blank(&tree, &coils, ReadAt::BoxTerminals) };
        let counted: usize = check(&asked).unwrap().explanations.iter().map(|c| c.state_count).sum();
        let named = every_explanation(&asked).unwrap();
        assert_eq!(named.len(), counted, "{reading:?}");
        assert!(named.iter().enumerate().all(|(at, one)| !named[..at].iter().any(|other| other.0 == one.0)));
    }
    let open = MeterCheck { reading: Reading::OverRange, ..blank(&tree, &coils, ReadAt::BoxTerminals) };
    assert!(every_explanation(&open).unwrap().len() > MAX_STATES_LISTED);
}

// A coil with plus and minus exchanged reads like one that is right, in every wiring; it is named as what no reading
// shows, with a test for it.
#[test]
fn reversed_coils_read_alike_and_are_named() {
    for (tree, coils) in wirings() {
        let mistakes = unseen(&tree);
        assert!(mistakes.iter().all(|mistake| !mistake.tests().is_empty()));
        let ids = tree.coils();
        for turned in &ids {
            let bench = Bench::new(&tree, &[]);
            let mut network = bench.network(&[], bench.line, patterns()[2]);
            for (id, a, b, _) in &mut network.resistors {
                if id == turned {
                    std::mem::swap(a, b);
                }
            }
            let right = truth(&tree, &State::AsDrawn, patterns()[2]);
            assert!((network.resistance() - right).abs() < 1e-9);
            assert!(ids.len() == 1 || mistakes.contains(&Unseen::CoilReversed(*turned)), "{tree}: {turned}");
        }
        let reading = shown(truth(&tree, &State::AsDrawn, |_| DC), 0.0);
        let result = check(&MeterCheck { reading, ..blank(&tree, &coils, ReadAt::BoxTerminals) }).unwrap();
        assert_eq!(result.unseen, mistakes);
        assert!(mistakes.contains(&Unseen::LineReversed));
    }
}
