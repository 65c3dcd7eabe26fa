//! What is wanted: a rectangular box with everything that is cut for it, as typed.
mod check;
mod form;

use std::collections::BTreeMap;

use super::axes::{Axis, Dims, InsideEdge};
use super::edges::{Owners, Place};
use super::legs::Legs;
use super::parts::{Dimension, PartId};
use super::profile::Profile;
use crate::model::error::ModelError;
use crate::units::{ExactLength, Volume};

use check::length;
pub use form::{ChamberPort, ChamberSlot, ChamberTubes, Divider, Form, RadiatorCutout, RadiatorPlace};

/// A rectangular box as wanted. [`BoxSpec::check`] says what is accepted.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxSpec {
    /// Outside size.
    pub outside: Dims,
    /// The boards its parts are cut from.
    pub boards: Boards,
    /// Boards the front is laminated from: 1 or 2.
    pub front_layers: u8,
    /// Which board runs through at each of the twelve edges.
    pub owners: Owners,
    /// Driver openings.
    pub driver: Option<DriverCutout>,
    /// 45-degree strips in inside edges.
    pub strips: Option<CornerStrips>,
    /// How the box breathes.
    pub port: Port,
    /// Hole for a terminal plate or cup.
    pub terminal: Option<TerminalHole>,
    /// Braces with a window.
    pub braces: Vec<WindowBrace>,
    /// Wood kept around the windows of braces, which then are as large as that leaves, and at least as given; `None` for
    /// windows as given.
    pub brace_rim: Option<ExactLength>,
    /// Cut sizes are rounded to this step, such as 1 mm or 1/16 in; zero keeps them exact.
    pub tape_step: ExactLength,
    /// Width of the saw cut.
    pub kerf: ExactLength,
    /// The place the box must go into, if known.
    pub space: Option<Space>,
    /// Sides that reach beyond the front as legs.
    pub legs: Option<Legs>,
    /// Rooms and radiators.
    pub form: Form,
    /// Sides that are no rectangle; `outside` then is the block around them.
    pub profile: Option<Profile>,
    /// A board that is screwed on with a gasket instead of glued.
    pub loose: Option<Loose>,
}

/// A board that comes off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Loose {
    /// Where it stands; not the front.
    pub face: Place,
    /// Thickness of the square battens around its opening inside, which hold its screws; zero for none, where it lies over
    /// the edges of all its neighbours.
    pub batten: ExactLength,
}

/// Sheet material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Board {
    /// Thickness as measured with calipers, not nominal.
    pub thickness: ExactLength,
    /// Density in kg/m³; 740 for MDF is this project's choice between the European and the dense grades
    /// (`handbook.csv`, row `mdf-density-range`).
    pub density_kg_m3: f64,
    /// Which of the maker's boards it is: parts of two boards share no sheet, even if they are equally thick. Boards of
    /// one number are alike.
    pub number: u8,
}

impl Board {
    /// MDF of the given measured thickness, 740 kg/m³.
    #[must_use]
    pub const fn mdf(thickness: ExactLength) -> Self {
        Self { thickness, density_kg_m3: 740.0, number: 0 }
    }
}

/// The boards that the groups of parts are cut from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Boards {
    /// Sides, top, bottom, back, and the step of a shaped box.
    pub shell: Board,
    /// The layers of the front, the outer one first; the second counts where there are two.
    pub front: [Board; 2],
    /// What stands inside: braces, divider, roof and walls of a port.
    pub inner: Board,
    /// Corner strips.
    pub strips: Board,
}

impl Boards {
    /// One board for everything.
    #[must_use]
    pub const fn all(board: Board) -> Self {
        Self { shell: board, front: [board; 2], inner: board, strips: board }
    }
    /// The board of a part; of a tube, which is of none, that of the shell.
    #[must_use]
    #[inline(never)]
    pub const fn of(&self, id: PartId) -> Board {
        match id {
            PartId::Front(0) => self.front[0],
            PartId::Front(_) => self.front[1],
            PartId::PortRoof
            | PartId::PortWall(_)
            | PartId::PortRiser
            | PartId::PortCeiling
            | PartId::FrontRoof
            | PartId::Brace(..)
            | PartId::Divider => self.inner,
            PartId::Strip(_) => self.strips,
            _ => self.shell,
        }
    }
    /// The board of a number; that of the shell where none has it.
    #[must_use]
    pub fn numbered(&self, number: u8) -> Board {
        let [outer, under] = self.front;
        let all = [outer, under, self.inner, self.strips];
        all.into_iter().find(|board| board.number == number).unwrap_or(self.shell)
    }
    /// Whether there is another board than that of the shell.
    pub(super) const fn are_mixed(&self) -> bool {
        let first = self.shell.number;
        let [outer, under] = self.front;
        outer.number != first
            || under.number != first
            || self.inner.number != first
            || self.strips.number != first
    }
}

