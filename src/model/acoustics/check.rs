//! Range checks shared by the acoustic models.

use crate::model::error::ModelError;

/// `value` if it is finite and from `min` to `max`.
pub(super) fn within(what: &'static str, value: f64, min: f64, max: f64) -> Result<f64, ModelError> {
    if (min..=max).contains(&value) {
        Ok(value)
    } else {
        Err(ModelError::OutOfRange { what, value, min, max })
    }
}

/// `value` if it is a finite number; the result of a formula whose inputs were checked one by one.
pub(super) fn finite(what: &'static str, value: f64) -> Result<f64, ModelError> {
    within(what, value, f64::MIN, f64::MAX)
}
