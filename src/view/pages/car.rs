//! Car: is it wired right, and what feeds it.
use yew::prelude::*;

use super::desk::fold;
use super::meter::MeterSheet;
use super::powerup::powerup;
use super::prove::prove;
use super::quick::QuickChecks;
use super::trials::TrialsSheet;
use super::warnings;
use super::wiring::wiring_sheet;
use crate::design::limits::FieldId;
use crate::design::report::{FeedReport, Gap, Report};
use crate::design::warnings::Place;
use crate::present::feed::{Block, Row, Topic};
use crate::present::tables::{amperes, cables, feed_in, power_text, size};
use crate::present::{format, lines};
use crate::view::components::{
    Fold, caution, el, fields, figure, gap_note, head, pairs, scroll, table, table_row, tx,
};
use crate::view::store::Handle;
use crate::words::{car as words, trials as trial_words};

const AMPLIFIER: &[FieldId] = &[
    FieldId::AmplifierName,
    FieldId::Watts4,
    FieldId::Watts2,
    FieldId::Watts1,
    FieldId::RatedSupply,
    FieldId::StableLoad,
    FieldId::Efficiency,
    FieldId::OutputResistance,
];
const FEED: &[FieldId] = &[
    FieldId::CableRun,
    FieldId::CableMaterial,
    FieldId::Insulation,
    FieldId::Ambient,
    FieldId::Supply,
    FieldId::DropLimit,
];
const LINE: &[FieldId] =
    &[FieldId::ReadAt, FieldId::SpeakerRun, FieldId::SpeakerCable, FieldId::CoilTolerance];
// Beside the coils, not among the ways to join them: while one of them is missing there are no ways.
const SECOND: &[FieldId] =
    &[FieldId::OtherDrivers, FieldId::OtherNominal, FieldId::OtherRe, FieldId::OtherCoils];
const COILS: &[FieldId] = &[FieldId::NominalCoil, FieldId::Re, FieldId::Coils, FieldId::DriverCount];

/// Car.
#[inline(never)] // a page of its own, so that it may come after the first result
pub fn car(store: &Handle) -> Html {
    let report: &Report = &store.report;
    html! {
        <div class="columns car">
            <div class="column answer">
                <h1 class="line">{ lines::car(store.design(), report) }</h1>
                { warnings(store, Place::Car) }
                if let Ok(wiring) = &report.wiring {
                    <MeterSheet store={store.clone()} wiring={wiring.clone()} />
                }
                { powerup(store) }
                <QuickChecks store={store.clone()} />
                { trials(store) }
            </div>
            <div class="column work">
                <section class="sheet" id="wiring">{ head(words::WIRING, "") }
                    if let Ok(wiring) = &report.wiring {
                        { wiring_sheet(store, wiring) }
                    } else if let Err(gap) = &report.wiring {
                        { gap_note(gap) }
                    }
                    { fold(store, words::COILS, COILS) }
                    { fold(store, words::SECOND_KIND, SECOND) }
                    { fold(store, words::LINE, LINE) }
                </section>
                <section class="sheet" id="feed">{ head(words::FEED, "") }
                    if let Ok(feed) = &report.feed {
                        { feed_figures(store, feed) }
                    } else if let Err(gap) = &report.feed {
                        { gap_note(gap) }
                    }
                    { topics(store, Topic::FEED) }
                </section>
                { caution(words::CAUTION_FUSE) }
            </div>
            <div class="column entries">
                <section class="sheet" id="amplifier">{ head(words::AMPLIFIER, "") }
                    { fields(store, AMPLIFIER) }
                    if let Ok(feed) = &report.feed {
                        { gain(feed) }
                    } else if let Err(gap @ Gap::Refused(_)) = &report.feed {
                        { gap_note(gap) }
                    }
                    { topics(store, Topic::AMPLIFIER) }
                </section>
                <section class="sheet" id="run">{ head(words::FEED_ENTRIES, "") }{ fields(store, FEED) }</section>
                { caution(words::CAUTION_LOUD) }
                { caution(words::CAUTION_CRASH) }
            </div>
        </div>
    }
}

/// Trials of spots; what is in them comes when they are opened.
#[inline(never)]
fn trials(store: &Handle) -> Html {
    let store = store.clone();
    let content = Callback::from(move |()| html! { <TrialsSheet store={store.clone()} /> });
    html! {
        <section class="sheet" id="trials">{ head(trial_words::TITLE, "") }
            <Fold title={trial_words::OPEN} {content} />
        </section>
    }
}

