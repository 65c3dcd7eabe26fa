//! The range of every number of a specification, and what excludes what before anything is cut.
use super::{
    BOARD_RANGE, BoxSpec, DriverCutout, Form, HoleShape, LONGEST, Loose, MOST, Port, SlotWidth, TerminalHole,
    Window, WindowBrace,
};
use crate::model::error::{ModelError, within};
use crate::model::geometry::axes::{Axis, End};
use crate::model::geometry::edges::{BACK, FRONT, RIGHT};
use crate::units::ExactLength;

impl BoxSpec {
    /// Checks every number against its range, and what excludes what before anything is cut.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for a number outside its range, [`ModelError::Impossible`] for a recess as deep as the
    /// front, a port shorter than the front is thick, a repeated strip edge or a window without room.
    pub fn check(&self) -> Result<(), ModelError> {
        length("outside width in mm", self.outside.width, false)?;
        length("outside height in mm", self.outside.height, false)?;
        length("outside depth in mm", self.outside.depth, false)?;
        let [thin, thick] = BOARD_RANGE.map(ExactLength::millimetres);
        let shell = self.boards.shell;
        within("board thickness in mm", shell.thickness.millimetres(), thin, thick)?;
        within("board density in kg/m³", shell.density_kg_m3, 50.0, 3000.0)?;
        if self.is_special() {
            self.check_special()?;
        }
        within("front layers", f64::from(self.front_layers), 1.0, 2.0)?;
        within("tape step in mm", self.tape_step.millimetres(), 0.0, 50.0)?;
        within("saw kerf in mm", self.kerf.millimetres(), 0.0, 20.0)?;
        self.check_driver()?;
        self.check_strips()?;
        self.check_port()?;
        self.check_terminal()?;
        for brace in &self.braces {
            within("braces of a kind", f64::from(brace.count), 1.0, f64::from(MOST))?;
            if brace.is_solid() {
                super::super::halves::check(self)?;
            } else {
                brace.window.check("brace window in mm")?;
            }
        }
        within("kinds of brace", self.braces.len() as f64, 0.0, 3.0)?;
        if let Some(legs) = self.legs {
            legs.check(self)?;
        }
        if !self.is_plain() {
            self.check_form()?;
        }
        if let Some(loose) = self.loose {
            self.check_loose(loose)?;
        }
        if let Some(space) = self.space {
            length("space width in mm", space.size.width, true)?;
            length("space height in mm", space.size.height, true)?;
            length("space depth in mm", space.size.depth, true)?;
            length("clearance in mm", space.clearance, true)?;
        }
        Ok(())
    }

    /// The other boards, and the owners of the edges.
    #[inline(never)] // only these boxes need it: it may come after the first result
    fn check_special(&self) -> Result<(), ModelError> {
        let [thin, thick] = BOARD_RANGE.map(ExactLength::millimetres);
        let [outer, under] = self.boards.front;
        for board in [outer, under, self.boards.inner, self.boards.strips] {
            within("board thickness in mm", board.thickness.millimetres(), thin, thick)?;
            within("board density in kg/m³", board.density_kg_m3, 50.0, 3000.0)?;
        }
        // Of a shaped box the sides cover everything, whatever is said of edges.
        if self.profile.is_none() { self.owners.check() } else { Ok(()) }
    }

