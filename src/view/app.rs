//! The frame: title block, place, panels, places.
use std::rc::Rc;
use web_sys::HtmlElement;

use yew::prelude::*;

use super::components::Icon;
use super::pages::{DesignsPanel, car, contents, desk, drawn, guide, saw, settings};
use super::saving::{self, use_links, use_preferences, use_saving};
use super::store::{Handle, Msg, Panel};
use crate::design::limits::{FieldId, RecordKind};
use crate::design::session::Action;
use crate::design::stored::Stored;
use crate::design::warnings::Place;
use crate::platform::{boot, offline, page, spawn_local};
use crate::present::chart::Chart;
use crate::units::Quantity;
use crate::words::{app as words, keep};

/// The page.
#[component]
pub fn App() -> Html {
    let store = use_reducer_eq(saving::first_store);
    use_saving(&store);
    use_links(&store);
    use_preferences(&store);
    let update = use_state(|| None::<offline::Update>);
    {
        let update = update.clone();
        let store_now = store.clone();
        use_effect_with((), move |()| {
            boot::started();
            let rest = store_now.dispatcher();
            spawn_local(async move {
                // Without the rest of the program the report is completed by the first entry.
                if boot::whole().await {
                    rest.dispatch(Msg::Complete);
                }
                // Without a service worker the page works, only not without a network.
                let _ = offline::register(move |new| update.set(Some(new))).await;
            });
        });
    }
    let main = use_node_ref();
    {
        let main = main.clone();
        use_effect_with((store.place, store.panel), move |_| {
            if let Some(main) = main.cast::<HtmlElement>() {
                main.set_scroll_top(0);
            }
            page::scroll_to_top();
        });
    }
    let charts = use_memo((store.report.sound.as_ref().ok().cloned(), store.slack.clone()), drawn);
    html! {
        <div class="page">
            <a class="skip" href="#main">{ words::SKIP }</a>
            { title_block(&store) }
            { messages(&store, update.as_ref()) }
            <main id="main" class="body" ref={main}>{ body(&store, &charts) }</main>
            { places(&store) }
        </div>
    }
}

fn body(store: &Handle, charts: &Rc<[Rc<Chart>]>) -> Html {
    match (store.panel, store.place) {
        (Panel::Designs, _) => html! { <DesignsPanel store={store.clone()} /> },
        (Panel::Settings, _) => settings(store),
        (Panel::Contents, _) => contents(store),
        (Panel::Meter, _) => guide(store),
        (Panel::None, Place::Desk) => desk(store, charts),
        (Panel::None, Place::Saw) => saw(store),
        (Panel::None, Place::Car) => car(store),
    }
}

/// What takes the store alone.
#[derive(PartialEq, Properties)]
pub struct StoreProps {
    /// The store.
    pub store: Handle,
}

fn title_block(store: &Handle) -> Html {
    let show = |panel: Panel| {
        let store = store.clone();
        Callback::from(move |_: MouseEvent| store.dispatch(Msg::Show(panel)))
    };
    let act = |action: Action| {
        let store = store.clone();
        Callback::from(move |_: MouseEvent| store.dispatch(Msg::Do(action.clone())))
    };
    let name = store.design().sheet.text(FieldId::DesignName);
    let name = if name.is_empty() { words::UNNAMED } else { name };
    let expanded = |panel: Panel| if store.panel == panel { "true" } else { "false" };
    let unit = store.prefs.unit_for(Quantity::Length).symbol();
    html! {
        <header class="title">
            <button type="button" class="cell wide" aria-expanded={expanded(Panel::Designs)} onclick={show(Panel::Designs)}>
                <small>{ words::DESIGN }</small><b>{ name.to_owned() }</b>
            </button>
            <button type="button" class="cell" aria-expanded={expanded(Panel::Contents)} onclick={show(Panel::Contents)}>
                <small>{ words::SHEET }</small><b>{ place_name(store.place) }</b>
            </button>
            <button type="button" class="cell" aria-expanded={expanded(Panel::Settings)} onclick={show(Panel::Settings)}>
                <small>{ words::UNIT }</small><b>{ unit }</b>
            </button>
            <button type="button" class="cell turn" aria-label={words::UNDO} disabled={!store.session.can_undo()} onclick={act(Action::Undo)}>
                { Icon::Undo.html() }
            </button>
            <button type="button" class="cell turn" aria-label={words::REDO} disabled={!store.session.can_redo()} onclick={act(Action::Redo)}>
                { Icon::Redo.html() }
            </button>
        </header>
    }
}

