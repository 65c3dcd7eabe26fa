//! Range checks shared by the acoustic models.

use crate::model::error::ModelError;
pub(super) use crate::model::error::within;

/// `value` if it is a finite number; the result of a formula whose inputs were checked one by one.
pub(super) fn finite(what: &'static str, value: f64) -> Result<f64, ModelError> {
    within(what, value, f64::MIN, f64::MAX)
}
