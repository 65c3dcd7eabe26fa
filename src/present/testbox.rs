//! The test box and the way through the door, in names, values, units.
use super::bench::Row;
use super::format::fixed;
use super::names;
use crate::design::report::Gap;
use crate::design::testbox::{Extra, ExtraPart, TestBox};
use crate::model::geometry::door::Passage;
use crate::model::geometry::insert::LEAST_SEAT;
use crate::model::geometry::legs::LEAST_TIP_DEGREES;
use crate::model::geometry::{Board, Corner, Face, Outline, PartId};
use crate::present::tables::PartRow;
use crate::present::templates::Template;
use crate::units::{ExactLength, Quantity, UnitPrefs};
use crate::words::testbox as words;

/// Figures of a test box.
#[must_use]
pub fn rows(found: &TestBox, prefs: &UnitPrefs) -> Vec<Row> {
    let unit = prefs.unit_for(Quantity::Length).symbol();
    let text = |length: ExactLength| prefs.length_text(length);
    let square = |area: crate::units::Area| fixed(area.square_metres() * 1e4, 0);
    let mut rows = vec![(words::LEGS, text(found.legs.height), unit)];
    if let Some(need) = found.need {
        rows.push((words::LEGS_NEED, text(need.height()), unit));
    }
    rows.push((
        words::WINDOW,
        format!("{} × {}", text(found.legs.window), text(found.legs.height - found.legs.rail)),
        unit,
    ));
    rows.push((words::FEET, text(found.foot), unit));
    rows.push((words::OPENINGS, square(found.openings), "cm²"));
    if let Some(cones) = found.cones {
        rows.push((words::CONES, square(cones), "cm²"));
    }
    let least = found.tips.iter().map(|(_, tip)| *tip).fold(f64::INFINITY, f64::min);
    if let Some((face, tip)) = found.tips.iter().find(|(_, tip)| *tip <= least) {
        rows.push((words::TIPS, format!("{}°, {}", fixed(*tip, 0), face_name(*face)), ""));
    }
    if let Some(Ok(insert)) = &found.insert {
        let size = format!(
            "{} × {} × {} × {}",
            insert.count(),
            text(insert.side),
            text(insert.side),
            text(insert.length)
        );
        rows.push((words::BLOCKS, size, unit));
        for at in &insert.places {
            let at = [at.width, at.height, at.depth].map(text);
            rows.push((words::BLOCK_AT, at.join(", "), unit));
        }
        rows.push((words::BLOCKS_TAKE, fixed(insert.volume.litres(), 1), "L"));
        rows.push((words::BLOCKS_LEAVE, fixed(insert.net.litres(), 1), "L"));
    }
    if let Some(Ok(ring)) = found.adapter {
        rows.push((words::RING, format!("⌀ {} / {}", text(ring.outside), text(ring.hole)), unit));
    }
    if let Some((count, plug)) = found.plug {
        rows.push((words::PLUGS, format!("{count} × ⌀ {} / {}", text(plug.outer), text(plug.inner)), unit));
    }
    rows
}

/// What to mind about a test box.
#[must_use]
pub fn notes(found: &TestBox, prefs: &UnitPrefs) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(need) = found.need.filter(|need| need.height() > found.legs.height) {
        notes.push(words::low(&prefs.length_text(need.height())));
    }
    if found.cones.is_some_and(|cones| cones.square_metres() > found.openings.square_metres()) {
        notes.push(words::CLOSED_IN.into());
    }
    for (face, tip) in found.tips.iter().filter(|(_, tip)| *tip < LEAST_TIP_DEGREES) {
        notes.push(words::falls(face_name(*face), &fixed(*tip, 0)));
    }
    if let Some(Err(Gap::Refused(error))) = &found.insert {
        notes.push(error.to_string());
    }
    match &found.adapter {
        Some(Ok(ring)) if ring.seat.min(ring.rim) < LEAST_SEAT => notes.push(words::THIN_RING.into()),
        Some(Ok(ring)) if ring.spare < ExactLength::ZERO => notes.push(words::WIDE_FLANGE.into()),
        Some(Err(Gap::Refused(error))) => notes.push(error.to_string()),
        _ => {}
    }
    notes
}

