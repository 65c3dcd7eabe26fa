//! Where drivers and tubes sit on the front.
pub(super) mod elsewhere;
mod panels;
pub(super) mod shaped;

pub(super) use self::panels::slot_roofs;

use super::axes::{Dims, Point};
use super::bent;
use super::sizes::front_cut_back;
use super::spec::{BoxSpec, Form, Port};
use crate::units::ExactLength;

/// Centres on the front, counted from its lower left corner outside; depth is zero.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Layout {
    /// Drivers in the front, or in the divider.
    pub drivers: Vec<Point>,
    /// Port tubes.
    pub tubes: Vec<Point>,
    /// Passive radiators, or the tubes of the room before the drivers.
    pub others: Vec<Point>,
    /// Drivers in other faces, on the outside of each, in the order of [`super::DriverCutout::elsewhere`].
    pub elsewhere: Vec<Point>,
}

/// A disc to place, diameter in millimetres.
#[derive(Clone, Copy)]
struct Disc {
    diameter: f64,
}

/// Part of the front that is free for round openings, in millimetres.
#[derive(Clone, Copy)]
struct Region {
    min: [f64; 2],
    size: [f64; 2],
}

/// Takes centres as given, or arranges them.
///
/// Of a row across, a column, and tubes below or above a row or beside a column of drivers, the arrangement with the
/// most wood between the openings and around them is taken.
#[must_use]
pub fn arrange(spec: &BoxSpec, outside: Dims) -> Layout {
    if !spec.is_plain() {
        return panels::arrange(spec, outside);
    }
    let driver = spec.driver.as_ref();
    let drivers = driver.map_or(0, |d| usize::from(d.in_front()));
    let flange = driver.map_or(0.0, |d| d.flange.millimetres());
    let (tubes, tube) = match &spec.port {
        Port::Round(port) => (usize::from(port.count), (port.diameter + port.wall * 2).millimetres()),
        _ => (0, 0.0),
    };
    let region = free_region(spec, outside);
    let found = best(region, drivers, flange, tubes, tube);
    let (driver_places, tube_places) = found.split_at(drivers.min(found.len()));
    let mut layout = Layout {
        drivers: driver_places.iter().map(|&at| point(at)).collect(),
        tubes: tube_places.iter().map(|&at| point(at)).collect(),
        others: Vec::new(),
        elsewhere: Vec::new(),
    };
    if let Some(driver) = driver {
        keep_given(&mut layout.drivers, &driver.centres);
        if !driver.elsewhere.is_empty() {
            layout.elsewhere = elsewhere::places(spec, driver, outside).drivers;
        }
    }
    if let Port::Round(port) = &spec.port {
        keep_given(&mut layout.tubes, &port.centres);
    }
    layout
}

/// As many centres as there are, all at zero.
pub(super) fn unplaced(spec: &BoxSpec) -> Layout {
    let tubes = match &spec.port {
        Port::Round(port) => port.count,
        _ => 0,
    };
    let [drivers, elsewhere] = spec.driver.as_ref().map_or([0; 2], |driver| {
        let drivers = driver.in_front();
        [drivers, driver.count - drivers]
    });
    let others = match spec.form {
        Form::Radiators(radiators) => radiators.count,
        Form::Divided(divider) => divider.tubes().map_or(0, |tubes| tubes.count),
        Form::Plain | Form::Baffle => 0,
    };
    Layout {
        drivers: vec![Point::default(); usize::from(drivers)],
        tubes: vec![Point::default(); usize::from(tubes)],
        others: vec![Point::default(); usize::from(others)],
        elsewhere: vec![Point::default(); usize::from(elsewhere)],
    }
}

/// Centres typed by the user replace those found, one by one.
fn keep_given(places: &mut [Point], given: &[Dims]) {
    for (place, at) in places.iter_mut().zip(given) {
        *place = Point { depth: ExactLength::ZERO, ..*at };
    }
}

fn point([across, up]: [f64; 2]) -> Point {
    // Centres go to whole millimetres: they are marked out by hand.
    Point {
        width: ExactLength::from_millimetres(across.round()),
        height: ExactLength::from_millimetres(up.round()),
        depth: ExactLength::ZERO,
    }
}

/// The front over the inside, above a slot port.
fn free_region(spec: &BoxSpec, outside: Dims) -> Region {
    let wall = spec.boards.shell.thickness.millimetres();
    let (low, above) = if matches!(spec.port, Port::Slot(_)) { beside_slot(spec) } else { (0.0, 0.0) };
    let high = outside.height.millimetres() - 2.0 * wall - low - above;
    Region { min: [wall, wall + low], size: [outside.width.millimetres() - 2.0 * wall, high] }
}

