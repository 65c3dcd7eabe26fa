//! A closed outline of straight lines whose corners are rounded, and the same line farther in.
use std::f64::consts::PI;

use crate::model::error::ModelError;
use crate::model::geometry::outline::Corner;
use crate::model::geometry::plane::{self, cross, distance, dot, holds, length, minus, unit};

/// A corner before it is rounded, in millimetres, and the radius it gets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Knot {
    /// Where the two straight lines meet.
    pub at: [f64; 2],
    /// Radius of the arc between them; zero for a sharp corner.
    pub radius: f64,
}

/// A closed outline, anticlockwise.
#[derive(Clone, Debug, PartialEq)]
pub struct Contour {
    knots: Vec<Knot>,
}

/// Lengths up to this, in mm, are none.
const NONE: f64 = 1e-7;
/// Most a chord of an arc as points lies within it, in mm, and the widest angle it spans.
const WITHIN: f64 = 0.02;
const WIDEST: f64 = 0.05;

/// A corner with its surroundings.
struct Turn {
    /// Directions of the lines that come in and go out.
    into: [f64; 2],
    out: [f64; 2],
    /// How far it turns, above zero to the left.
    angle: f64,
    /// From the corner to where the arc begins.
    tangent: f64,
}

impl Contour {
    /// From its corners, anticlockwise or clockwise.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where it has no area, crosses itself, or its radii do not fit its sides.
    pub fn new(mut knots: Vec<Knot>) -> Result<Self, ModelError> {
        let finite = knots
            .iter()
            .all(|k| k.radius.is_finite() && k.radius >= 0.0 && k.at.iter().all(|x| x.abs() < 1e5));
        if knots.len() < 3 || knots.len() > 400 || !finite {
            return refuse("an outline has at least three corners, within 100 m");
        }
        if twice_area(&knots) < 0.0 {
            knots.reverse();
        }
        let contour = Self { knots };
        contour.check()?;
        Ok(contour)
    }

    /// Its corners.
    #[must_use]
    pub fn knots(&self) -> &[Knot] {
        &self.knots
    }

    fn check(&self) -> Result<(), ModelError> {
        if twice_area(&self.knots) < 2.0 {
            return refuse("the outline encloses nothing");
        }
        let turns = self.turns();
        for (i, turn) in turns.iter().enumerate() {
            let next = (i + 1) % turns.len();
            let long = length(minus(self.knots[next].at, self.knots[i].at));
            // Two arcs may meet in the middle of a side.
            if turn.angle.abs() > PI - 1e-3 || turn.tangent + turns[next].tangent > long + 1e-6 {
                return refuse("the radii of the outline are larger than its sides");
            }
        }
        if crosses(&self.knots) {
            return refuse("the outline crosses itself");
        }
        Ok(())
    }

    fn turns(&self) -> Vec<Turn> {
        let count = self.knots.len();
        let turn = |i: usize| {
            let here = self.knots[i];
            let into = unit(minus(here.at, self.knots[(i + count - 1) % count].at));
            let out = unit(minus(self.knots[(i + 1) % count].at, here.at));
            let angle = cross(into, out).atan2(dot(into, out));
            Turn { into, out, angle, tangent: here.radius * (angle.abs() / 2.0).tan() }
        };
        (0..count).map(turn).collect()
    }

    /// The same outline farther in by so much: lines move, arcs of corners that stand out shrink, those of corners that
    /// stand in grow. No corner that stands out gets a smaller radius than `least`, unless it is none.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where nothing remains or a side would vanish.
    pub fn inset(&self, by: f64, least: f64) -> Result<Self, ModelError> {
        let turns = self.turns();
        let knots = self.knots.iter().zip(&turns).map(|(knot, turn)| {
            // Both lines move to their left; the corner moves along the bisector.
            let along = by * (turn.angle / 2.0).tan();
            let left = [-turn.into[1], turn.into[0]];
            let at = [0, 1].map(|i| knot.at[i] + left[i] * by - turn.into[i] * along);
            let radius = if turn.angle > 0.0 { (knot.radius - by).max(least) } else { knot.radius + by };
            Knot { at, radius }
        });
        let inner = Self { knots: knots.collect() };
        // Each side still runs the way it ran.
        let kept = turns.iter().enumerate().all(|(i, turn)| {
            let next = inner.knots[(i + 1) % turns.len()].at;
            dot(minus(next, inner.knots[i].at), turn.out) >= -NONE
        });
        if !kept {
            return refuse(
                "the wall is wider than the outline allows: a side or a small radius vanishes inside it",
            );
        }
        inner.check()?;
        Ok(inner)
    }

