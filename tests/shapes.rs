//! Shaped boxes from entries: every shape with passive radiators and with two rooms.
use kerf_and_coil::design::bench::{Bench, Diagonal, bench};
use kerf_and_coil::design::demo;
use kerf_and_coil::design::document::{Sheet, parse_entry};
use kerf_and_coil::design::evaluate::evaluate;
use kerf_and_coil::design::limits::FieldId;
use kerf_and_coil::design::report::{BoxReport, Gap, Report};
use kerf_and_coil::design::warnings::{Severity, Warning};
use kerf_and_coil::model::acoustics::Enclosure;
use kerf_and_coil::model::geometry::{Axis, Dimension, PartId, PartName, standing_over};
use kerf_and_coil::present::assembling::assembling;
use kerf_and_coil::present::cutting::supplies;
use kerf_and_coil::present::tables::parts;
use kerf_and_coil::present::templates::templates;
use kerf_and_coil::units::UnitPrefs;

fn set(sheet: &mut Sheet, entries: &[(FieldId, &str)]) {
    for (id, text) in entries {
        let entry = parse_entry(*id, text, &UnitPrefs::default()).expect("a number of the field");
        sheet.set(*id, entry).expect("within limits");
    }
}

const SHAPES: [&[(FieldId, &str)]; 5] = [
    &[(FieldId::Shape, "slanted back"), (FieldId::TopDepth, "290")],
    &[(FieldId::Shape, "slanted front"), (FieldId::FrontSetback, "50")],
    &[(FieldId::Shape, "both slanted"), (FieldId::FrontSetback, "40"), (FieldId::TopDepth, "290")],
    &[(FieldId::Shape, "step above"), (FieldId::StepHeight, "200"), (FieldId::StepDepth, "300")],
    &[(FieldId::Shape, "step below"), (FieldId::StepHeight, "100"), (FieldId::StepDepth, "330")],
];

/// The demo with a smaller driver and without corner strips, in a space of 1000 × 370 × 420 mm.
fn sheet(shape: &[(FieldId, &str)]) -> Sheet {
    let mut sheet = demo::design().sheet;
    set(
        &mut sheet,
        &[(FieldId::SpaceWidth, "1000"), (FieldId::SpaceHeight, "370"), (FieldId::SpaceDepth, "420")],
    );
    set(
        &mut sheet,
        &[(FieldId::CutOut, "185"), (FieldId::OutsideDiameter, "210"), (FieldId::Strips, "none")],
    );
    set(&mut sheet, shape);
    sheet
}

fn stops(warnings: &[Warning]) -> Vec<&Warning> {
    warnings.iter().filter(|warning| warning.severity() == Severity::Stop).collect()
}

// The same of a slot of full width that bends as it must: in a step up the lower back only.
#[test]
fn every_shape_takes_a_slot_that_bends() {
    let leaning: &[(&str, u8)] = &[("40", 1), ("36", 2)];
    let tunings = [leaning, &[("40", 1), ("43", 2)], leaning, &[("42", 1)], &[("42", 1)]];
    for (shape, tunings) in SHAPES.into_iter().zip(tunings) {
        for (tuning, bends) in tunings {
            let name = format!("{:?} {tuning} Hz", shape[0].1);
            let mut sheet = sheet(shape);
            set(
                &mut sheet,
                &[(FieldId::BoxKind, "vented"), (FieldId::PortShape, "slot"), (FieldId::SlotBends, "2")],
            );
            set(
                &mut sheet,
                &[(FieldId::WantedNet, "45"), (FieldId::WantedTuning, tuning), (FieldId::SlotHeight, "25")],
            );
            let report = evaluate(&sheet);
            let enclosure = report.enclosure.as_ref().unwrap_or_else(|gap| panic!("{name}: {gap:?}"));
            let assembly = &enclosure.plan.current().assembly;
            let port = assembly.port.expect("a port");
            assert!(enclosure.fits && port.bends == *bends, "{name}: {port:?}");
            assert!((enclosure.plan.net().litres() - 45.0).abs() < 0.5, "{name}: {:?}", enclosure.plan.net());
            let tuned = enclosure.port.as_ref().expect("a port").tuning.hertz();
            assert!((tuned - tuning.parse::<f64>().expect("a number")).abs() < 0.6, "{name}: {tuned}");
            assert!(stops(&report.warnings).is_empty(), "{name}: {:?}", stops(&report.warnings));
            for part in [PartId::PortRoof, PartId::PortRiser] {
                assert!(templates(enclosure).iter().any(|template| template.outline.part == part), "{name}");
            }
            let steps = assembling(enclosure).steps;
            assert!(steps.iter().skip(1).all(|step| !step.picture.new.is_empty()), "{name}");
        }
    }
}

