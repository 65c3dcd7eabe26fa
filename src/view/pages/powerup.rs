//! First power: one step at a time, the verdict at once, and the list of all steps.
use web_sys::HtmlInputElement;
use yew::prelude::*;

use super::meter::signal;
use super::owner::owner_sheet;
use crate::design::commission::{
    Expected, Facts, ReadUnit, START, Step, StepState, current, overrule_subject, parse_reading, run, subject,
};
use crate::design::document::{Design, MAX_LIST, MAX_NOTE, Reading, clean_text};
use crate::design::limits::FieldId;
use crate::design::meter::meter;
use crate::design::session::Action;
use crate::platform::{Timeout, clock, page};
use crate::present::commission::{
    basis, cautions, choice, chosen, count, expected, found, standing, start, stepped, title, verdict,
    what_to_do,
};
use crate::present::meter::Mark;
use crate::present::power_drawing;
use crate::units::{Decimal, Entered, Unit};
use crate::view::app::StoreProps;
use crate::view::components::{
    Fold, Icon, NoteKind, ReadingRow, caution, el, fields, for_hand, head, note, reading_row, text, tx,
};
use crate::view::store::{Handle, Msg};
use crate::words::{guide, powerup as words};

const SETTINGS: &[FieldId] =
    &[FieldId::FusePlace, FieldId::LowPass, FieldId::HighPass, FieldId::OutputPolarity, FieldId::IdleCurrent];

/// The section in the car; nothing of it is made before it is opened.
pub fn powerup(store: &Handle) -> Html {
    let inside = {
        let store = store.clone();
        Callback::from(move |()| html! { <Steps store={store.clone()} /> })
    };
    let fold = html! { <Fold title={words::OPEN} content={inside} /> };
    el("section", &[("class", "sheet"), ("id", "powerup")], vec![head(words::TITLE, ""), fold])
}

/// What the hands have done so far at the step shown.
#[derive(Clone, Default, PartialEq)]
struct Hand {
    /// The step shown; `None`: the next one to take.
    step: Option<usize>,
    /// The reading being typed.
    text: String,
    /// The reason being typed; `None` while none is asked for.
    reason: Option<String>,
}

type HandState = UseStateHandle<Hand>;

/// The steps.
#[component]
fn Steps(props: &StoreProps) -> Html {
    let store = &props.store;
    let hand = use_state_eq(Hand::default);
    let (facts, states) = run(store.design(), &store.report, store.prefs.cable);
    let next = current(&states);
    let index = hand.step.unwrap_or(next).min(states.len().saturating_sub(1));
    let Some(state) = states.get(index) else { return Html::default() };
    let full = store.design().log.readings.len() >= MAX_LIST;
    let settings = {
        let store = store.clone();
        Callback::from(move |()| fields(&store, SETTINGS))
    };
    let sheet = {
        let store = store.clone();
        Callback::from(move |()| owner_sheet(&store))
    };
    html! {
        <div class="power">
            { tx("p", "small", words::ABOUT) }
            if full { { note(NoteKind::Stop, words::FULL) } }
            if states.iter().all(StepState::passed) { { note(NoteKind::Good, words::ALL_DONE) } }
            { el("p", &[("class", "small stepcount"), ("id", "power-step")], vec![text(&words::step_of(index + 1, states.len()))]) }
            { tx("h3", "steptitle", title(state.step)) }
            { card(store, &hand, index, state, &facts) }
            { moves(&hand, index, state, states.len()) }
            { list(&hand, index, &states) }
            { begin_again(store, &hand, &states) }
            <Fold title={words::SETTINGS} content={settings} />
            <Fold title={words::SHEET} content={sheet} />
        </div>
    }
}

fn key(label: &str, class: &'static str, disabled: bool, onclick: Callback<MouseEvent>) -> Html {
    html! { <button type="button" {class} {disabled} {onclick}>{ label }</button> }
}

/// A key that changes what the hands do.
fn hand_key(hand: &HandState, label: &str, class: &'static str, disabled: bool, to: Hand) -> Html {
    let hand = hand.clone();
    key(label, class, disabled, Callback::from(move |_| hand.set(to.clone())))
}

/// What to do, with its cautions; then what to read or see, and what it comes to.
fn card(store: &Handle, hand: &HandState, index: usize, state: &StepState<'_>, facts: &Facts) -> Html {
    if state.held {
        return note(NoteKind::Care, words::HELD);
    }
    let mut parts: Vec<Html> = cautions(state.step, facts).iter().map(|text| caution(text)).collect();
    parts.push(tx("p", "todo", &what_to_do(state.step, facts)));
    parts.push(where_to(store, state.step, facts));
    parts.push(match &state.expected {
        Expected::Seen(_) => seen(store, hand, index, state),
        Expected::Number { .. } => reading(store, hand, index, state, facts),
    });
    let typed = match &state.expected {
        Expected::Number { unit, .. } => parse_reading(&hand.text, *unit),
        Expected::Seen(_) => None,
    };
    let told = match typed {
        Some(value) => {
            // The verdict at once, before anything is kept.
            let after = with_reading(store, state.step, Some(value));
            let (facts, states) = run(&after, &store.report, store.prefs.cable);
            states.get(index).map_or_else(Html::default, |state| outcome(state, &facts))
        }
        None => outcome(state, facts),
    };
    parts.push(el("div", &[("aria-live", "polite")], vec![told]));
    parts.push(overrule(store, hand, index, state));
    parts.into_iter().collect()
}

