//! Boards of a shaped box: a section across the width with bevelled ends, and holes between its two faces.
use super::boards::{Hole, holes_in};
use super::{Corner, Edge, Face, Polyhedron, rounded};
use crate::model::geometry::assembly::{Assembly, Body, BodyKind, Role};
use crate::model::geometry::axes::Axis;
use crate::model::geometry::ledger::through_prism;
use crate::model::geometry::outline::thick;
use crate::model::geometry::plane::{At, cross, length, minus, pairs, plus};
use crate::model::geometry::polygon::Turn;
use crate::model::geometry::solids::Solid;

/// Nearer than this two planes are one, in mm.
const SAME: f64 = 1e-6;

/// A board or a brace as it lies before it is turned.
pub(super) fn add(made: &mut Polyhedron, assembly: &Assembly, body: &Body) {
    let Solid::Prism { section, from, width, opening } = body.solid else { return };
    let mut outline = section.corners().to_vec();
    if opening.is_some() {
        outline = notched(assembly, body, &outline);
    }
    let mut rings: Vec<Vec<Corner>> = vec![outline.iter().map(|at| (*at, false)).collect()];
    if let Some(opening) = opening {
        let half = [opening.window.across, opening.window.up].map(|side| side.millimetres() / 2.0);
        rings.push(rounded(opening.middle, half, opening.window.corner_radius.millimetres()));
    }
    let sides = [from.millimetres(), (from + width).millimetres()];
    made.add_prism(Axis::Width, &rings, sides, [true; 2]);
    let [low, high] = section.bounds();
    if body.role != Role::Shell || opening.is_some() {
        return;
    }
    // Between two flat faces: front and back as they are before they are turned, top and bottom, and what stands across the
    // width.
    let (along, around, ends) = match thick(made.piece, body.solid) {
        Axis::Width => (Axis::Width, [low, high], sides),
        Axis::Height => (Axis::Height, [[low[0], sides[0]], [high[0], sides[1]]], [low[1], high[1]]),
        _ => (Axis::Depth, [[sides[0], low[1]], [sides[1], high[1]]], [low[0], high[0]]),
    };
    let holes = holes_in(assembly, body, along, around, ends);
    if !holes.is_empty() {
        add_holes(made, &holes, along, ends);
    }
}

/// Cuts holes along an axis: each opens the face it begins or ends at, or has a floor where it ends within the wood.
fn add_holes(made: &mut Polyhedron, holes: &[Hole], along: Axis, ends: [f64; 2]) {
    let [a, b] = along.others().map(Axis::index);
    let at = |[across, up]: At, deep: f64| {
        let mut point = [0.0; 3];
        (point[a], point[b], point[along.index()]) = (across, up, deep);
        point
    };
    let ring_at = |hole: &Hole, deep: f64| hole.ring.iter().map(|(corner, _)| at(*corner, deep)).collect();
    for hole in holes {
        // The walls, as the inner ring of a prism without its ends.
        let mut tube = Polyhedron { piece: made.piece, faces: Vec::new(), edges: Vec::new() };
        tube.add_prism(along, &[Vec::new(), hole.ring.clone()], hole.reach, [true; 2]);
        let first = made.faces.len();
        made.faces.extend(tube.faces.drain(2..));
        let floors = [0, 1].map(|end| floor_of(made, holes, hole, (along, end), ends, &ring_at));
        made.edges.extend(tube.edges.into_iter().map(|edge| {
            let place = |face: usize| if face < 2 { floors[face] } else { face - 2 + first };
            Edge { faces: edge.faces.map(place), ..edge }
        }));
    }
}

