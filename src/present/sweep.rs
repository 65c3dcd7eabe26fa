//! What a recorded sweep gave, in words.
use super::format::fixed;
use crate::model::measurement::{NextStep, SweepFault, SweepTake, trial_frequencies};
use crate::words::sweep as words;

/// What is wrong with a recording, and what to do.
#[must_use]
pub fn fault(fault: SweepFault) -> String {
    let one = |db: f64| fixed(db, 1);
    match fault {
        SweepFault::Rate(hz) => words::rate(&fixed(hz / 1000.0, 1)),
        SweepFault::NotFound => words::NOT_FOUND.into(),
        SweepFault::NoSilence => words::NO_SILENCE.into(),
        SweepFault::Clipped(_) => words::CLIPPED.into(),
        SweepFault::Overload(db) => words::overload(&one(-db)),
        SweepFault::NearOverload(db) => words::near_overload(&one(-db)),
        SweepFault::Noise(db) if db.is_finite() => words::noisy(&fixed(db.max(0.0), 0)),
        SweepFault::Noise(_) => words::NOT_FOUND.into(),
        SweepFault::Gap => words::GAP.into(),
        SweepFault::GainControl(db) => words::gain_control(&one(-db)),
        SweepFault::LevelDrift(db) => words::level_drift(&one(db.abs()), db > 0.0),
    }
}

/// What would make the next take better.
#[must_use]
pub fn next_step(next: NextStep) -> Option<String> {
    match next {
        NextStep::Enough => None,
        NextStep::Louder => Some(words::LOUDER.into()),
        NextStep::Longer(seconds) => Some(words::longer(seconds)),
        NextStep::Quieter => Some(words::QUIETER.into()),
    }
}

/// What was heard: distance from the noise, and how sure the levels are.
#[must_use]
pub fn heard(take: &SweepTake) -> String {
    let sure = trial_frequencies()
        .iter()
        .zip(&take.half_width_db)
        .filter(|(hz, half)| (25.0..=80.0).contains(*hz) && half.is_finite())
        .map(|(_, half)| *half)
        .fold(0.0, f64::max);
    // No microphone has more than 90 dB; and never promised closer than the levels are kept.
    words::heard(&fixed(take.bass_over_noise_db.min(90.0), 0), &fixed(sure.max(0.1), 1))
}
