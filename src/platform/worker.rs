//! A second copy of the program in a worker (`static/worker.js`): texts go in, numbers come out.
//!
//! The page's side starts, asks and ends it; the worker's side listens and replies. Where a browser refuses a worker,
//! the page is told so and does the work itself.

use super::{EventListener, boot, window};
use js_sys::Float64Array;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{DedicatedWorkerGlobalScope, MessageEvent};

/// What comes from a worker.
#[derive(Clone, Debug, PartialEq)]
pub enum FromWorker {
    /// It listens from now on.
    Ready,
    /// A reply.
    Numbers(Vec<f64>),
    /// It could not start, or it has stopped.
    Failed,
}

/// A running worker; it ends when this is dropped.
pub struct Worker {
    inner: web_sys::Worker,
    _listeners: [EventListener; 3],
}

impl Worker {
    /// Starts a worker; `None` where the browser refuses one.
    pub fn start(heard: impl Fn(FromWorker) + Clone + 'static) -> Option<Self> {
        let (start, worker) = boot::script("worker")?;
        let inner: web_sys::Worker = worker.call0(&start).ok()?.dyn_into().ok()?;
        let on_message = heard.clone();
        let message = EventListener::new(&inner, "message", move |event| {
            let data = event.dyn_ref::<MessageEvent>().map(MessageEvent::data);
            on_message(match data.and_then(|data| data.dyn_into::<Float64Array>().ok()) {
                Some(numbers) => FromWorker::Numbers(numbers.to_vec()),
                None => FromWorker::Ready,
            });
        });
        let failed = |name: &'static str| {
            let heard = heard.clone();
            EventListener::new(&inner, name, move |_| heard(FromWorker::Failed))
        };
        let listeners = [message, failed("error"), failed("messageerror")];
        Some(Self { inner, _listeners: listeners })
    }

    /// Sends a text; whether it went.
    pub fn send(&self, text: &str) -> bool {
        self.inner.post_message(&JsValue::from_str(text)).is_ok()
    }
}

impl Drop for Worker {
    fn drop(&mut self) {
        self.inner.terminate();
    }
}

/// The worker's own side.
fn scope() -> Option<DedicatedWorkerGlobalScope> {
    if window().is_some() {
        return None;
    }
    js_sys::global().dyn_into().ok()
}

/// Whether this copy of the program runs in a worker.
pub fn is_worker() -> bool {
    scope().is_some()
}

/// In a worker: calls `heard` with every text from now on and says that it listens.
pub fn serve(heard: impl Fn(String) + 'static) {
    let Some(scope) = scope() else { return };
    EventListener::new(&scope, "message", move |event| {
        let text = event.dyn_ref::<MessageEvent>().and_then(|event| event.data().as_string());
        if let Some(text) = text {
            heard(text);
        }
    })
    .forget();
    // Without a page to listen there is nothing to do.
    let _ = scope.post_message(&JsValue::TRUE);
}

/// In a worker: sends numbers to the page.
pub fn reply(numbers: &[f64]) {
    if let Some(scope) = scope() {
        let _ = scope.post_message(&Float64Array::from(numbers));
    }
}
