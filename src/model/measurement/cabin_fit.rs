//! The cabin as it is: corner and leak from what trials measured over the box's own response.
use super::curve::interpolate;
use super::verdict::Range;
use crate::model::acoustics::Cabin;
use crate::model::error::ModelError;
use crate::units::Frequency;

/// Where a corner and a leak are looked for, Hz: what the vehicle's entries hold.
const CORNERS_HZ: [f64; 2] = [20.0, 200.0];
const LEAKS_HZ: [f64; 2] = [1.0, 60.0];
/// Steps of the grid in each direction, and most steps from its best point.
const STEPS: usize = 16;
const MOST_STEPS: usize = 80;
/// What a logarithm is moved by for a slope.
const SMALL: f64 = 1e-5;
/// Fewest points that three unknowns may be fitted to.
const FEWEST_POINTS: usize = 12;
/// A leak known no better than to this factor's logarithm is not seen.
const UNSEEN: f64 = 0.7;
/// 95 % of a normal distribution lie within this many standard deviations.
const NORMAL_95: f64 = 1.96;

/// A frequency found, with its 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// The value.
    pub hz: f64,
    /// Lower end of the interval.
    pub low_hz: f64,
    /// Upper end of the interval.
    pub high_hz: f64,
}

/// The cabin that comes nearest to the trials.
#[derive(Clone, Debug, PartialEq)]
pub struct CabinFit {
    /// The corner.
    pub corner: Found,
    /// The leak's corner; `None` where the trials don't reach low enough to show it, so that the one given was kept.
    pub leak: Option<Found>,
    /// The cabin fitted.
    pub cabin: Cabin,
    /// What lies between the measured level and box times cabin: volts, distance and the microphone's gain, dB.
    pub offset_db: f64,
    /// Root mean square of what the fit leaves, dB: modes, seats, and the microphone's shape where it isn't known.
    pub left_db: f64,
}

/// A point of the curve to fit: frequency, measured over the box's own response.
type Point = (f64, f64);

/// Fits corner and leak by least squares.
///
/// `over_box_db` is the measured level less the box's own in half space, at ascending frequencies, gaps not finite. The
/// offset is free, as no phone knows its own level. `leak` and `share` are those of the vehicle's entries; where the
/// curve doesn't show a leak, the one given is kept. The interval counts neighbouring errors as far as they go together.
///
/// # Errors
/// [`ModelError::Missing`] with fewer than twelve points in the range; [`ModelError::Impossible`] where the curve shows
/// no lift, so that no corner comes out.
///
/// # Source
/// The cabin: [`Cabin::gain_db`]. Covariance s²(JᵀJ)⁻¹ of a least squares fit: GUM supplement, or any text on
/// regression; effective number of correlated points n(1 − ρ)/(1 + ρ): Bayley and Hammersley, J. R. Stat. Soc. Suppl. 8
/// (1946) 184.
pub fn fit_cabin(
    frequencies_hz: &[f64],
    over_box_db: &[f64],
    range: Range,
    leak: Option<Frequency>,
    share: f64,
) -> Result<CabinFit, ModelError> {
    let points: Vec<Point> = frequencies_hz
        .iter()
        .filter(|hz| (range.low_hz..=range.high_hz).contains(*hz))
        .filter_map(|hz| Some((*hz, interpolate(frequencies_hz, over_box_db, *hz)?)))
        .collect();
    if points.len() < FEWEST_POINTS {
        return Err(ModelError::Missing { what: "Twelve points of a trial beside the box's own response" });
    }
    let fit = Fit { points: &points, share };
    let both = fit.search([CORNERS_HZ, LEAKS_HZ]);
    let spread = fit.spread(both, true);
    let seen = spread[1] < UNSEEN && inside(both[1], LEAKS_HZ);
    let kept = leak.map_or(LEAKS_HZ[0], Frequency::hertz);
    let (best, spread) = if seen {
        (both, spread)
    } else {
        let best = fit.search([CORNERS_HZ, [kept, kept]]);
        (best, fit.spread(best, false))
    };
    if !(inside(best[0], CORNERS_HZ) && spread[0].is_finite()) {
        return Err(ModelError::Impossible {
            what: "These trials show no lift of a cabin that a corner could be read from",
        });
    }
    let found = |hz: f64, spread: f64| {
        let factor = (NORMAL_95 * spread).exp();
        Found { hz, low_hz: hz / factor, high_hz: hz * factor }
    };
    let [corner, leak_hz] = best;
    let with_leak = seen || leak.is_some();
    Ok(CabinFit {
        corner: found(corner, spread[0]),
        leak: seen.then(|| found(leak_hz, spread[1])),
        cabin: Cabin {
            corner: Frequency::from_hertz(corner),
            leak: with_leak.then(|| Frequency::from_hertz(leak_hz)),
            share,
        },
        offset_db: fit.offset(best),
        left_db: (fit.squares(best) / points.len() as f64).sqrt(),
    })
}

/// Away from the ends of what was searched, where a value means nothing.
fn inside(hz: f64, [low, high]: [f64; 2]) -> bool {
    hz > 1.02 * low && hz < high / 1.02
}

struct Fit<'a> {
    points: &'a [Point],
    share: f64,
}

