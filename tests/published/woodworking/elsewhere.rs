//! Drivers and terminals in other faces than the front: volumes by the formulas of geometry.md sections 1, 4 and 6, places
//! and distances by hand.
use std::f64::consts::PI;

use kerf_and_coil::model::error::ModelError;
use kerf_and_coil::model::geometry::clearance::OnFaces;
use kerf_and_coil::model::geometry::edges::{BACK, BOTTOM, FRONT, LEFT, Owners, Place, RIGHT, TOP};
use kerf_and_coil::model::geometry::spec::Loose;
use kerf_and_coil::model::geometry::{
    AsBuilt, Axis, Back, BackJoint, Board, BodyKind, BoxSpec, ChamberPort, ChamberTubes, CornerStrips, Dims,
    Divider, DriverCutout, Fact, Form, HoleShape, HoleUse, InsideEdge, LedgerItem, LegNeed, Legs, Pair,
    PartId, Plan, Precedence, Profile, RadiatorCutout, RadiatorPlace, Role, TerminalHole, Verdict, Window,
    WindowBrace, build_order, insert, outlines, plan, weight,
};
use kerf_and_coil::units::{Area, ExactLength, Mass, Volume};

use super::mm;

/// 600 × 400 × 500 mm of 18 mm board: inside 564 × 364 × 464 mm.
fn spec(count: u8, elsewhere: &[Place]) -> BoxSpec {
    let outside = Dims { width: mm(600.0), height: mm(400.0), depth: mm(500.0) };
    let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
    spec.driver = Some(DriverCutout {
        count,
        cutout: mm(284.0),
        flange: mm(310.0),
        depth: mm(150.0),
        magnet: mm(156.0),
        displacement: Volume::from_litres(4.5),
        pole_vent: Some(mm(30.0)),
        recess: None,
        centres: Vec::new(),
        elsewhere: elsewhere.to_vec(),
    });
    spec
}

fn terminal(face: Place) -> TerminalHole {
    TerminalHole {
        face,
        window: Some(mm(20.0)),
        shape: HoleShape::Rectangle(Window::new(mm(76.0), mm(56.0), ExactLength::ZERO)),
        cup_depth: mm(40.0),
        cup_volume: None,
        centre: None,
    }
}

#[track_caller]
fn planned(spec: &BoxSpec) -> Plan {
    plan(spec, &AsBuilt::new()).expect("a box")
}

fn near(actual: f64, expected: f64) {
    assert!((actual - expected).abs() < 1e-9, "{actual}, expected {expected}");
}

fn bounds(plan: &Plan, kind: BodyKind) -> [[f64; 3]; 2] {
    let body = plan.planned.assembly.bodies.iter().find(|body| body.kind == kind).expect("the body");
    let bounds = body.bounds();
    [bounds.min, bounds.max]
}

fn outline_holes(plan: &Plan, part: PartId) -> Vec<(HoleUse, [f64; 2])> {
    let outlines = outlines(&plan.planned);
    let outline = outlines.iter().find(|outline| outline.part == part).expect("the board");
    outline.holes.iter().map(|hole| (hole.use_, hole.at.map(ExactLength::millimetres))).collect()
}

/// One in the front, one in the back, both in the middle: 464 mm inside, 150 − 18 = 132 mm of each behind its board.
#[test]
fn two_that_look_away_from_each_other_by_hand() {
    let plan = planned(&spec(2, &[BACK]));
    let ledger = &plan.planned.ledger;
    near(ledger.gross.litres(), 564.0 * 364.0 * 464.0 * 1e-6);
    let hole = PI / 4.0 * 284.0 * 284.0 * 18.0 * 1e-6;
    near(ledger.volume(LedgerItem::DriverHoles).litres(), 2.0 * hole);
    near(ledger.net.litres(), 564.0 * 364.0 * 464.0 * 1e-6 + 2.0 * hole - 9.0);
    assert_eq!(bounds(&plan, BodyKind::Driver(0)), [[18.0, 158.0, 58.0], [150.0, 442.0, 342.0]]);
    assert_eq!(bounds(&plan, BodyKind::DriverHole(1)), [[482.0, 158.0, 58.0], [500.0, 442.0, 342.0]]);
    assert_eq!(bounds(&plan, BodyKind::Driver(1)), [[350.0, 158.0, 58.0], [482.0, 442.0, 342.0]]);
    // 464 − 132 to the board opposite, 464 − 264 between them; the flange 45 mm from the edge above and below.
    let expected = [
        Fact::MagnetToBoard { driver: 1, gap: mm(332.0) },
        Fact::MagnetToMagnet { gap: mm(200.0) },
        Fact::PoleVent { gap: mm(200.0), wanted: mm(25.0) },
        Fact::FlangeToEdge { driver: 1, gap: mm(45.0), wanted: mm(12.0) },
        Fact::CutoutToWall { driver: 1, gap: mm(40.0) },
    ];
    for fact in expected {
        assert!(plan.facts.contains(&fact), "{fact:?} of {:?}", plan.facts);
    }
    assert!(plan.facts.iter().all(|fact| fact.verdict() == Verdict::Fine), "{:?}", plan.facts);
}

