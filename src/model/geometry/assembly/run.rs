//! A slot of a shaped box that may bend, put together from its boards as cut; and what it leaves of the section.
use super::{Assembly, Body, BodyKind, Role};
use crate::model::error::ModelError;
use crate::model::geometry::axes::{Dims, Point};
use crate::model::geometry::bent::{self, shaped::Run};
use crate::model::geometry::inscribed::largest_circle;
use crate::model::geometry::parts::{Dimension, PartId};
use crate::model::geometry::plane::At;
use crate::model::geometry::polygon::{Polygon, Turn};
use crate::model::geometry::sizes::Sizes;
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::{BoxSpec, Port};
use crate::units::ExactLength;

impl Body {
    /// Corners, in depth and height, of what lies from side to side, where it stands.
    #[must_use]
    pub fn profile(&self) -> Vec<At> {
        let place = |at: &At| self.turn.map_or(*at, |turn| turn.point(*at));
        match &self.solid {
            Solid::Prism { section, .. } => section.corners().iter().map(place).collect(),
            solid => {
                let bounds = solid.bounds();
                let [low, high] = [bounds.min, bounds.max].map(|at| [at[0], at[2]]);
                [low, [high[0], low[1]], high, [low[0], high[1]]].iter().map(place).collect()
            }
        }
    }
}

impl Assembly {
    /// A slot from its boards as cut; how front and back are turned.
    #[inline(never)] // few boxes have one: it may come after the first result
    pub(super) fn add_run(
        &mut self,
        spec: &BoxSpec,
        asked: &Run,
        run: &Run,
        sizes: &Sizes,
        [front, back]: [Option<Turn>; 2],
    ) -> Result<(), ModelError> {
        let Port::Slot(slot) = &spec.port else { return Ok(()) };
        let h = slot.height;
        run.check(self.inside.height.millimetres())?;
        let to_back = run.free(asked);
        if to_back < -1e-4 && run.is_last(slot) {
            return Err(ModelError::Impossible { what: bent::too_long(spec, slot) });
        }
        let first = self.bodies.len();
        let mouth =
            front_mouth(run, front, [self.inside_min.width, self.inside.width], self.front_thickness, h);
        self.push(BodyKind::PortMouth(0), Role::Cut, mouth);
        self.turn_from(first, front);
        for (number, leg) in (0u8..).zip(run.air()) {
            self.push(BodyKind::PortAir(number), Role::Displaced, self.filling(leg.corners()));
        }
        for (id, corners) in run.wood() {
            let turn = back.filter(|_| id == PartId::PortRiser);
            let upright = corners.map(|at| turn.map_or(at, |turn| turn.back().point(at)));
            let at = self.bodies.len();
            self.push(BodyKind::Board(id), Role::Displaced, self.filling(&upright));
            self.turn_from(at, turn);
            self.cover(spec, id, Dimension::Width, sizes.get(id, Dimension::Width) - self.inside.width);
        }
        // Boards that were cut too long narrow the bends.
        let narrow = |clear: f64| h - ExactLength::from_millimetres(clear);
        if run.bends > 0 {
            self.cover(spec, PartId::PortRoof, Dimension::Depth, narrow(run.gap()));
        }
        if run.bends > 1 {
            self.cover(spec, PartId::PortRiser, Dimension::Height, narrow(run.over()));
        }
        let inside_length = ExactLength::from_millimetres(run.length());
        self.full_slot(h, inside_length, ExactLength::from_millimetres(to_back), run.bends);
        Ok(())
    }

    /// What fills the width of the inside over a section.
    fn filling(&self, corners: &[At]) -> Solid {
        let (from, width) = (self.inside_min.width, self.inside.width);
        let section = Polygon::new(corners);
        if !section.is_upright_rectangle() {
            return Solid::Prism { section, from, width, opening: None };
        }
        let [low, high] = section.bounds().map(|at| at.map(ExactLength::from_millimetres));
        let min = Point { depth: low[0], width: from, height: low[1] };
        Solid::Block { min, size: Dims { depth: high[0] - low[0], width, height: high[1] - low[1] } }
    }

    /// The upright board of a slot that bends.
    pub(in crate::model::geometry) fn upright_of_slot(&self) -> Option<&Body> {
        self.bodies.iter().find(|body| body.kind == BodyKind::Board(PartId::PortRiser))
    }

    /// What a slot leaves of the section of a shaped box before it and above its roof.
    #[inline(never)] // only shaped boxes need it: it may come after the first result
    pub(in crate::model::geometry) fn before_run(&self) -> Option<Polygon> {
        let Some(Solid::Prism { section, .. }) = &self.hollow else { return None };
        let mut left = *section;
        for body in &self.bodies {
            let bounds = body.solid.bounds();
            match body.kind {
                BodyKind::Board(PartId::PortRoof) => left = left.clipped(1, bounds.max[2], true),
                BodyKind::Board(PartId::PortCeiling) => left = left.clipped(1, bounds.min[2], false),
                BodyKind::Board(PartId::PortRiser) => {
                    let face = [bounds.min[2], bounds.max[2]].map(|up| [bounds.min[0], up]);
                    left = left.left_of(face.map(|at| body.turn.map_or(at, |turn| turn.point(at))));
                }
                _ => {}
            }
        }
        Some(left)
    }

    /// The place in a side where a slot leaves most room.
    pub(in crate::model::geometry) fn roomiest(&self) -> Option<Point> {
        let (middle, _) = largest_circle(self.before_run()?.corners())?;
        let [depth, height] = middle.map(|at| ExactLength::from_millimetres(at.round()));
        Some(Point { depth, width: ExactLength::ZERO, height })
    }
}

/// The mouth, square through the front, from the floor up to the roof at the front's inner face: in the place it has before
/// the front is turned.
fn front_mouth(
    run: &Run,
    front: Option<Turn>,
    [from, width]: [ExactLength; 2],
    thick: ExactLength,
    height: ExactLength,
) -> Solid {
    let [floor, roof] = run.mouth();
    let up = |at: At| ExactLength::from_millimetres(front.map_or(at, |turn| turn.back().point(at))[1]);
    let min = Point { depth: ExactLength::ZERO, width: from, height: up(floor) };
    let high = if front.is_none() { height } else { up(roof) - up(floor) };
    Solid::Block { min, size: Dims { depth: thick, width, height: high } }
}
