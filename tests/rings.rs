//! A stack of rings as a design: holes of its plates, weight, tubes, what is refused, its sentence and its drawings, against
//! values found by hand.
use std::collections::BTreeSet;
use std::f64::consts::PI;

use kerf_and_coil::design::demo;
use kerf_and_coil::design::document::{Sheet, parse_entry};
use kerf_and_coil::design::evaluate::{RingReport, evaluate, planned_rings, ring_report};
use kerf_and_coil::design::find::{Question, question};
use kerf_and_coil::design::limits::FieldId;
use kerf_and_coil::design::report::{Gap, Report};
use kerf_and_coil::design::warnings::{Place, Severity};
use kerf_and_coil::model::geometry::{HoleShape, HoleUse};
use kerf_and_coil::present::rings::{
    cautions, holes, ledger, notes, parts, stack_drawn, steps, supplies, templates,
};
use kerf_and_coil::present::{lines, warnings};
use kerf_and_coil::units::{ExactLength, UnitPrefs};

use FieldId as F;

/// Rings of 420 × 380, radius 80, wall 32, from boards of 18 mm; the demo's driver: hole 233, flange 262.
fn sheet(entries: &[(F, &str)]) -> Sheet {
    let mut sheet = demo::design().sheet;
    let plain = [
        (F::Construction, "rings"),
        (F::RingWidth, "420"),
        (F::RingDepth, "380"),
        (F::RingRadius, "80"),
        (F::RingCount, "14"),
        (F::Board, "18"),
        (F::CutOut, "233"),
        (F::OutsideDiameter, "262"),
        (F::RecessGap, "1"),
        (F::BoardDensity, "740"),
    ];
    for (id, text) in plain.iter().chain(entries) {
        let entry =
            parse_entry(*id, text, &UnitPrefs::default()).unwrap_or_else(|error| panic!("{id:?}: {error:?}"));
        sheet.set(*id, entry).unwrap_or_else(|error| panic!("{id:?}: {error:?}"));
    }
    sheet
}

fn planned(entries: &[(F, &str)]) -> (Sheet, Report, RingReport) {
    let sheet = sheet(entries);
    let report = evaluate(&sheet);
    let found = planned_rings(&sheet, &report).unwrap_or_else(|gap| panic!("{gap:?}"));
    (sheet, report, found)
}

#[track_caller]
fn near(actual: f64, expected: f64, within: f64) {
    assert!((actual - expected).abs() <= within, "{actual}, expected {expected} ± {within}");
}

/// Use, diameter and depth of the holes of a template.
fn holes_of(found: &RingReport, file: &str) -> Vec<(HoleUse, f64, Option<f64>)> {
    let all = templates(found);
    let template = all.iter().find(|template| template.file == file).unwrap_or_else(|| panic!("no {file}"));
    let hole = |hole: &kerf_and_coil::model::geometry::Hole| match hole.shape {
        HoleShape::Round(diameter) => {
            (hole.use_, diameter.millimetres(), hole.depth.map(ExactLength::millimetres))
        }
        HoleShape::Rectangle(_) => panic!("a round hole"),
    };
    template.outline.holes.iter().map(hole).collect()
}

#[test]
fn a_flush_flange_has_its_recess_in_the_outer_plate() {
    let (_, _, found) = planned(&[(F::Recess, "flush"), (F::RingFront, "2")]);
    assert_eq!(holes_of(&found, "baffle-plate"), [(HoleUse::Driver, 233.0, None)]);
    assert_eq!(holes_of(&found, "baffle-plate-outer"), [(HoleUse::Recess, 264.0, None)]);
    let rows = holes(&found, &UnitPrefs::default());
    let row = rows.iter().find(|row| row.name == "baffle plate, outer layer: flange recess");
    // In the middle of 420 × 380.
    assert_eq!(row.map(|row| (row.size.as_str(), row.edges.as_str())), Some(("⌀ 264, through", "210, 190")));
    // Of a single plate half its thickness.
    let (_, _, found) = planned(&[(F::Recess, "flush"), (F::RingFront, "1")]);
    let expected = [(HoleUse::Driver, 233.0, None), (HoleUse::Recess, 264.0, Some(9.0))];
    assert_eq!(holes_of(&found, "baffle-plate"), expected);
    // On top: no recess, one template for both.
    let (_, _, found) = planned(&[(F::Recess, "on top"), (F::RingFront, "2")]);
    assert_eq!(holes_of(&found, "baffle-plate"), [(HoleUse::Driver, 233.0, None)]);
    assert!(templates(&found).iter().all(|template| template.file != "baffle-plate-outer"));
}

