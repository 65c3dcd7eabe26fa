//! The boards as cut, put together: the inside follows from what was really cut, the bodies from the inside.
use super::axes::{Axis, Dims, End, InsideEdge, Point};
use super::checks::Fact;
use super::layout::{self, Layout};
use super::parts::{self, Dimension, PartId, Sizes};
use super::solids::Solid;
use super::spec::{BoxSpec, HoleShape, Pair, Port, SlotPort, SlotWidth};
use super::strips;
use crate::model::error::ModelError;
use crate::units::ExactLength;

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
    /// Mouth of a port in the front.
    PortMouth(u8),
    /// Air in a port, inside the box.
    PortAir(u8),
    /// Wall of a tube, inside the box.
    PortTube(u8),
    /// Hole for the terminals.
    TerminalHole,
    /// Body of the terminal cup.
    TerminalCup,
}

/// A placed body and what it counts as.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    /// What it is.
    pub kind: BodyKind,
    /// What it counts as.
    pub role: Role,
    /// Its shape and place.
    pub solid: Solid,
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
    /// Whole length, the front included.
    pub length: ExactLength,
    /// Length behind the front.
    pub inside_length: ExactLength,
    /// From its inner end to the back; below zero where it doesn't fit.
    pub to_back: ExactLength,
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
    /// What didn't fit together.
    pub misfits: Vec<Fact>,
}

/// The six sides put together, before anything is put in.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Shell {
    pub(super) outside: Dims,
    pub(super) inside: Dims,
    pub(super) misfits: Vec<Fact>,
}

impl Shell {
    /// Both walls along each axis, together.
    pub(super) fn walls(spec: &BoxSpec) -> Dims {
        let thickness = spec.board.thickness;
        Dims {
            width: thickness * 2,
            height: thickness * 2,
            depth: spec.front_thickness() + thickness,
        }
    }

    /// Puts the shell together.
    ///
    /// Along an axis the inside is what the pieces that stand between the facing pair leave free; where none stands
    /// between, it follows from the pieces the pair is flush with. Of unequal pieces the shortest decides.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where no inside remains.
    pub(super) fn assembled(spec: &BoxSpec, sizes: &Sizes) -> Result<Self, ModelError> {
        let walls = Self::walls(spec);
        let mut shell = Self {
            outside: walls,
            inside: Dims::default(),
            misfits: Vec::new(),
        };
        for axis in Axis::ALL {
            let inside = shell.along(spec, sizes, axis, walls.get(axis))?;
            shell.inside = shell.inside.with(axis, inside);
            shell.outside = shell.outside.with(axis, inside + walls.get(axis));
        }
        Ok(shell)
    }

    fn along(
        &mut self,
        spec: &BoxSpec,
        sizes: &Sizes,
        axis: Axis,
        walls: ExactLength,
    ) -> Result<ExactLength, ModelError> {
        let facing = Pair::facing(axis);
        // The inside each piece of the four other panels stands for, with whether its pair decides.
        let mut implied: Vec<(PartId, bool, ExactLength)> = Vec::new();
        let others: Vec<Pair> = spec
            .precedence
            .order()
            .into_iter()
            .filter(|&p| p != facing)
            .collect();
        for (place, &pair) in others.iter().enumerate() {
            let between = spec.precedence.covers(facing, pair);
            // The last of the others stands nearest to the facing pair: between it, or flush with it.
            let decides = between || place == 1;
            for id in pair.pieces(spec.front_layers) {
                let mut size = sizes.get(id, axis.into());
                if axis == Axis::Height && matches!(id, PartId::Front(_)) {
                    size = size + parts::front_cut_back(spec);
                }
                let inside = if between { size } else { size - walls };
                implied.push((id, decides, inside));
            }
        }
        let deciding = || implied.iter().filter(|piece| piece.1).map(|piece| piece.2);
        let missing = ModelError::Missing { what: "a panel" };
        let shortest = deciding().min().ok_or(missing.clone())?;
        let longest = deciding().max().ok_or(missing)?;
        if shortest <= ExactLength::ZERO {
            return Err(ModelError::Impossible {
                what: "the box has no inside: it is smaller than its boards",
            });
        }
        if shortest != longest {
            self.misfits.push(Fact::Unequal {
                axis,
                inside: shortest,
                difference: longest - shortest,
            });
        }
        for &(part, decides, inside) in &implied {
            if !decides && inside != shortest {
                let over = inside - shortest;
                self.misfits.push(Fact::Cover {
                    part,
                    dimension: axis.into(),
                    over,
                });
            }
        }
        Ok(shortest)
    }
}

