//! Local storage: what is opened at the start, what is saved and when, and what another tab does.
use std::cell::RefCell;
use std::rc::Rc;

use yew::prelude::*;

use super::store::{Handle, Msg, Panel, Store};
use crate::design::document::Sheet;
use crate::design::limits::{FieldId, RecordKind};
use crate::design::link::{self, LinkError};
use crate::design::stored::{self, Stored, keys};
use crate::design::{demo, file};
use crate::platform::storage::StorageError;
use crate::platform::{Timeout, boot, clock, location, page, storage, theme};
use crate::small::{VecMap, sort_by};
use crate::units::UnitPrefs;
use crate::words::keep;

/// Longest wait from a change to its save.
const SAVE_AFTER_MS: u32 = 250;

/// A design in storage, for the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// Its id.
    pub id: Rc<str>,
    /// Its name.
    pub name: String,
}

/// A record on the shelf, for the list.
#[derive(Clone, Debug, PartialEq)]
pub struct OnShelf {
    /// Its key.
    pub key: String,
    /// What it is.
    pub kind: RecordKind,
    /// Its name.
    pub name: String,
    /// Its entries.
    pub record: Rc<Sheet>,
}

/// The store at the start: preferences, the design open last or the demo, and what a link brings.
#[must_use]
pub fn first_store() -> Store {
    let asleep = boot::failed_starts() >= 2;
    let last = storage::get(keys::OPEN).ok().flatten();
    let opened = last.as_deref().and_then(|id| Some((Rc::from(id), load(id)?)));
    let (id, stored) = match opened {
        Some((id, stored)) if !asleep => (id, stored),
        _ => first_design(asleep),
    };
    let mut store = Store::new(id, stored);
    store.prefs = storage::get(keys::UNITS)
        .ok()
        .flatten()
        .map_or_else(UnitPrefs::default, |t| UnitPrefs::from_text(&t));
    store.dark = match storage::get(keys::THEME).ok().flatten().as_deref() {
        Some("dark") => Some(true),
        Some("light") => Some(false),
        _ => None,
    };
    store.system_dark = theme::prefers_dark();
    theme::set_dark(store.dark);
    store.sound = storage::get(keys::SOUND).ok().flatten().as_deref() != Some("off");
    store.left = storage::get(keys::HAND).ok().flatten().as_deref() == Some("left");
    if asleep {
        store.panel = Panel::Designs;
        store.awake = false;
        store.notice = Some(keep::ASLEEP.into());
    } else if storage::get(keys::OPEN) == Err(StorageError::Blocked) {
        store.notice = Some(keep::BLOCKED.into());
    }
    store
}

/// The demo for a first visit; after failed starts an empty design, and nothing is evaluated.
fn first_design(asleep: bool) -> (Rc<str>, Stored) {
    let design = if asleep { Default::default() } else { demo::design() };
    (new_id(), Stored { revision: 0, design, drafts: Default::default() })
}

/// An id no other design has.
#[must_use]
pub fn new_id() -> Rc<str> {
    clock::random_id().into()
}

fn design_key(id: &str) -> String {
    format!("{}{id}", keys::DESIGN)
}

/// A stored design; a text that can't be read is kept under a second key before anything is saved over it.
#[must_use]
pub fn load(id: &str) -> Option<Stored> {
    let text = storage::get(&design_key(id)).ok()??;
    match stored::read(&text) {
        Ok(stored) => Some(stored),
        Err(_) => {
            let _ = storage::set(&format!("{}{id}", keys::BROKEN), &text);
            None
        }
    }
}

/// Every design in storage, by name.
#[must_use]
pub fn list() -> Vec<Listed> {
    let ids = storage::keys(keys::DESIGN).unwrap_or_default();
    let mut found: Vec<Listed> = ids
        .iter()
        .filter_map(|key| {
            let id = key.strip_prefix(keys::DESIGN)?;
            let stored = load(id)?;
            let name = stored.design.sheet.text(FieldId::DesignName).to_owned();
            Some(Listed { id: id.into(), name })
        })
        .collect();
    sort_by(&mut found, |a, b| a.name.to_ascii_lowercase().cmp(&b.name.to_ascii_lowercase()));
    found
}

/// Every record on the shelf.
#[must_use]
pub fn shelf() -> Vec<OnShelf> {
    let keys = storage::keys(keys::SHELF).unwrap_or_default();
    let read = |key: &String| {
        let (kind, _) = keys::parse_shelf(key)?;
        let record = stored::read_shelf(&storage::get(key).ok()??, kind).ok()?;
        let name = record.text(kind.name_field()).to_owned();
        Some(OnShelf { key: key.clone(), kind, name, record: Rc::new(record) })
    };
    keys.iter().filter_map(read).collect()
}

