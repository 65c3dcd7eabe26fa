//! Do two bodies occupy the same place? Convex pieces, tested by their Minkowski difference.
use super::assembly::{Assembly, Body, BodyKind, Role};
use super::axes::Axis;
use super::ledger::{corner_is_wood, through_prism};
use super::parts::PartId;
use super::plane::{self, pairs};
use super::polygon::{Polygon, Turn};
use super::solids::{Bounds, Solid};
use super::vectors::{cross, dot, minus};

/// Overlaps up to this many millimetres are taken as touching.
const TOUCH_MM: f64 = 0.1;
/// Steps of the search for a separating plane.
const STEPS: usize = 400;

/// Pairs of bodies inside the box that occupy the same place, each pair once.
///
/// Strips that meet each other, strips that pass through a brace and pieces of the same port are made to do so and are
/// accounted for in the ledger; they are left out. Rounded window corners of a brace count as open.
#[must_use]
pub fn overlaps(assembly: &Assembly) -> Vec<(BodyKind, BodyKind)> {
    let bodies: Vec<&Body> = assembly
        .bodies
        .iter()
        .filter(|body| matches!(body.role, Role::Displaced | Role::Hull))
        // A tube is tested as its outer cylinder, which contains its air.
        .filter(|body| !matches!((body.kind, body.solid), (BodyKind::PortAir(_), Solid::Round { .. })))
        .collect();
    let bounds: Vec<Bounds> = bodies.iter().map(|body| body.bounds()).collect();
    let mut found = Vec::new();
    for i in 0..bodies.len() {
        for j in i + 1..bodies.len() {
            let apart = bounds[i].apart(&bounds[j], TOUCH_MM);
            if apart || belong_together(assembly, bodies[i], bodies[j]) {
                continue;
            }
            let (a, b) = (placed(bodies[i]), placed(bodies[j]));
            if a.iter().any(|a| b.iter().any(|b| a.overlaps(b))) {
                found.push((bodies[i].kind, bodies[j].kind));
            }
        }
    }
    found
}

fn belong_together(assembly: &Assembly, a: &Body, b: &Body) -> bool {
    use BodyKind::{Board, PortAir, Strip};
    match (a.kind, b.kind) {
        (Strip(_), Strip(_)) => true,
        (PortAir(_), Board(id)) | (Board(id), PortAir(_)) => id.is_port_board(),
        (Board(PartId::Brace(..)), Strip(_)) => through(assembly, a, b),
        (Strip(_), Board(PartId::Brace(..))) => through(assembly, b, a),
        _ => false,
    }
}

fn through(assembly: &Assembly, brace: &Body, strip: &Body) -> bool {
    match (brace.solid, strip.solid) {
        (Solid::Frame { through, .. }, Solid::CornerPrism { edge, face, .. }) => {
            edge.along == through && corner_is_wood(assembly, brace, edge, face)
        }
        (Solid::Prism { .. }, _) => through_prism(brace, strip),
        _ => false,
    }
}

/// A convex body in millimetres.
enum Convex {
    /// The hull of points.
    Points(Vec<[f64; 3]>),
    /// One with oblique faces: its corners, and the directions these faces look in.
    Faced(Vec<[f64; 3]>, Vec<[f64; 3]>),
    /// A cylinder or frustum: base, axis, length, radii.
    Round([f64; 3], Axis, f64, [f64; 2]),
    /// One of them, turned about the width.
    Turned(Box<Convex>, Turn),
}

/// The convex pieces of a body where it stands.
fn placed(body: &Body) -> Vec<Convex> {
    let pieces = convex_pieces(&body.solid);
    match body.turn {
        Some(turn) => pieces.into_iter().map(|piece| Convex::Turned(Box::new(piece), turn)).collect(),
        None => pieces,
    }
}

