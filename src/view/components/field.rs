//! One entry: a name, a value with a blue underline, a unit. The same component serves every field.
use std::collections::BTreeMap;
use std::rc::Rc;

use web_sys::{HtmlInputElement, HtmlSelectElement};
use yew::prelude::*;

use crate::design::document::{Entry, EntryError, parse_entry};
use crate::design::limits::{ChoiceRow, FieldId, Kind};
use crate::design::session::Action;
use crate::present::format;
use crate::units::{Quantity, Unit, UnitPrefs};
use crate::view::store::{Handle, Msg};
use crate::words::entry as words;

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
    pub on_text: Callback<(FieldId, String)>,
    /// The field was left.
    pub on_leave: Callback<()>,
    /// A choice was made.
    pub on_choice: Callback<(FieldId, Entry)>,
}

/// One entry.
#[component]
pub fn Field(props: &FieldProps) -> Html {
    match props.id.row().kind {
        Kind::Choice { rows, default } => choice(props, rows, default),
        Kind::Number { .. } | Kind::Text { .. } => html! {
            <TextField id={props.id} entry={props.entry.clone()} draft={props.draft.clone()} filled={props.filled}
                prefs={props.prefs} on_text={props.on_text.clone()} on_leave={props.on_leave.clone()}
                on_choice={props.on_choice.clone()} />
        },
    }
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
    let on_choice = props.on_choice.clone();
    let onchange = Callback::from(move |event: Event| {
        let select: HtmlSelectElement = event.target_unchecked_into();
        if let Ok(index) = u8::try_from(select.selected_index()) {
            on_choice.emit((id, Entry::Choice(index)));
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

/// The range a number may have, in the user's unit.
fn range(id: FieldId, prefs: &UnitPrefs) -> String {
    match id.row().kind {
        Kind::Number { quantity, min, max, .. } => {
            let (low, high) = (format::si(min, quantity, prefs), format::si(max, quantity, prefs));
            words::range(&low.to_string(), &high.to_string())
        }
        _ => String::new(),
    }
}

fn message(error: EntryError, id: FieldId, prefs: &UnitPrefs) -> String {
    match error {
        EntryError::NotANumber(error) => words::not_a_number(error),
        EntryError::TooSmall | EntryError::TooLarge => words::out_of_range(id.row().label, &range(id, prefs)),
        EntryError::UnknownChoice => words::UNKNOWN_CHOICE.into(),
    }
}

#[component]
fn TextField(props: &FieldProps) -> Html {
    let id = props.id;
    // The raw text while it is typed: "28." must not lose its point.
    let typing = use_state(|| None::<String>);
    let focused = use_state(|| false);
    // What was typed gives way when undo, the shelf, a link or the drawing changed the entry under it.
    let value = typing.as_ref().filter(|typed| stands_for(typed, props)).cloned().unwrap_or_else(|| shown(props));
    let error = props.draft.as_ref().and_then(|draft| parse_entry(id, draft, &props.prefs).err());

    let oninput = {
        let (typing, on_text) = (typing.clone(), props.on_text.clone());
        Callback::from(move |event: InputEvent| {
            let input: HtmlInputElement = event.target_unchecked_into();
            typing.set(Some(input.value()));
            on_text.emit((id, input.value()));
        })
    };
    let onfocus = {
        let focused = focused.clone();
        Callback::from(move |event: FocusEvent| {
            focused.set(true);
            let input: HtmlInputElement = event.target_unchecked_into();
            input.select();
        })
    };
    let onblur = {
        let (focused, typing, on_leave) = (focused.clone(), typing.clone(), props.on_leave.clone());
        Callback::from(move |_: FocusEvent| {
            focused.set(false);
            typing.set(None);
            on_leave.emit(());
        })
    };
    let quantity = id.quantity();
    let is_text = quantity.is_none();
    let unit = quantity.map_or("", |quantity| props.prefs.unit_for(quantity).symbol());
    // The decimal pad of some phones has neither minus nor slash.
    let needs_keyboard = is_text
        || quantity == Some(Quantity::Temperature)
        || quantity.is_some_and(|quantity| props.prefs.unit_for(quantity) == Unit::Inch)
        || id == FieldId::Altitude;
    let placeholder = props.filled.zip(quantity).map(|(si, quantity)| format::si(si, quantity, &props.prefs).number);
    let hint_id = format!("h{}", id.row().code);
    let hint = match (error, *focused) {
        (Some(error), _) => Some(html! { <p class="hint bad" id={hint_id.clone()} role="alert">{ message(error, id, &props.prefs) }</p> }),
        (None, true) if !is_text => Some(html! { <p class="hint" id={hint_id.clone()}>{ range(id, &props.prefs) }</p> }),
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
#[derive(PartialEq, Properties)]
pub struct FieldsProps {
    /// The store.
    pub store: Handle,
    /// The fields, in order.
    pub ids: &'static [FieldId],
}

/// A list of entries of the open design.
#[component]
pub fn Fields(props: &FieldsProps) -> Html {
    let store = &props.store;
    let dispatcher = store.dispatcher();
    let on_text = use_callback((), {
        let dispatcher = dispatcher.clone();
        move |(id, text): (FieldId, String), ()| dispatcher.dispatch(Msg::Typed(id, text))
    });
    let on_leave = use_callback((), {
        let dispatcher = dispatcher.clone();
        move |(), ()| dispatcher.dispatch(Msg::Do(Action::Seal))
    });
    let on_choice = use_callback((), move |(id, entry): (FieldId, Entry), ()| {
        dispatcher.dispatch(Msg::Do(Action::Seal));
        dispatcher.dispatch(Msg::Do(Action::Set(id, entry)));
    });
    let sheet = &store.design().sheet;
    let filled: &BTreeMap<FieldId, f64> = &store.report.filled;
    html! {
        <>
            { for props.ids.iter().map(|id| {
                let entry = sheet.entry(*id).cloned();
                let default = match id.row().kind {
                    Kind::Number { default: Some(default), .. } => Some(default.si()),
                    _ => None,
                };
                html! {
                    <Field key={id.row().code} id={*id} {entry} prefs={store.prefs}
                        draft={store.drafts.get(id).map(|text| AttrValue::from(Rc::from(text.as_str())))}
                        filled={filled.get(id).copied().or(default)}
                        on_text={on_text.clone()} on_leave={on_leave.clone()} on_choice={on_choice.clone()} />
                }
            }) }
        </>
    }
}