/// Puts a record of the open design on the shelf; a record of the same name is replaced.
pub fn put_on_shelf(store: &Store, kind: RecordKind) -> Result<(), StorageError> {
    let record = store.design().sheet.record(kind);
    let name = record.text(kind.name_field());
    let same = shelf().into_iter().find(|other| other.kind == kind && !name.is_empty() && other.name == name);
    let key = same.map_or_else(|| keys::shelf(kind, &new_id()), |other| other.key);
    storage::set(&key, &stored::write_shelf(&record))
}

/// Forgets a stored design.
pub fn delete(id: &str) {
    let _ = storage::remove(&design_key(id));
}

/// Forgets a record on the shelf.
pub fn forget(key: &str) {
    let _ = storage::remove(key);
}

/// What a save came to.
enum Outcome {
    Saved(u64),
    Conflict,
    Failed(StorageError),
}

fn save(store: &Store) -> Outcome {
    let key = design_key(&store.id);
    let there = match storage::get(&key) {
        Ok(text) => text.map_or(0, |text| stored::revision(&text)),
        Err(error) => return Outcome::Failed(error),
    };
    if there > store.revision {
        return Outcome::Conflict;
    }
    let revision = store.revision + 1;
    let text =
        stored::write(&Stored { revision, design: store.design().clone(), drafts: (*store.drafts).clone() });
    match storage::set(&key, &text).and_then(|()| storage::set(keys::OPEN, &store.id)) {
        Ok(()) => Outcome::Saved(revision),
        Err(error) => Outcome::Failed(error),
    }
}

/// The part of the store that is saved.
#[derive(Clone, PartialEq)]
struct Saved {
    id: Rc<str>,
    design: Rc<crate::design::document::Design>,
    drafts: Rc<VecMap<FieldId, String>>,
}

/// A save that is due.
#[derive(Default)]
struct Pending {
    timer: Option<Timeout>,
    /// The state to save: a snapshot, as a handle may already show the design that took its place.
    store: Option<Store>,
    out: Option<UseReducerDispatcher<Store>>,
    complained: bool,
}

impl Pending {
    /// Saves now if something is due.
    fn flush(pending: &Rc<RefCell<Self>>) {
        let (due, out) = {
            let mut pending = pending.borrow_mut();
            pending.timer = None;
            (pending.store.take(), pending.out.clone())
        };
        let (Some(store), Some(out)) = (due, out) else { return };
        match save(&store) {
            Outcome::Saved(revision) => {
                pending.borrow_mut().complained = false;
                let clean = (Rc::clone(&store.session.design), Rc::clone(&store.drafts));
                out.dispatch(Msg::Saved { id: Rc::clone(&store.id), revision, clean });
            }
            Outcome::Conflict => out.dispatch(Msg::Conflict(Rc::clone(&store.id))),
            Outcome::Failed(error) => {
                // Said once, not at every key.
                if !std::mem::replace(&mut pending.borrow_mut().complained, true) {
                    let text = if error == StorageError::Full { keep::FULL } else { keep::BLOCKED };
                    out.dispatch(Msg::Tell(text.into()));
                }
            }
        }
    }
}

/// Saves the design a moment after each change, and at once when the page is hidden; tells of other tabs.
#[hook]
pub fn use_saving(store: &Handle) {
    let pending = use_mut_ref(Pending::default);
    let saved = Saved {
        id: Rc::clone(&store.id),
        design: Rc::clone(&store.session.design),
        drafts: Rc::clone(&store.drafts),
    };
    // Every render hands over the newest handle, so that a save never writes an older state or revision.
    let due = pending.borrow().store.as_ref().map(|due| Rc::clone(&due.id));
    match due {
        Some(id) if id == store.id => pending.borrow_mut().store = Some((**store).clone()),
        Some(_) => Pending::flush(&pending),
        None => {}
    }
    {
        let (pending, out, store) = (Rc::clone(&pending), store.dispatcher(), (**store).clone());
        use_effect_with((saved, store.complete), move |_| {
            // A first design that nobody touched is saved once the rest of the program is there.
            if !store.complete && store.revision == 0 && !store.session.can_undo() && store.drafts.is_empty()
            {
                return;
            }
            let now = (Rc::clone(&store.session.design), Rc::clone(&store.drafts));
            if store.conflict || !store.awake || store.clean.as_ref() == Some(&now) {
                return;
            }
            let mut due = pending.borrow_mut();
            due.store = Some(store);
            due.out = Some(out);
            // The first change starts the clock and later ones do not restart it: at most this much is ever lost.
            if due.timer.is_none() {
                let pending = Rc::clone(&pending);
                due.timer = Some(Timeout::new(SAVE_AFTER_MS, move || Pending::flush(&pending)));
            }
        });
    }
    // A stored design that is only looked at is the open one too.
    let open = (store.awake && store.revision > 0).then(|| Rc::clone(&store.id));
    use_effect_with(open, |open| {
        if let Some(id) = open {
            let _ = storage::set(keys::OPEN, id);
        }
    });
    use_effect_with((), move |()| {
        let listener = page::on_hidden(move || Pending::flush(&pending));
        move || drop(listener)
    });
    let watched = (Rc::clone(&store.id), store.revision);
    let store = store.clone();
    use_effect_with(watched, move |(id, revision)| {
        let (key, revision) = (design_key(id), *revision);
        let listener = storage::on_change(move |change| {
            // An equal revision too: both tabs saved at the same moment.
            let newer = change.text.as_deref().is_some_and(|text| stored::revision(text) >= revision);
            if change.key.as_deref() == Some(key.as_str()) && newer {
                store.dispatch(Msg::Conflict(Rc::clone(&store.id)));
            }
        });
        move || drop(listener)
    });
}

