//! Proving a cable, from the tables of metals and gauges.
use kerf_and_coil::model::electrical::cable::{AwgSize, Material, Size};
use kerf_and_coil::model::electrical::prove::{Sample, copper_metre, prove};
use kerf_and_coil::units::{Area, Current, Length, Mass, Temperature, Voltage};
use proptest::prelude::*;

use super::{number, rows};
use crate::assert_near;

const METALS: &str = include_str!("../data/electrical/conductor_materials.csv");
const GAUGES: &str = include_str!("../data/electrical/awg_copper.csv");

/// Resistivity in Ω·mm²/m and density in g/cm³ of the table's row.
fn metal(name: &str) -> (f64, f64) {
    let row = rows(METALS).into_iter().find(|row| row[0].starts_with(name)).unwrap();
    (number(&row[2]), number(&row[4]))
}

fn sample(grams: Option<f64>, millivolts_at_10_a: Option<f64>) -> Sample {
    let metre = Length::from_metres(1.0);
    let mut sample = Sample::default();
    if let Some(grams) = grams {
        sample = sample.weighed(metre, Mass::from_grams(grams)).unwrap();
    }
    if let Some(millivolts) = millivolts_at_10_a {
        let (v, i) = (Voltage::from_volts(1e-3 * millivolts), Current::from_amperes(10.0));
        sample = sample.measured(metre, v, i, Temperature::from_celsius(20.0)).unwrap();
    }
    sample
}

fn mm2(area: Area) -> f64 {
    area.square_metres() * 1e6
}

#[test]
fn densities_are_those_of_the_standards() {
    let names = ["annealed copper", "copper-clad aluminium class 10A", "aluminium, electrical (61 %"];
    for (material, name) in Material::ALL.into_iter().zip(names) {
        assert_eq!(material.density_g_cm3(), metal(name).1);
    }
}

// A metre of every gauge, mass by the table's area and density, resistance by the table's Ω/km: copper, sure, the true
// size. The same size in clad aluminium: 8.89/3.32 = 2.68 times lighter, 1.59 times the resistance.
#[test]
fn every_gauge_is_told_from_clad_aluminium() {
    for row in rows(GAUGES) {
        let (area, ohm_per_km) = (number(&row[2]), number(&row[4]));
        let claim = Area::from_square_metres(area * 1e-6);
        let found = prove(sample(Some(area * 8.89), Some(10.0 * ohm_per_km)), Some(claim)).unwrap();
        assert_eq!(found.metals[0].material, Material::Copper);
        assert!(found.sure);
        assert_near(found.of_claim.unwrap(), 1.0, 0.001);
        let (rho, density) = metal("copper-clad aluminium class 10A");
        let clad = prove(sample(Some(area * density), Some(10.0 * 1e3 * rho / area)), Some(claim)).unwrap();
        assert_eq!(clad.metals[0].material, Material::CopperCladAluminium);
        assert!(clad.sure);
        assert_near(clad.of_claim.unwrap(), 0.629, 0.001);
    }
}

// One measurement and the claim. 4 AWG: 21.15 mm², 188 g a metre, 0.8152 mΩ a metre (8.15 mV at 10 A).
#[test]
fn one_measurement_needs_the_claim() {
    let claim = Size::Awg(AwgSize::new(4).unwrap()).copper_equivalent_area();
    assert_near(copper_metre(claim).ohms(), 0.815_17e-3, 1e-7);
    let copper = prove(sample(Some(188.0), None), Some(claim)).unwrap();
    assert_eq!((copper.metals[0].material, copper.sure), (Material::Copper, true));
    let clad = prove(sample(Some(70.2), None), Some(claim)).unwrap();
    assert_eq!((clad.metals[0].material, clad.sure), (Material::CopperCladAluminium, true));
    let by_voltage = prove(sample(None, Some(8.15)), Some(claim)).unwrap();
    assert_eq!((by_voltage.metals[0].material, by_voltage.sure), (Material::Copper, true));
    // 13 mV: clad aluminium (12.96 mV) or aluminium (13.4 mV), which resistance alone does not tell apart.
    let doubtful = prove(sample(None, Some(13.0)), Some(claim)).unwrap();
    assert_eq!(doubtful.metals[0].material, Material::CopperCladAluminium);
    assert!(!doubtful.sure);
    assert!(prove(sample(Some(188.0), None), None).is_err());
    assert!(prove(Sample::default(), Some(claim)).is_err());
}

// An SAE 4 cable has 18.931 mm² where AWG has 21.151: honest copper, 10 % less of it.
#[test]
fn a_vehicle_cable_is_copper_but_thinner() {
    let claim = Size::Awg(AwgSize::new(4).unwrap()).copper_equivalent_area();
    let found = prove(sample(Some(18.931 * 8.89), Some(9.107)), Some(claim)).unwrap();
    assert_eq!((found.metals[0].material, found.sure), (Material::Copper, true));
    assert_near(found.of_claim.unwrap(), 18.931 / 21.151, 0.001);
    assert_near(mm2(found.copper_equivalent), 18.93, 0.01);
}

proptest! {
    // Whatever the size, mass and resistance within 3 % name the metal.
    #[test]
    fn the_metal_comes_out_for_any_size(
        area in 0.5f64..150.0, which in 0usize..3, mass_off in 0.97f64..1.03, ohm_off in 0.97f64..1.03,
    ) {
        let (name, material) = [
            ("annealed copper", Material::Copper),
            ("copper-clad aluminium class 10A", Material::CopperCladAluminium),
            ("aluminium, electrical (61 %", Material::Aluminium),
        ][which];
        let (rho, density) = metal(name);
        let found = prove(sample(Some(area * density * mass_off), Some(1e4 * rho / area * ohm_off)), None).unwrap();
        prop_assert_eq!(found.metals[0].material, material);
    }

    #[test]
    fn silly_samples_are_refused_or_finite(a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), claim in any::<f64>()) {
        let metre = Length::from_metres(a);
        let weighed = Sample::default().weighed(metre, Mass::from_grams(b)).unwrap_or_default();
        let both = weighed
            .measured(metre, Voltage::from_volts(b), Current::from_amperes(c), Temperature::from_celsius(20.0))
            .unwrap_or(weighed);
        if let Ok(found) = prove(both, Some(Area::from_square_metres(claim))) {
            prop_assert!(found.metals.iter().all(|metal| metal.misfit.is_finite()));
        }
    }
}
