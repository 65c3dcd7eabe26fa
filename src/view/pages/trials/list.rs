//! The trials one by one: repeat, leave out, remark, delete.
use yew::prelude::*;

use super::form::Draft;
use super::kept::{self, KeptOnDevice};
use super::{Shown, input_row, key, on_text};
use crate::design::session::Action;
use crate::design::trials::Trial;
use crate::platform::{clock, page};
use crate::present::trials as text;
use crate::view::store::{Handle, Msg};
use crate::words::trials as words;

fn put(store: &Handle, index: usize, trial: Trial) {
    store.dispatch(Msg::Do(Action::PutTrial(Some(index), Box::new(trial))));
}

/// The trials, newest first.
pub(super) fn list(
    store: &Handle,
    draft: &UseStateHandle<Draft>,
    sure: &UseStateHandle<Option<usize>>,
    fresh: u64,
) -> Html {
    let trials = store.design().log.trials.iter().enumerate().rev();
    html! {
        <>
            <h3>{ words::LIST }</h3>
            <ul class="kept trial-list">{ for trials.map(|(index, trial)| row(store, index, trial, draft, sure, fresh)) }</ul>
        </>
    }
}

fn row(
    store: &Handle,
    index: usize,
    trial: &Trial,
    draft: &UseStateHandle<Draft>,
    sure: &UseStateHandle<Option<usize>>,
    fresh: u64,
) -> Html {
    let (what, how) = text::trial(trial);
    let repeat = {
        let (draft, trial) = (draft.clone(), trial.clone());
        Callback::from(move |_: MouseEvent| {
            draft.set(Draft::repeating(&trial, &draft));
            page::scroll_to("new-trial");
        })
    };
    let toggle = {
        let (store, trial) = (store.clone(), trial.clone());
        Callback::from(move |_: MouseEvent| {
            put(&store, index, Trial { left_out: !trial.left_out, ..trial.clone() });
        })
    };
    let asked = **sure == Some(index);
    let delete = {
        let (store, sure, at_s) = (store.clone(), sure.clone(), trial.at_s);
        Callback::from(move |_: MouseEvent| {
            if asked {
                sure.set(None);
                store.dispatch(Msg::Do(Action::DropTrial(index)));
                kept::forget(&store, at_s);
            } else {
                sure.set(Some(index));
            }
        })
    };
    let remark = {
        let (store, trial) = (store.clone(), trial.clone());
        on_text(move |note| put(&store, index, Trial { note, ..trial.clone() }))
    };
    let shown =
        Shown { label: words::NOTE, value: &trial.note, unit: "", example: "", refusal: None, text: true };
    html! {
        <li key={format!("{}-{index}", trial.at_s)}>
            <b>{ what }</b><small>{ how }{ " · " }{ clock::local_time(trial.at_s) }</small>
            <div class="keys">
                { key(words::REPEAT, "small-key", repeat) }
                { key(if trial.left_out { words::COUNT_IN } else { words::LEAVE_OUT }, "small-key", toggle) }
                { key(if asked { words::DELETE_SURE } else { words::DELETE }, "small-key", delete) }
            </div>
            { input_row(&shown, remark) }
            <KeptOnDevice store={store.clone()} {index} trial={trial.clone()} {fresh} />
        </li>
    }
}
