//! The test box beside its entries, and whether a box passes the door.
use std::rc::Rc;

use yew::prelude::*;

use crate::design::report::BoxReport;
use crate::design::testbox::{ExtraPart, TestBox, passage, test_box};
use crate::present::templates::{Template, templates};
use crate::present::testbox::{extra_templates, notes, rows, way_through};
use crate::view::components::{caution, el, head, pairs, tx};
use crate::view::store::Handle;
use crate::words::testbox as words;

/// The test box of the design, if it is one.
pub(super) fn found(store: &Handle, enclosure: &BoxReport) -> Option<Rc<TestBox>> {
    test_box(&store.design().sheet, &store.report, enclosure).map(Rc::new)
}

/// What a test box comes to.
#[inline(never)]
pub(super) fn test_box_sheet(store: &Handle, found: &TestBox) -> Html {
    let mut children = vec![head(words::TITLE, ""), pairs(&rows(found, &store.prefs))];
    children.extend(notes(found, &store.prefs).iter().map(|note| caution(note)));
    children.push(tx("p", "small", words::ABOUT));
    if found.insert.is_some() {
        children.push(tx("p", "small", words::BLOCKS_ABOUT));
    }
    el("section", &[("class", "sheet"), ("id", "testbox")], children)
}

/// Whether the box passes the door, beside the entries of the space.
#[inline(never)]
pub(super) fn door(store: &Handle) -> Html {
    let Ok(enclosure) = &store.report.enclosure else { return Html::default() };
    let Some(found) = passage(&store.design().sheet, enclosure) else { return Html::default() };
    let (goes, text) = way_through(&found, &store.prefs);
    let note = if goes { tx("p", "small", &text) } else { caution(&text) };
    el("div", &[("class", "door")], vec![note])
}

/// The templates of the box, its ring and its plugs.
pub(super) fn all_templates(enclosure: &BoxReport, found: Option<&TestBox>) -> Vec<Template> {
    let mut all = templates(enclosure);
    if let Some(found) = found {
        all.extend(extra_templates(found, enclosure.spec.boards.shell.thickness));
    }
    all
}

/// What is cut beside the box.
pub(super) fn extras(found: Option<&TestBox>) -> &[ExtraPart] {
    found.map_or(&[], |found| &found.extras)
}