/// All in the sides: no hole in the front; in 300 mm of width 264 mm are left inside, which two bodies of 132 mm fill.
#[test]
fn drivers_in_both_sides_by_hand() {
    let plan = planned(&spec(2, &[LEFT, RIGHT]));
    assert_eq!(outline_holes(&plan, PartId::Front(0)), []);
    // On paper the sides lie depth across, height up; they stand behind the front and between top and bottom.
    let middle = [464.0 / 2.0, 364.0 / 2.0];
    assert_eq!(outline_holes(&plan, PartId::Left), [(HoleUse::Driver, middle)]);
    assert_eq!(outline_holes(&plan, PartId::Right), [(HoleUse::Driver, middle)]);
    assert_eq!(bounds(&plan, BodyKind::Driver(0)), [[108.0, 18.0, 58.0], [392.0, 150.0, 342.0]]);
    assert_eq!(bounds(&plan, BodyKind::Driver(1)), [[108.0, 450.0, 58.0], [392.0, 582.0, 342.0]]);
    assert!(plan.facts.contains(&Fact::MagnetToMagnet { gap: mm(300.0) }));
    // Nothing is said of what would stand behind the front.
    assert!(!plan.facts.iter().any(|fact| matches!(fact, Fact::MagnetToBack { .. })));

    let mut narrow = spec(2, &[LEFT, RIGHT]);
    narrow.outside.width = mm(300.0);
    let facts = planned(&narrow).facts;
    let meet = Fact::MagnetToMagnet { gap: ExactLength::ZERO };
    assert!(facts.contains(&meet), "{facts:?}");
    assert_eq!(meet.verdict(), Verdict::Fails);
    narrow.outside.width = mm(280.0);
    let facts = planned(&narrow).facts;
    assert!(facts.contains(&Fact::MagnetToMagnet { gap: mm(-20.0) }), "{facts:?}");
    let (a, b) = (BodyKind::Driver(0), BodyKind::Driver(1));
    assert!(facts.contains(&Fact::Overlap { a, b }), "{facts:?}");
}

/// Two in the top: side by side, 564 mm − 620 mm leave −56/3 mm beside each flange.
#[test]
fn two_in_the_top_share_it() {
    let plan = planned(&spec(3, &[TOP, TOP]));
    // Gaps of −56/3 mm: centres 18 − 18.67 + 155 = 154.3 and 18 + 564 + 18.67 − 155 = 445.7, to whole millimetres.
    assert_eq!(bounds(&plan, BodyKind::DriverHole(1))[0], [108.0, 12.0, 382.0]);
    assert_eq!(bounds(&plan, BodyKind::DriverHole(2))[1], [392.0, 588.0, 400.0]);
    // Centres 154 and 446: the flanges overlap by 18 mm.
    assert!(plan.facts.contains(&Fact::FlangeToFlange { gap: mm(-18.0) }), "{:?}", plan.facts);
    assert!(plan.facts.contains(&Fact::MagnetToBoard { driver: 2, gap: mm(364.0 - 132.0) }));
}

/// Wood of the boards less their holes, by hand; a driver of 5 kg acts 100 mm behind its flange.
#[test]
fn the_centre_of_gravity_follows_the_drivers() {
    let one = spec(1, &[RIGHT]);
    let plan = planned(&one);
    let found = weight(&one, &plan.planned.assembly, Some(Mass::from_kilograms(5.0)));
    // Front and back 600 × 400, top and bottom 600 × 464, sides 364 × 464 mm, one with the hole.
    let kg = |mm2: f64| mm2 * 18.0 * 740e-9;
    let (front, top, side) = (kg(600.0 * 400.0), kg(600.0 * 464.0), kg(364.0 * 464.0));
    let hole = kg(PI / 4.0 * 284.0 * 284.0);
    let wood = 2.0 * (front + top + side) - hole;
    near(found.wood.kilograms(), wood);
    near(found.total.kilograms(), wood + 5.0);
    let even = 2.0 * (front + top) * 300.0;
    let across = even + side * 9.0 + (side - hole) * 591.0 + 5.0 * 500.0;
    near(found.centre_mm[1], across / (wood + 5.0));
    // Front at 9, back at 491 mm, everything else and the driver in the middle of 18 and 482 mm.
    let along = front * 500.0 + (2.0 * (top + side) - hole + 5.0) * 250.0;
    near(found.centre_mm[0], along / (wood + 5.0));
}

