//! The port in the box: tubes, or a slot on the floor.
use super::{Assembly, BodyKind, PortAsCut, Role};
use crate::model::error::ModelError;
use crate::model::geometry::axes::{Axis, Dims, Point};
use crate::model::geometry::bent;
use crate::model::geometry::checks::Fact;
use crate::model::geometry::parts::{Dimension, PartId};
use crate::model::geometry::shell::shows;
use crate::model::geometry::sizes::{self, Sizes};
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::{BoxSpec, Port, SlotPort, SlotWidth};
use crate::units::ExactLength;

impl Assembly {
    #[inline(never)] // not every box has them: it may come after the first result
    pub(super) fn add_tubes(&mut self, spec: &BoxSpec, sizes: &Sizes) -> Result<(), ModelError> {
        let Port::Round(port) = &spec.port else {
            return Ok(());
        };
        let outer = port.diameter + port.wall * 2;
        let length = |number| sizes.get(PartId::PortTube(number), Dimension::Depth);
        let (shortest, longest) = (0..port.count)
            .fold((length(0), length(0)), |(low, high), n| (low.min(length(n)), high.max(length(n))));
        if shows(longest - shortest, spec) {
            self.misfits.push(Fact::UnequalPort { difference: longest - shortest });
        }
        let inside_length = (shortest - self.front_thickness).max(ExactLength::ZERO);
        let to_back = self.inside.depth - (longest - self.front_thickness);
        port_fits(to_back)?;
        let centres = self.layout.tubes.clone();
        for (number, centre) in (0u8..).zip(centres) {
            let mouth = Solid::cylinder(centre, Axis::Depth, self.front_thickness, outer);
            self.push(BodyKind::PortMouth(number), Role::Cut, mouth);
            let inner = (length(number) - self.front_thickness).max(ExactLength::ZERO);
            let base = centre.with(Axis::Depth, self.front_thickness);
            let air = Solid::cylinder(base, Axis::Depth, inner, port.diameter);
            self.push(BodyKind::PortAir(number), Role::Displaced, air);
            let tube = Solid::Tube { base, along: Axis::Depth, length: inner, outer, inner: port.diameter };
            self.push(BodyKind::PortTube(number), Role::Displaced, tube);
        }
        self.port = Some(PortAsCut {
            count: port.count,
            height: port.diameter,
            width: port.diameter,
            round: true,
            length: inside_length + self.front_thickness,
            inside_length,
            to_back,
            bends: 0,
        });
        Ok(())
    }

    #[inline(never)] // few boxes have one: it may come after the first result
    pub(super) fn add_slot(
        &mut self,
        spec: &BoxSpec,
        slot: &SlotPort,
        sizes: &Sizes,
    ) -> Result<(), ModelError> {
        let laid = bent::of(spec);
        if let Some(bent) = laid.filter(|bent| bent.bends > 0) {
            return self.add_bent(spec, slot, bent, sizes);
        }
        let thickness = spec.boards.inner.thickness;
        let inside_length = sizes.get(PartId::PortRoof, Dimension::Depth);
        // Behind a divider it has the room there.
        let (before, room) = (spec.before_cones(), self.inside.width - spec.before_cones());
        let (build, walls) = sizes::slot_build(slot.width, thickness, room);
        let opening = match slot.width {
            SlotWidth::Full => room,
            SlotWidth::AgainstSide(width) | SlotWidth::FreeStanding(width) => width,
        };
        let cut_height = (0..walls).map(|n| sizes.get(PartId::PortWall(n), Dimension::Height)).min();
        // A port that ends with the front has no walls behind it.
        let height = cut_height.filter(|&h| h > ExactLength::ZERO).unwrap_or(slot.height);
        let mut to_back = self.inside.depth - inside_length;
        match laid {
            Some(bent) => to_back = to_back.min(bent.gap()),
            None if to_back < ExactLength::ZERO => {
                return Err(ModelError::Impossible { what: bent::too_long(spec, slot) });
            }
            None => {}
        }
        if build > room || height + thickness >= self.inside.height {
            return Err(ModelError::Impossible { what: "the slot port is wider or higher than the inside" });
        }
        let left = match slot.width {
            SlotWidth::FreeStanding(_) => {
                let spare = (room - build).eighth_micrometres();
                ExactLength::from_eighth_micrometres(spare / 2)
            }
            _ => before,
        };
        let floor = Point { width: self.inside_min.width + left, ..self.inside_min };
        let air_left = match slot.width {
            SlotWidth::FreeStanding(_) => floor.width + thickness,
            _ => floor.width,
        };
        let block = |width_at, up: ExactLength, width, high| Solid::Block {
            min: Point { width: width_at, height: floor.height + up, depth: floor.depth },
            size: Dims { width, height: high, depth: inside_length },
        };
        if sizes::front_cut_back(spec) == ExactLength::ZERO {
            let mouth = Solid::Block {
                min: Point { width: air_left, height: floor.height, depth: ExactLength::ZERO },
                size: Dims { width: opening, height, depth: self.front_thickness },
            };
            self.push(BodyKind::PortMouth(0), Role::Cut, mouth);
        }
        if inside_length > ExactLength::ZERO {
            let air = block(air_left, ExactLength::ZERO, opening, height);
            self.push(BodyKind::PortAir(0), Role::Displaced, air);
            let roof = block(floor.width, height, build, thickness);
            self.push(BodyKind::Board(PartId::PortRoof), Role::Displaced, roof);
            for number in 0..walls {
                let at = if number + 1 == walls { air_left + opening } else { floor.width };
                let wall = block(at, ExactLength::ZERO, thickness, height);
                self.push(BodyKind::Board(PartId::PortWall(number)), Role::Displaced, wall);
            }
            let over = sizes.get(PartId::PortRoof, Dimension::Width) - build;
            if over > ExactLength::ZERO && shows(over, spec) {
                let (part, dimension) = (PartId::PortRoof, Dimension::Width);
                self.misfits.push(Fact::Cover { part, dimension, over });
            }
        }
        self.port = Some(PortAsCut {
            count: 1,
            height,
            width: opening,
            round: false,
            length: inside_length + self.front_thickness,
            inside_length,
            to_back,
            bends: 0,
        });
        Ok(())
    }
}

pub(super) fn port_fits(to_back: ExactLength) -> Result<(), ModelError> {
    if to_back < ExactLength::ZERO {
        return Err(ModelError::Impossible { what: "the port is longer than the box is deep" });
    }
    Ok(())
}
