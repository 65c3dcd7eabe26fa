//! What is cut: the parts with their sizes, edges and the face a size is measured on.
use std::collections::BTreeMap;

use super::assembly::Shell;
use super::axes::{Axis, Dims, InsideEdge};
use super::spec::{AsBuilt, BoxSpec, Pair, Port, SlotWidth};
use super::strips;
use crate::model::error::ModelError;
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
}

impl PartId {
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
    /// What it is cut from.
    pub stock: Stock,
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

/// The size of every piece, by piece and dimension.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sizes(BTreeMap<(PartId, Dimension), ExactLength>);

/// How a size is rounded.
#[derive(Clone, Copy)]
enum Rounding {
    /// To the nearest step.
    Nearest,
    /// Downwards, so that the part goes into a place that is already there.
    Down,
}

impl Sizes {
    /// The unrounded sizes.
    ///
    /// # Errors
    /// As [`BoxSpec::check`], and [`ModelError::Impossible`] where nothing remains of a part or of the inside.
    pub fn exact(spec: &BoxSpec) -> Result<Self, ModelError> {
        Self::with_step(spec, ExactLength::ZERO)
    }

    /// The sizes rounded to the tape step.
    ///
    /// Panels of the shell and port lengths go to the nearest step; what must slip into the shell (port roof, walls,
    /// braces, strips) is measured from the shell as rounded and goes down to a step, so that it fits.
    ///
    /// # Errors
    /// As [`Sizes::exact`].
    pub fn planned(spec: &BoxSpec) -> Result<Self, ModelError> {
        Self::with_step(spec, spec.tape_step)
    }

    fn with_step(spec: &BoxSpec, step: ExactLength) -> Result<Self, ModelError> {
        spec.check()?;
        let mut sizes = Self::default();
        sizes.add(shell_pieces(spec), step);
        sizes.all_positive()?;
        let shell = Shell::assembled(spec, &sizes)?;
        sizes.add(inner_pieces(spec, shell.inside)?, step);
        sizes.all_positive()?;
        Ok(sizes)
    }

    fn add(&mut self, pieces: Vec<(PartId, Dimension, ExactLength, Rounding)>, step: ExactLength) {
        for (id, dimension, size, rounding) in pieces {
            let size = match rounding {
                Rounding::Nearest => size.rounded_to(step),
                Rounding::Down => size.rounded_down_to(step),
            };
            self.0.insert((id, dimension), size);
        }
    }

    fn all_positive(&self) -> Result<(), ModelError> {
        if self.0.values().all(|&size| size > ExactLength::ZERO) {
            Ok(())
        } else {
            Err(ModelError::Impossible {
                what: "nothing remains of a part: the box is too small for its boards",
            })
        }
    }

    /// These sizes with those that came out differently replaced; entries for parts that don't exist are ignored.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] unless every size is above zero and at most 10 m.
    pub fn with_as_built(&self, as_built: &AsBuilt) -> Result<Self, ModelError> {
        let mut sizes = self.clone();
        for (key, &size) in as_built {
            if let Some(slot) = sizes.0.get_mut(key) {
                if size <= ExactLength::ZERO || size > super::spec::LONGEST {
                    return Err(ModelError::OutOfRange {
                        what: "size as cut in mm",
                        value: size.millimetres(),
                        min: 0.01,
                        max: super::spec::LONGEST.millimetres(),
                    });
                }
                *slot = size;
            }
        }
        Ok(sizes)
    }

    /// One size; zero where there is no such piece or dimension.
    #[must_use]
    pub fn get(&self, id: PartId, dimension: Dimension) -> ExactLength {
        self.0.get(&(id, dimension)).copied().unwrap_or_default()
    }
    /// Whether there is such a piece.
    #[must_use]
    pub fn has(&self, id: PartId) -> bool {
        self.0.keys().any(|&(found, _)| found == id)
    }
    /// All pieces with their sizes.
    pub fn iter(&self) -> impl Iterator<Item = (PartId, Dimension, ExactLength)> + '_ {
        self.0
            .iter()
            .map(|(&(id, dimension), &size)| (id, dimension, size))
    }
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
    #[must_use]
    pub fn pieces(self, front_layers: u8) -> Vec<PartId> {
        match self {
            Self::Sides => vec![PartId::Left, PartId::Right],
            Self::TopBottom => vec![PartId::Bottom, PartId::Top],
            Self::FrontBack => (0..front_layers)
                .map(PartId::Front)
                .chain([PartId::Back])
                .collect(),
        }
    }
}