/// The convex pieces of a brace of a shaped box: above and below a step, and around its window.
#[inline(never)] // only shaped boxes need it: it may come after the first result
fn prism_pieces(solid: &Solid) -> Vec<Convex> {
    let Solid::Prism { section, from, width, opening } = *solid else { return Vec::new() };
    let around = section.levels().into_iter().flat_map(|level| match opening {
        Some(window) => level.around(window.bounds()),
        None => vec![level],
    });
    let sides = [from.millimetres(), (from + width).millimetres()];
    let ends = |section: Polygon| {
        let corners = section.corners().to_vec();
        sides
            .into_iter()
            .flat_map(move |side| corners.clone().into_iter().map(move |at| [at[0], side, at[1]]))
    };
    around.map(|piece| Convex::Faced(ends(piece).collect(), normals(&piece))).collect()
}

/// Normals of the faces of a prism across the width that lie along no axis.
fn normals(section: &Polygon) -> Vec<[f64; 3]> {
    let ways = pairs(section.corners()).map(|[from, to]| plane::minus(to, from));
    ways.filter(|way| way[0] != 0.0 && way[1] != 0.0).map(|way| [way[1], 0.0, -way[0]]).collect()
}

/// A strip that leans.
#[inline(never)] // only shaped boxes need it: it may come after the first result
fn wedge(corners: &[[f64; 3]; 6]) -> Convex {
    let faces = [[0, 1, 2], [3, 4, 5], [0, 1, 3], [1, 2, 4], [2, 0, 5]];
    let looks = faces.map(|face| {
        let [a, b, c] = face.map(|i: usize| corners[i]);
        cross(minus(b, a), minus(c, a))
    });
    Convex::Faced(corners.to_vec(), looks.to_vec())
}

fn convex_pieces(solid: &Solid) -> Vec<Convex> {
    let block = |min: [f64; 3], max: [f64; 3]| {
        let corner = |bits: usize| {
            let pick = |axis: usize| {
                if bits >> axis & 1 == 0 { min[axis] } else { max[axis] }
            };
            [pick(0), pick(1), pick(2)]
        };
        Convex::Points((0..8).map(corner).collect())
    };
    let bounds = solid.bounds();
    match *solid {
        Solid::Block { .. } | Solid::RoundedBlock { .. } | Solid::Arch { .. } => {
            vec![block(bounds.min, bounds.max)]
        }
        Solid::CornerPrism { .. } => vec![Convex::Points(solid.prism_corners())],
        Solid::Wedge { ref corners } => vec![wedge(corners)],
        Solid::Prism { .. } => prism_pieces(solid),
        Solid::Round { base, along, length, from, to } => vec![Convex::Round(
            base.millimetres(),
            along,
            length.millimetres(),
            [from.millimetres() / 2.0, to.millimetres() / 2.0],
        )],
        Solid::Tube { base, along, length, outer, .. } => vec![Convex::Round(
            base.millimetres(),
            along,
            length.millimetres(),
            [outer.millimetres() / 2.0; 2],
        )],
        Solid::Frame { through, window, .. } => {
            let [a, b] = through.others().map(Axis::index);
            let margin = |axis: usize, opening: f64| (bounds.max[axis] - bounds.min[axis] - opening) / 2.0;
            let at_a = margin(a, window.across.millimetres());
            let at_b = margin(b, window.up.millimetres());
            let mut pieces = Vec::with_capacity(4);
            for (axis, width) in [(a, at_a), (b, at_b)] {
                let mut max = bounds.max;
                max[axis] = bounds.min[axis] + width;
                pieces.push(block(bounds.min, max));
                let mut min = bounds.min;
                min[axis] = bounds.max[axis] - width;
                pieces.push(block(min, bounds.max));
            }
            pieces
        }
    }
}

/// Whether an oblique face of one of two bodies separates them.
#[inline(never)] // only shaped boxes need it: it may come after the first result
fn faces_part(bodies: [&Convex; 2], separates: &dyn Fn([f64; 3]) -> bool) -> bool {
    let faces = bodies.into_iter().flat_map(Convex::normals);
    faces.into_iter().any(|normal| separates(normal) || separates(normal.map(|x| -x)))
}

