//! The search for a box: the quick solution against the general one, the best box against every box of a fine grid,
//! and what it proposes against the general solver's curves.
#[path = "support/brief.rs"]
mod support;

use kerf_and_coil::model::acoustics::figures::figures;
use kerf_and_coil::model::acoustics::network::{Duct, Place};
use kerf_and_coil::model::acoustics::search::{Bench, Brief, Candidate, Job, Kind, Limits, Merit, Weights};
use kerf_and_coil::model::acoustics::{
    Air, CoilImpedance, Drive, Enclosure, End, Load, Losses, Network, Opening, Port, SealedChamber,
    VentedChamber, Wiring, hardest_coil, respond, respond_quickly, stand_in,
};
use kerf_and_coil::model::electrical::wiring::Tree;
use kerf_and_coil::model::numeric::log_grid;
use kerf_and_coil::units::{Length, Mass, Resistance, Voltage, Volume};
use proptest::prelude::*;
use support::{brief, driver, radiator, tube};

/// Largest relative difference of two curves, against the larger of the values and `floor`.
fn apart(a: &[f64], b: &[f64], floor: f64) -> f64 {
    assert_eq!(a.len(), b.len());
    a.iter().zip(b).map(|(a, b)| (a - b).abs() / a.abs().max(floor)).fold(0.0, f64::max)
}

/// Both solutions of one network, to 1e-9.
fn both_agree(network: &Network, drive: Drive) -> Result<(), TestCaseError> {
    let frequencies = log_grid(10.0, 500.0, 60);
    let general = respond(network, drive, &frequencies).unwrap();
    let quick = respond_quickly(network, drive, &frequencies).unwrap().expect("a network of sides");
    prop_assert!(apart(&general.spl_db, &quick.spl_db, 100.0) < 1e-9);
    prop_assert!(apart(&general.excursion_peak_m, &quick.excursion_peak_m, 1e-30) < 1e-9);
    prop_assert!(apart(&general.group_delay_s, &quick.group_delay_s, 1e-3) < 1e-9);
    for (a, b) in general.impedance_ohm.iter().zip(&quick.impedance_ohm) {
        prop_assert!((a - b).norm() < 1e-9 * a.norm(), "{a} {b}");
    }
    for (a, b) in general.outside_flow_m3_s.iter().zip(&quick.outside_flow_m3_s) {
        prop_assert!((a - b).norm() < 1e-9 * a.norm(), "{a} {b}");
    }
    prop_assert_eq!(general.ducts.len(), quick.ducts.len());
    for (a, b) in general.ducts.iter().zip(&quick.ducts) {
        prop_assert!(apart(&a.velocity_peak_m_s, &b.velocity_peak_m_s, 1e-30) < 1e-9);
    }
    prop_assert_eq!(general.radiators.len(), quick.radiators.len());
    for (a, b) in general.radiators.iter().zip(&quick.radiators) {
        prop_assert!(apart(&a.excursion_peak_m, &b.excursion_peak_m, 1e-30) < 1e-9);
    }
    Ok(())
}

fn port(diameter_m: f64, length_m: f64, qp: Option<f64>) -> Port {
    Port {
        opening: Opening::Round { diameter: Length::from_metres(diameter_m) },
        length: Length::from_metres(length_m),
        inner: End::Free,
        outer: End::Flanged,
        count: 1,
        qp,
    }
}

