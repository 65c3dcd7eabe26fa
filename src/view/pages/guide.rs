//! The meter check, guided: one question a screen, the verdict at once, then the place that tells the rest apart.
use std::rc::Rc;

use web_sys::{HtmlInputElement, KeyboardEvent};
use yew::prelude::*;

use super::meter::{entered, full_list, kept, kind, log, states};
use crate::design::document::Entry;
use crate::design::limits::FieldId;
use crate::design::meter::{
    Judged, OVERRULED, Round, Spot, judge_at, judge_round, meter, next_spot, ohms, round,
};
use crate::design::report::WiringReport;
use crate::design::session::Action;
use crate::model::electrical::meter::{MeterResult, Probe, unseen};
use crate::present::format::fixed;
use crate::present::meter as present;
use crate::present::meter::Mark;
use crate::present::{figures, probe_drawing};
use crate::units::{Entered, Quantity, Resistance};
use crate::view::components::{ReadingRow, el, for_hand, gap_note, note, reading_row, tx};
use crate::view::store::{Handle, Msg, Panel};
use crate::words::guide as words;

/// The guided meter check.
#[inline(never)] // a page of its own, so that it may come after the first result
pub fn guide(store: &Handle) -> Html {
    let back = {
        let store = store.clone();
        Callback::from(move |_: MouseEvent| store.dispatch(Msg::Show(Panel::None)))
    };
    html! {
        <div class="columns panel guide">
            <div class="column">
                if let Ok(wiring) = &store.report.wiring {
                    <Guide store={store.clone()} wiring={wiring.clone()} />
                } else if let Err(gap) = &store.report.wiring {
                    { gap_note(gap) }
                }
                <button type="button" class="key" onclick={back}>{ words::BACK }</button>
            </div>
        </div>
    }
}

#[derive(PartialEq, Properties)]
struct GuideProps {
    store: Handle,
    wiring: Rc<WiringReport>,
}

/// What the user asked for beside the usual order, and what stands in the field.
#[derive(Clone, Default, PartialEq)]
struct Wish {
    coils_first: bool,
    /// A place to read whatever the order says.
    forced: Option<Spot>,
    text: String,
    open: bool,
    /// The verdict on the reading before.
    before: Option<(bool, String)>,
    reason: String,
}

/// What the field says.
#[derive(Clone, Copy, PartialEq)]
enum Read {
    Nothing,
    Wrong,
    Value(Option<Resistance>),
}

fn read(wish: &Wish, store: &Handle) -> Read {
    match (wish.open, wish.text.trim()) {
        (true, _) => Read::Value(None),
        (false, "") => Read::Nothing,
        (false, typed) => Entered::parse(typed, Quantity::Resistance, &store.prefs)
            .ok()
            .filter(|entered| (0.0..=1e6).contains(&entered.si()))
            .map_or(Read::Wrong, |entered| Read::Value(Some(Resistance::from_ohms(entered.si())))),
    }
}

#[component]
fn Guide(props: &GuideProps) -> Html {
    let (store, wiring) = (&props.store, &props.wiring);
    let wish = use_state(Wish::default);
    let sheet = &store.design().sheet;
    let round = round(&store.design().log);
    let result = judge_round(sheet, wiring, &round);
    let spot = wish.forced.or_else(|| next_spot(wiring, &round, result.as_ref(), wish.coils_first));
    match spot {
        Some(spot) => question(store, wiring, &wish, &round, result.as_ref(), spot),
        None => done(store, wiring, &wish, &round, result.as_ref()),
    }
}

type Wishes = UseStateHandle<Wish>;

/// Changes the wish.
fn with<E: 'static>(wish: &Wishes, change: impl Fn(&mut Wish, E) + 'static) -> Callback<E> {
    let wish = wish.clone();
    Callback::from(move |event: E| {
        let mut next = (*wish).clone();
        change(&mut next, event);
        wish.set(next);
    })
}

