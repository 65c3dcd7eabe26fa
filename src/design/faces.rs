//! The faces that drivers and terminals sit in, and the board that comes off, as entered.
use super::document::Sheet;
use super::limits::FieldId;
use crate::model::geometry::edges::{BACK, BOTTOM, FRONT, LEFT, Place, RIGHT, TOP};
use crate::model::geometry::spec::Loose;

/// Where in the table their entries stand.
pub const ENTRIES: std::ops::RangeInclusive<FieldId> = FieldId::DriverFace..=FieldId::Batten;

/// The faces of those of `count` drivers that don't sit in the front.
#[must_use]
#[inline(never)] // few boxes have any: it may come after the first result
pub fn drivers(sheet: &Sheet, count: u8) -> Vec<Place> {
    let faces: &[Place] = match sheet.choice_key(FieldId::DriverFace) {
        "back" => &[BACK],
        "sides" => &[LEFT, RIGHT],
        "left" => &[LEFT],
        "right" => &[RIGHT],
        "top" => &[TOP],
        "bottom" => &[BOTTOM],
        "top and bottom" => &[BOTTOM, TOP],
        _ => return Vec::new(),
    };
    let there = match sheet.choice_key(FieldId::DriverFaceCount) {
        "half" => count.div_ceil(2),
        some => some.parse().unwrap_or(count).min(count),
    };
    faces.iter().copied().cycle().take(usize::from(there)).collect()
}

/// The face the terminals are in.
#[must_use]
#[inline(never)] // few boxes ask for it: it may come after the first result
pub fn terminal(sheet: &Sheet) -> Place {
    place(sheet.choice_key(FieldId::TerminalFace)).unwrap_or(BACK)
}

/// The board that is screwed on instead of glued, if one is.
#[must_use]
#[inline(never)] // few boxes have one: it may come after the first result
pub fn loose(sheet: &Sheet) -> Option<Loose> {
    let face = place(sheet.choice_key(FieldId::LooseBoard))?;
    Some(Loose { face, batten: sheet.length(FieldId::Batten).unwrap_or_default() })
}

fn place(key: &str) -> Option<Place> {
    Some(match key {
        "front" => FRONT,
        "back" => BACK,
        "left" => LEFT,
        "right" => RIGHT,
        "top" => TOP,
        "bottom" => BOTTOM,
        _ => return None,
    })
}
