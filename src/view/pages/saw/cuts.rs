//! One line at the saw: its tick, and what its pieces came out at.
use web_sys::HtmlInputElement;
use yew::prelude::*;

use super::sheets::tick;
use crate::design::document::parse_built;
use crate::design::session::Action;
use crate::present::tables::{CameOut, CutRow};
use crate::units::{ExactLength, Quantity};
use crate::view::store::{Handle, Msg};
use crate::words::saw as words;

/// A line at the saw.
#[derive(PartialEq, Properties)]
pub(super) struct CutProps {
    pub store: Handle,
    pub cut: CutRow,
    pub ticked: bool,
}

/// One line at the saw.
#[component]
pub(super) fn Cut(props: &CutProps) -> Html {
    let (store, cut) = (&props.store, &props.cut);
    let asking = use_state_eq(|| false);
    let text = format!("{}, {}", cut.name, cut.dimension);
    let ask = {
        let asking = asking.clone();
        Callback::from(move |_: MouseEvent| asking.set(!*asking))
    };
    let came_out = cut.came_out.as_ref().map_or_else(|| words::CAME_OUT.into(), |size| words::came_out(size));
    let entry = |size: &CameOut| {
        let key = size.keys.join(" ");
        let label = if cut.sizes.len() == 1 { text.clone() } else { format!("{text}, {}", size.name) };
        html! { <Size {key} store={store.clone()} size={size.clone()} planned={cut.planned} {label} /> }
    };
    html! {
        <div class="cut">
            { tick(store, cut.tick.clone(), &text, &cut.count.to_string()) }
            <button type="button" class="small-key" aria-expanded={if *asking { "true" } else { "false" }}
                aria-label={words::came_out_label(&text)} onclick={ask}>{ came_out }</button>
            if *asking { { for cut.sizes.iter().map(entry) } }
        </div>
    }
}

/// What pieces came out at.
#[derive(PartialEq, Properties)]
struct SizeProps {
    store: Handle,
    size: CameOut,
    planned: ExactLength,
    label: String,
}

/// The entry of a size that came out differently.
#[component]
fn Size(props: &SizeProps) -> Html {
    let (store, size) = (&props.store, &props.size);
    let bad = use_state_eq(|| false);
    let typing = use_state_eq(|| None::<String>);
    let typed = {
        let (store, keys, bad, typing) = (store.clone(), size.keys.clone(), bad.clone(), typing.clone());
        let planned = props.planned;
        Callback::from(move |event: InputEvent| {
            let input: HtmlInputElement = event.target_unchecked_into();
            let value = input.value();
            typing.set(Some(value.clone()));
            if value.trim().is_empty() {
                bad.set(false);
                store.dispatch(Msg::Do(Action::ClearBuilt(keys.clone())));
                return;
            }
            match parse_built(&value, &store.prefs) {
                // The first digits of a size are no size yet.
                Ok(size) if near(size.exact_length(), planned) => {
                    bad.set(false);
                    store.dispatch(Msg::Do(Action::SetBuilt(keys.clone(), size)));
                }
                _ => bad.set(true),
            }
        })
    };
    let leave = {
        let (typing, bad) = (typing.clone(), bad.clone());
        Callback::from(move |_: FocusEvent| {
            if !*bad {
                typing.set(None);
            }
        })
    };
    let value = (*typing).clone().or_else(|| size.value.clone()).unwrap_or_default();
    let unit = store.prefs.unit_for(Quantity::Length).symbol();
    html! {
        <label class="row"><span>{ size.name.clone() }</span>
            <span class="v"><input type="text" inputmode="decimal" autocomplete="off" aria-label={words::came_out_label(&props.label)}
                placeholder={words::AS_PLANNED} {value} oninput={typed} onblur={leave} aria-invalid={bad.then_some("true")} /><small>{ unit }</small></span>
            if *bad { <p class="hint bad" role="alert">{ words::CAME_OUT_BAD }</p> }
        </label>
    }
}

/// Whether a cut may have come out so: a fifth and 25 mm off the plan at most.
fn near(size: ExactLength, planned: ExactLength) -> bool {
    let off = (size.metres() - planned.metres()).abs();
    off <= 0.025_f64.min(planned.metres() / 5.0)
}
