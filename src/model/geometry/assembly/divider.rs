//! Two rooms side by side: the divider with the drivers in it, the port of the room before them, and a port between.
use super::port::port_fits;
use super::{Assembly, BodyKind, FRONT_TUBES, PortAsCut, Role};
use crate::model::error::ModelError;
use crate::model::geometry::axes::{Axis, Dims, Point};
use crate::model::geometry::checks::Fact;
use crate::model::geometry::edges::LEFT;
use crate::model::geometry::parts::{Dimension, PartId};
use crate::model::geometry::shell::shows;
use crate::model::geometry::sizes::Sizes;
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::{BoxSpec, ChamberPort, ChamberSlot, ChamberTubes, Divider, RoundPort};
use crate::units::ExactLength;

/// Tubes that go through one board.
struct Row<'a> {
    tubes: ChamberTubes,
    lengths: &'a [ExactLength],
    centres: &'a [Point],
    along: Axis,
    /// Thickness of the board they go through.
    board: ExactLength,
    /// Number of the first.
    first: u8,
    /// Inside size from that board to the one opposite.
    room: ExactLength,
}

impl Assembly {
    /// The divider, the drivers in it, and the port of the room before them.
    ///
    /// Flanges lie on the divider's left face, so holes and baskets belong to the room behind the cones.
    #[inline(never)]
    pub(super) fn add_divider(
        &mut self,
        spec: &BoxSpec,
        divider: Divider,
        sizes: &Sizes,
    ) -> Result<(), ModelError> {
        let thickness = spec.boards.inner.thickness;
        self.room_behind(spec, divider)?;
        let min = Point { width: self.inside_min.width + divider.room, ..self.inside_min };
        self.divider_misfits(spec, sizes);
        let cut = |axis: Axis| sizes.get(PartId::Divider, axis.into()).min(self.inside.get(axis));
        let size = Dims { width: thickness, height: cut(Axis::Height), depth: cut(Axis::Depth) };
        self.push(BodyKind::Board(PartId::Divider), Role::Shell, Solid::Block { min, size });
        self.add_drivers_sideways(spec, min.width);
        self.add_front_port(spec, divider, sizes)
    }

    /// Whether the divider leaves room behind it.
    pub(super) fn room_behind(&self, spec: &BoxSpec, divider: Divider) -> Result<(), ModelError> {
        if divider.room + spec.boards.inner.thickness >= self.inside.width {
            return Err(ModelError::Impossible { what: "the divider leaves no room behind the drivers" });
        }
        Ok(())
    }

    /// A divider cut larger than the inside.
    pub(super) fn divider_misfits(&mut self, spec: &BoxSpec, sizes: &Sizes) {
        for axis in Axis::Width.others() {
            let over = sizes.get(PartId::Divider, axis.into()) - self.inside.get(axis);
            if over > ExactLength::ZERO && shows(over, spec) {
                self.misfits.push(Fact::Cover { part: PartId::Divider, dimension: axis.into(), over });
            }
        }
    }

    /// The port of the room before the drivers, through the front.
    pub(super) fn add_front_port(
        &mut self,
        spec: &BoxSpec,
        divider: Divider,
        sizes: &Sizes,
    ) -> Result<(), ModelError> {
        let port = match divider.port {
            ChamberPort::Tubes(tubes) => self.add_front_tubes(spec, tubes, sizes)?,
            ChamberPort::Slot(slot) => self.add_front_slot(spec, slot, divider.room, sizes)?,
        };
        self.front_port = Some(port);
        Ok(())
    }

    fn add_front_tubes(
        &mut self,
        spec: &BoxSpec,
        tubes: ChamberTubes,
        sizes: &Sizes,
    ) -> Result<PortAsCut, ModelError> {
        let lengths: Vec<ExactLength> =
            (0..tubes.count).map(|number| sizes.get(PartId::FrontTube(number), Dimension::Depth)).collect();
        let centres = self.layout.others.clone();
        self.add_row(
            spec,
            &Row {
                tubes,
                lengths: &lengths,
                centres: &centres,
                along: Axis::Depth,
                board: self.front_thickness,
                first: FRONT_TUBES,
                room: self.inside.depth,
            },
        )
    }