/// A pair of facing panels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pair {
    /// Left and right.
    Sides,
    /// Top and bottom.
    TopBottom,
    /// Front (all layers) and back.
    FrontBack,
}

impl Pair {
    /// The axis along which the pair's panels face each other.
    #[must_use]
    pub const fn axis(self) -> Axis {
        match self {
            Self::Sides => Axis::Width,
            Self::TopBottom => Axis::Height,
            Self::FrontBack => Axis::Depth,
        }
    }
    /// The pair that faces along an axis.
    #[must_use]
    pub const fn facing(axis: Axis) -> Self {
        match axis {
            Axis::Width => Self::Sides,
            Axis::Height => Self::TopBottom,
            Axis::Depth => Self::FrontBack,
        }
    }
    /// Its pieces: at the low end first.
    pub fn pieces(self, front_layers: u8) -> impl Iterator<Item = PartId> {
        let low = if self == Self::FrontBack { front_layers } else { 1 };
        (0..=low).map(move |number| match self {
            Self::Sides if number < low => PartId::Left,
            Self::Sides => PartId::Right,
            Self::TopBottom if number < low => PartId::Bottom,
            Self::TopBottom => PartId::Top,
            Self::FrontBack if number < low => PartId::Front(number),
            Self::FrontBack => PartId::Back,
        })
    }
}

/// The pairs in order of who covers whom: an earlier pair covers the edges of a later one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Precedence([Pair; 3]);

impl Precedence {
    /// All six orders.
    pub const ALL: [Self; 6] = {
        use Pair::{FrontBack as F, Sides as S, TopBottom as T};
        [Self([F, T, S]), Self([F, S, T]), Self([T, F, S]), Self([T, S, F]), Self([S, F, T]), Self([S, T, F])]
    };

    /// An order of the three pairs; each must occur once.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where a pair occurs twice.
    pub fn new(order: [Pair; 3]) -> Result<Self, ModelError> {
        let wanted = Self(order);
        if Self::ALL.contains(&wanted) {
            Ok(wanted)
        } else {
            Err(ModelError::Impossible {
                what: "each pair of panels stands once in the order of who covers whom",
            })
        }
    }
    /// The pairs, first coverer first.
    #[must_use]
    pub const fn order(self) -> [Pair; 3] {
        self.0
    }
    /// Whether `a` covers the edges of `b`.
    #[must_use]
    pub fn covers(self, a: Pair, b: Pair) -> bool {
        let place = |pair| self.0.iter().position(|&p| p == pair);
        place(a) < place(b)
    }
}

impl Default for Precedence {
    /// Front and back cover all, top and bottom cover the sides.
    fn default() -> Self {
        Self::ALL[0]
    }
}

/// Openings for equal drivers, as the driver's maker states them.
#[derive(Clone, Debug, PartialEq)]
pub struct DriverCutout {
    /// How many; 1 to 8.
    pub count: u8,
    /// Diameter of the hole.
    pub cutout: ExactLength,
    /// Outside diameter of the flange.
    pub flange: ExactLength,
    /// Depth behind the flange plane (mounting depth).
    pub depth: ExactLength,
    /// Diameter of the magnet.
    pub magnet: ExactLength,
    /// Volume of all that lies behind the flange plane, each.
    pub displacement: Volume,
    /// Diameter of the vent in the pole piece; `None` where there is none or it isn't known.
    pub pole_vent: Option<ExactLength>,
    /// Flush recess in the front, or the flange lies on the front.
    pub recess: Option<Recess>,
    /// Centres on the front; empty for an automatic arrangement. `depth` is ignored.
    pub centres: Vec<Dims>,
    /// The faces of those that don't sit in the front, one by one; they count after those that do, their flanges lie on the
    /// board.
    pub elsewhere: Vec<Place>,
}

/// Flush recess for the flange.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Recess {
    /// How deep; `None` is one whole layer, bored through.
    pub depth: Option<ExactLength>,
    /// What the recess is wider than the flange, on the diameter.
    pub clearance: ExactLength,
}

/// Strips with two 45-degree edges, laid across inside edges with the wide face to the air.
#[derive(Clone, Debug, PartialEq)]
pub struct CornerStrips {
    /// Which edges; each at most once.
    pub edges: Vec<InsideEdge>,
    /// The face width as measured.
    pub face: ExactLength,
    /// Which face was measured. For 75 mm and an 18 mm board the closed-off area is 1406 mm² by the wide, 3080 mm² by
    /// the narrow face, so this must be asked.
    pub measured: MeasuredStripFace,
    /// Length of each strip; `None` for as long as the edge is.
    pub length: Option<ExactLength>,
    /// Whether the hollow behind the strips stays part of the box's air.
    pub voids: StripVoids,
}

