//! Desk: which box, how big, what it does.
mod rooms;

use std::rc::Rc;

use yew::prelude::*;

use super::find::{FindView, asked_for};
use super::slack::SlackView;
use super::{compare, depth, warnings};
use crate::design::limits::FieldId;
use crate::design::report::SoundReport;
use crate::design::warnings::Place;
use crate::model::acoustics::slack::Slack;
use crate::platform::files;
use crate::present::chart::{Chart, to_csv};
use crate::present::{charts, figures, lines};
use crate::view::components::{
    ChartView, DrawingView, Fold, cursor_view, fields, figure_grid, gap_note, head, scroll,
    table as table_of, table_row,
};
use crate::view::store::{Handle, Msg};
use crate::words::{acoustics, find, keep, name, page, slack};

const DRIVER: &[FieldId] = &[
    FieldId::DriverName,
    FieldId::Fs,
    FieldId::Re,
    FieldId::Coils,
    FieldId::SheetConnection,
    FieldId::Qes,
    FieldId::Qms,
    FieldId::Qts,
    FieldId::Vas,
    FieldId::Sd,
    FieldId::Xmax,
    FieldId::Le,
];
const DRIVER_MORE: &[FieldId] =
    &[FieldId::Mms, FieldId::Cms, FieldId::Bl, FieldId::NominalCoil, FieldId::ThermalPower];
const DRIVER_SIZES: &[FieldId] = &[
    FieldId::CutOut,
    FieldId::OutsideDiameter,
    FieldId::MountingDepth,
    FieldId::MagnetDiameter,
    FieldId::DriverDisplacement,
    FieldId::PoleVent,
];
const CLOSED: &[FieldId] = &[FieldId::BoxKind, FieldId::DriverCount, FieldId::WantedQtc, FieldId::WantedNet];
const VENTED_ROUND: &[FieldId] = &[
    FieldId::BoxKind,
    FieldId::DriverCount,
    FieldId::WantedNet,
    FieldId::WantedTuning,
    FieldId::PortShape,
    FieldId::PortDiameter,
    FieldId::PortCount,
    FieldId::PortLength,
];
const VENTED_SLOT: &[FieldId] = &[
    FieldId::BoxKind,
    FieldId::DriverCount,
    FieldId::WantedNet,
    FieldId::WantedTuning,
    FieldId::PortShape,
    FieldId::SlotHeight,
    FieldId::PortLength,
    FieldId::SlotBends,
];
const BAFFLE: &[FieldId] = &[FieldId::BoxKind, FieldId::DriverCount];
const RADIATORS: &[FieldId] = &[
    FieldId::BoxKind,
    FieldId::DriverCount,
    FieldId::WantedNet,
    FieldId::RadiatorCount,
    FieldId::RadiatorArea,
    FieldId::RadiatorMass,
    FieldId::RadiatorResonance,
    FieldId::RadiatorWeight,
    FieldId::RadiatorQ,
    FieldId::RadiatorTravel,
];
const RADIATOR_SIZES: &[FieldId] = &[
    FieldId::RadiatorCutOut,
    FieldId::RadiatorOutside,
    FieldId::RadiatorDepth,
    FieldId::RadiatorDisplacement,
    FieldId::RadiatorPlace,
];
const DRIVE_POWER: &[FieldId] = &[FieldId::DriveBy, FieldId::DrivePower];
const DRIVE_VOLTS: &[FieldId] = &[FieldId::DriveBy, FieldId::DriveVolts];

/// The fields of the box that count for its kind.
fn box_fields(store: &Handle) -> &'static [FieldId] {
    let sheet = &store.design().sheet;
    match (sheet.choice_key(FieldId::BoxKind), sheet.choice_key(FieldId::PortShape)) {
        ("vented", "slot") => VENTED_SLOT,
        ("vented", _) => VENTED_ROUND,
        ("infinite baffle", _) => BAFFLE,
        ("passive radiator", _) => RADIATORS,
        ("bandpass 4", _) => rooms::CLOSED_BEHIND,
        ("bandpass 6 outward" | "bandpass 6 inward", _) => rooms::PORT_BEHIND,
        _ => CLOSED,
    }
}

