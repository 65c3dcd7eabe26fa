//! The six sides put together: what the inside measures and what does not meet.
use super::assembly;
use super::axes::{Axis, Dims, End};
use super::checks::Fact;
use super::parts::{Dimension, PartId};
use super::plan::Build;
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
    /// What covers stand over along each axis.
    pub(super) over: Dims,
}

/// A cover larger than what it covers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StandsOver {
    /// The board.
    pub part: PartId,
    /// The size that is larger.
    pub dimension: Dimension,
    /// By how much.
    pub over: ExactLength,
}

/// Less than this that a cover stands over is nothing: 0.05 mm.
const LEAST_OVER: ExactLength = ExactLength::from_hundredths_mm(5);

/// What a cover that differs by so much stands over: zero for what lacks or is nothing.
pub(super) fn stands_over(over: ExactLength) -> ExactLength {
    if over > LEAST_OVER { over } else { ExactLength::ZERO }
}

/// The boards that stand over what they cover, and are trimmed flush once the box is glued.
///
/// The outside size of a build is that of the box put together and trimmed; [`super::Assembly::untrimmed`] counts these as well.
#[must_use]
#[inline(never)] // only the cut list names them: it may come after the first result
pub fn standing_over(spec: &BoxSpec, build: &Build) -> Vec<StandsOver> {
    let (sizes, assembly) = (&build.sizes, &build.assembly);
    let all = match &spec.profile {
        Some(profile) => assembly::covers_of_shape(spec, profile, sizes),
        None if spec.is_baffle() => Vec::new(),
        None => {
            let of_axis = |axis: Axis| {
                let along = Along::of(spec, axis);
                let covers =
                    along.boards.iter().filter(|board| along.covers(board)).map(|board| StandsOver {
                        part: board.id,
                        dimension: axis.into(),
                        over: board.implied(spec, sizes, axis) - assembly.inside.get(axis),
                    });
                covers.collect::<Vec<_>>()
            };
            Axis::ALL.into_iter().flat_map(of_axis).collect()
        }
    };
    all.into_iter().filter(|found| stands_over(found.over) > ExactLength::ZERO).collect()
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
        let none = Dims::default();
        let mut shell = Self { outside: walls, inside: none, misfits: Vec::new(), over: none };
        for axis in Axis::ALL {
            let inside = shell.along(spec, sizes, axis)?;
            shell.inside = shell.inside.with(axis, inside);
            shell.outside = shell.outside.with(axis, inside + walls.get(axis));
        }
        Ok(shell)
    }

    fn along(&mut self, spec: &BoxSpec, sizes: &Sizes, axis: Axis) -> Result<ExactLength, ModelError> {
        let along = Along::of(spec, axis);
        let implied = |board: &Reach| board.implied(spec, sizes, axis);
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
            if along.covers(board) {
                self.over = self.over.with(axis, self.over.get(axis).max(stands_over(over)));
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

    /// Whether what it is too large stands over outside: it runs past a wall and follows other boards.
    fn covers(&self, board: &Reach) -> bool {
        board.past > ExactLength::ZERO && !self.decides(board)
    }

    pub(super) fn decides(&self, board: &Reach) -> bool {
        match board.ends {
            Ends::Both => !self.fixed && board.is_covered,
            _ => !self.ring || board.is_around(),
        }
    }
}

impl Reach {
    /// The inside it stands for as cut.
    fn implied(&self, spec: &BoxSpec, sizes: &Sizes, axis: Axis) -> ExactLength {
        sizes.get(self.id, axis.into()) - legs::beyond_front(spec, self.id, axis) + self.cut - self.past
    }

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