/// Which of the two faces of a corner strip a width was measured on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeasuredStripFace {
    /// The face to the air, point to point.
    Wide,
    /// The hidden face, two thicknesses less.
    Narrow,
}

/// The hollow behind a corner strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StripVoids {
    /// Closed off: lost to the box.
    Sealed,
    /// Deliberately left open to the box.
    Open,
}

impl CornerStrips {
    /// Width of the wide face: as measured, or the narrow one plus two thicknesses.
    #[must_use]
    pub fn wide_face(&self, thickness: ExactLength) -> ExactLength {
        match self.measured {
            MeasuredStripFace::Wide => self.face,
            MeasuredStripFace::Narrow => self.face + thickness * 2,
        }
    }
}

/// How the box breathes.
#[derive(Clone, Debug, PartialEq)]
pub enum Port {
    /// Closed box.
    None,
    /// Tubes through the front.
    Round(RoundPort),
    /// A slot on the floor, behind the front; bent up the back and along the top where it is too long.
    Slot(SlotPort),
}

/// Tubes through the front, flush with the outside.
#[derive(Clone, Debug, PartialEq)]
pub struct RoundPort {
    /// How many; 1 to 8.
    pub count: u8,
    /// Inner diameter.
    pub diameter: ExactLength,
    /// Wall of the tube.
    pub wall: ExactLength,
    /// Whole length, the front included.
    pub length: ExactLength,
    /// Centres on the front; empty for an automatic arrangement. `depth` is ignored.
    pub centres: Vec<Dims>,
}

/// A slot on the floor; one of full width may bend up the back and along the top.
#[derive(Clone, Debug, PartialEq)]
pub struct SlotPort {
    /// Height of the opening.
    pub height: ExactLength,
    /// Whole length along the centre line, the front included; see [`super::bent`] for corners.
    pub length: ExactLength,
    /// Across the whole floor or a part of it.
    pub width: SlotWidth,
    /// How often it may bend where it finds no room straight: 0 to 2. Only slots of full width in boxes of one room bend; in one
    /// with a step only up the lower back.
    pub bends: u8,
}

/// How wide a slot port is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SlotWidth {
    /// From side to side: the roof is the only added panel.
    Full,
    /// This wide, against the left side: one added wall under the roof.
    AgainstSide(ExactLength),
    /// This wide, in the middle: two added walls under the roof.
    FreeStanding(ExactLength),
}

/// Hole for a terminal plate or cup.
#[derive(Clone, Debug, PartialEq)]
pub struct TerminalHole {
    /// The face it is in: the back as a rule.
    pub face: Place,
    /// What the window in the outer layer of a front of two is larger than the hole, on each side; the plate then lies on the
    /// inner layer. `None` where the plate lies on the outside.
    pub window: Option<ExactLength>,
    /// Shape of the hole.
    pub shape: HoleShape,
    /// How deep the cup's body reaches, counted from the face its plate lies on; zero for a flat plate.
    pub cup_depth: ExactLength,
    /// Volume of the cup's body from that face; `None` takes hole area × depth.
    pub cup_volume: Option<Volume>,
    /// Centre on its face; `None` for the middle, a quarter of the height up, or beside the drivers there. The coordinate
    /// across the face is ignored.
    pub centre: Option<Dims>,
}

/// Shape of a hole in a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoleShape {
    /// A rectangle with rounded corners.
    Rectangle(Window),
    /// A round hole of this diameter.
    Round(ExactLength),
}

/// A rectangle with rounded corners, cut out of a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Window {
    /// Along the first of the panel's axes ([`super::Axis::others`] order: depth, width, height).
    pub across: ExactLength,
    /// Along the second of the panel's axes.
    pub up: ExactLength,
    /// Radius of the corners.
    pub corner_radius: ExactLength,
}

/// Braces: full cross-sections of the inside with a window in the middle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WindowBrace {
    /// How many, evenly spaced; 1 to 8.
    pub count: u8,
    /// The direction the brace stands across: depth for one parallel to the front.
    pub across: Axis,
    /// The window, in the middle of the brace.
    pub window: Window,
}

/// The place a box must go into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Space {
    /// Free size.
    pub size: Dims,
    /// Air to leave on each face, so twice per direction.
    pub clearance: ExactLength,
    /// A limit behind that leans forward, such as a seat back; `size` is the block around it.
    pub slant: Option<Slant>,
}