impl Convex {
    /// The point farthest in a direction.
    fn farthest(&self, direction: [f64; 3]) -> [f64; 3] {
        match self {
            Self::Points(points) | Self::Faced(points, _) => {
                let mut best = (f64::NEG_INFINITY, [0.0; 3]);
                for &point in points {
                    let reach = dot(point, direction);
                    if reach > best.0 {
                        best = (reach, point);
                    }
                }
                best.1
            }
            Self::Round(base, along, length, radii) => {
                let [a, b] = along.others().map(Axis::index);
                let across = direction[a].hypot(direction[b]);
                let end = |shift: f64, radius: f64| {
                    let mut point = *base;
                    point[along.index()] += shift;
                    if across > 1e-12 {
                        point[a] += radius * direction[a] / across;
                        point[b] += radius * direction[b] / across;
                    }
                    point
                };
                let (low, high) = (end(0.0, radii[0]), end(*length, radii[1]));
                if dot(low, direction) >= dot(high, direction) { low } else { high }
            }
            Self::Turned(inner, turn) => {
                let [depth, height] = turn.back().direction([direction[0], direction[2]]);
                turn.place(inner.farthest([depth, direction[1], height]))
            }
        }
    }

    const fn is_oblique(&self) -> bool {
        matches!(self, Self::Faced(..) | Self::Turned(..))
    }

    /// Normals of faces that two bodies may touch in without a plane along the axes between them.
    fn normals(&self) -> Vec<[f64; 3]> {
        match self {
            Self::Faced(_, normals) => normals.clone(),
            Self::Turned(inner, turn) => {
                let turned = |[depth, width, height]: [f64; 3]| {
                    let [depth, height] = turn.direction([depth, height]);
                    [depth, width, height]
                };
                // Those along the depth are oblique now.
                let own = inner.normals().into_iter().chain([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0]]);
                own.map(turned).collect()
            }
            _ => Vec::new(),
        }
    }

    /// Whether the two share more than [`TOUCH_MM`], as far as [`STEPS`] steps can tell.
    ///
    /// Every direction is a possible separating plane: the difference body's reach along it minus the touch allowance
    /// must be above zero for all of them. The search walks to the difference body's point nearest to the origin
    /// (E. G. Gilbert, "An iterative procedure for computing the minimum of a quadratic form on a convex set", SIAM J.
    /// Control 4, 1966; from memory) and stops at the first plane that separates.
    fn overlaps(&self, other: &Self) -> bool {
        let difference = |direction: [f64; 3]| {
            let a = self.farthest(direction);
            let b = other.farthest(direction.map(|x| -x));
            [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
        };
        let separates = |direction: [f64; 3]| {
            let size = dot(direction, direction).sqrt();
            size > 1e-12 && dot(difference(direction), direction) <= TOUCH_MM * size
        };
        // Planes that separate most things on a box: along the axes and at 45 degrees.
        for i in 0..3 {
            for sign in [1.0, -1.0] {
                let mut direction = [0.0; 3];
                direction[i] = sign;
                if separates(direction) {
                    return false;
                }
                for j in 0..i {
                    for second in [1.0, -1.0] {
                        let mut oblique = direction;
                        oblique[j] = second;
                        if separates(oblique) {
                            return false;
                        }
                    }
                }
            }
        }
        if (self.is_oblique() || other.is_oblique()) && faces_part([self, other], &separates) {
            return false;
        }
        let mut nearest = difference([1.0, 0.3, 0.1]);
        for _ in 0..STEPS {
            let size = dot(nearest, nearest);
            if size < TOUCH_MM * TOUCH_MM {
                return true;
            }
            let towards = nearest.map(|x| -x);
            if separates(towards) {
                return false;
            }
            let next = difference(towards);
            let step = [next[0] - nearest[0], next[1] - nearest[1], next[2] - nearest[2]];
            let long = dot(step, step);
            if long < 1e-18 {
                break;
            }
            let along = (dot(towards, step) / long).clamp(0.0, 1.0);
            for axis in 0..3 {
                nearest[axis] += along * step[axis];
            }
        }
        true
    }
}
