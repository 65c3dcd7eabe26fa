//! A stack of rings: drawn, its air, its parts and templates.
use std::rc::Rc;

use yew::prelude::*;

use super::assembling::picture;
use super::bench::{print_keys, template_keys};
use crate::design::evaluate::{RingReport, ring_report};
use crate::present::rings::{figures, ledger, notes, parts, plan, stack_drawn, templates};
use crate::units::Quantity;
use crate::view::components::{Fold, caution, el, gap_note, head, pairs, table, table_row, tx};
use crate::view::store::Handle;
use crate::words::{cutting, rings as words, saw};

/// Everything about the stack.
#[inline(never)] // few boxes are stacked
pub(super) fn rings_sheet(store: &Handle) -> Html {
    let sheet = |children| el("section", &[("class", "sheet"), ("id", "rings")], children);
    let found = match ring_report(&store.design().sheet) {
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
    children.push(el("div", &[], notes(&found).into_iter().map(caution).collect()));
    children.push(table(
        "parts",
        &[saw::PIECE, saw::SIZE],
        parts(&found, &store.prefs)
            .iter()
            .map(|row| table_row("", (&row.name, ""), &[(&row.size, &row.edges)]))
            .collect(),
    ));
    children.push(tx("p", "small", &saw::cut_list_unit(unit)));
    children.push(tx("p", "small", words::ABOUT));
    children.push(tx("p", "small", words::TRACE_ABOUT));
    children.push(caution(words::DUST));
    children.push(folded(store, &found));
    children.push(print_keys());
    sheet(children)
}

/// Templates and the stack as it stands, made when they are opened.
fn folded(store: &Handle, found: &Rc<RingReport>) -> Html {
    let drawn = {
        let found = Rc::clone(found);
        Callback::from(move |()| picture(&stack_drawn(&found), words::STACK))
    };
    let keys = {
        let (store, found) = (store.clone(), Rc::clone(found));
        Callback::from(move |()| template_keys(&store, &Rc::new(templates(&found))))
    };
    html! {
        <>
            <Fold title={words::STACK} content={drawn} />
            <Fold title={cutting::TEMPLATES} content={keys} />
        </>
    }
}
