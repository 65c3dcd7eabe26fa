//! Placement trials in words, tables and charts.
mod proof;

use std::rc::Rc;

pub use self::proof::{ProofCheck, checks, losses, proof};
use super::chart::{Axis, Chart, Curve, Line, Side};
use super::figures::hertz;
use super::format::fixed;
use crate::design::trials::{Aim, InHand, Spot, SpotName, Trial};
use crate::model::measurement::columns::{Columns, ColumnsError};
use crate::model::measurement::{
    Absolute, DRIFT_LIMIT_DB, Extreme, HOLE_LIMIT_DB, Prediction, Range, Search, Sought, Tone, Verdict,
    trial_frequencies,
};
use crate::words::{guided as guided_words, microphone as microphone_words, trials as words};

/// A level that no one should play to in a trial, dB.
pub const LOUDEST_DB: f64 = 95.0;

fn named(list: &'static [&'static str], code: u8) -> &'static str {
    list.get(usize::from(code)).copied().unwrap_or_default()
}

/// Where a cone faces.
#[must_use]
pub fn aim(aim: Aim) -> String {
    match (aim, Aim::NAMED.iter().position(|(named, _)| *named == aim)) {
        (Aim::Degrees(degrees), _) => words::degrees(&degrees.to_string()),
        (_, at) => at.and_then(|at| words::AIMS.get(at)).copied().unwrap_or_default().to_owned(),
    }
}

/// A seat.
#[must_use]
pub fn seat(code: u8) -> &'static str {
    named(&words::SEATS, code)
}

/// A spot with all that sets it apart.
#[must_use]
pub fn spot_in_full(name: &SpotName) -> String {
    let states = words::STATES.iter().enumerate().filter(|(bit, _)| name.state >> bit & 1 == 1);
    let mut more: Vec<&str> = states.map(|(_, word)| *word).collect();
    if !name.used.is_empty() {
        more.push(&name.used);
    }
    words::state_at(short(name), &aim(name.aim), &more.join(", "))
}

fn short(name: &SpotName) -> &str {
    if name.spot.is_empty() { words::UNNAMED } else { &name.spot }
}

/// The name of a spot: as short as tells it from the others.
#[must_use]
pub fn spot(spots: &[Spot], index: usize) -> String {
    let Some(this) = spots.get(index) else { return String::new() };
    let alike = spots.iter().filter(|spot| spot.name.spot == this.name.spot).count();
    if alike > 1 { spot_in_full(&this.name) } else { short(&this.name).to_owned() }
}

/// The verdict as one plain sentence, and a second where the best spot has a hole.
#[must_use]
pub fn sentence(spots: &[Spot], verdict: &Verdict) -> String {
    let Some(best) = verdict.ranking.first() else { return words::NONE_YET.into() };
    let first = spot(spots, best.index);
    let mut text = match (verdict.lead, verdict.ranking.get(1)) {
        (Some(lead), Some(second)) => {
            let second = spot(spots, second.index);
            let by = fixed(lead.difference_db.abs(), 1);
            let half = lead.half_width_db.map(|half| fixed(half, 1));
            if lead.tie {
                words::tie(&first, &second, &by, half.as_deref())
            } else if lead.difference_db < 0.0 {
                words::before(&first, &second, &by, half.as_deref())
            } else {
                words::beats(&first, &second, &by, half.as_deref())
            }
        }
        _ => words::only(&first),
    };
    if best.hole_db < HOLE_LIMIT_DB {
        text.push(' ');
        text.push_str(&words::hole(&hertz(best.hole_hz), &fixed(-best.hole_db, 0)));
    }
    text
}

/// What was compared: frequencies and seats.
#[must_use]
pub fn compared(verdict: &Verdict) -> String {
    words::compared(&hertz(verdict.range.low_hz), &hertz(verdict.range.high_hz), &seats(verdict))
}

