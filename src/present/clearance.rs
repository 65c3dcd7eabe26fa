//! The clearance stack in names, values, units.
use super::bench::Row;
use super::format::fixed;
use super::names;
use crate::design::clearance::{Clearance, Doubt, Free};
use crate::units::{ExactLength, Quantity, UnitPrefs};
use crate::words::{clearance as words, rings};

/// Speed at which warm air leaves by itself, m/s; common practice, no source.
const DRAUGHT_M_S: f64 = 0.5;

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
        rows.push((words::OPENING, fixed(flow / DRAUGHT_M_S * 1e4, 0), "cm²"));
    }
    if let Some(bodies) = found.amplifiers {
        rows.push((words::ROOM_FOR, format!("{} / {}", bodies.fit, bodies.wanted), ""));
        rows.extend(bodies.over.map(|over| (words::OVER_THEM, text(over), unit)));
    }
    if let Some((area, roll)) = found.wrap {
        rows.push((words::WRAP_AREA, fixed(area, 2), "m²"));
        rows.push((words::WRAP_LENGTH, fixed(roll.length * 1e-3, 2), "m"));
    }
    rows
}

fn mm(value: f64) -> ExactLength {
    ExactLength::from_millimetres(value.round())
}

/// What does not go, or only just.
#[must_use]
pub fn notes(found: &Clearance, prefs: &UnitPrefs) -> Vec<String> {
    let mut all: Vec<String> = found.doubts().iter().map(|doubt| say(doubt, prefs)).collect();
    if found.wrap.is_some_and(|(_, roll)| roll.too_wide > 0) {
        all.push(words::NOT_ON_ROLL.into());
    }
    all
}

/// A doubt as a sentence.
#[must_use]
#[inline(never)] // only where something stands on the box
pub fn say(doubt: &Doubt, prefs: &UnitPrefs) -> String {
    let length = |length: ExactLength| super::format::length(length, prefs).to_string();
    match *doubt {
        Doubt::NoRoom(axis, over) => words::no_room(names::axis(axis), &length(over)),
        Doubt::Grille(gap) if gap < ExactLength::ZERO => words::hits_grille(&length(-gap)),
        Doubt::Grille(gap) => words::near_grille(&length(gap)),
        Doubt::Cone => words::CONE_CLOSED_IN.into(),
        Doubt::Port => words::PORT_CLOSED_IN.into(),
        Doubt::Bodies(fit, wanted) => words::no_bodies(fit, wanted),
        Doubt::Fins(left) => words::no_air(&length(left)),
        Doubt::RingTube(long, most) => rings::tube_long(&length(long), &length(most)),
        Doubt::RingHole => rings::DRIVER_WIDE.into(),
        Doubt::RingDepth => rings::DRIVER_DEEP.into(),
    }
}

/// What must stay reachable in the vehicle with the box in it: keys of ticks and their texts.
pub fn reach() -> impl Iterator<Item = (String, &'static str)> {
    words::REACH.iter().enumerate().map(|(number, text)| (format!("reach {number}"), *text))
}
