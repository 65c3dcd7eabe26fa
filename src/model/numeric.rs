//! Numerical tools shared by the models: frequency grids, root finding, small linear systems.
mod lu;

pub use lu::{DenseSystem, Factorised};

/// `count` frequencies from `low_hz` to `high_hz`, both included, equally spaced on a logarithmic axis.
///
/// The grid of the reference cases is `log_grid(10.0, 500.0, 200)`. Fewer than two points give `low_hz` alone.
#[must_use]
pub fn log_grid(low_hz: f64, high_hz: f64, count: usize) -> Vec<f64> {
    if count < 2 {
        return vec![low_hz];
    }
    let ratio = high_hz / low_hz;
    (0..count).map(|i| low_hz * ratio.powf(i as f64 / (count - 1) as f64)).collect()
}

/// A root of `f` between `a` and `b` by bisection, or `None` where the ends do not differ in sign or are not finite.
///
/// Stops when the bracket is narrower than `tolerance`, or after 200 halvings.
pub fn bisect(f: impl Fn(f64) -> f64, a: f64, b: f64, tolerance: f64) -> Option<f64> {
    let (mut low, mut high) = (a, b);
    let at_low = f(low);
    let at_high = f(high);
    if at_low == 0.0 {
        return Some(low);
    }
    if at_high == 0.0 {
        return Some(high);
    }
    if !at_low.is_finite() || !at_high.is_finite() || (at_low > 0.0) == (at_high > 0.0) {
        return None;
    }
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if (high - low).abs() < tolerance {
            return Some(middle);
        }
        if (f(middle) > 0.0) == (at_low > 0.0) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(0.5 * (low + high))
}
