//! The built box proven by its impedance.
use yew::prelude::*;

use super::guided::Guided;

use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::Report;
use crate::design::trials::read_tones;
use crate::model::acoustics::CoilImpedance;
use crate::model::measurement::{Peaks, Proof, ProofDriver, Tone, prove as proven};
use crate::present::trials as text;
use crate::units::{Frequency, Resistance, Volume};
use crate::view::components::{Fold, NoteKind, caution, fields, note, scroll, table, table_row, tx};
use crate::view::store::Handle;
use crate::words::{guided as guided_words, prove as words};

const CLOSED: &[FieldId] = &[FieldId::ProofResistor, FieldId::ProofFs, FieldId::ProofFc, FieldId::ProofStep];
const VENTED: &[FieldId] = &[
    FieldId::ProofResistor,
    FieldId::ProofSource,
    FieldId::ProofFs,
    FieldId::ProofLow,
    FieldId::ProofDip,
    FieldId::ProofHigh,
    FieldId::ProofFc,
    FieldId::ProofStep,
];

/// The built box against the drawn one.
pub(super) fn prove(store: &Handle) -> Html {
    let store = store.clone();
    let content = Callback::from(move |()| {
        let vented = store.design().sheet.choice_key(FieldId::BoxKind) == "vented";
        let said = said(&store, vented);
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
                { tx("p", "small", words::HOW) }
                { caution(guided_words::FIRST) }
                <Fold title={guided_words::DRIVER} content={driver_search} />
                <Fold title={guided_words::BOX} content={box_search} />
                { fields(&store, if vented { VENTED } else { CLOSED }) }
                <div aria-live="polite">{ said }</div>
            </>
        }
    });
    html! { <Fold title={words::TITLE} {content} /> }
}

/// What the entries prove, or what is missing or wrong with them.
#[inline(never)]
fn said(store: &Handle, vented: bool) -> Html {
    let (sheet, report) = (&store.design().sheet, &*store.report);
    let Some(proof) = entered(sheet, report, vented) else { return tx("p", "small", words::FILL) };
    let found = match proven(&proof) {
        Ok(found) => found,
        Err(error) => return note(NoteKind::Care, &error.to_string()),
    };
    let (agrees, said) = text::proof(&found, report, &store.prefs);
    let fc = sheet.si(FieldId::ProofFc).filter(|_| vented).map(Frequency::from_hertz);
    let checks = text::checks(&proof, &found, fc);
    let rows = checks.iter().map(|check| {
        let cells = [(&*check.left, ""), (&*check.right, ""), (&*check.apart, "")];
        table_row(if check.holds { "" } else { "off" }, (check.name, &check.verdict), &cells)
    });
    let lossless = matches!(proof.driver.coil, CoilImpedance::None | CoilImpedance::L { .. });
    html! {
        <>
            { note(if agrees == Some(false) { NoteKind::Care } else { NoteKind::Good }, &said) }
            { scroll(words::TITLE, table("checks", &words::CHECKS, rows.collect())) }
            if vented { { tx("p", "small leak", &text::losses(found.loss, sheet.si(FieldId::Leakage), lossless)) } }
        </>
    }
}

/// The proof as entered; `None` while something is missing.
fn entered(sheet: &Sheet, report: &Report, vented: bool) -> Option<Proof> {
    let hz = |id| sheet.si(id).map(Frequency::from_hertz);
    let peaks = if vented {
        Peaks::Vented {
            low: hz(FieldId::ProofLow)?,
            high: hz(FieldId::ProofHigh)?,
            dip: hz(FieldId::ProofDip),
            share: share(sheet),
        }
    } else {
        Peaks::Closed(hz(FieldId::ProofFc)?)
    };
    Some(Proof {
        driver: driver(sheet, report)?,
        resistor: Resistance::from_ohms(sheet.si(FieldId::ProofResistor)?),
        fs: hz(FieldId::ProofFs)?,
        peaks,
        resolution: Frequency::from_hertz(hz(FieldId::ProofStep)?.hertz() / 2.0),
    })
}

/// The reading of the search closest to the dip, over the generator's voltage.
fn share(sheet: &Sheet) -> Option<f64> {
    let dip = sheet.si(FieldId::ProofDip)?;
    let close = |tone: &&Tone| (tone.0 - dip).abs() <= 0.03 * dip;
    let tones = read_tones(sheet.text(FieldId::ProofTones));
    let least =
        tones.iter().filter(close).reduce(|least, tone| if tone.1 < least.1 { tone } else { least })?;
    Some(least.1 / sheet.si(FieldId::ProofSource)?)
}

/// All drivers as wired.
fn driver(sheet: &Sheet, report: &Report) -> Option<ProofDriver> {
    let resolved = report.driver.as_ref().ok()?;
    let printed = &resolved.small_signal;
    let re = report.wiring.as_ref().ok()?.chosen()?.reading;
    let count = 1.0 + f64::from(sheet.choice(FieldId::DriverCount));
    Some(ProofDriver {
        re,
        coil: resolved.driver.coil.scaled(re.ohms() / resolved.driver.re.ohms()),
        fs: printed.fs,
        qes: printed.qes,
        qms: printed.qms.min(100.0),
        vas: Volume::from_cubic_metres(count * printed.vas.cubic_metres()),
    })
}
