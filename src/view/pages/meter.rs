//! The meter check: a reading goes in, what it means comes out, before anything is powered.
use std::rc::Rc;

use web_sys::HtmlInputElement;
use yew::prelude::*;

use super::desk::fold;
use crate::design::document::Reading;
use crate::design::limits::FieldId;
use crate::design::meter::judge;
use crate::design::report::WiringReport;
use crate::design::session::Action;
use crate::model::electrical::meter::MeterResult;
use crate::platform::clock;
use crate::platform::signal::{Signal, sound};
use crate::present::lines::LINE_READING;
use crate::present::meter::{Mark, Row, band, explanations, next, ohms, verdict};
use crate::units::{Entered, Quantity, Resistance};
use crate::view::components::{NoteKind, fields, head, note, table, table_row};
use crate::view::store::{Handle, Msg};
use crate::words::meter as words;

const METER: &[FieldId] = &[FieldId::MeterPercent, FieldId::MeterCounts, FieldId::MeterStep, FieldId::ReadAt];
const LEADS: &[FieldId] = &[FieldId::MeterLeads];

/// The meter check.
#[derive(PartialEq, Properties)]
pub struct MeterProps {
    /// The store.
    pub store: Handle,
    /// The coils and how they are wired.
    pub wiring: Rc<WiringReport>,
}

/// What stands in the reading's field.
#[derive(Clone, PartialEq)]
enum Read {
    Nothing,
    Wrong,
    Open,
    Value(Entered),
}

/// The meter check.
#[component]
pub fn MeterSheet(props: &MeterProps) -> Html {
    let store = &props.store;
    let text = use_state_eq(String::new);
    let open = use_state_eq(|| false);
    let read = match (*open, text.trim()) {
        (true, _) => Read::Open,
        (false, "") => Read::Nothing,
        (false, typed) => Entered::parse(typed, Quantity::Resistance, &store.prefs)
            .ok()
            .filter(|entered| (0.0..=1e6).contains(&entered.si()))
            .map_or(Read::Wrong, Read::Value),
    };
    let shown = match &read {
        Read::Open => Some(None),
        Read::Value(entered) => Some(Some(Resistance::from_ohms(entered.si()))),
        Read::Nothing | Read::Wrong => None,
    };
    let result = shown.and_then(|shown| judge(&store.design().sheet, &props.wiring, shown).ok());
    let oninput = {
        let (text, open) = (text.clone(), open.clone());
        Callback::from(move |event: InputEvent| {
            let input: HtmlInputElement = event.target_unchecked_into();
            open.set(false);
            text.set(input.value());
        })
    };
    let toggle_open = {
        let open = open.clone();
        Callback::from(move |_: MouseEvent| open.set(!*open))
    };
    let expected = props.wiring.chosen().map_or_else(String::new, |chosen| {
        format!(
            "{} to {}",
            crate::present::format::fixed(chosen.reading_low.ohms(), 2),
            ohms(Some(chosen.reading_high))
        )
    });
    html! {
        <section class="sheet" id="meter">{ head(words::TITLE, "") }
            <p class="small">{ words::UNPLUG }</p>
            { fields(store, LEADS) }
            <div class="figs two">
                <div class="fig"><label for="reading">{ words::READ }</label>
                    <span class="big"><input id="reading" type="text" inputmode="decimal" autocomplete="off" placeholder="Ω"
                        value={(*text).clone()} aria-invalid={(read == Read::Wrong).then_some("true")} {oninput} /><small>{ "Ω" }</small></span></div>
                <div class="fig"><span>{ words::EXPECT }</span><b class="big">{ expected }</b></div>
            </div>
            <div class="keys">
                <button type="button" class={classes!("key", open.then_some("main"))} aria-pressed={if *open { "true" } else { "false" }} onclick={toggle_open}>{ words::OPEN }</button>
                if let Some(shown) = shown { { keep(store, shown, result.as_ref()) } }
            </div>
            if read == Read::Wrong { <p class="hint bad" role="alert">{ words::WRONG }</p> }
            <div aria-live="polite">if let Some(result) = &result { { meaning(result) } }</div>
            { fold(store, words::METER, METER) }
            { kept(store) }
            <p class="small"><b>{ words::UNSEEN_TITLE }</b>{ " " }{ words::UNSEEN }</p>
        </section>
    }
}

fn meaning(result: &MeterResult) -> Html {
    let (mark, text) = verdict(result);
    let kind = match mark {
        Mark::Good => NoteKind::Good,
        Mark::Care => NoteKind::Care,
        Mark::Stop => NoteKind::Stop,
    };
    let row = |row: &Row| table_row("", (&row.text, ""), &[(&row.value, "")]);
    let mut rows: Vec<Html> = explanations(result, 5).iter().map(row).collect();
    if rows.is_empty() {
        rows.push(table_row("", (words::STATE_DRAWN, ""), &[(&band(result.expected_band), "")]));
    }
    let next = next(result);
    html! {
        <>
            { note(kind, &text) }
            { table("states", &[words::COULD_BE, words::READS], rows) }
            if let Some((place, rows)) = next {
                <h3>{ words::NEXT }{ ": " }{ place }</h3>
                { table("states", &[], rows.iter().map(row).collect()) }
            }
        </>
    }
}

/// Keeps the reading with its time, and sounds the verdict: the eyes are on the probe.
fn keep(store: &Handle, shown: Option<Resistance>, result: Option<&MeterResult>) -> Html {
    let good = result.is_some_and(|result| verdict(result).0 == Mark::Good);
    let note = result.map_or_else(String::new, |result| verdict(result).1);
    let store = store.clone();
    let onclick = Callback::from(move |_: MouseEvent| {
        if store.sound {
            let _ = sound(if good { Signal::Good } else { Signal::Bad });
        }
        let value = shown.and_then(|r| {
            let number = crate::units::Decimal::from_f64(r.ohms(), 3)?;
            Some(Entered { number, unit: crate::units::Unit::Ohm })
        });
        let reading = Reading {
            at_s: (clock::now_ms() / 1000.0) as i64,
            subject: LINE_READING.into(),
            value,
            note: note.clone(),
        };
        store.dispatch(Msg::Do(Action::AddReading(reading)));
    });
    html! { <button type="button" class="key main" {onclick}>{ words::KEEP }</button> }
}

/// Readings kept, newest first.
fn kept(store: &Handle) -> Html {
    let readings = &store.design().log.readings;
    if readings.is_empty() {
        return Html::default();
    }
    html! {
        <>
            <h3>{ words::KEPT }</h3>
            <ul class="kept">
                { for readings.iter().rev().take(6).map(|reading| {
                    let value = reading.value.map_or_else(|| words::NO_READING.into(), |value| value.to_text());
                    html! { <li><b>{ value }</b>{ " " }{ clock::local_time(reading.at_s) }<small>{ &reading.note }</small></li> }
                }) }
            </ul>
        </>
    }
}