// Where nobody asks for a tuning it is one that the slot can reach, also of boxes with corner strips.
#[test]
fn a_slot_that_bends_finds_its_tuning() {
    for shape in SHAPES {
        for bends in ["1", "2"] {
            let name = format!("{:?} {bends}", shape[0].1);
            let mut sheet = sheet(shape);
            set(
                &mut sheet,
                &[(FieldId::BoxKind, "vented"), (FieldId::PortShape, "slot"), (FieldId::SlotBends, bends)],
            );
            set(
                &mut sheet,
                &[
                    (FieldId::WantedNet, "40"),
                    (FieldId::SlotHeight, "30"),
                    (FieldId::Strips, "four"),
                    (FieldId::StripFace, "50"),
                ],
            );
            let report = evaluate(&sheet);
            let enclosure = report.enclosure.as_ref().unwrap_or_else(|gap| panic!("{name}: {gap:?}"));
            let port = enclosure.plan.current().assembly.port.expect("a port");
            assert!(enclosure.fits && port.to_back >= port.height, "{name}: {port:?}");
            let tuned = enclosure.port.as_ref().expect("a port");
            let off = tuned.tuning.hertz() - tuned.wanted.expect("a tuning").hertz();
            assert!(off.abs() < 0.6, "{name}: {off}");
            assert!(stops(&report.warnings).is_empty(), "{name}: {:?}", stops(&report.warnings));
        }
    }
}

// What is asked for comes out to the tape, the curves use the air as cut, and the box can be built.
#[test]
fn every_shape_takes_two_rooms() {
    for shape in SHAPES {
        for kind in ["bandpass 4", "bandpass 6 outward", "bandpass 6 inward"] {
            let name = format!("{:?} {kind}", shape[0].1);
            let mut sheet = sheet(shape);
            set(
                &mut sheet,
                &[(FieldId::BoxKind, kind), (FieldId::WantedNet, "38"), (FieldId::FrontNet, "17")],
            );
            set(&mut sheet, &[(FieldId::FrontTuning, "80"), (FieldId::FrontPortDiameter, "80")]);
            if kind != "bandpass 4" {
                set(&mut sheet, &[(FieldId::WantedTuning, "42"), (FieldId::PortDiameter, "60")]);
            }
            let report = evaluate(&sheet);
            let enclosure = report.enclosure.as_ref().unwrap_or_else(|gap| panic!("{name}: {gap:?}"));
            let build = enclosure.plan.current();
            let room = build.front_room.as_ref().expect("a room before the drivers");
            assert!(enclosure.fits, "{name}");
            // Half a step of the tape on the divider, one step outside: 0.12 m² · 1 mm, and 0.3 m² · 1 mm.
            assert!((room.net.litres() - 17.0).abs() < 0.1, "{name}: {}", room.net.litres());
            assert!(
                (enclosure.plan.net().litres() - 38.0).abs() < 0.4,
                "{name}: {}",
                enclosure.plan.net().litres()
            );
            let sound = report.sound.as_ref().expect("curves");
            let (rear, front) = match sound.built.enclosure {
                Enclosure::Bandpass4 { rear, front } => (rear.volume, front.volume),
                Enclosure::Bandpass6Parallel { rear, front } | Enclosure::Bandpass6Series { rear, front } => {
                    (rear.volume, front.volume)
                }
                other => panic!("{other:?}"),
            };
            assert_eq!((rear, front), (enclosure.plan.net(), room.net), "{name}");
            let tuned = enclosure.front_port.as_ref().expect("a port before the drivers");
            assert!((tuned.tuning.hertz() - 80.0).abs() < 0.6, "{name}: {}", tuned.tuning.hertz());
            assert!(stops(&report.warnings).is_empty(), "{name}: {:?}", stops(&report.warnings));
            // Every board has its template, every piece its place in the order.
            assert!(templates(enclosure).iter().any(|template| template.outline.part == PartId::Divider));
            let steps = assembling(enclosure).steps;
            assert!(steps.iter().skip(1).all(|step| !step.picture.new.is_empty()), "{name}");
        }
    }
}

