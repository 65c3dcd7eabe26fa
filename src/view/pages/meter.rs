//! The meter check: a reading goes in, what it means comes out, before anything is powered.
use std::rc::Rc;

use web_sys::HtmlInputElement;
use yew::prelude::*;

use super::desk::fold;
use crate::design::document::Reading;
use crate::design::limits::FieldId;
use crate::design::meter::{LINE, Spot, every_state, judge};
use crate::design::report::WiringReport;
use crate::design::session::Action;
use crate::model::electrical::meter::{Evidence, MeterResult};
use crate::platform::clock;
use crate::platform::signal::{Signal, buzz, sound};
use crate::present::meter::{Mark, Row, band, explanations, next, ohms, one_by_one, subject, verdict};
use crate::units::{Decimal, Entered, Quantity, Resistance, Unit};
use crate::view::components::{Fold, NoteKind, fields, head, note, table, table_row};
use crate::view::store::{Handle, Msg, Panel};
use crate::words::{guide, meter as words};

const METER: &[FieldId] = &[FieldId::MeterPercent, FieldId::MeterCounts, FieldId::MeterStep, FieldId::ReadAt];
const LEADS: &[FieldId] = &[FieldId::MeterLeads];

/// The meter check.
#[derive(PartialEq, Properties)]
pub struct MeterProps {
    /// The store.
    pub store: Handle,
    /// The coils and how they are wired.
    pub wiring: Rc<WiringReport>,
}

/// What stands in the reading's field.
#[derive(Clone, PartialEq)]
enum Read {
    Nothing,
    Wrong,
    Open,
    Value(Entered),
}

/// The meter check.
#[component]
pub fn MeterSheet(props: &MeterProps) -> Html {
    let store = &props.store;
    let text = use_state_eq(String::new);
    let open = use_state_eq(|| false);
    let read = match (*open, text.trim()) {
        (true, _) => Read::Open,
        (false, "") => Read::Nothing,
        (false, typed) => Entered::parse(typed, Quantity::Resistance, &store.prefs)
            .ok()
            .filter(|entered| (0.0..=1e6).contains(&entered.si()))
            .map_or(Read::Wrong, Read::Value),
    };
    let shown = match &read {
        Read::Open => Some(None),
        Read::Value(entered) => Some(Some(Resistance::from_ohms(entered.si()))),
        Read::Nothing | Read::Wrong => None,
    };
    let result = shown.and_then(|shown| judge(&store.design().sheet, &props.wiring, shown).ok());
    let oninput = {
        let (text, open) = (text.clone(), open.clone());
        Callback::from(move |event: InputEvent| {
            let input: HtmlInputElement = event.target_unchecked_into();
            open.set(false);
            text.set(input.value());
        })
    };
    let toggle_open = {
        let open = open.clone();
        Callback::from(move |_: MouseEvent| open.set(!*open))
    };
    let expected = props.wiring.chosen().map_or_else(String::new, |chosen| {
        format!(
            "{} to {}",
            crate::present::format::fixed(chosen.reading_low.ohms(), 2),
            ohms(Some(chosen.reading_high))
        )
    });
    let guided = {
        let store = store.clone();
        Callback::from(move |_: MouseEvent| store.dispatch(Msg::Show(Panel::Meter)))
    };
    html! {
        <section class="sheet" id="meter">{ head(words::TITLE, "") }
            <p class="small">{ words::UNPLUG }</p>
            <button type="button" class="key main" onclick={guided}>{ words::GUIDE }</button>
            { fields(store, LEADS) }
            <div class="figs two">
                <div class="fig"><label for="reading">{ words::READ }</label>
                    <span class="big"><input id="reading" type="text" inputmode="decimal" autocomplete="off" placeholder="Ω"
                        value={(*text).clone()} aria-invalid={(read == Read::Wrong).then_some("true")} {oninput} /><small>{ "Ω" }</small></span></div>
                <div class="fig"><span>{ words::EXPECT }</span><b class="big">{ expected }</b></div>
            </div>
            <div class="keys">
                <button type="button" class={classes!("key", open.then_some("main"))} aria-pressed={if *open { "true" } else { "false" }} onclick={toggle_open}>{ words::OPEN }</button>
                if let Some(shown) = shown { { keep(store, shown, result.as_ref()) } }
            </div>
            if read == Read::Wrong { <p class="hint bad" role="alert">{ words::WRONG }</p> }
            <div aria-live="polite">if let (Some(result), Some(shown)) = (&result, shown) { { meaning(store, &props.wiring, shown, result) } }</div>
            { fold(store, words::METER, METER) }
            { kept(store) }
            <p class="small"><b>{ words::UNSEEN_TITLE }</b>{ " " }{ words::UNSEEN }</p>
        </section>
    }
}