/// Of a double front the outer layer has a window of 116 × 96 mm, the inner one the hole of 76 × 56 mm: 18 mm of it are
/// gained, 40 mm of cup lost from there.
#[test]
fn terminals_in_a_window_of_the_outer_front() {
    let mut double = spec(1, &[LEFT]);
    double.front_layers = 2;
    double.terminal = Some(terminal(FRONT));
    let plan = planned(&double);
    // In a front without drivers: in the middle, a quarter up.
    let window = plan.planned.assembly.bodies.iter().find(|body| body.kind == BodyKind::TerminalWindow);
    assert_eq!(window.map(|body| body.role), Some(Role::Cut));
    assert_eq!(bounds(&plan, BodyKind::TerminalWindow), [[0.0, 242.0, 52.0], [18.0, 358.0, 148.0]]);
    assert_eq!(bounds(&plan, BodyKind::TerminalHole), [[18.0, 262.0, 72.0], [36.0, 338.0, 128.0]]);
    assert_eq!(bounds(&plan, BodyKind::TerminalCup), [[18.0, 262.0, 72.0], [58.0, 338.0, 128.0]]);
    assert_eq!(outline_holes(&plan, PartId::Front(0)), [(HoleUse::Window, [300.0, 100.0])]);
    assert_eq!(outline_holes(&plan, PartId::Front(1)), [(HoleUse::Terminal, [300.0, 100.0])]);
    let ledger = &plan.planned.ledger;
    near(ledger.volume(LedgerItem::TerminalHole).litres(), 76.0 * 56.0 * 18.0 * 1e-6);
    near(ledger.volume(LedgerItem::TerminalCup).litres(), -76.0 * 56.0 * 40.0 * 1e-6);

    // With a driver in the front they go into its lower right corner: 15 mm of wood beside the window, inside.
    double.driver.as_mut().expect("drivers").elsewhere.clear();
    let plan = planned(&double);
    assert_eq!(bounds(&plan, BodyKind::TerminalWindow)[1], [18.0, 600.0 - 18.0 - 15.0, 18.0 + 15.0 + 96.0]);
    // Corner of the window 567 − 116 = 451 and 129: 151 across, 71 up from the middle; the flange has 155 mm.
    let gap = 151.0_f64.hypot(71.0) - 155.0;
    assert!(plan.facts.contains(&Fact::TerminalBeside { gap: mm(gap) }), "{:?}", plan.facts);
}

/// In the back of a box with a driver there the terminals go into a corner; too near, it is told.
#[test]
fn terminals_beside_a_driver_in_the_back() {
    let mut spec = spec(1, &[BACK]);
    spec.terminal = Some(terminal(BACK));
    let plan = planned(&spec);
    assert_eq!(bounds(&plan, BodyKind::TerminalHole), [[482.0, 491.0, 33.0], [500.0, 567.0, 89.0]]);
    // From the middle at 300, 200 to the hole's corner at 491, 89.
    let gap = 191.0_f64.hypot(111.0) - 155.0;
    assert!(plan.facts.contains(&Fact::TerminalBeside { gap: mm(gap) }), "{:?}", plan.facts);
    // In the left side: 43 mm of depth and 28 of height from its middle at 250, 100 to the walls at 18 and 18.
    spec.terminal = Some(terminal(LEFT));
    let plan = planned(&spec);
    assert_eq!(bounds(&plan, BodyKind::TerminalHole), [[212.0, 0.0, 72.0], [288.0, 18.0, 128.0]]);
    assert!(plan.facts.contains(&Fact::TerminalToWall { gap: mm(54.0) }), "{:?}", plan.facts);
    // In the top: across the width and backwards.
    spec.terminal = Some(terminal(TOP));
    let plan = planned(&spec);
    assert_eq!(bounds(&plan, BodyKind::TerminalHole), [[222.0, 262.0, 382.0], [278.0, 338.0, 400.0]]);
}

