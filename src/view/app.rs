//! The frame: title block, place, panels, places.
use web_sys::HtmlElement;
use yew::prelude::*;

use super::components::Icon;
use super::pages::{CarPage, ContentsPanel, DesignsPanel, DeskPage, SawPage, SettingsPanel};
use super::saving::{self, use_links, use_preferences, use_saving};
use super::store::{Handle, Msg, Panel};
use crate::design::limits::{FieldId, RecordKind};
use crate::design::session::Action;
use crate::design::stored::Stored;
use crate::design::warnings::Place;
use crate::platform::{boot, offline, page, spawn_local};
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
        use_effect_with((), move |()| {
            boot::started();
            spawn_local(async move {
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
    html! {
        <div class="page">
            <a class="skip" href="#main">{ words::SKIP }</a>
            <TitleBlock store={store.clone()} />
            <Messages store={store.clone()} update={(*update).clone()} />
            <main id="main" class="body" ref={main}>{ body(&store) }</main>
            <Places store={store.clone()} />
        </div>
    }
}

fn body(store: &Handle) -> Html {
    let store = store.clone();
    match (store.panel, store.place) {
        (Panel::Designs, _) => html! { <DesignsPanel {store} /> },
        (Panel::Settings, _) => html! { <SettingsPanel {store} /> },
        (Panel::Contents, _) => html! { <ContentsPanel {store} /> },
        (Panel::None, Place::Desk) => html! { <DeskPage {store} /> },
        (Panel::None, Place::Saw) => html! { <SawPage {store} /> },
        (Panel::None, Place::Car) => html! { <CarPage {store} /> },
    }
}

/// What takes the store alone.
#[derive(PartialEq, Properties)]
pub struct StoreProps {
    /// The store.
    pub store: Handle,
}

#[component]
fn TitleBlock(props: &StoreProps) -> Html {
    let store = &props.store;
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
                <svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path d="M9 6 4 11l5 5M4 11h10a5 5 0 0 1 0 10h-2" /></svg>
            </button>
            <button type="button" class="cell turn" aria-label={words::REDO} disabled={!store.session.can_redo()} onclick={act(Action::Redo)}>
                <svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path d="m15 6 5 5-5 5M20 11H10a5 5 0 0 0 0 10h2" /></svg>
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

#[component]
fn Places(props: &StoreProps) -> Html {
    let places = [(Place::Desk, Icon::Desk), (Place::Saw, Icon::Saw), (Place::Car, Icon::Car)];
    html! {
        <nav class="places" aria-label={words::PLACES}>
            { for places.into_iter().map(|(place, icon)| {
                let store = props.store.clone();
                let onclick = Callback::from(move |_: MouseEvent| store.dispatch(Msg::Go(place)));
                let current = (props.store.place == place).then_some("page");
                html! {
                    <button type="button" class="place" aria-current={current} {onclick}>{ icon.html() }{ place_name(place) }</button>
                }
            }) }
        </nav>
    }
}

#[derive(PartialEq, Properties)]
struct MessageProps {
    store: Handle,
    update: Option<offline::Update>,
}

#[component]
fn Messages(props: &MessageProps) -> Html {
    let store = &props.store;
    let dismiss = {
        let store = store.clone();
        Callback::from(move |_: MouseEvent| store.dispatch(Msg::Dismiss))
    };
    let accept = props.update.clone().map(|update| Callback::from(move |_: MouseEvent| update.accept()));
    html! {
        <div class="messages" role="status">
            if let Some(text) = &store.notice {
                <div class="message"><p>{ text.to_string() }</p>
                    <button type="button" class="key" onclick={dismiss}>{ words::CLOSE }</button></div>
            }
            if store.conflict { { conflict(store) } }
            if let Some(accept) = accept {
                <div class="message"><p>{ words::NEW_VERSION }</p>
                    <button type="button" class="key" data-update="true" onclick={accept}>{ words::TAKE_VERSION }</button></div>
            }
        </div>
    }
}

/// Another tab saved this design: show theirs, or keep this one under a new id.
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
            let stored = Stored { revision: 0, design: store.design().clone(), drafts: (*store.drafts).clone() };
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
