//! The space with the box in it: rows, notes, and a drawing from the side and from above.
use super::bench::Row;
use super::format::{fixed, length};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::look::Look;
use crate::design::report::BoxReport;
use crate::design::space::{Vehicle, hatch, vehicle};
use crate::model::geometry::space::measure::{Skew, reclined};
use crate::model::geometry::space::{Hit, KeepOut, KeepOutKind, Prism, Standing, largest_block};
use crate::model::geometry::spec::Slant;
use crate::model::geometry::{Axis, legs::Face};
use crate::units::{ExactLength, Quantity, UnitPrefs};
use crate::words::space as words;

/// A point on the sheet: x to the right, y downwards.
pub type At = [f64; 2];

/// What an area of the drawing is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// The block the space is measured in.
    Block,
    /// Kept free.
    KeptFree,
    /// The box.
    Box,
}

/// The drawing: two views over each other at one scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// Natural size.
    pub size: At,
    /// Outlines in drawing order.
    pub areas: Vec<(Part, Vec<At>)>,
    /// Names of the views with the left end of their base line.
    pub titles: [(At, &'static str); 2],
}

/// Height of a view's name and the space around the views, in sheet units.
const TITLE: f64 = 20.0;
const MARGIN: f64 = 6.0;

/// What something kept free is called.
#[must_use]
pub fn kind(kind: KeepOutKind) -> String {
    match kind {
        KeepOutKind::Behind => words::BEHIND.into(),
        KeepOutKind::Rear => words::REAR.into(),
        KeepOutKind::LeftSide => words::LEFT_SIDE.into(),
        KeepOutKind::RightSide => words::RIGHT_SIDE.into(),
        KeepOutKind::LeftArch => words::LEFT_ARCH.into(),
        KeepOutKind::RightArch => words::RIGHT_ARCH.into(),
        KeepOutKind::Well => words::ABOVE_WELL.into(),
        KeepOutKind::Lid => words::LID_SWEEP.into(),
        KeepOutKind::Own(number) => words::own(number),
    }
}

const fn face(face: Face) -> &'static str {
    match face {
        Face::Front => words::FRONT,
        Face::Back => words::BACK,
        Face::Left => words::LEFT,
        Face::Right => words::RIGHT,
        Face::Top => words::TOP,
        Face::Bottom => words::BOTTOM,
    }
}

/// A hit as a sentence.
#[must_use]
#[inline(never)] // only where more than the block is measured
pub fn hit(hit: &Hit, prefs: &UnitPrefs) -> String {
    // Rounded up: a box made smaller by as much goes in.
    let over = length(tenths_up(hit.over), prefs).to_string();
    words::hit(&kind(hit.kind), face(hit.face), &over)
}

fn tenths_up(mm: f64) -> ExactLength {
    ExactLength::from_millimetres((mm * 10.0 - 1e-6).ceil() / 10.0)
}

fn tenths(mm: f64) -> ExactLength {
    ExactLength::from_millimetres((mm * 10.0).round() / 10.0)
}

