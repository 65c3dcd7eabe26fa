//! Find a box: from a design to a search, and from what it found back into the design.
use super::document::{Entry, Sheet, parse_entry};
use super::evaluate::enclosure::{driver_depth, space};
use super::evaluate::{Ground, ground};
use super::limits::{FieldId, Kind as FieldKind, RecordKind};
use super::report::{Gap, Part, Report};
use super::warnings::PORT_SPEED_LIMIT_M_S;
use crate::model::acoustics::Losses;
use crate::model::acoustics::search::{
    Band, Bound, Brief, Candidate, Kind, Limits, Merit, Outcome, Room, Tube, Weights,
};
use crate::model::geometry::{Axis, BoxSpec, LedgerItem};
use crate::units::{Frequency, Length, Power, UnitPrefs, Volume};

/// Inside diameters of pipes looked at beside the one entered, mm, alone and in pairs (common practice, no source).
const PIPES_MM: [f64; 4] = [75.0, 100.0, 125.0, 150.0];
/// A wish of five counts once.
const PLAIN: f64 = 5.0;

/// The kinds of box the design can hold, with their keys.
const KINDS: [(Kind, &str); 4] = [
    (Kind::Closed, "closed"),
    (Kind::Vented, "vented"),
    (Kind::PassiveRadiator, "passive radiator"),
    (Kind::Bandpass, "bandpass 4"),
];

/// A box found, as numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proposal {
    /// Its kind.
    pub kind: Kind,
    /// Net volume of all chambers, m³.
    pub net_m3: f64,
    /// Net volume before the cone of a band-pass, m³.
    pub front_m3: Option<f64>,
    /// Tuning, Hz.
    pub tuning_hz: Option<f64>,
    /// The pipe of its port.
    pub tube: Option<Tube>,
    /// Length of the pipe, m.
    pub length_m: Option<f64>,
    /// Outside width, height, depth, m.
    pub outside_m: [f64; 3],
    /// What it is worth.
    pub merit: Merit,
}

/// What a search found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// Best first.
    pub ranking: Vec<Proposal>,
    /// The best of each kind by rising volume.
    pub trade: Vec<Proposal>,
    /// Boxes evaluated.
    pub evaluations: u64,
}

impl Proposal {
    fn of((candidate, merit): &(Candidate, Merit)) -> Self {
        Self {
            kind: candidate.kind,
            net_m3: candidate.net.cubic_metres(),
            front_m3: candidate.front.map(Volume::cubic_metres),
            tuning_hz: candidate.tuning.map(Frequency::hertz),
            tube: candidate.tube,
            length_m: candidate.length.map(Length::metres),
            outside_m: candidate.placed.outside_m,
            merit: *merit,
        }
    }
    /// Volume of the whole box, m³.
    #[must_use]
    pub fn outside_m3(&self) -> f64 {
        self.outside_m.iter().product()
    }
}

impl From<&Outcome> for Found {
    fn from(outcome: &Outcome) -> Self {
        let all = |list: &[(Candidate, Merit)]| list.iter().map(Proposal::of).collect();
        Self { ranking: all(&outcome.ranking), trade: all(&outcome.trade), evaluations: outcome.evaluations }
    }
}

/// The field of each wish, in the order of the screen.
pub const WISHES: &[FieldId] =
    &[FieldId::FindReach, FieldId::FindLevel, FieldId::FindEven, FieldId::FindSmall, FieldId::FindTight];

fn choice_of(id: FieldId, key: &str) -> Option<Entry> {
    let FieldKind::Choice { rows, .. } = id.row().kind else { return None };
    let index = rows.iter().position(|row| row.key == key)?;
    u8::try_from(index).ok().map(Entry::Choice)
}

