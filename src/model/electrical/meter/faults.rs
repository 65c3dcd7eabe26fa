//! Fault operators: what can go wrong at each place of a wiring tree.
use crate::model::electrical::wiring::{CoilId, Join, Tree};

/// A mistake or defect that changes the reading.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Fault {
    /// The coil's winding is open.
    CoilOpen(CoilId),
    /// The coil's winding is shorted.
    CoilShorted(CoilId),
    /// A jumper joins the coil's own plus and minus.
    CoilAcrossItself(CoilId),
    /// A jumper joins both ends of a group.
    GroupAcrossItself(Vec<CoilId>),
    /// A group is joined the other way than drawn.
    GroupSwapped {
        /// Its coils.
        coils: Vec<CoilId>,
        /// How it is drawn.
        drawn: Join,
    },
    /// The jumper between two neighbouring members of a group is missing; what hangs on it is open.
    JumperMissing {
        /// Last coil before the gap.
        from: CoilId,
        /// First coil after it.
        to: CoilId,
        /// Coils left without connection; empty in a series group, where the whole group is open.
        cut_off: Vec<CoilId>,
    },
    /// None of the driver's coils is connected.
    DriverOff(u8),
    /// The line does not reach the coils.
    LineOpen,
    /// The line's plus and minus touch, anywhere between the place of reading and the coils.
    LineShorted,
}

/// A fault as applied to a tree. Sites count the tree's nodes from the root in the order they are met.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Operator {
    OpenCoil(u16),
    ShortCoil(u16),
    /// Site across itself.
    Bridge(u16),
    /// Group at the site joined the other way.
    Swap(u16),
    /// A break before the numbered member of the group at the site.
    Gap(u16, u16),
    /// Members from the numbered one on cut off (plus side).
    KeepBefore(u16, u16),
    /// Members before the numbered one cut off (minus side).
    KeepFrom(u16, u16),
    DriverOff(u8),
    BreakLine,
    BridgeLine,
}

impl Operator {
    /// The coil or group acted on, where there is one.
    fn site(self) -> Option<u16> {
        match self {
            Self::OpenCoil(site) | Self::ShortCoil(site) | Self::Bridge(site) | Self::Swap(site) => {
                Some(site)
            }
            Self::Gap(site, _) | Self::KeepBefore(site, _) | Self::KeepFrom(site, _) => Some(site),
            Self::DriverOff(_) | Self::BreakLine | Self::BridgeLine => None,
        }
    }

    /// Whether two faults may be thought of together: at different places, and neither hides the other altogether.
    pub(super) fn goes_with(self, other: Self) -> bool {
        let whole_line = |operator| matches!(operator, Self::BreakLine | Self::BridgeLine);
        !whole_line(self) && !whole_line(other) && (self.site().is_none() || self.site() != other.site())
    }
}

/// One fault of a tree: what to do, what to call it, and how common it is beside a wiring that is right (1).
#[derive(Clone, Debug)]
pub(super) struct SingleFault {
    pub(super) operator: Operator,
    pub(super) fault: Fault,
    pub(super) prior: f64,
}

/// How common each fault is, relative to a wiring that is right. Common practice, no source: only their order counts.
mod prior {
    pub(super) const SWAPPED: f64 = 0.10;
    pub(super) const JUMPER_MISSING: f64 = 0.05;
    pub(super) const DRIVER_OFF: f64 = 0.05;
    pub(super) const LINE_OPEN: f64 = 0.05;
    pub(super) const COIL_OPEN: f64 = 0.03;
    pub(super) const ACROSS_ITSELF: f64 = 0.02;
    pub(super) const LINE_SHORTED: f64 = 0.02;
    pub(super) const COIL_SHORTED: f64 = 0.01;
}

/// Every single fault of the tree.
pub(super) fn single_faults(tree: &Tree) -> Vec<SingleFault> {
    let mut list = List { found: Vec::new(), next_site: 0 };
    list.add(Operator::BreakLine, Fault::LineOpen, prior::LINE_OPEN);
    list.add(Operator::BridgeLine, Fault::LineShorted, prior::LINE_SHORTED);
    let mut drivers: Vec<u8> = tree.coils().iter().map(|id| id.driver).collect();
    crate::small::sort_by(&mut drivers, Ord::cmp);
    drivers.dedup();
    if drivers.len() > 1 {
        for driver in drivers {
            list.add(Operator::DriverOff(driver), Fault::DriverOff(driver), prior::DRIVER_OFF);
        }
    }
    list.visit(tree);
    list.found
}