/// Every enclosure that the quick solution serves.
fn enclosures(litres: [f64; 2], length_m: f64, q: Option<f64>) -> Vec<Enclosure> {
    let losses = Losses { ql: q, qa: q.map(|q| 5.0 * q) };
    let sealed = |litres| SealedChamber { volume: Volume::from_litres(litres), losses };
    let vented = |litres, diameter| VentedChamber {
        volume: Volume::from_litres(litres),
        losses,
        port: port(diameter, length_m, q.map(|q| 6.0 * q)),
    };
    vec![
        Enclosure::InfiniteBaffle,
        Enclosure::Closed { rear: sealed(litres[0]) },
        Enclosure::Vented { rear: vented(litres[0], 0.1) },
        Enclosure::PassiveRadiator { rear: sealed(litres[0]), radiator: radiator().radiator },
        Enclosure::Bandpass4 { rear: sealed(litres[0]), front: vented(litres[1], 0.12) },
        Enclosure::Bandpass6Parallel { rear: vented(litres[0], 0.08), front: vented(litres[1], 0.12) },
        Enclosure::Bandpass6Series { rear: vented(litres[0], 0.08), front: vented(litres[1], 0.12) },
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]
    #[test]
    fn the_quick_solution_is_the_general_one(
        rear in 5.0..150.0_f64,
        front in 5.0..150.0_f64,
        length_m in 0.02..0.8_f64,
        q in prop::option::of(2.0..100.0_f64),
        source in 0.0..2.0_f64,
        (series, parallel) in (1_usize..3, 1_usize..3),
        coil in 0_u8..3,
    ) {
        let mut driver = driver();
        driver.coil = match coil {
            0 => CoilImpedance::None,
            1 => driver.coil,
            _ => CoilImpedance::Power { k: 0.03, n: 0.7 },
        };
        let load = Load { driver, wiring: Wiring::of_drivers(series, parallel) };
        let drive = Drive {
            voltage: Voltage::from_volts(20.0),
            source_resistance: Resistance::from_ohms(source),
            distance: Length::from_metres(1.0),
        };
        for enclosure in enclosures([rear, front], length_m, q) {
            both_agree(&enclosure.network(load, Air::standard()).unwrap(), drive)?;
        }
    }
}

#[test]
fn chambers_that_lead_into_each_other_twice_are_left_to_the_general_solution() {
    let vented = |diameter| VentedChamber {
        volume: Volume::from_litres(30.0),
        losses: Losses::default(),
        port: port(diameter, 0.2, None),
    };
    let enclosure = Enclosure::Bandpass6Series { rear: vented(0.08), front: vented(0.1) };
    let network = enclosure.network(Load::single(driver()), Air::standard()).unwrap();
    let quickly = |network: &Network| respond_quickly(network, Voltage::from_volts(2.83), &[30.0]).unwrap();
    assert!(quickly(&network).is_some());
    let mut second = network.clone();
    second.ducts.insert(0, network.ducts[0]);
    assert_eq!(quickly(&second), None);
    // From the front to the back, or outside as well: no quick solution either.
    let mut turned = network.clone();
    (turned.front, turned.back) = (network.back, network.front);
    assert_eq!(quickly(&turned), None);
    let mut also_out = network.clone();
    also_out.ducts.insert(1, Duct { to: Place::Outside, ..network.ducts[0] });
    assert_eq!(quickly(&also_out), None);
}

/// The best score of a list of candidates.
fn best(brief: &Brief, candidates: impl Iterator<Item = Option<Candidate>>) -> (f64, usize) {
    let bench = Bench::new(brief).unwrap();
    let mut fitting = 0;
    let mut best = f64::NEG_INFINITY;
    for candidate in candidates.flatten() {
        fitting += 1;
        best = best.max(bench.merit(brief, &candidate).map_or(f64::NEG_INFINITY, |merit| merit.score));
    }
    (best, fitting)
}

fn steps(low: f64, high: f64, count: usize) -> impl Iterator<Item = f64> + Clone {
    (0..count).map(move |i| low * (high / low).powf(i as f64 / (count - 1) as f64))
}

/// Wishes that pull in different directions.
fn wishes() -> Vec<Weights> {
    let even = Weights { reach: 1.0, level: 1.0, evenness: 1.0, size: 1.0, decay: 1.0 };
    vec![
        even,
        Weights { reach: 2.0, size: 0.2, ..even },
        Weights { level: 2.0, decay: 0.0, ..even },
        Weights { reach: 0.3, size: 2.0, evenness: 2.0, ..even },
    ]
}

/// The search's own best against the best of a grid far finer than its own: the proof that it is global.
fn finds_the_best(kind: Kind, grid: impl Fn(&Brief) -> Vec<Option<Candidate>>) {
    for weights in wishes() {
        let brief = Brief { kinds: vec![kind], weights, ..brief() };
        let outcome = Job::run(brief.clone()).unwrap();
        let (candidate, merit) = outcome.ranking.first().expect("a box");
        let (exhaustive, fitting) = best(&brief, grid(&brief).into_iter());
        println!(
            "{kind:?} {weights:?}: found {:.4} dB in {} evaluations, grid {exhaustive:.4} dB of {fitting}",
            merit.score, outcome.evaluations
        );
        assert!(fitting > 300, "{fitting}");
        assert!(merit.score > exhaustive - 0.1, "{kind:?} {weights:?}: {merit:?} {candidate:?}");
    }
}

