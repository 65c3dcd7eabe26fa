//! Facts about a box put together: gaps, clearances, misfits. No words; [`Fact::verdict`] says how bad.
mod elsewhere;
mod forms;
mod front;
mod shaped;

use super::assembly::{Assembly, BodyKind};
use super::axes::Axis;
use super::clearance::counted;
use super::edges;
use super::overlap;
use super::parts::{Dimension, PartId};
use super::spec::{BoxSpec, DriverCutout, Port};
use crate::units::ExactLength;

/// Smallest gap behind a vented pole piece, 25 mm: common practice, no source.
pub const POLE_VENT_GAP: ExactLength = ExactLength::from_hundredths_mm(2500);
/// Wood around a flange and behind a recess, 12 mm: a screw into a face stays 12 mm from the board's edge
/// (`handbook.csv`, row `screw-face-edge`).
pub const SCREW_EDGE: ExactLength = ExactLength::from_hundredths_mm(1200);
/// Thinnest board for a subwoofer's box, 12 mm: common practice, no source.
pub const THIN_BOARD: ExactLength = ExactLength::from_hundredths_mm(1200);

/// One finding. Gaps below zero mean that two things overlap by that much.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fact {
    /// From the driver's rear to the back; along `Axis::Depth`.
    MagnetToBack {
        /// The gap.
        gap: ExactLength,
    },
    /// The same gap against what a vented pole piece needs: 25 mm, or a quarter of the vent's diameter if that is more
    /// (area of the vent π d²/4 against the ring π d g around its mouth; derived).
    PoleVent {
        /// The gap.
        gap: ExactLength,
        /// What it should be.
        wanted: ExactLength,
    },
    /// From the port's inner end to the back, against the slot's height or the tube's diameter
    /// (geometry.md section 5).
    PortToBack {
        /// The gap.
        gap: ExactLength,
        /// What it should be.
        wanted: ExactLength,
    },
    /// From a flange (or its recess) to the nearest edge of its board.
    FlangeToEdge {
        /// Which driver.
        driver: u8,
        /// The wood between.
        gap: ExactLength,
        /// What it should be.
        wanted: ExactLength,
    },
    /// Between the flanges of two drivers.
    FlangeToFlange {
        /// The wood between.
        gap: ExactLength,
    },
    /// From a flange (or its recess) to the mouth of a port.
    FlangeToPort {
        /// Which driver.
        driver: u8,
        /// The wood between.
        gap: ExactLength,
    },
    /// From a driver's hole to the nearest wall inside; below zero the hole runs into a wall's edge.
    CutoutToWall {
        /// Which driver.
        driver: u8,
        /// The gap.
        gap: ExactLength,
    },
    /// From the driver's rear to the side opposite, of a driver in a divider.
    MagnetToSide {
        /// The gap.
        gap: ExactLength,
    },
    /// From the rear of a driver in another face than the front to the board opposite.
    MagnetToBoard {
        /// Which driver.
        driver: u8,
        /// The gap.
        gap: ExactLength,
    },
    /// Between the rears of two drivers that look away from each other.
    MagnetToMagnet {
        /// The gap.
        gap: ExactLength,
    },
    /// From a passive radiator's flange to the nearest edge of its board.
    RadiatorToEdge {
        /// Which radiator.
        radiator: u8,
        /// The wood between.
        gap: ExactLength,
        /// What it should be.
        wanted: ExactLength,
    },
    /// From a passive radiator's flange to the nearest other flange.
    RadiatorToFlange {
        /// The wood between.
        gap: ExactLength,
    },
    /// From a passive radiator's hole to the nearest wall inside.
    RadiatorToWall {
        /// Which radiator.
        radiator: u8,
        /// The gap.
        gap: ExactLength,
    },
    /// From a passive radiator's rear to the board opposite.
    RadiatorBehind {
        /// The gap.
        gap: ExactLength,
    },
    /// From a tube to the nearest wall inside.
    TubeToWall {
        /// Which tube.
        tube: u8,
        /// The gap.
        gap: ExactLength,
    },
    /// Between two tubes.
    TubeToTube {
        /// The wood between.
        gap: ExactLength,
    },
    /// From the terminal hole to the nearest wall inside.
    TerminalToWall {
        /// The gap.
        gap: ExactLength,
    },
    /// From the terminals, or the window their plate lies in, to the nearest flange or port in the same board.
    TerminalBeside {
        /// The wood between.
        gap: ExactLength,
    },
    /// Wood left under the flange for the screws: T − r.
    WoodBehindRecess {
        /// The wood left.
        left: ExactLength,
        /// What it should be.
        wanted: ExactLength,
    },
    /// Two bodies occupy the same place, so the ledger counts the common part twice.
    Overlap {
        /// One body.
        a: BodyKind,
        /// The other.
        b: BodyKind,
    },
    /// A driver's hole shows part of a corner strip.
    CutoutOverStrip {
        /// Which driver.
        driver: u8,
    },
    /// What the space leaves along an axis after the clearance on both faces.
    Space {
        /// The axis.
        axis: Axis,
        /// Room left; below zero the box doesn't go in.
        spare: ExactLength,
    },
    /// The board is thinner than common practice.
    ThinBoard {
        /// Its thickness.
        thickness: ExactLength,
        /// What it should be.
        wanted: ExactLength,
    },
    /// Corner strips asked for in edges whose boards don't meet at right angles, and left out.
    StripsLeftOut {
        /// How many.
        count: u8,
    },
    /// Corner strips asked for in edges that a slot or a batten runs along, and left out.
    StripsInSlot {
        /// How many.
        count: u8,
    },
    /// What a leaning limit of the space leaves, square to it, after the clearance.
    SlantedSpace {
        /// Room left; below zero the box doesn't go in.
        spare: ExactLength,
    },
    /// Pieces that decide the inside along an axis were not cut alike; the shortest was taken.
    Unequal {
        /// The axis.
        axis: Axis,
        /// The inside by the shortest.
        inside: ExactLength,
        /// How much longer the longest is.
        difference: ExactLength,
    },
    /// Tubes were not cut alike.
    UnequalPort {
        /// Longest less shortest.
        difference: ExactLength,
    },
    /// A piece that follows the others is too long (above zero: trim it) or too short (below zero: a gap).
    Cover {
        /// The piece.
        part: PartId,
        /// Which of its sizes.
        dimension: Dimension,
        /// By how much.
        over: ExactLength,
    },
}