/// The charts of a sound, with bands where its slack is known.
#[must_use]
pub fn drawn((sound, slack): &(Option<Rc<SoundReport>>, Option<Rc<Slack>>)) -> Rc<[Rc<Chart>]> {
    let Some(sound) = sound else { return Rc::from([]) };
    let mut charts = charts::of_sound(sound);
    if let Some(slack) = slack {
        charts::add_bands(&mut charts, slack);
    }
    charts.into_iter().map(Rc::new).collect()
}

/// Desk.
pub fn desk(store: &Handle, drawn: &Rc<[Rc<Chart>]>) -> Html {
    let sound = store.report.sound.as_ref().ok();
    let drive = if store.design().sheet.choice_key(FieldId::DriveBy) == "voltage" {
        DRIVE_VOLTS
    } else {
        DRIVE_POWER
    };
    let shown_drive = sound.map_or_else(String::new, |sound| figures::drive(&sound.drive));
    html! {
        <div class="columns desk">
            <div class="column answer">
                <h1 class="line">{ lines::desk(store.design(), &store.report, &store.prefs) }</h1>
                <section class="sheet" id="picture">{ head(page::BOX_DRAWN, "") }
                    if let Ok(enclosure) = &store.report.enclosure {
                        <DrawingView enclosure={Rc::clone(enclosure)} prefs={store.prefs} out={store.dispatcher()} />
                    } else if let Err(gap) = &store.report.enclosure {
                        { gap_note(gap) }
                        { asked_for(store) }
                    }
                    if let Some(sound) = sound {
                        { figure_grid(&figures::of_sound(sound, &store.prefs)) }
                    } else if let Err(gap) = &store.report.driver {
                        { gap_note(gap) }
                    }
                </section>
                { warnings(store, Place::Desk) }
            </div>
            <div class="column curves" id="curves">{ curves(store, drawn) }</div>
            <div class="column entries">
                <section class="sheet" id="driver">{ head(page::DRIVER, page::DRIVER_WINS) }
                    { fields(store, DRIVER) }
                    { fold(store, page::DRIVER_MORE, DRIVER_MORE) }
                    { fold(store, page::DRIVER_SIZES, DRIVER_SIZES) }
                    { depth::coil(store) }
                </section>
                <section class="sheet" id="box">{ head(page::BOX, "") }
                    { fields(store, box_fields(store)) }
                    if store.design().sheet.choice_key(FieldId::BoxKind).starts_with("bandpass") { { rooms::ports(store) } }
                    { radiator_sizes(store) }
                    { depth::losses(store) }
                    { depth::floor(store) }
                    { find_fold(store) }
                </section>
                <section class="sheet" id="drive">{ head(page::DRIVE, &shown_drive) }
                    { fields(store, drive) }
                    { depth::path(store) }
                    { depth::cabin(store) }
                </section>
            </div>
        </div>
    }
}

/// Mounting sizes of passive radiators.
fn radiator_sizes(store: &Handle) -> Html {
    if store.design().sheet.choice_key(FieldId::BoxKind) == "passive radiator" {
        fold(store, page::RADIATOR_SIZES, RADIATOR_SIZES)
    } else {
        Html::default()
    }
}

fn find_fold(store: &Handle) -> Html {
    let store = store.clone();
    let content = Callback::from(move |()| html! { <FindView store={store.clone()} /> });
    html! { <Fold title={find::TITLE} {content} /> }
}

fn slack_fold(store: &Handle) -> Html {
    let store = store.clone();
    let content = Callback::from(move |()| html! { <SlackView store={store.clone()} /> });
    html! { <Fold title={slack::TITLE} {content} /> }
}

/// A fold with entries.
pub(super) fn fold(store: &Handle, title: &'static str, ids: &'static [FieldId]) -> Html {
    let store = store.clone();
    let content = Callback::from(move |()| html! { { fields(&store, ids) } });
    html! { <Fold {title} {content} /> }
}

