//! What makes one box stand in for many: blocks that take up air, plugs for ports, rings for smaller drivers.
mod room;

use self::room::Room;
use super::assembly::{Assembly, BodyKind};
use super::parts::PartId;
use super::spec::BoxSpec;
use super::{Dims, Point};
use crate::model::error::ModelError;
use crate::units::{ExactLength, Volume};

/// Room around a block on its way through the driver's hole, on the diagonal: 6 mm (common practice, no source).
const SLIP: ExactLength = ExactLength::from_hundredths_mm(600);
/// Room a block keeps at its ends: 4 mm (common practice, no source).
const END_ROOM: ExactLength = ExactLength::from_hundredths_mm(400);
/// Most blocks one would handle.
const MOST_BLOCKS: usize = 24;
/// Most blocks one behind the other.
const MOST_ROWS: i64 = 4;

/// Equal square blocks that bring a box to a smaller net volume.
#[derive(Clone, Debug, PartialEq)]
pub struct Insert {
    /// Side of the square section.
    pub side: ExactLength,
    /// Length, along the box's depth.
    pub length: ExactLength,
    /// Where they lie, in the order they go in: the corner at front, left and bottom, from the inside's own.
    pub places: Vec<Point>,
    /// What they take together.
    pub volume: Volume,
    /// What then remains.
    pub net: Volume,
}

impl Insert {
    /// How many.
    #[must_use]
    pub fn count(&self) -> usize {
        self.places.len()
    }

    /// The boards one block is made of: how many, length, width. A thick one is an airtight box of six boards, a thin
    /// one is laminated.
    #[must_use]
    pub fn boards(&self, thickness: ExactLength) -> Vec<(usize, ExactLength, ExactLength)> {
        let (side, length) = (self.side, self.length);
        if is_box(side, thickness) {
            let between = side - thickness * 2;
            vec![(2, length, side), (2, length, between), (2, between, between)]
        } else {
            let layers = side.eighth_micrometres() / thickness.eighth_micrometres().max(1);
            vec![(usize::try_from(layers).unwrap_or(1).max(1), length, side)]
        }
    }
}

/// Whether a block is thick enough to be a box of boards rather than a stack of them.
fn is_box(side: ExactLength, thickness: ExactLength) -> bool {
    side >= thickness * 3
}

/// Blocks for a target volume: insert volume = net − target.
///
/// They go in straight through a driver's hole, driver out, then across to their places, which is tried on the solids of
/// the box: neither on the way nor in place does one touch anything in the box, another block, the driver, or the air a
/// port and a vented pole piece need. The fewest blocks are taken. Sizes are whole steps of the tape, or whole boards.
///
/// # Errors
/// [`ModelError::Missing`] without a driver's hole in the front; [`ModelError::OutOfRange`] unless the target is above zero and below
/// the net volume; [`ModelError::Impossible`] where no such blocks find a place.
pub fn insert(
    spec: &BoxSpec,
    assembly: &Assembly,
    net: Volume,
    target: Volume,
) -> Result<Insert, ModelError> {
    if !(target.litres() > 0.0 && target.litres() < net.litres()) {
        let what = "target volume in litres";
        return Err(ModelError::OutOfRange { what, value: target.litres(), min: 0.0, max: net.litres() });
    }
    if spec.profile.is_some() {
        return Err(ModelError::Impossible {
            what: "blocks are planned for boxes with rectangular sides only",
        });
    }
    if assembly.bodies.iter().any(|body| body.kind == BodyKind::Board(PartId::Divider)) {
        return Err(ModelError::Impossible { what: "blocks for a box with two rooms are not planned" });
    }
    // Blocks go in from the front: drivers in other faces leave them no way.
    let driver = spec.driver.as_ref().filter(|_| !assembly.layout.drivers.is_empty());
    let driver = driver.ok_or(ModelError::Missing { what: "a driver's hole in the front" })?;
    let wanted = (net - target).cubic_metres() * 1e9;
    let passes = (driver.cutout - SLIP).millimetres() * std::f64::consts::FRAC_1_SQRT_2;
    let room = Room::of(spec, assembly);
    for count in 1..=MOST_BLOCKS {
        for rows in 1..=MOST_ROWS {
            let deep = (assembly.inside.depth - END_ROOM).eighth_micrometres() / rows;
            let longest = ExactLength::from_eighth_micrometres(deep) - END_ROOM;
            let Some((side, length)) = block(spec, wanted / count as f64, longest) else { continue };
            if side.millimetres() > passes {
                continue;
            }
            let size = Dims { width: side, height: side, depth: length };
            let Some(places) = room.places(size, count) else { continue };
            let taken = count as f64 * side.millimetres().powi(2) * length.millimetres();
            let volume = Volume::from_cubic_metres(taken * 1e-9);
            return Ok(Insert { side, length, places, volume, net: net - volume });
        }
    }
    Err(ModelError::Impossible {
        what: "no blocks of that volume go in through the driver's hole and find a place beside what is in the box",
    })
}

