//! Saw: what to cut, in which order, and what came out.
mod bench;
mod sheets;

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
use crate::view::components::{DrawingView, caution, fields, gap_note, head, pairs, table, table_row, tx};
use crate::view::store::{Handle, Msg};
use crate::words::{cutting, page, saw as words};

const SPACE: &[FieldId] = &[
    FieldId::VehicleName,
    FieldId::SpaceWidth,
    FieldId::SpaceHeight,
    FieldId::SpaceDepth,
    FieldId::Clearance,
];
const BUILD: &[FieldId] = &[
    FieldId::EnclosureName,
    FieldId::Board,
    FieldId::FrontLayers,
    FieldId::Recess,
    FieldId::RecessGap,
    FieldId::Strips,
];
const BUILD_STRIPS: &[FieldId] = &[
    FieldId::EnclosureName,
    FieldId::Board,
    FieldId::FrontLayers,
    FieldId::Recess,
    FieldId::RecessGap,
    FieldId::Strips,
    FieldId::StripFace,
    FieldId::StripMeasured,
    FieldId::StripVoid,
];
const OUTSIDE: &[FieldId] = &[FieldId::BoxWidth, FieldId::BoxHeight, FieldId::BoxDepth, FieldId::TapeStep];
const DETAILS: &[FieldId] = &[
    FieldId::TerminalWidth,
    FieldId::TerminalHeight,
    FieldId::TerminalDepth,
    FieldId::Braces,
    FieldId::BraceRim,
    FieldId::PortWall,
    FieldId::Kerf,
    FieldId::BoardDensity,
];
const STOCK: &[FieldId] = &[
    FieldId::SheetWidth,
    FieldId::SheetLength,
    FieldId::SheetPrice,
    FieldId::EdgeTrim,
    FieldId::Grain,
    FieldId::CutTurns,
    FieldId::OffcutWidth,
    FieldId::OffcutLength,
    FieldId::SecondOffcutWidth,
    FieldId::SecondOffcutLength,
    FieldId::OtherWidth,
    FieldId::OtherLength,
    FieldId::OtherPrice,
    FieldId::SawReach,
    FieldId::LeastRide,
    FieldId::RouterBit,
    FieldId::GuideBush,
];
const BENCH: &[FieldId] = &[
    FieldId::DriverWeight,
    FieldId::BoltCircle,
    FieldId::BoltCount,
    FieldId::InsertDiameter,
    FieldId::BoardModulus,
    FieldId::FillWeight,
    FieldId::Paper,
];

/// Saw.
#[inline(never)] // a page of its own, so that it may come after the first result
pub fn saw(store: &Handle) -> Html {
    let build = if store.design().sheet.choice_key(FieldId::Strips) == "none" { BUILD } else { BUILD_STRIPS };
    html! {
        <div class="columns saw">
            <div class="column answer">
                <h1 class="line">{ lines::saw(&store.report, &store.prefs) }</h1>
                <section class="sheet" id="picture">{ head(page::BOX_DRAWN, "") }
                    if let Ok(enclosure) = &store.report.enclosure {
                        <DrawingView enclosure={Rc::clone(enclosure)} prefs={store.prefs} out={store.dispatcher()} />
                        { sizes(enclosure, &store.prefs) }
                    } else if let Err(gap) = &store.report.enclosure {
                        { gap_note(gap) }
                        if let Some(last) = &store.last_box {
                            { tx("p", "gap", words::LAST_BOX) }
                            <div class="past">
                                <DrawingView enclosure={Rc::clone(last)} prefs={store.prefs} out={store.dispatcher()} />
                                { sizes(last, &store.prefs) }
                            </div>
                        }
                    }
                </section>
                { warnings(store, Place::Saw) }
                if let Ok(enclosure) = &store.report.enclosure { { ledger_sheet(store, enclosure) } }
            </div>
            <div class="column work">
                if let Ok(enclosure) = &store.report.enclosure {
                    { caution(words::CAUTION_SAW) }
                    { sheets::layout_sheet(store, enclosure) }
                    { fence_sheet(store, enclosure) }
                    { parts_sheet(store, enclosure) }
                    { caution(words::CAUTION_ROUTER) }
                    { bench::details_sheet(store, enclosure) }
                    { bench::templates_sheet(store, enclosure) }
                    { bench::bench_sheet(store, enclosure) }
                    { bench::print_keys() }
                }
            </div>
            <div class="column entries">
                <section class="sheet" id="space">{ head(page::SPACE, "") }{ fields(store, SPACE) }</section>
                <section class="sheet" id="build">{ head(page::BUILD, "") }
                    { fields(store, build) }
                    { fold(store, page::OUTSIDE, OUTSIDE) }
                    { fold(store, page::DETAILS, DETAILS) }
                    { fold(store, cutting::STOCK, STOCK) }
                    { fold(store, cutting::BENCH_ENTRIES, BENCH) }
                </section>
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
    let mut rows =
        vec![(words::OUTSIDE, text(assembly.outside), unit), (words::INSIDE, text(assembly.inside), unit)];
    if let Some(port) = &enclosure.port {
        let length = format::length(port.length, prefs).to_string();
        rows.push((words::PORT, format!("{length}, {}", format::fixed(port.tuning.hertz(), 1)), "Hz"));
    }
    pairs(&rows)
}

fn ledger_sheet(store: &Handle, enclosure: &BoxReport) -> Html {
    let unit = store.prefs.unit_for(Quantity::Volume).symbol();
    html! {
        <section class="sheet" id="ledger">{ head(words::LEDGER, unit) }
            { table("ledger", &[], ledger(enclosure, &store.prefs).iter().map(|row| {
                table_row(if row.total { "sum" } else { "" }, (&row.text, ""), &[(&row.value, "")])
            }).collect()) }
            { for ledger_notes(enclosure, &store.prefs).iter().map(|note| tx("p", "small", note)) }
        </section>
    }
}

fn fence_sheet(store: &Handle, enclosure: &BoxReport) -> Html {
    let rows = fence(enclosure, &store.design().sheet, &store.prefs);
    let kerf = store
        .design()
        .sheet
        .length(FieldId::Kerf)
        .map_or_else(String::new, |kerf| store.prefs.length_text(kerf));
    html! {
        <section class="sheet" id="fence">{ head(words::FENCE, &words::kerf(&kerf)) }
            <p class="small">{ words::FENCE_ABOUT }</p>
            <p class="small">{ cutting::FIRST_SHEETS }</p>
            { for rows.into_iter().map(|row| setting(store, row)) }
            { for enclosure.plan.strip_blanks.iter().map(|blank| html! {
                <p class="small">{ words::blank(blank.count, &store.prefs.length_text(blank.width), &store.prefs.length_text(blank.length)) }</p>
            }) }
        </section>
    }
}

fn setting(store: &Handle, row: FenceRow) -> Html {
    html! {
        <div class="setting">
            <div class="set"><b>{ row.size }</b><small>{ row.blade }</small></div>
            <div>{ for row.cares.iter().map(|care| tx("p", "small", care)) }{ for row.cuts.into_iter().map(|cut| {
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
        <section class="sheet" id="parts">{ head(words::CUT_LIST, &words::cut_list_unit(unit)) }
            { table("parts", &[words::PIECE, words::SIZE], parts(enclosure, &store.prefs).iter().map(|row| {
                table_row("", (&row.name, ""), &[(&row.size, &row.edges)])
            }).collect()) }
            <p class="small">{ words::FACES }</p>
        </section>
    }
}
