//! The subwoofer with the front speakers: the angle between them from three levels, its sign from a known delay.
use std::f64::consts::TAU;

use crate::model::error::{ModelError, within};

/// Levels of one band at the same place and volume, dB.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrontLevels {
    /// Middle of the band.
    pub hz: f64,
    /// Subwoofer alone.
    pub sub_db: f64,
    /// Front speakers alone.
    pub front_db: f64,
    /// Both.
    pub both_db: f64,
    /// Both, with the polarity of one turned, if that was measured.
    pub turned_db: Option<f64>,
    /// Both, with the subwoofer later by a known delay, if that was measured.
    pub delayed_db: Option<f64>,
}

/// How the two add up in one band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrontPhase {
    /// Middle of the band.
    pub hz: f64,
    /// Subwoofer alone, dB.
    pub sub_db: f64,
    /// Front speakers alone, dB.
    pub front_db: f64,
    /// cos φ between them, −1 to 1.
    pub cosine: f64,
    /// The angle by which the subwoofer is ahead, −π to π; `None` while its sign is open.
    pub ahead_rad: Option<f64>,
    /// How far the levels with turned polarity are off what they must be, dB; `None` if not measured.
    pub check_db: Option<f64>,
    /// What turning the polarity of one would add to the level of both, dB.
    pub turned_gain_db: f64,
    /// Whether both play here: within 15 dB of each other. Elsewhere the angle does not matter.
    pub counts: bool,
}

/// What to do with the polarity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Polarity {
    /// Leave it.
    Leave,
    /// Turn it.
    Turn,
    /// No matter: less than 1 dB either way, or both never play together.
    NoMatter,
}

/// Furthest apart two levels may be while their angle still shows.
const TOGETHER_DB: f64 = 15.0;
/// How far |cos φ| may exceed 1 by reading errors: half a dB in each level at equal levels.
const COSINE_SLACK: f64 = 0.35;
/// Gains below this are not heard.
const HEARD_DB: f64 = 1.0;
/// A cancellation deeper than this is not forecast.
const DEEPEST_DB: f64 = 30.0;
/// A delay that turns the angle by less than this in sine tells no sign.
const LEAST_SINE: f64 = 0.25;
/// Delays looked at, s: to this either way, in such steps.
const LONGEST_S: f64 = 0.012;
const STEP_S: f64 = 1e-4;
/// A shorter delay is preferred to a longer one that brings less than so much more for each millisecond, dB.
const WORTH_DB_PER_MS: f64 = 0.05;
/// Bands in which both are this close share the work.
const SHARED_DB: f64 = 6.0;
/// Where they meet lies this far under the louder of both elsewhere: nobody plays there.
const HOLE_DB: f64 = 9.0;

/// cos φ = (S² − A² − B²)/(2AB) from sub alone A, front alone B and both S.
///
/// Microphone, weighting and seat drop out, being equal in all three. With turned polarity S² + S'² = 2(A² + B²) checks
/// the levels, and cos φ = (S² − S'²)/(4AB) is surer. With the subwoofer later by τ, cos(φ − ωτ) gives sin φ and so the
/// sign of φ, unless τ is close to a whole number of half periods; without it the sign stays open.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a level beyond ±300 dB; [`ModelError::Impossible`] if the three levels contradict
/// one another: both louder than the two can be together, or quieter than they can cancel.
///
/// # Source
/// Law of cosines on phasors.
pub fn front_phase(levels: FrontLevels, delay_s: f64) -> Result<FrontPhase, ModelError> {
    let typed = [levels.sub_db, levels.front_db, levels.both_db];
    for value in typed.into_iter().chain(levels.turned_db).chain(levels.delayed_db) {
        within("level in dB", value, -300.0, 300.0)?;
    }
    within("delay in s", delay_s, -0.1, 0.1)?;
    // Relative to the louder of the two, which keeps every power near one.
    let top = levels.sub_db.max(levels.front_db);
    let power = |level: f64| 10_f64.powf((level - top) / 10.0);
    let (a2, b2, s2) = (power(levels.sub_db), power(levels.front_db), power(levels.both_db));
    let counts = (levels.sub_db - levels.front_db).abs() <= TOGETHER_DB;
    let ab = (a2 * b2).sqrt();
    let turned2 = levels.turned_db.map(power);
    let raw = turned2.map_or((s2 - a2 - b2) / (2.0 * ab), |turned2| (s2 - turned2) / (4.0 * ab));
    let check_db = turned2.map(|turned2| 10.0 * ((s2 + turned2) / (2.0 * (a2 + b2))).log10());
    if counts && raw.abs() > 1.0 + COSINE_SLACK * (a2.max(b2) / a2.min(b2)).sqrt() {
        return Err(ModelError::Impossible {
            what: "The three levels contradict one another: play them again at one setting of the volume",
        });
    }
    let cosine = if raw.is_finite() { raw.clamp(-1.0, 1.0) } else { 0.0 };
    let delayed = levels.delayed_db.map(|level| ((power(level) - a2 - b2) / (2.0 * ab)).clamp(-1.0, 1.0));
    let ahead_rad = delayed.and_then(|delayed| signed(cosine, delayed, TAU * levels.hz * delay_s));
    let cross = 2.0 * cosine * ab;
    let floor = 10_f64.powf(-DEEPEST_DB / 10.0);
    let (now, turned) = ((a2 + b2 + cross).max(floor), (a2 + b2 - cross).max(floor));
    Ok(FrontPhase {
        hz: levels.hz,
        sub_db: levels.sub_db,
        front_db: levels.front_db,
        cosine,
        ahead_rad,
        check_db: check_db.filter(|_| counts),
        turned_gain_db: 10.0 * (turned / now).log10(),
        counts,
    })
}