impl Fit<'_> {
    fn gain(&self, [corner, leak]: [f64; 2], hz: f64) -> f64 {
        let leak = (leak > LEAKS_HZ[0]).then(|| Frequency::from_hertz(leak));
        Cabin { corner: Frequency::from_hertz(corner), leak, share: self.share }
            .gain_db(Frequency::from_hertz(hz))
    }
    /// The mean of what is measured over the cabin's lift: the best offset for these two.
    fn offset(&self, cabin: [f64; 2]) -> f64 {
        let sum: f64 = self.points.iter().map(|(hz, level)| level - self.gain(cabin, *hz)).sum();
        sum / self.points.len().max(1) as f64
    }
    fn left(&self, cabin: [f64; 2]) -> Vec<f64> {
        let offset = self.offset(cabin);
        self.points.iter().map(|(hz, level)| level - self.gain(cabin, *hz) - offset).collect()
    }
    fn squares(&self, cabin: [f64; 2]) -> f64 {
        self.left(cabin).iter().map(|left| left * left).sum()
    }
    /// The pair of least squares: the best of a grid over log f, then steps of Levenberg and Marquardt within the limits.
    fn search(&self, limits: [[f64; 2]; 2]) -> [f64; 2] {
        let mut best = self.best_of_grid(limits);
        let mut squares = self.squares(best);
        let free = limits.map(|[low, high]| high > low);
        let mut damping = 1e-3;
        for _ in 0..MOST_STEPS {
            let slopes = [0, 1].map(|axis| self.slope(best, axis));
            let left = self.left(best);
            let Some(step) = step(&slopes, &left, free, damping) else { break };
            let mut next = best;
            for ((hz, step), [low, high]) in next.iter_mut().zip(step).zip(limits) {
                *hz = (*hz * step.clamp(-0.5, 0.5).exp()).clamp(low, high);
            }
            let then = self.squares(next);
            if then < squares {
                (best, squares, damping) = (next, then, damping / 5.0);
            } else if damping > 1e9 {
                break;
            } else {
                damping *= 4.0;
            }
        }
        best
    }
    fn best_of_grid(&self, limits: [[f64; 2]; 2]) -> [f64; 2] {
        let at = |axis: usize, i: usize| {
            let [low, high] = limits[axis];
            low * (high / low).powf(i as f64 / STEPS as f64)
        };
        let mut best = (f64::INFINITY, [limits[0][0], limits[1][0]]);
        for i in 0..=STEPS {
            for j in 0..=STEPS {
                let pair = [at(0, i), at(1, j)];
                let squares = self.squares(pair);
                if squares < best.0 {
                    best = (squares, pair);
                }
            }
        }
        best.1
    }
    /// How the lift changes with the logarithm of one of the two, its mean taken off by the free offset.
    fn slope(&self, cabin: [f64; 2], axis: usize) -> Vec<f64> {
        let moved = |by: f64| {
            let mut pair = cabin;
            pair[axis] *= by.exp();
            self.points.iter().map(|(hz, _)| self.gain(pair, *hz)).collect::<Vec<_>>()
        };
        let raw: Vec<f64> =
            moved(SMALL).iter().zip(moved(-SMALL)).map(|(a, b)| (a - b) / (2.0 * SMALL)).collect();
        let mean = raw.iter().sum::<f64>() / raw.len().max(1) as f64;
        raw.iter().map(|s| s - mean).collect()
    }
    /// Standard uncertainty of the logarithms of both, from the covariance; infinite where the curve doesn't tell.
    fn spread(&self, cabin: [f64; 2], both: bool) -> [f64; 2] {
        let [u, v] = [0, 1].map(|axis| self.slope(cabin, axis));
        let left = self.left(cabin);
        let unknowns = if both { 3.0 } else { 2.0 };
        let degrees = (left.len() as f64 - unknowns).max(1.0);
        let error = dot(&left, &left) / degrees * together(&left);
        let (uu, uv, vv) = (dot(&u, &u), dot(&u, &v), dot(&v, &v));
        if !both {
            return [(error / uu).sqrt(), f64::INFINITY];
        }
        let determinant = uu * vv - uv * uv;
        // Nearly parallel slopes: either could be the other.
        if determinant <= 1e-9 * uu * vv {
            return [f64::INFINITY, f64::INFINITY];
        }
        [(error * vv / determinant).sqrt(), (error * uu / determinant).sqrt()]
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// A damped step of the two logarithms; `None` where the normal equations have no solution.
fn step(slopes: &[Vec<f64>; 2], left: &[f64], free: [bool; 2], damping: f64) -> Option<[f64; 2]> {
    let [u, v] = slopes;
    let (uu, uv, vv) = (dot(u, u) * (1.0 + damping), dot(u, v), dot(v, v) * (1.0 + damping));
    let (ur, vr) = (dot(u, left), dot(v, left));
    let found = match free {
        [true, true] => {
            let determinant = uu * vv - uv * uv;
            [(ur * vv - vr * uv) / determinant, (vr * uu - ur * uv) / determinant]
        }
        _ => [ur / uu, 0.0],
    };
    found.iter().all(|step| step.is_finite()).then_some(found)
}

/// How many points count as one: (1 + ρ)/(1 − ρ) by the correlation ρ of neighbours, not below 1.
fn together(left: &[f64]) -> f64 {
    let all: f64 = left.iter().map(|x| x * x).sum();
    let neighbours: f64 = left.iter().zip(left.iter().skip(1)).map(|(a, b)| a * b).sum();
    let rho = if all > 0.0 { (neighbours / all).clamp(0.0, 0.9) } else { 0.0 };
    (1.0 + rho) / (1.0 - rho)
}