/// 900 × 360 × 340 mm, 200 mm deep along the top. The back leans by atan(140/360); its inner face lies 18 mm within.
#[test]
fn drivers_in_other_faces_of_a_wedge() {
    let mut wedge = spec(1, &[TOP]);
    wedge.outside = Dims { width: mm(900.0), height: mm(360.0), depth: mm(340.0) };
    wedge.tape_step = ExactLength::ZERO;
    let (joint, back) = (BackJoint::Over, Back::TopDepth(mm(200.0)));
    wedge.profile = Some(Profile { setback: ExactLength::ZERO, back, joint, front: joint });
    {
        let driver = wedge.driver.as_mut().expect("a driver");
        (driver.cutout, driver.flange, driver.depth) = (mm(150.0), mm(166.0), mm(110.0));
        (driver.magnet, driver.pole_vent) = (mm(130.0), None);
    }
    // The inner face of the back crosses that of the top at 207 − 18 √(140² + 360²)/360 = 187.69 mm of depth; the middle
    // between 18 and there is 102.8, in whole millimetres 103.
    let slope = 140.0_f64.hypot(360.0);
    let inner = 207.0 - 18.0 * slope / 360.0;
    let plan = planned(&wedge);
    assert_eq!(bounds(&plan, BodyKind::DriverHole(0)), [[28.0, 375.0, 342.0], [178.0, 525.0, 360.0]]);
    let gap = Fact::CutoutToWall { driver: 0, gap: mm((103.0 - 18.0_f64).min(inner - 103.0) - 75.0) };
    assert!(plan.facts.contains(&gap), "{gap:?} of {:?}", plan.facts);
    // 92 mm below the inner face 342 − 18 − 92 = 232 mm are free to the bottom, along both edges of the magnet.
    let free = Fact::MagnetToBoard { driver: 0, gap: mm(232.0) };
    assert!(plan.facts.contains(&free), "{:?}", plan.facts);

    // In both sides where a circle has most room: r from front, floor and back, (322 − 18/cos θ − 18 tan θ − r tan θ − r)
    // cos θ = r.
    {
        let driver = wedge.driver.as_mut().expect("drivers");
        (driver.count, driver.elsewhere) = (2, vec![LEFT, RIGHT]);
    }
    let plan = planned(&wedge);
    let lean = (140.0_f64 / 360.0).atan();
    let (sin, cos) = lean.sin_cos();
    let radius = (322.0 - 18.0 / cos - 18.0 * lean.tan()) * cos / (1.0 + cos + sin);
    let middle = (18.0 + radius).round();
    let (low, high) = (middle - 75.0, middle + 75.0);
    assert_eq!(bounds(&plan, BodyKind::DriverHole(0)), [[low, 0.0, low], [high, 18.0, high]]);
    assert_eq!(bounds(&plan, BodyKind::DriverHole(1)), [[low, 882.0, low], [high, 900.0, high]]);
    let to_back = (340.0 - 18.0 / cos - middle * lean.tan() - middle) * cos;
    let wall = plan.facts.iter().find_map(|fact| match fact {
        Fact::CutoutToWall { driver: 1, gap } => Some(gap.millimetres()),
        _ => None,
    });
    let expected = (middle - 18.0).min(to_back) - 75.0;
    assert!((wall.expect("a gap") - expected).abs() < 1e-3, "{wall:?}, expected {expected}");
    // 864 mm inside, 92 of each behind its side.
    assert!(plan.facts.contains(&Fact::MagnetToMagnet { gap: mm(680.0) }), "{:?}", plan.facts);

    // In the leaning back, in the middle of its inner face: along the slope from 26.31 to 373.95, so at 200 mm.
    {
        let driver = wedge.driver.as_mut().expect("a driver");
        (driver.count, driver.elsewhere) = (1, vec![BACK]);
    }
    let plan = planned(&wedge);
    let along = [-140.0 / slope, 360.0 / slope];
    let inward = [-360.0 / slope, -140.0 / slope];
    let at = |up: f64, deep: f64| [0, 1].map(|i| [340.0, 0.0][i] + up * along[i] + deep * inward[i]);
    // The upper edge of the magnet is nearest to the front's inner face at 18 mm.
    let [depth, _] = at(200.0 + 65.0, 110.0);
    let expected = (depth - 18.0) / (360.0 / slope);
    let gap = plan.facts.iter().find_map(|fact| match fact {
        Fact::MagnetToBoard { gap, .. } => Some(gap.millimetres()),
        _ => None,
    });
    assert!((gap.expect("a gap") - expected).abs() < 1e-3, "{gap:?}, expected {expected}");
    // Its hole's centre on the outside.
    let hole = bounds(&plan, BodyKind::DriverHole(0));
    let [foot, head] = [at(125.0, 0.0), at(275.0, 18.0)];
    assert!((hole[1][0] - foot[0]).abs() < 0.01 && (hole[0][0] - head[0]).abs() < 0.01, "{hole:?}");
}

/// The box with smaller drivers: hole 140, flange 160, depth 90, magnet 80 mm, 1 L; and two radiators: hole 180, flange
/// 200, depth 60 mm, 0.5 L each.
fn with_radiators(count: u8, elsewhere: &[Place], place: RadiatorPlace) -> BoxSpec {
    let mut spec = spec(count, elsewhere);
    {
        let driver = spec.driver.as_mut().expect("drivers");
        (driver.cutout, driver.flange, driver.depth) = (mm(140.0), mm(160.0), mm(90.0));
        (driver.magnet, driver.pole_vent) = (mm(80.0), None);
        driver.displacement = Volume::from_litres(1.0);
    }
    spec.form = Form::Radiators(RadiatorCutout {
        count: 2,
        cutout: mm(180.0),
        flange: mm(200.0),
        depth: mm(60.0),
        displacement: Volume::from_litres(0.5),
        place,
    });
    spec
}

