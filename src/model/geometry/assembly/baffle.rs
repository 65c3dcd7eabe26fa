//! A front by itself: nothing but its layers and the drivers' openings.
use super::{Assembly, BodyKind, Role};
use crate::model::geometry::axes::{Axis, Dims, Point};
use crate::model::geometry::layout;
use crate::model::geometry::parts::PartId;
use crate::model::geometry::sizes::Sizes;
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::BoxSpec;

impl Assembly {
    /// The layers, one behind the other; the outermost decides the outside. There is no inside.
    #[inline(never)]
    pub(super) fn of_baffle(spec: &BoxSpec, sizes: &Sizes) -> Self {
        let size = |layer: u8| {
            let cut = |axis: Axis| sizes.get(PartId::Front(layer), axis.into());
            Dims {
                width: cut(Axis::Width),
                height: cut(Axis::Height),
                depth: spec.boards.of(PartId::Front(layer)).thickness,
            }
        };
        let outside = Dims { depth: spec.front_thickness(), ..size(0) };
        let mut assembly = Self {
            outside,
            inside: Dims::default(),
            inside_min: Point { depth: spec.front_thickness(), ..Point::default() },
            front_thickness: spec.front_thickness(),
            bodies: Vec::new(),
            layout: layout::arrange(spec, outside),
            port: None,
            front_port: None,
            hollow: None,
            strips: spec.boards.strips.thickness,
            loose: None,
            misfits: Vec::new(),
            over: Dims::default(),
        };
        for layer in 0..spec.front_layers {
            let min = Point { depth: spec.layer_start(layer), ..Point::default() };
            let board = BodyKind::Board(PartId::Front(layer));
            assembly.push(board, Role::Shell, Solid::Block { min, size: size(layer) });
        }
        assembly.add_drivers(spec);
        // Behind it is the open: nothing to keep clear of.
        assembly.bodies.retain(|body| !matches!(body.kind, BodyKind::Driver(_)));
        assembly
    }
}
