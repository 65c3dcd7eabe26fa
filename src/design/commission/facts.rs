//! What the report says about first power, gathered in one place.
use super::step::SUPPLY_STRAYS_V;
use crate::design::document::Sheet;
use crate::design::evaluate::feed::along;
use crate::design::limits::FieldId;
use crate::design::report::{FeedReport, FeedSide, GainLimit, MeasureKind, Report};
use crate::model::electrical::amplifier::SupplyDraw;
use crate::model::electrical::commission::{a_weighting_db, lamp_current};
use crate::units::{CableUnit, Current, Frequency, Power, Resistance, Voltage};

/// The voltage that the gain is set for, as the feed's plan has it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GainFact {
    /// AC volts at the output, rms, loudspeaker disconnected.
    pub volts: Voltage,
    /// The power it makes in the nominal load.
    pub power: Power,
    /// Why no more.
    pub by: GainLimit,
}

/// Current of the amplifier without a signal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Idle {
    /// Least that is right.
    pub low: Current,
    /// Most that is right.
    pub high: Current,
    /// Above it, stop.
    pub stop: Current,
    /// Whether it follows from the maker's figure.
    pub given: bool,
}

/// A voltage somewhere in the feed at a current, as the feed's list of what to measure has it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OverFeed {
    /// Least that is in order.
    pub low: Voltage,
    /// Most that is in order.
    pub high: Voltage,
    /// At this current.
    pub at: Current,
}

/// The loudest tone below 125 Hz at the design's drive, 1 m away in half space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    /// Its level, dB.
    pub db: f64,
    /// Where.
    pub at: Frequency,
    /// The greatest A-weighted level of a tone below 125 Hz, dB(A).
    pub dba: f64,
}

/// Everything the steps rest on; `None` where the report has a gap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facts {
    /// The line's resistance: least and most that is right, cold.
    pub load: Option<(Resistance, Resistance)>,
    /// Whether the amplifier stands the wiring in use.
    pub stable: bool,
    /// Cones to watch.
    pub cones: usize,
    /// Current through the lamp with a short behind it.
    pub lamp: Option<Current>,
    /// Rating of the main fuse.
    pub fuse: Option<Current>,
    /// Without a signal.
    pub idle: Idle,
    /// With the engine running: least and most that is right.
    pub supply: (Voltage, Voltage),
    /// Whether the vehicle lowers its voltage when it likes.
    pub varies: bool,
    /// Frequency of the first tone: where the box resonates.
    pub tone: Option<Frequency>,
    /// The gain.
    pub gain: Option<GainFact>,
    /// Amplifier minus to battery minus at the gain's power.
    pub back: Option<OverFeed>,
    /// Whether that way is the vehicle's body.
    pub body: bool,
    /// Main fuse at the gain's power.
    pub over_fuse: Option<OverFeed>,
    /// The amplifier's supply terminals at the gain's power.
    pub terminals: Option<OverFeed>,
    /// How loud.
    pub level: Option<Level>,
}

/// The lamp: 21 W at 12 V, as in a car's stop light.
const LAMP_W: f64 = 21.0;
const LAMP_V: f64 = 12.0;