impl Assembly {
    /// Puts the box together from cut sizes.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where no inside remains, or something is larger than the inside it must go into
    /// (port, strips, window of a brace).
    pub fn from_sizes(spec: &BoxSpec, sizes: &Sizes) -> Result<Self, ModelError> {
        let shell = Shell::assembled(spec, sizes)?;
        let thickness = spec.board.thickness;
        let inside_min = Point {
            width: thickness,
            height: thickness,
            depth: spec.front_thickness(),
        };
        let layout = layout::arrange(spec, shell.outside);
        let mut assembly = Self {
            outside: shell.outside,
            inside: shell.inside,
            inside_min,
            front_thickness: spec.front_thickness(),
            bodies: Vec::with_capacity(32),
            layout,
            port: None,
            misfits: shell.misfits,
        };
        assembly.add_shell(spec, sizes);
        assembly.add_drivers(spec);
        match &spec.port {
            Port::None => {}
            Port::Round(_) => assembly.add_tubes(spec, sizes)?,
            Port::Slot(slot) => assembly.add_slot(spec, slot, sizes)?,
        }
        assembly.add_braces(spec, sizes)?;
        assembly.add_strips(spec, sizes)?;
        assembly.add_terminal(spec);
        Ok(assembly)
    }

    /// The bodies of one role.
    pub fn with_role(&self, role: Role) -> impl Iterator<Item = &Body> {
        self.bodies.iter().filter(move |body| body.role == role)
    }

    fn push(&mut self, kind: BodyKind, role: Role, solid: Solid) {
        self.bodies.push(Body { kind, role, solid });
    }

    fn add_shell(&mut self, spec: &BoxSpec, sizes: &Sizes) {
        let thickness = spec.board.thickness;
        for pair in spec.precedence.order() {
            for id in pair.pieces(spec.front_layers) {
                let mut min = Point::default();
                let mut size = Dims::default().with(pair.axis(), thickness);
                for axis in pair.axis().others() {
                    if spec.precedence.covers(Pair::facing(axis), pair) {
                        min = min.with(axis, self.inside_min.get(axis));
                    }
                    size = size.with(axis, sizes.get(id, axis.into()));
                }
                let far = self.inside_min.get(pair.axis()) + self.inside.get(pair.axis());
                match id {
                    PartId::Front(layer) => {
                        min.depth = thickness * i64::from(layer);
                        min.height = min.height + parts::front_cut_back(spec);
                    }
                    PartId::Back | PartId::Right | PartId::Top => min = min.with(pair.axis(), far),
                    _ => {}
                }
                self.push(BodyKind::Board(id), Role::Shell, Solid::Block { min, size });
            }
        }
    }

