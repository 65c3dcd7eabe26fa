//! The answer: the verdict as a sentence, the real box at the best spot, the curves, the ranking.
use std::rc::Rc;

use yew::prelude::*;

use super::{Test, choice_row, on_choice};
use crate::design::document::{Entry, Sheet};
use crate::design::evaluate::evaluate_first;
use crate::design::limits::FieldId;
use crate::design::session::Action;
use crate::design::trials::{
    Spot, absolutes, box_levels, choose, closed_test_box, correction, drifted, full_scale, in_hand, outlets,
    range_of, weights_of,
};
use crate::model::measurement::{Outlets, Verdict, predict};
use crate::present::trials as text;
use crate::view::components::{ChartView, NoteKind, cursor_view, fields, note, scroll, table, table_row, tx};
use crate::view::pages::depth::save_row;
use crate::view::saving::{self, Listed};
use crate::view::store::{Handle, Msg};
use crate::words::{microphone as microphone_words, trials as words};

const RANGE: &[FieldId] = &[FieldId::TrialLow, FieldId::TrialHigh];
const VOLUME: &[FieldId] = &[FieldId::TestBoxVolume];
const VOLTS: &[FieldId] = &[FieldId::TrialVolts];
const WEIGHTS: &[FieldId] = &[FieldId::WeightSeats, FieldId::WeightHole];

/// The box the trials were made with.
pub(super) enum TestBox {
    /// Not said.
    Unknown,
    /// A design that is not stored here.
    Lost,
    /// Its sound can't be worked out.
    Gap,
    /// Its level at the points of a trial, and whether the real box moves air elsewhere.
    Known(Vec<f64>, Outlets),
}

/// The test box as the entries say: a stored design, or a closed box of the volume entered.
pub(super) fn test_box(sheet: &Sheet, designs: &[Listed]) -> TestBox {
    let name = sheet.text(FieldId::TestBoxDesign);
    let test = if name.is_empty() {
        sheet.given(FieldId::TestBoxVolume).map(|volume| closed_test_box(sheet, volume))
    } else {
        let stored =
            designs.iter().find(|listed| listed.name == name).and_then(|found| saving::load(&found.id));
        match stored {
            Some(stored) => Some(stored.design.sheet),
            None => return TestBox::Lost,
        }
    };
    let Some(test) = test else { return TestBox::Unknown };
    match box_levels(&evaluate_first(&test)) {
        Ok(levels) => TestBox::Known(levels, outlets(&test, sheet)),
        Err(_) => TestBox::Gap,
    }
}

/// The verdict, or what it waits for.
pub(super) fn answer(
    store: &Handle,
    test: &Test,
    designs: &Rc<Vec<Listed>>,
    cursor: &UseStateHandle<usize>,
) -> Html {
    let trials = &store.design().log.trials;
    if trials.iter().all(|trial| trial.left_out) {
        return tx("p", "verdict", words::NONE_YET);
    }
    let range = range_of(&store.design().sheet);
    let Ok((spots, verdict)) = choose(trials, range, weights_of(&store.design().sheet)) else {
        return html! { <>{ note(NoteKind::Care, words::NO_COMMON) }{ fields(store, RANGE) }</> };
    };
    let drift = text::drift(drifted(trials, range))
        .map(|(far, said)| if far { note(NoteKind::Care, &said) } else { tx("p", "small", &said) });
    html! {
        <>
            <div aria-live="polite">{ tx("p", "verdict", &text::sentence(&spots, &verdict)) }</div>
            { drift.unwrap_or_default() }
            { real_box(store, test, designs, (&spots, &verdict), **cursor) }
            { curves(store, &spots, &verdict, cursor) }
            { ranking(&spots, &verdict) }
            { with_curve(store, &spots, &verdict) }
            { fields(store, RANGE) }
            <h3>{ words::WEIGHTS }</h3>
            { fields(store, WEIGHTS) }
            { tx("p", "small", words::WEIGHTS_ABOUT) }
        </>
    }
}

