//! Shaped boxes with passive radiators and with a divider: places, volumes and distances by hand from the sections of
//! geometry.md 2, 4 and 5, and by brute force.
use std::f64::consts::PI;

use kerf_and_coil::model::geometry::{
    AsBuilt, Axis, Back, BackJoint, Board, BodyKind, BoxSpec, ChamberPort, ChamberSlot, ChamberTubes,
    CornerStrips, Dims, Divider, DriverCutout, End, Fact, Form, HoleUse, InsideEdge, LedgerItem,
    MeasuredStripFace, Outline, PartId, PartName, Plan, Port, Profile, RadiatorCutout, RadiatorPlace, Role,
    RoundPort, SlotPort, SlotWidth, Solid, StripVoids, Verdict, build_order, outlines, plan, weight,
};
use kerf_and_coil::units::{ExactLength, Volume};
use proptest::prelude::*;

use super::mm;
use crate::assert_near;

/// A closed box of 18 mm board and exact sizes in mm: width, height, depth.
fn shaped([width, height, depth]: [f64; 3], setback: f64, back: Back) -> BoxSpec {
    let outside = Dims { width: mm(width), height: mm(height), depth: mm(depth) };
    let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
    spec.tape_step = ExactLength::ZERO;
    spec.profile =
        Some(Profile { setback: mm(setback), back, joint: BackJoint::Over, front: BackJoint::Over });
    spec
}

/// The wedge of geometry.md section 2.
fn wedge() -> BoxSpec {
    shaped([900.0, 360.0, 340.0], 0.0, Back::TopDepth(mm(200.0)))
}

fn step(shallow: End) -> BoxSpec {
    shaped([600.0, 380.0, 400.0], 0.0, Back::Step { height: mm(150.0), depth: mm(230.0), shallow })
}

fn driver() -> DriverCutout {
    DriverCutout {
        count: 1,
        cutout: mm(180.0),
        flange: mm(200.0),
        depth: mm(110.0),
        magnet: mm(120.0),
        displacement: Volume::from_litres(1.6),
        pole_vent: None,
        recess: None,
        centres: Vec::new(),
        elsewhere: Vec::new(),
    }
}

fn radiators(count: u8, diameter: f64, place: RadiatorPlace) -> Form {
    Form::Radiators(RadiatorCutout {
        count,
        cutout: mm(diameter),
        flange: mm(diameter + 20.0),
        depth: mm(60.0),
        displacement: Volume::from_litres(0.9),
        place,
    })
}

#[track_caller]
fn planned(spec: &BoxSpec) -> Plan {
    plan(spec, &AsBuilt::new()).expect("a box")
}

fn cylinder(diameter: f64, length: f64) -> f64 {
    PI / 4.0 * diameter * diameter * length * 1e-6
}

fn board(plan: &Plan, part: PartId) -> Outline {
    outlines(&plan.exact).into_iter().find(|outline| outline.part == part).expect("a board")
}

fn gap_to_wall(plan: &Plan) -> f64 {
    let found = plan.facts.iter().find_map(|fact| match fact {
        Fact::RadiatorToWall { gap, .. } => Some(gap.millimetres()),
        _ => None,
    });
    found.expect("a gap")
}

