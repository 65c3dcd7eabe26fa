//! Distances of drivers in other faces than the front, and of terminals beside drivers and ports.
use super::front::{Opening, nearest_pair, over_strip, seen};
use super::shaped::forms::to_edges;
use super::{Fact, SCREW_EDGE, pole_vent};
use crate::model::geometry::assembly::{Assembly, Body, BodyKind, Role};
use crate::model::geometry::axes::{Axis, Point};
use crate::model::geometry::edges::{self, FRONT, Place, RIGHT};
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::{BoxSpec, DriverCutout};
use crate::units::ExactLength;

/// What boxes with drivers or terminals elsewhere are asked on top.
#[inline(never)] // few boxes have any: it may come after the first result
pub(super) fn facts(spec: &BoxSpec, assembly: &Assembly, facts: &mut Vec<Fact>) {
    if let Some(driver) = &spec.driver {
        let mut faces: Vec<Place> = Vec::new();
        for &face in &driver.elsewhere {
            if !faces.contains(&face) {
                faces.push(face);
                face_facts(spec, driver, assembly, face, facts);
            }
        }
        if !faces.is_empty() {
            magnet_facts(driver, assembly, facts);
        }
    }
    terminal_beside(spec, assembly, facts);
}

/// The drivers of a face, by number and place.
fn drivers_on<'a>(
    driver: &'a DriverCutout,
    assembly: &'a Assembly,
    face: Place,
) -> impl Iterator<Item = (u8, Point)> + 'a {
    let others = driver.elsewhere.iter().zip(&assembly.layout.elsewhere);
    let others = (driver.in_front()..).zip(others).filter(move |(_, (other, _))| **other == face);
    let front = (0u8..).zip(&assembly.layout.drivers).filter(move |_| face == FRONT);
    front.map(|(number, at)| (number, *at)).chain(others.map(|(number, (_, at))| (number, *at)))
}

/// The flanges of the radiators of a face.
fn radiators_on(spec: &BoxSpec, assembly: &Assembly, face: Place) -> Vec<Opening> {
    let Some((count, radiators)) = spec.radiators_in(face) else { return Vec::new() };
    let before = usize::from(face == RIGHT);
    let here = assembly.layout.others.iter().skip(before).take(count.into());
    here.map(|&at| Opening::seen(at, face.0, radiators.flange)).collect()
}

/// Flanges and holes on one face: from its edges, from the walls inside, from one another, and over corner strips.
fn face_facts(
    spec: &BoxSpec,
    driver: &DriverCutout,
    assembly: &Assembly,
    face: Place,
    facts: &mut Vec<Fact>,
) {
    let axis = face.0;
    let id = edges::board(face);
    let Some(board) = assembly.bodies.iter().find(|body| body.kind == BodyKind::Board(id)) else { return };
    let [mut low, high] = seen(&board.solid, axis);
    // Of a side that forms a leg what lies before the front is window, or foot beside it.
    if spec.legs.is_some() && axis == Axis::Width {
        low[0] = low[0].max(0.0);
    }
    let [inner_low, inner_high] = assembly.free_on(face);
    let mut flanges = Vec::new();
    for (number, at) in drivers_on(driver, assembly, face) {
        let flange = Opening::seen(at, axis, driver.flange);
        flanges.push(flange);
        let hole = Opening::seen(at, axis, driver.cutout);
        let (mut edge, mut wall) = (flange.to_sides(low, high), hole.to_sides(inner_low, inner_high));
        // The sides of a shaped box are polygons.
        if let (Axis::Width, Solid::Prism { section: side, .. }, Some(Solid::Prism { section, .. })) =
            (axis, &board.solid, &assembly.hollow)
        {
            edge = to_edges(side, at, driver.flange);
            wall = to_edges(section, at, driver.cutout);
        }
        facts.push(Fact::FlangeToEdge { driver: number, gap: edge, wanted: SCREW_EDGE });
        facts.push(Fact::CutoutToWall { driver: number, gap: wall });
        if over_strip(assembly, hole, face) {
            facts.push(Fact::CutoutOverStrip { driver: number });
        }
    }
    facts.extend(nearest_pair(&flanges).map(|gap| Fact::FlangeToFlange { gap }));
    let radiators = radiators_on(spec, assembly, face);
    let between = radiators.into_iter().flat_map(|other| flanges.iter().map(move |flange| flange.to(other)));
    facts.extend(between.min().map(|gap| Fact::RadiatorToFlange { gap }));
}

/// How much is free behind the magnets: to the board opposite, and to the magnet of a driver, or the rear of a radiator, that
/// looks the other way.
fn magnet_facts(driver: &DriverCutout, assembly: &Assembly, facts: &mut Vec<Fact>) {
    let hulls: Vec<&Body> =
        assembly.bodies.iter().filter(|body| matches!(body.kind, BodyKind::Driver(_))).collect();
    let mut free = Vec::new();
    for hull in &hulls {
        let BodyKind::Driver(number) = hull.kind else { continue };
        if number >= driver.in_front()
            && let Some(gap) = assembly.behind(hull)
        {
            facts.push(Fact::MagnetToBoard { driver: number, gap });
            free.push(gap);
        }
    }
    // Two that look away from each other, their magnets behind one another.
    let pairs = hulls.iter().enumerate().flat_map(|(i, a)| hulls.iter().skip(i + 1).map(move |b| (a, b)));
    if let Some(gap) = pairs.filter_map(|(a, b)| rear_to_rear(a, b, driver.magnet)).min() {
        facts.push(Fact::MagnetToMagnet { gap });
        free.push(gap);
    }
    let radiators: Vec<&Body> =
        assembly.bodies.iter().filter(|body| matches!(body.kind, BodyKind::Radiator(_))).collect();
    // All radiators of a box are alike.
    if let Some(Solid::Round { from, .. }) = radiators.first().map(|body| body.solid) {
        let wide = driver.magnet.halved() + from.halved();
        let pairs = hulls.iter().flat_map(|hull| radiators.iter().map(move |other| (hull, other)));
        if let Some(gap) = pairs.filter_map(|(a, b)| rear_to_rear(a, b, wide)).min() {
            facts.push(Fact::RadiatorBehind { gap });
            free.push(gap);
        }
    }
    facts.extend(free.into_iter().min().and_then(|gap| pole_vent(driver, gap)));
}

