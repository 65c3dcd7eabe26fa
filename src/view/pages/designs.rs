//! Designs, sending, and the shelf.
use web_sys::{HtmlTextAreaElement, MouseEvent};
use yew::prelude::*;

use crate::design::document::Design;
use crate::design::limits::{FieldId, RecordKind};
use crate::design::session::Action;
use crate::design::stored::Stored;
use crate::design::{demo, file};
use crate::platform::{clipboard, files, share, spawn_local};
use crate::view::app::{StoreProps, record_name};
use crate::view::components::{fields, head};
use crate::view::saving::{self, OnShelf};
use crate::view::store::{Handle, Msg, Panel};
use crate::words::{app, keep as words};

const NAME: &[FieldId] = &[FieldId::DesignName];

/// Designs, sending, and the shelf.
#[component]
pub fn DesignsPanel(props: &StoreProps) -> Html {
    let store = &props.store;
    html! {
        <div class="columns panel">
            <div class="column">
                <h1 class="line">{ words::DESIGNS }</h1>
                if store.awake { <section class="sheet">{ head(words::OPEN_NOW, "") }{ fields(store, NAME) }</section> }
                <Send store={store.clone()} />
                <Listing store={store.clone()} />
                <Shelf store={store.clone()} />
            </div>
        </div>
    }
}

fn open(store: &Handle, design: Design) {
    let stored = Stored { revision: 0, design, drafts: Default::default() };
    store.dispatch(Msg::Open { id: saving::new_id(), stored: Box::new(stored) });
    store.dispatch(Msg::Show(Panel::None));
}

fn key(label: &'static str, store: &Handle, act: impl Fn(&Handle) + 'static) -> Html {
    let store = store.clone();
    let onclick = Callback::from(move |_: MouseEvent| act(&store));
    html! { <button type="button" class="key" {onclick}>{ label }</button> }
}

#[component]
fn Send(props: &StoreProps) -> Html {
    let store = &props.store;
    let link = saving::link_of(store);
    let pasted = use_node_ref();
    let by_hand = use_state_eq(|| false);
    let copy = {
        let (link, by_hand) = (link.clone(), by_hand.clone());
        move |store: &Handle| {
            let (store, link, by_hand) = (store.clone(), link.clone(), by_hand.clone());
            spawn_local(async move {
                let said = match clipboard::write_text(&link).await {
                    Ok(()) => words::LINK_COPIED,
                    Err(_) => {
                        by_hand.set(true);
                        words::LINK_BY_HAND
                    }
                };
                store.dispatch(Msg::Tell(said.into()));
            });
        }
    };
    let send = {
        let link = link.clone();
        move |store: &Handle| {
            let (name, link) = (store.design().sheet.text(FieldId::DesignName).to_owned(), link.clone());
            spawn_local(async move {
                // A closed share sheet is the user's choice; a refusal leaves the copy key beside it.
                let _ = share::share(&name, &link).await;
            });
        }
    };
    let save = |store: &Handle| {
        let name = file_name(store.design().sheet.text(FieldId::DesignName));
        if files::save(&name, "application/json", &file::write(store.design())).is_err() {
            store.dispatch(Msg::Tell(words::EXPORT_FAILED.into()));
        }
    };
    let load = |store: &Handle| {
        let handle = store.clone();
        let picked =
            files::pick(".json,application/json", file::MAX_FILE as f64, move |picked| match picked {
                Ok(Some(picked)) => saving::open_file(&handle, &picked.text),
                Ok(None) => {}
                Err(_) => handle.dispatch(Msg::Tell(words::IMPORT_FAILED.into())),
            });
        if picked.is_err() {
            store.dispatch(Msg::Tell(words::IMPORT_FAILED.into()));
        }
    };
    let open_pasted = {
        let pasted = pasted.clone();
        move |store: &Handle| {
            if let Some(area) = pasted.cast::<HtmlTextAreaElement>() {
                saving::open_link(store, &area.value());
            }
        }
    };
    html! {
        <section class="sheet">{ head(words::SHARE, "") }
            <div class="keys">
                { key(words::LINK, store, copy) }
                if share::is_available() { { key(words::LINK_SHARE, store, send) } }
                { key(words::EXPORT, store, save) }
                { key(words::IMPORT, store, load) }
            </div>
            <label class="stack"><span>{ words::LINK_FIELD }</span>
                <textarea readonly={true} rows="3" value={link} data-link="true" /></label>
            <label class="stack"><span>{ words::PASTE }</span>
                <textarea ref={pasted} rows="2" autocomplete="off" spellcheck="false" data-paste="true" /></label>
            { key(words::PASTE_OPEN, store, open_pasted) }
        </section>
    }
}

