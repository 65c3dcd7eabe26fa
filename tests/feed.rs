//! The feed of a whole design: by hand, its rules for any design, and each of its doubts.
#[path = "support/designs.rs"]
mod designs;

use kerf_and_coil::design::demo;
use kerf_and_coil::design::document::{Sheet, parse_entry};
use kerf_and_coil::design::evaluate::evaluate;
use kerf_and_coil::design::limits::FieldId;
use kerf_and_coil::design::report::{FeedReport, FeedSide, GainLimit, MeasureKind, Report};
use kerf_and_coil::design::warnings::{FeedWarning, Warning};
use kerf_and_coil::model::electrical::amplifier::PowerBasis;
use kerf_and_coil::model::electrical::cable::Material;
use kerf_and_coil::model::electrical::feed::PROMPT;
use kerf_and_coil::model::electrical::tree::SegmentKind;
use kerf_and_coil::present::feed::{Block, Row, Topic};
use kerf_and_coil::present::tables;
use kerf_and_coil::units::{CableUnit, UnitPrefs};
use proptest::prelude::*;
use proptest::test_runner::Config;

#[track_caller]
fn assert_near(found: f64, expected: f64, tolerance: f64) {
    let difference = (found - expected).abs();
    assert!(difference <= tolerance, "found {found}, expected {expected}, difference {difference:e}");
}

fn demo_with(entries: &[(FieldId, &str)]) -> Sheet {
    let mut sheet = demo::design().sheet;
    for (id, text) in entries {
        let entry = parse_entry(*id, text, &UnitPrefs::default()).expect("an entry of the field");
        sheet.set(*id, entry).expect("within limits");
    }
    sheet
}

fn feed_with(entries: &[(FieldId, &str)]) -> FeedReport {
    let feed = evaluate(&demo_with(entries)).feed.expect("a feed");
    FeedReport::clone(&feed)
}

fn doubts(entries: &[(FieldId, &str)]) -> Vec<FeedWarning> {
    let report = evaluate(&demo_with(entries));
    let feed = |warning: &Warning| match warning {
        Warning::Feed(found) => Some(*found),
        _ => None,
    };
    report.warnings.iter().filter_map(feed).collect()
}

// The demo: 250 W into 4 Ω at 14.4 V, 75 %: a resistor of 14.4²·0.75/250 = 0.622 08 Ω to its supply. With the loop of
// the chosen cable R behind 13.8 V: V = 13.8·0.622 08/(0.622 08 + R), and out 250·(V/14.4)². Gain √(that · 4 Ω).
#[test]
fn operating_point_and_gain_by_hand() {
    let feed = feed_with(&[]);
    let mut least = f64::INFINITY;
    for side in [&feed.metric_side, &feed.gauge_side] {
        let loop_ohm = side.segments[0].feed.choice().expect("a cable").loop_resistance.ohms();
        let volts = 13.8 * 0.622_08 / (0.622_08 + loop_ohm);
        let point = side.running.as_ref().expect("a cable").as_ref().expect("a point");
        assert_near(point.voltage.volts(), volts, 1e-6);
        assert_near(point.current.amperes(), volts / 0.622_08, 1e-5);
        let watts = 250.0 * (volts / 14.4).powi(2);
        assert_near(side.running_power.expect("a power").watts(), watts, 1e-4);
        least = least.min(watts);
    }
    assert_eq!(feed.plan.limit, GainLimit::Amplifier, "250 W are wanted, sag leaves less");
    assert_near(feed.plan.volts.volts(), (4.0 * least).sqrt(), 1e-5);
    assert!(feed.plan.volts.volts() < feed.gain.volts());
    // 100 W wanted: 20 V whatever the supply does.
    let quiet = feed_with(&[(FieldId::GainPower, "100")]);
    assert_eq!(quiet.plan.limit, GainLimit::Wanted);
    assert_near(quiet.plan.volts.volts(), 20.0, 1e-9);
    // Coils of 150 W: √600 V.
    let weak = feed_with(&[(FieldId::ThermalPower, "150")]);
    assert_eq!(weak.plan.limit, GainLimit::Coils);
    assert_near(weak.plan.volts.volts(), 600f64.sqrt(), 1e-9);
}

