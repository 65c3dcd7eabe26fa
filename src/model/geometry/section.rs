//! The boards around a box whose side is any polygon: where they end, how they are bevelled, what they leave inside.
//!
//! Plane geometry in the section along the depth, in millimetres: depth and height. Formulas of geometry.md section 2:
//! every edge moves inwards by its own board, neighbours are intersected, and at a corner of interior angle φ a butt joint
//! is bevelled by |90° − φ|.
use super::plane::{At, area, cross, dot, length, minus, pairs, plus, side, unit};
use crate::model::error::ModelError;

/// The board along one edge of the outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// Thickness of all its layers.
    pub thickness: f64,
    /// Whether it covers the end of the board that follows anticlockwise, or is covered by it.
    pub covers_next: bool,
}

/// An outline with its boards.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    outline: Vec<At>,
    walls: Vec<Wall>,
    inner: Vec<At>,
}

/// What meets at a corner of the outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meeting {
    /// Interior angle in degrees.
    pub interior: f64,
    /// Bevel of a butt joint, from a square cut.
    pub butt: f64,
    /// Bevel of a mitre, from a square cut.
    pub mitre: f64,
}

/// The section of one board, or of one layer of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoardSection {
    /// Its outer face, anticlockwise.
    pub outer: [At; 2],
    /// Its inner face, in the same direction.
    pub inner: [At; 2],
}

/// A straight line: a point and a direction of length 1.
#[derive(Clone, Copy)]
struct Line {
    at: At,
    along: At,
}

impl Line {
    fn meet(self, other: Self) -> Option<At> {
        let across = cross(self.along, other.along);
        // Boards within a twentieth of a degree of one plane have no corner.
        if across.abs() < 1e-3 {
            return None;
        }
        let off = cross(minus(other.at, self.at), other.along) / across;
        Some(plus(self.at, self.along, off))
    }
}

impl Section {
    /// Boards along the edges of an outline given anticlockwise; `walls` has one for each edge, beginning with that
    /// from the first corner to the second.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] for an outline that is none (fewer than three corners, clockwise, crossing itself, two
    /// edges in one line), or whose boards leave no inside.
    pub fn new(outline: Vec<At>, walls: Vec<Wall>) -> Result<Self, ModelError> {
        let refuse = |what| Err(ModelError::Impossible { what });
        let sound = outline.iter().flatten().all(|x| x.is_finite() && x.abs() < 1e5);
        if outline.len() < 3 || outline.len() != walls.len() || !sound {
            return refuse("the side is no polygon with a board along each edge");
        }
        if area(&outline) <= 0.0 || crosses_itself(&outline) {
            return refuse("the outline of the side crosses itself: a size is too large for the others");
        }
        let mut section = Self { outline, walls, inner: Vec::new() };
        for corner in 0..section.outline.len() {
            let before = section.before(corner);
            let lines = [before, corner].map(|wall| section.line(wall, section.walls[wall].thickness));
            match lines[0].meet(lines[1]) {
                Some(at) => section.inner.push(at),
                None => return refuse("two boards of the side lie in one plane"),
            }
        }
        let whole = pairs(&section.inner)
            .enumerate()
            .all(|(wall, [from, to])| dot(section.line(wall, 0.0).along, minus(to, from)) > 1e-6);
        if whole && area(&section.inner) > 0.0 && !crosses_itself(&section.inner) {
            Ok(section)
        } else {
            refuse("the box has no inside: it is smaller than its boards")
        }
    }

    /// The outline, anticlockwise.
    #[must_use]
    pub fn outline(&self) -> &[At] {
        &self.outline
    }

    /// What the boards leave: corner for corner of the outline.
    #[must_use]
    pub fn inner(&self) -> &[At] {
        &self.inner
    }

    fn before(&self, corner: usize) -> usize {
        (corner + self.outline.len() - 1) % self.outline.len()
    }

    fn after(&self, wall: usize) -> usize {
        (wall + 1) % self.outline.len()
    }

    /// The line of an edge moved inwards.
    fn line(&self, wall: usize, inwards: f64) -> Line {
        let (from, to) = (self.outline[wall], self.outline[self.after(wall)]);
        let along = unit(minus(to, from));
        Line { at: plus(from, [-along[1], along[0]], inwards), along }
    }