/// What a design asks a search for.
///
/// # Errors
/// [`Gap`] that names what is missing: a driver, its mounting sizes, the space.
pub fn brief(sheet: &Sheet, report: &Report) -> Part<Brief> {
    let ground = ground(sheet, report)?;
    let wish = |id| sheet.si(id).unwrap_or(PLAIN) / PLAIN;
    let hertz = |id, otherwise| Frequency::from_hertz(sheet.si(id).unwrap_or(otherwise));
    let top = hertz(FieldId::FindTop, 80.0);
    // The band is an octave at least.
    let low = hertz(FieldId::FindLow, 30.0).hertz().min(0.5 * top.hertz());
    let holds = |key: &str| choice_of(FieldId::BoxKind, key).is_some();
    let brief = Brief {
        limits: limits(sheet, &ground),
        room: room(sheet, report, &ground)?,
        source_resistance: ground.wiring.cable,
        load: ground.load,
        air: ground.air,
        losses: Losses { ql: sheet.si(FieldId::Leakage), qa: sheet.si(FieldId::Absorption) },
        port_loss: sheet.si(FieldId::PortLoss),
        kinds: KINDS.iter().filter(|(_, key)| holds(key)).map(|(kind, _)| *kind).collect(),
        tubes: tubes(sheet),
        radiator: None,
        band: Band { low: Frequency::from_hertz(low), top },
        weights: Weights {
            reach: wish(FieldId::FindReach),
            level: wish(FieldId::FindLevel),
            evenness: wish(FieldId::FindEven),
            size: wish(FieldId::FindSmall),
            decay: wish(FieldId::FindTight),
        },
    };
    brief.check()?;
    Ok(brief)
}

fn limits(sheet: &Sheet, ground: &Ground) -> Limits {
    Limits {
        voltage: ground.voltage,
        current: None,
        coil_power: sheet.si(FieldId::ThermalPower).map(Power::from_watts),
        travel: ground.driver.xmax,
        port_speed_m_s: PORT_SPEED_LIMIT_M_S,
    }
}

/// The pipe entered and the usual ones.
fn tubes(sheet: &Sheet) -> Vec<Tube> {
    let wall = Length::from_metres(sheet.si(FieldId::PortWall).unwrap_or(0.003));
    let tube = |millimetres: f64, count| Tube { inside: Length::from_millimetres(millimetres), wall, count };
    let mut tubes = Vec::new();
    if let Some(own) = sheet.given(FieldId::PortDiameter) {
        let count = sheet.choice_key(FieldId::PortCount).parse().unwrap_or(1);
        tubes.push(tube(own.si() * 1e3, count));
    }
    for count in [1, 2] {
        for pipe in PIPES_MM {
            let known = tubes.iter().any(|t| t.count == count && (t.inside.millimetres() - pipe).abs() < 0.5);
            if !known {
                tubes.push(tube(pipe, count));
            }
        }
    }
    tubes
}

fn room(sheet: &Sheet, report: &Report, ground: &Ground) -> Part<Room> {
    let space = space(sheet).ok_or_else(|| {
        Gap::Missing(vec![vec![FieldId::SpaceWidth, FieldId::SpaceHeight, FieldId::SpaceDepth]])
    })?;
    let sizes = [FieldId::OutsideDiameter, FieldId::MountingDepth];
    let lacking: Vec<FieldId> = sizes.into_iter().filter(|id| sheet.given(*id).is_none()).collect();
    if !lacking.is_empty() {
        return Err(Gap::Missing(vec![lacking]));
    }
    let length = |id| Length::from_metres(sheet.si(id).unwrap_or(0.0));
    let usable = space.usable();
    let side = |axis| Length::from_metres(usable.get(axis).metres().max(0.0));
    let enclosure = report.enclosure.as_ref().ok();
    let drivers = ground.load.wiring.drivers;
    let board = length(FieldId::Board);
    let front_layers = if sheet.choice_key(FieldId::FrontLayers) == "double" { 2 } else { 1 };
    let behind = |spec: &BoxSpec| {
        (driver_depth(spec) - spec.front_thickness() - spec.board.thickness).metres().max(0.0)
    };
    // The box as it stands knows what its fittings take; without one, the driver alone.
    let body = sheet.si(FieldId::DriverDisplacement).unwrap_or(0.0) * drivers as f64;
    let displaced = enclosure.map_or(body, |enclosure| {
        let ledger = &enclosure.plan.current().ledger;
        let port = ledger.volume(LedgerItem::PortAir) + ledger.volume(LedgerItem::PortWalls);
        (ledger.gross - ledger.net + port).cubic_metres().max(0.0)
    });
    Ok(Room {
        width: side(Axis::Width),
        height: side(Axis::Height),
        depth: side(Axis::Depth),
        board,
        front_layers,
        frame: length(FieldId::OutsideDiameter),
        driver_depth: Length::from_metres(
            enclosure.map_or(sheet.si(FieldId::MountingDepth).unwrap_or(0.0), |e| behind(&e.spec)),
        ),
        drivers: u32::try_from(drivers).unwrap_or(1),
        displaced: Volume::from_cubic_metres(displaced),
    })
}

