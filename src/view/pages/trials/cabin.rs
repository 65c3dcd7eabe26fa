//! The cabin fitted to the trials, beside what was predicted.
use std::rc::Rc;

use yew::prelude::*;

use super::answer::TestBox;
use super::{Test, key};
use crate::design::session::Action;
use crate::design::trials::{
    cabin_by_trials, cabin_entries, choose, correction, mean_of_spots, range_of, weights_of,
};
use crate::present::cabin_fit as text;
use crate::view::components::{ChartView, Fold, NoteKind, note, tx};
use crate::view::pages::depth::save_row;
use crate::view::store::{Handle, Msg};
use crate::words::cabin_fit as words;

/// The fold; made only while it is open.
pub(super) fn cabin(store: &Handle, test: &Test) -> Html {
    let (store, test) = (store.clone(), Rc::clone(test));
    let content = Callback::from(move |()| inside(&store, &test));
    html! { <Fold title={words::TITLE} {content} /> }
}

#[inline(never)]
fn inside(store: &Handle, test: &Test) -> Html {
    let sheet = &store.design().sheet;
    let TestBox::Known(own, _) = &**test else { return tx("p", "small", words::NEEDS) };
    let Ok((_, verdict)) = choose(&store.design().log.trials, range_of(sheet), weights_of(sheet)) else {
        return tx("p", "small", words::ABOUT);
    };
    let mean = mean_of_spots(sheet, &verdict);
    let fit = match cabin_by_trials(sheet, &mean, own) {
        Ok(fit) => fit,
        Err(error) => {
            return html! { <>{ tx("p", "small", words::ABOUT) }{ note(NoteKind::Care, &error.to_string()) }</> };
        }
    };
    let entered = store.report.sound.as_ref().ok().and_then(|sound| sound.cabin);
    let entries = cabin_entries(&fit.cabin, fit.leak.is_some());
    let used = entries.iter().all(|(id, entry)| sheet.entry(*id) == Some(entry));
    let chart = Rc::new(text::compared(&fit, &mean, own, entered.as_ref().filter(|_| !used)));
    let take = {
        let store = store.clone();
        Callback::from(move |_: MouseEvent| {
            store.dispatch(Msg::Do(Action::Seal));
            for (id, entry) in entries.clone() {
                store.dispatch(Msg::Do(Action::Set(id, entry)));
            }
        })
    };
    html! {
        <>
            { tx("p", "small", words::ABOUT) }
            { tx("p", "cabin-found", &text::sentence(&fit)) }
            <ChartView chart={Rc::clone(&chart)} cursor={12} dark={store.is_dark()} />
            { save_row(store, &chart) }
            if correction(sheet).is_none() { { tx("p", "small", words::SHAPE) } }
            if used { { note(NoteKind::Good, words::USED) } } else { <div class="keys">{ key(words::USE, "key main", take) }</div> }
        </>
    }
}