// The largest circle in the inside of the wedge touches front, floor and back: with its middle r from front and floor,
// (340 − 18/cosθ − (18 + r) tanθ − (18 + r)) cosθ = r.
#[test]
fn a_radiator_in_the_side_of_a_wedge_sits_where_it_has_most_room() {
    let mut spec = wedge();
    spec.driver = Some(driver());
    spec.form = radiators(2, 160.0, RadiatorPlace::Sides);
    let plan = planned(&spec);
    let lean = (140.0_f64 / 360.0).atan();
    let (sin, cos) = lean.sin_cos();
    let radius = (322.0 - 18.0 / cos - 18.0 * lean.tan()) * cos / (1.0 + cos + sin);
    let middle = (18.0 + radius).round();
    let assembly = &plan.exact.assembly;
    assert_eq!(assembly.layout.others.len(), 2);
    for (at, width) in assembly.layout.others.iter().zip([0.0, 882.0]) {
        assert_eq!([at.depth, at.width, at.height], [mm(middle), mm(width), mm(middle)]);
    }
    // To whole millimetres: nearest of floor and front, and the back along its normal.
    let to_back = (340.0 - 18.0 / cos - middle * lean.tan() - middle) * cos;
    assert_near(gap_to_wall(&plan), (middle - 18.0).min(to_back) - 80.0, 1e-3);
    // From the flange of 180 mm to the side's own edges: the leaning one is nearest after the rounding, or floor and front.
    let outer = (340.0 - middle * lean.tan() - middle) * cos;
    let edge = Fact::RadiatorToEdge { radiator: 0, gap: mm(middle.min(outer) - 90.0), wanted: mm(12.0) };
    assert!(plan.facts.contains(&edge), "{:?} {edge:?}", plan.facts);
    assert!(plan.facts.contains(&Fact::RadiatorBehind { gap: mm(864.0 - 42.0) }));
    assert!(plan.facts.iter().all(|fact| fact.verdict() == Verdict::Fine), "{:?}", plan.facts);
    // Two holes of 160 × 18 mm gained, two radiators and the driver lost.
    let net =
        plan.exact.ledger.gross.litres() + 2.0 * (cylinder(160.0, 18.0) - 0.9) + cylinder(180.0, 18.0) - 1.6;
    assert_near(plan.net().litres(), net, 1e-9);
    assert_near(
        plan.exact.ledger.volume(LedgerItem::RadiatorHoles).litres(),
        2.0 * cylinder(160.0, 18.0),
        1e-9,
    );
    // Both sides have the hole in their template, from the corner at the front's foot.
    for part in [PartId::Left, PartId::Right] {
        let side = board(&plan, part);
        assert_eq!((side.holes.len(), side.holes[0].use_), (1, HoleUse::Radiator));
        assert_eq!((side.holes[0].at, side.holes[0].depth), ([mm(middle); 2], None));
        assert_eq!(side.edge.len(), 4);
    }
    // A single one sits in the left side.
    spec.form = radiators(1, 160.0, RadiatorPlace::Sides);
    let one = planned(&spec);
    assert_eq!(board(&one, PartId::Left).holes.len(), 1);
    assert!(board(&one, PartId::Right).holes.is_empty());
    // Its side weighs as much less as its hole, 740 kg/m³, and the box's middle moves to the right of 450 mm.
    spec.form = Form::Plain;
    let [with, without] = [&one, &planned(&spec)].map(|plan| weight(&spec, &plan.exact.assembly, None));
    let hole = cylinder(160.0, 18.0) * 0.740;
    assert_near(without.wood.kilograms() - with.wood.kilograms(), hole, 1e-9);
    let moved = (without.wood.kilograms() * without.centre_mm[1] - hole * 9.0) / with.wood.kilograms();
    assert_near(with.centre_mm[1], moved, 1e-6);
    let lower = (without.wood.kilograms() * without.centre_mm[2] - hole * middle) / with.wood.kilograms();
    assert_near(with.centre_mm[2], lower, 1e-6);
}

// An L: 18 to 382 deep below 132, 18 to 212 deep above it. Before the corner at (212, 132) the circle that touches front
// and floor has (194 − r)² + (114 − r)² = r², r = 308 − √(308² − 50 632) = 97.69; between front and riser there are 97.
#[test]
fn a_radiator_beside_a_step() {
    let mut spec = step(End::High);
    spec.form = radiators(2, 150.0, RadiatorPlace::Sides);
    let plan = planned(&spec);
    let radius = 308.0 - (308.0_f64 * 308.0 - 50_632.0).sqrt();
    let middle = (18.0 + radius).round();
    let at = plan.exact.assembly.layout.others[0];
    assert_eq!([at.depth, at.height], [mm(middle); 2]);
    let corner = (212.0 - middle).hypot(132.0 - middle);
    assert_near(gap_to_wall(&plan), corner.min(middle - 18.0) - 75.0, 1e-3);
    // A shape without a corner that juts in: in the middle of the stretch in which it has as much room.
    let mut upright = shaped([600.0, 340.0, 700.0], 0.0, Back::Upright);
    upright.form = radiators(1, 200.0, RadiatorPlace::Sides);
    let at = planned(&upright).exact.assembly.layout.others[0];
    assert_eq!([at.depth, at.height], [mm(350.0), mm(170.0)]);
    // As large as the room asks for, and larger: that is told.
    spec.form = radiators(2, 230.0, RadiatorPlace::Sides);
    let tight = planned(&spec);
    let fails = tight.facts.iter().filter(|fact| fact.verdict() == Verdict::Fails);
    assert!(fails.clone().any(|fact| matches!(fact, Fact::RadiatorToWall { .. })), "{:?}", tight.facts);
}

