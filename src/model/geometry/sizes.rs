//! The size of every piece: exact, rounded to the tape step, or as it came out.
use std::collections::BTreeMap;

use super::axes::{Axis, Dims};
use super::parts::{Dimension, PartId};
use super::shell::Shell;
use super::spec::{AsBuilt, BoxSpec, Pair, Port, SlotWidth};
use super::strips;
use crate::model::error::ModelError;
use crate::units::ExactLength;

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
