//! The charts of a sound report.
use std::rc::Rc;

use super::chart::{Axis, Chart, Curve, Line, Side};
use super::figures::drive;
use crate::design::report::SoundReport;
use crate::model::acoustics::slack::Slack;
use crate::words::name;

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
        curves,
        left,
        right: None,
        limit: None,
    };
    let level = response.spl_db.clone();
    let axis = Axis::below_top(&level, 40.0, 10.0);
    let mut charts = vec![chart(
        "level",
        format!("{}, {}", name::CHART_LEVEL, drive(&sound.drive)),
        vec![curve(name::LEVEL, "dB", 1, level, Line::Full, Side::Left)],
        axis,
    )];

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

    if let Some(duct) = response.ducts.first() {
        let speed = duct.velocity_peak_m_s.clone();
        let axis = Axis::from_zero(&speed, 1.2 * crate::design::warnings::PORT_SPEED_LIMIT_M_S);
        let mut air = chart(
            "air",
            name::CHART_AIR.into(),
            vec![curve(name::AIR, "m/s", 1, speed, Line::Full, Side::Left)],
            axis,
        );
        air.limit = Some(crate::design::warnings::PORT_SPEED_LIMIT_M_S);
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
