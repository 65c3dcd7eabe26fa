//! Ratings brought to one supply, and the power between and beside them.
use super::{PowerAtLoad, PowerBasis, Rating, SAME_LOAD};
use crate::model::error::ModelError;
use crate::units::Power;

/// A rating at the supply asked for.
#[derive(Clone, Copy)]
pub(super) struct Point {
    z: f64,
    p: f64,
    scaled: bool,
}

impl Point {
    /// V²/Z with V² = P·Z of this point.
    fn voltage_limited(&self, z: f64) -> f64 {
        self.p * self.z / z
    }
    /// P·(z/Z)^slope: a straight line on logarithmic axes.
    fn along(&self, z: f64, slope: f64) -> f64 {
        self.p * (z / self.z).powf(slope)
    }
    /// I²Z with I² = P/Z of this point.
    fn current_limited(&self, z: f64) -> f64 {
        self.p * z / self.z
    }
}

/// One point a load, by rising load; `ratings` stand by rising load too.
pub(super) fn at_supply(ratings: &[Rating], exponent: f64, vs: f64) -> Vec<Point> {
    let same = |a: &Rating, b: &Rating| (a.load.ohms() / b.load.ohms() - 1.0).abs() <= SAME_LOAD;
    let mut points = Vec::new();
    let mut rest = ratings;
    while let Some(first) = rest.first() {
        let count = rest.iter().take_while(|rating| same(rating, first)).count();
        let (group, others) = rest.split_at(count);
        points.extend(of_load(group, exponent, vs));
        rest = others;
    }
    points
}

/// Ratings of one load at `vs`: the power law through the two nearest supplies, else the exponent given.
fn of_load(group: &[Rating], exponent: f64, vs: f64) -> Option<Point> {
    let distance = |rating: &Rating| (vs / rating.supply.volts()).ln().abs();
    let nearest = group.iter().min_by(|a, b| distance(a).total_cmp(&distance(b)))?;
    let apart = |other: &&Rating| (other.supply.volts() / nearest.supply.volts() - 1.0).abs() > 0.01;
    let second = group.iter().filter(apart).min_by(|a, b| distance(a).total_cmp(&distance(b)));
    let exponent = second.map_or(exponent, |second| {
        let volts = (second.supply.volts() / nearest.supply.volts()).ln();
        let law = (second.power.watts() / nearest.power.watts()).ln() / volts;
        // Beyond the rated supplies no amplifier does better than regulated or worse than in proportion.
        let between = (vs - second.supply.volts()) * (vs - nearest.supply.volts()) < 0.0;
        if between { law } else { law.clamp(0.0, 2.0) }
    });
    let ratio = vs / nearest.supply.volts();
    let p = nearest.power.watts() * ratio.powf(exponent);
    Some(Point { z: nearest.load.ohms(), p, scaled: ratio.ln().abs() > 1e-9 && exponent != 0.0 })
}

/// Power of one output into `z`, by points of rising load.
pub(super) fn power(points: &[Point], z: f64) -> Result<PowerAtLoad, ModelError> {
    let below = points.iter().rev().find(|point| point.z <= z * (1.0 + SAME_LOAD));
    let above = points.iter().find(|point| point.z >= z * (1.0 - SAME_LOAD));
    let used = [below, above];
    let supply_scaled = used.iter().flatten().any(|point| point.scaled);
    let exact = used.into_iter().flatten().find(|point| (point.z / z - 1.0).abs() <= SAME_LOAD);
    let (low, high, interpolated, basis) = match (exact, below, above) {
        (Some(point), ..) => (point.p, point.p, Some(point.p), PowerBasis::Rated),
        (None, Some(b), Some(a)) => between(b, a, z),
        (None, Some(top), None) => {
            let before = points.iter().rev().nth(1);
            let high = top.along(z, before.map_or(0.0, |before| slope(before, top)).clamp(-1.0, 1.0));
            let low = top.voltage_limited(z);
            (low, high.max(low), None, PowerBasis::OutsideRated)
        }
        (None, None, Some(bottom)) => {
            let next = points.get(1);
            let high = bottom.along(z, next.map_or(-1.0, |next| slope(bottom, next)).clamp(-1.0, 1.0));
            let low = bottom.current_limited(z);
            (low, high.max(low), None, PowerBasis::OutsideRated)
        }
        (None, None, None) => return Err(ModelError::Missing { what: "rated power" }),
    };
    Ok(PowerAtLoad {
        low: Power::from_watts(low),
        high: Power::from_watts(high),
        interpolated: interpolated.map(Power::from_watts),
        basis,
        supply_scaled,
        stable: true,
    })
}

/// How power goes with the load between two points, on logarithmic axes: −1 at constant voltage, 1 at constant current.
fn slope(below: &Point, above: &Point) -> f64 {
    (above.p / below.p).ln() / (above.z / below.z).ln()
}

fn between(b: &Point, a: &Point, z: f64) -> (f64, f64, Option<f64>, PowerBasis) {
    let low = b.voltage_limited(z).max(a.current_limited(z));
    let high = a.voltage_limited(z).min(b.current_limited(z));
    let line = b.along(z, slope(b, a));
    // Ratings that contradict the assumption still give an ordered range around the line.
    (low.min(high).min(line), high.max(low).max(line), Some(line), PowerBasis::BetweenRated)
}
