//! One entry: a name, a value with a blue underline, a unit. The same component serves every field.
use std::rc::Rc;

use web_sys::{HtmlInputElement, HtmlSelectElement};
use yew::prelude::*;

use crate::design::document::{Entry, parse_entry};
use crate::design::limits::{ChoiceRow, FieldId, Kind};
use crate::design::session::Action;
use crate::platform::Timeout;
use crate::present::format;
use crate::units::{Quantity, Unit, UnitPrefs};
use crate::view::store::{Handle, Msg, Store};
use crate::words::entry as words;

/// How long a field's hint outlives its focus: longer than a tap takes.
const HINT_STAYS_MS: u32 = 250;

/// What a field shows; renders again only when one of these changes.
#[derive(PartialEq, Properties)]
pub struct FieldProps {
    /// The field.
    pub id: FieldId,
    /// What is entered.
    pub entry: Option<Entry>,
    /// A text that does not fit yet.
    pub draft: Option<AttrValue>,
    /// What counts while nothing is entered, SI.
    pub filled: Option<f64>,
    /// Units.
    pub prefs: UnitPrefs,
    /// Where what is typed goes.
    pub out: UseReducerDispatcher<Store>,
}

fn dom_id(id: FieldId) -> String {
    format!("f{}", id.row().code)
}

fn choice(props: &FieldProps, rows: &'static [ChoiceRow], default: u8) -> Html {
    let id = props.id;
    let current = match props.entry {
        Some(Entry::Choice(index)) => index,
        _ => default,
    };
    let out = props.out.clone();
    let onchange = Callback::from(move |event: Event| {
        let select: HtmlSelectElement = event.target_unchecked_into();
        if let Ok(index) = u8::try_from(select.selected_index()) {
            out.dispatch(Msg::Do(Action::Seal));
            out.dispatch(Msg::Do(Action::Set(id, Entry::Choice(index))));
        }
    });
    html! {
        <div class="row">
            <label for={dom_id(id)}>{ id.row().label }</label>
            <span class="v">
                <select id={dom_id(id)} {onchange}>
                    { for rows.iter().zip(0_u8..).map(|(row, index)| html! {
                        <option value={row.key} selected={index == current}>{ row.label }</option>
                    }) }
                </select>
            </span>
        </div>
    }
}

/// What the input shows when it is not being typed in.
fn shown(props: &FieldProps) -> String {
    match (&props.draft, &props.entry) {
        (Some(draft), _) => draft.to_string(),
        (None, Some(Entry::Number(entered))) => format::entered(*entered, &props.prefs).number,
        (None, Some(Entry::Text(text))) => text.clone(),
        _ => String::new(),
    }
}

/// Whether a typed text is what the design holds now.
fn stands_for(typed: &str, props: &FieldProps) -> bool {
    match (&props.draft, &props.entry) {
        (Some(draft), _) => typed.starts_with(draft.as_str()),
        (None, None) => typed.trim().is_empty(),
        (None, Some(entry)) => parse_entry(props.id, typed, &props.prefs).is_ok_and(|typed| typed == *entry),
    }
}

/// One entry.
#[component]
fn Field(props: &FieldProps) -> Html {
    let id = props.id;
    // The raw text while it is typed: "28." must not lose its point.
    let typing = use_state(|| None::<String>);
    let focused = use_state(|| false);
    let leaving = use_mut_ref(|| None::<Timeout>);
    if let Kind::Choice { rows, default } = id.row().kind {
        return choice(props, rows, default);
    }
    // What was typed gives way when undo, the shelf, a link or the drawing changed the entry under it.
    let value =
        typing.as_ref().filter(|typed| stands_for(typed, props)).cloned().unwrap_or_else(|| shown(props));
    let error = props.draft.as_ref().and_then(|draft| parse_entry(id, draft, &props.prefs).err());

    let oninput = {
        let (typing, out) = (typing.clone(), props.out.clone());
        Callback::from(move |event: InputEvent| {
            let input: HtmlInputElement = event.target_unchecked_into();
            typing.set(Some(input.value()));
            out.dispatch(Msg::Typed(id, input.value()));
        })
    };
    let onfocus = {
        let (focused, leaving) = (focused.clone(), Rc::clone(&leaving));
        Callback::from(move |event: FocusEvent| {
            leaving.take();
            focused.set(true);
            let input: HtmlInputElement = event.target_unchecked_into();
            input.select();
        })
    };
    let onblur = {
        let (focused, typing, out) = (focused.clone(), typing.clone(), props.out.clone());
        Callback::from(move |_: FocusEvent| {
            // The hint stays until the tap that took the focus has hit what it was aimed at.
            let focused = focused.clone();
            leaving.replace(Some(Timeout::new(HINT_STAYS_MS, move || focused.set(false))));
            typing.set(None);
            out.dispatch(Msg::Do(Action::Seal));
        })
    };
    let quantity = id.quantity();
    let is_text = quantity.is_none();
    let unit = quantity.map_or("", |quantity| props.prefs.unit_for(quantity).symbol());
    // The decimal pad of some phones has neither minus nor slash.
    let needs_keyboard = is_text
        || quantity == Some(Quantity::Temperature)
        || quantity.is_some_and(|quantity| props.prefs.unit_for(quantity) == Unit::Inch)
        || matches!(id, FieldId::Altitude | FieldId::BandGain | FieldId::ShelfGain);
    let placeholder =
        props.filled.zip(quantity).map(|(si, quantity)| format::si(si, quantity, &props.prefs).number);
    let hint_id = format!("h{}", id.row().code);
    let hint = match (error, *focused) {
        (Some(error), _) => Some(
            html! { <p class="hint bad" id={hint_id.clone()} role="alert">{ format::refusal(error, id, &props.prefs) }</p> },
        ),
        (None, true) if !is_text => {
            Some(html! { <p class="hint" id={hint_id.clone()}>{ format::range(id, &props.prefs) }</p> })
        }
        _ => None,
    };
    html! {
        <div class={classes!("row", is_text.then_some("text"))}>
            <label for={dom_id(id)}>{ id.row().label }</label>
            <span class="v">
                <input id={dom_id(id)} type="text" autocomplete="off" enterkeyhint="done" spellcheck="false"
                    inputmode={if needs_keyboard { "text" } else { "decimal" }}
                    class={classes!((props.entry.is_none() && props.draft.is_none()).then_some("unset"))}
                    {value} placeholder={placeholder.unwrap_or_else(|| words::NOTHING.into())}
                    aria-invalid={error.map(|_| "true")} aria-describedby={hint.is_some().then_some(hint_id)}
                    {oninput} {onfocus} {onblur} />
                if !unit.is_empty() { <small>{ unit }</small> }
            </span>
            { hint.unwrap_or_default() }
        </div>
    }
}

/// A list of entries of the open design.
pub fn fields(store: &Handle, ids: &'static [FieldId]) -> Html {
    let sheet = &store.design().sheet;
    let rows = ids.iter().map(|id| {
        let entry = sheet.entry(*id).cloned();
        let default = match id.row().kind {
            Kind::Number { default: Some(default), .. } => Some(default.si()),
            _ => None,
        };
        let draft = store.drafts.get(id).map(|text| AttrValue::from(Rc::<str>::from(text.as_str())));
        let filled = store.report.filled.get(id).copied().or(default);
        html! { <Field key={id.row().code} id={*id} {entry} {draft} {filled} prefs={store.prefs} out={store.dispatcher()} /> }
    });
    rows.collect()
}
