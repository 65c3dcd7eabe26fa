//! The choice among places: figures that the microphone's own response cannot change, and how sure they are.
use super::bands::bands;
use super::curve::interpolate;
use super::student::student_t;
use super::takes::{Takes, seat_average};
use crate::model::error::ModelError;
use crate::small::sort_by;

/// A hole deeper than this under the best of all places is flagged, dB: a dip cannot be equalised away.
pub const HOLE_LIMIT_DB: f64 = -10.0;
/// The first trial, repeated at the end, may be off by this before conditions count as drifted, dB.
pub const DRIFT_LIMIT_DB: f64 = 1.0;
/// Differences below this are no difference, dB.
const LEAST_DIFFERENCE_DB: f64 = 1.0;
/// Fewest points of the grid on which places are compared.
const FEWEST_POINTS: usize = 6;
/// 95 % of a normal distribution lie within this many standard deviations.
const NORMAL_95: f64 = 1.96;
/// Trials repeated so often that their own spread is known: two degrees of freedom.
const KNOWN_REPEATS: usize = 2;
/// What rounding the points of a trial to 0.5 dB leaves of a mean level, dB: 0.5/√12 over some ten points.
const ROUNDING_DB: f64 = 0.05;
/// How many of the points between 25 Hz and 80 Hz are independent: a sweep's are smoothed over sixth-octaves.
const INDEPENDENT: f64 = 10.0;

/// The frequencies that count.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// Lowest.
    pub low_hz: f64,
    /// Highest.
    pub high_hz: f64,
}

impl Default for Range {
    /// 25 Hz to 80 Hz, what a subwoofer plays.
    fn default() -> Self {
        Self { low_hz: 25.0, high_hz: 80.0 }
    }
}

/// What counts beside the level when places are put in order.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Weights {
    /// Decibels that a place loses for each decibel by which its seats differ.
    pub seats: f64,
    /// Decibels that it loses for each decibel of a hole beyond 10 dB.
    pub hole: f64,
}

/// What was heard of one place at one seat.
#[derive(Clone, Debug, PartialEq)]
pub struct Heard {
    /// The seat.
    pub seat: u8,
    /// The takes there, those of each trial together: between trials everything was put back.
    pub trials: Vec<Takes>,
}

impl Heard {
    /// How many takes.
    fn count(&self) -> usize {
        self.trials.iter().map(|takes| takes.count).sum()
    }
    /// Trials beyond the first.
    fn repeats(&self) -> usize {
        self.trials.iter().filter(|takes| takes.count > 0).count().saturating_sub(1)
    }
    /// Each trial as one take.
    fn trial_by_trial(&self) -> Takes {
        let heard = self.trials.iter().filter(|takes| takes.count > 0);
        Takes::over(&heard.map(|takes| takes.mean_db.clone()).collect::<Vec<_>>())
    }
}

/// The figures of one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Which place, by its index in what was given.
    pub index: usize,
    /// Mean level M under that of the loudest place, dB; 0 for the loudest.
    pub level_db: f64,
    /// Regret R: mean of the level under the best place at each frequency, dB; never above 0.
    pub regret_db: f64,
    /// Hole D: the furthest under the best place at any frequency, dB.
    pub hole_db: f64,
    /// Where the hole lies.
    pub hole_hz: f64,
    /// Standard uncertainty of the level at the hole, dB.
    pub hole_uncertainty_db: Option<f64>,
    /// Notch N: the furthest under its own mean over an octave, dB.
    pub notch_db: f64,
    /// Where the notch lies.
    pub notch_hz: f64,
    /// Seats V: variance between seats, mean over frequencies, each seat's mean taken off, dB²; with two seats or more.
    pub seats_db2: Option<f64>,
    /// How much of that the takes' own uncertainty would bring alone, dB².
    pub seats_noise_db2: Option<f64>,
    /// Takes at the seat with the fewest.
    pub takes: usize,
    /// Standard uncertainty of M and of R, dB, widened for few takes; `None` while nothing was taken twice.
    pub uncertainty_db: Option<f64>,
    /// Standard uncertainty of the level at a single point, dB.
    pub at_a_point_db: Option<f64>,
    /// What the places are ordered by: the regret, less what [`Weights`] take off, dB.
    pub merit_db: f64,
    /// Level averaged over the seats compared, at the frequencies given; gaps are not finite.
    pub curve_db: Vec<f64>,
}

