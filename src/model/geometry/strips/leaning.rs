//! Corner strips of a shaped box where boards don't meet squarely, or lean: with a bevel of their own, or with oblique ends.
//!
//! Laid across an inside edge of interior angle φ with its wide face w to the air, a strip has legs w/(2 sin(φ/2)) along both
//! walls, closes off w²/(4 tan(φ/2)) per length, and its long edges are cut at φ/2 from square. For 90° that is section 3
//! of geometry.md.
use super::{is_left_out, leg_mm};
use crate::model::geometry::axes::{Axis, End, InsideEdge};
use crate::model::geometry::bent::shaped as bent;
use crate::model::geometry::convex::Convex;
use crate::model::geometry::faces::At3;
use crate::model::geometry::parts::Tilt;
use crate::model::geometry::plane::{self, At};
use crate::model::geometry::profile::Inside;
use crate::model::geometry::spec::{BoxSpec, Port};
use crate::model::geometry::vectors::{cross, dot, length, minus, plus, unit};
use crate::units::ExactLength;

/// The prism that a strip closes off: the point on the inside edge, then those on the walls that face along the first and
/// the second of [`Axis::others`], at either end.
pub(in crate::model::geometry) type Wedge = [At3; 6];

/// Where a strip lies.
#[derive(Clone, Copy, Debug)]
pub(in crate::model::geometry) struct Leaning {
    pub(in crate::model::geometry) wedge: Wedge,
    /// Cut of its long edges, from square.
    pub(in crate::model::geometry) tilt: Tilt,
    /// How far its two ends lean from square, in degrees; zero for a strip across the width.
    pub(in crate::model::geometry) ends: [f64; 2],
}

impl Leaning {
    /// Its length from long point to long point.
    pub(in crate::model::geometry) fn long(&self) -> ExactLength {
        ExactLength::from_millimetres(long(&self.wedge))
    }
}

fn long(wedge: &Wedge) -> f64 {
    let way = way(wedge);
    let along = wedge.map(|at| dot(at, way));
    let (low, high) =
        along.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), x| (a.min(*x), b.max(*x)));
    high - low
}

/// The direction of the edge.
pub(in crate::model::geometry) fn way(wedge: &Wedge) -> At3 {
    unit(minus(wedge[3], wedge[0]))
}

/// The same shortened by so many millimetres at either end.
pub(in crate::model::geometry) fn shortened(mut wedge: Wedge, by: f64) -> Wedge {
    let way = way(&wedge);
    for (place, at) in wedge.iter_mut().enumerate() {
        *at = plus(*at, way, if place < 3 { by } else { -by });
    }
    wedge
}

/// What is hollow behind a strip of this thickness; `None` where its bevels meet within the board.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(in crate::model::geometry) fn hollow(wedge: &Wedge, thickness: f64) -> Option<Wedge> {
    let way = way(wedge);
    let square = |at: At3| {
        let off = minus(at, wedge[0]);
        plus(off, way, -dot(off, way))
    };
    let (a, b) = (square(wedge[1]), square(wedge[2]));
    let wide = length(minus(a, b));
    let half = (dot(a, b) / (length(a) * length(b)).max(1e-12)).clamp(-1.0, 1.0).acos() / 2.0;
    let share = 1.0 - 2.0 * thickness * half.tan() / wide.max(1e-9);
    (share > 0.0).then(|| {
        let mut inner = *wedge;
        for place in [1, 2, 4, 5] {
            let corner = if place < 3 { wedge[0] } else { wedge[3] };
            inner[place] = plus(corner, minus(wedge[place], corner), share);
        }
        inner
    })
}

/// Volume in mm³ and its centre, by the three tetrahedra of a prism with oblique ends.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(in crate::model::geometry) fn volume_and_centre(wedge: &Wedge) -> (f64, At3) {
    let mut sum = (0.0, [0.0; 3]);
    for corners in [[0, 1, 2, 5], [0, 1, 5, 4], [0, 4, 5, 3]] {
        let [a, b, c, d] = corners.map(|i| wedge[i]);
        let across = cross(minus(b, a), minus(c, a));
        let volume = (dot(across, minus(d, a)) / 6.0).abs();
        let middle = [0, 1, 2].map(|i| (a[i] + b[i] + c[i] + d[i]) / 4.0);
        sum = (sum.0 + volume, plus(sum.1, middle, volume));
    }
    (sum.0, sum.1.map(|x| x / f64::max(sum.0, 1e-12)))
}

/// As a convex body.
pub(in crate::model::geometry) fn body(wedge: &Wedge) -> Convex {
    Convex::between(&wedge[..3], &wedge[3..])
}

/// A strip with a wide face of so many millimetres in an edge of a shaped box; `None` where it has no place: at the back of a
/// step, on the floor of a slot, and where it would reach past the middle of a wall.
///
/// A strip of a given length has square ends, and so only a place across the width.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(in crate::model::geometry) fn place(
    spec: &BoxSpec,
    inside: &Inside,
    edge: InsideEdge,
    face: ExactLength,
) -> Option<Leaning> {
    let narrower = match spec.loose.filter(|loose| loose.batten > ExactLength::ZERO) {
        Some(_) if is_left_out(spec, edge) => return None,
        Some(loose) => inside.before_battens(loose).ok()?,
        None => *inside,
    };
    let inside = &narrower;
    let low = edge.end(Axis::Height) == Some(End::Low);
    // Left of a divider lies the slot of the room before the drivers.
    let slot = match spec.divider() {
        Some(divider) if edge.end(Axis::Width) == Some(End::Low) => divider.slot().is_some(),
        _ => matches!(spec.port, Port::Slot(_)),
    };
    let run = bent::of_any(spec);
    let hidden = run.is_some_and(|run| run.hides(spec, edge));
    let in_slot = slot && low && edge.along != Axis::Height || hidden;
    let length = spec.strips.as_ref().and_then(|strips| strips.length);
    if in_slot || length.is_some() && edge.along != Axis::Width {
        return None;
    }
    match edge.along {
        Axis::Width => across(inside, edge, face.millimetres()),
        // Up a front that leans, from the slot's roof.
        Axis::Height => match run {
            Some(run) if edge.first == End::Low => upright(&inside.over(run.on_roof()), edge, leg_mm(face)),
            _ => upright(inside, edge, leg_mm(face)),
        },
        Axis::Depth => level(inside, edge, leg_mm(face)),
    }
}

