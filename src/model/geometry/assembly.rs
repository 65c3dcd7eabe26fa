//! The boards as cut, put together: the inside follows from what was really cut, the bodies from the inside.
mod baffle;
mod divider;
pub(super) mod elsewhere;
mod fittings;
mod loose;
mod port;
mod radiators;
mod run;
mod shaped;
mod shaped_forms;

pub(super) use shaped::covers_of_shape;

use super::axes::{Axis, Dims, End, InsideEdge, Point};
use super::checks::Fact;
use super::edges;
use super::layout::{self, Layout};
use super::legs;
use super::parts::PartId;
use super::polygon::{Polygon, Turn};
use super::shell::Shell;
use super::sizes::{self, Sizes};
use super::solids::{Bounds, Solid};
use super::spec::{BoxSpec, Form, Pair, Port};
use crate::model::error::ModelError;
use crate::units::{Area, ExactLength};

/// What a body counts as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// Wood of the shell.
    Shell,
    /// A hole in the shell whose air belongs to the box.
    GainedAir,
    /// A hole in the shell whose air does not: recess, mouth of a port.
    Cut,
    /// Takes air from the inside.
    Displaced,
    /// A hollow in a displaced body that stays part of the box's air.
    Hollow,
    /// A hull for clearances; its volume is stated otherwise.
    Hull,
}

/// What a body is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BodyKind {
    /// Panel of the shell, port roof or wall, brace.
    Board(PartId),
    /// Hole behind a driver's flange, from the recess to the inside.
    DriverHole(u8),
    /// Flush recess.
    Recess(u8),
    /// Driver behind the inner face of the front.
    Driver(u8),
    /// Closed-off prism of a corner strip.
    Strip(InsideEdge),
    /// Hollow behind a corner strip.
    StripVoid(InsideEdge),
    /// Mouth of a port; numbers from [`FRONT_TUBES`] on are tubes of the room before the drivers.
    PortMouth(u8),
    /// Air in a port, inside the box.
    PortAir(u8),
    /// Wall of a tube, inside the box.
    PortTube(u8),
    /// Hole for the terminals.
    TerminalHole,
    /// Body of the terminal cup.
    TerminalCup,
    /// A piece of batten around the opening of a board that comes off.
    Batten(u8),
    /// Window in the outer layer of the front, in which the terminals' plate lies.
    TerminalWindow,
    /// Window in a side that forms a leg: 0 left, 1 right.
    LegWindow(u8),
    /// Hole behind a passive radiator's flange.
    RadiatorHole(u8),
    /// Passive radiator behind the inner face of its board.
    Radiator(u8),
}

/// Number of the first tube of the room before the drivers, among all tubes.
pub const FRONT_TUBES: u8 = super::spec::MOST;

/// A placed body and what it counts as.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    /// What it is.
    pub kind: BodyKind,
    /// What it counts as.
    pub role: Role,
    /// Its shape and place.
    pub solid: Solid,
    /// How it is turned from there, with the leaning board it belongs to.
    pub turn: Option<Turn>,
}

impl Body {
    /// The smallest box along the axes around it where it stands.
    #[must_use]
    pub fn bounds(&self) -> Bounds {
        let own = self.solid.bounds();
        self.turn.map_or(own, |turn| own.turned(&self.solid, turn))
    }
}

/// The port as it came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PortAsCut {
    /// How many openings.
    pub count: u8,
    /// Height of a slot, or inner diameter of a tube.
    pub height: ExactLength,
    /// Width of a slot, or inner diameter of a tube.
    pub width: ExactLength,
    /// Whether it is round.
    pub round: bool,
    /// Whole length, the front included; of a bent slot see [`super::bent`].
    pub length: ExactLength,
    /// Length behind the board it goes through.
    pub inside_length: ExactLength,
    /// From its inner end to the board opposite; below zero where it doesn't fit.
    pub to_back: ExactLength,
    /// How often it bends.
    pub bends: u8,
}

impl PortAsCut {
    /// Area of all openings together.
    #[must_use]
    pub fn area(self) -> Area {
        let one = self.height.metres() * self.width.metres();
        let shape = if self.round { std::f64::consts::FRAC_PI_4 } else { 1.0 };
        Area::from_square_metres(one * shape * f64::from(self.count))
    }
}

/// The box put together from cut sizes.
#[derive(Clone, Debug, PartialEq)]
pub struct Assembly {
    /// Outside size that results.
    pub outside: Dims,
    /// Inside size that results.
    pub inside: Dims,
    /// The inside's front left bottom corner.
    pub inside_min: Point,
    /// Thickness of the front.
    pub front_thickness: ExactLength,
    /// All bodies; shell first.
    pub bodies: Vec<Body>,
    /// Where drivers and tubes sit on the front.
    pub layout: Layout,
    /// The port, if there is one.
    pub port: Option<PortAsCut>,
    /// The port of the room before the drivers, if there is one.
    pub front_port: Option<PortAsCut>,
    /// What didn't fit together.
    pub misfits: Vec<Fact>,
    /// What covers stand over along each axis until they are trimmed flush.
    pub over: Dims,
    /// The inside where it is no block; `inside` then is the block around it.
    pub hollow: Option<Solid>,
    /// Thickness of the board that corner strips are ripped from.
    pub strips: ExactLength,
    /// The board that comes off.
    pub loose: Option<PartId>,
}

