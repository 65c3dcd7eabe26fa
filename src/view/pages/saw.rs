//! Saw: what to cut, in which order, and what came out.
mod assembling;
mod bench;
mod clearance;
mod cuts;
mod drawn;
mod faces;
mod level;
mod rings;
mod shape;
mod sheets;
mod space;
mod testbox;

use std::rc::Rc;

use yew::prelude::*;

use self::cuts::Cut;
use super::desk::fold;
use super::find::asked_for;
use super::warnings;
use crate::design::faces::recess_is_idle;
use crate::design::limits::FieldId;
use crate::design::look::Look;
use crate::design::report::{BoxReport, Gap};
use crate::design::testbox::ExtraPart;
use crate::design::warnings::Place;
use crate::present::tables::{FenceRow, fence, form_note, ledger, ledger_notes, parts, trims};
use crate::present::testbox::part_rows;
use crate::present::{format, lines};
use crate::units::{Quantity, UnitPrefs};
use crate::view::components::{DrawingView, caution, fields, gap_note, head, pairs, table, table_row, tx};
use crate::view::store::Handle;
use crate::words::{cutting, faces as face_words, page, saw as words, space as space_words};

const SPACE: &[FieldId] = &[
    FieldId::VehicleName,
    FieldId::SpaceWidth,
    FieldId::SpaceHeight,
    FieldId::SpaceDepth,
    FieldId::SpaceTopDepth,
    FieldId::Clearance,
    FieldId::DoorWidth,
    FieldId::DoorHeight,
    FieldId::DoorGap,
];
const TEST_BOX: &[FieldId] = &[
    FieldId::TestBox,
    FieldId::LegHeight,
    FieldId::LegWindow,
    FieldId::LegCorner,
    FieldId::LegRail,
    FieldId::InsertTarget,
    FieldId::AdapterCutOut,
    FieldId::AdapterOutside,
];
const RINGS: &[FieldId] = &[
    FieldId::Construction,
    FieldId::RingShape,
    FieldId::RingWidth,
    FieldId::RingDepth,
    FieldId::RingRadius,
    FieldId::RingSides,
    FieldId::RingTrace,
    FieldId::RingWall,
    FieldId::RingCount,
    FieldId::RingTopWidth,
    FieldId::RingTopDepth,
    FieldId::RingFront,
    FieldId::RingBack,
    FieldId::RingPins,
    FieldId::PinDiameter,
];
const BUILD: &[FieldId] =
    &[FieldId::EnclosureName, FieldId::Board, FieldId::FrontLayers, FieldId::Recess, FieldId::RecessGap];
