//! Find a box: from a design to a search, and from what it found back into the design.
use super::document::{Sheet, parse_entry};
use super::evaluate::enclosure::{driver_depth, elsewhere_least, space, template};
use super::evaluate::{Filled, Ground, evaluate, ground, passive_radiator, planned_rings, unequal};
use super::faces;
use super::limits::{FieldId, RecordKind};
use super::look;
use super::report::{Gap, Part, Report};
use super::warnings::{PORT_SPEED_LIMIT_M_S, Severity, Warning};
use crate::model::acoustics::search::inverse::{PortAnswer, QtcAnswer, port_for_tuning, volume_for_qtc};
use crate::model::acoustics::search::{
    Band, Bound, Brief, Candidate, Job, Kind, Limits, Merit, Pipe, RadiatorUnit, Room, Tube, Weights,
};
use crate::model::acoustics::{Enclosure, Losses, Opening, PassiveRadiator};
use crate::model::geometry::spec::Space;
use crate::model::geometry::{Axis, Board, Boards, BoxSpec, Form, Ledger, LedgerItem};
use crate::units::{ExactLength, Frequency, Length, Mass, Power, UnitPrefs, Volume};

/// Inside diameters of pipes looked at beside the one entered, mm, alone and in pairs (common practice, no source).
const PIPES_MM: [f64; 4] = [75.0, 100.0, 125.0, 150.0];
/// A wish of five counts once.
const PLAIN: f64 = 5.0;

/// The kinds of box that are looked for, with their keys.
const KINDS: [(Kind, &str); 6] = [
    (Kind::Closed, "closed"),
    (Kind::Vented, "vented"),
    (Kind::PassiveRadiator, "passive radiator"),
    (Kind::Bandpass, "bandpass 4"),
    (Kind::Bandpass6Outward, "bandpass 6 outward"),
    (Kind::Bandpass6Inward, "bandpass 6 inward"),
];
/// Most passive radiators of a box.
const MOST_RADIATORS: u32 = 2;

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
    /// The pipe behind the cone of a band-pass that has two.
    pub behind: Option<Pipe>,
    /// How many passive radiators, and the weight to add to each, kg.
    pub radiators: Option<(u32, f64)>,
    /// Outside width, height, depth, m.
    pub outside_m: [f64; 3],
    /// Depth along the top, m, of a box whose back leans as the space does.
    pub top_m: Option<f64>,
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
            behind: candidate.behind,
            radiators: match candidate.enclosure {
                Enclosure::PassiveRadiator { radiator, .. } => {
                    Some((radiator.count, candidate.weight.map_or(0.0, Mass::kilograms)))
                }
                _ => None,
            },
            outside_m: candidate.placed.outside_m,
            top_m: candidate.placed.top_m,
            merit: *merit,
        }
    }
    /// Volume of the whole box, m³.
    #[must_use]
    pub fn outside_m3(&self) -> f64 {
        let [width, height, depth] = self.outside_m;
        width * height * (depth + self.top_m.unwrap_or(depth)) / 2.0
    }
}

/// Most boxes of a ranking that are shown, but for the best of a kind.
const SHOWN: usize = 6;

/// A search for a design: the model's search, then every box it proposes planned piece by piece.
pub struct Search {
    sheet: Sheet,
    job: Job,
    /// What the job proposes, once it is done: the ranking, of this length, then the trade.
    queue: Option<(Vec<Proposal>, usize)>,
    next: usize,
    found: Found,
}

impl Search {
    /// Begins a search.
    ///
    /// # Errors
    /// Those of [`brief`].
    pub fn start(sheet: &Sheet, report: &Report) -> Part<Self> {
        let job = Job::start(brief(sheet, report)?)?;
        Ok(Self { sheet: sheet.clone(), job, queue: None, next: 0, found: Found::default() })
    }

