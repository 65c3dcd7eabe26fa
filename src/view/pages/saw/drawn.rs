//! What the saw's drawing shows beside the box: its space, what is kept free there, rounded port mouths; and the key to it.
use yew::prelude::*;

use crate::design::evaluate::flares;
use crate::design::report::BoxReport;
use crate::present::drawing::{Around, At, Mouth, around, mouths};
use crate::present::space::{from_box, kind};
use crate::units::{ExactLength, Quantity};
use crate::view::components::{el, line, phone_sheet, px, text, tx};
use crate::view::store::Handle;
use crate::words::space as words;

/// What lies over the drawing, and the lines of its key.
#[inline(never)]
pub(super) fn beside_the_box(store: &Handle, enclosure: &BoxReport) -> (Html, Html) {
    let sheet = &store.design().sheet;
    let (spec, assembly) = (&enclosure.spec, &enclosure.plan.current().assembly);
    let label = |length| store.prefs.length_text(length);
    let drawn = phone_sheet(&label);
    let near = from_box(sheet, enclosure)
        .map(|(kept, space)| around(spec, assembly, &drawn, &kept, &space))
        .unwrap_or_default();
    let mouths = mouths(spec, assembly, &drawn, &|before| flares(sheet, before));
    let mut key: Vec<String> = Vec::new();
    if !near.ends.is_empty() {
        key.push(words::KEY_ENDS.into());
    }
    if !near.kinds.is_empty() {
        let names = near.kinds.iter().map(|of| kind(*of)).collect::<Vec<_>>().join(", ");
        key.push(words::key_kept(&names));
    }
    let unit = store.prefs.unit_for(Quantity::Length).symbol();
    let mut radii: Vec<String> = Vec::new();
    for mouth in &mouths {
        let radius = label(mouth.radius);
        if !radii.contains(&radius) {
            radii.push(radius);
        }
    }
    if !radii.is_empty() {
        key.push(words::key_mouth(&radii.join(", R\u{a0}"), unit));
    }
    let key = key.iter().map(|line| tx("p", "small", line)).collect();
    (over(&near, &mouths, &label), el("div", &[("class", "drawkey")], key))
}

fn over(near: &Around, mouths: &[Mouth], label: &dyn Fn(ExactLength) -> String) -> Html {
    let mut marks = Vec::new();
    if !near.areas.is_empty() {
        marks.push(el("defs", &[], vec![hatching()]));
    }
    marks.extend(near.areas.iter().map(|area| shape("polygon", "nearby", "url(#nearby)", area)));
    marks.extend(near.kept.iter().map(|ends| line("kept", *ends)));
    marks.extend(near.ends.iter().map(|ends| line("spaceend", *ends)));
    for mouth in mouths {
        if !mouth.taken.is_empty() && !mouth.hidden {
            marks.push(shape("polygon", "taken", "", &mouth.taken));
        }
        marks.push(shape("polyline", if mouth.hidden { "hid" } else { "edge" }, "none", &mouth.arc));
    }
    // A radius stands in the bore where that is high enough for it, once for all ends alike.
    let mut told: Vec<ExactLength> = Vec::new();
    for mouth in mouths {
        let ([x, y], high) = mouth.bore;
        if high > 15.0 && !told.contains(&mouth.radius) {
            told.push(mouth.radius);
            let place = [
                ("class", "val"),
                ("x", &*px(x + 3.0)),
                ("y", &*px(y)),
                ("text-anchor", "start"),
                ("dominant-baseline", "central"),
            ];
            marks.push(el("text", &place, vec![text(&words::radius(&label(mouth.radius)))]));
        }
    }
    el("g", &[("class", "beside")], marks)
}

fn hatching() -> Html {
    let stroke = el("path", &[("d", "M0 0v5"), ("class", "grain")], Vec::new());
    let size = [
        ("id", "nearby"),
        ("width", "5"),
        ("height", "5"),
        ("patternUnits", "userSpaceOnUse"),
        ("patternTransform", "rotate(-45)"),
    ];
    el("pattern", &size, vec![stroke])
}

fn shape(tag: &'static str, class: &str, fill: &str, points: &[At]) -> Html {
    let points: Vec<String> = points.iter().map(|at| format!("{},{}", px(at[0]), px(at[1]))).collect();
    el(tag, &[("class", class), ("fill", fill), ("points", &points.join(" "))], Vec::new())
}
