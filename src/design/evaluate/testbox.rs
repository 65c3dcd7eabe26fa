//! The legs of a test box, and the space that remains for the box above them.
use super::{Filled, missing, needed_length};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{Gap, Part};
use crate::model::acoustics::datasheet::Resolved;
use crate::model::geometry::edges::Owners;
use crate::model::geometry::{BoxSpec, LegNeed, Legs, Pair, Precedence};
use crate::units::ExactLength;

/// Feet left beside an automatic window: 60 mm (common practice, no source).
const FOOT: ExactLength = ExactLength::from_hundredths_mm(6_000);
/// Side of a box whose height isn't known yet, for an automatic window.
const USUAL_SIDE: ExactLength = ExactLength::from_hundredths_mm(36_000);

/// Whether the box is a test box.
pub(crate) fn is_test_box(sheet: &Sheet) -> bool {
    sheet.choice_key(FieldId::TestBox) == "legs"
}

/// Gives a test box its legs; takes their height from the depth of the space.
#[inline(never)] // not every box needs it: it may come after the first result
pub(super) fn add_legs(
    sheet: &Sheet,
    driver: Option<&Resolved>,
    spec: &mut BoxSpec,
    filled: &mut Filled,
) -> Part<()> {
    let usable = spec.space.map(|space| space.usable());
    let side = sheet.length(FieldId::BoxHeight).or(usable.map(|usable| usable.height)).unwrap_or(USUAL_SIDE);
    let width = sheet.length(FieldId::BoxWidth).or(usable.map(|usable| usable.width)).unwrap_or(USUAL_SIDE);
    let window = sheet.length(FieldId::LegWindow).unwrap_or_else(|| {
        let usual =
            (side - FOOT * 2).max(side.min(FOOT)).rounded_down_to(ExactLength::from_hundredths_mm(500));
        filled.insert(FieldId::LegWindow, usual.metres());
        usual
    });
    let mut legs = Legs {
        height: ExactLength::from_hundredths_mm(100),
        window,
        corner_radius: needed_length(sheet, FieldId::LegCorner)?,
        rail: needed_length(sheet, FieldId::LegRail)?,
    };
    legs.height = match sheet.given(FieldId::LegHeight) {
        Some(height) => height.exact_length(),
        None => {
            let driver = driver.ok_or_else(|| missing(&[FieldId::LegHeight]))?;
            let count = spec.driver.as_ref().map_or(1, |driver| driver.in_front());
            let inside = width - spec.boards.shell.thickness * 2;
            let height = LegNeed::of(driver.driver.sd, count, driver.xmax, legs, inside)?.height();
            filled.insert(FieldId::LegHeight, height.metres());
            height
        }
    };
    legs.height = legs.height.rounded_to(spec.tape_step);
    let sides_first = Precedence::new([Pair::Sides, Pair::TopBottom, Pair::FrontBack]).map_err(Gap::from)?;
    spec.owners = Owners::by(sides_first);
    spec.legs = Some(legs);
    if let Some(space) = &mut spec.space {
        space.size.depth = space.size.depth - legs.height;
    }
    Ok(())
}
