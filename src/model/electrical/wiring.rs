//! How the coils are joined: a tree of series and parallel groups.
//!
//! Load, shares, connections, meter reading and faults all follow from the tree.
mod apart;
mod connections;
mod edit;
mod enumerate;
mod figures;
mod irregular;
mod notation;
mod order;

pub use apart::{MOST_APART, apart, has_apart, lists_every_apart, ways_in_all};
pub use connections::{Connections, Net, Polarity, Step, Terminal};
pub use edit::Bench;
pub use enumerate::{BalancedWiring, balanced};
pub use figures::{CoilShare, Figures};
pub use irregular::{has_irregular, irregular};
pub use notation::{MAX_NOTATION_BYTES, MAX_NOTATION_DEPTH, NotationError};
pub use order::{CoilVersion, VERSIONS, VersionChoice, versions};

use super::check::{load_ohm, within};
use crate::model::error::ModelError;
use crate::units::Resistance;

/// Most drivers on one line.
pub const MAX_DRIVERS: u8 = 8;
/// Most coils on one driver.
pub const MAX_COILS_PER_DRIVER: u8 = 4;

/// One voice coil, by driver and by coil of that driver, both counted from zero.
///
/// Shown as driver number from one and coil letter: `1A`, `1B`, `2A`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CoilId {
    /// Driver, from zero.
    pub driver: u8,
    /// Coil of the driver, from zero.
    pub coil: u8,
}

/// What is known of one voice coil at room temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coil {
    /// Nominal impedance.
    pub nominal: Resistance,
    /// DC resistance, Re of this coil alone.
    pub dc: Resistance,
    /// Half width of the band of the DC resistance, in percent of it.
    pub tolerance_percent: f64,
}

/// The coils at hand, driver by driver.
#[derive(Clone, Debug, PartialEq)]
pub struct CoilSet {
    drivers: Vec<Vec<Coil>>,
}

impl CoilSet {
    /// Coils by driver; drivers may differ.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] unless there are 1 to 8 drivers of 1 to 4 coils, each coil of 0.01 Ω to 10 kΩ
    /// with a tolerance of 0 % to 50 %.
    pub fn new(drivers: Vec<Vec<Coil>>) -> Result<Self, ModelError> {
        within("number of drivers", drivers.len() as f64, 1.0, f64::from(MAX_DRIVERS))?;
        for coils in &drivers {
            within("coils per driver", coils.len() as f64, 1.0, f64::from(MAX_COILS_PER_DRIVER))?;
            for coil in coils {
                load_ohm("nominal coil impedance in ohms", coil.nominal.ohms())?;
                load_ohm("coil DC resistance in ohms", coil.dc.ohms())?;
                within("coil tolerance in percent", coil.tolerance_percent, 0.0, 50.0)?;
            }
        }
        Ok(Self { drivers })
    }

    /// `drivers` alike, each of `coils_per_driver` coils alike.
    ///
    /// # Errors
    /// As [`CoilSet::new`].
    pub fn uniform(drivers: u8, coils_per_driver: u8, coil: Coil) -> Result<Self, ModelError> {
        // Checked before anything is allocated by these counts.
        within("number of drivers", f64::from(drivers), 1.0, f64::from(MAX_DRIVERS))?;
        within("coils per driver", f64::from(coils_per_driver), 1.0, f64::from(MAX_COILS_PER_DRIVER))?;
        Self::new(vec![vec![coil; usize::from(coils_per_driver)]; usize::from(drivers)])
    }

    /// The coil named, if there is one.
    #[must_use]
    pub fn get(&self, id: CoilId) -> Option<Coil> {
        self.drivers.get(usize::from(id.driver))?.get(usize::from(id.coil)).copied()
    }

    /// The same coils with one of them known better.
    #[must_use]
    pub fn with(mut self, id: CoilId, coil: Coil) -> Self {
        if let Some(place) =
            self.drivers.get_mut(usize::from(id.driver)).and_then(|d| d.get_mut(usize::from(id.coil)))
        {
            *place = coil;
        }
        self
    }

    /// Every coil, driver by driver.
    #[must_use]
    pub fn ids(&self) -> Vec<CoilId> {
        let mut ids = Vec::new();
        for (driver, coils) in (0u8..).zip(&self.drivers) {
            ids.extend((0u8..).zip(coils).map(|(coil, _)| CoilId { driver, coil }));
        }
        ids
    }

    /// Number of drivers.
    #[must_use]
    pub fn driver_count(&self) -> usize {
        self.drivers.len()
    }

    /// The number of coils on each driver, or `None` where drivers differ in it.
    #[must_use]
    pub fn coils_per_driver(&self) -> Option<usize> {
        let count = self.drivers.first()?.len();
        self.drivers.iter().all(|coils| coils.len() == count).then_some(count)
    }
}