/// The enclosure's entries with a proposal taken in, for [`super::session::Action::TakeRecord`].
///
/// Outside sizes that were fixed and a port length give way, since the proposal brings its own.
#[must_use]
pub fn taken(sheet: &Sheet, proposal: &Proposal) -> Sheet {
    let mut record = sheet.record(RecordKind::Enclosure);
    for id in
        [FieldId::BoxWidth, FieldId::BoxHeight, FieldId::BoxDepth, FieldId::PortLength, FieldId::WantedTuning]
    {
        record.clear(id);
    }
    let prefs = UnitPrefs::default();
    let mut put = |id: FieldId, text: String| {
        if let Ok(entry) = parse_entry(id, &text, &prefs) {
            // An entry out of its range is left out; the search stays within all of them.
            let _ = record.set(id, entry);
        }
    };
    if let Some((_, key)) = KINDS.iter().find(|(kind, _)| *kind == proposal.kind) {
        put(FieldId::BoxKind, (*key).to_owned());
    }
    put(FieldId::WantedNet, format!("{:.1} l", proposal.net_m3 * 1e3));
    if let (Some(tuning), Some(tube)) = (proposal.tuning_hz, proposal.tube) {
        put(FieldId::WantedTuning, format!("{tuning:.1} Hz"));
        put(FieldId::PortShape, "round".to_owned());
        put(FieldId::PortDiameter, format!("{:.0} mm", tube.inside.millimetres()));
        put(FieldId::PortCount, tube.count.to_string());
    }
    record
}

/// Why a box stands in the list, best argument first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// It serves the wishes best.
    Best,
    /// It reaches lowest of the list.
    Lowest,
    /// It plays loudest.
    Loudest,
    /// It is the most even.
    MostEven,
    /// It is the smallest.
    Smallest,
    /// It is silent soonest.
    Tightest,
}

/// The reasons of the box at `index` of a ranking, and what limits it.
#[must_use]
pub fn reasons(ranking: &[Proposal], index: usize) -> (Vec<Reason>, Option<Bound>) {
    let Some(this) = ranking.get(index) else { return (Vec::new(), None) };
    let mut reasons = Vec::new();
    if index == 0 {
        reasons.push(Reason::Best);
    }
    let mut look = |reason, value: fn(&Proposal) -> f64| {
        let least = ranking.iter().map(value).fold(f64::INFINITY, f64::min);
        if ranking.len() > 1 && value(this) <= least {
            reasons.push(reason);
        }
    };
    look(Reason::Lowest, |p| p.merit.reach_hz);
    look(Reason::Loudest, |p| -p.merit.level_db);
    look(Reason::MostEven, |p| p.merit.unevenness_db);
    look(Reason::Smallest, Proposal::outside_m3);
    look(Reason::Tightest, |p| p.merit.periods);
    (reasons, Some(this.merit.bound))
}
