//! Drivers and terminals in other faces than the front.
use super::fittings::{extent, opening};
use super::{Assembly, BodyKind, Role};
use crate::model::geometry::axes::{Axis, Dims, End, Point};
use crate::model::geometry::edges::{self, BACK, FRONT, Place};
use crate::model::geometry::layout::elsewhere::{self, Free};
use crate::model::geometry::layout::shaped::{on_polygon, point};
use crate::model::geometry::parts::PartId;
use crate::model::geometry::plane::At;
use crate::model::geometry::polygon::Turn;
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::{BoxSpec, DriverCutout, HoleShape, TerminalHole, Window};
use crate::model::geometry::strips::leg_mm;
use crate::units::ExactLength;

impl Assembly {
    /// What of the inner face of a board of the shell is free: of one that leans as if it stood upright.
    pub(in crate::model::geometry) fn free_on(&self, face: Place) -> Free {
        let along = face.0.face();
        let corners = [self.inside_min, self.inside_min + self.inside];
        let block = corners.map(|corner| along.map(|axis| corner.get(axis).millimetres()));
        if self.hollow.is_none() { block } else { self.free_in_shape(face, block) }
    }

    /// Along the section of a shaped box as far as its corners touch the board's inner face.
    #[inline(never)] // only shaped boxes need it: it may come after the first result
    fn free_in_shape(&self, face: Place, block: Free) -> Free {
        let (axis, id) = (face.0, edges::board(face));
        let Some(Solid::Prism { section, .. }) = &self.hollow else { return block };
        // The innermost layer of a front.
        let mut boards = self.bodies.iter().filter(|body| match (body.kind, id) {
            (BodyKind::Board(PartId::Front(_)), PartId::Front(_)) => true,
            (kind, id) => kind == BodyKind::Board(id),
        });
        let (Some(board), false) = (boards.next_back(), axis == Axis::Width) else { return block };
        let upright = |at: &At| board.turn.map_or(*at, |turn| turn.back().point(*at));
        let bounds = board.solid.bounds();
        // Depth and height of the section: one lies across the board, the other along it.
        let (over, on) = if axis == Axis::Depth { (0, 1) } else { (1, 0) };
        let faces = [bounds.min[axis.index()], bounds.max[axis.index()]];
        let touches = |at: &At| faces.iter().any(|face| (at[over] - face).abs() < 0.01);
        let ends = section.corners().iter().map(upright).filter(touches).map(|at| at[on]);
        let (low, high) =
            ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
        if low < high { [[block[0][0], low], [block[1][0], high]] } else { block }
    }

    /// Arranges the drivers in other faces of a shaped box, and the radiators beside them. Places that were not looked for
    /// stay.
    #[inline(never)] // only shaped boxes need it: it may come after the first result
    pub(super) fn place_elsewhere(&mut self, spec: &BoxSpec) {
        let Some(driver) = &spec.driver else { return };
        if self.layout.elsewhere.iter().all(|at| *at == Point::default()) {
            return;
        }
        // In a side where its polygon has room, above the roof of a slot and before one that bends.
        let Some(side) = self.before_run() else { return };
        let places = elsewhere::arranged(spec, driver, self.outside, &|face, drivers, radiators| {
            if face.0 == Axis::Width {
                return on_polygon(&side, drivers, radiators);
            }
            elsewhere::in_rectangle(spec, face, self.free_on(face), drivers, radiators)
        });
        if let Some(at) = places.radiators {
            self.layout.others.iter_mut().for_each(|place| *place = point(at, place.width));
        }
        self.layout.elsewhere = places.drivers;
    }

    /// The drivers that don't sit in the front: holes through their boards, and what stands behind these. `turn` says how a
    /// board leans.
    #[inline(never)] // few boxes have any: it may come after the first result
    pub(super) fn add_elsewhere(&mut self, spec: &BoxSpec, turn: &dyn Fn(Place) -> Option<Turn>) {
        let Some(driver) = &spec.driver else { return };
        let board = spec.boards.shell.thickness;
        let places: Vec<(Place, Point)> =
            driver.elsewhere.iter().copied().zip(self.layout.elsewhere.clone()).collect();
        for (number, (face, at)) in (driver.in_front()..).zip(places) {
            let first = self.bodies.len();
            self.push_driver(driver, number, face, at, board);
            self.turn_from(first, turn(face));
        }
    }

    /// A driver whose flange lies on a board `thick` thick at `at`, looking out of `face`.
    pub(super) fn push_driver(
        &mut self,
        driver: &DriverCutout,
        number: u8,
        (along, end): Place,
        at: Point,
        thick: ExactLength,
    ) {
        let outside = at.get(along);
        let reach = driver.depth - thick;
        let (hole, hull, ends) = match end {
            End::Low => (outside, outside + thick, [driver.cutout, driver.magnet]),
            End::High => (outside - thick, outside - thick - reach, [driver.magnet, driver.cutout]),
        };
        let hole = Solid::cylinder(at.with(along, hole), along, thick, driver.cutout);
        self.push(BodyKind::DriverHole(number), Role::GainedAir, hole);
        if reach > ExactLength::ZERO {
            let [from, to] = ends;
            let hull = Solid::Round { base: at.with(along, hull), along, length: reach, from, to };
            self.push(BodyKind::Driver(number), Role::Hull, hull);
        }
    }

