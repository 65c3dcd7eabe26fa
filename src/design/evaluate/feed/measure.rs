//! What to measure to prove the feed, and what to expect.
use super::network::{Site, return_path, running_voltage};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{FeedSide, Measure, MeasureKind};
use crate::model::electrical::feed::{FeedOption, ReturnPath};
use crate::model::electrical::supply::{Chemistry, resting_voltage_band};
use crate::model::electrical::tree::Segment;
use crate::units::{Current, Temperature};

/// A fuse and its holder lose at most this at the fuse's rating (from memory, no source).
const FUSE_V: f64 = 0.1;
/// Strands are longer than their cable by up to this (from memory).
const LAY: f64 = 1.05;

/// Everything to measure, in the order of the current.
pub(super) fn list(site: &Site<'_>, side: &FeedSide) -> Vec<Measure> {
    let mut list = battery(site);
    list.extend(cables(site, side));
    let drain = site.sheet.si(FieldId::DrainMilliamps).unwrap_or(50.0);
    list.push(Measure { kind: MeasureKind::Drain, low: 0.0, high: 1e-3 * drain, at: None });
    list
}

fn battery(site: &Site<'_>) -> Vec<Measure> {
    let mut list = Vec::new();
    if site.supply.battery.chemistry != Chemistry::LithiumIron {
        // Three quarters and more: both texts.
        let (low, high) = (resting_voltage_band(0.75).0, resting_voltage_band(1.0).1);
        let kind = MeasureKind::BatteryRest;
        // An AGM rests some 0.1 V higher (from memory).
        let more = if site.supply.battery.chemistry == Chemistry::Agm { 0.15 } else { 0.0 };
        list.push(Measure { kind, low: low.volts(), high: high.volts() + more, at: None });
    }
    let (low, high) = match site.sheet.choice_key(FieldId::Charging) {
        // Both from memory: what varies does so between rest and full charge.
        "smart" => (12.2, 15.0),
        _ => (13.5, 14.8),
    };
    list.push(Measure { kind: MeasureKind::BatteryRunning, low, high, at: None });
    list
}

/// Voltages along the feed at the current of the test, else at the worst case.
fn cables(site: &Site<'_>, side: &FeedSide) -> Vec<Measure> {
    let Some(main) = side.segments.first() else { return Vec::new() };
    let at = site.sheet.si(FieldId::TestCurrent).map_or(main.draw.worst_case, Current::from_amperes);
    // The share of the feed's current that this amplifier's branch carries.
    let share = side.branch().map_or(1.0, |first| {
        let all = main.draw.worst_case.amperes();
        if all > 0.0 { first.draw.worst_case.amperes() / all } else { 1.0 }
    });
    along(site.sheet, side, at, at * share)
}

/// Voltages along the feed while `main` flows through the main cable and `branch` through our amplifier's own; none
/// where no size does.
pub(in crate::design) fn along(
    sheet: &Sheet,
    side: &FeedSide,
    main: Current,
    branch: Current,
) -> Vec<Measure> {
    let Some((trunk, option)) = side.segments.first().and_then(|trunk| Some((trunk, trunk.feed.choice()?)))
    else {
        return Vec::new();
    };
    let i = main.amperes();
    let mut list = Vec::new();
    let mut push = |kind, low: f64, high: f64| list.push(Measure { kind, low, high, at: Some(main) });
    let fuse = option.fuse.as_ref().map_or(0.0, |fuse| FUSE_V * i / fuse.rating.amperes());
    if option.fuse.is_ok() {
        push(MeasureKind::MainFuse, 0.0, fuse);
    }
    let (low, high) = one_way(trunk, option);
    push(MeasureKind::MainPlus, i * low, i * high);
    let own = side.branch().and_then(|segment| Some(one_way(segment, segment.feed.choice()?)));
    let own = own.map(|(low, high)| (branch.amperes() * low, branch.amperes() * high));
    if let Some((low, high)) = own {
        push(MeasureKind::BranchPlus, low, high);
    }
    let (own_low, own_high) = own.unwrap_or((0.0, 0.0));
    let back = match return_path(sheet) {
        ReturnPath::SameCable => (i * low + own_low, i * high + own_high),
        ReturnPath::Body(body) => (0.0, i * body.ohms()),
    };
    push(MeasureKind::Return, back.0, back.1);
    let supply = running_voltage(sheet).volts();
    let most = supply - i * low - own_low - back.0;
    push(MeasureKind::AmplifierTerminals, supply - i * high - own_high - back.1 - fuse, most);
    list
}

/// Ohms of one conductor over a segment: at room temperature or the colder conductor's, and warm with the lay of the
/// strands.
fn one_way(segment: &Segment, option: &FeedOption) -> (f64, f64) {
    let ohms = |at| option.cable.resistance(segment.one_way, at).map_or(0.0, |r| r.ohms());
    let (room, warm) = (ohms(Temperature::from_celsius(20.0)), ohms(option.conductor));
    (room.min(warm), LAY * room.max(warm))
}
