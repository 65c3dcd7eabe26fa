//! Wirings of a design beyond the regular ones: the user's own, drivers of two kinds, up to eight of them, what coils
//! to order, damping and the load's minimum. Expected values are worked out by hand in the comments.
use kerf_and_coil::design::demo;
use kerf_and_coil::design::document::{Sheet, parse_entry};
use kerf_and_coil::design::evaluate::evaluate;
use kerf_and_coil::design::find::brief;
use kerf_and_coil::design::limits::FieldId;
use kerf_and_coil::design::report::{Gap, Report};
use kerf_and_coil::design::warnings::Warning;
use kerf_and_coil::model::acoustics::{Limiter, hardest_coil};
use kerf_and_coil::model::electrical::wiring::{Bench, CoilId, CoilSet, Join, Tree};
use kerf_and_coil::present::{lines, tables, unequal};
use kerf_and_coil::units::UnitPrefs;

/// The demo (one driver with two coils of 1.8 Ω, nominally 2 Ω; 250 W into 4 Ω, 450 W into 2 Ω, 700 W into 1 Ω at
/// 14.4 V, stable down to 1 Ω) with other entries.
fn sheet(entries: &[(FieldId, &str)]) -> Sheet {
    let mut sheet = demo::design().sheet;
    for (id, text) in entries {
        sheet.set(*id, parse_entry(*id, text, &UnitPrefs::default()).unwrap()).unwrap();
    }
    sheet
}

fn report(entries: &[(FieldId, &str)]) -> Report {
    evaluate(&sheet(entries))
}

#[track_caller]
fn assert_near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "found {found}, expected {expected} ± {within}");
}

fn id(driver: u8, coil: u8) -> CoilId {
    CoilId { driver, coil }
}

// One coil before three side by side: R + R/3 = 4/3 R = 2.4 Ω. The one takes 3/4 of the power, each other a twelfth;
// three quarters of the voltage lie across it.
#[test]
fn an_unequal_wiring_of_ones_own_is_worked_out_and_warned_of() {
    let own = sheet(&[(FieldId::DriverCount, "2"), (FieldId::Wiring, "1A-(1B|2A|2B)")]);
    let report = evaluate(&own);
    let wiring = report.wiring.unwrap();
    assert!(wiring.own && wiring.by_user);
    let chosen = wiring.chosen().unwrap();
    assert_eq!(chosen.notation, "1A-(1B|2A|2B)");
    assert_near(chosen.nominal.ohms(), 2.0 * 4.0 / 3.0, 1e-9);
    assert_near(chosen.reading.ohms() - wiring.cable.ohms(), 2.4, 1e-9);
    assert_near(chosen.coil_share, 0.75, 1e-9);
    assert_near(chosen.shares[0].voltage, 0.75, 1e-9);
    assert_near(chosen.shares[3].power, 1.0 / 12.0, 1e-9);
    let unequal = report.warnings.iter().find_map(|warning| match warning {
        Warning::UnequalPower { most, least } => Some((*most, *least)),
        _ => None,
    });
    let (most, least) = unequal.unwrap();
    assert_eq!(most.0, id(0, 0));
    assert_near(most.1, 0.75, 1e-9);
    assert_near(least.1, 1.0 / 12.0, 1e-9);
    // Driver 1 has 10/12 of the power, driver 2 the rest. The level goes with the sum of the currents: 1 + 3·⅓ = 2
    // against √(4·(1 + 3/9)) = 2.309 of equal shares at the same power, 1.25 dB.
    let sound = report.sound.as_ref().unwrap();
    let told = unequal::unequal(sound, &wiring).unwrap();
    assert!(
        told.sentence.contains("driver 1 takes 83 %") && told.sentence.contains("1.2 dB"),
        "{}",
        told.sentence
    );
    assert!(told.sentence.contains("coil 1A reaches its limit of heat 4.8 dB"), "{}", told.sentence);
    assert!(told.rows[1].starts_with("Driver 2: 17 %"), "{:?}", told.rows);
    assert_eq!(told.chart.curves.len(), 2);
    // The worst cone is the one that counts above.
    let furthest = told.chart.curves[0].values.iter().copied().fold(0.0, f64::max);
    assert_near(sound.response.excursion_peak_m.iter().copied().fold(0.0, f64::max) * 1e3, furthest, 1e-9);
    // A box is looked for with these very shares.
    assert_eq!(brief(&own, &evaluate(&own)).unwrap().unequal.as_ref(), Some(&chosen.tree));
    // Where heat ends the ceiling, coil 1A has as much current as heats it with its half of the driver's power: ngspice
    // holds the currents of the coils to those of the single circuits (tests/ngspice/unequal.rs).
    let mut cool = own.clone();
    cool.set(FieldId::ThermalPower, parse_entry(FieldId::ThermalPower, "60", &UnitPrefs::default()).unwrap())
        .unwrap();
    let cool = evaluate(&cool);
    let (sound, loud) = (cool.sound.as_ref().unwrap(), cool.loud.as_ref().unwrap());
    let top = &loud.ceiling.as_ref().unwrap().curve;
    let drive = sound.built.drive;
    let currents = hardest_coil(&sound.network, &drive, &sound.unfiltered.frequencies_hz).unwrap();
    let mut hot = 0;
    for ((limiter, volts), current) in top.limiter.iter().zip(&top.voltage_v).zip(&currents) {
        let watts = (current * volts / drive.voltage.volts()).powi(2) * 1.8;
        assert!(watts < 30.0 * (1.0 + 1e-9), "{watts}");
        if *limiter == Limiter::Coil {
            hot += 1;
            assert_near(watts, 30.0, 1e-6);
        }
    }
    assert!(hot > 20, "{hot}");
    // The table puts the three alike coils into one row.
    let rows = tables::shares(chosen);
    assert_eq!(rows.len(), 2);
    assert_eq!(rows[1].coils, "1B, 2A, 2B");
}