/// The designed box at the best spot.
fn real_box(
    store: &Handle,
    test: &Test,
    designs: &Rc<Vec<Listed>>,
    (spots, verdict): (&[Spot], &Verdict),
    cursor: usize,
) -> Html {
    let own = box_levels(&store.report);
    let measured = verdict.ranking.first().map(|figures| figures.curve_db.as_slice()).unwrap_or_default();
    let answer = match (&**test, &own) {
        (TestBox::Unknown, _) => tx("p", "small", words::REAL_BOX_ASK),
        (TestBox::Lost, _) => note(NoteKind::Care, words::TEST_BOX_LOST),
        (TestBox::Gap, _) | (_, Err(_)) => tx("p", "gap", words::REAL_BOX_GAP),
        (TestBox::Known(levels, outlets), Ok(own)) => match predict(measured, levels, own, *outlets) {
            Ok(found) => {
                let (said, chart) = text::forecast(spots, verdict, measured, &found, verdict.range);
                let chart = Rc::new(chart);
                html! {
                    <>
                        { tx("p", "forecast", &said) }
                        if *outlets == Outlets::Moved { { tx("p", "small", words::MOVED) } }
                        <ChartView chart={Rc::clone(&chart)} {cursor} dark={store.is_dark()} />
                        { save_row(store, &chart) }
                    </>
                }
            }
            Err(_) => tx("p", "gap", words::REAL_BOX_GAP),
        },
    };
    let sheet = &store.design().sheet;
    let named = sheet.text(FieldId::TestBoxDesign);
    let mut options = vec![words::TEST_CLOSED.to_owned()];
    options.extend(designs.iter().map(|listed| listed.name.clone()).filter(|name| !name.is_empty()));
    if !named.is_empty() && !options.iter().any(|option| option == named) {
        options.push(named.to_owned());
    }
    let chosen = options.iter().skip(1).position(|option| option == named).map_or(0, |at| at + 1);
    let onchange = {
        let (store, options) = (store.clone(), options.clone());
        on_choice(move |at| {
            let name = if at == 0 { String::new() } else { options.get(at).cloned().unwrap_or_default() };
            store.dispatch(Msg::Do(Action::Seal));
            store.dispatch(Msg::Do(Action::Set(FieldId::TestBoxDesign, Entry::Text(name))));
        })
    };
    html! {
        <>
            <h3>{ words::REAL_BOX }</h3>
            { answer }
            { choice_row(FieldId::TestBoxDesign.row().label, &options, chosen, onchange) }
            if chosen == 0 { { fields(store, VOLUME) } }
            { left_over(store, test, verdict) }
        </>
    }
}

/// What the designed box has in hand over the trials.
#[inline(never)]
fn left_over(store: &Handle, test: &Test, verdict: &Verdict) -> Html {
    let TestBox::Known(levels, _) = &**test else { return Html::default() };
    let volts = store.design().sheet.si(FieldId::TrialVolts);
    let found = volts.and_then(|volts| in_hand(&store.report, levels, volts, verdict.range));
    html! {
        <>
            { fields(store, VOLTS) }
            { tx("p", "small in-hand", &found.map_or_else(|| words::IN_HAND_ASK.to_owned(), text::in_hand)) }
        </>
    }
}

/// Flatness and usable level, where the microphone's curve is known.
#[inline(never)]
fn with_curve(store: &Handle, spots: &[Spot], verdict: &Verdict) -> Html {
    let design = store.design();
    if correction(&design.sheet).is_none() {
        return Html::default();
    }
    let Some(found) = absolutes(&design.sheet, &design.log.trials, verdict) else {
        return tx("p", "small", microphone_words::NOT_COVERED);
    };
    let anchor = full_scale(&design.sheet, &design.log.trials);
    let rows = text::with_curve(spots, verdict, &found, anchor);
    let rows = rows
        .iter()
        .map(|[spot, flatness, usable]| table_row("", (spot, ""), &[(flatness, ""), (usable, "")]));
    let heads = [words::PLACE, microphone_words::FLATNESS, microphone_words::USABLE];
    html! {
        <>
            <h3>{ microphone_words::WITH_CURVE }</h3>
            { scroll(microphone_words::WITH_CURVE, table("with-curve", &heads, rows.collect())) }
            { tx("p", "small", &text::about_curve(anchor.is_some())) }
        </>
    }
}

fn curves(store: &Handle, spots: &[Spot], verdict: &Verdict, cursor: &UseStateHandle<usize>) -> Html {
    let chart = Rc::new(text::overlay(spots, verdict));
    let on_move = {
        let cursor = cursor.clone();
        Callback::from(move |index| cursor.set(index))
    };
    html! {
        <>
            <h3>{ words::CURVES }</h3>
            { tx("p", "small", &text::compared(verdict)) }
            { cursor_view(&[Rc::clone(&chart)], **cursor, on_move) }
            <ChartView chart={Rc::clone(&chart)} cursor={**cursor} dark={store.is_dark()} />
            { tx("p", "small", words::CURVES_SHAPE) }
            { save_row(store, &chart) }
        </>
    }
}

fn ranking(spots: &[Spot], verdict: &Verdict) -> Html {
    let rows = text::ranking(spots, verdict);
    let rows = rows.iter().map(|row| {
        let cells =
            [(row.level.as_str(), ""), (&row.sure, ""), (&row.hole, row.hole_at.as_str()), (&row.seats, "")];
        table_row("", (&row.spot, &row.takes), &cells)
    });
    let heads = [words::PLACE, words::LEVEL, words::SURE, words::HOLE, words::SEATS_DIFFER];
    html! {
        <>
            <h3>{ words::RANKING }</h3>
            { scroll(words::RANKING, table("ranking", &heads, rows.collect())) }
            if let Some(out) = text::not_compared(spots, verdict) { { tx("p", "small", &out) } }
            if let Some(sure) = text::sure_of(verdict) { { tx("p", "small", sure) } }
            { tx("p", "small", words::RANKING_ABOUT) }
        </>
    }
}
