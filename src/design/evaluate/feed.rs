//! Amplifier, and the feed from the battery.
mod amplifier;
mod extras;
mod gain;
mod measure;
mod network;
mod supply;

pub(super) use amplifier::amplifier;
pub(super) use extras::proof;
pub(in crate::design) use measure::along;
pub(in crate::design) use supply::average;

use super::{Filled, missing};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{FeedReport, Gap, Part, SoundReport, WiringReport};
use crate::model::acoustics::datasheet::Resolved;
use crate::model::electrical::amplifier::Amplifier;
use crate::model::electrical::cable::SizeSystem;
use crate::model::electrical::quick::gain_voltage;
use crate::units::Voltage;

/// What the feed rests on; a part that is missing only leaves out what needs it.
pub(super) struct Parts<'a> {
    pub driver: Option<&'a Resolved>,
    pub wiring: Option<&'a WiringReport>,
    pub sound: Option<&'a SoundReport>,
}

/// The supply at the battery's posts, engine running.
fn supply_voltage(sheet: &Sheet) -> Voltage {
    Voltage::from_volts(sheet.si(FieldId::Supply).unwrap_or(13.8))
}

pub(super) fn report(
    sheet: &Sheet,
    amplifier: Part<Amplifier>,
    parts: &Parts<'_>,
    filled: &mut Filled,
) -> Part<FeedReport> {
    let amplifier = amplifier?;
    let chosen = parts.wiring.and_then(WiringReport::chosen).ok_or(Gap::Waiting)?;
    let supply = supply_voltage(sheet);
    let power = amplifier.power_at(chosen.nominal, supply)?;
    let share = sheet.si(FieldId::MusicShare).unwrap_or(1.0);
    // The cable and its fuse must stand the most the amplifier can give at this load.
    let draw = amplifier.supply_draw(power.high, supply, share)?;
    sheet.si(FieldId::CableRun).ok_or_else(|| missing(&[FieldId::CableRun]))?;
    let of_supply = supply::report(sheet, draw, filled)?;
    if sheet.given(FieldId::BranchAmbient).is_none() {
        filled.insert(FieldId::BranchAmbient, network::branch_celsius(sheet));
    }
    let site =
        network::Site { sheet, amplifier: &amplifier, nominal: chosen.nominal, draw, supply: &of_supply };
    let gauge = match sheet.choice_key(FieldId::GaugeKind) {
        "SAE" => SizeSystem::SaeVehicle,
        _ => SizeSystem::Awg,
    };
    let metric_side = network::side(&site, SizeSystem::Metric)?;
    let gauge_side = network::side(&site, gauge)?;
    let main = |side: &crate::design::report::FeedSide| {
        side.segments.first().map(|segment| segment.feed.clone()).ok_or(Gap::Waiting)
    };
    let plan = gain::plan(&site, [&metric_side, &gauge_side], power, parts)?;
    Ok(FeedReport {
        power,
        draw,
        metric: main(&metric_side)?,
        gauge: main(&gauge_side)?,
        gain: gain_voltage(power.expected(), chosen.nominal)?,
        line: extras::line(sheet, parts, chosen)?,
        real: extras::real(parts, plan.volts),
        capacitor: extras::capacitor(sheet, draw),
        fuse_distance_m: sheet.si(FieldId::FuseDistance).unwrap_or(0.0),
        fuse_fits_rating: amplifier::fuse_fits(sheet, draw),
        supply: of_supply,
        metric_side,
        gauge_side,
        plan,
        amplifier,
    })
}
