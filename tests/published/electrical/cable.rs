//! Conductors against ASTM B258, IEC 60228, IEC 60028, ASTM B566 and 33 CFR 183.425.
use kerf_and_coil::model::electrical::cable::{
    AwgSize, Cable, Insulation, Material, MetricSize, Size, SizeSystem, ambient_factor, ampacity,
};
use kerf_and_coil::model::electrical::{Standing, quick};
use kerf_and_coil::units::{Current, Length, Resistance, Temperature, Voltage};

use super::{number, rows};
use crate::assert_near;

const AWG: &str = include_str!("../data/electrical/awg_copper.csv");
const TABLE_5: &str = include_str!("../data/electrical/ampacity_33cfr183_425_table5.csv");
const NOTE_1: &str = include_str!("../data/electrical/ampacity_33cfr183_425_note1_engine_space.csv");
const METRIC: &str = include_str!("../data/electrical/iec60228_resistance.csv");
const METRIC_WARM: &str = include_str!("../data/electrical/iec60228_temperature_factor.csv");
const MATERIALS: &str = include_str!("../data/electrical/conductor_materials.csv");
const DROP: &str = include_str!("../data/electrical/voltage_drop_worked_examples.csv");
const CONSTANTS: &str = include_str!("../data/electrical/voltage_drop_constants.csv");

const FOOT_M: f64 = 0.3048;
/// π/4 square mils.
const CIRCULAR_MIL_MM2: f64 = std::f64::consts::FRAC_PI_4 * 0.0254 * 0.0254;

pub fn celsius(value: f64) -> Temperature {
    Temperature::from_celsius(value)
}

fn gauge(label: &str) -> AwgSize {
    let found = match label.strip_suffix("/0") {
        Some(zeros) => 1 - number(zeros) as i8,
        None => number(label) as i8,
    };
    AwgSize::new(found).unwrap()
}

fn ohm_per_km(cable: Cable, at: f64) -> f64 {
    cable.resistance(Length::from_metres(1000.0), celsius(at)).unwrap().ohms()
}

fn copper(size: Size) -> Cable {
    Cable { material: Material::Copper, size }
}

// ASTM B258 diameters (printed to 0.1 µm) and circular mils (printed to 0.1); a handbook's Ω per 1000 ft, which its own rounding to three
// or four digits lets differ by up to 0.09 %.
#[test]
fn gauges_match_the_handbook() {
    let table = rows(AWG);
    assert_eq!(table.len(), 22);
    for row in table {
        let size = gauge(&row[0]);
        assert_eq!(size.to_string(), row[0]);
        assert_near(size.diameter().millimetres(), number(&row[1]), 6e-5);
        let mm2 = size.area().square_metres() * 1e6;
        assert_near(mm2 / CIRCULAR_MIL_MM2, number(&row[3]), 0.051);
        let per_1000_ft = ohm_per_km(copper(Size::Awg(size)), 20.0) * FOOT_M;
        let printed = number(&row[6]);
        assert_near(per_1000_ft, printed, 1e-3 * printed);
    }
}

// SAE vehicle cable areas as printed in two marine-cable tables; resistance by arithmetic from IACS copper.
#[test]
fn vehicle_cable_has_the_printed_area() {
    let printed: Vec<_> = rows(AWG).into_iter().filter(|row| !row[9].is_empty()).collect();
    assert_eq!(printed.len(), 14);
    for row in printed {
        let size = Size::SaeVehicle(gauge(&row[0]));
        assert_near(size.copper_equivalent_area().square_metres() * 1e6, number(&row[9]), 1e-3);
        assert_near(number(&row[8]) * CIRCULAR_MIL_MM2, number(&row[9]), 2e-3);
        assert_near(ohm_per_km(copper(size), 20.0), number(&row[10]), 1e-3 * number(&row[10]));
    }
}

// IEC 60228 class 5, plain copper: greatest resistance at 20 °C, every size.
#[test]
fn metric_sizes_have_the_resistance_of_class_5() {
    let table = rows(METRIC);
    assert_eq!(table.len(), MetricSize::all().count());
    for row in table {
        let size = MetricSize::new((number(&row[0]) * 100.0).round() as u16).unwrap();
        assert_eq!(size.to_string(), row[0]);
        assert_near(ohm_per_km(copper(Size::Metric(size)), 20.0), number(&row[1]), 1e-9 * number(&row[1]));
    }
}

