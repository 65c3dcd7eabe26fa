//! Each place's answer in one plain sentence.
use super::figures::{drive, hertz, is_baffle};
use super::format::{fixed, si};
use super::meter;
use crate::design::document::{Design, Reading, Sheet};
use crate::design::evaluate::planned_rings;
use crate::design::limits::{FieldId, Kind};
use crate::design::meter::{LINE, judge, judge_round, ohms, round};
use crate::design::report::{BoxReport, Gap, Report};
use crate::design::warnings::{Place, Severity, Warning};
use crate::units::{Quantity, UnitPrefs};
use crate::words::say;

/// The label of the choice in use.
#[must_use]
pub fn choice_label(design: &Design, id: FieldId) -> &'static str {
    match id.row().kind {
        Kind::Choice { rows, .. } => {
            rows.get(usize::from(design.sheet.choice(id))).map_or("", |row| row.label)
        }
        _ => "",
    }
}

/// At the desk: what box, how low, how far the cone goes.
#[must_use]
pub fn desk(design: &Design, report: &Report, prefs: &UnitPrefs) -> String {
    let sound = match &report.sound {
        Ok(sound) => sound,
        Err(gap) => return without_sound(design, report, gap),
    };
    let kind = choice_label(design, FieldId::BoxKind);
    let mut kind = kind.to_owned();
    if let Some(first) = kind.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    say::line_desk(
        &kind,
        &if is_baffle(sound) {
            String::new()
        } else {
            si(sound.net.cubic_metres(), Quantity::Volume, prefs).to_string()
        },
        sound.figures.f3.map(|f| hertz(f.hertz())).as_deref(),
        &drive(&sound.drive),
        &fixed(sound.figures.excursion.value.millimetres(), 1),
        sound.xmax.map(|x| fixed(x.millimetres(), 1)).as_deref(),
    )
}

/// What keeps the desk from an answer.
#[inline(never)] // the demo has one
fn without_sound(design: &Design, report: &Report, gap: &Gap) -> String {
    // A data sheet not begun is asked for as a whole.
    let begun = design.sheet.given(FieldId::Re).is_some();
    match report.driver.as_ref().err().filter(|_| begun).unwrap_or(gap) {
        Gap::Missing(sets) if begun => {
            let labels = sets.iter().take(1).flatten().map(|id| id.row().label);
            say::line_desk_missing(&labels.collect::<Vec<_>>().join(", "))
        }
        Gap::Refused(_) => say::LINE_DESK_REFUSED.into(),
        _ => say::LINE_DESK_WAITING.into(),
    }
}

/// Net volume of the rooms of a box; empty where there is none.
fn net_text(enclosure: &BoxReport, prefs: &UnitPrefs) -> String {
    let text = |v: crate::units::Volume| si(v.cubic_metres(), Quantity::Volume, prefs).to_string();
    let build = enclosure.plan.current();
    match &build.front_room {
        Some(room) => say::two_rooms(&text(build.ledger.net), &text(room.net)),
        None if enclosure.spec.is_baffle() => String::new(),
        None => text(build.ledger.net),
    }
}

/// What keeps the saw from an answer: entries of the driver and the space are asked for as a whole, others by name.
#[inline(never)] // the demo has one
fn without_box(gap: &Gap) -> String {
    let usual = FieldId::SpaceWidth..=FieldId::SpaceDepth;
    let sets = match gap {
        Gap::Missing(sets) => sets.as_slice(),
        _ => &[],
    };
    let driver = [FieldId::CutOut, FieldId::OutsideDiameter, FieldId::MountingDepth];
    let asked: Vec<FieldId> = sets.iter().take(1).flatten().copied().collect();
    if asked.is_empty() || asked.iter().any(|id| driver.contains(id) || usual.contains(id)) {
        return say::LINE_SAW_WAITING.into();
    }
    let labels: Vec<&str> = asked.iter().map(|id| id.row().label).collect();
    say::line_saw_missing(&labels.join(", "))
}

/// How many things stop the saw.
fn stops(report: &Report) -> usize {
    report.warnings.iter().filter(|w| w.place() == Place::Saw && w.severity() == Severity::Stop).count()
}

/// At the saw: how much there is to cut, or that it does not go together.
#[must_use]
pub fn saw(report: &Report, sheet: &Sheet, prefs: &UnitPrefs) -> String {
    let enclosure = match &report.enclosure {
        Ok(enclosure) => enclosure,
        Err(Gap::Rings) => return stacked(report, sheet, prefs),
        Err(Gap::Refused(_)) => return say::LINE_SAW_REFUSED.into(),
        Err(gap) => return without_box(gap),
    };
    match stops(report) {
        0 => say::line_saw(
            enclosure.plan.parts.iter().map(crate::model::geometry::Part::count).sum(),
            enclosure.plan.fence.len(),
            &fixed(enclosure.plan.board_mass(&enclosure.spec).kilograms(), 1),
            &net_text(enclosure, prefs),
        ),
        count => say::line_saw_stop(count),
    }
}

/// How much there is to cut of a stack of rings, or that it does not go together.
#[inline(never)] // few boxes are stacked
fn stacked(report: &Report, sheet: &Sheet, prefs: &UnitPrefs) -> String {
    let found = match planned_rings(sheet, report) {
        Ok(found) => found,
        Err(Gap::Refused(_)) => return say::LINE_SAW_REFUSED.into(),
        Err(_) => return crate::words::rings::LINE_WAITING.into(),
    };
    match stops(report) {
        0 => super::rings::line(&found, report.sound.as_ref().ok().map(|sound| sound.net), prefs),
        count => say::line_saw_stop(count),
    }
}

/// The last reading of the whole line.
#[must_use]
pub fn last_line_reading(design: &Design) -> Option<&Reading> {
    design.log.readings.iter().rev().find(|reading| reading.subject == LINE)
}

/// In the car: whether it is safe to go on.
#[must_use]
pub fn car(design: &Design, report: &Report) -> String {
    let Ok(wiring) = &report.wiring else { return say::LINE_CAR_WAITING.into() };
    if let Some(Warning::Load { load, least }) =
        report.warnings.iter().find(|w| matches!(w, Warning::Load { .. }))
    {
        return say::load_too_low(&fixed(load.ohms(), 2), &fixed(least.ohms(), 2));
    }
    let Some(chosen) = wiring.chosen() else { return say::LINE_CAR_WAITING.into() };
    let Some(reading) = last_line_reading(design) else {
        return say::line_car_expect(
            &fixed(chosen.reading_low.ohms(), 2),
            &fixed(chosen.reading_high.ohms(), 2),
            choice_label(design, FieldId::ReadAt),
        );
    };
    let round = round(&design.log);
    let shown = ohms(reading);
    let result = match round.line {
        Some(_) => judge_round(&design.sheet, wiring, &round),
        None => judge(&design.sheet, wiring, shown).ok(),
    };
    let Some(result) = result else { return say::LINE_CAR_WAITING.into() };
    match (meter::verdict(&result), round.overruled) {
        ((meter::Mark::Good, _), _) => say::line_car_good(&meter::ohms(shown)),
        (_, Some(overruled)) => say::line_car_overruled(&meter::ohms(shown), &overruled.note),
        ((_, why), None) => say::line_car_stop(&meter::ohms(shown), &why),
    }
}
