//! What is cut: the parts with their sizes, edges and the face a size is measured on.

mod shaped;

use super::axes::{Axis, InsideEdge};
use super::sizes::Sizes;
use super::spec::{BoxSpec, ChamberPort, Divider, Form, Port};
use super::strips;
use crate::small::sort_by;
use crate::units::ExactLength;

/// One piece. Also the key of a size that came out differently.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PartId {
    /// A layer of the front; 0 is the outer one.
    Front(u8),
    /// The back.
    Back,
    /// The left side, seen from the front.
    Left,
    /// The right side.
    Right,
    /// The top.
    Top,
    /// The bottom.
    Bottom,
    /// The roof of a slot port.
    PortRoof,
    /// A wall of a slot port, left to right.
    PortWall(u8),
    /// A tube.
    PortTube(u8),
    /// A brace: place of its kind in the specification, then its number.
    Brace(u8, u8),
    /// The strip in an inside edge.
    Strip(InsideEdge),
    /// The board between two rooms.
    Divider,
    /// A tube of the room before the drivers.
    FrontTube(u8),
    /// The level board of a step.
    Tread,
    /// The upright board of a step that is not the back.
    Riser,
    /// The upright board of a bent slot, on the end of its roof.
    PortRiser,
    /// The level board of a slot that bends twice, below the top.
    PortCeiling,
    /// The roof of the slot of the room before the drivers.
    FrontRoof,
}

/// What a part is called; equal pieces of one name are one line of the cut list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PartName {
    /// Front layer.
    Front,
    /// Back.
    Back,
    /// Top or bottom.
    TopBottom,
    /// Side.
    Side,
    /// Roof of the slot port.
    PortRoof,
    /// Wall of the slot port.
    PortWall,
    /// Brace.
    Brace,
    /// Corner strip.
    CornerStrip,
    /// Port tube.
    PortTube,
    /// The board between two rooms.
    Divider,
    /// Tube of the room before the drivers.
    FrontTube,
    /// Top of a box whose bottom is another size.
    Top,
    /// Bottom of a box whose top is another size.
    Bottom,
    /// Level board of a step.
    Tread,
    /// Upright board of a step.
    Riser,
    /// Upright board of a bent slot.
    PortRiser,
    /// Level board of a bent slot, below the top.
    PortCeiling,
    /// Roof of the slot of the room before the drivers.
    FrontRoof,
    /// Batten of a board that comes off.
    Batten,
}

impl PartId {
    /// Whether it is a board of a slot.
    #[must_use]
    pub const fn is_port_board(self) -> bool {
        matches!(
            self,
            Self::PortRoof | Self::PortWall(_) | Self::PortRiser | Self::PortCeiling | Self::FrontRoof
        )
    }

    /// The name of the line it belongs to.
    #[must_use]
    pub const fn name(self) -> PartName {
        match self {
            Self::Front(_) => PartName::Front,
            Self::Back => PartName::Back,
            Self::Left | Self::Right => PartName::Side,
            Self::Top | Self::Bottom => PartName::TopBottom,
            Self::PortRoof => PartName::PortRoof,
            Self::PortWall(_) => PartName::PortWall,
            Self::PortTube(_) => PartName::PortTube,
            Self::Brace(..) => PartName::Brace,
            Self::Strip(_) => PartName::CornerStrip,
            Self::Divider => PartName::Divider,
            Self::FrontTube(_) => PartName::FrontTube,
            Self::Tread => PartName::Tread,
            Self::Riser => PartName::Riser,
            Self::PortRiser => PartName::PortRiser,
            Self::PortCeiling => PartName::PortCeiling,
            Self::FrontRoof => PartName::FrontRoof,
        }
    }
}

/// Which size of a piece: along an axis of the box, or the wide face of a corner strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dimension {
    /// Along [`Axis::Width`].
    Width,
    /// Along [`Axis::Height`].
    Height,
    /// Along [`Axis::Depth`].
    Depth,
    /// Wide face of a corner strip, point to point.
    Face,
}