/// One place against another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Comparison {
    /// How much louder the first is on the mean, dB.
    pub difference_db: f64,
    /// Half width of its 95 % interval, dB; `None` while nothing was taken twice.
    pub half_width_db: Option<f64>,
    /// Whether that is no real difference.
    pub tie: bool,
}

/// The places in order, best first.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// Figures by falling merit: by rising regret where nothing else has weight.
    pub ranking: Vec<Figures>,
    /// The best against the second, where there are two.
    pub lead: Option<Comparison>,
    /// Seats that were compared: those listened at in every place.
    pub seats: Vec<u8>,
    /// Places left out because they were not heard at those seats.
    pub left_out: Vec<usize>,
    /// The frequencies that were measured in all places, within those asked for.
    pub range: Range,
    /// Whether the uncertainty is that of repeated trials; otherwise it is that of takes in a row, nothing put back.
    pub put_back: bool,
}

impl Verdict {
    /// One place against another, by their places in the ranking.
    #[must_use]
    pub fn compare(&self, first: usize, second: usize) -> Option<Comparison> {
        Some(compare(self.ranking.get(first)?, self.ranking.get(second)?))
    }
}

fn compare(first: &Figures, second: &Figures) -> Comparison {
    let difference_db = first.level_db - second.level_db;
    let both = first.uncertainty_db.zip(second.uncertainty_db);
    let half_width_db = both.map(|(a, b)| 2.0 * a.hypot(b));
    let tie = difference_db.abs() < half_width_db.unwrap_or(0.0).max(LEAST_DIFFERENCE_DB);
    Comparison { difference_db, half_width_db, tie }
}

/// What the takes tell of their own repeatability.
struct Repeatability {
    /// Standard deviation of one take at a point, pooled over places, seats and frequencies, dB.
    pooled_db: f64,
    /// Variance of one take's mean level, pooled over places and seats, dB²: all takes are made by one procedure.
    level_db2: f64,
    /// t over its normal value for the degrees of freedom there are; `None` while nothing was taken twice.
    widening: Option<f64>,
}

