//! The browser, taken and given as text and events. Imports nothing of ours.
//!
//! Everything here can be missing or refused (storage blocked, no clipboard, no service worker on a plain
//! `http` address), so every function says so by a `Result` or an `Option` and none panics.

pub mod boot;
pub mod canvas;
pub mod clipboard;
pub mod clock;
pub mod files;
pub mod kept;
pub mod location;
pub mod microphone;
pub mod offline;
pub mod page;
pub mod share;
pub mod signal;
pub mod storage;
mod svg;
pub mod theme;
pub mod worker;

pub use gloo::events::EventListener;
pub use gloo::timers::callback::{Interval, Timeout};
pub use wasm_bindgen_futures::spawn_local;

use js_sys::Reflect;
use wasm_bindgen::{JsCast, JsValue};

/// The window, if the code runs in a page at all.
fn window() -> Option<web_sys::Window> {
    web_sys::window()
}

/// The document of the page.
fn document() -> Option<web_sys::Document> {
    window()?.document()
}

/// A property that is there and has a value; absent, `undefined` and `null` are all `None`.
fn property(object: &JsValue, name: &str) -> Option<JsValue> {
    let value = Reflect::get(object, &JsValue::from_str(name)).ok()?;
    (!value.is_undefined() && !value.is_null()).then_some(value)
}

/// A method of an object, if it has one of that name.
fn method(object: &JsValue, name: &str) -> Option<js_sys::Function> {
    property(object, name)?.dyn_into().ok()
}

/// The name of a thrown error, such as `QuotaExceededError`; empty if it has none.
fn error_name(error: &JsValue) -> String {
    property(error, "name").and_then(|name| name.as_string()).unwrap_or_default()
}

/// The text of a thrown value, for a message that says why something failed.
fn error_text(error: &JsValue) -> String {
    property(error, "message")
        .and_then(|message| message.as_string())
        .or_else(|| error.as_string())
        .unwrap_or_else(|| error_name(error))
}
