//! The depth of the feed, topic by topic: which entries it takes, and what it says. Blocks of text, ready to show.
mod amplifier;
mod cables;
mod fuse;
pub mod measure;
mod proof;
mod supply;

use super::format::fixed;
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{FeedReport, Report};
use crate::units::UnitPrefs;
use crate::words::feed as words;

/// A piece of a topic.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Block {
    /// Names and values, one under the other.
    Pairs(Vec<(&'static str, String)>),
    /// A paragraph.
    Text(String),
    /// Numbered steps.
    Steps(Vec<&'static str>),
    /// What could hurt.
    Caution(&'static str),
    /// A table.
    Table {
        /// Its heads.
        heads: &'static [&'static str],
        /// Its rows.
        rows: Vec<Row>,
    },
}

/// A row of a table: header and cells, each with a second line that may be empty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The header.
    pub header: (String, String),
    /// The cells.
    pub cells: Vec<(String, String)>,
}

/// One topic.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Topic {
    /// Every cable with its current, drop and fuse.
    Cables,
    /// The main fuse: short circuits, types, place.
    Fuse,
    /// Battery, alternator, hours.
    Supply,
    /// Second battery.
    Second,
    /// Capacitor.
    Capacitor,
    /// Metal and true size of the cable.
    Proof,
    /// Where to measure and what to expect.
    Measure,
    /// The amplifier's ratings and how its outputs are joined.
    Ratings,
    /// The gain, step by step.
    Gain,
    /// Power over frequency in this box.
    Power,
    /// Loudspeaker cable.
    Line,
}

impl Topic {
    /// Topics of the feed.
    pub const FEED: &'static [Self] =
        &[Self::Cables, Self::Fuse, Self::Supply, Self::Second, Self::Capacitor, Self::Proof, Self::Measure];
    /// Topics of the amplifier.
    pub const AMPLIFIER: &'static [Self] = &[Self::Ratings, Self::Gain, Self::Power, Self::Line];

    /// Its title.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Cables => words::CABLES,
            Self::Fuse => words::FUSE,
            Self::Supply => words::SUPPLY,
            Self::Second => words::SECOND,
            Self::Capacitor => words::CAPACITOR,
            Self::Proof => words::PROOF,
            Self::Measure => words::MEASURE,
            Self::Ratings => words::RATINGS,
            Self::Gain => words::GAIN,
            Self::Power => words::POWER,
            Self::Line => words::LINE,
        }
    }
    /// Its entries.
    #[must_use]
    pub const fn fields(self) -> &'static [FieldId] {
        use FieldId as F;
        match self {
            Self::Cables => &[
                F::BranchRun,
                F::BranchAmbient,
                F::BranchInsulation,
                F::OtherDraw,
                F::OtherRun,
                F::OtherAmbient,
                F::OtherInsulation,
                F::SecondOtherDraw,
                F::SecondOtherRun,
                F::SecondOtherAmbient,
                F::SecondOtherInsulation,
                F::ThirdOtherDraw,
                F::ThirdOtherRun,
                F::ThirdOtherAmbient,
                F::ThirdOtherInsulation,
                F::ReturnVia,
                F::BodyMilliohm,
                F::GaugeKind,
            ],
            Self::Fuse => &[F::FuseDistance, F::FuseBreaking],
            Self::Supply => &[
                F::BatteryKind,
                F::BatteryCapacity,
                F::BatteryMilliohm,
                F::RestVolts,
                F::Reserve,
                F::ParkedLoad,
                F::DrainMilliamps,
                F::MusicShare,
                F::Charging,
                F::AlternatorRating,
                F::IdleShare,
                F::ExistingLoad,
                F::AlternatorRun,
                F::EngineAmbient,
            ],
            Self::Second => &[F::SecondBattery, F::SecondRun, F::SecondCapacity, F::ChargerCurrent],
            Self::Capacitor => &[F::CapFarads, F::CapMilliohm, F::CapSag],
            Self::Proof => &[F::ProofSize, F::ProofLength, F::ProofMass, F::ProofCurrent, F::ProofMillivolts],
            Self::Measure => &[F::TestCurrent],
            Self::Ratings => &[
                F::RatingBasis,
                F::OutputUse,
                F::Channels,
                F::BridgedLoad,
                F::BridgedWatts,
                F::StrapAllowed,
                F::AmplifierClass,
                F::SupplyKind,
                F::AmplifierFuse,
                F::OtherSupply,
                F::OtherWatts4,
                F::OtherWatts2,
                F::OtherWatts1,
            ],
            Self::Gain => &[F::GainPower],
            // The cable's entries stand beside the wiring.
            Self::Power | Self::Line => &[],
        }
    }
    /// What it says; without a feed only what needs none.
    #[must_use]
    pub fn blocks(self, report: &Report, sheet: &Sheet, prefs: &UnitPrefs) -> Vec<Block> {
        match (self, &report.feed) {
            (Self::Proof, _) => proof::blocks(report),
            (_, Ok(feed)) => self.of_feed(feed, sheet, prefs),
            (_, Err(_)) => Vec::new(),
        }
    }
    fn of_feed(self, feed: &FeedReport, sheet: &Sheet, prefs: &UnitPrefs) -> Vec<Block> {
        match self {
            Self::Cables => cables::blocks(feed, sheet, prefs),
            Self::Fuse => fuse::blocks(feed, prefs),
            Self::Supply => supply::battery(feed, sheet),
            Self::Second => supply::second(feed),
            Self::Capacitor => supply::capacitor(feed),
            Self::Proof => Vec::new(),
            Self::Measure => measure::blocks(feed, prefs),
            Self::Ratings => amplifier::ratings(feed, sheet),
            Self::Gain => amplifier::gain(feed),
            Self::Power => amplifier::power(feed),
            Self::Line => amplifier::line(feed),
        }
    }
}

/// Volts with two decimals, or millivolts below a quarter of one.
fn volts(value: f64) -> String {
    if value.abs() < 0.25 {
        format!("{}\u{a0}mV", fixed(1e3 * value, usize::from(value.abs() < 0.01)))
    } else {
        format!("{}\u{a0}V", fixed(value, 2))
    }
}

fn watts(value: f64) -> String {
    format!("{}\u{a0}W", fixed(value, 0))
}

/// Whole amperes; one decimal below ten.
fn amperes(value: f64) -> String {
    format!("{}\u{a0}A", fixed(value, usize::from(value.abs() < 10.0)))
}

fn percent(value: f64) -> String {
    format!("{}\u{a0}%", fixed(value, usize::from(value.abs() < 10.0)))
}

fn milliohms(value: f64) -> String {
    format!("{}\u{a0}mΩ", fixed(1e3 * value, 1))
}
