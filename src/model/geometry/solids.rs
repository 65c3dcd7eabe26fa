//! The bodies a box is made of, placed in it, and their volumes.
//!
//! All coordinates are exact lengths, so that touching faces touch; only what is round or oblique needs a formula.
use std::f64::consts::PI;

use super::axes::{Axis, Dims, InsideEdge, Point};
use super::polygon::{Opening, Polygon, Turn};
use super::spec::Window;
use super::strips::leaning;
use crate::units::{ExactLength, Volume};

/// A placed body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Solid {
    /// A block along the axes.
    Block {
        /// Its front left bottom corner.
        min: Point,
        /// Its size.
        size: Dims,
    },
    /// A block whose four edges along one axis are rounded.
    RoundedBlock {
        /// Front left bottom corner of the block before rounding.
        min: Point,
        /// Its size.
        size: Dims,
        /// The axis along which the rounded edges run.
        through: Axis,
        /// Radius of the edges.
        corner_radius: ExactLength,
    },
    /// A cylinder, or a cone's frustum.
    Round {
        /// Centre of the end with the smaller coordinate.
        base: Point,
        /// Direction of the axis.
        along: Axis,
        /// Length along the axis.
        length: ExactLength,
        /// Diameter at the base.
        from: ExactLength,
        /// Diameter at the other end.
        to: ExactLength,
    },
    /// The wall of a tube.
    Tube {
        /// Centre of the end with the smaller coordinate.
        base: Point,
        /// Direction of the axis.
        along: Axis,
        /// Length along the axis.
        length: ExactLength,
        /// Outer diameter.
        outer: ExactLength,
        /// Inner diameter.
        inner: ExactLength,
    },
    /// A right prism over an isosceles right triangle whose right angle lies in an inside edge.
    CornerPrism {
        /// The inside edge it lies in.
        edge: InsideEdge,
        /// Where it begins on that edge.
        start: Point,
        /// Length along the edge.
        length: ExactLength,
        /// Width of the oblique face, point to point.
        face: ExactLength,
    },
    /// A triangular prism with oblique ends: what a strip closes off where boards lean. The point on the inside edge, then
    /// those on both walls, at one end; the same at the other. In millimetres.
    Wedge {
        /// Its corners.
        corners: [[f64; 3]; 6],
    },
    /// A board with a window in its middle.
    Frame {
        /// Front left bottom corner.
        min: Point,
        /// Its size.
        size: Dims,
        /// The axis the window goes through.
        through: Axis,
        /// The window.
        window: Window,
    },
    /// An opening across the width whose two edges at the end of greater depth are rounded.
    Arch {
        /// Front left bottom corner before rounding.
        min: Point,
        /// Its size.
        size: Dims,
        /// Radius of the two edges.
        corner_radius: ExactLength,
    },
    /// A board across the width over a polygon of depth and height, with or without a window.
    Prism {
        /// Its section.
        section: Polygon,
        /// Its left face.
        from: ExactLength,
        /// Its size along the width.
        width: ExactLength,
        /// A window through the width.
        opening: Option<Opening>,
    },
}

/// A box around a body along the axes, in millimetres, in the order of [`Axis::ALL`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Smallest coordinates.
    pub min: [f64; 3],
    /// Largest coordinates.
    pub max: [f64; 3],
}

impl Bounds {
    /// Whether the two share no more than `touch` along some axis.
    #[must_use]
    pub fn apart(&self, other: &Self, touch: f64) -> bool {
        (0..3).any(|axis| {
            self.max[axis] - other.min[axis] <= touch || other.max[axis] - self.min[axis] <= touch
        })
    }
}

impl Bounds {
    /// The box around the body of these bounds once it is turned.
    #[inline(never)] // only shaped boxes need it: it may come after the first result
    pub(super) fn turned(&self, solid: &Solid, turn: Turn) -> Self {
        let block = [[0, 0], [0, 1], [1, 0], [1, 1]].map(|[depth, height]| {
            let pick = |end: usize, axis: usize| if end == 0 { self.min[axis] } else { self.max[axis] };
            [pick(depth, 0), pick(height, 2)]
        });
        let own = match solid {
            Solid::Prism { section, .. } => section.corners(),
            _ => &block,
        };
        let corners: Vec<[f64; 2]> = own.iter().map(|at| turn.point(*at)).collect();
        let reach = |i: usize, pick: fn(f64, f64) -> f64| {
            corners[1..].iter().fold(corners[0][i], |a, at| pick(a, at[i]))
        };
        Self {
            min: [reach(0, f64::min), self.min[1], reach(1, f64::min)],
            max: [reach(0, f64::max), self.max[1], reach(1, f64::max)],
        }
    }
}

impl Solid {
    /// A cylinder.
    #[must_use]
    pub const fn cylinder(base: Point, along: Axis, length: ExactLength, diameter: ExactLength) -> Self {
        Self::Round { base, along, length, from: diameter, to: diameter }
    }

