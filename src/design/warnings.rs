//! Doubts about a valid design. Each check is a function of the report; a good job gets no warning.
mod feed;

pub use feed::FeedWarning;

use super::clearance::{Doubt, clearance, is_stacked, ring_doubts};
use super::document::Sheet;
use super::limits::FieldId;
use super::report::{FeedReport, Gap, PortReport, Report};
use super::space::{in_place, is_measured, side_stations};
use super::strips;
use crate::model::acoustics::datasheet::Contradiction;
use crate::model::electrical::wiring::{CoilId, CoilShare};
use crate::model::geometry::space::Hit;
use crate::model::geometry::{Build, Dimension, Dims, Fact, PartId, Plan, Verdict};
use crate::units::{ExactLength, Frequency, Length, Power, Resistance, Volume};

/// The place where a warning is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// At the desk.
    Desk,
    /// At the saw.
    Saw,
    /// In the car.
    Car,
}

/// How grave a warning is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// It can't be built or may do harm.
    Stop,
    /// It works less well than one may think.
    Care,
}

/// A doubt, as data; `present` puts it into words.
#[derive(Clone, Debug, PartialEq)]
pub enum Warning {
    /// Printed values exclude one another.
    DataSheet(Contradiction),
    /// The cone travels further than it is good for.
    Travel {
        /// Largest peak travel.
        travel: Length,
        /// Where.
        at: Frequency,
        /// What it is good for.
        limit: Length,
        /// Above this frequency the travel is within the limit.
        safe_above: Option<Frequency>,
        /// Whether a high-pass is there already.
        filtered: bool,
    },
    /// The air in the port moves faster than 5 % of the speed of sound.
    PortSpeed {
        /// Peak velocity, m/s.
        velocity_m_s: f64,
        /// Where.
        at: Frequency,
    },
    /// Driven with more than the coils stand.
    CoilPower {
        /// The drive.
        power: Power,
        /// What they stand.
        limit: Power,
    },
    /// The drive asks for clearly more than the amplifier gives into this load.
    BeyondAmplifier {
        /// What is asked for.
        power: Power,
        /// What it gives.
        limit: Power,
    },
    /// The amplifier can give more than the coils stand.
    AmplifierPower {
        /// What it gives at this load.
        power: Power,
        /// What the coils stand.
        limit: Power,
    },
    /// The load is below what the amplifier stands.
    Load {
        /// Nominal load.
        load: Resistance,
        /// The amplifier's least.
        least: Resistance,
    },
    /// The nominal load is fine, but the box's impedance falls below what the amplifier's rating allows for.
    LeastLoad {
        /// Smallest |Z|.
        least: Resistance,
        /// Where.
        at: Frequency,
        /// What the rating allows for.
        allowed: Resistance,
    },
    /// Coils take unequal power.
    UnequalPower {
        /// The coil that takes most, and its share, 0 to 1.
        most: (CoilId, f64),
        /// The coil that takes least, and its share.
        least: (CoilId, f64),
    },
    /// A passive radiator travels further than it is good for.
    RadiatorTravel {
        /// Largest peak travel.
        travel: Length,
        /// Where.
        at: Frequency,
        /// What it is good for.
        limit: Length,
    },
    /// The filters ask for more than the amplifier's voltage.
    Clipped {
        /// The lowest frequency where they do.
        at: Frequency,
    },
    /// A cone with its axis upright sags by more than a twentieth of its travel.
    Sag {
        /// The sag.
        sag: Length,
        /// Travel one way.
        limit: Length,
    },
    /// The gap under a driver that fires down is too low.
    FloorGap {
        /// The gap.
        gap: Length,
        /// The least gap.
        least: Length,
    },
    /// The wiring stored does not fit the coils.
    WiringUnread,
    /// The wanted volume does not go into the space.
    TooLarge {
        /// Wanted.
        wanted: Volume,
        /// The largest that goes in.
        largest: Volume,
    },
    /// Port, box and tuning do not go together; the box is as near as it gets.
    Tuning {
        /// As cut.
        tuning: Frequency,
        /// Wanted.
        wanted: Frequency,
    },
    /// The box does not go through the door or hatch entered.
    Door {
        /// What it is too large on each side.
        over: ExactLength,
    },
    /// One of two panels that face each other came out differently.
    Askew {
        /// The shorter, then the other.
        pair: [PartId; 2],
        /// Measured along.
        dimension: Dimension,
        /// By how much they now differ from their plan.
        by: ExactLength,
    },
    /// The box comes too near to something that is kept free in its space.
    KeepOut(Hit),
    /// Corner strips are asked for in edges of one's own, and no edge is ticked.
    NoStripTicked,
    /// Corner strips asked for across a divided box, and left out.
    StripsAtDivider {
        /// How many.
        count: u8,
    },
    /// Something on the box or before it has too little room.
    Clearance(Doubt),
    /// Something about the box as it is cut.
    Fact(Fact),
    /// No cable of the list carries this load over this distance with a fuse.
    NoCable,
    /// The cable as recommended is copper-clad aluminium, which the ampacity table does not cover.
    CoveredByNoTable,
    /// The load was taken at an unrated power.
    PowerNotRated,
    /// Something between battery and amplifier.
    Feed(FeedWarning),
}

