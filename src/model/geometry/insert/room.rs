//! Where blocks find a place in a box, and whether they get there.
use crate::model::geometry::assembly::{Assembly, BodyKind, Role};
use crate::model::geometry::axes::{Axis, Dims, End, Point};
use crate::model::geometry::checks::POLE_VENT_GAP;
use crate::model::geometry::solids::{Bounds, Solid};
use crate::model::geometry::spec::BoxSpec;
use crate::units::ExactLength;

/// Air kept around a block, in place and on its way: 2 mm (common practice, no source).
const GAP: f64 = 2.0;
/// Places tried along one direction.
const TRIED: f64 = 20.0;
/// Nearer together they are not tried, in mm.
const FINEST: f64 = 10.0;

/// What stands in the way.
struct Obstacle {
    solid: Solid,
    bounds: Bounds,
    /// The driver and what is kept free goes in after the blocks.
    comes_later: bool,
}

/// The inside of a box with everything in it.
pub(super) struct Room {
    inside: Bounds,
    obstacles: Vec<Obstacle>,
    /// Centres of the drivers' holes: width, height.
    holes: Vec<[f64; 2]>,
}

impl Room {
    pub(super) fn of(spec: &BoxSpec, assembly: &Assembly) -> Self {
        let mut obstacles = Vec::new();
        let mut add = |solid: &Solid, comes_later| {
            let pieces = boards(solid).into_iter();
            obstacles.extend(pieces.map(|solid| Obstacle { bounds: solid.bounds(), solid, comes_later }));
        };
        for body in &assembly.bodies {
            match (body.role, body.kind) {
                (Role::Hull, BodyKind::Driver(_)) => {
                    add(&body.solid, true);
                    if let Some(vent) = spec.driver.as_ref().and_then(|driver| driver.pole_vent) {
                        behind(&body.solid, vent, POLE_VENT_GAP).iter().for_each(|air| add(air, true));
                    }
                }
                (Role::Displaced | Role::Hull, kind) => {
                    add(&body.solid, false);
                    if let (BodyKind::PortAir(_), Some(port)) = (kind, assembly.port) {
                        behind(&body.solid, port.width, port.height).iter().for_each(|air| add(air, true));
                    }
                }
                _ => {}
            }
        }
        let min = assembly.inside_min.millimetres();
        let max = (assembly.inside_min + assembly.inside).millimetres();
        let holes = assembly.layout.drivers.iter();
        Self {
            inside: Bounds { min, max },
            obstacles,
            holes: holes.map(|at| [at.width.millimetres(), at.height.millimetres()]).collect(),
        }
    }

    /// Places for so many blocks of this size, each reached past those before it; counted from the inside's corner.
    pub(super) fn places(&self, size: Dims, count: usize) -> Option<Vec<Point>> {
        let size = size.millimetres();
        let mut found: Vec<Bounds> = Vec::new();
        for at in self.tried(size) {
            if found.len() == count {
                break;
            }
            let block = Bounds { min: at, max: add(at, size) };
            if self.rests(&block, &found) && self.reaches(&block, &found) {
                found.push(block);
            }
        }
        let corner = |block: &Bounds| {
            let at =
                [0, 1, 2].map(|axis| ExactLength::from_millimetres(block.min[axis] - self.inside.min[axis]));
            Point { depth: at[0], width: at[1], height: at[2] }
        };
        (found.len() == count).then(|| found.iter().map(corner).collect())
    }

    /// Corners to try: farthest from the holes first, at the back before the front.
    fn tried(&self, size: [f64; 3]) -> Vec<[f64; 3]> {
        let [deep, wide, high] = [0, 1, 2].map(|axis| self.steps(axis, size[axis]));
        let from_holes = |at: &[f64; 3]| {
            let middle = [at[1] + size[1] / 2.0, at[2] + size[2] / 2.0];
            let away = |hole: &[f64; 2]| (hole[0] - middle[0]).hypot(hole[1] - middle[1]);
            self.holes.iter().map(away).fold(f64::INFINITY, f64::min)
        };
        let mut all = Vec::with_capacity(deep.len() * wide.len() * high.len());
        for &w in &wide {
            for &h in &high {
                all.extend(deep.iter().map(|&d| [d, w, h]));
            }
        }
        // Distances to the millimetre, so that of places alike the one at the back comes first.
        crate::small::sort_by_number(&mut all, |at| -(from_holes(at).round() * 1e5 + at[0]));
        all
    }

    /// Whole millimetres along an axis, from wall to wall; along the depth the places before and behind things.
    fn steps(&self, axis: usize, size: f64) -> Vec<f64> {
        let (low, high) = (self.inside.min[axis] + GAP, self.inside.max[axis] - GAP - size);
        let last = (high - low).floor();
        if last < 0.0 {
            return Vec::new();
        }
        let mut all = vec![low, low + last];
        if axis == Axis::Depth.index() {
            let mut back = last - size.ceil() - GAP;
            while back > 0.0 {
                all.push(low + back);
                back -= size.ceil() + GAP;
            }
            for bounds in self.obstacles.iter().map(|obstacle| obstacle.bounds) {
                let [before, after] = [bounds.min[0] - GAP - size - low, bounds.max[0] + GAP - low];
                let near = [before.floor(), after.ceil()].into_iter().filter(|at| *at > 0.0 && *at < last);
                all.extend(near.map(|at| low + at));
            }
        } else {
            let step = (last / TRIED).max(FINEST).ceil();
            let mut at = step;
            while at < last {
                all.push(low + at);
                at += step;
            }
        }
        all.sort_unstable_by(f64::total_cmp);
        all.dedup();
        all
    }

