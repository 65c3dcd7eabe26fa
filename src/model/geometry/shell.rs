//! The six sides put together: what the inside measures and what does not meet.
use super::axes::{Axis, Dims};
use super::checks::Fact;
use super::legs;
use super::parts::PartId;
use super::sizes::{self, Sizes};
use super::spec::{BoxSpec, Pair};
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
        let thickness = spec.boards.shell.thickness;
        Dims { width: thickness * 2, height: thickness * 2, depth: spec.front_thickness() + thickness }
    }

    /// Puts the shell together.
    ///
    /// Along an axis the inside is what the pieces that stand between the facing pair leave free; where none stands
    /// between, it follows from the pieces the pair is flush with. Of unequal pieces the shortest decides.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where no inside remains.
    pub(super) fn assembled(spec: &BoxSpec, sizes: &Sizes) -> Result<Self, ModelError> {
        if spec.pinwheel {
            return Self::around(spec, sizes);
        }
        let walls = Self::walls(spec);
        let mut shell = Self { outside: walls, inside: Dims::default(), misfits: Vec::new() };
        for axis in Axis::ALL {
            let inside = shell.along(spec, sizes, axis, walls.get(axis))?;
            shell.inside = shell.inside.with(axis, inside);
            shell.outside = shell.outside.with(axis, inside + walls.get(axis));
        }
        Ok(shell)
    }

    /// The same where sides, top and bottom cover one another in a ring: those four decide the inside.
    #[inline(never)] // only these boxes need it: it may come after the first result
    fn around(spec: &BoxSpec, sizes: &Sizes) -> Result<Self, ModelError> {
        let walls = Self::walls(spec);
        let over = spec.precedence.covers(Pair::FrontBack, Pair::Sides);
        let mut shell = Self { outside: walls, inside: Dims::default(), misfits: Vec::new() };
        for axis in Axis::ALL {
            // What of the walls along the axis a board of the four reaches over.
            let reach = match axis {
                Axis::Depth if over => ExactLength::ZERO,
                Axis::Depth => walls.depth,
                _ => spec.boards.shell.thickness,
            };
            let four = [Pair::Sides, Pair::TopBottom].into_iter().filter(|pair| pair.axis() != axis);
            let ids: Vec<PartId> = four.flat_map(|pair| pair.pieces(spec.front_layers)).collect();
            let sizes_of = || ids.iter().map(|&id| sizes.get(id, axis.into()) - reach);
            let inside = sizes_of().min().unwrap_or_default();
            if inside <= ExactLength::ZERO {
                return Err(ModelError::Impossible {
                    what: "the box has no inside: it is smaller than its boards",
                });
            }
            let difference = sizes_of().max().unwrap_or_default() - inside;
            if shows(difference, spec) {
                shell.misfits.push(Fact::Unequal { axis, inside, difference });
            }
            shell.inside = shell.inside.with(axis, inside);
            shell.outside = shell.outside.with(axis, inside + walls.get(axis));
        }
        for part in Pair::FrontBack.pieces(spec.front_layers) {
            for axis in Axis::Depth.others() {
                let cut = match (axis, part) {
                    (Axis::Height, PartId::Front(_)) => sizes::front_cut_back(spec),
                    _ => ExactLength::ZERO,
                };
                let room = if over { shell.outside.get(axis) } else { shell.inside.get(axis) - cut };
                let over = sizes.get(part, axis.into()) - room;
                if shows(over, spec) {
                    shell.misfits.push(Fact::Cover { part, dimension: axis.into(), over });
                }
            }
        }
        Ok(shell)
    }

    fn along(
        &mut self,
        spec: &BoxSpec,
        sizes: &Sizes,
        axis: Axis,
        walls: ExactLength,
    ) -> Result<ExactLength, ModelError> {
        let facing = Pair::facing(axis);
        let [first, second] = spec.precedence.along(axis);
        // The inside a piece stands for.
        let implied = |id: PartId, between: bool| {
            let mut size = sizes.get(id, axis.into());
            if axis == Axis::Height && matches!(id, PartId::Front(_)) {
                size = size + sizes::front_cut_back(spec);
            }
            size = size - legs::beyond_front(spec, id, axis);
            if between { size } else { size - walls }
        };
        let mut shortest: Option<ExactLength> = None;
        let mut longest = ExactLength::ZERO;
        for pair in [first, second] {
            let between = spec.precedence.covers(facing, pair);
            if between || pair == second {
                for id in pair.pieces(spec.front_layers) {
                    let inside = implied(id, between);
                    shortest = Some(shortest.map_or(inside, |found| found.min(inside)));
                    longest = longest.max(inside);
                }
            }
        }
        let shortest = shortest.ok_or(ModelError::Missing { what: "a panel" })?;
        if shortest <= ExactLength::ZERO {
            return Err(ModelError::Impossible {
                what: "the box has no inside: it is smaller than its boards",
            });
        }
        let difference = longest - shortest;
        if shows(difference, spec) {
            self.misfits.push(Fact::Unequal { axis, inside: shortest, difference });
        }
        if !spec.precedence.covers(facing, first) {
            for part in first.pieces(spec.front_layers) {
                let over = implied(part, false) - shortest;
                if shows(over, spec) {
                    let dimension = axis.into();
                    self.misfits.push(Fact::Cover { part, dimension, over });
                }
            }
        }
        Ok(shortest)
    }
}

/// Whether a misfit is one: less than one step of the tape doesn't show on it and is sanded flush.
pub(super) fn shows(misfit: ExactLength, spec: &BoxSpec) -> bool {
    let size = misfit.max(-misfit);
    size > ExactLength::ZERO && size >= spec.tape_step
}