fn question(
    store: &Handle,
    wiring: &Rc<WiringReport>,
    wish: &Wishes,
    round: &Round<'_>,
    result: Option<&MeterResult>,
    spot: Spot,
) -> Html {
    let sheet = &store.design().sheet;
    let at_amplifier = sheet.choice_key(FieldId::ReadAt) == "amplifier end";
    let found = read(wish, store);
    let judged = match found {
        Read::Value(value) => judge_at(sheet, wiring, round, spot, value).ok(),
        Read::Nothing | Read::Wrong => None,
    };
    let Some(chosen) = wiring.chosen() else { return Html::default() };
    let picture = probe_drawing::draw(&chosen.tree, spot, at_amplifier);
    // A driver from behind stays as the eye finds it.
    let mirrored = store.left && !matches!(spot, Spot::At(Probe::AcrossCoil(_) | Probe::CoilAlone(_)));
    let shorted = spot == Spot::Leads && wish.open;
    html! {
        <>
            { tx("h1", "line", &present::ask(spot, at_amplifier)) }
            { tx("p", "small", words::SAFE) }
            if let Some((good, text)) = &wish.before {
                { tx("p", if *good { "small" } else { "small bad" }, &format!("{} {text}", words::LAST)) }
            }
            { for_hand(mirrored, picture, &probe_drawing::in_words(spot, at_amplifier)) }
            { reading_here(store, wish, spot, wiring, result, found) }
            <div aria-live="polite" class="verdict">
                if found == Read::Wrong { <p class="hint bad" role="alert">{ crate::words::meter::WRONG }</p> }
                if shorted { { note(crate::view::components::NoteKind::Stop, words::LEADS_OPEN) } }
                else if let Some(judged) = &judged {
                    { verdict(judged) }
                }
            </div>
            { keys(store, wish, spot, found, judged, shorted) }
        </>
    }
}

fn verdict(judged: &Judged) -> Html {
    let (mark, text) = present::judged(judged);
    let mut parts = vec![note(kind(mark), &text)];
    if let Judged::Line(result) = judged
        && mark != Mark::Good
    {
        parts.push(states(result, 3));
    }
    el("div", &[], parts)
}

/// Expected beside read; the keys for one count less and more at the thumb.
fn reading_here(
    store: &Handle,
    wish: &Wishes,
    spot: Spot,
    wiring: &WiringReport,
    result: Option<&MeterResult>,
    found: Read,
) -> Html {
    let expected = present::should_read(spot, wiring, result);
    let count = meter(&store.design().sheet).count.ohms();
    // Without a reading the keys begin where it should lie.
    let start = match (found, spot) {
        (Read::Value(Some(value)), _) => value.ohms(),
        (_, Spot::Leads) => 0.0,
        (_, Spot::At(_)) => expected
            .replace(',', ".")
            .split(['\u{a0}', ' '])
            .next()
            .and_then(|t| t.parse().ok())
            .unwrap_or(0.0),
        (_, Spot::Line) => wiring.chosen().map_or(0.0, |chosen| chosen.reading.ohms()),
    };
    let places = if count >= 0.1 {
        1
    } else if count >= 0.01 {
        2
    } else {
        3
    };
    let stepped = [-1.0, 1.0].map(|sign| fixed(((start / count).round() + sign).max(0.0) * count, places));
    reading_row(ReadingRow {
        id: "guided",
        read: words::READ,
        expect: words::EXPECT,
        expected: &expected,
        unit: "Ω",
        text: &wish.text,
        bad: found == Read::Wrong,
        left: store.left,
        steps: [words::MINUS, words::PLUS],
        stepped,
        ontext: with(wish, |next, text: String| {
            next.open = false;
            next.text = text;
        }),
    })
}

/// Keeps the reading, and what can be asked for instead.
fn keys(
    store: &Handle,
    wish: &Wishes,
    spot: Spot,
    found: Read,
    judged: Option<Judged>,
    shorted: bool,
) -> Html {
    let toggle = with(wish, |next, _: MouseEvent| next.open = !next.open);
    let keep = match (found, judged) {
        (Read::Value(value), Some(judged)) if !shorted => {
            let (store, wish) = (store.clone(), wish.clone());
            let (mark, text) = present::judged(&judged);
            Some(Callback::from(move |_: MouseEvent| {
                if let (Spot::Leads, Some(leads)) = (spot, value) {
                    set_leads(&store, leads);
                }
                log(&store, spot.subject(), value, text.clone(), Some(mark));
                wish.set(Wish {
                    before: Some((mark == Mark::Good, text.clone())),
                    coils_first: wish.coils_first,
                    ..Wish::default()
                });
            }))
        }
        _ => None,
    };
    let disabled = keep.is_none();
    let onclick = keep.unwrap_or_default();
    let coils = with(wish, |next, _: MouseEvent| next.coils_first = !next.coils_first);
    let class = if store.left { "keys guide-keys left" } else { "keys guide-keys" };
    html! {
        <div {class}>
            if spot != Spot::Leads || wish.open {
                <button type="button" class={classes!("key", wish.open.then_some("main"))} aria-pressed={if wish.open { "true" } else { "false" }}
                    onclick={toggle}>{ words::OPEN }</button>
            }
            <button type="button" class="key main" {disabled} {onclick}>{ words::KEEP }</button>
            if wish.forced.is_none() && spot == Spot::Line && !wish.coils_first {
                <button type="button" class="small-key" onclick={coils}>{ words::COILS_FIRST }</button>
            } else if wish.forced.is_none() && wish.coils_first && spot != Spot::Line {
                <button type="button" class="small-key" onclick={coils}>{ words::LINE_NOW }</button>
            }
        </div>
    }
}

