//! Where the drivers sit that are not in the front, and passive radiators beside them in a side.
use super::{Region, best};
use crate::model::geometry::axes::{Axis, Dims, End, Point};
use crate::model::geometry::edges::{LEFT, Place, RIGHT};
use crate::model::geometry::shell::Shell;
use crate::model::geometry::spec::{BoxSpec, DriverCutout, Port};
use crate::units::ExactLength;

/// What of a face is free: smallest and largest along [`Axis::face`], in millimetres.
pub(in crate::model::geometry) type Free = [[f64; 2]; 2];

/// Finds places on a face for discs of two kinds, so many and so wide: the first kind first.
type Find<'a> = &'a dyn Fn(Place, (usize, f64), (usize, f64)) -> Vec<[f64; 2]>;

/// Where what sits in other faces than the front goes.
pub(in crate::model::geometry) struct Places {
    /// Drivers, in the order of [`DriverCutout::elsewhere`].
    pub drivers: Vec<Point>,
    /// Radiators that share a side with drivers, depth and height of each; `None` where none does.
    pub radiators: Option<[f64; 2]>,
}

/// Centres on the outside of their faces, each group with the most wood between and around.
#[inline(never)] // few boxes have any: it may come after the first result
pub(super) fn places(spec: &BoxSpec, driver: &DriverCutout, outside: Dims) -> Places {
    let board = spec.boards.shell.thickness;
    let walls = Shell::walls(spec);
    let low = Point { width: board, height: board, depth: spec.front_thickness() };
    let high = low + Dims::of(|axis| outside.get(axis) - walls.get(axis));
    let free = |face: Place| {
        let along = face.0.face();
        [low, high].map(|corner| along.map(|axis| corner.get(axis).millimetres()))
    };
    arranged(spec, driver, outside, &|face, drivers, radiators| {
        in_rectangle(spec, face, free(face), drivers, radiators)
    })
}

/// Discs in what of a face is free, above a slot on the floor.
pub(in crate::model::geometry) fn in_rectangle(
    spec: &BoxSpec,
    (axis, _): Place,
    [mut low, high]: Free,
    drivers: (usize, f64),
    radiators: (usize, f64),
) -> Vec<[f64; 2]> {
    if let (Port::Slot(slot), true) = (&spec.port, axis != Axis::Height) {
        low[1] += (slot.height + spec.boards.inner.thickness).millimetres();
    }
    let region = Region { min: low, size: [high[0] - low[0], high[1] - low[1]] };
    best(region, drivers.0, drivers.1, radiators.0, radiators.1)
}

/// The drivers of each face, and of sides the radiators beside them, where `find` finds room for them.
#[inline(never)] // few boxes have any: it may come after the first result
pub(in crate::model::geometry) fn arranged(
    spec: &BoxSpec,
    driver: &DriverCutout,
    outside: Dims,
    find: Find<'_>,
) -> Places {
    let flange = driver.flange.millimetres();
    let on = |face: Place| driver.elsewhere.iter().filter(|&&other| other == face).count();
    // Sides with radiators are arranged alike: two that push against each other stay opposite each other.
    let beside = [LEFT, RIGHT].into_iter().filter(|&side| spec.radiators_in(side).is_some());
    let most = beside.map(on).max().unwrap_or(0);
    let places = driver.elsewhere.iter().enumerate().map(|(number, &face)| {
        let (axis, end) = face;
        let before = driver.elsewhere.iter().take(number).filter(|&&other| other == face).count();
        let found = match spec.radiators_in(face) {
            Some((_, radiators)) => find(face, (most, flange), (1, radiators.flange.millimetres())),
            None => find(face, (on(face), flange), (0, 0.0)),
        };
        let [across, up] = found.get(before).copied().unwrap_or_default();
        let level = if end == End::Low { ExactLength::ZERO } else { outside.get(axis) };
        // Whole millimetres: centres are marked out by hand.
        let [first, second] = axis.face();
        Dims::default()
            .with(axis, level)
            .with(first, ExactLength::from_millimetres(across.round()))
            .with(second, ExactLength::from_millimetres(up.round()))
    });
    let drivers = places.collect();
    let radiators = spec.radiators_in(LEFT).filter(|_| most > 0);
    let radiators = radiators
        .and_then(|(_, it)| find(LEFT, (most, flange), (1, it.flange.millimetres())).get(most).copied());
    Places { drivers, radiators }
}