/// Drivers and radiators side by side in both sides, 464 × 364 mm inside: (464 − 160 − 200)/3 = 34.67 mm of wood beside
/// each, so centres at 18 + 34.67 + 80 = 132.67 and 482 − 34.67 − 100 = 347.33 mm, to whole millimetres.
#[test]
fn drivers_and_radiators_share_the_sides() {
    let spec = with_radiators(2, &[LEFT, RIGHT], RadiatorPlace::Sides);
    let plan = planned(&spec);
    assert_eq!(bounds(&plan, BodyKind::DriverHole(0)), [[63.0, 0.0, 130.0], [203.0, 18.0, 270.0]]);
    assert_eq!(bounds(&plan, BodyKind::DriverHole(1)), [[63.0, 582.0, 130.0], [203.0, 600.0, 270.0]]);
    assert_eq!(bounds(&plan, BodyKind::RadiatorHole(0)), [[257.0, 0.0, 110.0], [437.0, 18.0, 290.0]]);
    assert_eq!(bounds(&plan, BodyKind::Radiator(1)), [[257.0, 540.0, 110.0], [437.0, 582.0, 290.0]]);
    let expected = [
        // 347 − 133 less half of both flanges.
        Fact::RadiatorToFlange { gap: mm(34.0) },
        Fact::FlangeToEdge { driver: 1, gap: mm(35.0), wanted: mm(12.0) },
        Fact::CutoutToWall { driver: 0, gap: mm(45.0) },
        Fact::RadiatorToWall { radiator: 1, gap: mm(45.0) },
        Fact::RadiatorBehind { gap: mm(564.0 - 42.0) },
        Fact::MagnetToBoard { driver: 0, gap: mm(564.0 - 72.0) },
        Fact::MagnetToMagnet { gap: mm(564.0 - 144.0) },
    ];
    for fact in expected {
        assert!(plan.facts.contains(&fact), "{fact:?} of {:?}", plan.facts);
    }
    assert!(plan.facts.iter().all(|fact| fact.verdict() == Verdict::Fine), "{:?}", plan.facts);
    let disc = |across: f64| PI / 4.0 * across * across;
    let net = 564.0 * 364.0 * 464.0 + 2.0 * 18.0 * (disc(140.0) + disc(180.0)) - 2.0 * 1.5e6;
    near(plan.planned.ledger.net.litres(), net * 1e-6);
    // On paper from the side's own corner, behind the front and on the bottom.
    let holes = [(HoleUse::Driver, [115.0, 182.0]), (HoleUse::Radiator, [329.0, 182.0])];
    assert_eq!(outline_holes(&plan, PartId::Left), holes);
    assert_eq!(outline_holes(&plan, PartId::Right), holes);
    // Along the depth only the holes are off the middle of everything, at 250 mm.
    let found = weight(&spec, &plan.planned.assembly, None);
    let wood = 2.0 * (600.0 * 400.0 + 600.0 * 464.0 + 364.0 * 464.0) - 2.0 * (disc(140.0) + disc(180.0));
    near(found.wood.kilograms(), wood * 18.0 * 740e-9);
    let moment = 2.0 * (disc(140.0) * 117.0 - disc(180.0) * 97.0);
    near(found.centre_mm[0], 250.0 + moment / wood);

    // A driver in one side only: the radiators stay opposite each other all the same.
    let plan = planned(&with_radiators(1, &[RIGHT], RadiatorPlace::Sides));
    assert_eq!(bounds(&plan, BodyKind::RadiatorHole(0))[0], [257.0, 0.0, 110.0]);
    assert_eq!(bounds(&plan, BodyKind::RadiatorHole(1))[0], [257.0, 582.0, 110.0]);
    // Drivers in the back leave them in the middle of the sides.
    let plan = planned(&with_radiators(1, &[BACK], RadiatorPlace::Sides));
    assert_eq!(bounds(&plan, BodyKind::RadiatorHole(0))[0], [160.0, 0.0, 110.0]);
    assert!(!plan.facts.iter().any(|fact| matches!(fact, Fact::RadiatorToFlange { .. })));
}

/// Radiators alone in the front: (564 − 400)/3 = 54.67 mm of wood, centres at 172.67 and 427.33 mm. The driver in the middle
/// of the back stands 127 mm beside them, nearer than half its magnet and half a radiator: 464 − 72 − 42 mm between.
#[test]
fn radiators_in_the_front_and_a_driver_behind_them() {
    let plan = planned(&with_radiators(1, &[BACK], RadiatorPlace::Front));
    assert_eq!(outline_holes(&plan, PartId::Back), [(HoleUse::Driver, [300.0, 200.0])]);
    let front = [(HoleUse::Radiator, [173.0, 200.0]), (HoleUse::Radiator, [427.0, 200.0])];
    assert_eq!(outline_holes(&plan, PartId::Front(0)), front);
    assert!(plan.facts.contains(&Fact::RadiatorBehind { gap: mm(350.0) }), "{:?}", plan.facts);
    assert!(plan.facts.contains(&Fact::RadiatorToFlange { gap: mm(54.0) }), "{:?}", plan.facts);
    // Terminals in a side with a radiator go into its lower rear corner, 15 mm from floor and back: 406 to 482 less 15 mm of
    // depth, 33 to 89 mm up; the flange's middle is at 250, 200.
    let mut beside = with_radiators(1, &[BACK], RadiatorPlace::Sides);
    beside.terminal = Some(terminal(LEFT));
    let plan = planned(&beside);
    assert_eq!(bounds(&plan, BodyKind::TerminalHole), [[391.0, 0.0, 33.0], [467.0, 18.0, 89.0]]);
    let gap = mm(141.0_f64.hypot(111.0) - 100.0);
    assert!(plan.facts.contains(&Fact::TerminalBeside { gap }), "{:?}", plan.facts);
    let mut flat = with_radiators(1, &[BACK], RadiatorPlace::Front);
    flat.outside.depth = mm(140.0);
    let facts = planned(&flat).facts;
    assert!(facts.contains(&Fact::RadiatorBehind { gap: mm(-10.0) }), "{facts:?}");
    assert!(facts.iter().any(|fact| matches!(fact, Fact::Overlap { .. })), "{facts:?}");
}

