//! The charts of a sound report.
use std::rc::Rc;

use super::ceiling::limiter_name;
use super::chart::{Across, Axis, Chart, Curve, Line, Side};
use super::figures::drive;
use crate::design::report::{LoudReport, SoundReport};
use crate::design::warnings::PORT_SPEED_LIMIT_M_S;
use crate::model::acoustics::slack::Slack;
use crate::model::acoustics::{Cabin, Limiter, step_response};
use crate::units::{Frequency, Length};
use crate::words::{acoustics as words, name};

fn curve(name: &str, unit: &'static str, places: usize, values: Vec<f64>, line: Line, side: Side) -> Curve {
    Curve { name: name.into(), unit, values: Rc::from(values), places, line, side, band: None }
}

/// The charts with the bands of a slack about their curves.
pub fn add_bands(charts: &mut [Chart], slack: &Slack) {
    for chart in charts {
        let (band, factor) = match chart.key {
            "level" => (&slack.level, 1.0),
            "cone" => (&slack.travel, 1e3),
            "air" => (&slack.port, 1.0),
            "impedance" => (&slack.impedance, 1.0),
            "delay" => (&slack.delay, 1e3),
            _ => continue,
        };
        let count = chart.frequencies_hz.len();
        let Some(curve) = chart.curves.first_mut() else { continue };
        if band.low.len() == count && band.high.len() == count {
            let edge = |values: &[f64]| values.iter().map(|v| v * factor).collect::<Rc<[f64]>>();
            curve.band = Some((edge(&band.low), edge(&band.high)));
        }
    }
}

/// Level, cone travel, port air (vented only), impedance, group delay; in this order.
#[must_use]
pub fn of_sound(sound: &SoundReport) -> Vec<Chart> {
    let response = &sound.response;
    let frequencies: Rc<[f64]> = Rc::from(response.frequencies_hz.as_slice());
    let scaled = |values: &[f64], factor: f64| values.iter().map(|v| v * factor).collect::<Vec<f64>>();
    let chart = |key, title: String, curves: Vec<Curve>, left| Chart {
        key,
        title,
        frequencies_hz: Rc::clone(&frequencies),
        across: Across::Frequency,
        curves,
        left,
        right: None,
        limit: None,
    };
    let level = response.spl_db.clone();
    let cabin = sound.cabin.map(|cabin| in_cabin(sound, &cabin));
    let (axis, mut curves) = match &cabin {
        Some(cabin) => (Axis::below_top(cabin, 50.0, 10.0), Vec::new()),
        None => (Axis::below_top(&level, 40.0, 10.0), Vec::new()),
    };
    curves.push(curve(name::LEVEL, "dB", 1, level, Line::Full, Side::Left));
    curves.extend(cabin.map(|cabin| curve(words::CABIN, "dB", 1, cabin, Line::Dashed, Side::Left)));
    let title = format!("{}, {}", name::CHART_LEVEL, drive(&sound.drive));
    let mut charts = vec![chart("level", title, curves, axis)];

    let travel = scaled(&response.excursion_peak_m, 1e3);
    let limit = sound.xmax.map(|xmax| xmax.millimetres());
    // A runaway below the tuning would flatten the rest: the axis ends at three times the limit.
    let top = limit.map_or(f64::INFINITY, |limit| 3.0 * limit);
    let in_view: Vec<f64> = travel.iter().map(|x| x.min(top)).collect();
    let axis = Axis::from_zero(&in_view, limit.map_or(0.0, |limit| 1.1 * limit));
    let mut cone = chart(
        "cone",
        name::CHART_CONE.into(),
        vec![curve(name::CONE, "mm", 1, travel, Line::Full, Side::Left)],
        axis,
    );
    cone.limit = limit;
    charts.push(cone);

    charts.extend(response.radiators.first().map(|first| of_radiator(sound, &first.excursion_peak_m)));
    if !response.ducts.is_empty() {
        let all: Vec<f64> =
            response.ducts.iter().flat_map(|duct| duct.velocity_peak_m_s.iter().copied()).collect();
        let axis = Axis::from_zero(&all, 1.2 * PORT_SPEED_LIMIT_M_S);
        let names: &[&str] =
            if response.ducts.len() > 1 { &[words::AIR_REAR, words::AIR_FRONT] } else { &[name::AIR] };
        let curves = response.ducts.iter().zip(names).zip([Line::Full, Line::Dashed]);
        let curves = curves.map(|((duct, name), line)| {
            curve(name, "m/s", 1, duct.velocity_peak_m_s.clone(), line, Side::Left)
        });
        let mut air = chart("air", name::CHART_AIR.into(), curves.collect(), axis);
        air.limit = Some(PORT_SPEED_LIMIT_M_S);
        charts.push(air);
    }

    let magnitude = response.impedance_magnitude_ohm();
    let axis = Axis::from_zero(&magnitude, 0.1);
    let mut impedance = chart(
        "impedance",
        name::CHART_IMPEDANCE.into(),
        vec![
            curve(name::IMPEDANCE, "Ω", 2, magnitude, Line::Full, Side::Left),
            curve(name::PHASE, "°", 0, response.impedance_phase_deg(), Line::Dashed, Side::Right),
        ],
        axis,
    );
    impedance.right = Some(Axis { low: -90.0, high: 90.0, step: 45.0 });
    charts.push(impedance);

    let delay = scaled(&response.group_delay_s, 1e3);
    let axis = Axis::from_zero(&delay, 1.0);
    charts.push(chart(
        "delay",
        name::CHART_DELAY.into(),
        vec![curve(name::DELAY, "ms", 1, delay, Line::Full, Side::Left)],
        axis,
    ));
    charts
}