struct List {
    found: Vec<SingleFault>,
    next_site: u16,
}

impl List {
    fn add(&mut self, operator: Operator, fault: Fault, prior: f64) {
        self.found.push(SingleFault { operator, fault, prior });
    }

    fn visit(&mut self, tree: &Tree) {
        let site = self.next_site;
        self.next_site += 1;
        if let Tree::Coil(id) = tree {
            self.add(Operator::OpenCoil(site), Fault::CoilOpen(*id), prior::COIL_OPEN);
            self.add(Operator::ShortCoil(site), Fault::CoilShorted(*id), prior::COIL_SHORTED);
            self.add(Operator::Bridge(site), Fault::CoilAcrossItself(*id), prior::ACROSS_ITSELF);
        }
        let Some((join, members)) = tree.members() else {
            return;
        };
        let coils = tree.coils();
        self.add(
            Operator::Swap(site),
            Fault::GroupSwapped { coils: coils.clone(), drawn: join },
            prior::SWAPPED,
        );
        if site > 0 {
            self.add(Operator::Bridge(site), Fault::GroupAcrossItself(coils), prior::ACROSS_ITSELF);
        }
        self.jumpers(site, join, members);
        for member in members {
            self.visit(member);
        }
    }

    fn jumpers(&mut self, site: u16, join: Join, members: &[Tree]) {
        for (index, pair) in (1u16..).zip(members.windows(2)) {
            let [before, after] = pair else { continue };
            let (Some(from), Some(to)) = (before.coils().pop(), after.coils().first().copied()) else {
                continue;
            };
            let mut missing = |operator, cut: &[Tree]| {
                let cut_off = cut.iter().flat_map(Tree::coils).collect();
                self.add(operator, Fault::JumperMissing { from, to, cut_off }, prior::JUMPER_MISSING);
            };
            let (head, tail) = members.split_at(usize::from(index).min(members.len()));
            match join {
                Join::Series => missing(Operator::Gap(site, index), &[]),
                Join::Parallel => {
                    missing(Operator::KeepBefore(site, index), tail);
                    missing(Operator::KeepFrom(site, index), head);
                }
            }
        }
    }
}

/// A mistake that leaves every resistance as it was.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unseen {
    /// One coil has plus and minus exchanged: it works against the others.
    CoilReversed(CoilId),
    /// All coils of one driver have plus and minus exchanged: its cone moves against the other cones.
    DriverReversed(u8),
    /// The whole line has plus and minus exchanged: the box works against the other loudspeakers.
    LineReversed,
}

/// A test that shows what the ohmmeter can't.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PolarityTest {
    /// A small cell touched to the terminals: plus to plus moves the cone outward.
    SmallCell,
    /// A quiet tone at the box's resonance: coils that work against each other stay silent.
    QuietTone,
}

impl Unseen {
    /// The tests that show it. The exchange of the whole line is no matter of loudness by itself.
    #[must_use]
    pub const fn tests(self) -> &'static [PolarityTest] {
        match self {
            Self::CoilReversed(_) | Self::DriverReversed(_) => {
                &[PolarityTest::SmallCell, PolarityTest::QuietTone]
            }
            Self::LineReversed => &[PolarityTest::SmallCell],
        }
    }
}

/// Everything about `tree` that no resistance reading shows.
#[must_use]
pub fn unseen(tree: &Tree) -> Vec<Unseen> {
    let coils = tree.coils();
    let mut drivers: Vec<u8> = coils.iter().map(|id| id.driver).collect();
    crate::small::sort_by(&mut drivers, Ord::cmp);
    let coils_of = |driver: u8| coils.iter().filter(|id| id.driver == driver).count();
    let mut list = vec![Unseen::LineReversed];
    if coils.len() > 1 {
        list.extend(coils.iter().copied().map(Unseen::CoilReversed));
    }
    drivers.dedup();
    if drivers.len() > 1 {
        list.extend(drivers.into_iter().filter(|d| coils_of(*d) > 1).map(Unseen::DriverReversed));
    }
    list
}