impl Warning {
    /// Where it is shown.
    #[must_use]
    pub fn place(&self) -> Place {
        match self {
            Self::DataSheet(_)
            | Self::Travel { .. }
            | Self::PortSpeed { .. }
            | Self::CoilPower { .. }
            | Self::BeyondAmplifier { .. }
            | Self::RadiatorTravel { .. }
            | Self::Clipped { .. }
            | Self::Sag { .. }
            | Self::FloorGap { .. }
            | Self::Tuning { .. } => Place::Desk,
            Self::TooLarge { .. }
            | Self::Fact(_)
            | Self::Door { .. }
            | Self::Askew { .. }
            | Self::KeepOut(_)
            | Self::NoStripTicked
            | Self::StripsAtDivider { .. }
            | Self::Clearance(_) => Place::Saw,
            Self::AmplifierPower { .. }
            | Self::Load { .. }
            | Self::LeastLoad { .. }
            | Self::UnequalPower { .. }
            | Self::WiringUnread
            | Self::NoCable
            | Self::CoveredByNoTable
            | Self::PowerNotRated
            | Self::Feed(_) => Place::Car,
        }
    }
    /// How grave it is.
    #[must_use]
    pub fn severity(&self) -> Severity {
        match self {
            Self::Load { .. } | Self::NoCable | Self::Door { .. } | Self::KeepOut(_) => Severity::Stop,
            Self::Fact(fact) if fact.verdict() == Verdict::Fails => Severity::Stop,
            Self::Clearance(
                Doubt::NoRoom(..)
                | Doubt::Bodies(..)
                | Doubt::RingTube(..)
                | Doubt::RingHole
                | Doubt::RingDepth,
            ) => Severity::Stop,
            Self::Feed(found) => found.severity(),
            _ => Severity::Care,
        }
    }
}

/// Peak air velocity above which a port is heard: 5 % of the speed of sound at 20 °C, the figure behind Small's
/// least port area (JAES 21 (1973) 438, from memory).
pub const PORT_SPEED_LIMIT_M_S: f64 = 17.0;

/// Every warning of a report, gravest first.
#[must_use]
pub fn all(report: &Report, sheet: &Sheet) -> Vec<Warning> {
    let mut found = Vec::new();
    if let Ok(driver) = &report.driver {
        found.extend(driver.contradictions.iter().cloned().map(Warning::DataSheet));
    }
    sound(report, sheet, &mut found);
    enclosure(report, &mut found);
    // Those in the upright edges are always told where they don't fit.
    if sheet.choice(FieldId::Strips) > 1 {
        found.extend(strips_asked(report, sheet));
    }
    if sheet.given(FieldId::DoorWidth).is_some() {
        found.extend(door(report, sheet));
    }
    if is_measured(sheet) {
        kept_free(report, sheet, &mut found);
    }
    if is_stacked(sheet) {
        closed_in(report, sheet, &mut found);
    }
    if matches!(report.enclosure, Err(Gap::Rings)) {
        found.extend(ring_doubts(sheet, report).into_iter().map(Warning::Clearance));
    }
    electrical(report, sheet, &mut found);
    crate::small::sort_by(&mut found, |a, b| a.severity().cmp(&b.severity()));
    found
}

fn sound(report: &Report, sheet: &Sheet, found: &mut Vec<Warning>) {
    let Ok(sound) = &report.sound else { return };
    let travel = sound.figures.excursion;
    if let Some(limit) = sound.xmax.filter(|limit| travel.value > *limit) {
        let safe_above = travel_limit(sound, limit);
        let filtered = sheet.given(FieldId::HighPass).is_some();
        found.push(Warning::Travel { travel: travel.value, at: travel.at, limit, safe_above, filtered });
    }
    for velocity in &sound.figures.duct_velocities_m_s {
        if velocity.value > PORT_SPEED_LIMIT_M_S {
            found.push(Warning::PortSpeed { velocity_m_s: velocity.value, at: velocity.at });
        }
    }
    if let Some(limit) = sound.radiator_xmax {
        let over = sound.figures.radiator_excursions.iter().find(|extreme| extreme.value > limit);
        found.extend(over.map(|x| Warning::RadiatorTravel { travel: x.value, at: x.at, limit }));
    }
    found.extend(sound.clipped.map(|at| Warning::Clipped { at }));
    if let Some(floor) = &sound.floor {
        // A twentieth of the travel; common practice, no source.
        if let Some(limit) = sound.xmax.filter(|xmax| floor.sag > *xmax * 0.05) {
            found.push(Warning::Sag { sag: floor.sag, limit });
        }
        if floor.gap < floor.least {
            found.push(Warning::FloorGap { gap: floor.gap, least: floor.least });
        }
    }
    if let Some(limit) =
        coil_limit(sheet, report).filter(|limit| sound.drive.power.watts() > limit.watts() * 1.005)
    {
        found.push(Warning::CoilPower { power: sound.drive.power, limit });
    }
    found.extend(beyond_amplifier(report, sound.drive.power));
}