    /// Evaluates about `budget` candidates or plans one box; whether all is done.
    pub fn step(&mut self, budget: u64) -> bool {
        let Some((queue, ranked)) = &self.queue else {
            if self.job.step(budget) {
                let outcome = self.job.outcome();
                let both = outcome.ranking.iter().chain(&outcome.trade).map(Proposal::of).collect();
                self.found.evaluations = outcome.evaluations;
                self.queue = Some((both, outcome.ranking.len()));
            }
            return false;
        };
        let Some(proposal) = queue.get(self.next) else { return true };
        let ranking = self.next < *ranked;
        self.next += 1;
        // The best of each kind is shown, whatever its place.
        let known = self.found.ranking.iter().any(|shown| shown.kind == proposal.kind);
        let enough = ranking && known && self.found.ranking.len() >= SHOWN;
        if enough || taken(&self.sheet, proposal).is_none() {
            return false;
        }
        if ranking {
            self.found.ranking.push(*proposal);
        } else {
            self.found.trade.push(*proposal);
        }
        false
    }

    /// How much is done, 0 to 1; planning counts for a quarter.
    #[must_use]
    pub fn progress(&self) -> f64 {
        match &self.queue {
            None => 0.75 * self.job.progress(),
            Some((queue, _)) => 0.75 + 0.25 * self.next as f64 / queue.len().max(1) as f64,
        }
    }

    /// What was found so far.
    #[must_use]
    pub fn found(&self) -> &Found {
        &self.found
    }
}

