//! The cabin by the trials: what they measured over the test box's own response.
use super::correction;
use crate::design::document::{Entry, Sheet, parse_entry};
use crate::design::evaluate::body_share;
use crate::design::limits::FieldId;
use crate::model::acoustics::Cabin;
use crate::model::error::ModelError;
use crate::model::measurement::{CabinFit, Range, Verdict, fit_cabin, trial_frequencies};
use crate::units::{Frequency, UnitPrefs};

/// The frequencies that tell of a cabin: below lies nothing of a trial, above are modes.
pub const CABIN_RANGE: Range = Range { low_hz: 20.0, high_hz: 160.0 };

/// The mean of all spots compared, in dB, with the microphone's own curve taken off where it is known.
#[must_use]
pub fn mean_of_spots(sheet: &Sheet, verdict: &Verdict) -> Vec<f64> {
    let added = correction(sheet);
    let count = verdict.ranking.len().max(1) as f64;
    let at = |k: usize| {
        let levels =
            verdict.ranking.iter().map(|figures| figures.curve_db.get(k).copied().unwrap_or(f64::NAN));
        let more = added.as_ref().map_or(0.0, |added| added.get(k).copied().unwrap_or(f64::NAN));
        levels.sum::<f64>() / count - more
    };
    (0..trial_frequencies().len()).map(at).collect()
}

/// Corner and leak by the mean of the spots over the box's own level.
///
/// # Errors
/// As [`fit_cabin`].
pub fn cabin_by_trials(sheet: &Sheet, mean_db: &[f64], box_db: &[f64]) -> Result<CabinFit, ModelError> {
    let over: Vec<f64> = mean_db.iter().zip(box_db).map(|(level, own)| level - own).collect();
    let leak = sheet.si(FieldId::CabinLeak).map(Frequency::from_hertz);
    fit_cabin(&trial_frequencies(), &over, CABIN_RANGE, leak, body_share(sheet))
}

/// The vehicle's entries for a cabin, in steps of 0.1 Hz.
#[must_use]
pub fn cabin_entries(cabin: &Cabin, leak_too: bool) -> Vec<(FieldId, Entry)> {
    let hz = |id, frequency: Frequency| {
        Some((id, parse_entry(id, &format!("{:.1} Hz", frequency.hertz()), &UnitPrefs::default()).ok()?))
    };
    let leak = cabin.leak.filter(|_| leak_too).and_then(|leak| hz(FieldId::CabinLeak, leak));
    hz(FieldId::CabinCorner, cabin.corner).into_iter().chain(leak).collect()
}
