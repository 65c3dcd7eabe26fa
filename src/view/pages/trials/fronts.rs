//! The subwoofer with the front speakers: levels band by band, and what they ask for.
use yew::prelude::*;

use super::{Shown, input_row, on_text};
use crate::design::document::Entry;
use crate::design::limits::FieldId;
use crate::design::session::Action;
use crate::design::trials::{FRONT_BANDS_HZ, FRONT_LEVELS, FrontBand, FrontTable};
use crate::model::measurement::{FrontPhase, Polarity, align, crossover, polarity};
use crate::present::fronts as text;
use crate::view::components::{NoteKind, note, table, table_row, tx};
use crate::view::store::{Handle, Msg};
use crate::words::{fronts as words, trials};

/// A change of the table.
fn put(store: &Handle, edit: impl FnOnce(&mut FrontTable)) {
    let mut table = FrontTable::read(store.design().sheet.text(FieldId::FrontLevels));
    edit(&mut table);
    store.dispatch(Msg::Do(Action::Set(FieldId::FrontLevels, Entry::Text(table.text()))));
}

/// Levels, what they tell of each band, and the advice.
pub(super) fn fronts(store: &Handle) -> Html {
    let table = FrontTable::read(store.design().sheet.text(FieldId::FrontLevels));
    let bands = table.bands();
    let read: Vec<FrontPhase> = bands
        .iter()
        .filter_map(|band| match band {
            FrontBand::Read(Ok(phase)) => Some(*phase),
            _ => None,
        })
        .collect();
    let heads = words::LEVELS.map(|head| tx("span", "", head));
    let rows = bands.iter().enumerate().map(|(at, band)| row(store, &table, at, band));
    let delay = {
        let store = store.clone();
        on_text(move |text| put(&store, |table| table.delay_ms = text))
    };
    let shown = Shown {
        label: words::DELAY,
        value: &table.delay_ms,
        unit: "ms",
        example: "2",
        refusal: table.delay_s().is_none().then_some(words::NOT_A_DELAY),
        text: false,
    };
    html! {
        <>
            { tx("p", "small", words::HOW) }
            <div class="bands">
                <div class="band">{ tx("span", "", trials::BAND) }{ for heads }</div>
                { for rows }
            </div>
            { tx("p", "small", words::MORE) }
            { input_row(&shown, delay) }
            <div aria-live="polite">{ advice(&read) }</div>
        </>
    }
}

fn row(store: &Handle, typed: &FrontTable, at: usize, band: &FrontBand) -> Html {
    let hz = FRONT_BANDS_HZ.get(at).copied().unwrap_or_default().to_string();
    let cells = (0..FRONT_LEVELS).map(|what| {
        let store = store.clone();
        let value = typed.cells.get(at).and_then(|cells| cells.get(what)).cloned().unwrap_or_default();
        let name = words::LEVELS.get(what).copied().unwrap_or_default();
        let oninput = on_text(move |text| {
            put(&store, |table| {
                table
                    .cells
                    .iter_mut()
                    .skip(at)
                    .take(1)
                    .flat_map(|cells| cells.iter_mut().skip(what).take(1))
                    .for_each(|cell| cell.clone_from(&text));
            });
        });
        html! {
            <input type="text" inputmode="decimal" autocomplete="off" placeholder="dB" {value}
                aria-label={trials::front_label(name, &hz)} {oninput} />
        }
    });
    let wrong = match band {
        FrontBand::NotALevel => Some(words::NOT_A_LEVEL.to_owned()),
        FrontBand::Read(Err(error)) => Some(error.to_string()),
        _ => None,
    };
    html! {
        <div class="band"><b>{ trials::tone(&hz) }</b>{ for cells }
            if let Some(wrong) = wrong { <p class="hint bad" role="alert">{ wrong }</p> }
        </div>
    }
}

/// Turning something is a thing to do; the rest is to go on.
fn kind(turn: bool) -> NoteKind {
    if turn { NoteKind::Care } else { NoteKind::Good }
}

#[inline(never)]
fn advice(read: &[FrontPhase]) -> Html {
    if read.is_empty() {
        return Html::default();
    }
    let rows = read.iter().map(|band| {
        let (angle, turned, check) = text::band(band);
        table_row("", (&trials::tone(&band.hz.to_string()), ""), &[(&angle, ""), (&turned, ""), (&check, "")])
    });
    let heads = [trials::BAND, trials::ANGLE, trials::TURN_GAIN, words::CHECK];
    let aligned =
        align(read).map(|found| note(kind(found.turn || found.delay_s != 0.0), &text::aligned(&found)));
    let alone = || {
        let found = polarity(read);
        note(kind(found == Polarity::Turn), text::polarity(found))
    };
    html! {
        <>
            { table("fronts", &heads, rows.collect()) }
            if let Some(off) = text::check(read) { { note(NoteKind::Care, &off) } }
            { aligned.unwrap_or_else(alone) }
            if let Some(found) = crossover(read) { { tx("p", "", &text::crossover(found)) } }
        </>
    }
}