#[test]
fn every_shape_takes_passive_radiators() {
    for shape in SHAPES {
        for (place, count) in [("front", "1"), ("sides", "2")] {
            let name = format!("{:?} {place}", shape[0].1);
            let mut sheet = sheet(shape);
            set(&mut sheet, &[(FieldId::BoxKind, "passive radiator"), (FieldId::WantedNet, "45")]);
            set(&mut sheet, &[(FieldId::RadiatorPlace, place), (FieldId::RadiatorCount, count)]);
            set(
                &mut sheet,
                &[
                    (FieldId::RadiatorArea, "200"),
                    (FieldId::RadiatorMass, "200"),
                    (FieldId::RadiatorResonance, "16"),
                    (FieldId::RadiatorCutOut, "150"),
                    (FieldId::RadiatorOutside, "170"),
                    (FieldId::RadiatorDepth, "70"),
                    (FieldId::RadiatorDisplacement, "0.9"),
                ],
            );
            let report = evaluate(&sheet);
            let enclosure = report.enclosure.as_ref().unwrap_or_else(|gap| panic!("{name}: {gap:?}"));
            assert!(enclosure.fits, "{name}");
            assert!(
                (enclosure.plan.net().litres() - 45.0).abs() < 0.4,
                "{name}: {}",
                enclosure.plan.net().litres()
            );
            let sound = report.sound.as_ref().expect("curves");
            assert!(matches!(sound.built.enclosure, Enclosure::PassiveRadiator { .. }));
            assert_eq!(sound.net, enclosure.plan.net(), "{name}");
            assert!(stops(&report.warnings).is_empty(), "{name}: {:?}", stops(&report.warnings));
        }
    }
}

// Nothing typed but the kind and the shape: a box comes, or what is missing or in the way is named.
#[test]
fn two_rooms_come_from_little() {
    for shape in SHAPES {
        for kind in ["bandpass 4", "bandpass 6 outward", "bandpass 6 inward"] {
            let mut sheet = sheet(shape);
            set(&mut sheet, &[(FieldId::BoxKind, kind)]);
            let report = evaluate(&sheet);
            let enclosure =
                report.enclosure.as_ref().unwrap_or_else(|gap| panic!("{} {kind}: {gap:?}", shape[0].1));
            assert!(enclosure.plan.net().litres() > 5.0);
        }
    }
}