/// What the measures of the space come to, without a box.
#[must_use]
pub fn measured(space: &Vehicle, sheet: &Sheet, prefs: &UnitPrefs) -> Vec<Row> {
    let unit = prefs.unit_for(Quantity::Length).symbol();
    let text = |mm: f64| prefs.length_text(tenths(mm));
    let times = |sizes: &[f64]| sizes.iter().map(|size| text(*size)).collect::<Vec<_>>().join(" × ");
    let mut rows = Vec::new();
    let mut skew = |found: &Skew, what: &'static str| {
        rows.push((words::SQUARE, text(found.shift.abs()), unit));
        rows.push((what, times(&found.rectangle), unit));
    };
    if let Some(floor) = &space.floor {
        skew(floor, words::TRUE_RECTANGLE);
    }
    if let Some(Ok(hatch)) = &hatch(sheet) {
        skew(hatch, words::HATCH_RECTANGLE);
    }
    if let Some(degrees) = sheet.si(FieldId::SeatRecline) {
        let [depth, _, height] = space.block.millimetres();
        rows.push((words::TOP_BY_GAUGE, text(reclined(depth, height, degrees)), unit));
    }
    if let Some(well) = space.well {
        let [depth, width, height] = well.millimetres();
        rows.push((words::WELL_GIVES, times(&[width, depth, height]), unit));
    }
    let block = largest_block(space.block, &space.keep_outs, space.clearance.millimetres());
    if let Some([min, max]) = block.filter(|_| !space.keep_outs.is_empty()) {
        let size = [1, 2, 0].map(|axis: usize| ((max[axis] - min[axis]) * 10.0).floor() / 10.0);
        rows.push((words::LARGEST, times(&size), unit));
    }
    rows
}

/// How the box stands in it.
#[must_use]
pub fn standing(
    space: &Vehicle,
    found: &Standing,
    bodies: &[Prism],
    prefs: &UnitPrefs,
) -> Vec<(String, String, &'static str)> {
    let unit = prefs.unit_for(Quantity::Length).symbol();
    let text = |mm: f64| prefs.length_text(tenths(mm));
    let mut rows =
        vec![(words::STANDS.to_owned(), format!("{}, {}", text(found.at[0]), text(found.at[1])), unit)];
    rows.extend(space.gaps(bodies, found.at).iter().map(|(what, gap)| {
        let gap = if *gap > 0.0 { text((gap * 10.0).floor() / 10.0) } else { words::NO_GAP.into() };
        (words::gap(&kind(*what)), gap, unit)
    }));
    let mm3: f64 = bodies.iter().map(Prism::volume_mm3).sum();
    rows.push((words::OUTSIDE_VOLUME.into(), fixed(mm3 * 1e-6, 1), "L"));
    rows
}

/// What can't be read or does not agree, with its entry.
#[must_use]
pub fn notes(space: &Vehicle, sheet: &Sheet, prefs: &UnitPrefs) -> Vec<(FieldId, String)> {
    let mut all: Vec<(FieldId, String)> =
        space.refused.iter().map(|(id, error)| (*id, format!("{}: {error}.", id.row().label))).collect();
    // What a tape and two hands allow; common practice, no source.
    let miss = |skew: &Skew| Some(skew.miss).filter(|miss| miss.abs() > 5.0);
    let say = |mm: f64| words::miss(&length(tenths(mm.abs()), prefs).to_string());
    all.extend(space.floor.as_ref().and_then(miss).map(|mm| (FieldId::FloorDiagonal, say(mm))));
    match hatch(sheet) {
        Some(Ok(hatch)) => all.extend(miss(&hatch).map(|mm| (FieldId::DoorDiagonal, say(mm)))),
        Some(Err(error)) => all.push((FieldId::DoorDiagonal, format!("{error}."))),
        None => {}
    }
    all
}

