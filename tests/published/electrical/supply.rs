//! Battery, alternator, operating point and capacitor: published bands, hand calculations, and what no source exceeds.
use kerf_and_coil::model::electrical::amplifier::{Amplifier, Rails, Rating};
use kerf_and_coil::model::electrical::supply::{
    Battery, Chemistry, Source, balance, budget, capacitor, charge_band, operate, resting_voltage_band,
};
use kerf_and_coil::units::{Current, Power, Resistance, Voltage};
use proptest::prelude::*;

use super::{number, rows};
use crate::assert_near;

const REST: &str = include_str!("../data/electrical/lead_acid_open_circuit_voltage.csv");
const CTA: &str = include_str!("../data/electrical/cta2006_conditions.csv");
const SYSTEM: &str = include_str!("../data/electrical/vehicle_system_voltage.csv");

fn volts(value: f64) -> Voltage {
    Voltage::from_volts(value)
}
fn amperes(value: f64) -> Current {
    Current::from_amperes(value)
}
fn ohms(value: f64) -> Resistance {
    Resistance::from_ohms(value)
}
fn source(emf: f64, milliohm: f64) -> Source {
    Source { emf: volts(emf), resistance: ohms(1e-3 * milliohm) }
}
fn constant(watts: f64) -> impl Fn(Voltage) -> Result<Power, kerf_and_coil::model::error::ModelError> {
    move |_| Ok(Power::from_watts(watts))
}

// Every row of the two texts, each voltage back to a band that holds its row's state of charge.
#[test]
fn resting_voltage_is_the_band_of_two_texts() {
    for row in rows(REST) {
        let charge = number(&row[0]) / 100.0;
        let (low, high) = resting_voltage_band(charge);
        assert_near(low.volts(), number(&row[1]), 1e-12);
        if !row[2].is_empty() {
            assert_near(high.volts(), number(&row[2]), 1e-12);
        }
        for column in &row[1..3] {
            if let Ok(read) = column.parse() {
                let (least, most) = charge_band(volts(read)).unwrap();
                assert!(least <= charge + 1e-12 && charge <= most + 1e-12, "{read} V: {least} to {most}");
            }
        }
    }
    // By hand: 12.3 V is 50 % by one text; by the other half-way from 12.2 V (50 %) to 12.4 V (75 %).
    let (least, most) = charge_band(volts(12.3)).unwrap();
    assert_near(least, 0.50, 1e-12);
    assert_near(most, 0.625, 1e-12);
    assert_eq!(charge_band(volts(13.0)).unwrap(), (1.0, 1.0));
    assert_eq!(charge_band(volts(11.0)).unwrap(), (0.0, 0.0));
}

// CTA-2006: rated at 14.4 V into 4 Ω; ISO 16750: 14 V with the generator running. A rating that follows the supply then
// falls to (14/14.4)² = 0.9452 of itself.
#[test]
fn a_public_rating_in_a_running_car() {
    let cell = |csv: &str, item: &str| {
        let row = rows(csv).into_iter().find(|row| row[0].starts_with(item)).unwrap();
        number(&row[1])
    };
    let (supply, load) = (cell(CTA, "supply"), cell(CTA, "load per channel"));
    let running = cell(SYSTEM, "supply with the generator running");
    let rating = Rating { load: ohms(load), power: Power::from_watts(200.0), supply: volts(supply) };
    let amplifier = Amplifier::new(vec![rating], ohms(load), 1, 0.8).unwrap();
    let found = amplifier.power_at(ohms(4.0), volts(running)).unwrap();
    assert_near(found.expected().watts(), 200.0 * 0.9452, 0.01);
}

// Maximum power transfer: V²/4R at V/2. 12.6 V behind 10 mΩ: 158.76/0.04 = 3969 W; short 1260 A.
#[test]
fn the_most_a_source_delivers() {
    let battery = source(12.6, 10.0);
    assert_near(battery.most_power().unwrap().watts(), 3969.0, 1e-9);
    assert_near(battery.short_circuit().unwrap().amperes(), 1260.0, 1e-9);
    assert!(source(12.6, 0.0).most_power().is_none());
}

