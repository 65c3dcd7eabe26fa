//! Passive radiators in the front or in the sides.
use super::{Assembly, BodyKind, Role};
use crate::model::geometry::axes::{Axis, Point};
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::{RadiatorCutout, RadiatorPlace};
use crate::units::ExactLength;

impl Assembly {
    /// Each radiator's hole, and what stands behind it: a cylinder as wide as the hole and as deep as it says.
    #[inline(never)]
    pub(super) fn add_radiators(&mut self, radiators: RadiatorCutout) {
        let (along, board) = match radiators.place {
            RadiatorPlace::Front => (Axis::Depth, self.front_thickness),
            // The inside begins behind the left side.
            RadiatorPlace::Sides => (Axis::Width, self.inside_min.width),
        };
        for (number, at) in (0u8..).zip(self.layout.others.clone()) {
            let hole = Solid::cylinder(at, along, board, radiators.cutout);
            self.push(BodyKind::RadiatorHole(number), Role::GainedAir, hole);
            let reach = radiators.depth - board;
            if reach > ExactLength::ZERO {
                // From the right side it reaches towards the left.
                let from_right = along == Axis::Width && at.width > ExactLength::ZERO;
                let start = if from_right { at.get(along) - reach } else { at.get(along) + board };
                let base: Point = at.with(along, start);
                let hull = Solid::cylinder(base, along, reach, radiators.cutout);
                self.push(BodyKind::Radiator(number), Role::Hull, hull);
            }
        }
    }
}