// Square to a leaning front: the hole is as long as the front is thick, the body as far from the back as a plane is that
// leans away from it by the front's angle.
#[test]
fn a_radiator_in_a_leaning_front() {
    let mut spec = shaped([700.0, 380.0, 420.0], 120.0, Back::Upright);
    spec.front_layers = 2;
    spec.driver = Some(driver());
    spec.form = radiators(1, 200.0, RadiatorPlace::Front);
    let plan = planned(&spec);
    let lean = (120.0_f64 / 380.0).atan();
    let body = |kind| *plan.exact.assembly.bodies.iter().find(|body| body.kind == kind).expect("a body");
    for kind in [BodyKind::RadiatorHole(0), BodyKind::Radiator(0), BodyKind::DriverHole(0)] {
        assert_near(body(kind).turn.expect("turned").lean, lean, 1e-9);
    }
    let gross = plan.exact.ledger.gross.litres();
    let net = gross + cylinder(200.0, 36.0) - 0.9 + cylinder(180.0, 36.0) - 1.6;
    assert_near(plan.net().litres(), net, 1e-9);
    let front = board(&plan, PartId::Front(0));
    assert_eq!(front.holes.iter().filter(|hole| hole.use_ == HoleUse::Radiator).count(), 1);
    // The upper edge of the rim stands nearest to the upright back, 402 mm deep: 36 and 24 mm square to the front from a
    // point `up` along its slope.
    let up = plan.exact.assembly.layout.others[0].height.millimetres();
    let near = 402.0 - (60.0 * lean.cos() + (up + 100.0) * lean.sin());
    let gap = plan.facts.iter().find_map(|fact| match fact {
        Fact::RadiatorBehind { gap } => Some(gap.millimetres()),
        _ => None,
    });
    assert_near(gap.expect("a gap"), near, 2e-3);
    assert!(plan.facts.iter().any(|fact| matches!(fact, Fact::RadiatorToFlange { .. })));
    assert!(plan.facts.iter().all(|fact| fact.verdict() == Verdict::Fine), "{:?}", plan.facts);
}

fn tubes(count: u8, length: f64) -> ChamberPort {
    ChamberPort::Tubes(ChamberTubes { count, diameter: mm(90.0), wall: mm(3.0), length: mm(length) })
}

fn tube(length: f64) -> Port {
    let (diameter, wall) = (mm(70.0), mm(3.0));
    Port::Round(RoundPort { count: 1, diameter, wall, length: mm(length), centres: Vec::new() })
}

fn divided(mut spec: BoxSpec, room: f64, port: ChamberPort, inward: bool) -> BoxSpec {
    spec.driver = Some(driver());
    spec.form = Form::Divided(Divider { room: mm(room), port, inward });
    spec
}

/// Section of the wedge's inside: 324 × ((340 + 200)/2 − 18 − 18/cosθ), geometry.md section 2; of its outside.
fn wedge_section() -> [f64; 2] {
    let lean = (140.0_f64 / 360.0).atan();
    [324.0 * (270.0 - 18.0 - 18.0 / lean.cos()), 270.0 * 360.0]
}

