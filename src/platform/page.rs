//! The page as a whole: being hidden or closed, its size, and the sizes of its parts.

use super::{EventListener, document, window};
use js_sys::Array;
use std::cell::Cell;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::Closure;
use web_sys::{
    Element, HtmlElement, IntersectionObserver, IntersectionObserverEntry, ResizeObserver, VisibilityState,
};

/// Listens as long as it is kept.
#[derive(Debug)]
pub struct Listeners(#[expect(dead_code, reason = "kept for their drop")] Vec<EventListener>);

/// The element with the given id.
pub fn element(id: &str) -> Option<Element> {
    document()?.get_element_by_id(id)
}

/// Tells that the page is hidden or about to go: the last moment to save.
///
/// May be called twice for one closing. `None` outside a page.
pub fn on_hidden(hidden: impl Fn() + Clone + 'static) -> Option<Listeners> {
    let (window, document) = (window()?, document()?);
    let leaving = hidden.clone();
    let state = document.clone();
    Some(Listeners(vec![
        EventListener::new(&document, "visibilitychange", move |_| {
            if state.visibility_state() == VisibilityState::Hidden {
                hidden();
            }
        }),
        EventListener::new(&window, "pagehide", move |_| leaving()),
    ]))
}

/// Tells that the page can be seen again, as when the user comes back from another program.
pub fn on_shown(shown: impl Fn() + 'static) -> Option<Listeners> {
    let document = document()?;
    let state = document.clone();
    Some(Listeners(vec![EventListener::new(&document, "visibilitychange", move |_| {
        if state.visibility_state() == VisibilityState::Visible {
            shown();
        }
    })]))
}

/// Shows the page from its top; a place is read from its first line.
pub fn scroll_to_top() {
    if let Some(window) = window() {
        window.scroll_to_with_x_and_y(0.0, 0.0);
    }
}

/// Opens the browser's own sheet for printing; `None` where a page may not.
pub fn print() -> Option<()> {
    window()?.print().ok()
}

/// Taps every closed fold within an element of the given class; whether there was one.
pub fn open_folds(within: &str) -> bool {
    let Some(keys) = document().map(|document| document.get_elements_by_class_name("foldkey")) else {
        return false;
    };
    let inside = |key: &Element| key.closest(&format!(".{within}")).is_ok_and(|found| found.is_some());
    let closed = (0..keys.length())
        .filter_map(|number| keys.item(number))
        .filter(|key| key.get_attribute("aria-expanded").is_some_and(|open| open == "false") && inside(key));
    let closed: Vec<HtmlElement> = closed.filter_map(|key| key.dyn_into().ok()).collect();
    closed.iter().for_each(HtmlElement::click);
    !closed.is_empty()
}

/// Brings the element with the given id to the top of what is seen.
pub fn scroll_to(id: &str) {
    if let Some(element) = element(id) {
        element.scroll_into_view();
    }
}

/// Knows whether any of an element can be seen, as long as it is kept.
///
/// Asking the element for its place would make the browser lay out the page at once.
#[derive(Debug)]
pub struct SightWatch {
    observer: IntersectionObserver,
    seen: Rc<Cell<bool>>,
    _changed: Closure<dyn FnMut(Array)>,
}

impl SightWatch {
    /// Watches an element, seen until the browser says otherwise.
    ///
    /// `None` if the browser has no means for it.
    pub fn new(element: &Element) -> Option<Self> {
        let seen = Rc::new(Cell::new(true));
        let told = Rc::clone(&seen);
        let call = Closure::<dyn FnMut(Array)>::new(move |entries: Array| {
            let last: Option<IntersectionObserverEntry> = entries.pop().dyn_into().ok();
            if let Some(last) = last {
                told.set(last.is_intersecting());
            }
        });
        let observer = IntersectionObserver::new(call.as_ref().unchecked_ref()).ok()?;
        observer.observe(element);
        Some(Self { observer, seen, _changed: call })
    }

    /// Whether it could be seen in the last picture.
    #[must_use]
    pub fn seen(&self) -> bool {
        self.seen.get()
    }
}

impl Drop for SightWatch {
    fn drop(&mut self) {
        self.observer.disconnect();
    }
}

/// Device pixels to one CSS pixel; 1 where unknown, and never less.
pub fn pixel_ratio() -> f64 {
    window().map_or(1.0, |window| window.device_pixel_ratio()).clamp(1.0, 8.0)
}

/// Watches an element's size as long as it is kept.
#[derive(Debug)]
pub struct SizeWatch {
    observer: ResizeObserver,
    _changed: Closure<dyn FnMut(Array)>,
}

impl SizeWatch {
    /// Calls `changed` with the element's width and height in CSS pixels, now and after every change.
    ///
    /// `None` if the browser has no means for it.
    pub fn new(element: &Element, changed: impl Fn(f64, f64) + 'static) -> Option<Self> {
        let watched = element.clone();
        let call = Closure::<dyn FnMut(Array)>::new(move |_| {
            let size = watched.get_bounding_client_rect();
            changed(size.width(), size.height());
        });
        let observer = ResizeObserver::new(call.as_ref().unchecked_ref()).ok()?;
        observer.observe(element);
        Some(Self { observer, _changed: call })
    }
}

impl Drop for SizeWatch {
    fn drop(&mut self) {
        self.observer.disconnect();
    }
}
