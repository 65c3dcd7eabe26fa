//! The signal path against published points and against scipy (`data/acoustics/filters/README.md`).
use super::{Table, rig};
use crate::assert_near;
use kerf_and_coil::model::acoustics::{SignalPath, Slope, Stage};
use kerf_and_coil::model::numeric::log_grid;
use kerf_and_coil::units::{Frequency, Volume};
use std::f64::consts::TAU;

fn hz(hertz: f64) -> Frequency {
    Frequency::from_hertz(hertz)
}

fn gain_db(stage: Stage, f: f64) -> f64 {
    20.0 * stage.at(TAU * f).0.norm().log10()
}

// Butterworth: half power at the corner, |H|² = 1/(1 + (f/fc)^2n) (Butterworth 1930); Linkwitz-Riley: half the pressure
// at the corner (Linkwitz, JAES 24 (1976) 2). An octave beyond: 10·lg(1 + 2^2n), twice the half order for the latter.
#[test]
fn slopes_pass_their_published_points() {
    for (slope, order, riley) in [
        (Slope::Butterworth12, 2, false),
        (Slope::Butterworth18, 3, false),
        (Slope::Butterworth24, 4, false),
        (Slope::LinkwitzRiley12, 2, true),
        (Slope::LinkwitzRiley24, 4, true),
    ] {
        let (at_corner, beyond) = if riley {
            (-20.0 * 2f64.log10(), -20.0 * (1.0 + 2f64.powi(order)).log10())
        } else {
            (-10.0 * 2f64.log10(), -10.0 * (1.0 + 2f64.powi(2 * order)).log10())
        };
        let (high, low) =
            (Stage::HighPass { slope, corner: hz(25.0) }, Stage::LowPass { slope, corner: hz(80.0) });
        for (stage, corner, octave) in [(high, 25.0, 12.5), (low, 80.0, 160.0)] {
            assert_near(gain_db(stage, corner), at_corner, 1e-9);
            assert_near(gain_db(stage, octave), beyond, 1e-9);
        }
    }
    assert_near(
        gain_db(Stage::HighPass { slope: Slope::Butterworth24, corner: hz(30.0) }, 30.0),
        -3.01,
        0.005,
    );
    assert_near(
        gain_db(Stage::HighPass { slope: Slope::LinkwitzRiley24, corner: hz(30.0) }, 30.0),
        -6.02,
        0.005,
    );
}

#[test]
fn every_filter_agrees_with_scipy() {
    let stage_of = |name: &str| {
        let parts: Vec<&str> = name.split('_').collect();
        let number = |i: usize| parts[i].parse::<f64>().unwrap();
        let slope = match parts[0] {
            "band" => return Stage::Band { centre: hz(number(1)), gain_db: number(2), q: number(3) },
            "shelf" => return Stage::LowShelf { corner: hz(number(1)), gain_db: number(2) },
            "butterworth12" => Slope::Butterworth12,
            "butterworth18" => Slope::Butterworth18,
            "butterworth24" => Slope::Butterworth24,
            "linkwitz12" => Slope::LinkwitzRiley12,
            "linkwitz24" => Slope::LinkwitzRiley24,
            other => panic!("{other}"),
        };
        match parts[1] {
            "high" => Stage::HighPass { slope, corner: hz(number(2)) },
            _ => Stage::LowPass { slope, corner: hz(number(2)) },
        }
    };
    let mut count = 0;
    for row in Table::read("filters/filters.csv").rows() {
        let stage = stage_of(row.text("filter"));
        let omega = TAU * row.number("f_hz");
        let (h, dh) = stage.at(omega);
        assert_near(20.0 * h.norm().log10(), row.number("gain_db"), 1e-5);
        let turn = (h.arg().to_degrees() - row.number("phase_deg") + 180.0).rem_euclid(360.0) - 180.0;
        assert_near(turn, 0.0, 1e-5);
        assert_near(-1e3 * (dh / h).im, row.number("delay_ms"), 1e-4);
        count += 1;
    }
    assert_eq!(count, 14 * 24);
}

/// What goes through the path: level, phase, delay, travel and air speed all follow its factor.
#[test]
fn the_path_acts_on_every_curve() {
    let network = rig::vented(rig::a10(), Volume::from_litres(50.0), 28.0, None);
    let plain = rig::at_2v83(&network, &log_grid(10.0, 500.0, 60));
    let path = SignalPath {
        stages: vec![
            Stage::HighPass { slope: Slope::Butterworth18, corner: hz(25.0) },
            Stage::Band { centre: hz(40.0), gain_db: 6.0, q: 1.0 },
        ],
    };
    let through = path.applied(&plain, None).unwrap();
    let limited = path.applied(&plain, Some(1.2)).unwrap();
    let mut clipped = 0;
    for (i, f) in plain.frequencies_hz.iter().enumerate() {
        let (h, dh) = path.at(TAU * f);
        let size = h.norm();
        assert_near(through.spl_db[i] - plain.spl_db[i], 20.0 * size.log10(), 1e-9);
        assert_near(through.excursion_peak_m[i], plain.excursion_peak_m[i] * size, 1e-12);
        let air = (through.ducts[0].velocity_peak_m_s[i], plain.ducts[0].velocity_peak_m_s[i]);
        assert_near(air.0, air.1 * size, 1e-9);
        let turn = through.phase_deg[i] - plain.phase_deg[i] - h.arg().to_degrees();
        assert_near((turn + 180.0).rem_euclid(360.0) - 180.0, 0.0, 1e-8);
        assert_near(through.group_delay_s[i] - plain.group_delay_s[i], -(dh / h).im, 1e-12);
        assert_eq!(through.impedance_ohm[i], plain.impedance_ohm[i]);
        let most = 20.0 * size.min(1.2).log10();
        assert_near(limited.spl_db[i] - plain.spl_db[i], most, 1e-9);
        clipped += usize::from(size > 1.2);
    }
    assert!(clipped > 3);
}

#[test]
fn silly_filters_are_refused() {
    for stage in [
        Stage::HighPass { slope: Slope::Butterworth12, corner: hz(f64::NAN) },
        Stage::LowShelf { corner: hz(30.0), gain_db: 1e9 },
        Stage::Band { centre: hz(30.0), gain_db: 3.0, q: 0.0 },
    ] {
        assert!(stage.check().is_err(), "{stage:?}");
    }
}