/// Opens what a link carries, beside the designs there are; the fragment goes once it is read.
pub fn open_link(store: &Handle, text: &str) {
    match link::read(text) {
        Ok(opened) => open_new(store, opened, keep::OPENED_LINK),
        Err(error) => store.dispatch(Msg::Tell(link_message(error).into())),
    }
}

/// Opens a design file beside the designs there are.
pub fn open_file(store: &Handle, text: &str) {
    match file::read(text) {
        Ok(opened) => open_new(store, opened, keep::OPENED_FILE),
        Err(file::OpenError::TooNew { .. }) => store.dispatch(Msg::Tell(keep::TOO_NEW.into())),
        Err(_) => store.dispatch(Msg::Tell(keep::NOT_A_FILE.into())),
    }
}

fn open_new(store: &Handle, opened: file::Opened, said: &str) {
    let text =
        if opened.repairs.is_empty() { said.to_owned() } else { keep::repaired(said, opened.repairs.len()) };
    let drafts = opened.repairs.into_iter().filter_map(|repair| Some((repair.field?, repair.text)));
    let stored = Stored { revision: 0, drafts: drafts.collect(), design: opened.design };
    store.dispatch(Msg::Open { id: new_id(), stored: Box::new(stored) });
    store.dispatch(Msg::Show(Panel::None));
    store.dispatch(Msg::Tell(text));
}

const fn link_message(error: LinkError) -> &'static str {
    match error {
        LinkError::NoDesign => keep::LINK_EMPTY,
        LinkError::UnknownCodec => keep::TOO_NEW,
        LinkError::Truncated => keep::LINK_CUT,
        LinkError::Corrupt => keep::LINK_DAMAGED,
        LinkError::TooLong => keep::LINK_TOO_LONG,
    }
}

/// Reads a link in the address, now and whenever the fragment changes while the page is open.
#[hook]
pub fn use_links(store: &Handle) {
    let handle = use_mut_ref(|| store.clone());
    *handle.borrow_mut() = store.clone();
    use_effect_with((), move |()| {
        let read = move || {
            let Some(fragment) = location::fragment().filter(|text| link::carries_design(text)) else {
                return;
            };
            location::clear_fragment();
            let store = handle.borrow().clone();
            open_link(&store, &fragment);
        };
        read();
        let listener = location::on_fragment(read);
        move || drop(listener)
    });
}

/// Keeps the preferences.
#[hook]
pub fn use_preferences(store: &Handle) {
    use_effect_with(store.prefs, |prefs| {
        let _ = storage::set(keys::UNITS, &prefs.to_text());
    });
    use_effect_with(store.dark, |dark| {
        theme::set_dark(*dark);
        let _ = match dark {
            Some(dark) => storage::set(keys::THEME, if *dark { "dark" } else { "light" }),
            None => storage::remove(keys::THEME),
        };
    });
    use_effect_with(store.sound, |sound| {
        let _ = storage::set(keys::SOUND, if *sound { "on" } else { "off" });
    });
    use_effect_with(store.left, |left| {
        let _ = storage::set(keys::HAND, if *left { "left" } else { "right" });
    });
    let handle = store.clone();
    use_effect_with((), move |()| {
        let listener = theme::on_change(move |dark| handle.dispatch(Msg::SystemDark(dark)));
        move || drop(listener)
    });
}

/// The link of the open design.
#[must_use]
pub fn link_of(store: &Store) -> String {
    format!("{}#{}", location::base_url().unwrap_or_default(), link::fragment(store.design()))
}
