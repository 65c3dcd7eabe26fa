//! The inside edges that corner strips stand in, as chosen: the upright ones, all, or each by itself.
use std::ops::RangeInclusive;

use super::document::Sheet;
use super::limits::FieldId;
use super::wood;
use crate::model::geometry::edges::Place;
use crate::model::geometry::{Axis, BodyKind, BoxSpec, InsideEdge, Plan};

/// Where in the table of entries the edges ticked one by one stand, in the order of the joints' edges.
pub const ENTRIES: RangeInclusive<FieldId> = FieldId::StripFrontLeft..=FieldId::StripRightTop;

/// The twelve ticks, in the order of [`wood::EDGES`].
pub static TICKS: [FieldId; 12] = [
    FieldId::StripFrontLeft,
    FieldId::StripFrontRight,
    FieldId::StripFrontBottom,
    FieldId::StripFrontTop,
    FieldId::StripBackLeft,
    FieldId::StripBackRight,
    FieldId::StripBackBottom,
    FieldId::StripBackTop,
    FieldId::StripLeftBottom,
    FieldId::StripLeftTop,
    FieldId::StripRightBottom,
    FieldId::StripRightTop,
];

/// The inside edge of two boards that meet, the one that faces along the earlier axis first.
fn edge([a, b]: [Place; 2]) -> Option<InsideEdge> {
    let along = Axis::ALL.into_iter().find(|axis| *axis != a.0 && *axis != b.0)?;
    Some(InsideEdge { along, first: a.1, second: b.1 })
}

/// The field of the joint whose boards meet in an inside edge: it has the edge's name.
#[must_use]
#[inline(never)] // only where a strip is named by its place
pub fn boards_at(at: InsideEdge) -> Option<FieldId> {
    wood::EDGES.iter().find(|(_, boards)| edge(*boards) == Some(at)).map(|(id, _)| *id)
}

/// The edges ticked, each with its field.
#[inline(never)] // few boxes have strips in edges of their own
pub fn ticked(sheet: &Sheet) -> Vec<(FieldId, InsideEdge)> {
    let each = TICKS.iter().zip(&wood::EDGES);
    each.filter(|(id, _)| sheet.choice(**id) == 1)
        .filter_map(|(id, (_, boards))| Some((*id, edge(*boards)?)))
        .collect()
}

/// The edges asked for.
#[must_use]
#[inline(never)] // not every box needs it: it may come after the first result
pub fn edges(sheet: &Sheet) -> Vec<InsideEdge> {
    match sheet.choice_key(FieldId::Strips) {
        "four" => InsideEdge::vertical().to_vec(),
        rarer => rarer_edges(sheet, rarer),
    }
}

#[inline(never)] // few boxes have others than the upright ones
fn rarer_edges(sheet: &Sheet, key: &str) -> Vec<InsideEdge> {
    match key {
        "all" => InsideEdge::all(),
        "own" => ticked(sheet).into_iter().map(|(_, edge)| edge).collect(),
        _ => Vec::new(),
    }
}

/// The edges ticked one by one that get no strip in a plan.
#[must_use]
pub fn left_out(sheet: &Sheet, plan: &Plan) -> Vec<FieldId> {
    let bodies = &plan.current().assembly.bodies;
    let there = |edge| bodies.iter().any(|body| body.kind == BodyKind::Strip(edge));
    ticked(sheet).into_iter().filter(|(_, edge)| !there(*edge)).map(|(id, _)| id).collect()
}

/// How many strips are asked for across a divided box, where its divider stands.
#[must_use]
pub fn across_divider(sheet: &Sheet, spec: &BoxSpec) -> u8 {
    if spec.divider().is_none() {
        return 0;
    }
    let across = edges(sheet).iter().filter(|edge| edge.along == Axis::Width).count();
    u8::try_from(across).unwrap_or(4)
}