    /// The outline between this one and another with as many corners: 0 this, 1 the other.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where the two have different numbers of corners, or as [`Contour::new`].
    pub fn towards(&self, other: &Self, share: f64) -> Result<Self, ModelError> {
        if self == other {
            return Ok(self.clone());
        }
        if self.knots.len() != other.knots.len() {
            return refuse("the two outlines have different numbers of corners");
        }
        let mix = |a: f64, b: f64| a + (b - a) * share;
        let knots = self.knots.iter().zip(&other.knots).map(|(a, b)| Knot {
            at: [mix(a.at[0], b.at[0]), mix(a.at[1], b.at[1])],
            radius: mix(a.radius, b.radius),
        });
        Self::new(eased(knots.collect()))
    }

    /// Stretched about the middle of its bounds to another size.
    ///
    /// # Errors
    /// As [`Contour::new`].
    pub fn stretched(&self, size: [f64; 2]) -> Result<Self, ModelError> {
        let [min, max] = self.bounds();
        let radius = [0, 1].map(|i| size[i] / (max[i] - min[i]).max(NONE));
        let radius = radius[0].min(radius[1]);
        to_size(size, |asked| {
            let scale = [0, 1].map(|i| asked[i] / (max[i] - min[i]).max(NONE));
            let knots = self.knots.iter().map(|knot| Knot {
                at: [0, 1].map(|i| {
                    let middle = (min[i] + max[i]) / 2.0;
                    middle + (knot.at[i] - middle) * scale[i]
                }),
                radius: knot.radius * radius,
            });
            Self::new(eased(knots.collect()))
        })
    }

    /// Area in mm²: that of the straight lines, less r² (tan(a/2) − a/2) at each corner that stands out by the turn a, and
    /// more by as much at each that stands in.
    #[must_use]
    pub fn area_mm2(&self) -> f64 {
        let corners = self.knots.iter().zip(self.turns()).map(|(knot, turn)| {
            let half = turn.angle.abs() / 2.0;
            turn.angle.signum() * knot.radius * knot.radius * (half.tan() - half)
        });
        twice_area(&self.knots) / 2.0 - corners.sum::<f64>()
    }

    /// Length all round in mm.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        let turns = self.turns();
        let sides = (0..turns.len()).map(|i| {
            let long = length(minus(self.knots[(i + 1) % turns.len()].at, self.knots[i].at));
            long - 2.0 * turns[i].tangent + self.knots[i].radius * turns[i].angle.abs()
        });
        sides.sum()
    }

    /// As lines and arcs, `from` taken as the origin.
    #[must_use]
    pub fn edge(&self, from: [f64; 2]) -> Vec<Corner> {
        let turns = self.turns();
        let mut all: Vec<Corner> = Vec::with_capacity(2 * turns.len());
        for (knot, turn) in self.knots.iter().zip(&turns) {
            let on = |way: [f64; 2], sign: f64| {
                [0, 1].map(|i| knot.at[i] + sign * way[i] * turn.tangent - from[i])
            };
            if knot.radius <= NONE || turn.angle.abs() <= 1e-9 {
                all.push(([knot.at[0] - from[0], knot.at[1] - from[1]], 0.0));
            } else {
                all.push((on(turn.into, -1.0), (turn.angle / 4.0).tan()));
                all.push((on(turn.out, 1.0), 0.0));
            }
        }
        // Where an arc ends as the next begins, one corner stands for both.
        let ends: Vec<[f64; 2]> = all.iter().map(|(at, _)| *at).collect();
        let count = all.len();
        let mut number = 0;
        all.retain(|(at, bulge)| {
            number += 1;
            *bulge != 0.0 || length(minus(ends[number % count], *at)) > 1e-6
        });
        all
    }

    /// As points, arcs in short chords.
    #[must_use]
    pub fn polyline(&self) -> Vec<[f64; 2]> {
        let mut all = Vec::new();
        for (knot, turn) in self.knots.iter().zip(self.turns()) {
            if knot.radius <= NONE {
                all.push(knot.at);
                continue;
            }
            let start = [0, 1].map(|i| knot.at[i] - turn.into[i] * turn.tangent);
            let side = turn.angle.signum();
            let centre =
                [start[0] - turn.into[1] * side * knot.radius, start[1] + turn.into[0] * side * knot.radius];
            let chord = (8.0 * WITHIN / knot.radius).sqrt().min(WIDEST);
            let steps = (turn.angle.abs() / chord).ceil().clamp(1.0, 400.0);
            for step in 0..=steps as usize {
                let (sin, cos) = (turn.angle * step as f64 / steps).sin_cos();
                let off = minus(start, centre);
                all.push([centre[0] + off[0] * cos - off[1] * sin, centre[1] + off[0] * sin + off[1] * cos]);
            }
        }
        all
    }

    /// So many points along it, evenly spread.
    pub(super) fn evenly(&self, count: usize) -> Vec<[f64; 2]> {
        let points = self.polyline();
        let sides: Vec<f64> =
            (0..points.len()).map(|i| length(minus(points[(i + 1) % points.len()], points[i]))).collect();
        let whole: f64 = sides.iter().sum();
        let mut all = Vec::with_capacity(count);
        let (mut side, mut behind) = (0, 0.0);
        for number in 0..count {
            let wanted = whole * number as f64 / count as f64;
            while side + 1 < sides.len() && behind + sides[side] < wanted {
                behind += sides[side];
                side += 1;
            }
            let share = ((wanted - behind) / sides[side].max(NONE)).clamp(0.0, 1.0);
            let (a, b) = (points[side], points[(side + 1) % points.len()]);
            all.push([a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share]);
        }
        all
    }

    /// Distance of a point within it from its edge in mm; below zero outside.
    #[must_use]
    pub fn clearance(&self, at: [f64; 2]) -> f64 {
        let line = self.polyline();
        let away = distance(&line, at);
        if holds(&line, at) { away } else { -away }
    }

    /// Lower left and upper right.
    #[must_use]
    pub fn bounds(&self) -> [[f64; 2]; 2] {
        let mut bounds = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
        let turns = self.turns();
        for (knot, turn) in self.knots.iter().zip(&turns) {
            let side = turn.angle.signum();
            let ends = [(turn.into, -1.0), (turn.out, 1.0)]
                .map(|(way, sign)| [0, 1].map(|i| knot.at[i] + sign * way[i] * turn.tangent));
            let centre = [
                ends[0][0] - turn.into[1] * side * knot.radius,
                ends[0][1] + turn.into[0] * side * knot.radius,
            ];
            // Where an arc stands out it reaches its radius along an axis it turns past.
            let outward = [[turn.into[1], -turn.into[0]], [turn.out[1], -turn.out[0]]];
            for i in 0..2 {
                for end in ends {
                    bounds[0][i] = bounds[0][i].min(end[i]);
                    bounds[1][i] = bounds[1][i].max(end[i]);
                }
                for (bound, sign) in [(0, -1.0), (1, 1.0)] {
                    let mut axis = [0.0; 2];
                    axis[i] = sign;
                    let between = cross(outward[0], axis) >= 0.0 && cross(axis, outward[1]) >= 0.0;
                    if side > 0.0 && between && dot(outward[0], axis) + dot(outward[1], axis) > 0.0 {
                        let far = centre[i] + sign * knot.radius;
                        bounds[bound][i] =
                            if bound == 0 { bounds[0][i].min(far) } else { bounds[1][i].max(far) };
                    }
                }
            }
        }
        bounds
    }
}

