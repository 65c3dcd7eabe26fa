//! The sheet layout: drawn with numbered cuts, ticked off cut by cut, and what has to be bought.
use std::cell::Cell;
use std::rc::Rc;

use web_sys::HtmlInputElement;
use yew::prelude::*;

use super::testbox::extras;
use crate::design::cutting::{NamedJob, begin, jobs};
use crate::design::report::BoxReport;
use crate::design::session::Action;
use crate::design::testbox::TestBox;
use crate::model::cutting::{Solution, Solver};
use crate::model::error::ModelError;
use crate::platform::Timeout;
use crate::present::cutting::{BillRow, SheetView, bill, board_name, boards, quality, sheets, supplies};
use crate::view::components::{Fold, el, frame, line, pairs, px, text, tx};
use crate::view::store::{Handle, Msg};
use crate::words::{cutting as words, page, wood};

/// The section; the layout is made only while its fold is open.
pub(super) fn layout_sheet(
    store: &Handle,
    enclosure: &Rc<BoxReport>,
    test_box: Option<&Rc<TestBox>>,
) -> Html {
    let (store, enclosure, test_box) = (store.clone(), Rc::clone(enclosure), test_box.cloned());
    let content = Callback::from(move |()| {
        let sheet = &store.design().sheet;
        let jobs = jobs(sheet, &enclosure, extras(test_box.as_deref()));
        layout(&store, jobs, supplies(&enclosure, sheet, &store.prefs))
    });
    html! {
        <section class="sheet" id="layout"><Fold title={words::LAYOUT} {content} /></section>
    }
}

/// Sheets of the jobs, and with the supplies what has to be bought.
pub(super) fn layout(store: &Handle, jobs: Vec<NamedJob>, supplies: Vec<BillRow>) -> Html {
    html! { <Layout jobs={Rc::new(jobs)} store={store.clone()} supplies={Rc::new(supplies)} /> }
}

/// A tick with its text, and what it is about at the right.
pub(super) fn tick(store: &Handle, key: String, label: &str, aside: &str) -> Html {
    let checked = store.design().log.ticks.contains(&key);
    let out = store.clone();
    let onchange = {
        let key = key.clone();
        Callback::from(move |event: Event| {
            let input: HtmlInputElement = event.target_unchecked_into();
            out.dispatch(Msg::Do(Action::Tick(key.clone(), input.checked())));
        })
    };
    html! {
        <label class="tick" {key}>
            <input type="checkbox" {checked} {onchange} /><span>{ label }</span><b>{ aside }</b>
        </label>
    }
}

#[derive(PartialEq, Properties)]
struct LayoutProps {
    jobs: Rc<Vec<NamedJob>>,
    store: Handle,
    supplies: Rc<Vec<BillRow>>,
}

type Outcome = Result<Solution, ModelError>;
/// What is found so far, one after the other.
type Outcomes = Vec<Rc<Outcome>>;

/// Elementary steps of one slice: some ten milliseconds on a phone.
const SLICE: usize = 20_000;

#[component]
fn Layout(props: &LayoutProps) -> Html {
    let found = use_state(|| None::<(Rc<Vec<NamedJob>>, Outcomes)>);
    {
        let found = found.clone();
        use_effect_with(Rc::clone(&props.jobs), move |jobs| {
            let wanted = Rc::new(Cell::new(true));
            let done = {
                let jobs = Rc::clone(jobs);
                Callback::from(move |outcomes: Outcomes| found.set(Some((Rc::clone(&jobs), outcomes))))
            };
            next(Rc::clone(jobs), Vec::new(), done, Rc::clone(&wanted));
            move || wanted.set(false)
        });
    }
    match &*found {
        Some((jobs, outcomes)) if *jobs == props.jobs => shown(props, outcomes),
        _ => tx("p", "gap", words::WORKING),
    }
}

/// The next job that has no layout yet.
fn next(jobs: Rc<Vec<NamedJob>>, mut outcomes: Outcomes, done: Callback<Outcomes>, wanted: Rc<Cell<bool>>) {
    while let Some(job) = jobs.get(outcomes.len()) {
        match begin(job) {
            Ok(solver) => {
                let then = Callback::from({
                    let wanted = Rc::clone(&wanted);
                    move |outcome: Outcome| {
                        let mut outcomes = outcomes.clone();
                        outcomes.push(Rc::new(outcome));
                        done.emit(outcomes.clone());
                        next(Rc::clone(&jobs), outcomes, done.clone(), Rc::clone(&wanted));
                    }
                });
                go_on(solver, then, wanted);
                return;
            }
            Err(error) => {
                outcomes.push(Rc::new(Err(error)));
                done.emit(outcomes.clone());
            }
        }
    }
}

/// One slice of work, then the next, until it is done or no longer wanted.
fn go_on(mut solver: Solver, done: Callback<Outcome>, wanted: Rc<Cell<bool>>) {
    Timeout::new(0, move || {
        if !wanted.get() {
            return;
        }
        if solver.advance(SLICE) {
            done.emit(solver.solution());
        } else {
            go_on(solver, done, wanted);
        }
    })
    .forget();
}

