//! The panels of a box, and the largest field each has free between the boards that hold it.
use super::assembly::{Assembly, Body, BodyKind};
use super::axes::{Axis, End};
use super::outline::thick;
use super::parts::PartId;
use super::plane::{At, holds, length, minus, moved, pairs};
use super::polygon::Polygon;
use super::solids::Solid;
use crate::units::Length;

/// The largest free field of a panel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Field {
    /// The axis the panel faces along.
    pub faces: Axis,
    /// Whether it is the front, with all its layers.
    pub front: bool,
    /// Its free sides; along the slope of a board that leans.
    pub sides: [Length; 2],
}

impl Field {
    fn new(faces: Axis, front: bool, sides: [f64; 2]) -> Self {
        Self { faces, front, sides: sides.map(Length::from_millimetres) }
    }
}

/// Shares of a panel's length at which a brace must meet it to hold it: the rest lies near an edge that holds.
const MET: [f64; 3] = [0.25, 0.5, 0.75];

/// A board inside that holds those around it: a brace, with a window or without, or the divider of two rooms.
struct Support<'a> {
    body: &'a Body,
    /// The axis it stands across, and from where to where.
    across: Axis,
    at: [f64; 2],
}

impl Support<'_> {
    fn thickness(&self) -> f64 {
        self.at[1] - self.at[0]
    }
}

/// Every panel of a box with the largest field between the boards it is glued to.
///
/// A side that is no rectangle is taken as the rectangle around it: a plate held at its edges sags less and rings higher than
/// any larger one around it, so this is the safe side.
#[must_use]
pub fn fields(assembly: &Assembly) -> Vec<Field> {
    let supports: Vec<Support<'_>> = assembly.bodies.iter().filter_map(support).collect();
    match &assembly.hollow {
        Some(Solid::Prism { section, .. }) => shaped(assembly, section, &supports),
        _ => plain(assembly, &supports),
    }
}

fn support(body: &Body) -> Option<Support<'_>> {
    let BodyKind::Board(part @ (PartId::Brace(..) | PartId::Divider)) = body.kind else { return None };
    let (across, bounds) = (thick(part, body.solid), body.solid.bounds());
    Some(Support { body, across, at: [bounds.min, bounds.max].map(|at| at[across.index()]) })
}

fn plain(assembly: &Assembly, supports: &[Support<'_>]) -> Vec<Field> {
    let (min, size) = (assembly.inside_min.millimetres(), assembly.inside.millimetres());
    let extent = |axis: Axis| [min[axis.index()], min[axis.index()] + size[axis.index()]];
    let mut all = Vec::with_capacity(6);
    for faces in Axis::ALL {
        for end in End::BOTH {
            let [a, b] = faces.others();
            let held = |across: Axis, along: Axis| {
                let meets = |support: &&Support<'_>| {
                    let bounds = support.body.solid.bounds();
                    let within =
                        |axis: Axis, at: f64| at > bounds.min[axis.index()] && at < bounds.max[axis.index()];
                    let face = match end {
                        End::Low => extent(faces)[0] + support.thickness(),
                        End::High => extent(faces)[1] - support.thickness(),
                    };
                    let [from, to] = extent(along);
                    within(faces, face) && MET.iter().all(|share| within(along, from + share * (to - from)))
                };
                let meeting = supports.iter().filter(|support| support.across == across).filter(meets);
                free(extent(across), meeting.map(|support| support.at).collect())
            };
            let front = (faces, end) == (Axis::Depth, End::Low);
            all.push(Field::new(faces, front, [held(a, b), held(b, a)]));
        }
    }
    all
}

/// The walls of a shaped box run around its section, bottom first and front last: level and upright ones by turns.
#[inline(never)] // only shaped boxes need it: it may come after the first result
fn shaped(assembly: &Assembly, section: &Polygon, supports: &[Support<'_>]) -> Vec<Field> {
    let from = assembly.inside_min.width.millimetres();
    let extent = [from, from + assembly.inside.width.millimetres()];
    let [low, high] = section.bounds();
    let mut all = vec![Field::new(Axis::Width, false, minus(high, low))];
    let count = section.corners().len();
    for (wall, line) in pairs(section.corners()).enumerate() {
        let meets = |support: &&Support<'_>| {
            let Solid::Prism { section: board, .. } = &support.body.solid else { return false };
            let [start, end] = moved(line, support.thickness());
            let at = |share: f64| -> At { [0, 1].map(|i| start[i] + share * (end[i] - start[i])) };
            MET.iter().all(|share| holds(board.corners(), at(*share)))
        };
        let wide = free(extent, supports.iter().filter(meets).map(|support| support.at).collect());
        let faces = if wall % 2 == 0 { Axis::Height } else { Axis::Depth };
        all.push(Field::new(faces, wall + 1 == count, [wide, length(minus(line[1], line[0]))]));
    }
    all
}

/// The longest stretch that boards standing across it leave free.
fn free([from, to]: [f64; 2], mut boards: Vec<[f64; 2]>) -> f64 {
    crate::small::sort_by(&mut boards, |a, b| a[0].total_cmp(&b[0]));
    let (mut longest, mut at) = (0.0_f64, from);
    for [start, end] in boards {
        longest = longest.max(start - at);
        at = at.max(end);
    }
    longest.max(to - at)
}
