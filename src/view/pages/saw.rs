//! Saw: what to cut, in which order, and what came out.
use std::rc::Rc;

use web_sys::HtmlInputElement;
use yew::prelude::*;

use super::desk::fold;
use super::warnings;
use crate::design::document::parse_built;
use crate::design::limits::FieldId;
use crate::design::report::BoxReport;
use crate::design::session::Action;
use crate::design::warnings::Place;
use crate::present::tables::{CutRow, FenceRow, fence, ledger, ledger_notes, parts};
use crate::present::{format, lines};
use crate::units::{ExactLength, Quantity, UnitPrefs};
use crate::view::app::StoreProps;
use crate::view::components::{Caution, DrawingView, Fields, GapNote, SheetBox};
use crate::view::store::{Handle, Msg};
use crate::words::{page, saw as words};

const SPACE: &[FieldId] = &[
    FieldId::VehicleName, FieldId::SpaceWidth, FieldId::SpaceHeight, FieldId::SpaceDepth, FieldId::Clearance,
];
const BUILD: &[FieldId] = &[
    FieldId::EnclosureName, FieldId::Board, FieldId::FrontLayers, FieldId::Recess, FieldId::RecessGap, FieldId::Strips,
];
const BUILD_STRIPS: &[FieldId] = &[
    FieldId::EnclosureName, FieldId::Board, FieldId::FrontLayers, FieldId::Recess, FieldId::RecessGap, FieldId::Strips,
    FieldId::StripFace, FieldId::StripMeasured, FieldId::StripVoid,
];
const OUTSIDE: &[FieldId] = &[FieldId::BoxWidth, FieldId::BoxHeight, FieldId::BoxDepth, FieldId::TapeStep];
const DETAILS: &[FieldId] = &[
    FieldId::TerminalWidth, FieldId::TerminalHeight, FieldId::TerminalDepth, FieldId::Braces, FieldId::BraceRim,
    FieldId::PortWall, FieldId::Kerf, FieldId::BoardDensity,
];

/// Saw.
#[component]
pub fn SawPage(props: &StoreProps) -> Html {
    let store = &props.store;
    let on_text = {
        let dispatcher = store.dispatcher();
        use_callback((), move |(id, text), ()| dispatcher.dispatch(Msg::Typed(id, text)))
    };
    let build = if store.design().sheet.choice_key(FieldId::Strips) == "none" { BUILD } else { BUILD_STRIPS };
    html! {
        <div class="columns saw">
            <div class="column answer">
                <h1 class="line">{ lines::saw(&store.report, &store.prefs) }</h1>
                <SheetBox title={page::BOX_DRAWN} id="picture">
                    if let Ok(enclosure) = &store.report.enclosure {
                        <DrawingView enclosure={Rc::clone(enclosure)} prefs={store.prefs} on_text={on_text} />
                        { sizes(enclosure, &store.prefs) }
                    } else if let Err(gap) = &store.report.enclosure {
                        <GapNote gap={gap.clone()} />
                    }
                </SheetBox>
                { warnings(store, Place::Saw) }
                if let Ok(enclosure) = &store.report.enclosure { { ledger_sheet(store, enclosure) } }
            </div>
            <div class="column work">
                if let Ok(enclosure) = &store.report.enclosure {
                    <Caution text={words::CAUTION_SAW} />
                    { fence_sheet(store, enclosure) }
                    { parts_sheet(store, enclosure) }
                    <Caution text={words::CAUTION_ROUTER} />
                }
            </div>
            <div class="column entries">
                <SheetBox title={page::SPACE} id="space"><Fields store={store.clone()} ids={SPACE} /></SheetBox>
                <SheetBox title={page::BUILD} id="build">
                    <Fields store={store.clone()} ids={build} />
                    { fold(store, page::OUTSIDE, OUTSIDE) }
                    { fold(store, page::DETAILS, DETAILS) }
                </SheetBox>
            </div>
        </div>
    }
}

/// Outside and inside of the box as it stands.
fn sizes(enclosure: &BoxReport, prefs: &UnitPrefs) -> Html {
    let assembly = &enclosure.plan.current().assembly;
    let text = |dims: crate::model::geometry::Dims| {
        [dims.width, dims.height, dims.depth].map(|l| prefs.length_text(l)).join(" × ")
    };
    let unit = prefs.unit_for(Quantity::Length).symbol();
    html! {
        <dl class="pairs">
            <div><dt>{ words::OUTSIDE }</dt><dd>{ text(assembly.outside) }<small>{ " " }{ unit }</small></dd></div>
            <div><dt>{ words::INSIDE }</dt><dd>{ text(assembly.inside) }<small>{ " " }{ unit }</small></dd></div>
            if let Some(port) = &enclosure.port {
                <div><dt>{ words::PORT }</dt><dd>{ format::length(port.length, prefs).to_string() }{ ", " }
                    { format::fixed(port.tuning.hertz(), 1) }<small>{ " Hz" }</small></dd></div>
            }
        </dl>
    }
}

fn ledger_sheet(store: &Handle, enclosure: &BoxReport) -> Html {
    let unit = store.prefs.unit_for(Quantity::Volume).symbol();
    html! {
        <SheetBox title={words::LEDGER} aside={unit} id="ledger">
            <table class="ledger">
                <tbody>
                    { for ledger(enclosure, &store.prefs).into_iter().map(|row| html! {
                        <tr class={classes!(row.total.then_some("sum"))}><th scope="row">{ row.text }</th><td>{ row.value }</td></tr>
                    }) }
                </tbody>
            </table>
            { for ledger_notes(enclosure, &store.prefs).into_iter().map(|note| html! { <p class="small">{ note }</p> }) }
        </SheetBox>
    }
}

