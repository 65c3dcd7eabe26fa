//! Several takes of one thing: mean, spread, and the mean over seats.
use super::student::student_t;

/// Takes of one spot at one seat: how many, their mean and their spread at each frequency.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Takes {
    /// How many takes.
    pub count: usize,
    /// Mean level in dB; a gap is not finite.
    pub mean_db: Vec<f64>,
    /// Standard deviation of one take in dB; zero everywhere with a single take.
    pub spread_db: Vec<f64>,
}

impl Takes {
    /// Of single takes, each with a level for every frequency. A point that is a gap in one take is a gap in the mean.
    #[must_use]
    pub fn over(takes: &[Vec<f64>]) -> Self {
        let single = |levels: &Vec<f64>| Self {
            count: 1,
            mean_db: levels.clone(),
            spread_db: vec![0.0; levels.len()],
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
        Self { count, mean_db, spread_db }
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
