//! The box cut level, seen from above; worked out only while the fold is open.
use std::rc::Rc;

use yew::prelude::*;

use crate::design::report::BoxReport;
use crate::present::format::length;
use crate::present::level::{LevelCut, Stretch, level_cut};
use crate::units::{Quantity, UnitPrefs};
use crate::view::components::{Fold, el, pairs, px, tx};
use crate::view::store::Handle;
use crate::words::saw as words;

/// The fold with the drawing.
#[inline(never)] // closed at first: it may come after the first result
pub(super) fn from_above(store: &Handle, enclosure: &Rc<BoxReport>) -> Html {
    if enclosure.spec.is_baffle() {
        return Html::default();
    }
    let (store, enclosure) = (store.clone(), Rc::clone(enclosure));
    let content =
        Callback::from(move |()| drawn(&level_cut(&enclosure.plan.current().assembly), &store.prefs));
    html! { <Fold title={words::LEVEL} {content} /> }
}

fn drawn(cut: &LevelCut, prefs: &UnitPrefs) -> Html {
    let [width, height] = cut.size;
    let bounds = format!("-3 -3 {} {}", px(width + 6.0), px(height + 6.0));
    let path = |class: &'static str, d: &str| el("path", &[("class", class), ("d", d)], Vec::new());
    let lines = vec![path("hid", &cut.hidden), path("grain", &cut.hatch), path("edge", &cut.wood)];
    let frame = [
        ("class", "drawing iso"),
        ("viewBox", bounds.as_str()),
        ("role", "img"),
        ("aria-label", words::LEVEL_DRAWING),
    ];
    let unit = prefs.unit_for(Quantity::Length).symbol();
    let along = words::level_along(&length(cut.from_left, prefs).to_string());
    let across = words::level_across(&length(cut.behind, prefs).to_string());
    let rows = [(&*across, chain(&cut.across, prefs), unit), (&*along, chain(&cut.along, prefs), unit)];
    let children = vec![
        tx("p", "small", &words::level_at(&length(cut.height, prefs).to_string())),
        el("svg", &frame, lines),
        pairs(&rows),
    ];
    el("div", &[], children)
}

/// Stretches one after the other, air in brackets.
fn chain(stretches: &[Stretch], prefs: &UnitPrefs) -> String {
    let one = |stretch: &Stretch| {
        let text = prefs.length_text(stretch.length);
        if stretch.is_wood { text } else { format!("({text})") }
    };
    stretches.iter().map(one).collect::<Vec<_>>().join("\u{a0}\u{b7} ")
}
