//! Polygons of few corners, in depth and height, in millimetres; and a body's turn about the width.
use super::plane::{At, area, cross, dot, minus, side};
use super::spec::Window;

/// Most corners: a side with a step, cut by a plane.
const MOST: usize = 8;

/// A polygon, anticlockwise with the depth to the right and the height upwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Polygon {
    corners: [At; MOST],
    count: u8,
}

/// A window in a board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opening {
    /// Its middle: depth, height.
    pub middle: At,
    /// Its size, across along the depth.
    pub window: Window,
}

impl Opening {
    /// Smallest and largest depth and height.
    #[must_use]
    pub fn bounds(&self) -> [At; 2] {
        let half = [self.window.across.millimetres() / 2.0, self.window.up.millimetres() / 2.0];
        [[0, 1].map(|i| self.middle[i] - half[i]), [0, 1].map(|i| self.middle[i] + half[i])]
    }
}

impl Polygon {
    /// From its corners; more than eight are left out.
    #[must_use]
    pub fn new(corners: &[At]) -> Self {
        let mut all = [[0.0; 2]; MOST];
        let count = corners.len().min(MOST);
        for (place, corner) in all.iter_mut().zip(corners) {
            *place = *corner;
        }
        Self { corners: all, count: u8::try_from(count).unwrap_or(0) }
    }

    /// Its corners.
    #[must_use]
    pub fn corners(&self) -> &[At] {
        self.corners.get(..usize::from(self.count)).unwrap_or(&[])
    }

    /// Area less a window's, in mm².
    pub(super) fn without(&self, opening: Option<Opening>) -> f64 {
        area(self.corners()) - opening.map_or(0.0, |opening| opening.window.area_mm2())
    }

    /// How far it is from a point to the next edge in a direction of length 1, in millimetres; `None` where none lies there.
    #[inline(never)] // only shaped boxes need it: it may come after the first result
    pub(super) fn ahead(&self, from: At, way: At) -> Option<f64> {
        let corners = self.corners();
        let hits = corners.iter().zip(corners.iter().cycle().skip(1)).filter_map(|(a, b)| {
            let edge = [b[0] - a[0], b[1] - a[1]];
            let across = way[0] * edge[1] - way[1] * edge[0];
            let off = [a[0] - from[0], a[1] - from[1]];
            let far = (off[0] * edge[1] - off[1] * edge[0]) / across;
            let share = (off[0] * way[1] - off[1] * way[0]) / across;
            (across.abs() > 1e-9 && far > 1e-6 && (-1e-9..=1.0 + 1e-9).contains(&share)).then_some(far)
        });
        hits.reduce(f64::min)
    }

    /// Whether it is a rectangle along depth and height.
    pub(super) fn is_upright_rectangle(&self) -> bool {
        let [low, high] = self.bounds();
        let block = (high[0] - low[0]) * (high[1] - low[1]);
        (self.without(None) - block).abs() < 1e-3
    }

    /// The stretch of depth that is inside all the way between two heights, if there is one.
    pub(super) fn clear_between(&self, low: f64, high: f64) -> Option<[f64; 2]> {
        let cut = self.clipped(1, low, true).clipped(1, high, false);
        let [least, most] = cut.bounds();
        let mut clear = [least[0], most[0]];
        let corners = cut.corners();
        // Anticlockwise the front goes down and the back goes up.
        for (from, to) in corners.iter().zip(corners.iter().cycle().skip(1)) {
            if (from[1] - to[1]).abs() < 1e-6 {
                continue;
            }
            if from[1] > to[1] {
                clear[0] = clear[0].max(from[0]).max(to[0]);
            } else {
                clear[1] = clear[1].min(from[0]).min(to[0]);
            }
        }
        (clear[0] < clear[1]).then_some(clear)
    }

    /// Smallest and largest coordinates.
    #[must_use]
    pub fn bounds(&self) -> [At; 2] {
        let reach = |pick: fn(f64, f64) -> f64, start: f64| {
            [0, 1].map(|i| self.corners().iter().map(|at| at[i]).fold(start, pick))
        };
        [reach(f64::min, f64::INFINITY), reach(f64::max, f64::NEG_INFINITY)]
    }

    /// Centre of its area.
    #[must_use]
    pub fn centre(&self) -> At {
        let corners = self.corners();
        let Some(&origin) = corners.first() else { return [0.0; 2] };
        let mut sum = [0.0; 3];
        for pair in corners.windows(2) {
            let [a, b] = [0, 1].map(|i| minus(pair[i], origin));
            let twice = cross(a, b);
            sum[0] += twice;
            sum[1] += twice * (a[0] + b[0]) / 3.0;
            sum[2] += twice * (a[1] + b[1]) / 3.0;
        }
        if sum[0] == 0.0 { origin } else { [origin[0] + sum[1] / sum[0], origin[1] + sum[2] / sum[0]] }
    }

