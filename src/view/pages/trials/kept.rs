//! What this device keeps of a trial beside the design: its takes one by one, the recording, a photograph.
use std::rc::Rc;

use yew::prelude::*;

use super::key;
use crate::design::session::Action;
use crate::design::trials::Trial;
use crate::model::measurement::{Takes, wav_file};
use crate::platform::kept::{self, Home, KeptError, Photograph, Recording};
use crate::platform::{clock, files, spawn_local};
use crate::present::trials::take;
use crate::view::components::{NoteKind, note, tx};
use crate::view::saving;
use crate::view::store::{Handle, Msg};
use crate::words::kept as words;

#[derive(PartialEq, Properties)]
pub(super) struct KeptProps {
    pub(super) store: Handle,
    pub(super) index: usize,
    pub(super) trial: Trial,
    /// When anything was kept last, so that it is looked for again.
    pub(super) fresh: u64,
}

/// What was found on this device.
#[derive(Clone, Default, PartialEq)]
struct Found {
    recording: Option<Rc<Recording>>,
    photograph: Option<Rc<Photograph>>,
    trouble: Option<&'static str>,
}

/// Why nothing could be kept, and that the trial itself is.
pub(super) fn trouble(error: &KeptError) -> &'static str {
    match error {
        KeptError::Blocked => words::BLOCKED,
        KeptError::Full => words::FULL,
    }
}

/// Where this design keeps the things of a trial. Looks through every design stored: for changes, not for each picture.
fn home(store: &Handle, at_s: i64) -> Home {
    let holds = |id: &str| {
        saving::load(id).is_some_and(|stored| stored.design.log.trials.iter().any(|trial| trial.at_s == at_s))
    };
    let copied = saving::list().iter().any(|other| other.id != store.id && holds(&other.id));
    Home { design: store.id.clone(), trial: at_s, copied }
}

/// Takes, recording and photograph of a trial; nothing where this device has none but the key to add one.
#[component]
pub(super) fn KeptOnDevice(props: &KeptProps) -> Html {
    let found = use_state_eq(Found::default);
    {
        let found = found.clone();
        let key = (props.trial.at_s, props.fresh, props.store.id.clone());
        use_effect_with(key, move |(trial, _, design)| {
            let home = Home { design: design.clone(), trial: *trial, copied: false };
            spawn_local(async move { found.set(look(&home).await) });
        });
    }
    html! {
        <>
            { takes(props, &found) }
            { photograph(&props.store, props.trial.at_s, &found) }
            if let Some(trouble) = found.trouble { { note(NoteKind::Care, trouble) } }
        </>
    }
}

async fn look(home: &Home) -> Found {
    // A database that is blocked has nothing to show; that nothing can be kept is told when something is to be kept.
    let recording = kept::recording(home).await.ok().flatten().map(Rc::new);
    let photograph = kept::photograph(home).await.ok().flatten();
    Found { recording, photograph, trouble: None }
}

/// The takes one by one, each to be left out by itself, and the recording as a file.
fn takes(props: &KeptProps, found: &UseStateHandle<Found>) -> Html {
    let Some(recording) = &found.recording else { return Html::default() };
    let rows = recording.curves.iter().enumerate().map(|(at, curve)| {
        let out = recording.excluded.contains(&at);
        let onchange = {
            let (store, trial, index) = (props.store.clone(), props.trial.clone(), props.index);
            let (found, recording) = (found.clone(), Rc::clone(recording));
            Callback::from(move |_: Event| exclude(&store, index, &trial, &found, &recording, at))
        };
        html! {
            <label class={classes!("choice", (!out).then_some("on"))}>
                <input type="checkbox" checked={!out} {onchange} />{ take(at, curve) }</label>
        }
    });
    let several = recording.curves.len() > 1;
    let save = {
        let (recording, found) = (Rc::clone(recording), found.clone());
        Callback::from(move |_: MouseEvent| {
            let samples: Vec<f64> = recording.samples.iter().map(|x| f64::from(*x)).collect();
            let wav = wav_file(&samples, recording.rate_hz.round() as u32);
            if files::save_bytes(words::FILE, "audio/wav", &wav).is_err() {
                found.set(Found { trouble: Some(words::NOT_SAVED), ..(*found).clone() });
            }
        })
    };
    html! {
        <>
            if several { <fieldset class="switch"><legend>{ words::TAKES }</legend>{ for rows }</fieldset> }
            if !recording.samples.is_empty() { { key(words::SAVE, "small-key", save) } }
        </>
    }
}