    fn check_driver(&self) -> Result<(), ModelError> {
        let Some(driver) = &self.driver else {
            return Ok(());
        };
        within("drivers", f64::from(driver.count), 1.0, f64::from(MOST))?;
        length("driver cut-out diameter in mm", driver.cutout, false)?;
        length("driver outside diameter in mm", driver.flange, false)?;
        length("driver depth in mm", driver.depth, true)?;
        length("magnet diameter in mm", driver.magnet, true)?;
        length("pole vent diameter in mm", driver.pole_vent.unwrap_or_default(), true)?;
        within("driver volume in litres", driver.displacement.litres(), 0.0, 1000.0)?;
        within("driver centres", driver.centres.len() as f64, 0.0, f64::from(driver.count))?;
        if !driver.centres.is_empty() {
            check_centres(&driver.centres)?;
        }
        if !driver.elsewhere.is_empty() {
            self.check_elsewhere(driver)?;
        }
        if driver.cutout > driver.flange {
            return Err(ModelError::Impossible {
                what: "the driver's cut-out is larger than its outside diameter",
            });
        }
        if let Some(recess) = driver.recess {
            length("recess depth in mm", recess.depth.unwrap_or_default(), true)?;
            within("recess clearance in mm", recess.clearance.millimetres(), 0.0, 50.0)?;
            if self.recess_depth() >= self.front_thickness() {
                return Err(ModelError::Impossible {
                    what: "the recess is as deep as the front is thick: nothing holds the driver",
                });
            }
        }
        Ok(())
    }

    /// What can't be joined with drivers in other faces.
    #[inline(never)] // few boxes have any: it may come after the first result
    fn check_elsewhere(&self, driver: &DriverCutout) -> Result<(), ModelError> {
        within("drivers in other faces", driver.elsewhere.len() as f64, 0.0, f64::from(driver.count))?;
        let refuse = |what| Err(ModelError::Impossible { what });
        if driver.elsewhere.contains(&FRONT) {
            return refuse("the front is no other face");
        }
        match self.form {
            Form::Divided(_) => {
                return refuse(
                    "the drivers of a divided box sit in the board between its rooms, in no other face",
                );
            }
            Form::Baffle => return refuse("a baffle is one board: its drivers have no other face"),
            Form::Plain | Form::Radiators(_) => {}
        }
        if self.braces.iter().any(WindowBrace::is_solid) {
            return refuse(
                "where drivers have air of their own they sit in the front, left and right of the board between",
            );
        }
        Ok(())
    }

    fn check_strips(&self) -> Result<(), ModelError> {
        let Some(strips) = &self.strips else {
            return Ok(());
        };
        length("corner strip face in mm", strips.face, false)?;
        length("corner strip length in mm", strips.length.unwrap_or_default(), true)?;
        let edges = strips.edges.iter();
        if edges.clone().enumerate().any(|(place, edge)| edges.clone().take(place).any(|other| other == edge))
        {
            return Err(ModelError::Impossible { what: "two corner strips stand in the same edge" });
        }
        Ok(())
    }

    fn check_port(&self) -> Result<(), ModelError> {
        if self.port == Port::None { Ok(()) } else { self.check_opening() }
    }

    #[inline(never)] // the first picture is of a closed box
    fn check_opening(&self) -> Result<(), ModelError> {
        let port_length = match &self.port {
            Port::None => return Ok(()),
            Port::Round(round) => {
                within("port tubes", f64::from(round.count), 1.0, f64::from(MOST))?;
                length("port diameter in mm", round.diameter, false)?;
                length("port wall in mm", round.wall, true)?;
                within("port centres", round.centres.len() as f64, 0.0, f64::from(round.count))?;
                for centre in &round.centres {
                    length("port centre in mm", centre.width, true)?;
                    length("port centre in mm", centre.height, true)?;
                }
                round.length
            }
            Port::Slot(slot) => {
                length("slot height in mm", slot.height, false)?;
                within("bends of the slot", f64::from(slot.bends), 0.0, 2.0)?;
                match slot.width {
                    SlotWidth::Full => {}
                    SlotWidth::AgainstSide(width) | SlotWidth::FreeStanding(width) => {
                        length("slot width in mm", width, false)?;
                    }
                }
                slot.length
            }
        };
        length("port length in mm", port_length, false)?;
        if port_length < self.port_board() {
            return Err(ModelError::Impossible { what: "the port is shorter than the front is thick" });
        }
        Ok(())
    }