/// Board by board, then what has to be bought for all of them.
fn shown(props: &LayoutProps, outcomes: &Outcomes) -> Html {
    let (store, several) = (&props.store, props.jobs.len() > 1);
    let mut children = Vec::new();
    let mut solved = Vec::new();
    for (place, job) in props.jobs.iter().enumerate() {
        let inside = match outcomes.get(place).map(|outcome| &**outcome) {
            Some(Ok(solution)) => {
                solved.push((job, solution));
                cut_from(store, job, solution)
            }
            Some(Err(error)) => tx("p", "gap", &page::refused(&error.to_string())),
            None => tx("p", "gap", words::WORKING),
        };
        children.push(if several {
            let name = board_name(job.board, job.thickness, &store.prefs);
            el("div", &[("class", "board")], vec![tx("h3", "", &wood::layout(&name)), inside])
        } else {
            inside
        });
    }
    if solved.len() == props.jobs.len() {
        children.push(to_buy(props, &solved));
    }
    el("div", &[], children)
}

fn cut_from(store: &Handle, job: &NamedJob, solution: &Solution) -> Html {
    let views = sheets(job, solution, &store.prefs);
    html! {
        <>
            { tx("p", "", &words::sheets(views.len())) }
            { tx("p", "small", &quality(solution)) }
            { for views.iter().map(|view| sheet(store, view)) }
        </>
    }
}

/// The bill of materials.
fn to_buy(props: &LayoutProps, solved: &[(&NamedJob, &Solution)]) -> Html {
    let store = &props.store;
    let (rows, missing) = match solved {
        [(job, solution)] => (boards(job, solution, &store.prefs), Vec::new()),
        several => {
            let bill = bill(several, &store.design().sheet, &store.prefs);
            (bill.rows, bill.missing)
        }
    };
    let rows: Vec<(&str, String, &str)> = rows
        .iter()
        .chain(&*props.supplies)
        .map(|(name, amount, unit)| (name.as_str(), amount.clone(), *unit))
        .collect();
    let missing = missing.iter().map(|id| id.row().label).collect::<Vec<_>>().join("; ");
    html! {
        <>
            { tx("h3", "", words::BILL) }
            { pairs(&rows) }
            if !missing.is_empty() { { tx("p", "small", &words::no_total(&missing)) } }
            if !props.supplies.is_empty() { { tx("p", "small", words::BILL_ABOUT) } }
        </>
    }
}

fn sheet(store: &Handle, view: &SheetView) -> Html {
    let steps = view.steps.iter().map(|step| tick(store, step.tick.clone(), &step.text, &step.gives));
    let mut children = vec![tx("h3", "", &view.title), picture(view)];
    children.extend(steps);
    if !view.left_over.is_empty() {
        children.push(tx("p", "small", &view.left_over));
    }
    el("div", &[("class", "cutsheet")], children)
}

fn picture(view: &SheetView) -> Html {
    let [width, height] = view.size;
    let mut marks = vec![frame("edge", [0.0; 2], [width, height])];
    marks.extend(view.offcuts.iter().map(|[x, y, w, h]| frame("rest", [*x, *y], [*w, *h])));
    for (place, name, size) in &view.panels {
        let [x, y, w, h] = *place;
        marks.push(frame("piece", [x, y], [w, h]));
        let middle = [x + w / 2.0, y + h / 2.0];
        // A name longer than the piece is wide stands upright, and where it has no room at all the steps name the piece.
        let wide = name.chars().count().max(size.chars().count()) as f64 * 7.0;
        if wide < w && h > 34.0 {
            marks.push(label("val", [middle[0], middle[1] - 8.0], name, false));
            marks.push(label("", [middle[0], middle[1] + 8.0], size, false));
        } else if wide < h && w > 34.0 {
            marks.push(label("val", [middle[0] - 8.0, middle[1]], name, true));
            marks.push(label("", [middle[0] + 8.0, middle[1]], size, true));
        } else if wide < w && h > 16.0 {
            marks.push(label("val", middle, name, false));
        } else if wide < h && w > 16.0 {
            marks.push(label("val", middle, name, true));
        }
    }
    marks.extend(view.lines.iter().map(|cut| line("sawcut", cut.ends)));
    for line in &view.lines {
        let [x, y] = line.number.1;
        marks.push(label(
            "val own",
            [x.clamp(9.0, width - 9.0), y.clamp(9.0, height - 9.0)],
            &line.number.0,
            false,
        ));
    }
    let bounds = format!("-2 -2 {} {}", px(width + 4.0), px(height + 4.0));
    el(
        "svg",
        &[
            ("class", "drawing cutplan"),
            ("viewBox", &bounds),
            ("role", "img"),
            ("aria-label", words::LAYOUT_DRAWING),
        ],
        marks,
    )
}

fn label(class: &str, at: [f64; 2], content: &str, upright: bool) -> Html {
    let [x, y] = at.map(px);
    let turn = if upright { format!("rotate(-90 {x} {y})") } else { String::new() };
    let place = [
        ("class", class),
        ("x", x.as_str()),
        ("y", y.as_str()),
        ("text-anchor", "middle"),
        ("dominant-baseline", "central"),
        ("transform", turn.as_str()),
    ];
    el("text", &place, vec![text(content)])
}