/// Where the probes go, drawn.
fn where_to(store: &Handle, step: Step, facts: &Facts) -> Html {
    let sheet = &store.design().sheet;
    let pictures = power_drawing::step(step, &store.report, sheet, facts, &store.prefs);
    let plan = if step == Step::Route {
        power_drawing::plan_in_words(&store.report, &store.prefs)
    } else {
        Vec::new()
    };
    html! {
        <>
            { for pictures.into_iter().map(|picture| for_hand(store.left, picture.drawing, &picture.words)) }
            if !plan.is_empty() { { el("ul", &[("class", "small")], plan.iter().map(|row| tx("li", "", row)).collect()) } }
        </>
    }
}

/// The verdict on the last reading, and the reason where it was overruled.
fn outcome(state: &StepState<'_>, facts: &Facts) -> Html {
    let mut parts = Vec::new();
    if let Some((mark, text)) = verdict(state, facts) {
        let kind = match mark {
            Mark::Good => NoteKind::Good,
            Mark::Care => NoteKind::Care,
            Mark::Stop => NoteKind::Stop,
        };
        parts.push(tx("p", "found", &found(state)));
        parts.push(note(kind, text));
    }
    if let Some(overruled) = state.overruled {
        parts.push(note(NoteKind::Care, &words::reason(&overruled.note)));
    }
    parts.into_iter().collect()
}

/// Puts something into the log.
fn keep(store: &Handle, subject: String, value: Option<Entered>, note: String) {
    let at_s = (clock::now_ms() / 1000.0) as i64;
    store.dispatch(Msg::Do(Action::AddReading(Reading { at_s, subject, value, note })));
}

/// The design as it would be with one more reading of a step.
fn with_reading(store: &Handle, step: Step, value: Option<Entered>) -> Design {
    let mut after = store.design().clone();
    after.log.readings.push(Reading { at_s: 0, subject: subject(step), value, note: String::new() });
    after
}

/// Keeps a reading of the step, and sounds its verdict: the eyes are on the probe.
fn record(store: &Handle, state_index: usize, value: Option<Entered>) {
    let Some(step) = Step::ALL.get(state_index).copied() else { return };
    if store.sound {
        let after = with_reading(store, step, value);
        let (_, states) = run(&after, &store.report, store.prefs.cable);
        signal(store, states.get(state_index).is_some_and(StepState::passed));
    }
    keep(store, subject(step), value, String::new());
}

fn seen(store: &Handle, hand: &HandState, index: usize, state: &StepState<'_>) -> Html {
    let Expected::Seen(choices) = &state.expected else { return Html::default() };
    let now = chosen(state);
    let rows = choices.iter().zip(0_i64..).map(|((seen, _), at)| {
        let (store, hand) = (store.clone(), hand.clone());
        let onclick = Callback::from(move |_: MouseEvent| {
            let value = Decimal::new(at, 0).map(|number| Entered { number, unit: Unit::One });
            record(&store, index, value);
            hand.set(Hand { step: Some(index), ..Hand::default() });
        });
        let on = now == Some(*seen);
        html! {
            <button type="button" class={if on { "key see main" } else { "key see" }} aria-pressed={if on { "true" } else { "false" }} {onclick}>
                { choice(state.step, *seen) }
            </button>
        }
    });
    html! { <fieldset class="sees"><legend>{ words::SEEN }</legend>{ for rows }</fieldset> }
}