/// Kilograms of a plate of 420 × 380 × 18 with corners of 80, and of a ring of 435.88 cm² (geometry.md, case ring-1).
const PLATE: f64 = (420.0 * 380.0 - (4.0 - PI) * 6400.0) * 18.0 * 740e-9;
const RING: f64 = 435.88e2 * 18.0 * 740e-9;
const fn bored(diameter: f64, deep: f64) -> f64 {
    PI / 4.0 * diameter * diameter * deep * 740e-9
}

#[test]
fn holes_weigh_nothing() {
    let wood = 14.0 * RING + 3.0 * PLATE;
    for (recess, plates, holes) in [
        ("on top", "2", bored(233.0, 36.0)),
        ("flush", "2", bored(233.0, 18.0) + bored(264.0, 18.0)),
        ("flush", "1", bored(233.0, 9.0) + bored(264.0, 9.0) + PLATE),
    ] {
        let (_, _, found) = planned(&[(F::Recess, recess), (F::RingFront, plates)]);
        near(found.stack.mass.kilograms(), wood - holes, 1e-4);
        let layers = found.layers();
        let sum: f64 =
            layers.iter().map(|layer| found.layer_mass(layer).kilograms() * layer.count as f64).sum();
        near(sum, wood - holes, 1e-4);
    }
    // What pulls in a crash, 20 g as for a box of boards: the force goes with that weight.
    let (_, _, found) = planned(&[(F::Recess, "on top"), (F::RingFront, "2")]);
    let kilonewtons = (wood - bored(233.0, 36.0)) * 20.0 * 9.81 / 1e3;
    let text = cautions(&found, None).join(" ");
    assert!(text.contains(&format!("{kilonewtons:.1} kN")), "{text} {kilonewtons}");
}

/// A tube of 100 × 3 and 200 long.
const VENTED: [(F, &str); 4] =
    [(F::BoxKind, "vented"), (F::PortDiameter, "100"), (F::PortWall, "3"), (F::PortLength, "200")];

#[test]
fn a_tube_goes_through_the_bottom_where_the_driver_fills_the_baffle() {
    let mut entries = VENTED.to_vec();
    entries.extend([(F::Recess, "on top"), (F::MountingDepth, "120")]);
    let (sheet, report, found) = planned(&entries);
    let prefs = UnitPrefs::default();
    assert_eq!(holes_of(&found, "bottom-plate"), [(HoleUse::Port, 106.0, None)]);
    assert_eq!(holes_of(&found, "baffle-plate"), [(HoleUse::Driver, 233.0, None)]);
    let all = holes(&found, &prefs);
    let row = all.iter().find(|row| row.name == "bottom plate: port").expect("a row");
    assert_eq!((row.size.as_str(), row.edges.as_str()), ("⌀ 106, through", "210, 190"));
    // Below the driver: 14 · 18 = 252 high, less 120 − 2 · 18 of driver and 100 of air, and the plate's own 18.
    let tubes = found.tubes.as_ref().expect("tubes");
    near(tubes.most.millimetres(), 252.0 - 84.0 - 100.0 + 18.0, 1e-9);
    let text = |warning: &kerf_and_coil::design::warnings::Warning| warnings::text(warning, &prefs);
    let stops: Vec<String> = report
        .warnings
        .iter()
        .filter(|w| w.place() == Place::Saw && w.severity() == Severity::Stop)
        .map(text)
        .collect();
    assert!(stops.len() == 1 && stops[0].contains("200") && stops[0].contains("86"), "{stops:?}");
    assert_eq!(lines::saw(&report, &sheet, &prefs), "Not yet: one thing does not fit.");
    // Air and wall of what goes in, inside the plate: π/4 · 106² · 68 mm³ = 0.600 L.
    let net = report.sound.as_ref().expect("sound").net;
    near(found.net.litres() - net.litres(), 0.600, 1e-3);
    assert!(ledger(&found, Some(net)).iter().any(|(name, value, _)| *name == "tubes" && value == "−0.60"));
    let rows = parts(&found, ExactLength::from_millimetres(1.0), &prefs);
    let tube = rows.last().expect("rows");
    assert_eq!((tube.name.as_str(), tube.size.as_str()), ("1 × port tube", "200 long, ⌀ 106 outside"));
    assert!(
        supplies(&found, &sheet, &prefs)
            .iter()
            .any(|(name, count, _)| name.contains("port tube") && count == "1")
    );
    assert!(
        notes(&found, &prefs).iter().any(|note| note.contains("100\u{a0}mm")),
        "{:?}",
        notes(&found, &prefs)
    );
    near(
        found.stack.mass.kilograms(),
        14.0 * RING + 3.0 * PLATE - bored(233.0, 36.0) - bored(106.0, 18.0),
        1e-4,
    );
    // Shorter, it goes in.
    entries.push((F::PortLength, "86"));
    let (sheet, report, _) = planned(&entries);
    let line = lines::saw(&report, &sheet, &prefs);
    assert!(line.starts_with("14 rings, 3 plates, "), "{line}");
}

