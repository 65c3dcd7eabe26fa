//! Amplifier, gain voltage, and the feed from the battery.
use super::missing;
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{FeedReport, Gap, Part, WiringReport};
use crate::model::electrical::amplifier::{Amplifier, Rating};
use crate::model::electrical::cable::{Insulation, Material, SizeSystem};
use crate::model::electrical::feed::{FeedRequest, ReturnPath, feed};
use crate::model::electrical::fuse::FuseFamily;
use crate::model::electrical::quick::gain_voltage;
use crate::units::{Length, Power, Resistance, Temperature, Voltage};

const RATINGS: [(FieldId, f64); 3] = [(FieldId::Watts4, 4.0), (FieldId::Watts2, 2.0), (FieldId::Watts1, 1.0)];

/// The amplifier as rated. Without a stated least load, the lowest rated load counts as it.
pub(super) fn amplifier(sheet: &Sheet) -> Part<Amplifier> {
    let supply = Voltage::from_volts(sheet.si(FieldId::RatedSupply).unwrap_or(14.4));
    let ratings: Vec<Rating> = RATINGS
        .iter()
        .filter_map(|(id, ohm)| {
            let power = Power::from_watts(sheet.si(*id)?);
            Some(Rating { load: Resistance::from_ohms(*ohm), power, supply })
        })
        .collect();
    let lowest = ratings.iter().map(|rating| rating.load.ohms()).fold(f64::INFINITY, f64::min);
    if !lowest.is_finite() {
        return Err(Gap::Missing(RATINGS.iter().map(|(id, _)| vec![*id]).collect()));
    }
    let least = sheet.si(FieldId::StableLoad).unwrap_or(lowest);
    let efficiency = sheet.si(FieldId::Efficiency).unwrap_or(0.75);
    Ok(Amplifier::new(ratings, Resistance::from_ohms(least), 1, efficiency)?)
}

pub(super) fn report(
    sheet: &Sheet,
    amplifier: Part<Amplifier>,
    wiring: Option<&WiringReport>,
) -> Part<FeedReport> {
    let amplifier = amplifier?;
    let chosen = wiring.and_then(WiringReport::chosen).ok_or(Gap::Waiting)?;
    let supply = Voltage::from_volts(sheet.si(FieldId::Supply).unwrap_or(13.8));
    let power = amplifier.power_at(chosen.nominal, supply)?;
    let share = sheet.si(FieldId::MusicShare).unwrap_or(1.0);
    // The cable and its fuse must stand the most the amplifier can give at this load.
    let draw = amplifier.supply_draw(power.high, supply, share)?;
    let run = sheet.si(FieldId::CableRun).ok_or_else(|| missing(&[FieldId::CableRun]))?;
    let request = FeedRequest {
        load: draw.worst_case,
        supply,
        one_way: Length::from_metres(run),
        return_path: ReturnPath::SameCable,
        allowed_drop_percent: 100.0 * sheet.si(FieldId::DropLimit).unwrap_or(0.03),
        material: match sheet.choice_key(FieldId::CableMaterial) {
            "copper" => Material::Copper,
            _ => Material::CopperCladAluminium,
        },
        system: SizeSystem::Metric,
        insulation: match sheet.choice_key(FieldId::Insulation) {
            "60 C" => Insulation::C60,
            "90 C" => Insulation::C90,
            "105 C" => Insulation::C105,
            _ => Insulation::C75,
        },
        ambient: Temperature::from_celsius(sheet.si(FieldId::Ambient).unwrap_or(40.0)),
        families: FuseFamily::ALL.to_vec(),
    };
    let metric = feed(&request)?;
    let gauge = feed(&FeedRequest { system: SizeSystem::Awg, ..request })?;
    let gain = gain_voltage(power.expected(), chosen.nominal)?;
    Ok(FeedReport { amplifier, power, draw, metric, gauge, gain })
}
