//! What a design comes to: figures, curves, parts, wiring, feed and warnings.
mod feed;

use std::rc::Rc;

pub use feed::{
    FeedReport, FeedSide, GainLimit, GainPlan, LineReport, Measure, MeasureKind, Operation, PowerAt,
    ProofReport, RealPower, SecondReport, SupplyReport,
};

use super::limits::FieldId;
use super::warnings::Warning;
use crate::model::acoustics::datasheet::Resolved;
use crate::model::acoustics::figures::Figures;
use crate::model::acoustics::slack::Built;
use crate::model::acoustics::{Air, Cabin, Ceiling, Intake, Limiter, Network, Response, TravelLeft};
use crate::model::electrical::amplifier::PowerAtLoad;
use crate::model::electrical::wiring::{CoilSet, CoilShare, Tree, VersionChoice};
use crate::model::error::ModelError;
use crate::model::geometry::{BoxSpec, Dims, Plan};
use crate::small::VecMap;
use crate::units::{ExactLength, Frequency, Length, Mass, Power, Resistance, Voltage, Volume};

/// What stands in the way of a part of the report.
#[derive(Clone, Debug, PartialEq)]
pub enum Gap {
    /// Entries are missing: the smallest sets that would do, the usual one first.
    Missing(Vec<Vec<FieldId>>),
    /// The model refuses the entries.
    Refused(ModelError),
    /// Another part, on which this one rests, is not there.
    Waiting,
    /// The box is stacked from rings, which are planned by themselves.
    Rings,
}

impl From<ModelError> for Gap {
    fn from(error: ModelError) -> Self {
        Self::Refused(error)
    }
}

/// A part of the report, or what is in its way.
pub type Part<T> = Result<T, Gap>;

/// One way to wire the coils.
#[derive(Clone, Debug, PartialEq)]
pub struct WiringOption {
    /// The tree.
    pub tree: Tree,
    /// The tree as a short text; also what is stored when it is chosen.
    pub notation: String,
    /// Nominal load.
    pub nominal: Resistance,
    /// What a meter should read at the place chosen, cold: coils, and the cable where it is read through it.
    pub reading: Resistance,
    /// The least of it within the coils' tolerance.
    pub reading_low: Resistance,
    /// The most of it within the coils' tolerance.
    pub reading_high: Resistance,
    /// Power there, if the amplifier is known.
    pub power: Option<PowerAtLoad>,
    /// Share of the power in the coil that takes most, 0 to 1.
    pub coil_share: f64,
    /// Each coil's share of power, voltage and current, in the order of the tree.
    pub shares: Vec<CoilShare>,
    /// Whether all coils take the same power.
    pub equal_shares: bool,
}

/// What cable and amplifier do to the damping.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Damping {
    /// Cable and amplifier in series with the line.
    pub source: Resistance,
    /// Qes of the driver by itself.
    pub qes: f64,
    /// Qes with the source's resistance in the circuit.
    pub qes_driven: f64,
}

/// The least impedance of the chosen box at this wiring beside what the amplifier stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeastLoad {
    /// Smallest |Z| over frequency, as the amplifier sees it.
    pub least: Resistance,
    /// Where.
    pub at: Frequency,
    /// Smallest |Z| that the amplifier's rating allows for, if the amplifier is known.
    pub allowed: Option<Resistance>,
}

impl LeastLoad {
    /// Whether it is below what the rating allows for.
    #[must_use]
    pub fn too_low(&self) -> bool {
        self.allowed.is_some_and(|allowed| self.least.ohms() < allowed.ohms() * 0.995)
    }
}

/// How the coils may be wired, and how they are.
#[derive(Clone, Debug, PartialEq)]
pub struct WiringReport {
    /// The coils.
    pub coils: CoilSet,
    /// Every balanced wiring, by rising load.
    pub options: Vec<WiringOption>,
    /// The one in use.
    pub chosen: usize,
    /// Whether the user chose it.
    pub by_user: bool,
    /// Whether the last option is the user's own, none of the regular ones.
    pub own: bool,
    /// Whether the drivers are of two kinds.
    pub mixed: bool,
    /// Speaker cable, out and back.
    pub cable: Resistance,
    /// Cable and amplifier in series with the line.
    pub source: Resistance,
    /// What they do to the damping, if the driver is known and the wiring balanced.
    pub damping: Option<Damping>,
}

impl WiringReport {
    /// The wiring in use.
    #[must_use]
    pub fn chosen(&self) -> Option<&WiringOption> {
        self.options.get(self.chosen)
    }
}

/// The port as cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PortReport {
    /// Tuning of the port as cut in the box as cut.
    pub tuning: Frequency,
    /// What was asked for.
    pub wanted: Option<Frequency>,
    /// Length as cut, the front included.
    pub length: ExactLength,
    /// Cross-section of all openings in m².
    pub area_m2: f64,
    /// Smallest total cross-section by the rule 0.8·fb·Vd, in m²; if the travel is known.
    pub least_area_m2: Option<f64>,
}