/// How a fact is to be taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// In order.
    Fine,
    /// Less than wanted; it can be built.
    Tight,
    /// It can't be built or won't work so.
    Fails,
}

impl Fact {
    /// How the fact is to be taken.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        let zero = ExactLength::ZERO;
        let gap = |gap: ExactLength, wanted: ExactLength| {
            if gap < zero {
                Verdict::Fails
            } else if gap < wanted {
                Verdict::Tight
            } else {
                Verdict::Fine
            }
        };
        match *self {
            Self::MagnetToBack { gap: found }
            | Self::MagnetToSide { gap: found }
            | Self::MagnetToBoard { gap: found, .. }
            | Self::MagnetToMagnet { gap: found }
            | Self::PortToBack { gap: found, .. }
                if found <= zero =>
            {
                Verdict::Fails
            }
            Self::MagnetToBack { .. }
            | Self::MagnetToSide { .. }
            | Self::MagnetToBoard { .. }
            | Self::MagnetToMagnet { .. } => Verdict::Fine,
            Self::PoleVent { gap: found, wanted }
            | Self::PortToBack { gap: found, wanted }
            | Self::FlangeToEdge { gap: found, wanted, .. }
            | Self::RadiatorToEdge { gap: found, wanted, .. }
            | Self::WoodBehindRecess { left: found, wanted } => gap(found, wanted),
            Self::FlangeToFlange { gap: found }
            | Self::RadiatorToFlange { gap: found }
            | Self::FlangeToPort { gap: found, .. }
            | Self::TerminalBeside { gap: found }
            | Self::TubeToTube { gap: found } => gap(found, SCREW_EDGE),
            Self::CutoutToWall { gap: found, .. }
            | Self::RadiatorToWall { gap: found, .. }
            | Self::RadiatorBehind { gap: found }
            | Self::TubeToWall { gap: found, .. }
            | Self::TerminalToWall { gap: found }
            | Self::Space { spare: found, .. }
            | Self::SlantedSpace { spare: found } => gap(found, zero),
            Self::Overlap { .. } => Verdict::Fails,
            Self::ThinBoard { .. }
            | Self::CutoutOverStrip { .. }
            | Self::StripsLeftOut { .. }
            | Self::StripsInSlot { .. }
            | Self::Unequal { .. }
            | Self::UnequalPort { .. }
            | Self::Cover { .. } => Verdict::Tight,
        }
    }
}

