//! Distances on the front and the back: flanges, holes, ports, terminals.
use super::{Fact, SCREW_EDGE};
use crate::model::geometry::assembly::{Assembly, BodyKind, Role};
use crate::model::geometry::axes::{Axis, Dims};
use crate::model::geometry::edges::{FRONT, Place};
use crate::model::geometry::parts::PartId;
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::{BoxSpec, Port, SlotWidth};
use crate::units::ExactLength;

/// A round opening in the front, in millimetres.
#[derive(Clone, Copy)]
pub(super) struct Opening {
    at: [f64; 2],
    radius: f64,
}

impl Opening {
    pub(super) fn new(centre: Dims, diameter: ExactLength) -> Self {
        Self::seen(centre, Axis::Depth, diameter)
    }
    /// As one stands before a board that faces along an axis.
    pub(super) fn seen(centre: Dims, facing: Axis, diameter: ExactLength) -> Self {
        let at = facing.face().map(|axis| centre.get(axis).millimetres());
        Self { at, radius: diameter.millimetres() / 2.0 }
    }
    /// Smallest distance of the circle from the four sides of a rectangle it lies in.
    pub(super) fn to_sides(self, min: [f64; 2], max: [f64; 2]) -> ExactLength {
        let apart = (0..2)
            .flat_map(|axis| [self.at[axis] - min[axis], max[axis] - self.at[axis]])
            .fold(f64::INFINITY, f64::min);
        ExactLength::from_millimetres(apart - self.radius)
    }
    /// Distance of two circles.
    pub(super) fn to(self, other: Self) -> ExactLength {
        let apart = (self.at[0] - other.at[0]).hypot(self.at[1] - other.at[1]);
        ExactLength::from_millimetres(apart - self.radius - other.radius)
    }
    /// Distance of the circle from a rectangle beside it, or how deep its centre's circle reaches into it.
    pub(super) fn to_rectangle(self, min: [f64; 2], max: [f64; 2]) -> ExactLength {
        let beside = |axis: usize| (min[axis] - self.at[axis]).max(self.at[axis] - max[axis]);
        let (across, up) = (beside(0), beside(1));
        let apart =
            if across <= 0.0 && up <= 0.0 { across.max(up) } else { across.max(0.0).hypot(up.max(0.0)) };
        ExactLength::from_millimetres(apart - self.radius)
    }
}

/// Width and height coordinates of the corners of a body's bounds.
pub(super) fn face(solid: &Solid) -> ([f64; 2], [f64; 2]) {
    let [min, max] = seen(solid, Axis::Depth);
    (min, max)
}

/// Width and height of a point.
pub(super) fn corner(at: Dims) -> [f64; 2] {
    [at.width.millimetres(), at.height.millimetres()]
}

/// Facts of the front; `inside` is what of its inner face is free: width and height, smallest and largest.
pub(super) fn front_facts(
    spec: &BoxSpec,
    assembly: &Assembly,
    inside: ([f64; 2], [f64; 2]),
    facts: &mut Vec<Fact>,
) {
    let (inside_min, inside_max) = inside;
    // The face of the front itself: whatever its layers cover.
    let mut front = (corner(Dims::default()), corner(assembly.outside));
    for body in assembly.with_role(Role::Shell) {
        if body.kind == BodyKind::Board(PartId::Front(0)) {
            front = face(&body.solid);
        }
    }
    let tubes = if matches!(spec.port, Port::Round(_)) {
        tubes_in_front(spec, assembly, inside, facts)
    } else {
        Vec::new()
    };
    let Some(driver) = &spec.driver else { return };
    let wide = driver.flange + driver.recess.map_or(ExactLength::ZERO, |recess| recess.clearance);
    let flanges: Vec<Opening> = assembly.layout.drivers.iter().map(|&at| Opening::new(at, wide)).collect();
    for (number, (flange, &centre)) in (0u8..).zip(flanges.iter().zip(&assembly.layout.drivers)) {
        let gap = flange.to_sides(front.0, front.1);
        facts.push(Fact::FlangeToEdge { driver: number, gap, wanted: SCREW_EDGE });
        let hole = Opening::new(centre, driver.cutout);
        let gap = hole.to_sides(inside_min, inside_max);
        facts.push(Fact::CutoutToWall { driver: number, gap });
        if spec.port != Port::None {
            facts.extend(flange_to_port(spec, assembly, (number, *flange), &tubes));
        }
        if over_strip(assembly, hole, FRONT) {
            facts.push(Fact::CutoutOverStrip { driver: number });
        }
    }
    if flanges.len() > 1 {
        facts.extend(nearest_pair(&flanges).map(|gap| Fact::FlangeToFlange { gap }));
    }
}

