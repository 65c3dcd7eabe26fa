//! A new trial: where the box stands, who listens, and what was read.
use std::rc::Rc;

use web_sys::HtmlTextAreaElement;
use yew::prelude::*;

use super::kept;
use super::listen::{HeardSweep, SweepPanel};
use super::plan::{Pin, plan, side};
use super::{Shown, choice_row, input_row, key, on_choice, on_text, owned};
use crate::design::limits::FieldId;
use crate::design::session::Action;
use crate::design::trials::{Aim, MAX_TRIALS, Trial, spots};
use crate::model::measurement::columns::{self, Columns};
use crate::model::measurement::{Curve, THIRD_OCTAVE_TONES_HZ, Takes, Weighting};
use crate::platform::kept::Recording;
use crate::platform::{clock, files};
use crate::present::trials::{LOUDEST_DB, columns_error, preview};
use crate::units::parse_number;
use crate::view::components::{NoteKind, caution, fields, note, tx};
use crate::view::store::{Handle, Msg};
use crate::words::{sweep as sweep_words, trials as words};

const METER: &[FieldId] = &[FieldId::TrialMeter];
/// Fewest tones that make a trial.
const FEWEST_TONES: usize = 6;
/// Ways to levels by their place in the list.
const TONES_WAY: usize = 0;
const SWEEP_WAY: usize = 2;
const TONES: usize = THIRD_OCTAVE_TONES_HZ.len();

/// What is entered of a new trial.
#[derive(Clone, Default, PartialEq)]
pub(super) struct Draft {
    spot: String,
    aim: usize,
    degrees: String,
    seat: usize,
    state: u8,
    used: String,
    place: Option<[u8; 2]>,
    height: Option<u8>,
    /// The way to levels, as in [`crate::design::trials::WAYS`].
    way: usize,
    tones: [String; TONES],
    text: Rc<str>,
    column: usize,
    heard: Option<Rc<HeardSweep>>,
    /// Whether keeping it was tried, so that what is missing is told.
    tried: bool,
}

/// The levels of a draft.
enum Levels {
    /// A curve for each take, and the loudest level typed.
    Ready(Vec<Vec<f64>>, f64),
    /// What is missing or wrong, to be told.
    Waiting(String),
}

