//! A level curve: points, interpolation, power over bands.
use super::bands::{Band, bands, trial_frequencies};
use crate::model::error::{ModelError, within};
use crate::small::sort_by_number;

/// Steps of the mean over a band; 16 intervals of a sixth-octave are far finer than any room's peaks.
const BAND_STEPS: usize = 16;
/// Loudest and quietest level accepted, dB.
const LEVEL_LIMIT_DB: f64 = 300.0;

/// Levels at ascending frequencies, all finite, at least two points.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    frequencies_hz: Vec<f64>,
    levels_db: Vec<f64>,
}

impl Curve {
    /// A curve through points in any order; points at the same frequency are averaged in dB.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for a frequency outside 0.1 Hz to 1 MHz or a level beyond ±300 dB,
    /// [`ModelError::Missing`] with fewer than two different frequencies.
    pub fn new(points: &[(f64, f64)]) -> Result<Self, ModelError> {
        for (hz, level) in points {
            within("frequency in Hz", *hz, 0.1, 1e6)?;
            within("level in dB", *level, -LEVEL_LIMIT_DB, LEVEL_LIMIT_DB)?;
        }
        let mut sorted = points.to_vec();
        sort_by_number(&mut sorted, |point| point.0);
        let mut curve = Self { frequencies_hz: Vec::new(), levels_db: Vec::new() };
        let mut at_this = 0.0;
        for (hz, level) in sorted {
            match (curve.frequencies_hz.last(), curve.levels_db.last_mut()) {
                (Some(last), Some(mean)) if *last == hz => {
                    at_this += 1.0;
                    *mean += (level - *mean) / at_this;
                }
                _ => {
                    at_this = 1.0;
                    curve.frequencies_hz.push(hz);
                    curve.levels_db.push(level);
                }
            }
        }
        if curve.frequencies_hz.len() < 2 {
            return Err(ModelError::Missing { what: "a second frequency" });
        }
        Ok(curve)
    }
    /// The frequencies, ascending.
    #[must_use]
    pub fn frequencies_hz(&self) -> &[f64] {
        &self.frequencies_hz
    }
    /// One level for each frequency.
    #[must_use]
    pub fn levels_db(&self) -> &[f64] {
        &self.levels_db
    }
    /// The level at a frequency, straight between points over log f; `None` outside the curve.
    #[must_use]
    pub fn at(&self, hz: f64) -> Option<f64> {
        interpolate(&self.frequencies_hz, &self.levels_db, hz)
    }
    /// The mean power over a band as a level, even weight over log f. Where the band reaches beyond the curve's end
    /// the part inside counts; `None` if the band's middle lies outside.
    #[must_use]
    pub fn over(&self, band: Band) -> Option<f64> {
        self.at(band.mid_hz)?;
        let (low, high) = (band.low_hz.ln(), band.high_hz.ln());
        let (mut sum, mut weight) = (0.0, 0.0);
        for i in 0..=BAND_STEPS {
            let hz = (low + (high - low) * i as f64 / BAND_STEPS as f64).exp();
            let Some(level) = self.at(hz) else { continue };
            let share = if i == 0 || i == BAND_STEPS { 0.5 } else { 1.0 };
            sum += share * 10_f64.powf(level / 10.0);
            weight += share;
        }
        (weight > 0.0 && sum > 0.0).then(|| 10.0 * (sum / weight).log10())
    }
    /// The curve with its power smoothed over bands of 1/`per_octave`, at its own frequencies.
    #[must_use]
    pub fn smoothed(&self, per_octave: u32) -> Self {
        let smooth = |(hz, level): (&f64, &f64)| self.over(Band::around(*hz, per_octave)).unwrap_or(*level);
        let levels = self.frequencies_hz.iter().zip(&self.levels_db).map(smooth).collect();
        Self { frequencies_hz: self.frequencies_hz.clone(), levels_db: levels }
    }
    /// Whether the points lie as close as twelfth-octaves between 25 Hz and 80 Hz, as those of a sweep do.
    #[must_use]
    pub fn is_dense(&self) -> bool {
        let between = self.frequencies_hz.iter().filter(|hz| (25.0..=80.0).contains(*hz)).count();
        between > bands(12, 25.0, 80.0).len()
    }
    /// The curve at the 40 points of a trial; gaps are not finite.
    ///
    /// A dense curve is smoothed over sixth-octaves in power; between single tones the curve is straight over log f.
    #[must_use]
    pub fn for_trial(&self) -> Vec<f64> {
        let dense = self.is_dense();
        let at = |hz: f64| if dense { self.over(Band::around(hz, 6)) } else { self.at(hz) };
        trial_frequencies().into_iter().map(|hz| at(hz).unwrap_or(f64::NAN)).collect()
    }
}

/// The level at a frequency, straight over log f between the points beside it.
///
/// `frequencies_hz` ascends. `None` outside the points, by more than a billionth, or where a point beside it is a gap.
#[must_use]
pub fn interpolate(frequencies_hz: &[f64], levels_db: &[f64], hz: f64) -> Option<f64> {
    let above = frequencies_hz.partition_point(|point| *point < hz * (1.0 - 1e-9));
    let (high_hz, high) = (*frequencies_hz.get(above)?, *levels_db.get(above)?);
    if (high_hz / hz - 1.0).abs() <= 1e-9 {
        return Some(high).filter(|level| level.is_finite());
    }
    let below = above.checked_sub(1)?;
    let (low_hz, low) = (*frequencies_hz.get(below)?, *levels_db.get(below)?);
    let share = (hz / low_hz).ln() / (high_hz / low_hz).ln();
    Some(low + share * (high - low)).filter(|level| level.is_finite())
}
