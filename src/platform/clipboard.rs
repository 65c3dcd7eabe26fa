//! The clipboard, with a way around for pages that were not loaded over `https`.

use super::{document, error_text, property, window};
use thiserror::Error;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use web_sys::{HtmlDocument, HtmlTextAreaElement};

/// Why the clipboard could not be used.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum ClipboardError {
    /// The browser offers none here, as on a plain `http` address.
    #[error("no clipboard here")]
    Missing,
    /// The browser or the user said no; the browser's own words.
    #[error("the clipboard was refused: {0}")]
    Refused(String),
}

/// Puts `text` on the clipboard.
///
/// # Errors
/// [`ClipboardError`] if neither the clipboard nor the old copy command takes it; then show the text for
/// copying by hand.
pub async fn write_text(text: &str) -> Result<(), ClipboardError> {
    if let Ok(clipboard) = clipboard()
        && JsFuture::from(clipboard.write_text(text)).await.is_ok()
    {
        return Ok(());
    }
    copy_by_selection(text).ok_or(ClipboardError::Missing)
}

/// Takes the text off the clipboard; the browser may ask the user first.
///
/// # Errors
/// [`ClipboardError`] if there is no clipboard or it was refused; then let the user paste into a field.
pub async fn read_text() -> Result<String, ClipboardError> {
    let read = JsFuture::from(clipboard()?.read_text()).await;
    read.map(|text| text.as_string().unwrap_or_default())
        .map_err(|error| ClipboardError::Refused(error_text(&error)))
}

fn clipboard() -> Result<web_sys::Clipboard, ClipboardError> {
    window()
        .and_then(|window| property(&window.navigator(), "clipboard"))
        .and_then(|clipboard| clipboard.dyn_into().ok())
        .ok_or(ClipboardError::Missing)
}

/// Copies through a text field that is selected for a moment.
fn copy_by_selection(text: &str) -> Option<()> {
    let document = document()?;
    let field: HtmlTextAreaElement = document.create_element("textarea").ok()?.dyn_into().ok()?;
    field.set_value(text);
    field.set_read_only(true);
    // Out of sight by the style sheet, as style attributes are forbidden.
    field.set_class_name("copy-source");
    let body = document.body()?;
    body.append_child(&field).ok()?;
    field.select();
    let copied = document.dyn_into::<HtmlDocument>().ok().and_then(|page| page.exec_command("copy").ok());
    field.remove();
    (copied == Some(true)).then_some(())
}
