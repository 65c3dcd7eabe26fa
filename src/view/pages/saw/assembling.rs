//! Putting the box together: steps with drawings, ticked off; worked out only while the fold is open.
use std::rc::Rc;

use yew::prelude::*;

use super::sheets::tick;
use crate::design::report::BoxReport;
use crate::platform::Timeout;
use crate::present::assembling::{Picture, StepView, assembling};
use crate::view::components::{Fold, caution, el, px, tx};
use crate::view::store::Handle;
use crate::words::assembling as words;

/// Drawings follow the last key after so long.
pub(super) const PAUSE_MS: u32 = 120;

/// The section.
pub(super) fn order_sheet(store: &Handle, enclosure: &Rc<BoxReport>) -> Html {
    let (store, enclosure) = (store.clone(), Rc::clone(enclosure));
    let content = Callback::from(move |()| {
        html! { <Order store={store.clone()} enclosure={Rc::clone(&enclosure)} /> }
    });
    html! { <section class="sheet" id="order"><Fold title={words::TITLE} {content} /></section> }
}

#[derive(PartialEq, Properties)]
struct OrderProps {
    store: Handle,
    enclosure: Rc<BoxReport>,
}

#[component]
fn Order(props: &OrderProps) -> Html {
    // Drawn once for a box, whatever is ticked; while sizes are typed the drawings wait for a pause.
    let drawn = use_state(|| Rc::clone(&props.enclosure));
    {
        let drawn = drawn.clone();
        use_effect_with(Rc::clone(&props.enclosure), move |enclosure| {
            let enclosure = Rc::clone(enclosure);
            let waiting = (!Rc::ptr_eq(&drawn, &enclosure))
                .then(|| Timeout::new(PAUSE_MS, move || drawn.set(enclosure)));
            move || drop(waiting)
        });
    }
    let found = use_memo(Rc::clone(&drawn), |enclosure| assembling(enclosure));
    let mut children = vec![
        caution(words::CAUTION),
        tx("p", "small", words::ABOUT),
        tx("p", "small", words::CLAMP),
        tx("h3", "", words::EXPLODED),
        picture(&found.exploded, words::EXPLODED_DRAWING),
    ];
    children.extend(found.steps.iter().map(|step| one(&props.store, step)));
    children.push(tx("h3", "", words::AFTER));
    children.extend(found.after.iter().map(|text| tx("p", "small", text)));
    el("div", &[], children)
}

/// A step with its tick and its drawing.
pub(super) fn one(store: &Handle, step: &StepView) -> Html {
    let children = vec![
        tick(store, step.tick.clone(), &step.title, ""),
        tx("p", "small", &step.how),
        picture(&step.picture, words::DRAWING),
    ];
    el("div", &[("class", "gluestep")], children)
}

/// A line drawing.
pub(super) fn picture(picture: &Picture, label: &str) -> Html {
    let [width, height] = picture.size;
    let bounds = format!("-3 -3 {} {}", px(width + 6.0), px(height + 6.0));
    let path = |class: &'static str, d: &str| el("path", &[("class", class), ("d", d)], Vec::new());
    let lines = vec![path("glue", &picture.glue), path("edge", &picture.before), path("fresh", &picture.new)];
    let frame =
        [("class", "drawing iso"), ("viewBox", bounds.as_str()), ("role", "img"), ("aria-label", label)];
    el("svg", &frame, lines)
}
