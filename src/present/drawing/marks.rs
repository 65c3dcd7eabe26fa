//! From millimetres in the box to marks on the sheet.
use super::{At, Mark, Shape, Style};

/// A view's place on the sheet: where its lower left corner lies, and the scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct View {
    /// Sheet point of the box's lower left corner in this view.
    pub(super) origin: At,
    /// Sheet units per millimetre.
    pub(super) scale: f64,
}

/// A rectangle in millimetres: smallest and largest coordinates, across and up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Span {
    pub(super) min: [f64; 2],
    pub(super) max: [f64; 2],
}

impl View {
    pub(super) fn point(self, at: [f64; 2]) -> At {
        [self.origin[0] + at[0] * self.scale, self.origin[1] - at[1] * self.scale]
    }
    pub(super) fn rect(self, style: Style, span: Span) -> Mark {
        let top_left = self.point([span.min[0], span.max[1]]);
        let size = [0, 1].map(|axis| (span.max[axis] - span.min[axis]).max(0.0) * self.scale);
        Mark { style, shape: Shape::Rect(top_left, size) }
    }
    pub(super) fn circle(self, style: Style, centre: [f64; 2], diameter: f64) -> Mark {
        let shape = Shape::Circle(self.point(centre), diameter / 2.0 * self.scale);
        Mark { style, shape }
    }
    pub(super) fn line(self, style: Style, from: [f64; 2], to: [f64; 2]) -> Mark {
        Mark { style, shape: Shape::Line(self.point(from), self.point(to)) }
    }
    pub(super) fn polygon(self, style: Style, points: &[[f64; 2]]) -> Mark {
        let points = points.iter().map(|&at| self.point(at)).collect();
        Mark { style, shape: Shape::Polygon(points) }
    }
    /// A centre line cross a little larger than a circle.
    pub(super) fn cross(self, centre: [f64; 2], diameter: f64) -> [Mark; 2] {
        let reach = diameter * 0.58;
        let [x, y] = centre;
        [
            self.line(Style::Centre, [x - reach, y], [x + reach, y]),
            self.line(Style::Centre, [x, y - reach], [x, y + reach]),
        ]
    }
}

impl Span {
    /// What remains of this rectangle when the holes are taken out: rectangles that don't overlap.
    pub(super) fn without(self, holes: &[Span]) -> Vec<Span> {
        let mut rest = vec![self];
        for hole in holes {
            rest = rest.into_iter().flat_map(|piece| piece.without_one(*hole)).collect();
        }
        rest
    }

    fn without_one(self, hole: Span) -> Vec<Span> {
        let apart = (0..2).any(|axis| hole.max[axis] <= self.min[axis] || hole.min[axis] >= self.max[axis]);
        if apart {
            return vec![self];
        }
        let mut pieces = Vec::new();
        let mut middle = self;
        // Below and above the hole over the whole width, then left and right beside it.
        for axis in [1, 0] {
            if hole.min[axis] > middle.min[axis] {
                let mut piece = middle;
                piece.max[axis] = hole.min[axis];
                pieces.push(piece);
                middle.min[axis] = hole.min[axis];
            }
            if hole.max[axis] < middle.max[axis] {
                let mut piece = middle;
                piece.min[axis] = hole.max[axis];
                pieces.push(piece);
                middle.max[axis] = hole.max[axis];
            }
        }
        pieces
    }
}
