//! Corner strips: the room along an edge, what they share in the corners, and the blank they are ripped from.
pub(super) mod leaning;

use std::f64::consts::FRAC_1_SQRT_2;

use super::axes::{Axis, Dims, End, InsideEdge};
use super::bent;
use super::parts::Tilt;
use super::shell::Shell;
use super::sizes::slot_build;
use super::spec::{BoxSpec, Loose, Port, SlotPort, SlotWidth};
use crate::units::{ExactLength, Volume};

/// The stretch of an edge a strip can take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Room {
    /// Where it begins, from the inside face at the low end.
    pub start: ExactLength,
    /// Its length.
    pub length: ExactLength,
}

/// Leg of the triangle a strip closes off, w/√2, in millimetres (geometry.md section 3).
#[must_use]
pub(super) fn leg_mm(wide_face: ExactLength) -> f64 {
    wide_face.millimetres() * FRAC_1_SQRT_2
}

/// Room along an inside edge: all of it, except that an upright strip stands on the roof of a slot port it would
/// otherwise pass through.
#[must_use]
pub fn room(spec: &BoxSpec, inside: Dims, edge: InsideEdge) -> Room {
    let whole = Room { start: ExactLength::ZERO, length: inside.get(edge.along) };
    let room = match (&spec.port, edge.along) {
        (_, Axis::Height) if spec.divider().is_some() => on_roof(spec, whole, inside, edge),
        (Port::Slot(slot), Axis::Height) => beside_slot(spec, slot, inside, edge),
        _ => whole,
    };
    match spec.loose {
        Some(loose) if loose.face.0 == edge.along => before_batten(room, loose),
        _ => room,
    }
}

/// Whether a strip asked for is left out, as a slot or a batten runs along its edge.
#[must_use]
pub(super) fn is_left_out(spec: &BoxSpec, edge: InsideEdge) -> bool {
    let batten = spec.loose.filter(|loose| loose.batten > ExactLength::ZERO);
    batten.is_some_and(|loose| edge.end(loose.face.0) == Some(loose.face.1)) || bent::in_slot(spec, edge)
}

/// Whether another strip has its leg along `axis` on a wall that this one touches, from the opposite end: together they
/// must not be longer than that wall.
///
/// One in the edge diagonally opposite touches none of the same walls, and never meets this one: both legs fit.
#[must_use]
pub(super) fn shares_wall(spec: &BoxSpec, edge: InsideEdge, axis: Axis) -> bool {
    let Some(strips) = &spec.strips else { return false };
    let standing = strips.edges.iter().filter(|other| !is_left_out(spec, **other));
    let opposite = standing.filter(|other| other.end(axis).is_some() && other.end(axis) != edge.end(axis));
    let mut beside = opposite.filter(|other| {
        let third = edge.along.others().into_iter().find(|&third| third != axis);
        other.along != edge.along || third.is_some_and(|third| other.end(third) == edge.end(third))
    });
    beside.next().is_some()
}

/// The same where the edge ends at a board that comes off: as far as its batten.
#[inline(never)] // few boxes have one: it may come after the first result
fn before_batten(room: Room, loose: Loose) -> Room {
    let length = room.length - loose.batten;
    match loose.face.1 {
        End::Low => {
            Room { start: room.start.max(loose.batten), length: length + room.start.min(loose.batten) }
        }
        End::High => Room { length, ..room },
    }
}

/// The same for an upright edge of a box with a slot.
#[inline(never)] // few boxes have one: it may come after the first result
fn beside_slot(spec: &BoxSpec, slot: &SlotPort, inside: Dims, edge: InsideEdge) -> Room {
    let whole = Room { start: ExactLength::ZERO, length: inside.height };
    let Some(strips) = &spec.strips else { return whole };
    let thickness = spec.boards.inner.thickness;
    let leg = leg_mm(strips.wide_face(spec.boards.strips.thickness));
    if let Some(bent) = bent::bending(spec) {
        return bent.upright_room(whole.length, leg);
    }
    let reach = (slot.length - spec.front_thickness()).millimetres();
    let in_reach =
        edge.end(Axis::Depth) == Some(End::Low) && reach > 0.0 || reach > inside.depth.millimetres() - leg;
    if in_reach && beside_wall(slot, thickness, inside.width, leg, edge) {
        let start = slot.height + thickness;
        Room { start, length: inside.height - start }
    } else {
        whole
    }
}

