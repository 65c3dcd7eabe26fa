//! Charts as SVG: every curve and tick is there, text does not overlap, odd data does no harm.
use std::rc::Rc;

use kerf_and_coil::present::chart::{
    Across, Axis, Chart, Curve, Line, Sheet, Side, Sign, TICKS_HZ, draw, nearest, reading, to_csv,
};
use plotters::prelude::*;
use plotters_svg::SVGBackend;

fn chart(values: Vec<f64>) -> Chart {
    let count = values.len();
    let frequencies: Vec<f64> =
        (0..count).map(|i| 10.0 * 50f64.powf(i as f64 / (count.max(2) - 1) as f64)).collect();
    Chart {
        key: "level",
        title: "Level".into(),
        frequencies_hz: Rc::from(frequencies),
        across: Across::Frequency,
        left: Axis::below_top(&values, 40.0, 10.0),
        curves: vec![
            Curve {
                name: "level".into(),
                unit: "dB",
                values: Rc::from(values.clone()),
                places: 1,
                line: Line::Full,
                side: Side::Left,
                band: None,
            },
            Curve {
                name: "phase".into(),
                unit: "°",
                values: Rc::from(values),
                places: 0,
                line: Line::Dashed,
                side: Side::Right,
                band: None,
            },
        ],
        right: Some(Axis { low: -180.0, high: 180.0, step: 90.0 }),
        limit: None,
    }
}

fn svg(chart: &Chart, width: u32, height: u32) -> String {
    let mut text = String::new();
    {
        let area = SVGBackend::with_string(&mut text, (width, height)).into_drawing_area();
        draw(&area, chart, &Sheet::day(12.0, 1.0), Some(3)).unwrap();
        area.present().unwrap();
    }
    text
}

#[test]
fn every_tick_has_its_number() {
    let text = svg(&chart((0..100).map(|i| 60.0 + f64::from(i) * 0.3).collect()), 342, 190);
    for hz in TICKS_HZ {
        assert!(text.contains(&format!("\n{hz:.0}\n")), "{hz} in {text}");
    }
    assert!(text.matches("<polyline").count() > 12);
    assert!(!text.contains("NaN") && !text.contains("inf"));
}

#[test]
fn odd_data_is_drawn_as_far_as_it_goes() {
    for values in [
        vec![],
        vec![90.0],
        vec![f64::NAN; 50],
        vec![f64::INFINITY, 90.0, f64::NAN, 80.0],
        vec![1e300; 9],
        vec![0.0; 9],
    ] {
        let chart = chart(values);
        for (width, height) in [(342, 190), (10, 10), (1, 1)] {
            let text = svg(&chart, width, height);
            assert!(!text.contains("NaN"));
        }
        assert!(!to_csv(&[&chart]).contains("NaN"));
        assert!(!reading(&chart, 0).contains("NaN"));
    }
}

#[test]
fn the_cursor_reads_every_curve() {
    let chart = chart(vec![80.0, 81.26, 82.0]);
    assert_eq!(reading(&chart, 1), "level 81.3 dB, phase 81 °");
    assert_eq!(to_csv(&[&chart]).lines().count(), 4);
}

/// Numbers of a polygon or polyline as drawn.
fn numbers(line: &str) -> Vec<f64> {
    let points = line.split("points=\"").nth(1).and_then(|rest| rest.split('"').next()).unwrap_or("");
    points.split([' ', ',']).filter_map(|number| number.parse().ok()).collect()
}

#[test]
fn a_band_is_filled_between_its_edges() {
    let mut chart = chart((0..60).map(|i| 70.0 + 0.2 * f64::from(i)).collect());
    let values = Rc::clone(&chart.curves[0].values);
    let edge = |by: f64| values.iter().map(|v| v + by).collect::<Rc<[f64]>>();
    assert!(!svg(&chart, 342, 190).contains("<polygon"));
    chart.curves[0].band = Some((edge(-2.0), edge(2.0)));
    let text = svg(&chart, 342, 190);
    let polygon = text.lines().find(|line| line.contains("<polygon")).expect("a band");
    let points = numbers(polygon);
    assert_eq!(points.len(), 2 * 120);
    // Along the lower edge and back along the upper one, both over the whole width.
    let (first, last) = ((points[0], points[1]), (points[238], points[239]));
    assert!((first.0 - last.0).abs() < 1.5 && first.1 > last.1 + 5.0, "{first:?} {last:?}");
    // An odd band is no reason to fail.
    for odd in [edge(f64::NAN), edge(1e300), Rc::from([])] {
        chart.curves[0].band = Some((Rc::clone(&odd), odd));
        assert!(!svg(&chart, 342, 190).contains("NaN"));
    }
}

#[test]
fn a_tap_finds_the_nearest_point() {
    let mut chart = chart(vec![80.0, 60.0, 80.0, 60.0, 80.0]);
    for (index, sign) in [Sign::Disc, Sign::Ring].into_iter().enumerate() {
        let mut values = vec![f64::NAN; 5];
        values[2 * index] = 70.0;
        chart.curves[index] = Curve {
            line: Line::Points(sign),
            side: Side::Left,
            values: values.into(),
            ..chart.curves[index].clone()
        };
    }
    let text = svg(&chart, 342, 190);
    assert!(text.matches("<circle").count() >= 2, "{text}");
    let sheet = Sheet::day(12.0, 1.0);
    let at = |x: f64, y: f64| nearest(&chart, &sheet, (342, 190), (x, y));
    assert_eq!(at(0.0, 90.0), Some(0));
    assert_eq!(at(340.0, 90.0), Some(2));
    assert_eq!(at(f64::NAN, 90.0), None);
    assert_eq!(nearest(&chart, &sheet, (1, 1), (0.0, 0.0)), None);
}