/// Ranks places by regret, and by what else has weight, on a grid of twenty-fourth-octaves.
///
/// `frequencies_hz` ascends and belongs to every level. M, R and D are means, maxima and differences of levels in dB,
/// so that any m(f) added to every level, that of the microphone, changes none of them. Only frequencies measured at
/// every place and seat compared count, and only seats heard at every place; where no seat is, the seat heard at most
/// places counts and the others are left out. The uncertainty of a mean level is that of the takes' mean levels, pooled
/// over all places, with Student's t; once trials were repeated twice it is that between trials, in which phone, box and
/// listener were put back. At a single frequency the spread is the larger of the place's own and that of all together.
///
/// # Errors
/// [`ModelError::Missing`] without a place, or if too few frequencies are common to all.
///
/// # Source
/// Variance between seats: Welti and Devantier, JAES 54 (2006) 347. Regret and hole are this project's, for choosing
/// among places by differences alone.
pub fn judge(
    frequencies_hz: &[f64],
    places: &[Vec<Heard>],
    range: Range,
    weights: Weights,
) -> Result<Verdict, ModelError> {
    let (seats, compared, left_out) = common_seats(places);
    if compared.is_empty() {
        return Err(ModelError::Missing { what: "A trial" });
    }
    let heard: Vec<Vec<&Heard>> =
        compared.iter().filter_map(|i| places.get(*i)).map(|place| at_seats(place, &seats)).collect();
    let counts: Vec<usize> =
        heard.iter().map(|seats| seats.iter().map(|heard| heard.count()).min().unwrap_or(0)).collect();
    let put_back = heard.iter().flatten().map(|heard| heard.repeats()).sum::<usize>() >= KNOWN_REPEATS;
    let takes = |heard: &&Heard| if put_back { heard.trial_by_trial() } else { Takes::pooled(&heard.trials) };
    let heard: Vec<Vec<Takes>> = heard.iter().map(|seats| seats.iter().map(takes).collect()).collect();
    let grid = common_grid(frequencies_hz, &heard, range);
    let ([low, .., high], FEWEST_POINTS..) = (grid.as_slice(), grid.len()) else {
        return Err(ModelError::Missing { what: "A range of frequencies measured in every trial" });
    };
    let averages: Vec<Vec<f64>> = heard
        .iter()
        .map(|seats| seat_average(&seats.iter().map(|takes| takes.mean_db.as_slice()).collect::<Vec<_>>()))
        .collect();
    let on_grid: Vec<Vec<f64>> =
        averages.iter().map(|levels| at_all(frequencies_hz, levels, &grid)).collect();
    let best: Vec<f64> = (0..grid.len())
        .map(|k| on_grid.iter().filter_map(|levels| levels.get(k)).copied().fold(f64::NEG_INFINITY, f64::max))
        .collect();
    let loudest = on_grid.iter().map(|levels| mean(levels)).fold(f64::NEG_INFINITY, f64::max);
    let spreads: Vec<Vec<Vec<f64>>> = heard
        .iter()
        .map(|seats| seats.iter().map(|takes| at_all(frequencies_hz, &takes.spread_db, &grid)).collect())
        .collect();
    let range = Range { low_hz: *low, high_hz: *high };
    let repeatability = repeatability(&heard, &spreads, range);
    let mut ranking: Vec<Figures> = compared
        .iter()
        .zip(counts)
        .zip(heard.iter().zip(&spreads))
        .zip(on_grid.iter().zip(averages))
        .map(|(((index, takes), (seats, spreads)), (levels, curve_db))| {
            let under: Vec<f64> = levels.iter().zip(&best).map(|(level, best)| level - best).collect();
            let (hole_db, hole_hz) = lowest(&under, &grid);
            let (notch_db, notch_hz) = notch(levels, &grid);
            let regret_db = mean(&under);
            let seats_db2 = seat_variance(frequencies_hz, seats, &grid);
            let lost = weights.seats * seats_db2.map_or(0.0, f64::sqrt)
                + weights.hole * (HOLE_LIMIT_DB - hole_db).max(0.0);
            let at_hole = |spread: &[f64]| interpolate(&grid, spread, hole_hz).unwrap_or(0.0);
            Figures {
                index: *index,
                level_db: mean(levels) - loudest,
                regret_db,
                hole_db,
                hole_hz,
                hole_uncertainty_db: repeatability.at_point(seats, spreads, at_hole),
                notch_db,
                notch_hz,
                seats_db2,
                seats_noise_db2: repeatability.of_seats(seats, spreads),
                takes,
                uncertainty_db: repeatability.of_level(seats),
                at_a_point_db: repeatability.at_point(seats, spreads, mean),
                merit_db: regret_db - lost,
                curve_db,
            }
        })
        .collect();
    sort_by(&mut ranking, |a, b| b.merit_db.total_cmp(&a.merit_db));
    let lead = match ranking.as_slice() {
        [first, second, ..] => Some(compare(first, second)),
        _ => None,
    };
    Ok(Verdict { ranking, lead, seats, left_out, range, put_back })
}

/// How much the mean level of the first trial moved when it was repeated, dB; `None` without common frequencies.
#[must_use]
pub fn drift(frequencies_hz: &[f64], first: &Takes, again: &Takes, range: Range) -> Option<f64> {
    let grid = common_grid(frequencies_hz, &[vec![first.clone()], vec![again.clone()]], range);
    let level = |takes: &Takes| mean(&at_all(frequencies_hz, &takes.mean_db, &grid));
    (grid.len() >= FEWEST_POINTS).then(|| level(again) - level(first))
}

