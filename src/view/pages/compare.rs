//! Up to four designs over one another, and by how much each is louder than a chosen one.
use std::rc::Rc;

use web_sys::HtmlSelectElement;
use yew::prelude::*;

use crate::design::evaluate::evaluate_first;
use crate::present::charts::{self, Beside};
use crate::view::app::StoreProps;
use crate::view::components::{ChartView, Fold, el, tx};
use crate::view::pages::depth;
use crate::view::saving;
use crate::view::store::{Handle, Msg};
use crate::words::{acoustics as words, app};

/// Most designs beside the open one.
const MOST_BESIDE: usize = 3;

/// Other stored designs beside this one.
pub(super) fn compare(store: &Handle) -> Html {
    let store = store.clone();
    let content = Callback::from(move |()| html! { <CompareView store={store.clone()} /> });
    html! { <Fold title={words::COMPARE_FOLD} {content} /> }
}

/// Which designs, and the difference of their levels from the one chosen.
#[component]
fn CompareView(props: &StoreProps) -> Html {
    let store = &props.store;
    let against = use_state_eq(|| None::<Rc<str>>);
    let others: Vec<_> = saving::list().into_iter().filter(|listed| listed.id != store.id).collect();
    if others.is_empty() {
        return tx("p", "about", words::COMPARE_NONE);
    }
    let keys = others.into_iter().map(|listed| beside_key(store, listed.id, listed.name));
    let mut parts =
        vec![tx("p", "about", words::COMPARE_ABOUT), el("div", &[("class", "keys")], keys.collect())];
    // A design that is no longer shown gives way to the open one.
    let place = store.beside.iter().position(|other| Some(&other.id) == against.as_ref());
    let place = place.map_or(0, |place| place + 1);
    let sound = store.report.sound.as_ref().ok();
    let chart = sound.and_then(|sound| charts::difference(words::THIS_DESIGN, sound, &store.beside, place));
    if let Some(chart) = chart {
        let (cursor, dark, chart) = (store.cursor, store.is_dark(), Rc::new(chart));
        if store.beside.len() > 1 {
            parts.push(base(store, place, &against));
        }
        let save = depth::save_row(store, &chart);
        parts.push(html! { <ChartView {chart} {cursor} {dark} /> });
        parts.push(save);
    }
    el("div", &[], parts)
}

/// Which of the designs the others are compared with.
fn base(store: &Handle, place: usize, against: &UseStateHandle<Option<Rc<str>>>) -> Html {
    let ids: Vec<Rc<str>> = store.beside.iter().map(|other| Rc::clone(&other.id)).collect();
    let names = std::iter::once(words::THIS_DESIGN).chain(store.beside.iter().map(|other| &*other.name));
    let options = names.enumerate().map(|(number, name)| {
        html! { <option value={number.to_string()} selected={number == place}>{ name }</option> }
    });
    let onchange = {
        let against = against.setter();
        Callback::from(move |event: Event| {
            let chosen: usize =
                event.target_unchecked_into::<HtmlSelectElement>().value().parse().unwrap_or(0);
            against.set(chosen.checked_sub(1).and_then(|number| ids.get(number)).cloned());
        })
    };
    html! {
        <div class="row">
            <label for="against">{ words::LESS_THAT_OF }</label>
            <span class="v"><select id="against" {onchange}>{ for options }</select></span>
        </div>
    }
}

fn beside_key(store: &Handle, id: Rc<str>, name: String) -> Html {
    let shown = store.beside.iter().any(|other| other.id == id);
    let label = if name.is_empty() { app::UNNAMED.to_owned() } else { name };
    let onclick = {
        let (store, label) = (store.clone(), label.clone());
        Callback::from(move |_: MouseEvent| {
            let mut others = store.beside.to_vec();
            if shown {
                others.retain(|other| other.id != id);
            } else {
                let sound =
                    saving::load(&id).and_then(|stored| evaluate_first(&stored.design.sheet).sound.ok());
                let Some(sound) = sound else {
                    store.dispatch(Msg::Tell(words::COMPARE_NOT.into()));
                    return;
                };
                others.push(Beside { id: Rc::clone(&id), name: label.clone(), sound });
            }
            store.dispatch(Msg::Beside(Rc::from(others)));
        })
    };
    let disabled = !shown && store.beside.len() >= MOST_BESIDE;
    html! {
        <button type="button" class={if shown { "key main" } else { "key" }} aria-pressed={if shown { "true" } else { "false" }} {disabled} {onclick}>
            { label }
        </button>
    }
}
