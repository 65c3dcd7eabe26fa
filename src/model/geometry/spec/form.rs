//! What makes a box more than one room behind its front: passive radiators, a divider, or no box at all.
use super::{BoxSpec, MOST, Port, SlotWidth, length};
use crate::model::error::{ModelError, within};
use crate::model::geometry::edges::{FRONT, LEFT, Place, RIGHT};
use crate::units::{ExactLength, Volume};

/// How the boards stand to one another.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Form {
    /// One room.
    #[default]
    Plain,
    /// One room with openings for passive radiators.
    Radiators(RadiatorCutout),
    /// Two rooms side by side; the drivers sit in the board between them.
    Divided(Divider),
    /// A front by itself: an infinite baffle.
    Baffle,
}

/// Openings for equal passive radiators.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RadiatorCutout {
    /// How many: 1 or 2.
    pub count: u8,
    /// Diameter of the hole.
    pub cutout: ExactLength,
    /// Outside diameter of the flange, which lies on the board.
    pub flange: ExactLength,
    /// Depth behind the flange plane, its own travel included.
    pub depth: ExactLength,
    /// Volume of all that lies behind the flange plane, each.
    pub displacement: Volume,
    /// Where they sit.
    pub place: RadiatorPlace,
}

/// Where passive radiators sit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RadiatorPlace {
    /// In the front, beside the drivers.
    Front,
    /// The first in the left side, the second in the right one, so that two cancel each other's shake.
    Sides,
}

/// A board parallel to the sides that carries the drivers; the room before the cones lies left of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Divider {
    /// Inside width of the room before the cones.
    pub room: ExactLength,
    /// What leads from that room through the front.
    pub port: ChamberPort,
    /// Whether the port of the room behind the cones leads through the divider, not through the front.
    pub inward: bool,
}

/// What leads out of the room before the cones.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChamberPort {
    /// Tubes through the front.
    Tubes(ChamberTubes),
    /// A straight slot on the floor, from the left side to the divider, behind the front.
    Slot(ChamberSlot),
}

/// A slot as wide as its room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ChamberSlot {
    /// Height of the opening.
    pub height: ExactLength,
    /// Whole length, the front included.
    pub length: ExactLength,
}

/// Equal tubes of a chamber.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ChamberTubes {
    /// How many; 1 to 8.
    pub count: u8,
    /// Inner diameter.
    pub diameter: ExactLength,
    /// Wall of the tube.
    pub wall: ExactLength,
    /// Whole length, the board it goes through included.
    pub length: ExactLength,
}

impl Divider {
    /// The tubes of the room before the cones, if it has any.
    #[must_use]
    pub const fn tubes(&self) -> Option<ChamberTubes> {
        match self.port {
            ChamberPort::Tubes(tubes) => Some(tubes),
            ChamberPort::Slot(_) => None,
        }
    }

    /// The slot of the room before the cones, if it has one.
    #[must_use]
    pub const fn slot(&self) -> Option<ChamberSlot> {
        match self.port {
            ChamberPort::Slot(slot) => Some(slot),
            ChamberPort::Tubes(_) => None,
        }
    }
}

impl ChamberTubes {
    /// Outer diameter.
    #[must_use]
    pub fn outer(self) -> ExactLength {
        self.diameter + self.wall * 2
    }
}

impl BoxSpec {
    /// Whether there is one room without radiators.
    #[must_use]
    pub const fn is_plain(&self) -> bool {
        matches!(self.form, Form::Plain)
    }

    /// Whether there is no box behind the front.
    #[must_use]
    pub const fn is_baffle(&self) -> bool {
        matches!(self.form, Form::Baffle)
    }

    /// The divider, if there is one.
    #[must_use]
    pub const fn divider(&self) -> Option<Divider> {
        match self.form {
            Form::Divided(divider) => Some(divider),
            _ => None,
        }
    }

    /// The passive radiators, if there are any.
    #[must_use]
    pub const fn radiators(&self) -> Option<RadiatorCutout> {
        match self.form {
            Form::Radiators(radiators) => Some(radiators),
            _ => None,
        }
    }

