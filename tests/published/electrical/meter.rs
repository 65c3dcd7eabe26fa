//! The meter check: verdicts by hand, every faulted state against a nodal solution, and readings with errors in them.
use kerf_and_coil::model::electrical::meter::{
    Candidate, CoilState, Evidence, Fault, Meter, MeterCheck, MeterResult, Probe, ReadAt, Reading, State,
    Unseen, Verdict, check, check_coil, coil_at, every_state, unseen,
};
use kerf_and_coil::model::electrical::wiring::{CoilId, CoilSet, Tree, balanced};
use kerf_and_coil::units::{Resistance, Temperature};
use proptest::prelude::*;

use super::bench::Bench;
use super::wiring::coil;
use crate::assert_near;

/// Reads to 0.01 Ω without error.
const PERFECT: Meter = Meter {
    accuracy_percent: 0.0,
    counts: 0.0,
    count: Resistance::from_ohms(0.01),
    leads: Resistance::from_ohms(0.0),
};
/// A cheap meter: 0.8 % and 5 counts of 0.1 Ω, leads of 0.3 Ω.
const CHEAP: Meter = Meter {
    accuracy_percent: 0.8,
    counts: 5.0,
    count: Resistance::from_ohms(0.1),
    leads: Resistance::from_ohms(0.3),
};

fn input(text: &str, coils: CoilSet, shown: f64, meter: Meter) -> MeterCheck {
    MeterCheck {
        tree: text.parse().unwrap(),
        coils,
        reading: if shown.is_finite() {
            Reading::Shown(Resistance::from_ohms(shown))
        } else {
            Reading::OverRange
        },
        meter,
        read_at: ReadAt::BoxTerminals,
        evidence: Vec::new(),
    }
}

fn uniform(drivers: u8, coils: u8, dc: f64, tolerance: f64) -> CoilSet {
    CoilSet::uniform(drivers, coils, coil(dc * 1.15, dc, tolerance)).unwrap()
}

fn states(result: &MeterResult) -> Vec<&State> {
    result.explanations.iter().flat_map(|candidate| &candidate.states).collect()
}

fn id(driver: u8, coil: u8) -> CoilId {
    CoilId { driver, coil }
}

// By hand, two coils of 1.8 Ω side by side: 0.9 Ω right, 1.8 Ω one coil missing, 3.6 Ω in series, 0 a short, none an open line.
#[test]
fn two_coils_in_parallel() {
    let at = |shown| check(&input("1A|1B", uniform(1, 2, 1.8, 5.0), shown, PERFECT)).unwrap();
    assert_eq!(at(0.9).verdict, Verdict::AsDrawn);
    assert_eq!(at(0.9).explanations[0].states[0], State::AsDrawn);
    assert_eq!(at(0.9).next, None);
    assert_near(at(0.9).expected.ohms(), 0.9, 1e-12);
    let one_off = at(1.8);
    assert_eq!(one_off.verdict, Verdict::NotAsDrawn);
    let found = states(&one_off);
    for lost in [id(0, 0), id(0, 1)] {
        assert!(found.contains(&&State::Faulty(vec![Fault::CoilOpen(lost)])));
        assert!(found.iter().any(|state| matches!(state, State::Faulty(faults)
            if matches!(&faults[..], [Fault::JumperMissing { cut_off, .. }] if *cut_off == [lost]))));
    }
    // Which of the two: across one coil it reads its 1.8 Ω, across the lost one nothing or the other's.
    let next = one_off.next.unwrap();
    assert!(next.expectations.len() > 1, "{next:?}");
    let series = at(3.6);
    assert!(matches!(series.explanations[0].states[0], State::Faulty(ref faults)
        if matches!(faults[..], [Fault::GroupSwapped { .. }])));
    assert!(states(&at(0.0)).contains(&&State::Faulty(vec![Fault::CoilShorted(id(0, 1))])));
    assert!(states(&at(f64::INFINITY)).contains(&&State::Faulty(vec![Fault::LineOpen])));
    assert_eq!(at(0.5).verdict, Verdict::Unexplained);
    assert_eq!(at(0.5).next, None);
    // The highest reading of a fault is no open line, and what lies above it is not explained by one.
    assert!(!states(&series).contains(&&State::Faulty(vec![Fault::LineOpen])));
    assert_eq!(at(f64::INFINITY).explanations[0].expected, None);
    assert_eq!(at(12.0).verdict, Verdict::Unexplained);
}

