//! Facts about a box put together: gaps, clearances, misfits. No words; [`Fact::verdict`] says how bad.
use super::assembly::{Assembly, BodyKind, Role};
use super::axes::{Axis, Dims};
use super::overlap;
use super::parts::{Dimension, PartId};
use super::solids::Solid;
use super::spec::{BoxSpec, Port, SlotWidth};
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
    /// From a flange (or its recess) to the nearest edge of the front.
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
            Self::MagnetToBack { gap: found } if found <= zero => Verdict::Fails,
            Self::MagnetToBack { .. } => Verdict::Fine,
            Self::PoleVent { gap: found, wanted }
            | Self::PortToBack { gap: found, wanted }
            | Self::FlangeToEdge {
                gap: found, wanted, ..
            }
            | Self::WoodBehindRecess {
                left: found,
                wanted,
            } => gap(found, wanted),
            Self::FlangeToFlange { gap: found }
            | Self::FlangeToPort { gap: found, .. }
            | Self::TubeToTube { gap: found } => gap(found, SCREW_EDGE),
            Self::CutoutToWall { gap: found, .. }
            | Self::TubeToWall { gap: found, .. }
            | Self::TerminalToWall { gap: found }
            | Self::Space { spare: found, .. } => gap(found, zero),
            Self::Overlap { .. } => Verdict::Fails,
            Self::ThinBoard { .. }
            | Self::CutoutOverStrip { .. }
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
    if spec.board.thickness < THIN_BOARD {
        facts.push(Fact::ThinBoard {
            thickness: spec.board.thickness,
            wanted: THIN_BOARD,
        });
    }
    depth_facts(spec, assembly, &mut facts);
    front_facts(spec, assembly, &mut facts);
    terminal_facts(assembly, &mut facts);
    if let Some(space) = spec.space {
        let usable = space.usable();
        for axis in [Axis::Width, Axis::Height, Axis::Depth] {
            let spare = usable.get(axis) - assembly.outside.get(axis);
            facts.push(Fact::Space { axis, spare });
        }
    }
    facts.extend(
        overlap::overlaps(assembly)
            .into_iter()
            .map(|(a, b)| Fact::Overlap { a, b }),
    );
    facts.extend(assembly.misfits.iter().copied());
    facts
}

fn depth_facts(spec: &BoxSpec, assembly: &Assembly, facts: &mut Vec<Fact>) {
    if let Some(driver) = &spec.driver {
        let wood = assembly.front_thickness - spec.recess_depth();
        let gap = assembly.inside.depth - (driver.depth - wood);
        facts.push(Fact::MagnetToBack { gap });
        if let Some(vent) = driver.pole_vent {
            let quarter = ExactLength::from_eighth_micrometres(vent.eighth_micrometres() / 4);
            facts.push(Fact::PoleVent {
                gap,
                wanted: quarter.max(POLE_VENT_GAP),
            });
        }
        if driver.recess.is_some() {
            facts.push(Fact::WoodBehindRecess {
                left: wood,
                wanted: SCREW_EDGE,
            });
        }
    }
    if let Some(port) = assembly.port {
        facts.push(Fact::PortToBack {
            gap: port.to_back,
            wanted: port.height,
        });
    }
}

/// A round opening in the front, in millimetres.
#[derive(Clone, Copy)]
struct Opening {
    at: [f64; 2],
    radius: f64,
}

impl Opening {
    fn new(centre: Dims, diameter: ExactLength) -> Self {
        Self {
            at: [centre.width.millimetres(), centre.height.millimetres()],
            radius: diameter.millimetres() / 2.0,
        }
    }
    /// Smallest distance of the circle from the four sides of a rectangle it lies in.
    fn to_sides(self, min: [f64; 2], max: [f64; 2]) -> ExactLength {
        let apart = (0..2)
            .flat_map(|axis| [self.at[axis] - min[axis], max[axis] - self.at[axis]])
            .fold(f64::INFINITY, f64::min);
        ExactLength::from_millimetres(apart - self.radius)
    }
    /// Distance of two circles.
    fn to(self, other: Self) -> ExactLength {
        let apart = (self.at[0] - other.at[0]).hypot(self.at[1] - other.at[1]);
        ExactLength::from_millimetres(apart - self.radius - other.radius)
    }
    /// Distance of the circle from a rectangle beside it, or how deep its centre's circle reaches into it.
    fn to_rectangle(self, min: [f64; 2], max: [f64; 2]) -> ExactLength {
        let beside = |axis: usize| (min[axis] - self.at[axis]).max(self.at[axis] - max[axis]);
        let (across, up) = (beside(0), beside(1));
        let apart = if across <= 0.0 && up <= 0.0 {
            across.max(up)
        } else {
            across.max(0.0).hypot(up.max(0.0))
        };
        ExactLength::from_millimetres(apart - self.radius)
    }
}

/// Width and height coordinates of the corners of a body's bounds.
fn face(solid: &Solid) -> ([f64; 2], [f64; 2]) {
    let bounds = solid.bounds();
    (
        [bounds.min[1], bounds.min[2]],
        [bounds.max[1], bounds.max[2]],
    )
}