impl From<Axis> for Dimension {
    fn from(axis: Axis) -> Self {
        match axis {
            Axis::Width => Self::Width,
            Axis::Height => Self::Height,
            Axis::Depth => Self::Depth,
        }
    }
}

/// Tilt of the blade from a square cut, in hundredths of a degree, so that equal tilts are equal.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Tilt(i32);

impl Tilt {
    /// A square cut.
    pub const SQUARE: Self = Self(0);
    /// 45 degrees.
    pub const HALF_RIGHT: Self = Self(4500);

    /// From hundredths of a degree.
    #[must_use]
    pub const fn from_hundredths(hundredths: i32) -> Self {
        Self(hundredths)
    }
    /// In degrees.
    #[must_use]
    pub fn degrees(self) -> f64 {
        f64::from(self.0) / 100.0
    }
}

/// The face of a part on which a size is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MeasuredFace {
    /// Square edges: both faces are alike.
    Either,
    /// The wide face, point to point.
    Wide,
    /// From long point to long point of bevelled ends.
    LongPoints,
}

/// One size of a part and how its two edges are cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutSize {
    /// Which size.
    pub dimension: Dimension,
    /// As the specification gives it, unrounded.
    pub exact: ExactLength,
    /// Rounded to the tape step: what is cut.
    pub planned: ExactLength,
    /// Tilt of the two edges this size lies between.
    pub tilt: Tilt,
    /// The face it is measured on.
    pub measured_on: MeasuredFace,
    /// Whether the two ends are mitred into neighbouring strips after this cut, the size being to the long points.
    pub mitred: bool,
}

/// An end of a board around the side of a shaped box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BoardEnd {
    /// At the front.
    Front,
    /// At the back.
    Rear,
    /// Below.
    Lower,
    /// Above.
    Upper,
}

/// A face of a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BoardFace {
    /// Outside the box.
    Outside,
    /// Inside the box.
    Inside,
    /// Of a board of a slot, in the slot.
    Slot,
    /// Of a board of a slot, in the rest of the box.
    Room,
}

impl BoardFace {
    /// The other face of the board.
    #[must_use]
    pub const fn opposite(self) -> Self {
        match self {
            Self::Outside => Self::Inside,
            Self::Inside => Self::Outside,
            Self::Slot => Self::Room,
            Self::Room => Self::Slot,
        }
    }
}

/// A bevelled end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Bevel {
    /// Which end.
    pub end: BoardEnd,
    /// Tilt of the blade from square.
    pub tilt: Tilt,
    /// The face its long point is on.
    pub long_on: BoardFace,
}

/// What a part is made from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stock {
    /// The sheet of the specification.
    Board,
    /// A bought tube, cut to length.
    Tube {
        /// Outer diameter.
        outer: ExactLength,
    },
}

/// One line of the cut list: equal pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What it is.
    pub name: PartName,
    /// The pieces; their number is the count.
    pub pieces: Vec<PartId>,
    /// The longer size.
    pub length: CutSize,
    /// The shorter size; for a tube its length again.
    pub width: CutSize,
    /// Thickness as measured; the wall of a tube.
    pub thickness: ExactLength,
    /// Number of the board it is cut from, [`super::Board::number`].
    pub board: u8,
    /// What it is cut from.
    pub stock: Stock,
    /// Bevelled ends of its size along the side; empty for square ones. That size is from long point to long point.
    pub bevels: Vec<Bevel>,
    /// Whether its edge is no rectangle and follows the template after it is cut to size.
    pub shaped: bool,
    /// Oblique ends of a corner strip that lies against leaning boards; none where they are square.
    pub oblique: Vec<Oblique>,
}

/// An end cut across a strip that lies on its wide face, in two angles at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Oblique {
    /// Mitre gauge from square.
    pub gauge: Tilt,
    /// Blade from square.
    pub blade: Tilt,
}