/// A rear limit of a space that leans forward.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slant {
    /// Free depth at the floor.
    pub depth: ExactLength,
    /// Free depth at the top.
    pub top_depth: ExactLength,
    /// Height at which the depth at the top was measured.
    pub height: ExactLength,
}

impl Space {
    /// Largest outside of a box: the size less twice the clearance.
    #[must_use]
    pub fn usable(self) -> Dims {
        Dims::of(|axis| self.size.get(axis) - self.clearance * 2)
    }
}

/// Sizes that came out differently from the plan, by part and dimension.
pub type AsBuilt = BTreeMap<(PartId, Dimension), ExactLength>;

/// Largest accepted length: 10 m.
pub const LONGEST: ExactLength = ExactLength::from_hundredths_mm(1_000_000);
/// Thinnest and thickest accepted board: 1 and 100 mm.
pub const BOARD_RANGE: [ExactLength; 2] =
    [ExactLength::from_hundredths_mm(100), ExactLength::from_hundredths_mm(10_000)];
/// Most drivers, tubes or braces of a kind.
pub const MOST: u8 = 8;

impl BoxSpec {
    /// A plain closed box: one front layer, default precedence, 1 mm tape step, 3.2 mm kerf, nothing in it.
    #[must_use]
    pub fn plain(outside: Dims, board: Board) -> Self {
        Self {
            outside,
            boards: Boards::all(board),
            front_layers: 1,
            owners: Owners::default(),
            driver: None,
            strips: None,
            port: Port::None,
            terminal: None,
            braces: Vec::new(),
            brace_rim: None,
            tape_step: ExactLength::from_hundredths_mm(100),
            kerf: ExactLength::from_hundredths_mm(320),
            space: None,
            legs: None,
            form: Form::Plain,
            profile: None,
            loose: None,
        }
    }

    /// Thickness of the whole front.
    #[must_use]
    #[inline(never)]
    pub fn front_thickness(&self) -> ExactLength {
        let [outer, inner] = self.boards.front;
        if self.front_layers > 1 { outer.thickness + inner.thickness } else { outer.thickness }
    }

    /// Whether there is more than one kind of board, or an edge has another owner than by default.
    #[inline(never)]
    pub(super) fn is_special(&self) -> bool {
        self.owners != Owners::default() || self.boards.are_mixed()
    }

    /// Depth at which a layer of the front begins.
    #[must_use]
    pub(super) const fn layer_start(&self, layer: u8) -> ExactLength {
        if layer == 0 { ExactLength::ZERO } else { self.boards.front[0].thickness }
    }

    /// Depth of the flush recess: as given, one whole layer, or zero.
    #[must_use]
    pub fn recess_depth(&self) -> ExactLength {
        let recess = self.driver.as_ref().and_then(|driver| driver.recess);
        recess.map_or(ExactLength::ZERO, |r| r.depth.unwrap_or(self.boards.front[0].thickness))
    }
}

impl DriverCutout {
    /// How many sit in the front; those number first.
    #[must_use]
    pub fn in_front(&self) -> u8 {
        self.count.saturating_sub(u8::try_from(self.elsewhere.len()).unwrap_or(u8::MAX))
    }
}

impl WindowBrace {
    /// A board across the middle without a window: the drivers left and right of it have air of their own.
    pub const BETWEEN: Self = Self {
        count: 1,
        across: Axis::Width,
        window: Window::new(ExactLength::ZERO, ExactLength::ZERO, ExactLength::ZERO),
    };

    /// Whether it has no window.
    #[must_use]
    pub fn is_solid(&self) -> bool {
        self.window == Self::BETWEEN.window
    }

    /// The side of its window in a brace so long there, with the rim kept at both ends if one is asked for.
    pub(super) fn side(rim: Option<ExactLength>, given: ExactLength, brace: ExactLength) -> ExactLength {
        rim.map_or(given, |rim| given.max(brace - rim * 2))
    }

    /// Its window in a brace of this size.
    pub(super) fn window_in(&self, rim: Option<ExactLength>, [across, up]: [ExactLength; 2]) -> Window {
        let rim = rim.filter(|_| !self.is_solid());
        Window {
            across: Self::side(rim, self.window.across, across),
            up: Self::side(rim, self.window.up, up),
            ..self.window
        }
    }
}

impl Window {
    /// A rectangle with rounded corners.
    #[must_use]
    pub const fn new(across: ExactLength, up: ExactLength, corner_radius: ExactLength) -> Self {
        Self { across, up, corner_radius }
    }

    /// Area in mm²: w h − (4 − π) ρ² (geometry.md section 6).
    pub(super) fn area_mm2(self) -> f64 {
        let radius = self.corner_radius.millimetres();
        self.across.millimetres() * self.up.millimetres() - (4.0 - std::f64::consts::PI) * radius * radius
    }
}
