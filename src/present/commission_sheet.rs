//! The sheet for the vehicle's owner: one page, every line ready to print.
use super::commission::{expected, found, standing, title};
use super::figures::hertz;
use super::format::{NO_NUMBER, fixed, si};
use super::lines::choice_label;
use super::names;
use super::tables::{amperes, feed_in, size, wiring};
use crate::design::commission::{Facts, StepState};
use crate::design::document::Design;
use crate::design::limits::FieldId;
use crate::design::report::Report;
use crate::model::electrical::tree::{Segment, SegmentKind};
use crate::units::{Quantity, UnitPrefs};
use crate::words::powerup as words;

/// A name and what stands beside it.
pub type Line = (&'static str, String);

/// Everything but the drawing and the readings.
#[must_use]
pub fn lines(design: &Design, report: &Report, facts: &Facts, prefs: &UnitPrefs) -> Vec<Line> {
    let sheet = &design.sheet;
    let text = |id| match sheet.text(id) {
        "" => NO_NUMBER.to_owned(),
        text => text.to_owned(),
    };
    let run = |id| sheet.si(id).map_or_else(|| NO_NUMBER.into(), |m| si(m, Quantity::Run, prefs).to_string());
    let option = report.feed.as_deref().ok().and_then(|feed| feed_in(feed, prefs).choice());
    let cable = option.map_or_else(|| NO_NUMBER.into(), |option| size(option.cable.size));
    let fuse = facts.fuse.map_or_else(|| NO_NUMBER.into(), |fuse| amperes(fuse.amperes()));
    let place = match sheet.text(FieldId::FusePlace) {
        "" => words::FUSE_AT_UNKNOWN.to_owned(),
        place => place.to_owned(),
    };
    let feed_label = if facts.body { words::MAIN_CABLE_BODY } else { words::MAIN_CABLE };
    let mut lines = vec![
        (words::JOB, text(FieldId::DesignName)),
        (words::VEHICLE, text(FieldId::VehicleName)),
        (words::PARTS, format!("{}; {}", text(FieldId::DriverName), text(FieldId::AmplifierName))),
        (words::MAIN_FUSE, words::fuse_cable(&fuse, &cable)),
        (words::FUSE_AT, place),
        (
            feed_label,
            words::run(&cable, &run(FieldId::CableRun), choice_label(design, FieldId::CableMaterial)),
        ),
        (
            words::LINE_CABLE,
            words::run(
                choice_label(design, FieldId::SpeakerCable),
                &run(FieldId::SpeakerRun),
                crate::words::label::COPPER,
            ),
        ),
        (words::GAIN_SET, gain(report, facts)),
        (
            words::FILTERS,
            format!(
                "{}; {}",
                filter(design, FieldId::LowPass, FieldId::LowSlope),
                filter(design, FieldId::HighPass, FieldId::HighSlope)
            ),
        ),
        (words::POLARITY_SET, choice_label(design, FieldId::OutputPolarity).into()),
        (words::WIRED, wired(report)),
    ];
    let place = lines.iter().position(|(name, _)| *name == words::FUSE_AT).map_or(0, |at| at + 1);
    lines.splice(place..place, further_fuses(report, prefs));
    lines
}

/// The fuses behind or beside the main one.
fn further_fuses(report: &Report, prefs: &UnitPrefs) -> Vec<Line> {
    let Ok(feed) = &report.feed else { return Vec::new() };
    let segments = feed.side(prefs.cable).segments.iter().skip(1);
    segments.map(|segment| (words::FURTHER_FUSE, further_fuse(segment))).collect()
}

fn further_fuse(segment: &Segment) -> String {
    let option = segment.feed.choice();
    let fuse = option.and_then(|option| option.fuse.as_ref().ok());
    let (Some(option), Some(fuse)) = (option, fuse) else { return NO_NUMBER.into() };
    let place = match segment.kind {
        SegmentKind::Branch(_) => words::AT_DISTRIBUTION,
        SegmentKind::Link => words::AT_BOTH_BATTERIES,
        SegmentKind::Main | SegmentKind::Charge => words::AT_BATTERY,
    };
    words::further_fuse(
        &amperes(fuse.rating.amperes()),
        place,
        &size(option.cable.size),
        &names::segment(segment.kind),
    )
}

fn filter(design: &Design, corner: FieldId, slope: FieldId) -> String {
    let Some(hz) = design.sheet.si(corner) else { return NO_NUMBER.into() };
    format!("{}\u{a0}Hz, {}", hertz(hz), choice_label(design, slope))
}

fn gain(report: &Report, facts: &Facts) -> String {
    let load = report.wiring.as_deref().ok().and_then(|wiring| wiring.chosen());
    match (facts.gain, load) {
        (Some(gain), Some(load)) => words::volts_ac(
            &fixed(gain.volts.volts(), 1),
            &fixed(gain.power.watts(), 0),
            wiring(load).load.trim_end_matches("\u{a0}Ω"),
        ),
        _ => NO_NUMBER.into(),
    }
}

fn wired(report: &Report) -> String {
    let chosen = report.wiring.as_deref().ok().and_then(|wiring| wiring.chosen());
    chosen.map_or_else(
        || NO_NUMBER.into(),
        |option| {
            let row = wiring(option);
            format!("{}, {}", row.text, row.load)
        },
    )
}

/// One step on the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadRow {
    /// Its name.
    pub name: &'static str,
    /// What was expected.
    pub expected: String,
    /// What was read or seen.
    pub found: String,
    /// The verdict, and the reason where it was overruled.
    pub verdict: String,
    /// When, in seconds since 1970.
    pub at_s: Option<i64>,
}

/// Every step with its reading.
#[must_use]
pub fn readings(states: &[StepState<'_>]) -> Vec<ReadRow> {
    states.iter().map(row).collect()
}

fn row(state: &StepState<'_>) -> ReadRow {
    let mut verdict = standing(state).1.to_owned();
    if let Some(overruled) = state.overruled {
        verdict = format!("{verdict}: {}", overruled.note);
    }
    let last = state.overruled.or(state.reading);
    ReadRow {
        name: title(state.step),
        expected: expected(state),
        found: found(state),
        verdict,
        at_s: last.map(|reading| reading.at_s),
    }
}