// IEC 60228 factors follow 250/(230 + T), ours 0.00393 /K of IEC 60028: they part by 0.4 % at 100 °C, as the data's
// README states, plus half a unit of the third decimal.
#[test]
fn warm_copper_agrees_with_the_factors_of_iec_60228() {
    let size = copper(Size::Metric(MetricSize::new(1000).unwrap()));
    for row in rows(METRIC_WARM) {
        let back_to_20 = ohm_per_km(size, 20.0) / ohm_per_km(size, number(&row[0]));
        assert_near(back_to_20, number(&row[1]), 0.004 + 0.0005);
        assert_near(back_to_20, number(&row[3]), 0.0005 + 1e-6);
    }
}

// Resistivities: IEC 60028, 61 % aluminium, and 62.9 % minimum of ASTM B566 class 10A. Aluminium's 0.00403 is verified.
#[test]
fn metals_have_their_resistivity() {
    let table = rows(MATERIALS);
    let size = Size::Awg(AwgSize::new(4).unwrap());
    let mm2 = AwgSize::new(4).unwrap().area().square_metres() * 1e6;
    for (material, line) in
        [(Material::Copper, 0), (Material::Aluminium, 1), (Material::CopperCladAluminium, 3)]
    {
        let cable = Cable { material, size };
        let per_km = ohm_per_km(cable, 20.0);
        assert_near(per_km * mm2 / 1000.0, number(&table[line][2]), 1e-6);
        let warm = ohm_per_km(cable, 70.0);
        assert_near((warm / per_km - 1.0) / 50.0, number(&table[line][3]), 1e-9);
    }
    // The data's README: same gauge in 10 % copper-clad aluminium has 1.59 times the resistance.
    let clad = Cable { material: Material::CopperCladAluminium, size };
    assert_near(ohm_per_km(clad, 20.0) / ohm_per_km(copper(size), 20.0), 1.59, 0.005);
}

// 33 CFR 183.425 Table 5, every cell.
#[test]
fn ampacity_is_the_regulations_table() {
    let table = rows(TABLE_5);
    assert_eq!(table.len(), 15);
    for row in &table {
        for (insulation, cell) in Insulation::RATED.into_iter().zip(&row[1..]) {
            let found = ampacity(copper(Size::Awg(gauge(&row[0]))), insulation, celsius(30.0)).unwrap();
            assert_eq!(found.current.amperes(), number(cell), "{} at {insulation:?}", row[0]);
            assert_eq!(found.standing, Standing::Verified);
        }
        let unknown =
            ampacity(copper(Size::Awg(gauge(&row[0]))), Insulation::Unknown, celsius(20.0)).unwrap();
        assert_eq!(unknown.current.amperes(), number(&row[1]));
    }
}

// Note 1 of the table, 50 °C. 0.85 at 105 °C is verified; the other factors are from memory and printed to 0.01. The
// remembered 1.0 at 200 °C does not follow from the formula, which is lower there.
#[test]
fn ambient_factor_gives_note_1() {
    for (insulation, row) in Insulation::RATED.into_iter().zip(rows(NOTE_1)) {
        assert_eq!(insulation.rating().celsius(), number(&row[0]));
        let factor = ambient_factor(insulation, celsius(50.0)).unwrap();
        match row[0].as_str() {
            "200" => assert!(factor < number(&row[1])),
            _ => assert_near(factor, number(&row[1]), 0.0065),
        }
    }
    assert_eq!(ambient_factor(Insulation::C60, celsius(60.0)).unwrap(), 0.0);
    assert_eq!(ambient_factor(Insulation::C60, celsius(90.0)).unwrap(), 0.0);
    assert_eq!(ambient_factor(Insulation::C105, celsius(-20.0)).unwrap(), 1.0);
}