impl Draft {
    /// A further take of a trial, by the way chosen last.
    pub(super) fn repeating(trial: &Trial, old: &Self) -> Self {
        let named = Aim::NAMED.iter().position(|(aim, _)| *aim == trial.aim);
        let degrees = match trial.aim {
            Aim::Degrees(degrees) => degrees.to_string(),
            _ => String::new(),
        };
        Self {
            spot: trial.spot.clone(),
            aim: named.unwrap_or(Aim::NAMED.len()),
            degrees,
            seat: trial.seat.into(),
            state: trial.state,
            used: trial.used.clone(),
            place: trial.place,
            height: trial.height,
            way: old.way,
            column: old.column,
            ..Self::default()
        }
    }
    /// The same place, ready for the next readings.
    fn next(&self) -> Self {
        Self { tones: Default::default(), text: Rc::from(""), heard: None, tried: false, ..self.clone() }
    }
    fn aim(&self) -> Aim {
        match Aim::NAMED.get(self.aim) {
            Some((aim, _)) => *aim,
            None => Aim::Degrees(parse_number(&self.degrees).map_or(0, |degrees| {
                // Within a turn, so that the cast is exact.
                degrees.value().rem_euclid(360.0) as u16
            })),
        }
    }
    fn levels(&self, weighting: Weighting) -> Levels {
        match (self.way, &self.heard) {
            (TONES_WAY, _) => self.tone_levels(weighting),
            (SWEEP_WAY, Some(takes)) => Levels::Ready(takes.curves_db.clone(), f64::NEG_INFINITY),
            (SWEEP_WAY, None) => Levels::Waiting(sweep_words::NOT_HEARD.into()),
            _ => self.text_levels(),
        }
    }
    fn tone_levels(&self, weighting: Weighting) -> Levels {
        let typed = THIRD_OCTAVE_TONES_HZ.iter().zip(&self.tones).filter(|(_, text)| !text.trim().is_empty());
        let mut points = Vec::new();
        let mut loudest = f64::NEG_INFINITY;
        for (hz, text) in typed {
            let Some(level) = level(text) else { return Levels::Waiting(words::NOT_A_LEVEL.into()) };
            loudest = loudest.max(level);
            points.push((*hz, weighting.taken_off(level, *hz)));
        }
        match Curve::new(&points) {
            Ok(curve) if points.len() >= FEWEST_TONES => Levels::Ready(vec![curve.for_trial()], loudest),
            _ => Levels::Waiting(words::FEW_LEVELS.into()),
        }
    }
    fn text_levels(&self) -> Levels {
        let columns = match columns::read(&self.text) {
            Ok(columns) => columns,
            Err(error) => return Levels::Waiting(columns_error(&error)),
        };
        let chosen: Vec<usize> = match self.column(&columns) {
            Some(column) => vec![column],
            None => (2..=columns.columns).collect(),
        };
        let mut curves = Vec::new();
        for column in chosen {
            match columns.curve(column) {
                Ok(curve) => curves.push(curve.for_trial()),
                Err(error) => return Levels::Waiting(columns_error(&error)),
            }
        }
        Levels::Ready(curves, f64::NEG_INFINITY)
    }
    /// The column of levels chosen; `None` for all of them.
    fn column(&self, columns: &Columns) -> Option<usize> {
        let column = self.column + 2;
        if columns.columns == 2 || columns.has_phase() {
            Some(2)
        } else {
            (column <= columns.columns).then_some(column)
        }
    }
}

/// A level as read off a meter.
fn level(text: &str) -> Option<f64> {
    parse_number(text).ok().map(|number| number.value()).filter(|level| (0.0..=140.0).contains(level))
}

/// A change of the draft.
fn change(draft: &UseStateHandle<Draft>, edit: impl FnOnce(&mut Draft)) {
    let mut next = (**draft).clone();
    edit(&mut next);
    draft.set(next);
}

/// The form.
pub(super) fn form(store: &Handle, draft: &UseStateHandle<Draft>, fresh: &UseStateHandle<u64>) -> Html {
    let weighting = match store.design().sheet.choice_key(FieldId::TrialMeter) {
        "A" => Weighting::A,
        "Z" => Weighting::Z,
        _ => Weighting::C,
    };
    let refused = draft.way == TONES_WAY && !weighting.fits_bass();
    let way = {
        let draft = draft.clone();
        on_choice(move |at| change(&draft, |draft| draft.way = at))
    };
    let levels = draft.levels(weighting);
    html! {
        <div id="new-trial" class="new-trial">
            <h3>{ words::NEW }</h3>
            { where_it_stands(store, draft) }
            { choice_row(words::BY, &owned(&[words::BY_TONES, words::BY_COLUMNS, sweep_words::BY_SWEEP]), draft.way, way) }
            if draft.way == SWEEP_WAY {
                { by_sweep(store, draft) }
            } else if draft.way != TONES_WAY {
                { by_text(store, draft) }
            } else {
                { fields(store, METER) }
                if refused { { note(NoteKind::Stop, words::WEIGHTING_A) } } else { { by_tones(draft) } }
            }
            if !refused {
                if let Levels::Ready(_, loudest) = &levels {
                    if *loudest > LOUDEST_DB { { caution(words::TOO_LOUD) } }
                }
                { keep(store, draft, fresh, levels) }
            }
        </div>
    }
}

