//! The phone's own share sheet.

use super::{error_name, error_text, method, window};
use js_sys::{Object, Promise, Reflect};
use thiserror::Error;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

/// Why nothing was shared.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum ShareError {
    /// The browser has no share sheet; offer the link for copying.
    #[error("no share sheet here")]
    Missing,
    /// The user closed the sheet: nothing to say.
    #[error("not shared")]
    Cancelled,
    /// The browser refused; its own words.
    #[error("sharing was refused: {0}")]
    Refused(String),
}

/// Whether the browser has a share sheet.
pub fn is_available() -> bool {
    window().and_then(|window| method(&window.navigator(), "share")).is_some()
}

/// Opens the share sheet with a title and a link; must be called while handling a tap or a key.
///
/// # Errors
/// [`ShareError`] if there is no sheet, it was closed, or the browser refused.
pub async fn share(title: &str, url: &str) -> Result<(), ShareError> {
    let navigator = window().ok_or(ShareError::Missing)?.navigator();
    let share = method(&navigator, "share").ok_or(ShareError::Missing)?;
    let what = Object::new();
    for (name, text) in [("title", title), ("url", url)] {
        Reflect::set(&what, &JsValue::from_str(name), &JsValue::from_str(text)).map_err(failed)?;
    }
    let promise: Promise =
        share.call1(&navigator, &what).and_then(|value| value.dyn_into()).map_err(failed)?;
    JsFuture::from(promise).await.map(drop).map_err(failed)
}

fn failed(error: JsValue) -> ShareError {
    if error_name(&error) == "AbortError" {
        ShareError::Cancelled
    } else {
        ShareError::Refused(error_text(&error))
    }
}