    /// Volume of the body.
    ///
    /// # Source
    /// geometry.md (tests/published/data/woodworking): corner prism w²/4 per length (section 3), frustum
    /// π h (d₁² + d₁d₂ + d₂²)/12 (section 4), rounded rectangle w h − (4 − π) ρ² (section 6).
    #[must_use]
    pub fn volume(&self) -> Volume {
        let mm3 = match *self {
            Self::Block { size, .. } => block_mm3(size),
            Self::RoundedBlock { size, through, corner_radius, .. } => {
                let radius = corner_radius.millimetres();
                block_mm3(size) - (4.0 - PI) * radius * radius * size.get(through).millimetres()
            }
            Self::Round { length, from, to, .. } => {
                let (d1, d2) = (from.millimetres(), to.millimetres());
                PI * length.millimetres() * (d1 * d1 + d1 * d2 + d2 * d2) / 12.0
            }
            Self::Tube { length, outer, inner, .. } => {
                let (d, s) = (outer.millimetres(), inner.millimetres());
                PI / 4.0 * (d * d - s * s) * length.millimetres()
            }
            Self::CornerPrism { length, face, .. } => {
                let w = face.millimetres();
                w * w / 4.0 * length.millimetres()
            }
            Self::Frame { size, through, window, .. } => {
                block_mm3(size) - window.area_mm2() * size.get(through).millimetres()
            }
            Self::Arch { .. } | Self::Prism { .. } | Self::Wedge { .. } => self.rarer_mm3(),
        };
        Volume::from_cubic_metres(mm3 * 1e-9)
    }

    /// Volume of what the first picture has none of.
    #[inline(never)]
    fn rarer_mm3(&self) -> f64 {
        match *self {
            Self::Arch { size, corner_radius, .. } => {
                let radius = corner_radius.millimetres();
                block_mm3(size) - (2.0 - PI / 2.0) * radius * radius * size.width.millimetres()
            }
            Self::Prism { ref section, width, opening, .. } => section.without(opening) * width.millimetres(),
            Self::Wedge { ref corners } => leaning::volume_and_centre(corners).0,
            _ => 0.0,
        }
    }

    /// The smallest box along the axes around the body.
    #[must_use]
    pub fn bounds(&self) -> Bounds {
        match *self {
            Self::Block { min, size }
            | Self::RoundedBlock { min, size, .. }
            | Self::Arch { min, size, .. }
            | Self::Frame { min, size, .. } => {
                Bounds { min: min.millimetres(), max: (min + size).millimetres() }
            }
            Self::Round { base, along, length, from, to } => round_bounds(base, along, length, from.max(to)),
            Self::Tube { base, along, length, outer, .. } => round_bounds(base, along, length, outer),
            Self::CornerPrism { edge, start, length, face } => {
                let leg = face.millimetres() * std::f64::consts::FRAC_1_SQRT_2;
                let (mut min, mut max) = (start.millimetres(), start.millimetres());
                for axis in edge.along.others() {
                    match edge.end(axis) {
                        Some(super::End::High) => min[axis.index()] -= leg,
                        _ => max[axis.index()] += leg,
                    }
                }
                max[edge.along.index()] += length.millimetres();
                Bounds { min, max }
            }
            Self::Wedge { ref corners } => around(corners),
            Self::Prism { ref section, from, width, .. } => {
                let [low, high] = section.bounds();
                let right = (from + width).millimetres();
                Bounds { min: [low[0], from.millimetres(), low[1]], max: [high[0], right, high[1]] }
            }
        }
    }

    /// The six corners of a [`Solid::CornerPrism`] or a [`Solid::Wedge`] in millimetres; empty for any other body.
    #[must_use]
    pub fn prism_corners(&self) -> Vec<[f64; 3]> {
        if let Self::Wedge { corners } = self {
            return corners.to_vec();
        }
        let Self::CornerPrism { edge, start, length, face } = *self else {
            return Vec::new();
        };
        let leg = face.millimetres() * std::f64::consts::FRAC_1_SQRT_2;
        let origin = start.millimetres();
        let mut corners = vec![origin];
        for axis in edge.along.others() {
            let mut corner = origin;
            corner[axis.index()] += match edge.end(axis) {
                Some(super::End::High) => -leg,
                _ => leg,
            };
            corners.push(corner);
        }
        let far = corners.clone().into_iter().map(|mut corner| {
            corner[edge.along.index()] += length.millimetres();
            corner
        });
        corners.extend(far);
        corners
    }
}

#[inline(never)] // only shaped boxes need it: it may come after the first result
fn around(corners: &leaning::Wedge) -> Bounds {
    let reach = |pick: fn(f64, f64) -> f64| {
        [0, 1, 2].map(|i| corners.iter().skip(1).fold(corners[0][i], |a, at| pick(a, at[i])))
    };
    Bounds { min: reach(f64::min), max: reach(f64::max) }
}

fn block_mm3(size: Dims) -> f64 {
    size.millimetres().iter().product()
}

fn round_bounds(base: Point, along: Axis, length: ExactLength, diameter: ExactLength) -> Bounds {
    let (mut min, mut max) = (base.millimetres(), base.millimetres());
    for axis in along.others() {
        min[axis.index()] -= diameter.millimetres() / 2.0;
        max[axis.index()] += diameter.millimetres() / 2.0;
    }
    max[along.index()] += length.millimetres();
    Bounds { min, max }
}
