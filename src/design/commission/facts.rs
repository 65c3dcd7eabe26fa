//! What the report says about first power, gathered in one place.
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{FeedReport, Report};
use crate::model::electrical::amplifier::SupplyDraw;
use crate::model::electrical::commission::{a_weighting_db, lamp_current};
use crate::model::electrical::feed::FeedOption;
use crate::small::sort_by;
use crate::units::{CableUnit, Current, Frequency, Power, Resistance, Voltage};

/// What limits the power that the gain is set for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GainBy {
    /// The drive of the design.
    Wanted,
    /// What the coils stand.
    Coils,
    /// What the amplifier gives at this load and supply.
    Amplifier,
}

/// The voltage that the gain is set for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GainFact {
    /// AC volts at the output, rms, loudspeaker disconnected.
    pub volts: Voltage,
    /// The power it makes in the nominal load.
    pub power: Power,
    /// Why no more.
    pub by: GainBy,
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

/// A voltage lost somewhere in the feed at a current.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OverFeed {
    /// What is lost.
    pub volts: Voltage,
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
    /// With the engine running.
    pub supply: Voltage,
    /// Frequency of the first tone: where the box resonates.
    pub tone: Option<Frequency>,
    /// The gain.
    pub gain: Option<GainFact>,
    /// Amplifier minus to battery minus at the gain's power.
    pub back: Option<OverFeed>,
    /// Main fuse at the gain's power.
    pub over_fuse: Option<OverFeed>,
    /// How loud.
    pub level: Option<Level>,
}

/// The lamp: 21 W at 12 V, as in a car's stop light.
const LAMP_W: f64 = 21.0;
const LAMP_V: f64 = 12.0;
/// A fuse and its holder lose about this at the fuse's rating, V (common practice, no source).
const FUSE_V: f64 = 0.1;

/// Gathers the facts; `cable` says which list of sizes was fitted.
#[must_use]
pub fn facts(report: &Report, sheet: &Sheet, cable: CableUnit) -> Facts {
    let wiring = report.wiring.as_deref().ok();
    let chosen = wiring.and_then(|wiring| wiring.chosen());
    let feed = report.feed.as_deref().ok();
    let option = feed.and_then(|feed| side(feed, cable));
    let gain = gain(report, sheet);
    let at = feed.zip(gain).map(|(feed, gain)| at_gain(feed, gain));
    let rating = option.and_then(|option| Some(option.fuse.as_ref().ok()?.rating));
    Facts {
        load: chosen.map(|option| (option.reading_low, option.reading_high)),
        stable: chosen.and_then(|option| option.power).is_none_or(|power| power.stable),
        cones: wiring.map_or(1, |wiring| wiring.coils.driver_count()),
        lamp: lamp_current(Power::from_watts(LAMP_W), Voltage::from_volts(LAMP_V)).ok(),
        fuse: rating,
        idle: idle(sheet, feed.map(|feed| feed.draw)),
        supply: Voltage::from_volts(sheet.si(FieldId::Supply).unwrap_or(13.8)),
        tone: report.sound.as_ref().ok().map(|sound| sound.resonance),
        gain,
        back: option.zip(at).map(|(option, at)| back(option, at)),
        over_fuse: rating.zip(at).map(|(rating, at)| OverFeed {
            volts: Voltage::from_volts(FUSE_V * at.amperes() / rating.amperes()),
            at,
        }),
        level: level(report),
    }
}

fn side(feed: &FeedReport, cable: CableUnit) -> Option<&FeedOption> {
    match cable {
        CableUnit::SquareMillimetres => feed.metric.choice(),
        CableUnit::Gauge => feed.gauge.choice(),
    }
}

/// The least of what is wanted, what the coils stand, and what the amplifier gives.
fn gain(report: &Report, sheet: &Sheet) -> Option<GainFact> {
    let (wiring, feed) = (report.wiring.as_ref().ok()?, report.feed.as_ref().ok()?);
    let ohm = wiring.chosen()?.nominal.ohms();
    let drivers = wiring.coils.driver_count() as f64;
    let volts = || sheet.given(FieldId::DriveVolts).map(|volts| volts.si().powi(2) / ohm);
    let wanted = match sheet.choice_key(FieldId::DriveBy) {
        "voltage" => volts(),
        _ => sheet.given(FieldId::DrivePower).map(crate::units::Entered::si),
    };
    let mut limits = vec![(feed.power.expected().watts(), GainBy::Amplifier)];
    limits.extend(sheet.si(FieldId::ThermalPower).map(|watts| (watts * drivers, GainBy::Coils)));
    limits.extend(wanted.map(|watts| (watts, GainBy::Wanted)));
    sort_by(&mut limits, |a, b| a.0.total_cmp(&b.0));
    let (watts, by) = limits.first().copied()?;
    let volts = Voltage::from_volts((watts * ohm).sqrt());
    Some(GainFact { volts, power: Power::from_watts(watts), by })
}

/// Supply current at the gain's power; the draw is proportional to power.
fn at_gain(feed: &FeedReport, gain: GainFact) -> Current {
    let full = feed.power.high.watts();
    let share = if full > 0.0 { (gain.power.watts() / full).min(1.0) } else { 1.0 };
    feed.draw.worst_case * share
}

/// Half the loop is the way back, and the whole of it is proportional to the current.
fn back(option: &FeedOption, at: Current) -> OverFeed {
    OverFeed { volts: Voltage::from_volts(0.5 * option.loop_resistance.ohms() * at.amperes()), at }
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
