//! The gain: which power, and the voltage that makes it.
use super::Parts;
use super::network::Site;
use crate::design::evaluate::path::thermal_power;
use crate::design::limits::FieldId;
use crate::design::report::{FeedSide, GainLimit, GainPlan, Part};
use crate::model::electrical::amplifier::PowerAtLoad;
use crate::model::electrical::quick::gain_voltage;
use crate::units::{Power, Voltage};

/// The least of what is wanted, what the coils stand and what the amplifier gives under sag, as a voltage without the
/// loudspeaker: unloaded the supply does not sag, so an amplifier set by its own clipping would clip under load.
pub(super) fn plan(
    site: &Site<'_>,
    sides: [&FeedSide; 2],
    power: PowerAtLoad,
    parts: &Parts<'_>,
) -> Part<GainPlan> {
    let does = sides.iter().filter(|side| side.drop_percent.is_some());
    let sagged = does.filter_map(|side| side.running_power);
    let sagged = sagged.reduce(lesser);
    let sagged = match sagged {
        Some(sagged) => sagged,
        None => without_cable(site)?,
    };
    // Ratings that contradict one another may promise more at a lower voltage.
    let mut best = (lesser(sagged, power.expected()), GainLimit::Amplifier);
    let stand = thermal_power(site.sheet, parts.wiring);
    for (limit, kind) in [(stand, GainLimit::Coils), (wanted(site), GainLimit::Wanted)] {
        if let Some(limit) = limit.filter(|limit| *limit < best.0) {
            best = (limit, kind);
        }
    }
    Ok(GainPlan {
        volts: gain_voltage(best.0, site.nominal)?,
        power: best.0,
        limit: best.1,
        unsagged: gain_voltage(power.expected(), site.nominal)?,
    })
}

fn lesser(a: Power, b: Power) -> Power {
    if a < b { a } else { b }
}

/// Entered for the gain, else the drive as entered: power, or the voltage across the nominal load.
fn wanted(site: &Site<'_>) -> Option<Power> {
    let sheet = site.sheet;
    let drive = || match sheet.choice_key(FieldId::DriveBy) {
        "power" => sheet.given(FieldId::DrivePower).map(|entered| entered.si()),
        _ => sheet.given(FieldId::DriveVolts).map(|volts| volts.si().powi(2) / site.nominal.ohms()),
    };
    sheet.si(FieldId::GainPower).or_else(drive).map(Power::from_watts)
}

/// While no cable does, the whole drop allowed counts as sag.
fn without_cable(site: &Site<'_>) -> Part<Power> {
    let left = 1.0 - site.sheet.si(FieldId::DropLimit).unwrap_or(0.03);
    let voltage = Voltage::from_volts(site.running_voltage().volts() * left);
    Ok(site.amplifier.power_at(site.nominal, voltage)?.expected())
}
