//! Where the drivers' face looks in the vehicle. A box is always planned with its drivers in the front; where that looks
//! up, down or to a side, the space is turned to the box instead.

use super::document::Sheet;
use super::limits::FieldId;
use super::space::is_measured;
use crate::model::error::ModelError;
use crate::model::geometry::{Axis, Dims, Space};

/// Where the drivers' face looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// Forward or back: the box stands as it is drawn.
    Along,
    /// Up.
    Up,
    /// At the floor.
    Down,
    /// Left or right.
    Aside,
}

impl Look {
    /// Whether the box has a face of drivers to turn: a baffle fills its opening, rings stand on their outline.
    #[must_use]
    pub fn applies(sheet: &Sheet) -> bool {
        sheet.choice_key(FieldId::BoxKind) != "infinite baffle"
            && sheet.choice_key(FieldId::Construction) != "rings"
    }

    /// As chosen, where it applies.
    #[must_use]
    #[inline(never)] // few boxes are turned
    pub fn of(sheet: &Sheet) -> Self {
        match sheet.choice_key(FieldId::Look) {
            _ if !Self::applies(sheet) => Self::Along,
            "up" => Self::Up,
            "down" => Self::Down,
            "aside" => Self::Aside,
            _ => Self::Along,
        }
    }

    /// The box's axis that lies along an axis of the vehicle, and the other way round.
    #[must_use]
    pub const fn axis(self, axis: Axis) -> Axis {
        match (self, axis) {
            (Self::Up | Self::Down, Axis::Height) | (Self::Aside, Axis::Width) => Axis::Depth,
            (Self::Up | Self::Down, Axis::Depth) => Axis::Height,
            (Self::Aside, Axis::Depth) => Axis::Width,
            _ => axis,
        }
    }

    /// Sizes along the vehicle's axes as the box has them, and the other way round.
    #[must_use]
    pub fn turned(self, size: Dims) -> Dims {
        Dims::of(|axis| size.get(self.axis(axis)))
    }
}

/// The space as a turned box has it; one that looks down leaves the gap under it free, unless it stands on legs of its
/// own, which the plan takes off.
#[inline(never)] // few boxes are turned
pub(super) fn turned_space(sheet: &Sheet, mut space: Space) -> Space {
    let look = Look::of(sheet);
    space.size = look.turned(space.size);
    if look == Look::Down && sheet.choice(FieldId::TestBox) == 0 {
        space.size.depth = space.size.depth - sheet.length(FieldId::FloorGap).unwrap_or_default();
    }
    space
}

/// Whether the space is a plain block, the only one that a box is turned in.
///
/// # Errors
/// [`ModelError::Impossible`] where a turned box meets more than the block.
pub fn check(sheet: &Sheet) -> Result<(), ModelError> {
    let plain = sheet.given(FieldId::SpaceTopDepth).is_none() && !is_measured(sheet);
    if plain || Look::of(sheet) == Look::Along { Ok(()) } else { Err(more_than_a_block()) }
}

#[inline(never)] // its words come after the first result
fn more_than_a_block() -> ModelError {
    ModelError::Impossible {
        what: "drivers that look up, down or to a side are planned in a plain block of space: take out the depth at the top and what is measured or kept free beside the block",
    }
}