/// A file name from a design's name: letters, digits and dashes.
fn file_name(name: &str) -> String {
    let plain: String =
        name.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
    let plain = plain.split('-').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-");
    format!("{}.kerf-and-coil.json", if plain.is_empty() { "design" } else { &plain })
}

#[component]
fn Listing(props: &StoreProps) -> Html {
    let store = &props.store;
    let sure = use_state_eq(|| None::<std::rc::Rc<str>>);
    let refresh = use_force_update();
    let designs = saving::list();
    html! {
        <section class="sheet">{ head(words::DESIGNS, "") }
            <div class="keys">
                { key(words::NEW, store, |store| open(store, Design::default())) }
                { key(words::NEW_DEMO, store, |store| open(store, demo::design())) }
                { key(words::COPY, store, |store| open(store, store.design().clone())) }
            </div>
            <p class="small">{ words::DEMO_ABOUT }</p>
            <ul class="list">
                { for designs.into_iter().map(|listed| {
                    let name = if listed.name.is_empty() { app::UNNAMED.to_owned() } else { listed.name.clone() };
                    let is_open = store.awake && listed.id == store.id;
                    let onopen = {
                        let (store, id) = (store.clone(), listed.id.clone());
                        Callback::from(move |_: MouseEvent| {
                            if let Some(stored) = saving::load(&id) {
                                store.dispatch(Msg::Open { id: id.clone(), stored: Box::new(stored) });
                                store.dispatch(Msg::Show(Panel::None));
                            }
                        })
                    };
                    let asked = sure.as_ref() == Some(&listed.id);
                    let ondelete = {
                        let (sure, id, refresh) = (sure.clone(), listed.id.clone(), refresh.clone());
                        Callback::from(move |_: MouseEvent| {
                            if asked {
                                saving::delete(&id);
                                refresh.force_update();
                            } else {
                                sure.set(Some(id.clone()));
                            }
                        })
                    };
                    html! {
                        <li key={listed.id.to_string()}>
                            <button type="button" class="jump" onclick={onopen} disabled={is_open}>{ name }
                                if is_open { <small>{ words::OPEN_NOW }</small> }</button>
                            if !is_open {
                                <button type="button" class="small-key" onclick={ondelete}>{ if asked { words::DELETE_SURE } else { words::DELETE } }</button>
                            }
                        </li>
                    }
                }) }
            </ul>
        </section>
    }
}

#[component]
fn Shelf(props: &StoreProps) -> Html {
    let store = &props.store;
    let refresh = use_force_update();
    let shelf = saving::shelf();
    html! {
        <section class="sheet">{ head(words::SHELF, "") }
            <p class="small">{ words::SHELF_ABOUT }</p>
            { for RecordKind::SHELF.iter().map(|kind| shelf_kind(store, *kind, &shelf, &refresh)) }
        </section>
    }
}

fn shelf_kind(store: &Handle, kind: RecordKind, shelf: &[OnShelf], refresh: &UseForceUpdateHandle) -> Html {
    let put = {
        let (store, refresh) = (store.clone(), refresh.clone());
        Callback::from(move |_: MouseEvent| {
            let said = match saving::put_on_shelf(&store, kind) {
                Ok(()) => words::SHELF_DONE,
                Err(crate::platform::storage::StorageError::Full) => words::FULL,
                Err(_) => words::BLOCKED,
            };
            store.dispatch(Msg::Tell(said.into()));
            refresh.force_update();
        })
    };
    let here = store.design().sheet.text(kind.name_field());
    let here = if here.is_empty() { app::UNNAMED } else { here };
    html! {
        <div class="shelf" key={kind.key()}>
            <h3>{ record_name(kind) }</h3>
            <button type="button" class="jump" onclick={put}>{ here.to_owned() }<small>{ words::SHELF_PUT }</small></button>
            <ul class="list">
                { for shelf.iter().filter(|item| item.kind == kind).map(|item| {
                    let take = {
                        let (store, record) = (store.clone(), item.record.clone());
                        Callback::from(move |_: MouseEvent| store.dispatch(Msg::Do(Action::TakeRecord(kind, record.clone()))))
                    };
                    let forget = {
                        let (key, refresh) = (item.key.clone(), refresh.clone());
                        Callback::from(move |_: MouseEvent| {
                            saving::forget(&key);
                            refresh.force_update();
                        })
                    };
                    let name = if item.name.is_empty() { app::UNNAMED.to_owned() } else { item.name.clone() };
                    html! {
                        <li key={item.key.clone()}>
                            <button type="button" class="jump" onclick={take}>{ name }<small>{ words::SHELF_TAKE }</small></button>
                            <button type="button" class="small-key" onclick={forget}>{ words::DELETE }</button>
                        </li>
                    }
                }) }
            </ul>
        </div>
    }
}