#[test]
fn a_wiring_that_does_not_fit_is_told_and_not_used() {
    // "1A" leaves a coil open: most likely it was chosen for another number of coils.
    for text in ["1A", "2A", "1A-1A", "1A-", "nonsense"] {
        let report = report(&[(FieldId::Wiring, text)]);
        let wiring = report.wiring.unwrap();
        assert!(!wiring.by_user && !wiring.own, "{text}");
        assert!(report.warnings.contains(&Warning::WiringUnread), "{text}");
        assert!(wiring.chosen().unwrap().equal_shares, "{text}");
    }
}

#[test]
fn a_regular_wiring_gets_no_warning() {
    for text in ["1A-1B", "1A|1B"] {
        let report = report(&[(FieldId::Wiring, text)]);
        let about_coils = |warning: &&Warning| {
            matches!(
                warning,
                Warning::UnequalPower { .. }
                    | Warning::WiringUnread
                    | Warning::LeastLoad { .. }
                    | Warning::Load { .. }
            )
        };
        assert_eq!(report.warnings.iter().find(about_coils), None, "{text}");
    }
}

// Two drivers: the first with two coils of 1.8 Ω, the second, of another kind, with one of 3.4 Ω (nominally 4 Ω).
// In series each, side by side: 3.6 Ω beside 3.4 Ω is 1.7486 Ω; shares of power 3.4/7 and 3.6/7.
#[test]
fn drivers_of_two_kinds() {
    let report = report(&[
        (FieldId::DriverCount, "2"),
        (FieldId::OtherDrivers, "1"),
        (FieldId::OtherRe, "3.4"),
        (FieldId::OtherNominal, "4"),
        (FieldId::Wiring, "(1A-1B)|2A"),
    ]);
    let wiring = report.wiring.unwrap();
    assert!(wiring.mixed && !wiring.own, "each driver's coils one way, the drivers one way: it is listed");
    assert_eq!(wiring.coils.ids().len(), 3);
    let notations: Vec<&str> = wiring.options.iter().map(|option| option.notation.as_str()).collect();
    assert_eq!(notations, ["1A|1B|2A", "(1A-1B)|2A", "(1A|1B)-2A", "1A-1B-2A"]);
    let chosen = wiring.chosen().unwrap();
    assert_near(chosen.nominal.ohms(), 2.0, 1e-9);
    assert_near(chosen.reading.ohms() - wiring.cable.ohms(), 3.6 * 3.4 / 7.0, 1e-9);
    assert_near(chosen.shares[2].power, 3.6 / 7.0, 1e-9);
    assert_near(chosen.shares[0].power, 3.4 / 7.0 / 2.0, 1e-9);
    assert!(report.warnings.iter().any(|warning| matches!(warning, Warning::UnequalPower { .. })));
    // As many of the second kind as there are drivers leaves none of the first.
    let all = evaluate(&sheet(&[(FieldId::OtherDrivers, "1"), (FieldId::OtherRe, "3.4")]));
    assert!(matches!(all.wiring, Err(Gap::Refused(_))));
    let unknown = evaluate(&sheet(&[(FieldId::DriverCount, "2"), (FieldId::OtherDrivers, "1")]));
    assert!(matches!(unknown.wiring, Err(Gap::Missing(_))));
}