/// The seats to compare, the places that were heard there, and the others.
fn common_seats(places: &[Vec<Heard>]) -> (Vec<u8>, Vec<usize>, Vec<usize>) {
    let has = |place: &Vec<Heard>, seat: u8| place.iter().any(|h| h.seat == seat && h.count() > 0);
    let mut all: Vec<u8> = Vec::new();
    for heard in places.iter().flatten().filter(|heard| heard.count() > 0) {
        if !all.contains(&heard.seat) {
            all.push(heard.seat);
        }
    }
    sort_by(&mut all, u8::cmp);
    let silent = |place: &Vec<Heard>| all.iter().all(|seat| !has(place, *seat));
    let heard_at = |seat: u8| places.iter().filter(|place| has(place, seat)).count();
    let audible = places.iter().filter(|place| !silent(place)).count();
    let mut seats: Vec<u8> = all.iter().copied().filter(|seat| heard_at(*seat) == audible).collect();
    if seats.is_empty() {
        // The first of the seats heard at most places.
        let most = all.iter().map(|seat| heard_at(*seat)).max().unwrap_or(0);
        seats.extend(all.iter().copied().find(|seat| heard_at(*seat) == most));
    }
    let fits = |index: &usize| {
        !seats.is_empty()
            && places.get(*index).is_some_and(|place| seats.iter().all(|seat| has(place, *seat)))
    };
    let (compared, left_out) = (0..places.len()).partition(fits);
    (seats, compared, left_out)
}

fn at_seats<'a>(place: &'a [Heard], seats: &[u8]) -> Vec<&'a Heard> {
    let at = |seat: &u8| place.iter().find(|heard| heard.seat == *seat && heard.count() > 0);
    seats.iter().filter_map(at).collect()
}

/// Twenty-fourth-octaves within the range at which every place has a level at every seat.
fn common_grid(frequencies_hz: &[f64], heard: &[Vec<Takes>], range: Range) -> Vec<f64> {
    let measured = |hz: f64| {
        heard.iter().flatten().all(|takes| interpolate(frequencies_hz, &takes.mean_db, hz).is_some())
    };
    bands(24, range.low_hz, range.high_hz).iter().map(|band| band.mid_hz).filter(|hz| measured(*hz)).collect()
}

fn at_all(frequencies_hz: &[f64], levels_db: &[f64], grid: &[f64]) -> Vec<f64> {
    grid.iter().filter_map(|hz| interpolate(frequencies_hz, levels_db, *hz)).collect()
}

fn mean(values: &[f64]) -> f64 {
    if values.is_empty() { 0.0 } else { values.iter().sum::<f64>() / values.len() as f64 }
}

/// The lowest value and its frequency.
fn lowest(values: &[f64], grid: &[f64]) -> (f64, f64) {
    let mut found = (0.0, grid.first().copied().unwrap_or(0.0));
    for (value, hz) in values.iter().zip(grid) {
        if *value < found.0 {
            found = (*value, *hz);
        }
    }
    found
}

/// The furthest a curve lies under its own mean over an octave.
fn notch(levels: &[f64], grid: &[f64]) -> (f64, f64) {
    let half_octave = 10_f64.powf(0.15) * (1.0 + 1e-9);
    let under = |(level, hz): (&f64, &f64)| {
        let around: Vec<f64> = levels
            .iter()
            .zip(grid)
            .filter(|(_, other)| (hz / half_octave..=hz * half_octave).contains(*other))
            .map(|(level, _)| *level)
            .collect();
        level - mean(&around)
    };
    lowest(&levels.iter().zip(grid).map(under).collect::<Vec<_>>(), grid)
}

