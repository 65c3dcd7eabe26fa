//! What the box weighs and where its weight acts, from its solids.
use super::assembly::{Assembly, Body, BodyKind, Role};
use super::axes::{Axis, End};
use super::parts::{PartId, PartName};
use super::plane::holds;
use super::polygon::{Opening, Polygon};
use super::solids::Solid;
use super::spec::{Board, BoxSpec, DriverCutout, Form};
use super::strips::{self, leaning};
use crate::units::{ExactLength, Mass};

/// Standard gravity as FMVSS 207 rounds it, in m/s².
const GRAVITY: f64 = 9.8;

/// Multiple of the weight a seat and its anchorage must hold (FMVSS 207, 49 CFR 571.207 S4.2(a), (b)).
pub const CRASH_G: f64 = 20.0;

/// What equal pieces weigh: those of one name, board and size, as the cut list groups them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartWeight {
    /// The line.
    pub name: PartName,
    /// Its pieces.
    pub count: usize,
    /// All of them together.
    pub mass: Mass,
}

/// The weight of a box.
#[derive(Clone, Debug, PartialEq)]
pub struct Weight {
    /// Board parts and battens, in the order of [`PartName`]; those of two boards or sizes stand apart.
    pub parts: Vec<PartWeight>,
    /// All board parts.
    pub wood: Mass,
    /// Boards and drivers.
    pub total: Mass,
    /// Centre of gravity of boards and drivers in millimetres: depth from the outside of the front, width from the left,
    /// height from the underside.
    pub centre_mm: [f64; 3],
}

/// Force on the fixings of a mass held against 20 g.
///
/// The multiple FMVSS 207 asks of seats, as a public figure for scale: it says nothing about a loudspeaker box.
#[must_use]
pub fn crash_newtons(mass: Mass) -> f64 {
    CRASH_G * GRAVITY * mass.kilograms()
}

/// Pieces of one size.
struct Line {
    name: PartName,
    board: u8,
    /// What one of them fills before its holes, in m³.
    whole: f64,
    count: usize,
    mass: f64,
}

impl Line {
    /// Whether a piece belongs here: equal ones differ by no more than numbers do.
    fn is_alike(&self, other: &Self) -> bool {
        let off = (self.whole - other.whole).abs();
        (self.name, self.board) == (other.name, other.board) && off <= 1e-6 * self.whole
    }
}

/// A volume and where it acts, added up.
#[derive(Clone, Copy, Default)]
struct Moment {
    volume: f64,
    first: [f64; 3],
}

impl Moment {
    fn add(&mut self, volume: f64, centre: [f64; 3]) {
        self.volume += volume;
        self.first.iter_mut().zip(centre).for_each(|(first, at)| *first += volume * at);
    }
}

