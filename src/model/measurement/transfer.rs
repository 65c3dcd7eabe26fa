//! From the test box to the real one: what was measured times the ratio of the two boxes' responses.
use crate::model::error::ModelError;

/// Where the air moves: the real box's cone and port against the test box's.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outlets {
    /// At the same places.
    Same,
    /// A port or a cone stands elsewhere.
    Moved,
}

/// How far the lumped model of a box may be off below 200 Hz, dB. Common practice, no source.
const MODEL_BAND_DB: f64 = 1.0;
/// What an outlet some decimetres away changes at a seat, dB. An assumption, to be corrected by trials.
const MOVED_BAND_DB: f64 = 3.0;

/// A curve predicted at the seat.
#[derive(Clone, Debug, PartialEq)]
pub struct Prediction {
    /// Level at each frequency in dB; gaps where nothing was measured.
    pub levels_db: Vec<f64>,
    /// Half width of the band around it in dB, the takes' own uncertainty left out.
    pub band_db: f64,
}

/// The curve at the seat with another box in the same place, driven with the same voltage.
///
/// measured + (final − test), all in dB at the same frequencies: cabin and microphone drop out as they are in the
/// measured level already. The same box gives back the same curve exactly, and no band.
///
/// # Errors
/// [`ModelError::Impossible`] if the lists differ in length.
///
/// # Source
/// Linear systems: seat = box × cabin × microphone.
pub fn predict(
    measured_db: &[f64],
    test_box_db: &[f64],
    final_box_db: &[f64],
    outlets: Outlets,
) -> Result<Prediction, ModelError> {
    if measured_db.len() != test_box_db.len() || measured_db.len() != final_box_db.len() {
        return Err(ModelError::Impossible { what: "Curves at different frequencies" });
    }
    let ratio = test_box_db.iter().zip(final_box_db).map(|(test, real)| real - test);
    let levels_db = measured_db.iter().zip(ratio).map(|(level, ratio)| level + ratio).collect();
    let model = if test_box_db == final_box_db { 0.0 } else { MODEL_BAND_DB };
    let moved = if outlets == Outlets::Moved { MOVED_BAND_DB } else { 0.0 };
    Ok(Prediction { levels_db, band_db: f64::hypot(model, moved) })
}