// Drivers in other faces beside passive radiators: the box comes out as asked, and everything has its place.
#[test]
fn radiators_share_the_box_with_drivers_in_other_faces() {
    const PLAIN: &[(FieldId, &str)] = &[];
    for shape in [PLAIN, SHAPES[0], SHAPES[1], SHAPES[2], SHAPES[3]] {
        for (face, terminals) in [("back", "bottom"), ("sides", "back")] {
            for place in ["front", "sides"] {
                let name = format!("{:?} {face} {place}", shape.first());
                let mut sheet = sheet(shape);
                set(&mut sheet, &[(FieldId::BoxKind, "passive radiator"), (FieldId::WantedNet, "45")]);
                set(&mut sheet, &[(FieldId::RadiatorPlace, place), (FieldId::RadiatorCount, "2")]);
                set(
                    &mut sheet,
                    &[
                        (FieldId::RadiatorArea, "100"),
                        (FieldId::RadiatorMass, "120"),
                        (FieldId::RadiatorResonance, "16"),
                        (FieldId::RadiatorCutOut, "110"),
                        (FieldId::RadiatorOutside, "128"),
                        (FieldId::RadiatorDepth, "60"),
                        (FieldId::RadiatorDisplacement, "0.4"),
                    ],
                );
                let smaller = [(FieldId::CutOut, "125"), (FieldId::OutsideDiameter, "146")];
                set(&mut sheet, &smaller);
                set(&mut sheet, &[(FieldId::MountingDepth, "70"), (FieldId::MagnetDiameter, "90")]);
                set(&mut sheet, &[(FieldId::DriverFace, face), (FieldId::TerminalFace, terminals)]);
                set(&mut sheet, &[(FieldId::TerminalDepth, "20"), (FieldId::DriverCount, "2")]);
                let report = evaluate(&sheet);
                let enclosure = report.enclosure.as_ref().unwrap_or_else(|gap| panic!("{name}: {gap:?}"));
                assert!(enclosure.fits, "{name}");
                let net = enclosure.plan.net().litres();
                assert!((net - 45.0).abs() < 0.4, "{name}: {net}");
                assert!(stops(&report.warnings).is_empty(), "{name}: {:?}", stops(&report.warnings));
            }
        }
    }
}

// A board that comes off, with battens, of every shape: in the ledger, the bill, the cut list and the weight, or refused with
// the reason that a leaning board holds it in.
#[test]
fn every_shape_has_a_board_that_comes_off() {
    for shape in SHAPES {
        for board in ["back", "left", "bottom", "top"] {
            for joint in ["over", "between"] {
                let name = format!("{:?} {board} {joint}", shape[0].1);
                let mut sheet = sheet(shape);
                set(&mut sheet, &[(FieldId::WantedNet, "45"), (FieldId::TerminalFace, "right")]);
                set(&mut sheet, &[(FieldId::BackJoint, joint), (FieldId::FrontJoint, joint)]);
                let bare = evaluate(&sheet);
                set(&mut sheet, &[(FieldId::LooseBoard, board), (FieldId::Batten, "20")]);
                let report = evaluate(&sheet);
                let enclosure = match &report.enclosure {
                    Ok(enclosure) => enclosure,
                    Err(Gap::Refused(error)) => {
                        assert!(error.to_string().contains("drawn out"), "{name}: {error}");
                        assert!(joint == "over" && matches!(board, "top" | "bottom"), "{name}: {error}");
                        continue;
                    }
                    Err(gap) => panic!("{name}: {gap:?}"),
                };
                assert!(stops(&report.warnings).is_empty(), "{name}: {:?}", stops(&report.warnings));
                let net = enclosure.plan.net().litres();
                assert!((net - 45.0).abs() < 0.4, "{name}: {net}");
                let rows = parts(enclosure, &UnitPrefs::default());
                assert!(rows.iter().any(|row| row.name.ends_with("batten")), "{name}: {rows:?}");
                let bill = supplies(enclosure, &sheet, &UnitPrefs::default());
                assert!(bill.iter().any(|row| row.0.starts_with("battens")), "{name}: {bill:?}");
                let before = bare.enclosure.expect("a box");
                let mass = |report: &BoxReport| report.plan.board_mass(&report.spec).kilograms();
                assert!(mass(enclosure) > mass(&before), "{name}");
            }
        }
    }
}

/// The demo without strips as a wedge, 557.2 × 330 × 349.4 mm below and 149.4 above.
fn wedge_as_planned() -> (Sheet, Report) {
    let mut sheet = demo::design().sheet;
    set(
        &mut sheet,
        &[
            (FieldId::Strips, "none"),
            (FieldId::BoxWidth, "557.2"),
            (FieldId::BoxHeight, "330"),
            (FieldId::BoxDepth, "350"),
            (FieldId::Shape, "slanted back"),
            (FieldId::TopDepth, "150"),
        ],
    );
    let report = evaluate(&sheet);
    (sheet, report)
}

