//! Car: is it wired right, and what feeds it.
use yew::prelude::*;

use super::desk::fold;
use super::meter::MeterSheet;
use super::quick::QuickChecks;
use super::warnings;
use crate::design::document::Entry;
use crate::design::limits::FieldId;
use crate::design::report::{FeedReport, Report, WiringReport};
use crate::design::session::Action;
use crate::design::warnings::Place;
use crate::present::tables::{amperes, cables, feed_in, power_text, size, wiring, wiring_steps};
use crate::present::wiring_drawing;
use crate::present::{format, lines};
use crate::view::app::StoreProps;
use crate::view::components::{Caution, Fields, GapNote, SheetBox, WiringView};
use crate::view::store::{Handle, Msg};
use crate::words::car as words;

const AMPLIFIER: &[FieldId] = &[
    FieldId::AmplifierName, FieldId::Watts4, FieldId::Watts2, FieldId::Watts1, FieldId::RatedSupply,
    FieldId::StableLoad, FieldId::Efficiency,
];
const FEED: &[FieldId] = &[
    FieldId::CableRun, FieldId::CableMaterial, FieldId::Insulation, FieldId::Ambient, FieldId::Supply, FieldId::DropLimit,
];
const LINE: &[FieldId] = &[FieldId::ReadAt, FieldId::SpeakerRun, FieldId::SpeakerCable, FieldId::CoilTolerance];
const COILS: &[FieldId] = &[FieldId::NominalCoil, FieldId::Re, FieldId::Coils, FieldId::DriverCount];

/// Car.
#[component]
pub fn CarPage(props: &StoreProps) -> Html {
    let store = &props.store;
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
            </div>
            <div class="column work">
                <SheetBox title={words::WIRING} id="wiring">
                    if let Ok(wiring) = &report.wiring {
                        { options(store, wiring) }
                    } else if let Err(gap) = &report.wiring {
                        <GapNote gap={gap.clone()} />
                    }
                    { fold(store, words::COILS, COILS) }
                    { fold(store, words::LINE, LINE) }
                </SheetBox>
                <SheetBox title={words::FEED} id="feed">
                    if let Ok(feed) = &report.feed {
                        { feed_figures(store, feed) }
                    } else if let Err(gap) = &report.feed {
                        <GapNote gap={gap.clone()} />
                    }
                </SheetBox>
                <Caution text={words::CAUTION_FUSE} />
            </div>
            <div class="column entries">
                <SheetBox title={words::AMPLIFIER} id="amplifier">
                    <Fields store={store.clone()} ids={AMPLIFIER} />
                    if let Ok(feed) = &report.feed { { gain(feed) } }
                </SheetBox>
                <SheetBox title={words::FEED_ENTRIES} id="run"><Fields store={store.clone()} ids={FEED} /></SheetBox>
                <Caution text={words::CAUTION_LOUD} />
                <Caution text={words::CAUTION_CRASH} />
            </div>
        </div>
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
                <WiringView drawing={wiring_drawing::draw(&chosen.tree)} />
                <ol class="steps">{ for wiring_steps(chosen).into_iter().map(|step| html! { <li>{ step }</li> }) }</ol>
            }
        </>
    }
}

fn feed_figures(store: &Handle, feed: &FeedReport) -> Html {
    let list = feed_in(feed, &store.prefs);
    let chosen = list.choice();
    let figure = |value: String, name: &'static str| html! { <div class="fig"><dt>{ name }</dt><dd>{ value }</dd></div> };
    let cable = chosen.map_or_else(|| format::NO_NUMBER.into(), |option| size(option.cable.size));
    let fuse = chosen.and_then(|option| option.fuse.as_ref().ok());
    html! {
        <>
            <dl class="figs">
                { figure(amperes(feed.draw.worst_case.amperes().round()), words::DRAW) }
                { figure(cable, words::CABLE) }
                { figure(fuse.map_or_else(|| format::NO_NUMBER.into(), |fuse| amperes(fuse.rating.amperes())), words::FUSE) }
            </dl>
            if let Some(option) = chosen {
                <p class="small">{ words::feed_why(
                    &format::fixed(option.ampacity.current.amperes(), 0),
                    &format::fixed(option.drop.volts(), 2),
                    &format::fixed(option.drop_percent, 1),
                ) }</p>
            }
            <div class="scroll" tabindex="0" role="region" aria-label={words::CABLES}>
                <table class="cables">
                    <thead><tr><th scope="col">{ words::SIZE }</th><th scope="col">{ words::CARRIES }</th>
                        <th scope="col">{ words::DROP }</th><th scope="col">{ words::FUSE_SHORT }</th></tr></thead>
                    <tbody>{ for cables(list).into_iter().map(|row| html! {
                        <tr class={classes!(row.chosen.then_some("sum"))}>
                            <th scope="row">{ row.size } if row.chosen { <small>{ words::THIS_ONE }</small> } else if !row.why_not.is_empty() { <small>{ row.why_not }</small> }</th>
                            <td>{ row.carries }</td><td>{ row.drop }</td><td>{ row.fuse }</td>
                        </tr>
                    }) }</tbody>
                </table>
            </div>
            <p class="small">{ words::FEED_SOURCE }</p>
        </>
    }
}

fn gain(feed: &FeedReport) -> Html {
    html! {
        <>
            <dl class="pairs">
                <div><dt>{ words::POWER_HERE }</dt><dd>{ power_text(&feed.power) }</dd></div>
                <div><dt>{ words::GAIN }</dt><dd>{ format::fixed(feed.gain.volts(), 1) }<small>{ " V AC" }</small></dd></div>
            </dl>
            <p class="small">{ words::GAIN_HOW }</p>
        </>
    }
}
