//! The built box proven by its impedance.
use yew::prelude::*;

use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::Report;
use crate::model::error::ModelError;
use crate::model::measurement::{ClosedProof, ProvenBox, VentedProof, prove_closed, prove_vented};
use crate::present::trials as text;
use crate::units::{Frequency, Volume};
use crate::view::components::{Fold, NoteKind, fields, note, tx};
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
