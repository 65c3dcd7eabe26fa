//! Saving text as a file, and reading a file that the user picks.

use super::{EventListener, Timeout, document, error_text, spawn_local};
use js_sys::Array;
use thiserror::Error;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, BlobPropertyBag, File, HtmlAnchorElement, HtmlInputElement, Url};

/// How long a saved file's address stays valid; the browser has long copied it by then.
const ADDRESS_LIFE_MS: u32 = 60_000;

/// Why a file could not be saved or read.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum FileError {
    /// The browser can't do it here; its own words.
    #[error("the browser refused the file: {0}")]
    Refused(String),
    /// The file is larger than the caller allows.
    #[error("the file has {found} bytes, more than {limit}")]
    TooLarge {
        /// Size of the file in bytes.
        found: f64,
        /// Largest size allowed, in bytes.
        limit: f64,
    },
}

/// A file that the user picked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PickedFile {
    /// Its name without a folder.
    pub name: String,
    /// Its contents, with bytes that are no text replaced.
    pub text: String,
}

/// Saves `text` as a file called `name` with the given type, such as `text/csv`.
///
/// # Errors
/// [`FileError::Refused`] if the browser can't; the download itself is not observed.
pub fn save(name: &str, kind: &str, text: &str) -> Result<(), FileError> {
    save_address(name, &address(kind, text).map_err(refused)?).map_err(refused)
}

/// Saves what an address, such as a `data:` one, holds as a file called `name`.
///
/// # Errors
/// [`FileError::Refused`] for an empty address or if the browser can't.
pub fn save_held(name: &str, address: &str) -> Result<(), FileError> {
    if address.is_empty() {
        return Err(FileError::Refused(String::new()));
    }
    save_address(name, address).map_err(refused)
}

/// Opens the browser's file dialog and gives the picked file to `done`; `None` if nothing was picked.
///
/// `accept` lists the endings offered, such as `.json,.csv`; `limit` is the largest size in bytes.
/// Must be called while handling a tap or a key, or the browser ignores it.
///
/// # Errors
/// [`FileError::Refused`] if no dialog can be opened. Trouble with the file itself goes to `done`.
pub fn pick(
    accept: &str,
    limit: f64,
    done: impl Fn(Result<Option<PickedFile>, FileError>) + 'static,
) -> Result<(), FileError> {
    let done = std::rc::Rc::new(done);
    dialog(accept, move |file| {
        let done = done.clone();
        spawn_local(async move {
            done(match file {
                Some(file) => read(&file, limit).await.map(Some),
                None => Ok(None),
            });
        });
    })
}

/// Opens the file dialog and gives the first file chosen.
fn dialog(accept: &str, done: impl Fn(Option<File>) + 'static) -> Result<(), FileError> {
    let missing = || FileError::Refused(String::new());
    let document = document().ok_or_else(missing)?;
    let made = document.create_element("input").map_err(refused)?;
    let input: HtmlInputElement = made.dyn_into().map_err(|_| missing())?;
    input.set_type("file");
    input.set_accept(accept);
    let chosen = input.clone();
    EventListener::once(&input, "change", move |_| {
        done(chosen.files().and_then(|files| files.get(0)));
    })
    .forget();
    input.click();
    Ok(())
}

/// Lets the user take or choose a picture and gives it to `done`; nothing comes if none was picked.
///
/// # Errors
/// As [`pick`].
pub fn pick_image(done: impl Fn(File) + 'static) -> Result<(), FileError> {
    dialog("image/*", move |file| file.into_iter().for_each(&done))
}

/// Reads a file as text, if it has no more than `limit` bytes.
///
/// # Errors
/// [`FileError`] if it is larger or can't be read.
pub async fn read(file: &File, limit: f64) -> Result<PickedFile, FileError> {
    let found = file.size();
    if found > limit {
        return Err(FileError::TooLarge { found, limit });
    }
    let text = JsFuture::from(file.text()).await.map_err(refused)?;
    Ok(PickedFile { name: file.name(), text: text.as_string().unwrap_or_default() })
}

/// Saves `bytes` as a file called `name` with the given type.
///
/// # Errors
/// As [`save`].
pub fn save_bytes(name: &str, kind: &str, bytes: &[u8]) -> Result<(), FileError> {
    let parts = Array::of1(&js_sys::Uint8Array::from(bytes));
    let options = BlobPropertyBag::new();
    options.set_type(kind);
    let made = Blob::new_with_u8_array_sequence_and_options(&parts, &options)
        .and_then(|blob| Url::create_object_url_with_blob(&blob));
    made.and_then(|address| save_address(name, &address)).map_err(refused)
}

fn address(kind: &str, text: &str) -> Result<String, JsValue> {
    let parts = Array::of1(&JsValue::from_str(text));
    let options = BlobPropertyBag::new();
    options.set_type(kind);
    let blob = Blob::new_with_str_sequence_and_options(&parts, &options)?;
    Url::create_object_url_with_blob(&blob)
}

fn save_address(name: &str, address: &str) -> Result<(), JsValue> {
    let document = document().ok_or(JsValue::NULL)?;
    let link: HtmlAnchorElement = document.create_element("a")?.dyn_into()?;
    link.set_href(address);
    link.set_download(name);
    link.click();
    let address = address.to_owned();
    Timeout::new(ADDRESS_LIFE_MS, move || {
        let _ = Url::revoke_object_url(&address);
    })
    .forget();
    Ok(())
}

fn refused(error: impl Into<JsValue>) -> FileError {
    FileError::Refused(error_text(&error.into()))
}