// Bridged: two channels of 450 W into 2 Ω each make 900 W into the demo's 4 Ω; with the maker's 800 W into 4 Ω that wins.
#[test]
fn bridged_and_strapped() {
    let supply = (FieldId::Supply, "14.4");
    let bridged = feed_with(&[(FieldId::OutputUse, "bridged"), (FieldId::Channels, "2"), supply]);
    assert_near(bridged.power.expected().watts(), 900.0, 1e-9);
    assert_near(bridged.amplifier.least_load().ohms(), 2.0, 1e-12);
    let told = [
        (FieldId::OutputUse, "bridged"),
        (FieldId::Channels, "2"),
        (FieldId::BridgedLoad, "4"),
        (FieldId::BridgedWatts, "800"),
        supply,
    ];
    let told = feed_with(&told);
    assert_near(told.power.expected().watts(), 800.0, 1e-9);
    assert_eq!(told.power.basis, PowerBasis::Rated);
    assert_near(told.amplifier.least_load().ohms(), 4.0, 1e-12);
    assert!(
        evaluate(&demo_with(&[(FieldId::OutputUse, "bridged"), (FieldId::Channels, "1")])).feed.is_err(),
        "one channel can't be bridged"
    );
    // Two strapped: each on its own branch with half the draw.
    let strapped = feed_with(&[(FieldId::OutputUse, "strapped"), (FieldId::StrapAllowed, "allowed"), supply]);
    assert_near(strapped.power.expected().watts(), 900.0, 1e-9);
    let draws: Vec<f64> =
        strapped.metric_side.segments.iter().map(|segment| segment.draw.worst_case.amperes()).collect();
    let whole = 900.0 / 0.75 / 14.4;
    assert_eq!(draws.len(), 3);
    draws
        .iter()
        .zip([whole, whole / 2.0, whole / 2.0])
        .for_each(|(found, by_hand)| assert_near(*found, by_hand, 1e-9));
}

// At the test's current: cold resistance of the chosen cable up, IEC 60228 and by hand. 10 mm² is 1.91 Ω/km.
#[test]
fn what_to_measure_by_hand() {
    let feed = feed_with(&[(FieldId::TestCurrent, "10")]);
    let option = feed.metric.choice().expect("a cable");
    let per_km = [("10", 1.91), ("16", 1.21), ("6", 3.30), ("25", 0.780)];
    let size = option.cable.size.to_string();
    let ohm = per_km.iter().find(|(name, _)| *name == size).expect("a size of the table").1 * 4.6e-3;
    let find = |kind| *feed.metric_side.measure.iter().find(|each| each.kind == kind).expect("listed");
    let plus = find(MeasureKind::MainPlus);
    assert_near(plus.low, 10.0 * ohm, 1e-9);
    assert!(plus.high > plus.low && plus.high < 1.3 * plus.low);
    assert_eq!(find(MeasureKind::Return).low, plus.low);
    let fuse = option.fuse.as_ref().expect("a fuse").rating.amperes();
    assert_near(find(MeasureKind::MainFuse).high, 0.1 * 10.0 / fuse, 1e-12);
    assert_near(find(MeasureKind::AmplifierTerminals).high, 13.8 - 20.0 * ohm, 1e-9);
    assert_near(find(MeasureKind::Drain).high, 0.05, 1e-12);
    // The body instead of a cable: 10 A over 1.5 mΩ.
    let body = feed_with(&[(FieldId::TestCurrent, "10"), (FieldId::ReturnVia, "body")]);
    let back = body.metric_side.measure.iter().find(|each| each.kind == MeasureKind::Return).expect("listed");
    assert_near(back.high, 0.015, 1e-12);
}

// Second battery: fuses at both ends. Charger of 30 A: 30·14.4/(13.8·0.85) = 36.83 A in. Charge cable: the alternator's
// rating, fused at the battery.
#[test]
fn second_battery_and_charge_cable() {
    let entries = [
        (FieldId::SecondBattery, "charger"),
        (FieldId::SecondRun, "4"),
        (FieldId::AlternatorRating, "120"),
        (FieldId::AlternatorRun, "1.5"),
        (FieldId::Insulation, "105 C"),
    ];
    let feed = feed_with(&entries);
    for side in [&feed.metric_side, &feed.gauge_side] {
        let find = |kind| side.segments.iter().find(|segment| segment.kind == kind).expect("a segment");
        let (link, charge) = (find(SegmentKind::Link), find(SegmentKind::Charge));
        assert_eq!((link.fused_ends, charge.fused_ends), (2, 1));
        assert_near(link.draw.worst_case.amperes(), 36.829, 0.001);
        assert_near(charge.draw.worst_case.amperes(), 120.0, 1e-9);
        let fuse = charge.feed.choice().expect("a cable").fuse.as_ref().expect("a fuse").rating.amperes();
        assert!(fuse >= 120.0);
    }
    // Isolator: 1.8 V over two batteries of 450/70 mΩ: 140 A, more than the alternator's 120 A.
    let isolator = feed_with(&[(FieldId::SecondBattery, "isolator"), (FieldId::SecondRun, "4")]);
    let link = isolator.metric_side.segments.last().expect("a link");
    assert_near(link.draw.worst_case.amperes(), 1.8 / (2.0 * 0.45 / 70.0), 1e-6);
}

