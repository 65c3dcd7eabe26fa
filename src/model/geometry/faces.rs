//! The pieces of a box as faces and edges, for a drawing in which near things hide far ones.
//!
//! Every piece is a stack of prisms: an outline with holes, from one plane to another. Circles are drawn with
//! [`CORNERS`] corners, whose own edges show only where they are the outline of what is round.
mod boards;
mod leaning;
mod shaped;
mod strips;

use super::assembly::{Assembly, Body, BodyKind, Role};
use super::axes::Axis;
use super::order::tube;
use super::parts::PartId;
use super::plane::cross;
use super::solids::Solid;
use super::vectors;

/// A point: depth, width, height in millimetres.
pub type At3 = [f64; 3];

/// Corners of a circle.
pub const CORNERS: usize = 48;

/// A flat face.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// Its outline, then its holes.
    pub rings: Vec<Vec<At3>>,
    /// The direction it looks in, of length 1.
    pub normal: At3,
}

/// When an edge is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drawn {
    /// Wherever it is seen.
    Always,
    /// Where it is the outline of something round.
    AsOutline,
    /// Not at all: it lies within a face of the piece.
    Never,
}

/// A straight edge between two faces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// Both ends.
    pub ends: [At3; 2],
    /// The faces it lies between, by their place in the list.
    pub faces: [usize; 2],
    /// When it is drawn.
    pub drawn: Drawn,
}

/// A piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Polyhedron {
    /// Which piece.
    pub piece: PartId,
    /// Its faces.
    pub faces: Vec<Face>,
    /// Its edges.
    pub edges: Vec<Edge>,
}

/// Every piece of a box.
#[must_use]
pub fn polyhedra(assembly: &Assembly) -> Vec<Polyhedron> {
    assembly.bodies.iter().filter_map(|body| polyhedron(assembly, body)).collect()
}

fn polyhedron(assembly: &Assembly, body: &Body) -> Option<Polyhedron> {
    let piece = match body.kind {
        BodyKind::Board(id) => id,
        BodyKind::Strip(edge) => PartId::Strip(edge),
        BodyKind::PortTube(number) => tube(number),
        _ => return None,
    };
    let mut made = Polyhedron { piece, faces: Vec::new(), edges: Vec::new() };
    match body.solid {
        Solid::CornerPrism { .. } => strips::add(&mut made, assembly, body),
        Solid::Wedge { .. } => leaning::add(&mut made, assembly, body),
        Solid::Tube { base, along, length, outer, inner } => {
            let [a, b] = along.others().map(|axis| base.get(axis).millimetres());
            let low = base.get(along).millimetres();
            let shape = [outer, inner].map(|d| circle([a, b], d.millimetres() / 2.0));
            made.add_prism(along, &shape, [low, low + length.millimetres()], [true; 2]);
        }
        Solid::Prism { section, opening, .. } if opening.is_some() || !section.is_upright_rectangle() => {
            shaped::add(&mut made, assembly, body);
        }
        _ => boards::add(&mut made, assembly, body, body.role == Role::Shell),
    }
    if let Some(turn) = body.turn {
        shaped::turn(&mut made, turn);
    }
    Some(made)
}

/// A corner of an outline and whether the prism's edge there is a fold of something round.
pub type Corner = ([f64; 2], bool);

/// A circle.
#[must_use]
pub fn circle([x, y]: [f64; 2], radius: f64) -> Vec<Corner> {
    let corner = |number: usize| {
        let (sin, cos) = (number as f64 / CORNERS as f64 * std::f64::consts::TAU).sin_cos();
        ([x + radius * cos, y + radius * sin], true)
    };
    (0..CORNERS).map(corner).collect()
}

