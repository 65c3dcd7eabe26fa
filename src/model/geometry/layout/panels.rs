//! Where round openings sit that are not all drivers and tubes of one front: radiators, a divider, a baffle.
use super::{Layout, Region, best, elsewhere, point};
use crate::model::geometry::axes::{Axis, Dims, Point};
use crate::model::geometry::shell::Shell;
use crate::model::geometry::spec::{BoxSpec, Divider, Form, Port, RadiatorCutout, RadiatorPlace};
use crate::model::geometry::strips;
use crate::units::ExactLength;

/// The arrangement with the most wood, panel by panel.
#[inline(never)]
pub(super) fn arrange(spec: &BoxSpec, outside: Dims) -> Layout {
    match spec.form {
        Form::Radiators(radiators) => with_radiators(spec, radiators, outside),
        Form::Divided(divider) => divided(spec, divider, outside),
        Form::Baffle | Form::Plain => {
            let front = Region { min: [0.0; 2], size: on(outside, Axis::Depth) };
            Layout { drivers: drivers_on(spec, front, (0, 0.0)).0, ..Layout::default() }
        }
    }
}

/// Sizes of a panel that faces along an axis, across and up as `point` takes them: width or depth, then height.
fn on(size: Dims, facing: Axis) -> [f64; 2] {
    let across = if facing == Axis::Width { size.depth } else { size.width };
    [across, size.height].map(ExactLength::millimetres)
}

/// Drivers and other discs on one panel: places of both, across and up as if it were the front.
fn drivers_on(spec: &BoxSpec, region: Region, (others, diameter): (u8, f64)) -> (Vec<Point>, Vec<Point>) {
    let driver = spec.driver.as_ref();
    let count = driver.map_or(0, |driver| usize::from(driver.in_front()));
    let flange = driver.map_or(0.0, |driver| driver.flange.millimetres());
    let found = best(region, count, flange, usize::from(others), diameter);
    let (first, second) = found.split_at(count.min(found.len()));
    let points = |places: &[[f64; 2]]| places.iter().map(|&at| point(at)).collect();
    (points(first), points(second))
}

/// Discs alone on a panel.
fn discs_on(region: Region, count: u8, diameter: f64) -> Vec<Point> {
    best(region, 0, 0.0, usize::from(count), diameter).into_iter().map(point).collect()
}

/// A point on the front turned to a panel that faces sideways and stands at `width`.
fn sideways(at: Point, width: ExactLength) -> Point {
    Point { depth: at.width, width, height: at.height }
}

fn inside_of(spec: &BoxSpec, outside: Dims) -> (Point, Dims) {
    let board = spec.boards.shell.thickness;
    let walls = Shell::walls(spec);
    let min = Point { width: board, height: board, depth: spec.front_thickness() };
    (min, Dims::of(|axis| outside.get(axis) - walls.get(axis)))
}

fn region(min: Point, size: Dims, facing: Axis) -> Region {
    Region { min: on(min, facing), size: on(size, facing) }
}

fn with_radiators(spec: &BoxSpec, radiators: RadiatorCutout, outside: Dims) -> Layout {
    let (min, inside) = inside_of(spec, outside);
    let (front, flange) = (region(min, inside, Axis::Depth), radiators.flange.millimetres());
    let driver = spec.driver.as_ref().filter(|driver| !driver.elsewhere.is_empty());
    let others = driver.map(|driver| elsewhere::places(spec, driver, outside));
    let (elsewhere, beside) = others.map_or((Vec::new(), None), |found| (found.drivers, found.radiators));
    if radiators.place == RadiatorPlace::Front {
        let (drivers, others) = drivers_on(spec, front, (radiators.count, flange));
        return Layout { drivers, others, elsewhere, ..Layout::default() };
    }
    let one = match beside {
        Some(at) => vec![point(at)],
        None => discs_on(region(min, inside, Axis::Width), 1, flange),
    };
    let widths = [ExactLength::ZERO, outside.width - spec.boards.shell.thickness];
    let others = widths.into_iter().take(usize::from(radiators.count));
    let others = others.flat_map(|width| one.iter().map(move |&at| sideways(at, width))).collect();
    Layout { drivers: drivers_on(spec, front, (0, 0.0)).0, others, elsewhere, ..Layout::default() }
}

fn divided(spec: &BoxSpec, divider: Divider, outside: Dims) -> Layout {
    let (min, inside) = inside_of(spec, outside);
    let others = divider.tubes().map_or(Vec::new(), |tubes| {
        let outer = tubes.outer().millimetres();
        let room = region(min, Dims { width: divider.room, ..inside }, Axis::Depth);
        discs_on(clear_of_strips(spec, room, outer, 1.0), tubes.count, outer)
    });
    let (tubes, outer) = match &spec.port {
        Port::Round(port) => (port.count, (port.diameter + port.wall * 2).millimetres()),
        _ => (0, 0.0),
    };
    let face = min.width + divider.room;
    // Above the slots on either side of it.
    let [before, behind] = slot_roofs(spec, divider);
    let up = before.max(behind);
    let from = Point { height: min.height + up, ..min };
    let board = region(from, Dims { height: inside.height - up, ..inside }, Axis::Width);
    let on_board = if divider.inward { tubes } else { 0 };
    let (drivers, inner) = drivers_on(spec, board, (on_board, outer));
    let turned = |places: Vec<Point>| places.into_iter().map(|at| sideways(at, face)).collect();
    let tubes = if divider.inward {
        turned(inner)
    } else {
        let behind = spec.before_cones();
        let from = Point { width: min.width + behind, ..min };
        let rear = region(from, Dims { width: inside.width - behind, ..inside }, Axis::Depth);
        discs_on(clear_of_strips(spec, rear, outer, 0.0), tubes, outer)
    };
    Layout { drivers: turned(drivers), tubes, others, ..Layout::default() }
}

/// How high the roofs of slots reach at the divider, from the floor: before it and behind it.
pub(in crate::model::geometry) fn slot_roofs(spec: &BoxSpec, divider: Divider) -> [ExactLength; 2] {
    let front = divider.slot().map(|slot| (slot.height, slot.length));
    let rear = match &spec.port {
        Port::Slot(slot) => Some((slot.height, slot.length)),
        _ => None,
    };
    [front, rear].map(|slot| match slot {
        Some((height, length)) if length > spec.front_thickness() => height + spec.boards.inner.thickness,
        _ => ExactLength::ZERO,
    })
}

/// A region beside the strip that stands in its outer corner, where that leaves room for a disc; `side` is 1 where the
/// corner lies to the left.
fn clear_of_strips(spec: &BoxSpec, region: Region, disc: f64, side: f64) -> Region {
    let upright = spec.strips.as_ref().filter(|it| it.edges.iter().any(|edge| edge.along == Axis::Height));
    let leg = upright.map_or(0.0, |it| strips::leg_mm(it.wide_face(spec.boards.strips.thickness)));
    let leg = leg.min((region.size[0] - disc).max(0.0));
    Region { min: [region.min[0] + leg * side, region.min[1]], size: [region.size[0] - leg, region.size[1]] }
}