    /// Whether a block in place keeps clear of everything.
    fn rests(&self, block: &Bounds, others: &[Bounds]) -> bool {
        self.free(block, others, |_| true)
    }

    /// Whether a block gets to its place: straight in through a hole, then across and up, or up and across.
    fn reaches(&self, block: &Bounds, others: &[Bounds]) -> bool {
        let size = [1, 2].map(|axis| block.max[axis] - block.min[axis]);
        self.holes.iter().any(|hole| {
            let mut entry = *block;
            for (axis, (at, size)) in [1, 2].into_iter().zip(hole.iter().zip(size)) {
                entry.min[axis] = at - size / 2.0;
                entry.max[axis] = at + size / 2.0;
            }
            let mut straight = entry;
            straight.min[0] = self.inside.min[0];
            let clear = |way: &Bounds| self.free(way, others, |obstacle| !obstacle.comes_later);
            clear(&straight)
                && [1, 2].into_iter().any(|first| {
                    let mut corner = entry;
                    (corner.min[first], corner.max[first]) = (block.min[first], block.max[first]);
                    clear(&around(&entry, &corner)) && clear(&around(&corner, block))
                })
        })
    }

    fn free(&self, block: &Bounds, others: &[Bounds], counts: impl Fn(&Obstacle) -> bool) -> bool {
        let wide = Bounds { min: block.min.map(|x| x - GAP), max: block.max.map(|x| x + GAP) };
        others.iter().all(|other| wide.apart(other, 1e-6))
            && !self.obstacles.iter().any(|obstacle| {
                counts(obstacle) && !wide.apart(&obstacle.bounds, 1e-6) && meets(&obstacle.solid, &wide)
            })
    }
}

fn add(at: [f64; 3], size: [f64; 3]) -> [f64; 3] {
    [0, 1, 2].map(|axis| at[axis] + size[axis])
}

/// The block around two blocks: what one of them sweeps on its way to the other along an axis.
fn around(a: &Bounds, b: &Bounds) -> Bounds {
    Bounds {
        min: [0, 1, 2].map(|axis| a.min[axis].min(b.min[axis])),
        max: [0, 1, 2].map(|axis| a.max[axis].max(b.max[axis])),
    }
}

/// Air to be kept free behind a driver, at its narrower end, or behind a port, at its inner end: so wide and so deep.
fn behind(solid: &Solid, wide: ExactLength, deep: ExactLength) -> Option<Solid> {
    match *solid {
        Solid::Round { base, along, length, from, to } => {
            let rear = if from >= to { base.get(along) + length } else { base.get(along) - deep };
            Some(Solid::cylinder(base.with(along, rear), along, deep, wide))
        }
        Solid::Block { min, size } => Some(Solid::Block {
            min: Point { depth: min.depth + size.depth, ..min },
            size: Dims { depth: deep, ..size },
        }),
        _ => None,
    }
}

/// Whether a block that overlaps a body's bounds overlaps the body.
fn meets(solid: &Solid, block: &Bounds) -> bool {
    match *solid {
        // The corner of the block nearest to the inside edge decides.
        Solid::CornerPrism { edge, start, face, .. } => {
            let start = start.millimetres();
            let away = edge.along.others().map(|axis| {
                let i = axis.index();
                let high = edge.end(axis) == Some(End::High);
                if high { start[i] - block.max[i] } else { block.min[i] - start[i] }.max(0.0)
            });
            (away[0] + away[1]) * std::f64::consts::SQRT_2 < face.millimetres()
        }
        Solid::Round { base, along, length, from, to } => meets_round(base, along, length, [from, to], block),
        Solid::Tube { base, along, length, outer, .. } => {
            meets_round(base, along, length, [outer, outer], block)
        }
        _ => true,
    }
}

/// The widest disc within the block's reach along the axis holds all others there.
fn meets_round(
    base: Point,
    along: Axis,
    length: ExactLength,
    ends: [ExactLength; 2],
    block: &Bounds,
) -> bool {
    let (base, length) = (base.millimetres(), length.millimetres());
    let [from, to] = ends.map(|diameter| diameter.millimetres() / 2.0);
    let i = along.index();
    let at = |x: f64| from + (to - from) * ((x - base[i]) / length.max(1e-9)).clamp(0.0, 1.0);
    let radius = at(block.min[i]).max(at(block.max[i]));
    let away = along.others().map(|axis| {
        let i = axis.index();
        (block.min[i] - base[i]).max(base[i] - block.max[i]).max(0.0)
    });
    away[0].hypot(away[1]) < radius
}

/// A body; a brace as the four boards around its window, which is the rectangle within its rounded corners, so that
/// nothing that passes touches them.
fn boards(solid: &Solid) -> Vec<Solid> {
    let Solid::Frame { min, size, through, window } = *solid else { return vec![*solid] };
    let off = window.corner_radius.millimetres() * (2.0 - std::f64::consts::SQRT_2);
    let openings = [window.across, window.up].map(|side| side.millimetres() - off);
    let mut all = Vec::with_capacity(4);
    for (axis, opening) in through.others().into_iter().zip(openings) {
        let whole = size.get(axis);
        let rim = ExactLength::from_millimetres((whole.millimetres() - opening) / 2.0);
        let size = size.with(axis, rim);
        all.push(Solid::Block { min, size });
        all.push(Solid::Block { min: min.with(axis, min.get(axis) + whole - rim), size });
    }
    all
}
