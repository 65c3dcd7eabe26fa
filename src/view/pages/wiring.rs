//! The wiring sheet: ways to join the coils, one's own, what each coil takes, and which coils to order.
use web_sys::MouseEvent;
use yew::prelude::*;

use super::desk::fold;
use crate::design::document::Entry;
use crate::design::limits::FieldId;
use crate::design::report::{Report, WiringReport};
use crate::design::session::Action;
use crate::model::electrical::wiring::{
    Bench, CoilSet, Join, Tree, has_apart, has_irregular, lists_every_apart,
};
use crate::present::tables::{further_wirings, of_coil, orders, shares, wiring, wiring_steps};
use crate::present::{figures, format, wiring_drawing};
use crate::view::components::{Fold, NoteKind, el, fields, note, scroll, table, table_row, tx, wiring_view};
use crate::view::store::{Handle, Msg};
use crate::words::car as words;

const OWN: &[FieldId] = &[FieldId::Wiring];
const SECOND: &[FieldId] =
    &[FieldId::OtherDrivers, FieldId::OtherNominal, FieldId::OtherRe, FieldId::OtherCoils];

/// Every way listed; the chosen one drawn, as steps, and with what its coils take.
pub fn wiring_sheet(store: &Handle, report: &WiringReport) -> Html {
    let rows = report.options.iter().enumerate().map(|(index, option)| {
        let row = wiring(option);
        let choose = {
            let (store, notation) = (store.clone(), row.notation.clone());
            Callback::from(move |_: Event| choose(&store, &notation))
        };
        let chosen = index == report.chosen;
        let own = report.own && index + 1 == report.options.len();
        html! {
            <label class={classes!("option", chosen.then_some("chosen"))} key={row.notation.clone()}>
                <input type="radio" name="wiring" value={row.notation} checked={chosen} onchange={choose} />
                <span class="load">{ row.load }</span>
                <span class="what">{ if own { words::OWN } else { "" } }{ " " }{ row.text }
                    <small>{ words::meter_reads(&row.reading) }</small>
                    <small>{ words::power(&row.power, &row.share) }</small>
                    <small>{ of_coil(option, report) }</small>
                    if !row.stable { <small class="bad">{ words::UNSTABLE }</small> }
                </span>
            </label>
        }
    });
    let legend = if report.mixed { words::CHOOSE_MIXED } else { words::CHOOSE };
    let editor = {
        let (store, report) = (store.clone(), report.clone());
        Callback::from(move |()| {
            html! {
                <>
                    { tx("p", "small", words::EDIT_HOW) }
                    if let Some(chosen) = report.chosen() {
                        <Editor key={chosen.notation.clone()} store={store.clone()} tree={chosen.tree.clone()} coils={report.coils.clone()} />
                    }
                    { fields(&store, OWN) }
                    if !report.by_user && !store.design().sheet.text(FieldId::Wiring).is_empty() {
                        { note(NoteKind::Care, words::IGNORED) }
                    }
                </>
            }
        })
    };
    html! {
        <>
            <fieldset class="options"><legend>{ legend }</legend>{ for rows }</fieldset>
            if let Some(chosen) = report.chosen() {
                { wiring_view(&wiring_drawing::draw(&chosen.tree)) }
                { el("ol", &[("class", "steps")], wiring_steps(chosen).iter().map(|step| tx("li", "", step)).collect()) }
            }
            { further(store, report) }
            <Fold title={words::EDIT} content={editor} />
            { share_table(report) }
            { load_facts(&store.report, report) }
            { order_fold(&store.report) }
            { fold(store, words::SECOND_KIND, SECOND) }
        </>
    }
}

/// Wirings that share equally although their branches differ, folded: no load that the list above has not.
#[inline(never)]
fn further(store: &Handle, report: &WiringReport) -> Html {
    let counts =
        (u8::try_from(report.coils.driver_count()), report.coils.coils_per_driver().map(u8::try_from));
    let (Ok(drivers), Some(Ok(coils))) = counts else { return Html::default() };
    if report.mixed || !(has_irregular(drivers, coils) || has_apart(drivers, coils)) {
        return Html::default();
    }
    let (store, report) = (store.clone(), report.clone());
    let content = Callback::from(move |()| {
        let rows = further_wirings(&report, drivers, coils).into_iter().map(|(notation, load)| {
            let onclick = {
                let (store, notation) = (store.clone(), notation.clone());
                Callback::from(move |_: MouseEvent| choose(&store, &notation))
            };
            html! { <li><button type="button" class="jump" {onclick}><span>{ notation }</span><small>{ load }</small></button></li> }
        });
        let not_every = has_apart(drivers, coils) && !lists_every_apart(drivers, coils);
        html! {
            <>
                { tx("p", "small", words::FURTHER_HOW) }
                if not_every { { tx("p", "small", words::NOT_APART) } }
                <ol class="powerlist">{ for rows }</ol>
            </>
        }
    });
    html! { <Fold title={words::FURTHER} {content} /> }
}

fn choose(store: &Handle, notation: &str) {
    store.dispatch(Msg::Do(Action::Seal));
    store.dispatch(Msg::Do(Action::Set(FieldId::Wiring, Entry::Text(notation.to_owned()))));
}

