//! Distances of what is not a box with everything in its front: radiators, a divider, a baffle.
use super::front::{Opening, corner, front_facts, nearest_pair};
use super::{Fact, SCREW_EDGE, depth_facts, pole_vent};
use crate::model::geometry::assembly::Assembly;
use crate::model::geometry::axes::{Axis, Dims, Point};
use crate::model::geometry::layout::slot_roofs;
use crate::model::geometry::spec::{
    BoxSpec, ChamberTubes, Divider, Form, Port, RadiatorCutout, RadiatorPlace,
};
use crate::model::geometry::strips;
use crate::units::ExactLength;

#[inline(never)]
pub(super) fn facts(spec: &BoxSpec, assembly: &Assembly, facts: &mut Vec<Fact>) {
    match spec.form {
        Form::Plain => {}
        Form::Radiators(radiators) => {
            depth_facts(spec, assembly, facts);
            let inside = walls(Axis::Depth, assembly.inside_min, assembly.inside);
            front_facts(spec, assembly, inside, facts);
            radiator_facts(spec, assembly, radiators, facts);
        }
        Form::Divided(divider) => divided_facts(spec, assembly, divider, facts),
        Form::Baffle => baffle_facts(spec, assembly, facts),
    }
}

/// Across and up on a board that faces along `facing`.
fn on(facing: Axis, at: Dims) -> Dims {
    if facing == Axis::Width { Dims { width: at.depth, ..at } } else { at }
}

/// Smallest and largest corner of the inside as seen on a board that faces along `facing`.
fn walls(facing: Axis, low: Point, size: Dims) -> ([f64; 2], [f64; 2]) {
    (corner(on(facing, low)), corner(on(facing, low + size)))
}

fn radiator_facts(spec: &BoxSpec, assembly: &Assembly, radiators: RadiatorCutout, facts: &mut Vec<Fact>) {
    let side = radiators.place == RadiatorPlace::Sides;
    let facing = if side { Axis::Width } else { Axis::Depth };
    let board = if side { spec.boards.shell.thickness } else { assembly.front_thickness };
    let (low, high) = walls(facing, assembly.inside_min, assembly.inside);
    let whole = (corner(Dims::default()), corner(on(facing, assembly.outside)));
    for (radiator, &at) in (0u8..).zip(&assembly.layout.others) {
        let flange = Opening::new(on(facing, at), radiators.flange);
        let gap = flange.to_sides(whole.0, whole.1);
        facts.push(Fact::RadiatorToEdge { radiator, gap, wanted: SCREW_EDGE });
        let gap = Opening::new(on(facing, at), radiators.cutout).to_sides(low, high);
        facts.push(Fact::RadiatorToWall { radiator, gap });
    }
    let gap = assembly.inside.get(facing) - (radiators.depth - board);
    facts.push(Fact::RadiatorBehind { gap });
    if !side {
        between_flanges(spec, assembly, radiators, facts);
    }
}

/// Between the flanges of radiators in the front and of what else has one there.
pub(super) fn between_flanges(
    spec: &BoxSpec,
    assembly: &Assembly,
    radiators: RadiatorCutout,
    facts: &mut Vec<Fact>,
) {
    let others: Vec<Opening> =
        assembly.layout.others.iter().map(|&at| Opening::new(at, radiators.flange)).collect();
    let recess = spec.driver.as_ref().and_then(|driver| driver.recess).map(|recess| recess.clearance);
    let wide = spec.driver.as_ref().map_or(ExactLength::ZERO, |driver| driver.flange);
    let wide = wide + recess.unwrap_or_default();
    let drivers = assembly.layout.drivers.iter().map(|&at| Opening::new(at, wide));
    let between = drivers.flat_map(|driver| others.iter().map(move |other| driver.to(*other))).min();
    if let Some(gap) = between.into_iter().chain(nearest_pair(&others)).min() {
        facts.push(Fact::RadiatorToFlange { gap });
    }
}

fn divided_facts(spec: &BoxSpec, assembly: &Assembly, divider: Divider, facts: &mut Vec<Fact>) {
    let low = assembly.inside_min;
    // The roofs of slots lie against the divider.
    let [before, behind] = slot_roofs(spec, divider);
    let above = |up: ExactLength| {
        let from = Point { height: low.height + up, ..low };
        walls(Axis::Width, from, Dims { height: assembly.inside.height - up, ..assembly.inside })
    };
    let (face, board) = (above(before), above(before.max(behind)));
    let to_sides = |walls: ([f64; 2], [f64; 2])| {
        move |at: Point, diameter: ExactLength| {
            Opening::seen(at, Axis::Width, diameter).to_sides(walls.0, walls.1)
        }
    };
    in_divider(spec, assembly, divider, [&to_sides(face), &to_sides(board)], facts);
    let rear_width = assembly.inside.width - spec.before_cones();
    if let Some(own) = divider.tubes() {
        let front_room = walls(Axis::Depth, low, Dims { width: divider.room, ..assembly.inside });
        tube_facts(&tubes_on(Axis::Depth, &assembly.layout.others, own.outer()), front_room, facts);
    }
    let tubes = &assembly.layout.tubes;
    if divider.inward {
        tube_facts(&tubes_on(Axis::Width, tubes, outer_of(&spec.port)), board, facts);
    } else {
        let from = Point { width: low.width + spec.before_cones(), ..low };
        let rear = walls(Axis::Depth, from, Dims { width: rear_width, ..assembly.inside });
        tube_facts(&tubes_on(Axis::Depth, tubes, outer_of(&spec.port)), rear, facts);
    }
    for port in [assembly.front_port, assembly.port].into_iter().flatten() {
        facts.push(Fact::PortToBack { gap: port.to_back, wanted: port.height });
    }
    strips_in_slots(spec, facts);
}