    /// The passive radiators of one face and how many there are, where it has any.
    #[must_use]
    #[inline(never)] // few boxes have any: it may come after the first result
    pub fn radiators_in(&self, face: Place) -> Option<(u8, RadiatorCutout)> {
        let radiators = self.radiators()?;
        let count = match (radiators.place, face) {
            (RadiatorPlace::Front, FRONT) => radiators.count,
            (RadiatorPlace::Sides, LEFT) => radiators.count.min(1),
            (RadiatorPlace::Sides, RIGHT) => radiators.count.saturating_sub(1),
            _ => 0,
        };
        (count > 0).then_some((count, radiators))
    }

    /// Whether the port leads from one room into the other.
    #[must_use]
    pub const fn port_is_inner(&self) -> bool {
        matches!(self.form, Form::Divided(Divider { inward: true, .. }))
    }

    /// Thickness of the board the port goes through.
    #[must_use]
    pub fn port_board(&self) -> ExactLength {
        if self.port_is_inner() { self.boards.inner.thickness } else { self.front_thickness() }
    }

    /// Inside width that the room before the cones and its divider take from the left.
    #[must_use]
    pub fn before_cones(&self) -> ExactLength {
        self.divider().map_or(ExactLength::ZERO, |divider| divider.room + self.boards.inner.thickness)
    }

    /// Checks the form's own numbers, and what can't be joined with it.
    #[inline(never)]
    pub(super) fn check_form(&self) -> Result<(), ModelError> {
        match self.form {
            Form::Plain => Ok(()),
            Form::Radiators(radiators) => radiators.check(),
            Form::Divided(divider) => self.check_divider(divider),
            Form::Baffle => {
                let alone = self.port == Port::None
                    && self.profile.is_none()
                    && self.strips.is_none()
                    && self.terminal.is_none()
                    && self.braces.is_empty()
                    && self.legs.is_none();
                refuse_unless(
                    alone,
                    "a baffle has no box for port, strips, braces, terminals, legs or shaped sides",
                )
            }
        }
    }

    fn check_divider(&self, divider: Divider) -> Result<(), ModelError> {
        length("width of the room before the drivers in mm", divider.room, false)?;
        let long = match divider.port {
            ChamberPort::Tubes(tubes) => {
                within("tubes of the room before the drivers", f64::from(tubes.count), 1.0, f64::from(MOST))?;
                length("diameter of the tubes before the drivers in mm", tubes.diameter, false)?;
                length("wall of the tubes before the drivers in mm", tubes.wall, true)?;
                length("length of the tubes before the drivers in mm", tubes.length, false)?;
                tubes.length
            }
            ChamberPort::Slot(slot) => {
                length("height of the slot before the drivers in mm", slot.height, false)?;
                length("length of the slot before the drivers in mm", slot.length, false)?;
                slot.length
            }
        };
        refuse_unless(long >= self.front_thickness(), "the port is shorter than the front is thick")?;
        if let Port::Slot(slot) = &self.port {
            refuse_unless(
                !divider.inward,
                "a port through the divider is planned with tubes, not with a slot",
            )?;
            refuse_unless(
                slot.width == SlotWidth::Full && slot.bends == 0,
                "a slot in a divided box is straight and as wide as its room",
            )?;
        }
        let beside = self.strips.as_ref().is_none_or(|strips| {
            strips.edges.iter().all(|edge| edge.along != crate::model::geometry::Axis::Width)
        });
        refuse_unless(beside, "a corner strip can't run through the divider")?;
        refuse_unless(self.legs.is_none(), "a box with its driver inside does not fire at the floor")
    }
}

impl RadiatorCutout {
    fn check(self) -> Result<(), ModelError> {
        within("passive radiators", f64::from(self.count), 1.0, 2.0)?;
        length("radiator cut-out diameter in mm", self.cutout, false)?;
        length("radiator outside diameter in mm", self.flange, false)?;
        length("radiator depth in mm", self.depth, true)?;
        within("radiator volume in litres", self.displacement.litres(), 0.0, 1000.0)?;
        refuse_unless(
            self.cutout <= self.flange,
            "the radiator's cut-out is larger than its outside diameter",
        )
    }
}

fn refuse_unless(right: bool, what: &'static str) -> Result<(), ModelError> {
    if right { Ok(()) } else { Err(ModelError::Impossible { what }) }
}
