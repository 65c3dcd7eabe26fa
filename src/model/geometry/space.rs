//! The space a box goes into as it is measured: what must be kept free in it, and whether a box clears that.
//!
//! Space and box share their axes: depth from the front limit backwards (where the box's front looks), width from the
//! left, height from the floor; millimetres. What is kept free is a prism over a convex polygon; what is round becomes the
//! polygon around it, so that nothing is taken for free that is not.
pub mod measure;
pub mod prism;

use super::axes::{Axis, Dims};
use super::legs::Face;
use super::plane::At;
pub use prism::{Gap, Prism, gap};

/// Corners of a full circle's polygon: its corners lie 0.1 % of the radius outside of the circle.
const ROUND: u32 = 72;

/// What is kept free.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KeepOutKind {
    /// Behind the limit that stations on the side give: a seat back, a sloping panel.
    Behind,
    /// Behind the rear edge of a floor that is out of square.
    Rear,
    /// Left of what stations or diagonals of the floor leave.
    LeftSide,
    /// Right of it.
    RightSide,
    /// The left wheel arch.
    LeftArch,
    /// The right wheel arch.
    RightArch,
    /// Above the spare wheel.
    Well,
    /// Where the lid or its hinges sweep.
    Lid,
    /// Typed by its corners, by its number.
    Own(u8),
}

/// A body that no box may come near.
#[derive(Clone, Debug, PartialEq)]
pub struct KeepOut {
    /// What it is.
    pub kind: KeepOutKind,
    /// Its place.
    pub prism: Prism,
}

/// Where a box comes too near.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hit {
    /// To what.
    pub kind: KeepOutKind,
    /// The face of the box that must give way.
    pub face: Face,
    /// By how much, in mm: the gap wanted less the gap there is, or plus how deep they stand in each other.
    pub over: f64,
}

/// A box in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Its front left bottom corner: depth, width, height.
    pub at: [f64; 3],
    /// Where it comes too near, worst first; one line for each thing.
    pub hits: Vec<Hit>,
}

/// Tolerance of a gap, in mm: lengths are exact, what is oblique is not.
const TOUCH_MM: f64 = 1e-6;

/// A body with the block around it.
type Bounded<'a> = (&'a Prism, [[f64; 3]; 2]);

fn bounded(prism: &Prism) -> Bounded<'_> {
    (prism, prism.bounds())
}

/// Where bodies at a place come too near, in no order.
fn conflicts<'a>(
    bodies: &'a [Bounded<'_>],
    kept: &'a [(KeepOutKind, Bounded<'_>)],
    at: [f64; 3],
    wanted: f64,
) -> impl Iterator<Item = Hit> + 'a {
    // Apart by more than the gap along one axis is apart.
    let near = move |[min, max]: [[f64; 3]; 2], [from, to]: [[f64; 3]; 2]| {
        (0..3).all(|axis| {
            from[axis] - (max[axis] + at[axis]) < wanted && min[axis] + at[axis] - to[axis] < wanted
        })
    };
    bodies.iter().flat_map(move |(body, bounds)| {
        let close = kept.iter().filter(move |(_, (_, other))| near(*bounds, *other));
        close.filter_map(move |(kind, (prism, _))| {
            let found = gap(&body.moved(at), prism);
            let over = wanted - found.distance;
            (over > TOUCH_MM).then(|| Hit { kind: *kind, face: face(found.direction), over })
        })
    })
}

/// How a box stands at a place: its bodies against everything kept free.
#[must_use]
pub fn stands(bodies: &[Prism], keep_outs: &[KeepOut], at: [f64; 3], wanted: f64) -> Standing {
    let bodies: Vec<_> = bodies.iter().map(bounded).collect();
    let kept: Vec<_> = keep_outs.iter().map(|it| (it.kind, bounded(&it.prism))).collect();
    let mut hits: Vec<Hit> = conflicts(&bodies, &kept, at, wanted).collect();
    hits.sort_by(|a, b| b.over.total_cmp(&a.over));
    let mut kinds = Vec::new();
    hits.retain(|hit| {
        let first = !kinds.contains(&hit.kind);
        kinds.push(hit.kind);
        first
    });
    Standing { at, hits }
}