/// The field of each wish, in the order of the screen.
pub const WISHES: &[FieldId] =
    &[FieldId::FindReach, FieldId::FindLevel, FieldId::FindEven, FieldId::FindSmall, FieldId::FindTight];

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
    let divided = !sheet.has_any(&faces::ENTRIES) || !faces::has_drivers(sheet);
    // The drivers of a band-pass sit on the board between its chambers, in no other face.
    let kinds = KINDS.iter().map(|(kind, _)| *kind).filter(|kind| divided || !kind.is_bandpass());
    let brief = Brief {
        limits: limits(sheet, &ground),
        room: room(sheet, report, &ground)?,
        source_resistance: ground.wiring.source,
        load: ground.load,
        unequal: unequal(&ground.wiring),
        air: ground.air,
        losses: Losses { ql: sheet.si(FieldId::Leakage), qa: sheet.si(FieldId::Absorption) },
        port_loss: sheet.si(FieldId::PortLoss),
        kinds: kinds.collect(),
        tubes: tubes(sheet),
        radiator: radiator(sheet),
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

/// The passive radiator entered, without added weight, if its data and its sizes are complete.
fn radiator(sheet: &Sheet) -> Option<RadiatorUnit> {
    let hole = sheet.si(FieldId::RadiatorCutOut)?;
    sheet.given(FieldId::RadiatorDepth)?;
    let gained = std::f64::consts::FRAC_PI_4 * hole * hole * front(sheet, &boards(sheet).ok()?);
    let mut plain = sheet.clone();
    plain.clear(FieldId::RadiatorWeight);
    Some(RadiatorUnit {
        radiator: PassiveRadiator { count: MOST_RADIATORS, ..passive_radiator(&plain).ok()? },
        frame: Length::from_metres(sheet.si(FieldId::RadiatorOutside)?),
        travel: sheet.si(FieldId::RadiatorTravel).map(Length::from_metres),
        taken_m3: sheet.si(FieldId::RadiatorDisplacement).unwrap_or(0.0) - gained,
    })
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
    // What is looked for has plain sides, whatever shape is entered.
    let mut plain = sheet.clone();
    plain.clear(FieldId::Shape);
    plain.clear(FieldId::BoxHeight);
    look::check(sheet)?;
    let space = space(&plain).ok_or_else(|| {
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
    let boards = boards(sheet)?;
    let behind = |spec: &BoxSpec| {
        (driver_depth(spec) - spec.front_thickness() - spec.boards.shell.thickness).metres().max(0.0)
    };
    // The box as it stands knows what its fittings take; without one, the driver alone.
    let body = sheet.si(FieldId::DriverDisplacement).unwrap_or(0.0) * drivers as f64;
    let boxed = enclosure.filter(|enclosure| enclosure.spec.form != Form::Baffle);
    let displaced = boxed.map_or(body, |enclosure| {
        let build = enclosure.plan.current();
        // What the openings of this very box take is no matter of the next one's.
        let own =
            [LedgerItem::PortAir, LedgerItem::PortWalls, LedgerItem::Radiators, LedgerItem::RadiatorHoles];
        let taken = |ledger: &Ledger| {
            let openings: Volume = own.iter().map(|item| ledger.volume(*item)).sum();
            (ledger.gross - ledger.net + openings).cubic_metres()
        };
        (taken(&build.ledger) + build.front_room.as_ref().map_or(0.0, taken)).max(0.0)
    });
    let mut room = Room {
        width: side(Axis::Width),
        height: side(Axis::Height),
        depth: side(Axis::Depth),
        lean: space.slant.map_or(0.0, |slant| {
            (slant.depth - slant.top_depth).millimetres() / slant.height.millimetres().max(1.0)
        }),
        board,
        front: Length::from_metres(front(sheet, &boards)),
        divider: boards.inner.thickness.to_length(),
        frame: length(FieldId::OutsideDiameter),
        driver_depth: Length::from_metres(
            enclosure.map_or(sheet.si(FieldId::MountingDepth).unwrap_or(0.0), |e| behind(&e.spec)),
        ),
        drivers: u32::try_from(drivers).unwrap_or(1),
        least: [Length::from_metres(0.0); 3],
        edges: edges(sheet),
        displaced: Volume::from_cubic_metres(displaced),
    };
    if sheet.has_any(&faces::ENTRIES) {
        in_other_faces(&plain, space, &mut room);
    }
    Ok(room)
}

/// What drivers in other faces than the front ask for inside, and how many stay in the front.
#[inline(never)] // few boxes have any: it may come after the first result
fn in_other_faces(sheet: &Sheet, space: Space, room: &mut Room) {
    let Ok(spec) = template(sheet, Some(space), &mut Filled::new()) else { return };
    let Some(driver) = spec.driver.as_ref().filter(|driver| !driver.elsewhere.is_empty()) else { return };
    room.drivers = u32::from(driver.in_front());
    if room.drivers == 0 {
        room.driver_depth = Length::from_metres(0.0);
    }
    let least = elsewhere_least(&spec);
    let shell = spec.boards.shell.thickness;
    let inside =
        [least.width - shell * 2, least.height - shell * 2, least.depth - spec.front_thickness() - shell];
    room.least = inside.map(|size| Length::from_metres(size.metres().max(0.0)));
}

/// The boards entered.
fn boards(sheet: &Sheet) -> Part<Boards> {
    let thickness = sheet.length(FieldId::Board).unwrap_or_default();
    super::wood::boards(sheet, Board::mdf(thickness))
}

/// Thickness of the front, m.
fn front(sheet: &Sheet, boards: &Boards) -> f64 {
    let layers = if sheet.choice_key(FieldId::FrontLayers) == "double" { 2 } else { 1 };
    boards.front.iter().take(layers).map(|board| board.thickness.metres()).sum()
}

/// What corner strips take of the front: the leg of their face, on the sides if any stands upright, on top and bottom if
/// any lies across.
fn edges(sheet: &Sheet) -> [Length; 2] {
    let leg =
        Length::from_metres(sheet.si(FieldId::StripFace).unwrap_or(0.0) * std::f64::consts::FRAC_1_SQRT_2);
    let none = Length::from_metres(0.0);
    let edges = super::strips::edges(sheet);
    [Axis::Height, Axis::Width]
        .map(|along| if edges.iter().any(|edge| edge.along == along) { leg } else { none })
}

/// Volume by which the box as cut may miss the proposal, and its tuning: as a share.
const MISS: f64 = 0.04;

/// The enclosure's entries with a proposal taken in, for [`super::session::Action::TakeRecord`]; `None` if the box as
/// planned piece by piece does not go together or misses what was proposed.
///
/// Outside sizes that were fixed and a port length give way. Where the plan's own shape does not hold the parts, the
/// proposal's width and height are fixed instead.
#[must_use]
pub fn taken(sheet: &Sheet, proposal: &Proposal) -> Option<Sheet> {
    let plain = entries(sheet, proposal);
    if goes_together(sheet, &plain, proposal) {
        return Some(plain);
    }
    let mut shaped = plain;
    let [width, height, _] = proposal.outside_m;
    for (id, metres) in [(FieldId::BoxWidth, width), (FieldId::BoxHeight, height)] {
        // A proposal that fills the space must not stick out by its rounding.
        let text = format!("{:.0} mm", (metres * 1e3 + 0.01).floor());
        if let Ok(entry) = parse_entry(id, &text, &UnitPrefs::default()) {
            let _ = shaped.set(id, entry);
        }
    }
    goes_together(sheet, &shaped, proposal).then_some(shaped)
}

/// Whether the design with this enclosure holds the box proposed and nothing stands in its way.
fn goes_together(sheet: &Sheet, enclosure: &Sheet, proposal: &Proposal) -> bool {
    let mut sheet = sheet.clone();
    sheet.take_record(RecordKind::Enclosure, enclosure);
    let report = evaluate(&sheet);
    let (Ok(planned), Ok(sound)) = (&report.enclosure, &report.sound) else { return false };
    let stopped = report.warnings.iter().any(|warning| {
        matches!(warning, Warning::Fact(_) | Warning::KeepOut(_)) && warning.severity() == Severity::Stop
    });
    let near = |found: f64, wanted: f64| (found / wanted - 1.0).abs() < MISS;
    let tuning = match proposal.kind {
        Kind::PassiveRadiator => Some(sound.resonance),
        Kind::Bandpass | Kind::Bandpass6Outward | Kind::Bandpass6Inward => {
            planned.front_port.map(|port| port.tuning)
        }
        Kind::Closed | Kind::Vented => planned.port.map(|port| port.tuning),
    };
    let tuned = match (tuning, proposal.tuning_hz) {
        (Some(found), Some(wanted)) => near(found.hertz(), wanted),
        (found, wanted) => found.is_none() == wanted.is_none(),
    };
    let tuned = tuned
        && match (proposal.behind, planned.port) {
            (Some(pipe), Some(port)) => near(port.tuning.hertz(), pipe.tuning.hertz()),
            (pipe, _) => pipe.is_none(),
        };
    let front = planned.plan.current().front_room.as_ref().map(|room| room.net.cubic_metres());
    let roomy = match (front, proposal.front_m3) {
        (Some(found), Some(wanted)) => near(found, wanted),
        (found, wanted) => found.is_none() == wanted.is_none(),
    };
    let rear = proposal.net_m3 - proposal.front_m3.unwrap_or(0.0);
    !stopped && planned.fits && tuned && roomy && near(sound.net.cubic_metres(), rear)
}

fn entries(sheet: &Sheet, proposal: &Proposal) -> Sheet {
    let mut record = sheet.record(RecordKind::Enclosure);
    for id in [
        FieldId::BoxWidth,
        FieldId::BoxHeight,
        FieldId::BoxDepth,
        FieldId::PortLength,
        FieldId::WantedTuning,
        FieldId::FrontNet,
        FieldId::FrontTuning,
        FieldId::FrontPortLength,
    ] {
        record.clear(id);
    }
    // A leaning back leans as the space does.
    record.clear(FieldId::Shape);
    record.clear(FieldId::TopDepth);
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
    if proposal.top_m.is_some() {
        put(FieldId::Shape, "slanted back".to_owned());
    }
    let rear = proposal.net_m3 - proposal.front_m3.unwrap_or(0.0);
    put(FieldId::WantedNet, format!("{:.1} l", rear * 1e3));
    if let Some((count, weight)) = proposal.radiators {
        put(FieldId::RadiatorCount, count.to_string());
        put(FieldId::RadiatorWeight, format!("{:.0} g", weight * 1e3));
        put(FieldId::RadiatorPlace, "front".to_owned());
    }
    if let (Some(front), Some(tuning), Some(tube)) = (proposal.front_m3, proposal.tuning_hz, proposal.tube) {
        put(FieldId::FrontNet, format!("{:.1} l", front * 1e3));
        put(FieldId::FrontTuning, format!("{tuning:.1} Hz"));
        put(FieldId::FrontPortShape, "round".to_owned());
        put(FieldId::FrontPortDiameter, format!("{:.0} mm", tube.inside.millimetres()));
        put(FieldId::FrontPortCount, tube.count.to_string());
    }
    let behind = match proposal.behind {
        Some(pipe) => Some((pipe.tuning.hertz(), pipe.tube)),
        None if proposal.front_m3.is_none() => proposal.tuning_hz.zip(proposal.tube),
        None => None,
    };
    if let Some((tuning, tube)) = behind {
        put(FieldId::WantedTuning, format!("{tuning:.1} Hz"));
        put(FieldId::PortShape, "round".to_owned());
        put(FieldId::PortDiameter, format!("{:.0} mm", tube.inside.millimetres()));
        put(FieldId::PortCount, tube.count.to_string());
    }
    record
}

/// The plain question that the box's own entries ask, answered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Question {
    /// A closed box of this Qtc.
    Qtc(f64, QtcAnswer),
    /// A port for this tuning in this net volume, of which at most this much goes in.
    Port(Frequency, Volume, Length, PortAnswer),
}

/// Which volume the wanted Qtc asks for, or which port length the wanted tuning; `None` while the box is not described.
#[must_use]
pub fn question(sheet: &Sheet, report: &Report) -> Option<Question> {
    let ground = ground(sheet, report).ok()?;
    if matches!(report.enclosure, Err(Gap::Rings)) && sheet.choice_key(FieldId::BoxKind) == "vented" {
        return ring_question(sheet, report, &ground);
    }
    let room = room(sheet, report, &ground).ok()?;
    let sound = report.sound.as_ref().ok()?;
    if matches!(sound.built.enclosure, Enclosure::Closed { .. }) {
        let qtc = sheet.si(FieldId::WantedQtc)?;
        let answer = volume_for_qtc(&ground.load, qtc, room.largest(), &ground.air).ok()?;
        return Some(Question::Qtc(qtc, answer));
    }
    let Enclosure::Vented { rear } = sound.built.enclosure else { return None };
    // A length that is typed asks for nothing.
    if sheet.given(FieldId::PortLength).is_some() {
        return None;
    }
    // Also while no box holds the port: the question then matters most.
    let used = |id: FieldId| sheet.si(id).or_else(|| report.filled.get(&id).copied());
    let wanted = Frequency::from_hertz(used(FieldId::WantedTuning)?);
    let net = used(FieldId::WantedNet).map_or(rear.volume, Volume::from_cubic_metres);
    let across = match rear.port.opening {
        Opening::Round { diameter } => diameter,
        Opening::Slot { height, .. } => height,
    };
    // Its own height of air before the inner end, as the plan keeps it.
    let longest = room.depth.metres() - room.board.metres() - across.metres();
    let shortest = room.front;
    let longest = Length::from_metres(longest);
    let span = [shortest, longest];
    let answer = port_for_tuning(&rear.port, wanted, net, span, &tubes(sheet), &ground.air).ok()?;
    Some(Question::Port(wanted, net, longest, answer))
}

/// The same of a stack of rings, whose air is what its rings leave: only a tube is asked for.
#[inline(never)] // few boxes are stacked
fn ring_question(sheet: &Sheet, report: &Report, ground: &Ground) -> Option<Question> {
    let tubes = planned_rings(sheet, report).ok()?.tubes?;
    let Enclosure::Vented { rear } = report.sound.as_ref().ok()?.built.enclosure else { return None };
    if sheet.given(FieldId::PortLength).is_some() {
        return None;
    }
    let used = |id: FieldId| sheet.si(id).or_else(|| report.filled.get(&id).copied());
    let wanted = Frequency::from_hertz(used(FieldId::WantedTuning)?);
    let span = [tubes.plates, tubes.most].map(ExactLength::to_length);
    let answer =
        port_for_tuning(&rear.port, wanted, rear.volume, span, &self::tubes(sheet), &ground.air).ok()?;
    Some(Question::Port(wanted, rear.volume, span[1], answer))
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

/// The reasons of the box at `index` of a ranking, what limits its level, and at which frequency.
#[must_use]
pub fn reasons(ranking: &[Proposal], index: usize) -> (Vec<Reason>, Option<(Bound, f64)>) {
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
    (reasons, Some((this.merit.bound, this.merit.bound_hz)))
}
