//! The space as measured, beside its entries: what it comes to, how the box stands in it, drawn from two sides.
use yew::prelude::*;

use crate::design::evaluate::ring_report;
use crate::design::limits::FieldId;
use crate::design::look::Look;
use crate::design::report::Gap;
use crate::design::space::{is_measured, outside_of, outside_of_rings, vehicle};
use crate::design::warnings::Warning;
use crate::model::geometry::Fact;
use crate::present::space::{Drawing, Part, draw, measured, notes, standing};
use crate::present::warnings::text;
use crate::view::components::{Fold, caution, el, fields, pairs, px, tx};
use crate::view::store::Handle;
use crate::words::space as words;

const MEASURE: &[FieldId] = &[
    FieldId::SeatRecline,
    FieldId::SpaceSide,
    FieldId::SpacePlan,
    FieldId::FloorDiagonal,
    FieldId::FloorOther,
    FieldId::DoorDiagonal,
    FieldId::DoorOther,
    FieldId::BoxFromFront,
    FieldId::BoxFromLeft,
];
const LOOK: &[FieldId] = &[FieldId::Look];
const KEEP_FREE: &[FieldId] = &[
    FieldId::ArchSide,
    FieldId::ArchShape,
    FieldId::ArchWidth,
    FieldId::ArchHeight,
    FieldId::ArchFrom,
    FieldId::ArchLength,
    FieldId::WellUse,
    FieldId::WellFrom,
    FieldId::WellAcross,
    FieldId::WellWidth,
    FieldId::WellDepth,
    FieldId::LidFrom,
    FieldId::LidHeight,
    FieldId::LidReach,
    FieldId::LidArm,
    FieldId::KeepOut,
    FieldId::SecondKeepOut,
    FieldId::ThirdKeepOut,
];
/// Natural width of the drawing.
const WIDTH: f64 = 342.0;

/// The two folds of entries, and what they come to.
#[inline(never)]
pub(super) fn entries(store: &Handle) -> Html {
    let fold = |title: &'static str, ids: &'static [FieldId], about: &'static str| {
        let store = store.clone();
        let content = Callback::from(move |()| {
            html! { <>{ el("div", &[], vec![fields(&store, ids)]) }{ refused(&store, ids) }{ tx("p", "small", about) }</> }
        });
        html! { <Fold {title} {content} /> }
    };
    html! {
        <>
            { fold(words::MEASURE, MEASURE, words::ABOUT_STATIONS) }
            { fold(words::KEEP_FREE, KEEP_FREE, words::ABOUT_KEEP) }
            if is_measured(&store.design().sheet) || matches!(store.report.enclosure, Err(Gap::Rings)) { { found(store) } }
        </>
    }
}

/// Where the drivers' face looks; of boxes whose drivers have one.
pub(super) fn look(store: &Handle) -> Html {
    let sheet = &store.design().sheet;
    let looks = Look::applies(sheet);
    let chosen = Look::of(sheet);
    let gap = sheet.given(FieldId::FloorGap).is_some() || sheet.choice(FieldId::TestBox) > 0;
    html! {
        <>
            { fields(store, if looks { LOOK } else { &[] }) }
            if looks && chosen != Look::Along { { tx("p", "small", words::LOOK_ABOUT) } }
            if looks && chosen == Look::Down && !gap { { tx("p", "small", words::LOOK_GAP) } }
        </>
    }
}

/// What is wrong with these entries, right below them.
fn refused(store: &Handle, ids: &[FieldId]) -> Html {
    let sheet = &store.design().sheet;
    let Some(space) = vehicle(sheet) else { return Html::default() };
    let all = notes(&space, sheet, &store.prefs);
    let here = all.iter().filter(|(id, _)| ids.contains(id)).map(|(_, note)| caution(note));
    el("div", &[("role", "status")], here.collect())
}

#[inline(never)]
fn found(store: &Handle) -> Html {
    let sheet = &store.design().sheet;
    let Some(space) = vehicle(sheet) else { return Html::default() };
    let enclosure = store.report.enclosure.as_ref().ok();
    let slant = enclosure.and_then(|enclosure| enclosure.spec.space).and_then(|space| space.slant);
    let rings = matches!(store.report.enclosure, Err(Gap::Rings)).then(|| ring_report(sheet).ok()).flatten();
    let outside = match (enclosure, &rings) {
        (Some(enclosure), _) => Some((outside_of(enclosure), enclosure.outside)),
        (None, Some(rings)) => Some(outside_of_rings(rings)),
        (None, None) => None,
    };
    let stands = outside.as_ref().map(|(bodies, size)| (bodies, *size, space.place(sheet, bodies, *size)));
    let mut children = vec![pairs(&measured(&space, sheet, &store.prefs))];
    if let Some((bodies, size, stands)) = &stands {
        let rows = standing(&space, stands, bodies, &store.prefs);
        let rows: Vec<_> =
            rows.iter().map(|(name, value, unit)| (name.as_str(), value.clone(), *unit)).collect();
        children.push(pairs(&rows));
        // Of a box these stand among the warnings of the design.
        if rings.is_some() {
            let large = space.spare(*size).map(|(axis, spare)| Warning::Fact(Fact::Space { axis, spare }));
            let all = large.chain(stands.hits.iter().copied().map(Warning::KeepOut));
            children.push(el(
                "div",
                &[],
                all.map(|warning| caution(&text(&warning, &store.prefs))).collect(),
            ));
            children.push(tx("p", "small", words::RINGS_STAND));
        }
    }
    let drawing =
        draw(&space, stands.as_ref().map(|(bodies, _, stands)| (bodies.as_slice(), stands)), slant, WIDTH);
    children.push(picture(&drawing));
    children.push(tx("p", "small", words::ABOUT));
    el("div", &[("class", "spaced"), ("id", "space-drawn")], children)
}

fn picture(drawing: &Drawing) -> Html {
    let [width, height] = drawing.size.map(px);
    let class = |part| match part {
        Part::Block => "edge",
        Part::KeptFree => "keep",
        Part::Box => "boxed",
    };
    let stroke = el("path", &[("d", "M0 0v7"), ("class", "grain")], Vec::new());
    let pattern = el(
        "pattern",
        &[
            ("id", "kept"),
            ("width", "7"),
            ("height", "7"),
            ("patternUnits", "userSpaceOnUse"),
            ("patternTransform", "rotate(-45)"),
        ],
        vec![stroke],
    );
    let mut children = vec![el("defs", &[], vec![pattern])];
    children.extend(drawing.areas.iter().map(|(part, points)| {
        let points: Vec<String> = points.iter().map(|at| format!("{},{}", px(at[0]), px(at[1]))).collect();
        let fill = if *part == Part::KeptFree { "url(#kept)" } else { "" };
        el("polygon", &[("class", class(*part)), ("fill", fill), ("points", &points.join(" "))], Vec::new())
    }));
    children.extend(drawing.titles.iter().map(|([x, y], title)| {
        el("text", &[("x", &px(*x)), ("y", &px(*y))], vec![crate::view::components::text(title)])
    }));
    let view = format!("0 0 {width} {height}");
    el(
        "svg",
        &[("class", "drawing"), ("viewBox", &view), ("role", "img"), ("aria-label", words::DRAWN)],
        children,
    )
}
