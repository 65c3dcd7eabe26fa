//! Whole feeds against worked examples, and the rules every feed must keep.
use kerf_and_coil::model::electrical::cable::{
    AwgSize, Insulation, Material, MetricSize, Size, SizeSystem, ampacity,
};
use kerf_and_coil::model::electrical::feed::{FeedFailure, FeedRequest, ReturnPath, feed};
use kerf_and_coil::model::electrical::fuse::FuseFamily;
use kerf_and_coil::units::{Current, Length, Resistance, Voltage};
use proptest::prelude::*;

use super::cable::celsius;
use crate::assert_near;

fn request(load: f64, supply: f64, one_way: f64, percent: f64) -> FeedRequest {
    FeedRequest {
        load: Current::from_amperes(load),
        supply: Voltage::from_volts(supply),
        one_way: Length::from_metres(one_way),
        return_path: ReturnPath::SameCable,
        allowed_drop_percent: percent,
        material: Material::Copper,
        system: SizeSystem::Awg,
        insulation: Insulation::C105,
        ambient: celsius(20.0),
        families: FuseFamily::ALL.to_vec(),
        short: None,
    }
}

fn awg(number: i8) -> Size {
    Size::Awg(AwgSize::new(number).unwrap())
}

// A marine catalogue's reprint of the ABYC 10 % table: 12 V, 10 A, 11 ft out and 10 ft back takes 16 AWG.
#[test]
fn the_marine_ten_percent_example_takes_16_gauge() {
    let found = feed(&request(10.0, 12.0, 10.5 * 0.3048, 10.0)).unwrap();
    assert_eq!(found.choice().unwrap().cable.size, awg(16));
    assert!(found.options[0].failures.contains(&FeedFailure::Drop), "18 AWG is too thin");
}

// FAA AC 43.13-1B 11-66c, example 1: 28 V system, 1 V allowed, 50 ft with the ground wire, 20 A, 20 °C: between No. 8 and
// No. 10, so No. 8. (Its chart is for tin-plated copper; ours reaches 1 V at No. 10 once its own heat counts.)
#[test]
fn the_aviation_example_takes_8_gauge() {
    let found = feed(&request(20.0, 28.0, 25.0 * 0.3048, 100.0 / 28.0)).unwrap();
    assert_eq!(found.choice().unwrap().cable.size, awg(8));
}

// By hand: 45 A, 14.4 V, 5 m, 3 %, 105 °C insulation at 50 °C. 8 AWG: 80 A · 0.8563 = 68.5 A; at 45 A the conductor is at
// 50 + 55·(45/68.5)² = 73.7 °C; 2.061 Ω/km (handbook) · 10 m · 1.211 = 24.96 mΩ, 1.123 V, 7.8 %: too much. 4 AWG: 0.8152
// Ω/km, 137.0 A, 55.9 °C, 9.30 mΩ, 0.419 V, 2.91 %: enough. Largest fuse to 137.0 A: 125 A.
#[test]
fn a_boot_amplifier_takes_4_gauge_and_125_amperes() {
    let found = feed(&FeedRequest { ambient: celsius(50.0), ..request(45.0, 14.4, 5.0, 3.0) }).unwrap();
    let choice = found.choice().unwrap();
    assert_eq!(choice.cable.size, awg(4));
    assert_near(choice.drop_percent, 2.91, 0.01);
    assert_near(choice.conductor.celsius(), 55.9, 0.1);
    assert_near(choice.ampacity.current.amperes(), 137.0, 0.1);
    assert_eq!(choice.fuse.as_ref().unwrap().rating.amperes(), 125.0);
    let eight = found.options.iter().find(|option| option.cable.size == awg(8)).unwrap();
    assert_eq!(eight.failures, [FeedFailure::Drop]);
    assert_near(eight.drop_percent, 7.8, 0.02);
}

#[test]
fn a_gap_in_the_fuse_steps_takes_a_thicker_cable() {
    // 12 AWG at 105 °C carries 45 A; with large blades alone 41 A finds no step before 50 A.
    let found =
        feed(&FeedRequest { families: vec![FuseFamily::LargeBlade], ..request(41.0, 14.4, 0.1, 10.0) })
            .unwrap();
    let twelve = found.options.iter().find(|option| option.cable.size == awg(12)).unwrap();
    assert_eq!(twelve.failures, [FeedFailure::Fuse]);
    assert_eq!(found.choice().unwrap().cable.size, awg(10));
}

