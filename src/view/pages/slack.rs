//! Slack: asks for bands whenever the design changes, and shows the spread of each figure.
use std::rc::Rc;

use yew::prelude::*;

use crate::design::jobs::{Answer, Task};
use crate::design::limits::FieldId;
use crate::present::slack::spreads;
use crate::view::app::StoreProps;
use crate::view::components::{fields, pairs, tx};
use crate::view::jobs::{Heard, Helper};
use crate::view::store::Msg;
use crate::words::slack as words;

const TOLERANCES: &[FieldId] = &[
    FieldId::SlackCut,
    FieldId::SlackFs,
    FieldId::SlackQts,
    FieldId::SlackVas,
    FieldId::SlackAir,
    FieldId::SlackLosses,
];

/// Slack; while it is shown the charts have bands.
#[component]
pub fn SlackView(props: &StoreProps) -> Html {
    let store = &props.store;
    let asked = use_mut_ref(|| None::<Rc<crate::design::document::Design>>);
    let helper = {
        let (out, asked) = (store.dispatcher(), asked.clone());
        use_memo((), move |()| {
            Helper::new(move |heard| {
                if let (Heard::Done(answer), Some(design)) = (heard, asked.borrow().clone())
                    && let Answer::Slack(slack) = *answer
                {
                    out.dispatch(Msg::Slack(Some((design, Rc::from(slack)))));
                }
            })
        })
    };
    {
        let helper = helper.clone();
        use_effect_with(Rc::clone(&store.session.design), move |design| {
            asked.replace(Some(Rc::clone(design)));
            helper.ask(Task::Slack, design);
        });
    }
    {
        let out = store.dispatcher();
        use_effect_with((), move |()| {
            move || {
                helper.stop();
                out.dispatch(Msg::Slack(None));
            }
        });
    }
    let shown = match (&store.slack, &store.report.sound) {
        (Some(slack), Ok(sound)) => {
            let rows = spreads(slack, sound.qtc.is_some(), &store.prefs);
            let rows: Vec<(&str, String, &str)> =
                rows.into_iter().map(|(name, text)| (name, text, "")).collect();
            html! { <div class="spreads" data-slack="done">{ tx("h3", "", words::SPREAD) }{ pairs(&rows) }</div> }
        }
        (None, Ok(_)) => tx("p", "small", words::WORKING),
        (_, Err(_)) => tx("p", "gap", words::NONE),
    };
    html! {
        <div class="slack">
            { tx("p", "small", words::ABOUT) }
            { shown }
            { fields(store, TOLERANCES) }
        </div>
    }
}
