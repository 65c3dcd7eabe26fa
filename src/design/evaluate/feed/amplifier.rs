//! The amplifier as rated and as joined.
use crate::design::document::Sheet;
use crate::design::evaluate::Filled;
use crate::design::limits::FieldId;
use crate::design::report::{Gap, Part};
use crate::model::electrical::amplifier::{Amplifier, Output, Rails, Rating, SupplyDraw};
use crate::model::error::ModelError;
use crate::units::{Power, Resistance, Voltage};

const RATINGS: [(FieldId, f64); 3] = [(FieldId::Watts4, 4.0), (FieldId::Watts2, 2.0), (FieldId::Watts1, 1.0)];
const OTHER: [(FieldId, f64); 3] =
    [(FieldId::OtherWatts4, 4.0), (FieldId::OtherWatts2, 2.0), (FieldId::OtherWatts1, 1.0)];

/// The amplifier as rated. Without a stated least load, the lowest rated load counts as it.
pub(in crate::design::evaluate) fn amplifier(sheet: &Sheet, filled: &mut Filled) -> Part<Amplifier> {
    let supply = Voltage::from_volts(sheet.si(FieldId::RatedSupply).unwrap_or(14.4));
    let mut ratings: Vec<Rating> = at(sheet, &RATINGS, supply).collect();
    let lowest = ratings.iter().map(|rating| rating.load.ohms()).fold(f64::INFINITY, f64::min);
    let output = output(sheet);
    let joined = joined_rating(sheet, output, supply);
    if let Some(joined) = joined {
        // What the maker measured with the outputs joined goes before half of what one output gives.
        ratings.retain(|rating| (rating.load.ohms() / joined.load.ohms() - 1.0).abs() > 0.005);
        ratings.push(joined);
    }
    if ratings.is_empty() {
        return Err(Gap::Missing(RATINGS.iter().map(|(id, _)| vec![*id]).collect()));
    }
    if let Some(other) = sheet.si(FieldId::OtherSupply) {
        ratings.extend(at(sheet, &OTHER, Voltage::from_volts(other)));
    }
    // Who bridges has two channels, unless it says otherwise.
    let one_channel = sheet.entry(FieldId::Channels).is_some() && sheet.choice_key(FieldId::Channels) == "1";
    if output == Output::Bridged && one_channel {
        return Err(ModelError::Impossible { what: "bridging takes an amplifier with two channels" }.into());
    }
    let joined_load = sheet.si(FieldId::BridgedLoad).map(Resistance::from_ohms);
    let fallback = joined.map_or(lowest, |joined| joined.load.ohms().min(lowest));
    let least = sheet.si(FieldId::StableLoad).unwrap_or(fallback);
    let least = if least.is_finite() { least } else { fallback };
    let rails = match sheet.choice_key(FieldId::SupplyKind) {
        "regulated" => Rails::Regulated,
        _ => Rails::Follow,
    };
    let amplifier = Amplifier::new(ratings, Resistance::from_ohms(least), 1, efficiency(sheet, filled))?;
    let joined_load = joined_load.filter(|_| output != Output::Single);
    Ok(amplifier.joined(output, joined_load)?.with_rails(rails))
}

fn at<'a>(
    sheet: &'a Sheet,
    list: &'static [(FieldId, f64)],
    supply: Voltage,
) -> impl Iterator<Item = Rating> + 'a {
    list.iter().filter_map(move |(id, ohm)| {
        let power = Power::from_watts(sheet.si(*id)?);
        Some(Rating { load: Resistance::from_ohms(*ohm), power, supply })
    })
}

fn output(sheet: &Sheet) -> Output {
    match sheet.choice_key(FieldId::OutputUse) {
        "bridged" => Output::Bridged,
        "strapped" => Output::Strapped,
        _ => Output::Single,
    }
}

/// The rating with outputs joined, as what each output then does.
fn joined_rating(sheet: &Sheet, output: Output, supply: Voltage) -> Option<Rating> {
    if output == Output::Single {
        return None;
    }
    let (load, watts) = (sheet.si(FieldId::BridgedLoad)?, sheet.si(FieldId::BridgedWatts)?);
    Some(Rating {
        load: Resistance::from_ohms(load / output.parts()),
        power: Power::from_watts(watts / output.parts()),
        supply,
    })
}

/// As entered, else by class: 0.55 AB, 0.65 G or H, 0.8 D at full power (common practice, no source), else 0.75.
fn efficiency(sheet: &Sheet, filled: &mut Filled) -> f64 {
    if sheet.given(FieldId::Efficiency).is_none() {
        let of_class = match sheet.choice_key(FieldId::AmplifierClass) {
            "AB" => Some(0.55),
            "G or H" => Some(0.65),
            "D" => Some(0.80),
            _ => None,
        };
        if let Some(efficiency) = of_class {
            filled.insert(FieldId::Efficiency, efficiency);
            return efficiency;
        }
    }
    sheet.si(FieldId::Efficiency).unwrap_or(0.75)
}

/// Whether the fuses the maker fitted pass the current that the rating needs: a large blade may carry 135 % of its
/// rating for half an hour and no more (DIN 72581-3 extract).
pub(super) fn fuse_fits(sheet: &Sheet, draw: SupplyDraw) -> Option<bool> {
    let fitted = sheet.si(FieldId::AmplifierFuse)?;
    Some(draw.worst_case.amperes() <= 1.35 * fitted * output(sheet).amplifiers())
}