/// All facts about a box.
#[must_use]
pub fn facts(spec: &BoxSpec, assembly: &Assembly) -> Vec<Fact> {
    let mut facts = Vec::new();
    let thickness = spec.boards.shell.thickness.min(spec.front_thickness());
    if thickness < THIN_BOARD {
        facts.push(Fact::ThinBoard { thickness, wanted: THIN_BOARD });
    }
    if spec.profile.is_some() {
        shaped::facts(spec, assembly, &mut facts);
    } else {
        square_facts(spec, assembly, &mut facts);
    }
    space_facts(spec, assembly, &mut facts);
    for (a, b) in overlap::overlaps(assembly) {
        facts.push(Fact::Overlap { a, b });
    }
    facts.extend_from_slice(&assembly.misfits);
    facts
}

/// What only boxes of square corners are asked.
fn square_facts(spec: &BoxSpec, assembly: &Assembly, facts: &mut Vec<Fact>) {
    let inside = (front::corner(assembly.inside_min), front::corner(assembly.inside_min + assembly.inside));
    if spec.is_plain() {
        depth_facts(spec, assembly, facts);
        front::front_facts(spec, assembly, inside, facts);
    } else {
        forms::facts(spec, assembly, facts);
    }
    match assembly.port {
        Some(port) if port.bends > 0 => bent_facts(spec, assembly, facts),
        _ => {
            if spec.is_plain() && (matches!(spec.port, Port::Slot(_)) || spec.loose.is_some()) {
                forms::strips_in_slots(spec, facts);
            }
            front::terminal_facts(spec, assembly, facts);
        }
    }
    if is_unusual(spec) {
        elsewhere::facts(spec, assembly, facts);
    }
}

/// What only boxes with a bent slot are asked.
#[inline(never)] // few boxes have one: it may come after the first result
fn bent_facts(spec: &BoxSpec, assembly: &Assembly, facts: &mut Vec<Fact>) {
    forms::strips_in_slots(spec, facts);
    let hole = assembly.bodies.iter().find(|body| body.kind == BodyKind::TerminalHole);
    if let (Some(hole), Some(free)) = (hole, assembly.before_bent()) {
        let (bounds, [low, high]) = (hole.solid.bounds(), free.map(|at| at.millimetres()));
        let gaps = [0, 2].map(|i| (bounds.min[i] - low[i]).min(high[i] - bounds.max[i]));
        facts.push(Fact::TerminalToWall { gap: ExactLength::from_millimetres(gaps[0].min(gaps[1])) });
    }
}

/// Whether drivers or terminals are where they rarely are.
fn is_unusual(spec: &BoxSpec) -> bool {
    let terminal = spec.terminal.as_ref().is_some_and(|terminal| terminal.face != edges::BACK);
    terminal || spec.driver.as_ref().is_some_and(|driver| !driver.elsewhere.is_empty())
}

fn pole_vent(driver: &DriverCutout, gap: ExactLength) -> Option<Fact> {
    let vent = driver.pole_vent?;
    let quarter = ExactLength::from_eighth_micrometres(vent.eighth_micrometres() / 4);
    Some(Fact::PoleVent { gap, wanted: quarter.max(POLE_VENT_GAP) })
}

fn space_facts(spec: &BoxSpec, assembly: &Assembly, facts: &mut Vec<Fact>) {
    let Some(space) = spec.space else { return };
    let usable = space.usable();
    let counted = counted(assembly.outside, assembly.untrimmed(), usable);
    for axis in [Axis::Width, Axis::Height, Axis::Depth] {
        let spare = usable.get(axis) - counted.get(axis);
        facts.push(Fact::Space { axis, spare });
    }
    if let Some(slant) = space.slant {
        facts.push(Fact::SlantedSpace { spare: shaped::slant_spare(assembly, slant, space.clearance) });
    }
}

fn depth_facts(spec: &BoxSpec, assembly: &Assembly, facts: &mut Vec<Fact>) {
    if let Some(driver) = spec.driver.as_ref().filter(|driver| driver.in_front() > 0) {
        let wood = assembly.front_thickness - spec.recess_depth();
        let gap = assembly.depth_behind_drivers(driver.magnet) - (driver.depth - wood);
        facts.push(Fact::MagnetToBack { gap });
        facts.extend(pole_vent(driver, gap));
        if driver.recess.is_some() {
            facts.push(Fact::WoodBehindRecess { left: wood, wanted: SCREW_EDGE });
        }
    }
    if let Some(port) = assembly.port {
        facts.push(Fact::PortToBack { gap: port.to_back, wanted: port.height });
    }
}
