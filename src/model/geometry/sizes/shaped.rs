//! Sizes of a shaped box: the boards between the sides from long point to long point, the sides as large as the block
//! around what those come to.
use super::Sizes;
use crate::model::error::ModelError;
use crate::model::geometry::axes::Axis;
use crate::model::geometry::bent::shaped as bent;
use crate::model::geometry::parts::{Dimension, PartId};
use crate::model::geometry::profile::{Inside, Profile, Shape};
use crate::model::geometry::spec::BoxSpec;
use crate::model::geometry::strips::leaning;
use crate::units::ExactLength;

impl Sizes {
    /// The sizes rounded to a step, as [`Sizes::planned`] says: what stands between goes down, what covers to the nearest.
    ///
    /// The sides are cut to a template, so their depth is no size of the tape: it is where bottom and top, as cut, bring the
    /// back.
    #[inline(never)] // only shaped boxes need it: it may come after the first result
    pub(super) fn shaped(spec: &BoxSpec, profile: &Profile, step: ExactLength) -> Result<Self, ModelError> {
        profile.check(spec)?;
        let shape = Shape::asked(spec, profile, step)?;
        let section = shape.section()?;
        let outside = shape.outside();
        let mut sizes = Self(Vec::with_capacity(40));
        // Their depth follows below; their height says how high the box is.
        for side in [PartId::Left, PartId::Right] {
            sizes.add(side, Axis::Height, outside.height);
        }
        let between = outside.width - spec.boards.shell.thickness * 2;
        for id in shape.names() {
            let layers = if id == PartId::Front(0) { spec.front_layers } else { 1 };
            for layer in 0..layers {
                let id = if layer > 0 { PartId::Front(layer) } else { id };
                let long = shape.length(&section, id)?;
                let long =
                    if profile.is_cover(id) { long.rounded_to(step) } else { long.rounded_down_to(step) };
                sizes.add(id, Axis::Width, between);
                sizes.add(id, along(id), long);
            }
        }
        sizes.all_positive()?;
        let shape = Shape::asked(spec, profile, ExactLength::ZERO)?.as_cut(&sizes)?;
        for side in [PartId::Left, PartId::Right] {
            sizes.add(side, Axis::Depth, shape.outside().depth);
        }
        let inside = Inside::of(&shape)?;
        let asked = spec;
        let spec = &inside.fitted(spec);
        let run = bent::of(asked).and_then(|run| run.cut(&inside.polygon, step));
        match &run {
            Some(run) => {
                for (id, along, size) in run.sizes() {
                    sizes.add(id, Axis::Width, inside.size.width.rounded_down_to(step));
                    sizes.add(id, along, size);
                }
            }
            None => sizes.add_port(spec, inside.size, step),
        }
        if let Some(divider) = spec.divider() {
            sizes.add_divider(divider, spec.front_thickness(), inside.size, step);
        }
        for (kind, brace) in (0u8..).zip(&spec.braces) {
            let [low, high] = inside.brace(spec, run.as_ref()).bounds();
            for number in 0..brace.count {
                for (axis, place) in [(Axis::Depth, 0), (Axis::Height, 1)] {
                    let size = ExactLength::from_millimetres(high[place] - low[place]);
                    sizes.add(PartId::Brace(kind, number), axis, size.rounded_down_to(step));
                }
            }
        }
        sizes.add_strips(spec, inside.size, step)?;
        sizes.add_leaning_strips(asked, &inside, step);
        sizes.all_positive()?;
        Ok(sizes.sorted())
    }
}

impl Sizes {
    /// Strips where boards don't meet squarely: from long point to long point.
    fn add_leaning_strips(&mut self, spec: &BoxSpec, inside: &Inside, step: ExactLength) {
        let Some(wanted) = &spec.strips else { return };
        let face = wanted.wide_face(spec.boards.strips.thickness).rounded_to(step);
        for &edge in wanted.edges.iter().filter(|edge| !inside.is_square(**edge)) {
            let Some(strip) = leaning::place(spec, inside, edge, face) else { continue };
            let long = strip.long();
            let length = wanted.length.map_or(long, |length| length.min(long));
            let id = PartId::Strip(edge);
            self.add(id, edge.along, length.rounded_down_to(step));
            self.add(id, Dimension::Face, face);
        }
    }
}

/// The size of a board that lies along the side: that of a leaning board along its slope is its height.
fn along(id: PartId) -> Dimension {
    match id {
        PartId::Bottom | PartId::Top | PartId::Tread => Dimension::Depth,
        _ => Dimension::Height,
    }
}
