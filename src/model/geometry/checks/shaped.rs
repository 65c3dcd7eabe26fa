//! Facts about a shaped box: distances from leaning walls.
pub(super) mod forms;

use super::forms::strips_in_slots;
use super::front::{front_facts, terminal_facts};
use super::{Fact, SCREW_EDGE, elsewhere, pole_vent};
use crate::model::geometry::assembly::{Assembly, Body, BodyKind, Role};
use crate::model::geometry::bent;
use crate::model::geometry::edges::FRONT;
use crate::model::geometry::plane::{At, distance, from_stretch, holds, pairs, side};
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::{BoxSpec, Form};
use crate::model::geometry::strips;
use crate::units::ExactLength;

/// What only shaped boxes are asked.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn facts(spec: &BoxSpec, assembly: &Assembly, facts: &mut Vec<Fact>) {
    let [low, high] = assembly.free_on(FRONT);
    let front = (low, high);
    match spec.form {
        Form::Divided(divider) => forms::divided(spec, assembly, (divider, front), facts),
        _ => in_front(spec, assembly, front, facts),
    }
    for port in [assembly.front_port, assembly.port].into_iter().flatten() {
        facts.push(Fact::PortToBack { gap: port.to_back, wanted: port.height });
    }
    if bent::shaped::takes_terminals(spec) {
        terminal_beside_slot(assembly, facts);
    } else {
        terminal_facts(spec, assembly, facts);
    }
    elsewhere::facts(spec, assembly, facts);
    if let Some(wanted) = &spec.strips {
        let there = |edge| assembly.bodies.iter().any(|body| body.kind == BodyKind::Strip(edge));
        // Those on the floors of slots in a divided box are told by themselves.
        let bends = assembly.port.is_some_and(|port| port.bends > 0);
        let on_floor = |edge| (spec.divider().is_some() || bends) && bent::in_slot(spec, edge);
        let by_batten = |edge| spec.loose.is_some() && strips::is_left_out(spec, edge);
        let known = |edge| on_floor(edge) || by_batten(edge);
        let left_out = wanted.edges.iter().filter(|&&edge| !there(edge) && !known(edge)).count();
        if bends || spec.loose.is_some() && spec.divider().is_none() {
            strips_in_slots(spec, facts);
        }
        if left_out > 0 {
            facts.push(Fact::StripsLeftOut { count: u8::try_from(left_out).unwrap_or(12) });
        }
    }
}

/// Terminals in a side, as the back is the slot's: from the edges of what the slot leaves of the side.
#[inline(never)] // few boxes have such a slot: it may come after the first result
fn terminal_beside_slot(assembly: &Assembly, facts: &mut Vec<Fact>) {
    let hole = assembly.bodies.iter().find(|body| body.kind == BodyKind::TerminalHole);
    let (Some(hole), Some(free)) = (hole, assembly.before_run()) else { return };
    let gaps = hole.profile().into_iter().map(|at| {
        let wall = distance(free.corners(), at);
        if holds(free.corners(), at) { wall } else { -wall }
    });
    let gap = gaps.fold(f64::INFINITY, f64::min);
    facts.push(Fact::TerminalToWall { gap: ExactLength::from_millimetres(gap) });
}

/// Drivers, ports and radiators of one room; `front` is what of the front's inner face is free.
fn in_front(spec: &BoxSpec, assembly: &Assembly, front: Rectangle, facts: &mut Vec<Fact>) {
    driver_facts(spec, assembly, facts);
    front_facts(spec, assembly, front, facts);
    if let Some(radiators) = spec.radiators() {
        forms::radiators(spec, assembly, (radiators, front), facts);
    }
}

/// Smallest and largest coordinates on a board: across and up.
type Rectangle = ([f64; 2], [f64; 2]);

fn driver_facts(spec: &BoxSpec, assembly: &Assembly, facts: &mut Vec<Fact>) {
    let Some(driver) = &spec.driver else { return };
    let wood = assembly.front_thickness - spec.recess_depth();
    let front = driver.in_front();
    let hulls =
        || assembly.bodies.iter().filter(|body| matches!(body.kind, BodyKind::Driver(n) if n < front));
    let gap = hulls().filter_map(|hull| body_to_wall(assembly, hull)).reduce(f64::min);
    if let Some(gap) = gap {
        facts.push(Fact::MagnetToBack { gap: ExactLength::from_millimetres(gap) });
    }
    if driver.pole_vent.is_some() {
        let free = hulls().filter_map(|hull| {
            let Solid::Round { base, length, .. } = hull.solid else { return None };
            let at = [base.depth, base.height].map(ExactLength::millimetres);
            Some(assembly.free_behind(at, hull.turn)? - length.millimetres())
        });
        let free = free.reduce(f64::min).map(ExactLength::from_millimetres);
        facts.extend(free.and_then(|gap| pole_vent(driver, gap)));
    }
    if driver.recess.is_some() && front > 0 {
        facts.push(Fact::WoodBehindRecess { left: wood, wanted: SCREW_EDGE });
    }
}