/// Which way the members of a group are joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Join {
    /// One after the other: the same current through all.
    Series,
    /// Side by side: the same voltage across all.
    Parallel,
}

impl Join {
    /// The other way.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Series => Self::Parallel,
            Self::Parallel => Self::Series,
        }
    }
}

/// A wiring: one coil, or a group of wirings in series or in parallel.
///
/// Series members are listed from the amplifier's plus to its minus.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Tree {
    /// One coil.
    Coil(CoilId),
    /// One after the other.
    Series(Vec<Tree>),
    /// Side by side.
    Parallel(Vec<Tree>),
}

impl Tree {
    /// A group; one member alone is that member.
    #[must_use]
    pub fn group(join: Join, mut members: Vec<Tree>) -> Self {
        match (members.len(), join) {
            (1, _) => members.remove(0),
            (_, Join::Series) => Self::Series(members),
            (_, Join::Parallel) => Self::Parallel(members),
        }
    }

    /// The members and how they are joined, or `None` for a coil.
    #[must_use]
    pub fn members(&self) -> Option<(Join, &[Tree])> {
        match self {
            Self::Coil(_) => None,
            Self::Series(members) => Some((Join::Series, members)),
            Self::Parallel(members) => Some((Join::Parallel, members)),
        }
    }

    /// Every coil in the order of the tree.
    #[must_use]
    pub fn coils(&self) -> Vec<CoilId> {
        match self {
            Self::Coil(id) => vec![*id],
            Self::Series(members) | Self::Parallel(members) => members.iter().flat_map(Tree::coils).collect(),
        }
    }

    /// The first of its coils by name; `None` without a coil.
    fn lowest(&self) -> Option<CoilId> {
        match self {
            Self::Coil(id) => Some(*id),
            Self::Series(members) | Self::Parallel(members) => members.iter().filter_map(Tree::lowest).min(),
        }
    }

    /// The coils of `set` which the tree leaves unconnected.
    #[must_use]
    pub fn unused(&self, set: &CoilSet) -> Vec<CoilId> {
        let used = self.coils();
        set.ids().into_iter().filter(|id| !used.contains(id)).collect()
    }

    /// The same circuit in one agreed form: no group within a group of its kind, no group of one, members in the
    /// order of their lowest coil. Two trees that differ only in those respects become equal.
    #[must_use]
    pub fn canonical(&self) -> Self {
        let Some((join, members)) = self.members() else {
            return self.clone();
        };
        let mut flat = Vec::new();
        for member in members.iter().map(Tree::canonical) {
            match member {
                Self::Series(inner) if join == Join::Series => flat.extend(inner),
                Self::Parallel(inner) if join == Join::Parallel => flat.extend(inner),
                other => flat.push(other),
            }
        }
        crate::small::sort_by(&mut flat, |a, b| a.lowest().cmp(&b.lowest()));
        Self::group(join, flat)
    }

    /// Refuses what can't be wired.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] for a group without members, a coil wired twice or a coil that `set` does not hold.
    pub fn validate(&self, set: &CoilSet) -> Result<(), ModelError> {
        if self.has_empty_group() {
            return Err(ModelError::Impossible { what: "a group of the wiring has no coil" });
        }
        let mut ids = self.coils();
        if ids.iter().any(|id| set.get(*id).is_none()) {
            return Err(ModelError::Impossible { what: "the wiring names a coil that is not there" });
        }
        let count = ids.len();
        crate::small::sort_by(&mut ids, Ord::cmp);
        ids.dedup();
        if ids.len() < count {
            return Err(ModelError::Impossible { what: "the wiring uses one coil twice" });
        }
        Ok(())
    }

    fn has_empty_group(&self) -> bool {
        self.members()
            .is_some_and(|(_, members)| members.is_empty() || members.iter().any(Tree::has_empty_group))
    }

    /// Coils in series and in parallel (s, p), where the tree is balanced for equal coils.
    ///
    /// The load is then Zcoil·s/p with s·p coils, every coil takes the same power, and the acoustic model needs no
    /// more than these two counts. `None` where equal coils would not share equally.
    #[must_use]
    pub fn balance(&self) -> Option<(u32, u32)> {
        let Some((join, members)) = self.members() else {
            return Some((1, 1));
        };
        let counts: Vec<(u32, u32)> = members.iter().map(Tree::balance).collect::<Option<_>>()?;
        let (first_s, first_p) = *counts.first()?;
        match join {
            // Equal power in a chain asks for the same current in every coil, so the same p.
            Join::Series => counts
                .iter()
                .all(|(_, p)| *p == first_p)
                .then(|| (counts.iter().map(|(s, _)| s).sum(), first_p)),
            Join::Parallel => counts
                .iter()
                .all(|(s, _)| *s == first_s)
                .then(|| (first_s, counts.iter().map(|(_, p)| p).sum())),
        }
    }
}