#[test]
fn the_best_closed_box_is_found() {
    finds_the_best(Kind::Closed, |brief| {
        steps(0.002, 0.11, 4000).map(|v| Candidate::closed(brief, Volume::from_cubic_metres(v))).collect()
    });
}

#[test]
fn the_best_vented_box_is_found() {
    finds_the_best(Kind::Vented, |brief| {
        let mut all = Vec::new();
        for tube in &brief.tubes {
            for v in steps(0.002, 0.11, 120) {
                for length in steps(0.036, 0.402, 120) {
                    let net = Volume::from_cubic_metres(v);
                    all.push(Candidate::vented(brief, net, *tube, Length::from_metres(length)));
                }
            }
        }
        all
    });
}

#[test]
fn the_best_box_with_passive_radiators_is_found() {
    finds_the_best(Kind::PassiveRadiator, |brief| {
        let mut all = Vec::new();
        for count in [1, 2] {
            for v in steps(0.002, 0.11, 150) {
                for times in steps(1.0, 6.0, 100) {
                    let weight = Mass::from_grams(120.0 * (times - 1.0));
                    all.push(Candidate::with_radiators(brief, Volume::from_cubic_metres(v), count, weight));
                }
            }
        }
        all
    });
}

#[test]
fn the_best_bandpass_is_found() {
    finds_the_best(Kind::Bandpass, |brief| {
        let mut all = Vec::new();
        for tube in &brief.tubes {
            for v in steps(0.004, 0.11, 44) {
                for share in (0..36).map(|i| 0.1 + 0.02 * f64::from(i)) {
                    for length in steps(0.036, 0.402, 36) {
                        let litres = |share: f64| Volume::from_cubic_metres(v * share);
                        let (rear, front) = (litres(1.0 - share), litres(share));
                        let length = Length::from_metres(length);
                        all.push(Candidate::bandpass(brief, rear, front, *tube, length));
                    }
                }
            }
        }
        all
    });
}

/// Room for a pipe beside the driver in the board between two chambers.
fn deeper() -> Brief {
    let mut brief = brief();
    brief.room.depth = Length::from_millimetres(480.0);
    brief
}

/// A 6th-order band-pass has four sizes and two pipes: here a grid over all of them with two tubes to choose from, and
/// one sixteen times finer about the best of it.
fn finds_the_best_of_two_pipes(kind: Kind) {
    const STEPS: [usize; 4] = [20, 13, 14, 14];
    let tubes = vec![tube(75.0, 1), tube(100.0, 2)];
    for weights in wishes() {
        let brief = Brief { kinds: vec![kind], weights, tubes: tubes.clone(), ..deeper() };
        let bench = Bench::new(&brief).unwrap();
        let outcome = Job::run(brief.clone()).unwrap();
        let (candidate, merit) = outcome.ranking.first().expect("a box");
        let score = |pair: usize, at: [f64; 4]| {
            if at.iter().any(|share| !(0.0..=1.0).contains(share)) {
                return None;
            }
            let volume = Volume::from_cubic_metres(0.004 * 32_f64.powf(at[0]));
            let front = volume * (0.1 + 0.7 * at[1]);
            // From the boards alone to what the space holds.
            let outer = Length::from_metres(0.036 * (0.4 / 0.036_f64).powf(at[2]));
            let inner = Length::from_metres(0.018 * (0.6 / 0.018_f64).powf(at[3]));
            let pipes = [(tubes[pair / 2], inner), (tubes[pair % 2], outer)];
            let candidate = Candidate::bandpass6(&brief, kind, [volume - front, front], pipes)?;
            Some(bench.merit(&brief, &candidate)?.score)
        };
        let mut best = (f64::NEG_INFINITY, 0, [0.0; 4]);
        let mut fitting = 0;
        let mut look = |pair: usize, at: [f64; 4]| {
            let Some(score) = score(pair, at) else { return };
            fitting += 1;
            if score > best.0 {
                best = (score, pair, at);
            }
        };
        let count: usize = STEPS.iter().product();
        let place = |mut index: usize, steps: [usize; 4]| {
            steps.map(|steps| {
                let at = index % steps;
                index /= steps;
                at as f64 / (steps - 1) as f64
            })
        };
        for pair in 0..4 {
            (0..count).for_each(|index| look(pair, place(index, STEPS)));
        }
        let (_, pair, about) = best;
        let mut closer = |pair: usize, at: [f64; 4]| {
            let Some(score) = score(pair, at) else { return };
            if score > best.0 {
                best = (score, pair, at);
            }
        };
        for index in 0..17_usize.pow(4) {
            let off = place(index, [17; 4]);
            let axis = |axis: usize| about[axis] + (2.0 * off[axis] - 1.0) / (STEPS[axis] - 1) as f64;
            closer(pair, [0, 1, 2, 3].map(axis));
        }
        println!(
            "{kind:?} {weights:?}: found {:.4} dB in {} evaluations, grid {:.4} dB of {fitting}",
            merit.score, outcome.evaluations, best.0
        );
        assert!(fitting > 3000, "{fitting}");
        assert!(merit.score > best.0 - 0.1, "{kind:?} {weights:?}: {merit:?} {candidate:?} {best:?}");
    }
}

