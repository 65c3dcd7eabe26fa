//! The meter check of a design: its wiring, its meter, its readings, and the question to ask next.
//!
//! Readings stand in the design's log as the meter showed them, leads included, under subjects that are frozen once
//! released:
//!
//! | subject | what was read |
//! | --- | --- |
//! | `meter leads` | the probes touched to each other |
//! | `line` | the joined line at the place chosen |
//! | `meter box` | the joined line at the box terminals, cable pulled off |
//! | `meter across 1A` | across coil 1A, everything left joined |
//! | `meter coil 1A` | coil 1A by itself |
//! | `meter overruled` | no reading: a verdict overruled, its reason in the note, the line's reading as the value |
//!
//! A round begins with `meter leads`. Coils read by themselves count for the whole round; places on the joined line
//! count from the last `line` on, since a line is read again when something was changed on it.
use super::document::{Log, Reading as Kept, Sheet};
use super::limits::FieldId;
use super::report::WiringReport;
use crate::model::electrical::meter::{
    Band, CoilVerdict, Evidence, Meter, MeterCheck, MeterResult, Probe, ReadAt, Reading, State, Verdict,
    check, check_coil, every_explanation,
};
use crate::model::electrical::wiring::{CoilId, Tree};
use crate::model::error::ModelError;
use crate::units::Resistance;

/// Subject of a reading of the joined line.
pub const LINE: &str = "line";
/// Subject of an overruled verdict.
pub const OVERRULED: &str = "meter overruled";
const LEADS: &str = "meter leads";
const BOX: &str = "meter box";
const ACROSS: &str = "meter across ";
const ALONE: &str = "meter coil ";

/// The most that good leads read together; common practice, no source.
pub const GOOD_LEADS_OHM: f64 = 1.0;

/// Where the probes go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spot {
    /// To each other.
    Leads,
    /// To the joined line, at the place chosen.
    Line,
    /// To a coil, or to the box terminals.
    At(Probe),
}

impl Spot {
    /// The subject of a reading there.
    #[must_use]
    pub fn subject(self) -> String {
        match self {
            Self::Leads => LEADS.into(),
            Self::Line => LINE.into(),
            Self::At(Probe::BoxTerminals) => BOX.into(),
            Self::At(Probe::AcrossCoil(id)) => [ACROSS, &id.to_string()].concat(),
            Self::At(Probe::CoilAlone(id)) => [ALONE, &id.to_string()].concat(),
        }
    }

    /// The place of a subject; `None` for another kind of reading.
    #[must_use]
    pub fn of(subject: &str) -> Option<Self> {
        let coil = |text: &str| match text.parse::<Tree>() {
            Ok(Tree::Coil(id)) => Some(id),
            _ => None,
        };
        match subject {
            LEADS => Some(Self::Leads),
            LINE => Some(Self::Line),
            BOX => Some(Self::At(Probe::BoxTerminals)),
            _ => match (subject.strip_prefix(ACROSS), subject.strip_prefix(ALONE)) {
                (Some(id), _) => coil(id).map(|id| Self::At(Probe::AcrossCoil(id))),
                (_, Some(id)) => coil(id).map(|id| Self::At(Probe::CoilAlone(id))),
                _ => None,
            },
        }
    }
}

/// What of the log counts now.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Round<'a> {
    /// Whether the leads were read in this round.
    pub leads: bool,
    /// The last reading of the line in this round.
    pub line: Option<&'a Kept>,
    /// The other readings that count, the last of each place.
    pub evidence: Vec<Evidence>,
    /// The verdict on the line was overruled.
    pub overruled: Option<&'a Kept>,
}

/// Gathers the readings that count. Without a round begun, the whole log is one.
#[must_use]
pub fn round(log: &Log) -> Round<'_> {
    let mut round = Round::default();
    for kept in &log.readings {
        match Spot::of(&kept.subject) {
            Some(Spot::Leads) => {
                // A line read before stays the last word on the line until it is read again.
                round = Round { leads: true, ..Round::default() };
            }
            Some(Spot::Line) => {
                round.line = Some(kept);
                round.overruled = None;
                round.evidence.retain(|evidence| matches!(evidence.probe, Probe::CoilAlone(_)));
            }
            Some(Spot::At(probe)) => {
                round.evidence.retain(|evidence| evidence.probe != probe);
                round.evidence.push(Evidence { probe, reading: shown(kept) });
            }
            None if kept.subject == OVERRULED && round.line.is_some() => round.overruled = Some(kept),
            None => {}
        }
    }
    round
}

