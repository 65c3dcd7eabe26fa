//! Corner strips of shaped boxes with a bevel of their own or oblique ends, mitred where strips meet.
use super::{At3, Drawn, Edge, Face, Polyhedron};
use crate::model::geometry::assembly::{Assembly, Body, BodyKind};
use crate::model::geometry::convex::{Convex, HalfSpace, twice_area};
use crate::model::geometry::solids::Solid;
use crate::model::geometry::strips::leaning;
use crate::model::geometry::vectors::{cross, dot, length, minus, plus, unit};

/// Ends of two strips nearer than this run into one corner, mm.
const INTO_CORNER: f64 = 4.0;
/// Nearer than this two corners are one, mm.
const SAME: f64 = 1e-4;

pub(super) fn add(made: &mut Polyhedron, assembly: &Assembly, body: &Body) {
    let Solid::Wedge { corners } = body.solid else { return };
    let inner = leaning::hollow(&corners, assembly.strips.millimetres());
    let ring = |end: usize| {
        let outer = [corners[end + 1], corners[end + 2]];
        match &inner {
            Some(inner) => vec![outer[0], outer[1], inner[end + 2], inner[end + 1]],
            None => vec![outer[0], outer[1], corners[end]],
        }
    };
    let mut wood = Convex::between(&ring(0), &ring(3));
    let middle = wood.middle();
    for other in assembly.bodies.iter().filter(|other| other.kind != body.kind) {
        let (BodyKind::Strip(_), Ok(theirs)) = (other.kind, other.solid.prism_corners().try_into()) else {
            continue;
        };
        if let Some(half) = mitre(&corners, &theirs, middle) {
            wood = wood.clipped(half);
        }
    }
    put(made, &wood);
}

/// The side of the plane in which two strips meet that the first lies on: through their common corner and the line in which
/// their wide faces meet. `None` where they have no corner in common.
fn mitre(own: &leaning::Wedge, theirs: &leaning::Wedge, middle: At3) -> Option<HalfSpace> {
    let ends = [0, 3].into_iter().flat_map(|a| [0, 3].map(|b| (own[a], theirs[b])));
    let corner = ends.filter(|(a, b)| length(minus(*a, *b)) < INTO_CORNER).map(|(a, _)| a).next()?;
    let face = |strip: &leaning::Wedge| {
        let normal = unit(cross(minus(strip[2], strip[1]), minus(strip[4], strip[1])));
        (normal, dot(normal, strip[1]))
    };
    let ((a, reach_a), (b, reach_b)) = (face(own), face(theirs));
    let line = cross(a, b);
    let square = dot(line, line);
    if square < 1e-6 {
        return None;
    }
    // The point of both planes nearest to the origin.
    let at = [0, 1, 2].map(|i| (reach_a * cross(b, line)[i] + reach_b * cross(line, a)[i]) / square);
    HalfSpace::through([corner, at, plus(at, unit(line), 100.0)], middle)
}

/// Adds a convex body face by face; an edge lies between the two faces that share its ends.
fn put(made: &mut Polyhedron, wood: &Convex) {
    let middle = wood.middle();
    let first = made.faces.len();
    let same = |a: At3, b: At3| length(minus(a, b)) < SAME;
    for ring in &wood.faces {
        let normal = unit(twice_area(ring));
        let outward = ring.first().map_or(1.0, |at| dot(normal, minus(*at, middle)));
        let sign = if outward < 0.0 { -1.0 } else { 1.0 };
        made.faces.push(Face { rings: vec![ring.clone()], normal: normal.map(|x| x * sign) });
    }
    for (i, ring) in wood.faces.iter().enumerate() {
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            let shares = |other: &&(usize, &Vec<At3>)| {
                let has = |at: At3| other.1.iter().any(|corner| same(*corner, at));
                has(*a) && has(*b)
            };
            let found = wood.faces.iter().enumerate().skip(i + 1).find(|other| shares(&other));
            if let Some((j, _)) = found {
                made.edges.push(Edge { ends: [*a, *b], faces: [first + i, first + j], drawn: Drawn::Always });
            }
        }
    }
}