#[test]
fn the_best_bandpass_with_two_ports_outward_is_found() {
    finds_the_best_of_two_pipes(Kind::Bandpass6Outward);
}

#[test]
fn the_best_bandpass_with_a_port_inward_is_found() {
    finds_the_best_of_two_pipes(Kind::Bandpass6Inward);
}

#[test]
fn steps_of_any_size_come_to_the_same_boxes() {
    let at_once = Job::run(deeper()).unwrap();
    let mut job = Job::start(deeper()).unwrap();
    let mut before = 0.0;
    let mut steps = 0;
    while !job.step(700) {
        assert!(job.progress() >= before && job.progress() <= 1.0);
        before = job.progress();
        steps += 1;
    }
    assert!(steps > 20, "{steps}");
    assert_eq!(job.outcome(), at_once);
    let kinds: Vec<Kind> = at_once.ranking.iter().map(|(candidate, _)| candidate.kind).collect();
    for kind in Kind::ALL {
        assert!(kinds.contains(&kind), "{kind:?} in {kinds:?}");
    }
    assert!(at_once.ranking.windows(2).all(|pair| pair[0].1.score >= pair[1].1.score));
}

/// What the search says of a box is what the general solver and `figures` say of it.
fn merits_are_those_of_the_general_curves(brief: &Brief) {
    let outcome = Job::run(brief.clone()).unwrap();
    assert!(outcome.ranking.len() >= 4);
    for (candidate, merit) in &outcome.ranking {
        let mut network = candidate.enclosure.network(brief.load, brief.air).unwrap();
        network.unequal = brief.unequal.clone();
        let drive = Drive {
            voltage: brief.limits.voltage,
            source_resistance: brief.source_resistance,
            distance: Length::from_metres(1.0),
        };
        let response = respond(&network, drive, &log_grid(10.0, 80.0, 32)).unwrap();
        let f = &response.frequencies_hz;
        let coils = hardest_coil(&network, &drive, f).unwrap();
        // The greatest level in the band, limit by limit from the curves.
        let band: Vec<usize> = (0..f.len()).filter(|i| f[*i] >= 30.0).collect();
        let mut level = f64::INFINITY;
        for &i in &band {
            let mut share: f64 = 1.0;
            let mut look = |limit: f64, value: f64| share = share.min(limit / value);
            look(0.014, response.excursion_peak_m[i]);
            // Terminal current: the source is ideal behind its resistance.
            let amps = 32.0 / (response.impedance_ohm[i] + 0.05).norm();
            look(20.0, amps);
            look((300.0_f64 / 3.3).sqrt(), coils.get(i).copied().unwrap_or(amps));
            response.ducts.iter().for_each(|duct| look(17.0, duct.velocity_peak_m_s[i]));
            response.radiators.iter().for_each(|radiator| look(0.018, radiator.excursion_peak_m[i]));
            level = level.min(response.spl_db[i] + 20.0 * share.log10());
        }
        assert!((level - merit.level_db).abs() < 1e-6, "{merit:?} {level}");
        let periods = band.iter().map(|&i| f[i] * response.group_delay_s[i]).fold(0.0, f64::max);
        // The general solution of unequal shares takes its slope between two frequencies.
        let tolerance = if brief.unequal.is_some() { 1e-5 } else { 1e-9 };
        assert!((periods - merit.periods).abs() < tolerance, "{merit:?} {periods}");
        // Within 3 dB of the mean of the upper octave at the reach, below it no longer.
        let octave: Vec<f64> = (0..f.len()).filter(|i| f[*i] >= 40.0).map(|i| response.spl_db[i]).collect();
        let mean = octave.iter().sum::<f64>() / octave.len() as f64;
        // Between two of the frequencies the search goes along a straight line over log f.
        let above = f.partition_point(|f| *f <= merit.reach_hz * (1.0 - 1e-12)).clamp(1, f.len() - 1);
        let share = (merit.reach_hz / f[above - 1]).ln() / (f[above] / f[above - 1]).ln();
        let at = response.spl_db[above - 1] + share * (response.spl_db[above] - response.spl_db[above - 1]);
        assert!((at - mean + 10.0 * 2f64.log10()).abs() < 1e-6, "{merit:?}: {at} of {mean}");
        assert!(figures(&network, drive, &response).is_ok());
    }
}

