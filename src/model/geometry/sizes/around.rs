//! Panels of a box whose sides, top and bottom cover one another in a ring.
use super::{Sizes, cover, front_cut_back};
use crate::model::geometry::axes::Axis;
use crate::model::geometry::parts::PartId;
use crate::model::geometry::shell::Shell;
use crate::model::geometry::spec::{BoxSpec, Pair};
use crate::units::ExactLength;

impl Sizes {
    /// Each of the four is one thickness short of the outside, so that a square section takes one setting of the fence
    /// (geometry.md section 1). Front and back lie over them or slip in between, and then go down to a step once more.
    #[inline(never)] // only these boxes need it: it may come after the first result
    pub(super) fn add_around(&mut self, spec: &BoxSpec, step: ExactLength) {
        let thickness = spec.boards.shell.thickness;
        let over = spec.precedence.covers(Pair::FrontBack, Pair::Sides);
        let (depth, walls) = (spec.outside.depth, Shell::walls(spec).depth);
        let depth = if over { depth - walls } else { depth };
        for pair in [Pair::Sides, Pair::TopBottom] {
            let across = if pair == Pair::Sides { Axis::Height } else { Axis::Width };
            for id in pair.pieces(spec.front_layers) {
                self.add(id, Axis::Depth, depth.rounded_down_to(step));
                self.add(id, across, (spec.outside.get(across) - thickness).rounded_down_to(step));
            }
        }
        for axis in Axis::Depth.others() {
            let asked = spec.outside.get(axis);
            let board = (asked - thickness).rounded_down_to(step);
            for id in Pair::FrontBack.pieces(spec.front_layers) {
                let cut = match (axis, id) {
                    (Axis::Height, PartId::Front(_)) => front_cut_back(spec),
                    _ => ExactLength::ZERO,
                };
                let size = if over {
                    cover(asked, board + thickness, step)
                } else {
                    (board - thickness - cut).rounded_down_to(step)
                };
                self.add(id, axis, size);
            }
        }
    }
}