/// Leaves a take out or counts it again: mean and spread of the trial follow.
fn exclude(
    store: &Handle,
    index: usize,
    trial: &Trial,
    found: &UseStateHandle<Found>,
    recording: &Rc<Recording>,
    at: usize,
) {
    let mut next = (**recording).clone();
    match next.excluded.iter().position(|out| *out == at) {
        Some(place) => drop(next.excluded.remove(place)),
        None => next.excluded.push(at),
    }
    let counting = next.curves.iter().enumerate().filter(|(at, _)| !next.excluded.contains(at));
    let counting: Vec<Vec<f64>> = counting.map(|(_, curve)| curve.clone()).collect();
    let mut changed = trial.clone();
    changed.set_takes(&Takes::over(&counting));
    let Some(changed) = (!counting.is_empty()).then(|| changed.checked()).flatten() else {
        return found.set(Found { trouble: Some(words::LAST), ..(**found).clone() });
    };
    store.dispatch(Msg::Do(Action::PutTrial(Some(index), Box::new(changed))));
    let (found, home) = (found.clone(), home(store, trial.at_s));
    spawn_local(async move {
        let trouble = kept::put_recording(&home, &next).await.err().map(|error| trouble(&error));
        found.set(Found { recording: Some(Rc::new(next)), trouble, ..(*found).clone() });
    });
}

fn photograph(store: &Handle, at_s: i64, found: &UseStateHandle<Found>) -> Html {
    let add = {
        let (found, store) = (found.clone(), store.clone());
        Callback::from(move |_: MouseEvent| {
            let picked = {
                let (found, store) = (found.clone(), store.clone());
                files::pick_image(move |file| {
                    let (found, home) = (found.clone(), home(&store, at_s));
                    spawn_local(async move {
                        let put = kept::put_photograph(&home, &file).await;
                        let shown = kept::photograph(&home).await.ok().flatten();
                        let trouble = put.err().map(|error| trouble(&error));
                        found.set(Found { photograph: shown, trouble, ..(*found).clone() });
                    });
                })
            };
            if picked.is_err() {
                found.set(Found { trouble: Some(words::NO_PICKER), ..(*found).clone() });
            }
        })
    };
    let Some(photograph) = &found.photograph else { return key(words::PHOTOGRAPH, "small-key", add) };
    let remove = {
        let (found, store) = (found.clone(), store.clone());
        Callback::from(move |_: MouseEvent| {
            let (found, home) = (found.clone(), home(&store, at_s));
            spawn_local(async move {
                let trouble = kept::forget_photograph(&home).await.err().map(|error| trouble(&error));
                let photograph = kept::photograph(&home).await.ok().flatten();
                found.set(Found { photograph, trouble, ..(*found).clone() });
            });
        })
    };
    html! {
        <>
            <img class="photo" src={photograph.address.clone()} alt={words::PHOTOGRAPH_SPOKEN} />
            { tx("small", "", words::ON_DEVICE) }
            { key(words::FORGET, "small-key", remove) }
        </>
    }
}

/// Keeps the takes of a new trial on this device; says so if it can't, and nothing else is lost.
pub(super) fn keep(store: &Handle, fresh: &UseStateHandle<u64>, at_s: i64, recording: Recording) {
    let (store, fresh, home) = (store.clone(), fresh.clone(), home(store, at_s));
    spawn_local(async move {
        match kept::put_recording(&home, &recording).await {
            Ok(()) => fresh.set(clock::now_ms() as u64),
            Err(error) => store.dispatch(Msg::Tell(trouble(&error).into())),
        }
    });
}

/// Forgets what this device keeps of a trial that is deleted.
pub(super) fn forget(store: &Handle, at_s: i64) {
    let home = home(store, at_s);
    spawn_local(async move {
        // What was never kept needs no end.
        let _ = kept::forget(&home).await;
    });
}
