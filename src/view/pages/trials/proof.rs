//! The built box proven by its impedance, and the subwoofer with the front speakers.
use yew::prelude::*;

use super::on_text;
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::Report;
use crate::model::error::ModelError;
use crate::model::measurement::{
    ClosedProof, FrontLevels, FrontPhase, Polarity, ProvenBox, VentedProof, front_phase, polarity,
    prove_closed, prove_vented,
};
use crate::present::trials as text;
use crate::units::{Frequency, Volume, parse_number};
use crate::view::components::{Fold, NoteKind, fields, note, table_row, tx};
use crate::view::store::Handle;
use crate::words::trials as words;

const CLOSED: &[FieldId] = &[FieldId::ProofFs, FieldId::ProofFc, FieldId::ProofStep];
const VENTED: &[FieldId] =
    &[FieldId::ProofFs, FieldId::ProofLow, FieldId::ProofDip, FieldId::ProofHigh, FieldId::ProofStep];

/// The built box against the drawn one.
pub(super) fn prove(store: &Handle) -> Html {
    let store = store.clone();
    let content = Callback::from(move |()| {
        let vented = store.design().sheet.choice_key(FieldId::BoxKind) == "vented";
        let found = proven(&store.design().sheet, &store.report, vented);
        let said = match found {
            None => tx("p", "small", words::PROVE_FILL),
            Some(Err(error)) => note(NoteKind::Care, &error.to_string()),
            Some(Ok(found)) => {
                let (agrees, said) = text::proof(&found, &store.report, &store.prefs);
                note(if agrees == Some(false) { NoteKind::Care } else { NoteKind::Good }, &said)
            }
        };
        html! {
            <>
                { tx("p", "small", words::PROVE_HOW) }
                { fields(&store, if vented { VENTED } else { CLOSED }) }
                <div aria-live="polite">{ said }</div>
            </>
        }
    });
    html! { <Fold title={words::PROVE} {content} /> }
}

/// What the entries prove; `None` while some are missing.
fn proven(sheet: &Sheet, report: &Report, vented: bool) -> Option<Result<ProvenBox, ModelError>> {
    let hz = |id| sheet.si(id).map(Frequency::from_hertz);
    let fs = hz(FieldId::ProofFs)?;
    let resolution = Frequency::from_hertz(hz(FieldId::ProofStep)?.hertz() / 2.0);
    let vas = vas(sheet, report)?;
    if vented {
        let (low, high) = (hz(FieldId::ProofLow)?, hz(FieldId::ProofHigh)?);
        return Some(prove_vented(VentedProof {
            fs,
            low,
            high,
            dip: hz(FieldId::ProofDip),
            resolution,
            vas,
        }));
    }
    Some(prove_closed(ClosedProof { fs, fc: hz(FieldId::ProofFc)?, resolution, vas }))
}

/// Vas of all drivers in the box.
fn vas(sheet: &Sheet, report: &Report) -> Option<Volume> {
    let one = report.driver.as_ref().ok()?.small_signal.vas;
    let count = 1.0 + f64::from(sheet.choice(FieldId::DriverCount));
    Some(Volume::from_cubic_metres(count * one.cubic_metres()))
}

/// Turning something is a thing to do; the rest is to go on.
fn advice_kind(advice: Polarity) -> NoteKind {
    if advice == Polarity::Turn { NoteKind::Care } else { NoteKind::Good }
}

/// Bands in which a subwoofer and front speakers meet.
const BANDS_HZ: [f64; 4] = [50.0, 63.0, 80.0, 100.0];

/// Three levels a band, and what they tell of the polarity.
#[component]
pub(super) fn FrontSpeakers() -> Html {
    let texts = use_state(|| vec![String::new(); 3 * BANDS_HZ.len()]);
    let read = |band: usize, what: usize| {
        texts.get(3 * band + what).and_then(|text| parse_number(text).ok()).map(|number| number.value())
    };
    let phase = |(band, hz): (usize, &f64)| {
        let levels = FrontLevels {
            hz: *hz,
            sub_db: read(band, 0)?,
            front_db: read(band, 1)?,
            both_db: read(band, 2)?,
        };
        Some(front_phase(levels))
    };
    let phases: Vec<Option<Result<FrontPhase, ModelError>>> =
        BANDS_HZ.iter().enumerate().map(phase).collect();
    let sound: Vec<FrontPhase> =
        phases.iter().flatten().filter_map(|phase| phase.as_ref().ok()).copied().collect();
    let wrong = phases.iter().flatten().find_map(|phase| phase.as_ref().err());
    let cell = |band: usize, what: usize, name: &str, hz: f64| {
        let at = 3 * band + what;
        let all = texts.clone();
        let oninput = on_text(move |text| {
            let mut next = (*all).clone();
            next.iter_mut().skip(at).take(1).for_each(|old| *old = text.clone());
            all.set(next);
        });
        html! {
            <input type="text" inputmode="decimal" autocomplete="off" placeholder="dB" value={texts.get(at).cloned().unwrap_or_default()}
                aria-label={words::front_label(name, &hz.to_string())} {oninput} />
        }
    };
    let rows = BANDS_HZ.iter().enumerate().map(|(band, hz)| html! {
        <div class="three"><b>{ words::tone(&hz.to_string()) }</b>
            { cell(band, 0, words::SUB, *hz) }{ cell(band, 1, words::FRONT_SPEAKERS, *hz) }{ cell(band, 2, words::BOTH, *hz) }</div>
    });
    let found = sound.iter().map(|band| {
        let (angle, turned) = text::front_band(band);
        table_row("", (&words::tone(&band.hz.to_string()), ""), &[(&angle, ""), (&turned, "")])
    });
    html! {
        <>
            { tx("p", "small", words::FRONTS_HOW) }
            <div class="three"><span>{ words::BAND }</span><span>{ words::SUB }</span><span>{ words::FRONT_SPEAKERS }</span><span>{ words::BOTH }</span></div>
            { for rows }
            <div aria-live="polite">
                if let Some(error) = wrong { { note(NoteKind::Care, &error.to_string()) } }
                if !sound.is_empty() {
                    { crate::view::components::table("fronts", &[words::BAND, words::ANGLE, words::TURN_GAIN], found.collect()) }
                    { note(advice_kind(polarity(&sound)), text::polarity(polarity(&sound))) }
                }
            </div>
        </>
    }
}
