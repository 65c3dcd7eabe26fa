//! What a model function may refuse.
use thiserror::Error;

/// `value` itself if it is a number from `min` to `max`.
pub(super) fn within(what: &'static str, value: f64, min: f64, max: f64) -> Result<f64, ModelError> {
    if (min..=max).contains(&value) {
        Ok(value)
    } else {
        Err(ModelError::OutOfRange { what, value, min, max })
    }
}

/// A model input outside the range in which the model means something.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum ModelError {
    /// A quantity is outside its physical or documented range.
    #[error("{what} is {value}; it must be {min} to {max}")]
    OutOfRange {
        /// Name and unit of the quantity.
        what: &'static str,
        /// The value given.
        value: f64,
        /// Smallest accepted value.
        min: f64,
        /// Largest accepted value.
        max: f64,
    },
    /// The inputs given do not determine the result.
    #[error("{what} is missing")]
    Missing {
        /// Name of the missing quantity.
        what: &'static str,
    },
    /// Inputs exclude one another, such as a box smaller than its boards.
    #[error("{what}")]
    Impossible {
        /// What excludes what.
        what: &'static str,
    },
}
