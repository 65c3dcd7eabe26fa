//! Quick checks: no design, no driver data, two taps from opening the page.
use web_sys::{HtmlInputElement, HtmlSelectElement};
use yew::prelude::*;

use super::meter::{kind, signal};
use crate::design::document::Reading;
use crate::design::meter::meter;
use crate::design::quick::{Answer, Question, Values};
use crate::design::session::Action;
use crate::platform::clock;
use crate::present::meter::Mark;
use crate::present::quick::{fields, mark, title};
use crate::units::Entered;
use crate::view::app::StoreProps;
use crate::view::components::{el, head, note, tx};
use crate::view::store::{Handle, Msg};
use crate::words::quick as words;

/// The quick checks.
#[component]
pub fn QuickChecks(props: &StoreProps) -> Html {
    let chosen = use_state_eq(|| None::<Question>);
    html! {
        <section class="sheet" id="quick">{ head(words::TITLE, "") }
            <div class="keys four">
                { for Question::ALL.iter().copied().map(|question| {
                    let on = *chosen == Some(question);
                    let chosen = chosen.clone();
                    let onclick = Callback::from(move |_: MouseEvent| chosen.set(if on { None } else { Some(question) }));
                    html! {
                        <button type="button" class={classes!("key", on.then_some("main"))} aria-expanded={if on { "true" } else { "false" }} {onclick}>
                            { title(question) }
                        </button>
                    }
                }) }
            </div>
            if let Some(question) = *chosen { <Check key={title(question)} store={props.store.clone()} {question} /> }
        </section>
    }
}

#[derive(PartialEq, Properties)]
struct CheckProps {
    store: Handle,
    question: Question,
}

#[component]
fn Check(props: &CheckProps) -> Html {
    let (store, question) = (&props.store, props.question);
    let texts = use_state(|| vec![String::new(); fields(question).len()]);
    let choice = use_state_eq(|| 0_usize);
    let attached = use_state_eq(|| false);
    let parsed: Vec<Option<Entered>> = fields(question)
        .iter()
        .zip(texts.iter())
        .map(|(field, text)| Entered::parse(text, field.quantity, &store.prefs).ok())
        .collect();
    let values = Values {
        numbers: parsed.iter().map(|entered| entered.map(Entered::si)).collect(),
        choice: *choice,
        cable: store.prefs.cable,
        meter: meter(&store.design().sheet),
    };
    let answer = question.answer(&values);
    let text = answer.as_ref().map(|answer| crate::present::quick::text(answer, &store.prefs));
    let refused = matches!(answer, Some(Answer::Refused(_)));
    let attach = text.as_ref().filter(|_| !refused).map(|text| {
        let (store, attached, note) = (store.clone(), attached.clone(), text.clone());
        let subject = format!("quick {}", question.key());
        // Nothing but a reading is good or wrong; the eyes are on the probe then.
        let good = answer.as_ref().and_then(Answer::is_good).filter(|_| question == Question::Coil);
        Callback::from(move |_: MouseEvent| {
            let reading = Reading {
                at_s: (clock::now_ms() / 1000.0) as i64,
                subject: subject.clone(),
                value: None,
                note: note.clone(),
            };
            if let Some(good) = good {
                signal(&store, good);
            }
            store.dispatch(Msg::Do(Action::AddReading(reading)));
            attached.set(true);
        })
    });
    html! {
        <div class="quick">
            { for fields(question).iter().enumerate().map(|(i, field)| {
                let (texts, attached) = (texts.clone(), attached.clone());
                let value = texts.get(i).cloned().unwrap_or_default();
                let bad = !value.trim().is_empty() && parsed.get(i).is_none_or(Option::is_none);
                let oninput = Callback::from(move |event: InputEvent| {
                    let input: HtmlInputElement = event.target_unchecked_into();
                    let mut next = (*texts).clone();
                    if let Some(text) = next.get_mut(i) {
                        *text = input.value();
                    }
                    attached.set(false);
                    texts.set(next);
                });
                let unit = store.prefs.unit_for(field.quantity).symbol();
                html! {
                    <label class="row"><span>{ field.label }</span>
                        <span class="v"><input type="text" inputmode="decimal" autocomplete="off" placeholder={field.example}
                            {value} aria-invalid={bad.then_some("true")} {oninput} /><small>{ unit }</small></span>
                        if bad { <p class="hint bad" role="alert">{ words::NOT_A_NUMBER }</p> }
                    </label>
                }
            }) }
            { sizes(question, &values, &choice) }
            if let Some(text) = text {
                <div aria-live="polite">{ told(answer.as_ref().and_then(mark), &text) }</div>
            } else { <p class="small">{ words::FILL }</p> }
            if let Some(attach) = attach {
                <button type="button" class="key" disabled={*attached} onclick={attach}>{ if *attached { words::ATTACHED } else { words::ATTACH } }</button>
            }
        </div>
    }
}

/// A verdict with its sign; a figure without one.
fn told(mark: Option<Mark>, words: &str) -> Html {
    match mark {
        Some(mark) => note(kind(mark), words),
        None => el("div", &[("class", "note plain")], vec![tx("p", "", words)]),
    }
}

/// The cable sizes to choose from, where the question asks for one.
fn sizes(question: Question, values: &Values, choice: &UseStateHandle<usize>) -> Html {
    let sizes = question.sizes(values.cable);
    if sizes.is_empty() {
        return Html::default();
    }
    let onchange = {
        let choice = choice.clone();
        Callback::from(move |event: Event| {
            let select: HtmlSelectElement = event.target_unchecked_into();
            choice.set(usize::try_from(select.selected_index()).unwrap_or(0));
        })
    };
    html! {
        <label class="row"><span>{ words::SIZE }</span><span class="v"><select {onchange}>
            { for sizes.iter().enumerate().map(|(i, size)| html! {
                <option selected={i == **choice}>{ crate::present::tables::size(*size) }</option>
            }) }
        </select></span></label>
    }
}