/// A drive of more than the amplifier's power, by more than 1 dB: less is hardly heard (common practice, no source).
#[inline(never)]
fn beyond_amplifier(report: &Report, power: Power) -> Option<Warning> {
    let limit = report.wiring.as_ref().ok()?.chosen()?.power?.expected();
    (power.watts() > 1.26 * limit.watts()).then_some(Warning::BeyondAmplifier { power, limit })
}

/// The lowest frequency of the response above which the travel stays within the limit.
fn travel_limit(sound: &super::report::SoundReport, limit: Length) -> Option<Frequency> {
    let response = &sound.response;
    let last = response.excursion_peak_m.iter().rposition(|x| *x > limit.metres())?;
    response.frequencies_hz.get(last + 1).copied().map(Frequency::from_hertz)
}

/// What the line stands before its most loaded coil has its share of the driver's power.
fn coil_limit(sheet: &Sheet, report: &Report) -> Option<Power> {
    let wiring = report.wiring.as_ref().ok()?;
    let most = wiring.chosen()?.coil_share;
    let coils: u8 = sheet.choice_key(FieldId::Coils).parse().unwrap_or(1);
    let watts = sheet.si(FieldId::ThermalPower)? / f64::from(coils.max(1));
    (most > 0.0).then(|| Power::from_watts(watts / most))
}

fn enclosure(report: &Report, found: &mut Vec<Warning>) {
    let Ok(enclosure) = &report.enclosure else { return };
    if let (Some(wanted), Some(largest), false) = (enclosure.wanted, enclosure.largest, enclosure.fits) {
        found.push(Warning::TooLarge { wanted, largest });
    }
    let facts = enclosure.plan.facts.iter().filter(|fact| fact.verdict() != Verdict::Fine);
    found.extend(facts.copied().map(Warning::Fact));
    if let Some(built) = &enclosure.plan.as_built {
        askew(&enclosure.plan, built, found);
    }
    if let Some(port) = &enclosure.port {
        found.extend(off_tuning(port));
    }
    if let Some(port) = &enclosure.front_port {
        found.extend(off_tuning(port));
    }
}

/// Corner strips that are asked for and never reach the plan.
#[inline(never)] // few boxes have strips beside the upright ones
fn strips_asked(report: &Report, sheet: &Sheet) -> Option<Warning> {
    let enclosure = report.enclosure.as_ref().ok()?;
    if strips::edges(sheet).is_empty() && !enclosure.spec.is_baffle() {
        return Some(Warning::NoStripTicked);
    }
    let count = strips::across_divider(sheet, &enclosure.spec);
    (count > 0).then_some(Warning::StripsAtDivider { count })
}

/// Panels that face each other may differ by less: a sander takes it off (common practice, no source).
const SQUARE_ENOUGH: ExactLength = ExactLength::from_hundredths_mm(100);

/// Panels between two others that came out longer or shorter than the one across.
#[inline(never)] // few boxes are built yet
fn askew(plan: &Plan, built: &Build, found: &mut Vec<Warning>) {
    for pair in [[PartId::Left, PartId::Right], [PartId::Bottom, PartId::Top]] {
        for dimension in [Dimension::Width, Dimension::Height, Dimension::Depth] {
            let [one, other] =
                pair.map(|id| built.sizes.get(id, dimension) - plan.planned.sizes.get(id, dimension));
            let by = if one < other { other - one } else { one - other };
            if by >= SQUARE_ENOUGH {
                let pair = if one < other { pair } else { [pair[1], pair[0]] };
                found.push(Warning::Askew { pair, dimension, by });
            }
        }
    }
}

/// A port that came out at another tuning than the one wanted.
#[inline(never)] // not every box has a port: it may come after the first result
fn off_tuning(port: &PortReport) -> Option<Warning> {
    // Half a hertz is what a tone generator and an ear resolve; common practice, no source.
    let wanted = port.wanted.filter(|wanted| (wanted.hertz() - port.tuning.hertz()).abs() > 0.5)?;
    Some(Warning::Tuning { tuning: port.tuning, wanted })
}

