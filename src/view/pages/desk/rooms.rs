//! The entries of a box with two rooms.
use crate::design::document::Sheet;
use crate::design::limits::FieldId::{self, *};

const FOUR_TUBE: &[FieldId] = &[
    BoxKind,
    DriverCount,
    WantedQtc,
    WantedNet,
    FrontNet,
    FrontTuning,
    FrontPortShape,
    FrontPortDiameter,
    FrontPortCount,
    FrontPortLength,
];
const FOUR_SLOT: &[FieldId] = &[
    BoxKind,
    DriverCount,
    WantedQtc,
    WantedNet,
    FrontNet,
    FrontTuning,
    FrontPortShape,
    FrontSlotHeight,
    FrontPortLength,
];
const INWARD_TUBE: &[FieldId] = &[
    BoxKind,
    DriverCount,
    WantedNet,
    WantedTuning,
    PortDiameter,
    PortCount,
    PortLength,
    FrontNet,
    FrontTuning,
    FrontPortShape,
    FrontPortDiameter,
    FrontPortCount,
    FrontPortLength,
];
const INWARD_SLOT: &[FieldId] = &[
    BoxKind,
    DriverCount,
    WantedNet,
    WantedTuning,
    PortDiameter,
    PortCount,
    PortLength,
    FrontNet,
    FrontTuning,
    FrontPortShape,
    FrontSlotHeight,
    FrontPortLength,
];
const TUBE_TUBE: &[FieldId] = &[
    BoxKind,
    DriverCount,
    WantedNet,
    WantedTuning,
    PortShape,
    PortDiameter,
    PortCount,
    PortLength,
    FrontNet,
    FrontTuning,
    FrontPortShape,
    FrontPortDiameter,
    FrontPortCount,
    FrontPortLength,
];
const TUBE_SLOT: &[FieldId] = &[
    BoxKind,
    DriverCount,
    WantedNet,
    WantedTuning,
    PortShape,
    PortDiameter,
    PortCount,
    PortLength,
    FrontNet,
    FrontTuning,
    FrontPortShape,
    FrontSlotHeight,
    FrontPortLength,
];
const SLOT_TUBE: &[FieldId] = &[
    BoxKind,
    DriverCount,
    WantedNet,
    WantedTuning,
    PortShape,
    SlotHeight,
    PortLength,
    FrontNet,
    FrontTuning,
    FrontPortShape,
    FrontPortDiameter,
    FrontPortCount,
    FrontPortLength,
];
const SLOT_SLOT: &[FieldId] = &[
    BoxKind,
    DriverCount,
    WantedNet,
    WantedTuning,
    PortShape,
    SlotHeight,
    PortLength,
    FrontNet,
    FrontTuning,
    FrontPortShape,
    FrontSlotHeight,
    FrontPortLength,
];

/// The fields that count for the kind and for the shapes of both ports.
#[inline(never)] // no first box has two rooms: it may come after the first result
pub(super) fn fields(sheet: &Sheet) -> &'static [FieldId] {
    let slot = |id| sheet.choice_key(id) == "slot";
    match (sheet.choice_key(BoxKind), slot(PortShape), slot(FrontPortShape)) {
        ("bandpass 4", _, false) => FOUR_TUBE,
        ("bandpass 4", _, true) => FOUR_SLOT,
        ("bandpass 6 inward", _, false) => INWARD_TUBE,
        ("bandpass 6 inward", _, true) => INWARD_SLOT,
        (_, false, false) => TUBE_TUBE,
        (_, false, true) => TUBE_SLOT,
        (_, true, false) => SLOT_TUBE,
        (_, true, true) => SLOT_SLOT,
    }
}