/// A mark as a note's kind.
pub(super) const fn kind(mark: Mark) -> NoteKind {
    match mark {
        Mark::Good => NoteKind::Good,
        Mark::Care => NoteKind::Care,
        Mark::Stop => NoteKind::Stop,
    }
}

/// The states that explain the reading, as a table.
pub(super) fn states(result: &MeterResult, most: usize) -> Html {
    let mut rows: Vec<Html> = explanations(result, most).iter().map(row).collect();
    if rows.is_empty() {
        rows.push(table_row("", (words::STATE_DRAWN, ""), &[(&band(result.expected_band), "")]));
    }
    table("states", &[words::COULD_BE, words::READS], rows)
}

/// Every state that explains a reading, folded: worked out and named only once it is opened.
#[inline(never)]
pub(super) fn full_list(
    store: &Handle,
    wiring: &Rc<WiringReport>,
    shown: Option<Resistance>,
    evidence: &[Evidence],
    result: &MeterResult,
) -> Html {
    let count: usize = result.explanations.iter().map(|candidate| candidate.state_count).sum();
    if count < 3 {
        return Html::default();
    }
    let (store, wiring, evidence) = (store.clone(), wiring.clone(), evidence.to_vec());
    let content = Callback::from(move |()| {
        let found = every_state(&store.design().sheet, &wiring, shown, evidence.clone()).unwrap_or_default();
        html! { <AllStates rows={one_by_one(&found)} /> }
    });
    // Another count is another list: the fold is made anew, closed.
    html! { <Fold key={count} title={words::all_states(count)} {content} /> }
}

#[derive(PartialEq, Properties)]
struct AllStatesProps {
    rows: Vec<Row>,
}

/// So many at a time: an open line of thirty-two coils has thousands.
const AT_A_TIME: usize = 100;

#[component]
fn AllStates(props: &AllStatesProps) -> Html {
    let shown = use_state_eq(|| AT_A_TIME);
    let more = {
        let shown = shown.clone();
        Callback::from(move |_: MouseEvent| shown.set(*shown + AT_A_TIME))
    };
    let rows = props.rows.iter().take(*shown).map(row).collect();
    html! {
        <>
            { crate::view::components::tx("p", "small", words::ALL_HOW) }
            { table("states", &[words::COULD_BE, words::READS], rows) }
            if props.rows.len() > *shown {
                <button type="button" class="key" onclick={more}>{ words::MORE }</button>
            }
        </>
    }
}

fn row(row: &Row) -> Html {
    table_row("", (&row.text, ""), &[(&row.value, "")])
}

fn meaning(
    store: &Handle,
    wiring: &Rc<WiringReport>,
    shown: Option<Resistance>,
    result: &MeterResult,
) -> Html {
    let (mark, text) = verdict(result);
    let next = next(result);
    html! {
        <>
            { note(kind(mark), &text) }
            { states(result, 5) }
            { full_list(store, wiring, shown, &[], result) }
            if let Some((place, rows)) = next {
                <h3>{ words::NEXT }{ ": " }{ place }</h3>
                { table("states", &[], rows.iter().map(row).collect()) }
            }
        </>
    }
}

