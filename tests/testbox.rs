//! The test box and the way through the door: from entries to sheet, and the door's rule against every angle.
use kerf_and_coil::design::demo;
use kerf_and_coil::design::document::{Design, parse_entry};
use kerf_and_coil::design::evaluate::evaluate;
use kerf_and_coil::design::limits::FieldId;
use kerf_and_coil::design::testbox::{Extra, passage, test_box};
use kerf_and_coil::design::{cutting, warnings};
use kerf_and_coil::model::geometry::{Axis, Dims, PartId, door};
use kerf_and_coil::present::cutting::details;
use kerf_and_coil::present::{templates, testbox};
use kerf_and_coil::units::{ExactLength, UnitPrefs};
use proptest::prelude::*;

/// Least margin of a p × q rectangle in an a × b opening over all angles, by trying 20 000 of them: above zero it passes.
fn brute_force(p: f64, q: f64, a: f64, b: f64) -> f64 {
    let mut best = f64::NEG_INFINITY;
    for step in 0..=20_000 {
        let angle = f64::from(step) / 20_000.0 * std::f64::consts::FRAC_PI_2;
        let (sin, cos) = angle.sin_cos();
        best = best.max((a - (p * cos + q * sin)).min(b - (p * sin + q * cos)));
    }
    best
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]
    #[test]
    fn the_rule_of_the_door_is_that_of_every_angle(p in 1.0..2.0f64, q in 0.02..1.0f64, a in 0.3..2.0f64, b in 0.3..2.0f64) {
        let found = brute_force(p, q, a, b);
        // Nearer to the limit than the steps of the angle tell, either answer is right.
        prop_assume!(found.abs() > 1e-3);
        prop_assert_eq!(door::passes([p, q], [a, b]), found > 0.0, "{} × {} through {} × {}: {}", p, q, a, b, found);
        prop_assert_eq!(door::passes([q, p], [b, a]), found > 0.0);
    }

    #[test]
    fn any_entry_of_a_test_box_gives_a_report(values in prop::collection::vec(0.0..1500.0f64, 9)) {
        let ids = [FieldId::LegHeight, FieldId::LegWindow, FieldId::LegCorner, FieldId::LegRail, FieldId::AdapterCutOut,
            FieldId::AdapterOutside, FieldId::DoorWidth, FieldId::DoorHeight, FieldId::DoorGap];
        let mut design = test_design();
        for (id, value) in ids.into_iter().zip(values) {
            if let Ok(entry) = parse_entry(id, &format!("{value:.1}"), &UnitPrefs::default()) {
                design.sheet.set(id, entry).expect("within limits");
            }
        }
        let report = evaluate(&design.sheet);
        if let Ok(enclosure) = &report.enclosure {
            let found = test_box(&design.sheet, &report, enclosure).expect("a test box");
            let rows = testbox::rows(&found, &UnitPrefs::default());
            prop_assert!(rows.iter().all(|(_, value, _)| !value.contains("NaN") && !value.contains("inf")));
            let _ = testbox::notes(&found, &UnitPrefs::default());
            for template in testbox::extra_templates(&found, enclosure.spec.boards.shell.thickness) {
                prop_assert!(!templates::svg(&template).contains("NaN") && !templates::dxf(&template).contains("NaN"));
            }
            if let Some(way) = passage(&design.sheet, enclosure) {
                prop_assert!(!testbox::way_through(&way, &UnitPrefs::default()).1.is_empty());
            }
        }
    }
}

fn enter(design: &mut Design, id: FieldId, text: &str) {
    design
        .sheet
        .set(id, parse_entry(id, text, &UnitPrefs::default()).expect("an entry"))
        .expect("within limits");
}

fn test_design() -> Design {
    let mut design = demo::design();
    enter(&mut design, FieldId::TestBox, "legs");
    design
}

#[test]
fn the_demo_on_legs() {
    let plain = evaluate(&demo::design().sheet);
    let mut design = test_design();
    let report = evaluate(&design.sheet);
    let enclosure = report.enclosure.as_ref().expect("a box");
    let found = test_box(&design.sheet, &report, enclosure).expect("a test box");
    assert!(found.legs.height >= found.need.expect("a need").height(), "{found:?}");
    let cones = found.cones.expect("cones").square_metres();
    assert!(found.openings.square_metres() >= cones);
    // Box and legs together keep within the space.
    let space = plain.enclosure.as_ref().expect("a box").spec.space.expect("a space").usable();
    assert!(enclosure.outside.depth + found.legs.height <= space.depth);
    // The sides are longer by the leg, and first in the fence order where they are longest.
    let side = enclosure.plan.current().sizes.get(PartId::Left, Axis::Depth.into());
    assert_eq!(side, enclosure.outside.depth + found.legs.height);
    enter(&mut design, FieldId::InsertTarget, "20 L");
    enter(&mut design, FieldId::AdapterCutOut, "180");
    enter(&mut design, FieldId::AdapterOutside, "210");
    let report = evaluate(&design.sheet);
    let enclosure = report.enclosure.as_ref().expect("a box");
    let found = test_box(&design.sheet, &report, enclosure).expect("a test box");
    let insert = found.insert.clone().expect("asked for").expect("it goes in");
    assert!((insert.net.litres() - 20.0).abs() < 0.2, "{insert:?}");
    assert_eq!(testbox::extra_templates(&found, enclosure.spec.boards.shell.thickness).len(), 1);
}

