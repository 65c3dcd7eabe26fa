//! What makes one box stand in for many: blocks that take up air, plugs for ports, rings for smaller drivers.
use super::spec::BoxSpec;
use crate::model::error::ModelError;
use crate::units::{ExactLength, Volume};

/// Room around a block on its way through the driver's hole, on the diagonal: 6 mm (common practice, no source).
const SLIP: ExactLength = ExactLength::from_hundredths_mm(600);
/// Room a block keeps at its ends: 4 mm (common practice, no source).
const END_ROOM: ExactLength = ExactLength::from_hundredths_mm(400);
/// Most blocks one would handle.
const MOST_BLOCKS: usize = 24;

/// Equal square blocks that bring a box to a smaller net volume.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Insert {
    /// How many.
    pub count: usize,
    /// Side of the square section.
    pub side: ExactLength,
    /// Length.
    pub length: ExactLength,
    /// What they take together.
    pub volume: Volume,
    /// What then remains.
    pub net: Volume,
    /// Whether they go in through the driver's hole; otherwise a panel has to come off.
    pub through_hole: bool,
}

/// Blocks for a target volume: insert volume = net − target.
///
/// Those that go through the driver's hole have a section whose diagonal passes it, go in straight, and lie along the
/// depth beside the driver's magnet. Where too few places remain, one block across the back is given, for which a panel
/// must come off. Sizes are whole steps of the tape.
///
/// # Errors
/// [`ModelError::OutOfRange`] unless the target is above zero and below the net volume; [`ModelError::Impossible`] where
/// no such block goes in.
pub fn insert(
    spec: &BoxSpec,
    inside: super::Dims,
    net: Volume,
    target: Volume,
) -> Result<Insert, ModelError> {
    if !(target.litres() > 0.0 && target.litres() < net.litres()) {
        let what = "target volume in litres";
        return Err(ModelError::OutOfRange { what, value: target.litres(), min: 0.0, max: net.litres() });
    }
    let wanted = (net - target).cubic_metres() * 1e9;
    let step = spec.tape_step.max(ExactLength::from_hundredths_mm(100));
    let small = spec.driver.as_ref().and_then(|driver| {
        let room = inside.depth - END_ROOM;
        let most = ExactLength::from_millimetres(
            (driver.cutout - SLIP).millimetres() * std::f64::consts::FRAC_1_SQRT_2,
        );
        let places = |side: ExactLength| {
            places(inside, driver.cutout.max(driver.magnet), usize::from(driver.count), side)
        };
        blocks(wanted, most.rounded_down_to(step), room, step, places)
    });
    let (count, side, length, through_hole) = match small {
        Some((count, side, length)) => (count, side, length, true),
        None => {
            let (side, length) = across_back(spec, inside, wanted, step)?;
            (1, side, length, false)
        }
    };
    let taken = count as f64 * side.millimetres().powi(2) * length.millimetres();
    let volume = Volume::from_cubic_metres(taken * 1e-9);
    Ok(Insert { count, side, length, volume, net: net - volume, through_hole })
}

/// How many square blocks stand in the front's outline beside the drivers' bodies, in full rows and columns.
fn places(inside: super::Dims, body: ExactLength, drivers: usize, side: ExactLength) -> usize {
    let fit = |room: f64| (room.max(0.0) / side.millimetres().max(1.0)).floor() as usize;
    let (wide, high) = (inside.width.millimetres(), inside.height.millimetres());
    // Drivers stand in a row along the longer side, in its middle.
    let (long, short) = (wide.max(high), wide.min(high));
    let beside = (short - body.millimetres()) / 2.0;
    let ends = (long - body.millimetres() * drivers as f64) / 2.0;
    2 * fit(beside) * fit(long) + 2 * fit(ends) * fit(short - 2.0 * (fit(beside) as f64) * side.millimetres())
}

/// The fewest blocks whose section passes the hole, that are no longer than the room and have a place each.
fn blocks(
    wanted: f64,
    most: ExactLength,
    room: ExactLength,
    step: ExactLength,
    places: impl Fn(ExactLength) -> usize,
) -> Option<(usize, ExactLength, ExactLength)> {
    for count in 1..=MOST_BLOCKS {
        let each = wanted / count as f64;
        let least = (each / room.millimetres().max(1.0)).sqrt();
        // Up to the next step, so that the length keeps within the room.
        let side = up_to(least, step);
        if side <= ExactLength::ZERO || side > most || places(side) < count {
            continue;
        }
        let length = ExactLength::from_millimetres(each / side.millimetres().powi(2)).rounded_to(step);
        if length > ExactLength::ZERO && length <= room {
            return Some((count, side, length));
        }
    }
    None
}

/// The next whole step from so many millimetres up.
fn up_to(least_mm: f64, step: ExactLength) -> ExactLength {
    ExactLength::from_millimetres(least_mm + step.millimetres() - 1e-6).rounded_down_to(step)
}

/// One square block across the back, clear of the driver.
fn across_back(
    spec: &BoxSpec,
    inside: super::Dims,
    wanted: f64,
    step: ExactLength,
) -> Result<(ExactLength, ExactLength), ModelError> {
    let wide = inside.width.max(inside.height) - END_ROOM;
    let reach = spec
        .driver
        .as_ref()
        .map_or(ExactLength::ZERO, |driver| spec.recess_depth() + driver.depth - spec.front_thickness());
    let most = (inside.depth - reach.max(ExactLength::ZERO)).min(inside.width.min(inside.height)) - END_ROOM;
    let least = (wanted / wide.millimetres().max(1.0)).sqrt();
    let side = up_to(least, step);
    let length = ExactLength::from_millimetres(wanted / side.millimetres().max(1.0).powi(2)).rounded_to(step);
    if side <= ExactLength::ZERO || length <= ExactLength::ZERO || side > most || length > wide {
        return Err(ModelError::Impossible {
            what: "a block that large finds no place beside or behind the driver",
        });
    }
    Ok((side, length))
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
