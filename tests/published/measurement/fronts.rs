//! The subwoofer with the front speakers against sums made by hand of two phasors.
use std::f64::consts::TAU;

use crate::assert_near;
use kerf_and_coil::design::trials::{FRONT_BANDS_HZ, FrontBand, FrontTable};
use kerf_and_coil::model::measurement::{Crossover, FrontLevels, FrontPhase, align, crossover, front_phase};
use proptest::prelude::*;

/// The level of two sources with an angle between them: the length of the sum of two arrows.
fn sum_db(a_db: f64, b_db: f64, angle: f64) -> f64 {
    let (a, b) = (10_f64.powf(a_db / 20.0), 10_f64.powf(b_db / 20.0));
    let (re, im) = (a * angle.cos() + b, a * angle.sin());
    20.0 * re.hypot(im).log10()
}

/// A band in which the subwoofer is `ahead_s` early and turned if `turned`, with all five levels.
fn levels(hz: f64, sub_db: f64, front_db: f64, angle: f64, delay_s: f64) -> FrontLevels {
    FrontLevels {
        hz,
        sub_db,
        front_db,
        both_db: sum_db(sub_db, front_db, angle),
        turned_db: Some(sum_db(sub_db, front_db, angle + TAU / 2.0)),
        delayed_db: Some(sum_db(sub_db, front_db, angle - TAU * hz * delay_s)),
    }
}

/// A subwoofer that comes `late_s` too late, with its polarity turned or not, over the bands.
fn car(late_s: f64, turned: bool) -> Vec<FrontPhase> {
    let delay = 2e-3;
    let band = |hz: f64| {
        // 24 dB per octave about 80 Hz, both 6 dB down there.
        let slope = |ratio: f64| -20.0 * (1.0 + ratio.powi(4)).log10();
        let angle = -TAU * hz * late_s + if turned { TAU / 2.0 } else { 0.0 };
        front_phase(levels(hz, 84.0 + slope(hz / 80.0), 84.0 + slope(80.0 / hz), angle, delay), delay)
            .unwrap()
    };
    FRONT_BANDS_HZ.map(band).to_vec()
}

proptest! {
    /// Whatever the angle and the levels, cosine and sign come back, and the check adds up.
    #[test]
    fn the_angle_comes_back(angle in -3.1..3.1_f64, apart in -14.0..14.0_f64, delay_ms in 1.0..3.5_f64, hz in 40.0..125.0_f64) {
        let delay = delay_ms / 1e3;
        let found = front_phase(levels(hz, 80.0 + apart, 80.0, angle, delay), delay).unwrap();
        prop_assert!((found.cosine - angle.cos()).abs() < 1e-9);
        prop_assert!(found.check_db.unwrap().abs() < 1e-9);
        let gain = sum_db(80.0 + apart, 80.0, angle + TAU / 2.0) - sum_db(80.0 + apart, 80.0, angle);
        if gain.abs() < 25.0 {
            prop_assert!((found.turned_gain_db - gain).abs() < 1e-6, "{} {}", found.turned_gain_db, gain);
        }
        match found.ahead_rad {
            // Near 0 and π the sign makes no difference.
            Some(ahead) => prop_assert!((ahead - angle).abs() < 1e-5 || angle.sin().abs() < 1e-6, "{} {}", ahead, angle),
            None => prop_assert!((TAU * hz * delay).sin().abs() < 0.25),
        }
    }

    /// Any texts whatever give bands and advice or a refusal, and come back as they were typed.
    #[test]
    fn any_table_is_read(text in ".{0,120}", cells in prop::collection::vec("[0-9a-z.,-]{0,7}", 30), delay in "[0-9.,-]{0,6}") {
        let _ = FrontTable::read(&text).bands();
        let mut table = FrontTable { delay_ms: delay, ..FrontTable::default() };
        table.cells.iter_mut().flatten().zip(cells).for_each(|(cell, text)| *cell = text);
        prop_assert_eq!(FrontTable::read(&table.text()), table.clone());
        prop_assert!(table.text().chars().count() <= 300);
        let read: Vec<FrontPhase> = table.bands().into_iter().filter_map(|band| match band {
            FrontBand::Read(Ok(phase)) => Some(phase),
            _ => None,
        }).collect();
        if let Some(found) = align(&read) {
            prop_assert!(found.gain_db.is_finite() && found.delay_s.abs() <= 0.0121);
        }
        let _ = crossover(&read);
    }
}

