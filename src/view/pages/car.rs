//! Car: is it wired right, and what feeds it.
use yew::prelude::*;

use super::desk::fold;
use super::meter::MeterSheet;
use super::quick::QuickChecks;
use super::trials::TrialsSheet;
use super::warnings;
use crate::design::document::Entry;
use crate::design::limits::FieldId;
use crate::design::report::{FeedReport, Report, WiringReport};
use crate::design::session::Action;
use crate::design::warnings::Place;
use crate::present::tables::{amperes, cables, feed_in, power_text, size, wiring, wiring_steps};
use crate::present::wiring_drawing;
use crate::present::{format, lines};
use crate::view::components::{
    Fold, caution, el, fields, figure, gap_note, head, pairs, scroll, table, table_row, tx, wiring_view,
};
use crate::view::store::{Handle, Msg};
use crate::words::{car as words, trials as trial_words};

const AMPLIFIER: &[FieldId] = &[
    FieldId::AmplifierName,
    FieldId::Watts4,
    FieldId::Watts2,
    FieldId::Watts1,
    FieldId::RatedSupply,
    FieldId::StableLoad,
    FieldId::Efficiency,
];
const FEED: &[FieldId] = &[
    FieldId::CableRun,
    FieldId::CableMaterial,
    FieldId::Insulation,
    FieldId::Ambient,
    FieldId::Supply,
    FieldId::DropLimit,
];
const LINE: &[FieldId] =
    &[FieldId::ReadAt, FieldId::SpeakerRun, FieldId::SpeakerCable, FieldId::CoilTolerance];
const COILS: &[FieldId] = &[FieldId::NominalCoil, FieldId::Re, FieldId::Coils, FieldId::DriverCount];

/// Car.
#[inline(never)] // a page of its own, so that it may come after the first result
pub fn car(store: &Handle) -> Html {
    let report: &Report = &store.report;
    html! {
        <div class="columns car">
            <div class="column answer">
                <h1 class="line">{ lines::car(store.design(), report) }</h1>
                { warnings(store, Place::Car) }
                if let Ok(wiring) = &report.wiring {
                    <MeterSheet store={store.clone()} wiring={wiring.clone()} />
                }
                <QuickChecks store={store.clone()} />
                { trials(store) }
            </div>
            <div class="column work">
                <section class="sheet" id="wiring">{ head(words::WIRING, "") }
                    if let Ok(wiring) = &report.wiring {
                        { options(store, wiring) }
                    } else if let Err(gap) = &report.wiring {
                        { gap_note(gap) }
                    }
                    { fold(store, words::COILS, COILS) }
                    { fold(store, words::LINE, LINE) }
                </section>
                <section class="sheet" id="feed">{ head(words::FEED, "") }
                    if let Ok(feed) = &report.feed {
                        { feed_figures(store, feed) }
                    } else if let Err(gap) = &report.feed {
                        { gap_note(gap) }
                    }
                </section>
                { caution(words::CAUTION_FUSE) }
            </div>
            <div class="column entries">
                <section class="sheet" id="amplifier">{ head(words::AMPLIFIER, "") }
                    { fields(store, AMPLIFIER) }
                    if let Ok(feed) = &report.feed { { gain(feed) } }
                </section>
                <section class="sheet" id="run">{ head(words::FEED_ENTRIES, "") }{ fields(store, FEED) }</section>
                { caution(words::CAUTION_LOUD) }
                { caution(words::CAUTION_CRASH) }
            </div>
        </div>
    }
}

/// Trials of spots; what is in them comes when they are opened.
fn trials(store: &Handle) -> Html {
    let store = store.clone();
    let content = Callback::from(move |()| html! { <TrialsSheet store={store.clone()} /> });
    html! {
        <section class="sheet" id="trials">{ head(trial_words::TITLE, "") }
            <Fold title={trial_words::OPEN} {content} />
        </section>
    }
}

/// Every balanced wiring; the chosen one drawn and as steps.
fn options(store: &Handle, report: &WiringReport) -> Html {
    let rows = report.options.iter().enumerate().map(|(index, option)| {
        let row = wiring(option);
        let choose = {
            let (store, notation) = (store.clone(), row.notation.clone());
            Callback::from(move |_: Event| {
                store.dispatch(Msg::Do(Action::Seal));
                store.dispatch(Msg::Do(Action::Set(FieldId::Wiring, Entry::Text(notation.clone()))));
            })
        };
        let chosen = index == report.chosen;
        html! {
            <label class={classes!("option", chosen.then_some("chosen"))} key={row.notation.clone()}>
                <input type="radio" name="wiring" value={row.notation} checked={chosen} onchange={choose} />
                <span class="load">{ row.load }</span>
                <span class="what">{ row.text }
                    <small>{ words::meter_reads(&row.reading) }</small>
                    <small>{ words::power(&row.power, &row.share) }</small>
                    if !row.stable { <small class="bad">{ words::UNSTABLE }</small> }
                </span>
            </label>
        }
    });
    let chosen = report.chosen();
    html! {
        <>
            <fieldset class="options"><legend>{ words::CHOOSE }</legend>{ for rows }</fieldset>
            if let Some(chosen) = chosen {
                { wiring_view(&wiring_drawing::draw(&chosen.tree)) }
                { el("ol", &[("class", "steps")], wiring_steps(chosen).iter().map(|step| tx("li", "", step)).collect()) }
            }
        </>
    }
}

fn feed_figures(store: &Handle, feed: &FeedReport) -> Html {
    let list = feed_in(feed, &store.prefs);
    let chosen = list.choice();
    let cable = chosen.map_or_else(|| format::NO_NUMBER.into(), |option| size(option.cable.size));
    let fuse = chosen.and_then(|option| option.fuse.as_ref().ok());
    let fuse = fuse.map_or_else(|| format::NO_NUMBER.into(), |fuse| amperes(fuse.rating.amperes()));
    let figures = vec![
        figure("draw", &amperes(feed.draw.worst_case.amperes().round()), "", words::DRAW),
        figure("cable", &cable, "", words::CABLE),
        figure("fuse", &fuse, "", words::FUSE),
    ];
    let why = chosen.map(|option| {
        tx(
            "p",
            "small",
            &words::feed_why(
                &format::fixed(option.ampacity.current.amperes(), 0),
                &format::fixed(option.drop.volts(), 2),
                &format::fixed(option.drop_percent, 1),
            ),
        )
    });
    let rows = cables(list)
        .iter()
        .map(|row| {
            let more = if row.chosen { words::THIS_ONE } else { &row.why_not };
            let cells = [(row.carries.as_str(), ""), (&row.drop, ""), (&row.fuse, "")];
            table_row(if row.chosen { "sum" } else { "" }, (&row.size, more), &cells)
        })
        .collect();
    let heads = [words::SIZE, words::CARRIES, words::DROP, words::FUSE_SHORT];
    html! {
        <>
            { el("dl", &[("class", "figs")], figures) }
            { why.unwrap_or_default() }
            { scroll(words::CABLES, table("cables", &heads, rows)) }
            { tx("p", "small", words::FEED_SOURCE) }
        </>
    }
}

fn gain(feed: &FeedReport) -> Html {
    html! {
        <>
            { pairs(&[
                (words::POWER_HERE, power_text(&feed.power), ""),
                (words::GAIN, format::fixed(feed.gain.volts(), 1), "V AC"),
            ]) }
            { tx("p", "small", words::GAIN_HOW) }
        </>
    }
}