// By the quadratic: V = (V0 + √(V0² − 4RP))/2. 1000 W: √(158.76 − 40) = 10.8977, V = 11.7489 V, 85.114 A.
#[test]
fn constant_power_settles_on_the_upper_point() {
    let point = operate(source(12.6, 10.0), &constant(1000.0)).unwrap().unwrap();
    assert_near(point.voltage.volts(), 11.748_85, 1e-4);
    assert_near(point.current.amperes(), 85.1147, 1e-3);
    assert_near(point.sag.volts(), 0.851_15, 1e-4);
    // 3969 W are the most there is; 3970 W have no operating point.
    assert!(operate(source(12.6, 10.0), &constant(3960.0)).unwrap().is_ok());
    let none = operate(source(12.6, 10.0), &constant(3970.0)).unwrap().unwrap_err();
    assert_near(none.most.watts(), 3969.0, 1e-9);
    assert_near(none.wanted.watts(), 3970.0, 1e-9);
}

// Power with the square of the voltage is a resistor: 450 W out at 14.4 V and 75 % are 600 W in, 0.3456 Ω. Behind 10 mΩ
// at 13.8 V: 13.8·0.3456/0.3556 = 13.4119 V, 38.807 A; out (13.4119/14.4)²·450 = 390.36 W. Regulated it keeps 450 W.
#[test]
fn an_amplifier_on_a_feed() {
    let rating = Rating { load: ohms(2.0), power: Power::from_watts(450.0), supply: volts(14.4) };
    let amplifier = Amplifier::new(vec![rating], ohms(2.0), 1, 0.75).unwrap();
    let settled = |amplifier: &Amplifier, r: f64| {
        let demand = |v: Voltage| {
            let out = amplifier.power_at(ohms(2.0), v)?.expected().watts();
            Ok(Power::from_watts(out / amplifier.efficiency()))
        };
        operate(source(13.8, r), &demand).unwrap()
    };
    let point = settled(&amplifier, 10.0).unwrap();
    assert_near(point.voltage.volts(), 13.411_92, 1e-4);
    assert_near(point.current.amperes(), 38.8076, 1e-3);
    let out = amplifier.power_at(ohms(2.0), point.voltage).unwrap().expected();
    assert_near(out.watts(), 390.36, 0.01);
    let regulated = amplifier.with_rails(Rails::Regulated);
    // (13.8 + √(190.44 − 24))/2 = 13.3505 V.
    assert_near(settled(&regulated, 10.0).unwrap().voltage.volts(), 13.3506, 1e-4);
    // 600 W through 100 mΩ: 190.44/0.4 = 476.1 W is the most, so there is none.
    assert!(settled(&regulated, 100.0).is_err());
}

// 70 Ah, full, half kept: 35 Ah; at 20 A 1.75 h; at 50 mA 29.17 days. At 12.3 V (50 % by the lower text) nothing is left.
#[test]
fn hours_with_the_engine_off() {
    let battery = Battery { chemistry: Chemistry::Flooded, capacity_ah: 70.0, internal: None };
    let found = budget(&battery, 1.0, 0.5, amperes(20.0), amperes(0.05)).unwrap();
    assert_near(found.usable_ah, 35.0, 1e-12);
    assert_near(found.hours.unwrap(), 1.75, 1e-12);
    assert_near(found.days_asleep.unwrap(), 29.1667, 1e-4);
    assert_eq!(budget(&battery, 0.5, 0.5, amperes(20.0), amperes(0.0)).unwrap().hours, Some(0.0));
    assert_eq!(budget(&battery, 1.0, 0.5, amperes(0.0), amperes(0.0)).unwrap().hours, None);
    // 450 mΩ·Ah / 75 Ah = 6 mΩ (from memory); a value given wins.
    let larger = Battery { capacity_ah: 75.0, ..battery };
    assert_near(larger.resistance().unwrap().ohms(), 6e-3, 1e-12);
    let given = Battery { internal: Some(ohms(0.009)), ..battery };
    assert_near(given.resistance().unwrap().ohms(), 9e-3, 1e-12);
}