// Series of two 1.8 Ω coils reads 3.6 Ω; 1.8 Ω is one coil across itself or shorted; 0.9 Ω is side by side.
#[test]
fn two_coils_in_series() {
    let at = |shown| check(&input("1A-1B", uniform(1, 2, 1.8, 5.0), shown, PERFECT)).unwrap();
    assert_eq!(at(3.6).verdict, Verdict::AsDrawn);
    assert!(states(&at(1.8)).contains(&&State::Faulty(vec![Fault::CoilAcrossItself(id(0, 0))])));
    assert!(matches!(at(0.9).explanations[0].states[0], State::Faulty(ref faults)
        if matches!(faults[..], [Fault::GroupSwapped { .. }])));
    let open = at(f64::INFINITY);
    let next = open.next.unwrap();
    assert!(next.expectations.iter().any(|e| e.expected.is_none()), "one outcome reads open");
}

// 3.6 Ω at 20 °C is 3.6·(1 + 0.00393·50) = 4.307 Ω at 70 °C. A band of 5 % ends at 3.78 Ω, so at least 35.5 K explain it.
#[test]
fn warm_coils_are_told_from_faults() {
    let result = check(&input("1A-1B", uniform(1, 2, 1.8, 5.0), 4.307, PERFECT)).unwrap();
    let Verdict::WarmCoils { rise_k } = result.verdict else { panic!("{:?}", result.verdict) };
    assert_near(rise_k, (4.307 / 3.78 - 1.0) / 0.00393, 1e-6);
    // 80 K over the top of the band is 4.968 Ω: beyond it nothing is warm.
    let hot = check(&input("1A-1B", uniform(1, 2, 1.8, 5.0), 5.0, PERFECT)).unwrap();
    assert_eq!(hot.verdict, Verdict::Unexplained);
    let coil =
        coil_at(Resistance::from_ohms(3.6), Temperature::from_celsius(20.0), Temperature::from_celsius(70.0));
    assert_near(coil.unwrap().ohms(), 4.3074, 1e-4);
}

// Four coils of 3.6 Ω side by side read 0.9 Ω, three read 1.2 Ω: a cheap meter, off by up to 0.61 Ω there, can't tell.
#[test]
fn a_cheap_meter_near_one_ohm_is_honest() {
    let check_input = input("1A|1B|2A|2B", uniform(2, 2, 3.6, 5.0), 1.2, CHEAP);
    let result = check(&check_input).unwrap();
    assert_near(result.measured.unwrap().ohms(), 0.9, 1e-12);
    assert_near(result.uncertainty.ohms(), 0.008 * 1.2 + 0.6, 1e-12);
    assert_eq!(result.verdict, Verdict::AsDrawnOrOther);
    assert!(states(&result).contains(&&State::Faulty(vec![Fault::CoilOpen(id(0, 0))])));
    let exact = check(&input("1A|1B|2A|2B", uniform(2, 2, 3.6, 5.0), 0.9, PERFECT)).unwrap();
    assert_eq!(exact.verdict, Verdict::AsDrawn);
}

