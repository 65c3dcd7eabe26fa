//! First power: exposure times and weighting against their tables, the lamp, and the verdict of a reading.
use kerf_and_coil::model::electrical::commission::{
    Limits, Verdict, a_weighting_db, joint_excess, lamp_current, niosh_time_s, osha_time_s,
};
use kerf_and_coil::units::{Current, Power, Voltage};
use proptest::prelude::*;

use super::super::assert_near;
use super::{number, rows};

const TIMES: &str = include_str!("../data/electrical/noise_exposure_limits.csv");
const WEIGHTING: &str = include_str!("../data/electrical/iec61672_weighting_10_315Hz.csv");
const SYSTEM: &str = include_str!("../data/electrical/vehicle_system_voltage.csv");

// NIOSH 98-126 table 1-1 in whole seconds. The table itself strays from its formula by up to 0.6 % (93 dB(A): 4560 s
// printed, 4536 s by the formula), and its short times are cut or rounded to a second.
#[test]
fn niosh_times_are_those_of_the_table() {
    let rows = rows(TIMES);
    assert_eq!(rows.len(), 51);
    for row in rows {
        let (level, printed) = (number(&row[0]), number(&row[1]));
        let seconds = niosh_time_s(level).unwrap();
        assert_near(seconds, printed, 0.006 * printed + 1.0);
        // The column worked out from the published formula, two decimals; its 80 dB(A) is 91434.30.
        assert_near(seconds, number(&row[2]), 0.0051);
    }
}

// 29 CFR 1910.95 table G-16a: one decimal above 1 h, two or three figures below; 83 dB(A) is 21.1 or 21.2 by version.
#[test]
fn osha_times_are_those_of_the_table() {
    for row in rows(TIMES) {
        let (level, hours) = (number(&row[0]), osha_time_s(number(&row[0])).unwrap() / 3600.0);
        let printed = number(&row[3]);
        let half_digit = match printed {
            p if p > 1.0 => 0.051,
            p if p >= 0.1 => 0.0051,
            _ => 0.00051,
        };
        assert_near(hours, printed, half_digit);
        assert_near(hours, number(&row[4]), 0.000_051);
        if !row[5].is_empty() {
            // Table G-16 prints whole and half hours: its 6 h at 92 dB(A) are 6.06 by the formula.
            assert_near(hours, number(&row[5]), 0.07);
        }
        assert!(level >= 80.0);
    }
}

#[test]
fn levels_outside_the_limits_have_no_time() {
    for level in [-10.0, 79.9, f64::NAN, f64::INFINITY] {
        assert!(niosh_time_s(level).is_err() && osha_time_s(level).is_err(), "{level}");
    }
    assert!(niosh_time_s(140.5).is_err());
    assert!(osha_time_s(130.5).is_err());
}

// IEC 61672-1, table values in tenths of a decibel at the exact third-octave frequencies.
#[test]
fn a_weighting_is_that_of_the_table() {
    let rows = rows(WEIGHTING);
    assert!(rows.len() >= 15);
    for row in rows {
        let weighting = a_weighting_db(number(&row[1])).unwrap();
        assert_near(weighting, number(&row[2]), 0.051);
        // Three decimals, at a frequency that the table rounds to four.
        assert_near(weighting, number(&row[4]), 0.000_7);
    }
}

// 21 W at 12 V: 21/12 = 1.75 A, by P = U·I.
#[test]
fn the_lamp_lets_no_more_than_its_own_current_through() {
    let lamp = lamp_current(Power::from_watts(21.0), Voltage::from_volts(12.0)).unwrap();
    assert_near(lamp.amperes(), 1.75, 1e-12);
    for (watts, volts) in [(0.0, 12.0), (21.0, 0.0), (f64::NAN, 12.0), (21.0, f64::INFINITY)] {
        assert!(lamp_current(Power::from_watts(watts), Voltage::from_volts(volts)).is_err());
    }
}

// 3 W and 10 W of heat in a joint at 30 A are 0.1 V and 0.333 V (U = P/I) beyond the 0.2 V that the cable loses.
#[test]
fn a_joint_is_judged_by_its_heat() {
    let limits = joint_excess(Voltage::from_volts(0.2), Current::from_amperes(30.0));
    for (volts, verdict) in [
        (0.0, Verdict::Right),
        (0.29, Verdict::Right),
        (-0.29, Verdict::Right),
        (0.31, Verdict::LookAgain),
        (0.53, Verdict::LookAgain),
        (0.54, Verdict::Stop),
        (-0.54, Verdict::Stop),
    ] {
        assert_eq!(limits.judge(volts), verdict, "{volts} V");
    }
}

// ISO 16750-2 table 1, 12 V: code D from 10.5 V, all codes to 16 V.
#[test]
fn the_supply_stops_outside_iso_16750_2() {
    use kerf_and_coil::design::commission::{Expected, Step, expected, facts};
    use kerf_and_coil::design::{demo, evaluate};
    let volts = |item: &str| {
        let row = rows(SYSTEM).into_iter().find(|row| row[0].starts_with(item)).unwrap();
        number(&row[1])
    };
    let (least, most) = (volts("ISO 16750-2 12 V supply code D"), volts("ISO 16750-2 12 V supply max"));
    let design = demo::design();
    let report = evaluate::evaluate(&design.sheet);
    let facts = facts(&report, &design.sheet, Default::default());
    let Expected::Number { limits: Some(limits), .. } = expected(Step::Supply, &facts) else { panic!() };
    assert_eq!((limits.stop_below, limits.stop_above), (least, most));
    assert_eq!(limits.judge(-12.6), Verdict::Stop);
}

proptest! {
    #[test]
    fn a_verdict_always_falls_and_right_lies_within(
        value in prop_oneof![any::<f64>(), -100.0..100.0_f64],
        low in -50.0..50.0_f64, width in 0.0..50.0_f64, below in 0.0..20.0_f64, above in 0.0..20.0_f64,
    ) {
        let limits = Limits::between(low, low + width).stopping(low - below, low + width + above);
        let verdict = limits.judge(value);
        prop_assert_eq!(verdict == Verdict::Right, value >= low && value <= low + width);
        if value < low - below || value > low + width + above || value.is_nan() {
            prop_assert_eq!(verdict, Verdict::Stop);
        }
    }

    #[test]
    fn louder_never_means_longer(level in 80.0..129.0_f64, more in 0.0..1.0_f64) {
        prop_assert!(niosh_time_s(level + more).unwrap() <= niosh_time_s(level).unwrap());
        prop_assert!(osha_time_s(level + more).unwrap() <= osha_time_s(level).unwrap());
        // Above the level at which both allow 8 h or less, NIOSH is the stricter one.
        prop_assert!(niosh_time_s(level).unwrap() <= osha_time_s(level).unwrap() + 1e-6);
    }
}