// SAE vehicle cable has less copper: never a thinner number than AWG for the same feed.
#[test]
fn gauge_numbers_by_vehicle_cable() {
    let awg = feed_with(&[]);
    let sae = feed_with(&[(FieldId::GaugeKind, "SAE")]);
    let area = |feed: &FeedReport| {
        feed.gauge.choice().expect("a cable").cable.size.copper_equivalent_area().square_metres()
    };
    let size = |feed: &FeedReport| feed.gauge.choice().expect("a cable").cable.size;
    assert_ne!(size(&awg), size(&sae));
    assert!(area(&sae) > 0.0 && sae.gauge.choice().expect("a cable").drop_percent <= 3.0);
    // Whoever buys by the number has to know which of the two it is.
    let shown = |feed: &FeedReport| tables::size(size(feed));
    assert!(shown(&awg).ends_with("\u{a0}AWG") && shown(&sae).ends_with("\u{a0}SAE"), "{}", shown(&sae));
}

// Impedance rise: no more than √(P·Z) meant, and at resonance far less. The response's own impedance is tested elsewhere.
#[test]
fn the_box_takes_power() {
    let feed = feed_with(&[]);
    let real = feed.real.expect("a sound");
    assert_eq!(real.at.len(), 9);
    assert!(real.least.power.watts() < 0.3 * feed.plan.power.watts(), "{real:?}");
    assert!(real.most.power.watts() < 1.3 * feed.plan.power.watts());
    assert!(real.least.power <= real.mean && real.mean <= real.most.power);
    for point in &real.at {
        let resistive = feed.plan.volts.volts().powi(2) / point.impedance.ohms();
        assert!(point.power.watts() <= resistive * (1.0 + 1e-9));
    }
}

// What the loudspeaker cable does to the level is the difference of two designs, one with 15 m of 1.5 mm² and one without
// a run. Far above resonance, by hand: 15 m out and back at 13.3 Ω/km are 0.399 Ω beside a line of about 3.6 Ω DC; the
// load's |Z| there is no less, so at most 20·log(3.6/4.0) = −0.92 dB, and Qts only rises.
#[test]
fn the_loudspeaker_cable_in_the_response() {
    let entries = [(FieldId::SpeakerRun, "15"), (FieldId::SpeakerCable, "1.5 mm2")];
    let (with, without) =
        (evaluate(&demo_with(&entries)), evaluate(&demo_with(&[(FieldId::SpeakerRun, "0")])));
    let found = &with.feed.as_ref().expect("a feed").line.response;
    assert_eq!(found.len(), 9);
    let [with, without] = [&with, &without].map(|report| report.sound.as_ref().expect("a sound"));
    let level = |curve: &[f64], hz: f64| {
        // Between the neighbouring points of the curve, straight in log frequency.
        let grid = &with.response.frequencies_hz;
        let at = grid.iter().position(|one| *one >= hz).expect("within the curve").max(1);
        let part = (hz / grid[at - 1]).ln() / (grid[at] / grid[at - 1]).ln();
        curve[at - 1] + part * (curve[at] - curve[at - 1])
    };
    for (hz, decibels) in found {
        let hz = hz.hertz();
        let by_curves = level(&with.response.spl_db, hz) - level(&without.response.spl_db, hz);
        assert_near(*decibels, by_curves, 0.01);
        assert!((-0.95..0.3).contains(decibels), "{decibels} dB at {hz} Hz");
    }
    let (least, most) = found.iter().fold((f64::MAX, f64::MIN), |(a, b), (_, d)| (a.min(*d), b.max(*d)));
    assert!(most - least > 0.2, "not the same loss at every frequency: {least} to {most}");
}

/// A cable is proved on the bench, before there is any design.
#[test]
fn a_cable_is_proved_without_a_feed() {
    let mut sheet = Sheet::default();
    for (id, text) in [
        (FieldId::ProofLength, "1000"),
        (FieldId::ProofMass, "188"),
        (FieldId::ProofCurrent, "10"),
        (FieldId::ProofMillivolts, "8.15"),
    ] {
        sheet
            .set(id, parse_entry(id, text, &UnitPrefs::default()).expect("an entry"))
            .expect("within limits");
    }
    let report = evaluate(&sheet);
    assert!(report.feed.is_err() && report.warnings.is_empty());
    let proof = report.proof.as_ref().expect("entered").as_ref().expect("proved");
    assert_eq!((proof.proof.metals[0].material, proof.proof.sure), (Material::Copper, true));
    assert!(told(Topic::Proof, &report, &sheet, &UnitPrefs::default()).contains("It is copper."));
}

// 16 mm² copper by weight alone: IEC 60228 class 5 needs 14.25 mm² (1.21 Ω/km), the name says 16: 126.7 g to 142.2 g a
// metre are both as sold.
#[test]
fn a_metric_cable_may_hold_its_nominal_area_or_what_its_resistance_needs() {
    for grams in ["126.7", "135", "142.2", "147"] {
        let entries =
            [(FieldId::ProofSize, "16 mm2"), (FieldId::ProofLength, "1000"), (FieldId::ProofMass, grams)];
        assert_eq!(doubts(&entries), [], "{grams} g");
        let proof = evaluate(&demo_with(&entries)).proof.expect("entered").expect("proved");
        assert!(proof.proof.copper_fits && proof.proof.metals[0].material == Material::Copper);
    }
}