// Eight drivers, each with its own eighth of the box and its own share of the terminals' voltage, are eight of the
// one: side by side at the same voltage 20·lg 8 = 18.06 dB louder and an eighth of the impedance.
#[test]
fn eight_drivers_are_eight_times_one() {
    let one = report(&[
        (FieldId::DriveBy, "voltage"),
        (FieldId::DriveVolts, "2.83"),
        (FieldId::WantedNet, "20"),
        (FieldId::SpaceWidth, "2500"),
        (FieldId::SpaceHeight, "1500"),
        (FieldId::SpaceDepth, "2500"),
        (FieldId::SpeakerRun, "0"),
    ]);
    let one_net = one.sound.as_ref().unwrap().net;
    for count in [5.0, 6.0, 7.0, 8.0_f64] {
        let text = format!("{count}");
        let trees: Vec<String> = (1..=count as u8).map(|driver| format!("({driver}A-{driver}B)")).collect();
        let mut all = sheet(&[
            (FieldId::DriveBy, "voltage"),
            (FieldId::DriveVolts, "2.83"),
            (FieldId::SpaceWidth, "2500"),
            (FieldId::SpaceHeight, "1500"),
            (FieldId::SpaceDepth, "2500"),
            (FieldId::SpeakerRun, "0"),
            (FieldId::DriverCount, &text),
            (FieldId::Wiring, &trees.join("|")),
        ]);
        let net = format!("{:.3} L", one_net.cubic_metres() * 1e3 * count);
        all.set(FieldId::WantedNet, parse_entry(FieldId::WantedNet, &net, &UnitPrefs::default()).unwrap())
            .unwrap();
        let many = evaluate(&all);
        assert_eq!(many.wiring.as_ref().unwrap().coils.driver_count(), count as usize);
        let (a, b) = (one.sound.as_ref().unwrap(), many.sound.as_ref().unwrap());
        // The box as cut is rounded to the tape: the net volumes differ by a little.
        let part = b.net.cubic_metres() / a.net.cubic_metres() / count;
        assert_near(part, 1.0, 0.02);
        for i in [40, 100, 200] {
            assert_near(b.response.spl_db[i] - a.response.spl_db[i], 20.0 * count.log10(), 0.15);
            let ratio = a.response.impedance_ohm[i].norm() / b.response.impedance_ohm[i].norm();
            assert_near(ratio / count, 1.0, 0.03);
        }
    }
}

// By hand for one driver: 1 Ω is reached by 1 × 1 Ω, 2 × 2 Ω side by side and 4 × 1 Ω two by two: 700 W, rated. Next
// the 2 Ω of 1 × 2 Ω, 2 × 1 Ω in series, 2 × 4 Ω side by side and 4 × 2 Ω two by two: 450 W. Then 1 × 4 Ω: 250 W.
// Last 1 × 8 Ω: outside the ratings. All at the rated 14.4 V.
#[test]
fn which_coils_to_order() {
    let report = report(&[(FieldId::Supply, "14.4")]);
    let rows: Vec<(u8, f64, f64, f64)> = report
        .versions
        .iter()
        .map(|row| {
            let version = &row.version;
            (version.coils, version.nominal.ohms(), version.load.ohms(), row.power.expected().watts().round())
        })
        .collect();
    assert_eq!(rows[..3], [(1, 1.0, 1.0, 700.0), (2, 2.0, 1.0, 700.0), (4, 1.0, 1.0, 700.0)]);
    let mut next = rows[3..7].to_vec();
    next.sort_by(|a, b| a.partial_cmp(b).unwrap());
    assert_eq!(
        next,
        [(1, 2.0, 2.0, 450.0), (2, 1.0, 2.0, 450.0), (2, 4.0, 2.0, 450.0), (4, 2.0, 2.0, 450.0)]
    );
    assert_eq!(rows[7], (1, 4.0, 4.0, 250.0));
    assert_eq!(rows[8], (1, 8.0, 8.0, 125.0));
    assert!(report.versions.iter().all(|row| row.power.stable));
    // An amplifier that wants 4 Ω: what falls below goes behind everything that does not.
    let strict = evaluate(&sheet(&[
        (FieldId::StableLoad, "4"),
        (FieldId::DriverCount, "2"),
        (FieldId::Supply, "14.4"),
    ]));
    let versions = strict.versions;
    let first_unstable = versions.iter().position(|row| !row.power.stable).unwrap_or(versions.len());
    assert!(versions[..first_unstable].iter().all(|row| row.version.load.ohms() >= 4.0 * 0.99));
    assert!(versions[first_unstable..].iter().all(|row| !row.power.stable));
}

