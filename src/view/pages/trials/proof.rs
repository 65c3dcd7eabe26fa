//! The built box proven by its impedance.
use yew::prelude::*;

use super::guided::Guided;

use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::Report;
use crate::design::trials::read_tones;
use crate::model::error::ModelError;
use crate::model::measurement::{
    ClosedProof, ProvenBox, Tone, VentedProof, box_leakage, impedance_of, prove_closed, prove_vented,
};
use crate::present::trials as text;
use crate::units::{Frequency, Volume};
use crate::view::components::{Fold, NoteKind, caution, fields, note, tx};
use crate::view::store::Handle;
use crate::words::{guided as guided_words, trials as words};

const CLOSED: &[FieldId] = &[FieldId::ProofFs, FieldId::ProofFc, FieldId::ProofStep];
const VENTED: &[FieldId] =
    &[FieldId::ProofFs, FieldId::ProofLow, FieldId::ProofDip, FieldId::ProofHigh, FieldId::ProofStep];

const LEAK: &[FieldId] = &[FieldId::ProofResistor, FieldId::ProofSource];

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
        let box_search = {
            let store = store.clone();
            Callback::from(
                move |()| html! { <Guided store={store.clone()} field={FieldId::ProofTones} {vented} /> },
            )
        };
        let driver_search = {
            let store = store.clone();
            Callback::from(
                move |()| html! { <Guided store={store.clone()} field={FieldId::ProofDriverTones} vented={false} /> },
            )
        };
        html! {
            <>
                { tx("p", "small", words::PROVE_HOW) }
                { caution(guided_words::FIRST) }
                <Fold title={guided_words::DRIVER} content={driver_search} />
                <Fold title={guided_words::BOX} content={box_search} />
                { fields(&store, if vented { VENTED } else { CLOSED }) }
                <div aria-live="polite">{ said }</div>
                if vented {
                    { fields(&store, LEAK) }
                    { tx("p", "small leak", &text::leakage(leak(&store), store.design().sheet.si(FieldId::Leakage))) }
                }
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

/// QL by the dip: its impedance from the reading of the search closest to it.
fn leak(store: &Handle) -> Option<f64> {
    let (sheet, report) = (&store.design().sheet, &*store.report);
    let proven = proven(sheet, report, true)?.ok()?;
    let dip = sheet.si(FieldId::ProofDip)?;
    let close = |tone: &&Tone| (tone.0 - dip).abs() <= 0.03 * dip;
    let tones = read_tones(sheet.text(FieldId::ProofTones));
    let least =
        tones.iter().filter(close).reduce(|least, tone| if tone.1 < least.1 { tone } else { least })?;
    let z = impedance_of(least.1, sheet.si(FieldId::ProofSource)?, sheet.si(FieldId::ProofResistor)?)?;
    let driver = &report.driver.as_ref().ok()?.small_signal;
    let re = report.wiring.as_ref().ok()?.chosen()?.reading.ohms();
    box_leakage(
        &proven,
        Frequency::from_hertz(sheet.si(FieldId::ProofFs)?),
        vas(sheet, report)?,
        (driver.qes, driver.qms),
        z / re,
    )
}

/// Vas of all drivers in the box.
fn vas(sheet: &Sheet, report: &Report) -> Option<Volume> {
    let one = report.driver.as_ref().ok()?.small_signal.vas;
    let count = 1.0 + f64::from(sheet.choice(FieldId::DriverCount));
    Some(Volume::from_cubic_metres(count * one.cubic_metres()))
}