const STRIPS: &[FieldId] = &[FieldId::Strips, FieldId::StripFace, FieldId::StripMeasured, FieldId::StripVoid];
const OUTSIDE: &[FieldId] = &[FieldId::BoxWidth, FieldId::BoxHeight, FieldId::BoxDepth, FieldId::TapeStep];
const DETAILS: &[FieldId] = &[
    FieldId::TerminalWidth,
    FieldId::TerminalHeight,
    FieldId::TerminalDepth,
    FieldId::Braces,
    FieldId::BraceRim,
    FieldId::OwnAir,
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
const OTHER_BOARDS: &[FieldId] = &[
    FieldId::SecondBoard,
    FieldId::SecondDensity,
    FieldId::SecondModulus,
    FieldId::SecondSheetWidth,
    FieldId::SecondSheetLength,
    FieldId::SecondSheetPrice,
    FieldId::ThirdBoard,
    FieldId::ThirdDensity,
    FieldId::ThirdModulus,
    FieldId::ThirdSheetWidth,
    FieldId::ThirdSheetLength,
    FieldId::ThirdSheetPrice,
    FieldId::FrontFrom,
    FieldId::FrontInnerFrom,
    FieldId::InsideFrom,
    FieldId::StripsFrom,
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
    let sheet = &store.design().sheet;
    // Without strips only the question for them.
    let asked = if sheet.choice_key(FieldId::Strips) == "none" { 1 } else { STRIPS.len() };
    let spec = store.report.enclosure.as_ref().ok().map(|enclosure| &enclosure.spec);
    let idle = spec.is_some_and(|spec| recess_is_idle(sheet, spec));
    html! {
        <div class="columns saw">
            <div class="column answer">
                { bench::printed_head(store) }
                <h1 class="line">{ lines::saw(&store.report, sheet, &store.prefs) }</h1>
                <section class="sheet" id="picture">{ head(page::BOX_DRAWN, "") }
                    if let Ok(enclosure) = &store.report.enclosure {
                        { drawing(store, enclosure) }
                        { sizes(enclosure, Look::of(&store.design().sheet), &store.prefs) }
                        if let Some(note) = form_note(enclosure, &store.design().sheet) { { tx("p", "about", note) } }
                        { level::from_above(store, enclosure) }
                    } else if let Err(gap) = &store.report.enclosure {
                        { gap_note(gap) }
                        { asked_for(store) }
                        if let Some(last) = &store.last_box {
                            { tx("p", "gap", words::LAST_BOX) }
                            <div class="past">
                                <DrawingView enclosure={Rc::clone(last)} prefs={store.prefs} out={store.dispatcher()} />
                                { sizes(last, Look::of(&store.design().sheet), &store.prefs) }
                            </div>
                        }
                    }
                </section>
                { warnings(store, Place::Saw) }
                if let Ok(enclosure) = &store.report.enclosure { { ledger_sheet(store, enclosure) } }
            </div>
            <div class="column work">
                if let Ok(enclosure) = &store.report.enclosure { { work(store, enclosure) } }
                if matches!(store.report.enclosure, Err(Gap::Rings)) { { rings::rings_sheet(store) } }
            </div>
            <div class="column entries">
                <section class="sheet" id="space">{ head(page::SPACE, "") }{ fields(store, SPACE) }{ space::look(store) }{ testbox::door(store) }{ space::entries(store) }</section>
                <section class="sheet" id="build">{ head(page::BUILD, "") }
                    { fields(store, BUILD) }
                    if idle { { tx("p", "about", face_words::NO_RECESS) } }
                    { fields(store, STRIPS.get(..asked).unwrap_or(STRIPS)) }
                    if store.design().sheet.choice_key(FieldId::Strips) == "own" { { shape::strips(store) } }
                    { shape::entries(store) }
                    { fold(store, page::OUTSIDE, OUTSIDE) }
                    { fold(store, crate::words::testbox::TITLE, TEST_BOX) }
                    { fold(store, crate::words::rings::TITLE, RINGS) }
                    { fold(store, page::DETAILS, DETAILS) }
                    { faces::entries(store) }
                    { shape::edges(store) }
                    { fold(store, crate::words::wood::TITLE, OTHER_BOARDS) }
                    { fold(store, cutting::STOCK, STOCK) }
                    { fold(store, cutting::BENCH_ENTRIES, BENCH) }
                </section>
            </div>
        </div>
    }
}

/// The box with what is beside it, and the key to that.
fn drawing(store: &Handle, enclosure: &Rc<BoxReport>) -> Html {
    let (over, key) = drawn::beside_the_box(store, enclosure);
    html! {
        <>
            <DrawingView enclosure={Rc::clone(enclosure)} prefs={store.prefs} out={store.dispatcher()} {over} />
            { key }
        </>
    }
}

/// What is done at the saw, in the order it is done.
fn work(store: &Handle, enclosure: &Rc<BoxReport>) -> Html {
    let test_box = testbox::found(store, enclosure);
    html! {
        <>
            { caution(words::CAUTION_SAW) }
            { sheets::layout_sheet(store, enclosure, test_box.as_ref()) }
            { fence_sheet(store, enclosure) }
            { parts_sheet(store, enclosure, testbox::extras(test_box.as_deref())) }
            { caution(words::CAUTION_ROUTER) }
            { bench::details_sheet(store, enclosure) }
            { assembling::order_sheet(store, enclosure) }
            if let Some(found) = &test_box { { testbox::test_box_sheet(store, found) } }
            { bench::templates_sheet(store, enclosure, test_box.as_ref()) }
            { clearance::clearance_sheet(store, enclosure) }
            { bench::bench_sheet(store, enclosure, test_box.as_ref()) }
            { bench::print_keys() }
        </>
    }
}

/// Outside and inside of the box as it stands.
fn sizes(enclosure: &BoxReport, look: Look, prefs: &UnitPrefs) -> Html {
    let assembly = &enclosure.plan.current().assembly;
    let text = |dims: crate::model::geometry::Dims| {
        [dims.width, dims.height, dims.depth].map(|l| prefs.length_text(l)).join(" × ")
    };
    let unit = prefs.unit_for(Quantity::Length).symbol();
    let mut rows = vec![(words::OUTSIDE, text(assembly.outside), unit)];
    if look != Look::Along {
        rows.push((space_words::IN_THE_CAR, text(look.turned(assembly.outside)), unit));
    }
    if !enclosure.spec.is_baffle() {
        rows.push((words::INSIDE, text(assembly.inside), unit));
    }
    if let Some(loose) = enclosure.spec.loose {
        let open = assembly.opening(loose).map(|l| prefs.length_text(l)).join(" × ");
        rows.push((face_words::OPENING, open, unit));
    }
    for (label, port) in [(words::PORT, &enclosure.port), (words::FRONT_PORT, &enclosure.front_port)] {
        let Some(port) = port else { continue };
        let length = format::length(port.length, prefs).to_string();
        rows.push((label, format!("{length}, {}", format::fixed(port.tuning.hertz(), 1)), "Hz"));
    }
    pairs(&rows)
}

fn ledger_sheet(store: &Handle, enclosure: &BoxReport) -> Html {
    if enclosure.spec.is_baffle() {
        return Html::default();
    }
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

fn parts_sheet(store: &Handle, enclosure: &BoxReport, extras: &[ExtraPart]) -> Html {
    let unit = store.prefs.unit_for(Quantity::Length).symbol();
    let mut rows = parts(enclosure, &store.prefs);
    rows.extend(part_rows(extras, enclosure.spec.boards.shell.thickness, &store.prefs));
    html! {
        <section class="sheet" id="parts">{ head(words::CUT_LIST, &words::cut_list_unit(unit)) }
            { table("parts", &[words::PIECE, words::SIZE], rows.iter().map(|row| {
                table_row("", (&row.name, ""), &[(&row.size, &row.edges)])
            }).collect()) }
            { for trims(enclosure, &store.prefs).iter().map(|text| tx("p", "small", text)) }
            <p class="small">{ shape::faces(enclosure) }</p>
        </section>
    }
}
