//! Where to put the probes to prove the feed.
use super::{Block, Row, amperes, volts};
use crate::design::feed_check::Place;
use crate::design::report::{FeedReport, Measure, MeasureKind};
use crate::model::electrical::commission::Verdict;
use crate::present::commission::read;
use crate::present::meter::Mark;
use crate::units::UnitPrefs;
use crate::words::{feed as words, powerup};

pub(super) fn blocks(feed: &FeedReport, prefs: &UnitPrefs) -> Vec<Block> {
    let side = feed.side(prefs.cable);
    let rows = side.measure.iter().map(|each| Row {
        header: (
            place(each.kind).into(),
            each.at.map_or_else(String::new, |at| words::at_current(&amperes(at.amperes()))),
        ),
        cells: vec![(expect(each), String::new())],
    });
    vec![
        Block::Text(words::MEASURE_HOW.into()),
        Block::Table { heads: &words::MEASURE_HEADS, rows: rows.collect() },
        Block::Text(words::MEASURE_SOURCE.into()),
        Block::Caution(powerup::CAUTION_ENGINE),
    ]
}

/// Where to measure, in words.
#[must_use]
pub const fn place(kind: MeasureKind) -> &'static str {
    match kind {
        MeasureKind::BatteryRest => words::M_REST,
        MeasureKind::BatteryRunning => words::M_RUNNING,
        MeasureKind::MainFuse => words::M_FUSE,
        MeasureKind::MainPlus => words::M_PLUS,
        MeasureKind::Return => words::M_RETURN,
        MeasureKind::BranchPlus => words::M_BRANCH,
        MeasureKind::AmplifierTerminals => words::M_TERMINALS,
        MeasureKind::Drain => words::M_DRAIN,
    }
}

/// Where to measure, and at which current.
#[must_use]
pub fn place_at(measure: &Measure) -> String {
    match measure.at {
        Some(at) => format!("{}, {}", place(measure.kind), words::at_current(&amperes(at.amperes()))),
        None => place(measure.kind).into(),
    }
}

/// What a reading at a place comes to: its mark, and what it means.
#[must_use]
pub fn meaning(place: &Place<'_>) -> Option<(Mark, &'static str)> {
    let verdict = place.verdict?;
    let stop = verdict == Verdict::Stop;
    let text = match place.measure.kind {
        _ if verdict == Verdict::Right => powerup::VERDICT_RIGHT,
        MeasureKind::BatteryRest => words::M_REST_ODD,
        MeasureKind::Drain => words::M_DRAIN_ODD,
        MeasureKind::BatteryRunning | MeasureKind::AmplifierTerminals if stop => powerup::MEANS_SUPPLY_STOP,
        MeasureKind::BatteryRunning => powerup::MEANS_SUPPLY_ODD,
        MeasureKind::AmplifierTerminals => powerup::MEANS_TERMINALS,
        _ if stop => powerup::MEANS_DROP,
        _ => powerup::MEANS_DROP_ODD,
    };
    let mark = match verdict {
        Verdict::Right => Mark::Good,
        Verdict::LookAgain => Mark::Care,
        Verdict::Stop => Mark::Stop,
    };
    Some((mark, text))
}

/// What was read at a place, as typed; empty without a reading.
#[must_use]
pub fn found(place: &Place<'_>) -> String {
    place.reading.map_or_else(String::new, |reading| read(reading, place.unit))
}

/// What is expected there.
#[must_use]
pub fn expect(measure: &Measure) -> String {
    let (low, high) = match measure.kind {
        MeasureKind::Drain => {
            return words::up_to(&format!(
                "{}\u{a0}mA",
                crate::present::format::fixed(1e3 * measure.high, 0)
            ));
        }
        _ => (volts(measure.low), volts(measure.high)),
    };
    if measure.low <= 0.0 { words::up_to(&high) } else { words::between(&low, &high) }
}
