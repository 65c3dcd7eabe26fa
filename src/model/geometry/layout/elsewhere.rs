//! Where the drivers sit that are not in the front.
use super::{Region, best};
use crate::model::geometry::axes::{Axis, Dims, End, Point};
use crate::model::geometry::edges::Place;
use crate::model::geometry::shell::Shell;
use crate::model::geometry::spec::{BoxSpec, DriverCutout, Port};
use crate::units::ExactLength;

/// What of a face is free: smallest and largest along [`Axis::face`], in millimetres.
pub(in crate::model::geometry) type Free = [[f64; 2]; 2];

/// Centres on the outside of their faces, each group with the most wood between and around.
#[inline(never)] // few boxes have any: it may come after the first result
pub(super) fn places(spec: &BoxSpec, driver: &DriverCutout, outside: Dims) -> Vec<Point> {
    let board = spec.boards.shell.thickness;
    let walls = Shell::walls(spec);
    let low = Point { width: board, height: board, depth: spec.front_thickness() };
    let high = low + Dims::of(|axis| outside.get(axis) - walls.get(axis));
    arranged(spec, driver, outside, &|face| {
        let along = face.0.face();
        [low, high].map(|corner| along.map(|axis| corner.get(axis).millimetres()))
    })
}

/// The drivers of each face arranged in what of it is free, above a slot on the floor.
#[inline(never)] // few boxes have any: it may come after the first result
pub(in crate::model::geometry) fn arranged(
    spec: &BoxSpec,
    driver: &DriverCutout,
    outside: Dims,
    free: &dyn Fn(Place) -> Free,
) -> Vec<Point> {
    let flange = driver.flange.millimetres();
    let roof = match &spec.port {
        Port::Slot(slot) => (slot.height + spec.boards.inner.thickness).millimetres(),
        _ => 0.0,
    };
    let places = driver.elsewhere.iter().enumerate().map(|(number, &face)| {
        let (axis, end) = face;
        let together = driver.elsewhere.iter().filter(|&&other| other == face).count();
        let before = driver.elsewhere.iter().take(number).filter(|&&other| other == face).count();
        let [mut low, high] = free(face);
        if axis != Axis::Height {
            low[1] += roof;
        }
        let region = Region { min: low, size: [high[0] - low[0], high[1] - low[1]] };
        let [across, up] = best(region, together, flange, 0, 0.0).get(before).copied().unwrap_or_default();
        let level = if end == End::Low { ExactLength::ZERO } else { outside.get(axis) };
        // Whole millimetres: centres are marked out by hand.
        let [first, second] = axis.face();
        Dims::default()
            .with(axis, level)
            .with(first, ExactLength::from_millimetres(across.round()))
            .with(second, ExactLength::from_millimetres(up.round()))
    });
    places.collect()
}
