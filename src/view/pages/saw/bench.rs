//! After the saw: holes to rout, templates to save, weight and bench checks, the sheet on paper.
use std::rc::Rc;

use yew::prelude::*;

use super::sheets::tick;
use super::testbox::{all_templates, extras};
use crate::design::bench::bench;
use crate::design::limits::FieldId;
use crate::design::report::BoxReport;
use crate::design::testbox::TestBox;
use crate::platform::{Timeout, clock, files, page};
use crate::present::bench::{cautions, checks, weights};
use crate::present::cutting::details;
use crate::present::templates::{Paper, Template, dxf, pages, svg};
use crate::present::testbox;
use crate::view::components::{Fold, caution, head, pairs, tx};
use crate::view::store::{Handle, Msg};
use crate::words::{cutting as words, keep};

/// Holes, rebates and windows, to be ticked off.
pub(super) fn details_sheet(store: &Handle, enclosure: &BoxReport) -> Html {
    let rows = details(enclosure, &store.design().sheet, &store.prefs);
    if rows.is_empty() {
        return Html::default();
    }
    html! {
        <section class="sheet" id="details">{ head(words::DETAILS, words::TEMPLATE_HOLE) }
            { for rows.into_iter().map(|row| {
                let text = format!("{}, {}", row.name, row.size);
                tick(store, row.tick, &text, &row.template)
            }) }
            { tx("p", "small", words::DETAIL_ABOUT) }
        </section>
    }
}

fn save(store: &Handle, name: &str, kind: &str, text: &str) {
    if files::save(name, kind, text).is_err() {
        store.dispatch(Msg::Tell(keep::EXPORT_FAILED.into()));
    }
}

/// A key that saves a file made when it is tapped.
fn save_key(store: &Handle, label: &str, about: &str, make: impl Fn(&Handle) + 'static) -> Html {
    let store = store.clone();
    let onclick = Callback::from(move |_: MouseEvent| make(&store));
    html! { <button type="button" class="key" aria-label={format!("{label}: {about}")} {onclick}>{ label }</button> }
}

/// Templates to save.
pub(super) fn templates_sheet(
    store: &Handle,
    enclosure: &Rc<BoxReport>,
    test_box: Option<&Rc<TestBox>>,
) -> Html {
    let (store, enclosure, test_box) = (store.clone(), Rc::clone(enclosure), test_box.cloned());
    let content = Callback::from(move |()| {
        template_keys(&store, &Rc::new(all_templates(&enclosure, test_box.as_deref())))
    });
    html! { <section class="sheet" id="templates"><Fold title={words::TEMPLATES} {content} /></section> }
}

/// Keys that save templates, each by itself and all as pages.
pub(super) fn template_keys(store: &Handle, all: &Rc<Vec<Template>>) -> Html {
    let paper =
        if store.design().sheet.choice_key(FieldId::Paper) == "letter" { Paper::Letter } else { Paper::A4 };
    let on_paper = Rc::clone(all);
    html! {
        <>
            { tx("p", "small", words::TEMPLATES_ABOUT) }
            <ul class="list">
                { for (0..all.len()).map(|number| {
                    let (one, other) = (Rc::clone(all), Rc::clone(all));
                    let template = &all[number];
                    let title = if template.count > 1 { format!("{} × {}", template.count, template.title) } else { template.title.clone() };
                    html! {
                        <li><span>{ &title }</span><span class="keys">
                            { save_key(store, words::SAVE_SVG, &title, move |store| {
                                if let Some(t) = one.get(number) { save(store, &format!("{}.svg", t.file), "image/svg+xml", &svg(t)); }
                            }) }
                            { save_key(store, words::SAVE_DXF, &title, move |store| {
                                if let Some(t) = other.get(number) { save(store, &format!("{}.dxf", t.file), "image/vnd.dxf", &dxf(t)); }
                            }) }
                        </span></li>
                    }
                }) }
            </ul>
            { save_key(store, words::SAVE_PAGES, words::TEMPLATES, move |store| {
                save(store, "templates.html", "text/html", &pages(&on_paper, paper));
            }) }
        </>
    }
}

/// Weight, centre of gravity and what is measured before the glue.
pub(super) fn bench_sheet(store: &Handle, enclosure: &Rc<BoxReport>, test_box: Option<&Rc<TestBox>>) -> Html {
    let (store, enclosure, test_box) = (store.clone(), Rc::clone(enclosure), test_box.cloned());
    let content = Callback::from(move |()| {
        let sheet = &store.design().sheet;
        let bench = bench(sheet, &store.report, &enclosure);
        html! {
            <>
                { pairs(&checks(&bench, &store.prefs)) }
                { for cautions(&bench).iter().map(|text| caution(text)) }
                { pairs(&weights(&bench)) }
                { pairs(&testbox::weights(extras(test_box.as_deref()), enclosure.spec.boards.shell)) }
                { tx("p", "small", words::BENCH_ABOUT) }
                if bench.fill.is_some() { { tx("p", "small", words::FILL_ABOUT) } }
            </>
        }
    });
    html! { <section class="sheet" id="bench"><Fold title={words::BENCH} {content} /></section> }
}

/// How deep folds lie in one another, and how long the page takes to show what one held.
const DEPTHS: u8 = 3;
const SHOWN_MS: u32 = 60;

/// Opens what is folded, then what was folded in that.
fn open_all(depth: u8) {
    if page::open_folds("work") && depth > 1 {
        Timeout::new(SHOWN_MS, move || open_all(depth - 1)).forget();
    }
}

/// The sheet on paper: whatever is open.
pub(super) fn print_keys() -> Html {
    let onprint = Callback::from(|_: MouseEvent| {
        let _ = page::print();
    });
    let onopen = Callback::from(|_: MouseEvent| open_all(DEPTHS));
    html! {
        <div class="keys">
            <button type="button" class="key" onclick={onopen}>{ words::OPEN_ALL }</button>
            <button type="button" class="key" onclick={onprint}>{ words::PRINT }</button>
            { tx("p", "small", words::PRINT_ABOUT) }
        </div>
    }
}

/// What stands over the sheet on paper: whose it is, and of which day.
#[inline(never)]
pub(super) fn printed_head(store: &Handle) -> Html {
    let sheet = &store.design().sheet;
    let today = clock::local_time((clock::now_ms() / 1000.0) as i64);
    let names = [FieldId::DesignName, FieldId::VehicleName, FieldId::EnclosureName].map(|id| sheet.text(id));
    let mut all: Vec<&str> = names.into_iter().filter(|name| !name.is_empty()).collect();
    all.push(today.split(' ').next().unwrap_or(""));
    tx("p", "printed", &all.join(" \u{b7} "))
}