fn where_it_stands(store: &Handle, draft: &UseStateHandle<Draft>) -> Html {
    let text_row = |label, value: &str, example, edit: fn(&mut Draft, String)| {
        let draft = draft.clone();
        let shown = Shown { label, value, unit: "", example, refusal: None, text: true };
        input_row(&shown, on_text(move |text| change(&draft, |draft| edit(draft, text))))
    };
    let choose = |edit: fn(&mut Draft, usize)| {
        let draft = draft.clone();
        on_choice(move |at| change(&draft, |draft| edit(draft, at)))
    };
    let tapped = {
        let draft = draft.clone();
        Callback::from(move |place| change(&draft, |draft| draft.place = Some(place)))
    };
    let tapped_side = {
        let draft = draft.clone();
        Callback::from(move |[along, height]: [u8; 2]| {
            change(&draft, |draft| {
                let [x, _] = draft.place.unwrap_or([50, 50]);
                draft.place = Some([x, along]);
                draft.height = Some(height);
            });
        })
    };
    let height_row = {
        let edit = draft.clone();
        let oninput = on_text(move |text| {
            let Ok(share) = text.parse::<u8>() else { return };
            change(&edit, |draft| draft.height = Some(share));
        });
        share_row(words::HEIGHT, draft.height.unwrap_or(0), oninput)
    };
    let slider = |label: &'static str, axis: usize| {
        let at = draft.place.map_or(50, |place| if axis == 0 { place[0] } else { place[1] });
        let draft = draft.clone();
        let oninput = on_text(move |text| {
            let Ok(share) = text.parse::<u8>() else { return };
            change(&draft, |draft| {
                let [x, y] = draft.place.unwrap_or([50, 50]);
                draft.place = Some(if axis == 0 { [share, y] } else { [x, share] });
            });
        });
        share_row(label, at, oninput)
    };
    let refusal = draft.tried && draft.spot.trim().is_empty();
    let spot = {
        let draft = draft.clone();
        on_text(move |text| change(&draft, |draft| draft.spot = text))
    };
    let shown = Shown {
        label: words::SPOT,
        value: &draft.spot,
        unit: "",
        example: words::SPOT_EXAMPLE,
        refusal: refusal.then_some(words::NO_SPOT),
        text: true,
    };
    html! {
        <>
            { input_row(&shown, spot) }
            { tx("p", "small", words::PLAN) }
            { plan(&pins(store, draft), tapped) }
            { slider(words::ACROSS, 0) }
            { slider(words::ALONG, 1) }
            { tx("p", "small", words::SIDE) }
            { side(&pins(store, draft), tapped_side) }
            { height_row }
            { choice_row(words::AIM, &owned(&words::AIMS), draft.aim, choose(|draft, at| draft.aim = at)) }
            if draft.aim >= Aim::NAMED.len() { { degrees(draft) } }
            { choice_row(words::SEAT, &owned(&words::SEATS), draft.seat, choose(|draft, at| draft.seat = at)) }
            { states(draft) }
            { text_row(words::USED, &draft.used, words::USED_EXAMPLE, |draft, text| draft.used = text) }
        </>
    }
}

/// A slider for a place in per cent.
fn share_row(label: &'static str, at: u8, oninput: Callback<InputEvent>) -> Html {
    html! {
        <label class="cursor"><span>{ label }{ " " }<b>{ at.to_string() }{ "\u{a0}%" }</b></span>
            <input type="range" min="0" max="100" step="1" value={at.to_string()} {oninput} /></label>
    }
}

/// The spots tried, numbered in their order, and the one being entered.
fn pins(store: &Handle, draft: &Draft) -> Vec<Pin> {
    let tried = spots(&store.design().log.trials);
    let pin = |(number, spot): (usize, &crate::design::trials::Spot)| {
        Some(Pin { place: spot.place?, height: spot.height, mark: (number + 1).to_string(), own: false })
    };
    let mut pins: Vec<Pin> = tried.iter().enumerate().filter_map(pin).collect();
    pins.extend(draft.place.map(|place| Pin { place, height: draft.height, mark: "+".into(), own: true }));
    pins
}