fn reading(store: &Handle, hand: &HandState, index: usize, state: &StepState<'_>, facts: &Facts) -> Html {
    let Expected::Number { unit, open, limits, .. } = state.expected else { return Html::default() };
    let typed = parse_reading(&hand.text, unit);
    let bad = typed.is_none() && !hand.text.trim().is_empty();
    let ontext = {
        let hand = hand.clone();
        Callback::from(move |text: String| hand.set(Hand { step: Some(index), text, ..(*hand).clone() }))
    };
    let from = start(limits);
    let count = match unit {
        ReadUnit::Ohm => meter(&store.design().sheet).count.ohms(),
        _ => count(unit, from),
    };
    let row = ReadingRow {
        id: "power-reading",
        read: words::READ,
        expect: words::EXPECT,
        expected: &expected(state),
        unit: unit.symbol(),
        text: &hand.text,
        bad,
        left: store.left,
        steps: [guide::MINUS, guide::PLUS],
        stepped: stepped(&hand.text, unit, from, count),
        ontext,
    };
    let take = |value: Option<Entered>| {
        let (store, hand) = (store.clone(), hand.clone());
        Callback::from(move |_: MouseEvent| {
            record(&store, index, value);
            hand.set(Hand { step: Some(index), ..Hand::default() });
        })
    };
    let turned = match hand.text.strip_prefix('-') {
        Some(rest) => rest.to_owned(),
        None => format!("-{}", hand.text),
    };
    let turn = Hand { step: Some(index), text: turned, ..(**hand).clone() };
    let ohms = unit.quantity() == crate::units::Quantity::Resistance;
    html! {
        <>
            { reading_row(row) }
            { tx("p", "small", &basis(state, facts)) }
            if bad { <p class="hint bad" role="alert">{ words::BAD }</p> }
            <div class={if store.left { "keys hand left" } else { "keys hand" }}>
                { key(words::KEEP, "key main", typed.is_none(), take(typed)) }
                if ohms || open { { key(words::OPEN_LINE, "key", false, take(None)) } }
                if !ohms { { hand_key(hand, words::SIGN, "key", false, turn) } }
            </div>
        </>
    }
}

/// Going on against a verdict, or without the step, with the reason kept.
fn overrule(store: &Handle, hand: &HandState, index: usize, state: &StepState<'_>) -> Html {
    if state.passed() {
        return Html::default();
    }
    let Some(reason) = &hand.reason else {
        let label = if state.verdict.is_some() { words::OVERRULE } else { words::LEAVE_OUT };
        let ask = Hand { step: Some(index), reason: Some(String::new()), ..(**hand).clone() };
        return hand_key(hand, label, "small-key", false, ask);
    };
    let oninput = {
        let hand = hand.clone();
        Callback::from(move |event: InputEvent| {
            let input: HtmlInputElement = event.target_unchecked_into();
            hand.set(Hand { step: Some(index), reason: Some(input.value()), ..(*hand).clone() });
        })
    };
    let cleaned = clean_text(reason, MAX_NOTE);
    let empty = cleaned.is_empty();
    let onclick = {
        let (store, hand, subject) = (store.clone(), hand.clone(), overrule_subject(state.step));
        Callback::from(move |_: MouseEvent| {
            keep(&store, subject.clone(), None, cleaned.clone());
            hand.set(Hand { step: Some(index), ..Hand::default() });
        })
    };
    html! {
        <div class="stack">
            <label for="power-reason">{ words::REASON }</label>
            <input id="power-reason" class="reason" type="text" autocomplete="off" value={reason.clone()} {oninput} />
            { key(words::RECORD, "key", empty, onclick) }
        </div>
    }
}

/// Goes to a step, and to its top: a step is read from its title.
fn go_to(hand: &HandState, step: usize) -> Callback<MouseEvent> {
    let hand = hand.clone();
    Callback::from(move |_| {
        hand.set(Hand { step: Some(step), ..Hand::default() });
        // The step is there only after the next render.
        Timeout::new(30, || page::scroll_to("power-step")).forget();
    })
}

fn moves(hand: &HandState, index: usize, state: &StepState<'_>, count: usize) -> Html {
    let last = index + 1 >= count;
    let class = if state.passed() { "key main" } else { "key" };
    let keys = vec![
        key(words::BACK, "key", index == 0, go_to(hand, index.saturating_sub(1))),
        key(words::NEXT, class, last || !state.passed(), go_to(hand, index + 1)),
    ];
    el("div", &[("class", "keys four")], keys)
}

/// Every step with its state: sign and words.
fn list(hand: &HandState, index: usize, states: &[StepState<'_>]) -> Html {
    let rows = states.iter().enumerate().map(|(at, state)| {
        let (mark, text) = standing(state);
        let icon = mark.map(|mark| match mark {
            Mark::Good => Icon::Good.html(),
            Mark::Care => Icon::Care.html(),
            Mark::Stop => Icon::Stop.html(),
        });
        let hand = hand.clone();
        let onclick =
            Callback::from(move |_: MouseEvent| hand.set(Hand { step: Some(at), ..Hand::default() }));
        let name = format!("{}. {}", at + 1, title(state.step));
        html! {
            <li><button type="button" class="jump" aria-current={(at == index).then_some("step")} {onclick}>
                <span>{ name }</span><small>{ text }{ icon.unwrap_or_default() }</small>
            </button></li>
        }
    });
    let list = html! { <ol class="powerlist">{ for rows }</ol> };
    [tx("h3", "", words::LIST), list].into_iter().collect()
}

fn begin_again(store: &Handle, hand: &HandState, states: &[StepState<'_>]) -> Html {
    if states.iter().all(|state| state.reading.is_none() && state.overruled.is_none()) {
        return Html::default();
    }
    let (store, hand) = (store.clone(), hand.clone());
    let onclick = Callback::from(move |_: MouseEvent| {
        keep(&store, START.into(), None, String::new());
        hand.set(Hand::default());
    });
    key(words::START_AGAIN, "small-key", false, onclick)
}
