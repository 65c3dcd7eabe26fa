//! Loudspeaker cable and real power, by hand.
use kerf_and_coil::model::electrical::line::{line_effect, real_power};
use kerf_and_coil::units::{Resistance, Voltage};
use num_complex::Complex64;
use proptest::prelude::*;

use crate::assert_near;

fn ohms(value: f64) -> Resistance {
    Resistance::from_ohms(value)
}

// 5 m of 2.5 mm² out and back: 10 m · 7.98 Ω/km (IEC 60228) = 79.8 mΩ before 2 Ω: 20·lg(2.0798/2) = 0.340 dB, 3.84 % of
// the power. Re 1.8 Ω, Qes 0.52, Qms 6.5: Qes 0.5431, Qts 0.5012 instead of 0.4815.
#[test]
fn a_cable_takes_level_and_damping() {
    let found = line_effect(ohms(0.0798), ohms(2.0), ohms(1.8), 0.52, 6.5).unwrap();
    assert_near(found.loss_db, 0.3398, 1e-4);
    assert_near(found.power_share, 0.038_37, 1e-5);
    assert_near(found.qes, 0.543_05, 1e-5);
    assert_near(found.qts, 0.501_18, 1e-5);
}

// 20 V: 100 W into 4 Ω. At 40 Ω of impedance peak 10 W. At 3 + 4j Ω: 400·3/25 = 48 W. Through 1 Ω: 400·3/32 = 37.5 W.
#[test]
fn impedance_rise_takes_power() {
    let volts = Voltage::from_volts(20.0);
    let at = |re, im, rc| real_power(volts, Complex64::new(re, im), ohms(rc)).watts();
    assert_near(at(4.0, 0.0, 0.0), 100.0, 1e-12);
    assert_near(at(40.0, 0.0, 0.0), 10.0, 1e-12);
    assert_near(at(3.0, 4.0, 0.0), 48.0, 1e-12);
    assert_near(at(3.0, 4.0, 1.0), 37.5, 1e-12);
    assert_eq!(at(0.0, 0.0, 0.0), 0.0);
}

proptest! {
    // Power shares sum to the whole: what the cable takes and what the load takes are what the source gives.
    #[test]
    fn cable_and_load_share_the_whole(rc in 0.0f64..5.0, re in 0.1f64..20.0, im in -50.0f64..50.0, v in 0.1f64..100.0) {
        let z = Complex64::new(re, im);
        let current = Complex64::new(v, 0.0) / (z + rc);
        let whole = v * current.re;
        let load = real_power(Voltage::from_volts(v), z, ohms(rc)).watts();
        prop_assert!((load + current.norm_sqr() * rc - whole).abs() <= 1e-9 * (1.0 + whole));
        let effect = line_effect(ohms(rc), ohms(re), ohms(re), 0.5, 5.0).unwrap();
        prop_assert!((effect.power_share - rc / (re + rc)).abs() < 1e-12 && effect.qts >= 0.5 * 5.0 / 5.5 - 1e-12);
    }
}