/// How far a disc at a point, of a diameter, is from the nearest edge.
type ToEdges<'a> = &'a dyn Fn(Point, ExactLength) -> ExactLength;

/// Drivers in a divider: free behind them, and from one another and its tubes; `to_face` and `to_board` measure to the edges
/// of what is free of it before the cones and on both sides.
pub(super) fn in_divider(
    spec: &BoxSpec,
    assembly: &Assembly,
    divider: Divider,
    [to_face, to_board]: [ToEdges<'_>; 2],
    facts: &mut Vec<Fact>,
) {
    let Some(driver) = &spec.driver else { return };
    let rear_width = assembly.inside.width - spec.before_cones();
    let gap = rear_width - (driver.depth - spec.boards.inner.thickness);
    facts.push(Fact::MagnetToSide { gap });
    facts.extend(pole_vent(driver, gap));
    for (number, &at) in (0u8..).zip(&assembly.layout.drivers) {
        // The walls hold the divider's edges: the flange only has to find room between them.
        let gap = to_face(at, driver.flange);
        facts.push(Fact::FlangeToEdge { driver: number, gap, wanted: ExactLength::ZERO });
        facts.push(Fact::CutoutToWall { driver: number, gap: to_board(at, driver.cutout) });
    }
    let flanges = tubes_on(Axis::Width, &assembly.layout.drivers, driver.flange);
    facts.extend(nearest_pair(&flanges).map(|gap| Fact::FlangeToFlange { gap }));
    if divider.inward {
        let tubes = tubes_on(Axis::Width, &assembly.layout.tubes, outer_of(&spec.port));
        for (driver, flange) in (0u8..).zip(&flanges) {
            let nearest = tubes.iter().map(|tube| flange.to(*tube)).min();
            facts.extend(nearest.map(|gap| Fact::FlangeToPort { driver, gap }));
        }
    }
}

/// Corner strips that were asked for in edges a slot or a batten runs along.
#[inline(never)] // few boxes have one: it may come after the first result
pub(super) fn strips_in_slots(spec: &BoxSpec, facts: &mut Vec<Fact>) {
    let edges = spec.strips.iter().flat_map(|strips| &strips.edges);
    let count = edges.filter(|edge| strips::is_left_out(spec, **edge)).count();
    if count > 0 {
        facts.push(Fact::StripsInSlot { count: u8::try_from(count).unwrap_or(12) });
    }
}

pub(super) fn outer_of(port: &Port) -> ExactLength {
    match port {
        Port::Round(port) => {
            let (count, diameter, wall, length) = (port.count, port.diameter, port.wall, port.length);
            ChamberTubes { count, diameter, wall, length }.outer()
        }
        _ => ExactLength::ZERO,
    }
}

pub(super) fn tubes_on(facing: Axis, places: &[Point], outer: ExactLength) -> Vec<Opening> {
    places.iter().map(|&at| Opening::new(on(facing, at), outer)).collect()
}

pub(super) fn tube_facts(tubes: &[Opening], walls: ([f64; 2], [f64; 2]), facts: &mut Vec<Fact>) {
    for (tube, opening) in (0u8..).zip(tubes) {
        facts.push(Fact::TubeToWall { tube, gap: opening.to_sides(walls.0, walls.1) });
    }
    facts.extend(nearest_pair(tubes).map(|gap| Fact::TubeToTube { gap }));
}

fn baffle_facts(spec: &BoxSpec, assembly: &Assembly, facts: &mut Vec<Fact>) {
    let Some(driver) = &spec.driver else { return };
    if driver.recess.is_some() {
        let left = assembly.front_thickness - spec.recess_depth();
        facts.push(Fact::WoodBehindRecess { left, wanted: SCREW_EDGE });
    }
    let wide = driver.flange + driver.recess.map_or(ExactLength::ZERO, |recess| recess.clearance);
    let flanges: Vec<Opening> = assembly.layout.drivers.iter().map(|&at| Opening::new(at, wide)).collect();
    for (number, flange) in (0u8..).zip(&flanges) {
        let gap = flange.to_sides(corner(Dims::default()), corner(assembly.outside));
        facts.push(Fact::FlangeToEdge { driver: number, gap, wanted: SCREW_EDGE });
    }
    facts.extend(nearest_pair(&flanges).map(|gap| Fact::FlangeToFlange { gap }));
}
