//! Battery to amplifier, and what comes out of it.
use super::Part;
use crate::model::electrical::amplifier::{Amplifier, PowerAtLoad, SupplyDraw};
use crate::model::electrical::cable::Size;
use crate::model::electrical::feed::{Feed, ShortSource};
use crate::model::electrical::line::LineEffect;
use crate::model::electrical::prove::Proof;
use crate::model::electrical::supply::{
    Balance, Battery, Budget, CapacitorHelp, NoPoint, OperatingPoint, Source,
};
use crate::model::electrical::tree::{Segment, SegmentKind};
use crate::units::{CableUnit, Current, Frequency, Power, Resistance, Voltage};

/// What settles at the amplifier, or that nothing does.
pub type Operation = Result<OperatingPoint, NoPoint>;

/// Battery to amplifier.
#[derive(Clone, Debug, PartialEq)]
pub struct FeedReport {
    /// The amplifier, outputs joined as used.
    pub amplifier: Amplifier,
    /// Power at the wired load and the supply entered, nothing lost on the way.
    pub power: PowerAtLoad,
    /// Current from the supply at that power: what cable and fuse are chosen for.
    pub draw: SupplyDraw,
    /// Main cable, metric sizes.
    pub metric: Feed,
    /// Main cable, gauge sizes.
    pub gauge: Feed,
    /// √(P·Z) for that power; before sag, see `plan`.
    pub gain: Voltage,
    /// The whole feed in metric sizes.
    pub metric_side: FeedSide,
    /// The whole feed in gauge sizes.
    pub gauge_side: FeedSide,
    /// The gain to set.
    pub plan: GainPlan,
    /// Battery, alternator, second battery.
    pub supply: SupplyReport,
    /// Loudspeaker cable.
    pub line: LineReport,
    /// Power over frequency in this box, once there is a sound.
    pub real: Option<RealPower>,
    /// The capacitor, if there is one.
    pub capacitor: Option<Part<CapacitorHelp>>,
    /// Length of the cable from battery to fuse as planned, metres.
    pub fuse_distance_m: f64,
    /// Whether the maker's fuses can pass what the rating needs; `None` where no fuse is entered.
    pub fuse_fits_rating: Option<bool>,
}

impl FeedReport {
    /// The feed in the sizes of a reader.
    #[must_use]
    pub const fn side(&self, unit: CableUnit) -> &FeedSide {
        match unit {
            CableUnit::SquareMillimetres => &self.metric_side,
            CableUnit::Gauge => &self.gauge_side,
        }
    }
}

/// The feed in one list of sizes.
#[derive(Clone, Debug, PartialEq)]
pub struct FeedSide {
    /// Main cable, branches, then link to the second battery and charge cable where there are any.
    pub segments: Vec<Segment>,
    /// Drop from battery to amplifier at the worst case, percent of the supply; `None` without a cable.
    pub drop_percent: Option<f64>,
    /// At full power with the engine running, the supply held at the battery's posts as far as the alternator's rating
    /// goes, where that is entered; with the thickest cable where none does.
    pub running: Option<Operation>,
    /// Whether at `running` the battery gives what the alternator has not left.
    pub battery_helps: bool,
    /// At full power from the battery alone.
    pub resting: Option<Operation>,
    /// Power out at `running`.
    pub running_power: Option<Power>,
    /// Power out at `resting`.
    pub resting_power: Option<Power>,
    /// What to measure, with what to expect.
    pub measure: Vec<Measure>,
}

impl FeedSide {
    /// Our amplifier's own branch; `None` where it hangs on the main cable.
    #[must_use]
    pub fn branch(&self) -> Option<&Segment> {
        self.segments.iter().find(|segment| segment.kind == SegmentKind::Branch(0))
    }
    /// What to measure at a place; `None` where the feed has no such place.
    #[must_use]
    pub fn measure_at(&self, kind: MeasureKind) -> Option<Measure> {
        self.measure.iter().find(|measure| measure.kind == kind).copied()
    }
}

/// A place to put the probes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeasureKind {
    /// Battery posts, rested.
    BatteryRest,
    /// Battery posts, engine running.
    BatteryRunning,
    /// Over the main fuse with its holder.
    MainFuse,
    /// Battery plus to the main cable's far end.
    MainPlus,
    /// Amplifier minus to battery minus.
    Return,
    /// Over the amplifier's branch cable.
    BranchPlus,
    /// At the amplifier's supply terminals.
    AmplifierTerminals,
    /// Current with everything asleep.
    Drain,
}

