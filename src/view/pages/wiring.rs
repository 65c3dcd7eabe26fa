//! The wiring sheet: ways to join the coils, one's own, what each coil takes, and which coils to order.
use std::rc::Rc;

use web_sys::{HtmlSelectElement, MouseEvent};
use yew::prelude::*;

use crate::design::document::Entry;
use crate::design::limits::FieldId;
use crate::design::report::{Report, WiringReport};
use crate::design::session::Action;
use crate::model::electrical::wiring::{
    Bench, CoilId, CoilSet, Join, Tree, has_apart, has_irregular, lists_every_apart, ways_in_all,
};
use crate::present::tables::{
    FurtherWiring, further_load, further_wirings, of_coil, orders, shares, wiring, wiring_steps,
};
use crate::present::{figures, format, wiring_drawing};
use crate::view::components::{
    Fold, NoteKind, el, fields, note, scroll, table, table_row, text, tx, wiring_view,
};
use crate::view::store::{Handle, Msg};
use crate::words::car as words;

const OWN: &[FieldId] = &[FieldId::Wiring];

/// Every way listed; the chosen one drawn, as steps, and with what its coils take.
pub fn wiring_sheet(store: &Handle, report: &Rc<WiringReport>) -> Html {
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
            <Options store={store.clone()} report={report.clone()} />
            if let Some(chosen) = report.chosen() {
                { wiring_view(&wiring_drawing::draw(&chosen.tree)) }
                { el("ol", &[("class", "steps")], wiring_steps(chosen).iter().map(|step| tx("li", "", step)).collect()) }
            }
            { further(store, report) }
            <Fold title={words::EDIT} content={editor} />
            { share_table(report) }
            { load_facts(&store.report, report) }
            { order_fold(&store.report) }
        </>
    }
}

#[derive(PartialEq, Properties)]
struct OptionsProps {
    store: Handle,
    report: Rc<WiringReport>,
}

/// So many ways are shown at once; of more, one for each load.
const MOST_OPTIONS: usize = 8;

/// The ways to choose from.
#[component]
fn Options(props: &OptionsProps) -> Html {
    let report = &props.report;
    let all = use_state_eq(|| false);
    let count = report.options.len();
    let short = count > MOST_OPTIONS && !*all;
    let shown = (0..count).filter(|index| !short || stands_for_a_load(report, *index));
    let rows: Vec<Html> = shown.filter_map(|index| option_row(&props.store, report, index)).collect();
    let more = {
        let all = all.clone();
        Callback::from(move |_: MouseEvent| all.set(true))
    };
    let legend = match (report.mixed, short) {
        (true, _) => words::CHOOSE_MIXED,
        (false, true) => words::CHOOSE_SHORT,
        (false, false) => words::CHOOSE,
    };
    html! {
        <>
            <fieldset class="options"><legend>{ legend }</legend>{ for rows }</fieldset>
            if short { <button type="button" class="key" onclick={more}>{ words::all_options(count) }</button> }
        </>
    }
}

/// The chosen way, and the first of each load.
fn stands_for_a_load(report: &WiringReport, index: usize) -> bool {
    let load = |at: usize| report.options.get(at).map(|option| option.nominal.ohms());
    let same = |other: usize| match (load(index), load(other)) {
        (Some(a), Some(b)) => (a / b - 1.0).abs() < 1e-9,
        _ => false,
    };
    index == report.chosen || (!same(report.chosen) && !(0..index).any(same))
}

