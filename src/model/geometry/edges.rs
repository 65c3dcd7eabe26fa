//! A box whose twelve edges each have an owner: of the two boards that meet there, the one that runs through.
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

/// The owner of each edge.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Owners(Vec<(InsideEdge, Axis)>);

impl Owners {
    /// From a rule that says which of two neighbours runs through.
    pub fn of(first_covers: impl Fn(Place, Place) -> bool) -> Self {
        let owner = |edge: InsideEdge| {
            let [a, b] = edge.along.others();
            if first_covers((a, edge.first), (b, edge.second)) { a } else { b }
        };
        Self(InsideEdge::all().into_iter().map(|edge| (edge, owner(edge))).collect())
    }

    /// As an order of the pairs says.
    #[must_use]
    pub fn by(precedence: Precedence) -> Self {
        Self::of(|(a, _), (b, _)| precedence.covers(Pair::facing(a), Pair::facing(b)))
    }

    /// The same with one edge owned by the board that stands at `owner`.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where the two boards don't meet in an edge, or are one.
    pub fn with(mut self, owner: Place, other: Place) -> Result<Self, ModelError> {
        let found = self.0.iter_mut().find(|(edge, _)| {
            edge.along != owner.0
                && edge.along != other.0
                && edge.end(owner.0) == Some(owner.1)
                && edge.end(other.0) == Some(other.1)
        });
        match found.filter(|_| owner.0 != other.0) {
            Some(edge) => {
                edge.1 = owner.0;
                Ok(self)
            }
            None => Err(ModelError::Impossible { what: "two boards that don't meet have no edge" }),
        }
    }

    /// Whether the board at `place` runs through where it meets `other`.
    fn owns(&self, place: Place, other: Place) -> bool {
        self.0.iter().any(|(edge, owner)| {
            *owner == place.0
                && edge.end(place.0) == Some(place.1)
                && edge.along != other.0
                && edge.end(other.0) == Some(other.1)
        })
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

const fn part(place: Place) -> PartId {
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
pub fn owned(outside: Dims, thickness: ExactLength, owners: &Owners) -> Result<OwnedBox, ModelError> {
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
        OwnedBoard { part: part(place), min, size }
    };
    let places = || Axis::ALL.into_iter().flat_map(|axis| End::BOTH.map(|end| (axis, end)));
    // A corner is filled by the board that owns both of its edges there.
    let filled = |ends: [End; 3]| {
        let at = |axis: Axis| (axis, ends[axis.index()]);
        Axis::ALL.into_iter().any(|axis| axis.others().iter().all(|&other| owners.owns(at(axis), at(other))))
    };
    let corners = End::BOTH.into_iter().flat_map(|depth| {
        End::BOTH.into_iter().flat_map(move |width| End::BOTH.map(move |height| [depth, width, height]))
    });
    Ok(OwnedBox {
        boards: places().map(board).collect(),
        inside,
        notches: corners.filter(|&ends| !filled(ends)).collect(),
        notch: Dims::of(|_| thickness),
    })
}