#[inline(never)] // only where a door is entered
fn door(report: &Report, sheet: &Sheet) -> Option<Warning> {
    let way = super::testbox::passage(sheet, report.enclosure.as_ref().ok()?)?;
    (way.spare < ExactLength::ZERO).then_some(Warning::Door { over: -way.spare })
}

/// Where the box hits what is kept free. Stations say more than the straight line that was put before them.
#[inline(never)] // only where more than the block is measured
fn kept_free(report: &Report, sheet: &Sheet, found: &mut Vec<Warning>) {
    let Some((space, standing)) = in_place(sheet, report) else { return };
    // The box was made for the largest block clear of everything; by hand it may be larger elsewhere.
    found.retain(|warning| !matches!(warning, Warning::Fact(Fact::Space { .. })));
    let outside = report.enclosure.as_ref().map_or_else(|_| Dims::default(), |enclosure| enclosure.outside);
    found.extend(space.spare(outside).map(|(axis, spare)| Warning::Fact(Fact::Space { axis, spare })));
    let by_stations = side_stations(sheet).is_some_and(|stations| stations.is_ok());
    if by_stations && sheet.given(FieldId::SpaceTopDepth).is_none() {
        found.retain(|warning| !matches!(warning, Warning::Fact(Fact::SlantedSpace { .. })));
    }
    found.extend(standing.hits.into_iter().map(Warning::KeepOut));
}

#[inline(never)] // only where something stands on the box or before it
fn closed_in(report: &Report, sheet: &Sheet, found: &mut Vec<Warning>) {
    let Ok(enclosure) = &report.enclosure else { return };
    found.extend(clearance(sheet, report, enclosure).doubts().into_iter().map(Warning::Clearance));
}

#[inline(never)]
fn unequal(shares: &[CoilShare]) -> Option<Warning> {
    let by_power = |a: &&CoilShare, b: &&CoilShare| a.power.total_cmp(&b.power);
    let (most, least) = (shares.iter().max_by(by_power)?, shares.iter().min_by(by_power)?);
    Some(Warning::UnequalPower { most: (most.coil, most.power), least: (least.coil, least.power) })
}

#[inline(never)] // what it finds belongs to the Car
fn electrical(report: &Report, sheet: &Sheet, found: &mut Vec<Warning>) {
    found.extend(feed::proof(report).map(Warning::Feed));
    let Ok(wiring) = &report.wiring else { return };
    if !wiring.by_user && !sheet.text(FieldId::Wiring).is_empty() {
        found.push(Warning::WiringUnread);
    }
    let Some(chosen) = wiring.chosen() else { return };
    let unstable = chosen.power.is_some_and(|power| !power.stable);
    let stated = [FieldId::StableLoad, FieldId::BridgedLoad].iter().any(|id| sheet.given(*id).is_some());
    let least = report.feed.as_ref().ok().map(|feed| feed.amplifier.least_load());
    let least = least.or_else(|| sheet.si(FieldId::StableLoad).map(Resistance::from_ohms));
    if let Some(least) = least.filter(|_| unstable && stated) {
        found.push(Warning::Load { load: chosen.nominal, least });
    }
    if let Some((least, allowed)) =
        report.least_load.filter(|load| !unstable && load.too_low()).and_then(|l| Some((l, l.allowed?)))
    {
        found.push(Warning::LeastLoad { least: least.least, at: least.at, allowed });
    }
    if !chosen.equal_shares {
        found.extend(unequal(&chosen.shares));
    }
    if let Ok(feed) = &report.feed {
        of_feed(feed, report, sheet, found);
    }
}

#[inline(never)] // the feed comes after the first result
fn of_feed(feed: &FeedReport, report: &Report, sheet: &Sheet, found: &mut Vec<Warning>) {
    found.extend(feed::all(feed, sheet).into_iter().map(Warning::Feed));
    if let Some(limit) =
        coil_limit(sheet, report).filter(|limit| feed.power.expected().watts() > limit.watts() * 1.005)
    {
        found.push(Warning::AmplifierPower { power: feed.power.expected(), limit });
    }
    if sheet.choice_key(FieldId::CableMaterial) != "copper" {
        found.push(Warning::CoveredByNoTable);
    } else if feed.metric.choice().is_none() || feed.gauge.choice().is_none() {
        found.push(Warning::NoCable);
    }
    if feed.power.basis != crate::model::electrical::amplifier::PowerBasis::Rated {
        found.push(Warning::PowerNotRated);
    }
}