impl Oblique {
    /// Of a 45-degree strip whose end leans by an angle θ along one of its two walls: the wall stands at 45° to the wide face,
    /// so that the gauge takes atan(tan θ/√2) and the blade asin(sin θ/√2).
    #[must_use]
    pub fn leaning(degrees: f64) -> Self {
        let half = std::f64::consts::FRAC_1_SQRT_2;
        let radians = degrees.to_radians();
        let tilt = |radians: f64| Tilt::from_hundredths((radians.to_degrees() * 100.0).round() as i32);
        Self { gauge: tilt((radians.tan() * half).atan()), blade: tilt((radians.sin() * half).asin()) }
    }
}

impl Part {
    /// How many pieces.
    #[must_use]
    pub fn count(&self) -> usize {
        self.pieces.len()
    }
    /// The sizes to cut: two of a board, one of a tube.
    #[must_use]
    pub fn cuts(&self) -> Vec<CutSize> {
        match self.stock {
            Stock::Board => vec![self.length, self.width],
            Stock::Tube { .. } => vec![self.length],
        }
    }
}

/// The cut list: equal pieces of one name on one line.
#[must_use]
pub fn cut_list(spec: &BoxSpec, exact: &Sizes, planned: &Sizes) -> Vec<Part> {
    let mut ids: Vec<PartId> = planned.iter().map(|(id, _, _)| id).collect();
    ids.dedup();
    sort_by(&mut ids, |a, b| a.name().cmp(&b.name()).then(a.cmp(b)));
    let mut parts: Vec<Part> = Vec::new();
    for id in ids {
        let Some(mut part) = single(spec, exact, planned, id) else {
            continue;
        };
        if let Some(profile) = &spec.profile {
            shaped::finish(spec, profile, planned, id, &mut part);
        }
        let same = parts
            .iter_mut()
            .find(|p| p.length == part.length && p.width == part.width && same_kind(p.pieces.first(), id))
            .filter(|p| p.name == part.name && p.bevels == part.bevels && p.board == part.board)
            .filter(|p| p.oblique == part.oblique);
        match same {
            Some(line) => line.pieces.push(id),
            None => parts.push(part),
        }
    }
    parts
}

/// Whether two pieces may stand on one line: same name and, for braces, the same window.
fn same_kind(line: Option<&PartId>, id: PartId) -> bool {
    match (line, id) {
        (Some(PartId::Brace(kind, _)), PartId::Brace(other, _)) => *kind == other,
        (Some(first), _) => first.name() == id.name(),
        (None, _) => false,
    }
}

fn single(spec: &BoxSpec, exact: &Sizes, planned: &Sizes, id: PartId) -> Option<Part> {
    let (mut length, mut width): (Option<CutSize>, Option<CutSize>) = (None, None);
    for (_, dimension, size) in planned.iter().filter(|&(found, _, _)| found == id) {
        let face = dimension == Dimension::Face;
        let cut = CutSize {
            dimension,
            exact: exact.get(id, dimension),
            planned: size,
            tilt: if face { Tilt::HALF_RIGHT } else { Tilt::SQUARE },
            measured_on: if face { MeasuredFace::Wide } else { MeasuredFace::Either },
            mitred: matches!(id, PartId::Strip(edge) if !face && strips::is_mitred(spec, edge)),
        };
        // A strip is ripped along its length however short it is; of a panel the longer size is the length.
        match length {
            Some(first) if face || first.planned >= size => width = Some(cut),
            first => (length, width) = (Some(cut), first),
        }
    }
    let length = length?;
    // A tube has one size.
    let width = width.unwrap_or(length);
    let board = spec.boards.of(id);
    let (thickness, stock) = match (&spec.port, spec.form, id) {
        (Port::Round(round), _, PartId::PortTube(_)) => {
            (round.wall, Stock::Tube { outer: round.diameter + round.wall * 2 })
        }
        (_, Form::Divided(Divider { port: ChamberPort::Tubes(tubes), .. }), PartId::FrontTube(_)) => {
            (tubes.wall, Stock::Tube { outer: tubes.outer() })
        }
        _ => (board.thickness, Stock::Board),
    };
    Some(Part {
        name: id.name(),
        pieces: vec![id],
        length,
        width,
        thickness,
        board: board.number,
        stock,
        bevels: Vec::new(),
        shaped: false,
        oblique: Vec::new(),
    })
}