// A subwoofer that is 3 ms late: its front speakers have to wait for it. Turned as well: turn it too.
#[test]
fn delay_and_polarity_are_found() {
    for (late_ms, turned) in [(3.0, false), (3.0, true), (-2.0, false), (-4.0, true), (0.0, true)] {
        let found = align(&car(late_ms / 1e3, turned)).unwrap();
        assert_eq!(found.turn, turned, "{late_ms} ms: {found:?}");
        assert_near(1e3 * found.delay_s, -late_ms, 0.25);
        assert!(found.short_db < 0.1, "{found:?}");
    }
    assert!(align(&car(0.0, true)).unwrap().gain_db > 5.0);
    let quiet = align(&car(0.0, false)).unwrap();
    assert_eq!((quiet.turn, quiet.delay_s), (false, 0.0));
    assert_near(quiet.gain_db, 0.0, 1e-9);
}

// Without a known delay the sign stays open, and nothing is said of a delay.
#[test]
fn without_a_delay_the_sign_stays_open() {
    let band = FrontLevels { delayed_db: None, ..levels(80.0, 80.0, 80.0, 1.0, 0.0) };
    let found = front_phase(band, 0.0).unwrap();
    assert_eq!(found.ahead_rad, None);
    assert_eq!(align(&[found, found]), None);
    // Half a period later is the same as turned: it tells no sign either.
    assert_eq!(front_phase(levels(80.0, 80.0, 80.0, 1.0, 1.0 / 160.0), 1.0 / 160.0).unwrap().ahead_rad, None);
}

// A volume moved by 2 dB between the readings shows in the check.
#[test]
fn a_moved_volume_shows_in_the_check() {
    let good = levels(80.0, 80.0, 78.0, 1.3, 2e-3);
    let moved = FrontLevels { turned_db: good.turned_db.map(|db| db + 2.0), ..good };
    assert!(front_phase(moved, 2e-3).unwrap().check_db.unwrap() > 0.8);
}

fn shares(levels: [(f64, f64); 6]) -> Option<Crossover> {
    let band =
        |(hz, (sub, front)): (&f64, &(f64, f64))| front_phase(levels_of(*hz, *sub, *front), 0.0).unwrap();
    crossover(&FRONT_BANDS_HZ.iter().zip(&levels).map(band).collect::<Vec<_>>())
}

fn levels_of(hz: f64, sub: f64, front: f64) -> FrontLevels {
    levels(hz, sub, front, 0.5, 0.0)
}

#[test]
fn how_the_bands_are_shared() {
    let meets = shares([(84.0, 60.0), (84.0, 68.0), (83.0, 76.0), (80.0, 80.0), (72.0, 83.0), (64.0, 84.0)]);
    let Some(Crossover::Meets(hz)) = meets else { panic!("{meets:?}") };
    assert_near(hz, 80.0, 1e-9);
    // Equal steps on either side of the middle of 63 and 80 Hz over log f.
    let between =
        shares([(84.0, 60.0), (84.0, 66.0), (82.0, 80.0), (80.0, 82.0), (72.0, 83.0), (64.0, 84.0)]);
    let Some(Crossover::Meets(hz)) = between else { panic!("{between:?}") };
    assert_near(hz, (63.0_f64 * 80.0).sqrt(), 1e-6);
    assert_eq!(shares([(84.0, 60.0); 6]), Some(Crossover::SubOver));
    assert_eq!(shares([(60.0, 84.0); 6]), Some(Crossover::FrontOver));
    assert_eq!(shares([(80.0, 80.0); 6]), None);
    let hole = shares([(84.0, 50.0), (80.0, 56.0), (72.0, 60.0), (66.0, 66.0), (60.0, 76.0), (50.0, 84.0)]);
    assert!(
        matches!(hole, Some(Crossover::Hole(hz, db)) if (hz - 80.0).abs() < 1e-9 && (db - 18.0).abs() < 1e-9)
    );
    let wide = shares([(84.0, 80.0), (84.0, 80.0), (83.0, 81.0), (82.0, 82.0), (81.0, 83.0), (80.0, 84.0)]);
    assert!(matches!(wide, Some(Crossover::Wide(_, octaves)) if octaves > 1.5));
}
