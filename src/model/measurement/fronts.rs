//! The subwoofer with the front speakers: the angle between them from three levels.
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
}

/// How the two add up in one band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrontPhase {
    /// Middle of the band.
    pub hz: f64,
    /// cos φ between them, −1 to 1.
    pub cosine: f64,
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

/// cos φ = (S² − A² − B²)/(2AB) from sub alone A, front alone B and both S.
///
/// Microphone, weighting and seat drop out, being equal in all three. The sign of φ stays open.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a level beyond ±300 dB; [`ModelError::Impossible`] if the three levels contradict
/// one another: both louder than the two can be together, or quieter than they can cancel.
///
/// # Source
/// Law of cosines on phasors.
pub fn front_phase(levels: FrontLevels) -> Result<FrontPhase, ModelError> {
    for value in [levels.sub_db, levels.front_db, levels.both_db] {
        within("level in dB", value, -300.0, 300.0)?;
    }
    // Relative to the louder of the two, which keeps every power near one.
    let top = levels.sub_db.max(levels.front_db);
    let power = |level: f64| 10_f64.powf((level - top) / 10.0);
    let (a2, b2, s2) = (power(levels.sub_db), power(levels.front_db), power(levels.both_db));
    let counts = (levels.sub_db - levels.front_db).abs() <= TOGETHER_DB;
    let raw = (s2 - a2 - b2) / (2.0 * (a2 * b2).sqrt());
    if counts && raw.abs() > 1.0 + COSINE_SLACK * (a2.max(b2) / a2.min(b2)).sqrt() {
        return Err(ModelError::Impossible {
            what: "The three levels contradict one another: play them again at one setting of the volume",
        });
    }
    let cosine = if raw.is_finite() { raw.clamp(-1.0, 1.0) } else { 0.0 };
    let cross = 2.0 * cosine * (a2 * b2).sqrt();
    let floor = 10_f64.powf(-DEEPEST_DB / 10.0);
    let (now, turned) = ((a2 + b2 + cross).max(floor), (a2 + b2 - cross).max(floor));
    Ok(FrontPhase { hz: levels.hz, cosine, turned_gain_db: 10.0 * (turned / now).log10(), counts })
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
