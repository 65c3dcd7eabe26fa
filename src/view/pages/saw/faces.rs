//! The entries of drivers and terminals in other faces, and of a board that comes off.
use yew::prelude::*;

use crate::design::limits::FieldId;
use crate::view::components::{Fold, el, fields, tx};
use crate::view::store::Handle;
use crate::words::faces as words;

const DRIVERS: &[FieldId] = &[FieldId::DriverFace, FieldId::DriverFaceCount];
const TERMINALS: &[FieldId] = &[FieldId::TerminalFace, FieldId::TerminalWindow];
const LOOSE: &[FieldId] = &[FieldId::LooseBoard, FieldId::Batten];

/// The choice alone, or with what it asks for.
fn asked(ids: &'static [FieldId], all: bool) -> &'static [FieldId] {
    if all { ids } else { ids.get(..1).unwrap_or(ids) }
}

/// What each asks for only where it is chosen.
#[inline(never)]
pub(super) fn entries(store: &Handle) -> Html {
    let store = store.clone();
    let content = Callback::from(move |()| {
        let sheet = &store.design().sheet;
        let elsewhere = sheet.choice(FieldId::DriverFace) != 0;
        let window = sheet.choice_key(FieldId::TerminalFace) == "front"
            && sheet.choice_key(FieldId::FrontLayers) == "double";
        let comes_off = sheet.choice(FieldId::LooseBoard) != 0;
        let about = |shown: bool, text| if shown { tx("p", "about", text) } else { Html::default() };
        el(
            "div",
            &[],
            vec![
                fields(&store, asked(DRIVERS, elsewhere)),
                about(elsewhere, words::DRIVERS_ABOUT),
                fields(&store, asked(TERMINALS, window)),
                about(window, words::WINDOW_ABOUT),
                fields(&store, asked(LOOSE, comes_off)),
                about(comes_off, words::LOOSE_ABOUT),
            ],
        )
    });
    html! { <Fold title={words::TITLE} {content} /> }
}
