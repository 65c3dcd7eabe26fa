//! The page's address: the fragment that carries a shared design, and links to this page.

use super::{EventListener, window};
use wasm_bindgen::JsValue;

/// The fragment without its `#`, as it stands in the address; `None` if there is none.
pub fn fragment() -> Option<String> {
    let hash = window()?.location().hash().ok()?;
    let fragment = hash.strip_prefix('#').unwrap_or(&hash);
    (!fragment.is_empty()).then(|| fragment.to_owned())
}

/// Takes the fragment out of the address, without a reload and without a step in the history.
///
/// `None` if the browser refuses, which leaves the address as it was.
pub fn clear_fragment() -> Option<()> {
    replace_address(&path_and_query()?)
}

/// Puts `fragment` into the address, without a reload, a step in the history or an event.
///
/// `None` if the browser refuses, which leaves the address as it was.
pub fn set_fragment(fragment: &str) -> Option<()> {
    replace_address(&format!("{}#{fragment}", path_and_query()?))
}

/// Tells of every later change of the fragment, as when a link is opened while the page is open.
///
/// The change ends when the listener is dropped; `None` outside a page.
pub fn on_fragment(changed: impl Fn() + 'static) -> Option<EventListener> {
    let window = window()?;
    Some(EventListener::new(&window, "hashchange", move |_| changed()))
}

/// The page's own address without query and fragment, as a link to it starts.
pub fn base_url() -> Option<String> {
    let location = window()?.location();
    Some(location.origin().ok()? + &location.pathname().ok()?)
}

fn path_and_query() -> Option<String> {
    let location = window()?.location();
    Some(location.pathname().ok()? + &location.search().ok()?)
}

fn replace_address(address: &str) -> Option<()> {
    let history = window()?.history().ok()?;
    history.replace_state_with_url(&JsValue::NULL, "", Some(address)).ok()
}
