//! Everything else in the box: drivers, braces, corner strips, terminals.
use super::{Assembly, BodyKind, Role, elsewhere};
use crate::model::error::ModelError;
use crate::model::geometry::axes::{Axis, Dims, End, Point};
use crate::model::geometry::checks::Fact;
use crate::model::geometry::edges::{BACK, FRONT, Place, RIGHT};
use crate::model::geometry::parts::{Dimension, PartId};
use crate::model::geometry::shell::shows;
use crate::model::geometry::sizes::{self, Sizes};
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::{BoxSpec, HoleShape, StripVoids, TerminalHole, WindowBrace};
use crate::model::geometry::strips;
use crate::units::ExactLength;

impl Assembly {
    pub(super) fn add_drivers(&mut self, spec: &BoxSpec) {
        let Some(driver) = &spec.driver else { return };
        let recess = spec.recess_depth();
        let behind = self.front_thickness - recess;
        let centres = self.layout.drivers.clone();
        for (number, centre) in (0u8..).zip(centres) {
            if let Some(wanted) = driver.recess {
                let wide = driver.flange + wanted.clearance;
                let hole = Solid::cylinder(centre, Axis::Depth, recess, wide);
                self.push(BodyKind::Recess(number), Role::Cut, hole);
            }
            self.push_driver(driver, number, FRONT, centre.with(Axis::Depth, recess), behind);
        }
    }

    #[inline(never)] // few boxes have any: it may come after the first result
    pub(super) fn add_braces(&mut self, spec: &BoxSpec, sizes: &Sizes) -> Result<(), ModelError> {
        let thickness = spec.boards.inner.thickness;
        for (kind, brace) in (0u8..).zip(&spec.braces) {
            for number in 0..brace.count {
                let id = PartId::Brace(kind, number);
                // Braces parallel to a divider stand in the room behind the drivers.
                let before =
                    if brace.across == Axis::Width { spec.before_cones() } else { ExactLength::ZERO };
                let room = self.inside.get(brace.across) - before;
                let start = before + sizes::brace_start(room, thickness, brace.count, number);
                let mut min = self.inside_min.with(brace.across, self.inside_min.get(brace.across) + start);
                let mut size = Dims::default().with(brace.across, thickness);
                for axis in brace.across.others() {
                    size = size.with(axis, sizes.get(id, axis.into()));
                }
                // Whatever stands on a port's roof ends at the top.
                if brace.across != Axis::Height && self.slot_roof() > ExactLength::ZERO {
                    let lift = self.inside.height - size.height;
                    let roof = self.slot_roof();
                    if lift >= roof {
                        let on = if shows(lift - roof, spec) { roof } else { lift };
                        min.height = min.height + on;
                    }
                }
                let [across, up] = brace.across.others().map(|axis| size.get(axis));
                let too_many = thickness * i64::from(brace.count) >= room;
                let window = brace.window_in(spec.brace_rim, [across, up]);
                if window.across >= across || window.up >= up || too_many {
                    return Err(ModelError::Impossible {
                        what: "a brace has no room: its window is larger than it, or the braces fill the box",
                    });
                }
                let solid = Solid::Frame { min, size, through: brace.across, window };
                self.push(BodyKind::Board(id), Role::Displaced, solid);
            }
        }
        Ok(())
    }

    /// Height of a slot's roof above the floor; zero without one.
    pub(super) fn slot_roof(&self) -> ExactLength {
        self.bodies
            .iter()
            .find(|body| body.kind == BodyKind::Board(PartId::PortRoof))
            .map(|roof| ExactLength::from_millimetres(roof.solid.bounds().max[2]) - self.inside_min.height)
            .unwrap_or_default()
    }

    pub(super) fn add_strips(&mut self, spec: &BoxSpec, sizes: &Sizes) -> Result<(), ModelError> {
        let Some(wanted) = &spec.strips else {
            return Ok(());
        };
        for &edge in &wanted.edges {
            if strips::is_left_out(spec, edge) {
                continue;
            }
            let id = PartId::Strip(edge);
            let face = sizes.get(id, Dimension::Face);
            for axis in edge.along.others() {
                let legs = if strips::shares_wall(spec, edge, axis) { 2.0 } else { 1.0 };
                if strips::leg_mm(face) * legs > self.inside.get(axis).millimetres() {
                    return Err(ModelError::Impossible {
                        what: "the corner strips meet in the middle of a wall",
                    });
                }
            }
            let room = strips::room(spec, self.inside, edge);
            let length = sizes.get(id, edge.along.into());
            let over = length - room.length;
            if over > ExactLength::ZERO && shows(over, spec) {
                self.misfits.push(Fact::Cover { part: id, dimension: edge.along.into(), over });
            }
            let length = length.min(room.length);
            let spare = (room.length - length).eighth_micrometres();
            let start = room.start + ExactLength::from_eighth_micrometres(spare / 2);
            let corner = Point::of(|axis| {
                let low = self.inside_min.get(axis);
                match edge.end(axis) {
                    None => low + start,
                    Some(End::Low) => low,
                    Some(End::High) => low + self.inside.get(axis),
                }
            });
            let solid = Solid::CornerPrism { edge, start: corner, length, face };
            self.push(BodyKind::Strip(edge), Role::Displaced, solid);
            let narrow = face - spec.boards.strips.thickness * 2;
            if wanted.voids == StripVoids::Open && narrow > ExactLength::ZERO {
                let hollow = Solid::CornerPrism { edge, start: corner, length, face: narrow };
                self.push(BodyKind::StripVoid(edge), Role::Hollow, hollow);
            }
        }
        Ok(())
    }

