//! Battery, alternator, second battery.
use super::network::others;
use crate::design::document::Sheet;
use crate::design::evaluate::Filled;
use crate::design::limits::FieldId;
use crate::design::report::{Part, SecondReport, SupplyReport};
use crate::model::electrical::amplifier::SupplyDraw;
use crate::model::electrical::cable::{Cable, Material, MetricSize, Size};
use crate::model::electrical::feed::ShortSource;
use crate::model::electrical::supply::{Battery, Chemistry, balance, budget, charge_band};
use crate::model::electrical::tree::equalising_current;
use crate::model::error::ModelError;
use crate::units::{Current, Length, Resistance, Temperature, Voltage};

/// What charging lifts a battery to while the other one, empty, rests at 12.0 V: 13.8 V less that (common practice).
const EQUALISING_V: f64 = 1.8;
/// Power out over power in of a battery-to-battery charger (common practice, no source).
const CHARGER_EFFICIENCY: f64 = 0.85;
/// A battery at its weakest, old or cold, has this many times its resistance (from memory).
const WEAK: f64 = 2.0;

pub(super) fn report(sheet: &Sheet, draw: SupplyDraw, filled: &mut Filled) -> Part<SupplyReport> {
    let starter = battery(sheet, FieldId::BatteryCapacity);
    let second = sheet.choice_key(FieldId::SecondBattery);
    let battery = if second == "none" { starter } else { battery(sheet, FieldId::SecondCapacity) };
    let source = battery.source()?;
    let resistance_given = battery.internal.is_some();
    if !resistance_given {
        filled.insert(FieldId::BatteryMilliohm, source.resistance.ohms() * 1e3);
    }
    let rest = sheet.si(FieldId::RestVolts).filter(|_| battery.chemistry != Chemistry::LithiumIron);
    let charge = rest.map_or(Ok((1.0, 1.0)), |volts| charge_band(Voltage::from_volts(volts)))?;
    let average = average(sheet, draw);
    // Behind an isolator or charger the vehicle's own load stays with the starter battery.
    let parked = if second == "none" { sheet.si(FieldId::ParkedLoad).unwrap_or(0.0) } else { 0.0 };
    let drain = Current::from_amperes(1e-3 * sheet.si(FieldId::DrainMilliamps).unwrap_or(0.0));
    let reserve = sheet.si(FieldId::Reserve).unwrap_or(0.5);
    let off = budget(&battery, charge.0, reserve, average + Current::from_amperes(parked), drain)?;
    let rating = sheet.si(FieldId::AlternatorRating);
    let balance = rating
        .map(|amperes| {
            let own = Current::from_amperes(sheet.si(FieldId::ExistingLoad).unwrap_or(0.0));
            balance(Current::from_amperes(amperes), idle_share(sheet), own, average, off.usable_ah)
        })
        .transpose()?;
    Ok(SupplyReport {
        battery,
        source,
        resistance_given,
        charge,
        budget: off,
        balance,
        short: short(sheet, &starter, &battery)?,
        second: (second != "none").then(|| second_report(sheet, &starter, &battery)).transpose()?,
    })
}

/// The amplifiers' average, the others on the feed included.
pub(in crate::design) fn average(sheet: &Sheet, draw: SupplyDraw) -> Current {
    let others: f64 = others(sheet).map(|other| other.amperes).sum();
    draw.average + Current::from_amperes(others * draw.music_share)
}

/// A converter gives its rating at any speed.
fn idle_share(sheet: &Sheet) -> f64 {
    match sheet.choice_key(FieldId::Charging) {
        "converter" => 1.0,
        _ => sheet.si(FieldId::IdleShare).unwrap_or(0.5),
    }
}

fn battery(sheet: &Sheet, capacity: FieldId) -> Battery {
    let given = sheet.si(FieldId::BatteryMilliohm).map(|milliohm| Resistance::from_ohms(1e-3 * milliohm));
    Battery {
        chemistry: match sheet.choice_key(FieldId::BatteryKind) {
            "AGM" => Chemistry::Agm,
            "lithium" => Chemistry::LithiumIron,
            _ => Chemistry::Flooded,
        },
        capacity_ah: sheet.si(capacity).unwrap_or(70.0),
        internal: given,
    }
}

/// The cable from battery to fuse is not known yet; 35 mm² stands for it, of which 0.2 m have 0.1 mΩ.
fn short(sheet: &Sheet, starter: &Battery, battery: &Battery) -> Result<ShortSource, ModelError> {
    let distance = Length::from_metres(sheet.si(FieldId::FuseDistance).unwrap_or(0.0));
    let size = MetricSize::new(3500).map(Size::Metric).ok_or(ModelError::Missing { what: "cable size" })?;
    let cable = Cable { material: Material::Copper, size };
    let to_fuse = cable.resistance(distance, Temperature::from_celsius(20.0))?;
    let internal = battery.resistance()?;
    let strong = match sheet.choice_key(FieldId::SecondBattery) {
        // While an isolator is closed both feed a short; the cable between them is left out, by caution.
        "isolator" => {
            let (a, b) = (internal.ohms(), starter.resistance()?.ohms());
            Resistance::from_ohms(a * b / (a + b))
        }
        _ => internal,
    };
    Ok(ShortSource { emf: battery.charged_voltage(), strongest: strong + to_fuse, weakest: internal * WEAK })
}

fn second_report(sheet: &Sheet, starter: &Battery, second: &Battery) -> Result<SecondReport, ModelError> {
    if sheet.choice_key(FieldId::SecondBattery) == "charger" {
        let out = sheet.si(FieldId::ChargerCurrent).unwrap_or(30.0);
        let supply = sheet.si(FieldId::Supply).unwrap_or(13.8);
        // It charges with 14.4 V out of the supply as it is.
        let input = Current::from_amperes(out * 14.4 / (supply * CHARGER_EFFICIENCY));
        return Ok(SecondReport { equalising: None, charger_input: Some(input) });
    }
    let between = starter.resistance()? + second.resistance()?;
    let equalising = equalising_current(Voltage::from_volts(EQUALISING_V), between)?;
    Ok(SecondReport { equalising: Some(equalising), charger_input: None })
}
