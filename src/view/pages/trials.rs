//! Placement trials: which spot is best, what the real box will do there, and the trials themselves.
mod answer;
mod cabin;
mod form;
mod fronts;
mod guided;
mod kept;
mod list;
mod listen;
mod microphone;
mod plan;
mod proof;

use std::rc::Rc;

use web_sys::{HtmlInputElement, HtmlSelectElement};
use yew::prelude::*;

use self::answer::{TestBox, answer, test_box};
use self::cabin::cabin;
use self::form::{Draft, form};
use self::list::list;
use self::microphone::MicrophonePanel;
use self::proof::prove;
use crate::design::limits::FieldId;
use crate::view::app::StoreProps;
use crate::view::components::{Fold, caution, fields, tx};
use crate::view::saving;
use crate::view::store::Handle;
use crate::words::{fronts as front_words, microphone as microphone_words, trials as words};

const CANCELLING: &[FieldId] = &[FieldId::CabinCancelling];

/// Everything about trials; not on the page before it is opened.
#[component]
pub fn TrialsSheet(props: &StoreProps) -> Html {
    let store = &props.store;
    let draft = use_state(Draft::default);
    let cursor = use_state_eq(|| 12_usize);
    let fresh = use_state_eq(|| 0_u64);
    let sure = use_state_eq(|| None::<usize>);
    let designs = use_memo((), |()| saving::list());
    let test = use_memo(store.design().sheet.clone(), |sheet| test_box(sheet, &designs));
    let cancelling = store.design().sheet.choice_key(FieldId::CabinCancelling);
    let trials = &store.design().log.trials;
    html! {
        <div class={if trials.is_empty() { "trials" } else { "trials wide" }}>
            <div class="column">{ answer(store, &test, &designs, &cursor) }</div>
            <div class="column">
                { caution(words::CAUTION) }
                { fields(store, CANCELLING) }
                if cancelling == "not asked" {
                    { tx("p", "small", words::CANCELLING_FIRST) }
                } else if cancelling == "on" {
                    { caution(words::CANCELLING_STILL) }
                } else {
                    { form(store, &draft, &fresh) }
                }
                if !trials.is_empty() { { list(store, &draft, &sure, *fresh) } }
            </div>
            if !trials.is_empty() { { cabin(store, &test) } }
            { microphone(store) }
            { prove(store) }
            { fronts(store) }
        </div>
    }
}

fn fronts(store: &Handle) -> Html {
    let store = store.clone();
    let content = Callback::from(move |()| fronts::fronts(&store));
    html! { <Fold title={front_words::TITLE} {content} /> }
}

fn microphone(store: &Handle) -> Html {
    let store = store.clone();
    let content = Callback::from(move |()| html! { <MicrophonePanel store={store.clone()} /> });
    html! { <Fold title={microphone_words::TITLE} {content} /> }
}

/// What is typed into an input goes to `put`.
fn on_text(put: impl Fn(String) + 'static) -> Callback<InputEvent> {
    Callback::from(move |event: InputEvent| {
        let input: HtmlInputElement = event.target_unchecked_into();
        put(input.value());
    })
}

/// The place of what is chosen goes to `put`.
fn on_choice(put: impl Fn(usize) + 'static) -> Callback<Event> {
    Callback::from(move |event: Event| {
        let select: HtmlSelectElement = event.target_unchecked_into();
        put(usize::try_from(select.selected_index()).unwrap_or(0));
    })
}

/// What is shown of an input that is not an entry of the design.
struct Shown<'a> {
    label: &'a str,
    value: &'a str,
    unit: &'a str,
    example: &'a str,
    /// Why what is typed does not fit.
    refusal: Option<&'a str>,
    /// Whether it is a text and not a number.
    text: bool,
}

/// A row with an input.
fn input_row(shown: &Shown<'_>, oninput: Callback<InputEvent>) -> Html {
    html! {
        <label class={classes!("row", shown.text.then_some("text"))}><span>{ shown.label.to_owned() }</span>
            <span class="v"><input type="text" inputmode={if shown.text { "text" } else { "decimal" }} autocomplete="off"
                aria-label={shown.label.to_owned()} placeholder={shown.example.to_owned()} value={shown.value.to_owned()}
                aria-invalid={shown.refusal.map(|_| "true")} {oninput} />
                if !shown.unit.is_empty() { <small>{ shown.unit.to_owned() }</small> }</span>
            if let Some(refusal) = shown.refusal { <p class="hint bad" role="alert">{ refusal.to_owned() }</p> }
        </label>
    }
}

/// A row with a list to choose from.
fn choice_row(label: &str, options: &[String], chosen: usize, onchange: Callback<Event>) -> Html {
    html! {
        <label class="row"><span>{ label.to_owned() }</span><span class="v"><select aria-label={label.to_owned()} {onchange}>
            { for options.iter().enumerate().map(|(i, option)| html! {
                <option selected={i == chosen}>{ option.clone() }</option>
            }) }
        </select></span></label>
    }
}

fn owned(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

/// A key.
fn key(label: &'static str, class: &'static str, onclick: Callback<MouseEvent>) -> Html {
    html! { <button type="button" {class} {onclick}>{ label }</button> }
}

type Test = Rc<TestBox>;