/// What a slot takes from the front below and above.
#[inline(never)] // few boxes have one: it may come after the first result
fn beside_slot(spec: &BoxSpec) -> (f64, f64) {
    let Port::Slot(slot) = &spec.port else { return (0.0, 0.0) };
    // Along a front that leans it is more.
    let lean = spec.profile.as_ref().map_or(1.0, |profile| profile.slope(spec.outside.height));
    let leg = (slot.height + spec.boards.inner.thickness).millimetres() * lean;
    // A slot that bends twice ends under the top, before the drivers.
    let above = if bent::bends(spec) == 2 { leg } else { 0.0 };
    (leg.max(front_cut_back(spec).millimetres()), above)
}

fn best(region: Region, drivers: usize, flange: f64, tubes: usize, tube: f64) -> Vec<[f64; 2]> {
    let big = vec![Disc { diameter: flange }; drivers];
    let small = vec![Disc { diameter: tube }; tubes];
    let all: Vec<Disc> = big.iter().chain(&small).copied().collect();
    let mut candidates = vec![row(region, &all, 0), row(region, &all, 1)];
    if drivers > 0 && tubes > 0 {
        candidates.extend(with_tubes(region, &big, &small));
    }
    let mut found = (f64::NEG_INFINITY, Vec::new());
    for places in candidates {
        let wood = least_wood(region, &all, &places);
        // The first of equally good arrangements stays.
        if wood > found.0 + 1e-9 {
            found = (wood, places);
        }
    }
    found.1
}

/// Drivers and tubes apart from each other.
#[inline(never)] // the first picture has no tubes
fn with_tubes(region: Region, big: &[Disc], small: &[Disc]) -> Vec<Vec<[f64; 2]>> {
    let mut candidates = Vec::new();
    for direction in [0, 1] {
        for tubes_first in [false, true] {
            candidates.push(two_rows(region, big, small, direction, tubes_first));
        }
    }
    if small.len() <= 2 {
        candidates.push(corners(region, big, small));
    }
    candidates
}

/// Discs in one line along `direction` (0 across, 1 up), equal gaps, in the middle of the other direction.
fn row(region: Region, discs: &[Disc], direction: usize) -> Vec<[f64; 2]> {
    let total: f64 = discs.iter().map(|d| d.diameter).sum();
    let gap = (region.size[direction] - total) / (discs.len() + 1) as f64;
    let mut at = region.min[direction];
    let mut places = Vec::with_capacity(discs.len());
    for disc in discs {
        let mut centre = [0, 1].map(|axis| region.min[axis] + region.size[axis] / 2.0);
        centre[direction] = at + gap + disc.diameter / 2.0;
        at += gap + disc.diameter;
        places.push(centre);
    }
    places
}

/// Drivers and tubes in two lines along `direction`, one beside the other with equal gaps.
fn two_rows(
    region: Region,
    big: &[Disc],
    small: &[Disc],
    direction: usize,
    small_first: bool,
) -> Vec<[f64; 2]> {
    let other = 1 - direction;
    let widest = |discs: &[Disc]| discs.iter().map(|d| d.diameter).fold(0.0, f64::max);
    let gap = (region.size[other] - widest(big) - widest(small)) / 3.0;
    let line = |discs: &[Disc], from: f64| {
        let mut places = row(region, discs, direction);
        for place in &mut places {
            place[other] = from + widest(discs) / 2.0;
        }
        places
    };
    let low = region.min[other] + gap;
    let (at_big, at_small) =
        if small_first { (low + widest(small) + gap, low) } else { (low, low + widest(big) + gap) };
    let mut places = line(big, at_big);
    places.extend(line(small, at_small));
    places
}

/// Drivers in a row in the middle, tubes in the lower corners, where a round driver leaves room.
fn corners(region: Region, big: &[Disc], small: &[Disc]) -> Vec<[f64; 2]> {
    let direction = usize::from(region.size[1] > region.size[0]);
    let mut places = row(region, big, direction);
    for (number, disc) in small.iter().enumerate() {
        // As far from the walls as a tenth of its diameter.
        let inset = disc.diameter * 0.6;
        let across = if number == 0 { region.size[0] - inset } else { inset };
        places.push([region.min[0] + across, region.min[1] + inset]);
    }
    places
}

/// The narrowest piece of wood between discs or from a disc to the edge of the region; below zero where they overlap.
fn least_wood(region: Region, discs: &[Disc], places: &[[f64; 2]]) -> f64 {
    let mut least = f64::INFINITY;
    for (i, (disc, at)) in discs.iter().zip(places).enumerate() {
        for axis in [0, 1] {
            let low = at[axis] - disc.diameter / 2.0 - region.min[axis];
            let high = region.size[axis] - (at[axis] - region.min[axis]) - disc.diameter / 2.0;
            least = least.min(low).min(high);
        }
        for (other, place) in discs.iter().zip(places).skip(i + 1) {
            let apart = (at[0] - place[0]).hypot(at[1] - place[1]);
            least = least.min(apart - (disc.diameter + other.diameter) / 2.0);
        }
    }
    if least.is_finite() { least } else { 0.0 }
}