fn curves(store: &Handle, drawn: &Rc<[Rc<Chart>]>) -> Html {
    let beside: Rc<[Rc<Chart>]>;
    let drawn = if store.beside.is_empty() {
        drawn
    } else {
        beside = Rc::from(charts::with_beside(drawn, &store.beside));
        &beside
    };
    let on_move = {
        let store = store.clone();
        Callback::from(move |index| store.dispatch(Msg::Cursor(index)))
    };
    let (cursor, dark) = (store.cursor, store.is_dark());
    let view = move |chart: &Rc<Chart>| html! { <ChartView key={chart.key} chart={Rc::clone(chart)} {cursor} {dark} /> };
    // Level, travel and, of a vented box, the port decide; impedance and delay are depth.
    let shown = drawn.len().saturating_sub(2);
    let later = depth::Later::new(store);
    let more = {
        let (drawn, later) = (Rc::clone(drawn), Rc::clone(&later));
        Callback::from(move |()| {
            let more = later.more();
            html! { <>{ for drawn.iter().skip(shown).map(view) }{ for more.iter().map(view) }</> }
        })
    };
    let ceiling = {
        let later = Rc::clone(&later);
        Callback::from(move |()| depth::ceiling(&later, &view))
    };
    let unequal = store.report.sound.as_ref().is_ok_and(|sound| sound.network.unequal.is_some());
    // Without a sound the sheet stays, unseen: folds that were open are open again once there is one.
    html! {
        <section class="sheet" hidden={drawn.is_empty()}>
            { depth::first_limit(store) }
            { cursor_view(drawn, cursor, on_move) }
            { for drawn.iter().take(shown).map(view) }
            if unequal {
                { depth::unequal_shares(store, view) }
            }
            <Fold title={acoustics::CEILING} content={ceiling} />
            <Fold title={page::MORE_CURVES} content={more} />
            { slack_fold(store) }
            { compare::compare(store) }
            <Fold title={name::AS_TABLE} content={table(store, drawn)} />
            { depth::save(store, drawn, &later) }
        </section>
    }
}

/// The same data as a table at the third-octaves, and all of it as a download.
fn table(store: &Handle, drawn: &Rc<[Rc<Chart>]>) -> Callback<(), Html> {
    let (store, drawn) = (store.clone(), Rc::clone(drawn));
    Callback::from(move |()| {
        let save = {
            let (store, drawn) = (store.clone(), Rc::clone(&drawn));
            Callback::from(move |_: MouseEvent| {
                let all: Vec<&Chart> = drawn.iter().map(|chart| &**chart).collect();
                if files::save("kerf-and-coil-curves.csv", "text/csv", &to_csv(&all)).is_err() {
                    store.dispatch(Msg::Tell(keep::EXPORT_FAILED.into()));
                }
            })
        };
        let curves: Vec<_> = drawn.iter().flat_map(|chart| chart.curves.iter()).collect();
        let frequencies =
            drawn.first().map(|chart| Rc::clone(&chart.frequencies_hz)).unwrap_or_else(|| Rc::from([]));
        let names: Vec<String> =
            curves.iter().map(|curve| format!("{}, {}", curve.name, curve.unit)).collect();
        let mut heads = vec![name::FREQUENCY];
        heads.extend(names.iter().map(String::as_str));
        let rows = frequencies.iter().enumerate().step_by(8).map(|(i, hz)| {
            let values: Vec<String> = curves
                .iter()
                .map(|curve| {
                    crate::present::format::fixed(
                        curve.values.get(i).copied().unwrap_or(f64::NAN),
                        curve.places,
                    )
                })
                .collect();
            let cells: Vec<(&str, &str)> = values.iter().map(|value| (value.as_str(), "")).collect();
            table_row("", (&figures::hertz(*hz), ""), &cells)
        });
        html! {
            <>
                { scroll(name::AS_TABLE, table_of("", &heads, rows.collect())) }
                <button type="button" class="key" onclick={save}>{ name::DOWNLOAD_CSV }</button>
            </>
        }
    })
}