/// The gap of a box at a place to each thing kept free, in mm; below zero they stand in each other.
#[must_use]
pub fn gaps(bodies: &[Prism], keep_outs: &[KeepOut], at: [f64; 3]) -> Vec<(KeepOutKind, f64)> {
    let mut gaps: Vec<(KeepOutKind, f64)> = Vec::new();
    for body in bodies.iter().map(|body| body.moved(at)) {
        for keep_out in keep_outs {
            let found = gap(&body, &keep_out.prism).distance;
            match gaps.iter_mut().find(|(kind, _)| *kind == keep_out.kind) {
                Some((_, least)) => *least = least.min(found),
                None => gaps.push((keep_out.kind, found)),
            }
        }
    }
    gaps
}

/// The place where a box clears most: typed coordinates stay, the others are tried in the middle, against each limit
/// and beside each thing kept free.
///
/// `size` is the block around the bodies, `wanted` the gap to everything, limits of the space included.
#[must_use]
pub fn best_place(
    bodies: &[Prism],
    keep_outs: &[KeepOut],
    space: Dims,
    size: Dims,
    wanted: f64,
    typed: [Option<f64>; 2],
) -> Standing {
    let [deep, wide, _] = space.millimetres();
    let [depth, width, _] = size.millimetres();
    let shapes: Vec<_> = bodies.iter().map(bounded).collect();
    let kept: Vec<_> = keep_outs.iter().map(|it| (it.kind, bounded(&it.prism))).collect();
    let places = |axis: usize, first: f64, room: f64, own: f64| {
        let mut all = vec![first, wanted, room - own - wanted];
        for (_, (_, [min, max])) in &kept {
            all.push(max[axis] + wanted);
            all.push(min[axis] - own - wanted);
        }
        all.retain(|at| *at >= wanted - TOUCH_MM && at + own <= room - wanted + TOUCH_MM);
        // A box as large as the space stands where it has to.
        if all.is_empty() { vec![first] } else { all }
    };
    let across = typed[0].map_or_else(|| places(1, (wide - width) / 2.0, wide, width), |at| vec![at]);
    let back = typed[1].map_or_else(|| places(0, wanted, deep, depth), |at| vec![at]);
    let mut best: Option<(f64, [f64; 3])> = None;
    for depth in &back {
        for width in &across {
            let at = [*depth, *width, wanted];
            let least = best.map_or(f64::INFINITY, |(over, _)| over);
            let mut worst = 0.0_f64;
            for hit in conflicts(&shapes, &kept, at, wanted) {
                worst = worst.max(hit.over);
                // No better than the best so far: the rest need not be looked at.
                if worst >= least {
                    break;
                }
            }
            if worst <= 0.0 {
                return Standing { at, hits: Vec::new() };
            }
            if worst < least {
                best = Some((worst, at));
            }
        }
    }
    let at = best.map_or([wanted; 3], |(_, at)| at);
    stands(bodies, keep_outs, at, wanted)
}

/// The face of a box that looks into a direction.
fn face(direction: [f64; 3]) -> Face {
    let axis = (0..3).max_by(|a, b| direction[*a].abs().total_cmp(&direction[*b].abs())).unwrap_or(0);
    match (axis, direction[axis] > 0.0) {
        (0, false) => Face::Front,
        (0, true) => Face::Back,
        (1, false) => Face::Left,
        (1, true) => Face::Right,
        (_, false) => Face::Bottom,
        (_, true) => Face::Top,
    }
}

/// A wheel arch as a block, `width` into the space from one of its sides.
#[must_use]
pub fn arch_block(across: [f64; 2], depth: [f64; 2], height: f64) -> Prism {
    Prism::block([depth[0], across[0], 0.0], [depth[1], across[1], height])
}