/// Side and length of a block of this volume in mm³ that is no longer than this.
fn block(spec: &BoxSpec, volume: f64, longest: ExactLength) -> Option<(ExactLength, ExactLength)> {
    if longest <= ExactLength::ZERO {
        return None;
    }
    let step = spec.tape_step.max(ExactLength::from_hundredths_mm(100));
    let (least, board) = ((volume / longest.millimetres()).sqrt(), spec.boards.shell.thickness);
    let mut side = up_to(least, step);
    if !is_box(side, board) {
        side = up_to(least, board);
    }
    let length = ExactLength::from_millimetres(volume / side.millimetres().powi(2)).rounded_to(step);
    let ends = if is_box(side, board) { board * 2 } else { ExactLength::ZERO };
    (length > ends && length <= longest).then_some((side, length))
}

/// The next whole step from so many millimetres up.
fn up_to(least_mm: f64, step: ExactLength) -> ExactLength {
    ExactLength::from_millimetres(least_mm + step.millimetres() - 1e-6).rounded_down_to(step).max(step)
}

/// A ring that carries a smaller driver in the hole of the larger one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Adapter {
    /// Outside diameter: that of the driver it stands in for, so that it lies in the same recess.
    pub outside: ExactLength,
    /// Hole for the smaller driver.
    pub hole: ExactLength,
    /// Wood under the smaller driver's flange, radially.
    pub seat: ExactLength,
    /// Wood that lies on the front around the larger hole, radially.
    pub rim: ExactLength,
    /// From the smaller flange to the ring's edge; below zero it stands over.
    pub spare: ExactLength,
}

/// Least wood a flange or ring is screwed to, radially: 10 mm (common practice, no source).
pub const LEAST_SEAT: ExactLength = ExactLength::from_hundredths_mm(1_000);

/// The adapter ring for a driver of this cut-out and flange.
///
/// # Errors
/// [`ModelError::Missing`] without a driver; [`ModelError::Impossible`] where its cut-out is not smaller than the ring,
/// or larger than its own flange.
pub fn adapter(spec: &BoxSpec, cutout: ExactLength, flange: ExactLength) -> Result<Adapter, ModelError> {
    let large = spec.driver.as_ref().ok_or(ModelError::Missing { what: "the larger driver" })?;
    if cutout >= large.flange || cutout <= ExactLength::ZERO {
        return Err(ModelError::Impossible {
            what: "the smaller driver's hole is not smaller than the ring",
        });
    }
    if cutout >= flange {
        return Err(ModelError::Impossible { what: "the smaller driver's hole is larger than its flange" });
    }
    Ok(Adapter {
        outside: large.flange,
        hole: cutout,
        seat: (flange - cutout).halved(),
        rim: (large.flange - large.cutout).halved(),
        spare: (large.flange - flange).halved(),
    })
}

/// A plug for a tube: a disc that goes in and a larger one that stops it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Plug {
    /// The disc in the tube: 1 mm less than the bore, for a strip of gasket (common practice, no source).
    pub inner: ExactLength,
    /// The disc in front of it: 40 mm more than the bore (common practice, no source).
    pub outer: ExactLength,
}

/// The plug for a bore.
#[must_use]
pub fn plug(bore: ExactLength) -> Plug {
    let inner = (bore - ExactLength::from_hundredths_mm(100)).max(ExactLength::from_hundredths_mm(100));
    Plug { inner, outer: bore + ExactLength::from_hundredths_mm(4_000) }
}
