//! The coils: every balanced wiring, the one in use, and the load it makes for the acoustics.
use super::Filled;
use super::driver::coils;
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{Gap, Part, WiringOption, WiringReport};
use crate::model::acoustics::datasheet::Resolved;
use crate::model::acoustics::{Load, Wiring};
use crate::model::electrical::amplifier::Amplifier;
use crate::model::electrical::cable::{AwgSize, Cable, Material, MetricSize, Size};
use crate::model::electrical::wiring::{Coil, CoilSet, Tree, balanced};
use crate::model::error::ModelError;
use crate::units::{Length, Resistance, Temperature, Voltage};

/// Nominal impedances coils are sold with, Ω (common practice, no source).
const NOMINAL_OHM: [f64; 7] = [0.5, 1.0, 2.0, 4.0, 6.0, 8.0, 16.0];
/// DC resistance over nominal impedance of a usual coil (common practice, no source).
const DC_SHARE: f64 = 0.85;

/// How many drivers stand in the box.
pub(super) fn drivers(sheet: &Sheet) -> u8 {
    sheet.choice_key(FieldId::DriverCount).parse().unwrap_or(1)
}

pub(super) fn report(
    sheet: &Sheet,
    driver: Option<&Resolved>,
    amplifier: Option<&Amplifier>,
    filled: &mut Filled,
) -> Part<WiringReport> {
    let coil = coil(sheet, driver, filled)?;
    let set = CoilSet::uniform(drivers(sheet), coils(sheet), coil)?;
    let cable = speaker_cable(sheet)?;
    let at_amplifier = sheet.choice_key(FieldId::ReadAt) == "amplifier end";
    let through = if at_amplifier { cable } else { Resistance::from_ohms(0.0) };
    let supply = Voltage::from_volts(sheet.si(FieldId::Supply).unwrap_or(13.8));
    let mut options = Vec::new();
    for wiring in balanced(drivers(sheet), coils(sheet))? {
        let figures = wiring.tree.figures(&set)?;
        let power = amplifier.map(|amplifier| amplifier.power_at(figures.nominal, supply)).transpose()?;
        options.push(WiringOption {
            notation: wiring.tree.to_string(),
            nominal: figures.nominal,
            reading: figures.dc + through,
            reading_low: figures.dc_low + through,
            reading_high: figures.dc_high + through,
            power,
            coil_share: 1.0 / figures.shares.len().max(1) as f64,
            tree: wiring.tree,
        });
    }
    let stored = sheet.text(FieldId::Wiring).parse::<Tree>().ok().map(|tree| tree.canonical());
    let by_user = stored.and_then(|tree| options.iter().position(|option| option.tree == tree));
    let stable = options.iter().position(|option| option.power.is_none_or(|power| power.stable));
    Ok(WiringReport {
        chosen: by_user.or(stable).unwrap_or(0),
        by_user: by_user.is_some(),
        coils: set,
        options,
        cable,
    })
}

/// One coil, from the sheet alone: the wiring does not wait for the rest of the driver.
fn coil(sheet: &Sheet, driver: Option<&Resolved>, filled: &mut Filled) -> Part<Coil> {
    let given_dc = sheet.si(FieldId::Re).or_else(|| driver.map(|driver| driver.re_per_coil.ohms()));
    let given_nominal = sheet.si(FieldId::NominalCoil);
    let (dc, nominal) = match (given_dc, given_nominal) {
        (Some(dc), Some(nominal)) => (dc, nominal),
        (Some(dc), None) => {
            let nominal = nearest_nominal(dc / DC_SHARE);
            filled.insert(FieldId::NominalCoil, nominal);
            (dc, nominal)
        }
        (None, Some(nominal)) => {
            filled.insert(FieldId::Re, nominal * DC_SHARE);
            (nominal * DC_SHARE, nominal)
        }
        (None, None) => return Err(Gap::Missing(vec![vec![FieldId::Re], vec![FieldId::NominalCoil]])),
    };
    Ok(Coil {
        nominal: Resistance::from_ohms(nominal),
        dc: Resistance::from_ohms(dc),
        tolerance_percent: 100.0 * sheet.si(FieldId::CoilTolerance).unwrap_or(0.07),
    })
}

fn nearest_nominal(ohm: f64) -> f64 {
    let distance = |nominal: &f64| (nominal / ohm).ln().abs();
    NOMINAL_OHM.iter().copied().min_by(|a, b| distance(a).total_cmp(&distance(b))).unwrap_or(4.0)
}

/// Out and back, copper, at 20 °C.
fn speaker_cable(sheet: &Sheet) -> Result<Resistance, ModelError> {
    let run = Length::from_metres(sheet.si(FieldId::SpeakerRun).unwrap_or(0.0));
    let size = match sheet.choice_key(FieldId::SpeakerCable) {
        "1.5 mm2" => MetricSize::new(150).map(Size::Metric),
        "4 mm2" => MetricSize::new(400).map(Size::Metric),
        "6 mm2" => MetricSize::new(600).map(Size::Metric),
        "16 AWG" => AwgSize::new(16).map(Size::Awg),
        "14 AWG" => AwgSize::new(14).map(Size::Awg),
        "12 AWG" => AwgSize::new(12).map(Size::Awg),
        "10 AWG" => AwgSize::new(10).map(Size::Awg),
        _ => MetricSize::new(250).map(Size::Metric),
    };
    let size = size.ok_or(ModelError::Missing { what: "speaker cable size" })?;
    Cable { material: Material::Copper, size }.resistance(run * 2.0, Temperature::from_celsius(20.0))
}

/// The drivers as the wiring in use joins them.
pub(super) fn load(driver: &Resolved, wiring: &WiringReport) -> Part<Load> {
    let chosen = wiring.chosen().ok_or(Gap::Waiting)?;
    let (series, _) = chosen.tree.balance().ok_or(Gap::Waiting)?;
    let coils = driver.coils as usize;
    let wiring = Wiring::of_coils(wiring.coils.driver_count(), coils, series as usize)?;
    Ok(Load { driver: driver.driver, wiring })
}
