//! The models against published values and independent reference data.
mod acoustics;
mod cutting;
mod electrical;
#[path = "../support/fittings.rs"]
mod fittings;
mod measurement;
#[path = "../support/noise.rs"]
mod noise;
#[path = "../support/solids.rs"]
mod solids;
mod woodworking;

/// Fails, showing both values and their difference, unless `actual` is within `tolerance` of `expected`.
#[track_caller]
pub fn assert_near(actual: f64, expected: f64, tolerance: f64) {
    let difference = actual - expected;
    assert!(
        difference.abs() <= tolerance,
        "got {actual}, expected {expected}: difference {difference:e}, tolerance {tolerance:e}"
    );
}