// Fourth and sixth order in the wedge: each room is the section times its width, 250 mm before the 18 mm divider and
// 864 − 268 = 596 mm behind it.
#[test]
fn a_divided_wedge_by_hand() {
    let [inside, outside] = wedge_section();
    for (port, inward) in [(Port::None, false), (tube(110.0), false), (tube(110.0), true)] {
        let mut spec = divided(wedge(), 250.0, tubes(1, 130.0), inward);
        spec.port = port.clone();
        let plan = planned(&spec);
        let build = &plan.exact;
        let front = build.front_room.as_ref().expect("a room before the drivers");
        assert_near(front.gross.litres(), 250.0 * inside * 1e-6, 1e-6);
        assert_near(front.net.litres(), 250.0 * inside * 1e-6 - cylinder(96.0, 112.0), 1e-6);
        let has_port = f64::from(u8::from(port != Port::None));
        let behind = 596.0 * inside * 1e-6 + cylinder(180.0, 18.0) - 1.6 - has_port * cylinder(76.0, 92.0);
        assert_near(plan.net().litres(), behind, 1e-6);
        // 740 kg/m³ times both sides, the ring of boards between them and the divider, less the holes.
        let boards = 2.0 * 18.0 * outside + 864.0 * (outside - inside) + 18.0 * inside;
        let holes = cylinder(96.0, 18.0) + cylinder(180.0, 18.0) + has_port * cylinder(76.0, 18.0);
        assert_near(plan.board_mass(&spec).kilograms(), (boards * 1e-6 - holes) * 0.740, 1e-6);
        // The divider is the inside's section: as deep as the floor, its edge by the template.
        let lean = (140.0_f64 / 360.0).atan();
        let part = plan.parts.iter().find(|part| part.name == PartName::Divider).expect("a divider");
        assert!(part.shaped && part.bevels.is_empty());
        assert_near(part.length.exact.millimetres(), 324.0, 1e-3);
        assert_near(part.width.exact.millimetres(), 322.0 - 18.0 * lean.tan() - 18.0 / lean.cos(), 1e-3);
        let divider = board(&plan, PartId::Divider);
        assert_eq!(divider.edge.len(), 4);
        let uses: Vec<_> = divider.holes.iter().map(|hole| hole.use_).collect();
        assert_eq!(uses, if inward { vec![HoleUse::Driver, HoleUse::Port] } else { vec![HoleUse::Driver] });
        let mouths = board(&plan, PartId::Front(0)).holes;
        assert_eq!(mouths.len(), if port == Port::None || inward { 1 } else { 2 });
        assert!(mouths.iter().all(|hole| hole.use_ == HoleUse::Port));
        assert!(plan.facts.contains(&Fact::MagnetToSide { gap: mm(596.0 - 92.0) }), "{:?}", plan.facts);
        // The tube sits half way up, where it ends before the back by its upper edge at 228 mm.
        let free = 340.0 - 228.0 * lean.tan() - 18.0 / lean.cos() - 130.0;
        let fact = Fact::PortToBack { gap: mm(free), wanted: mm(90.0) };
        assert!(plan.facts.contains(&fact), "{fact:?} {:?}", plan.facts);
        if inward {
            assert!(plan.facts.contains(&Fact::PortToBack { gap: mm(596.0 - 92.0), wanted: mm(70.0) }));
        } else {
            // The driver sits where a circle has most room in the section.
            let at = build.assembly.layout.drivers[0];
            let (sin, cos) = lean.sin_cos();
            let radius = (322.0 - 18.0 / cos - 18.0 * lean.tan()) * cos / (1.0 + cos + sin);
            assert_eq!(
                [at.depth, at.width, at.height],
                [mm((18.0 + radius).round()), mm(268.0), mm((18.0 + radius).round())]
            );
        }
        assert!(plan.facts.iter().all(|fact| fact.verdict() == Verdict::Fine), "{:?}", plan.facts);
    }
}

