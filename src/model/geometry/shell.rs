//! The six sides put together: what the inside measures and what does not meet.
use super::axes::{Axis, Dims, End};
use super::checks::Fact;
use super::parts::PartId;
use super::sizes::{self, Sizes};
use super::spec::{BoxSpec, Pair};
use super::{edges, legs};
use crate::model::error::ModelError;
use crate::units::ExactLength;

/// The six sides put together, before anything is put in.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Shell {
    pub(super) outside: Dims,
    pub(super) inside: Dims,
    pub(super) misfits: Vec<Fact>,
}

impl Shell {
    /// Both walls along each axis, together.
    pub(super) fn walls(spec: &BoxSpec) -> Dims {
        Dims::of(|axis| Self::wall(spec, axis, End::Low) + Self::wall(spec, axis, End::High))
    }

    /// The wall at one end of an axis: the whole front, or one board.
    fn wall(spec: &BoxSpec, axis: Axis, end: End) -> ExactLength {
        match (axis, end) {
            (Axis::Depth, End::Low) => spec.front_thickness(),
            _ => spec.boards.shell.thickness,
        }
    }

    /// Puts the shell together.
    ///
    /// Along an axis the inside is what the pieces that stand between the facing pair leave free, or run past one of it;
    /// a front or back let into a ring of such pieces follows them. Where there are none it follows from the pieces the pair
    /// is flush with: of those the ones that others cover, as they stand nearer to the inside. Of unequal pieces the shortest
    /// decides.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where no inside remains.
    pub(super) fn assembled(spec: &BoxSpec, sizes: &Sizes) -> Result<Self, ModelError> {
        let walls = Self::walls(spec);
        let mut shell = Self { outside: walls, inside: Dims::default(), misfits: Vec::new() };
        for axis in Axis::ALL {
            let inside = shell.along(spec, sizes, axis)?;
            shell.inside = shell.inside.with(axis, inside);
            shell.outside = shell.outside.with(axis, inside + walls.get(axis));
        }
        Ok(shell)
    }

    fn along(&mut self, spec: &BoxSpec, sizes: &Sizes, axis: Axis) -> Result<ExactLength, ModelError> {
        let along = Along::of(spec, axis);
        // The inside a piece stands for.
        let implied = |board: &Reach| {
            let size = sizes.get(board.id, axis.into()) - legs::beyond_front(spec, board.id, axis);
            size + board.cut - board.past
        };
        let inside = || along.boards.iter().filter(|board| along.decides(board)).map(implied);
        let shortest = inside().min().ok_or(ModelError::Missing { what: "a panel" })?;
        if shortest <= ExactLength::ZERO {
            return Err(ModelError::Impossible {
                what: "the box has no inside: it is smaller than its boards",
            });
        }
        let difference = inside().max().unwrap_or(shortest) - shortest;
        if shows(difference, spec) {
            self.misfits.push(Fact::Unequal { axis, inside: shortest, difference });
        }
        for board in along.boards.iter().filter(|board| !along.decides(board)) {
            let over = implied(board) - shortest;
            if shows(over, spec) {
                self.misfits.push(Fact::Cover { part: board.id, dimension: axis.into(), over });
            }
        }
        Ok(shortest)
    }
}

/// At how many ends a board runs past the facing pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ends {
    /// It stands between.
    None,
    /// It is covered at one end and covers at the other.
    One,
    /// It runs through.
    Both,
}

/// How a board of the shell ends along an axis.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reach {
    pub(super) id: PartId,
    pub(super) ends: Ends,
    /// What of the walls along the axis it runs past.
    pub(super) past: ExactLength,
    /// What a slot below it takes.
    pub(super) cut: ExactLength,
    /// Whether another board with a size along the axis covers it.
    is_covered: bool,
}

/// The boards of the shell with a size along an axis, and which of them decide the inside along it.
pub(super) struct Along {
    boards: Vec<Reach>,
    /// Whether sides, bottom or top run past one end only: front and back then follow them.
    ring: bool,
    /// Whether some board does not run through.
    fixed: bool,
}

impl Along {
    pub(super) fn of(spec: &BoxSpec, axis: Axis) -> Self {
        let mut boards = Vec::with_capacity(6);
        for across in axis.others() {
            for id in Pair::facing(across).pieces(spec.front_layers) {
                boards.push(Reach::of(spec, id, axis));
            }
        }
        let ring = boards.iter().any(|board| board.ends == Ends::One && board.is_around());
        let fixed = boards.iter().any(|board| board.ends != Ends::Both);
        Self { boards, ring, fixed }
    }

    pub(super) fn with(&self, ends: Ends) -> impl Iterator<Item = &Reach> {
        self.boards.iter().filter(move |board| board.ends == ends)
    }

    pub(super) fn decides(&self, board: &Reach) -> bool {
        match board.ends {
            Ends::Both => !self.fixed && board.is_covered,
            _ => !self.ring || board.is_around(),
        }
    }
}

impl Reach {
    /// Whether it is one of the four around front and back.
    fn is_around(&self) -> bool {
        edges::place(self.id).0 != Axis::Depth
    }

    fn of(spec: &BoxSpec, id: PartId, axis: Axis) -> Self {
        let place = edges::place(id);
        let past = End::BOTH.map(|end| spec.owners.owns(place, (axis, end)));
        let wall = |end| Shell::wall(spec, axis, end);
        let [low, high] = [0, 1].map(|i| if past[i] { wall(End::BOTH[i]) } else { ExactLength::ZERO });
        let ends = match past {
            [false, false] => Ends::None,
            [true, true] => Ends::Both,
            _ => Ends::One,
        };
        let front = axis == Axis::Height && matches!(id, PartId::Front(_));
        let covers = |other: Axis| End::BOTH.iter().any(|end| spec.owners.owns((other, *end), place));
        Self {
            id,
            ends,
            past: low + high,
            cut: if front { sizes::front_cut_back(spec) } else { ExactLength::ZERO },
            is_covered: axis.others().into_iter().any(|other| other != place.0 && covers(other)),
        }
    }
}

/// Whether a misfit is one: less than one step of the tape doesn't show on it and is sanded flush.
pub(super) fn shows(misfit: ExactLength, spec: &BoxSpec) -> bool {
    let size = misfit.max(-misfit);
    size > ExactLength::ZERO && size >= spec.tape_step
}
