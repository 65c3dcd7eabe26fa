//! The six sides put together: what the inside measures and what does not meet.
use super::axes::{Axis, Dims};
use super::checks::Fact;
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
        let thickness = spec.board.thickness;
        Dims {
            width: thickness * 2,
            height: thickness * 2,
            depth: spec.front_thickness() + thickness,
        }
    }

    /// Puts the shell together.
    ///
    /// Along an axis the inside is what the pieces that stand between the facing pair leave free; where none stands
    /// between, it follows from the pieces the pair is flush with. Of unequal pieces the shortest decides.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where no inside remains.
    pub(super) fn assembled(spec: &BoxSpec, sizes: &Sizes) -> Result<Self, ModelError> {
        let walls = Self::walls(spec);
        let mut shell = Self {
            outside: walls,
            inside: Dims::default(),
            misfits: Vec::new(),
        };
        for axis in Axis::ALL {
            let inside = shell.along(spec, sizes, axis, walls.get(axis))?;
            shell.inside = shell.inside.with(axis, inside);
            shell.outside = shell.outside.with(axis, inside + walls.get(axis));
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
        // The inside each piece of the four other panels stands for, with whether its pair decides.
        let mut implied: Vec<(PartId, bool, ExactLength)> = Vec::new();
        let others: Vec<Pair> = spec
            .precedence
            .order()
            .into_iter()
            .filter(|&p| p != facing)
            .collect();
        for (place, &pair) in others.iter().enumerate() {
            let between = spec.precedence.covers(facing, pair);
            // The last of the others stands nearest to the facing pair: between it, or flush with it.
            let decides = between || place == 1;
            for id in pair.pieces(spec.front_layers) {
                let mut size = sizes.get(id, axis.into());
                if axis == Axis::Height && matches!(id, PartId::Front(_)) {
                    size = size + sizes::front_cut_back(spec);
                }
                let inside = if between { size } else { size - walls };
                implied.push((id, decides, inside));
            }
        }
        let deciding = || implied.iter().filter(|piece| piece.1).map(|piece| piece.2);
        let missing = ModelError::Missing { what: "a panel" };
        let shortest = deciding().min().ok_or(missing.clone())?;
        let longest = deciding().max().ok_or(missing)?;
        if shortest <= ExactLength::ZERO {
            return Err(ModelError::Impossible {
                what: "the box has no inside: it is smaller than its boards",
            });
        }
        if shortest != longest {
            self.misfits.push(Fact::Unequal {
                axis,
                inside: shortest,
                difference: longest - shortest,
            });
        }
        for &(part, decides, inside) in &implied {
            if !decides && inside != shortest {
                let over = inside - shortest;
                self.misfits.push(Fact::Cover {
                    part,
                    dimension: axis.into(),
                    over,
                });
            }
        }
        Ok(shortest)
    }
}
