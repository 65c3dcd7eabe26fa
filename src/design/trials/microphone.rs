//! What is known of the microphone: its curve, and the level that full scale stands for.
use super::{Trial, WAYS};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::model::measurement::{
    Absolute, TRIAL_POINTS, Verdict, Weighting, absolute, interpolate, trial_frequencies,
};

/// The tone with which a meter reading anchors the level, Hz.
pub const ANCHOR_HZ: f64 = 50.0;
/// The way of a sweep.
const SWEEP: u8 = 2;

/// What the microphone adds, at the points of a trial in dB; gaps are not finite. `None` without a curve.
#[must_use]
pub fn correction(sheet: &Sheet) -> Option<Vec<f64>> {
    let text = sheet.text(FieldId::MicrophoneCurve);
    let level = |word: &str| word.parse::<f64>().ok().filter(|db| db.abs() <= 100.0).unwrap_or(f64::NAN);
    let levels: Vec<f64> = text.split_whitespace().map(level).collect();
    (levels.len() == TRIAL_POINTS && levels.iter().any(|db| db.is_finite())).then_some(levels)
}

/// A curve at the points of a trial as the text that is kept: tenths of a decibel, `-` for a gap.
#[must_use]
pub fn correction_text(levels_db: &[f64]) -> String {
    let word = |db: &f64| {
        if db.is_finite() {
            ((10.0 * db).round().clamp(-999.0, 999.0) / 10.0).to_string()
        } else {
            "-".into()
        }
    };
    levels_db.iter().map(word).collect::<Vec<_>>().join(" ")
}

/// Whether the curve belongs to every trial that counts.
#[must_use]
pub fn covers(sheet: &Sheet, trials: &[Trial]) -> bool {
    let key = sheet.choice_key(FieldId::MicrophoneFor);
    let way = WAYS.iter().position(|way| *way == key);
    let fits = |trial: &Trial| way.is_none_or(|way| usize::from(trial.way) == way);
    trials.iter().filter(|trial| !trial.left_out).all(fits)
}

/// The sound pressure level that 0 dB of the trials stands for; `None` where it is not known.
///
/// Sweeps are relative to full scale, so that they need an anchor; what a meter read is a sound pressure level itself.
#[must_use]
pub fn full_scale(sheet: &Sheet, trials: &[Trial]) -> Option<f64> {
    let counting = || trials.iter().filter(|trial| !trial.left_out);
    if counting().all(|trial| trial.way == SWEEP) {
        return sheet.si(FieldId::FullScale);
    }
    counting().all(|trial| trial.way == 0).then_some(0.0)
}

/// The sound pressure level of full scale, dB: what a meter read of the tone, less what the sweep of a trial, played at
/// the same volume, recorded at its frequency. `None` if the trial has no level there.
#[must_use]
pub fn anchored(sheet: &Sheet, trial: &Trial, read_db: f64, weighting: Weighting) -> Option<f64> {
    let points = trial_frequencies();
    let recorded = interpolate(&points, &trial.takes().mean_db, ANCHOR_HZ)?;
    let added = correction(sheet).and_then(|curve| interpolate(&points, &curve, ANCHOR_HZ)).unwrap_or(0.0);
    let level = weighting.taken_off(read_db, ANCHOR_HZ) - (recorded - added);
    (20.0..=200.0).contains(&level).then_some(level)
}

/// Flatness and usable level of each place in the ranking; `None` without a curve that covers every trial.
#[must_use]
pub fn absolutes(sheet: &Sheet, trials: &[Trial], verdict: &Verdict) -> Option<Vec<Absolute>> {
    let curve = correction(sheet).filter(|_| covers(sheet, trials))?;
    let points = trial_frequencies();
    let of = |figures: &crate::model::measurement::Figures| {
        absolute(&points, &figures.curve_db, &curve, figures.at_a_point_db, verdict.range)
    };
    verdict.ranking.iter().map(of).collect()
}