// 120 A, half at hot idle, 35 A of its own: 25 A left at idle, 85 A driving. 40 A on average lack 15 A at idle: 30 Ah
// last 2 h.
#[test]
fn an_alternator_at_idle() {
    let found = balance(amperes(120.0), 0.5, amperes(35.0), amperes(40.0), 30.0).unwrap();
    assert_near(found.idle.amperes(), 25.0, 1e-12);
    assert_near(found.driving.amperes(), 85.0, 1e-12);
    assert!(!found.covers_idle && found.covers_driving);
    assert_near(found.idle_hours.unwrap(), 2.0, 1e-12);
    let enough = balance(amperes(120.0), 0.5, amperes(35.0), amperes(20.0), 30.0).unwrap();
    assert!(enough.covers_idle && enough.idle_hours.is_none());
}

// 1 F at 13.8 V: 95.22 J. From 13.8 V to 13.3 V it gives (190.44 − 176.89)/2 = 6.775 J. At 40 A with 2 mΩ: step 80 mV,
// 0.42 V · 1 F / 40 A = 10.5 ms. At 300 A its own resistance takes the half volt.
#[test]
fn a_capacitor_in_numbers() {
    let at = |i: f64| capacitor(1.0, ohms(0.002), volts(13.8), volts(0.5), amperes(i)).unwrap();
    assert_near(at(40.0).stored_j, 95.22, 1e-9);
    assert_near(at(40.0).given_j, 6.775, 1e-9);
    assert_near(at(40.0).covers_s, 0.0105, 1e-12);
    assert_near(at(40.0).step.volts(), 0.08, 1e-12);
    assert_eq!(at(300.0).covers_s, 0.0);
}

proptest! {
    // The point balances, whatever the law of the load, and no source gives more than V²/4R.
    #[test]
    fn an_operating_point_balances(
        emf in 2.0f64..60.0, milliohm in 0.0f64..2000.0, watts in 0.0f64..20_000.0, law in 0.0f64..2.5,
    ) {
        let source = source(emf, milliohm);
        let demand = |v: Voltage| Ok(Power::from_watts(watts * (v.volts() / emf).powf(law)));
        match operate(source, &demand).unwrap() {
            Ok(point) => {
                let taken = demand(point.voltage).unwrap().watts();
                let (v, i) = (point.voltage.volts(), point.current.amperes());
                prop_assert!((v * i - point.power.watts()).abs() <= 1e-9 * (1.0 + point.power.watts()));
                prop_assert!((point.power.watts() - taken).abs() <= 1e-6 * (1.0 + taken), "{} {taken}", point.power.watts());
                prop_assert!((emf - v - i * source.resistance.ohms()).abs() <= 1e-6 * emf);
                prop_assert!(v >= 0.5 * emf - 1e-9);
                if let Some(most) = source.most_power() {
                    prop_assert!(point.power.watts() <= most.watts() * (1.0 + 1e-9));
                }
            }
            // None is claimed only where the load wants more at every voltage looked at.
            Err(none) => {
                prop_assert!(none.wanted.watts() > none.most.watts());
                for step in 0..=50 {
                    let v = emf * (0.5 + 0.01 * f64::from(step));
                    let brings = v * (emf - v) / source.resistance.ohms();
                    prop_assert!(demand(volts(v)).unwrap().watts() > brings * (1.0 - 1e-3));
                }
            }
        }
    }

    #[test]
    fn silly_supplies_are_refused_or_finite(a in any::<f64>(), b in any::<f64>(), c in any::<f64>()) {
        if let Ok(Ok(point)) = operate(Source { emf: volts(a), resistance: ohms(b) }, &constant(c)) {
            prop_assert!(point.current.amperes().is_finite() || !c.is_finite());
        }
        if let Ok(found) = charge_band(volts(a)) {
            prop_assert!(found.0 <= found.1 && found.0 >= 0.0 && found.1 <= 1.0);
        }
        if let Ok(found) = capacitor(a, ohms(b), volts(13.8), volts(0.5), amperes(c)) {
            prop_assert!(found.covers_s.is_finite() && found.covers_s >= 0.0);
        }
    }
}
