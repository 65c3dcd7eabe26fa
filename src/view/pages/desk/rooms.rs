//! The entries of a box with two rooms.
use yew::prelude::*;

use crate::design::limits::FieldId::{self, *};
use crate::view::components::fields;
use crate::view::store::Handle;

/// What a box that is closed behind the cones asks for, and one that has a port there.
pub(super) const CLOSED_BEHIND: &[FieldId] = &[BoxKind, DriverCount, WantedQtc, WantedNet];
pub(super) const PORT_BEHIND: &[FieldId] = &[BoxKind, DriverCount, WantedNet, WantedTuning];

const SHAPE: &[FieldId] = &[PortShape];
const TUBE: &[FieldId] = &[PortDiameter, PortCount, PortLength];
const SLOT: &[FieldId] = &[SlotHeight, PortLength];
const FRONT: &[FieldId] = &[FrontNet, FrontTuning, FrontPortShape];
const FRONT_TUBE: &[FieldId] = &[FrontPortDiameter, FrontPortCount, FrontPortLength];
const FRONT_SLOT: &[FieldId] = &[FrontSlotHeight, FrontPortLength];

/// The port behind the cones, then room and port before them; a port from room to room is a tube.
#[inline(never)] // no first box has two rooms: it may come after the first result
pub(super) fn ports(store: &Handle) -> Html {
    let sheet = &store.design().sheet;
    let slot = |id| sheet.choice_key(id) == "slot";
    let (shape, behind): (&[FieldId], &[FieldId]) = match sheet.choice_key(BoxKind) {
        "bandpass 4" => (&[], &[]),
        "bandpass 6 inward" => (&[], TUBE),
        _ => (SHAPE, if slot(PortShape) { SLOT } else { TUBE }),
    };
    let before = if slot(FrontPortShape) { FRONT_SLOT } else { FRONT_TUBE };
    html! { <>{ for [shape, behind, FRONT, before].map(|ids| fields(store, ids)) }</> }
}
