//! Use without a network: the service worker and its updates.

use super::{EventListener, boot, error_text, property, window};
use std::cell::RefCell;
use std::rc::Rc;
use thiserror::Error;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{ServiceWorker, ServiceWorkerContainer, ServiceWorkerRegistration, ServiceWorkerState};

/// Address of the service worker, relative to the page.
const WORKER: &str = "./sw.js";

/// The message by which the user's consent reaches the waiting version.
const ACCEPT: &str = "accept";

/// Why the page can't be kept for use without a network.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum OfflineError {
    /// The browser offers no service worker here, as on a plain `http` address or in a private window.
    #[error("no service worker here")]
    Missing,
    /// The browser refused it; its own words.
    #[error("the service worker was refused: {0}")]
    Refused(String),
}

/// A new version that is ready and waits for the user.
#[derive(Clone, Debug, PartialEq)]
pub struct Update(ServiceWorker);

impl Update {
    /// Lets the new version take over, and reloads this page with it. Save everything first.
    pub fn accept(&self) {
        let worker = self.0.clone();
        EventListener::new(&self.0, "statechange", move |_| {
            if worker.state() == ServiceWorkerState::Activated
                && let Some(window) = window()
            {
                let _ = window.location().reload();
            }
        })
        .forget();
        let _ = self.0.post_message(&JsValue::from_str(ACCEPT));
    }
}

/// Keeps the page for use without a network, and calls `ready` when a new version waits for the user.
///
/// Call it after the first render, so that it never delays the page. `ready` may be called more than once,
/// also at once for a version that has waited since an earlier visit.
///
/// # Errors
/// [`OfflineError`] if the browser has no service worker or refuses it; the page works all the same.
pub async fn register(ready: impl Fn(Update) + 'static) -> Result<(), OfflineError> {
    let container = container().ok_or(OfflineError::Missing)?;
    boot::whole().await;
    let registered = JsFuture::from(container.register(WORKER)).await;
    let registration: ServiceWorkerRegistration = registered
        .and_then(|value| value.dyn_into())
        .map_err(|error| OfflineError::Refused(error_text(&error)))?;
    let ready: Rc<dyn Fn(Update)> = Rc::new(ready);
    if let Some(worker) = registration.waiting() {
        ready(Update(worker));
    }
    let found = registration.clone();
    let installing = RefCell::new(None);
    EventListener::new(&registration, "updatefound", move |_| {
        if let Some(worker) = found.installing() {
            installing.replace(Some(watch(worker, &container, &ready)));
        }
    })
    .forget();
    Ok(())
}

/// Waits until a worker is installed; it is an update if an older one serves already.
fn watch(
    worker: ServiceWorker,
    container: &ServiceWorkerContainer,
    ready: &Rc<dyn Fn(Update)>,
) -> EventListener {
    let (container, ready) = (container.clone(), Rc::clone(ready));
    EventListener::new(&worker.clone(), "statechange", move |_| {
        if worker.state() == ServiceWorkerState::Installed && container.controller().is_some() {
            ready(Update(worker.clone()));
        }
    })
}

fn container() -> Option<ServiceWorkerContainer> {
    property(&window()?.navigator(), "serviceWorker")?.dyn_into().ok()
}