/// The corners of the inside and how many.
fn corners(inside: &Inside) -> (&[At], usize) {
    let corners = inside.polygon.corners();
    (corners, corners.len())
}

/// Left and right inner face of the sides.
fn sides(inside: &Inside) -> [f64; 2] {
    [inside.min.width, inside.min.width + inside.size.width].map(ExactLength::millimetres)
}

/// A strip from side to side.
fn across(inside: &Inside, edge: InsideEdge, wide: f64) -> Option<Leaning> {
    let (corners, count) = corners(inside);
    let high = edge.second == End::High;
    // The corner, its neighbour along bottom or top, and the one up or down from it.
    let (at, level, up) = match (edge.first, high) {
        (End::Low, false) => (0, 1, count - 1),
        (End::High, false) => (1, 0, 2),
        (End::High, true) => (count - 2, count - 1, count - 3),
        (End::Low, true) => (count - 1, count - 2, 0),
    };
    let corner = *corners.get(at)?;
    let walls = [*corners.get(level)?, *corners.get(up)?].map(|other| plane::minus(other, corner));
    let ways = walls.map(plane::unit);
    let half = plane::dot(ways[0], ways[1]).clamp(-1.0, 1.0).acos() / 2.0;
    let leg = wide / (2.0 * half.sin()).max(1e-6);
    if walls.iter().any(|wall| plane::length(*wall) < 2.0 * leg) {
        return None;
    }
    let section = [corner, plane::plus(corner, ways[0], leg), plane::plus(corner, ways[1], leg)];
    let [left, right] = sides(inside);
    let at = |i: usize| [section[i % 3][0], if i < 3 { left } else { right }, section[i % 3][1]];
    let tilt = Tilt::from_hundredths((half.to_degrees() * 100.0).round() as i32);
    Some(Leaning { wedge: [0, 1, 2, 3, 4, 5].map(at), tilt, ends: [0.0; 2] })
}

/// A strip between a side and a wall of the section from one corner to another; `before` and `after` are the corners beyond
/// its ends. Gives the points on the edge, off it along the width, and off it on the side, at either end; and how far the
/// ends lean from square, in degrees.
fn beside_side(
    inside: &Inside,
    [before, from, to, after]: [At; 4],
    side: End,
    leg: f64,
) -> Option<([[At3; 3]; 2], [f64; 2])> {
    let way = plane::unit(plane::minus(to, from));
    // Towards the middle of the box.
    let mut inward = [-way[1], way[0]];
    if plane::dot(inward, plane::minus(before, from)) < 0.0 {
        inward = inward.map(|x| -x);
    }
    let [left, right] = sides(inside);
    let (at_side, towards) = if side == End::Low { (left, 1.0) } else { (right, -1.0) };
    let beyond = |corner: At, other: At| {
        let wall = plane::minus(other, corner);
        let share = leg / plane::dot(wall, inward).max(1e-9);
        let lean = plane::dot(wall, way).atan2(plane::dot(wall, inward)).to_degrees();
        (share <= 0.5).then(|| (plane::plus(corner, wall, share), lean.abs()))
    };
    let ((start, first), (end, second)) = (beyond(from, before)?, beyond(to, after)?);
    if right - left < 2.0 * leg {
        return None;
    }
    let ring = |corner: At, off: At| {
        let at = |at: At, width: f64| [at[0], width, at[1]];
        [at(corner, at_side), at(corner, at_side + towards * leg), at(off, at_side)]
    };
    Some(([ring(from, start), ring(to, end)], [first, second]))
}

/// A strip in the edge of a side and the front or the back.
fn upright(inside: &Inside, edge: InsideEdge, leg: f64) -> Option<Leaning> {
    let (corners, count) = corners(inside);
    let front = edge.first == End::Low;
    if !front && count != 4 || count < 4 {
        return None;
    }
    let run = if front { [1, 0, count - 1, count - 2] } else { [0, 1, 2, 3] };
    let points = run.map(|i| corners.get(i).copied().unwrap_or_default());
    let ([a, b], ends) = beside_side(inside, points, edge.second, leg)?;
    // The point off along the depth lies on the side, that along the width on the front or the back.
    let wedge = [a[0], a[2], a[1], b[0], b[2], b[1]];
    Some(Leaning { wedge, tilt: Tilt::HALF_RIGHT, ends })
}

/// A strip in the edge of a side and the bottom or the top.
fn level(inside: &Inside, edge: InsideEdge, leg: f64) -> Option<Leaning> {
    let (corners, count) = corners(inside);
    let run =
        if edge.second == End::Low { [count - 1, 0, 1, 2] } else { [0, count - 1, count - 2, count - 3] };
    let points = run.map(|i| corners.get(i).copied().unwrap_or_default());
    let ([a, b], ends) = beside_side(inside, points, edge.first, leg)?;
    Some(Leaning { wedge: [a[0], a[1], a[2], b[0], b[1], b[2]], tilt: Tilt::HALF_RIGHT, ends })
}
