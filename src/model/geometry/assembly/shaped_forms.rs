//! What goes into the front of a shaped box and across it: drivers, ports, passive radiators, a divider.
use super::{Assembly, Body, BodyKind, FRONT_TUBES, PortAsCut, Role};
use crate::model::error::ModelError;
use crate::model::geometry::axes::Point;
use crate::model::geometry::bent;
use crate::model::geometry::parts::{Dimension, PartId};
use crate::model::geometry::polygon::Polygon;
use crate::model::geometry::profile::Inside;
use crate::model::geometry::sizes::Sizes;
use crate::model::geometry::solids::{Bounds, Solid};
use crate::model::geometry::spec::{BoxSpec, Divider, Form, Port, RadiatorPlace};
use crate::units::ExactLength;

/// Finer than this a board is no smaller than its section, mm: a length is counted in 1/8 µm.
const SAME: f64 = 1e-3;

/// A board that fills a section, cut to its depth and height: what the tape takes off is missing at the back and the top.
pub(super) fn cut_to(section: &Polygon, size: [ExactLength; 2]) -> Polygon {
    let [low, high] = section.bounds();
    let mut cut = *section;
    for axis in [0, 1] {
        let end = low[axis] + size[axis].millimetres();
        if end < high[axis] - SAME {
            cut = cut.clipped(axis, end, false);
        }
    }
    cut
}

/// Shares of the height at which a tube without a place is tried.
const TRIED: [f64; 4] = [0.0, 0.25, 0.5, 0.75];

impl Assembly {
    /// What lies behind the front and leans as it does; a slot that may bend comes by itself.
    #[inline(never)] // only shaped boxes need it: it may come after the first result
    pub(super) fn add_to_front(
        &mut self,
        spec: &BoxSpec,
        sizes: &Sizes,
        has_run: bool,
    ) -> Result<(), ModelError> {
        match spec.form {
            Form::Divided(divider) => {
                self.room_behind(spec, divider)?;
                self.add_front_port(spec, divider, sizes)?;
            }
            _ => self.add_drivers(spec),
        }
        match spec.form {
            Form::Radiators(radiators) if radiators.place == RadiatorPlace::Front => {
                self.add_radiators(radiators);
            }
            _ => {}
        }
        match &spec.port {
            Port::Round(_) if !spec.port_is_inner() => self.add_tubes(spec, sizes),
            Port::Slot(slot) if !has_run => self.add_slot(spec, slot, sizes),
            _ => Ok(()),
        }
    }

    /// What lies across the box: radiators in its sides, or the divider with what goes through it.
    #[inline(never)] // only shaped boxes need it: it may come after the first result
    pub(super) fn add_across(
        &mut self,
        spec: &BoxSpec,
        sizes: &Sizes,
        inside: &Inside,
    ) -> Result<(), ModelError> {
        match spec.form {
            Form::Radiators(radiators) if radiators.place == RadiatorPlace::Sides => {
                self.add_radiators(radiators);
                Ok(())
            }
            Form::Divided(divider) => self.add_shaped_divider(spec, divider, sizes, inside),
            _ => Ok(()),
        }
    }

    /// The divider fills the section like a brace.
    fn add_shaped_divider(
        &mut self,
        spec: &BoxSpec,
        divider: Divider,
        sizes: &Sizes,
        inside: &Inside,
    ) -> Result<(), ModelError> {
        let thickness = spec.boards.inner.thickness;
        let from = inside.min.width + divider.room;
        let size = [Dimension::Depth, Dimension::Height].map(|size| sizes.get(PartId::Divider, size));
        let section = cut_to(&inside.polygon, size);
        let solid = Solid::Prism { section, from, width: thickness, opening: None };
        self.push(BodyKind::Board(PartId::Divider), Role::Shell, solid);
        self.divider_misfits(spec, sizes);
        self.add_drivers_sideways(spec, from);
        match &spec.port {
            Port::Round(port) if divider.inward => self.add_inner_tubes(spec, port, sizes),
            _ => Ok(()),
        }
    }

    /// Measures how far each port through the front ends before the back.
    #[inline(never)] // only shaped boxes need it: it may come after the first result
    pub(super) fn ports_to_back(&mut self, spec: &BoxSpec) -> Result<(), ModelError> {
        if !spec.port_is_inner() {
            self.port = self.port.map(|port| self.to_back(spec, port, 0)).transpose()?;
        }
        self.front_port = self.front_port.map(|port| self.to_back(spec, port, FRONT_TUBES)).transpose()?;
        Ok(())
    }

    /// The port whose tubes count from `first`, with what is free behind its upper and its lower edge.
    fn to_back(&self, spec: &BoxSpec, mut port: PortAsCut, first: u8) -> Result<PortAsCut, ModelError> {
        let own = |number: u8| (number >= FRONT_TUBES) == (first >= FRONT_TUBES);
        let is_own = |body: &&Body| match body.kind {
            BodyKind::PortTube(number) => port.round && own(number),
            BodyKind::PortAir(number) => !port.round && number == first,
            _ => false,
        };
        // The edge of a slot on the floor lies in the floor.
        let above = if port.round { 0.0 } else { 0.01 };
        let behind = |body: &Body, up: f64| {
            let Bounds { min, max } = body.solid.bounds();
            let edges = [min[2] + above, max[2]].map(|at| self.free_behind([min[0], at + up], body.turn));
            edges.into_iter().flatten().reduce(f64::min)
        };
        let places = if first < FRONT_TUBES { &self.layout.tubes } else { &self.layout.others };
        let unplaced = port.round && places.iter().all(|at| *at == Point::default());
        let high = self.outside.height.millimetres();
        let free = self.bodies.iter().filter(is_own).filter_map(|body| match unplaced {
            false => behind(body, 0.0),
            // Not looked for yet: where there is most.
            true => TRIED.into_iter().filter_map(|share| behind(body, share * high)).reduce(f64::max),
        });
        if let Some(free) = free.reduce(f64::min) {
            port.to_back = ExactLength::from_millimetres(free) - port.inside_length;
        }
        if port.to_back < ExactLength::ZERO {
            let what = match &spec.port {
                Port::Slot(slot) if !port.round && first < FRONT_TUBES => bent::too_long(spec, slot),
                _ => "the port is longer than the box is deep behind it",
            };
            return Err(ModelError::Impossible { what });
        }
        Ok(port)
    }
}
