//! Right prisms over convex polygons, and how far two of them are apart or how deep they stand in each other.
use crate::model::geometry::axes::Axis;
use crate::model::geometry::plane::{At, area, cross, minus, pairs, unit};
use crate::model::geometry::vectors;

/// A right prism over a convex polygon along one axis, in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Prism {
    along: Axis,
    ends: [f64; 2],
    /// Anticlockwise, coordinates in the order of [`Axis::others`].
    section: Vec<At>,
}

/// How two bodies stand to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// Distance in mm; below zero the least way that one must move to be free of the other.
    pub distance: f64,
    /// From the first body to the second, of length 1.
    pub direction: [f64; 3],
}

impl Prism {
    /// Over a convex polygon, in either direction; corners that coincide count once.
    #[must_use]
    pub fn over(along: Axis, ends: [f64; 2], mut section: Vec<At>) -> Self {
        section.dedup_by(|a, b| near(*a, *b));
        while section.len() > 1 && near(section[0], section[section.len() - 1]) {
            section.pop();
        }
        if area(&section) < 0.0 {
            section.reverse();
        }
        Self { along, ends: [ends[0].min(ends[1]), ends[0].max(ends[1])], section }
    }

    /// A block between two corners: depth, width, height.
    #[must_use]
    pub fn block(min: [f64; 3], max: [f64; 3]) -> Self {
        let section = vec![[min[0], min[2]], [max[0], min[2]], [max[0], max[2]], [min[0], max[2]]];
        Self::over(Axis::Width, [min[1], max[1]], section)
    }

    /// Whether it has a volume and no corner that turns inwards.
    #[must_use]
    pub fn is_convex(&self) -> bool {
        let count = self.section.len();
        let turns = (0..count).all(|i| {
            let [a, b, c] = [0, 1, 2].map(|off| self.section[(i + off) % count]);
            cross(minus(b, a), minus(c, b)) > -1e-6
        });
        // Turning one way all round, but more than once, as a star does, crosses itself.
        let turned: f64 = (0..count)
            .map(|i| {
                let [a, b, c] = [0, 1, 2].map(|off| self.section[(i + off) % count]);
                let (into, out) = (minus(b, a), minus(c, b));
                cross(into, out).atan2(into[0] * out[0] + into[1] * out[1])
            })
            .sum();
        count > 2
            && turns
            && turned < 1.5 * std::f64::consts::TAU
            && area(&self.section) > 1.0
            && self.ends[1] - self.ends[0] > 0.01
    }

    /// Along which axis it runs, from where to where, and its section.
    #[must_use]
    pub fn parts(&self) -> (Axis, [f64; 2], &[At]) {
        (self.along, self.ends, &self.section)
    }

    /// The same elsewhere.
    #[must_use]
    pub fn moved(&self, by: [f64; 3]) -> Self {
        let [a, b] = self.along.others().map(|axis| by[axis.index()]);
        let off = by[self.along.index()];
        Self {
            along: self.along,
            ends: self.ends.map(|end| end + off),
            section: self.section.iter().map(|at| [at[0] + a, at[1] + b]).collect(),
        }
    }

    /// Smallest and largest coordinates.
    #[must_use]
    pub fn bounds(&self) -> [[f64; 3]; 2] {
        let mut found = [[f64::INFINITY; 3], [f64::NEG_INFINITY; 3]];
        for corner in self.corners() {
            for axis in 0..3 {
                found[0][axis] = found[0][axis].min(corner[axis]);
                found[1][axis] = found[1][axis].max(corner[axis]);
            }
        }
        found
    }

    /// Volume in mm³.
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        area(&self.section) * (self.ends[1] - self.ends[0])
    }

    fn place(&self, at: At, along: f64) -> [f64; 3] {
        let mut place = [0.0; 3];
        let [a, b] = self.along.others();
        place[a.index()] = at[0];
        place[b.index()] = at[1];
        place[self.along.index()] = along;
        place
    }

    /// Its corners: those at the lower end, then those at the other.
    #[must_use]
    pub fn corners(&self) -> Vec<[f64; 3]> {
        self.ends.iter().flat_map(|end| self.section.iter().map(|at| self.place(*at, *end))).collect()
    }

    /// Outward normals of the faces, each with the face's corners.
    fn faces(&self) -> Vec<([f64; 3], Vec<[f64; 3]>)> {
        let mut faces: Vec<_> = pairs(&self.section)
            .map(|[from, to]| {
                let way = unit(minus(to, from));
                let [low, high] = self.ends;
                let corners = vec![
                    self.place(from, low),
                    self.place(to, low),
                    self.place(to, high),
                    self.place(from, high),
                ];
                (self.place([way[1], -way[0]], 0.0), corners)
            })
            .collect();
        for (end, out) in self.ends.into_iter().zip([-1.0, 1.0]) {
            let corners = self.section.iter().map(|at| self.place(*at, end)).collect();
            faces.push((self.place([0.0, 0.0], out), corners));
        }
        faces
    }

    fn edges(&self) -> Vec<[[f64; 3]; 2]> {
        let [low, high] = self.ends;
        let across = self.section.iter().map(|at| [self.place(*at, low), self.place(*at, high)]);
        let around = pairs(&self.section)
            .flat_map(|[from, to]| [low, high].map(|end| [self.place(from, end), self.place(to, end)]));
        across.chain(around).collect()
    }

    /// Directions of the edges, each once.
    fn ways(&self) -> Vec<[f64; 3]> {
        let mut ways = vec![self.place([0.0, 0.0], 1.0)];
        for [from, to] in pairs(&self.section) {
            let way = self.place(unit(minus(to, from)), 0.0);
            if ways.iter().all(|known| vectors::length(vectors::cross(*known, way)) > 1e-9) {
                ways.push(way);
            }
        }
        ways
    }
}