fn shown(kept: &Kept) -> Reading {
    kept.value.map_or(Reading::OverRange, |value| Reading::Shown(Resistance::from_ohms(value.si())))
}

/// The resistance kept; `None` for an open line.
#[must_use]
pub fn ohms(kept: &Kept) -> Option<Resistance> {
    kept.value.map(|value| Resistance::from_ohms(value.si()))
}

/// What a reading at a place comes to.
#[derive(Clone, Debug, PartialEq)]
pub enum Judged {
    /// The leads, and whether they are good.
    Leads {
        /// Whether they read less than [`GOOD_LEADS_OHM`].
        good: bool,
    },
    /// A coil by itself before the line was read.
    Coil(CoilVerdict),
    /// The line, with everything read before.
    Line(Box<MeterResult>),
}

/// Judges what the meter shows at a place, together with what the round holds; `None` is an open line.
///
/// # Errors
/// As [`check`].
pub fn judge_at(
    sheet: &Sheet,
    wiring: &WiringReport,
    round: &Round<'_>,
    spot: Spot,
    value: Option<Resistance>,
) -> Result<Judged, ModelError> {
    let reading = value.map_or(Reading::OverRange, Reading::Shown);
    match (spot, round.line) {
        (Spot::Leads, _) => Ok(Judged::Leads { good: value.is_some_and(|r| r.ohms() <= GOOD_LEADS_OHM) }),
        (Spot::Line, _) => {
            let coils = round.evidence.iter().filter(|e| matches!(e.probe, Probe::CoilAlone(_)));
            judge_with(sheet, wiring, value, coils.copied().collect())
                .map(|result| Judged::Line(Box::new(result)))
        }
        (Spot::At(Probe::CoilAlone(id)), None) => {
            let coil = wiring.coils.get(id).ok_or(ModelError::Missing { what: "the coil" })?;
            check_coil(coil, reading, meter(sheet)).map(Judged::Coil)
        }
        (Spot::At(_), None) => Err(ModelError::Missing { what: "a reading of the line" }),
        (Spot::At(probe), Some(line)) => {
            let mut evidence = round.evidence.clone();
            evidence.retain(|evidence| evidence.probe != probe);
            evidence.push(Evidence { probe, reading });
            judge_with(sheet, wiring, ohms(line), evidence).map(|result| Judged::Line(Box::new(result)))
        }
    }
}

/// Judges the round so far; `None` before the line was read.
#[must_use]
pub fn judge_round(sheet: &Sheet, wiring: &WiringReport, round: &Round<'_>) -> Option<MeterResult> {
    judge_with(sheet, wiring, ohms(round.line?), round.evidence.clone()).ok()
}

/// Judges what the meter shows at the line, by itself; `None` is an open line.
///
/// # Errors
/// As [`check`].
pub fn judge(
    sheet: &Sheet,
    wiring: &WiringReport,
    shown: Option<Resistance>,
) -> Result<MeterResult, ModelError> {
    judge_with(sheet, wiring, shown, Vec::new())
}

fn judge_with(
    sheet: &Sheet,
    wiring: &WiringReport,
    shown: Option<Resistance>,
    evidence: Vec<Evidence>,
) -> Result<MeterResult, ModelError> {
    check(&question(sheet, wiring, shown, evidence)?)
}

/// Every state that explains a reading of the line, with the further readings of its round; commonest first.
///
/// # Errors
/// As [`check`].
pub fn every_state(
    sheet: &Sheet,
    wiring: &WiringReport,
    shown: Option<Resistance>,
    evidence: Vec<Evidence>,
) -> Result<Vec<(State, Band)>, ModelError> {
    every_explanation(&question(sheet, wiring, shown, evidence)?)
}

