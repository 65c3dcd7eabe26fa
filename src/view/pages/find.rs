//! Find a box: wishes, the search with its progress, what it found, and one of it taken into the design.
use std::rc::Rc;

use web_sys::HtmlInputElement;
use yew::prelude::*;

use crate::design::document::Sheet;
use crate::design::find::{Found, Proposal, WISHES, brief, question, taken};
use crate::design::jobs::{Answer, Task};
use crate::design::limits::{FieldId, RecordKind};
use crate::design::session::Action;
use crate::model::acoustics::search::POINTS;
use crate::model::acoustics::search::alignments::starts;
use crate::present::chart::Chart;
use crate::present::find as present;
use crate::view::app::StoreProps;
use crate::view::components::{ChartView, el, fields, gap_note, pairs, tx};
use crate::view::jobs::{Heard, Helper};
use crate::view::pages::depth::save_row;
use crate::view::store::{Handle, Msg};
use crate::words::find as words;

const BAND: &[FieldId] = &[FieldId::FindLow, FieldId::FindTop];

/// Where a search is.
#[derive(Clone, PartialEq)]
enum Stage {
    /// Not begun.
    Idle,
    /// Under way, this far.
    Looking(f64),
    /// Done, for this sheet: boxes, and the picture with its boxes.
    Done(Rc<Sheet>, Rc<Found>, Rc<[Proposal]>, Rc<Chart>),
    /// It can't be done.
    Failed,
}

/// Find a box.
#[component]
pub fn FindView(props: &StoreProps) -> Html {
    let store = &props.store;
    let stage = use_state_eq(|| Stage::Idle);
    let point = use_state_eq(|| 0_usize);
    let asked = use_mut_ref(|| None::<Rc<Sheet>>);
    let helper = {
        let (stage, asked, point) = (stage.setter(), asked.clone(), point.setter());
        use_memo((), move |()| {
            Helper::new(move |heard| {
                stage.set(match (heard, asked.borrow().clone()) {
                    (Heard::Progress(share), _) => Stage::Looking(share),
                    (Heard::Done(answer), Some(sheet)) => match *answer {
                        Answer::Found(found) => {
                            let points: Rc<[Proposal]> = present::points(&found).into();
                            point.set(points.len() / 2);
                            let chart = Rc::new(present::trade(&points));
                            Stage::Done(sheet, Rc::new(found), points, chart)
                        }
                        Answer::Slack(_) => Stage::Failed,
                    },
                    _ => Stage::Failed,
                });
            })
        })
    };
    let run = {
        let (helper, stage, design) = (helper.clone(), stage.setter(), Rc::clone(&store.session.design));
        Callback::from(move |_: MouseEvent| {
            asked.replace(Some(Rc::new(design.sheet.clone())));
            stage.set(Stage::Looking(0.0));
            helper.ask(Task::Find, &design);
        })
    };
    let cancel = {
        let (helper, stage) = (helper.clone(), stage.setter());
        Callback::from(move |_: MouseEvent| {
            helper.stop();
            stage.set(Stage::Idle);
        })
    };
    use_effect_with((), move |()| move || helper.stop());
    let body = match &*stage {
        Stage::Looking(share) => html! {
            <div class="looking">
                <progress aria-label={words::PROGRESS} max="100" value={format!("{:.0}", share * 100.0)}></progress>
                <button type="button" class="key" onclick={cancel}>{ words::CANCEL }</button>
            </div>
        },
        other => {
            let ready = brief(&store.design().sheet, &store.report);
            let done = matches!(other, Stage::Done(..));
            html! {
                <>
                    if let Err(gap) = &ready { { gap_note(gap) } }
                    <button type="button" class="key" disabled={ready.is_err()} onclick={run}>
                        { if done { words::AGAIN } else { words::RUN } }
                    </button>
                    if *other == Stage::Failed { { tx("p", "gap", words::FAILED) } }
                    if let Stage::Done(sheet, found, points, chart) = other {
                        { results(store, sheet, found) }
                        { picture(store, points, chart, *point, Callback::from(move |index| point.set(index))) }
                    }
                </>
            }
        }
    };
    html! {
        <div class="find">
            { tx("p", "small", words::ABOUT) }
            { for WISHES.iter().map(|id| wish(store, *id)) }
            { fields(store, BAND) }
            { body }
            { asked_for(store) }
            { alignments(store) }
        </div>
    }
}

/// A wish as a native slider.
fn wish(store: &Handle, id: FieldId) -> Html {
    let value = store.design().sheet.si(id).unwrap_or(0.0);
    let text = format!("{value:.0}");
    let out = store.dispatcher();
    let oninput = Callback::from(move |event: InputEvent| {
        let input: HtmlInputElement = event.target_unchecked_into();
        out.dispatch(Msg::Typed(id, input.value()));
    });
    html! {
        <label class="cursor wish">
            <span>{ id.row().label }{ " " }<b>{ text.clone() }</b></span>
            <input type="range" min="0" max="10" step="1" value={text} {oninput} />
        </label>
    }
}

