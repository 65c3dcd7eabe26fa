//! The entries of drivers and terminals in other faces, and of a board that comes off.
use yew::prelude::*;

use crate::design::limits::FieldId;
use crate::view::components::{Fold, el, fields, tx};
use crate::view::store::Handle;
use crate::words::faces as words;

/// What each asks for only where it is chosen.
#[inline(never)]
pub(super) fn entries(store: &Handle) -> Html {
    let store = store.clone();
    let content = Callback::from(move |()| {
        let sheet = &store.design().sheet;
        let mut ids = vec![FieldId::DriverFace];
        let elsewhere = sheet.choice(FieldId::DriverFace) != 0;
        if elsewhere {
            ids.push(FieldId::DriverFaceCount);
        }
        let mut terminals = vec![FieldId::TerminalFace];
        let window = sheet.choice_key(FieldId::TerminalFace) == "front"
            && sheet.choice_key(FieldId::FrontLayers) == "double";
        if window {
            terminals.push(FieldId::TerminalWindow);
        }
        let mut loose = vec![FieldId::LooseBoard];
        let comes_off = sheet.choice(FieldId::LooseBoard) != 0;
        if comes_off {
            loose.push(FieldId::Batten);
        }
        let about = |shown: bool, text| if shown { tx("p", "about", text) } else { Html::default() };
        el(
            "div",
            &[],
            vec![
                fields(&store, &ids),
                about(elsewhere, words::DRIVERS_ABOUT),
                fields(&store, &terminals),
                about(window, words::WINDOW_ABOUT),
                fields(&store, &loose),
                about(comes_off, words::LOOSE_ABOUT),
            ],
        )
    });
    html! { <Fold title={words::TITLE} {content} /> }
}