// A slot on the floor of either room takes (h + t) × width × length behind the front (geometry.md section 5).
#[test]
fn slots_of_a_divided_wedge_by_hand() {
    let [inside, _] = wedge_section();
    let slot = ChamberSlot { height: mm(30.0), length: mm(138.0) };
    let mut spec = divided(wedge(), 250.0, ChamberPort::Slot(slot), false);
    if let Some(driver) = &mut spec.driver {
        (driver.flange, driver.cutout) = (mm(180.0), mm(160.0));
    }
    spec.port =
        Port::Slot(SlotPort { height: mm(24.0), length: mm(158.0), width: SlotWidth::Full, bends: 0 });
    let plan = planned(&spec);
    let front = plan.exact.front_room.as_ref().expect("a room before the drivers");
    assert_near(front.net.litres(), (250.0 * inside - 48.0 * 250.0 * 120.0) * 1e-6, 1e-6);
    let behind = (596.0 * inside - 42.0 * 596.0 * 140.0) * 1e-6 + cylinder(160.0, 18.0) - 1.6;
    assert_near(plan.net().litres(), behind, 1e-6);
    // Above the higher roof, 66 mm up, the circle touches the front, the back and that roof.
    let lean = (140.0_f64 / 360.0).atan();
    let (sin, cos) = lean.sin_cos();
    let radius = (322.0 - 18.0 / cos - 66.0 * lean.tan()) * cos / (1.0 + cos + sin);
    let at = plan.exact.assembly.layout.drivers[0];
    assert_eq!([at.depth, at.height], [mm((18.0 + radius).round()), mm((66.0 + radius).round())]);
    assert!(plan.facts.iter().all(|fact| fact.verdict() == Verdict::Fine), "{:?}", plan.facts);
    // Strips along the floors are left out and told; what leans forward can have no slot.
    let edges = InsideEdge::all().into_iter().filter(|edge| edge.along != Axis::Width).collect();
    let (face, measured, voids) = (mm(40.0), MeasuredStripFace::Wide, StripVoids::Sealed);
    spec.strips = Some(CornerStrips { edges, face, measured, length: None, voids });
    let stripped = planned(&spec);
    assert!(stripped.facts.contains(&Fact::StripsInSlot { count: 2 }), "{:?}", stripped.facts);
    assert!(
        !stripped.facts.iter().any(|fact| matches!(fact, Fact::StripsLeftOut { .. })),
        "{:?}",
        stripped.facts
    );
    let leaning =
        divided(shaped([700.0, 380.0, 420.0], 60.0, Back::Upright), 200.0, ChamberPort::Slot(slot), false);
    let error = plan_error(&leaning);
    assert!(error.contains("upright front"), "{error}");
}

fn plan_error(spec: &BoxSpec) -> String {
    plan(spec, &AsBuilt::new()).expect_err("refused").to_string()
}

// A leaning front carries the tubes of both rooms square to it, the divider stands upright in the parallelogram.
#[test]
fn a_divided_box_with_a_leaning_front() {
    let mut spec =
        divided(shaped([800.0, 380.0, 420.0], 100.0, Back::Upright), 220.0, tubes(2, 110.0), false);
    spec.port = tube(120.0);
    let plan = planned(&spec);
    let lean = (100.0_f64 / 380.0).atan();
    let bodies = &plan.exact.assembly.bodies;
    let tubes = bodies.iter().filter(|body| matches!(body.kind, BodyKind::PortTube(_)));
    assert_eq!(tubes.clone().count(), 3);
    for body in tubes {
        assert_near(body.turn.expect("turned").lean, lean, 1e-9);
    }
    // Depth at a height z: 420 − 18 less z tanθ + 18/cosθ before it, from 18 to 362.
    let deep = |z: f64| 402.0 - z * lean.tan() - 18.0 / lean.cos();
    let inside = 344.0 * (deep(18.0) + deep(362.0)) / 2.0;
    let front = plan.exact.front_room.as_ref().expect("a room before the drivers");
    assert_near(front.net.litres(), 220.0 * inside * 1e-6 - 2.0 * cylinder(96.0, 92.0), 1e-6);
    let behind = (764.0 - 238.0) * inside * 1e-6 + cylinder(180.0, 18.0) - 1.6 - cylinder(76.0, 102.0);
    assert_near(plan.net().litres(), behind, 1e-6);
    assert!(plan.facts.iter().all(|fact| fact.verdict() == Verdict::Fine), "{:?}", plan.facts);
}

