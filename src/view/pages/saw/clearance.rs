//! The clearance stack and what must stay reachable, worked out while its fold is open.
use std::rc::Rc;

use yew::prelude::*;

use super::sheets::tick;
use crate::design::clearance::clearance;
use crate::design::limits::FieldId;
use crate::design::report::BoxReport;
use crate::present::clearance::{notes, reach, rows};
use crate::view::components::{Fold, caution, el, fields, pairs, tx};
use crate::view::store::Handle;
use crate::words::clearance as words;

const ENTRIES: &[FieldId] = &[
    FieldId::WrapThickness,
    FieldId::GasketThickness,
    FieldId::FlangeThickness,
    FieldId::GrilleDepth,
    FieldId::GrilleThickness,
    FieldId::FixingDepth,
    FieldId::SurroundHeight,
    FieldId::MechanicalTravel,
    FieldId::FreeInFront,
    FieldId::HollowWater,
    FieldId::AirWarming,
    FieldId::AmplifierPlace,
    FieldId::AmplifierBodies,
    FieldId::AmplifierLength,
    FieldId::AmplifierWidth,
    FieldId::AmplifierHeight,
    FieldId::RollWidth,
    FieldId::SeamAllowance,
];

/// The section.
#[inline(never)]
pub(super) fn clearance_sheet(store: &Handle, enclosure: &Rc<BoxReport>) -> Html {
    let (store, enclosure) = (store.clone(), Rc::clone(enclosure));
    let content = Callback::from(move |()| {
        let found = clearance(&store.design().sheet, &store.report, &enclosure);
        let mut children = vec![pairs(&rows(&found, &store.prefs))];
        children.extend(notes(&found, &store.prefs).iter().map(|note| caution(note)));
        children.push(tx("p", "small", words::ABOUT));
        children.extend(found.amplifiers.map(|_| tx("p", "small", words::ABOUT_BODIES)));
        children.extend(found.wrap.map(|_| tx("p", "small", words::ABOUT_WRAP)));
        children.push(tx("h3", "", words::REACHABLE));
        children.extend(reach().map(|(key, text)| tick(&store, key, text, "")));
        // Entries apart: an answer that grows must not build the entry again in which it is typed.
        html! { <>{ el("div", &[], vec![fields(&store, ENTRIES)]) }{ el("div", &[], children) }</> }
    });
    html! { <section class="sheet" id="clearance"><Fold title={words::TITLE} {content} /></section> }
}
