//! Distances of passive radiators and of a divider in a shaped box, from the edges of their polygons.
use super::{Fact, Rectangle, SCREW_EDGE, body_to_wall};
use crate::model::geometry::assembly::{Assembly, BodyKind};
use crate::model::geometry::axes::{Axis, Point};
use crate::model::geometry::checks::forms::{
    between_flanges, in_divider, outer_of, strips_in_slots, tube_facts, tubes_on,
};
use crate::model::geometry::checks::front::{Opening, face, nearest_pair};
use crate::model::geometry::inscribed::room;
use crate::model::geometry::layout::slot_roofs;
use crate::model::geometry::parts::PartId;
use crate::model::geometry::plane::At;
use crate::model::geometry::polygon::Polygon;
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::{BoxSpec, Divider, RadiatorCutout, RadiatorPlace};
use crate::units::ExactLength;

/// Smallest distance of a circle from the edges of the polygon it lies in; below zero by as much as it reaches beyond.
pub(in crate::model::geometry) fn to_edges(
    polygon: &Polygon,
    at: Point,
    diameter: ExactLength,
) -> ExactLength {
    let middle: At = [at.depth, at.height].map(ExactLength::millimetres);
    ExactLength::from_millimetres(room(polygon.corners(), middle) - diameter.millimetres() / 2.0)
}

/// The section of the inside.
fn hollow(assembly: &Assembly) -> Option<Polygon> {
    match assembly.hollow {
        Some(Solid::Prism { section, .. }) => Some(section),
        _ => None,
    }
}

/// Passive radiators; `front` is what of the front's inner face is free.
pub(super) fn radiators(
    spec: &BoxSpec,
    assembly: &Assembly,
    (radiators, front): (RadiatorCutout, Rectangle),
    facts: &mut Vec<Fact>,
) {
    let places = || (0u8..).zip(&assembly.layout.others);
    if radiators.place == RadiatorPlace::Sides {
        if let (Some(outside), Some(inside)) = (assembly.side(), hollow(assembly)) {
            for (radiator, &at) in places() {
                let gap = to_edges(&outside, at, radiators.flange);
                facts.push(Fact::RadiatorToEdge { radiator, gap, wanted: SCREW_EDGE });
                let gap = to_edges(&inside, at, radiators.cutout);
                facts.push(Fact::RadiatorToWall { radiator, gap });
            }
        }
        let gap = assembly.inside.width - (radiators.depth - spec.boards.shell.thickness);
        facts.push(Fact::RadiatorBehind { gap });
        return;
    }
    let outer = assembly.bodies.iter().find(|body| body.kind == BodyKind::Board(PartId::Front(0)));
    let outer = outer.map(|board| face(&board.solid));
    for (radiator, &at) in places() {
        if let Some((low, high)) = outer {
            let gap = Opening::new(at, radiators.flange).to_sides(low, high);
            facts.push(Fact::RadiatorToEdge { radiator, gap, wanted: SCREW_EDGE });
        }
        let gap = Opening::new(at, radiators.cutout).to_sides(front.0, front.1);
        facts.push(Fact::RadiatorToWall { radiator, gap });
    }
    let hulls = assembly.bodies.iter().filter(|body| matches!(body.kind, BodyKind::Radiator(_)));
    let gap = hulls.filter_map(|hull| body_to_wall(assembly, hull)).reduce(f64::min);
    facts.extend(gap.map(|gap| Fact::RadiatorBehind { gap: ExactLength::from_millimetres(gap) }));
    between_flanges(spec, assembly, radiators, facts);
}

/// A divider with its drivers, and the tubes of both rooms; `front` is what of the front's inner face is free.
pub(super) fn divided(
    spec: &BoxSpec,
    assembly: &Assembly,
    (divider, front): (Divider, Rectangle),
    facts: &mut Vec<Fact>,
) {
    let Some(inside) = hollow(assembly) else { return };
    let low = assembly.inside_min;
    // The roofs of slots lie against the divider.
    let [before, behind] = slot_roofs(spec, divider);
    let above = |up: ExactLength| inside.clipped(1, (low.height + up).millimetres(), true);
    let (face, board) = (above(before), above(before.max(behind)));
    let [to_face, to_board] =
        [&face, &board].map(|free| move |at: Point, diameter: ExactLength| to_edges(free, at, diameter));
    in_divider(spec, assembly, divider, [&to_face, &to_board], facts);
    let tubes = &assembly.layout.tubes;
    if divider.inward {
        let outer = outer_of(&spec.port);
        for (tube, &at) in (0u8..).zip(tubes) {
            facts.push(Fact::TubeToWall { tube, gap: to_edges(&board, at, outer) });
        }
        let gap = nearest_pair(&tubes_on(Axis::Width, tubes, outer));
        facts.extend(gap.map(|gap| Fact::TubeToTube { gap }));
    }
    let (least, most) = front;
    let room =
        |from: ExactLength, to: ExactLength| ([from.millimetres(), least[1]], [to.millimetres(), most[1]]);
    if let Some(own) = divider.tubes() {
        let here = tubes_on(Axis::Depth, &assembly.layout.others, own.outer());
        tube_facts(&here, room(low.width, low.width + divider.room), facts);
    }
    if !divider.inward {
        let from = low.width + spec.before_cones();
        let here = tubes_on(Axis::Depth, tubes, outer_of(&spec.port));
        tube_facts(&here, room(from, low.width + assembly.inside.width), facts);
    }
    strips_in_slots(spec, facts);
}
