//! Day and night: what the system prefers, what the page shows, and the colours of the style sheet.

use super::{EventListener, document, window};

/// Whether the system prefers dark; `false` where unknown.
pub fn prefers_dark() -> bool {
    query().is_some_and(|query| query.matches())
}

/// Tells whenever the system's preference changes, as long as the listener is kept.
pub fn on_change(changed: impl Fn(bool) + 'static) -> Option<EventListener> {
    let query = query()?;
    let asked = query.clone();
    Some(EventListener::new(&query, "change", move |_| changed(asked.matches())))
}

/// Shows the page dark or light whatever the system prefers; `None` follows the system again.
pub fn set_dark(dark: Option<bool>) -> Option<()> {
    let root = document()?.document_element()?;
    match dark {
        Some(true) => root.set_attribute("data-theme", "dark").ok(),
        Some(false) => root.set_attribute("data-theme", "light").ok(),
        None => root.remove_attribute("data-theme").ok(),
    }
}

/// The present value of a token of the style sheet, such as `--ink`: `#1c2126`.
///
/// `None` if the style sheet has no such token or has not been loaded.
pub fn token(name: &str) -> Option<String> {
    let root = document()?.document_element()?;
    let value = window()?.get_computed_style(&root).ok()??.get_property_value(name).ok()?;
    let value = value.trim();
    (!value.is_empty()).then(|| value.to_owned())
}

/// A colour token as red, green and blue; `None` unless it is written as `#rrggbb`.
pub fn colour(name: &str) -> Option<(u8, u8, u8)> {
    let text = token(name)?;
    let digits = text.strip_prefix('#').filter(|digits| digits.len() == 6)?;
    let number = u32::from_str_radix(digits, 16).ok()?;
    let [_, red, green, blue] = number.to_be_bytes();
    Some((red, green, blue))
}

fn query() -> Option<web_sys::MediaQueryList> {
    window()?.match_media("(prefers-color-scheme: dark)").ok()?
}
