//! Directions, sizes and points in the box, and its twelve inside edges.
use crate::units::ExactLength;

/// A direction of the box. Depth runs from the front backwards, width from left to right, height upwards.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Axis {
    /// From the outside of the front towards the back.
    Depth,
    /// From the outside of the left side towards the right, seen from the front.
    Width,
    /// From the underside upwards.
    Height,
}

impl Axis {
    /// All three, in the order of an array of coordinates.
    pub const ALL: [Self; 3] = [Self::Depth, Self::Width, Self::Height];

    /// Place in an array of three coordinates: depth 0, width 1, height 2.
    #[must_use]
    pub const fn index(self) -> usize {
        match self {
            Self::Depth => 0,
            Self::Width => 1,
            Self::Height => 2,
        }
    }
    /// Across and up as one stands before a board that faces along this axis; of top and bottom, backwards is up.
    #[must_use]
    pub const fn face(self) -> [Self; 2] {
        match self {
            Self::Height => [Self::Width, Self::Depth],
            upright => upright.others(),
        }
    }
    /// The two other axes, in the order of [`Axis::ALL`].
    #[must_use]
    pub const fn others(self) -> [Self; 2] {
        match self {
            Self::Depth => [Self::Width, Self::Height],
            Self::Width => [Self::Depth, Self::Height],
            Self::Height => [Self::Depth, Self::Width],
        }
    }
}

/// Three lengths along the axes: a size, or a point counted from the front left bottom corner outside.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Dims {
    /// Along [`Axis::Width`].
    pub width: ExactLength,
    /// Along [`Axis::Height`].
    pub height: ExactLength,
    /// Along [`Axis::Depth`].
    pub depth: ExactLength,
}

/// A point, counted from the front left bottom corner outside.
pub type Point = Dims;

impl Dims {
    /// From a function of the axis.
    pub fn of(value: impl Fn(Axis) -> ExactLength) -> Self {
        Self { width: value(Axis::Width), height: value(Axis::Height), depth: value(Axis::Depth) }
    }
    /// The length along one axis.
    #[must_use]
    pub const fn get(self, axis: Axis) -> ExactLength {
        match axis {
            Axis::Depth => self.depth,
            Axis::Width => self.width,
            Axis::Height => self.height,
        }
    }
    /// The same with one length replaced.
    #[must_use]
    pub const fn with(mut self, axis: Axis, value: ExactLength) -> Self {
        match axis {
            Axis::Depth => self.depth = value,
            Axis::Width => self.width = value,
            Axis::Height => self.height = value,
        }
        self
    }
    /// In millimetres, in the order of [`Axis::ALL`].
    #[must_use]
    pub fn millimetres(self) -> [f64; 3] {
        [self.depth, self.width, self.height].map(ExactLength::millimetres)
    }
}

impl std::ops::Add for Dims {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::of(|axis| self.get(axis) + other.get(axis))
    }
}
impl std::ops::Sub for Dims {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::of(|axis| self.get(axis) - other.get(axis))
    }
}

/// One end of an axis: front, left or bottom; or back, right or top.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum End {
    /// Front, left or bottom.
    Low,
    /// Back, right or top.
    High,
}

impl End {
    /// Both ends.
    pub const BOTH: [Self; 2] = [Self::Low, Self::High];
}

/// One of the twelve inside edges: its direction, and at which end of the two other axes it lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct InsideEdge {
    /// The direction the edge runs in.
    pub along: Axis,
    /// The end of the first of [`Axis::others`] of `along`.
    pub first: End,
    /// The end of the second of [`Axis::others`] of `along`.
    pub second: End,
}

impl InsideEdge {
    /// The four vertical edges: front left, front right, back left, back right.
    #[must_use]
    pub fn vertical() -> [Self; 4] {
        Self::along(Axis::Height)
    }
    /// The four edges that run along `axis`.
    #[must_use]
    pub fn along(axis: Axis) -> [Self; 4] {
        let edge = |first, second| Self { along: axis, first, second };
        [
            edge(End::Low, End::Low),
            edge(End::Low, End::High),
            edge(End::High, End::Low),
            edge(End::High, End::High),
        ]
    }
    /// All twelve, vertical ones first, then along the width, then along the depth.
    #[must_use]
    pub fn all() -> Vec<Self> {
        [Axis::Height, Axis::Width, Axis::Depth].into_iter().flat_map(Self::along).collect()
    }
    /// At which end of `axis` the edge lies; `None` for the axis it runs along.
    #[must_use]
    pub fn end(self, axis: Axis) -> Option<End> {
        let [first, second] = self.along.others();
        if axis == first {
            Some(self.first)
        } else if axis == second {
            Some(self.second)
        } else {
            None
        }
    }
}