/// A wheel arch that is round on top: the half of an ellipse as long and as high as it, and the polygon around that.
#[must_use]
pub fn arch_rounded(across: [f64; 2], [from, to]: [f64; 2], height: f64) -> Prism {
    let (middle, half) = ((from + to) / 2.0, (to - from) / 2.0);
    let steps = ROUND / 2;
    let step = std::f64::consts::PI / f64::from(steps);
    let out = 1.0 / (step / 2.0).cos();
    // Between each two points of contact the corner of their tangents; flat ends at floor and crown are cut to the block.
    let mut section: Vec<At> = vec![[from, 0.0], [to, 0.0]];
    section.extend((0..steps).map(|number| {
        let angle = step * (f64::from(number) + 0.5);
        [middle + half * out * angle.cos(), height * out * angle.sin()]
    }));
    let section = section.into_iter().map(|[x, z]| [x.clamp(from, to), z.min(height)]).collect();
    Prism::over(Axis::Width, across, section)
}

/// All that lies above a round well, up to a height.
#[must_use]
pub fn above_well(middle: At, diameter: f64, height: f64) -> Prism {
    Prism::over(Axis::Height, [0.0, height], circle(middle, diameter / 2.0))
}

/// What a lid or its hinge arms sweep about a hinge: the disc around it, across a stretch of the width.
#[must_use]
pub fn sweep(hinge: At, reach: f64, across: [f64; 2]) -> Prism {
    Prism::over(Axis::Width, across, circle(hinge, reach))
}

/// The polygon around a circle.
fn circle(middle: At, radius: f64) -> Vec<At> {
    let step = std::f64::consts::TAU / f64::from(ROUND);
    let out = radius / (step / 2.0).cos();
    (0..ROUND)
        .map(|number| {
            let angle = step * (f64::from(number) + 0.5);
            [middle[0] + out * angle.cos(), middle[1] + out * angle.sin()]
        })
        .collect()
}

/// The largest block of a space that keeps clear of everything, standing on the floor: lower, narrower or less deep.
///
/// Blocks are cut at the bounds of what is kept free, so beside something oblique or round a little is given away. The
/// corners of the block; `None` where nothing remains.
#[must_use]
pub fn largest_block(space: Dims, keep_outs: &[KeepOut], wanted: f64) -> Option<[[f64; 3]; 2]> {
    let whole = [[wanted; 3], space.millimetres().map(|size| size - wanted)];
    let bounds: Vec<[[f64; 3]; 2]> = keep_outs
        .iter()
        .map(|keep_out| {
            let [min, max] = keep_out.prism.bounds();
            [min.map(|at| at - wanted), max.map(|at| at + wanted)]
        })
        .collect();
    let mut best: Option<(f64, [[f64; 3]; 2])> = None;
    cut(whole, &bounds, &mut best);
    best.map(|(_, block)| block)
}

fn volume([min, max]: [[f64; 3]; 2]) -> f64 {
    (0..3).map(|axis| (max[axis] - min[axis]).max(0.0)).product()
}

/// Cuts the first thing that still stands in a block off, on each of its sides, as long as the rest may become the best.
fn cut(block: [[f64; 3]; 2], bounds: &[[[f64; 3]; 2]], best: &mut Option<(f64, [[f64; 3]; 2])>) {
    let size = volume(block);
    if size <= 0.0 || best.is_some_and(|(most, _)| size <= most) {
        return;
    }
    let inside = |other: &&[[f64; 3]; 2]| {
        (0..3).all(|axis| {
            other[0][axis] < block[1][axis] - TOUCH_MM && other[1][axis] > block[0][axis] + TOUCH_MM
        })
    };
    let Some(other) = bounds.iter().find(inside) else {
        *best = Some((size, block));
        return;
    };
    let [mut behind, mut right] = [block; 2];
    behind[0][0] = other[1][0];
    right[0][1] = other[1][1];
    let mut parts = vec![behind, right];
    for axis in 0..3 {
        let mut before = block;
        before[1][axis] = other[0][axis];
        parts.push(before);
    }
    parts.sort_by(|a, b| volume(*b).total_cmp(&volume(*a)));
    for part in parts {
        cut(part, bounds, best);
    }
}