fn seats(verdict: &Verdict) -> String {
    verdict.seats.iter().map(|code| seat(*code)).collect::<Vec<_>>().join(", ")
}

/// What the uncertainty stated is made of; nothing while nothing was taken twice.
#[must_use]
pub fn sure_of(verdict: &Verdict) -> Option<&'static str> {
    verdict.ranking.first()?.uncertainty_db?;
    Some(if verdict.put_back { words::PUT_BACK } else { words::IN_A_ROW })
}

/// Spots that were not compared, if any.
#[must_use]
pub fn not_compared(spots: &[Spot], verdict: &Verdict) -> Option<String> {
    let names: Vec<String> = verdict.left_out.iter().map(|index| spot(spots, *index)).collect();
    (!names.is_empty()).then(|| words::left_out(&names.join("; "), &seats(verdict)))
}

/// What the repeated first spot tells, and whether it is a warning.
#[must_use]
pub fn drift(db: Option<f64>) -> Option<(bool, String)> {
    let db = db?;
    let off = fixed(db.abs(), 1);
    let far = db.abs() > DRIFT_LIMIT_DB;
    Some((far, if far { words::drifted(&off) } else { words::steady(&off) }))
}

/// One row of the ranking: spot, what sets it apart, and the cells of level, confidence, hole with frequency, seats.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RankRow {
    /// The spot.
    pub spot: String,
    /// Its takes.
    pub takes: String,
    /// Mean level under the loudest.
    pub level: String,
    /// Half width of its 95 % interval.
    pub sure: String,
    /// The hole.
    pub hole: String,
    /// Its frequency.
    pub hole_at: String,
    /// How much seats differ.
    pub seats: String,
}

/// Where a hole lies, whether it is a deep one, and how sure its depth is.
fn hole_at(figures: &crate::model::measurement::Figures) -> String {
    let hz = hertz(figures.hole_hz);
    let text = if figures.hole_db < HOLE_LIMIT_DB { words::deep_hole(&hz) } else { words::tone(&hz) };
    match figures.hole_uncertainty_db {
        Some(u) => words::within(&text, &fixed(2.0 * u, 1)),
        None => text,
    }
}

/// The ranking, best first.
#[must_use]
pub fn ranking(spots: &[Spot], verdict: &Verdict) -> Vec<RankRow> {
    let row = |figures: &crate::model::measurement::Figures| RankRow {
        spot: spot(spots, figures.index),
        takes: words::takes(figures.takes),
        level: fixed(figures.level_db, 1),
        sure: fixed(figures.uncertainty_db.map_or(f64::NAN, |u| 2.0 * u), 1),
        hole: fixed(figures.hole_db, 1),
        hole_at: match figures.hole_db {
            db if db < 0.0 => hole_at(figures),
            _ => String::new(),
        },
        seats: fixed(figures.seats_db2.map_or(f64::NAN, f64::sqrt), 1),
    };
    verdict.ranking.iter().map(row).collect()
}

/// What the designed box has in hand over the trials, as a sentence.
#[must_use]
pub fn in_hand(found: InHand) -> String {
    let limiter = super::ceiling::limiter_name(found.limiter);
    words::in_hand(&fixed(found.mean_db, 1), &fixed(found.least_db, 1), &hertz(found.hz), limiter)
}

/// Spot, flatness and usable level of each place in the ranking, with what the takes leave uncertain.
#[must_use]
pub fn with_curve(
    spots: &[Spot],
    verdict: &Verdict,
    found: &[Absolute],
    anchor: Option<f64>,
) -> Vec<[String; 3]> {
    let best = found.iter().map(|one| one.usable_db).fold(f64::NEG_INFINITY, f64::max);
    let from = anchor.map_or(-best, |level| level);
    let row = |(figures, one): (&crate::model::measurement::Figures, &Absolute)| {
        let sure = |value: f64| match one.uncertainty_db {
            Some(u) => words::plus_minus(&fixed(value, 1), &fixed(2.0 * u, 1)),
            None => fixed(value, 1),
        };
        [spot(spots, figures.index), sure(one.flatness_db), sure(one.usable_db + from)]
    };
    verdict.ranking.iter().zip(found).map(row).collect()
}