// Pairs side by side in series, and pairs in series side by side: the same load and equal shares, so no warning.
#[test]
fn a_wiring_that_does_the_same_is_harmless() {
    let result = check(&input("(1A-1B)|(2A-2B)", uniform(2, 2, 1.8, 5.0), 1.8, PERFECT)).unwrap();
    assert_eq!(result.verdict, Verdict::AsDrawn);
    let other = State::OtherWiring { tree: "(1A|1B)-(2A|2B)".parse().unwrap(), harmless: true };
    assert!(states(&result).contains(&&other));
    let all_parallel = check(&input("(1A-1B)|(2A-2B)", uniform(2, 2, 1.8, 5.0), 0.45, PERFECT)).unwrap();
    let wrong = State::OtherWiring { tree: "1A|1B|2A|2B".parse().unwrap(), harmless: false };
    assert!(states(&all_parallel).contains(&&wrong));
}

// At the amplifier's end the cable's 0.2 Ω comes on top; a short may sit anywhere along it.
#[test]
fn the_cable_is_in_a_reading_from_the_amplifiers_end() {
    let read_at = ReadAt::AmplifierEnd { cable: Resistance::from_ohms(0.2) };
    let at = |shown| {
        check(&MeterCheck { read_at, ..input("1A-1B", uniform(1, 2, 1.8, 0.0), shown, PERFECT) }).unwrap()
    };
    assert_near(at(3.8).expected.ohms(), 3.8, 1e-12);
    assert_eq!(at(3.8).verdict, Verdict::AsDrawn);
    assert!(states(&at(0.07)).contains(&&State::Faulty(vec![Fault::LineShorted])));
    let open = at(f64::INFINITY).next.unwrap();
    let at_box = at(f64::INFINITY);
    assert!(at_box.explanations[0].state_count > 3, "{open:?}");
}

fn shown(ohm: f64) -> Reading {
    if ohm.is_finite() { Reading::Shown(Resistance::from_ohms(ohm)) } else { Reading::OverRange }
}

// By hand, two coils of 1.8 Ω ± 5 %: 1.71 to 1.89 Ω each. Read alone as exactly 1.88 Ω each, their series is 3.76 Ω and
// nothing else; the very same 3.76 Ω is not the 3.42 to 3.44 Ω of two coils read as 1.71 to 1.72 Ω.
#[test]
fn coils_read_by_themselves_narrow_what_the_line_should_read() {
    let alone = |coil, ohm| Evidence { probe: Probe::CoilAlone(id(0, coil)), reading: shown(ohm) };
    let at = |a, b, line| {
        let blank = input("1A-1B", uniform(1, 2, 1.8, 5.0), line, PERFECT);
        check(&MeterCheck { evidence: vec![alone(0, a), alone(1, b)], ..blank }).unwrap()
    };
    let high = at(1.88, 1.88, 3.76);
    assert_near(high.expected.ohms(), 3.76, 1e-9);
    assert_eq!(high.verdict, Verdict::AsDrawn);
    assert!(!matches!(at(1.71, 1.72, 3.76).verdict, Verdict::AsDrawn));
    // A coil read open explains an open line and leaves nothing of "as drawn".
    let open = at(f64::INFINITY, 1.8, f64::INFINITY);
    assert_eq!(open.verdict, Verdict::NotAsDrawn);
    assert!(states(&open).contains(&&State::Faulty(vec![Fault::CoilOpen(id(0, 0))])));
    assert!(!states(&open).contains(&&State::Faulty(vec![Fault::LineOpen])));
    // Both coils sound: an open line is a jumper or the line.
    let jumper = at(1.8, 1.8, f64::INFINITY);
    assert!(
        !states(&jumper)
            .iter()
            .any(|s| matches!(s, State::Faulty(f) if f.contains(&Fault::CoilOpen(id(0, 0)))))
    );
    assert!(states(&jumper).contains(&&State::Faulty(vec![Fault::LineOpen])));
}

