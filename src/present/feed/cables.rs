//! Every cable: what flows, what it loses, what protects it, and what settles at the amplifier.
use super::{Block, Row, amperes, percent, volts, watts};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{FeedReport, FeedSide, Operation};
use crate::model::electrical::feed::FeedOption;
use crate::model::electrical::tree::{Segment, neighbours};
use crate::present::format::{NO_NUMBER, si};
use crate::present::{names, tables};
use crate::units::{CableUnit, Power, Quantity, UnitPrefs};
use crate::words::feed as words;

pub(super) fn blocks(feed: &FeedReport, sheet: &Sheet, prefs: &UnitPrefs) -> Vec<Block> {
    let (side, other) = match prefs.cable {
        CableUnit::SquareMillimetres => (&feed.metric_side, &feed.gauge_side),
        CableUnit::Gauge => (&feed.gauge_side, &feed.metric_side),
    };
    let rows = side.segments.iter().zip(&other.segments).map(|(segment, other)| row(segment, other, prefs));
    let mut blocks = vec![Block::Table { heads: &words::CABLE_HEADS, rows: rows.collect() }];
    blocks.extend(side.segments.iter().filter_map(beside).map(Block::Text));
    if let Some(drop) = side.drop_percent {
        blocks.push(Block::Text(words::whole_drop(&percent(drop))));
    }
    if sheet.choice_key(FieldId::ReturnVia) == "body" {
        let measured = sheet.given(FieldId::BodyMilliohm).is_some();
        blocks.push(Block::Text(if measured { words::BODY_MEASURED } else { words::BODY_ASSUMED }.into()));
    }
    blocks.push(Block::Pairs(settled(side)));
    blocks.push(Block::Text(words::CABLE_SOURCE.into()));
    blocks
}

fn row(segment: &Segment, other: &Segment, prefs: &UnitPrefs) -> Row {
    let option = segment.feed.choice();
    let size = |option: Option<&FeedOption>| option.map_or(NO_NUMBER.into(), |o| tables::size(o.cable.size));
    let fuse = option.and_then(|option| option.fuse.as_ref().ok());
    let place = format!(
        "{}, {}",
        si(segment.one_way.metres(), Quantity::Run, prefs),
        si(segment.ambient.celsius(), Quantity::Temperature, prefs)
    );
    let ends = if segment.fused_ends == 2 { words::BOTH_ENDS } else { "" };
    Row {
        header: (names::segment(segment.kind), place),
        cells: vec![
            (
                amperes(segment.draw.worst_case.amperes()),
                words::average(&amperes(segment.draw.average.amperes())),
            ),
            (size(option), beside_size(size(other.feed.choice()), option)),
            option.map_or((NO_NUMBER.into(), String::new()), |o| {
                (percent(o.drop_percent), volts(o.drop.volts()))
            }),
            (fuse.map_or(NO_NUMBER.into(), |fuse| tables::amperes(fuse.rating.amperes())), ends.into()),
        ],
    }
}

/// The other list's size, and what the chosen one carries there.
fn beside_size(other: String, option: Option<&FeedOption>) -> String {
    match option {
        Some(option) => words::or_carries(&other, &amperes(option.ampacity.current.amperes())),
        None => other,
    }
}

/// The next smaller and larger size of a segment, in numbers.
fn beside(segment: &Segment) -> Option<String> {
    let (smaller, larger) = neighbours(&segment.feed);
    let numbers = |option: &FeedOption| {
        words::carries_loses(
            &tables::size(option.cable.size),
            &amperes(option.ampacity.current.amperes()),
            &percent(option.drop_percent),
        )
    };
    let smaller = smaller.map(|option| {
        let why: Vec<&str> = option.failures.iter().map(|failure| tables::failure(*failure)).collect();
        format!("{} ({})", numbers(option), why.join(", "))
    });
    let larger = larger.map(numbers);
    let parts: Vec<String> = smaller.into_iter().chain(larger).collect();
    (!parts.is_empty()).then(|| words::beside(&names::segment(segment.kind), &parts.join("; ")))
}

fn settled(side: &FeedSide) -> Vec<(&'static str, String)> {
    let one = |operation: &Option<Operation>, power: Option<Power>| match (operation, power) {
        (Some(Ok(point)), Some(power)) => words::settles(
            &volts(point.voltage.volts()),
            &amperes(point.current.amperes()),
            &watts(power.watts()),
        ),
        (Some(Err(none)), _) => words::settles_not(&watts(none.most.watts())),
        _ => NO_NUMBER.into(),
    };
    let mut running = one(&side.running, side.running_power);
    if side.battery_helps {
        running = words::battery_helps(&running);
    }
    vec![(words::RUNNING, running), (words::RESTING, one(&side.resting, side.resting_power))]
}