/// Travel of the passive radiators.
#[inline(never)]
fn of_radiator(sound: &SoundReport, travel_m: &[f64]) -> Chart {
    let travel: Vec<f64> = travel_m.iter().map(|x| x * 1e3).collect();
    let limit = sound.radiator_xmax.map(Length::millimetres);
    let top = limit.map_or(f64::INFINITY, |limit| 3.0 * limit);
    let in_view: Vec<f64> = travel.iter().map(|x| x.min(top)).collect();
    let axis = Axis::from_zero(&in_view, limit.map_or(0.0, |limit| 1.1 * limit));
    let curves = vec![curve(words::RADIATOR, "mm", 1, travel, Line::Full, Side::Left)];
    let mut radiator = along_frequency(sound, "radiator", words::CHART_RADIATOR, curves, axis);
    radiator.limit = limit;
    radiator
}

/// Level in the cabin.
#[inline(never)]
fn in_cabin(sound: &SoundReport, cabin: &Cabin) -> Vec<f64> {
    let response = &sound.response;
    let pairs = response.frequencies_hz.iter().zip(&response.spl_db);
    pairs.map(|(f, level)| level + cabin.gain_db(Frequency::from_hertz(*f))).collect()
}

fn along_frequency(
    sound: &SoundReport,
    key: &'static str,
    title: &str,
    curves: Vec<Curve>,
    left: Axis,
) -> Chart {
    Chart {
        key,
        title: title.into(),
        frequencies_hz: Rc::from(sound.response.frequencies_hz.as_slice()),
        across: Across::Frequency,
        curves,
        left,
        right: None,
        limit: None,
    }
}

/// Every limiter, in the order of the table under the ceiling.
const LIMITERS: [Limiter; 6] =
    [Limiter::Cone, Limiter::Radiator, Limiter::Port, Limiter::Coil, Limiter::Voltage, Limiter::Current];

/// The ceiling, a curve for each limit, and the level at the drive below it.
#[must_use]
pub fn of_ceiling(sound: &SoundReport, loud: &LoudReport) -> Option<Chart> {
    let ceiling = &loud.ceiling.as_ref()?.curve;
    let mut curves = Vec::new();
    for limiter in LIMITERS.into_iter().filter(|one| ceiling.limiter.contains(one)) {
        // A stretch begins at the last point of the one before it, so that the line has no gaps.
        let mut before = None;
        let mut values = Vec::with_capacity(ceiling.level_db.len());
        for (level, found) in ceiling.level_db.iter().zip(&ceiling.limiter) {
            if *found == limiter {
                if let (Some(level), Some(last)) = (before, values.last_mut()) {
                    *last = level;
                }
                values.push(*level);
            } else {
                values.push(f64::NAN);
            }
            before = Some(*level);
        }
        curves.push(curve(limiter_name(limiter), "dB", 1, values, Line::Limit(limiter), Side::Left));
    }
    let level = sound.response.spl_db.clone();
    curves.push(curve(name::LEVEL, "dB", 1, level, Line::Dashed, Side::Left));
    let axis = Axis::below_top(&ceiling.level_db, 50.0, 10.0);
    Some(along_frequency(sound, "ceiling", words::CHART_CEILING, curves, axis))
}

