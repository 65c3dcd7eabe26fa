//! Fuses against ISO 8820, 33 CFR 183.455 and the placement rules.
use std::time::Duration;

use kerf_and_coil::model::electrical::Standing;
use kerf_and_coil::model::electrical::fuse::{
    FuseFamily, NoFuse, PLACEMENT_RULES, choose, regulatory_ceiling,
};
use kerf_and_coil::units::{Current, Length, Voltage};
use proptest::prelude::*;

use super::{number, rows};
use crate::assert_near;

const RATINGS: &str = include_str!("../data/electrical/fuse_ratings.csv");
const GATES: &str = include_str!("../data/electrical/fuse_time_current.csv");
const LIMITS: &str = include_str!("../data/electrical/overcurrent_rating_limits.csv");
const PLACES: &str = include_str!("../data/electrical/overcurrent_placement_rules.csv");

fn amperes(value: f64) -> Current {
    Current::from_amperes(value)
}

// Every step of every family with what is known of it; scopes give voltage and breaking capacity.
#[test]
fn ratings_are_those_of_the_families() {
    let mut ours = Vec::new();
    for family in FuseFamily::ALL {
        for offer in family.ratings() {
            let volts = family.rated_voltage().volts();
            ours.push((family.standard(), volts, family.breaking_capacity().amperes(), offer));
        }
    }
    let table = rows(RATINGS);
    assert_eq!(ours.len(), table.len());
    for ((standard, volts, breaking, offer), row) in ours.into_iter().zip(table) {
        let kind = row[1].strip_prefix("Type ").unwrap_or("");
        assert_eq!(standard, format!("{} {kind}", row[0]).trim_end());
        // 32 and 58 V versions exist of some; the lower is assumed.
        assert_eq!(volts, number(row[3].split('/').next().unwrap()));
        assert_eq!(breaking, number(&row[4]));
        assert_eq!(offer.rating.amperes(), number(&row[5]));
        assert_eq!(offer.standing == Standing::Verified, row[6] == "verified");
    }
}

#[test]
fn ceiling_is_that_of_the_regulation() {
    let table = rows(LIMITS);
    let at = |volts| regulatory_ceiling(amperes(100.0), Voltage::from_volts(volts)).amperes();
    assert_near(at(12.0), 100.0 * number(&table[0][2]), 1e-9);
    assert_near(at(50.0), 100.0 * number(&table[1][2]), 1e-9);
}

#[test]
fn placement_rules_are_those_published_and_one_custom() {
    let table = rows(PLACES);
    assert_eq!(PLACEMENT_RULES.len(), table.len() + 1);
    for (rule, row) in PLACEMENT_RULES.iter().zip(&table) {
        assert_eq!(rule.max_distance.map(Length::millimetres).map(f64::round), row[3].parse().ok());
        let head = row[1].split(" (").next().unwrap().replace(" cl.", "");
        assert!(rule.clause.starts_with(head.trim_end()), "{} against {head}", rule.clause);
        assert_eq!(rule.standing == Standing::Verified, row[6] == "verified");
    }
    assert_eq!(PLACEMENT_RULES[table.len()].standing, Standing::CommonPractice);
}

// DIN 72581-3 extract for the large blade; every other point is from memory and must say so.
#[test]
fn opening_times_are_the_published_gates() {
    let families = [
        ("Type E", FuseFamily::LargeBlade),
        ("Type C", FuseFamily::MediumBlade),
        ("Type F", FuseFamily::MiniatureBlade),
        ("SF 51", FuseFamily::Strip51),
    ];
    let mut checked = 0;
    for (name, family) in families {
        let table: Vec<_> = rows(GATES).into_iter().filter(|row| row[0].contains(name)).collect();
        assert_eq!(family.time_current().len(), table.len(), "{name}");
        for (point, row) in family.time_current().iter().zip(table) {
            assert_eq!(point.over_rating, number(&row[1]));
            assert_eq!(point.shortest.as_secs_f64(), number(&row[2]));
            assert_eq!(point.longest.map(|time| time.as_secs_f64()), row[3].parse().ok());
            let standing = match row[4].as_str() {
                "verified" => Standing::Verified,
                "partly" => Standing::Partly,
                _ => Standing::Memory,
            };
            assert_eq!(point.standing, standing, "{name} at {}", row[1]);
            checked += 1;
        }
    }
    assert_eq!(checked, rows(GATES).len());
    // The README of the data: 135 % of a large blade's rating may flow for 30 minutes, and so may anything up to 200 %.
    let bound = |over| FuseFamily::LargeBlade.opening_bound(over).and_then(|point| point.longest);
    assert_eq!(bound(1.35), Some(Duration::from_secs(1800)));
    assert_eq!(bound(1.99), Some(Duration::from_secs(1800)));
    assert_eq!(bound(1.2), None);
    assert_eq!(bound(f64::NAN), None);
}

// By hand from the type E steps 60, 70, 80, 100.
#[test]
fn the_largest_step_that_the_cable_bears_is_chosen() {
    let pick = |load, cable| {
        choose(amperes(load), amperes(cable), Voltage::from_volts(14.4), &[FuseFamily::LargeBlade]).unwrap()
    };
    assert_eq!(pick(45.0, 85.0).unwrap().rating.amperes(), 80.0);
    assert_eq!(pick(80.0, 80.0).unwrap().rating.amperes(), 80.0);
    assert_eq!(pick(82.0, 95.0), Err(NoFuse::NoneBetween { next_above_load: amperes(100.0) }));
    assert_eq!(pick(90.0, 85.0), Err(NoFuse::CableBelowLoad));
    assert_eq!(pick(120.0, 200.0), Err(NoFuse::NoneForLoad));
    let none =
        choose(amperes(5.0), amperes(20.0), Voltage::from_volts(48.0), &[FuseFamily::MediumBlade]).unwrap();
    assert_eq!(none, Err(NoFuse::NoneForLoad));
}

proptest! {
    #[test]
    fn a_fuse_lies_between_load_and_cable(load in 0.001f64..700.0, cable in 0.0f64..700.0) {
        let found = choose(amperes(load), amperes(cable), Voltage::from_volts(12.0), &FuseFamily::ALL).unwrap();
        let steps = || rows(RATINGS).into_iter().map(|row| number(&row[5])).filter(|a| *a >= load && *a <= cable);
        match found {
            Ok(choice) => prop_assert_eq!(Some(choice.rating.amperes()), steps().max_by(f64::total_cmp)),
            Err(_) => prop_assert_eq!(steps().count(), 0),
        }
    }

    #[test]
    fn silly_numbers_are_refused(load in any::<f64>(), cable in any::<f64>(), volts in any::<f64>()) {
        if let Ok(Ok(choice)) = choose(amperes(load), amperes(cable), Voltage::from_volts(volts), &FuseFamily::ALL) {
            prop_assert!(choice.rating.amperes() >= load && choice.rating.amperes() <= cable);
        }
    }
}