// A circle that comes near to the corner of a step takes nothing from the boards of the step, though the block around it
// reaches into them: all wood is that of the sides, the ring of boards between them and the divider, less three holes.
#[test]
fn the_divider_beside_a_step_weighs_what_it_is() {
    for shallow in [End::High, End::Low] {
        let mut spec = divided(step(shallow), 200.0, tubes(1, 100.0), false);
        if let Some(driver) = &mut spec.driver {
            (driver.flange, driver.cutout, driver.magnet) = (mm(190.0), mm(186.0), mm(90.0));
        }
        let plan = planned(&spec);
        let [outside, inside] = match shallow {
            End::High => [400.0 * 150.0 + 230.0 * 230.0, 364.0 * 114.0 + 194.0 * 230.0],
            End::Low => [230.0 * 150.0 + 400.0 * 230.0, 194.0 * 150.0 + 364.0 * 194.0],
        };
        let boards = 36.0 * outside + 564.0 * (outside - inside) + 18.0 * inside;
        let holes = cylinder(96.0, 18.0) + cylinder(186.0, 18.0);
        assert_near(plan.board_mass(&spec).kilograms(), (boards * 1e-6 - holes) * 0.740, 1e-6);
    }
}

// Terminals go into the middle of what the divider leaves of the back.
#[test]
fn every_shape_is_divided_and_put_together() {
    use kerf_and_coil::model::geometry::{HoleShape, TerminalHole};
    let step = |shallow| Back::Step { height: mm(150.0), depth: mm(270.0), shallow };
    let shapes = [
        (0.0, Back::TopDepth(mm(270.0))),
        (70.0, Back::Upright),
        (50.0, Back::TopDepth(mm(270.0))),
        (0.0, step(End::High)),
        (0.0, step(End::Low)),
    ];
    for (setback, back) in shapes {
        for inward in [false, true] {
            let mut spec =
                divided(shaped([900.0, 380.0, 420.0], setback, back), 240.0, tubes(1, 100.0), inward);
            if let Some(driver) = &mut spec.driver {
                (driver.flange, driver.cutout, driver.magnet) = (mm(150.0), mm(130.0), mm(90.0));
            }
            spec.port = tube(if inward { 60.0 } else { 90.0 });
            spec.terminal = Some(TerminalHole {
                face: kerf_and_coil::model::geometry::edges::BACK,
                window: None,
                shape: HoleShape::Round(mm(50.0)),
                cup_depth: mm(30.0),
                cup_volume: None,
                centre: None,
            });
            let plan = planned(&spec);
            let name = format!("{back:?} {setback} {inward}");
            assert!(
                plan.facts.iter().all(|fact| fact.verdict() == Verdict::Fine),
                "{name}: {:?}",
                plan.facts
            );
            let build = &plan.exact;
            let hole = build
                .assembly
                .bodies
                .iter()
                .find(|body| body.kind == BodyKind::TerminalHole)
                .expect("a hole");
            // From 18 + 240 + 18 to 882.
            assert_near((hole.solid.bounds().min[1] + hole.solid.bounds().max[1]) / 2.0, 579.0, 1e-3);
            let order = build_order(&build.assembly);
            let glued: usize = order.steps.iter().map(|step| step.pieces.len()).sum();
            let pieces: usize = plan.parts.iter().map(|part| part.count()).sum();
            assert_eq!(glued, pieces, "{name}");
            assert!(
                order.steps.iter().skip(1).all(|step| step.from.is_some() && !step.joints.is_empty()),
                "{name}"
            );
        }
    }
}

/// Distance of a point from the nearest edge of a polygon, below zero outside: by its edges as stretches and its winding.
fn room(corners: &[[f64; 2]], [x, y]: [f64; 2]) -> f64 {
    let (mut least, mut winding) = (f64::INFINITY, 0.0_f64);
    for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let share = ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy);
        let share = share.clamp(0.0, 1.0);
        least = least.min((a[0] + share * dx - x).hypot(a[1] + share * dy - y));
        let (from, to) = ([a[0] - x, a[1] - y], [b[0] - x, b[1] - y]);
        winding += (from[0] * to[1] - from[1] * to[0]).atan2(from[0] * to[0] + from[1] * to[1]);
    }
    if winding.abs() > 1.0 { least } else { -least }
}

fn room_of(corners: &[[f64; 2]], at: &Dims) -> f64 {
    room(corners, [at.depth.millimetres(), at.height.millimetres()])
}

fn hollow(plan: &Plan) -> Vec<[f64; 2]> {
    match plan.exact.assembly.hollow {
        Some(Solid::Prism { section, .. }) => section.corners().to_vec(),
        _ => panic!("no section"),
    }
}