/// Power and current, the signal path if there is one, and the step response; worked out when they are looked at.
#[must_use]
pub fn more_of_sound(sound: &SoundReport, loud: &LoudReport) -> Vec<Chart> {
    let (power, current) = (loud.intake.power_w.clone(), loud.intake.current_a.clone());
    let axis = Axis::from_zero(&power, 0.1);
    let right = Axis::from_zero(&current, 0.1);
    let curves = vec![
        curve(words::POWER, "W", 1, power, Line::Full, Side::Left),
        curve(words::CURRENT, "A", 1, current, Line::Dashed, Side::Right),
    ];
    let mut intake = along_frequency(sound, "intake", words::CHART_INTAKE, curves, axis);
    intake.right = Some(right);
    let mut charts = vec![intake];
    if !sound.built.path.stages.is_empty() {
        let gain = sound.built.path.gain_db(&sound.response.frequencies_hz);
        let axis = Axis::below_top(&gain, 40.0, 10.0);
        let curves = vec![curve(words::FILTER, "dB", 1, gain, Line::Full, Side::Left)];
        charts.push(along_frequency(sound, "filter", words::CHART_FILTER, curves, axis));
    }
    charts.extend(of_step(sound));
    charts
}

/// Longest time of the step, ms.
const STEP_MS: f64 = 100.0;

fn of_step(sound: &SoundReport) -> Option<Chart> {
    let count = sound.response.frequencies_hz.len();
    let times: Vec<f64> = (0..count).map(|i| STEP_MS * i as f64 / count.max(2) as f64).collect();
    let seconds: Vec<f64> = times.iter().map(|ms| 1e-3 * ms).collect();
    let step = step_response(&sound.network, &sound.built.drive, &sound.built.path, &seconds).ok()?;
    let size = step.iter().fold(0.0_f64, |most, value| most.max(value.abs()));
    let half = super::chart::round_step(size, 2).max(0.1);
    let high = half * (size / half).ceil().max(1.0);
    Some(Chart {
        key: "step",
        title: words::CHART_STEP.into(),
        frequencies_hz: Rc::from(times),
        across: Across::Time,
        curves: vec![curve(words::STEP, "", 2, step, Line::Full, Side::Left)],
        left: Axis { low: -high, high, step: half },
        right: None,
        limit: None,
    })
}

/// Another design beside the open one.
#[derive(Clone, Debug)]
pub struct Beside {
    /// Its key in storage.
    pub id: Rc<str>,
    /// Its name.
    pub name: String,
    /// What is heard of it.
    pub sound: Rc<SoundReport>,
}

/// The charts with the first curve of other designs in each, so that the cursor reads all of them.
#[must_use]
#[inline(never)]
pub fn with_beside(charts: &[Rc<Chart>], others: &[Beside]) -> Vec<Rc<Chart>> {
    let mut out: Vec<Chart> = charts.iter().map(|chart| (**chart).clone()).collect();
    for (number, other) in others.iter().enumerate() {
        for theirs in of_sound(&other.sound) {
            let Some(ours) = out.iter_mut().find(|chart| chart.key == theirs.key) else { continue };
            let Some(first) = theirs.curves.into_iter().next() else { continue };
            if theirs.left.high > ours.left.high {
                // A level keeps its span, so that the top counts; an axis from zero keeps its zero.
                let low = if ours.left.low == 0.0 { 0.0 } else { ours.left.low.min(theirs.left.low) };
                ours.left = Axis { low, ..theirs.left };
            }
            let name = format!("{}: {}", other.name, first.name);
            ours.curves.push(Curve { name, line: Line::Beside(number as u8), ..first });
        }
    }
    out.into_iter().map(Rc::new).collect()
}

/// How much louder each design is than one of them: the open one where `against` is 0, else that many further.
#[must_use]
pub fn difference(name: &str, sound: &Rc<SoundReport>, others: &[Beside], against: usize) -> Option<Chart> {
    let open = Beside { id: Rc::from(""), name: name.into(), sound: Rc::clone(sound) };
    let all: Vec<&Beside> = std::iter::once(&open).chain(others).collect();
    let base = *all.get(against)?;
    let mut most: f64 = 1.0;
    let mut curves = Vec::new();
    for (number, other) in all.iter().enumerate().filter(|(number, _)| *number != against) {
        let pairs = other.sound.response.spl_db.iter().zip(&base.sound.response.spl_db);
        let values: Vec<f64> = pairs.map(|(theirs, ours)| theirs - ours).collect();
        most = values.iter().fold(most, |most, value| most.max(value.abs().min(40.0)));
        // The same line as in the other charts, where the open design is the full one.
        let line = if number == 0 { Line::Full } else { Line::Beside((number - 1) as u8) };
        curves.push(curve(&other.name, "dB", 1, values, line, Side::Left));
    }
    let step = super::chart::round_step(most, 2);
    let high = step * (most / step).ceil();
    let axis = Axis { low: -high, high, step };
    let title = words::less_that_of(&base.name);
    (!curves.is_empty()).then(|| along_frequency(sound, "difference", &title, curves, axis))
}