/// Weight of the boards with holes taken off, and of the drivers, where theirs is known.
///
/// A driver's weight is taken to act two thirds of its depth behind the flange, where its magnet is (common practice, no
/// source). Battens are taken to be ripped from the board of what stands inside. Screws, glue, tubes, lining and terminals
/// are left out. Pieces of one line share their holes, as the layers of a front with a flush recess do.
#[must_use]
pub fn weight(spec: &BoxSpec, assembly: &Assembly, driver: Option<Mass>) -> Weight {
    let mut lines: Vec<Line> = Vec::new();
    // Of masses, not of volumes.
    let mut moment = Moment::default();
    for body in &assembly.bodies {
        let Some((name, board)) = wood_of(spec, body) else { continue };
        let density = board.density_kg_m3;
        let whole = body.solid.volume().cubic_metres();
        let mut own = Moment::default();
        own.add(whole, placed(body, centre(&body.solid)));
        if let Some(hollow) = hollow(body, spec.boards.strips.thickness) {
            own.add(-hollow.volume().cubic_metres(), centre(&hollow));
        }
        for cut in assembly.bodies.iter().filter(|_| body.role == Role::Shell) {
            if let Some(volume) = taken(cut, body) {
                own.add(-volume.0, placed(cut, volume.1));
            }
        }
        let line = Line { name, board: board.number, whole, count: 1, mass: own.volume * density };
        match lines.iter_mut().find(|known| known.is_alike(&line)) {
            Some(known) => (known.count, known.mass) = (known.count + 1, known.mass + line.mass),
            None => lines.push(line),
        }
        moment.volume += own.volume * density;
        (0..3).for_each(|axis| moment.first[axis] += own.first[axis] * density);
    }
    crate::small::sort_by(&mut lines, |a, b| (a.name, a.board).cmp(&(b.name, b.board)));
    let wood = moment.volume;
    if let (Some(mass), Some(cutout)) = (driver, &spec.driver) {
        for at in &assembly.layout.drivers {
            let behind = cutout.depth.millimetres() * 2.0 / 3.0;
            let centre = match spec.form {
                Form::Divided(_) => {
                    [at.depth.millimetres(), at.width.millimetres() + behind, at.height.millimetres()]
                }
                _ => {
                    let depth = spec.recess_depth().millimetres() + behind;
                    [depth, at.width.millimetres(), at.height.millimetres()]
                }
            };
            let front = assembly.bodies.iter().find(|body| matches!(body.kind, BodyKind::DriverHole(_)));
            let centre = front.map_or(centre, |front| placed(front, centre));
            moment.add(mass.kilograms(), centre);
        }
        if !cutout.elsewhere.is_empty() {
            add_elsewhere(assembly, cutout, mass, &mut moment);
        }
    }
    let total = moment.volume.max(1e-12);
    Weight {
        parts: lines
            .into_iter()
            .map(|line| PartWeight {
                name: line.name,
                count: line.count,
                mass: Mass::from_kilograms(line.mass.max(0.0)),
            })
            .collect(),
        wood: Mass::from_kilograms(wood.max(0.0)),
        total: Mass::from_kilograms(moment.volume.max(0.0)),
        centre_mm: moment.first.map(|first| first / total),
    }
}

/// The drivers in other faces, whose flanges lie on the boards.
#[inline(never)] // few boxes have any: it may come after the first result
fn add_elsewhere(assembly: &Assembly, cutout: &DriverCutout, mass: Mass, moment: &mut Moment) {
    let places = cutout.elsewhere.iter().zip(&assembly.layout.elsewhere);
    for (number, (&(axis, end), at)) in (cutout.in_front()..).zip(places) {
        let behind = cutout.depth.millimetres() * 2.0 / 3.0;
        let mut centre = at.millimetres();
        centre[axis.index()] += if end == End::Low { behind } else { -behind };
        let hole = assembly.bodies.iter().find(|body| body.kind == BodyKind::DriverHole(number));
        moment.add(mass.kilograms(), hole.map_or(centre, |hole| placed(hole, centre)));
    }
}

/// The line that a body of wood belongs to, and its board.
fn wood_of(spec: &BoxSpec, body: &Body) -> Option<(PartName, Board)> {
    let part = match body.kind {
        BodyKind::Board(part) => part,
        BodyKind::Strip(edge) => PartId::Strip(edge),
        BodyKind::Batten(_) => return Some((PartName::Batten, spec.boards.inner)),
        _ => return None,
    };
    let name = match part {
        PartId::Top if spec.profile.is_some() => PartName::Top,
        PartId::Bottom if spec.profile.is_some() => PartName::Bottom,
        _ => part.name(),
    };
    Some((name, spec.boards.of(part)))
}

/// What is not wood in the prism a strip closes off.
fn hollow(body: &Body, thickness: ExactLength) -> Option<Solid> {
    match (body.kind, body.solid) {
        (BodyKind::Strip(_), Solid::CornerPrism { edge, start, length, face }) => {
            let narrow = face - thickness * 2;
            (strips::void_mm2(face, thickness) > 0.0).then_some(Solid::CornerPrism {
                edge,
                start,
                length,
                face: narrow,
            })
        }
        (BodyKind::Strip(_), Solid::Wedge { corners }) => {
            let corners = leaning::hollow(&corners, thickness.millimetres())?;
            Some(Solid::Wedge { corners })
        }
        _ => None,
    }
}