/// In the sides of a wedge: places of both sides alike, and what is told of them measured again from the holes' middles.
#[test]
fn drivers_and_radiators_share_the_sides_of_a_wedge() {
    let mut wedge = with_radiators(2, &[LEFT, RIGHT], RadiatorPlace::Sides);
    wedge.outside = Dims { width: mm(700.0), height: mm(400.0), depth: mm(520.0) };
    wedge.tape_step = ExactLength::ZERO;
    let (joint, back) = (BackJoint::Over, Back::TopDepth(mm(380.0)));
    wedge.profile = Some(Profile { setback: ExactLength::ZERO, back, joint, front: joint });
    let plan = planned(&wedge);
    let middle = |kind| {
        let [low, high] = bounds(&plan, kind);
        [0, 1, 2].map(|i| (low[i] + high[i]) / 2.0)
    };
    let (driver, radiator) = (middle(BodyKind::DriverHole(0)), middle(BodyKind::RadiatorHole(0)));
    for (left, right) in
        [(driver, middle(BodyKind::DriverHole(1))), (radiator, middle(BodyKind::RadiatorHole(1)))]
    {
        assert_eq!([left[0], left[2]], [right[0], right[2]]);
    }
    let apart = (driver[0] - radiator[0]).hypot(driver[2] - radiator[2]) - 180.0;
    let (found, fact) = told(&plan.facts, |fact| matches!(fact, Fact::RadiatorToFlange { .. }));
    assert!((found - apart).abs() < 1e-3 && apart > 12.0, "{fact:?}, expected {apart}");
    // The back leans by atan(140/400); its inner face goes through (520 − 18/cos, 0).
    let (sin, cos) = (140.0_f64 / 400.0).atan().sin_cos();
    let to_wall = |[depth, _, up]: [f64; 3], radius: f64| {
        let back = (520.0 - 18.0 / cos - depth) * cos - up * sin;
        [depth - 18.0, up - 18.0, 382.0 - up, back].into_iter().fold(f64::INFINITY, f64::min) - radius
    };
    let (found, fact) = told(&plan.facts, |fact| matches!(fact, Fact::CutoutToWall { driver: 0, .. }));
    assert!((found - to_wall(driver, 70.0)).abs() < 1e-3, "{fact:?}");
    let (found, fact) = told(&plan.facts, |fact| matches!(fact, Fact::RadiatorToWall { radiator: 0, .. }));
    assert!((found - to_wall(radiator, 90.0)).abs() < 1e-3, "{fact:?}");
}

/// The distance of the only fact of a kind.
#[track_caller]
fn told(facts: &[Fact], is_it: impl Fn(&Fact) -> bool) -> (f64, Fact) {
    let fact = facts.iter().find(|fact| is_it(fact)).expect("a fact");
    match *fact {
        Fact::RadiatorToFlange { gap }
        | Fact::CutoutToWall { gap, .. }
        | Fact::RadiatorToWall { gap, .. } => (gap.millimetres(), *fact),
        _ => panic!("{fact:?} has no distance here"),
    }
}

/// A box on legs with its driver in a side: the side runs 100 mm past the front, but what is in it keeps clear of the
/// window there, which ends where the front's outside begins.
#[test]
fn a_driver_in_a_side_that_forms_a_leg() {
    let mut spec = spec(1, &[LEFT]);
    spec.outside.depth = mm(360.0);
    let sides_first = Precedence::new([Pair::Sides, Pair::TopBottom, Pair::FrontBack]).expect("an order");
    spec.owners = Owners::by(sides_first);
    let legs =
        Legs { height: mm(100.0), window: mm(260.0), corner_radius: mm(40.0), rail: ExactLength::ZERO };
    spec.legs = Some(legs);
    let plan = planned(&spec);
    // Inside from 18 to 342 mm of depth: in the middle at 180, which is 280 from the feet.
    let holes = outline_holes(&plan, PartId::Left);
    assert!(holes.contains(&(HoleUse::Driver, [280.0, 200.0])), "{holes:?}");
    let edge = Fact::FlangeToEdge { driver: 0, gap: mm(25.0), wanted: mm(12.0) };
    assert!(plan.facts.contains(&edge), "{:?}", plan.facts);
    assert!(plan.facts.iter().all(|fact| fact.verdict() == Verdict::Fine), "{:?}", plan.facts);
    // Nothing looks at the floor: the legs need the window's corners or a hand's 40 mm.
    let none = LegNeed::of(Area::from_square_metres(0.05), 0, None, legs, mm(564.0)).expect("a height");
    assert_eq!(none.height(), mm(40.0));
    // Blocks find no way in through the front.
    let found = insert(&spec, &plan.planned.assembly, plan.net(), Volume::from_litres(30.0));
    assert!(matches!(found, Err(ModelError::Missing { .. })), "{found:?}");
}