/// The name of a place.
#[must_use]
pub const fn place_name(place: Place) -> &'static str {
    match place {
        Place::Desk => words::DESK,
        Place::Saw => words::SAW,
        Place::Car => words::CAR,
    }
}

fn places(store: &Handle) -> Html {
    let places = [(Place::Desk, Icon::Desk), (Place::Saw, Icon::Saw), (Place::Car, Icon::Car)];
    html! {
        <nav class="places" aria-label={words::PLACES}>
            { for places.into_iter().map(|(place, icon)| {
                let current = (store.place == place).then_some("page");
                let store = store.clone();
                let onclick = Callback::from(move |_: MouseEvent| store.dispatch(Msg::Go(place)));
                html! {
                    <button type="button" class="place" aria-current={current} {onclick}>{ icon.html() }{ place_name(place) }</button>
                }
            }) }
        </nav>
    }
}

fn messages(store: &Handle, update: Option<&offline::Update>) -> Html {
    let any = store.notice.is_some() || store.conflict || update.is_some();
    let told = if any { told(store, update) } else { Html::default() };
    html! { <div class="messages" role="status">{ told }</div> }
}

#[inline(never)] // rare, so that it may come after the first result
fn told(store: &Handle, update: Option<&offline::Update>) -> Html {
    let dismiss = {
        let store = store.clone();
        Callback::from(move |_: MouseEvent| store.dispatch(Msg::Dismiss))
    };
    let accept = update.cloned().map(|update| Callback::from(move |_: MouseEvent| update.accept()));
    html! {
        <>
            if let Some(text) = &store.notice {
                <div class="message"><p>{ text.to_string() }</p>
                    <button type="button" class="key" onclick={dismiss}>{ words::CLOSE }</button></div>
            }
            if store.conflict { { conflict(store) } }
            if let Some(accept) = accept {
                <div class="message"><p>{ words::NEW_VERSION }</p>
                    <button type="button" class="key" data-update="true" onclick={accept}>{ words::TAKE_VERSION }</button></div>
            }
        </>
    }
}

/// Another tab saved this design: show theirs, or keep this one under a new id.
#[inline(never)] // rare, so that it may come after the first result
fn conflict(store: &Handle) -> Html {
    let theirs = {
        let store = store.clone();
        Callback::from(move |_: MouseEvent| {
            if let Some(stored) = saving::load(&store.id) {
                store.dispatch(Msg::Open { id: store.id.clone(), stored: Box::new(stored) });
            }
        })
    };
    let copy = {
        let store = store.clone();
        Callback::from(move |_: MouseEvent| {
            let stored =
                Stored { revision: 0, design: store.design().clone(), drafts: (*store.drafts).clone() };
            store.dispatch(Msg::Open { id: saving::new_id(), stored: Box::new(stored) });
        })
    };
    html! {
        <div class="message"><p>{ keep::CONFLICT }</p>
            <button type="button" class="key" onclick={theirs}>{ keep::CONFLICT_THEIRS }</button>
            <button type="button" class="key" onclick={copy}>{ keep::CONFLICT_COPY }</button></div>
    }
}

/// The name of a kind of record.
#[must_use]
pub const fn record_name(kind: RecordKind) -> &'static str {
    match kind {
        RecordKind::Driver => crate::words::label::DRIVER_NAME,
        RecordKind::Amplifier => crate::words::label::AMPLIFIER_NAME,
        RecordKind::Vehicle => crate::words::label::VEHICLE_NAME,
        RecordKind::Enclosure => crate::words::label::ENCLOSURE_NAME,
        RecordKind::Job => crate::words::label::DESIGN_NAME,
    }
}