/// How much of the inside height a full-width slot takes from a front that is let in between all four others:
/// such a front simply ends above the slot. Zero in every other case, where the slot is cut out.
#[must_use]
pub(super) fn front_cut_back(spec: &BoxSpec) -> ExactLength {
    let [_, _, last] = spec.precedence.order();
    match &spec.port {
        Port::Slot(slot) if slot.width == SlotWidth::Full && last == Pair::FrontBack => slot.height,
        _ => ExactLength::ZERO,
    }
}

type Wanted = (PartId, Dimension, ExactLength, Rounding);

/// The panels of the shell: full outside size along an axis, or less both thicknesses of the pair that covers it there
/// (geometry.md section 1).
fn shell_pieces(spec: &BoxSpec) -> Vec<Wanted> {
    let mut wanted = Vec::new();
    let walls = Shell::walls(spec);
    for pair in spec.precedence.order() {
        for id in pair.pieces(spec.front_layers) {
            for axis in pair.axis().others() {
                let mut size = spec.outside.get(axis);
                if spec.precedence.covers(Pair::facing(axis), pair) {
                    size = size - walls.get(axis);
                }
                if axis == Axis::Height && matches!(id, PartId::Front(_)) {
                    size = size - front_cut_back(spec);
                }
                wanted.push((id, axis.into(), size, Rounding::Nearest));
            }
        }
    }
    wanted
}

/// What goes into a shell of the given inside.
fn inner_pieces(spec: &BoxSpec, inside: Dims) -> Result<Vec<Wanted>, ModelError> {
    let mut wanted = port_pieces(spec, inside);
    for (kind, brace) in (0u8..).zip(&spec.braces) {
        for number in 0..brace.count {
            for axis in brace.across.others() {
                let mut size = inside.get(axis);
                if axis == Axis::Height {
                    size = size - slot_under_brace(spec, brace, number, inside);
                }
                wanted.push((
                    PartId::Brace(kind, number),
                    axis.into(),
                    size,
                    Rounding::Down,
                ));
            }
        }
    }
    if let Some(corner) = &spec.strips {
        let face = corner.wide_face(spec.board.thickness);
        for &edge in &corner.edges {
            let room = strips::room(spec, inside, edge);
            let length = corner.length.unwrap_or(room.length);
            if length > room.length {
                return Err(ModelError::Impossible {
                    what: "a corner strip is longer than its edge",
                });
            }
            let id = PartId::Strip(edge);
            wanted.push((id, edge.along.into(), length, Rounding::Down));
            wanted.push((id, Dimension::Face, face, Rounding::Nearest));
        }
    }
    Ok(wanted)
}

fn port_pieces(spec: &BoxSpec, inside: Dims) -> Vec<Wanted> {
    let mut wanted = Vec::new();
    match &spec.port {
        Port::None => {}
        Port::Round(round) => {
            for number in 0..round.count {
                let id = PartId::PortTube(number);
                wanted.push((id, Dimension::Depth, round.length, Rounding::Nearest));
            }
        }
        Port::Slot(slot) => {
            let length = slot.length - spec.front_thickness();
            if length == ExactLength::ZERO {
                return wanted;
            }
            let (width, walls) = slot_build(slot.width, spec.board.thickness, inside.width);
            let rounding = match slot.width {
                SlotWidth::Full => Rounding::Down,
                _ => Rounding::Nearest,
            };
            wanted.push((PartId::PortRoof, Dimension::Width, width, rounding));
            wanted.push((
                PartId::PortRoof,
                Dimension::Depth,
                length,
                Rounding::Nearest,
            ));
            for number in 0..walls {
                let id = PartId::PortWall(number);
                wanted.push((id, Dimension::Height, slot.height, Rounding::Nearest));
                wanted.push((id, Dimension::Depth, length, Rounding::Nearest));
            }
        }
    }
    wanted
}