impl Assembly {
    /// Puts the box together from cut sizes.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where no inside remains, or something is larger than the inside it must go into
    /// (port, strips, window of a brace).
    pub fn from_sizes(spec: &BoxSpec, sizes: &Sizes) -> Result<Self, ModelError> {
        Self::arranged(spec, sizes, layout::arrange)
    }

    /// The same for its air alone: drivers and tubes all in one place, which changes no volume.
    pub(super) fn for_air(spec: &BoxSpec, sizes: &Sizes) -> Result<Self, ModelError> {
        Self::arranged(spec, sizes, |spec, _| layout::unplaced(spec))
    }

    fn arranged(
        spec: &BoxSpec,
        sizes: &Sizes,
        layout: fn(&BoxSpec, Dims) -> Layout,
    ) -> Result<Self, ModelError> {
        if spec.is_baffle() {
            return Ok(Self::of_baffle(spec, sizes));
        }
        if let Some(profile) = &spec.profile {
            return Self::shaped(spec, profile, sizes, layout);
        }
        let shell = Shell::assembled(spec, sizes)?;
        let thickness = spec.boards.shell.thickness;
        let inside_min = Point { width: thickness, height: thickness, depth: spec.front_thickness() };
        let layout = layout(spec, shell.outside);
        let mut assembly = Self {
            outside: shell.outside,
            inside: shell.inside,
            inside_min,
            front_thickness: spec.front_thickness(),
            bodies: Vec::with_capacity(32),
            layout,
            port: None,
            front_port: None,
            misfits: shell.misfits,
            over: shell.over,
            hollow: None,
            strips: spec.boards.strips.thickness,
            loose: None,
        };
        assembly.add_shell(spec, sizes);
        match spec.form {
            Form::Divided(divider) => assembly.add_divider(spec, divider, sizes)?,
            _ => assembly.add_drivers(spec),
        }
        if !assembly.layout.elsewhere.is_empty() {
            assembly.add_elsewhere(spec, &|_| None);
        }
        if let Form::Radiators(radiators) = spec.form {
            assembly.add_radiators(radiators);
        }
        match &spec.port {
            Port::None => {}
            Port::Round(port) if spec.port_is_inner() => assembly.add_inner_tubes(spec, port, sizes)?,
            Port::Round(_) => assembly.add_tubes(spec, sizes)?,
            Port::Slot(slot) => assembly.add_slot(spec, slot, sizes)?,
        }
        if !spec.braces.is_empty() {
            assembly.add_braces(spec, sizes)?;
        }
        assembly.add_strips(spec, sizes)?;
        if let Some(loose) = spec.loose {
            assembly.loose = Some(edges::board(loose.face));
            assembly.add_battens(loose)?;
        }
        assembly.add_terminal(spec);
        if spec.legs.is_some() {
            let windows = legs::windows(spec, &assembly);
            assembly.bodies.extend(windows);
        }
        Ok(assembly)
    }

    /// The outline of the sides of a shaped box: depth and height, anticlockwise from the front's lower edge. `None` where
    /// they are rectangles.
    #[must_use]
    #[inline(never)]
    pub fn side(&self) -> Option<Polygon> {
        let left = self.bodies.iter().find(|body| body.kind == BodyKind::Board(PartId::Left))?;
        match left.solid {
            Solid::Prism { section, .. } => Some(section),
            _ => None,
        }
    }

    /// Outside size before covers that stand over are trimmed flush.
    #[must_use]
    pub fn untrimmed(&self) -> Dims {
        self.outside + self.over
    }

    /// The bodies of one role.
    pub fn with_role(&self, role: Role) -> impl Iterator<Item = &Body> {
        self.bodies.iter().filter(move |body| body.role == role)
    }

    pub(super) fn push(&mut self, kind: BodyKind, role: Role, solid: Solid) {
        self.bodies.push(Body { kind, role, solid, turn: None });
    }

    fn add_shell(&mut self, spec: &BoxSpec, sizes: &Sizes) {
        for pair in [Pair::FrontBack, Pair::TopBottom, Pair::Sides] {
            for id in pair.pieces(spec.front_layers) {
                let mut min = Point::default();
                let mut size = Dims::default().with(pair.axis(), spec.boards.of(id).thickness);
                for axis in pair.axis().others() {
                    if spec.owners.owns((axis, End::Low), edges::place(id)) {
                        min = min.with(axis, self.inside_min.get(axis));
                    }
                    size = size.with(axis, sizes.get(id, axis.into()));
                }
                let far = self.inside_min.get(pair.axis()) + self.inside.get(pair.axis());
                match id {
                    PartId::Front(layer) => {
                        min.depth = spec.layer_start(layer);
                        min.height = min.height + sizes::front_cut_back(spec);
                    }
                    PartId::Back | PartId::Right | PartId::Top => min = min.with(pair.axis(), far),
                    _ => {}
                }
                min.depth = min.depth - legs::beyond_front(spec, id, Axis::Depth);
                self.push(BodyKind::Board(id), Role::Shell, Solid::Block { min, size });
            }
        }
    }
}
