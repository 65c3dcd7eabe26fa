//! A stack of rings: drawn, its air, its parts and templates.
use std::rc::Rc;

use yew::prelude::*;

use super::assembling::{PAUSE_MS, one, picture};
use super::bench::{print_keys, template_keys};
use super::sheets::layout;
use crate::design::cutting::ring_job;
use crate::design::evaluate::{RingReport, planned_rings, tape_step};
use crate::design::limits::FieldId;
use crate::platform::Timeout;
use crate::present::rings::{
    cautions, figures, holes, ledger, notes, parts, plan, stack_drawn, steps, supplies, templates,
};
use crate::units::{Mass, Quantity};
use crate::view::components::{Fold, caution, el, gap_note, head, pairs, table, table_row, tx};
use crate::view::store::Handle;
use crate::words::{assembling, cutting, rings as words, saw};

/// Everything about the stack.
#[inline(never)] // few boxes are stacked
pub(super) fn rings_sheet(store: &Handle) -> Html {
    let sheet = |children| el("section", &[("class", "sheet"), ("id", "rings")], children);
    let found = match planned_rings(&store.design().sheet, &store.report) {
        Ok(found) => Rc::new(found),
        Err(gap) => return sheet(vec![head(words::TITLE, ""), gap_note(&gap)]),
    };
    let net = store.report.sound.as_ref().ok().map(|sound| sound.net);
    let unit = store.prefs.unit_for(Quantity::Length).symbol();
    let mut children =
        vec![head(words::TITLE, ""), picture(&plan(&found), words::PLAN), tx("p", "small", words::PLAN)];
    children.push(pairs(&figures(&found, &store.prefs)));
    children.push(pairs(&ledger(&found, net)));
    // In one element, so that folds below stay open when a note comes or goes.
    children.push(el("div", &[], notes(&found, &store.prefs).iter().map(|text| caution(text)).collect()));
    let driver = store.design().sheet.si(FieldId::DriverWeight).map(Mass::from_kilograms);
    let load = cautions(&found, driver);
    children.push(el("div", &[], load.iter().map(|text| caution(text)).collect()));
    let step = tape_step(&store.design().sheet);
    children.push(table(
        "parts",
        &[saw::PIECE, saw::SIZE],
        parts(&found, step, &store.prefs)
            .iter()
            .map(|row| table_row("", (&row.name, ""), &[(&row.size, &row.edges)]))
            .collect(),
    ));
    let bored = holes(&found, &store.prefs);
    if !bored.is_empty() {
        let rows = bored.iter().map(|row| table_row("", (&row.name, ""), &[(&row.size, &row.edges)]));
        let table = table("holes", &[words::HOLES, words::HOLE_AT], rows.collect());
        children.push(el("div", &[], vec![table]));
    }
    children.push(tx("p", "small", &saw::cut_list_unit(unit)));
    children.push(tx("p", "small", words::ABOUT));
    children.push(tx("p", "small", words::TRACE_ABOUT));
    children.push(caution(words::DUST));
    children.push(folded(store, &found));
    children.push(print_keys());
    sheet(children)
}

/// Sheets, templates and the order of gluing, made when they are opened.
fn folded(store: &Handle, found: &Rc<RingReport>) -> Html {
    let drawn = {
        let found = Rc::clone(found);
        Callback::from(move |()| html! { <Stack found={Rc::clone(&found)} /> })
    };
    let sheets = {
        let (store, found) = (store.clone(), Rc::clone(found));
        Callback::from(move |()| {
            let sheet = &store.design().sheet;
            let supplies = supplies(&found, sheet, &store.prefs);
            layout(&store, vec![ring_job(sheet, &found)], supplies)
        })
    };
    let order = {
        let (store, found) = (store.clone(), Rc::clone(found));
        Callback::from(move |()| html! { <Order store={store.clone()} found={Rc::clone(&found)} /> })
    };
    let keys = {
        let (store, found) = (store.clone(), Rc::clone(found));
        Callback::from(move |()| template_keys(&store, &Rc::new(templates(&found))))
    };
    html! {
        <>
            <Fold title={words::STACK} content={drawn} />
            <Fold title={cutting::LAYOUT} content={sheets} />
            <Fold title={assembling::TITLE} content={order} />
            <Fold title={cutting::TEMPLATES} content={keys} />
        </>
    }
}

/// The stack as it was when the last key had been pressed for a moment: drawings wait for a pause, and what does not change
/// the stack does not have them drawn again.
#[hook]
fn use_paused(found: &Rc<RingReport>) -> Rc<RingReport> {
    let paused = use_state(|| Rc::clone(found));
    {
        let paused = paused.clone();
        use_effect_with(Rc::clone(found), move |found| {
            let found = Rc::clone(found);
            let waiting = (*paused != found).then(|| Timeout::new(PAUSE_MS, move || paused.set(found)));
            move || drop(waiting)
        });
    }
    Rc::clone(&paused)
}

#[derive(PartialEq, Properties)]
struct StackProps {
    found: Rc<RingReport>,
}

#[component]
fn Stack(props: &StackProps) -> Html {
    let found = use_paused(&props.found);
    let drawn = use_memo(found, |found| stack_drawn(found));
    picture(&drawn, words::STACK)
}

#[derive(PartialEq, Properties)]
struct OrderProps {
    store: Handle,
    found: Rc<RingReport>,
}

#[component]
fn Order(props: &OrderProps) -> Html {
    let found = use_paused(&props.found);
    let drawn = use_memo(found, |found| steps(found));
    let mut children = vec![caution(assembling::CAUTION), tx("p", "small", assembling::CLAMP)];
    children.extend(drawn.iter().map(|step| one(&props.store, step)));
    el("div", &[], children)
}
