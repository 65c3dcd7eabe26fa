//! The sheet for the vehicle's owner, to be printed on one page.
use yew::prelude::*;

use crate::design::commission::run;
use crate::platform::{clock, page};
use crate::present::commission::hearing;
use crate::present::commission_sheet::{ReadRow, lines, readings};
use crate::present::wiring_drawing;
use crate::view::components::{el, head, pairs, scroll, table, table_row, tx, wiring_view};
use crate::view::store::{Handle, Msg};
use crate::words::powerup as words;

/// The sheet, and the key that prints it.
pub fn owner_sheet(store: &Handle) -> Html {
    let onclick = {
        let store = store.clone();
        Callback::from(move |_: MouseEvent| {
            if page::print().is_none() {
                store.dispatch(Msg::Tell(words::PRINT_FAILED.into()));
            }
        })
    };
    html! {
        <>
            <div class="keys"><button type="button" class="key main" {onclick}>{ words::PRINT }</button></div>
            { sheet(store) }
        </>
    }
}

fn sheet(store: &Handle) -> Html {
    let (design, report) = (store.design(), &*store.report);
    let (facts, states) = run(design, report, store.prefs.cable);
    let today = clock::local_time((clock::now_ms() / 1000.0) as i64);
    let mut facts_shown: Vec<(&str, String, &str)> = lines(design, report, &facts, &store.prefs)
        .into_iter()
        .map(|(name, value)| (name, value, ""))
        .collect();
    facts_shown.push((words::DATE, today.split(' ').next().unwrap_or("").to_owned(), ""));
    let chosen = report.wiring.as_deref().ok().and_then(|wiring| wiring.chosen());
    let drawing = chosen.map(|option| wiring_view(&wiring_drawing::draw(&option.tree)));
    let rows = readings(&states).iter().map(row).collect();
    let heads = [words::STEP, words::EXPECT, words::FOUND, words::VERDICT, words::WHEN];
    let parts = vec![
        head(words::SHEET, ""),
        tx("p", "small", words::SHEET_ABOUT),
        pairs(&facts_shown),
        drawing.unwrap_or_default(),
        scroll(words::SHEET, table("results", &heads, rows)),
        tx("p", "small", words::SHEET_BATTERY),
        tx("p", "small", &format!("{} {}", words::SHEET_LOUD, hearing(&facts))),
        tx("p", "small", words::SHEET_LAW),
    ];
    el("div", &[("class", "owner")], parts)
}

fn row(row: &ReadRow) -> Html {
    let at = row.at_s.map_or_else(String::new, clock::local_time);
    let cells = [(row.expected.as_str(), ""), (&row.found, ""), (&row.verdict, ""), (&at, "")];
    table_row("", (row.name, ""), &cells)
}