// 1.8 Ω ± 5 %: up to 1.89 Ω cold; 2.1 Ω takes (2.1/1.89 − 1)/0.00393 = 28.3 K; 3.6 Ω would take 230 K: another coil.
#[test]
fn a_coil_by_itself_is_judged() {
    let at = |ohm| check_coil(coil(2.0, 1.8, 5.0), shown(ohm), PERFECT).unwrap();
    assert_eq!(at(1.8).state, CoilState::Sound);
    assert_eq!(at(1.75).state, CoilState::Sound);
    let CoilState::Warm { rise_k } = at(2.1).state else { panic!("{:?}", at(2.1)) };
    assert_near(rise_k, 28.27, 0.01);
    assert_eq!(at(3.6).state, CoilState::Other);
    assert_eq!(at(0.9).state, CoilState::Other);
    assert_eq!(at(0.0).state, CoilState::Shorted);
    assert_eq!(at(f64::INFINITY).state, CoilState::Open);
    assert!(
        check_coil(coil(2.0, 1.8, 5.0), Reading::Shown(Resistance::from_ohms(f64::NAN)), PERFECT).is_err()
    );
}

// One jumper of "1A|1B" missing: 1.8 Ω. Across the coil that hangs loose a second reading decides which it is.
#[test]
fn a_second_reading_decides() {
    let blank = input("1A|1B", uniform(1, 2, 1.8, 5.0), 1.8, PERFECT);
    let first = check(&blank).unwrap();
    let next = first.next.unwrap();
    for outcome in next.expectations {
        let evidence = vec![Evidence {
            probe: next.probe,
            reading: outcome.expected.map_or(Reading::OverRange, Reading::Shown),
        }];
        let second = check(&MeterCheck { evidence, ..blank.clone() }).unwrap();
        assert!(states(&second).contains(&&outcome.states[0]), "{outcome:?}");
        let (before, after): (usize, usize) = (
            first.explanations.iter().map(|c| c.state_count).sum(),
            second.explanations.iter().map(|c| c.state_count).sum(),
        );
        assert!(after < before, "{after} of {before}");
        assert!(second.next.is_none_or(|again| again.probe != next.probe), "not the same place again");
    }
}

#[test]
fn what_a_reading_cannot_see_is_listed() {
    let list = unseen(&"1A|1B".parse().unwrap());
    assert_eq!(list, [Unseen::LineReversed, Unseen::CoilReversed(id(0, 0)), Unseen::CoilReversed(id(0, 1))]);
    assert_eq!(unseen(&"1A".parse().unwrap()), [Unseen::LineReversed]);
    let two = unseen(&"(1A-1B)|(2A-2B)".parse().unwrap());
    assert!(
        two.contains(&Unseen::DriverReversed(1)) && two.iter().all(|mistake| !mistake.tests().is_empty())
    );
}

fn circuit<'a>(tree: &'a Tree, state: &'a State) -> (&'a Tree, &'a [Fault]) {
    match state {
        State::AsDrawn | State::Warm => (tree, &[]),
        State::Faulty(faults) | State::WarmFaulty(faults) => (tree, faults),
        State::OtherWiring { tree, .. } => (tree, &[]),
    }
}

fn on_the_bench(tree: &Tree, state: &State, ohm: impl Fn(CoilId) -> f64) -> f64 {
    let (tree, faults) = circuit(tree, state);
    let bench = Bench::new(tree, faults);
    bench.read(faults, bench.line, ohm)
}

#[track_caller]
fn assert_reads(found: Option<Resistance>, bench: f64, context: &dyn std::fmt::Debug) {
    match found {
        None => assert!(bench.is_infinite(), "bench reads {bench}, expected open: {context:?}"),
        Some(ohm) => {
            let difference = (ohm.ohms() - bench).abs();
            assert!(difference <= 1e-9 * (1.0 + bench), "bench reads {bench}, expected {ohm:?}: {context:?}");
        }
    }
}

fn is_warm(candidate: &Candidate) -> bool {
    candidate.states.iter().any(State::is_warm)
}

