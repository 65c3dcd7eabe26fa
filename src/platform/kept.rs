//! What is too large for local storage: recordings and photographs, kept by the browser's own database on this device.
//!
//! Nothing here is needed for a design: where the database is blocked or full, the caller says so and goes on.

use std::rc::Rc;

use super::{EventListener, error_name, window};
use js_sys::{Array, Float32Array, Object, Promise, Reflect};
use thiserror::Error;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    Blob, IdbDatabase, IdbObjectStore, IdbOpenDbRequest, IdbRequest, IdbTransaction, IdbTransactionMode, Url,
};

/// The database and its one table.
const NAME: &str = "kc.takes";
const TABLE: &str = "kept";
const VERSION: u32 = 1;

/// Why something could not be kept or found again.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum KeptError {
    /// The browser keeps no database for this page.
    #[error("the browser keeps nothing for this page")]
    Blocked,
    /// There is no room left.
    #[error("there is no room left")]
    Full,
}

/// A recording with the curves read from it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Recording {
    /// Samples in a second.
    pub rate_hz: f64,
    /// The samples; none where the curves were typed or came from a file.
    pub samples: Vec<f32>,
    /// One curve for each take.
    pub curves: Vec<Vec<f64>>,
    /// The takes that do not count, by their index.
    pub excluded: Vec<usize>,
}

/// A photograph that can be shown; its address ends when this is dropped.
#[derive(Debug, PartialEq)]
pub struct Photograph {
    /// For an image's `src`.
    pub address: String,
}

impl Drop for Photograph {
    fn drop(&mut self) {
        let _ = Url::revoke_object_url(&self.address);
    }
}

/// Where the things of a trial lie: under its time, which copies of a design share, or under this design's own key, which
/// comes first. What one copy changes or forgets stays as it was for the others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Home {
    /// The design's id.
    pub design: Rc<str>,
    /// The trial's time.
    pub trial: i64,
    /// Whether another design in this browser has the trial too.
    pub copied: bool,
}

impl Home {
    fn common(&self, part: &str) -> JsValue {
        JsValue::from_str(&format!("{}.{part}", self.trial))
    }
    fn own(&self, part: &str) -> JsValue {
        JsValue::from_str(&format!("{}/{}.{part}", self.design, self.trial))
    }
    /// What lies there; a null under the design's own key says that this design has forgotten it.
    async fn get(&self, part: &str) -> Result<JsValue, KeptError> {
        let own = get(&self.own(part)).await?;
        if own.is_undefined() { get(&self.common(part)).await } else { Ok(own) }
    }
    async fn put(&self, part: &str, value: &JsValue) -> Result<(), KeptError> {
        if self.copied {
            return put(&self.own(part), value).await;
        }
        put(&self.common(part), value).await?;
        delete(&self.own(part)).await
    }
    async fn forget(&self, part: &str) -> Result<(), KeptError> {
        if self.copied {
            return put(&self.own(part), &JsValue::NULL).await;
        }
        delete(&self.common(part)).await?;
        delete(&self.own(part)).await
    }
}

/// Keeps the recording of a trial.
///
/// # Errors
/// [`KeptError`]; what was kept before is still there.
pub async fn put_recording(home: &Home, recording: &Recording) -> Result<(), KeptError> {
    let object = Object::new();
    let set = |name: &str, value: JsValue| {
        Reflect::set(&object, &name.into(), &value).map_err(|_| KeptError::Blocked)
    };
    set("rate", recording.rate_hz.into())?;
    set("samples", Float32Array::from(recording.samples.as_slice()).into())?;
    let curves = Array::new();
    for curve in &recording.curves {
        curves.push(&js_sys::Float64Array::from(curve.as_slice()));
    }
    set("curves", curves.into())?;
    set("excluded", recording.excluded.iter().map(|at| JsValue::from(*at as u32)).collect::<Array>().into())?;
    home.put("takes", &object).await
}

/// The recording of a trial, if this device has one.
///
/// # Errors
/// [`KeptError::Blocked`].
pub async fn recording(home: &Home) -> Result<Option<Recording>, KeptError> {
    let found = home.get("takes").await?;
    if !found.is_object() {
        return Ok(None);
    }
    let part = |name: &str| Reflect::get(&found, &name.into()).unwrap_or_default();
    let numbers = |value: JsValue| value.dyn_into::<js_sys::Float64Array>().map(|list| list.to_vec()).ok();
    let list = |name: &str| part(name).dyn_into::<Array>().unwrap_or_default();
    Ok(Some(Recording {
        rate_hz: part("rate").as_f64().unwrap_or(0.0),
        samples: part("samples").dyn_into::<Float32Array>().map(|list| list.to_vec()).unwrap_or_default(),
        curves: list("curves").iter().filter_map(numbers).collect(),
        excluded: list("excluded").iter().filter_map(|at| at.as_f64()).map(|at| at as usize).collect(),
    }))
}

