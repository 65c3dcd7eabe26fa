//! Several takes of one thing: mean, spread, and the mean over seats.
use super::bands::trial_frequencies;
use super::student::student_t;
use super::verdict::Range;

/// Takes of one spot at one seat: how many, their mean and their spread at each frequency.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Takes {
    /// How many takes.
    pub count: usize,
    /// Mean level in dB; a gap is not finite.
    pub mean_db: Vec<f64>,
    /// Standard deviation of one take in dB; zero everywhere with a single take.
    pub spread_db: Vec<f64>,
    /// Standard deviation of one take's mean level over 25 Hz to 80 Hz in dB; `None` where it was not kept.
    ///
    /// It can't be told from the spreads: errors that move all frequencies together stay in the mean, others do not.
    pub level_spread_db: Option<f64>,
}

impl Takes {
    /// Of single takes, each with a level at every point of a trial. A point that is a gap in one is a gap in the mean.
    #[must_use]
    pub fn over(takes: &[Vec<f64>]) -> Self {
        let single = |levels: &Vec<f64>| Self {
            count: 1,
            mean_db: levels.clone(),
            spread_db: vec![0.0; levels.len()],
            level_spread_db: Some(0.0),
        };
        Self::pooled(&takes.iter().map(single).collect::<Vec<_>>())
    }
    /// Of several sets of takes of the same thing, as if all had been taken at once.
    ///
    /// Mean and spread are exact: s² = [Σ(nᵢ−1)sᵢ² + Σnᵢ(mᵢ−m)²]/(n−1). Sets without a take are passed over.
    #[must_use]
    pub fn pooled(sets: &[Self]) -> Self {
        let sets: Vec<&Self> = sets.iter().filter(|set| set.count > 0).collect();
        let count: usize = sets.iter().map(|set| set.count).sum();
        let points = sets.iter().map(|set| set.mean_db.len()).min().unwrap_or(0);
        let (mut mean_db, mut spread_db) = (Vec::with_capacity(points), Vec::with_capacity(points));
        for k in 0..points {
            let at = |values: &[f64]| values.get(k).copied().unwrap_or(f64::NAN);
            let sum: f64 = sets.iter().map(|set| set.count as f64 * at(&set.mean_db)).sum();
            let mean = sum / count as f64;
            let squares: f64 = sets
                .iter()
                .map(|set| {
                    let within = (set.count as f64 - 1.0) * square(at(&set.spread_db));
                    within + set.count as f64 * square(at(&set.mean_db) - mean)
                })
                .sum();
            mean_db.push(mean);
            spread_db.push(if count > 1 { (squares / (count as f64 - 1.0)).sqrt() } else { 0.0 });
        }
        let level_spread_db = level_spread(&sets, &mean_db);
        Self { count, mean_db, spread_db, level_spread_db }
    }
    /// Degrees of freedom of the spread.
    #[must_use]
    pub fn degrees(&self) -> usize {
        self.count.saturating_sub(1)
    }
    /// Standard uncertainty of the mean at a point, s/√n in dB; `None` with a single take or at a gap.
    #[must_use]
    pub fn standard_db(&self, point: usize) -> Option<f64> {
        let spread = self.spread_db.get(point).filter(|s| s.is_finite() && self.count > 1)?;
        Some(spread / (self.count as f64).sqrt())
    }
    /// Half width of the 95 % interval of the mean at a point, t·s/√n in dB; `None` with a single take or at a gap.
    #[must_use]
    pub fn half_width_db(&self, point: usize) -> Option<f64> {
        Some(student_t(self.degrees())? * self.standard_db(point)?)
    }
}

/// The spread of the mean level, exact as that of the points: over the frequencies where every set has a level.
fn level_spread(sets: &[&Takes], mean_db: &[f64]) -> Option<f64> {
    let range = Range::default();
    let points = trial_frequencies();
    let level = |of: &[f64]| {
        let counted = points
            .iter()
            .zip(mean_db.iter().zip(of))
            .filter(|(hz, (mean, _))| (range.low_hz..=range.high_hz).contains(*hz) && mean.is_finite());
        let (sum, count) =
            counted.fold((0.0, 0.0), |(sum, count), (_, (_, level))| (sum + level, count + 1.0));
        (count > 0.0).then(|| sum / count)
    };
    let middle = level(mean_db)?;
    let (mut squares, mut count) = (0.0, 0.0);
    for set in sets {
        let takes = set.count as f64;
        if set.count > 1 {
            squares += (takes - 1.0) * square(set.level_spread_db?);
        }
        squares += takes * square(level(&set.mean_db)? - middle);
        count += takes;
    }
    Some(if count > 1.0 { (squares / (count - 1.0)).sqrt() } else { 0.0 })
}

fn square(value: f64) -> f64 {
    value * value
}

/// The mean over seats or places of the head: 10·lg of the mean power at each frequency, in dB.
///
/// A gap at one seat is a gap in the mean. Nothing without seats.
#[must_use]
pub fn seat_average(seats: &[&[f64]]) -> Vec<f64> {
    let points = seats.iter().map(|levels| levels.len()).min().unwrap_or(0);
    let level = |k: usize| {
        let at = |levels: &&[f64]| levels.get(k).copied().unwrap_or(f64::NAN);
        // Relative to the first seat, so that equal seats give back exactly their level.
        let first = seats.first().map_or(f64::NAN, at);
        let sum: f64 = seats.iter().map(|levels| 10_f64.powf((at(levels) - first) / 10.0)).sum();
        first + 10.0 * (sum / seats.len() as f64).log10()
    };
    (0..points).map(level).collect()
}
