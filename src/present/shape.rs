//! What is particular about shaped boxes, in words: bevelled ends, the face that is down, the template.
use super::cutting::DetailRow;
use super::names;
use super::tables::{LedgerRow, degrees};
use crate::model::geometry::{
    Axis, Bevel, BoardEnd, BoardFace, Corner, Dims, End, LedgerItem, Oblique, Outline, Part, PartId, PartName,
};
use crate::units::{ExactLength, UnitPrefs};
use crate::words::shape as words;

/// Says of the inside's size that it is that of the block around it.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn within(rows: &mut [LedgerRow], inside: Dims, prefs: &UnitPrefs) {
    let size = [inside.width, inside.height, inside.depth].map(|l| prefs.length_text(l)).join(" × ");
    if let Some(first) = rows.first_mut() {
        first.text = words::inside(names::ledger(LedgerItem::GrossInside), &size);
    }
}

/// What the edges of a part are, beside square.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn edges(part: &Part, edges: &mut Vec<String>) {
    if part.shaped {
        edges.push(words::TO_TEMPLATE.into());
    }
    for bevel in &part.bevels {
        edges.push(words::bevel(end(bevel.end), &degrees(bevel.tilt), face(bevel.long_on)));
    }
    if is_parallel(part) {
        edges.push(words::PARALLEL.into());
    }
    oblique(part, edges);
}

/// Where the strips of a line stand, and their oblique ends; of two that are alike both at once.
fn oblique(part: &Part, edges: &mut Vec<String>) {
    let ends: &[Oblique] = &part.oblique;
    let alike = matches!(ends, [a, b] if a == b);
    for end in ends.iter().take(if alike { 1 } else { 2 }) {
        let which = if alike { words::BOTH_ENDS } else { words::ONE_END };
        edges.push(words::oblique(which, &degrees(end.gauge), &degrees(end.blade)));
    }
}

/// The inside edges that strips of one line stand in, each named once.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn strip_places(part: &Part) -> String {
    let mut places: Vec<&str> = Vec::new();
    for piece in &part.pieces {
        let PartId::Strip(edge) = *piece else { continue };
        let front = edge.end(Axis::Depth) == Some(End::Low);
        let low = edge.end(Axis::Height) == Some(End::Low);
        let place = match (edge.along, front, low) {
            (Axis::Height, true, _) => words::UP_FRONT,
            (Axis::Height, false, _) => words::UP_BACK,
            (Axis::Depth, _, true) => words::ALONG_BOTTOM,
            (Axis::Depth, _, false) => words::ALONG_TOP,
            (Axis::Width, true, true) => words::ACROSS_FRONT_LOW,
            (Axis::Width, true, false) => words::ACROSS_FRONT_HIGH,
            (Axis::Width, false, true) => words::ACROSS_BACK_LOW,
            (Axis::Width, false, false) => words::ACROSS_BACK_HIGH,
        };
        if !places.contains(&place) {
            places.push(place);
        }
    }
    places.join("; ")
}

/// The edge of a side or a brace to cut by its template: its corners, for marking out.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn edge_row(
    outline: &Outline,
    (key, piece): (&str, &str),
    prefs: &UnitPrefs,
) -> Option<DetailRow> {
    if outline.edge.is_empty() {
        return None;
    }
    let corner = |(at, _): &Corner| at.map(|x| tenth(ExactLength::from_millimetres(x), prefs)).join(" / ");
    let corners = outline.edge.iter().map(corner).collect::<Vec<_>>().join(", ");
    Some(DetailRow {
        tick: format!("edge {key} {corners}"),
        name: format!("{piece}: {}", words::EDGE),
        size: words::corners(&corners),
        template: String::new(),
    })
}

/// Whether both ends lean the same way, so that the board's section is a parallelogram.
fn is_parallel(part: &Part) -> bool {
    matches!(part.bevels.as_slice(), [a, b] if a.tilt == b.tilt && a.long_on != b.long_on)
}

/// A part at a bevelled setting: which end, and which face is down. The blade leans away from the fence, so the face
/// with the long point is up.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn bevelled(name: PartName, bevel: Bevel) -> String {
    let down = bevel.long_on.opposite();
    format!("{}, {}", names::part(name), words::down(end(bevel.end), face(down)))
}

const fn end(end: BoardEnd) -> &'static str {
    match end {
        BoardEnd::Front => words::FRONT_END,
        BoardEnd::Rear => words::REAR_END,
        BoardEnd::Lower => words::LOWER_END,
        BoardEnd::Upper => words::UPPER_END,
    }
}

/// The stable word of an end, for the key of a tick.
pub(super) const fn end_key(end: BoardEnd) -> &'static str {
    match end {
        BoardEnd::Front => " front end",
        BoardEnd::Rear => " rear end",
        BoardEnd::Lower => " lower end",
        BoardEnd::Upper => " upper end",
    }
}

const fn face(face: BoardFace) -> &'static str {
    match face {
        BoardFace::Outside => words::OUTSIDE_FACE,
        BoardFace::Inside => words::INSIDE_FACE,
        BoardFace::Slot => words::SLOT_FACE,
        BoardFace::Room => words::ROOM_FACE,
    }
}

/// A length worked out for the table, to a tenth of a millimetre.
pub(super) fn tenth(length: ExactLength, prefs: &UnitPrefs) -> String {
    prefs.length_text(length.rounded_to(ExactLength::from_hundredths_mm(10)))
}
