//! Sides, top and bottom that cover one another in a ring: left over top, top over right, right over bottom, bottom over
//! left.
use super::{Assembly, BodyKind, Role};
use crate::model::geometry::axes::{Axis, Dims, Point};
use crate::model::geometry::parts::PartId;
use crate::model::geometry::sizes::{self, Sizes};
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::{BoxSpec, Pair};

impl Assembly {
    #[inline(never)] // only these boxes need it: it may come after the first result
    pub(super) fn add_shell_around(&mut self, spec: &BoxSpec, sizes: &Sizes) {
        let over = spec.precedence.covers(Pair::FrontBack, Pair::Sides);
        for pair in spec.precedence.order() {
            let faces = pair.axis();
            for id in pair.pieces(spec.front_layers) {
                let mut min = Point::default();
                let mut size = Dims::default().with(faces, spec.boards.of(id).thickness);
                for axis in faces.others() {
                    // Left and top begin behind a neighbour and end with the box, right and bottom the other way round.
                    let behind = match id {
                        _ if pair == Pair::FrontBack => !over,
                        _ if axis == Axis::Depth => over,
                        _ => matches!(id, PartId::Left | PartId::Top),
                    };
                    if behind {
                        min = min.with(axis, self.inside_min.get(axis));
                    }
                    size = size.with(axis, sizes.get(id, axis.into()));
                }
                let far = self.inside_min.get(faces) + self.inside.get(faces);
                match id {
                    PartId::Front(layer) => {
                        min.depth = spec.layer_start(layer);
                        min.height = min.height + sizes::front_cut_back(spec);
                    }
                    PartId::Back | PartId::Right | PartId::Top => min = min.with(faces, far),
                    _ => {}
                }
                self.push(BodyKind::Board(id), Role::Shell, Solid::Block { min, size });
            }
        }
    }
}