const WIRINGS: [(&str, u8, u8); 10] = [
    ("1A", 1, 1),
    ("1A|1B", 1, 2),
    ("1A-1B", 1, 2),
    ("(1A-1B)|(2A-2B)", 2, 2),
    ("(1A|1B)-(2A|2B)", 2, 2),
    ("1A|2A|3A", 3, 1),
    ("1A-2A-3A-4A", 4, 1),
    ("((1A|1B)-(2A|2B))|((3A|3B)-(4A|4B))", 4, 2),
    ("(1A-1B-1C-1D)|(2A-2B-2C-2D)", 2, 4),
    ("1A-(1B|2A)", 2, 2),
];

// Every single and double fault of each wiring, solved as a circuit by nodal equations.
#[test]
fn every_state_reads_what_its_circuit_reads() {
    let mut checked = 0;
    for (text, drivers, coils) in WIRINGS {
        let set = uniform(drivers, coils, 3.4, 0.0);
        let check_input = input(text, set, 1.0, PERFECT);
        for candidate in check(&check_input).unwrap().all.iter().filter(|c| !is_warm(c)) {
            for state in &candidate.states {
                assert_reads(
                    candidate.expected,
                    on_the_bench(&check_input.tree, state, |_| 3.4),
                    &(text, state),
                );
                checked += 1;
            }
        }
    }
    assert!(checked > 1000, "{checked}");
}

// The list of all states one by one holds what the merged list holds, and no two alike.
#[test]
fn the_list_of_states_is_complete() {
    for (text, drivers, coils) in WIRINGS {
        let check_input = input(text, uniform(drivers, coils, 3.4, 0.0), 1.0, PERFECT);
        let listed = every_state(&check_input).unwrap();
        let merged: usize = check(&check_input).unwrap().all.iter().map(|c| c.state_count).sum();
        assert_eq!(listed.len(), merged, "{text}");
        let coil_count = check_input.tree.coils().len();
        let with = |wanted: &dyn Fn(&Fault) -> bool| {
            let one = |(state, _): &&(State, Option<Resistance>)| matches!(state, State::Faulty(faults) if matches!(&faults[..], [only] if wanted(only)));
            listed.iter().filter(one).count()
        };
        // One of each kind for each coil, one swap for each group, one "off" for each of several drivers.
        assert_eq!(with(&|f| matches!(f, Fault::CoilOpen(_))), coil_count, "{text}");
        assert_eq!(with(&|f| matches!(f, Fault::CoilShorted(_))), coil_count, "{text}");
        assert_eq!(with(&|f| matches!(f, Fault::CoilAcrossItself(_))), coil_count, "{text}");
        assert_eq!(with(&|f| matches!(f, Fault::GroupSwapped { .. })), groups(&check_input.tree), "{text}");
        let off = if drivers > 1 { usize::from(drivers) } else { 0 };
        assert_eq!(with(&|f| matches!(f, Fault::DriverOff(_))), off, "{text}");
    }
}

fn groups(tree: &Tree) -> usize {
    tree.members().map_or(0, |(_, members)| 1 + members.iter().map(groups).sum::<usize>())
}

// A wiring without tolerance and a meter without error: the very reading of a state puts that state first.
#[test]
fn the_exact_reading_of_a_state_ranks_it_first() {
    for (text, drivers, coils) in WIRINGS {
        let all = check(&input(text, uniform(drivers, coils, 3.4, 0.0), 1.0, PERFECT)).unwrap().all;
        for candidate in all.iter().filter(|c| !is_warm(c)) {
            let shown = candidate.expected.map_or(f64::INFINITY, Resistance::ohms);
            let again = check(&input(text, uniform(drivers, coils, 3.4, 0.0), shown, PERFECT)).unwrap();
            // Only the warm coils' broad band may also meet an exact reading.
            let first = again.explanations.iter().find(|c| !is_warm(c)).unwrap();
            assert_eq!(first.states, candidate.states, "{text} at {shown}");
        }
    }
}