fn front_facts(spec: &BoxSpec, assembly: &Assembly, facts: &mut Vec<Fact>) {
    let low = assembly.inside_min;
    let high = low + assembly.inside;
    let corner = |at: Dims| [at.width.millimetres(), at.height.millimetres()];
    let (inside_min, inside_max) = (corner(low), corner(high));
    // The face of the front itself: whatever its layers cover.
    let mut front = (corner(Dims::default()), corner(assembly.outside));
    for body in assembly.with_role(Role::Shell) {
        if body.kind == BodyKind::Board(PartId::Front(0)) {
            front = face(&body.solid);
        }
    }
    let tubes: Vec<Opening> = match &spec.port {
        Port::Round(port) => {
            let outer = port.diameter + port.wall * 2;
            assembly
                .layout
                .tubes
                .iter()
                .map(|&at| Opening::new(at, outer))
                .collect()
        }
        _ => Vec::new(),
    };
    for (tube, opening) in (0u8..).zip(&tubes) {
        let gap = opening.to_sides(inside_min, inside_max);
        facts.push(Fact::TubeToWall { tube, gap });
    }
    if let Some(gap) = nearest_pair(&tubes) {
        facts.push(Fact::TubeToTube { gap });
    }
    let Some(driver) = &spec.driver else { return };
    let wide = driver.flange
        + driver
            .recess
            .map_or(ExactLength::ZERO, |recess| recess.clearance);
    let flanges: Vec<Opening> = assembly
        .layout
        .drivers
        .iter()
        .map(|&at| Opening::new(at, wide))
        .collect();
    for (number, (flange, &centre)) in (0u8..).zip(flanges.iter().zip(&assembly.layout.drivers)) {
        let gap = flange.to_sides(front.0, front.1);
        facts.push(Fact::FlangeToEdge {
            driver: number,
            gap,
            wanted: SCREW_EDGE,
        });
        let hole = Opening::new(centre, driver.cutout);
        let gap = hole.to_sides(inside_min, inside_max);
        facts.push(Fact::CutoutToWall {
            driver: number,
            gap,
        });
        let to_tube = tubes.iter().map(|&tube| flange.to(tube)).min();
        let to_slot = slot_opening(assembly, spec).map(|(min, max)| flange.to_rectangle(min, max));
        if let Some(gap) = to_tube.into_iter().chain(to_slot).min() {
            facts.push(Fact::FlangeToPort {
                driver: number,
                gap,
            });
        }
        if over_strip(assembly, hole) {
            facts.push(Fact::CutoutOverStrip { driver: number });
        }
    }
    if let Some(gap) = nearest_pair(&flanges) {
        facts.push(Fact::FlangeToFlange { gap });
    }
}

fn nearest_pair(openings: &[Opening]) -> Option<ExactLength> {
    let pairs = openings
        .iter()
        .enumerate()
        .flat_map(|(i, a)| openings.iter().skip(i + 1).map(|b| a.to(*b)));
    pairs.min()
}

/// The slot's mouth in the front, or, where the front just ends above it, that gap.
fn slot_opening(assembly: &Assembly, spec: &BoxSpec) -> Option<([f64; 2], [f64; 2])> {
    let mouth = assembly.bodies.iter().find(|body| {
        matches!(
            (body.kind, body.solid),
            (BodyKind::PortMouth(_), Solid::Block { .. })
        )
    });
    if let Some(mouth) = mouth {
        return Some(face(&mouth.solid));
    }
    match &spec.port {
        Port::Slot(slot) if slot.width == SlotWidth::Full => {
            let low = assembly.inside_min;
            let min = [low.width, low.height].map(ExactLength::millimetres);
            let max = [low.width + assembly.inside.width, low.height + slot.height];
            Some((min, max.map(ExactLength::millimetres)))
        }
        _ => None,
    }
}

/// Whether a strip lies behind the hole in the front, close enough to be seen and to be in the driver's way.
fn over_strip(assembly: &Assembly, hole: Opening) -> bool {
    assembly.with_role(Role::Displaced).any(|body| {
        let BodyKind::Strip(edge) = body.kind else {
            return false;
        };
        let at_front = edge.end(Axis::Depth) != Some(super::End::High);
        let (min, max) = face(&body.solid);
        at_front && hole.to_rectangle(min, max) < ExactLength::ZERO
    })
}

fn terminal_facts(assembly: &Assembly, facts: &mut Vec<Fact>) {
    let hole = assembly
        .bodies
        .iter()
        .find(|body| body.kind == BodyKind::TerminalHole);
    let Some(hole) = hole else { return };
    let (min, max) = face(&hole.solid);
    let low = assembly.inside_min;
    let high = low + assembly.inside;
    let gap = (min[0] - low.width.millimetres())
        .min(min[1] - low.height.millimetres())
        .min(high.width.millimetres() - max[0])
        .min(high.height.millimetres() - max[1]);
    facts.push(Fact::TerminalToWall {
        gap: ExactLength::from_millimetres(gap),
    });
}
