//! Battery, alternator, second battery and capacitor in words.
use super::{Block, amperes, percent, volts, watts};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::FeedReport;
use crate::present::format::{NO_NUMBER, fixed};
use crate::present::tables::hours;
use crate::words::feed as words;

pub(super) fn battery(feed: &FeedReport, sheet: &Sheet) -> Vec<Block> {
    let supply = &feed.supply;
    let mut pairs = Vec::new();
    if sheet.given(FieldId::RestVolts).is_some() {
        let (low, high) = supply.charge;
        pairs.push((words::CHARGE_STATE, words::between(&percent(100.0 * low), &percent(100.0 * high))));
    }
    if let Some(most) = supply.source.most_power() {
        pairs.push((words::MOST, watts(most.watts())));
    }
    pairs.push((words::HOURS_OFF, supply.budget.hours.map_or(NO_NUMBER.into(), hours)));
    if let Some(days) = supply.budget.days_asleep {
        pairs.push((words::DAYS, words::days(&fixed(days, 0))));
    }
    if let Some(balance) = supply.balance {
        pairs.push((words::IDLE_SPARE, amperes(balance.idle.amperes())));
        pairs.push((words::DRIVING_SPARE, amperes(balance.driving.amperes())));
        let covers = match balance.idle_hours {
            Some(left) => words::idle_hours(&hours(left)),
            None => words::IDLE_COVERED.into(),
        };
        pairs.push((words::AT_IDLE, covers));
    }
    let about = match sheet.choice_key(FieldId::Charging) {
        "sensor" => words::ABOUT_SENSOR,
        "smart" => words::ABOUT_SMART,
        "converter" => words::ABOUT_CONVERTER,
        _ => words::ABOUT_PLAIN,
    };
    let mut blocks = vec![Block::Pairs(pairs), Block::Text(about.into())];
    if !supply.resistance_given {
        blocks.push(Block::Text(words::RESISTANCE_ASSUMED.into()));
    }
    blocks.push(Block::Text(words::SUPPLY_SOURCE.into()));
    if sheet.choice_key(FieldId::Charging) == "converter" {
        blocks.push(Block::Caution(words::HIGH_VOLTAGE));
    }
    blocks
}

pub(super) fn second(feed: &FeedReport) -> Vec<Block> {
    let Some(second) = feed.supply.second else {
        return vec![Block::Text(words::SECOND_NONE.into())];
    };
    let mut pairs = Vec::new();
    if let Some(current) = second.equalising {
        pairs.push((words::EQUALISING, amperes(current.amperes())));
    }
    if let Some(current) = second.charger_input {
        pairs.push((words::CHARGER_INPUT, amperes(current.amperes())));
    }
    vec![Block::Pairs(pairs), Block::Text(words::SECOND_ABOUT.into()), Block::Caution(words::SECOND_CAUTION)]
}

pub(super) fn capacitor(feed: &FeedReport) -> Vec<Block> {
    let mut blocks = Vec::new();
    match &feed.capacitor {
        Some(Ok(help)) => {
            let burst = feed.draw.worst_case.amperes() - feed.draw.average.amperes();
            let covered = if help.covers_s < 1.0 {
                format!("{}\u{a0}ms", fixed(1e3 * help.covers_s, 0))
            } else {
                format!("{}\u{a0}s", fixed(help.covers_s, 1))
            };
            blocks.push(Block::Pairs(vec![
                (words::STORED, joules(help.stored_j)),
                (words::GIVEN, joules(if help.covers_s > 0.0 { help.given_j } else { 0.0 })),
                (words::COVERS, words::covers(&covered, &amperes(burst.max(1.0)))),
                (words::STEP, volts(help.step.volts())),
            ]));
            if help.covers_s <= 0.0 {
                blocks.push(Block::Text(words::CAP_TOO_SLOW.into()));
            }
        }
        Some(Err(_)) => blocks.push(Block::Text(words::CAP_REFUSED.into())),
        None => {}
    }
    blocks.push(Block::Text(words::CAP_ABOUT.into()));
    blocks.push(Block::Caution(words::CAP_CAUTION));
    blocks
}

/// Whole joules; one decimal below ten.
fn joules(value: f64) -> String {
    format!("{}\u{a0}J", fixed(value, usize::from(value < 10.0)))
}