impl MeasureKind {
    /// Every place, in the order of the current.
    pub const ALL: &'static [Self] = &[
        Self::BatteryRest,
        Self::BatteryRunning,
        Self::MainFuse,
        Self::MainPlus,
        Self::BranchPlus,
        Self::Return,
        Self::AmplifierTerminals,
        Self::Drain,
    ];

    /// Stable key, for readings in the log.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::BatteryRest => "feed battery rest",
            Self::BatteryRunning => "feed battery running",
            Self::MainFuse => "feed main fuse",
            Self::MainPlus => "feed main plus",
            Self::Return => "feed return",
            Self::BranchPlus => "feed branch plus",
            Self::AmplifierTerminals => "feed amplifier terminals",
            Self::Drain => "feed drain",
        }
    }
}

/// One thing to measure; volts, or amperes for the drain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measure {
    /// Where.
    pub kind: MeasureKind,
    /// Least that is in order.
    pub low: f64,
    /// Most that is in order.
    pub high: f64,
    /// The current it holds for; `None` where none flows.
    pub at: Option<Current>,
}

/// What limits the power that the gain is set for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GainLimit {
    /// The power wanted.
    Wanted,
    /// What the coils stand.
    Coils,
    /// What the amplifier gives once the supply sags.
    Amplifier,
}

/// The gain to set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GainPlan {
    /// AC volts (rms) at the output, loudspeaker disconnected.
    pub volts: Voltage,
    /// The power into the nominal load that it makes.
    pub power: Power,
    /// What limits it.
    pub limit: GainLimit,
    /// The amplifier's voltage at full power if the supply did not sag; a reading above `volts` by up to this is where
    /// it would clip under load.
    pub unsagged: Voltage,
}

/// Battery and what charges it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SupplyReport {
    /// The battery that feeds the amplifier.
    pub battery: Battery,
    /// It as a source, charged.
    pub source: Source,
    /// Whether its resistance was entered.
    pub resistance_given: bool,
    /// Band of the state of charge by the resting voltage; full where none was read.
    pub charge: (f64, f64),
    /// With the engine off, by the lower end of the band.
    pub budget: Budget,
    /// What the alternator or converter leaves; `None` where its rating is not entered.
    pub balance: Option<Balance>,
    /// What drives a short circuit at the main fuse.
    pub short: ShortSource,
    /// The second battery, if there is one.
    pub second: Option<SecondReport>,
}

/// The second battery.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SecondReport {
    /// Current when an isolator joins an empty battery with a charging supply; `None` behind a charger or without a
    /// cable.
    pub equalising: Option<Current>,
    /// What a charger takes from the starter battery's side; `None` with an isolator.
    pub charger_input: Option<Current>,
}

/// The loudspeaker cable.
#[derive(Clone, Debug, PartialEq)]
pub struct LineReport {
    /// The one in use, out and back; `None` without a driver's Q.
    pub chosen: Option<LineEffect>,
    /// Qts of the driver without it.
    pub qts_bare: Option<f64>,
    /// Loss in dB with each of a few sizes over the same run.
    pub sizes: Vec<(Size, f64)>,
    /// What it does to the level in this box, dB, at third-octave frequencies from 20 Hz to 125 Hz; empty without a sound.
    pub response: Vec<(Frequency, f64)>,
}

/// Power at one frequency.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PowerAt {
    /// Where.
    pub frequency: Frequency,
    /// Magnitude of the impedance.
    pub impedance: Resistance,
    /// Real power.
    pub power: Power,
}

/// What the box's impedance does to the power, at the gain's voltage.
#[derive(Clone, Debug, PartialEq)]
pub struct RealPower {
    /// At third-octave frequencies from 20 Hz to 125 Hz.
    pub at: Vec<PowerAt>,
    /// Greatest between 20 Hz and 125 Hz.
    pub most: PowerAt,
    /// Least between 20 Hz and 125 Hz.
    pub least: PowerAt,
    /// Mean over that range, by octaves.
    pub mean: Power,
}

/// What was proved of a cable.
#[derive(Clone, Debug, PartialEq)]
pub struct ProofReport {
    /// The size it was sold as.
    pub claimed: Option<Size>,
    /// What it is.
    pub proof: Proof,
}