/// What can't be built is refused by name.
#[test]
fn what_does_not_go_together_is_refused() {
    let refused = |spec: &BoxSpec| plan(spec, &AsBuilt::new()).err();
    let mut baffle = spec(1, &[BACK]);
    baffle.form = Form::Baffle;
    assert!(matches!(refused(&baffle), Some(ModelError::Impossible { .. })));
    let mut divided = spec(1, &[BACK]);
    let tubes = ChamberTubes { count: 1, diameter: mm(90.0), wall: mm(3.0), length: mm(200.0) };
    divided.form = Form::Divided(Divider { room: mm(150.0), port: ChamberPort::Tubes(tubes), inward: false });
    assert!(matches!(refused(&divided), Some(ModelError::Impossible { .. })));
    let mut braced = spec(2, &[LEFT, RIGHT]);
    braced.braces = vec![WindowBrace::BETWEEN];
    let mut front = spec(1, &[BOTTOM]);
    front.driver.as_mut().expect("a driver").elsewhere = vec![FRONT];
    let mut more = spec(1, &[BOTTOM, TOP]);
    more.driver.as_mut().expect("a driver").count = 1;
    assert!(matches!(refused(&braced), Some(ModelError::Impossible { .. })));
    assert!(matches!(refused(&front), Some(ModelError::Impossible { .. })));
    assert!(matches!(refused(&more), Some(ModelError::OutOfRange { .. })));
}

/// The back comes off: 20 mm battens around 564 × 364 mm, two of 564, two of 324 mm, inside it.
#[test]
fn battens_around_a_back_that_comes_off() {
    let mut spec = spec(1, &[]);
    spec.loose = Some(Loose { face: BACK, batten: mm(20.0) });
    let plan = planned(&spec);
    near(plan.planned.ledger.volume(LedgerItem::Battens).litres(), -0.02 * 0.02 * 2.0 * (564.0 + 324.0));
    assert_eq!(bounds(&plan, BodyKind::Batten(0)), [[462.0, 18.0, 18.0], [482.0, 582.0, 38.0]]);
    assert_eq!(bounds(&plan, BodyKind::Batten(3)), [[462.0, 562.0, 38.0], [482.0, 582.0, 362.0]]);
    assert_eq!(plan.planned.assembly.opening(spec.loose.expect("a board")), [mm(524.0), mm(324.0)]);
    // Screwed on last, nothing glued to it.
    let order = build_order(&plan.planned.assembly);
    let last = order.steps.last().expect("a step");
    assert_eq!(
        (last.pieces.as_slice(), last.is_screwed, last.joints.len()),
        ([PartId::Back].as_slice(), true, 0)
    );
    assert!(
        order
            .steps
            .iter()
            .rev()
            .skip(1)
            .all(|step| !step.is_screwed && step.joints.iter().all(|j| j.onto != PartId::Back))
    );

    // A brace parallel to the sides, 18 mm thick, stands across the upper and the lower one: two pieces of 273 mm each.
    spec.driver = None;
    spec.braces = vec![WindowBrace {
        count: 1,
        across: Axis::Width,
        window: Window::new(mm(300.0), mm(200.0), mm(20.0)),
    }];
    let plan = planned(&spec);
    near(
        plan.planned.ledger.volume(LedgerItem::Battens).litres(),
        -0.02 * 0.02 * 2.0 * (564.0 - 18.0 + 324.0),
    );
    assert_eq!(bounds(&plan, BodyKind::Batten(0)), [[462.0, 18.0, 18.0], [482.0, 291.0, 38.0]]);
    assert!(!plan.facts.iter().any(|fact| matches!(fact, Fact::Overlap { .. })), "{:?}", plan.facts);
}

/// The left side of a divided box comes off: its battens take air from the room before the drivers.
#[test]
fn battens_belong_to_the_room_they_stand_in() {
    let mut spec = spec(1, &[]);
    let tubes = ChamberTubes { count: 1, diameter: mm(90.0), wall: mm(3.0), length: mm(200.0) };
    spec.form = Form::Divided(Divider { room: mm(150.0), port: ChamberPort::Tubes(tubes), inward: false });
    let bare = planned(&spec);
    spec.loose = Some(Loose { face: LEFT, batten: mm(20.0) });
    let plan = planned(&spec);
    let front = |plan: &Plan| plan.planned.front_room.as_ref().expect("a room").net.litres();
    // 464 mm of depth and 324 mm between them.
    near(front(&bare) - front(&plan), 0.02 * 0.02 * 2.0 * (464.0 + 324.0));
    near(bare.planned.ledger.net.litres(), plan.planned.ledger.net.litres());
}

/// Between its neighbours a board rests on battens only; over all edges it needs none.
#[test]
fn a_board_that_comes_off_rests_on_something() {
    let mut spec = spec(1, &[]);
    let bare = |face| Some(Loose { face, batten: ExactLength::ZERO });
    spec.loose = bare(BACK);
    near(planned(&spec).planned.ledger.volume(LedgerItem::Battens).litres(), 0.0);
    spec.loose = bare(TOP);
    assert!(matches!(plan(&spec, &AsBuilt::new()), Err(ModelError::Impossible { .. })));
    spec.loose = Some(Loose { face: TOP, batten: mm(232.0) });
    assert!(matches!(plan(&spec, &AsBuilt::new()), Err(ModelError::Impossible { .. })));
}