/// φ with its sign, from its cosine and that of φ − ωτ.
fn signed(cosine: f64, delayed: f64, turn_rad: f64) -> Option<f64> {
    if turn_rad.sin().abs() < LEAST_SINE {
        return None;
    }
    let sine = (delayed - cosine * turn_rad.cos()) / turn_rad.sin();
    Some(cosine.acos().copysign(sine))
}

/// Polarity and delay that make the two add up best.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alignment {
    /// Whether the subwoofer's polarity is to be turned.
    pub turn: bool,
    /// How much later the subwoofer is to play, s; below zero the front speakers are to play later.
    pub delay_s: f64,
    /// What that adds to the level of both, mean over the bands where both play, dB.
    pub gain_db: f64,
    /// What is then still missing to both in step, dB.
    pub short_db: f64,
}

/// The best polarity and delay for bands whose sign is known; `None` with fewer than two such bands where both play.
///
/// Searched in steps of 0.1 ms up to 12 ms either way for the largest mean level; of delays that are equally good the
/// shortest.
#[must_use]
pub fn align(bands: &[FrontPhase]) -> Option<Alignment> {
    let known: Vec<(&FrontPhase, f64)> =
        bands.iter().filter(|band| band.counts).filter_map(|band| Some((band, band.ahead_rad?))).collect();
    if known.len() < 2 {
        return None;
    }
    let level = |turn: bool, delay_s: f64| {
        let sign = if turn { -1.0 } else { 1.0 };
        let sum: f64 = known
            .iter()
            .map(|(band, ahead)| together_db(band, sign * (ahead - TAU * band.hz * delay_s).cos()))
            .sum();
        sum / known.len() as f64
    };
    let steps = (LONGEST_S / STEP_S).round() as i32;
    let mut best = (f64::NEG_INFINITY, false, 0.0);
    for turn in [false, true] {
        for step in -steps..=steps {
            let delay_s = f64::from(step) * STEP_S;
            let merit = level(turn, delay_s) - WORTH_DB_PER_MS * 1e3 * delay_s.abs();
            if merit > best.0 {
                best = (merit, turn, delay_s);
            }
        }
    }
    let (_, turn, delay_s) = best;
    let most = known.iter().map(|(band, _)| together_db(band, 1.0)).sum::<f64>() / known.len() as f64;
    let then = level(turn, delay_s);
    Some(Alignment { turn, delay_s, gain_db: then - level(false, 0.0), short_db: most - then })
}

/// The level of both over the louder one for a cosine, dB.
fn together_db(band: &FrontPhase, cosine: f64) -> f64 {
    let ratio = 10_f64.powf(-(band.sub_db - band.front_db).abs() / 20.0);
    let floor = 10_f64.powf(-DEEPEST_DB / 10.0);
    10.0 * (1.0 + ratio * ratio + 2.0 * ratio * cosine).max(floor).log10()
}

/// How the two share the bands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Crossover {
    /// They hand over here, Hz.
    Meets(f64),
    /// They hand over here, Hz, but both play over so many octaves.
    Wide(f64, f64),
    /// They hand over here, Hz, and neither plays there: both lie so many dB under what they reach elsewhere.
    Hole(f64, f64),
    /// The subwoofer is louder in every band.
    SubOver,
    /// The front speakers are louder in every band.
    FrontOver,
}

/// How the bands are shared; `None` with fewer than two, or where the subwoofer does not hand over upwards.
#[must_use]
pub fn crossover(bands: &[FrontPhase]) -> Option<Crossover> {
    let (Some(first), Some(last)) = (bands.first(), bands.last()) else { return None };
    if bands.len() < 2 {
        return None;
    }
    let over = |band: &FrontPhase| band.sub_db - band.front_db;
    let Some((below, above)) =
        bands.iter().zip(bands.iter().skip(1)).find(|(a, b)| over(a) >= 0.0 && over(b) < 0.0)
    else {
        let all = |holds: &dyn Fn(f64) -> bool| bands.iter().all(|band| holds(over(band)));
        return match () {
            () if all(&|over| over > 0.0) => Some(Crossover::SubOver),
            () if all(&|over| over < 0.0) => Some(Crossover::FrontOver),
            () => None,
        };
    };
    let share = over(below) / (over(below) - over(above));
    let hz = below.hz * (above.hz / below.hz).powf(share);
    let at_meeting = below.sub_db + share * (above.sub_db - below.sub_db);
    let under = first.sub_db.min(last.front_db) - at_meeting;
    if under > HOLE_DB {
        return Some(Crossover::Hole(hz, under));
    }
    let mut shared = bands.iter().filter(|band| over(band).abs() <= SHARED_DB).map(|band| band.hz);
    let low = shared.next().unwrap_or(hz);
    let octaves = (shared.next_back().unwrap_or(low) / low).log2();
    Some(if octaves >= 1.0 { Crossover::Wide(hz, octaves) } else { Crossover::Meets(hz) })
}

/// What the bands together say of the polarity: the mean gain of turning it where both play.
#[must_use]
pub fn polarity(bands: &[FrontPhase]) -> Polarity {
    let gains: Vec<f64> = bands.iter().filter(|band| band.counts).map(|band| band.turned_gain_db).collect();
    if gains.is_empty() {
        return Polarity::NoMatter;
    }
    match gains.iter().sum::<f64>() / gains.len() as f64 {
        mean if mean >= HEARD_DB => Polarity::Turn,
        mean if mean <= -HEARD_DB => Polarity::Leave,
        _ => Polarity::NoMatter,
    }
}
