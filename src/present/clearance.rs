//! The clearance stack in names, values, units.
use super::bench::Row;
use super::format::fixed;
use super::names;
use crate::design::clearance::{Clearance, Free};
use crate::units::{ExactLength, Quantity, UnitPrefs};
use crate::words::clearance as words;

/// Least way from cone to grille at full travel: 5 mm (common practice, no source).
const LEAST_TO_GRILLE: ExactLength = ExactLength::from_hundredths_mm(500);

/// Its figures.
#[must_use]
pub fn rows(found: &Clearance, prefs: &UnitPrefs) -> Vec<Row> {
    let unit = prefs.unit_for(Quantity::Length).symbol();
    let text = |length: ExactLength| prefs.length_text(length);
    let size = [found.over_all.width, found.over_all.height, found.over_all.depth].map(text);
    let mut rows = vec![(words::OVER_ALL, size.join(" × "), unit)];
    if let Some(spare) = found.spare {
        rows.push((
            words::SPARE,
            spare.map(|(axis, left)| format!("{} {}", names::axis(axis), text(left))).join(", "),
            unit,
        ));
    }
    rows.extend(found.grille.map(|gap| (words::TO_GRILLE, text(gap), unit)));
    let free = |free: Free| format!("{} / {}", text(free.found), text(mm(free.wanted.millimetres())));
    rows.extend(found.cone.map(|cone| (words::BEFORE_CONE, free(cone), unit)));
    rows.extend(found.port.map(|port| (words::BEFORE_PORT, free(port), unit)));
    rows.extend(found.hollow.map(|volume| (words::HOLLOW, fixed(volume.litres(), 2), "L")));
    if let Some((loss, flow)) = found.heat {
        rows.push((words::HEAT, fixed(loss.watts(), 0), "W"));
        rows.push((words::FLOW, fixed(flow * 3600.0, 1), "m³/h"));
    }
    rows
}

fn mm(value: f64) -> ExactLength {
    ExactLength::from_millimetres(value.round())
}

/// What does not go, or only just.
#[must_use]
pub fn notes(found: &Clearance, prefs: &UnitPrefs) -> Vec<String> {
    let length = |length: ExactLength| super::format::length(length, prefs).to_string();
    let mut all = Vec::new();
    for (axis, left) in found.spare.into_iter().flatten().filter(|(_, left)| *left < ExactLength::ZERO) {
        all.push(words::no_room(names::axis(axis), &length(-left)));
    }
    match found.grille {
        Some(gap) if gap < ExactLength::ZERO => all.push(words::hits_grille(&length(-gap))),
        Some(gap) if gap < LEAST_TO_GRILLE => all.push(words::near_grille(&length(gap))),
        _ => {}
    }
    let short = |free: &Free| free.found.metres() < free.wanted.metres();
    if found.cone.as_ref().is_some_and(short) {
        all.push(words::CONE_CLOSED_IN.into());
    }
    if found.port.as_ref().is_some_and(short) {
        all.push(words::PORT_CLOSED_IN.into());
    }
    all
}

/// What must stay reachable in the vehicle with the box in it: keys of ticks and their texts.
pub fn reach() -> impl Iterator<Item = (String, &'static str)> {
    words::REACH.iter().enumerate().map(|(number, text)| (format!("reach {number}"), *text))
}