/// The tubes of the front; how far they are from the walls and from one another.
#[inline(never)] // the first picture is of a closed box
fn tubes_in_front(
    spec: &BoxSpec,
    assembly: &Assembly,
    inside: ([f64; 2], [f64; 2]),
    facts: &mut Vec<Fact>,
) -> Vec<Opening> {
    let Port::Round(port) = &spec.port else { return Vec::new() };
    let outer = port.diameter + port.wall * 2;
    let tubes: Vec<Opening> = assembly.layout.tubes.iter().map(|&at| Opening::new(at, outer)).collect();
    for (tube, opening) in (0u8..).zip(&tubes) {
        facts.push(Fact::TubeToWall { tube, gap: opening.to_sides(inside.0, inside.1) });
    }
    facts.extend(nearest_pair(&tubes).map(|gap| Fact::TubeToTube { gap }));
    tubes
}

/// How far a driver's flange is from the nearest mouth of a port.
#[inline(never)] // the first picture is of a closed box
fn flange_to_port(
    spec: &BoxSpec,
    assembly: &Assembly,
    (driver, flange): (u8, Opening),
    tubes: &[Opening],
) -> Option<Fact> {
    let to_tube = tubes.iter().map(|&tube| flange.to(tube)).min();
    let slot = if matches!(spec.port, Port::Slot(_)) { slot_opening(assembly, spec) } else { None };
    let to_slot = slot.map(|(min, max)| flange.to_rectangle(min, max));
    to_tube.into_iter().chain(to_slot).min().map(|gap| Fact::FlangeToPort { driver, gap })
}

#[inline(never)] // the first picture has one driver
pub(super) fn nearest_pair(openings: &[Opening]) -> Option<ExactLength> {
    let pairs = openings.iter().enumerate().flat_map(|(i, a)| openings.iter().skip(i + 1).map(|b| a.to(*b)));
    pairs.min()
}

/// The slot's mouth in the front, or, where the front just ends above it, that gap.
#[inline(never)] // few boxes have one: it may come after the first result
fn slot_opening(assembly: &Assembly, spec: &BoxSpec) -> Option<([f64; 2], [f64; 2])> {
    let mouth = assembly
        .bodies
        .iter()
        .find(|body| matches!((body.kind, body.solid), (BodyKind::PortMouth(_), Solid::Block { .. })));
    if let Some(mouth) = mouth {
        return Some(face(&mouth.solid));
    }
    match &spec.port {
        Port::Slot(slot) if slot.width == SlotWidth::Full => {
            let low = assembly.inside_min;
            let min = [low.width, low.height].map(ExactLength::millimetres);
            let max = [low.width + assembly.inside.width, low.height + slot.height];
            Some((min, max.map(ExactLength::millimetres)))
        }
        _ => None,
    }
}

/// Whether a strip lies behind a hole in a face, close enough to be seen and to be in the driver's way.
pub(super) fn over_strip(assembly: &Assembly, hole: Opening, (axis, end): Place) -> bool {
    assembly.with_role(Role::Displaced).any(|body| {
        let BodyKind::Strip(edge) = body.kind else {
            return false;
        };
        let [min, max] = seen(&body.solid, axis);
        edge.end(axis).is_none_or(|other| other == end) && hole.to_rectangle(min, max) < ExactLength::ZERO
    })
}

/// Facts of the terminals: distances from what of their board's inner face is free.
pub(super) fn terminal_facts(spec: &BoxSpec, assembly: &Assembly, facts: &mut Vec<Fact>) {
    let (Some(hole), Some(terminal)) =
        (assembly.bodies.iter().find(|body| body.kind == BodyKind::TerminalHole), &spec.terminal)
    else {
        return;
    };
    let [min, max] = seen(&hole.solid, terminal.face.0);
    let [low, high] = assembly.free_on(terminal.face);
    let gap = (min[0] - low[0]).min(min[1] - low[1]).min(high[0] - max[0]).min(high[1] - max[1]);
    facts.push(Fact::TerminalToWall { gap: ExactLength::from_millimetres(gap) });
}

/// Corners of a body's bounds as one stands before a board that faces along an axis.
pub(super) fn seen(solid: &Solid, facing: Axis) -> [[f64; 2]; 2] {
    let bounds = solid.bounds();
    [bounds.min, bounds.max].map(|at| facing.face().map(|axis| at[axis.index()]))
}