/// The box as it is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxReport {
    /// The box as specified, outside and port filled in.
    pub spec: BoxSpec,
    /// Cut list, ledgers, facts, fence order.
    pub plan: Rc<Plan>,
    /// Net volume asked for; `None` where the outside is fixed and nothing was asked.
    pub wanted: Option<Volume>,
    /// Largest net volume the space allows.
    pub largest: Option<Volume>,
    /// Whether what was wanted fits.
    pub fits: bool,
    /// Outside as planned.
    pub outside: Dims,
    /// The port of a vented box, or of the room behind the drivers.
    pub port: Option<PortReport>,
    /// The port of the room before the drivers.
    pub front_port: Option<PortReport>,
}

/// How loud it is driven.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DriveReport {
    /// Voltage at the amplifier, rms.
    pub voltage: Voltage,
    /// The same as power into the nominal load.
    pub power: Power,
}

/// What is heard.
#[derive(Clone, Debug, PartialEq)]
pub struct SoundReport {
    /// The box as the acoustics see it, its drivers, its drive, its filters: the curves are those behind them.
    pub built: Built,
    /// The air it was calculated in.
    pub air: Air,
    /// The drive.
    pub drive: DriveReport,
    /// Net volume used.
    pub net: Volume,
    /// The curves.
    pub response: Rc<Response>,
    /// Figures read off the curves.
    pub figures: Figures,
    /// fc of a closed box, fb of a vented one.
    pub resonance: Frequency,
    /// Qtc of a closed box, source resistance left out.
    pub qtc: Option<f64>,
    /// Travel one way the driver is good for.
    pub xmax: Option<Length>,
    /// What the curves were solved from.
    pub network: Rc<Network>,
    /// Lowest frequency at which the filters ask for more than the amplifier's voltage.
    pub clipped: Option<Frequency>,
    /// The curves without the filters; the same ones where there are none.
    pub unfiltered: Rc<Response>,
    /// The cabin, if its length or corner is known.
    pub cabin: Option<Cabin>,
    /// The driver firing down, if it does.
    pub floor: Option<FloorReport>,
    /// Travel one way the passive radiators are good for.
    pub radiator_xmax: Option<Length>,
}

/// How loud it can get, and what it takes.
#[derive(Clone, Debug, PartialEq)]
pub struct LoudReport {
    /// Power and current.
    pub intake: Intake,
    /// Greatest level at each frequency, without filters; `None` where nothing is known that limits.
    pub ceiling: Option<CeilingReport>,
    /// The coil's heat.
    pub heat: HeatReport,
}

/// What gives first, and where.
#[derive(Clone, Debug, PartialEq)]
pub struct CeilingReport {
    /// The curve.
    pub curve: Ceiling,
    /// Stretches of the frequency axis with one limit: from, to, what.
    pub segments: Vec<(Frequency, Frequency, Limiter)>,
    /// A high-pass of 24 dB per octave that keeps the cone within its travel at the amplifier's full voltage.
    pub high_pass: Option<Frequency>,
    /// What the filters entered leave of the cone's travel at that voltage; `None` without filters or travel.
    pub filters: Option<TravelLeft>,
}

/// The coil's heat at the drive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeatReport {
    /// Warming in the long run, K; `None` while the thermal resistance is unknown.
    pub warming_k: Option<f64>,
    /// Level lost by it, dB.
    pub compression_db: Option<f64>,
    /// Level lost at 100 K above 20 °C, dB.
    pub compression_at_100_k_db: f64,
    /// Time constant, s, if known.
    pub time_s: Option<f64>,
}

/// A driver that fires at the floor.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorReport {
    /// Sag of the cone.
    pub sag: Length,
    /// The gap.
    pub gap: Length,
    /// The least gap.
    pub least: Length,
    /// Mass of air it adds to each cone.
    pub added: Mass,
    /// The driver's resonance in free air without and with it.
    pub fs: (Frequency, Frequency),
    /// Where the box's impedance peaks without and with it, from low to high.
    pub peaks: Vec<(Frequency, Frequency)>,
}

/// What a design comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// The drive unit.
    pub driver: Part<Rc<Resolved>>,
    /// The coils.
    pub wiring: Part<Rc<WiringReport>>,
    /// The box.
    pub enclosure: Part<Rc<BoxReport>>,
    /// The sound.
    pub sound: Part<Rc<SoundReport>>,
    /// How loud it can get; waits for the first picture.
    pub loud: Part<Rc<LoudReport>>,
    /// The load's true minimum, if there is a sound.
    pub least_load: Option<LeastLoad>,
    /// Coil versions to order for this many drivers, best first; empty while the amplifier is not known.
    pub versions: Rc<[VersionChoice]>,
    /// The feed.
    pub feed: Part<Rc<FeedReport>>,
    /// What weighing or measuring a cable proved, if that was done.
    pub proof: Option<Part<ProofReport>>,
    /// Fields left empty and what counts in their place, SI.
    pub filled: VecMap<FieldId, f64>,
    /// Doubts, gravest first.
    pub warnings: Rc<[Warning]>,
}
