//! What goes beside: amplifiers beside cones and ports, and the faces of a box on a roll of wrap.
use super::plane::At;
use crate::model::error::{ModelError, within};

/// Air kept between amplifiers, cones, ports and walls, mm; common practice, no source.
pub const BESIDE_MM: f64 = 10.0;
/// Air kept over an amplifier's fins, mm; common practice, no source.
pub const OVER_MM: f64 = 20.0;

/// How many bodies of one size lie on a face beside the circles on it, all in its left and right strip or all in its lower
/// and upper one; each strip is filled with rows, turned one way or the other. Without circles the face is one strip.
///
/// `circles` are centres and radii on a face of this size, in mm.
#[must_use]
pub fn bodies_beside(face: At, circles: &[(At, f64)], body: At) -> u32 {
    let fill = |strip: At| {
        let rows = |[a, b]: At| {
            let along =
                |room: f64, size: f64| ((room - BESIDE_MM) / (size + BESIDE_MM) + 1e-9).floor().max(0.0);
            (along(strip[0], a) * along(strip[1], b)) as u32
        };
        rows(body).max(rows([body[1], body[0]]))
    };
    if body.iter().chain(&face).any(|size| !size.is_finite() || *size <= 0.0) {
        return 0;
    }
    let Some(_) = circles.first() else { return fill(face) };
    let reach = |axis: usize| {
        let ends = circles.iter().map(|(at, radius)| [at[axis] - radius, at[axis] + radius]);
        ends.fold([f64::INFINITY, f64::NEG_INFINITY], |all, end| [all[0].min(end[0]), all[1].max(end[1])])
    };
    let ([left, right], [low, high]) = (reach(0), reach(1));
    let beside = fill([left, face[1]]) + fill([face[0] - right, face[1]]);
    beside.max(fill([face[0], low]) + fill([face[0], face[1] - high]))
}

/// Pieces of wrap off a roll.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OffRoll {
    /// Length off the roll, mm.
    pub length: f64,
    /// How many pieces are wider than the roll both ways; they are not in the length.
    pub too_wide: usize,
}

/// Length that pieces take off a roll: side by side in strips across it, the longest first, each where it first fits and
/// turned so that the strip is short.
///
/// # Errors
/// [`ModelError::OutOfRange`] unless the roll is 1 mm to 10 m wide and every piece has a size.
pub fn off_roll(pieces: &[At], roll: f64) -> Result<OffRoll, ModelError> {
    within("width of the roll in mm", roll, 1.0, 1e4)?;
    let mut turned = Vec::new();
    let mut too_wide = 0;
    for piece in pieces {
        for side in piece {
            within("side of a piece in mm", *side, 0.0, 1e5)?;
        }
        let (long, short) = (piece[0].max(piece[1]), piece[0].min(piece[1]));
        // Across the roll, then along it.
        match (long <= roll, short <= roll) {
            (true, _) => turned.push([long, short]),
            (_, true) => turned.push([short, long]),
            _ => too_wide += 1,
        }
    }
    turned.sort_by(|a, b| b[1].total_cmp(&a[1]).then(b[0].total_cmp(&a[0])));
    // What is left across each strip.
    let mut strips: Vec<f64> = Vec::new();
    let mut length = 0.0;
    for [across, along] in turned {
        if let Some(left) = strips.iter_mut().find(|left| **left >= across - 1e-9) {
            *left -= across;
        } else {
            strips.push(roll - across);
            length += along;
        }
    }
    Ok(OffRoll { length, too_wide })
}