/// What flatness and usable level are.
#[must_use]
pub fn about_curve(anchored: bool) -> String {
    let end = if anchored { microphone_words::ANCHORED } else { microphone_words::RELATIVE };
    format!("{}{end}", microphone_words::ABOUT_CURVE)
}

pub(super) fn chart(key: &'static str, title: &str, curves: Vec<(String, Vec<f64>, Line)>) -> Chart {
    let all: Vec<f64> = curves.iter().flat_map(|(_, values, _)| values).copied().collect();
    let curve = |(name, values, line): (String, Vec<f64>, Line)| Curve {
        name,
        unit: "dB",
        values: Rc::from(values),
        places: 1,
        line,
        side: Side::Left,
        band: None,
    };
    Chart {
        key,
        title: title.to_owned(),
        frequencies_hz: Rc::from(trial_frequencies()),
        across: super::chart::Across::default(),
        left: Axis::below_top(&all, 40.0, 10.0),
        curves: curves.into_iter().map(curve).collect(),
        right: None,
        limit: None,
    }
}

/// Most curves laid over one another; more can't be told apart.
const MOST_CURVES: usize = 5;

/// The curves of the spots over one another: the best full, the second dashed, the others chained.
#[must_use]
pub fn overlay(spots: &[Spot], verdict: &Verdict) -> Chart {
    let line = |at: usize| match at {
        0 => Line::Full,
        1 => Line::Dashed,
        _ => Line::Chain,
    };
    let curves = verdict.ranking.iter().take(MOST_CURVES).enumerate();
    let curves = curves.map(|(at, figures)| (spot(spots, figures.index), figures.curve_db.clone(), line(at)));
    chart("trials", words::CHART, curves.collect())
}

/// The real box at the best spot: a sentence and the chart of measured and forecast.
#[must_use]
pub fn forecast(
    spots: &[Spot],
    verdict: &Verdict,
    measured: &[f64],
    found: &Prediction,
    range: Range,
) -> (String, Chart) {
    let best = verdict.ranking.first().map_or_else(String::new, |figures| spot(spots, figures.index));
    let apart: Vec<f64> = trial_frequencies()
        .iter()
        .zip(found.levels_db.iter().zip(measured))
        .filter(|(hz, _)| (range.low_hz..=range.high_hz).contains(*hz))
        .map(|(_, (there, here))| there - here)
        .filter(|difference| difference.is_finite())
        .collect();
    let mean = apart.iter().sum::<f64>() / apart.len().max(1) as f64;
    let (low, high) = (hertz(range.low_hz), hertz(range.high_hz));
    let text = if found.band_db == 0.0 {
        words::forecast_same(&best)
    } else {
        words::forecast(&best, &fixed(mean.abs(), 1), mean >= 0.0, &low, &high, &fixed(found.band_db, 0))
    };
    let curves = vec![
        (words::FORECAST.to_owned(), found.levels_db.clone(), Line::Full),
        (words::MEASURED.to_owned(), measured.to_vec(), Line::Dashed),
    ];
    (text, chart("forecast", words::FORECAST_CHART, curves))
}

/// A trial in the list: what was tried, and how.
#[must_use]
pub fn trial(trial: &Trial) -> (String, String) {
    let mut how = vec![seat(trial.seat).to_owned(), named(&words::WAYS, trial.way).to_owned()];
    how.push(words::takes(trial.takes.into()));
    if trial.left_out {
        how.push(words::LEFT_OUT.into());
    }
    if !trial.note.is_empty() {
        how.push(trial.note.clone());
    }
    (spot_in_full(&trial.name()), how.join(", "))
}

