//! Levels heard in the car: bands, weightings, curves, takes, the choice among places, and what follows from it.
//!
//! A level curve is a list of levels in dB beside a list of ascending frequencies in Hz. A gap in it, a point that was
//! not measured, is not finite; every figure given back is finite. Levels of a phone or an uncalibrated meter carry
//! an unknown curve m(f) of the microphone; only what is said to be free of it is compared among trials.
mod absolute;
mod bands;
mod cabin_fit;
mod collect;
mod curve;
mod fourier;
mod fronts;
mod proof;
mod proof_circuit;
mod recording;
mod search;
mod student;
mod sweep;
mod takes;
mod transfer;
mod verdict;
mod weighting;

pub mod columns;

pub use absolute::{Absolute, absolute, target_db};
pub use bands::{Band, THIRD_OCTAVE_TONES_HZ, TRIAL_POINTS, bands, trial_frequencies};
pub use cabin_fit::{CabinFit, Found, fit_cabin};
pub use collect::{Collected, Collector, LEAST_RATE_HZ};
pub use curve::{Curve, interpolate};
pub use fronts::{
    Alignment, Crossover, FrontLevels, FrontPhase, Polarity, align, crossover, front_phase, polarity,
};
pub use proof::{BoxLoss, Peaks, Proof, ProofDriver, ProvenBox, Relation, prove};
pub use recording::{SweepFault, SweepTake, read_sweeps};
pub use search::{Extreme, Search, Sought, Tone, search};
pub use student::student_t;
pub use sweep::{Lead, NextStep, SWEEP_SECONDS, Sweep, next_step, seconds_for, tone_wav, wav_file};
pub use takes::{Takes, seat_average};
pub use transfer::{Outlets, Prediction, predict};
pub use verdict::{
    Comparison, DRIFT_LIMIT_DB, Figures, HOLE_LIMIT_DB, Heard, Range, Verdict, Weights, drift, judge,
};
pub use weighting::Weighting;