fn near(a: At, b: At) -> bool {
    (a[0] - b[0]).abs() < 1e-6 && (a[1] - b[1]).abs() < 1e-6
}

/// How far two prisms are apart, or how deep they stand in each other.
///
/// Two convex bodies are apart if a plane along a face of one or along an edge of each parts them (S. Gottschalk, M. C.
/// Lin, D. Manocha, "OBBTree", SIGGRAPH 1996, for blocks; from memory); where none does, the plane that comes nearest
/// says how far one must move. Bodies apart are nearest at a corner and a face or at two edges.
#[must_use]
pub fn gap(a: &Prism, b: &Prism) -> Gap {
    let (of_a, of_b) = (a.corners(), b.corners());
    let mut best = Gap { distance: f64::NEG_INFINITY, direction: [1.0, 0.0, 0.0] };
    let mut look = |way: [f64; 3]| {
        let size = vectors::length(way);
        if size < 1e-9 {
            return;
        }
        for direction in [way.map(|x| x / size), way.map(|x| -x / size)] {
            let far = of_a.iter().map(|at| vectors::dot(*at, direction)).fold(f64::NEG_INFINITY, f64::max);
            let close = of_b.iter().map(|at| vectors::dot(*at, direction)).fold(f64::INFINITY, f64::min);
            if close - far > best.distance {
                best = Gap { distance: close - far, direction };
            }
        }
    };
    let (faces_a, faces_b) = (a.faces(), b.faces());
    for (normal, _) in faces_a.iter().chain(&faces_b) {
        look(*normal);
    }
    let ways_b = b.ways();
    for way in a.ways() {
        for other in &ways_b {
            look(vectors::cross(way, *other));
        }
    }
    if best.distance > 0.0 { apart([a, b], [&of_a, &of_b], [&faces_a, &faces_b], best) } else { best }
}

type Faces = Vec<([f64; 3], Vec<[f64; 3]>)>;

/// The distance of two bodies that a plane parts: that of the plane, or more.
fn apart(bodies: [&Prism; 2], corners: [&Vec<[f64; 3]>; 2], faces: [&Faces; 2], plane: Gap) -> Gap {
    let mut best = Gap { distance: f64::INFINITY, ..plane };
    let mut take = |from: [f64; 3], to: [f64; 3]| {
        let way = vectors::minus(to, from);
        let distance = vectors::length(way);
        if distance < best.distance {
            let direction = if distance > 1e-9 { way.map(|x| x / distance) } else { plane.direction };
            best = Gap { distance, direction };
        }
    };
    for (mine, theirs) in [(0, 1), (1, 0)] {
        for corner in corners[mine] {
            for (normal, face) in faces[theirs] {
                let foot =
                    vectors::plus(*corner, *normal, -vectors::dot(vectors::minus(*corner, face[0]), *normal));
                // A face's corners may run either way round: on the side of its middle at every edge.
                let middle =
                    face.iter().fold([0.0; 3], |sum, at| vectors::plus(sum, *at, 1.0 / face.len() as f64));
                let within = (0..face.len()).all(|i| {
                    let [from, to] = [face[i], face[(i + 1) % face.len()]];
                    let edge = vectors::cross(vectors::minus(to, from), *normal);
                    vectors::dot(edge, vectors::minus(foot, from))
                        * vectors::dot(edge, vectors::minus(middle, from))
                        >= -1e-9
                });
                if within {
                    if mine == 0 { take(*corner, foot) } else { take(foot, *corner) }
                }
            }
        }
    }
    let others = bodies[1].edges();
    for edge in bodies[0].edges() {
        for other in &others {
            let (from, to) = nearest(edge, *other);
            take(from, to);
        }
    }
    // No less than the plane says, whatever the rounding.
    if best.distance.is_finite() { best } else { plane }
}

/// The points of two stretches that are nearest to each other.
///
/// # Source
/// C. Ericson, "Real-Time Collision Detection" (2005), section 5.1.9; from memory.
fn nearest(a: [[f64; 3]; 2], b: [[f64; 3]; 2]) -> ([f64; 3], [f64; 3]) {
    let (u, v, off) = (vectors::minus(a[1], a[0]), vectors::minus(b[1], b[0]), vectors::minus(a[0], b[0]));
    let (aa, bb, ab) = (vectors::dot(u, u).max(1e-18), vectors::dot(v, v).max(1e-18), vectors::dot(u, v));
    let (ao, bo) = (vectors::dot(u, off), vectors::dot(v, off));
    let slope = aa * bb - ab * ab;
    let mut s = if slope > 1e-12 * aa * bb { ((ab * bo - ao * bb) / slope).clamp(0.0, 1.0) } else { 0.0 };
    let t = (ab * s + bo) / bb;
    let t = if t < 0.0 {
        s = (-ao / aa).clamp(0.0, 1.0);
        0.0
    } else if t > 1.0 {
        s = ((ab - ao) / aa).clamp(0.0, 1.0);
        1.0
    } else {
        t
    };
    (vectors::plus(a[0], u, s), vectors::plus(b[0], v, t))
}