/// Smallest distance of a driver's body, rim and sides, from what stands behind it: back and step. Below zero by as much
/// as the rim is beyond any wall, top and bottom included.
fn body_to_wall(assembly: &Assembly, hull: &Body) -> Option<f64> {
    let Some(Solid::Prism { section, .. }) = &assembly.hollow else { return None };
    let Solid::Round { base, length, from, to, .. } = hull.solid else { return None };
    let near = base.depth.millimetres();
    let (far, middle) = (near + length.millimetres(), base.height.millimetres());
    let [front, rear] = [from, to].map(|diameter| diameter.millimetres() / 2.0);
    let place = |at: At| hull.turn.map_or(at, |turn| turn.point(at));
    let rim = [[far, middle + rear], [far, middle - rear]].map(place);
    let start = [[near, middle + front], [near, middle - front]].map(place);
    let corners = section.corners();
    let count = corners.len();
    let walls = |skip: fn(usize, usize) -> bool| {
        (0..count).filter(move |&i| !skip(i, count)).map(move |i| [corners[i], corners[(i + 1) % count]])
    };
    // The last wall is the front; the first and the one before the front are bottom and top.
    let behind = walls(|i, count| i == 0 || i + 2 >= count);
    let upright = assembly.upright_of_slot().map_or(Vec::new(), Body::profile);
    let of_sides = behind.chain(pairs(&upright)).flat_map(|wall| {
        let lines = [[rim[0], rim[1]], [rim[0], start[0]], [rim[1], start[1]]];
        lines.map(|line| between(line, wall))
    });
    let apart = of_sides.fold(f64::INFINITY, f64::min);
    let beyond = rim.into_iter().filter(|&at| !holds(corners, at)).map(|at| {
        walls(|i, count| i + 1 == count).map(|wall| from_stretch(at, wall)).fold(f64::INFINITY, f64::min)
    });
    let beyond = beyond.fold(0.0, f64::max);
    Some(if beyond > 0.0 { -beyond } else { apart })
}

/// Distance of two stretches; zero where they cross.
fn between(a: [At; 2], b: [At; 2]) -> f64 {
    if side(a, b[0]) * side(a, b[1]) < 0.0 && side(b, a[0]) * side(b, a[1]) < 0.0 {
        return 0.0;
    }
    let ends = [from_stretch(a[0], b), from_stretch(a[1], b), from_stretch(b[0], a), from_stretch(b[1], a)];
    ends.into_iter().fold(f64::INFINITY, f64::min)
}

/// How far a shaped or plain box stays clear of a leaning limit of its space; below zero it runs into it.
#[inline(never)] // only leaning spaces need it: it may come after the first result
pub(super) fn slant_spare(
    assembly: &Assembly,
    slant: crate::model::geometry::spec::Slant,
    clearance: ExactLength,
) -> ExactLength {
    let [deep, top, up] = [slant.depth, slant.top_depth, slant.height].map(ExactLength::millimetres);
    let long = up.hypot(deep - top).max(1e-9);
    // Box and space begin at the same floor; in front of the box the clearance is kept.
    let gap = clearance.millimetres();
    let apart = |[depth, _, height]: [f64; 3]| {
        let (depth, height) = (depth + gap, height + gap);
        ((deep - depth) * up - height * (deep - top)) / long - gap
    };
    let corners = assembly.with_role(Role::Shell).flat_map(|body| {
        let bounds = body.solid.bounds();
        match body.solid {
            Solid::Prism { section, .. } => {
                section.corners().iter().map(|at| [at[0], 0.0, at[1]]).collect::<Vec<_>>()
            }
            _ => [bounds.min[2], bounds.max[2]].map(|height| [bounds.max[0], 0.0, height]).to_vec(),
        }
        .into_iter()
        .map(|at| body.turn.map_or(at, |turn| turn.place(at)))
        .collect::<Vec<_>>()
    });
    ExactLength::from_millimetres(corners.map(apart).fold(f64::INFINITY, f64::min))
}
