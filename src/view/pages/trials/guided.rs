//! The guided search: one tone after the other until peaks and dip stand between close ones.
use yew::prelude::*;

use super::{Shown, input_row, key, on_text};
use crate::design::document::{Entry, parse_entry};
use crate::design::limits::{FieldId, Kind};
use crate::design::session::Action;
use crate::design::trials::{read_tones, tones_text};
use crate::model::measurement::{Extreme, Sought, Tone, search};
use crate::present::trials as text;
use crate::units::parse_number;
use crate::view::components::{NoteKind, note, tx};
use crate::view::store::{Handle, Msg};
use crate::words::guided as words;

#[derive(PartialEq, Properties)]
pub(super) struct GuidedProps {
    pub(super) store: Handle,
    /// Where the tones are kept.
    pub(super) field: FieldId,
    /// Whether two peaks and a dip are looked for.
    pub(super) vented: bool,
}

/// What the readings give the entries: where each extreme goes.
fn entry_of(field: FieldId, sought: Sought) -> FieldId {
    match (field, sought) {
        (FieldId::ProofDriverTones, _) => FieldId::ProofFs,
        (_, Sought::Peak) => FieldId::ProofFc,
        (_, Sought::LowPeak) => FieldId::ProofLow,
        (_, Sought::Dip) => FieldId::ProofDip,
        (_, Sought::HighPeak) => FieldId::ProofHigh,
    }
}

fn put(store: &Handle, field: FieldId, tones: &[Tone]) {
    store.dispatch(Msg::Do(Action::Seal));
    store.dispatch(Msg::Do(Action::Set(field, Entry::Text(tones_text(tones)))));
}

/// One search.
#[component]
pub(super) fn Guided(props: &GuidedProps) -> Html {
    let GuidedProps { store, field, vented } = props;
    let hz = use_state(String::new);
    let volts = use_state(String::new);
    let sheet = &store.design().sheet;
    let tones = read_tones(sheet.text(*field));
    let step = sheet.si(FieldId::ProofStep).unwrap_or(0.2);
    let found = search(&tones, *vented, step);
    let next = found.next_hz.map(|hz| hz.to_string()).unwrap_or_default();
    let tone = if hz.trim().is_empty() { next.clone() } else { (*hz).clone() };
    let number = |text: &str, low: f64, high: f64| {
        parse_number(text).ok().map(|number| number.value()).filter(|value| (low..=high).contains(value))
    };
    let read = number(&tone, 3.0, 500.0).zip(number(&volts, 1e-4, 100.0));
    let wrong = |text: &str, low, high| {
        (!text.trim().is_empty() && number(text, low, high).is_none()).then_some(words::NOT_ONE)
    };
    let edit = |state: &UseStateHandle<String>| {
        let state = state.clone();
        on_text(move |text| state.set(text))
    };
    let room = match field.row().kind {
        Kind::Text { max } => max,
        _ => 0,
    };
    let add = {
        let (store, field, tones, hz, volts) =
            (store.clone(), *field, tones.clone(), hz.clone(), volts.clone());
        Callback::from(move |_: MouseEvent| {
            let Some(read) = read else { return };
            let mut next: Vec<Tone> = tones.iter().filter(|tone| tone.0 != read.0).copied().collect();
            next.push(read);
            if tones_text(&next).len() > room {
                return store.dispatch(Msg::Tell(words::FULL.into()));
            }
            put(&store, field, &next);
            hz.set(String::new());
            volts.set(String::new());
        })
    };
    let undo = {
        let (store, field, tones) = (store.clone(), *field, tones.clone());
        Callback::from(move |_: MouseEvent| {
            put(&store, field, tones.get(..tones.len().saturating_sub(1)).unwrap_or_default());
        })
    };
    let tone_row = Shown {
        label: words::TONE,
        value: &hz,
        unit: "Hz",
        example: &next,
        refusal: wrong(&hz, 3.0, 500.0),
        text: false,
    };
    let volts_row = Shown {
        label: words::VOLTS,
        value: &volts,
        unit: "V",
        example: "0.50",
        refusal: wrong(&volts, 1e-4, 100.0),
        text: false,
    };
    html! {
        <div class="guided">
            <div aria-live="polite">{ tx("p", "todo", &text::guided(&found, tones.len())) }</div>
            { input_row(&tone_row, edit(&hz)) }
            { input_row(&volts_row, edit(&volts)) }
            <div class="keys">
                { key(words::ADD, "key main", add) }
                if !tones.is_empty() { { key(words::UNDO, "key", undo) } }
            </div>
            if !tones.is_empty() { { tx("p", "small", &text::tones(&tones)) } }
            if found.next_hz.is_none() && !found.found.is_empty() { { take(store, *field, &found.found) } }
        </div>
    }
}

/// A key that puts what was found into the entries.
fn take(store: &Handle, field: FieldId, found: &[Extreme]) -> Html {
    let entries: Vec<(FieldId, Entry)> = found
        .iter()
        .filter_map(|one| {
            let id = entry_of(field, one.sought);
            Some((id, parse_entry(id, &format!("{:.2} Hz", one.hz), &store.prefs).ok()?))
        })
        .collect();
    if entries.iter().all(|(id, entry)| store.design().sheet.entry(*id) == Some(entry)) {
        return note(NoteKind::Good, words::TAKEN);
    }
    let onclick = {
        let store = store.clone();
        Callback::from(move |_: MouseEvent| {
            store.dispatch(Msg::Do(Action::Seal));
            for (id, entry) in entries.clone() {
                store.dispatch(Msg::Do(Action::Set(id, entry)));
            }
        })
    };
    html! { <div class="keys">{ key(words::TAKE, "key main", onclick) }</div> }
}