#[test]
fn a_tube_goes_beside_the_driver_where_there_is_room() {
    // 800 wide: the opening reaches 368 to each side, less 15 and the tube's 53 are 300; the flange asks for 131 + 15 + 53.
    let mut entries = VENTED.to_vec();
    entries.extend([(F::Recess, "on top"), (F::RingWidth, "800"), (F::PortLength, "180")]);
    let (_, report, found) = planned(&entries);
    assert_eq!(
        holes_of(&found, "baffle-plate"),
        [(HoleUse::Driver, 233.0, None), (HoleUse::Port, 106.0, None)]
    );
    assert!(holes_of(&found, "bottom-plate").is_empty());
    let tubes = found.tubes.as_ref().expect("tubes");
    assert!(
        tubes.centres[0][1].abs() < 1e-9 && (199.0..=300.0).contains(&tubes.centres[0][0].abs()),
        "{tubes:?}"
    );
    // All the height inside but 100, and two plates.
    near(tubes.most.millimetres(), 252.0 - 100.0 + 36.0, 1e-9);
    let net = report.sound.as_ref().expect("sound").net;
    // π/4 · 106² · 144 mm³.
    near(found.net.litres() - net.litres(), 1.2708, 1e-3);
}

#[test]
fn desk_and_saw_know_the_same_room() {
    let mut entries = VENTED[..3].to_vec();
    entries.extend([(F::MountingDepth, "120"), (F::WantedTuning, "20"), (F::Recess, "on top")]);
    let (sheet, report, found) = planned(&entries);
    let tubes = found.tubes.as_ref().expect("tubes");
    let Some(Question::Port(_, _, longest, _)) = question(&sheet, &report) else { panic!("a question") };
    near(longest.millimetres(), tubes.most.millimetres(), 1e-6);
    assert!(tubes.length.is_some_and(|length| length > tubes.most), "{tubes:?}");
    assert!(report.warnings.iter().any(|w| w.place() == Place::Saw && w.severity() == Severity::Stop));
}

#[test]
fn what_has_no_place_in_a_stack_is_refused_by_name() {
    for (entries, word) in [
        (&[(F::BoxKind, "vented"), (F::PortShape, "slot")][..], "slot"),
        (&[(F::BoxKind, "passive radiator")][..], "passive radiators"),
        (&[(F::BoxKind, "vented"), (F::PortDiameter, "330")][..], "tubes"),
    ] {
        let sheet = sheet(entries);
        let Err(Gap::Refused(error)) = ring_report(&sheet) else { panic!("{entries:?}") };
        assert!(error.to_string().contains(word), "{error}");
        let report = evaluate(&sheet);
        assert!(report.sound.is_err(), "{entries:?}");
    }
}

