//! The browser's local storage, which may be blocked or full.

use super::{EventListener, error_name, window};
use thiserror::Error;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Storage, StorageEvent};

/// Why storage could not be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum StorageError {
    /// The browser does not let the page keep anything.
    #[error("storage is blocked")]
    Blocked,
    /// There is no room left for the text.
    #[error("storage is full")]
    Full,
}

/// A change made by another tab.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The key; `None` if everything was cleared.
    pub key: Option<String>,
    /// The text it has now; `None` if it was removed.
    pub text: Option<String>,
}

/// The text under a key; `None` if there is none.
///
/// # Errors
/// [`StorageError::Blocked`].
pub fn get(key: &str) -> Result<Option<String>, StorageError> {
    storage()?.get_item(key).map_err(|_| StorageError::Blocked)
}

/// Puts a text under a key.
///
/// # Errors
/// [`StorageError`]; the text that was there before is still there.
pub fn set(key: &str, text: &str) -> Result<(), StorageError> {
    storage()?.set_item(key, text).map_err(|error| why(&error))
}

/// Removes a key, if it is there.
///
/// # Errors
/// [`StorageError::Blocked`].
pub fn remove(key: &str) -> Result<(), StorageError> {
    storage()?.remove_item(key).map_err(|_| StorageError::Blocked)
}

/// All keys that begin with `prefix`, in order.
///
/// # Errors
/// [`StorageError::Blocked`].
pub fn keys(prefix: &str) -> Result<Vec<String>, StorageError> {
    let storage = storage()?;
    let count = storage.length().map_err(|_| StorageError::Blocked)?;
    let mut keys: Vec<String> = Vec::new();
    for key in
        (0..count).filter_map(|index| storage.key(index).ok().flatten()).filter(|key| key.starts_with(prefix))
    {
        keys.insert(keys.partition_point(|other| *other < key), key);
    }
    Ok(keys)
}

/// Tells of every change that another tab makes, as long as the listener is kept.
///
/// `None` outside a page.
pub fn on_change(changed: impl Fn(Change) + 'static) -> Option<EventListener> {
    let window = window()?;
    Some(EventListener::new(&window, "storage", move |event| {
        if let Some(event) = event.dyn_ref::<StorageEvent>() {
            changed(Change { key: event.key(), text: event.new_value() });
        }
    }))
}

/// Even asking for the storage throws where it is blocked.
fn storage() -> Result<Storage, StorageError> {
    window().and_then(|window| window.local_storage().ok().flatten()).ok_or(StorageError::Blocked)
}

fn why(error: &JsValue) -> StorageError {
    match error_name(error).as_str() {
        "QuotaExceededError" | "NS_ERROR_DOM_QUOTA_REACHED" => StorageError::Full,
        _ => StorageError::Blocked,
    }
}