// What the next measurement promises for the likeliest state of each outcome is what its circuit reads there.
#[test]
fn the_next_measurement_reads_what_it_promises() {
    let mut probed = 0;
    for (text, drivers, coils) in WIRINGS {
        for shown in [0.0, 0.85, 1.133, 1.7, 3.4, 6.8, f64::INFINITY] {
            let check_input = input(text, uniform(drivers, coils, 3.4, 5.0), shown, PERFECT);
            let result = check(&check_input).unwrap();
            let Some(next) = result.next else { continue };
            assert!(next.expectations.len() > 1);
            assert_near(next.expectations.iter().map(|e| e.likelihood).sum(), 1.0, 1e-9);
            let Probe::AcrossCoil(coil) = next.probe else {
                continue;
            };
            for outcome in &next.expectations {
                let (tree, faults) = circuit(&check_input.tree, &outcome.states[0]);
                let bench = Bench::new(tree, faults);
                // On the coil's own terminals, also where the coil hangs loose.
                let alone = faults.contains(&Fault::CoilOpen(coil));
                let reads = bench.read(faults, bench.ends[&coil], |_| 3.4);
                assert_reads(outcome.expected, reads, &(text, shown, coil, alone, &outcome.states[0]));
                probed += 1;
            }
        }
    }
    assert!(probed > 60, "{probed}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    // True coils anywhere in their tolerance, a meter off by anything it may be: the true state is among the explanations.
    #[test]
    fn the_true_state_is_always_found(
        which in 0usize..WIRINGS.len(), pick in any::<prop::sample::Index>(), inner in any::<prop::sample::Index>(),
        dc in 0.6f64..8.0, off in prop::collection::vec(-1.0f64..1.0, 32), error in -1.0f64..1.0,
        percent in 0.0f64..2.0, counts in 0u8..6, at_amplifier in any::<bool>(),
    ) {
        let (text, drivers, coils) = WIRINGS[which];
        let meter = Meter { accuracy_percent: percent, counts: f64::from(counts), ..CHEAP };
        let cable = 0.15;
        let read_at = if at_amplifier { ReadAt::AmplifierEnd { cable: Resistance::from_ohms(cable) } } else { ReadAt::BoxTerminals };
        let on_line = if at_amplifier { cable } else { 0.0 };
        let blank = MeterCheck { read_at, ..input(text, uniform(drivers, coils, dc, 10.0), 1.0, meter) };
        let all = check(&blank).unwrap().all;
        let state = inner.get(&pick.get(&all).states).clone();
        prop_assume!(!state.is_warm());
        let ohm = |id: CoilId| dc * (1.0 + 0.10 * off[usize::from(id.driver * 4 + id.coil)]);
        let truth = on_the_bench(&blank.tree, &state, ohm) + on_line;
        let reading = if truth.is_finite() {
            let with_leads = truth + CHEAP.leads.ohms();
            let shown = with_leads + error * (percent / 100.0 * with_leads / (1.0 + percent / 100.0) + f64::from(counts) * 0.1);
            prop_assume!(shown >= 0.0);
            Reading::Shown(Resistance::from_ohms(shown))
        } else {
            Reading::OverRange
        };
        let result = check(&MeterCheck { reading, ..blank }).unwrap();
        prop_assert!(states(&result).contains(&&state), "{:?} not in {:?}", state, result.explanations);
        prop_assert_ne!(result.verdict, Verdict::Unexplained);
        assert_near(result.explanations.iter().map(|c| c.likelihood).sum(), 1.0, 1e-9);
        if state == State::AsDrawn {
            prop_assert!(matches!(result.verdict, Verdict::AsDrawn | Verdict::AsDrawnOrOther));
        }
    }

    // The same with readings of every coil by itself and across one coil, where the line is read at the box: further
    // true readings never rule the true state out.
    #[test]
    fn further_readings_keep_the_true_state(
        which in 0usize..WIRINGS.len(), pick in any::<prop::sample::Index>(), inner in any::<prop::sample::Index>(),
        across in any::<prop::sample::Index>(), dc in 0.6f64..8.0, off in prop::collection::vec(-1.0f64..1.0, 32),
        errors in prop::collection::vec(-1.0f64..1.0, 16), percent in 0.0f64..2.0, counts in 0u8..6,
    ) {
        let (text, drivers, coils) = WIRINGS[which];
        let meter = Meter { accuracy_percent: percent, counts: f64::from(counts), ..CHEAP };
        let blank = input(text, uniform(drivers, coils, dc, 10.0), 1.0, meter);
        let all = check(&blank).unwrap().all;
        let state = inner.get(&pick.get(&all).states).clone();
        prop_assume!(!state.is_warm());
        let ohm = |id: CoilId| dc * (1.0 + 0.10 * off[usize::from(id.driver * 4 + id.coil)]);
        let with_error = |truth: f64, error: f64| {
            if !truth.is_finite() {
                return truth;
            }
            let leads = truth + CHEAP.leads.ohms();
            (leads + error * (percent / 100.0 * leads / (1.0 + percent / 100.0) + f64::from(counts) * 0.1)).max(0.0)
        };
        let (tree, faults) = circuit(&blank.tree, &state);
        let bench = Bench::new(tree, faults);
        let mut evidence = Vec::new();
        for (coil, error) in tree.coils().into_iter().zip(&errors) {
            let truth = if faults.contains(&Fault::CoilOpen(coil)) { f64::INFINITY }
                else if faults.contains(&Fault::CoilShorted(coil)) { 0.0 } else { ohm(coil) };
            evidence.push(Evidence { probe: Probe::CoilAlone(coil), reading: shown(with_error(truth, *error)) });
        }
        let ids = tree.coils();
        let coil = *across.get(&ids);
        let there = bench.read(faults, bench.ends[&coil], ohm);
        evidence.push(Evidence { probe: Probe::AcrossCoil(coil), reading: shown(with_error(there, errors[14])) });
        let line = bench.read(faults, bench.line, ohm);
        let result = check(&MeterCheck { reading: shown(with_error(line, errors[15])), evidence, ..blank }).unwrap();
        prop_assert!(states(&result).contains(&&state), "{:?} not in {:?}", state, result.explanations);
    }

    #[test]
    fn silly_readings_give_an_answer_or_an_error(
        shown in any::<f64>(), leads in any::<f64>(), percent in any::<f64>(), counts in any::<f64>(),
        count in any::<f64>(), cable in any::<f64>(),
    ) {
        let meter = Meter {
            accuracy_percent: percent, counts, count: Resistance::from_ohms(count), leads: Resistance::from_ohms(leads),
        };
        let read_at = ReadAt::AmplifierEnd { cable: Resistance::from_ohms(cable) };
        let silly = MeterCheck {
            reading: Reading::Shown(Resistance::from_ohms(shown)),
            read_at,
            ..input("1A|1B", uniform(1, 2, 1.8, 5.0), 1.0, meter)
        };
        if let Ok(result) = check(&silly) {
            prop_assert!(result.explanations.iter().all(|c| c.likelihood.is_finite()));
        }
    }
}

// The largest wiring there is still gives an answer.
#[test]
fn thirty_two_coils_are_judged() {
    let wiring = balanced(8, 4).unwrap().into_iter().nth(10).unwrap();
    let expected = wiring.load(Resistance::from_ohms(3.4));
    let text = wiring.tree.to_string();
    let result = check(&input(&text, uniform(8, 4, 3.4, 0.0), expected.ohms(), PERFECT)).unwrap();
    assert_eq!(result.explanations[0].states[0], State::AsDrawn);
}