#[test]
fn its_sentence_says_what_is_cut() {
    let (sheet, report, found) = planned(&[(F::Recess, "on top"), (F::RingFront, "2")]);
    let prefs = UnitPrefs::default();
    let kilograms = 14.0 * RING + 3.0 * PLATE - bored(233.0, 36.0);
    // ring-1: 27.8506 L, and the hole through 36 mm, 1.535 L, less the driver.
    let net = 27.8506 + PI / 4.0 * 2.33 * 2.33 * 0.36 - found.bodies.litres();
    let expected = format!("14 rings, 3 plates, {kilograms:.1} kg of board; {net:.1}\u{a0}L net.");
    assert_eq!(lines::saw(&report, &sheet, &prefs), expected);
    let waiting = evaluate(&{
        let mut sheet = sheet.clone();
        sheet.clear(F::RingCount);
        sheet
    });
    let mut empty = sheet;
    empty.clear(F::RingCount);
    assert!(lines::saw(&waiting, &empty, &prefs).contains("number of rings"));
}

/// The lines of a path, each once.
fn segments(path: &str) -> BTreeSet<[i64; 4]> {
    let mut all = BTreeSet::new();
    for run in path.split('M').skip(1) {
        let points: Vec<[i64; 2]> = run
            .split('L')
            .map(|at| {
                let mut numbers =
                    at.split(' ').map(|x| (x.parse::<f64>().expect("a number") * 10.0).round() as i64);
                [numbers.next().expect("x"), numbers.next().expect("y")]
            })
            .collect();
        for pair in points.windows(2) {
            let (a, b) = (pair[0].min(pair[1]), pair[0].max(pair[1]));
            all.insert([a[0], a[1], b[0], b[1]]);
        }
    }
    all
}

fn length(path: &str) -> f64 {
    segments(path).iter().map(|[a, b, c, d]| ((c - a) as f64).hypot((d - b) as f64) / 10.0).sum()
}

#[test]
fn a_stack_without_round_corners_is_drawn_as_a_block_of_boards() {
    // By hand: of a block of W × D × H from above one sees 2 (W + D) above, three upright edges, and W + D at the bottom
    // and wherever two boards meet. Isometric, every edge is as much shorter as W + D are wide: W + D are 320/cos 30° there.
    let mut sheet =
        sheet(&[(F::RingRadius, "0"), (F::RingCount, "12"), (F::RingFront, "2"), (F::RingBack, "1")]);
    sheet.clear(F::CutOut);
    let found = ring_report(&sheet).unwrap_or_else(|gap| panic!("{gap:?}"));
    let around = 420.0 + 380.0;
    let scale = 320.0 / (around * (PI / 6.0).cos());
    let seen = 2.0 * around + 3.0 * 15.0 * 18.0 + 15.0 * around;
    // A tenth of a unit at the end of each line of the drawing.
    near(length(&stack_drawn(&found).before), seen * scale, 5.0);
    // The same in the last of the steps, in two parts; before the baffle the wall is seen from above, and inside the far
    // two sides as far down as the near ones let one look.
    let all = steps(&found);
    let last = format!("{}{}", all[3].picture.before, all[3].picture.new);
    near(length(&last), seen * scale, 5.0);
    assert!(!all[1].picture.new.is_empty());
    assert_eq!(
        length(&format!("{}{}", all[1].picture.before, all[1].picture.new)),
        length(&format!("{}{}", all[2].picture.before, all[2].picture.new)),
    );
    // Looked into: opening of 356 × 316, 12 · 18 high. On paper a point of the far wall this deep below the rim lies as low
    // as the near rim where its way along both axes is as long as the depth: more than 216 everywhere but near the corners,
    // so all joints of both far walls show for some way, and the bottom is seen.
    let inside = length(&all[1].picture.new) - length(&all[1].picture.before);
    assert!(inside > (3.0 * around + 11.0 * around) * scale, "{inside}");
}

#[test]
fn round_outlines_are_drawn_with_few_lines() {
    for (shape, top) in [("ellipse", "420"), ("D", "420"), ("rectangle", "440"), ("polygon", "420")] {
        let found = planned(&[(F::RingShape, shape), (F::RingTopWidth, top)]).2;
        let picture = stack_drawn(&found);
        // Ends of 48 corners, half of each of 17 boards' edges seen, and again where unlike boards meet.
        let lines = segments(&picture.before).len();
        assert!(lines > 17 * 10 && lines < 17 * 3 * 48, "{shape}: {lines}");
        let [width, height] = picture.size;
        assert!(width == 320.0 && height.is_finite() && height > 100.0, "{shape}: {height}");
    }
}