// 33 CFR 183.425(a) is for insulated stranded copper. Copper-clad aluminium gets resistance only: 1/0.629 = 1.59 times
// copper's (conductor_materials.csv), no size and no fuse.
#[test]
fn clad_aluminium_gets_resistance_but_no_recommendation() {
    let cold = FeedRequest { ambient: celsius(20.0), ..request(1.0, 14.4, 5.0, 4.0) };
    let copper = feed(&cold).unwrap();
    let clad = feed(&FeedRequest { material: Material::CopperCladAluminium, ..cold }).unwrap();
    assert!(clad.choice().is_none());
    for (clad, copper) in clad.options.iter().zip(&copper.options) {
        assert!(clad.failures.contains(&FeedFailure::NoTable) && clad.fuse.is_err());
        assert_near(clad.drop.volts() / copper.drop.volts(), 1.59, 0.01);
    }
}

#[test]
fn metric_is_offered() {
    let metric = feed(&FeedRequest { system: SizeSystem::Metric, ..request(80.0, 14.4, 5.0, 4.0) }).unwrap();
    // By hand: 25 mm² has 0.780 Ω/km; 10 m · 80 A = 0.624 V cold, 4.33 %: too much. 35 mm²: 0.443 V, 3.08 % cold, under 4 % warm.
    assert_eq!(metric.choice().unwrap().cable.size, Size::Metric(MetricSize::new(3500).unwrap()));
}

fn any_request() -> impl Strategy<Value = FeedRequest> {
    let numbers = (0.01f64..600.0, 6.0f64..60.0, 0.0f64..30.0, 0.5f64..20.0, -40.0f64..130.0, 0.0f64..0.05);
    let choices = (0usize..3, 0usize..3, 0usize..8, any::<bool>(), 0usize..7);
    (numbers, choices).prop_map(
        |((load, supply, way, percent, air, body), (metal, list, skin, same, family))| {
            let insulations = [&[Insulation::Unknown], &Insulation::RATED[..]].concat();
            FeedRequest {
                return_path: if same {
                    ReturnPath::SameCable
                } else {
                    ReturnPath::Body(Resistance::from_ohms(body))
                },
                material: Material::ALL[metal],
                system: [SizeSystem::Awg, SizeSystem::Metric, SizeSystem::SaeVehicle][list],
                insulation: insulations[skin],
                ambient: celsius(air),
                families: FuseFamily::ALL[family..].to_vec(),
                ..request(load, supply, way, percent)
            }
        },
    )
}

proptest! {
    #[test]
    fn a_recommended_feed_keeps_every_rule(request in any_request()) {
        let found = feed(&request).unwrap();
        prop_assert_eq!(found.options.len(), request.system.sizes().len());
        for option in &found.options {
            let numbers = [option.drop_percent, option.conductor.celsius(), option.loop_resistance.ohms()];
            prop_assert!(numbers.iter().all(|n| n.is_finite()));
        }
        if let Some(choice) = found.choice() {
            let carries = ampacity(choice.cable, request.insulation, request.ambient).unwrap().current;
            let fuse = choice.fuse.as_ref().unwrap().rating;
            prop_assert!(carries >= fuse && fuse >= request.load);
            prop_assert!(choice.drop_percent <= request.allowed_drop_percent);
            prop_assert!(choice.conductor.celsius() <= request.insulation.rating().celsius() + 1e-9);
        }
        let first = found.chosen.unwrap_or(found.options.len());
        prop_assert!(found.options[..first].iter().all(|option| !option.failures.is_empty()));
    }

    #[test]
    fn silly_requests_give_an_answer_or_an_error(
        load in any::<f64>(), supply in any::<f64>(), way in any::<f64>(), percent in any::<f64>(), air in any::<f64>(),
    ) {
        let silly = FeedRequest { ambient: celsius(air), ..request(load, supply, way, percent) };
        if let Ok(found) = feed(&silly) {
            prop_assert!(found.options.iter().all(|option| option.drop_percent.is_finite()));
        }
    }
}
