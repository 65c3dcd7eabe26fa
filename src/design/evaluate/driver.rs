//! From the typed data sheet to a driver.
use super::Filled;
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{Gap, Part};
use crate::model::acoustics::CoilImpedance;
use crate::model::acoustics::datasheet::{
    Connection, DataSheet, DataSheetError, Origin, Parameter, Printed, Resolved, resolve as resolve_sheet,
};
use crate::units::{Inductance, Resistance};

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
    let mut resolved = resolve_sheet(&data).map_err(|error| match error {
        DataSheetError::Missing { smallest } => {
            let sets = smallest.iter().map(|set| set.iter().filter_map(|p| field_of(*p)).collect());
            Gap::Missing(sets.collect())
        }
        DataSheetError::Model(error) => Gap::Refused(error),
    })?;
    if sheet.choice(FieldId::CoilModel) > 0 {
        resolved.driver.coil = coil_model(sheet, &data, resolved.driver.coil)?;
    }
    for value in &resolved.values {
        if let Some(id) = field_of(value.parameter).filter(|_| value.origin == Origin::Derived) {
            filled.insert(id, value.value);
        }
    }
    Ok(resolved)
}

/// The coil model chosen, for all coils in series; `plain` is the sheet's Le alone.
///
/// The parameters belong to the connection measured, as Le does: coils on one former share their flux, so that nc in
/// series have nc² times the impedance of one or of all in parallel.
#[inline(never)]
fn coil_model(sheet: &Sheet, data: &DataSheet, plain: CoilImpedance) -> Part<CoilImpedance> {
    let needed = |id: FieldId| sheet.si(id).ok_or_else(|| super::missing(&[id]));
    let henries = |id: FieldId| sheet.si(id).map(Inductance::from_henries);
    let le = henries(FieldId::Le);
    let model = match sheet.choice_key(FieldId::CoilModel) {
        "two inductances" => CoilImpedance::Lr2 {
            le: le.unwrap_or_default(),
            l2: Inductance::from_henries(needed(FieldId::SecondInductance)?),
            r2: Resistance::from_ohms(needed(FieldId::SecondResistance)?),
        },
        "power" => CoilImpedance::Power {
            k: needed(FieldId::CoilFactor)?,
            n: sheet.si(FieldId::CoilExponent).unwrap_or(0.7),
        },
        "semi" => CoilImpedance::Semi {
            leb: henries(FieldId::OuterInductance).unwrap_or_default(),
            le: Inductance::from_henries(needed(FieldId::Le)?),
            ke: needed(FieldId::SemiInductance)?,
            rss: sheet.si(FieldId::ShuntResistance).map(Resistance::from_ohms),
        },
        _ => return Ok(plain),
    };
    let model = match data.measured {
        Connection::Series => model,
        Connection::OneCoil | Connection::Parallel => model.scaled(f64::from(data.coils).powi(2)),
    };
    model.check()?;
    Ok(model)
}