/// Keeps a photograph of a trial; it never leaves the device.
///
/// # Errors
/// [`KeptError`].
pub async fn put_photograph(home: &Home, file: &Blob) -> Result<(), KeptError> {
    home.put("photo", file).await
}

/// The photograph of a trial, if this device has one.
///
/// # Errors
/// [`KeptError::Blocked`].
pub async fn photograph(home: &Home) -> Result<Option<Rc<Photograph>>, KeptError> {
    let Ok(blob) = home.get("photo").await?.dyn_into::<Blob>() else { return Ok(None) };
    let address = Url::create_object_url_with_blob(&blob).map_err(|_| KeptError::Blocked)?;
    Ok(Some(Rc::new(Photograph { address })))
}

/// Forgets everything of a trial.
///
/// # Errors
/// [`KeptError::Blocked`].
pub async fn forget(home: &Home) -> Result<(), KeptError> {
    for part in ["takes", "photo"] {
        home.forget(part).await?;
    }
    Ok(())
}

/// Forgets the photograph of a trial.
///
/// # Errors
/// [`KeptError::Blocked`].
pub async fn forget_photograph(home: &Home) -> Result<(), KeptError> {
    home.forget("photo").await
}

async fn delete(key: &JsValue) -> Result<(), KeptError> {
    let (table, done) = table(IdbTransactionMode::Readwrite).await?;
    table.delete(key).map_err(|error| why(&error))?;
    done.await
}

async fn put(key: &JsValue, value: &JsValue) -> Result<(), KeptError> {
    let (table, done) = table(IdbTransactionMode::Readwrite).await?;
    table.put_with_key(value, key).map_err(|error| why(&error))?;
    done.await
}

async fn get(key: &JsValue) -> Result<JsValue, KeptError> {
    let (table, done) = table(IdbTransactionMode::Readonly).await?;
    let request = table.get(key).map_err(|error| why(&error))?;
    let found = answer(&request).await;
    // The end closes the database; what was found stands either way.
    let _ = done.await;
    found
}

/// The table within a transaction, and the transaction's end: only then is anything kept.
async fn table(
    mode: IdbTransactionMode,
) -> Result<(IdbObjectStore, impl Future<Output = Result<(), KeptError>>), KeptError> {
    let database = open().await?;
    let transaction = database.transaction_with_str_and_mode(TABLE, mode).map_err(|error| why(&error))?;
    let table = transaction.object_store(TABLE).map_err(|error| why(&error))?;
    Ok((table, ended(transaction, database)))
}

async fn ended(transaction: IdbTransaction, database: IdbDatabase) -> Result<(), KeptError> {
    let end = event_of(&transaction, "complete", &["abort", "error"]).await;
    database.close();
    end.map_err(|_| match transaction.error() {
        Some(error) => why(&error),
        None => KeptError::Blocked,
    })
}

async fn open() -> Result<IdbDatabase, KeptError> {
    let factory = window().and_then(|window| window.indexed_db().ok().flatten()).ok_or(KeptError::Blocked)?;
    let request: IdbOpenDbRequest = factory.open_with_u32(NAME, VERSION).map_err(|error| why(&error))?;
    let made = request.clone();
    let _upgrade = EventListener::once(&request, "upgradeneeded", move |_| {
        if let Some(database) = made.result().ok().and_then(|result| result.dyn_into::<IdbDatabase>().ok()) {
            // A table that is there already is what is wanted.
            let _ = database.create_object_store(TABLE);
        }
    });
    answer(&request).await?.dyn_into().map_err(|_| KeptError::Blocked)
}

async fn answer(request: &IdbRequest) -> Result<JsValue, KeptError> {
    let end = event_of(request, "success", &["error", "blocked"]).await;
    end.and_then(|()| request.result()).map_err(|error| match request.error().ok().flatten() {
        Some(error) => why(&error),
        None => why(&error),
    })
}

/// Waits for one event or for one of those that mean failure.
async fn event_of(
    target: &web_sys::EventTarget,
    good: &'static str,
    bad: &[&'static str],
) -> Result<(), JsValue> {
    let mut listeners = Vec::new();
    let promise = Promise::new(&mut |resolve, reject| {
        listeners.push(EventListener::once(target, good, move |_| {
            let _ = resolve.call0(&JsValue::NULL);
        }));
        for name in bad {
            let reject = reject.clone();
            listeners.push(EventListener::once(target, *name, move |_| {
                let _ = reject.call0(&JsValue::NULL);
            }));
        }
    });
    JsFuture::from(promise).await.map(|_| ())
}

fn why(error: &JsValue) -> KeptError {
    match error_name(error).as_str() {
        "QuotaExceededError" | "NS_ERROR_DOM_QUOTA_REACHED" => KeptError::Full,
        _ => KeptError::Blocked,
    }
}
