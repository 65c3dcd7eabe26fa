//! The owners of a box's twelve edges: of the two boards that meet there, the one that runs through.
//!
//! Finer than an order of the pairs: pinwheels and one-sided covers (geometry.md section 1). Where three boards cover one
//! another in a ring around a corner, none of them fills it: a notch stays open on the outside.
use super::axes::{Axis, Dims, End, InsideEdge, Point};
use super::parts::PartId;
use super::spec::{Pair, Precedence};
use crate::model::error::ModelError;
use crate::units::{ExactLength, Volume};

/// A board of the box: the axis it faces along and the end it stands at.
pub type Place = (Axis, End);

/// The front, all its layers.
pub const FRONT: Place = (Axis::Depth, End::Low);
/// The back.
pub const BACK: Place = (Axis::Depth, End::High);
/// The left side, seen from the front.
pub const LEFT: Place = (Axis::Width, End::Low);
/// The right side.
pub const RIGHT: Place = (Axis::Width, End::High);
/// The bottom.
pub const BOTTOM: Place = (Axis::Height, End::Low);
/// The top.
pub const TOP: Place = (Axis::Height, End::High);

/// The owner of each edge: one bit for each of [`InsideEdge::all`], set where the board that faces along the first of the
/// two other axes owns it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Owners(u16);

impl Default for Owners {
    /// Front and back cover all, top and bottom cover the sides, as [`Precedence::default`] says.
    fn default() -> Self {
        Self(0x00ff)
    }
}

/// The bit of the edge between two boards, and whether `a` faces along the first of its two axes; `None` where they face
/// along one axis, and so never meet.
const fn edge(a: Place, b: Place) -> Option<(u16, bool)> {
    let ahead = a.0.index() < b.0.index();
    let (first, second) = if ahead { (a, b) } else { (b, a) };
    let row = match (first.0, second.0) {
        (Axis::Depth, Axis::Width) => 0,
        (Axis::Depth, Axis::Height) => 4,
        (Axis::Width, Axis::Height) => 8,
        _ => return None,
    };
    let number = row + 2 * (first.1 as u16) + second.1 as u16;
    Some((1 << number, ahead))
}

impl Owners {
    /// From a rule that says which of two neighbours runs through.
    pub fn of(first_covers: impl Fn(Place, Place) -> bool) -> Self {
        let bit = |(number, edge): (usize, InsideEdge)| {
            let [a, b] = edge.along.others();
            u16::from(first_covers((a, edge.first), (b, edge.second))) << number
        };
        Self(InsideEdge::all().into_iter().enumerate().map(bit).sum())
    }

    /// As an order of the pairs says.
    #[must_use]
    pub fn by(precedence: Precedence) -> Self {
        Self::of(|(a, _), (b, _)| precedence.covers(Pair::facing(a), Pair::facing(b)))
    }

    /// The four around the front cover one another in a ring: left over top, top over right, right over bottom, bottom over
    /// left. Front and back lie over them or stand between them.
    #[must_use]
    pub fn ring(front_over: bool) -> Self {
        Self::of(|a, b| match (a.0, a.1 == b.1) {
            (Axis::Depth, _) => front_over,
            // Left and top, right and bottom.
            (_, alike) => !alike,
        })
    }

    /// The same with one edge owned by the board that stands at `owner`.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where the two boards don't meet in an edge, or are one.
    pub fn with(self, owner: Place, other: Place) -> Result<Self, ModelError> {
        match edge(owner, other) {
            Some((bit, true)) => Ok(Self(self.0 | bit)),
            Some((bit, false)) => Ok(Self(self.0 & !bit)),
            None => Err(ModelError::Impossible { what: "two boards that don't meet have no edge" }),
        }
    }

    /// Whether the board at `place` runs through where it meets `other`.
    #[must_use]
    pub const fn owns(self, place: Place, other: Place) -> bool {
        match edge(place, other) {
            Some((bit, first)) => (self.0 & bit != 0) == first,
            None => false,
        }
    }

    /// Corners that no board fills, as their three boards cover one another in a ring, by their end along depth, width and
    /// height: a board fills a corner if it owns both of its edges there.
    #[must_use]
    #[inline(never)] // only where edges are chosen one by one: it may come after the first result
    pub fn notches(self) -> Vec<[End; 3]> {
        let filled = |ends: [End; 3]| {
            let at = |axis: Axis| (axis, ends[axis.index()]);
            Axis::ALL
                .into_iter()
                .any(|axis| axis.others().iter().all(|&other| self.owns(at(axis), at(other))))
        };
        let corners = End::BOTH.into_iter().flat_map(|depth| {
            End::BOTH.into_iter().flat_map(move |width| End::BOTH.map(move |height| [depth, width, height]))
        });
        corners.filter(|&ends| !filled(ends)).collect()
    }