fn question(
    sheet: &Sheet,
    wiring: &WiringReport,
    shown: Option<Resistance>,
    mut evidence: Vec<Evidence>,
) -> Result<MeterCheck, ModelError> {
    let chosen = wiring.chosen().ok_or(ModelError::Missing { what: "a wiring" })?;
    let read_at = match sheet.choice_key(FieldId::ReadAt) {
        "amplifier end" => ReadAt::AmplifierEnd { cable: wiring.cable },
        _ => ReadAt::BoxTerminals,
    };
    // A reading of a coil that this wiring does not have says nothing about it.
    let coils = chosen.tree.coils();
    evidence.retain(|evidence| coil_of(evidence.probe).is_none_or(|id| coils.contains(&id)));
    Ok(MeterCheck {
        tree: chosen.tree.clone(),
        coils: wiring.coils.clone(),
        reading: shown.map_or(Reading::OverRange, Reading::Shown),
        meter: meter(sheet),
        read_at,
        evidence,
    })
}

const fn coil_of(probe: Probe) -> Option<CoilId> {
    match probe {
        Probe::AcrossCoil(id) | Probe::CoilAlone(id) => Some(id),
        Probe::BoxTerminals => None,
    }
}

/// An outcome this likely is not worth another measurement; common practice, no source.
const AS_GOOD_AS_SURE: f64 = 0.97;

/// The place to read next; `None` once nothing is left to tell, or what is left is a matter of two faults at once.
///
/// First the leads; then each coil by itself where that is wished; the line; then wherever tells the states apart that
/// still explain everything.
#[must_use]
pub fn next_spot(
    wiring: &WiringReport,
    round: &Round<'_>,
    result: Option<&MeterResult>,
    coils_first: bool,
) -> Option<Spot> {
    if !round.leads {
        return Some(Spot::Leads);
    }
    if round.line.is_none() {
        let read = |id: CoilId| round.evidence.iter().any(|e| e.probe == Probe::CoilAlone(id));
        let coils = wiring.chosen().map(|chosen| chosen.tree.coils()).unwrap_or_default();
        let unread = coils.into_iter().find(|id| coils_first && !read(*id));
        return Some(unread.map_or(Spot::Line, |id| Spot::At(Probe::CoilAlone(id))));
    }
    let result = result.filter(|result| result.verdict != Verdict::AsDrawn)?;
    let next = result.next.as_ref()?;
    let surest = next.expectations.iter().map(|outcome| outcome.likelihood).fold(0.0, f64::max);
    (surest < AS_GOOD_AS_SURE).then_some(Spot::At(next.probe))
}