fn fence_sheet(store: &Handle, enclosure: &BoxReport) -> Html {
    let rows = fence(enclosure, &store.design().sheet, &store.prefs);
    let kerf = store.design().sheet.length(FieldId::Kerf).map_or_else(String::new, |kerf| store.prefs.length_text(kerf));
    html! {
        <SheetBox title={words::FENCE} aside={words::kerf(&kerf)} id="fence">
            <p class="small">{ words::FENCE_ABOUT }</p>
            { for rows.into_iter().map(|row| setting(store, row)) }
            { for enclosure.plan.strip_blanks.iter().map(|blank| html! {
                <p class="small">{ words::blank(blank.count, &store.prefs.length_text(blank.width), &store.prefs.length_text(blank.length)) }</p>
            }) }
        </SheetBox>
    }
}

fn setting(store: &Handle, row: FenceRow) -> Html {
    html! {
        <div class="setting">
            <div class="set"><b>{ row.size }</b><small>{ row.blade }</small></div>
            <div>{ for row.cuts.into_iter().map(|cut| {
                let ticked = store.design().log.ticks.contains(&cut.tick);
                let key = cut.tick.clone();
                html! { <Cut {key} store={store.clone()} {cut} {ticked} /> }
            }) }</div>
        </div>
    }
}

#[derive(PartialEq, Properties)]
struct CutProps {
    store: Handle,
    cut: CutRow,
    ticked: bool,
}

/// One line at the saw: its tick, and what it came out at.
#[component]
fn Cut(props: &CutProps) -> Html {
    let (store, cut) = (&props.store, &props.cut);
    let asking = use_state_eq(|| false);
    let bad = use_state_eq(|| false);
    let typing = use_state_eq(|| None::<String>);
    let text = format!("{}, {}", cut.name, cut.dimension);
    let tick = {
        let (store, key) = (store.clone(), cut.tick.clone());
        Callback::from(move |event: Event| {
            let input: HtmlInputElement = event.target_unchecked_into();
            store.dispatch(Msg::Do(Action::Tick(key.clone(), input.checked())));
        })
    };
    let ask = {
        let asking = asking.clone();
        Callback::from(move |_: MouseEvent| asking.set(!*asking))
    };
    let typed = {
        let (store, keys, bad, typing) = (store.clone(), cut.built.clone(), bad.clone(), typing.clone());
        let planned = cut.planned;
        Callback::from(move |event: InputEvent| {
            let input: HtmlInputElement = event.target_unchecked_into();
            let value = input.value();
            typing.set(Some(value.clone()));
            if value.trim().is_empty() {
                bad.set(false);
                store.dispatch(Msg::Do(Action::ClearBuilt(keys.clone())));
                return;
            }
            match parse_built(&value, &store.prefs) {
                // The first digits of a size are no size yet.
                Ok(size) if near(size.exact_length(), planned) => {
                    bad.set(false);
                    store.dispatch(Msg::Do(Action::SetBuilt(keys.clone(), size)));
                }
                _ => bad.set(true),
            }
        })
    };
    let leave = {
        let (typing, bad) = (typing.clone(), bad.clone());
        Callback::from(move |_: FocusEvent| {
            if !*bad {
                typing.set(None);
            }
        })
    };
    let came_out = cut.came_out.clone();
    let value = (*typing).clone().unwrap_or_else(|| {
        came_out.as_deref().and_then(|size| size.split('\u{a0}').next()).unwrap_or_default().to_owned()
    });
    let unit = store.prefs.unit_for(Quantity::Length).symbol();
    html! {
        <div class="cut">
            <label class="tick">
                <input type="checkbox" checked={props.ticked} onchange={tick} />
                <span>{ text.clone() }</span><b>{ cut.count }</b>
            </label>
            <button type="button" class="small-key" aria-expanded={if *asking { "true" } else { "false" }}
                aria-label={words::came_out_label(&text)} onclick={ask}>
                { came_out.as_ref().map_or_else(|| words::CAME_OUT.into(), |size| words::came_out(size)) }
            </button>
            if *asking {
                <label class="row"><span>{ words::CAME_OUT_AT }</span>
                    <span class="v"><input type="text" inputmode="decimal" autocomplete="off" aria-label={words::came_out_label(&text)}
                        placeholder={words::AS_PLANNED} {value} oninput={typed} onblur={leave} aria-invalid={bad.then_some("true")} /><small>{ unit }</small></span>
                    if *bad { <p class="hint bad" role="alert">{ words::CAME_OUT_BAD }</p> }
                </label>
            }
        </div>
    }
}

/// Whether a cut may have come out so: a fifth and 25 mm off the plan at most.
fn near(size: ExactLength, planned: ExactLength) -> bool {
    let off = (size.metres() - planned.metres()).abs();
    off <= 0.025_f64.min(planned.metres() / 5.0)
}

fn parts_sheet(store: &Handle, enclosure: &BoxReport) -> Html {
    let unit = store.prefs.unit_for(Quantity::Length).symbol();
    html! {
        <SheetBox title={words::CUT_LIST} aside={words::cut_list_unit(unit)} id="parts">
            <table class="parts">
                <thead><tr><th scope="col">{ words::PIECE }</th><th scope="col">{ words::SIZE }</th></tr></thead>
                <tbody>
                    { for parts(enclosure, &store.prefs).into_iter().map(|row| html! {
                        <tr><th scope="row">{ row.name }</th><td>{ row.size }<small>{ row.edges }</small></td></tr>
                    }) }
                </tbody>
            </table>
            <p class="small">{ words::FACES }</p>
        </SheetBox>
    }
}
