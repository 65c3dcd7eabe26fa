//! The subwoofer with the front speakers, in words.
use super::figures::hertz;
use super::format::fixed;
use crate::model::measurement::{Alignment, Crossover, FrontPhase, Polarity};
use crate::words::{fronts as words, trials};

/// A turned polarity that is off by more than this asks for another look, dB.
const CHECK_DB: f64 = 1.0;
/// A delay shorter than this is none, s.
const SHORTEST_S: f64 = 0.3e-3;

/// Angle, gain of turning the polarity, and how far the check is off, of one band.
#[must_use]
pub fn band(band: &FrontPhase) -> (String, String, String) {
    let degrees = trials::degrees(&fixed(band.cosine.clamp(-1.0, 1.0).acos().to_degrees(), 0));
    let angle = match band.ahead_rad {
        Some(ahead) if ahead < 0.0 => words::behind(&degrees),
        Some(_) => words::ahead(&degrees),
        None => degrees,
    };
    (angle, fixed(band.turned_gain_db, 1), fixed(band.check_db.unwrap_or(f64::NAN), 1))
}

/// Bands whose levels with turned polarity do not fit the others, if any.
#[must_use]
pub fn check(bands: &[FrontPhase]) -> Option<String> {
    let off = bands.iter().filter(|band| band.check_db.is_some_and(|db| db.abs() > CHECK_DB));
    let names: Vec<String> = off.map(|band| trials::tone(&band.hz.to_string())).collect();
    (!names.is_empty()).then(|| words::check_off(&names.join(", ")))
}

/// What to do with the polarity.
#[must_use]
pub const fn polarity(advice: Polarity) -> &'static str {
    match advice {
        Polarity::Leave => trials::POLARITY_LEAVE,
        Polarity::Turn => trials::POLARITY_TURN,
        Polarity::NoMatter => trials::POLARITY_NO_MATTER,
    }
}

/// Polarity and delay that add up best, as one sentence.
#[must_use]
pub fn aligned(found: &Alignment) -> String {
    let ms = fixed(1e3 * found.delay_s.abs(), 1);
    let delay = match found.delay_s {
        s if s.abs() < SHORTEST_S => words::NO_DELAY.to_owned(),
        s if s > 0.0 => words::delay_sub(&ms),
        _ => words::delay_fronts(&ms),
    };
    let polarity = if found.turn { words::TURN } else { words::KEEP };
    words::aligned(polarity, &delay, &fixed(found.gain_db.max(0.0), 1), &fixed(found.short_db.max(0.0), 1))
}

/// How the two share the bands.
#[must_use]
pub fn crossover(found: Crossover) -> String {
    match found {
        Crossover::Meets(hz) => words::meets(&hertz(hz)),
        Crossover::Wide(hz, octaves) => words::wide(&hertz(hz), &fixed(octaves, 1)),
        Crossover::Hole(hz, db) => words::hole(&hertz(hz), &fixed(db, 0)),
        Crossover::SubOver => words::SUB_OVER.into(),
        Crossover::FrontOver => words::FRONT_OVER.into(),
    }
}