    /// What meets at a corner: at 0 the last edge and the first.
    #[must_use]
    pub fn meeting(&self, corner: usize) -> Meeting {
        let [a, b] = [self.before(corner), corner].map(|wall| self.line(wall, 0.0).along);
        let turn = cross(a, b).atan2(dot(a, b)).to_degrees();
        let interior = 180.0 - turn;
        Meeting { interior, butt: (90.0 - turn.abs()).abs(), mitre: (turn / 2.0).abs() }
    }

    /// The section of a board: all of it, or the layers between two depths from the outside.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where nothing remains of it between its neighbours.
    pub fn board(&self, wall: usize, from: f64, to: f64) -> Result<BoardSection, ModelError> {
        let (before, after) = (self.before(wall), self.after(wall));
        let start = self.end_line(before, wall, !self.walls[before].covers_next);
        let end = self.end_line(after, after, self.walls[wall].covers_next);
        let face = |inwards: f64| {
            let line = self.line(wall, inwards);
            let ends = [line.meet(start)?, line.meet(end)?];
            (dot(minus(ends[1], ends[0]), line.along) > 1e-6).then_some(ends)
        };
        let faces = face(from).zip(face(to));
        let (outer, inner) = faces
            .ok_or(ModelError::Impossible { what: "nothing remains of a board between its neighbours" })?;
        Ok(BoardSection { outer, inner })
    }

    /// Whether a straight way in the section leads a board outwards past the neighbours that cover its ends.
    #[must_use]
    #[inline(never)] // few boxes have a board that comes off: it may come after the first result
    pub fn comes_off(&self, wall: usize) -> bool {
        let (before, after) = (self.before(wall), self.after(wall));
        let way = |wall: usize| self.line(wall, 0.0).along;
        let out = |wall: usize| [way(wall)[1], -way(wall)[0]];
        let mut covered = Vec::with_capacity(2);
        if self.walls[before].covers_next {
            covered.push(before);
        }
        if !self.walls[wall].covers_next {
            covered.push(after);
        }
        // Square to it, or along the face of a neighbour: where none of these is free, nothing between them is.
        let along = covered.iter().flat_map(|&wall| [way(wall), way(wall).map(|x| -x)]);
        along.chain([out(wall)]).any(|to| {
            dot(to, out(wall)) > 1e-6 && covered.iter().all(|&neighbour| dot(to, out(neighbour)) < 1e-6)
        })
    }

    /// Where a board ends at a neighbour: a coverer runs to its far face, what is covered stops at its near one. At an
    /// inside corner of the outline the near face is the outer one.
    fn end_line(&self, neighbour: usize, corner: usize, covers: bool) -> Line {
        let hollow = self.meeting(corner).interior > 180.0;
        let thickness = self.walls[neighbour].thickness;
        self.line(neighbour, if covers == hollow { thickness } else { 0.0 })
    }
}

impl BoardSection {
    /// Lengths of the outer and the inner face.
    #[must_use]
    pub fn faces(&self) -> [f64; 2] {
        [self.outer, self.inner].map(|[from, to]| length(minus(to, from)))
    }

    /// How far the outer face reaches beyond the inner one, at the start and at the end; below zero the inner one is
    /// the longer there.
    #[must_use]
    pub fn beyond(&self) -> [f64; 2] {
        let way = unit(minus(self.outer[1], self.outer[0]));
        let along = |a: At, b: At| dot(minus(b, a), way);
        [along(self.outer[0], self.inner[0]), along(self.inner[1], self.outer[1])]
    }

    /// Length of the blank: from long point to long point.
    #[must_use]
    pub fn blank(&self) -> f64 {
        let [start, end] = self.beyond();
        self.faces()[0] + (-start).max(0.0) + (-end).max(0.0)
    }

    /// Its corners, anticlockwise.
    #[must_use]
    pub fn corners(&self) -> [At; 4] {
        [self.outer[0], self.outer[1], self.inner[1], self.inner[0]]
    }
}

/// Whether two edges that are no neighbours touch.
fn crosses_itself(polygon: &[At]) -> bool {
    let edges: Vec<[At; 2]> = pairs(polygon).collect();
    let count = edges.len();
    (0..count).any(|i| {
        (i + 2..count).any(|j| {
            let neighbours = i == 0 && j + 1 == count;
            !neighbours && touch(edges[i], edges[j])
        })
    })
}

fn touch(a: [At; 2], b: [At; 2]) -> bool {
    side(a, b[0]) * side(a, b[1]) <= 0.0 && side(b, a[0]) * side(b, a[1]) <= 0.0
}