    /// Refuses owners that leave a corner open: a hole to the outside that meets the air in a point.
    ///
    /// # Errors
    /// [`ModelError::Impossible`], which names the corner.
    #[inline(never)] // only where edges are chosen one by one: it may come after the first result
    pub fn check(self) -> Result<(), ModelError> {
        match self.notches().first() {
            Some(&corner) => Err(ModelError::Impossible { what: open_corner(corner) }),
            None => Ok(()),
        }
    }
}

const fn open_corner(corner: [End; 3]) -> &'static str {
    use End::{High, Low};
    match corner {
        [Low, Low, Low] => {
            "at the front left bottom corner each board runs past the next in a ring: none fills the corner"
        }
        [Low, Low, High] => {
            "at the front left top corner each board runs past the next in a ring: none fills the corner"
        }
        [Low, High, Low] => {
            "at the front right bottom corner each board runs past the next in a ring: none fills the corner"
        }
        [Low, High, High] => {
            "at the front right top corner each board runs past the next in a ring: none fills the corner"
        }
        [High, Low, Low] => {
            "at the back left bottom corner each board runs past the next in a ring: none fills the corner"
        }
        [High, Low, High] => {
            "at the back left top corner each board runs past the next in a ring: none fills the corner"
        }
        [High, High, Low] => {
            "at the back right bottom corner each board runs past the next in a ring: none fills the corner"
        }
        [High, High, High] => {
            "at the back right top corner each board runs past the next in a ring: none fills the corner"
        }
    }
}

/// A board in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OwnedBoard {
    /// Which one; a front of several layers is one here.
    pub part: PartId,
    /// Its corner nearest to the front left bottom one.
    pub min: Point,
    /// Its size; along the axis it faces the thickness.
    pub size: Dims,
}

/// A box by the owners of its edges.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnedBox {
    /// The six boards.
    pub boards: Vec<OwnedBoard>,
    /// Inside size: the owners don't change it.
    pub inside: Dims,
    /// Corners that no board fills, by their end along depth, width and height.
    pub notches: Vec<[End; 3]>,
    /// What one of them measures.
    pub notch: Dims,
}

impl OwnedBox {
    /// Volume of the inside.
    #[must_use]
    pub fn air(&self) -> Volume {
        volume(self.inside)
    }
    /// Volume of an open corner.
    #[must_use]
    pub fn notch_volume(&self) -> Volume {
        volume(self.notch)
    }
}

fn volume(size: Dims) -> Volume {
    Volume::from_cubic_metres(size.millimetres().iter().product::<f64>() * 1e-9)
}

/// Where a board of the shell stands; a layer of the front where the front does.
#[must_use]
pub const fn place(part: PartId) -> Place {
    match part {
        PartId::Back => BACK,
        PartId::Left => LEFT,
        PartId::Right => RIGHT,
        PartId::Bottom => BOTTOM,
        PartId::Top => TOP,
        _ => FRONT,
    }
}

/// The board of the shell that stands there; of a front the outer layer.
#[must_use]
#[inline(never)] // few boxes ask for it: it may come after the first result
pub const fn board(place: Place) -> PartId {
    match place {
        (Axis::Depth, End::Low) => PartId::Front(0),
        (Axis::Depth, End::High) => PartId::Back,
        (Axis::Width, End::Low) => PartId::Left,
        (Axis::Width, End::High) => PartId::Right,
        (Axis::Height, End::Low) => PartId::Bottom,
        (Axis::Height, End::High) => PartId::Top,
    }
}

/// Puts a box together, all boards of one thickness: a board's size is the outside less the thickness of every neighbour
/// that owns the edge at that end.
///
/// # Errors
/// [`ModelError::Impossible`] where no inside remains.
pub fn owned(outside: Dims, thickness: ExactLength, owners: Owners) -> Result<OwnedBox, ModelError> {
    let inside = Dims::of(|axis| outside.get(axis) - thickness * 2);
    if thickness <= ExactLength::ZERO || Axis::ALL.iter().any(|&axis| inside.get(axis) <= ExactLength::ZERO) {
        return Err(ModelError::Impossible { what: "the box has no inside: it is smaller than its boards" });
    }
    let board = |place: Place| {
        let (faces, at) = place;
        let stands = if at == End::Low { ExactLength::ZERO } else { outside.get(faces) - thickness };
        let mut min = Point::default().with(faces, stands);
        let mut size = outside.with(faces, thickness);
        for axis in faces.others() {
            for end in End::BOTH {
                if owners.owns((axis, end), place) {
                    size = size.with(axis, size.get(axis) - thickness);
                    if end == End::Low {
                        min = min.with(axis, thickness);
                    }
                }
            }
        }
        OwnedBoard { part: board(place), min, size }
    };
    let places = || Axis::ALL.into_iter().flat_map(|axis| End::BOTH.map(|end| (axis, end)));
    Ok(OwnedBox {
        boards: places().map(board).collect(),
        inside,
        notches: owners.notches(),
        notch: Dims::of(|_| thickness),
    })
}