    /// A corner at which the outline turns the other way, as a step has it.
    #[must_use]
    pub fn hollow_corner(&self) -> Option<At> {
        let corners = self.corners();
        let count = corners.len();
        let found = (0..count).find(|&i| {
            let (before, at, after) =
                (corners[(i + count - 1) % count], corners[i], corners[(i + 1) % count]);
            cross(minus(at, before), minus(after, at)) < -1e-9
        });
        found.map(|i| corners[i])
    }

    /// Its convex pieces: what is above and what is below a step.
    #[must_use]
    pub fn levels(&self) -> Vec<Self> {
        match self.hollow_corner() {
            Some([_, up]) => [true, false].map(|above| self.clipped(1, up, above).without_spike()).to_vec(),
            None => vec![*self],
        }
    }

    /// Without a corner to which the outline goes only to come straight back, as where it was cut along an edge.
    fn without_spike(&self) -> Self {
        let corners = self.corners();
        let count = corners.len();
        let kept = (0..count).filter(|&i| {
            let (before, at, after) =
                (corners[(i + count - 1) % count], corners[i], corners[(i + 1) % count]);
            let (come, go) = (minus(at, before), minus(after, at));
            cross(come, go).abs() > 1e-9 || dot(come, go) > 0.0
        });
        Self::new(&kept.map(|i| corners[i]).collect::<Vec<_>>())
    }

    /// What lies on one side of a level or an upright line: of coordinate `axis`, above `at` or below it.
    ///
    /// # Source
    /// I. E. Sutherland, G. W. Hodgman, "Reentrant polygon clipping", Comm. ACM 17 (1974), for one line.
    #[must_use]
    pub fn clipped(&self, axis: usize, at: f64, above: bool) -> Self {
        let sign = if above { 1.0 } else { -1.0 };
        self.kept(&|corner| sign * (corner[axis] - at))
    }

    /// What lies to the left of a line through two points.
    #[inline(never)] // few boxes need it: it may come after the first result
    pub(super) fn left_of(&self, line: [At; 2]) -> Self {
        self.kept(&|corner| side(line, corner))
    }

    /// What lies where a linear function is above zero.
    fn kept(&self, beyond: &dyn Fn(At) -> f64) -> Self {
        let corners = self.corners();
        let mut kept = Vec::with_capacity(MOST);
        for (&from, &to) in corners.iter().zip(corners.iter().cycle().skip(1)) {
            let (a, b) = (beyond(from), beyond(to));
            if a >= 0.0 {
                kept.push(from);
            }
            if (a > 0.0 && b < 0.0) || (a < 0.0 && b > 0.0) {
                let share = a / (a - b);
                kept.push([0, 1].map(|i| from[i] + share * (to[i] - from[i])));
            }
        }
        kept.dedup();
        Self::new(&kept)
    }

    /// The pieces around a rectangle taken out of it.
    #[must_use]
    pub fn around(&self, [low, high]: [At; 2]) -> Vec<Self> {
        let mut rest = *self;
        let mut pieces = Vec::new();
        for (axis, at, above) in
            [(1, low[1], true), (1, high[1], false), (0, low[0], true), (0, high[0], false)]
        {
            pieces.push(rest.clipped(axis, at, !above));
            rest = rest.clipped(axis, at, above);
        }
        pieces.retain(|piece| piece.corners().len() > 2 && area(piece.corners()) > 1e-6);
        pieces
    }

    /// Whether a rectangle lies within it.
    #[must_use]
    pub fn holds(&self, rectangle: [At; 2]) -> bool {
        let [low, high] = rectangle;
        let inside = [[low[0], low[1]], [high[0], low[1]], [high[0], high[1]], [low[0], high[1]]];
        let mut cut = *self;
        for (axis, at, above) in
            [(1, low[1], true), (1, high[1], false), (0, low[0], true), (0, high[0], false)]
        {
            cut = cut.clipped(axis, at, above);
        }
        let wanted = area(&inside);
        wanted > 0.0 && (area(cut.corners()) - wanted).abs() < 1e-6 * wanted.max(1.0)
    }
}

/// A body given as if its board stood upright, turned about a line along the width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// The line: depth, height.
    pub about: At,
    /// How far upwards leans towards greater depth, in radians.
    pub lean: f64,
}

impl Turn {
    /// None where nothing leans.
    pub(super) fn new(about: At, lean: f64) -> Option<Self> {
        (lean != 0.0).then_some(Self { about, lean })
    }

    /// A direction of depth and height, turned.
    #[must_use]
    pub fn direction(self, [depth, height]: At) -> At {
        let (sin, cos) = self.lean.sin_cos();
        [depth * cos + height * sin, height * cos - depth * sin]
    }

    /// A point of depth and height, turned.
    #[must_use]
    pub fn point(self, at: At) -> At {
        let off = self.direction(minus(at, self.about));
        [self.about[0] + off[0], self.about[1] + off[1]]
    }

    /// A point of depth, width and height, turned.
    #[must_use]
    pub fn place(self, at: [f64; 3]) -> [f64; 3] {
        let [depth, height] = self.point([at[0], at[2]]);
        [depth, at[1], height]
    }

    /// The turn back.
    #[must_use]
    pub fn back(self) -> Self {
        Self { lean: -self.lean, ..self }
    }
}