/// What each coil takes; coils that take the same stand in one row.
fn share_table(report: &WiringReport) -> Html {
    let Some(chosen) = report.chosen() else { return Html::default() };
    let rows = shares(chosen)
        .iter()
        .map(|row| table_row("", (&row.coils, ""), &[(&row.power, ""), (&row.voltage, "")]))
        .collect();
    html! {
        <>
            <h3>{ words::SHARES }</h3>
            { table("shares", &[words::COIL, words::OF_POWER, words::OF_VOLTAGE], rows) }
        </>
    }
}

/// The load's true minimum against the amplifier's limit, and the damping.
fn load_facts(report: &Report, wiring: &WiringReport) -> Html {
    let ohm = |r: crate::units::Resistance| format::fixed(r.ohms(), 2);
    let least = report.least_load.map(|load| {
        let (least, at) = (ohm(load.least), figures::hertz(load.at.hertz()));
        match load.allowed {
            // Too low is a warning at the top of the place.
            Some(allowed) if !load.too_low() => {
                note(NoteKind::Good, &words::least_good(&least, &at, &ohm(allowed)))
            }
            Some(allowed) => note(NoteKind::Care, &words::least_good(&least, &at, &ohm(allowed))),
            None => tx("p", "small", &words::least_only(&least, &at)),
        }
    });
    let damping = wiring.damping.zip(wiring.chosen()).map(|(found, chosen)| {
        let line = format::fixed(chosen.reading.ohms(), 2);
        let q = |value: f64| format::fixed(value, 3);
        let text = words::damping(
            &format::fixed(found.source.ohms(), 3),
            &line,
            &q(found.qes),
            &q(found.qes_driven),
        );
        tx("p", "small", &text)
    });
    html! { <><div id="least">{ least.unwrap_or_default() }</div>{ damping.unwrap_or_default() }</> }
}

/// Which coil version of the driver to order.
fn order_fold(report: &Report) -> Html {
    if report.versions.is_empty() {
        return Html::default();
    }
    let versions = report.versions.clone();
    let content = Callback::from(move |()| {
        let rows = orders(&versions)
            .iter()
            .map(|row| {
                let cells = [
                    (row.load.as_str(), row.loads.as_str()),
                    (&row.power, if row.stable { "" } else { words::UNSTABLE }),
                ];
                table_row("", (&row.version, &row.wiring), &cells)
            })
            .collect();
        html! {
            <>
                { tx("p", "small", words::ORDER_HOW) }
                { scroll(words::ORDER, table("orders", &[words::VERSION, words::LOAD, words::POWER], rows)) }
            </>
        }
    });
    html! { <Fold title={words::ORDER} {content} /> }
}

#[derive(PartialEq, Properties)]
struct EditorProps {
    store: Handle,
    tree: Tree,
    coils: CoilSet,
}

/// Parts to tap, and what to do with those tapped.
#[component]
fn Editor(props: &EditorProps) -> Html {
    let bench = use_state(|| Bench::of(&props.tree, &props.coils));
    let picked = use_state(Vec::<usize>::new);
    let join = |join: Join| {
        let (bench, picked) = (bench.clone(), picked.clone());
        Callback::from(move |_: MouseEvent| {
            let mut next = (*bench).clone();
            next.join(&picked, join);
            bench.set(next);
            picked.set(Vec::new());
        })
    };
    let apart = {
        let (bench, picked) = (bench.clone(), picked.clone());
        Callback::from(move |_: MouseEvent| {
            let mut next = (*bench).clone();
            if let Some(place) = picked.first() {
                next.take_apart(*place);
            }
            bench.set(next);
            picked.set(Vec::new());
        })
    };
    let can_part =
        picked.first().and_then(|place| bench.parts.get(*place)).is_some_and(|p| p.members().is_some());
    let whole = bench.whole().cloned();
    let use_it = {
        let (store, whole) = (props.store.clone(), whole.clone());
        Callback::from(move |_: MouseEvent| {
            if let Some(whole) = &whole {
                choose(&store, &whole.to_string());
            }
        })
    };
    html! {
        <div class="editor">
            <div class="keys" role="group" aria-label={words::JOINED_SO_FAR}>
                { for bench.parts.iter().enumerate().map(|(place, part)| {
                    let on = picked.contains(&place);
                    let picked = picked.clone();
                    let onclick = Callback::from(move |_: MouseEvent| {
                        let mut next = (*picked).clone();
                        if on {
                            next.retain(|other| *other != place);
                        } else {
                            next.push(place);
                        }
                        picked.set(next);
                    });
                    html! {
                        <button type="button" class={classes!("key", on.then_some("main"))} aria-pressed={if on { "true" } else { "false" }} {onclick}>
                            { part.to_string() }</button>
                    }
                }) }
            </div>
            <div class="keys">
                <button type="button" class="key" disabled={picked.len() < 2} onclick={join(Join::Series)}>{ words::IN_SERIES }</button>
                <button type="button" class="key" disabled={picked.len() < 2} onclick={join(Join::Parallel)}>{ words::IN_PARALLEL }</button>
                <button type="button" class="key" disabled={picked.len() != 1 || !can_part} onclick={apart}>{ words::APART }</button>
                <button type="button" class="key" disabled={whole.is_none_or(|whole| whole == props.tree)} onclick={use_it}>{ words::USE }</button>
            </div>
        </div>
    }
}
