//! What a search found: each box in words, and volume against reach as a picture.
use std::rc::Rc;

use super::chart::{Across, Axis, Chart, Curve, Line, Side, Sign};
use super::figures::hertz;
use super::format::{fixed, si};
use crate::design::find::{Found, Proposal, Question, Reason, reasons};
use crate::model::acoustics::search::alignments::{Alignment, Start};
use crate::model::acoustics::search::inverse::{PortAnswer, QtcAnswer};
use crate::model::acoustics::search::{Bound, Kind, Tube};
use crate::small::sort_by;
use crate::units::{Length, Quantity, UnitPrefs, Volume};
use crate::words::find as words;

fn kind_name(kind: Kind) -> &'static str {
    match kind {
        Kind::Closed => words::CLOSED,
        Kind::Vented => words::VENTED,
        Kind::PassiveRadiator => words::RADIATOR,
        Kind::Bandpass => words::BANDPASS,
        Kind::Bandpass6Outward => words::BANDPASS_OUTWARD,
        Kind::Bandpass6Inward => words::BANDPASS_INWARD,
    }
}

const fn sign(kind: Kind) -> Sign {
    match kind {
        Kind::Closed => Sign::Disc,
        Kind::Vented => Sign::Ring,
        Kind::PassiveRadiator => Sign::Cross,
        Kind::Bandpass => Sign::Diamond,
        Kind::Bandpass6Outward => Sign::Up,
        Kind::Bandpass6Inward => Sign::Down,
    }
}

/// The kind and net volume of a box.
#[must_use]
pub fn title(proposal: &Proposal, prefs: &UnitPrefs) -> String {
    let net = si(proposal.net_m3, Quantity::Volume, prefs);
    let shape = if proposal.top_m.is_some() { words::LEANING } else { "" };
    format!("{}{shape}, {net}", kind_name(proposal.kind))
}

/// What a box does, in one line: reach, level, evenness, delay, size outside.
#[must_use]
pub fn figures(proposal: &Proposal, prefs: &UnitPrefs) -> String {
    let merit = &proposal.merit;
    let parts = [
        words::reach(&hertz(merit.reach_hz)),
        words::level(&fixed(merit.level_db, 0)),
        // An rms deviation times √2 is the height of a sine ripple.
        words::ripple(&fixed(merit.unevenness_db * std::f64::consts::SQRT_2, 1)),
        words::delay(&fixed(merit.periods, 1)),
        words::outside(&si(proposal.outside_m3(), Quantity::Volume, prefs).to_string()),
    ];
    parts.join(" · ")
}

/// The pipe or the radiators of a box, if it has any, and its air before the cone.
#[must_use]
pub fn opening(proposal: &Proposal, prefs: &UnitPrefs) -> Option<String> {
    if let (Some((count, weight)), Some(tuning)) = (proposal.radiators, proposal.tuning_hz) {
        return Some(words::radiators(count, &fixed(weight * 1e3, 0), &hertz(tuning)));
    }
    let (tube, length, hz) = (proposal.tube?, proposal.length_m?, proposal.tuning_hz?);
    let outer = pipe(&tube, length, hz, prefs);
    let Some(front) = proposal.front_m3 else { return Some(outer) };
    let before = words::before(&si(front, Quantity::Volume, prefs).to_string(), &outer);
    Some(match &proposal.behind {
        Some(inner) => {
            let inner = pipe(&inner.tube, inner.length.metres(), inner.tuning.hertz(), prefs);
            words::behind(&before, &inner)
        }
        None => before,
    })
}

fn pipe(tube: &Tube, metres: f64, hz: f64, prefs: &UnitPrefs) -> String {
    let length_of = |metres| si(metres, Quantity::Length, prefs).to_string();
    // A search does not know it to less than a millimetre; the plan does.
    let about = length_of((metres * 1e3).round() * 1e-3);
    words::pipe(tube.count, &length_of(tube.inside.metres()), &about, &hertz(hz))
}

/// Why a box stands in the list, and what limits it.
#[must_use]
pub fn why(ranking: &[Proposal], index: usize) -> String {
    let (reasons, bound) = reasons(ranking, index);
    let reason = |reason: &Reason| match reason {
        Reason::Best => words::BEST,
        Reason::Lowest => words::LOWEST,
        Reason::Loudest => words::LOUDEST,
        Reason::MostEven => words::MOST_EVEN,
        Reason::Smallest => words::SMALLEST,
        Reason::Tightest => words::TIGHTEST,
    };
    let bound = bound.map(|(bound, hz)| {
        let what = match bound {
            Bound::Voltage => words::BY_VOLTAGE,
            Bound::Current => words::BY_CURRENT,
            Bound::Travel => words::BY_TRAVEL,
            Bound::Port => words::BY_PORT,
            Bound::Radiator => words::BY_RADIATOR,
        };
        words::bound(what, &hertz(hz))
    });
    let mut texts: Vec<String> = reasons.iter().map(|one| reason(one).to_owned()).collect();
    texts.extend(bound);
    let mut text = texts.join("; ");
    if let Some(first) = text.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    text
}