    /// Middle of the back, or of what the divider and the strip beside it leave of it.
    pub(super) fn terminal_middle(&self, spec: &BoxSpec) -> ExactLength {
        // Where a board parts the air it goes into the left half.
        if spec.braces.iter().any(WindowBrace::is_solid) {
            return self.outside.width.halved().halved();
        }
        if spec.divider().is_none() {
            return self.beside_braces(spec);
        }
        let upright =
            spec.strips.as_ref().filter(|it| it.edges.iter().any(|edge| edge.along == Axis::Height));
        let leg = upright.map_or(0.0, |it| strips::leg_mm(it.wide_face(spec.boards.strips.thickness)));
        (self.outside.width + spec.before_cones() - ExactLength::from_millimetres(leg)).halved()
    }

    /// The middle of the width, or of the bay to its right where a brace stands there.
    fn beside_braces(&self, spec: &BoxSpec) -> ExactLength {
        let middle = self.outside.width.halved();
        let across = spec.braces.iter().filter(|brace| brace.across == Axis::Width);
        match across.map(|brace| brace.count).find(|count| count % 2 == 1) {
            // Half a bay of an inside in one bay more than there are braces.
            Some(count) => {
                let bays = 2 * (i64::from(count) + 1);
                middle + ExactLength::from_eighth_micrometres(self.inside.width.eighth_micrometres() / bays)
            }
            None => middle,
        }
    }

    pub(super) fn add_terminal(&mut self, spec: &BoxSpec) {
        let Some(terminal) = &spec.terminal else {
            return;
        };
        if !elsewhere::is_usual(spec, terminal) {
            return self.add_terminal_elsewhere(spec, terminal);
        }
        if terminal.centre.is_none() && self.port.is_some_and(|port| port.bends > 0) {
            return self.add_terminal_beside(spec, terminal);
        }
        let thickness = spec.boards.shell.thickness;
        let centre = terminal.centre.unwrap_or(Point {
            width: self.terminal_middle(spec),
            height: self.outside.height.halved().halved(),
            depth: ExactLength::ZERO,
        });
        self.push_terminal(terminal, BACK, centre, [self.outside.depth, thickness]);
    }

    /// Hole and cup through a board that lies `outside` and is so thick; of `centre` the coordinate across it is no matter.
    pub(super) fn push_terminal(
        &mut self,
        terminal: &TerminalHole,
        face: Place,
        centre: Point,
        [outside, board]: [ExactLength; 2],
    ) {
        let body = |deep| opening(face, centre, terminal.shape, [outside, deep]);
        let (hole, cup) = (body(board), body(terminal.cup_depth));
        self.push(BodyKind::TerminalHole, Role::GainedAir, hole);
        if terminal.cup_depth > ExactLength::ZERO {
            // A stated cup volume replaces the body's own, which then only keeps others clear of it.
            let role = if terminal.cup_volume.is_some() { Role::Hull } else { Role::Displaced };
            self.push(BodyKind::TerminalCup, role, cup);
        }
    }

    /// In the right side where a bent slot runs up the back: in the middle of what floor, front and slot leave of it.
    #[inline(never)] // few boxes have such a slot: it may come after the first result
    fn add_terminal_beside(&mut self, spec: &BoxSpec, terminal: &TerminalHole) {
        let centre = if self.hollow.is_some() {
            self.roomiest()
        } else {
            let middle =
                |[low, high]: [Point; 2]| Point::of(|axis| (low.get(axis) + high.get(axis)).halved());
            self.before_bent().map(middle)
        };
        let Some(centre) = centre else { return };
        let side = [self.outside.width, spec.boards.shell.thickness];
        self.push_terminal(terminal, RIGHT, centre, side);
    }
}

/// Size of a hole in a board that faces along `through`; zero along that axis.
pub(super) fn extent(shape: HoleShape, through: Axis) -> Dims {
    let [across, up] = match shape {
        HoleShape::Round(diameter) => [diameter; 2],
        HoleShape::Rectangle(hole) => [hole.across, hole.up],
    };
    let [first, second] = through.face();
    Dims::default().with(first, across).with(second, up)
}

/// What a hole of this shape takes of a face from `outside` inwards, so deep.
pub(super) fn opening(
    (axis, end): Place,
    centre: Point,
    shape: HoleShape,
    [outside, deep]: [ExactLength; 2],
) -> Solid {
    let from = if end == End::Low { outside } else { outside - deep };
    match shape {
        HoleShape::Round(diameter) => Solid::cylinder(centre.with(axis, from), axis, deep, diameter),
        HoleShape::Rectangle(hole) => {
            let size = extent(shape, axis).with(axis, deep);
            let low = |along: Axis| centre.get(along) - size.get(along).halved();
            Solid::RoundedBlock {
                min: Point::of(|along| if along == axis { from } else { low(along) }),
                size,
                through: axis,
                corner_radius: hole.corner_radius,
            }
        }
    }
}
