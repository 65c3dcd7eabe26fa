//! Does the box pass the door? One of its faces goes through an opening, turned in its plane.
use super::axes::{Axis, Dims};
use crate::units::ExactLength;

/// Whether a face passes an opening, both in the same unit; what is not above zero does not.
///
/// Plain where it goes in upright; turned it passes if q ≤ b and b ≥ (2pqa + (p² − q²)√(p² + q² − a²))/(p² + q²), with
/// p ≥ q, p > a ≥ b.
///
/// # Source
/// Rectangle in rectangle, Carver, Amer. Math. Monthly 64 (1957), from memory; a test compares it with all angles.
#[must_use]
pub fn passes(face: [f64; 2], opening: [f64; 2]) -> bool {
    if !face.iter().chain(&opening).all(|side| side.is_finite() && *side > 0.0) {
        return false;
    }
    let [p, q] = [face[0].max(face[1]), face[0].min(face[1])];
    let [a, b] = [opening[0].max(opening[1]), opening[0].min(opening[1])];
    if p <= a {
        return q <= b;
    }
    let (square, root) = (p * p + q * q, p * p + q * q - a * a);
    q <= b && b * square >= 2.0 * p * q * a + (p * p - q * q) * root.max(0.0).sqrt()
}

/// How a box passes an opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Passage {
    /// The direction that goes through first: the face is made of the two others.
    pub along: Axis,
    /// What the face may grow on each side and still pass; below zero it must shrink by as much.
    pub spare: ExactLength,
}

/// The best of the three faces: the one with most room around it.
///
/// `gap` is the room for hands and lining around the face. The opening is narrowed by it on each side, and what is spare
/// beyond that is found by halving to 0.1 mm.
#[must_use]
pub fn best(outside: Dims, opening: [ExactLength; 2], gap: ExactLength) -> Option<Passage> {
    let free = opening.map(|side| side.millimetres());
    let mut found: Option<Passage> = None;
    for along in Axis::ALL {
        let face = along.others().map(|axis| outside.get(axis).millimetres());
        let spare = room(face, free) - gap.millimetres();
        let spare = ExactLength::from_millimetres(spare);
        if found.is_none_or(|best| spare > best.spare) {
            found = Some(Passage { along, spare });
        }
    }
    found
}

/// Most that can be added on each side of a face so that it still passes; below zero what must come off.
fn room(face: [f64; 2], opening: [f64; 2]) -> f64 {
    let smallest = face[0].min(face[1]) / 2.0;
    let (mut low, mut high) = (-smallest, opening[0].max(opening[1]));
    for _ in 0..40 {
        let middle = (low + high) / 2.0;
        if passes(face.map(|side| side + 2.0 * middle), opening) { low = middle } else { high = middle }
    }
    (low * 10.0 + 1e-6).floor() / 10.0
}