/// The face a hole's end lies in: that of the board, which it opens, or a floor that narrower holes open.
fn floor_of(
    made: &mut Polyhedron,
    holes: &[Hole],
    hole: &Hole,
    (along, end): (Axis, usize),
    ends: [f64; 2],
    ring_at: &dyn Fn(&Hole, f64) -> Vec<[f64; 3]>,
) -> usize {
    let (deep, axis) = (hole.reach[end], along.index());
    if (deep - ends[end]).abs() < SAME {
        let board = made.faces.iter().position(|face| {
            let looks = if end == 0 { face.normal[axis] < -0.999 } else { face.normal[axis] > 0.999 };
            let ring = face.rings.first();
            looks && ring.is_some_and(|ring| ring.iter().all(|at| (at[axis] - deep).abs() < SAME))
        });
        if let Some(face) = board {
            made.faces[face].rings.push(ring_at(hole, deep));
            return face;
        }
    }
    // What goes on from here.
    let goes_on = |other: &&Hole| (other.reach[1 - end] - deep).abs() < SAME;
    let wider = holes.iter().filter(goes_on).find(|other| lies_in(&hole.ring, &other.ring));
    if wider.is_some() {
        return usize::MAX;
    }
    let mut rings = vec![ring_at(hole, deep)];
    rings.extend(
        holes
            .iter()
            .filter(goes_on)
            .filter(|other| lies_in(&other.ring, &hole.ring))
            .map(|other| ring_at(other, deep)),
    );
    let mut normal = [0.0; 3];
    normal[axis] = if end == 0 { 1.0 } else { -1.0 };
    made.faces.push(Face { rings, normal });
    made.faces.len() - 1
}

fn lies_in(inner: &[Corner], outer: &[Corner]) -> bool {
    let reach = |ring: &[Corner], i: usize| {
        let places = ring.iter().map(|(at, _)| at[i]);
        places.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], at| [low.min(at), high.max(at)])
    };
    (0..2).all(|i| {
        let ([low, high], [least, most]) = (reach(inner, i), reach(outer, i));
        low >= least - SAME && high <= most + SAME
    })
}

/// A brace's outline: its corners are cut off where strips along the width run through.
fn notched(assembly: &Assembly, brace: &Body, outline: &[At]) -> Vec<At> {
    let through = assembly.bodies.iter().filter(|body| matches!(body.kind, BodyKind::Strip(_)));
    through.filter(|strip| through_prism(brace, strip)).fold(outline.to_vec(), |line, strip| {
        match strip.solid.prism_corners().get(..3) {
            Some([edge, a, b]) => without_corner(&line, [*edge, *a, *b].map(|at| [at[0], at[2]])),
            _ => line,
        }
    })
}

/// An outline without what lies beyond a strip's wide face, near the strip: its edge, and where its wide face meets the walls.
/// Where the tape took the very corner off a sharp end, several corners of the outline may lie there.
fn without_corner(line: &[At], [edge, a, b]: [At; 3]) -> Vec<At> {
    let reach = length(minus(a, edge)).max(length(minus(b, edge))) + 3.5;
    let toward = cross(minus(b, a), minus(edge, a)).signum();
    let beyond = |at: At| cross(minus(b, a), minus(at, a)) * toward;
    let is_off = |at: At| beyond(at) > SAME && length(minus(at, edge)) < reach;
    let mut left = Vec::with_capacity(line.len() + 2);
    for [from, to] in pairs(line) {
        if !is_off(from) {
            left.push(from);
        }
        let (start, end) = (beyond(from), beyond(to));
        if is_off(from) != is_off(to) && (start > 0.0) != (end > 0.0) {
            left.push(plus(from, minus(to, from), start / (start - end)));
        }
    }
    left
}

/// Turns a piece with its board.
pub(super) fn turn(made: &mut Polyhedron, turn: Turn) {
    for face in &mut made.faces {
        face.rings.iter_mut().flatten().for_each(|at| *at = turn.place(*at));
        let [depth, height] = turn.direction([face.normal[0], face.normal[2]]);
        face.normal = [depth, face.normal[1], height];
    }
    made.edges.iter_mut().flat_map(|edge| &mut edge.ends).for_each(|at| *at = turn.place(*at));
}