/// An aim in degrees; what is no number is told, as it would count as 0.
fn degrees(draft: &UseStateHandle<Draft>) -> Html {
    let typed = draft.degrees.trim();
    let wrong = !typed.is_empty() && parse_number(typed).is_err();
    let shown = Shown {
        label: words::DEGREES,
        value: &draft.degrees,
        unit: "°",
        example: "45",
        refusal: wrong.then_some(words::NOT_DEGREES),
        text: false,
    };
    let draft = draft.clone();
    input_row(&shown, on_text(move |text| change(&draft, |draft| draft.degrees = text)))
}

fn states(draft: &UseStateHandle<Draft>) -> Html {
    let boxes = words::STATES.iter().enumerate().map(|(bit, label)| {
        let on = draft.state >> bit & 1 == 1;
        let draft = draft.clone();
        let onchange = Callback::from(move |_: Event| change(&draft, |draft| draft.state ^= 1 << bit));
        html! {
            <label class={classes!("choice", on.then_some("on"))}>
                <input type="checkbox" checked={on} {onchange} />{ *label }</label>
        }
    });
    html! { <fieldset class="switch"><legend>{ words::STATE }</legend>{ for boxes }</fieldset> }
}

fn by_tones(draft: &UseStateHandle<Draft>) -> Html {
    let rows = THIRD_OCTAVE_TONES_HZ.iter().zip(&draft.tones).enumerate().map(|(i, (hz, text))| {
        let wrong = !text.trim().is_empty() && level(text).is_none();
        let draft = draft.clone();
        let oninput = on_text(move |text| {
            change(&draft, |draft| {
                draft.tones.iter_mut().skip(i).take(1).for_each(|tone| *tone = text.clone())
            });
        });
        let label = words::tone(&hz.to_string());
        let refusal = wrong.then_some(words::NOT_A_LEVEL);
        input_row(
            &Shown { label: &label, value: text, unit: "dB", example: "–", refusal, text: false },
            oninput,
        )
    });
    html! { <>{ tx("p", "small", words::WEIGHTING_OK) }{ for rows }</> }
}

fn by_text(store: &Handle, draft: &UseStateHandle<Draft>) -> Html {
    let put = {
        let draft = draft.clone();
        move |text: &str| change(&draft, |draft| draft.text = Rc::from(text))
    };
    let oninput = {
        let put = put.clone();
        Callback::from(move |event: InputEvent| {
            let area: HtmlTextAreaElement = event.target_unchecked_into();
            put(&area.value());
        })
    };
    let pick = pick_text(store, put);
    html! {
        <>
            <label class="stack"><span>{ words::PASTE }</span>
                <textarea rows="5" autocomplete="off" spellcheck="false" value={draft.text.to_string()} {oninput} /></label>
            { key(words::PICK, "key", pick) }
            { read_as(draft) }
        </>
    }
}

/// A key's answer that opens a file dialog and gives the file's text to `put`.
pub(super) fn pick_text(store: &Handle, put: impl Fn(&str) + Clone + 'static) -> Callback<MouseEvent> {
    let store = store.clone();
    Callback::from(move |_: MouseEvent| {
        let (handle, put) = (store.clone(), put.clone());
        let picked =
            files::pick(".txt,.csv,.tsv,text/*", columns::MAX_TEXT as f64, move |picked| match picked {
                Ok(Some(file)) => put(&file.text),
                Ok(None) => {}
                Err(_) => handle.dispatch(Msg::Tell(words::PICK_FAILED.into())),
            });
        if picked.is_err() {
            store.dispatch(Msg::Tell(words::PICK_FAILED.into()));
        }
    })
}

fn by_sweep(store: &Handle, draft: &UseStateHandle<Draft>) -> Html {
    let heard = {
        let draft = draft.clone();
        Callback::from(move |takes: Option<Rc<HeardSweep>>| change(&draft, |draft| draft.heard = takes))
    };
    let full_scale_db = store.design().sheet.si(FieldId::FullScale);
    html! { <SweepPanel {heard} {full_scale_db} /> }
}