// No size is rated above a table row with more copper, whatever the list it is bought from.
#[test]
fn sizes_between_the_rows_are_never_overrated() {
    let table = rows(TABLE_5);
    let areas: Vec<f64> = table
        .iter()
        .map(|row| number(&rows(AWG).into_iter().find(|awg| awg[0] == row[0]).unwrap()[2]))
        .collect();
    for system in [SizeSystem::Metric, SizeSystem::SaeVehicle, SizeSystem::Awg] {
        for size in system.sizes() {
            let mm2 = size.copper_equivalent_area().square_metres() * 1e6;
            let below = areas.iter().rposition(|area| *area <= mm2 * (1.0 + 1e-4));
            let expected = below.map_or(0.0, |line| number(&table[line][5]));
            let found = ampacity(copper(size), Insulation::C105, celsius(30.0)).unwrap();
            assert_eq!(found.current.amperes(), expected, "{size} {system:?}");
        }
    }
}

// Equal heat: I²R of clad aluminium at its ampacity is copper's at its own.
#[test]
fn clad_aluminium_heats_as_copper_does_and_is_marked_derived() {
    let size = Size::Awg(AwgSize::new(4).unwrap());
    let heat = |material| {
        let cable = Cable { material, size };
        let found = ampacity(cable, Insulation::C105, celsius(30.0)).unwrap();
        (found.standing, found.current.amperes().powi(2) * ohm_per_km(cable, 20.0))
    };
    let (standing, clad) = heat(Material::CopperCladAluminium);
    assert_eq!(standing, Standing::Derived);
    assert_near(clad, heat(Material::Copper).1, 1e-9 * clad);
}

// FAA AC 43.13-1B Tables 11-7 and 11-8: printed resistance per foot, length and current give the printed drop.
#[test]
fn voltage_drop_matches_the_aviation_examples() {
    let mut checked = 0;
    for row in rows(DROP).into_iter().filter(|row| row[2] == "voltage drop V") {
        // This row prints 0.366 V where its own inputs give 0.491 V; it is left out.
        if row[1].contains(", 19.5 ft") {
            continue;
        }
        let words: Vec<&str> = row[1].split([' ', ',']).collect();
        let before = |unit: &str| number(words[words.iter().position(|word| *word == unit).unwrap() - 1]);
        let (ohm_per_foot, feet, amperes) = (before("ohm/ft"), before("ft"), before("A"));
        let (drop, percent) = quick::drop_over(
            Resistance::from_ohms(ohm_per_foot * feet),
            Current::from_amperes(amperes),
            Voltage::from_volts(28.0),
        )
        .unwrap();
        // Printed to two or three digits; the 88 ft row is rounded up from 3.555 to 3.6.
        assert_near(drop.volts(), number(&row[3]), if number(&row[3]) > 3.0 { 0.046 } else { 0.003 });
        assert_near(percent, 100.0 * number(&row[3]) / 28.0, 0.17);
        checked += 1;
    }
    assert_eq!(checked, 7);
}

// The IACS constant of 10.37 Ω·circular-mil/ft against our copper; ABYC's 10.75 is that copper at 29.3 °C.
#[test]
fn copper_gives_the_published_constants() {
    let size = AwgSize::new(10).unwrap();
    let constant = |at| {
        let per_foot = ohm_per_km(copper(Size::Awg(size)), at) / 1000.0 * FOOT_M;
        per_foot * size.area().square_metres() * 1e6 / CIRCULAR_MIL_MM2
    };
    let table = rows(CONSTANTS);
    assert_near(constant(20.0), number(&table[2][2]), 0.005);
    assert_near(constant(number(&table[0][5])), number(&table[0][2]), 0.005);
}

#[test]
fn drop_counts_the_way_back() {
    let cable = copper(Size::Awg(AwgSize::new(10).unwrap()));
    // 3.2771 Ω/km (handbook column: 0.9989 Ω/1000 ft), 5 m out and back, 20 A.
    let drop =
        cable.voltage_drop(Length::from_metres(5.0), Current::from_amperes(20.0), celsius(20.0)).unwrap();
    assert_near(drop.volts(), 0.9989 / 304.8 * 10.0 * 20.0, 1e-3);
}
