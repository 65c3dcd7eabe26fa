//! The battens of a board that comes off as they are cut: alike ones together.
use super::assembly::{Assembly, Body, BodyKind};
use super::parts::Tilt;
use super::plane::{At, cross, dot, length, minus};
use super::solids::Solid;
use crate::units::ExactLength;

/// Battens that are cut alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Batten {
    /// How many.
    pub count: usize,
    /// Length, to the long point.
    pub length: ExactLength,
    /// Width of the wider of the two faces against and across from the board.
    pub width: ExactLength,
    /// From that board inwards.
    pub thickness: ExactLength,
    /// How far its ends are cut from square.
    pub ends: [Tilt; 2],
    /// How far a long edge is cut from square.
    pub edge: Tilt,
}

/// The battens of a box, the longest first.
#[must_use]
#[inline(never)] // few boxes have any: it may come after the first result
pub fn battens(assembly: &Assembly) -> Vec<Batten> {
    let mut all: Vec<Batten> = Vec::new();
    for body in assembly.bodies.iter().filter(|body| matches!(body.kind, BodyKind::Batten(_))) {
        let Some(one) = as_cut(body) else { continue };
        match all.iter_mut().find(|line| Batten { count: 1, ..**line } == one) {
            Some(line) => line.count += 1,
            None => all.push(one),
        }
    }
    crate::small::sort_by(&mut all, |a, b| b.length.cmp(&a.length).then(b.width.cmp(&a.width)));
    all
}

fn as_cut(body: &Body) -> Option<Batten> {
    let square = [Tilt::SQUARE; 2];
    match body.solid {
        Solid::Block { size, .. } => {
            let mut sides = [size.depth, size.width, size.height];
            sides.sort_unstable();
            let [thickness, width, length] = sides;
            Some(Batten { count: 1, length, width, thickness, ends: square, edge: Tilt::SQUARE })
        }
        Solid::Prism { section, width: across, .. } => {
            let [a, b, c, d] = *section.corners() else { return None };
            let faces = [minus(b, a), minus(c, d)];
            let long = faces.map(length).into_iter().fold(0.0, f64::max);
            let deep = (cross(faces[0], minus(d, a)) / length(faces[0]).max(1e-9)).abs();
            let [long, thickness] = [long, deep].map(to_tape);
            let lean = [minus(d, a), minus(c, b)].map(|side| from_square(faces[0], side));
            Some(if across > long {
                // Across the width: what leans is the long edge beside a wall.
                let edge = if lean[0] == Tilt::SQUARE { lean[1] } else { lean[0] };
                Batten { count: 1, length: across, width: long, thickness, ends: square, edge }
            } else {
                let mut ends = lean;
                ends.sort_unstable();
                Batten { count: 1, length: long, width: across, thickness, ends, edge: Tilt::SQUARE }
            })
        }
        _ => None,
    }
}

/// To the hundredth of a millimetre: equal pieces come out a little different.
fn to_tape(millimetres: f64) -> ExactLength {
    ExactLength::from_millimetres((millimetres * 100.0).round() / 100.0)
}

/// How far a side leans from square to a face.
fn from_square(face: At, side: At) -> Tilt {
    let lean = dot(face, side).atan2(cross(face, side).abs()).to_degrees().abs();
    Tilt::from_hundredths((lean * 100.0).round() as i32)
}