/// Volume of a hole within one board of the shell, in m³, and its centre.
fn taken(cut: &Body, board: &Body) -> Option<(f64, [f64; 3])> {
    if !matches!(cut.role, Role::GainedAir | Role::Cut) || cut.turn != board.turn {
        return None;
    }
    if beside(cut, board) {
        return None;
    }
    let (hole, wood) = (cut.solid.bounds(), board.solid.bounds());
    let inside =
        |axis: usize| (hole.max[axis].min(wood.max[axis]) - hole.min[axis].max(wood.min[axis])).max(0.0);
    // A hole lies in a board or beside it; through several layers it goes along one direction.
    let shares: Vec<f64> = (0..3).map(|axis| inside(axis) / (hole.max[axis] - hole.min[axis])).collect();
    let share: f64 = shares.iter().product();
    // A hole of no size has no share.
    if share.is_nan() || share <= 1e-9 {
        return None;
    }
    if matches!(cut.solid, Solid::Arch { .. }) {
        return Some((cut.solid.volume().cubic_metres() * share, self::centre(&cut.solid)));
    }
    let centre =
        [0, 1, 2].map(|axis| (hole.max[axis].min(wood.max[axis]) + hole.min[axis].max(wood.min[axis])) / 2.0);
    Some((cut.solid.volume().cubic_metres() * share, centre))
}

/// Whether a round hole across a shaped box lies beside a board that the block around the hole reaches into.
fn beside(cut: &Body, board: &Body) -> bool {
    match (cut.solid, board.solid) {
        (Solid::Round { base, along: Axis::Width, .. }, Solid::Prism { section, .. }) => {
            !holds(section.corners(), [base.depth, base.height].map(ExactLength::millimetres))
        }
        _ => false,
    }
}

/// Centre of a body's volume, in millimetres.
fn centre(solid: &Solid) -> [f64; 3] {
    if matches!(solid, Solid::CornerPrism { .. }) {
        let corners = solid.prism_corners();
        let count = corners.len().max(1) as f64;
        return [0, 1, 2].map(|axis| corners.iter().map(|corner| corner[axis]).sum::<f64>() / count);
    }
    if let Solid::Wedge { corners } = solid {
        return leaning::volume_and_centre(corners).1;
    }
    if let Solid::Arch { min, size, corner_radius } = *solid {
        return arch_centre(min.millimetres(), size.millimetres(), corner_radius.millimetres());
    }
    if let Solid::Prism { section, from, width, opening } = solid {
        return prism_centre(section, [*from, *width].map(ExactLength::millimetres), *opening);
    }
    // Every other body is symmetric; a cone stands for no wood.
    let bounds = solid.bounds();
    [0, 1, 2].map(|axis| (bounds.min[axis] + bounds.max[axis]) / 2.0)
}

/// A point of a body where the body stands.
fn placed(body: &Body, at: [f64; 3]) -> [f64; 3] {
    body.turn.map_or(at, |turn| turn.place(at))
}

/// Centre of a board across the width: its section's, with its window taken off.
#[inline(never)] // only shaped boxes need it: it may come after the first result
fn prism_centre(section: &Polygon, [from, width]: [f64; 2], opening: Option<Opening>) -> [f64; 3] {
    let mut centre = section.centre();
    if let Some(window) = opening {
        let (whole, left) = (section.without(None), section.without(opening));
        if left > 0.0 {
            centre = [0, 1].map(|i| (whole * centre[i] - (whole - left) * window.middle[i]) / left);
        }
    }
    [centre[0], from + width / 2.0, centre[1]]
}

/// Centre of an opening with two rounded corners: the block's less that of the two corners, each (1 − π/4) ρ² with its
/// centre (10 − 3π)/(12 − 3π) ρ from its point (from the centroids of a square and a quarter circle).
fn arch_centre(min: [f64; 3], size: [f64; 3], radius: f64) -> [f64; 3] {
    use std::f64::consts::PI;
    let mut centre = [0, 1, 2].map(|axis| min[axis] + size[axis] / 2.0);
    let (whole, corners) = (size[0] * size[2], (2.0 - PI / 2.0) * radius * radius);
    let off = (10.0 - 3.0 * PI) / (12.0 - 3.0 * PI) * radius;
    if whole > corners {
        centre[0] = min[0] + (whole * size[0] / 2.0 - corners * (size[0] - off)) / (whole - corners);
    }
    centre
}
