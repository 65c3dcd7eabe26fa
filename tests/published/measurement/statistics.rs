//! Takes: mean, spread and Student's t, the last against an integral of its density.
use crate::assert_near;
use kerf_and_coil::model::measurement::{Takes, seat_average, student_t};
use proptest::prelude::*;

/// The share of Student's distribution with `n` degrees of freedom within ±t, by Simpson's rule on the density
/// (1 + x²/n)^(−(n+1)/2), normalised by its own integral after x = √n·tan θ: cos^(n−1) θ.
fn share_within(t: f64, n: usize) -> f64 {
    let integral = |to: f64| {
        let steps = 4000;
        let h = to / steps as f64;
        let f = |theta: f64| theta.cos().powi(n as i32 - 1);
        let sum: f64 = (1..steps).map(|i| if i % 2 == 1 { 4.0 } else { 2.0 } * f(i as f64 * h)).sum();
        (f(0.0) + sum + f(to)) * h / 3.0
    };
    integral((t / (n as f64).sqrt()).atan()) / integral(std::f64::consts::FRAC_PI_2)
}

// The table prints three decimals.
#[test]
fn student_t_covers_95_percent() {
    for n in [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15, 20, 30, 60] {
        let t = student_t(n).unwrap();
        assert!(share_within(t - 5.1e-4, n) < 0.95 && share_within(t + 5.1e-4, n) > 0.95, "{n}: {t}");
    }
    assert_eq!(student_t(0), None);
    for n in 1..200 {
        assert!(share_within(student_t(n).unwrap(), n) > 0.949_95, "{n}");
    }
}

// GUM 4.2: mean 2.0, s = 1.0 of 1, 2, 3; t = 4.303 for two degrees of freedom.
#[test]
fn three_takes() {
    let takes = Takes::over(&[vec![1.0, 70.0], vec![2.0, 70.0], vec![3.0, f64::NAN]]);
    assert_eq!(takes.count, 3);
    assert_near(takes.mean_db[0], 2.0, 1e-12);
    assert_near(takes.spread_db[0], 1.0, 1e-12);
    assert_near(takes.standard_db(0).unwrap(), 0.577_35, 1e-5);
    assert_near(takes.half_width_db(0).unwrap(), 4.303 / 3_f64.sqrt(), 1e-9);
    assert!(takes.mean_db[1].is_nan() && takes.standard_db(1).is_none());
    assert_eq!(Takes::over(&[vec![1.0]]).half_width_db(0), None);
    assert_eq!(Takes::over(&[]).count, 0);
}

// Two equal seats: their level; one 3.0103 dB above another: half the power of the sum of 1 and 2, 1.5.
#[test]
fn seats_add_as_power() {
    assert_near(seat_average(&[&[80.0], &[80.0]])[0], 80.0, 0.0);
    assert_near(seat_average(&[&[80.0], &[83.0103]])[0], 80.0 + 1.760_91, 1e-5);
    assert!(seat_average(&[]).is_empty());
}

proptest! {
    /// Pooling parts gives what taking all at once gives.
    #[test]
    fn pooled_parts_are_the_whole(levels in prop::collection::vec(-40.0..120.0_f64, 2..12), cut in 1..11_usize) {
        let takes: Vec<Vec<f64>> = levels.iter().map(|level| vec![*level]).collect();
        let cut = cut.min(takes.len() - 1);
        let whole = Takes::over(&takes);
        let parts = Takes::pooled(&[Takes::over(&takes[..cut]), Takes::over(&takes[cut..])]);
        prop_assert_eq!(whole.count, parts.count);
        prop_assert!((whole.mean_db[0] - parts.mean_db[0]).abs() < 1e-9);
        prop_assert!((whole.spread_db[0] - parts.spread_db[0]).abs() < 1e-6);
        let mean = levels.iter().sum::<f64>() / levels.len() as f64;
        let variance = levels.iter().map(|l| (l - mean).powi(2)).sum::<f64>() / (levels.len() as f64 - 1.0);
        prop_assert!((whole.spread_db[0] - variance.sqrt()).abs() < 1e-6);
    }
}