/// The leads' own resistance goes to the meter's entry, so that every reading is without it.
fn set_leads(store: &Handle, leads: Resistance) {
    if let Some(leads) = entered(leads.ohms().min(5.0)) {
        store.dispatch(Msg::Do(Action::Seal));
        store.dispatch(Msg::Do(Action::Set(FieldId::MeterLeads, Entry::Number(leads))));
        store.dispatch(Msg::Do(Action::Seal));
    }
}

/// Nothing is left to tell: the verdict, what no resistance shows, and the log.
fn done(
    store: &Handle,
    wiring: &Rc<WiringReport>,
    wish: &Wishes,
    round: &Round<'_>,
    result: Option<&MeterResult>,
) -> Html {
    let Some((result, line)) = result.zip(round.line) else { return Html::default() };
    let (mark, text) = present::verdict(result);
    let force = |spot: Spot| {
        with(wish, move |next, _: MouseEvent| *next = Wish { forced: Some(spot), ..Wish::default() })
    };
    let (again, line_again) = (force(Spot::Leads), force(Spot::Line));
    html! {
        <>
            { tx("h1", "line", &words::done(&present::ohms(ohms(line)))) }
            { note(kind(mark), &text) }
            if mark != Mark::Good {
                <h3>{ words::LEFT }</h3>
                { states(result, 6) }
                { full_list(store, wiring, ohms(line), &round.evidence, result) }
                { overruled(store, wish, round, line) }
            }
            <div class="keys">
                <button type="button" class="key" onclick={line_again}>{ words::LINE_AGAIN }</button>
                <button type="button" class="key" onclick={again}>{ words::AGAIN }</button>
            </div>
            { unseen_sheet(store, wiring) }
            { kept(store) }
        </>
    }
}

fn overruled(
    store: &Handle,
    wish: &Wishes,
    round: &Round<'_>,
    line: &crate::design::document::Reading,
) -> Html {
    if let Some(overruled) = round.overruled {
        return tx("p", "", &format!("{} {}", words::OVERRULED, overruled.note));
    }
    let oninput = with(wish, |next, event: InputEvent| {
        let input: HtmlInputElement = event.target_unchecked_into();
        next.reason = input.value();
    });
    let keep = {
        let (store, wish, value) = (store.clone(), wish.clone(), ohms(line));
        move || {
            let reason = wish.reason.trim().to_owned();
            if !reason.is_empty() {
                log(&store, OVERRULED.into(), value, reason, None);
                wish.set(Wish::default());
            }
        }
    };
    let onkeydown = {
        let keep = keep.clone();
        Callback::from(move |event: KeyboardEvent| {
            if event.key() == "Enter" {
                keep();
            }
        })
    };
    let onclick = Callback::from(move |_: MouseEvent| keep());
    html! {
        <div class="stack">
            <label for="reason">{ words::OVERRULE }</label>
            <input id="reason" type="text" class="remark" maxlength="300" value={wish.reason.clone()} {oninput} {onkeydown} />
            <button type="button" class="key" disabled={wish.reason.trim().is_empty()} {onclick}>{ words::OVERRULE_KEY }</button>
        </div>
    }
}

/// What no resistance shows, and the two tests for it.
fn unseen_sheet(store: &Handle, wiring: &WiringReport) -> Html {
    let Some(chosen) = wiring.chosen() else { return Html::default() };
    let mistakes = unseen(&chosen.tree);
    let shown = mistakes.iter().take(4).map(|mistake| tx("li", "", &present::unseen(*mistake)));
    let mut list: Vec<Html> = shown.collect();
    if mistakes.len() > 4 {
        list.push(tx("li", "", &crate::words::meter::and_more(mistakes.len() - 4)));
    }
    let resonance = store.report.sound.as_ref().ok().map(|sound| figures::hertz(sound.resonance.hertz()));
    let tone = match resonance {
        Some(hz) => format!("{} {}", words::TONE, words::tone_at(&hz)),
        None => words::TONE.into(),
    };
    html! {
        <section class="sheet">
            <h3>{ words::UNSEEN_TITLE }</h3>
            { el("ul", &[], list) }
            { tx("p", "small", words::CELL) }
            { tx("p", "small", &tone) }
        </section>
    }
}
