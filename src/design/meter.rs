//! The meter check of a design: its wiring, its meter, a reading.
use super::document::Sheet;
use super::limits::FieldId;
use super::report::WiringReport;
use crate::model::electrical::meter::{Meter, MeterCheck, MeterResult, ReadAt, Reading, check};
use crate::model::electrical::wiring::Tree;
use crate::model::error::ModelError;
use crate::units::Resistance;

/// Subject of a reading of the whole line, in the log.
pub const LINE_READING: &str = "line";

/// Judges what the meter shows; `None` is an open line.
///
/// # Errors
/// As [`check`].
pub fn judge(
    sheet: &Sheet,
    wiring: &WiringReport,
    shown: Option<Resistance>,
) -> Result<MeterResult, ModelError> {
    let chosen = wiring.chosen().ok_or(ModelError::Missing { what: "a wiring" })?;
    let read_at = match sheet.choice_key(FieldId::ReadAt) {
        "amplifier end" => ReadAt::AmplifierEnd { cable: wiring.cable },
        _ => ReadAt::BoxTerminals,
    };
    let tree: Tree = chosen.tree.clone();
    check(&MeterCheck {
        tree,
        coils: wiring.coils.clone(),
        reading: shown.map_or(Reading::OverRange, Reading::Shown),
        meter: meter(sheet),
        read_at,
    })
}

/// The user's meter.
#[must_use]
pub fn meter(sheet: &Sheet) -> Meter {
    Meter {
        accuracy_percent: 100.0 * sheet.si(FieldId::MeterPercent).unwrap_or(0.01),
        counts: sheet.si(FieldId::MeterCounts).unwrap_or(3.0),
        count: Resistance::from_ohms(sheet.si(FieldId::MeterStep).unwrap_or(0.1)),
        leads: Resistance::from_ohms(sheet.si(FieldId::MeterLeads).unwrap_or(0.0)),
    }
}