/// Whether a straight slot stands so near to the side that an edge lies at that a strip there, `leg` wide, meets it.
#[inline(never)] // few boxes have one: it may come after the first result
fn beside_wall(slot: &SlotPort, board: ExactLength, width: ExactLength, leg: f64, edge: InsideEdge) -> bool {
    let (build, _) = slot_build(slot.width, board, width);
    let (build, width) = (build.millimetres(), width.millimetres());
    let (left, right) = match slot.width {
        SlotWidth::FreeStanding(_) => ((width - build) / 2.0, (width + build) / 2.0),
        _ => (0.0, build),
    };
    if edge.end(Axis::Width) == Some(End::Low) { left < leg } else { right > width - leg }
}

/// Whether a strip along the floor would lie in a straight slot of a plain box, or close it off behind.
#[inline(never)] // few boxes have one: it may come after the first result
pub(super) fn in_straight_slot(spec: &BoxSpec, slot: &SlotPort, edge: InsideEdge) -> bool {
    let Some(strips) = spec.strips.as_ref().filter(|_| edge.end(Axis::Height) == Some(End::Low)) else {
        return false;
    };
    let walls = Shell::walls(spec);
    let leg = leg_mm(strips.wide_face(spec.boards.strips.thickness));
    let reach = (slot.length - spec.front_thickness()).millimetres();
    let depth = (spec.outside.depth - walls.depth).millimetres();
    match (edge.along, edge.end(Axis::Depth)) {
        _ if reach <= 0.0 => edge.end(Axis::Depth) == Some(End::Low),
        (Axis::Width, Some(End::Low)) => true,
        // Air turns about the end of the roof: as much room as the slot is high.
        (Axis::Width, _) => reach > depth - leg - slot.height.millimetres(),
        _ => {
            let width = spec.outside.width - walls.width;
            beside_wall(slot, spec.boards.inner.thickness, width, leg, edge)
        }
    }
}

/// The slot of the room of a divided box that an edge lies in: its height, and how far it reaches behind the front.
#[inline(never)] // few boxes have one: it may come after the first result
fn slot_at(spec: &BoxSpec, edge: InsideEdge) -> Option<(ExactLength, ExactLength)> {
    let divider = spec.divider()?;
    let (height, length) = match (edge.end(Axis::Width)?, &spec.port) {
        (End::Low, _) => divider.slot().map(|slot| (slot.height, slot.length))?,
        (End::High, Port::Slot(slot)) => (slot.height, slot.length),
        (End::High, _) => return None,
    };
    let reach = length - spec.front_thickness();
    (reach > ExactLength::ZERO).then_some((height, reach))
}

/// The same for an upright edge of a divided box: its strip stands on the roof of its room's slot.
#[inline(never)] // few boxes have one: it may come after the first result
fn on_roof(spec: &BoxSpec, whole: Room, inside: Dims, edge: InsideEdge) -> Room {
    let (Some((height, reach)), Some(strips)) = (slot_at(spec, edge), &spec.strips) else { return whole };
    let leg = leg_mm(strips.wide_face(spec.boards.strips.thickness));
    let clear =
        edge.end(Axis::Depth) == Some(End::High) && reach.millimetres() <= inside.depth.millimetres() - leg;
    let start = if clear { ExactLength::ZERO } else { height + spec.boards.inner.thickness };
    Room { start, length: inside.height - start }
}

/// Whether a strip of a divided box would run along the floor of a slot.
#[inline(never)] // few boxes have one: it may come after the first result
pub(super) fn on_floor_of_slot(spec: &BoxSpec, edge: InsideEdge) -> bool {
    edge.along == Axis::Depth && edge.end(Axis::Height) == Some(End::Low) && slot_at(spec, edge).is_some()
}

/// Whether a strip meets another in a corner and both run right into it, so that its ends are mitred.
#[must_use]
pub fn is_mitred(spec: &BoxSpec, edge: InsideEdge) -> bool {
    spec.strips.as_ref().is_some_and(|strips| {
        let mut others = strips.edges.iter().filter(|other| !is_left_out(spec, **other));
        strips.length.is_none() && others.any(|&other| meets(edge, other).is_some())
    })
}

/// The ends of `a` and of `b` that lie in a common corner, if the two edges have one.
fn meets(a: InsideEdge, b: InsideEdge) -> Option<(End, End)> {
    if a.along == b.along {
        return None;
    }
    let third = Axis::ALL.into_iter().find(|&x| x != a.along && x != b.along)?;
    if a.end(third) != b.end(third) {
        return None;
    }
    // a runs along its axis towards the end at which b lies, and the other way round.
    Some((b.end(a.along)?, a.end(b.along)?))
}

/// A strip as it stands: its edge and its distances from the two corners of that edge, in millimetres.
#[derive(Clone, Copy, Debug)]
pub(super) struct Standing {
    pub(super) edge: InsideEdge,
    pub(super) from_low: f64,
    pub(super) from_high: f64,
}