fn option_row(store: &Handle, report: &WiringReport, index: usize) -> Option<Html> {
    let option = report.options.get(index)?;
    let row = wiring(option);
    let onchange = {
        let (store, notation) = (store.clone(), row.notation.clone());
        Callback::from(move |_: Event| choose(&store, &notation))
    };
    let chosen = index == report.chosen;
    let own = report.own && index + 1 == report.options.len();
    let key = row.notation.clone();
    Some(html! {
        <label class={classes!("option", chosen.then_some("chosen"))} {key}>
            <input type="radio" name="wiring" value={row.notation} checked={chosen} {onchange} />
            <span class="load">{ row.load }</span>
            <span class="what">{ if own { words::OWN } else { "" } }{ " " }{ row.text }
                <small>{ words::meter_reads(&row.reading) }</small>
                <small>{ words::power(&row.power, &row.share) }</small>
                <small>{ of_coil(option, report) }</small>
                if !row.stable { <small class="bad">{ words::UNSTABLE }</small> }
            </span>
        </label>
    })
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
    let nominal = report.coils.get(CoilId { driver: 0, coil: 0 }).map_or(0.0, |coil| coil.nominal.ohms());
    let store = store.clone();
    let content = Callback::from(move |()| {
        // Other coils are another list, shown from its beginning.
        html! { <Further key={format!("{drivers} {coils}")} store={store.clone()} {drivers} {coils} {nominal} /> }
    });
    html! { <Fold title={words::FURTHER} {content} /> }
}

#[derive(PartialEq, Properties)]
struct FurtherProps {
    store: Handle,
    drivers: u8,
    coils: u8,
    /// Nominal impedance of a coil, Ω.
    nominal: f64,
}

/// So many at a time.
const AT_A_TIME: usize = 60;

/// The list, made once for so many coils: some have thousands.
#[component]
fn Further(props: &FurtherProps) -> Html {
    let FurtherProps { store, drivers, coils, nominal } = props;
    let all = use_memo((*drivers, *coils), |(drivers, coils)| further_wirings(*drivers, *coils));
    let load = use_state_eq(|| None::<usize>);
    let most = use_state_eq(|| AT_A_TIME);
    let loads = loads_of(&all);
    let wanted = load.and_then(|at| loads.get(at).copied());
    let shown: Vec<&FurtherWiring> =
        all.iter().filter(|one| wanted.is_none_or(|load| one.of_coil == load)).collect();
    let ohms = |of_coil: f64| further_load(of_coil * nominal);
    let onchange = {
        let (load, most) = (load.clone(), most.clone());
        Callback::from(move |event: Event| {
            let select: HtmlSelectElement = event.target_unchecked_into();
            load.set(usize::try_from(select.selected_index() - 1).ok());
            most.set(AT_A_TIME);
        })
    };
    let more = {
        let most = most.clone();
        Callback::from(move |_: MouseEvent| most.set(*most + AT_A_TIME))
    };
    let rows = shown.iter().take(*most).map(|one| {
        let onclick = {
            let (store, notation) = (store.clone(), one.notation.clone());
            Callback::from(move |_: MouseEvent| choose(&store, &notation))
        };
        html! { <li><button type="button" class="jump" {onclick}><span>{ &one.notation }</span><small>{ ohms(one.of_coil) }</small></button></li> }
    });
    let not_every = has_apart(*drivers, *coils) && !lists_every_apart(*drivers, *coils);
    html! {
        <>
            { tx("p", "small", words::FURTHER_HOW) }
            if not_every { { tx("p", "small", &words::not_apart(ways_in_all(*drivers, *coils))) } }
            <label class="row"><span>{ words::FURTHER_LOAD }</span><span class="v"><select {onchange}>
                <option selected={load.is_none()}>{ words::every_load(all.len()) }</option>
                { for loads.iter().enumerate().map(|(at, of_coil)| html! {
                    <option selected={*load == Some(at)}>{ ohms(*of_coil) }</option>
                }) }
            </select></span></label>
            { el("p", &[("class", "small"), ("aria-live", "polite")], vec![text(&words::ways(shown.len()))]) }
            <ol class="powerlist">{ for rows }</ol>
            if shown.len() > *most { <button type="button" class="key" onclick={more}>{ words::MORE_WAYS }</button> }
        </>
    }
}

/// Every load that is there, rising.
fn loads_of(all: &[FurtherWiring]) -> Vec<f64> {
    let mut loads: Vec<f64> = Vec::new();
    for one in all {
        if !loads.contains(&one.of_coil) {
            loads.push(one.of_coil);
        }
    }
    crate::small::sort_by_number(&mut loads, |load| *load);
    loads
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
