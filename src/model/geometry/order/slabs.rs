//! What a piece takes up, as convex sections across the width: where they meet and which ways past one another are free.
//!
//! Everything in a box but tubes and strips is such a slab or a few of them, so that leaning boards need no rule of
//! their own; tubes and strips count as the block around them.
use super::Side;
use super::pieces::{CLOSED, TOUCH};
use crate::model::geometry::assembly::Body;
use crate::model::geometry::axes::{Axis, End};
use crate::model::geometry::plane::{At, dot, hull, length, minus, pairs, unit};
use crate::model::geometry::polygon::{Polygon, Turn};
use crate::model::geometry::solids::{Bounds, Solid};

/// A convex section in depth and height, anticlockwise, and the stretch of the width it takes.
#[derive(Clone, Debug)]
pub(super) struct Slab {
    section: Vec<At>,
    sides: [f64; 2],
}

/// A body without its window, and what it takes up: a brace leaves its window free.
pub(super) fn of(body: &Body) -> [Vec<Slab>; 2] {
    let bounds = body.solid.bounds();
    let [mut whole, mut rest] = match &body.solid {
        Solid::Prism { section, opening, .. } => {
            let levels = section.levels();
            let around = levels.iter().flat_map(|level| match opening {
                Some(window) => level.around(window.bounds()),
                None => vec![*level],
            });
            let slab = |level: &Polygon| Slab { section: level.corners().to_vec(), sides: sides(bounds) };
            let rest = around.map(|level| slab(&level)).collect();
            [levels.iter().map(slab).collect(), rest]
        }
        Solid::Wedge { corners } => {
            let section = hull(&corners.map(|at| [at[0], at[2]]));
            [
                vec![Slab { section: section.clone(), sides: sides(bounds) }],
                vec![Slab { section, sides: sides(bounds) }],
            ]
        }
        solid => [vec![block(bounds)], frame(solid, bounds).into_iter().map(block).collect()],
    };
    if let Some(turn) = body.turn {
        let corners = whole.iter_mut().chain(&mut rest).flat_map(|slab| &mut slab.section);
        corners.for_each(|at| *at = turn.point(*at));
    }
    [whole, rest]
}

const fn sides(bounds: Bounds) -> [f64; 2] {
    [bounds.min[1], bounds.max[1]]
}

fn block(bounds: Bounds) -> Slab {
    let [low, high] = [bounds.min, bounds.max];
    let section = vec![[low[0], low[2]], [high[0], low[2]], [high[0], high[2]], [low[0], high[2]]];
    Slab { section, sides: sides(bounds) }
}

/// The four boards around the window of a brace; any other body is one.
fn frame(solid: &Solid, bounds: Bounds) -> Vec<Bounds> {
    let Solid::Frame { through, window, .. } = *solid else { return vec![bounds] };
    let mut all = Vec::with_capacity(4);
    for (axis, opening) in through.others().into_iter().zip([window.across, window.up]) {
        let i = axis.index();
        let rim = (bounds.max[i] - bounds.min[i] - opening.millimetres()) / 2.0;
        let (mut low, mut high) = (bounds, bounds);
        low.max[i] = bounds.min[i] + rim;
        high.min[i] = bounds.max[i] - rim;
        all.extend([low, high]);
    }
    all
}

/// The stretch that points take along a direction.
fn reach(points: &[At], along: At) -> [f64; 2] {
    let places = points.iter().map(|at| dot(*at, along));
    places.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], at| [low.min(at), high.max(at)])
}

fn shared(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[1].min(b[1]) - a[0].max(b[0])
}

/// Away from the section, of length 1.
fn outward([from, to]: [At; 2]) -> At {
    let along = unit(minus(to, from));
    [along[1], -along[0]]
}

/// The normals of two sections; an edge without length has none.
fn normals<'a>(a: &'a Slab, b: &'a Slab) -> impl Iterator<Item = At> + 'a {
    let edges = pairs(&a.section).chain(pairs(&b.section));
    edges.map(outward).filter(|normal| length(*normal) > 0.5)
}

impl Slab {
    /// Whether this one, on its way to the box from a side, shares no more than `touch` with one that stands.
    ///
    /// Two convex bodies are apart where they are so along a normal of one of their faces, or square to the way.
    pub(super) fn passes(&self, (axis, end): Side, standing: &Self, touch: f64) -> bool {
        let sign = if end == End::High { 1.0 } else { -1.0 };
        let (mut sides, mut way) = (self.sides, [0.0; 2]);
        match axis {
            Axis::Width => sides[usize::from(end == End::High)] = sign * f64::INFINITY,
            Axis::Depth => way[0] = sign,
            Axis::Height => way[1] = sign,
        }
        if shared(sides, standing.sides) <= touch {
            return true;
        }
        let across = (axis != Axis::Width).then_some([way[1], way[0]]);
        normals(self, standing).chain(across).any(|normal| {
            let mut own = reach(&self.section, normal);
            let ahead = dot(way, normal);
            if ahead.abs() > 1e-9 {
                own[usize::from(ahead > 0.0)] = ahead.signum() * f64::INFINITY;
            }
            shared(own, reach(&standing.section, normal)) <= touch
        })
    }

    /// Faces of this and of another that lie against each other, each named by the direction it looks in before its
    /// board is turned.
    pub(super) fn contacts(&self, turn: Option<Turn>, other: &Self, others: Option<Turn>) -> Vec<[Side; 2]> {
        let mut found = Vec::new();
        for [end, faced] in [[End::High, End::Low], [End::Low, End::High]] {
            let gap = match end {
                End::High => other.sides[0] - self.sides[1],
                End::Low => self.sides[0] - other.sides[1],
            };
            if (-TOUCH..=CLOSED).contains(&gap) && self.sections_share(other) {
                found.push([(Axis::Width, end), (Axis::Width, faced)]);
            }
        }
        if shared(self.sides, other.sides) <= CLOSED {
            return found;
        }
        for own in pairs(&self.section) {
            let normal = outward(own);
            for theirs in pairs(&other.section) {
                let faced = outward(theirs);
                let gap = dot(minus(theirs[0], own[0]), normal);
                let along = [-normal[1], normal[0]];
                if dot(normal, faced) < -0.9999
                    && (-TOUCH..=CLOSED).contains(&gap)
                    && shared(reach(&own, along), reach(&theirs, along)) > CLOSED
                {
                    found.push([side(normal, turn), side(faced, others)]);
                }
            }
        }
        found
    }

    fn sections_share(&self, other: &Self) -> bool {
        normals(self, other)
            .all(|normal| shared(reach(&self.section, normal), reach(&other.section, normal)) > CLOSED)
    }
}

/// The axis nearest to a normal, as it looks before the board is turned.
fn side(normal: At, turn: Option<Turn>) -> Side {
    let [depth, height] = turn.map_or(normal, |turn| turn.back().direction(normal));
    let end = |along: f64| if along > 0.0 { End::High } else { End::Low };
    if depth.abs() >= height.abs() { (Axis::Depth, end(depth)) } else { (Axis::Height, end(height)) }
}