fn any_profile() -> impl Strategy<Value = BoxSpec> {
    let size = (300.0..700.0_f64, 200.0..600.0_f64, 0.0..120.0_f64);
    (size, 0..4_u8, 0.25..0.9_f64, 0.2..0.8_f64).prop_map(|((height, depth, setback), kind, share, level)| {
        let less = mm((depth - setback) * share);
        let step = |shallow| Back::Step { height: mm(height * level), depth: mm(depth * share), shallow };
        let (setback, back) = match kind {
            0 => (setback, Back::Upright),
            1 => (setback, Back::TopDepth(less)),
            2 => (0.0, step(End::High)),
            _ => (0.0, step(End::Low)),
        };
        shaped([600.0, height, depth], setback, back)
    })
}

proptest! {
    // Nowhere on a fine grid over the section has a circle more room than where the radiator sits, which is within the
    // rounding of its middle to whole millimetres.
    #[test]
    fn no_place_in_a_side_has_more_room(mut spec in any_profile()) {
        spec.form = radiators(1, 40.0, RadiatorPlace::Sides);
        let Ok(plan) = plan(&spec, &AsBuilt::new()) else { return Ok(()) };
        let corners = hollow(&plan);
        let at = plan.exact.assembly.layout.others[0];
        let found = room(&corners, [at.depth.millimetres(), at.height.millimetres()]);
        for x in (0..700).step_by(4) {
            for y in (0..700).step_by(4) {
                let there = room(&corners, [f64::from(x), f64::from(y)]);
                prop_assert!(there < found + 0.708, "{x} {y} {there} {found} {corners:?}");
            }
        }
        prop_assert!((gap_to_wall(&plan) - (found - 20.0)).abs() < 1e-3);
    }

    // Wood, both rooms and what is taken from them add up to the outside, whatever the shape.
    #[test]
    fn rooms_and_wood_of_a_shape_add_up(spec in any_profile(), room in 60.0..300.0_f64, port in 0..3_u8, count in 1..4_u8) {
        let mut spec = divided(spec, room, tubes(1, 60.0), port == 2);
        if let Some(driver) = &mut spec.driver {
            driver.count = count;
            (driver.flange, driver.cutout, driver.magnet) = (mm(80.0), mm(70.0), mm(50.0));
        }
        if port > 0 {
            spec.port = tube(50.0);
        }
        let Ok(plan) = plan(&spec, &AsBuilt::new()) else { return Ok(()) };
        let build = &plan.exact;
        let section = |part: PartId| match build.assembly.bodies.iter().find(|b| b.kind == BodyKind::Board(part)).map(|b| b.solid) {
            Some(Solid::Prism { section, .. }) => section.corners().to_vec(),
            _ => panic!("a section"),
        };
        let area = |line: &[[f64; 2]]| {
            let next = line.iter().cycle().skip(1);
            line.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>() / 2.0
        };
        let outside = area(&section(PartId::Left)) * 600.0 * 1e-6;
        let wood: f64 = build.assembly.with_role(Role::Shell).map(|body| body.solid.volume().litres()).sum();
        let front = build.front_room.as_ref().expect("a room before the drivers");
        prop_assert!((outside - wood - front.gross.litres() - build.ledger.gross.litres()).abs() < 2e-6 * outside);
        let inside = area(&hollow(&plan)) * 1e-6;
        prop_assert!((front.net.litres() - inside * room - -cylinder(96.0, 42.0)).abs() < 1e-3);
        let own = f64::from(count) * (cylinder(70.0, 18.0) - 1.6) - if port > 0 { cylinder(76.0, 32.0) } else { 0.0 };
        prop_assert!((plan.net().litres() - inside * (546.0 - room) - own).abs() < 1e-3);
        // Whatever fails is told: a flange over the edge of the divider's polygon, worked out here.
        let corners = hollow(&plan);
        for (number, at) in (0u8..).zip(&build.assembly.layout.drivers) {
            let gap = room_of(&corners, at) - 40.0;
            let told = plan.facts.iter().find_map(|fact| match fact {
                Fact::FlangeToEdge { driver, gap, .. } if *driver == number => Some(gap.millimetres()),
                _ => None,
            });
            prop_assert!((told.expect("a gap") - gap).abs() < 1e-3);
        }
    }
}
