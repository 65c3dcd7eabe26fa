//! Legs from extended sides (geometry.md section 8, case `legs-1`), blocks that take up air, rings for smaller drivers.
use kerf_and_coil::model::geometry::edges::Owners;
use kerf_and_coil::model::geometry::{
    AsBuilt, Axis, Board, BoxSpec, Dimension, Dims, DriverCutout, Face, HoleUse, LegNeed, Legs, Pair, PartId,
    PartName, Plan, Precedence, adapter, insert, legs::tips, outlines, plan, plug, weight,
};
use kerf_and_coil::units::{Area, ExactLength, Length, Volume};
use proptest::prelude::*;
use serde_json::Value;

use super::mm;
use crate::assert_near;

const CASES: &str = include_str!("../data/woodworking/geometry_cases.json");

fn case() -> Value {
    let all: Value = serde_json::from_str(CASES).expect("the cases are JSON");
    let cases = all["cases"].as_array().expect("a list");
    cases.iter().find(|case| case["id"] == "legs-1").expect("the case").clone()
}

fn sides_first() -> Precedence {
    Precedence::new([Pair::Sides, Pair::TopBottom, Pair::FrontBack]).expect("three pairs")
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

/// The case stands on its legs: its height is our depth, its depth our height.
fn legs_1() -> (BoxSpec, Legs) {
    let case = case();
    let input = &case["input"];
    let size = &input["external_box_mm"];
    let outside = Dims {
        width: mm(number(&size["width"])),
        height: mm(number(&size["depth"])),
        depth: mm(number(&size["height"])),
    };
    let mut spec = BoxSpec::plain(outside, Board::mdf(mm(number(&input["thickness"]))));
    spec.tape_step = ExactLength::ZERO;
    spec.owners = Owners::by(sides_first());
    let legs = Legs {
        height: mm(number(&input["leg_height"])),
        window: mm(number(&input["window_width"])),
        corner_radius: mm(number(&input["window_top_corner_radius"])),
        rail: ExactLength::ZERO,
    };
    spec.legs = Some(legs);
    (spec, legs)
}

fn planned(spec: &BoxSpec) -> Plan {
    plan(spec, &AsBuilt::new()).expect("a box")
}

#[test]
fn blank_feet_windows_and_openings_of_the_case() {
    let (spec, legs) = legs_1();
    let case = case();
    let expected = &case["expected"];
    let plan = planned(&spec);
    let build = plan.current();
    for side in [PartId::Left, PartId::Right] {
        let blank = &expected["side_panel_blank_mm"];
        let size = |axis: Axis| build.sizes.get(side, Dimension::from(axis)).millimetres();
        assert_near(size(Axis::Depth), number(&blank["height"]), 1e-6);
        assert_near(size(Axis::Height), number(&blank["depth"]), 1e-6);
    }
    assert_near(legs.foot(spec.outside.height).millimetres(), number(&expected["foot_length_mm"]), 1e-6);
    let window = number(&expected["window_area_cm2"]);
    assert_near(legs.window_mm2() / 100.0, window, 1e-6 * window);
    let openings = number(&expected["total_opening_area_cm2"]);
    let ours = legs.openings(build.assembly.inside.width).square_metres() * 1e4;
    assert_near(ours, openings, 1e-6 * openings);
    // What is left of a side weighs what its solid in the reference does.
    let area = number(&case["verified"]["side_panel_area_mm2"]["solid_model"]);
    let sides = weight(&spec, &build.assembly, None);
    let sides = sides.parts.iter().find(|part| part.name == PartName::Side).expect("sides");
    let thick = number(&case["input"]["thickness"]);
    assert_near(sides.mass.kilograms(), 2.0 * area * thick * 1e-9 * 740.0, 1e-6);
    // The air is that of the box without legs.
    let plain = planned(&BoxSpec { legs: None, ..spec });
    assert_near(plan.net().litres(), plain.net().litres(), 1e-12);
    assert!(plan.facts.iter().all(|fact| plain.facts.contains(fact)), "{:?}", plan.facts);
}

/// Area within an edge: the shoelace formula and the segments of its arcs (θ − sin θ) r²/2, θ = 4 atan(bulge).
fn area(edge: &[([f64; 2], f64)]) -> f64 {
    let mut sum = 0.0;
    for (number, (from, bulge)) in edge.iter().enumerate() {
        let (to, _) = edge[(number + 1) % edge.len()];
        sum += (from[0] * to[1] - to[0] * from[1]) / 2.0;
        if *bulge != 0.0 {
            let angle = 4.0 * bulge.atan();
            let radius = (to[0] - from[0]).hypot(to[1] - from[1]) / 2.0 / (angle / 2.0).sin();
            sum += radius * radius * (angle - angle.sin()) / 2.0;
        }
    }
    sum
}

#[test]
fn the_edge_of_a_side_is_that_of_the_case() {
    let (mut spec, legs) = legs_1();
    let case = case();
    let expected = number(&case["verified"]["side_panel_area_mm2"]["solid_model"]);
    let side = |spec: &BoxSpec| {
        outlines(planned(spec).current())
            .into_iter()
            .find(|outline| outline.part == PartId::Left)
            .expect("a side")
    };
    assert_near(area(&side(&spec).edge), expected, 1e-6 * expected);
    // Above a rail it is a hole, and the side a rectangle.
    spec.legs = Some(Legs { rail: mm(20.0), corner_radius: mm(25.0), ..legs });
    let railed = side(&spec);
    assert!(railed.edge.is_empty());
    assert!(railed.holes.iter().any(|hole| hole.use_ == HoleUse::Window && hole.at[0] == mm(45.0)));
}

/// Hand calculation beside each value.
#[test]
fn the_height_of_legs_from_what_the_driver_needs() {
    let legs = Legs { height: mm(1.0), window: mm(300.0), corner_radius: mm(30.0), rail: ExactLength::ZERO };
    let need =
        LegNeed::of(Area::from_square_metres(0.05), 1, Some(Length::from_millimetres(20.0)), legs, mm(384.0))
            .expect("a need");
    // d = √(4·0.05/π) = 252.313 mm; a quarter is 63.078.
    assert_near(need.curtain.millimetres(), 63.078, 1e-3);
    // 25 + 1.5·20.
    assert_near(need.travel.millimetres(), 55.0, 1e-9);
    // (50 000 + 2·0.429204·900)/(2·300 + 2·384) = 50 772.57/1368 = 37.1145.
    assert_near(need.openings.millimetres(), 37.1145, 1e-4);
    assert_eq!(need.height(), mm(65.0));
    assert!(LegNeed::of(Area::from_square_metres(f64::NAN), 1, None, legs, mm(384.0)).is_err());
}

#[test]
fn a_cube_tips_at_forty_five_degrees_and_legs_are_not_forgotten() {
    let mut spec = BoxSpec::plain(Dims::of(|_| mm(400.0)), Board::mdf(mm(18.0)));
    spec.tape_step = ExactLength::ZERO;
    let plain = weight(&spec, &planned(&spec).current().assembly, None);
    for (_, degrees) in tips(spec.outside, ExactLength::ZERO, &plain) {
        assert_near(degrees, 45.0, 1e-6);
    }
    // 200 mm legs of nothing: the centre of a cube stands 400 over the floor, 200 from the edge: atan(1/2) = 26.565°.
    let (front, degrees) = tips(spec.outside, mm(200.0), &plain)[0];
    assert_eq!(front, Face::Front);
    assert_near(degrees, 26.565, 1e-3);
}

fn driver() -> DriverCutout {
    DriverCutout {
        count: 1,
        cutout: mm(280.0),
        flange: mm(312.0),
        depth: mm(150.0),
        magnet: mm(180.0),
        displacement: Volume::from_litres(3.0),
        pole_vent: None,
        recess: None,
        centres: Vec::new(),
        elsewhere: Vec::new(),
    }
}

#[test]
fn blocks_take_what_the_target_asks_for_and_go_through_the_hole() {
    let (mut spec, _) = legs_1();
    spec.tape_step = mm(1.0);
    spec.driver = Some(driver());
    let build = planned(&spec);
    let assembly = &build.current().assembly;
    for target in [12.0, 30.0, 40.0, 47.0] {
        let target = Volume::from_litres(target);
        let Ok(found) = insert(&spec, assembly, build.net(), target) else {
            assert!(target.litres() < 13.0, "{target:?}");
            continue;
        };
        let taken =
            found.count() as f64 * found.side.millimetres().powi(2) * found.length.millimetres() * 1e-6;
        assert_near(found.volume.litres(), taken, 1e-9);
        assert_near(found.net.litres(), build.net().litres() - taken, 1e-9);
        // Half a step of length on each block at the most.
        let slack = found.count() as f64 * found.side.millimetres().powi(2) * 0.5e-6 + 1e-9;
        assert!((found.net.litres() - target.litres()).abs() <= slack, "{found:?}");
        assert!(found.side.millimetres() * 2f64.sqrt() < 280.0 && found.length < assembly.inside.depth);
        // The boards of one block fill its outside, or all of it.
        let boards = found.boards(spec.boards.shell.thickness);
        let wood: f64 = boards.iter().map(|(n, l, w)| *n as f64 * l.millimetres() * w.millimetres()).sum();
        let (t, side, length) = (18.0, found.side.millimetres(), found.length.millimetres());
        let hollow = (side - 2.0 * t).max(0.0).powi(2) * (length - 2.0 * t);
        let hollow = if side < 3.0 * t { 0.0 } else { hollow };
        assert_near(wood * t, side * side * length - hollow, 1e-6);
    }
    assert!(insert(&spec, assembly, build.net(), build.net()).is_err());
    let ring = adapter(&spec, mm(230.0), mm(262.0)).expect("a ring");
    assert_eq!(
        (ring.outside, ring.hole, ring.seat, ring.rim, ring.spare),
        (mm(312.0), mm(230.0), mm(16.0), mm(16.0), mm(25.0))
    );
    assert!(adapter(&spec, mm(312.0), mm(330.0)).is_err());
    assert_eq!((plug(mm(100.0)).inner, plug(mm(100.0)).outer), (mm(99.0), mm(140.0)));
}

proptest! {
    #[test]
    fn whatever_legs_are_typed_the_box_is_built_or_refused(
        height in -10.0..3000.0f64, window in -10.0..3000.0f64, radius in -10.0..500.0f64, rail in -10.0..500.0f64,
        target in -1.0..500.0f64, cutout in 0.0..900.0f64, sides in any::<bool>(),
    ) {
        let (mut spec, _) = legs_1();
        spec.tape_step = mm(1.0);
        if !sides { spec.owners = Owners::by(Precedence::default()); }
        spec.driver = Some(DriverCutout { cutout: mm(cutout.min(300.0)), ..driver() });
        spec.legs = Some(Legs { height: mm(height), window: mm(window), corner_radius: mm(radius), rail: mm(rail) });
        if let Ok(plan) = plan(&spec, &AsBuilt::new()) {
            let build = plan.current();
            prop_assert!(plan.board_mass(&spec).kilograms() > 0.0 && plan.net().litres() > 0.0);
            let weight = weight(&spec, &build.assembly, None);
            prop_assert!((weight.wood.kilograms() - plan.board_mass(&spec).kilograms()).abs() < 1e-9);
            prop_assert!(tips(build.assembly.outside, mm(height), &weight).iter().all(|(_, tip)| tip.is_finite()));
            for outline in outlines(build) {
                prop_assert!(outline.edge.is_empty() || area(&outline.edge) > 0.0);
            }
            if let Ok(found) = insert(&spec, &build.assembly, plan.net(), Volume::from_litres(target)) {
                prop_assert!(found.net.litres() > 0.0 && found.volume.litres() > 0.0);
            }
            let _ = adapter(&spec, mm(cutout), mm(window));
        }
    }
}