/// Draws the space with what is kept free and the box in its place, `width` wide.
#[must_use]
pub fn draw(
    space: &Vehicle,
    boxed: Option<(&[Prism], &Standing)>,
    slant: Option<Slant>,
    width: f64,
) -> Drawing {
    let [deep, wide, high] = space.block.millimetres().map(|size| size.max(1.0));
    let scale = (width - 2.0 * MARGIN) / deep.max(wide * 0.6);
    let side = |[depth, _, height]: [f64; 3]| [MARGIN + depth * scale, TITLE + (high - height) * scale];
    let top = TITLE + high * scale + TITLE + MARGIN;
    let plan = |[depth, across, _]: [f64; 3]| [MARGIN + depth * scale, top + across * scale];
    let mut areas = Vec::new();
    let mut add = |part, prism: &Prism| {
        areas.push((part, outline(prism, Axis::Width, &side)));
        areas.push((part, outline(prism, Axis::Height, &plan)));
    };
    let block = Prism::block([0.0; 3], [deep, wide, high]);
    add(Part::Block, &block);
    for keep_out in &space.keep_outs {
        add(Part::KeptFree, &within(&keep_out.prism, &block));
    }
    if let Some(slant) = slant {
        areas.push((Part::KeptFree, behind(slant, deep).map(|[x, z]| side([x, 0.0, z])).to_vec()));
    }
    if let Some((bodies, standing)) = boxed {
        for body in bodies {
            let body = body.moved(standing.at);
            areas.push((Part::Box, outline(&body, Axis::Width, &side)));
            areas.push((Part::Box, outline(&body, Axis::Height, &plan)));
        }
    }
    Drawing {
        size: [2.0 * MARGIN + deep * scale, top + wide * scale + MARGIN],
        areas,
        titles: [([MARGIN, TITLE - 6.0], words::SIDE_VIEW), ([MARGIN, top - 6.0], words::PLAN_VIEW)],
    }
}

/// What is kept free and the block of the space, both from where the box stands; `None` without a space, and where the box
/// is turned in it.
#[must_use]
#[inline(never)] // only the saw's drawing shows it
pub fn from_box(sheet: &Sheet, enclosure: &BoxReport) -> Option<(Vec<KeepOut>, Prism)> {
    if enclosure.spec.is_baffle() || Look::of(sheet) != Look::Along {
        return None;
    }
    let space = vehicle(sheet)?;
    let at = space.standing(sheet, enclosure).at.map(|x| -x);
    let size = space.block.millimetres();
    let mut kept = space.keep_outs;
    let told = kept.iter().any(|keep_out| keep_out.kind == KeepOutKind::Behind);
    if let Some(slant) = enclosure.spec.space.and_then(|space| space.slant).filter(|_| !told) {
        let section = behind(slant, size[0]).to_vec();
        let prism = Prism::over(Axis::Width, [0.0, size[1]], section);
        kept.push(KeepOut { kind: KeepOutKind::Behind, prism });
    }
    for keep_out in &mut kept {
        keep_out.prism = keep_out.prism.moved(at);
    }
    Some((kept, Prism::block([0.0; 3], size).moved(at)))
}

/// Behind a leaning limit: depth, height.
fn behind(slant: Slant, deep: f64) -> [At; 4] {
    let [low, top, up] = [slant.depth, slant.top_depth, slant.height].map(ExactLength::millimetres);
    [[low, 0.0], [deep, 0.0], [deep, up], [top, up]]
}

/// What of a body lies within the block, for the drawing only: corners moved to its faces.
fn within(prism: &Prism, block: &Prism) -> Prism {
    let [min, max] = block.bounds();
    let (along, ends, section) = prism.parts();
    let [a, b] = along.others().map(Axis::index);
    let clamp = |value: f64, axis: usize| value.clamp(min[axis], max[axis]);
    let section = section.iter().map(|at| [clamp(at[0], a), clamp(at[1], b)]).collect();
    Prism::over(along, ends.map(|end| clamp(end, along.index())), section)
}

/// The outline of a body seen along an axis: its section, or the rectangle around it.
pub(super) fn outline(prism: &Prism, seen_along: Axis, place: &dyn Fn([f64; 3]) -> At) -> Vec<At> {
    let (along, _, section) = prism.parts();
    if along == seen_along {
        let corners = prism.corners();
        return corners.iter().take(section.len()).map(|at| place(*at)).collect();
    }
    let [min, max] = prism.bounds();
    let [a, b] = seen_along.others().map(Axis::index);
    let corner = |x: f64, y: f64| {
        let mut at = min;
        at[a] = x;
        at[b] = y;
        place(at)
    };
    vec![corner(min[a], min[b]), corner(max[a], min[b]), corner(max[a], max[b]), corner(min[a], max[b])]
}