#[test]
fn blocks_ring_and_windows_are_in_every_list() {
    let prefs = UnitPrefs::default();
    let mut design = test_design();
    for (id, text) in
        [(FieldId::InsertTarget, "20 L"), (FieldId::AdapterCutOut, "180"), (FieldId::AdapterOutside, "210")]
    {
        enter(&mut design, id, text);
    }
    let report = evaluate(&design.sheet);
    let enclosure = report.enclosure.as_ref().expect("a box");
    let found = test_box(&design.sheet, &report, enclosure).expect("a test box");
    let plain = cutting::jobs(&design.sheet, enclosure, &[]).remove(0);
    let job = cutting::jobs(&design.sheet, enclosure, &found.extras).remove(0);
    let pieces = |job: &cutting::NamedJob| job.job.panels.iter().map(|panel| panel.count).sum::<usize>();
    let more: usize = found.extras.iter().map(|part| part.count).sum();
    assert_eq!(pieces(&job), pieces(&plain) + more);
    assert!(found.extras.iter().any(|part| part.name == Extra::Ring));
    assert!(found.extras.iter().any(|part| part.name == Extra::Block));
    // All of it is laid out on the sheets.
    let solution = cutting::solve(&job).expect("a layout");
    let placed: usize = solution.sheets.iter().map(|sheet| sheet.placed.len()).sum();
    assert_eq!(placed, pieces(&job));
    let thickness = enclosure.spec.boards.shell.thickness;
    assert_eq!(testbox::part_rows(&found.extras, thickness, &prefs).len(), found.extras.len());
    assert_eq!(testbox::weights(&found.extras, enclosure.spec.boards.shell).len(), found.extras.len());
    // A ring by hand: area of the disc less that of the hole.
    let ring = found.extras.iter().find(|part| part.name == Extra::Ring).expect("a ring");
    let (large, small) = (ring.length.metres(), 0.18);
    let by_hand = std::f64::consts::PI / 4.0 * (large * large - small * small) * thickness.metres() * 740.0;
    assert!((ring.mass(enclosure.spec.boards.shell).kilograms() - by_hand).abs() < 1e-9);
    // The open window of each leg is ticked off.
    let windows = details(enclosure, &design.sheet, &prefs);
    assert_eq!(windows.iter().filter(|row| row.size.contains("open to the floor")).count(), 2);
}

#[test]
fn a_door_too_small_is_a_warning_and_no_other_is() {
    let warned = |width: &str, height: &str| {
        let mut design = demo::design();
        enter(&mut design, FieldId::DoorWidth, width);
        enter(&mut design, FieldId::DoorHeight, height);
        let report = evaluate(&design.sheet);
        warnings::all(&report, &design.sheet)
            .into_iter()
            .find(|warning| matches!(warning, warnings::Warning::Door { .. }))
    };
    assert_eq!(warned("1000", "700"), None);
    let found = warned("1000", "150").expect("it does not pass");
    assert_eq!(found.severity(), warnings::Severity::Stop);
    assert!(
        kerf_and_coil::present::warnings::text(&found, &UnitPrefs::default()).contains("does not go through")
    );
    let report = evaluate(&demo::design().sheet);
    let good = warnings::all(&report, &demo::design().sheet);
    assert!(!good.iter().any(|warning| matches!(warning, warnings::Warning::Door { .. })));
}

#[test]
fn what_does_not_pass_says_by_how_much() {
    let mm = |value: f64| ExactLength::from_millimetres(value);
    let outside = Dims { width: mm(900.0), height: mm(420.0), depth: mm(300.0) };
    // The smallest face, 420 × 300, through 460 × 340 leaves 20 mm on each side: just the gap.
    let found = door::best(outside, [mm(460.0), mm(340.0)], mm(20.0)).expect("a face");
    assert_eq!((found.along, found.spare), (Axis::Width, mm(0.0)));
    let found = door::best(outside, [mm(400.0), mm(280.0)], mm(0.0)).expect("a face");
    assert!((found.spare.millimetres() + 10.0).abs() <= 0.1, "{found:?}");
}

/// Drivers of a test box in its sides: of those none looks at the floor, so the floor asks for nothing but the 40 mm of a hand
/// or the corners of the window (60 mm radius asks for 60), and no cones are compared with the openings; with one of two in
/// the front it is as with that one alone.
#[test]
fn only_drivers_in_the_front_ask_for_a_gap() {
    let with = |entries: &[(FieldId, &str)]| {
        let mut design = test_design();
        for (id, text) in entries {
            enter(&mut design, *id, text);
        }
        let report = evaluate(&design.sheet);
        let enclosure = report.enclosure.clone().expect("a box");
        let found = test_box(&design.sheet, &report, &enclosure).expect("a test box");
        (found, report.filled.get(&FieldId::LegHeight).copied(), enclosure)
    };
    let wide = [
        (FieldId::SpaceWidth, "1000"),
        (FieldId::SpaceHeight, "500"),
        (FieldId::SpaceDepth, "700"),
        (FieldId::Strips, "none"),
        (FieldId::LegCorner, "60"),
    ];
    let (one, _, _) = with(&wide);
    let sides = [(FieldId::DriverFace, "sides"), (FieldId::DriverCount, "2")];
    let (none, height, enclosure) = with(&[wide.as_slice(), &sides].concat());
    assert_eq!((none.cones, none.need), (None, None));
    assert!((height.expect("a height") - 0.060).abs() < 1e-9, "{height:?}");
    assert_eq!(enclosure.plan.current().assembly.layout.drivers, []);
    let notes = testbox::notes(&none, &UnitPrefs::default());
    assert!(!notes.iter().any(|note| note.contains("cones")), "{notes:?}");
    let half =
        [(FieldId::DriverFace, "left"), (FieldId::DriverCount, "2"), (FieldId::DriverFaceCount, "half")];
    let (some, _, _) = with(&[wide.as_slice(), &half].concat());
    assert_eq!(some.cones, one.cones);
    assert!(some.need.is_some());
}