/// `spreads` holds the spread of each of `heard` on the grid.
fn repeatability(heard: &[Vec<Takes>], spreads: &[Vec<Vec<f64>>], range: Range) -> Repeatability {
    let (mut squares, mut level_squares, mut degrees) = (0.0, 0.0, 0);
    for (takes, spread) in heard.iter().flatten().zip(spreads.iter().flatten()) {
        let square = mean(&spread.iter().map(|s| s * s).collect::<Vec<_>>());
        squares += takes.degrees() as f64 * square;
        level_squares += takes.degrees() as f64 * level_variance(takes, square, range);
        degrees += takes.degrees();
    }
    let pooled = |squares: f64| if degrees > 0 { squares / degrees as f64 } else { 0.0 };
    let widening = student_t(degrees).map(|t| t / NORMAL_95);
    Repeatability { pooled_db: pooled(squares).sqrt(), level_db2: pooled(level_squares), widening }
}

/// Variance of one take's mean level over a range, dB²; `at_points` is that at single points, their mean.
///
/// It is kept for 25 Hz to 80 Hz. In another range the part that the points have in common stays and the rest falls
/// with their number. Where it was not kept, the errors of all points count as one, which is never too narrow.
fn level_variance(takes: &Takes, at_points: f64, range: Range) -> f64 {
    let Some(kept) = takes.level_spread_db.map(|s| s * s) else { return at_points };
    let usual = Range::default();
    let wider = (range.high_hz / range.low_hz).ln() / (usual.high_hz / usual.low_hz).ln();
    // The grid may end a step inside the range.
    if (0.93..=1.01).contains(&wider) {
        return kept;
    }
    let single = (at_points - kept).max(0.0) * INDEPENDENT / (INDEPENDENT - 1.0);
    let common = (kept - single / INDEPENDENT).max(0.0);
    common + single / (INDEPENDENT * wider).max(1.0)
}

impl Repeatability {
    /// Variance of the mean of each seat's takes, dB²; `own` reads the spread of one seat.
    fn variances(&self, seats: &[Takes], spreads: &[Vec<f64>], own: impl Fn(&[f64]) -> f64) -> Vec<f64> {
        let one = |(takes, spread): (&Takes, &Vec<f64>)| {
            own(spread).max(self.pooled_db).powi(2) / takes.count.max(1) as f64
        };
        seats.iter().zip(spreads).map(one).collect()
    }

    /// Standard uncertainty of a mean level, over frequencies and seats.
    fn of_level(&self, seats: &[Takes]) -> Option<f64> {
        let widening = self.widening?;
        let squares: f64 = seats.iter().map(|takes| self.level_db2 / takes.count.max(1) as f64).sum();
        (!seats.is_empty()).then(|| (widening * squares.sqrt() / seats.len() as f64).hypot(ROUNDING_DB))
    }

    /// Standard uncertainty of a mean over seats at one point.
    fn at_point(&self, seats: &[Takes], spreads: &[Vec<f64>], own: impl Fn(&[f64]) -> f64) -> Option<f64> {
        let widening = self.widening?;
        let squares: f64 = self.variances(seats, spreads, own).iter().sum();
        (!seats.is_empty()).then(|| widening * squares.sqrt() / seats.len() as f64)
    }

    /// The variance between seats that equal seats would show by the takes alone.
    fn of_seats(&self, seats: &[Takes], spreads: &[Vec<f64>]) -> Option<f64> {
        self.widening.filter(|_| seats.len() > 1)?;
        Some(mean(&self.variances(seats, spreads, mean)))
    }
}

/// Variance between seats, mean over frequencies, with each seat's mean level taken off first.
fn seat_variance(frequencies_hz: &[f64], seats: &[Takes], grid: &[f64]) -> Option<f64> {
    if seats.len() < 2 {
        return None;
    }
    let levels: Vec<Vec<f64>> = seats
        .iter()
        .map(|takes| {
            let levels = at_all(frequencies_hz, &takes.mean_db, grid);
            let middle = mean(&levels);
            levels.iter().map(|level| level - middle).collect()
        })
        .collect();
    let variance = |k: usize| {
        let here: Vec<f64> = levels.iter().filter_map(|levels| levels.get(k)).copied().collect();
        let middle = mean(&here);
        here.iter().map(|level| (level - middle).powi(2)).sum::<f64>() / (here.len() as f64 - 1.0).max(1.0)
    };
    Some(mean(&(0..grid.len()).map(variance).collect::<Vec<_>>()))
}