/// The ceiling of the demo: every stretch has a line of its own and no point is without one; the sentence names the first.
#[test]
fn the_ceiling_is_whole_and_told_in_a_sentence() {
    use kerf_and_coil::design::{demo, evaluate::evaluate};
    use kerf_and_coil::present::{ceiling, charts};
    let report = evaluate(&demo::design().sheet);
    let (sound, loud) = (report.sound.expect("the demo sounds"), report.loud.expect("the demo is loud"));
    let chart = charts::of_ceiling(&sound, &loud).expect("the demo has limits");
    let stretches = loud.ceiling.as_ref().unwrap();
    for (i, level) in stretches.curve.level_db.iter().enumerate() {
        let found = chart.curves.iter().filter(|curve| matches!(curve.line, Line::Limit(_)));
        assert!(found.into_iter().any(|curve| curve.values[i] == *level), "point {i}");
    }
    let picture = svg(&chart, 342, 190);
    assert!(!picture.contains("NaN"));
    let sentence = ceiling::sentence(&loud);
    assert!(sentence.ends_with('.') && sentence.len() > 20, "{sentence}");
    println!("{sentence} {:?}", ceiling::stretches(&loud));
    for chart in charts::more_of_sound(&sound, &loud) {
        assert!(chart.curves.iter().all(|curve| curve.values.iter().all(|value| value.is_finite())));
        assert!(!svg(&chart, 342, 190).contains("NaN"));
    }
    // The sentence knows the filters: too low a high-pass is told where and what would do, and doing it settles it.
    let told = |corner: &str| {
        use kerf_and_coil::design::{document::parse_entry, limits::FieldId};
        let mut sheet = demo::design().sheet;
        for (id, text) in
            [(FieldId::HighPass, corner), (FieldId::BoxKind, "vented"), (FieldId::WantedNet, "40")]
        {
            if !text.is_empty() {
                let entry = parse_entry(id, text, &kerf_and_coil::units::UnitPrefs::default()).unwrap();
                sheet.set(id, entry).unwrap();
            }
        }
        let report = evaluate(&sheet);
        ceiling::sentence(&report.loud.expect("loud"))
    };
    let plain = told("");
    assert!(plain.contains("add a high-pass of 24 dB at "), "{plain}");
    let low = told("12");
    assert!(low.contains("the high-pass at 12.0 Hz still lets it go too far from "), "{low}");
    let enough = low.rsplit("set it to ").next().and_then(|text| text.split(' ').next()).expect("a corner");
    assert!(plain.contains(&format!("at {enough} Hz")), "{plain} {low}");
    // Shown to a hertz: one above it is enough.
    let higher = format!("{:.0}", enough.parse::<f64>().unwrap() + 1.0);
    let settled = told(&higher);
    assert!(
        settled.contains(&format!("the high-pass at {higher} Hz keeps it within its travel")),
        "{settled}"
    );
    let step = charts::more_of_sound(&sound, &loud).pop().expect("charts");
    assert_eq!((step.key, step.across), ("step", Across::Time));
    assert!(to_csv(&[&step]).starts_with("time ms,"));
}

/// Designs beside the open one: a curve each, read by the same cursor; the difference of a design to itself is nothing.
#[test]
fn other_designs_lie_beside_and_their_difference_is_read() {
    use kerf_and_coil::design::document::parse_entry;
    use kerf_and_coil::design::limits::FieldId;
    use kerf_and_coil::design::{demo, evaluate::evaluate};
    use kerf_and_coil::present::charts::{Beside, difference, of_sound, with_beside};
    use kerf_and_coil::units::UnitPrefs;
    let sheet = demo::design().sheet;
    let sound = evaluate(&sheet).sound.expect("the demo sounds");
    let mut half = sheet.clone();
    // Half the voltage is 6.02 dB less everywhere.
    for (id, text) in [
        (FieldId::DriveBy, "voltage".to_owned()),
        (FieldId::DriveVolts, format!("{:.6}", 0.5 * sound.drive.voltage.volts())),
    ] {
        half.set(id, parse_entry(id, &text, &UnitPrefs::default()).unwrap()).unwrap();
    }
    let quieter = evaluate(&half).sound.expect("it sounds");
    let others = [
        Beside { id: Rc::from("a"), name: "same".into(), sound: Rc::clone(&sound) },
        Beside { id: Rc::from("b"), name: "half".into(), sound: quieter },
    ];
    let charts: Vec<Rc<Chart>> = of_sound(&sound).into_iter().map(Rc::new).collect();
    let together = with_beside(&charts, &others);
    assert_eq!(together.len(), charts.len());
    let read = reading(&together[0], 100);
    assert!(read.contains("same: level") && read.contains("half: level"), "{read}");
    assert!(!svg(&together[0], 342, 190).contains("NaN"));
    let chart = difference("open", &sound, &others, 0).expect("two others");
    assert!(chart.curves[0].values.iter().all(|value| *value == 0.0));
    assert!(chart.curves[1].values.iter().all(|value| (value + 6.0206).abs() < 1e-3));
    assert_eq!(difference("open", &sound, &[], 0), None);
    // Against the quieter one the others are 6.02 dB louder, each under its own name and line.
    let chart = difference("open", &sound, &others, 2).expect("two others");
    let names: Vec<&str> = chart.curves.iter().map(|curve| &*curve.name).collect();
    assert_eq!(names, ["open", "same"]);
    assert!(chart.title.ends_with("half"), "{}", chart.title);
    assert!(chart.curves.iter().flat_map(|curve| curve.values.iter()).all(|db| (db - 6.0206).abs() < 1e-3));
    assert_eq!(difference("open", &sound, &others, 3), None);
}