impl Standing {
    fn distance(self, end: End) -> f64 {
        match end {
            End::Low => self.from_low,
            End::High => self.from_high,
        }
    }
}

/// What prisms of leg `leg_mm` on several edges share in the corners: counted twice when added up one by one.
///
/// For all twelve edges, full length, it is 6 a³ (geometry.md section 3). A strip that stops short of the corner shares
/// less. Valid while 2a fits every inside dimension.
pub(super) fn shared_in_corners(standing: &[Standing], leg_mm: f64) -> Volume {
    let mut mm3 = 0.0;
    for (i, a) in standing.iter().enumerate() {
        for (j, b) in standing.iter().enumerate().skip(i + 1) {
            let Some((end_a, end_b)) = meets(a.edge, b.edge) else {
                continue;
            };
            let (from_a, from_b) = (a.distance(end_a), b.distance(end_b));
            mm3 += shared_by_two(leg_mm, from_a, from_b);
            // The part common to three strips has been taken three times and must be taken twice.
            for c in standing.iter().skip(j + 1) {
                if let (Some((to_c, end_c)), Some((to_c_b, _))) =
                    (meets(a.edge, c.edge), meets(b.edge, c.edge))
                    && to_c == end_a
                    && to_c_b == end_b
                {
                    mm3 -= shared_by_three(leg_mm, from_a, from_b, c.distance(end_c));
                }
            }
        }
    }
    Volume::from_cubic_metres(mm3 * 1e-9)
}

/// Volume common to two prisms of leg `a` in one corner that begin `p` and `q` from it:
/// ∫ (u − p)(u − q) du from max(p, q) to a; a³/3 for p = q = 0.
fn shared_by_two(a: f64, p: f64, q: f64) -> f64 {
    let from = p.max(q);
    if from >= a {
        return 0.0;
    }
    let primitive = |u: f64| u * u * u / 3.0 - (p + q) * u * u / 2.0 + p * q * u;
    primitive(a) - primitive(from)
}

/// Volume common to three prisms of leg `a` in one corner that begin `p`, `q`, `r` from it:
/// x ≥ p, y ≥ q, z ≥ r, every sum of two at most a; a³/4 for p = q = r = 0.
///
/// The cross-section at z is the rectangle (a − z − p)(a − z − q) less the corner beyond x + y = a:
/// ½ (s² − (z − q)₊² − (z − p)₊² + (2z − a)₊²) with s = a − p − q, integrated from r to a − max(p, q).
fn shared_by_three(a: f64, p: f64, q: f64, r: f64) -> f64 {
    let (s, top) = (a - p - q, a - p.max(q));
    if s <= 0.0 || top <= r {
        return 0.0;
    }
    let cube = |x: f64| x.max(0.0).powi(3);
    let part = |offset: f64| (cube(top - offset) - cube(r - offset)) / 3.0;
    let corner = (cube(2.0 * top - a) - cube(2.0 * r - a)) / 6.0;
    0.5 * (s * s * (top - r) - part(p) - part(q) + corner)
}

/// Volume per length of the hollow behind a strip: (w − 2t)²/4, none for w ≤ 2t. In mm².
#[must_use]
pub(super) fn void_mm2(wide_face: ExactLength, thickness: ExactLength) -> f64 {
    let narrow = (wide_face - thickness * 2).millimetres().max(0.0);
    narrow * narrow / 4.0
}

/// Width of the blank from which `count` strips are ripped, blade at 45 degrees for every cut, the stock flipped face
/// for face in between: n(w − t) + (n − 1) k √2 + t (geometry.md section 3), to the next 1/8 µm. Zero for no strip.
#[must_use]
pub fn blank_width(
    count: usize,
    wide_face: ExactLength,
    thickness: ExactLength,
    kerf: ExactLength,
) -> ExactLength {
    blank_at(count, (wide_face, Tilt::HALF_RIGHT), thickness, kerf)
}

/// The same for strips whose long edges are cut at any tilt τ: n(w − t tan τ) + (n − 1) k/cos τ + t tan τ, as the wide and
/// the narrow face differ by 2t tan τ and a tilted cut takes k/cos τ of the face.
#[must_use]
pub(super) fn blank_at(
    count: usize,
    (wide_face, tilt): (ExactLength, Tilt),
    thickness: ExactLength,
    kerf: ExactLength,
) -> ExactLength {
    if count == 0 {
        return ExactLength::ZERO;
    }
    let n = count as f64;
    let (sin, cos) = tilt.degrees().to_radians().sin_cos();
    let (w, k) = (wide_face.millimetres(), kerf.millimetres());
    let lean = thickness.millimetres() * sin / cos;
    ExactLength::from_millimetres(n * (w - lean) + (n - 1.0) * k / cos + lean)
}