    fn add_drivers(&mut self, spec: &BoxSpec) {
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
            let at = centre.with(Axis::Depth, recess);
            let hole = Solid::cylinder(at, Axis::Depth, behind, driver.cutout);
            self.push(BodyKind::DriverHole(number), Role::GainedAir, hole);
            let reach = driver.depth - behind;
            if reach > ExactLength::ZERO {
                // A cone from the hole to the magnet's rear contains basket and magnet.
                let hull = Solid::Round {
                    base: centre.with(Axis::Depth, self.front_thickness),
                    along: Axis::Depth,
                    length: reach,
                    from: driver.cutout,
                    to: driver.magnet,
                };
                self.push(BodyKind::Driver(number), Role::Hull, hull);
            }
        }
    }

    fn add_tubes(&mut self, spec: &BoxSpec, sizes: &Sizes) -> Result<(), ModelError> {
        let Port::Round(port) = &spec.port else {
            return Ok(());
        };
        let outer = port.diameter + port.wall * 2;
        let length = |number| sizes.get(PartId::PortTube(number), Dimension::Depth);
        let (shortest, longest) = (0..port.count).fold((length(0), length(0)), |(low, high), n| {
            (low.min(length(n)), high.max(length(n)))
        });
        if shortest != longest {
            self.misfits.push(Fact::UnequalPort {
                difference: longest - shortest,
            });
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
            let tube = Solid::Tube {
                base,
                along: Axis::Depth,
                length: inner,
                outer,
                inner: port.diameter,
            };
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
        });
        Ok(())
    }

    fn add_slot(
        &mut self,
        spec: &BoxSpec,
        slot: &SlotPort,
        sizes: &Sizes,
    ) -> Result<(), ModelError> {
        let thickness = spec.board.thickness;
        let inside_length = sizes.get(PartId::PortRoof, Dimension::Depth);
        let (build, walls) = parts::slot_build(slot.width, thickness, self.inside.width);
        let opening = match slot.width {
            SlotWidth::Full => self.inside.width,
            SlotWidth::AgainstSide(width) | SlotWidth::FreeStanding(width) => width,
        };
        let cut_height = (0..walls)
            .map(|n| sizes.get(PartId::PortWall(n), Dimension::Height))
            .min();
        // A port that ends with the front has no walls behind it.
        let height = cut_height
            .filter(|&h| h > ExactLength::ZERO)
            .unwrap_or(slot.height);
        let to_back = self.inside.depth - inside_length;
        port_fits(to_back)?;
        if build > self.inside.width || height + thickness >= self.inside.height {
            return Err(ModelError::Impossible {
                what: "the slot port is wider or higher than the inside",
            });
        }
        let left = match slot.width {
            SlotWidth::FreeStanding(_) => {
                let spare = (self.inside.width - build).eighth_micrometres();
                ExactLength::from_eighth_micrometres(spare / 2)
            }
            _ => ExactLength::ZERO,
        };
        let floor = Point {
            width: self.inside_min.width + left,
            ..self.inside_min
        };
        let air_left = match slot.width {
            SlotWidth::FreeStanding(_) => floor.width + thickness,
            _ => floor.width,
        };
        let block = |width_at, up: ExactLength, width, high| Solid::Block {
            min: Point {
                width: width_at,
                height: floor.height + up,
                depth: floor.depth,
            },
            size: Dims {
                width,
                height: high,
                depth: inside_length,
            },
        };
        if parts::front_cut_back(spec) == ExactLength::ZERO {
            let mouth = Solid::Block {
                min: Point {
                    width: air_left,
                    height: floor.height,
                    depth: ExactLength::ZERO,
                },
                size: Dims {
                    width: opening,
                    height,
                    depth: self.front_thickness,
                },
            };
            self.push(BodyKind::PortMouth(0), Role::Cut, mouth);
        }
        if inside_length > ExactLength::ZERO {
            let air = block(air_left, ExactLength::ZERO, opening, height);
            self.push(BodyKind::PortAir(0), Role::Displaced, air);
            let roof = block(floor.width, height, build, thickness);
            self.push(BodyKind::Board(PartId::PortRoof), Role::Displaced, roof);
            for number in 0..walls {
                let at = if number + 1 == walls {
                    air_left + opening
                } else {
                    floor.width
                };
                let wall = block(at, ExactLength::ZERO, thickness, height);
                self.push(
                    BodyKind::Board(PartId::PortWall(number)),
                    Role::Displaced,
                    wall,
                );
            }
            let over = sizes.get(PartId::PortRoof, Dimension::Width) - build;
            if over > ExactLength::ZERO {
                let (part, dimension) = (PartId::PortRoof, Dimension::Width);
                self.misfits.push(Fact::Cover {
                    part,
                    dimension,
                    over,
                });
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
        });
        Ok(())
    }

    fn add_braces(&mut self, spec: &BoxSpec, sizes: &Sizes) -> Result<(), ModelError> {
        let thickness = spec.board.thickness;
        for (kind, brace) in (0u8..).zip(&spec.braces) {
            for number in 0..brace.count {
                let id = PartId::Brace(kind, number);
                let room = self.inside.get(brace.across);
                let start = parts::brace_start(room, thickness, brace.count, number);
                let mut min = self
                    .inside_min
                    .with(brace.across, self.inside_min.get(brace.across) + start);
                let mut size = Dims::default().with(brace.across, thickness);
                for axis in brace.across.others() {
                    size = size.with(axis, sizes.get(id, axis.into()));
                }
                // Whatever stands on a port's roof ends at the top.
                if brace.across != Axis::Height && self.slot_roof() > ExactLength::ZERO {
                    let lift = self.inside.height - size.height;
                    if lift >= self.slot_roof() {
                        min.height = min.height + self.slot_roof();
                    }
                }
                let [across, up] = brace.across.others().map(|axis| size.get(axis));
                let too_many = thickness * i64::from(brace.count) >= room;
                if brace.window.across >= across || brace.window.up >= up || too_many {
                    return Err(ModelError::Impossible {
                        what: "a brace has no room: its window is larger than it, or the braces fill the box",
                    });
                }
                let solid = Solid::Frame {
                    min,
                    size,
                    through: brace.across,
                    window: brace.window,
                };
                self.push(BodyKind::Board(id), Role::Displaced, solid);
            }
        }
        Ok(())
    }

    /// Height of a slot's roof above the floor; zero without one.
    fn slot_roof(&self) -> ExactLength {
        self.bodies
            .iter()
            .find_map(|body| match (body.kind, body.solid) {
                (BodyKind::Board(PartId::PortRoof), Solid::Block { min, size }) => {
                    Some(min.height + size.height - self.inside_min.height)
                }
                _ => None,
            })
            .unwrap_or_default()
    }

    fn add_strips(&mut self, spec: &BoxSpec, sizes: &Sizes) -> Result<(), ModelError> {
        let Some(wanted) = &spec.strips else {
            return Ok(());
        };
        for &edge in &wanted.edges {
            let id = PartId::Strip(edge);
            let face = sizes.get(id, Dimension::Face);
            let crowded = if wanted.edges.len() > 1 { 2.0 } else { 1.0 };
            for axis in edge.along.others() {
                if strips::leg_mm(face) * crowded > self.inside.get(axis).millimetres() {
                    return Err(ModelError::Impossible {
                        what: "the corner strips meet in the middle of a wall",
                    });
                }
            }
            let room = strips::room(spec, self.inside, edge);
            let length = sizes.get(id, edge.along.into());
            let over = length - room.length;
            if over > ExactLength::ZERO {
                self.misfits.push(Fact::Cover {
                    part: id,
                    dimension: edge.along.into(),
                    over,
                });
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
            let solid = Solid::CornerPrism {
                edge,
                start: corner,
                length,
                face,
            };
            self.push(BodyKind::Strip(edge), Role::Displaced, solid);
            let narrow = face - spec.board.thickness * 2;
            if wanted.voids == super::StripVoids::Open && narrow > ExactLength::ZERO {
                let hollow = Solid::CornerPrism {
                    edge,
                    start: corner,
                    length,
                    face: narrow,
                };
                self.push(BodyKind::StripVoid(edge), Role::Hollow, hollow);
            }
        }
        Ok(())
    }

    fn add_terminal(&mut self, spec: &BoxSpec) {
        let Some(terminal) = &spec.terminal else {
            return;
        };
        let thickness = spec.board.thickness;
        let half = |length: ExactLength| {
            ExactLength::from_eighth_micrometres(length.eighth_micrometres() / 2)
        };
        let centre = terminal.centre.unwrap_or(Point {
            width: half(self.outside.width),
            height: half(half(self.outside.height)),
            depth: ExactLength::ZERO,
        });
        let body = |depth: ExactLength| {
            let from = self.outside.depth - depth;
            match terminal.shape {
                HoleShape::Round(diameter) => {
                    Solid::cylinder(centre.with(Axis::Depth, from), Axis::Depth, depth, diameter)
                }
                HoleShape::Rectangle(hole) => Solid::RoundedBlock {
                    min: Point {
                        width: centre.width - half(hole.across),
                        height: centre.height - half(hole.up),
                        depth: from,
                    },
                    size: Dims {
                        width: hole.across,
                        height: hole.up,
                        depth,
                    },
                    through: Axis::Depth,
                    corner_radius: hole.corner_radius,
                },
            }
        };
        let (hole, cup) = (body(thickness), body(terminal.cup_depth));
        self.push(BodyKind::TerminalHole, Role::GainedAir, hole);
        if terminal.cup_depth > ExactLength::ZERO {
            // A stated cup volume replaces the body's own, which then only keeps others clear of it.
            let role = if terminal.cup_volume.is_some() {
                Role::Hull
            } else {
                Role::Displaced
            };
            self.push(BodyKind::TerminalCup, role, cup);
        }
    }
}

fn port_fits(to_back: ExactLength) -> Result<(), ModelError> {
    if to_back < ExactLength::ZERO {
        return Err(ModelError::Impossible {
            what: "the port is longer than the box is deep",
        });
    }
    Ok(())
}