    /// A slot on the floor of the room before the drivers: from the left side to the divider, one board over it.
    fn add_front_slot(
        &mut self,
        spec: &BoxSpec,
        slot: ChamberSlot,
        room: ExactLength,
        sizes: &Sizes,
    ) -> Result<PortAsCut, ModelError> {
        let (thickness, height) = (spec.boards.inner.thickness, slot.height);
        let inside_length = sizes.get(PartId::FrontRoof, Dimension::Depth);
        let to_back = self.inside.depth - inside_length;
        if to_back < ExactLength::ZERO {
            return Err(ModelError::Impossible {
                what: "the slot before the drivers is longer than the box is deep: make it lower",
            });
        }
        if height + thickness >= self.inside.height {
            return Err(ModelError::Impossible { what: "the slot port is wider or higher than the inside" });
        }
        let low = self.inside_min;
        let block = |depth, up, high, long| Solid::Block {
            min: Point { depth, height: low.height + up, width: low.width },
            size: Dims { width: room, height: high, depth: long },
        };
        let mouth = block(ExactLength::ZERO, ExactLength::ZERO, height, self.front_thickness);
        self.push(BodyKind::PortMouth(FRONT_TUBES), Role::Cut, mouth);
        if inside_length > ExactLength::ZERO {
            let air = block(low.depth, ExactLength::ZERO, height, inside_length);
            self.push(BodyKind::PortAir(FRONT_TUBES), Role::Displaced, air);
            let roof = block(low.depth, height, thickness, inside_length);
            self.push(BodyKind::Board(PartId::FrontRoof), Role::Displaced, roof);
            let over = sizes.get(PartId::FrontRoof, Dimension::Width) - room;
            if over > ExactLength::ZERO && shows(over, spec) {
                let (part, dimension) = (PartId::FrontRoof, Dimension::Width);
                self.misfits.push(Fact::Cover { part, dimension, over });
            }
        }
        Ok(PortAsCut {
            count: 1,
            height,
            width: room,
            round: false,
            length: inside_length + self.front_thickness,
            inside_length,
            to_back,
            bends: 0,
        })
    }

    /// Tubes from the room behind the drivers through the divider.
    #[inline(never)]
    pub(super) fn add_inner_tubes(
        &mut self,
        spec: &BoxSpec,
        port: &RoundPort,
        sizes: &Sizes,
    ) -> Result<(), ModelError> {
        let lengths: Vec<ExactLength> =
            (0..port.count).map(|n| sizes.get(PartId::PortTube(n), Dimension::Depth)).collect();
        let centres = self.layout.tubes.clone();
        let tubes =
            ChamberTubes { count: port.count, diameter: port.diameter, wall: port.wall, length: port.length };
        let cut = self.add_row(
            spec,
            &Row {
                tubes,
                lengths: &lengths,
                centres: &centres,
                along: Axis::Width,
                board: spec.boards.inner.thickness,
                first: 0,
                room: self.inside.width - spec.before_cones(),
            },
        )?;
        self.port = Some(cut);
        Ok(())
    }

    pub(super) fn add_drivers_sideways(&mut self, spec: &BoxSpec, face: ExactLength) {
        let Some(driver) = &spec.driver else { return };
        let thickness = spec.boards.inner.thickness;
        for (number, centre) in (0u8..).zip(self.layout.drivers.clone()) {
            self.push_driver(driver, number, LEFT, centre.with(Axis::Width, face), thickness);
        }
    }

    fn add_row(&mut self, spec: &BoxSpec, row: &Row<'_>) -> Result<PortAsCut, ModelError> {
        let longest = row.lengths.iter().copied().max().unwrap_or_default();
        let shortest = row.lengths.iter().copied().min().unwrap_or_default();
        if shows(longest - shortest, spec) {
            self.misfits.push(Fact::UnequalPort { difference: longest - shortest });
        }
        let inner = |length: ExactLength| (length - row.board).max(ExactLength::ZERO);
        let to_back = row.room - inner(longest);
        port_fits(to_back)?;
        let (diameter, outer) = (row.tubes.diameter, row.tubes.outer());
        for (number, (&centre, &length)) in (row.first..).zip(row.centres.iter().zip(row.lengths)) {
            let mouth = Solid::cylinder(centre, row.along, row.board, outer);
            self.push(BodyKind::PortMouth(number), Role::Cut, mouth);
            let base = centre.with(row.along, centre.get(row.along) + row.board);
            let air = Solid::cylinder(base, row.along, inner(length), diameter);
            self.push(BodyKind::PortAir(number), Role::Displaced, air);
            let tube = Solid::Tube { base, along: row.along, length: inner(length), outer, inner: diameter };
            self.push(BodyKind::PortTube(number), Role::Displaced, tube);
        }
        Ok(PortAsCut {
            count: row.tubes.count,
            height: diameter,
            width: diameter,
            round: true,
            length: inner(shortest) + row.board,
            inside_length: inner(shortest),
            to_back,
            bends: 0,
        })
    }
}