#[test]
fn merits_are_read_off_the_general_curves() {
    merits_are_those_of_the_general_curves(&brief());
    merits_are_those_of_the_general_curves(&deeper());
}

/// One driver in series with two side by side, and with two coils each: the coil and the cone with most set the limits.
#[test]
fn unequal_shares_are_searched_as_the_general_solver_has_them() {
    for (wiring, drivers, coils) in [("1A-(2A|3A)", 3, 1), ("1A-(1B|2A|2B)", 2, 2), ("(1A-2A)|3A", 3, 1)] {
        let tree: Tree = wiring.parse().unwrap();
        assert!(tree.balance().is_none());
        let mut small = driver();
        small.sd = kerf_and_coil::units::Area::from_square_centimetres(210.0);
        let load = Load { driver: small, wiring: stand_in(&tree, drivers, coils).unwrap() };
        let mut brief = Brief { load, unequal: Some(tree), ..deeper() };
        brief.room.drivers = drivers as u32;
        brief.room.frame = Length::from_millimetres(180.0);
        brief.room.driver_depth = Length::from_millimetres(100.0);
        merits_are_those_of_the_general_curves(&brief);
    }
}

/// Under a leaning limit: what is placed against every height in steps of a millimetre, each as an upright block that
/// ends where the limit is at its top.
#[test]
fn under_a_leaning_limit_no_height_holds_a_smaller_box() {
    let mut leaning = deeper();
    leaning.room.height = Length::from_millimetres(420.0);
    leaning.room.depth = Length::from_millimetres(330.0);
    leaning.room.lean = 0.5;
    let block = |high: i32| {
        let mut brief = leaning.clone();
        brief.room.lean = 0.0;
        brief.room.height = Length::from_millimetres(f64::from(high));
        brief.room.depth = Length::from_millimetres(330.0 + 0.5 * f64::from(420 - high));
        brief
    };
    let blocks: Vec<Brief> = (130..=420).map(block).collect();
    let pipe = |millimetres| Length::from_millimetres(millimetres);
    type Make = Box<dyn Fn(&Brief, f64) -> Option<Candidate>>;
    let litres = Volume::from_litres;
    let makes: Vec<(&str, bool, Make)> = vec![
        ("closed", true, Box::new(move |brief, v| Candidate::closed(brief, litres(v)))),
        ("vented", true, Box::new(move |b, v| Candidate::vented(b, litres(v), tube(75.0, 1), pipe(250.0)))),
        ("vented", true, Box::new(move |b, v| Candidate::vented(b, litres(v), tube(100.0, 1), pipe(330.0)))),
        (
            "radiators",
            false,
            Box::new(move |b, v| Candidate::with_radiators(b, litres(v), 1, Mass::from_grams(40.0))),
        ),
        (
            "band-pass",
            false,
            Box::new(move |b, v| {
                Candidate::bandpass(b, litres(0.6 * v), litres(0.4 * v), tube(75.0, 1), pipe(150.0))
            }),
        ),
        (
            "outward",
            false,
            Box::new(move |b, v| {
                let pipes = [(tube(75.0, 1), pipe(120.0)), (tube(75.0, 1), pipe(180.0))];
                Candidate::bandpass6(b, Kind::Bandpass6Outward, [litres(0.5 * v), litres(0.5 * v)], pipes)
            }),
        ),
    ];
    for (name, may_lean, make) in &makes {
        let (mut placed, mut lower, mut leans) = (0, 0, 0);
        for step in 0..60 {
            let net = 12.0 * 1.04_f64.powi(step);
            let outside = |candidate: &Candidate| candidate.placed.outside.litres();
            let best = |net: f64| {
                let all = blocks.iter().filter_map(|brief| make(brief, net));
                all.map(|found| outside(&found)).fold(f64::INFINITY, f64::min)
            };
            let Some(found) = make(&leaning, net) else {
                // Steps of the height may miss the very first and last litres.
                let all = [net / 1.06, net, 1.06 * net].map(best);
                assert!(all.iter().any(|best| best.is_infinite()), "{name}, {net} l: {all:?}");
                continue;
            };
            placed += 1;
            let [_, high, deep] = found.placed.outside_m;
            let top = found.placed.top_m.unwrap_or(deep);
            assert!(high <= 0.42 + 1e-9 && top <= 0.33 + 0.5 * (0.42 - high) + 1e-9, "{name}: {found:?}");
            assert!(deep <= 0.33 + 0.5 * 0.42 + 1e-9, "{name}: {found:?}");
            if found.placed.top_m.is_some() {
                leans += 1;
                let all = [net / 1.06, net, 1.06 * net].map(best);
                assert!(*may_lean && all.iter().any(|best| best.is_infinite()), "{name}, {net} l: {all:?}");
            } else {
                lower += usize::from(high < 0.40);
                assert!(outside(&found) < 1.03 * best(net), "{name}, {net} l: {found:?} {}", best(net));
            }
        }
        println!("{name}: {placed} placed, {lower} lower than the space, {leans} leaning");
        assert!(placed > 5 && lower + leans > 5, "{name}: {placed} {lower} {leans}");
        assert!(leans > 0 || !may_lean, "{name}");
    }
}

