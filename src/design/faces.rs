//! The faces that drivers and terminals sit in, and the board that comes off, as entered.
use super::document::Sheet;
use super::limits::FieldId;
use crate::model::geometry::BoxSpec;
use crate::model::geometry::edges::{BACK, BOTTOM, FRONT, LEFT, Place, RIGHT, TOP};
use crate::model::geometry::spec::Loose;
use crate::units::ExactLength;

/// Where in the table their entries stand.
pub const ENTRIES: std::ops::RangeInclusive<FieldId> = FieldId::DriverFace..=FieldId::Batten;

/// Takes them into a box with a driver and terminals.
#[inline(never)] // few boxes have any: it may come after the first result
pub fn take_in(sheet: &Sheet, spec: &mut BoxSpec) {
    if let Some(driver) = &mut spec.driver {
        driver.elsewhere = drivers(sheet, driver.count);
        // A recess is cut into the front, where no driver is then.
        driver.recess = driver.recess.filter(|_| driver.in_front() > 0);
    }
    if let Some(terminal) = &mut spec.terminal {
        terminal.face = place(sheet.choice_key(FieldId::TerminalFace)).unwrap_or(BACK);
        let wider = sheet.length(FieldId::TerminalWindow);
        terminal.window = wider.filter(|wider| *wider > ExactLength::ZERO);
    }
    let batten = sheet.length(FieldId::Batten).unwrap_or_default();
    spec.loose = place(sheet.choice_key(FieldId::LooseBoard)).map(|face| Loose { face, batten });
}

/// Whether drivers are entered for another face than the front.
#[must_use]
pub fn has_drivers(sheet: &Sheet) -> bool {
    sheet.choice(FieldId::DriverFace) != 0
}

/// Whether a flush recess is entered for a front without drivers: it is not cut.
#[must_use]
#[inline(never)] // few boxes have any: it may come after the first result
pub fn recess_is_idle(sheet: &Sheet, spec: &BoxSpec) -> bool {
    let driver = spec.driver.as_ref();
    sheet.choice_key(FieldId::Recess) == "flush" && driver.is_some_and(|driver| driver.in_front() == 0)
}

/// The faces of those of `count` drivers that don't sit in the front.
fn drivers(sheet: &Sheet, count: u8) -> Vec<Place> {
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
