//! The boards that groups of parts are cut from, as entered: one for all, or a second and a third for some.
use super::document::Sheet;
use super::limits::FieldId;
use super::report::{Gap, Part};
use crate::model::geometry::edges::{BACK, BOTTOM, FRONT, LEFT, Owners, Place, RIGHT, TOP};
use crate::model::geometry::{Board, Boards, BoxSpec, Precedence};

/// Entries of a board beside the first.
struct Entries {
    thickness: FieldId,
    density: FieldId,
    modulus: FieldId,
    /// Width, length and price of the sheets it comes in.
    sheet: [FieldId; 3],
}

/// Where in the table of entries boards and joints stand.
pub const ENTRIES: std::ops::RangeInclusive<FieldId> = FieldId::SecondBoard..=FieldId::Joints;

static OTHERS: [Entries; 2] = [
    Entries {
        thickness: FieldId::SecondBoard,
        density: FieldId::SecondDensity,
        modulus: FieldId::SecondModulus,
        sheet: [FieldId::SecondSheetWidth, FieldId::SecondSheetLength, FieldId::SecondSheetPrice],
    },
    Entries {
        thickness: FieldId::ThirdBoard,
        density: FieldId::ThirdDensity,
        modulus: FieldId::ThirdModulus,
        sheet: [FieldId::ThirdSheetWidth, FieldId::ThirdSheetLength, FieldId::ThirdSheetPrice],
    },
];

/// The entries of a board by its number; `None` for the first.
fn other(number: u8) -> Option<&'static Entries> {
    usize::from(number).checked_sub(1).and_then(|place| OTHERS.get(place))
}

/// The boards as entered. A density that is not entered is that of the first board.
///
/// # Errors
/// [`Gap::Missing`] where a group is to be cut from a board whose thickness is not entered.
#[inline(never)] // only where parts are of different boards: it may come after the first result
pub fn boards(sheet: &Sheet, first: Board) -> Part<Boards> {
    let from = |group: FieldId| -> Part<Board> {
        let number = sheet.choice(group);
        let Some(other) = other(number) else { return Ok(first) };
        let thickness = sheet.length(other.thickness);
        let thickness = thickness.ok_or_else(|| Gap::Missing(vec![vec![other.thickness]]))?;
        let density_kg_m3 = sheet.si(other.density).unwrap_or(first.density_kg_m3);
        Ok(Board { thickness, density_kg_m3, number })
    };
    Ok(Boards {
        shell: first,
        front: [from(FieldId::FrontFrom)?, from(FieldId::FrontInnerFrom)?],
        inner: from(FieldId::InsideFrom)?,
        strips: from(FieldId::StripsFrom)?,
    })
}

/// Takes in what parts are cut from and which of them run through.
///
/// # Errors
/// As [`boards`].
#[inline(never)] // only where something of it is entered: it may come after the first result
pub fn take_in(sheet: &Sheet, spec: &mut BoxSpec) -> Part<()> {
    spec.boards = boards(sheet, spec.boards.shell)?;
    // In a shaped box the sides always cover the rest.
    if sheet.choice(FieldId::Shape) == 0 {
        spec.owners = owners(sheet);
    }
    Ok(())
}

/// Which board runs through at each edge: by the order chosen for all, but for the edges chosen one by one.
#[must_use]
#[inline(never)] // only where something of it is entered: it may come after the first result
pub fn owners(sheet: &Sheet) -> Owners {
    let all = match usize::from(sheet.choice(FieldId::Joints)) {
        6 => Owners::ring(true),
        7 => Owners::ring(false),
        order => Owners::by(Precedence::ALL.get(order).copied().unwrap_or_default()),
    };
    EDGES.iter().fold(all, |owners, (field, [a, b])| {
        let (owner, other) = match sheet.choice(*field) {
            1 => (*a, *b),
            2 => (*b, *a),
            _ => return owners,
        };
        owners.with(owner, other).unwrap_or(owners)
    })
}

/// The fields of the twelve edges, and the two boards that meet there.
pub static EDGES: [(FieldId, [Place; 2]); 12] = [
    (FieldId::EdgeFrontLeft, [FRONT, LEFT]),
    (FieldId::EdgeFrontRight, [FRONT, RIGHT]),
    (FieldId::EdgeFrontBottom, [FRONT, BOTTOM]),
    (FieldId::EdgeFrontTop, [FRONT, TOP]),
    (FieldId::EdgeBackLeft, [BACK, LEFT]),
    (FieldId::EdgeBackRight, [BACK, RIGHT]),
    (FieldId::EdgeBackBottom, [BACK, BOTTOM]),
    (FieldId::EdgeBackTop, [BACK, TOP]),
    (FieldId::EdgeLeftBottom, [LEFT, BOTTOM]),
    (FieldId::EdgeLeftTop, [LEFT, TOP]),
    (FieldId::EdgeRightBottom, [RIGHT, BOTTOM]),
    (FieldId::EdgeRightTop, [RIGHT, TOP]),
];

/// Where in the table of entries the edges stand.
pub const EDGE_ENTRIES: std::ops::RangeInclusive<FieldId> = FieldId::EdgeFrontLeft..=FieldId::EdgeRightTop;

/// Modulus of elasticity of a board in GPa: its own, or that of the first.
#[must_use]
pub fn modulus(sheet: &Sheet, number: u8) -> Option<f64> {
    other(number).and_then(|entries| sheet.si(entries.modulus)).or_else(|| sheet.si(FieldId::BoardModulus))
}

/// Width, length and price of the sheets a board beside the first comes in; `None` for the first.
#[must_use]
pub fn own_sheet(number: u8) -> Option<[FieldId; 3]> {
    other(number).map(|entries| entries.sheet)
}