/// What the text was read as.
fn read_as(draft: &UseStateHandle<Draft>) -> Html {
    if draft.text.trim().is_empty() {
        return Html::default();
    }
    let columns = match columns::read(&draft.text) {
        Ok(columns) => columns,
        Err(error) => return note(NoteKind::Care, &columns_error(&error)),
    };
    let column = draft.column(&columns);
    let headings = columns.headings.iter().map(|heading| tx("p", "small", heading));
    let choice = (columns.columns > 2 && !columns.has_phase()).then(|| {
        let mut options: Vec<String> = (2..=columns.columns).map(words::column).collect();
        options.push(words::ALL_COLUMNS.into());
        let draft = draft.clone();
        let chosen = draft.column.min(options.len() - 1);
        choice_row(
            words::COLUMN,
            &options,
            chosen,
            on_choice(move |at| change(&draft, |draft| draft.column = at)),
        )
    });
    html! {
        <div aria-live="polite">{ for headings }{ tx("p", "small", &preview(&columns, column.unwrap_or(2))) }{ choice.unwrap_or_default() }</div>
    }
}

/// What this device keeps of the draft's takes.
fn recording(draft: &Draft, curves: &[Vec<f64>]) -> Recording {
    let heard = draft.heard.as_ref().filter(|_| draft.way == SWEEP_WAY);
    Recording {
        rate_hz: heard.map_or(0.0, |heard| heard.rate_hz),
        samples: heard.map(|heard| heard.samples.clone()).unwrap_or_default(),
        curves: curves.to_vec(),
        excluded: Vec::new(),
    }
}

fn keep(store: &Handle, draft: &UseStateHandle<Draft>, fresh: &UseStateHandle<u64>, levels: Levels) -> Html {
    let waiting = match &levels {
        Levels::Waiting(why) if draft.tried => Some(why.clone()),
        _ => None,
    };
    let onclick = {
        let (store, draft, fresh) = (store.clone(), draft.clone(), fresh.clone());
        Callback::from(move |_: MouseEvent| {
            let Levels::Ready(curves, _) = &levels else { return change(&draft, |draft| draft.tried = true) };
            if draft.spot.trim().is_empty() {
                return change(&draft, |draft| draft.tried = true);
            }
            if store.design().log.trials.len() >= MAX_TRIALS {
                return store.dispatch(Msg::Tell(words::FULL.into()));
            }
            let trial = trial(&draft, curves, &store.design().log.trials);
            let at_s = trial.at_s;
            store.dispatch(Msg::Do(Action::PutTrial(None, Box::new(trial))));
            kept::keep(&store, &fresh, at_s, recording(&draft, curves));
            draft.set(draft.next());
        })
    };
    html! {
        <>
            if let Some(why) = waiting { <p class="hint bad" role="alert">{ why }</p> }
            <div class="keys">{ key(words::ADD, "key main", onclick) }</div>
        </>
    }
}

fn trial(draft: &Draft, curves: &[Vec<f64>], others: &[Trial]) -> Trial {
    // The time is also what this device's recordings go by: no two trials share it.
    let mut at_s = (clock::now_ms() / 1000.0) as i64;
    while others.iter().any(|other| other.at_s == at_s) {
        at_s += 1;
    }
    let code = |index: usize| u8::try_from(index).unwrap_or(0);
    let mut trial = Trial {
        at_s,
        spot: draft.spot.clone(),
        place: draft.place,
        aim: draft.aim(),
        used: draft.used.clone(),
        seat: code(draft.seat),
        state: draft.state,
        way: code(draft.way),
        takes: 1,
        level: Vec::new(),
        spread: Vec::new(),
        level_spread: None,
        height: draft.height,
        left_out: false,
        note: String::new(),
    };
    trial.set_takes(&Takes::over(curves));
    trial
}