/// Width of a slot's roof and number of its added walls: b + m t (geometry.md section 5).
pub(super) fn slot_build(
    width: SlotWidth,
    thickness: ExactLength,
    inside: ExactLength,
) -> (ExactLength, u8) {
    match width {
        SlotWidth::Full => (inside, 0),
        SlotWidth::AgainstSide(opening) => (opening + thickness, 1),
        SlotWidth::FreeStanding(opening) => (opening + thickness * 2, 2),
    }
}

/// Height a full-width slot takes from a brace that stands on its roof.
fn slot_under_brace(
    spec: &BoxSpec,
    brace: &super::WindowBrace,
    number: u8,
    inside: Dims,
) -> ExactLength {
    let Port::Slot(slot) = &spec.port else {
        return ExactLength::ZERO;
    };
    let reach = slot.length - spec.front_thickness();
    let stands_on_roof = slot.width == SlotWidth::Full
        && match brace.across {
            Axis::Width => reach > ExactLength::ZERO,
            Axis::Depth => {
                brace_start(inside.depth, spec.board.thickness, brace.count, number) < reach
            }
            Axis::Height => false,
        };
    if stands_on_roof {
        slot.height + spec.board.thickness
    } else {
        ExactLength::ZERO
    }
}

/// Where the brace `number` of `count` begins, counted from the inside face, evenly spaced.
pub(super) fn brace_start(
    inside: ExactLength,
    thickness: ExactLength,
    count: u8,
    number: u8,
) -> ExactLength {
    let middle = inside.eighth_micrometres() * (i64::from(number) + 1) / (i64::from(count) + 1);
    ExactLength::from_eighth_micrometres(middle - thickness.eighth_micrometres() / 2)
}

/// The cut list: equal pieces of one name on one line.
#[must_use]
pub fn cut_list(spec: &BoxSpec, exact: &Sizes, planned: &Sizes) -> Vec<Part> {
    let mut ids: Vec<PartId> = planned.iter().map(|(id, _, _)| id).collect();
    ids.dedup();
    ids.sort_by_key(|id| (id.name(), *id));
    let mut parts: Vec<Part> = Vec::new();
    for id in ids {
        let Some(part) = single(spec, exact, planned, id) else {
            continue;
        };
        let same = parts.iter_mut().find(|p| {
            p.length == part.length && p.width == part.width && same_kind(p.pieces.first(), id)
        });
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
    let mut cuts: Vec<CutSize> = planned
        .iter()
        .filter(|&(found, _, _)| found == id)
        .map(|(_, dimension, size)| {
            let face = dimension == Dimension::Face;
            CutSize {
                dimension,
                exact: exact.get(id, dimension),
                planned: size,
                tilt: if face { Tilt::HALF_RIGHT } else { Tilt::SQUARE },
                measured_on: if face {
                    MeasuredFace::Wide
                } else {
                    MeasuredFace::Either
                },
                mitred: matches!(id, PartId::Strip(edge) if !face && strips::is_mitred(spec, edge)),
            }
        })
        .collect();
    // A strip is ripped along its length however short it is; of a panel the longer size is the length.
    cuts.sort_by_key(|cut| (cut.dimension == Dimension::Face, -cut.planned));
    let (length, width) = (*cuts.first()?, *cuts.last()?);
    let (thickness, stock) = match (&spec.port, id) {
        (Port::Round(round), PartId::PortTube(_)) => (
            round.wall,
            Stock::Tube {
                outer: round.diameter + round.wall * 2,
            },
        ),
        _ => (spec.board.thickness, Stock::Board),
    };
    Some(Part {
        name: id.name(),
        pieces: vec![id],
        length,
        width,
        thickness,
        stock,
    })
}