/// Along one axis, from the rear of one body to that of one that looks the other way, where their middles lie nearer
/// together than `wide`; of boards that lean nothing is said.
fn rear_to_rear(a: &Body, b: &Body, wide: ExactLength) -> Option<ExactLength> {
    let (
        Solid::Round { base, along, length, .. },
        Solid::Round { base: other, along: same, length: deep, .. },
    ) = (a.solid, b.solid)
    else {
        return None;
    };
    if along != same || a.turn.is_some() || b.turn.is_some() {
        return None;
    }
    let off = along.face().map(|axis| (base.get(axis) - other.get(axis)).millimetres());
    if off[0].hypot(off[1]) >= wide.millimetres() {
        return None;
    }
    let (low, high) = if base.get(along) < other.get(along) {
        (base.get(along) + length, other.get(along))
    } else {
        (other.get(along) + deep, base.get(along))
    };
    Some(high - low)
}

impl Assembly {
    /// What is free behind a driver that stands in no front: straight on to the board opposite, over the whole magnet.
    fn behind(&self, hull: &Body) -> Option<ExactLength> {
        let Solid::Round { base, along, length, from, to } = hull.solid else { return None };
        // The magnet is the narrower end; it is the far one where the driver sits at the low end.
        let looks_low = from >= to;
        let rear = if looks_low { base.get(along) + length } else { base.get(along) };
        let rim = from.min(to).halved().millimetres();
        if self.hollow.is_none() || along == Axis::Width {
            let low = self.inside_min.get(along);
            let high = low + self.inside.get(along);
            return Some(if looks_low { high - rear } else { rear - low });
        }
        // In the section of a shaped box: from both edges of the magnet's rear to the first wall.
        let Some(Solid::Prism { section, .. }) = &self.hollow else { return None };
        let sign = if looks_low { 1.0 } else { -1.0 };
        let (across, way) = match along {
            Axis::Depth => (base.height.millimetres(), [sign, 0.0]),
            _ => (base.depth.millimetres(), [0.0, sign]),
        };
        let rear = rear.millimetres();
        let free = [across - rim, across, across + rim].into_iter().filter_map(|at| {
            let flat = if along == Axis::Depth { [rear, at] } else { [at, rear] };
            let from = hull.turn.map_or(flat, |turn| turn.point(flat));
            let way = hull.turn.map_or(way, |turn| turn.direction(way));
            // Beyond a wall already: as far as the way back to it.
            let inside = crate::model::geometry::plane::holds(section.corners(), from);
            let back = way.map(|step| -step);
            if inside { section.ahead(from, way) } else { section.ahead(from, back).map(|far| -far) }
        });
        free.reduce(f64::min).map(ExactLength::from_millimetres)
    }
}

/// The nearest flange, of a driver or a radiator, or port beside the terminals in their board; of a window in the outer layer its edge counts.
fn terminal_beside(spec: &BoxSpec, assembly: &Assembly, facts: &mut Vec<Fact>) {
    let Some(terminal) = &spec.terminal else { return };
    let window = assembly.bodies.iter().find(|body| body.kind == BodyKind::TerminalWindow);
    let hole = assembly.bodies.iter().find(|body| body.kind == BodyKind::TerminalHole);
    let Some(hole) = window.or(hole) else { return };
    let (axis, _) = terminal.face;
    let [min, max] = seen(&hole.solid, axis);
    let mut gaps = Vec::new();
    if let Some(driver) = &spec.driver {
        let recess = driver.recess.filter(|_| terminal.face == FRONT);
        let wide = driver.flange + recess.map_or(ExactLength::ZERO, |recess| recess.clearance);
        for (_, at) in drivers_on(driver, assembly, terminal.face) {
            gaps.push(Opening::seen(at, axis, wide).to_rectangle(min, max));
        }
    }
    let radiators = radiators_on(spec, assembly, terminal.face).into_iter();
    gaps.extend(radiators.map(|flange| flange.to_rectangle(min, max)));
    for mouth in assembly.with_role(Role::Cut).filter(|_| terminal.face == FRONT) {
        match (mouth.kind, mouth.solid) {
            (BodyKind::PortMouth(_), Solid::Round { base, from, along: Axis::Depth, .. }) => {
                gaps.push(Opening::new(base, from).to_rectangle(min, max));
            }
            (BodyKind::PortMouth(_), Solid::Block { .. }) => {
                let [low, high] = seen(&mouth.solid, axis);
                let apart = [0, 1].map(|i| (low[i] - max[i]).max(min[i] - high[i]));
                gaps.push(ExactLength::from_millimetres(apart[0].max(apart[1])));
            }
            _ => {}
        }
    }
    facts.extend(gaps.into_iter().min().map(|gap| Fact::TerminalBeside { gap }));
}