/// A rectangle with rounded corners around a centre.
fn rounded([x, y]: [f64; 2], [a, b]: [f64; 2], radius: f64) -> Vec<Corner> {
    let r = radius.min(a).min(b);
    if r <= 0.0 {
        return [[-a, -b], [a, -b], [a, b], [-a, b]].map(|[i, j]| ([x + i, y + j], false)).to_vec();
    }
    let steps = CORNERS / 4;
    let mut all = Vec::with_capacity(CORNERS + 4);
    for (number, [i, j]) in [[1.0, -1.0], [1.0, 1.0], [-1.0, 1.0], [-1.0, -1.0]].into_iter().enumerate() {
        for step in 0..=steps {
            let angle = (number as f64 - 1.0 + step as f64 / steps as f64) * std::f64::consts::FRAC_PI_2;
            all.push(([x + i * (a - r) + r * angle.cos(), y + j * (b - r) + r * angle.sin()], true));
        }
    }
    all
}

/// Twice the area within a ring, above zero anticlockwise.
fn twice_area(ring: &[Corner]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|((a, _), (b, _))| cross(*a, *b)).sum()
}

/// The direction a flat convex ring looks in, of length 1; it may as well look the other way.
#[must_use]
pub fn normal(ring: &[At3]) -> At3 {
    let [from, to, last] =
        [0, 1, ring.len().saturating_sub(1)].map(|i| ring.get(i).copied().unwrap_or_default());
    vectors::unit(vectors::cross(vectors::minus(to, from), vectors::minus(last, from)))
}

/// A prism by itself: see [`Polyhedron::add_prism`].
#[must_use]
pub fn prism(piece: PartId, along: Axis, rings: &[Vec<Corner>], ends: [f64; 2]) -> Polyhedron {
    let mut made = Polyhedron { piece, faces: Vec::new(), edges: Vec::new() };
    made.add_prism(along, rings, ends, [true; 2]);
    made
}

impl Polyhedron {
    /// Adds a prism: the first ring is its outline, the others are holes. Its coordinates run along the two other axes.
    /// `rims` says for either end whether the outline's own edge there is drawn.
    fn add_prism(&mut self, along: Axis, rings: &[Vec<Corner>], ends: [f64; 2], rims: [bool; 2]) {
        let [a, b] = along.others().map(Axis::index);
        let at = |[x, y]: [f64; 2], z: f64| {
            let mut point = [0.0; 3];
            (point[a], point[b], point[along.index()]) = (x, y, z);
            point
        };
        let caps = self.faces.len();
        for (z, sign) in [(ends[0], -1.0), (ends[1], 1.0)] {
            let mut normal = [0.0; 3];
            normal[along.index()] = sign;
            let rings = rings.iter().map(|ring| ring.iter().map(|(corner, _)| at(*corner, z)).collect());
            self.faces.push(Face { rings: rings.collect(), normal });
        }
        for (number, ring) in rings.iter().enumerate() {
            // Away from the wood: to the right of an outline that runs anticlockwise, of a hole to its left.
            let turn = if (twice_area(ring) > 0.0) == (number == 0) { 1.0 } else { -1.0 };
            let first = self.faces.len();
            let count = ring.len();
            for (i, (from, fold)) in ring.iter().enumerate() {
                let to = ring[(i + 1) % count].0;
                let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
                let long = dx.hypot(dy).max(1e-12);
                let mut normal = [0.0; 3];
                (normal[a], normal[b]) = (turn * dy / long, -turn * dx / long);
                let wall = vec![at(*from, ends[0]), at(to, ends[0]), at(to, ends[1]), at(*from, ends[1])];
                self.faces.push(Face { rings: vec![wall], normal });
                for (end, z) in ends.into_iter().enumerate() {
                    let drawn = if number > 0 || rims[end] { Drawn::Always } else { Drawn::Never };
                    let faces = [caps + end, first + i];
                    self.edges.push(Edge { ends: [at(*from, z), at(to, z)], faces, drawn });
                }
                let drawn = if *fold { Drawn::AsOutline } else { Drawn::Always };
                let faces = [first + (i + count - 1) % count, first + i];
                self.edges.push(Edge { ends: ends.map(|z| at(*from, z)), faces, drawn });
            }
        }
    }
}
