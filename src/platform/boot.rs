//! Starting and stopping: the count of failed starts and the screen that a panic leaves (`static/boot.js`).

use super::{EventListener, document, method, property, window};
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

/// The event that makes the program panic, so that a test can see what a panic leaves on the screen.
///
/// Only code of the page itself can send it.
const TEST_PANIC: &str = "kc-test-panic";

/// Shows a panic's message and the saved text on a plain screen instead of leaving a dead page.
///
/// Give it to `yew::set_custom_panic_hook` first of all, as Yew sets a hook of its own otherwise.
pub fn show_panic(panic: &std::panic::PanicHookInfo<'_>) {
    crash(&panic.to_string());
}

/// Lets a test ask for a panic, to see what one leaves on the screen.
pub fn allow_test_panic() {
    if let Some(window) = window() {
        EventListener::once(&window, TEST_PANIC, |_| panic!("a panic asked for by a test")).forget();
    }
}

/// The event that makes the program time its calculation, for `tests/browser/speed.mjs`.
const TEST_TIMING: &str = "kc-test-timing";

/// Lets a measurement ask how many milliseconds something takes; the answer stands at the document's root as
/// `data-milliseconds`.
pub fn allow_timing(measure: impl Fn() -> f64 + 'static) {
    if let Some(window) = window() {
        EventListener::new(&window, TEST_TIMING, move |_| {
            let root = document().and_then(|document| document.document_element());
            if let Some(root) = root {
                // Nothing is measured where the attribute is refused.
                let _ = root.set_attribute("data-milliseconds", &measure().to_string());
            }
        })
        .forget();
    }
}

/// Replaces the page by the plain screen that shows `reason` and the saved text.
///
/// The program must not be used afterwards.
pub fn crash(reason: &str) {
    if let Some((start, crash)) = script("crash") {
        // Nothing is left to tell if even this fails.
        let _ = crash.call1(&start, &JsValue::from_str(reason));
    }
}

/// How many starts before this one failed, one after the other; 0 where storage is blocked.
///
/// A start counts as failed until [`started`] is called.
pub fn failed_starts() -> u32 {
    let count = window()
        .and_then(|window| property(&window, "kc"))
        .and_then(|start| property(&start, "failedStarts"))
        .and_then(|count| count.as_f64());
    // A float to integer cast saturates, and NaN gives 0.
    count.unwrap_or(0.0) as u32
}

/// Says that the page has rendered well, which ends the count of failed starts.
pub fn started() {
    if let Some((start, started)) = script("started") {
        let _ = started.call0(&start);
    }
}

/// Waits until the rest of the program has been loaded, or was tried in vain.
///
/// The start script loads it after the first result; whatever else is downloaded should wait for it.
///
/// Whether it is there.
pub async fn whole() -> bool {
    let whole =
        window().and_then(|window| property(&window, "kc")).and_then(|start| property(&start, "whole"));
    let Some(whole) = whole else { return false };
    // The start script never rejects it.
    JsFuture::from(js_sys::Promise::resolve(&whole)).await.is_ok_and(|there| there.is_truthy())
}

/// The start script's object and one of its functions.
pub(super) fn script(function: &str) -> Option<(JsValue, js_sys::Function)> {
    let start = property(&window()?.into(), "kc")?;
    let function = method(&start, function)?;
    Some((start, function))
}