fn feed_figures(store: &Handle, feed: &FeedReport) -> Html {
    let list = feed_in(feed, &store.prefs);
    let chosen = list.choice();
    let cable = chosen.map_or_else(|| format::NO_NUMBER.into(), |option| size(option.cable.size));
    let body = store.design().sheet.choice_key(FieldId::ReturnVia) == "body";
    let fuse = chosen.and_then(|option| option.fuse.as_ref().ok());
    let fuse = fuse.map_or_else(|| format::NO_NUMBER.into(), |fuse| amperes(fuse.rating.amperes()));
    let figures = vec![
        figure("draw", &amperes(feed.draw.worst_case.amperes().round()), "", words::DRAW),
        figure("cable", &cable, "", if body { words::CABLE_BODY } else { words::CABLE }),
        figure("fuse", &fuse, "", words::FUSE),
    ];
    let why = chosen.map(|option| {
        tx(
            "p",
            "small",
            &words::feed_why(
                &format::fixed(option.ampacity.current.amperes(), 0),
                &format::fixed(option.drop.volts(), 2),
                &format::fixed(option.drop_percent, 1),
            ),
        )
    });
    let rows = cables(list)
        .iter()
        .map(|row| {
            let more = if row.chosen { words::THIS_ONE } else { &row.why_not };
            let cells = [(row.carries.as_str(), ""), (&row.drop, ""), (&row.fuse, "")];
            table_row(if row.chosen { "sum" } else { "" }, (&row.size, more), &cells)
        })
        .collect();
    let heads = [words::SIZE, words::CARRIES, words::DROP, words::FUSE_SHORT];
    html! {
        <>
            { el("dl", &[("class", "figs")], figures) }
            { why.unwrap_or_default() }
            { scroll(words::CABLES, table("cables", &heads, rows)) }
            { tx("p", "small", words::FEED_SOURCE) }
        </>
    }
}

/// Topics, folded: entries first, then what they come to.
fn topics(store: &Handle, list: &'static [Topic]) -> Html {
    let folds = list.iter().map(|topic| {
        let (topic, store) = (*topic, store.clone());
        let content = Callback::from(move |()| topic_html(&store, topic));
        html! { <Fold key={topic.title()} title={topic.title()} {content} /> }
    });
    folds.collect()
}

fn topic_html(store: &Handle, topic: Topic) -> Html {
    let report: &Report = &store.report;
    let blocks = topic.blocks(report, &store.design().sheet, &store.prefs);
    let blocks = blocks.iter().map(|block| block_html(topic, block)).collect();
    // Entries and answers apart: an answer that grows must not build the entry again in which it is typed.
    let prove = if topic == Topic::Measure && report.feed.is_ok() { prove(store) } else { Html::default() };
    html! { <>{ el("div", &[], vec![fields(store, topic.fields())]) }{ el("div", &[], blocks) }{ prove }</> }
}

fn block_html(topic: Topic, block: &Block) -> Html {
    match block {
        Block::Pairs(rows) => {
            let rows: Vec<_> = rows.iter().map(|(name, value)| (*name, value.clone(), "")).collect();
            pairs(&rows)
        }
        Block::Text(words) => tx("p", "small", words),
        Block::Steps(steps) => {
            el("ol", &[("class", "steps")], steps.iter().map(|step| tx("li", "", step)).collect())
        }
        Block::Caution(words) => caution(words),
        Block::Table { heads, rows } => {
            let row = |row: &Row| {
                let cells: Vec<_> = row.cells.iter().map(|(a, b)| (a.as_str(), b.as_str())).collect();
                table_row("", (&row.header.0, &row.header.1), &cells)
            };
            // Named by its last column, too: a topic may hold two tables.
            let label = format!("{}: {}", topic.title(), heads.last().copied().unwrap_or_default());
            scroll(&label, table("cables", heads, rows.iter().map(row).collect()))
        }
    }
}

fn gain(feed: &FeedReport) -> Html {
    html! {
        <>
            { pairs(&[
                (words::POWER_HERE, power_text(&feed.power), ""),
                (words::GAIN, format::fixed(feed.plan.volts.volts(), 1), "V AC"),
            ]) }
            { tx("p", "small", words::GAIN_HOW) }
        </>
    }
}
