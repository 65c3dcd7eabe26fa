//! Readings that prove the feed: what each place of the plan's list may show, and what was read there last.
//!
//! Kept in the log under [`MeasureKind::key`]; a verdict overruled, with its reason in the note, under
//! [`overrule_subject`]; the verdict follows from the reading and from what the design is now, by the
//! same limits as at first power.
use super::commission::{ReadUnit, at_amplifier, at_power};
use super::document::{Design, Reading};
use super::report::{Measure, MeasureKind, Report};
use crate::model::electrical::commission::{Limits, Verdict, joint_excess};
use crate::units::{CableUnit, Current, Voltage};

/// A place of the list with its last reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Place<'a> {
    /// Where, and what is in order.
    pub measure: Measure,
    /// The unit the meter shows there.
    pub unit: ReadUnit,
    /// What is right, and what stops.
    pub limits: Limits,
    /// The last reading.
    pub reading: Option<&'a Reading>,
    /// What that comes to.
    pub verdict: Option<Verdict>,
    /// The reason why that was overruled.
    pub overruled: Option<&'a Reading>,
}

/// Subject under which the verdict at a place is overruled.
#[must_use]
pub fn overrule_subject(kind: MeasureKind) -> String {
    ["overrule ", kind.key()].concat()
}

/// Every place of the feed's list; none without a feed.
#[must_use]
pub fn places<'a>(design: &'a Design, report: &Report, cable: CableUnit) -> Vec<Place<'a>> {
    let Ok(feed) = &report.feed else { return Vec::new() };
    let list = feed.side(cable).measure.iter();
    list.map(|measure| place(*measure, design)).collect()
}

fn place(measure: Measure, design: &Design) -> Place<'_> {
    let (unit, limits) = (unit(&measure), limits(&measure));
    let readings = &design.log.readings;
    let last = |subject: &str| readings.iter().rposition(|reading| reading.subject == subject);
    let read = last(measure.kind.key());
    let overruled = last(&overrule_subject(measure.kind)).filter(|at| read.is_some_and(|read| *at > read));
    let reading = read.and_then(|at| readings.get(at));
    let verdict = reading.map(|reading| judge(reading, unit, &limits));
    Place { measure, unit, limits, reading, verdict, overruled: overruled.and_then(|at| readings.get(at)) }
}

/// A value that is missing, or of another quantity, says nothing.
fn judge(reading: &Reading, unit: ReadUnit, limits: &Limits) -> Verdict {
    match reading.value.filter(|value| value.unit.quantity() == unit.quantity()) {
        Some(value) => limits.judge(value.si()),
        None => Verdict::LookAgain,
    }
}

/// Below a quarter of a volt a meter is read in millivolts.
fn unit(measure: &Measure) -> ReadUnit {
    match measure.kind {
        MeasureKind::Drain => ReadUnit::Milliampere,
        _ if measure.high.abs() < 0.25 => ReadUnit::Millivolt,
        _ => ReadUnit::Volt,
    }
}

fn limits(measure: &Measure) -> Limits {
    let (low, high) = (measure.low, measure.high);
    match measure.kind {
        MeasureKind::MainFuse | MeasureKind::MainPlus | MeasureKind::Return | MeasureKind::BranchPlus => {
            joint_excess(Voltage::from_volts(high), measure.at.unwrap_or(Current::from_amperes(1.0)))
        }
        MeasureKind::BatteryRest => Limits::between(low, high),
        MeasureKind::BatteryRunning => at_amplifier(low, high),
        MeasureKind::AmplifierTerminals => at_power(low, high),
        // Swapped probes only turn the sign.
        MeasureKind::Drain => Limits::between(-high, high),
    }
}