// 0.36 Ω before two coils of 1.8 Ω in series is a tenth more resistance: Qes rises by a tenth.
#[test]
fn cable_and_amplifier_raise_qes() {
    let report = report(&[(FieldId::OutputResistance, "0.36"), (FieldId::SpeakerRun, "0")]);
    let damping = report.wiring.unwrap().damping.unwrap();
    assert_near(damping.source.ohms(), 0.36, 1e-12);
    assert_near(damping.qes_driven / damping.qes, 1.1, 1e-9);
}

// The least |Z| of a loudspeaker lies just above its DC resistance, never below; 0.8 of the amplifier's 1 Ω is allowed.
#[test]
fn the_loads_minimum_is_set_beside_the_amplifiers_limit() {
    let demo = report(&[]);
    let load = demo.least_load.unwrap();
    assert!(load.least.ohms() >= 3.6 && load.least.ohms() < 4.4, "{load:?}");
    assert_near(load.allowed.unwrap().ohms(), 0.8, 1e-12);
    assert!(!load.too_low());
    // Nominally 4 Ω a coil but of 1.2 Ω DC resistance, side by side at an amplifier that wants 2 Ω: about 0.6 Ω of 1.6.
    let odd = report(&[
        (FieldId::NominalCoil, "4"),
        (FieldId::Re, "1.2"),
        (FieldId::StableLoad, "2"),
        (FieldId::Wiring, "1A|1B"),
    ]);
    if let Some(load) = odd.least_load {
        assert!(load.too_low(), "{load:?}");
        assert!(odd.warnings.iter().any(|warning| matches!(warning, Warning::LeastLoad { .. })));
    } else {
        panic!("no sound: {:?}", odd.sound);
    }
}

#[test]
fn parts_are_joined_and_taken_apart_by_hand() {
    let coil = kerf_and_coil::model::electrical::wiring::Coil {
        nominal: kerf_and_coil::units::Resistance::from_ohms(2.0),
        dc: kerf_and_coil::units::Resistance::from_ohms(1.8),
        tolerance_percent: 5.0,
    };
    let set = CoilSet::uniform(2, 2, coil).unwrap();
    let start: Tree = "1A-1B-2A".parse().unwrap();
    let mut bench = Bench::of(&start, &set);
    assert_eq!(bench.parts.len(), 2, "the wiring and the coil it leaves open");
    assert_eq!(bench.whole(), None);
    bench.take_apart(0);
    assert_eq!(bench.parts.iter().map(ToString::to_string).collect::<Vec<_>>(), ["1A", "1B", "2A", "2B"]);
    bench.take_apart(9);
    bench.join(&[0, 1], Join::Series);
    bench.join(&[2, 1], Join::Series);
    assert_eq!(bench.parts.iter().map(ToString::to_string).collect::<Vec<_>>(), ["1A-1B", "2A-2B"]);
    bench.join(&[0], Join::Parallel);
    bench.join(&[], Join::Parallel);
    assert_eq!(bench.parts.len(), 2);
    bench.join(&[0, 1, 7], Join::Parallel);
    assert_eq!(bench.whole().unwrap().to_string(), "(1A-1B)|(2A-2B)");
    assert!(bench.whole().unwrap().validate(&set).is_ok());
}

#[test]
fn an_overruled_verdict_is_said_with_its_reason() {
    let mut design = demo::design();
    let reading = |subject: &str, ohm: &str, note: &str| kerf_and_coil::design::document::Reading {
        at_s: 0,
        subject: subject.into(),
        value: kerf_and_coil::units::Entered::parse(
            ohm,
            kerf_and_coil::units::Quantity::Resistance,
            &UnitPrefs::default(),
        )
        .ok(),
        note: note.into(),
    };
    design.log.readings.push(reading("line", "0.9", ""));
    let report = evaluate(&design.sheet);
    assert!(lines::car(&design, &report).starts_with("Not yet"));
    design.log.readings.push(reading("meter overruled", "0.9", "coils joined in parallel on purpose"));
    let line = lines::car(&design, &report);
    assert!(line.contains("overruled") && line.contains("on purpose"), "{line}");
    // Read again, the line speaks for itself.
    design.log.readings.push(reading("line", "3.6", ""));
    assert!(lines::car(&design, &report).contains("reads as drawn"));
}