    fn check_terminal(&self) -> Result<(), ModelError> {
        let Some(terminal) = &self.terminal else {
            return Ok(());
        };
        match terminal.shape {
            HoleShape::Round(diameter) => length("terminal hole in mm", diameter, false)?,
            HoleShape::Rectangle(window) => window.check("terminal hole in mm")?,
        }
        length("terminal cup depth in mm", terminal.cup_depth, true)?;
        let volume = terminal.cup_volume.unwrap_or_default().litres();
        within("terminal cup volume in litres", volume, 0.0, 100.0)?;
        if let Some(centre) = terminal.centre {
            length("terminal centre in mm", centre.width, true)?;
            length("terminal centre in mm", centre.height, true)?;
            length("terminal centre in mm", centre.depth, true)?;
        }
        if terminal.face == BACK { Ok(()) } else { self.check_terminal_elsewhere(terminal) }
    }
}

impl BoxSpec {
    /// Whether a board can come off, and rests on something.
    #[inline(never)] // few boxes have one: it may come after the first result
    fn check_loose(&self, loose: Loose) -> Result<(), ModelError> {
        length("battens in mm", loose.batten, true)?;
        let refuse = |what| Err(ModelError::Impossible { what });
        if loose.face == FRONT || self.is_baffle() {
            return refuse("the front does not come off: choose another board");
        }
        let side = loose.face.0 == Axis::Width;
        if side && self.legs.is_some() {
            return refuse("the sides of a box on legs carry it: another board comes off");
        }
        if self.profile.is_some() {
            if !side && loose.batten == ExactLength::ZERO {
                return refuse(
                    "of a shaped box only a side rests on all other boards: give the battens of the board that comes off a thickness",
                );
            }
            return Ok(());
        }
        let over = loose
            .face
            .0
            .others()
            .into_iter()
            .all(|axis| End::BOTH.into_iter().all(|end| self.owners.owns(loose.face, (axis, end))));
        if loose.batten == ExactLength::ZERO && !over {
            return refuse(
                "the board that comes off stands between others and rests on nothing: give its battens a thickness, or let it run over all its edges",
            );
        }
        Ok(())
    }

    /// What can't be joined with terminals in another face than the back.
    #[inline(never)] // few boxes have them there: it may come after the first result
    fn check_terminal_elsewhere(&self, terminal: &TerminalHole) -> Result<(), ModelError> {
        length("window around the terminals in mm", terminal.window.unwrap_or_default(), true)?;
        if self.divider().is_some() && terminal.face != RIGHT {
            return Err(ModelError::Impossible {
                what: "terminals of a divided box go into the back or the right side, behind the drivers",
            });
        }
        if self.legs.is_some() && terminal.face == FRONT {
            return Err(ModelError::Impossible {
                what: "the front of a box on legs looks at the floor: its terminals go into another face",
            });
        }
        Ok(())
    }
}

impl Window {
    fn check(self, what: &'static str) -> Result<(), ModelError> {
        length(what, self.across, true)?;
        length(what, self.up, true)?;
        length(what, self.corner_radius, true)?;
        if self.corner_radius * 2 > self.across.min(self.up) {
            return Err(ModelError::Impossible { what: "the corner radius is more than half the opening" });
        }
        Ok(())
    }
}

#[inline(never)] // few boxes have any typed: it may come after the first result
fn check_centres(centres: &[crate::model::geometry::Dims]) -> Result<(), ModelError> {
    centres.iter().try_for_each(|centre| {
        length("driver centre in mm", centre.width, true)?;
        length("driver centre in mm", centre.height, true)
    })
}

/// An error naming `what` unless `value` is within zero (or the smallest countable length) and [`LONGEST`].
pub(super) fn length(what: &'static str, value: ExactLength, zero_allowed: bool) -> Result<(), ModelError> {
    let least = if zero_allowed { 0.0 } else { 0.01 };
    within(what, value.millimetres(), least, LONGEST.millimetres()).map(|_| ())
}