/// The user's meter.
#[must_use]
pub fn meter(sheet: &Sheet) -> Meter {
    Meter {
        accuracy_percent: 100.0 * sheet.si(FieldId::MeterPercent).unwrap_or(0.01),
        counts: sheet.si(FieldId::MeterCounts).unwrap_or(3.0),
        count: Resistance::from_ohms(sheet.si(FieldId::MeterStep).unwrap_or(0.1)),
        leads: Resistance::from_ohms(sheet.si(FieldId::MeterLeads).unwrap_or(0.0)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::demo;
    use crate::design::evaluate::evaluate;
    use crate::units::{Entered, Quantity, UnitPrefs};

    fn kept(subject: &str, value: &str) -> Kept {
        let value = Entered::parse(value, Quantity::Resistance, &UnitPrefs::default()).ok();
        Kept { at_s: 0, subject: subject.into(), value, note: String::new() }
    }

    fn log(readings: &[(&str, &str)]) -> Log {
        Log { readings: readings.iter().map(|(s, v)| kept(s, v)).collect(), ..Log::default() }
    }

    #[test]
    fn subjects_name_their_places() {
        let id = CoilId { driver: 1, coil: 0 };
        for (spot, subject) in [
            (Spot::Leads, "meter leads"),
            (Spot::Line, "line"),
            (Spot::At(Probe::BoxTerminals), "meter box"),
            (Spot::At(Probe::AcrossCoil(id)), "meter across 2A"),
            (Spot::At(Probe::CoilAlone(id)), "meter coil 2A"),
        ] {
            assert_eq!(spot.subject(), subject);
            assert_eq!(Spot::of(subject), Some(spot));
        }
        for other in ["", "quick coil", "meter coil", "meter coil 9Z", "meter coil 1A-1B", "meter overruled"]
        {
            assert_eq!(Spot::of(other), None, "{other}");
        }
    }

    #[test]
    fn a_round_keeps_coils_and_forgets_what_belonged_to_the_line_before() {
        let log = log(&[
            ("line", "9"),
            ("meter leads", "0.2"),
            ("meter coil 1A", "1.8"),
            ("line", "1.8"),
            ("meter across 1A", "0"),
            ("meter overruled", "1.8"),
            ("line", "3.6"),
            ("meter coil 1A", "1.9"),
        ]);
        let round = round(&log);
        assert!(round.leads && round.overruled.is_none());
        assert_eq!(round.line.unwrap().value.unwrap().to_text(), "3.6 Ω");
        let alone = Probe::CoilAlone(CoilId { driver: 0, coil: 0 });
        let expected = Evidence { probe: alone, reading: Reading::Shown(Resistance::from_ohms(1.9)) };
        assert_eq!(round.evidence, [expected]);
    }

    // Two drivers of two coils of 3.4 Ω, all four side by side, 0.85 Ω; with one driver off 1.7 Ω. Leads of 0.3 Ω: 2.1 Ω, and
    // which driver it is shows across one coil: 1A and 1B side by side read 1.7 Ω, coil 1A off the line alone 3.4 Ω. A pocket
    // meter tells these apart by far, although warm coils would reach from one to the other.
    #[test]
    fn which_driver_is_off_is_asked_next() {
        let mut sheet = demo::design().sheet;
        for (id, text) in [
            (FieldId::DriverCount, "2"),
            (FieldId::NominalCoil, "4"),
            (FieldId::Re, "3.4"),
            (FieldId::Wiring, "1A|1B|2A|2B"),
            (FieldId::MeterLeads, "0.3"),
        ] {
            let entry = crate::design::document::parse_entry(id, text, &UnitPrefs::default()).unwrap();
            sheet.set(id, entry).unwrap();
        }
        let wiring = evaluate(&sheet).wiring.unwrap();
        let readings = [("meter leads", "0.3"), ("line", "2.1")];
        let log = log(&readings);
        let round = round(&log);
        let result = judge_round(&sheet, &wiring, &round).unwrap();
        let Some(Spot::At(probe)) = next_spot(&wiring, &round, Some(&result), false) else {
            panic!("a place")
        };
        assert!(matches!(probe, Probe::AcrossCoil(_)), "{probe:?}");
        let off = |driver| State::Faulty(vec![crate::model::electrical::meter::Fault::DriverOff(driver)]);
        let outcomes = &result.next.as_ref().unwrap().expectations;
        let at = |driver| outcomes.iter().position(|one| one.states.contains(&off(driver))).unwrap();
        assert_ne!(at(0), at(1), "{outcomes:?}");
    }

    // The demo's two coils of 1.8 Ω in series, by hand: leads first, then 3.7 Ω with leads of 0.1 Ω is as drawn and
    // nothing is left to ask; 1.9 Ω is one coil bridged or shorted, and one more place tells which.
    #[test]
    fn the_guide_asks_until_nothing_is_left() {
        let sheet = demo::design().sheet;
        let wiring = evaluate(&sheet).wiring.unwrap();
        let ask = |readings: &[(&str, &str)], coils_first| {
            let log = log(readings);
            let round = round(&log);
            let result = judge_round(&sheet, &wiring, &round);
            (next_spot(&wiring, &round, result.as_ref(), coils_first), result)
        };
        assert_eq!(ask(&[], true).0, Some(Spot::Leads));
        let leads = ("meter leads", "0.0");
        assert_eq!(ask(&[leads], false).0, Some(Spot::Line));
        let first = Spot::At(Probe::CoilAlone(CoilId { driver: 0, coil: 0 }));
        assert_eq!(ask(&[leads], true).0, Some(first));
        assert_eq!(
            ask(&[leads, ("meter coil 1A", "1.8"), ("meter coil 1B", "1.8")], true).0,
            Some(Spot::Line)
        );
        assert_eq!(ask(&[leads, ("line", "3.6")], false).0, None);
        let (next, result) = ask(&[leads, ("line", "1.8")], false);
        assert_eq!(result.unwrap().verdict, Verdict::NotAsDrawn);
        assert!(matches!(next, Some(Spot::At(_))), "{next:?}");
    }
}