/// How the box goes through the door, and whether it does.
#[must_use]
pub fn way_through(found: &Passage, prefs: &UnitPrefs) -> (bool, String) {
    let length = |length: ExactLength| super::format::length(length, prefs).to_string();
    let first = names::axis(found.along);
    if found.spare < ExactLength::ZERO {
        (false, words::stuck(&length(-found.spare)))
    } else {
        (true, words::goes(first, &length(found.spare)))
    }
}

const fn face_name(face: Face) -> &'static str {
    match face {
        Face::Front => words::ON_LEGS,
        Face::Back => words::ON_BACK,
        Face::Left => words::ON_LEFT,
        Face::Right => words::ON_RIGHT,
        Face::Bottom => words::ON_BOTTOM,
        Face::Top => words::ON_TOP,
    }
}

/// What a piece beside the box is called.
#[must_use]
pub const fn extra_name(extra: Extra) -> &'static str {
    match extra {
        Extra::Block => words::BLOCK_BOARD,
        Extra::Ring => words::RING,
        Extra::PlugInside => words::PLUG_INSIDE,
        Extra::PlugOutside => words::PLUG_OUTSIDE,
    }
}

/// The pieces beside the box as lines of the cut list.
#[must_use]
pub fn part_rows(extras: &[ExtraPart], thickness: ExactLength, prefs: &UnitPrefs) -> Vec<PartRow> {
    let text = |length: ExactLength| prefs.length_text(length);
    let row = |part: &ExtraPart| PartRow {
        name: format!("{} × {}", part.count, extra_name(part.name)),
        size: match part.hole {
            None => format!("{} × {} × {}", text(part.length), text(part.width), text(thickness)),
            Some(ExactLength::ZERO) => format!("⌀ {} × {}", text(part.length), text(thickness)),
            Some(hole) => format!("⌀ {} / {} × {}", text(part.length), text(hole), text(thickness)),
        },
        edges: if part.hole.is_some() { words::ROUND } else { crate::words::table::SQUARE }.into(),
    };
    extras.iter().map(row).collect()
}

/// Weight of the pieces beside the box, in kg each.
#[must_use]
pub fn weights(extras: &[ExtraPart], board: Board) -> Vec<Row> {
    let row = |part: &ExtraPart| {
        let each = part.mass(board).kilograms() / part.count.max(1) as f64;
        (extra_name(part.name), format!("{} × {}", part.count, fixed(each, 2)), "kg")
    };
    extras.iter().map(row).collect()
}

/// Templates of ring and plug.
#[must_use]
pub fn extra_templates(found: &TestBox, thickness: ExactLength) -> Vec<Template> {
    let mut all = Vec::new();
    if let Some(Ok(ring)) = found.adapter {
        all.push(disc("adapter-ring", words::RING, ring.outside, Some(ring.hole), 1, thickness));
    }
    if let Some((count, plug)) = found.plug {
        all.push(disc("plug-inside", words::PLUG_INSIDE, plug.inner, None, count.into(), thickness));
        all.push(disc("plug-outside", words::PLUG_OUTSIDE, plug.outer, None, count.into(), thickness));
    }
    all
}

fn disc(
    file: &str,
    title: &str,
    outside: ExactLength,
    hole: Option<ExactLength>,
    count: usize,
    thickness: ExactLength,
) -> Template {
    use crate::model::geometry::{Axis, Hole, HoleShape, HoleUse};
    let d = outside.millimetres();
    // Two half circles: tan(180°/4).
    let edge: Vec<Corner> = vec![([0.0, d / 2.0], 1.0), ([d, d / 2.0], 1.0)];
    let middle = outside.halved();
    let hole = hole.map(|hole| Hole {
        use_: HoleUse::Driver,
        at: [middle; 2],
        shape: HoleShape::Round(hole),
        depth: None,
    });
    let outline = Outline {
        part: PartId::Front(0),
        axes: [Axis::Width, Axis::Height],
        size: [outside; 2],
        thickness,
        holes: hole.into_iter().collect(),
        edge,
        openings: Vec::new(),
    };
    Template { file: file.into(), title: title.into(), count, outline }
}