/// One take by its number and its mean level from 25 Hz to 80 Hz.
#[must_use]
pub fn take(at: usize, curve: &[f64]) -> String {
    let range = Range::default();
    let points = trial_frequencies();
    let counted = points
        .iter()
        .zip(curve)
        .filter(|(hz, level)| (range.low_hz..=range.high_hz).contains(*hz) && level.is_finite());
    let (sum, count) = counted.fold((0.0, 0.0), |(sum, count), (_, level)| (sum + level, count + 1.0));
    crate::words::kept::take(at + 1, &fixed(sum / count, 1))
}

/// Where the guided search stands.
#[must_use]
pub fn guided(search: &Search, tones: usize) -> String {
    let name = |one: &Extreme| {
        let what = match one.sought {
            Sought::Peak => guided_words::PEAK,
            Sought::LowPeak => guided_words::LOW_PEAK,
            Sought::Dip => guided_words::DIP,
            Sought::HighPeak => guided_words::HIGH_PEAK,
        };
        guided_words::found(what, &fixed(one.hz, 1), &fixed(one.within_hz.max(0.1), 1))
    };
    let list = search.found.iter().map(name).collect::<Vec<_>>().join(", ");
    match search.next_hz {
        Some(hz) if list.is_empty() => guided_words::play(&hz.to_string(), tones + 1),
        Some(hz) => [guided_words::play(&hz.to_string(), tones + 1), guided_words::so_far(&list)].join(" "),
        None if list.is_empty() => guided_words::NO_PEAKS.into(),
        None => guided_words::done(&list),
    }
}

/// The tones so far, by rising frequency.
#[must_use]
pub fn tones(tones: &[Tone]) -> String {
    let mut sorted = tones.to_vec();
    crate::small::sort_by_number(&mut sorted, |tone| tone.0);
    sorted
        .iter()
        .map(|(hz, volts)| guided_words::tone(&hz.to_string(), &volts.to_string()))
        .collect::<Vec<_>>()
        .join(", ")
}

/// Why a text gives no curve.
#[must_use]
pub fn columns_error(error: &ColumnsError) -> String {
    match error {
        ColumnsError::Empty => words::COLUMNS_EMPTY.into(),
        ColumnsError::NotText => words::COLUMNS_NOT_TEXT.into(),
        ColumnsError::TooLong => words::COLUMNS_TOO_LONG.into(),
        ColumnsError::NoNumbers => words::COLUMNS_NO_NUMBERS.into(),
        ColumnsError::NoColumn { .. } => words::COLUMNS_NO_COLUMN.into(),
        ColumnsError::OneColumn { line } => words::one_column(*line),
        ColumnsError::TwoWays { line } => words::two_ways(*line),
        ColumnsError::NotANumber { line, text } => words::not_a_number(*line, text),
        ColumnsError::Uneven { line, found, expected } => words::uneven(*line, *found, *expected),
        ColumnsError::OutOfRange { line } => words::out_of_range(*line),
        ColumnsError::TooFew { found } => words::too_few(*found),
    }
}

/// What a text was read as, to be looked at before it is taken.
#[must_use]
pub fn preview(columns: &Columns, column: usize) -> String {
    let points: Vec<(f64, f64)> = columns
        .rows
        .iter()
        .filter_map(|row| Some((*row.first()?, *row.get(column - 1)?)))
        .filter(|(_, level)| level.is_finite())
        .collect();
    let lowest = points.iter().map(|point| point.0).fold(f64::INFINITY, f64::min);
    let highest = points.iter().map(|point| point.0).fold(f64::NEG_INFINITY, f64::max);
    let mut text =
        words::found(points.len(), &hertz(lowest), &hertz(highest), columns.columns, columns.passed_over);
    if let Some((hz, level)) = points.first() {
        text.push(' ');
        text.push_str(&words::first_row(&hertz(*hz), &fixed(*level, 1)));
    }
    text
}