/// Takes a box into the design.
fn take(store: &Handle, proposal: Proposal) -> Html {
    let label = format!("{}: {}", words::TAKE, present::title(&proposal, &store.prefs));
    let store = store.clone();
    let onclick = Callback::from(move |_: MouseEvent| {
        let Some(record) = taken(&store.design().sheet, &proposal) else {
            store.dispatch(Msg::Tell(words::NOT_TAKEN.into()));
            return;
        };
        store.dispatch(Msg::Do(Action::TakeRecord(RecordKind::Enclosure, Rc::new(record))));
        store.dispatch(Msg::Tell(words::TAKEN.into()));
    });
    html! { <button type="button" class="key" aria-label={label} {onclick}>{ words::TAKE }</button> }
}

/// Whether what a search rests on is still as it was: everything but the box itself.
fn same_ground(a: &Sheet, b: &Sheet) -> bool {
    let others = [RecordKind::Driver, RecordKind::Amplifier, RecordKind::Vehicle, RecordKind::Job];
    others.into_iter().all(|kind| a.record(kind) == b.record(kind))
}

fn results(store: &Handle, sheet: &Sheet, found: &Found) -> Html {
    let box_of = |(index, proposal): (usize, &Proposal)| {
        let pipe =
            present::opening(proposal, &store.prefs).map_or_else(Html::default, |text| tx("p", "", &text));
        el(
            "li",
            &[("data-box", &index.to_string())],
            vec![
                tx("h4", "", &present::title(proposal, &store.prefs)),
                tx("p", "", &present::figures(proposal, &store.prefs)),
                pipe,
                tx("p", "why", &present::why(&found.ranking, index)),
                take(store, *proposal),
            ],
        )
    };
    let mut parts = Vec::new();
    if !same_ground(sheet, &store.design().sheet) {
        parts.push(tx("p", "gap", words::CHANGED));
    }
    parts.push(tx("p", "small", &words::searched(&found.evaluations.to_string(), POINTS)));
    if found.ranking.is_empty() {
        parts.push(tx("p", "gap", words::NONE));
    } else {
        parts.push(tx("h3", "", words::RANKED));
        parts.push(el("ol", &[("class", "boxes")], found.ranking.iter().enumerate().map(box_of).collect()));
        parts.push(tx("p", "small", words::NOTE));
    }
    el("div", &[("class", "found")], parts)
}

fn picture(
    store: &Handle,
    points: &Rc<[Proposal]>,
    chart: &Rc<Chart>,
    at: usize,
    on_move: Callback<usize>,
) -> Html {
    let Some(proposal) = points.get(at) else { return Html::default() };
    let spoken =
        format!("{}: {}", present::title(proposal, &store.prefs), present::figures(proposal, &store.prefs));
    let oninput = {
        let on_move = on_move.clone();
        Callback::from(move |event: InputEvent| {
            let input: HtmlInputElement = event.target_unchecked_into();
            if let Ok(index) = input.value().parse() {
                on_move.emit(index);
            }
        })
    };
    let axes = format!("{} · {}", words::REACH_AXIS, words::VOLUME_AXIS);
    html! {
        <div class="trade">
            { tx("p", "small", words::TRADE_ABOUT) }
            <ChartView chart={Rc::clone(chart)} cursor={at} dark={store.is_dark()} caption={axes} tap={on_move} />
            { tx("p", "small", &present::legend(chart)) }
            <label class="cursor">
                <span>{ words::POINT }{ " " }<b>{ present::title(proposal, &store.prefs) }</b></span>
                <input type="range" min="0" max={points.len().saturating_sub(1).to_string()} step="1"
                    value={at.to_string()} aria-valuetext={spoken} {oninput} />
            </label>
            { tx("p", "", &present::figures(proposal, &store.prefs)) }
            if let Some(pipe) = present::opening(proposal, &store.prefs) { { tx("p", "", &pipe) } }
            { take(store, *proposal) }
            { save_row(store, chart) }
        </div>
    }
}

/// The plain question that the box's entries ask, answered: also where the box they ask for does not go together.
#[inline(never)]
pub(super) fn asked_for(store: &Handle) -> Html {
    match question(&store.design().sheet, &store.report) {
        Some(question) => {
            let text = present::answer(&question, &store.prefs);
            el("div", &[("class", "asked")], vec![tx("h3", "", words::QUESTION), tx("p", "", &text)])
        }
        None => Html::default(),
    }
}

/// The published alignments of the driver.
fn alignments(store: &Handle) -> Html {
    let Ok(sound) = &store.report.sound else { return Html::default() };
    let Ok(starts) = starts(&sound.built.load, &sound.air) else { return Html::default() };
    let texts: Vec<(&str, String)> = starts.iter().map(|start| present::start(start, &store.prefs)).collect();
    let rows: Vec<(&str, String, &str)> = texts.into_iter().map(|(name, text)| (name, text, "")).collect();
    el(
        "div",
        &[("class", "starts")],
        vec![tx("h3", "", words::STARTS), pairs(&rows), tx("p", "small", words::STARTS_SOURCE)],
    )
}
