//! Where to put the probes to prove the feed.
use super::{Block, Row, amperes, volts};
use crate::design::report::{FeedReport, Measure, MeasureKind};
use crate::units::UnitPrefs;
use crate::words::feed as words;

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
    ]
}

/// Where to measure, in words.
#[must_use]
pub(crate) const fn place(kind: MeasureKind) -> &'static str {
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

fn expect(measure: &Measure) -> String {
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