#[test]
fn a_good_job_has_no_doubt() {
    assert_eq!(doubts(&[]), []);
    let full = [
        (FieldId::AlternatorRating, "150"),
        (FieldId::RestVolts, "12.6"),
        (FieldId::AmplifierFuse, "30"),
        (FieldId::SecondBattery, "charger"),
        (FieldId::SecondRun, "3"),
        (FieldId::AlternatorRun, "1.5"),
        (FieldId::Insulation, "105 C"),
        (FieldId::OtherDraw, "20"),
        (FieldId::ProofSize, "16 mm2"),
        (FieldId::ProofLength, "500"),
        (FieldId::ProofMass, "71"),
        (FieldId::ProofCurrent, "10"),
        (FieldId::ProofMillivolts, "10.8"),
    ];
    assert_eq!(doubts(&full), []);
    assert_eq!(doubts(&[(FieldId::OutputUse, "strapped"), (FieldId::StrapAllowed, "allowed")]), []);
}

#[test]
fn every_doubt_appears_when_due() {
    use FeedWarning as W;
    type Case<'a> = (&'a [(FieldId, &'a str)], fn(&W) -> bool);
    let cases: &[Case<'_>] = &[
        (
            &[(FieldId::BatteryKind, "AGM")],
            |w| matches!(w, W::Breaking { at_fuse } if at_fuse.amperes() > 2000.0),
        ),
        (&[(FieldId::FuseDistance, "500")], |w| matches!(w, W::FuseFar { .. })),
        (&[(FieldId::Ambient, "80"), (FieldId::Insulation, "unknown")], |w| {
            matches!(w, W::InsulationTooCool { segment: SegmentKind::Main, .. })
        }),
        (
            &[
                (FieldId::AlternatorRating, "120"),
                (FieldId::AlternatorRun, "1"),
                (FieldId::EngineAmbient, "100"),
            ],
            |w| matches!(w, W::InsulationTooCool { segment: SegmentKind::Charge, .. }),
        ),
        (&[(FieldId::AlternatorRating, "600"), (FieldId::AlternatorRun, "1")], |w| {
            matches!(w, W::NoSegment(SegmentKind::Charge))
        }),
        (&[(FieldId::OutputUse, "strapped")], |w| matches!(w, W::StrapNotAllowed)),
        (&[(FieldId::AmplifierFuse, "10")], |w| matches!(w, W::RatingBeyondFuse { .. })),
        (&[(FieldId::AlternatorRating, "80")], |w| matches!(w, W::IdleShort { .. })),
        (&[(FieldId::AlternatorRating, "40")], |w| matches!(w, W::DrivingShort { .. })),
        (&[(FieldId::RestVolts, "12.1")], |w| matches!(w, W::BatteryLow)),
        (&[(FieldId::Supply, "10.6")], |w| matches!(w, W::LowAtAmplifier { .. })),
        (
            &[
                (FieldId::ProofLength, "1000"),
                (FieldId::ProofMass, "53.1"),
                (FieldId::ProofCurrent, "10"),
                (FieldId::ProofMillivolts, "17.1"),
            ],
            |w| matches!(w, W::NotCopper(Material::CopperCladAluminium)),
        ),
        (
            &[(FieldId::ProofSize, "16 mm2"), (FieldId::ProofLength, "1000"), (FieldId::ProofMass, "53.1")],
            |w| matches!(w, W::NotAsSold { .. }),
        ),
        (
            &[
                (FieldId::ProofSize, "16 mm2"),
                (FieldId::ProofLength, "1000"),
                (FieldId::ProofMass, "89"),
                (FieldId::ProofCurrent, "10"),
                (FieldId::ProofMillivolts, "17.2"),
            ],
            |w| matches!(w, W::ThinCopper { .. }),
        ),
    ];
    for (entries, due) in cases {
        let found = doubts(entries);
        assert!(found.iter().any(due), "{entries:?}: {found:?}");
        assert_eq!(found.len(), 1, "{entries:?}: {found:?}");
    }
    // A stated breaking capacity above the battery's short takes the first one back.
    assert_eq!(doubts(&[(FieldId::BatteryKind, "AGM"), (FieldId::FuseBreaking, "20000")]), []);
}

// 2000 W regulated at 75 % take 2667 W; 60 mΩ of body with the thickest cable leave less than 13.8²/0.24 = 793 W.
#[test]
fn an_impossible_amplifier_has_no_operating_point() {
    let entries = [
        (FieldId::Watts4, "2000"),
        (FieldId::ThermalPower, "2000"),
        (FieldId::SupplyKind, "regulated"),
        (FieldId::ReturnVia, "body"),
        (FieldId::BodyMilliohm, "60"),
        (FieldId::DropLimit, "20"),
    ];
    let feed = feed_with(&entries);
    assert!(feed.metric.choice().is_none() && feed.metric_side.running_power.is_none());
    let none = feed.metric_side.running.as_ref().expect("a cable").as_ref().expect_err("no point");
    assert!(none.most.watts() < 793.5);
    assert_near(none.wanted.watts(), 2000.0 / 0.75, 1e-6);
    let found = doubts(&entries);
    assert!(matches!(found[..], [FeedWarning::NoOperatingPoint { .. }]), "{found:?}");
    // The gain then reckons with the whole drop allowed.
    assert_near(feed.plan.power.watts(), 250.0, 1e-9);
    assert!(doubts(&[(FieldId::SupplyKind, "regulated")]).is_empty());
}

// A whole feed: main cable, four amplifiers on branches of their own lengths, second battery fused at both ends, charge
// cable. By hand: ours 229.6 W/0.75/13.8 V = 22.19 A, the others 40, 25 and 10 A: 97.19 A in the main cable; averages a
// third of each. Every fuse between load and cable (side_holds). Strapped, our two halves have a branch each.
#[test]
fn a_whole_feed_tree() {
    let entries = [
        (FieldId::OtherDraw, "40"),
        (FieldId::OtherRun, "1.5"),
        (FieldId::SecondOtherDraw, "25"),
        (FieldId::ThirdOtherDraw, "10"),
        (FieldId::ThirdOtherRun, "3"),
        (FieldId::SecondBattery, "isolator"),
        (FieldId::SecondRun, "4"),
        (FieldId::AlternatorRating, "150"),
        (FieldId::AlternatorRun, "1.5"),
        (FieldId::Insulation, "105 C"),
        (FieldId::DropLimit, "6"),
    ];
    let feed = feed_with(&entries);
    use SegmentKind::{Branch, Charge, Link, Main};
    for side in [&feed.metric_side, &feed.gauge_side] {
        let found: Vec<_> = side.segments.iter().map(|one| (one.kind, one.fused_ends)).collect();
        let wanted = [
            (Main, 1),
            (Branch(0), 1),
            (Branch(1), 1),
            (Branch(2), 1),
            (Branch(3), 1),
            (Link, 2),
            (Charge, 1),
        ];
        assert_eq!(found, wanted);
        let metres: Vec<f64> = side.segments.iter().map(|one| one.one_way.metres()).collect();
        assert_eq!(metres[1..5], [0.5, 1.5, 0.5, 3.0]);
        let amperes = |at: usize| side.segments[at].draw.worst_case.amperes();
        assert_near(amperes(0), 22.19 + 75.0, 0.01);
        [40.0, 25.0, 10.0].iter().enumerate().for_each(|(at, a)| assert_near(amperes(at + 2), *a, 1e-9));
        let average: f64 = side.segments[1..5].iter().map(|one| one.draw.average.amperes()).sum();
        assert_near(side.segments[0].draw.average.amperes(), average, 1e-9);
        assert_near(average, 0.33 * 97.19, 0.01);
        side_holds(side, &feed).expect("every rule");
    }
    let strapped =
        [&entries[..], &[(FieldId::OutputUse, "strapped"), (FieldId::StrapAllowed, "allowed")]].concat();
    let strapped = feed_with(&strapped);
    let branches = strapped.metric_side.segments.iter().filter(|one| matches!(one.kind, Branch(_))).count();
    assert_eq!(branches, 5);
}

// A branch's place is as warm as the main run's warmest until something is typed: by hand, 60 °C and √((75 − 60)/(75 − 30)).
#[test]
fn a_branch_is_as_warm_as_the_main_run_unless_typed() {
    let feed = feed_with(&[(FieldId::Ambient, "60"), (FieldId::OtherDraw, "40")]);
    for segment in &feed.metric_side.segments {
        assert_near(segment.ambient.celsius(), 60.0, 1e-9);
        assert_near(segment.feed.options[0].ampacity.ambient_factor, (15.0 / 45.0_f64).sqrt(), 1e-3);
    }
    let typed =
        feed_with(&[(FieldId::Ambient, "60"), (FieldId::BranchAmbient, "30"), (FieldId::OtherDraw, "40")]);
    let celsius: Vec<f64> = typed.metric_side.segments.iter().map(|one| one.ambient.celsius()).collect();
    assert_eq!(celsius, [60.0, 30.0, 30.0]);
}

// Each branch its own surroundings and insulation. 33 CFR 183.425: √((Ti − Ta)/(Ti − 30)): 105 °C at 60 °C √(45/75), 75 °C at
// 50 °C √(25/45), unknown takes the lowest column, 60 °C, at 40 °C √(20/30). What is not typed is as ours, or as the main cable.
#[test]
fn each_branch_has_its_own_surroundings_and_insulation() {
    let entries = [
        (FieldId::BranchAmbient, "50"),
        (FieldId::OtherDraw, "40"),
        (FieldId::OtherAmbient, "60"),
        (FieldId::OtherInsulation, "105 C"),
        (FieldId::SecondOtherDraw, "25"),
        (FieldId::ThirdOtherDraw, "10"),
        (FieldId::ThirdOtherAmbient, "40"),
        (FieldId::ThirdOtherInsulation, "unknown"),
    ];
    let feed = feed_with(&entries);
    for side in [&feed.metric_side, &feed.gauge_side] {
        let wanted = [
            (40.0, 75.0, (35.0 / 45.0_f64).sqrt()),
            (50.0, 75.0, (25.0 / 45.0_f64).sqrt()),
            (60.0, 105.0, (45.0 / 75.0_f64).sqrt()),
            (50.0, 75.0, (25.0 / 45.0_f64).sqrt()),
            (40.0, 60.0, (20.0 / 30.0_f64).sqrt()),
        ];
        assert_eq!(side.segments.len(), wanted.len());
        for (segment, (ambient, rating, factor)) in side.segments.iter().zip(wanted) {
            let ampacity = segment.feed.options[0].ampacity;
            assert_near(segment.ambient.celsius(), ambient, 1e-9);
            assert_near(ampacity.insulation.rating().celsius(), rating, 1e-9);
            assert_near(ampacity.ambient_factor, factor, 1e-3);
        }
    }
    let own = [&entries[..], &[(FieldId::BranchInsulation, "90 C")]].concat();
    let ampacity = feed_with(&own).metric_side.segments[1].feed.options[0].ampacity;
    assert_near(ampacity.ambient_factor, (40.0 / 60.0_f64).sqrt(), 1e-3);
}

// 1 W of our own beside 500 A of others: the cable sees 500 A, and the feed is told, not refused. The others' drop is
// lost before ours begins: with the metric choice 13.8 V − 500 A · R.
#[test]
fn extreme_other_consumers_leave_a_feed() {
    let small = [(FieldId::Watts4, "1"), (FieldId::Watts2, "1"), (FieldId::Watts1, "1")];
    let entries = [&small[..], &[(FieldId::OtherDraw, "500")]].concat();
    let feed = feed_with(&entries);
    for side in [&feed.metric_side, &feed.gauge_side] {
        let main = &side.segments[0];
        assert!(main.draw.worst_case.amperes() > 500.0);
        let ohm = main.feed.choice().or(main.feed.options.last()).expect("sizes").loop_resistance.ohms();
        match side.running.as_ref().expect("a cable") {
            Ok(point) => assert_near(point.voltage.volts(), 13.8 - 500.0 * ohm, 0.05),
            Err(none) => assert!(13.8 - 500.0 * ohm < 2.1, "{none:?}"),
        }
    }
    // Through a poor body nothing is left: no operating point, told as such.
    let body = [(FieldId::ReturnVia, "body"), (FieldId::BodyMilliohm, "30")];
    let entries = [&entries[..], &body].concat();
    let feed = feed_with(&entries);
    assert!(feed.metric_side.running.as_ref().expect("a cable").is_err());
    assert!(doubts(&entries).iter().any(|doubt| matches!(doubt, FeedWarning::NoOperatingPoint { .. })));
}

fn side_holds(side: &FeedSide, feed: &FeedReport) -> Result<(), TestCaseError> {
    for segment in &side.segments {
        let Some(option) = segment.feed.choice() else { continue };
        let fuse = option.fuse.as_ref().expect("a cable that does has a fuse").rating.amperes();
        prop_assert!(option.cable.material == Material::Copper);
        prop_assert!(segment.draw.worst_case.amperes() <= fuse && fuse <= option.ampacity.current.amperes());
        let short = option.short.expect("a source");
        prop_assert!(short.far_end.amperes() >= PROMPT * fuse * (1.0 - 1e-9));
        prop_assert!(option.ampacity.ambient_factor > 0.0);
    }
    for point in [&side.running, &side.resting].into_iter().flatten().flatten() {
        let (v, i) = (point.voltage.volts(), point.current.amperes());
        prop_assert!((v * i - point.power.watts()).abs() <= 1e-6 * (1.0 + point.power.watts()));
        prop_assert!(point.power.watts() > 0.0 && point.sag.volts() >= 0.0);
    }
    for measure in &side.measure {
        prop_assert!(measure.low.is_finite() && measure.low <= measure.high + 1e-12, "{measure:?}");
    }
    prop_assert!(
        feed.plan.volts.volts() <= feed.gain.volts() * (1.0 + 1e-9)
            || feed.plan.limit == GainLimit::Amplifier
    );
    Ok(())
}

/// Everything a topic says, one text.
fn told(topic: Topic, report: &Report, sheet: &Sheet, prefs: &UnitPrefs) -> String {
    let block = |block: &Block| match block {
        Block::Pairs(rows) => rows.iter().map(|(name, value)| format!("{name}: {value}\n")).collect(),
        Block::Text(text) => text.clone(),
        Block::Steps(steps) => steps.join("\n"),
        Block::Caution(text) => (*text).to_owned(),
        Block::Table { heads, rows } => {
            let row = |row: &Row| {
                assert_eq!(row.cells.len() + 1, heads.len(), "{topic:?}");
                let cells = row.cells.iter().map(|(a, b)| format!(" | {a} ({b})"));
                format!("{} ({}){}\n", row.header.0, row.header.1, cells.collect::<String>())
            };
            rows.iter().map(row).collect()
        }
    };
    topic.blocks(report, sheet, prefs).iter().map(block).collect::<Vec<String>>().join("\n")
}

fn prefs() -> [UnitPrefs; 2] {
    [UnitPrefs::default(), UnitPrefs { cable: CableUnit::Gauge, ..UnitPrefs::default() }]
}

fn topics() -> impl Iterator<Item = Topic> {
    Topic::FEED.iter().chain(Topic::AMPLIFIER).copied()
}

// What the page shows is the report: sizes of both lists, the point settled on, the published distances.
#[test]
fn topics_say_what_the_report_holds() {
    let sheet =
        demo_with(&[(FieldId::OtherDraw, "20"), (FieldId::CapFarads, "1"), (FieldId::RestVolts, "12.3")]);
    let report = evaluate(&sheet);
    let feed = report.feed.clone().expect("a feed");
    let [metric, gauge] = prefs();
    let say = |topic, prefs| told(topic, &report, &sheet, prefs).replace('\u{a0}', " ");
    for (prefs, list) in [(&metric, &feed.metric_side), (&gauge, &feed.gauge_side)] {
        let cables = say(Topic::Cables, prefs);
        for segment in &list.segments {
            let size =
                kerf_and_coil::present::tables::size(segment.feed.choice().expect("a cable").cable.size);
            assert!(cables.contains(&size.replace('\u{a0}', " ")), "{size}: {cables}");
        }
        assert!(cables.contains("branch to amplifier 2") && cables.contains("Beside it"), "{cables}");
    }
    let fuse = say(Topic::Fuse, &metric);
    for part in ["33 CFR 183.455(b)", "178 mm", "ISO 13590", "900 mm", "450 mm", "common practice, no source"]
    {
        assert!(fuse.contains(part), "{part}: {fuse}");
    }
    // 12.3 V: 50 % by one text, half-way from 50 % to 75 % by the other.
    assert!(
        say(Topic::Supply, &metric).contains("50 % to 62 %")
            || say(Topic::Supply, &metric).contains("50 % to 63 %")
    );
    assert!(say(Topic::Capacitor, &metric).contains("95 J"), "½ · 1 F · (13.8 V)²");
    assert!(say(Topic::Gain, &metric).contains("sags to under load"));
    assert!(say(Topic::Measure, &metric).contains("amplifier minus to battery minus"));
}

proptest! {
    #![proptest_config(Config::with_cases(192))]

    #[test]
    fn no_topic_says_nonsense(design in designs::altered_demo()) {
        let report = evaluate(&design.sheet);
        for prefs in prefs() {
            for topic in topics() {
                let text = told(topic, &report, &design.sheet, &prefs);
                prop_assert!(!text.is_empty() || report.feed.is_err(), "{topic:?}");
                prop_assert!(!text.contains("NaN") && !text.contains("inf\u{a0}"), "{text}");
            }
        }
    }

    #[test]
    fn any_feed_keeps_its_rules(design in designs::altered_demo()) {
        if let Ok(feed) = evaluate(&design.sheet).feed {
            side_holds(&feed.metric_side, &feed)?;
            side_holds(&feed.gauge_side, &feed)?;
            if let Some(real) = &feed.real {
                prop_assert!(real.least.power.watts() >= 0.0 && real.mean.watts().is_finite());
            }
        }
    }

    // Whatever else hangs on the feed, it is worked out.
    #[test]
    fn other_consumers_never_refuse_the_feed(
        other in 1_u32..=500, watts in 1_u32..=50_000, body in 0_u32..=100, smart in any::<bool>(),
    ) {
        let (other, watts, body) = (other.to_string(), watts.to_string(), body.to_string());
        let charging = if smart { "smart" } else { "alternator" };
        let sheet = demo_with(&[
            (FieldId::OtherDraw, &other), (FieldId::Watts4, &watts), (FieldId::ReturnVia, "body"),
            (FieldId::BodyMilliohm, &body), (FieldId::Charging, charging),
        ]);
        let feed = evaluate(&sheet).feed;
        prop_assert!(feed.is_ok(), "{:?}", feed.err());
        let feed = feed.expect("just looked");
        side_holds(&feed.metric_side, &feed)?;
        side_holds(&feed.gauge_side, &feed)?;
    }

    #[test]
    fn any_design_whatever_has_a_sound_feed(design in designs::random_design()) {
        if let Ok(feed) = evaluate(&design.sheet).feed {
            side_holds(&feed.metric_side, &feed)?;
        }
    }
}

fn texts(topic: Topic, entries: &[(FieldId, &str)]) -> String {
    let sheet = demo_with(entries);
    format!("{:?}", topic.blocks(&evaluate(&sheet), &sheet, &UnitPrefs::default()))
}

// 2500 W into 4 Ω at 14.4 V, 75 %: 14.4²·0.75/2500 = 0.062 208 Ω to its supply, 222 A at 13.8 V. An alternator of 80 A less
// 30 A of the vehicle's own leaves 50 A; a wet battery of 70 Ah (12.63 V behind 6.429 mΩ) brings the rest: the same current
// through amplifier, cable and battery, V = (12.63 + 50·R)·Ra/(Ra + Rc + R).
#[test]
fn what_the_alternator_lacks_comes_from_the_battery() {
    let loud = [
        (FieldId::Watts4, "2500"),
        (FieldId::Watts2, "4500"),
        (FieldId::Watts1, "7000"),
        (FieldId::CableRun, "2"),
        (FieldId::ExistingLoad, "30"),
    ];
    let with = |rating: Option<&str>| {
        let mut entries = loud.to_vec();
        entries.extend(rating.map(|rating| (FieldId::AlternatorRating, rating)));
        feed_with(&entries)
    };
    let (held, short) = (with(None), with(Some("80")));
    let point = |side: &FeedSide| *side.running.as_ref().expect("a source").as_ref().expect("a point");
    let battery = short.supply.source;
    let (amplifier, cable) =
        (0.062_208, short.metric_side.segments[0].feed.choice().expect("a cable").loop_resistance);
    let internal = battery.resistance.ohms();
    let expected =
        (battery.emf.volts() + 50.0 * internal) * amplifier / (amplifier + cable.ohms() + internal);
    assert_near(point(&short.metric_side).voltage.volts(), expected, 1e-5);
    assert!(short.metric_side.battery_helps && !held.metric_side.battery_helps);
    assert!(point(&short.metric_side).voltage < point(&held.metric_side).voltage);
    assert!(short.plan.volts <= held.plan.volts);
    // One that covers it changes nothing; nor does one where a second battery lies between.
    let enough = with(Some("400"));
    assert_near(point(&enough.metric_side).voltage.volts(), point(&held.metric_side).voltage.volts(), 1e-12);
    assert!(!enough.metric_side.battery_helps);
    let told = texts(Topic::Cables, &[loud.as_slice(), &[(FieldId::AlternatorRating, "80")]].concat());
    assert!(told.contains("the battery helps"), "{told}");
}

// Of another metal than copper the list tells resistance and drop, no current it may carry: no table covers it.
#[test]
fn clad_aluminium_carries_no_figure() {
    let feed = feed_with(&[(FieldId::CableMaterial, "copper-clad aluminium")]);
    for list in [&feed.metric, &feed.gauge] {
        let rows = tables::cables(list);
        assert_eq!(rows.len(), 5);
        for row in &rows {
            assert!(!row.carries.contains('A') && row.drop.contains('%') && !row.chosen, "{row:?}");
        }
        // The thin ones lose too much, the thick ones do not: the list stands where that changes.
        assert!(rows.iter().any(|row| row.why_not.contains("loses too much")), "{rows:?}");
        assert!(rows.iter().any(|row| !row.why_not.contains("loses too much")), "{rows:?}");
    }
}

// An AGM battery of 70 Ah drives about 3 kA; the families of ISO 8820 break 1 kA or 2 kA: none of them is said to.
#[test]
fn types_that_do_not_break_the_short_are_not_said_to() {
    let strong = texts(Topic::Fuse, &[(FieldId::BatteryKind, "AGM")]);
    assert!(
        strong.contains("none is known to break the short") && !strong.contains("and break the short"),
        "{strong}"
    );
    let weak = texts(Topic::Fuse, &[]);
    assert!(weak.contains("types that have it and break the short"), "{weak}");
}

// 500 F with 50 mΩ: 15 A take 0.74 V at once, more than the 0.5 V of sag allowed. 1 F with 2 mΩ gives ½·(13.8² − 13.3²) = 6.8 J.
#[test]
fn a_capacitor_whose_own_resistance_takes_the_sag_gives_nothing() {
    let slow = texts(Topic::Capacitor, &[(FieldId::CapFarads, "500"), (FieldId::CapMilliohm, "50")]);
    assert!(slow.contains("takes the whole sag at once") && slow.contains("0.0\\u{a0}J"), "{slow}");
    let good = texts(Topic::Capacitor, &[(FieldId::CapFarads, "1"), (FieldId::CapMilliohm, "2")]);
    assert!(good.contains("6.8\\u{a0}J") && !good.contains("takes the whole sag"), "{good}");
}

// Who bridges has two channels: nothing is refused unless one is entered.
#[test]
fn bridging_is_refused_only_with_one_channel_entered() {
    let feed = |entries: &[(FieldId, &str)]| evaluate(&demo_with(entries)).feed;
    assert!(feed(&[(FieldId::OutputUse, "bridged")]).is_ok());
    assert!(feed(&[(FieldId::OutputUse, "bridged"), (FieldId::Channels, "1")]).is_err());
}