/// Radii that no longer fit their sides, as those of an ellipse that is stretched, made as much smaller as the sides ask
/// for.
fn eased(mut knots: Vec<Knot>) -> Vec<Knot> {
    let contour = Contour { knots: knots.clone() };
    let turns = contour.turns();
    let count = turns.len();
    let share = |i: usize| {
        let next = (i + 1) % count;
        let long = length(minus(knots[next].at, knots[i].at));
        // A hair less, against rounding.
        (long / (turns[i].tangent + turns[next].tangent).max(NONE) * (1.0 - 1e-12)).min(1.0)
    };
    let shares: Vec<f64> = (0..count).map(share).collect();
    for (i, knot) in knots.iter_mut().enumerate() {
        knot.radius *= shares[i].min(shares[(i + count - 1) % count]);
    }
    knots
}

/// Rounds in which an outline is brought to its size: each leaves less than a third of what was off.
const ROUNDS: usize = 40;

/// An outline whose bounds have this size, from one that comes out smaller where radii cut points off: asked for as much
/// larger as it lacks.
pub(super) fn to_size(
    size: [f64; 2],
    make: impl Fn([f64; 2]) -> Result<Contour, ModelError>,
) -> Result<Contour, ModelError> {
    let mut asked = size;
    let mut found = make(asked)?;
    for _ in 0..ROUNDS {
        let [min, max] = found.bounds();
        let off = [0, 1].map(|i| size[i] - (max[i] - min[i]));
        if off.iter().all(|off| off.abs() < 1e-9) {
            break;
        }
        asked = [0, 1].map(|i| asked[i] + off[i]);
        found = make(asked)?;
    }
    Ok(found)
}

fn refuse<T>(what: &'static str) -> Result<T, ModelError> {
    Err(ModelError::Impossible { what })
}

fn twice_area(knots: &[Knot]) -> f64 {
    knots.iter().zip(knots.iter().cycle().skip(1)).map(|(a, b)| cross(a.at, b.at)).sum()
}

/// Whether two sides that are no neighbours meet.
fn crosses(knots: &[Knot]) -> bool {
    let count = knots.len();
    let side = |i: usize| (knots[i].at, knots[(i + 1) % count].at);
    (0..count).any(|i| {
        (i + 2..count).filter(|j| (j + 1) % count != i).any(|j| {
            let ((a, b), (c, d)) = (side(i), side(j));
            plane::side([a, b], c) * plane::side([a, b], d) < 0.0
                && plane::side([c, d], a) * plane::side([c, d], b) < 0.0
        })
    })
}
