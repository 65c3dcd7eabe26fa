//! The entries of a box whose sides are no rectangles.
use std::borrow::Cow;

use web_sys::HtmlInputElement;
use yew::prelude::*;

use super::fold;
use crate::design::document::Entry;
use crate::design::limits::FieldId;
use crate::design::report::{BoxReport, Gap};
use crate::design::session::Action;
use crate::design::strips::{TICKS, left_out};
use crate::design::wood::owners;
use crate::model::geometry::edges::{BACK, BOTTOM, FRONT, LEFT, Owners, RIGHT, TOP};
use crate::model::geometry::{Pair, Precedence};
use crate::view::components::{Fold, el, fields, tx};
use crate::view::store::{Handle, Msg};
use crate::words::{page, saw as words, shape, wood};

const PLAIN: &[FieldId] = &[FieldId::Shape];
const SLANTED_BACK: &[FieldId] =
    &[FieldId::Shape, FieldId::TopDepth, FieldId::BackJoint, FieldId::FrontJoint];
const SLANTED_FRONT: &[FieldId] =
    &[FieldId::Shape, FieldId::FrontSetback, FieldId::BackJoint, FieldId::FrontJoint];
const BOTH: &[FieldId] =
    &[FieldId::Shape, FieldId::FrontSetback, FieldId::TopDepth, FieldId::BackJoint, FieldId::FrontJoint];
const STEP: &[FieldId] =
    &[FieldId::Shape, FieldId::StepHeight, FieldId::StepDepth, FieldId::BackJoint, FieldId::FrontJoint];

/// The choice of a shape and what it asks for.
#[inline(never)]
pub(super) fn entries(store: &Handle) -> Html {
    let ids = match store.design().sheet.choice_key(FieldId::Shape) {
        "slanted back" => SLANTED_BACK,
        "slanted front" => SLANTED_FRONT,
        "both slanted" => BOTH,
        "step above" | "step below" => STEP,
        _ => PLAIN,
    };
    fold(store, shape::TITLE, ids)
}

/// Which boards cover which.
#[inline(never)]
pub(super) fn faces(enclosure: &BoxReport) -> Cow<'static, str> {
    let spec = &enclosure.spec;
    if spec.profile.is_some() {
        return shape::FACES.into();
    }
    let owners = spec.owners;
    for (front_over, text) in [(true, wood::FACES_FRONT_RING), (false, wood::FACES_RING_FRONT)] {
        if owners == Owners::ring(front_over) {
            return text.into();
        }
    }
    let Some(order) = Precedence::ALL.into_iter().find(|order| Owners::by(*order) == owners) else {
        return by_edge(owners).into();
    };
    if order == Precedence::default() {
        return words::FACES.into();
    }
    let [first, second, _] = order.order();
    let name = |pair| match pair {
        Pair::Sides => wood::SIDES,
        Pair::TopBottom => wood::TOP_BOTTOM,
        Pair::FrontBack => wood::FRONT_BACK,
    };
    wood::faces(name(first), name(second)).into()
}

/// What each board runs past, board by board.
fn by_edge(owners: Owners) -> String {
    let all = [
        (FRONT, wood::THE_FRONT),
        (BACK, wood::THE_BACK),
        (LEFT, wood::THE_LEFT),
        (RIGHT, wood::THE_RIGHT),
        (BOTTOM, wood::THE_BOTTOM),
        (TOP, wood::THE_TOP),
    ];
    let sentences = all.iter().filter_map(|(board, name)| {
        let past = all.iter().filter(|(other, _)| owners.owns(*board, *other));
        let past: Vec<&str> = past.map(|(_, name)| *name).collect();
        (!past.is_empty()).then(|| wood::runs_past(name, &past.join(", ")))
    });
    let mut text = wood::faces_by_edge(&sentences.collect::<Vec<_>>());
    // The first word of the sentence.
    if let Some(first) = text.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    text
}

/// The inside edges to tick for a corner strip each, and which of them get none.
#[inline(never)] // few boxes have strips in edges of their own
pub(super) fn strips(store: &Handle) -> Html {
    let sheet = &store.design().sheet;
    let ticks = TICKS.iter().zip(EDGES).map(|(id, edge)| {
        let (id, out) = (*id, store.clone());
        let checked = sheet.choice(id) == 1;
        let onchange = Callback::from(move |event: Event| {
            let input: HtmlInputElement = event.target_unchecked_into();
            out.dispatch(Msg::Do(Action::Seal));
            out.dispatch(Msg::Do(Action::Set(id, Entry::Choice(u8::from(input.checked())))));
        });
        html! {
            <label class="tick" key={id.row().code}>
                <input type="checkbox" {checked} {onchange} /><span>{ edge.row().label }</span>
            </label>
        }
    });
    let none = match &store.report.enclosure {
        Ok(enclosure) if !enclosure.spec.is_baffle() => {
            let left_out = left_out(sheet, &enclosure.plan);
            let each = TICKS.iter().zip(EDGES).filter(|(id, _)| left_out.contains(id));
            let names = each.map(|(_, edge)| edge.row().label).collect::<Vec<_>>().join("; ");
            if names.is_empty() { names } else { wood::no_strip_in(&names) }
        }
        Ok(_) | Err(Gap::Rings) => wood::STRIPS_NO_BOX.into(),
        Err(_) => String::new(),
    };
    html! {
        <fieldset class="edgeticks">
            <legend>{ wood::STRIP_EDGES }</legend>
            { for ticks }
            <div role="status">{ tx("p", "hint bad", &none) }</div>
        </fieldset>
    }
}

const EDGES: &[FieldId] = &[
    FieldId::EdgeFrontLeft,
    FieldId::EdgeFrontRight,
    FieldId::EdgeFrontBottom,
    FieldId::EdgeFrontTop,
    FieldId::EdgeBackLeft,
    FieldId::EdgeBackRight,
    FieldId::EdgeBackBottom,
    FieldId::EdgeBackTop,
    FieldId::EdgeLeftBottom,
    FieldId::EdgeLeftTop,
    FieldId::EdgeRightBottom,
    FieldId::EdgeRightTop,
];

/// The edges one by one, and why what is chosen can't be.
#[inline(never)]
pub(super) fn edges(store: &Handle) -> Html {
    if store.design().sheet.choice(FieldId::Shape) != 0 {
        return Html::default();
    }
    let store = store.clone();
    let content = Callback::from(move |()| {
        let refused = owners(&store.design().sheet).check().err();
        let refused = refused.map_or_else(String::new, |error| page::refused(&error.to_string()));
        el(
            "div",
            &[],
            vec![
                fields(&store, &[FieldId::Joints]),
                tx("p", "about", wood::EDGES_ABOUT),
                el("div", &[], vec![fields(&store, EDGES)]),
                el("div", &[("role", "status")], vec![tx("p", "hint bad", &refused)]),
            ],
        )
    });
    html! { <Fold title={wood::EDGES} {content} /> }
}
