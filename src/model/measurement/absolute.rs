//! What a microphone's own curve adds to the choice: how even a place is, and what level equalisation leaves.
use super::bands::bands;
use super::curve::interpolate;
use super::verdict::Range;
use crate::small::sort_by_number;

/// The target falls by so much per octave above its knee, dB. An assumption; listeners in cars want more bass than flat
/// (Dennis 2015).
const TARGET_DB_PER_OCTAVE: f64 = -4.0;
/// The target's knee, Hz; it is level below.
const TARGET_KNEE_HZ: f64 = 40.0;
/// The level that cutting of peaks leaves is that which all but this share of frequencies reach.
const LEFT_OVER: f64 = 0.1;
/// Fewest points of the grid.
const FEWEST_POINTS: usize = 6;

/// Figures that need the microphone's curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Absolute {
    /// Flatness F: root mean square of what the curve is off the target's shape, dB.
    pub flatness_db: f64,
    /// Usable level U: the level over the target that nine tenths of the frequencies reach, dB: what is left when peaks
    /// are cut. Relative to full scale, or to 20 µPa where a meter reading anchors it.
    pub usable_db: f64,
    /// Standard uncertainty of both by the takes, dB; `None` while nothing was taken twice.
    pub uncertainty_db: Option<f64>,
}

/// The target, dB under its level below 40 Hz: straight over log f.
#[must_use]
pub fn target_db(hz: f64) -> f64 {
    TARGET_DB_PER_OCTAVE * (hz / TARGET_KNEE_HZ).log2().max(0.0)
}

/// F = rms(L − T − mean(L − T)) and U = tenth percentile of L − T, on a grid of twenty-fourth-octaves.
///
/// `levels_db` is as heard, `correction_db` what the microphone adds to it at the same frequencies; a gap in either is a
/// gap in the grid. `None` with too few frequencies.
#[must_use]
pub fn absolute(
    frequencies_hz: &[f64],
    levels_db: &[f64],
    correction_db: &[f64],
    at_a_point_db: Option<f64>,
    range: Range,
) -> Option<Absolute> {
    let true_db: Vec<f64> = levels_db.iter().zip(correction_db).map(|(level, m)| level - m).collect();
    let over = |hz: f64| interpolate(frequencies_hz, &true_db, hz).map(|level| level - target_db(hz));
    let mut over: Vec<f64> =
        bands(24, range.low_hz, range.high_hz).iter().filter_map(|band| over(band.mid_hz)).collect();
    if over.len() < FEWEST_POINTS {
        return None;
    }
    let count = over.len() as f64;
    let mean = over.iter().sum::<f64>() / count;
    let flatness_db = (over.iter().map(|level| (level - mean).powi(2)).sum::<f64>() / count).sqrt();
    sort_by_number(&mut over, |level| *level);
    // Straight between the two values beside it.
    let place = LEFT_OVER * (count - 1.0);
    let at = |index: f64| over.get(index as usize).copied().unwrap_or(mean);
    let usable_db = at(place.floor()) + place.fract() * (at(place.ceil()) - at(place.floor()));
    Some(Absolute { flatness_db, usable_db, uncertainty_db: at_a_point_db })
}
