//! The feed proved with the meter: one place at a time, expected beside read, the verdict at once.
use web_sys::HtmlInputElement;
use yew::prelude::*;

use super::meter::{kind, signal};
use crate::design::commission::{facts, parse_reading};
use crate::design::document::{MAX_NOTE, Reading, clean_text};
use crate::design::feed_check::{Place, overrule_subject, places};
use crate::design::session::Action;
use crate::model::electrical::commission::Verdict;
use crate::platform::clock;
use crate::present::commission::{count, start, stepped};
use crate::present::feed::measure::{expect, found, meaning, place_at};
use crate::present::power_drawing;
use crate::units::Entered;
use crate::view::app::StoreProps;
use crate::view::components::{Fold, NoteKind, ReadingRow, el, for_hand, note, reading_row, tx};
use crate::view::store::{Handle, Msg};
use crate::words::{feed as words, guide, powerup};

/// The key that opens it.
#[inline(never)]
pub fn prove(store: &Handle) -> Html {
    let store = store.clone();
    let content = Callback::from(move |()| html! { <Places store={store.clone()} /> });
    html! { <Fold title={words::M_ONE_BY_ONE} {content} /> }
}

#[derive(Clone, Default, PartialEq)]
struct Hand {
    at: usize,
    text: String,
    /// The reason being typed for going on all the same; `None` while none is asked for.
    reason: Option<String>,
}

#[component]
fn Places(props: &StoreProps) -> Html {
    let store = &props.store;
    let hand = use_state_eq(Hand::default);
    let places = places(store.design(), &store.report, store.prefs.cable);
    let at = hand.at.min(places.len().saturating_sub(1));
    let Some(place) = places.get(at) else { return Html::default() };
    let go = |to: usize| {
        let hand = hand.clone();
        Callback::from(move |_: MouseEvent| hand.set(Hand { at: to, ..Hand::default() }))
    };
    let last = at + 1 >= places.len();
    html! {
        <div class="power prove">
            { tx("p", "small", &powerup::step_of(at + 1, places.len())) }
            { tx("h3", "steptitle", &place_at(&place.measure)) }
            { where_to(store, place) }
            { question(store, &hand, at, place) }
            <div class="keys four">
                <button type="button" class="key" disabled={at == 0} onclick={go(at.saturating_sub(1))}>{ powerup::BACK }</button>
                <button type="button" class="key" disabled={last} onclick={go(at + 1)}>{ words::M_NEXT }</button>
            </div>
        </div>
    }
}

fn question(store: &Handle, hand: &UseStateHandle<Hand>, at: usize, place: &Place<'_>) -> Html {
    let typed = parse_reading(&hand.text, place.unit);
    let bad = typed.is_none() && !hand.text.trim().is_empty();
    let from = start(Some(place.limits)).max(0.0);
    let ontext = {
        let hand = hand.clone();
        Callback::from(move |text: String| hand.set(Hand { at, text, reason: None }))
    };
    let row = ReadingRow {
        id: "prove-reading",
        read: powerup::READ,
        expect: powerup::EXPECT,
        expected: &expect(&place.measure),
        unit: place.unit.symbol(),
        text: &hand.text,
        bad,
        left: store.left,
        steps: [guide::MINUS, guide::PLUS],
        stepped: stepped(&hand.text, place.unit, from, count(place.unit, from)),
        ontext,
    };
    let take = {
        let (store, hand, place) = (store.clone(), hand.clone(), (place.measure.kind, place.limits));
        Callback::from(move |_: MouseEvent| {
            if let Some(value) = typed {
                keep(&store, place.0.key(), value, place.1.judge(value.si()) == Verdict::Right);
                hand.set(Hand { at, ..Hand::default() });
            }
        })
    };
    // The verdict at once, before anything is kept.
    let now = typed.map(|value| reading_of(place.measure.kind.key(), value, 0));
    let shown = match (&now, typed) {
        (Some(now), Some(value)) => {
            let verdict = Some(place.limits.judge(value.si()));
            Place { reading: Some(now), verdict, overruled: None, ..place.clone() }
        }
        _ => place.clone(),
    };
    let outcome =
        meaning(&shown).map(|(mark, text)| vec![tx("p", "found", &found(&shown)), note(kind(mark), text)]);
    html! {
        <>
            { reading_row(row) }
            if bad { <p class="hint bad" role="alert">{ powerup::BAD }</p> }
            <div class={if store.left { "keys hand left" } else { "keys hand" }}>
                <button type="button" class="key main" disabled={typed.is_none()} onclick={take}>{ powerup::KEEP }</button>
            </div>
            { el("div", &[("aria-live", "polite")], outcome.unwrap_or_default()) }
            if now.is_none() { { overrule(store, hand, at, place) } }
        </>
    }
}

/// Where the probes go, drawn.
fn where_to(store: &Handle, place: &Place<'_>) -> Html {
    let facts = facts(&store.report, &store.design().sheet, store.prefs.cable);
    let picture = power_drawing::place(place.measure.kind, &store.report, &facts, &store.prefs);
    for_hand(store.left, picture.drawing, &picture.words)
}

/// Going on against a stop, with the reason kept; the reason where it was given.
fn overrule(store: &Handle, hand: &UseStateHandle<Hand>, at: usize, place: &Place<'_>) -> Html {
    if let Some(overruled) = place.overruled {
        return note(NoteKind::Care, &powerup::reason(&overruled.note));
    }
    if place.verdict != Some(Verdict::Stop) {
        return Html::default();
    }
    let Some(reason) = &hand.reason else {
        let hand = hand.clone();
        let onclick = Callback::from(move |_: MouseEvent| {
            hand.set(Hand { at, reason: Some(String::new()), ..Hand::default() })
        });
        return html! { <button type="button" class="small-key" {onclick}>{ powerup::OVERRULE }</button> };
    };
    let oninput = {
        let hand = hand.clone();
        Callback::from(move |event: InputEvent| {
            let input: HtmlInputElement = event.target_unchecked_into();
            hand.set(Hand { at, reason: Some(input.value()), ..Hand::default() });
        })
    };
    let cleaned = clean_text(reason, MAX_NOTE);
    let disabled = cleaned.is_empty();
    let onclick = {
        let (store, hand, subject) = (store.clone(), hand.clone(), overrule_subject(place.measure.kind));
        Callback::from(move |_: MouseEvent| {
            let at_s = (clock::now_ms() / 1000.0) as i64;
            let reading = Reading { at_s, subject: subject.clone(), value: None, note: cleaned.clone() };
            store.dispatch(Msg::Do(Action::AddReading(reading)));
            hand.set(Hand { at, ..Hand::default() });
        })
    };
    html! {
        <div class="stack">
            <label for="prove-reason">{ powerup::REASON }</label>
            <input id="prove-reason" class="reason" type="text" autocomplete="off" value={reason.clone()} {oninput} />
            <button type="button" class="key" {disabled} {onclick}>{ powerup::RECORD }</button>
        </div>
    }
}

/// Keeps a reading with its time, and sounds its verdict: the eyes are on the probe.
fn keep(store: &Handle, subject: &str, value: Entered, good: bool) {
    signal(store, good);
    let at_s = (clock::now_ms() / 1000.0) as i64;
    store.dispatch(Msg::Do(Action::AddReading(reading_of(subject, value, at_s))));
}

fn reading_of(subject: &str, value: Entered, at_s: i64) -> Reading {
    Reading { at_s, subject: subject.to_owned(), value: Some(value), note: String::new() }
}
