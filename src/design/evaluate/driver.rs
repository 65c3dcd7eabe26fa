//! From the typed data sheet to a driver.
use super::Filled;
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{Gap, Part};
use crate::model::acoustics::datasheet::{
    Connection, DataSheet, DataSheetError, Origin, Parameter, Printed, Resolved, resolve as resolve_sheet,
};

/// Field of each parameter a data sheet prints.
pub(super) const PARAMETERS: &[(Parameter, FieldId)] = &[
    (Parameter::Fs, FieldId::Fs),
    (Parameter::Re, FieldId::Re),
    (Parameter::Qes, FieldId::Qes),
    (Parameter::Qms, FieldId::Qms),
    (Parameter::Qts, FieldId::Qts),
    (Parameter::Vas, FieldId::Vas),
    (Parameter::Sd, FieldId::Sd),
    (Parameter::Xmax, FieldId::Xmax),
    (Parameter::Le, FieldId::Le),
    (Parameter::Mms, FieldId::Mms),
    (Parameter::Cms, FieldId::Cms),
    (Parameter::Bl, FieldId::Bl),
];

/// The field of a parameter, if it can be typed.
#[must_use]
pub(crate) fn field_of(parameter: Parameter) -> Option<FieldId> {
    PARAMETERS.iter().find(|(p, _)| *p == parameter).map(|(_, id)| *id)
}

/// How many coils a driver has.
pub(super) fn coils(sheet: &Sheet) -> u8 {
    sheet.choice_key(FieldId::Coils).parse().unwrap_or(1)
}

pub(super) fn resolve(sheet: &Sheet, filled: &mut Filled) -> Part<Resolved> {
    let printed = |id: FieldId| {
        sheet
            .given(id)
            .filter(|entered| entered.si() > 0.0)
            .map(|entered| Printed::new(entered.si(), entered.half_digit_si()))
    };
    let data = DataSheet {
        coils: u32::from(coils(sheet)),
        measured: match sheet.choice_key(FieldId::SheetConnection) {
            "one coil" => Connection::OneCoil,
            "parallel" => Connection::Parallel,
            _ => Connection::Series,
        },
        fs: printed(FieldId::Fs),
        re_per_coil: printed(FieldId::Re),
        qes: printed(FieldId::Qes),
        qms: printed(FieldId::Qms),
        qts: printed(FieldId::Qts),
        vas: printed(FieldId::Vas),
        sd: printed(FieldId::Sd),
        xmax: printed(FieldId::Xmax),
        le: printed(FieldId::Le),
        mms: printed(FieldId::Mms),
        cms: printed(FieldId::Cms),
        bl: printed(FieldId::Bl),
        ..DataSheet::default()
    };
    let resolved = resolve_sheet(&data).map_err(|error| match error {
        DataSheetError::Missing { smallest } => {
            let sets = smallest.iter().map(|set| set.iter().filter_map(|p| field_of(*p)).collect());
            Gap::Missing(sets.collect())
        }
        DataSheetError::Model(error) => Gap::Refused(error),
    })?;
    for value in &resolved.values {
        if let Some(id) = field_of(value.parameter).filter(|_| value.origin == Origin::Derived) {
            filled.insert(id, value.value);
        }
    }
    Ok(resolved)
}