fn wedge() -> Bench {
    let (sheet, report) = wedge_as_planned();
    let enclosure = report.enclosure.clone().expect("a box");
    bench(&sheet, &report, &enclosure)
}

/// By hand: the back is √(200² + 330²) = 385.9 mm along its outer face, and its inner long point at the foot reaches
/// 18.1 · 200/330 = 11 mm further, together 396.8 mm; it is cut 397. The front is as high as the sides.
#[test]
fn a_leaning_back_that_stands_over_is_named() {
    let (_, report) = wedge_as_planned();
    let enclosure = report.enclosure.expect("a box");
    let found = standing_over(&enclosure.spec, enclosure.plan.current());
    assert_eq!(
        found.iter().map(|it| (it.part, it.dimension)).collect::<Vec<_>>(),
        [(PartId::Back, Dimension::Height)]
    );
    let over = found[0].over.millimetres();
    assert!((over - 0.17).abs() < 0.05, "{over}");
    let assembly = &enclosure.plan.current().assembly;
    assert!((assembly.untrimmed().height - assembly.outside.height).millimetres() == over);
}

/// By hand: the back is free between the sides, 521 mm, and along its lean between bottom and top, 293.8 mm high and so
/// 293.8 · √(200² + 330²)/330 = 343.55 mm. With 3 GPa, 18.1 mm and 740 kg/m³ the first mode is
/// π/2 · √(1629.0/13.394) · (1/0.521² + 1/0.34355²) = 210.6 Hz.
#[test]
fn a_leaning_back_sags_along_its_lean() {
    let panel = wedge().panel.expect("a panel");
    assert_eq!(panel.faces, Axis::Depth);
    let area = panel.force_newtons / panel.pressure.pascals();
    // Boards on the tape turn the back by up to a millimetre in its height.
    assert!((area / (0.521 * 0.34355) - 1.0).abs() < 1e-3, "{area}");
    assert!((panel.mode.hertz() - 210.6).abs() < 0.3, "{}", panel.mode.hertz());
}

/// By hand from the corners 0/0, 349.4/0, 149.4/330, 0/330 and 557.2 mm of width.
#[test]
fn every_face_of_a_wedge_has_its_diagonals() {
    let expected = [
        (Diagonal::Front, 557.2_f64.hypot(330.0)),
        (Diagonal::FromLowerFront, 149.3_f64.hypot(330.0)),
        (Diagonal::FromUpperFront, 349.4_f64.hypot(330.0)),
        (Diagonal::Top, 557.2_f64.hypot(149.3)),
        (Diagonal::Bottom, 557.2_f64.hypot(349.4)),
    ];
    let found = wedge().diagonals;
    assert_eq!(found.len(), expected.len());
    for ((which, length), (wanted, millimetres)) in found.into_iter().zip(expected) {
        assert_eq!(which, wanted);
        assert!((length.millimetres() - millimetres).abs() < 0.2, "{which:?}: {length:?} {millimetres}");
    }
}

/// By hand: 521 mm wide and 18.1 mm thick; the bottom is 292 mm long outside and 18.1 · 200/330 = 11 mm less inside, the top
/// from 36.2 mm to the back's inner face 92 mm outside and 11 mm more inside.
#[test]
fn top_and_bottom_of_a_wedge_are_weighed_apart() {
    let parts = wedge().weight.parts;
    let one = |name| {
        let found: Vec<_> = parts.iter().filter(|part| part.name == name).collect();
        assert!(found.len() == 1 && found[0].count == 1, "{name:?}");
        found[0].mass.kilograms()
    };
    let kilograms = |outer: f64, inner: f64| 521.0 * 18.1 * (outer + inner) / 2.0 * 740e-9;
    assert!((one(PartName::Bottom) - kilograms(292.0, 281.0)).abs() < 0.01, "{}", one(PartName::Bottom));
    assert!((one(PartName::Top) - kilograms(92.0, 103.0)).abs() < 0.01, "{}", one(PartName::Top));
    assert!(parts.iter().all(|part| part.name != PartName::TopBottom));
}