/// Grilles of 30 mm on both sides instead of on the front: 600 + 2 × 30 across, and wrap alone before the front.
#[test]
fn what_stands_on_other_faces() {
    let on = OnFaces { wrap: mm(3.0), grille: mm(30.0), fixing: mm(12.0), ..OnFaces::default() };
    let outside = Dims { width: mm(600.0), height: mm(400.0), depth: mm(300.0) };
    let both = spec(2, &[LEFT, RIGHT]).driver.expect("drivers");
    let all = on.on_other_faces(on.over_all(outside), &both);
    assert_eq!((all.width, all.height, all.depth), (mm(660.0), mm(406.0), mm(318.0)));
    // One in the front, two in the top: 30 before the front, 30 instead of 3 over the top.
    let three = spec(3, &[TOP, TOP]).driver.expect("drivers");
    let all = on.on_other_faces(on.over_all(outside), &three);
    assert_eq!((all.width, all.height, all.depth), (mm(606.0), mm(433.0), mm(345.0)));
}

/// Strips of 50 mm in all edges, the back coming off: its four make room for battens, those along the depth end at them.
#[test]
fn strips_make_room_for_battens() {
    let mut spec = spec(1, &[]);
    spec.loose = Some(Loose { face: BACK, batten: mm(20.0) });
    spec.strips = Some(CornerStrips { edges: InsideEdge::all(), face: mm(50.0), ..super::upright_strips() });
    let plan = planned(&spec);
    let strips = || {
        let bodies = plan.planned.assembly.bodies.iter();
        bodies.filter_map(|body| match body.kind {
            BodyKind::Strip(edge) => Some((edge, body.bounds())),
            _ => None,
        })
    };
    assert_eq!(strips().count(), 8);
    for (edge, bounds) in strips() {
        match edge.along {
            // 464 mm less 20.
            Axis::Depth => assert_eq!((bounds.min[0], bounds.max[0]), (18.0, 462.0)),
            _ => assert_eq!(bounds.min[0], 18.0),
        }
    }
    assert!(plan.facts.contains(&Fact::StripsInSlot { count: 4 }), "{:?}", plan.facts);
    assert!(!plan.facts.iter().any(|fact| matches!(fact, Fact::Overlap { .. })), "{:?}", plan.facts);
    // Of one at the front nothing stands in the way.
    spec.loose = Some(Loose { face: LEFT, batten: mm(20.0) });
    let plan = planned(&spec);
    assert!(!plan.facts.iter().any(|fact| matches!(fact, Fact::Overlap { .. })), "{:?}", plan.facts);
    let across = plan
        .planned
        .assembly
        .bodies
        .iter()
        .find(|body| matches!(body.kind, BodyKind::Strip(edge) if edge.along == Axis::Width));
    assert_eq!(across.map(|body| (body.bounds().min[1], body.bounds().max[1])), Some((38.0, 582.0)));
}

/// Terminals of a wedge with its driver in the leaning back: 15 mm beside them in that face's lower right corner, which lies
/// 26.31 mm up the slope: the inner faces of back and bottom meet at 340 − 7 − 18 √(140² + 360²)/360 of depth, 18 mm up.
#[test]
fn terminals_beside_a_driver_in_a_leaning_back() {
    let mut wedge = spec(1, &[BACK]);
    wedge.outside = Dims { width: mm(900.0), height: mm(360.0), depth: mm(340.0) };
    wedge.tape_step = ExactLength::ZERO;
    let (joint, back) = (BackJoint::Over, Back::TopDepth(mm(200.0)));
    wedge.profile = Some(Profile { setback: ExactLength::ZERO, back, joint, front: joint });
    wedge.terminal = Some(terminal(BACK));
    let plan = planned(&wedge);
    let slope = 140.0_f64.hypot(360.0);
    let foot = [-7.0 - 18.0 * slope / 360.0, 18.0];
    let up = (-140.0 * foot[0] + 360.0 * foot[1]) / slope;
    let holes = outline_holes(&plan, PartId::Back);
    let (_, at) = holes.iter().find(|(use_, _)| *use_ == HoleUse::Terminal).expect("the terminals");
    // On paper from the board's own lower corner: it stands between the sides and covers the bottom, so from the foot.
    let expected = [864.0 - 15.0 - 38.0, up + 15.0 + 28.0];
    assert!(
        (at[0] - expected[0]).abs() < 1e-3 && (at[1] - expected[1]).abs() < 1e-3,
        "{at:?}, expected {expected:?}"
    );
    // In the front of a box whose driver is in the back: the middle of the front's inner face, a quarter up from 18 mm.
    wedge.terminal = Some(terminal(FRONT));
    let plan = planned(&wedge);
    let middle = bounds(&plan, BodyKind::TerminalHole);
    assert_eq!([middle[0][1], middle[1][1]], [412.0, 488.0]);
    assert_eq!((middle[0][2] + middle[1][2]) / 2.0, 99.0);
}