/// Gathers the facts; `cable` says which list of sizes was fitted.
#[must_use]
pub fn facts(report: &Report, sheet: &Sheet, cable: CableUnit) -> Facts {
    let wiring = report.wiring.as_deref().ok();
    let chosen = wiring.and_then(|wiring| wiring.chosen());
    let feed = report.feed.as_deref().ok();
    let side = feed.map(|feed| feed.side(cable));
    let at = feed.map(at_gain);
    let voltages = match (feed, side, at) {
        (Some(feed), Some(side), Some(at)) => {
            // Two strapped amplifiers have a branch each.
            along(sheet, side, at, at * (1.0 / feed.amplifier.output().amplifiers()))
        }
        _ => Vec::new(),
    };
    let find = |kind: MeasureKind| {
        let found = voltages.iter().find(|measure| measure.kind == kind)?;
        let (low, high) = (Voltage::from_volts(found.low), Voltage::from_volts(found.high));
        Some(OverFeed { low, high, at: found.at? })
    };
    let varies = sheet.choice_key(FieldId::Charging) == "smart";
    Facts {
        load: chosen.map(|option| (option.reading_low, option.reading_high)),
        stable: chosen.and_then(|option| option.power).is_none_or(|power| power.stable),
        cones: wiring.map_or(1, |wiring| wiring.coils.driver_count()),
        lamp: lamp_current(Power::from_watts(LAMP_W), Voltage::from_volts(LAMP_V)).ok(),
        fuse: side.and_then(main_fuse),
        idle: idle(sheet, feed.map(|feed| feed.draw)),
        supply: supply(sheet, side.filter(|_| varies)),
        varies,
        tone: report.sound.as_ref().ok().map(|sound| sound.resonance),
        gain: feed.map(|feed| GainFact {
            volts: feed.plan.volts,
            power: feed.plan.power,
            by: feed.plan.limit,
        }),
        back: find(MeasureKind::Return),
        body: sheet.choice_key(FieldId::ReturnVia) == "body",
        over_fuse: find(MeasureKind::MainFuse),
        terminals: find(MeasureKind::AmplifierTerminals),
        level: level(report),
    }
}

fn main_fuse(side: &FeedSide) -> Option<Current> {
    Some(side.segments.first()?.feed.choice()?.fuse.as_ref().ok()?.rating)
}

/// The supply entered, give or take; what the feed expects at the battery where the vehicle varies it.
fn supply(sheet: &Sheet, varying: Option<&FeedSide>) -> (Voltage, Voltage) {
    let volts = sheet.si(FieldId::Supply).unwrap_or(13.8);
    let (low, high) = (volts - SUPPLY_STRAYS_V, volts + SUPPLY_STRAYS_V);
    let band = varying.and_then(|side| side.measure_at(MeasureKind::BatteryRunning));
    let (low, high) = band.map_or((low, high), |band| (band.low.min(low), band.high.max(high)));
    (Voltage::from_volts(low), Voltage::from_volts(high))
}

/// Supply current at the gain's power, nothing else on the feed switched on; the draw is proportional to power.
fn at_gain(feed: &FeedReport) -> Current {
    let full = feed.power.high.watts();
    let share = if full > 0.0 { (feed.plan.power.watts() / full).min(1.0) } else { 1.0 };
    feed.draw.worst_case * share
}

/// By the maker's figure, half to one and a half times it; else by the size of the amplifier: up to 1 A and 3 % of the
/// full draw (common practice, no source).
fn idle(sheet: &Sheet, draw: Option<SupplyDraw>) -> Idle {
    let ampere = Current::from_amperes;
    if let Some(given) = sheet.si(FieldId::IdleCurrent) {
        return Idle {
            low: ampere(0.5 * given),
            high: ampere(1.5 * given),
            stop: ampere(3.0 * given),
            given: true,
        };
    }
    let full = draw.map_or(0.0, |draw| draw.worst_case.amperes());
    Idle { low: ampere(0.05), high: ampere(1.0 + 0.03 * full), stop: ampere(3.0 + 0.1 * full), given: false }
}

fn level(report: &Report) -> Option<Level> {
    let sound = report.sound.as_ref().ok()?;
    let mut found: Option<Level> = None;
    for (hz, db) in sound.response.frequencies_hz.iter().zip(&sound.response.spl_db) {
        let Some(weighting) = a_weighting_db(*hz).ok().filter(|_| *hz >= 20.0 && *hz <= 125.0) else {
            continue;
        };
        let dba = db + weighting;
        let here = Level { db: *db, at: Frequency::from_hertz(*hz), dba };
        found = Some(match found {
            None => here,
            Some(last) => Level { dba: last.dba.max(dba), ..if *db > last.db { here } else { last } },
        });
    }
    found.filter(|level| level.db.is_finite() && level.dba.is_finite())
}
