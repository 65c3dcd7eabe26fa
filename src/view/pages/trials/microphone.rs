//! The microphone: its curve from a file or text, and a meter reading that anchors its level.
use std::rc::Rc;

use yew::prelude::*;

use super::{Shown, choice_row, input_row, key, on_choice, on_text};
use crate::design::document::{Entry, parse_entry};
use crate::design::limits::FieldId;
use crate::design::session::Action;
use crate::design::trials::{ANCHOR_HZ, Trial, anchored, correction, correction_text};
use crate::model::measurement::columns;
use crate::model::measurement::{Weighting, tone_wav};
use crate::platform::files;
use crate::present::trials::{LOUDEST_DB, columns_error, preview, spot_in_full};
use crate::units::parse_number;
use crate::view::app::StoreProps;
use crate::view::components::{NoteKind, caution, fields, note, tx};
use crate::view::store::{Handle, Msg};
use crate::words::{microphone as words, trials};

const COUNTS_FOR: &[FieldId] = &[FieldId::MicrophoneFor];
const METER: &[FieldId] = &[FieldId::TrialMeter];
const LEVEL: &[FieldId] = &[FieldId::FullScale];
/// The way of a sweep.
const SWEEP: u8 = 2;
/// How long the tone of the anchor lasts, s.
const TONE_S: f64 = 20.0;

/// Curve and anchor.
#[component]
pub(super) fn MicrophonePanel(props: &StoreProps) -> Html {
    let store = &props.store;
    let typed = use_state(|| Rc::<str>::from(""));
    let reading = use_state(String::new);
    let chosen = use_state_eq(|| 0_usize);
    html! {
        <>
            { tx("p", "small", words::ABOUT) }
            { curve(store, &typed) }
            <h3>{ words::ANCHOR }</h3>
            { tx("p", "small", words::ANCHOR_HOW) }
            { anchor(store, &reading, &chosen) }
        </>
    }
}

fn set(store: &Handle, id: FieldId, entry: Entry) {
    store.dispatch(Msg::Do(Action::Seal));
    store.dispatch(Msg::Do(Action::Set(id, entry)));
}

fn curve(store: &Handle, typed: &UseStateHandle<Rc<str>>) -> Html {
    if correction(&store.design().sheet).is_some() {
        let drop = {
            let store = store.clone();
            Callback::from(move |_: MouseEvent| {
                store.dispatch(Msg::Do(Action::Seal));
                store.dispatch(Msg::Do(Action::Clear(FieldId::MicrophoneCurve)));
            })
        };
        return html! {
            <>
                { note(NoteKind::Good, words::HAS_CURVE) }
                { fields(store, COUNTS_FOR) }
                <div class="keys">{ key(words::DROP_CURVE, "key", drop) }</div>
            </>
        };
    }
    let put = {
        let typed = typed.clone();
        move |text: &str| typed.set(Rc::from(text))
    };
    let oninput = {
        let put = put.clone();
        Callback::from(move |event: InputEvent| {
            let area: web_sys::HtmlTextAreaElement = event.target_unchecked_into();
            put(&area.value());
        })
    };
    let pick = super::form::pick_text(store, put);
    let read = (!typed.trim().is_empty())
        .then(|| columns::read(typed).and_then(|columns| Ok((columns.curve(2)?, columns))));
    let answer = match read {
        None => Html::default(),
        Some(Err(error)) => note(NoteKind::Care, &columns_error(&error)),
        Some(Ok((curve, columns))) => {
            let text = correction_text(&curve.for_trial());
            let (store, typed) = (store.clone(), typed.clone());
            let take = Callback::from(move |_: MouseEvent| {
                set(&store, FieldId::MicrophoneCurve, Entry::Text(text.clone()));
                typed.set(Rc::from(""));
            });
            html! {
                <>
                    { tx("p", "small", &preview(&columns, 2)) }
                    <div class="keys">{ key(words::TAKE_CURVE, "key main", take) }</div>
                </>
            }
        }
    };
    html! {
        <>
            <label class="stack"><span>{ words::PASTE }</span>
                <textarea rows="4" autocomplete="off" spellcheck="false" value={typed.to_string()} {oninput} /></label>
            { key(trials::PICK, "key", pick) }
            <div aria-live="polite">{ answer }</div>
        </>
    }
}

fn anchor(store: &Handle, reading: &UseStateHandle<String>, chosen: &UseStateHandle<usize>) -> Html {
    let sweeps: Vec<&Trial> = store
        .design()
        .log
        .trials
        .iter()
        .rev()
        .filter(|trial| trial.way == SWEEP && !trial.left_out)
        .collect();
    if sweeps.is_empty() {
        return html! { <>{ tx("p", "small", words::ANCHOR_NONE) }{ fields(store, LEVEL) }</> };
    }
    let save = {
        let store = store.clone();
        Callback::from(move |_: MouseEvent| {
            if files::save_bytes(words::TONE_FILE, "audio/wav", &tone_wav(ANCHOR_HZ, TONE_S)).is_err() {
                store.dispatch(Msg::Tell(words::SAVE_FAILED.into()));
            }
        })
    };
    let names: Vec<String> = sweeps.iter().map(|trial| spot_in_full(&trial.name())).collect();
    let choose = {
        let chosen = chosen.clone();
        on_choice(move |at| chosen.set(at))
    };
    let typed = {
        let reading = reading.clone();
        on_text(move |text| reading.set(text))
    };
    let weighting = match store.design().sheet.choice_key(FieldId::TrialMeter) {
        "A" => Weighting::A,
        "Z" => Weighting::Z,
        _ => Weighting::C,
    };
    let read =
        parse_number(reading).ok().map(|number| number.value()).filter(|db| (30.0..=140.0).contains(db));
    let level = read.and_then(|read| anchored(&store.design().sheet, sweeps.get(**chosen)?, read, weighting));
    let refusal = match (reading.trim().is_empty(), read, level) {
        (true, ..) | (_, Some(_), Some(_)) => None,
        (_, None, _) => Some(trials::NOT_A_LEVEL),
        _ => Some(words::ANCHOR_GAP),
    };
    let shown =
        Shown { label: words::READING, value: reading, unit: "dB", example: "85", refusal, text: false };
    let take = {
        let store = store.clone();
        Callback::from(move |_: MouseEvent| {
            let entry =
                level.and_then(|db| parse_entry(FieldId::FullScale, &format!("{db:.1}"), &store.prefs).ok());
            if let Some(entry) = entry {
                set(&store, FieldId::FullScale, entry);
            }
        })
    };
    html! {
        <>
            <div class="keys">{ key(words::SAVE_TONE, "key", save) }</div>
            { choice_row(words::ANCHOR_TRIAL, &names, **chosen, choose) }
            { fields(store, METER) }
            { input_row(&shown, typed) }
            if read.is_some_and(|read| read > LOUDEST_DB) { { caution(trials::TOO_LOUD) } }
            if level.is_some() { <div class="keys">{ key(words::TAKE_ANCHOR, "key", take) }</div> }
            { fields(store, LEVEL) }
        </>
    }
}