/// Keeps the reading with its time, and sounds the verdict: the eyes are on the probe.
fn keep(store: &Handle, shown: Option<Resistance>, result: Option<&MeterResult>) -> Html {
    let (mark, note) = result.map_or((Mark::Stop, String::new()), verdict);
    let store = store.clone();
    let onclick =
        Callback::from(move |_: MouseEvent| log(&store, LINE.into(), shown, note.clone(), Some(mark)));
    html! { <button type="button" class="key main" {onclick}>{ words::KEEP }</button> }
}

/// Puts a reading into the log with the time of now; sounds and buzzes what it is worth, unless that is off.
pub(super) fn log(
    store: &Handle,
    subject: String,
    shown: Option<Resistance>,
    note: String,
    mark: Option<Mark>,
) {
    if let Some(mark) = mark {
        signal(store, mark == Mark::Good);
    }
    let value = shown.and_then(|r| entered(r.ohms()));
    let reading = Reading { at_s: (clock::now_ms() / 1000.0) as i64, subject, value, note };
    store.dispatch(Msg::Do(Action::AddReading(reading)));
}

/// A verdict for ear and hand, unless that is off: the eyes are on the probe.
pub(super) fn signal(store: &Handle, good: bool) {
    if store.sound {
        let signal = if good { Signal::Good } else { Signal::Bad };
        let _ = sound(signal);
        let _ = buzz(signal);
    }
}

/// A reading with no more digits than it has, three decimals at most.
pub(super) fn entered(ohm: f64) -> Option<Entered> {
    let places = (0..3_u8).find(|places| {
        let scaled = ohm * 10_f64.powi(i32::from(*places));
        (scaled - scaled.round()).abs() < 1e-6
    });
    let number = Decimal::from_f64(ohm, places.unwrap_or(3))?;
    Some(Entered { number, unit: Unit::Ohm })
}

/// So many readings are shown at once; the rest is folded.
const RECENT: usize = 12;

/// Readings kept, newest first: what was read, when, and a remark that can be written on it.
pub(super) fn kept(store: &Handle) -> Html {
    let count = store.design().log.readings.len();
    if count == 0 {
        return Html::default();
    }
    let earlier = {
        let store = store.clone();
        Callback::from(move |()| kept_list(&store, RECENT, usize::MAX))
    };
    html! {
        <>
            <h3>{ words::KEPT }</h3>
            { kept_list(store, 0, RECENT) }
            if count > RECENT { <Fold title={words::earlier(count - RECENT)} content={earlier} /> }
        </>
    }
}

/// So many readings after the newest ones.
fn kept_list(store: &Handle, skip: usize, most: usize) -> Html {
    let readings = &store.design().log.readings;
    html! {
        <ul class="kept">
            { for readings.iter().enumerate().rev().skip(skip).take(most).map(|(index, reading)| {
                let value = match reading.value {
                    Some(value) => value.to_text(),
                    None if Spot::of(&reading.subject).is_some() => words::NO_READING.into(),
                    None => String::new(),
                };
                // At every key: a save in between shows the list again and would take back what is typed.
                let (typing, store) = (store.clone(), store.clone());
                let oninput = Callback::from(move |event: InputEvent| {
                    let input: HtmlInputElement = event.target_unchecked_into();
                    typing.dispatch(Msg::Do(Action::Annotate(index, input.value())));
                });
                let onchange = Callback::from(move |event: Event| {
                    let input: HtmlInputElement = event.target_unchecked_into();
                    store.dispatch(Msg::Do(Action::Annotate(index, input.value().trim().to_owned())));
                });
                html! {
                    <li key={index}><b>{ value }</b>{ " " }{ subject(&reading.subject) }{ ", " }{ clock::local_time(reading.at_s) }
                        <input type="text" class="remark" maxlength="300" aria-label={guide::REMARK} placeholder={guide::REMARK}
                            value={reading.note.clone()} {oninput} {onchange} /></li>
                }
            }) }
        </ul>
    }
}