/// The boxes of the picture, in its order: by rising volume outside.
#[must_use]
pub fn points(found: &Found) -> Vec<Proposal> {
    let mut points = found.trade.clone();
    sort_by(&mut points, |a, b| a.outside_m3().total_cmp(&b.outside_m3()));
    points
}

/// Volume outside against reach, one sign for each kind; `points` ascend in volume.
#[must_use]
pub fn trade(points: &[Proposal]) -> Chart {
    let litres: Rc<[f64]> = points.iter().map(|point| point.outside_m3() * 1e3).collect();
    let mut curves = Vec::new();
    for kind in Kind::ALL {
        let value = |point: &Proposal| if point.kind == kind { point.merit.reach_hz } else { f64::NAN };
        let values: Rc<[f64]> = points.iter().map(value).collect();
        if values.iter().any(|value| value.is_finite()) {
            curves.push(Curve {
                name: kind_name(kind).into(),
                unit: "Hz",
                values,
                places: 0,
                line: Line::Points(sign(kind)),
                side: Side::Left,
                band: None,
            });
        }
    }
    let reach: Vec<f64> = points.iter().map(|point| point.merit.reach_hz).collect();
    Chart {
        key: "trade",
        title: words::TRADE.into(),
        frequencies_hz: litres,
        across: Across::Litres,
        curves,
        left: around(&reach),
        right: None,
        limit: None,
    }
}

/// Tens of hertz about the values.
fn around(values: &[f64]) -> Axis {
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if !(low.is_finite() && high.is_finite()) {
        return Axis::from_zero(values, 40.0);
    }
    let (low, high) = (10.0 * (low / 10.0 - 0.1).floor(), 10.0 * (high / 10.0 + 0.1).ceil());
    let step = super::chart::round_step(high - low, 5);
    Axis { low, high: low + step * ((high - low) / step).ceil(), step }
}

/// The signs of a picture in words.
#[must_use]
pub fn legend(chart: &Chart) -> String {
    let signs = chart.curves.iter().map(|curve| {
        let sign = match curve.line {
            Line::Points(Sign::Ring) => "○",
            Line::Points(Sign::Cross) => "+",
            Line::Points(Sign::Diamond) => "◇",
            Line::Points(Sign::Up) => "△",
            Line::Points(Sign::Down) => "▽",
            _ => "●",
        };
        format!("{sign} {}", curve.name)
    });
    signs.collect::<Vec<_>>().join(", ")
}

/// A published alignment: its name, and the box it asks for.
#[must_use]
pub fn start(start: &Start, prefs: &UnitPrefs) -> (&'static str, String) {
    let name = match start.alignment {
        Alignment::ClosedCritical => words::CRITICAL,
        Alignment::ClosedBessel => words::BESSEL,
        Alignment::ClosedButterworth => words::BUTTERWORTH,
        Alignment::ClosedFull => words::FULL,
        Alignment::VentedQuasi => words::QUASI,
        Alignment::VentedButterworth => words::BUTTERWORTH4,
        Alignment::VentedChebyshev => words::CHEBYSHEV,
    };
    let net = si(start.net.cubic_metres(), Quantity::Volume, prefs).to_string();
    let tuning = start.tuning.map(|tuning| hertz(tuning.hertz()));
    (name, words::start(&net, tuning.as_deref(), &hertz(start.f3.hertz())))
}

/// The answer to the question that the box's entries ask.
#[must_use]
pub fn answer(question: &Question, prefs: &UnitPrefs) -> String {
    let volume = |volume: Volume| si(volume.cubic_metres(), Quantity::Volume, prefs).to_string();
    let length = |length: Length| si(length.metres(), Quantity::Length, prefs).to_string();
    match question {
        Question::Qtc(qtc, answer) => {
            let wanted = fixed(*qtc, 2);
            match answer {
                QtcAnswer::Volume(net) => words::qtc(&wanted, &volume(*net)),
                QtcAnswer::TooLarge { needed, qtc } => {
                    words::qtc_large(&wanted, &volume(*needed), &fixed(*qtc, 2))
                }
                QtcAnswer::NotBelow(qts) => words::qtc_low(&wanted, &fixed(*qts, 2)),
            }
        }
        Question::Port(wanted, net, longest, answer) => {
            let wanted = words::tuning(&hertz(wanted.hertz()), &volume(*net));
            match answer {
                PortAnswer::Length(needed) => words::port(&wanted, &length(*needed)),
                PortAnswer::NotSoHigh(hole) => words::port_high(&wanted, &hertz(hole.hertz())),
                PortAnswer::TooLong(long) => {
                    let mut ways = vec![
                        words::way_tuning(&hertz(long.tuning.hertz())),
                        words::way_volume(&volume(long.volume)),
                        words::way_area(&fixed(100.0 * long.area_share, 0)),
                    ];
                    if let Some((tube, needed)) = long.tube {
                        let diameter = length(tube.inside);
                        ways.insert(0, words::way_pipe(tube.count, &diameter, &length(needed)));
                    }
                    words::port_long(&wanted, &length(long.needed), &length(*longest), &ways.join("; "))
                }
            }
        }
    }
}