#[test]
fn a_limit_that_is_not_known_does_not_limit() {
    let loud = Limits { voltage: Voltage::from_volts(80.0), ..brief().limits };
    let free = Brief {
        limits: Limits { travel: None, current: None, coil_power: None, ..loud },
        radiator: None,
        ..brief()
    };
    let limited = Brief { limits: loud, ..brief() };
    let bench = Bench::new(&free).unwrap();
    let tight = Bench::new(&limited).unwrap();
    let candidate = Candidate::closed(&free, Volume::from_litres(40.0)).unwrap();
    let level = |bench: &Bench, brief: &Brief| bench.merit(brief, &candidate).map(|m: Merit| m.level_db);
    assert!(level(&bench, &free).unwrap() > level(&tight, &limited).unwrap() + 1.0);
    let outcome = Job::run(free).unwrap();
    assert!(outcome.ranking.iter().all(|(candidate, _)| candidate.kind != Kind::PassiveRadiator));
}

#[test]
fn nonsense_is_refused() {
    let zero = Weights { reach: 0.0, level: 0.0, evenness: 0.0, size: 0.0, decay: 0.0 };
    assert!(Job::start(Brief { weights: zero, ..brief() }).is_err());
    assert!(Job::start(Brief { weights: Weights { reach: f64::NAN, ..zero }, ..brief() }).is_err());
    assert!(Job::start(Brief { kinds: Vec::new(), ..brief() }).is_err());
    let mut tiny = brief();
    tiny.room.width = Length::from_millimetres(30.0);
    assert!(Job::start(tiny).is_err());
    // Room for boards but not for the driver: no error, no box.
    let mut flat = brief();
    flat.room.depth = Length::from_millimetres(120.0);
    let outcome = Job::run(flat).unwrap();
    assert!(outcome.ranking.is_empty() && outcome.trade.is_empty());
}
