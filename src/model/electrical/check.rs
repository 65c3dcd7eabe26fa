//! The one range check of the electrical models.
use crate::model::error::ModelError;
pub(super) use crate::model::error::within;

/// A current of 0.001 A to 100 000 A.
pub(super) fn current_a(what: &'static str, value: f64) -> Result<f64, ModelError> {
    within(what, value, 1e-3, 1e5)
}

/// A supply of 1 V to 1000 V.
pub(super) fn supply_v(what: &'static str, value: f64) -> Result<f64, ModelError> {
    within(what, value, 1.0, 1e3)
}

/// A load or coil of 0.01 Ω to 10 000 Ω.
pub(super) fn load_ohm(what: &'static str, value: f64) -> Result<f64, ModelError> {
    within(what, value, 1e-2, 1e4)
}
