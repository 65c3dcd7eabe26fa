//! Everything about one box: parts, three builds (exact, planned, as built), facts, fence order, wood.
use super::assembly::Assembly;
use super::checks::{self, Fact};
use super::fence::{self, FenceSetting};
use super::ledger::Ledger;
use super::parts::{self, Part, Stock};
use super::sizes::Sizes;
use super::spec::{AsBuilt, BoxSpec};
use super::strips;
use crate::model::error::ModelError;
use crate::units::{Area, ExactLength, Mass, Volume};

/// A box put together from one set of sizes.
#[derive(Clone, Debug, PartialEq)]
pub struct Build {
    /// The sizes.
    pub sizes: Sizes,
    /// The box.
    pub assembly: Assembly,
    /// Its air; of a divided box that behind the drivers.
    pub ledger: Ledger,
    /// The air before the drivers of a divided box.
    pub front_room: Option<Ledger>,
}

impl Build {
    /// Puts the box together and adds up its air.
    ///
    /// # Errors
    /// As [`Assembly::from_sizes`], and [`ModelError::Impossible`] where no air remains.
    pub fn new(spec: &BoxSpec, sizes: Sizes) -> Result<Self, ModelError> {
        let assembly = Assembly::from_sizes(spec, &sizes)?;
        let ledger = if spec.is_baffle() { Ledger::empty() } else { Ledger::of(spec, &assembly) };
        let front_room = if spec.is_plain() { None } else { Ledger::of_front_room(spec, &assembly) };
        if !spec.is_baffle() {
            some_air(ledger.net)?;
        }
        if let Some(room) = &front_room {
            some_air(room.net)?;
        }
        Ok(Self { sizes, assembly, ledger, front_room })
    }
}

/// Net volume of the box cut to the given step, without placing anything on its front; of a divided box both rooms
/// together, which does not depend on where the divider stands.
///
/// # Errors
/// As [`Build::new`].
pub(super) fn net_at_step(spec: &BoxSpec, step: ExactLength) -> Result<Volume, ModelError> {
    let assembly = Assembly::for_air(spec, &Sizes::with_step(spec, step)?)?;
    let net = some_air(Ledger::of(spec, &assembly).net)?;
    Ok(match Ledger::of_front_room(spec, &assembly) {
        Some(room) => net + room.net,
        None => net,
    })
}

/// Net volume before the drivers of a divided box, cut to the given step; it may come out below zero.
pub(super) fn front_net_at_step(spec: &BoxSpec, step: ExactLength) -> Result<Volume, ModelError> {
    let assembly = Assembly::for_air(spec, &Sizes::with_step(spec, step)?)?;
    let room = Ledger::of_front_room(spec, &assembly);
    room.map(|room| room.net).ok_or(ModelError::Missing { what: "a divider" })
}

fn some_air(net: Volume) -> Result<Volume, ModelError> {
    if net.litres() > 0.0 {
        Ok(net)
    } else {
        Err(ModelError::Impossible { what: "what is in the box leaves no air" })
    }
}

/// The blank all corner strips of one length are ripped from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StripBlank {
    /// How many strips it gives.
    pub count: usize,
    /// Width of the blank, to be measured square.
    pub width: ExactLength,
    /// Its length.
    pub length: ExactLength,
}

/// Everything about one box.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The cut list.
    pub parts: Vec<Part>,
    /// Unrounded.
    pub exact: Build,
    /// Rounded to the tape step.
    pub planned: Build,
    /// With the sizes that came out differently; `None` where there are none.
    pub as_built: Option<Build>,
    /// Facts about [`Plan::current`].
    pub facts: Vec<Fact>,
    /// The order at the saw.
    pub fence: Vec<FenceSetting>,
    /// Blanks for the corner strips.
    pub strip_blanks: Vec<StripBlank>,
}

impl Plan {
    /// The box that stands there: as built where something came out differently, otherwise as planned. The acoustics
    /// use its net volume.
    #[must_use]
    pub fn current(&self) -> &Build {
        self.as_built.as_ref().unwrap_or(&self.planned)
    }
    /// Net volume of [`Plan::current`].
    #[must_use]
    pub fn net(&self) -> Volume {
        self.current().ledger.net
    }
    /// Mass of all boards of [`Plan::current`], holes taken off; no driver, tubes or screws.
    #[must_use]
    #[inline(never)] // it may come after the first result
    pub fn board_mass(&self, spec: &BoxSpec) -> Mass {
        super::weight(spec, &self.current().assembly, None).wood
    }
    /// Area of all board parts as planned, without kerf or offcuts.
    #[must_use]
    #[inline(never)] // it may come after the first result
    pub fn board_area(&self) -> Area {
        let boards = self.parts.iter().filter(|part| part.stock == Stock::Board);
        let area = |part: &Part| {
            let [length, width] = [part.length, part.width].map(|cut| cut.planned.metres());
            Area::from_square_metres(length * width * part.count() as f64)
        };
        boards.map(area).sum()
    }
    /// What rounding to the tape step does to the net volume.
    #[must_use]
    pub fn rounding_effect(&self) -> Volume {
        self.planned.ledger.net - self.exact.ledger.net
    }
    /// What the sizes that came out differently do to the net volume; zero where there are none.
    #[must_use]
    pub fn as_built_effect(&self) -> Volume {
        self.net() - self.planned.ledger.net
    }
}

/// Plans a box: cut list, assembly, ledger, facts, fence order.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a number outside its range, [`ModelError::Impossible`] where the box can't exist.
pub fn plan(spec: &BoxSpec, as_built: &AsBuilt) -> Result<Plan, ModelError> {
    let exact = Build::new(spec, Sizes::exact(spec)?)?;
    let planned = Build::new(spec, Sizes::planned(spec)?)?;
    let cut = planned.sizes.with_as_built(as_built)?;
    let as_built = if cut == planned.sizes { None } else { Some(Build::new(spec, cut)?) };
    let parts = parts::cut_list(spec, &exact.sizes, &planned.sizes);
    let current = as_built.as_ref().unwrap_or(&planned);
    let facts = checks::facts(spec, &current.assembly);
    Ok(Plan {
        fence: fence::order(&parts),
        strip_blanks: strip_blanks(spec, &parts),
        facts,
        parts,
        exact,
        planned,
        as_built,
    })
}

fn strip_blanks(spec: &BoxSpec, parts: &[Part]) -> Vec<StripBlank> {
    let strips = parts.iter().filter(|part| part.name == super::PartName::CornerStrip);
    strips
        .map(|part| StripBlank {
            count: part.count(),
            width: strips::blank_at(
                part.count(),
                (part.width.planned, part.width.tilt),
                part.thickness,
                spec.kerf,
            ),
            length: part.length.planned,
        })
        .collect()
}
