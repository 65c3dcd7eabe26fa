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
use crate::present::cutting::{BillRow, SheetView, board_name, boards, quality, sheets, supplies};
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
        if jobs.len() == 1 {
            let supplies = supplies(&enclosure, sheet, &store.prefs);
            return jobs.into_iter().map(|job| layout(&store, job, supplies.clone())).collect();
        }
        of_boards(&store, jobs, supplies(&enclosure, sheet, &store.prefs))
    });
    html! {
        <section class="sheet" id="layout"><Fold title={words::LAYOUT} {content} /></section>
    }
}

/// Sheets of a job, and with its supplies what has to be bought.
pub(super) fn layout(store: &Handle, job: NamedJob, supplies: Vec<BillRow>) -> Html {
    html! { <Layout job={Rc::new(job)} store={store.clone()} supplies={Rc::new(supplies)} /> }
}

/// Board by board; what else is needed stands with the first one.
#[inline(never)]
fn of_boards(store: &Handle, jobs: Vec<NamedJob>, mut supplies: Vec<BillRow>) -> Html {
    let one = |job: NamedJob| {
        let name = board_name(job.board, job.thickness, &store.prefs);
        let supplies = std::mem::take(&mut supplies);
        let layout = layout(store, job, supplies);
        el("div", &[("class", "board")], vec![tx("h3", "", &wood::layout(&name)), layout])
    };
    jobs.into_iter().map(one).collect()
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
    job: Rc<NamedJob>,
    store: Handle,
    supplies: Rc<Vec<BillRow>>,
}

type Outcome = Result<Solution, ModelError>;

/// Elementary steps of one slice: some ten milliseconds on a phone.
const SLICE: usize = 20_000;

#[component]
fn Layout(props: &LayoutProps) -> Html {
    let found = use_state(|| None::<(Rc<NamedJob>, Rc<Outcome>)>);
    {
        let found = found.clone();
        use_effect_with(Rc::clone(&props.job), move |job| {
            let wanted = Rc::new(Cell::new(true));
            let job = Rc::clone(job);
            match begin(&job) {
                Ok(solver) => {
                    let done = Callback::from(move |outcome: Outcome| {
                        found.set(Some((Rc::clone(&job), Rc::new(outcome))));
                    });
                    go_on(solver, done, Rc::clone(&wanted));
                }
                Err(error) => found.set(Some((job, Rc::new(Err(error))))),
            }
            move || wanted.set(false)
        });
    }
    match &*found {
        Some((job, outcome)) if *job == props.job => match &**outcome {
            Ok(solution) => shown(props, solution),
            Err(error) => tx("p", "gap", &page::refused(&error.to_string())),
        },
        _ => tx("p", "gap", words::WORKING),
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

fn shown(props: &LayoutProps, solution: &Solution) -> Html {
    let (store, job) = (&props.store, &props.job);
    let views = sheets(job, solution, &store.prefs);
    let boards = boards(job, solution, &store.prefs);
    let rows: Vec<(&str, String, &str)> = boards
        .iter()
        .chain(&*props.supplies)
        .map(|(name, amount, unit)| (name.as_str(), amount.clone(), *unit))
        .collect();
    html! {
        <>
            { tx("p", "", &words::sheets(views.len())) }
            { tx("p", "small", &quality(solution)) }
            { for views.iter().map(|view| sheet(store, view)) }
            { tx("h3", "", words::BILL) }
            { pairs(&rows) }
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