    /// Terminals through any face but the back of a box without drivers there; those of a front of two layers may lie in a
    /// window of the outer one.
    #[inline(never)] // few boxes have them there: it may come after the first result
    pub(super) fn add_terminal_elsewhere(&mut self, spec: &BoxSpec, terminal: &TerminalHole) {
        let face = terminal.face;
        let (axis, end) = face;
        let centre = terminal.centre.unwrap_or_else(|| self.terminal_place(spec, terminal));
        let (mut outside, mut board) = match end {
            End::Low => (ExactLength::ZERO, spec.boards.shell.thickness),
            End::High => (self.outside.get(axis), spec.boards.shell.thickness),
        };
        if face == FRONT {
            board = self.front_thickness;
        }
        if let Some(wider) = window(spec, terminal) {
            let outer = spec.boards.front[0].thickness;
            let window = opening(face, centre, grown(terminal.shape, wider), [outside, outer]);
            self.push(BodyKind::TerminalWindow, Role::Cut, window);
            (outside, board) = (outer, board - outer);
        }
        self.push_terminal(terminal, face, centre, [outside, board]);
    }

    /// The middle of the width, a quarter up; in a face with drivers or radiators a lower corner.
    fn terminal_place(&self, spec: &BoxSpec, terminal: &TerminalHole) -> Point {
        let (axis, _) = terminal.face;
        let Dims { width, height, depth } = self.outside;
        let holds_drivers = match &spec.driver {
            Some(driver) if terminal.face == FRONT => driver.in_front() > 0,
            Some(driver) => driver.elsewhere.contains(&terminal.face),
            None => false,
        };
        let middle = match axis {
            Axis::Height => Point { width: self.terminal_middle(spec), height, depth: depth.halved() },
            Axis::Depth => {
                Point { width: self.terminal_middle(spec), height: height.halved().halved(), depth }
            }
            Axis::Width => {
                Point { width: width.halved(), height: height.halved().halved(), depth: depth.halved() }
            }
        };
        if !holds_drivers && spec.radiators_in(terminal.face).is_none() {
            return self.middle_in_shape(terminal.face, middle);
        }
        // The lower right corner, as one looks at the face from where the front looks: round openings leave room there.
        let size = extent(grown(terminal.shape, window(spec, terminal).unwrap_or_default()), axis);
        let strip = spec.strips.as_ref().map(|strips| {
            (
                ExactLength::from_millimetres(leg_mm(strips.wide_face(spec.boards.strips.thickness))),
                &strips.edges,
            )
        });
        // Clear of strips that run along the wall it is beside.
        let leg = |along: Axis| match &strip {
            Some((leg, edges)) if edges.iter().any(|edge| edge.along != axis && edge.along != along) => *leg,
            _ => ExactLength::ZERO,
        };
        let beside = |along: Axis| size.get(along).halved() + BESIDE + leg(along);
        let [low, high] = self.free_on(terminal.face).map(|corner| corner.map(ExactLength::from_millimetres));
        let [first, second] = axis.face();
        let across = high[0] - beside(first);
        Point::default().with(first, across).with(second, low[1] + beside(second))
    }

    /// In a shaped box the middle of what the board has inside, the same share of it up.
    fn middle_in_shape(&self, face: Place, middle: Point) -> Point {
        if self.hollow.is_none() || face.0 == Axis::Width {
            return middle;
        }
        let [low, high] = self.free_on(face);
        let [_, up] = face.0.face();
        let share = if face.0 == Axis::Height { 2.0 } else { 4.0 };
        middle.with(up, ExactLength::from_millimetres((low[1] + (high[1] - low[1]) / share).round()))
    }
}

/// Wood between a terminal and the walls beside it where it has to go into a corner: 15 mm (common practice, no source).
const BESIDE: ExactLength = ExactLength::from_hundredths_mm(1500);

/// What the window in the outer layer of the front is larger than the hole, where there is one.
fn window(spec: &BoxSpec, terminal: &TerminalHole) -> Option<ExactLength> {
    terminal.window.filter(|_| terminal.face == FRONT && spec.front_layers == 2)
}

/// The same hole, larger by so much on each side.
fn grown(shape: HoleShape, by: ExactLength) -> HoleShape {
    match shape {
        HoleShape::Round(diameter) => HoleShape::Round(diameter + by * 2),
        HoleShape::Rectangle(Window { across, up, corner_radius }) => {
            HoleShape::Rectangle(Window::new(across + by * 2, up + by * 2, corner_radius))
        }
    }
}

/// Whether the terminals are where they usually are: in a back without drivers.
pub(in crate::model::geometry) fn is_usual(spec: &BoxSpec, terminal: &TerminalHole) -> bool {
    let driven = spec.driver.as_ref().is_some_and(|driver| driver.elsewhere.contains(&BACK));
    terminal.face == BACK && !driven
}
