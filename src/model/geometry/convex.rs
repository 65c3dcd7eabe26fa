//! Convex bodies by their faces: cut by planes, and what two of them share.
use super::faces::At3;
use super::vectors::{cross, dot, length, minus, plus, unit};

/// What lies on one side of a plane: normal · point ≤ reach.
#[derive(Clone, Copy, Debug)]
pub(super) struct HalfSpace {
    /// Away from what is kept, of length 1.
    normal: At3,
    reach: f64,
}

/// A convex body; each face a flat ring in either direction, in millimetres.
#[derive(Clone, Debug)]
pub(super) struct Convex {
    pub(super) faces: Vec<Vec<At3>>,
}

/// Nearer than this a point lies in a plane, mm.
const SAME: f64 = 1e-7;

fn mean<'a>(points: impl Iterator<Item = &'a At3>) -> At3 {
    let (mut sum, mut count) = ([0.0; 3], 0.0);
    for point in points {
        sum = plus(sum, *point, 1.0);
        count += 1.0;
    }
    sum.map(|x| x / f64::max(count, 1.0))
}

/// Twice the area vector of a flat ring.
pub(super) fn twice_area(ring: &[At3]) -> At3 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).fold([0.0; 3], |sum, (a, b)| plus(sum, cross(*a, *b), 1.0))
}

impl HalfSpace {
    /// The side of the plane through three points on which `inside` lies; `None` where they lie in one line.
    pub(super) fn through([a, b, c]: [At3; 3], inside: At3) -> Option<Self> {
        let across = cross(minus(b, a), minus(c, a));
        if length(across) < 1e-9 {
            return None;
        }
        let normal = unit(across);
        let reach = dot(normal, a);
        let turned = dot(normal, inside) > reach;
        let sign = if turned { -1.0 } else { 1.0 };
        Some(Self { normal: normal.map(|x| x * sign), reach: reach * sign })
    }

    fn beyond(self, at: At3) -> f64 {
        dot(self.normal, at) - self.reach
    }
}

impl Convex {
    /// A prism, or a body like one: two rings of as many corners, and a face between each two edges.
    pub(super) fn between(low: &[At3], high: &[At3]) -> Self {
        let mut faces = vec![low.to_vec(), high.to_vec()];
        let count = low.len().min(high.len());
        faces.extend((0..count).map(|i| {
            let next = (i + 1) % count;
            vec![low[i], low[next], high[next], high[i]]
        }));
        Self { faces }
    }

    /// A point inside.
    pub(super) fn middle(&self) -> At3 {
        mean(self.faces.iter().flatten())
    }

    fn half_spaces(&self) -> impl Iterator<Item = HalfSpace> + '_ {
        let middle = self.middle();
        self.faces.iter().filter_map(move |face| {
            let normal = twice_area(face);
            let long = length(normal);
            if long < 1e-9 {
                return None;
            }
            let normal = normal.map(|x| x / long);
            let reach = dot(normal, mean(face.iter()));
            let sign = if dot(normal, middle) > reach { -1.0 } else { 1.0 };
            Some(HalfSpace { normal: normal.map(|x| x * sign), reach: reach * sign })
        })
    }

    /// What lies on one side of a plane; without faces where nothing does.
    ///
    /// Each face is cut by itself (I. E. Sutherland, G. W. Hodgman, "Reentrant polygon clipping", Comm. ACM 17 (1974)); the
    /// points in the plane become a face of their own.
    pub(super) fn clipped(&self, half: HalfSpace) -> Self {
        let mut faces = Vec::with_capacity(self.faces.len() + 1);
        let mut cap: Vec<At3> = Vec::new();
        let mut lies_in_plane = false;
        for face in &self.faces {
            let mut kept: Vec<At3> = Vec::with_capacity(face.len() + 1);
            for (from, to) in face.iter().zip(face.iter().cycle().skip(1)) {
                let (a, b) = (half.beyond(*from), half.beyond(*to));
                if a <= SAME {
                    kept.push(*from);
                    if a >= -SAME {
                        cap.push(*from);
                    }
                }
                if (a > SAME && b < -SAME) || (a < -SAME && b > SAME) {
                    let at = plus(*from, minus(*to, *from), a / (a - b));
                    kept.push(at);
                    cap.push(at);
                }
            }
            if kept.len() > 2 {
                lies_in_plane |= kept.iter().all(|at| half.beyond(*at).abs() <= SAME);
                faces.push(kept);
            }
        }
        if !lies_in_plane && !faces.is_empty() {
            faces.extend(ring_of(&cap, half.normal));
        }
        if faces.len() < 4 {
            faces.clear();
        }
        Self { faces }
    }

    /// What two bodies share.
    pub(super) fn common(&self, other: &Self) -> Self {
        other.half_spaces().fold(self.clone(), |body, half| body.clipped(half))
    }

    /// Volume in mm³: a pyramid from a point inside to each face.
    pub(super) fn volume(&self) -> f64 {
        let middle = self.middle();
        let pyramid = |face: &Vec<At3>| match face.first() {
            Some(at) => (dot(twice_area(face), minus(*at, middle)) / 6.0).abs(),
            None => 0.0,
        };
        self.faces.iter().map(pyramid).sum()
    }
}

/// Points of a plane as a ring around their middle; `None` for fewer than three.
fn ring_of(points: &[At3], normal: At3) -> Option<Vec<At3>> {
    let mut apart: Vec<At3> = Vec::with_capacity(points.len());
    for at in points {
        if apart.iter().all(|other| length(minus(*other, *at)) > 1e-6) {
            apart.push(*at);
        }
    }
    let middle = mean(apart.iter());
    let first = unit(minus(*apart.first()?, middle));
    let second = cross(normal, first);
    let angle = |at: &At3| {
        let off = minus(*at, middle);
        dot(off, second).atan2(dot(off, first))
    };
    crate::small::sort_by(&mut apart, |a, b| angle(a).total_cmp(&angle(b)));
    (apart.len() > 2).then_some(apart)
}
