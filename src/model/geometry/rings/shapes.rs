//! Outlines by a few numbers, and outlines traced in the vehicle.
use std::f64::consts::{FRAC_PI_2, PI, TAU};

use super::contour::{Contour, Knot, to_size};
use crate::model::error::ModelError;

/// Arcs an ellipse is made of.
const ARCS: usize = 48;

/// A rectangle with rounded corners around the origin; sizes in mm.
///
/// # Errors
/// [`ModelError::Impossible`] where it has no area or its radius does not fit.
pub fn rectangle([width, height]: [f64; 2], radius: f64) -> Result<Contour, ModelError> {
    let (a, b) = (width / 2.0, height / 2.0);
    Contour::new([[-a, -b], [a, -b], [a, b], [-a, b]].map(|at| Knot { at, radius }).to_vec())
}

/// A D: one side straight with corners of this radius, the opposite one as round as its size allows.
///
/// # Errors
/// As [`rectangle`].
pub fn d_shape([width, height]: [f64; 2], radius: f64) -> Result<Contour, ModelError> {
    let (a, b) = (width / 2.0, height / 2.0);
    let round = a.min(height - radius).max(0.0);
    let knots = [([-a, -b], radius), ([a, -b], radius), ([a, b], round), ([-a, b], round)];
    Contour::new(knots.map(|(at, radius)| Knot { at, radius }).to_vec())
}

/// An ellipse, as it is drawn along a template: 48 arcs without corners between them, none off by more than 0.3 % of the
/// longer size while that is at most twice the shorter.
///
/// # Errors
/// As [`rectangle`].
pub fn ellipse(size: [f64; 2]) -> Result<Contour, ModelError> {
    to_size(size, arcs)
}

/// An ellipse that misses its size by what its arcs are off.
fn arcs([width, height]: [f64; 2]) -> Result<Contour, ModelError> {
    let (a, b) = (width / 2.0, height / 2.0);
    // Where tangents at points half a step before and after meet; neighbours touch the ellipse at the same points.
    let step = TAU / ARCS as f64;
    let far = 1.0 / (step / 2.0).cos();
    let at = |i: usize| {
        let (sin, cos) = (i as f64 * step).sin_cos();
        [a * cos * far, b * sin * far]
    };
    let mut knots = Vec::with_capacity(ARCS);
    for i in 0..ARCS {
        let [before, here, after] = [at(i + ARCS - 1), at(i), at(i + 1)];
        let side = |to: [f64; 2]| (to[0] - here[0]).hypot(to[1] - here[1]);
        let way = |to: [f64; 2]| (to[1] - here[1]).atan2(to[0] - here[0]);
        let mut inner = (way(before) - way(after)).abs();
        if inner > PI {
            inner = TAU - inner;
        }
        // Arcs begin at the middle of the shorter of both sides.
        let radius = side(before).min(side(after)) / 2.0 * (inner / 2.0).tan();
        knots.push(Knot { at: here, radius });
    }
    Contour::new(knots)
}

/// A regular polygon, one side down, in bounds of this size with its corners rounded.
///
/// # Errors
/// As [`rectangle`], and where it has not 3 to 12 sides.
pub fn polygon(sides: usize, size: [f64; 2], radius: f64) -> Result<Contour, ModelError> {
    if !(3..=12).contains(&sides) {
        return Err(ModelError::OutOfRange {
            what: "sides of the outline",
            value: sides as f64,
            min: 3.0,
            max: 12.0,
        });
    }
    let corner = |i: usize| {
        let angle = -FRAC_PI_2 + (i as f64 + 0.5) * TAU / sides as f64;
        [angle.cos(), angle.sin()]
    };
    let points: Vec<[f64; 2]> = (0..sides).map(corner).collect();
    let reach = [0, 1].map(|i| {
        let low = points.iter().map(|at| at[i]).fold(f64::INFINITY, f64::min);
        (low, points.iter().map(|at| at[i]).fold(f64::NEG_INFINITY, f64::max))
    });
    to_size(size, |size| {
        let place = |at: &[f64; 2]| {
            [0, 1].map(|i| ((at[i] - reach[i].0) / (reach[i].1 - reach[i].0) - 0.5) * size[i])
        };
        Contour::new(points.iter().map(|at| Knot { at: place(at), radius }).collect())
    })
}

/// A station along a straight edge laid through the space, all in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// Distance along the straight edge.
    pub along: f64,
    /// From the straight edge to the left.
    pub left: f64,
    /// From the straight edge to the right.
    pub right: f64,
}

/// An outline through stations, its corners rounded by the radius given, or less where the stations lie closer.
///
/// # Errors
/// [`ModelError::Impossible`] for fewer than two stations, stations out of order, or an outline that crosses itself.
pub fn traced(stations: &[Station], radius: f64) -> Result<Contour, ModelError> {
    let in_order = stations.windows(2).all(|pair| pair[1].along > pair[0].along);
    let open = stations.iter().all(|station| station.left + station.right > -1e-9);
    if stations.len() < 2 || !in_order || !open {
        return Err(ModelError::Impossible {
            what: "an outline is traced by two stations or more, each farther along than the one before",
        });
    }
    // The right-hand side on the way out, the left-hand side on the way back.
    let out = stations.iter().map(|station| [station.along, -station.right]);
    let back = stations.iter().rev().map(|station| [station.along, station.left]);
    let mut points: Vec<[f64; 2]> = Vec::new();
    for at in out.chain(back) {
        if points.last() != Some(&at) {
            points.push(at);
        }
    }
    if points.len() > 1 && points.first() == points.last() {
        points.pop();
    }
    let points = without_straight(points);
    let count = points.len();
    let knots = (0..count).map(|i| {
        let (before, here, after) = (points[(i + count - 1) % count], points[i], points[(i + 1) % count]);
        let [a, b] = [before, after].map(|to| [to[0] - here[0], to[1] - here[1]]);
        let [long_a, long_b] = [a, b].map(|way| way[0].hypot(way[1]));
        let inner = ((a[0] * b[0] + a[1] * b[1]) / (long_a * long_b).max(1e-12)).clamp(-1.0, 1.0).acos();
        // An arc takes at most half of either side.
        let most = long_a.min(long_b) / 2.0 * (inner / 2.0).tan();
        Knot { at: here, radius: radius.min(most * 0.999) }
    });
    Contour::new(knots.collect())
}

/// Points on a straight line between their neighbours are no corners.
fn without_straight(points: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    let count = points.len();
    let turns = |i: usize| {
        let (a, b, c) = (points[(i + count - 1) % count], points[i], points[(i + 1) % count]);
        let area = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
        area.abs() > 1e-6 * (b[0] - a[0]).hypot(b[1] - a[1]) * (c[0] - b[0]).hypot(c[1] - b[1])
    };
    (0..count).filter(|i| turns(*i)).map(|i| points[i]).collect()
}
