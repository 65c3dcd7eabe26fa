//! `data/woodworking/geometry_cases.json`: volumes to 1e-6 relative (its own advice: 1e-5), lengths to 0.01 mm.
use kerf_and_coil::model::geometry::edges::{BACK, Owners};
use kerf_and_coil::model::geometry::{
    AsBuilt, Axis, Board, BoxSpec, Build, CornerStrips, Dimension, Dims, DriverCutout, Fact, HoleShape,
    InsideEdge, LedgerItem, MeasuredStripFace, Pair, PartId, Plan, Port, Precedence, Recess, RoundPort,
    SlotPort, SlotWidth, StripVoids, TerminalHole, Window, WindowBrace, plan, strips,
};
use kerf_and_coil::units::{ExactLength, Volume};
use serde_json::Value;

use super::mm;
use crate::assert_near;

const CASES: &str = include_str!("../data/woodworking/geometry_cases.json");

fn cases(kind: &str) -> Vec<Value> {
    let all: Value = serde_json::from_str(CASES).expect("the cases are JSON");
    let of_kind: Vec<Value> = all["cases"]
        .as_array()
        .expect("a list of cases")
        .iter()
        .filter(|case| case["kind"] == kind)
        .cloned()
        .collect();
    assert!(!of_kind.is_empty(), "no case of kind {kind}");
    of_kind
}

#[track_caller]
fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

#[track_caller]
fn length(value: &Value) -> ExactLength {
    mm(number(value))
}

/// Relative 1e-6; the cases themselves advise 1e-5, being given to six decimals of a litre or better.
#[track_caller]
fn assert_litres(actual: Volume, expected: &Value) {
    let expected = number(expected);
    assert_near(actual.litres(), expected, 1e-6 * expected.abs().max(0.5));
}

#[track_caller]
fn assert_mm(actual: ExactLength, expected: &Value) {
    assert_near(actual.millimetres(), number(expected), 0.01);
}

fn external(input: &Value) -> BoxSpec {
    let outside = &input["external_mm"];
    let outside = Dims {
        width: length(&outside["width"]),
        height: length(&outside["height"]),
        depth: length(&outside["depth"]),
    };
    let mut spec = BoxSpec::plain(outside, Board::mdf(length(&input["thickness"])));
    spec.tape_step = ExactLength::ZERO;
    spec.front_layers = input["front_layers"].as_u64().unwrap_or(1) as u8;
    spec
}

/// A box of this inside, so that a case that starts from the inside can be built.
fn around(input: &Value) -> BoxSpec {
    let t = length(&input["strip_thickness"]);
    let outside = Dims {
        width: length(&input["internal_mm"]["width"]) + t * 2,
        height: length(&input["internal_mm"]["height"]) + t * 2,
        depth: length(&input["internal_mm"]["depth"]) + t * 2,
    };
    let mut spec = BoxSpec::plain(outside, Board::mdf(t));
    spec.tape_step = ExactLength::ZERO;
    spec
}

#[track_caller]
fn planned(spec: &BoxSpec) -> Plan {
    plan(spec, &AsBuilt::new()).expect("the case can be built")
}

fn size(build: &Build, id: PartId, axis: Axis) -> ExactLength {
    build.sizes.get(id, Dimension::from(axis))
}

#[test]
fn rectangular_boxes() {
    for case in cases("rect_box") {
        let (input, expected) = (&case["input"], &case["expected"]);
        let mut spec = external(input);
        let order = input["precedence"].as_array().expect("an order");
        let pair = |value: &Value| match value.as_str() {
            Some("sides") => Pair::Sides,
            Some("topbottom") => Pair::TopBottom,
            _ => Pair::FrontBack,
        };
        spec.owners = Owners::by(
            Precedence::new([pair(&order[0]), pair(&order[1]), pair(&order[2])]).expect("three pairs"),
        );
        let plan = planned(&spec);
        let build = plan.current();
        assert_litres(build.ledger.net, &expected["net_litres"]);
        let inside = build.assembly.inside;
        let wanted = &expected["internal_mm"];
        assert_mm(inside.width, &wanted[0]);
        assert_mm(inside.height, &wanted[1]);
        assert_mm(inside.depth, &wanted[2]);
        for id in [PartId::Left, PartId::Right] {
            assert_mm(size(build, id, Axis::Height), &expected["sides_panel_mm"]["height"]);
            assert_mm(size(build, id, Axis::Depth), &expected["sides_panel_mm"]["depth"]);
        }
        for id in [PartId::Top, PartId::Bottom] {
            assert_mm(size(build, id, Axis::Width), &expected["topbottom_panel_mm"]["width"]);
            assert_mm(size(build, id, Axis::Depth), &expected["topbottom_panel_mm"]["depth"]);
        }
        for id in [PartId::Front(0), PartId::Front(spec.front_layers - 1), PartId::Back] {
            assert_mm(size(build, id, Axis::Width), &expected["frontback_panel_mm"]["width"]);
            assert_mm(size(build, id, Axis::Height), &expected["frontback_panel_mm"]["height"]);
        }
        // The solid model's volume of all boards, from the sizes of the cut list and from the placed solids.
        let boards = number(&case["verified"]["board_volume_mm3"]["solid_model"]);
        let from_list: f64 = plan
            .parts
            .iter()
            .map(|p| {
                p.count() as f64
                    * p.length.planned.millimetres()
                    * p.width.planned.millimetres()
                    * p.thickness.millimetres()
            })
            .sum();
        assert_near(from_list, boards, 1e-6 * boards);
        // 740 kg/m³ is the handbook's proposal for MDF.
        assert_near(plan.board_mass(&spec).kilograms(), boards * 1e-9 * 740.0, 1e-6);
    }
}

/// 4.513809 litres and 150 mm deep in the reference: two frusta, added up in the test as geometry.md section 4 says.
fn frusta(input: &Value) -> (Volume, ExactLength) {
    let mut litres = 0.0;
    let mut depth = 0.0;
    for piece in input["driver_frusta_from_flange_mm"].as_array().expect("frusta") {
        let (from, to) = (number(&piece["from_"]), number(&piece["to"]));
        let (d1, d2) = (number(&piece["d_from"]), number(&piece["d_to"]));
        litres += std::f64::consts::PI * (to - from) * (d1 * d1 + d1 * d2 + d2 * d2) / 12.0 * 1e-6;
        depth = to;
    }
    (Volume::from_litres(litres), mm(depth))
}

#[test]
fn driver_in_a_double_baffle() {
    for case in cases("driver_in_double_baffle") {
        let (input, expected) = (&case["input"], &case["expected"]);
        let mut spec = external(input);
        let (displacement, depth) = frusta(input);
        let recess = length(&input["recess_diameter"]);
        spec.driver = Some(DriverCutout {
            count: 1,
            cutout: length(&input["cutout_diameter"]),
            flange: recess - mm(4.0),
            depth,
            magnet: mm(156.0),
            displacement,
            pole_vent: None,
            // One whole layer, which is the case's 18 mm.
            recess: Some(Recess { depth: None, clearance: mm(4.0) }),
            centres: Vec::new(),
            elsewhere: Vec::new(),
        });
        assert_eq!(spec.recess_depth(), length(&input["recess_depth"]));
        let plan = planned(&spec);
        let ledger = &plan.current().ledger;
        assert_litres(ledger.gross, &expected["internal_litres"]);
        assert_litres(ledger.volume(LedgerItem::DriverHoles), &expected["cutout_air_litres"]);
        assert_litres(ledger.volume(LedgerItem::Drivers) * -1.0, &expected["driver_body_litres"]);
        assert_litres(ledger.net, &expected["net_litres"]);
        let past_the_inner_face = number(&expected["protrusion_behind_inner_face_mm"]);
        let inside = plan.current().assembly.inside.depth.millimetres();
        assert!(plan.facts.contains(&Fact::MagnetToBack { gap: mm(inside - past_the_inner_face) }));
    }
}

#[test]
fn upright_corner_strips() {
    for case in cases("cleats_vertical") {
        let (input, expected) = (&case["input"], &case["expected"]);
        let mut spec = around(input);
        assert_eq!(input["count"], 4);
        assert_eq!(input["length"], input["internal_mm"]["height"]);
        let strips = |voids, face, measured| CornerStrips {
            edges: InsideEdge::vertical().to_vec(),
            face,
            measured,
            length: None,
            voids,
        };
        let face = length(&input["strip_face_width"]);
        spec.strips = Some(strips(StripVoids::Sealed, face, MeasuredStripFace::Wide));
        let sealed = planned(&spec);
        let ledger = &sealed.current().ledger;
        assert_litres(ledger.net, &expected["net_litres_voids_sealed"]);
        assert_litres(ledger.volume(LedgerItem::CornerStrips) * -1.0, &expected["closed_off_litres"]);
        spec.strips = Some(strips(StripVoids::Open, face, MeasuredStripFace::Wide));
        let open = planned(&spec);
        let ledger = &open.current().ledger;
        assert_litres(ledger.net, &expected["net_litres_voids_open"]);
        let wood = ledger.volume(LedgerItem::CornerStrips) + ledger.volume(LedgerItem::StripVoids);
        assert_litres(wood * -1.0, &expected["strips_only_litres"]);
        // The same strips measured on the hidden face.
        let narrow = length(&expected["narrow_face_mm"]);
        if narrow > ExactLength::ZERO {
            spec.strips = Some(strips(StripVoids::Sealed, narrow, MeasuredStripFace::Narrow));
            assert_eq!(planned(&spec).net(), sealed.net());
        }
        // Wood of the strips in the mass: t(w − t) each, the shell's own taken off.
        spec.strips = None;
        let shell = planned(&spec).board_mass(&spec).kilograms();
        let strips_kg = number(&expected["strips_only_litres"]) * 1e-3 * 740.0;
        assert_near(sealed.board_mass(&spec).kilograms() - shell, strips_kg, 1e-5);
    }
}

#[test]
fn strips_in_all_twelve_edges() {
    for case in cases("cleats_all_twelve_edges") {
        let (input, expected) = (&case["input"], &case["expected"]);
        let mut spec = around(input);
        spec.strips = Some(CornerStrips {
            edges: InsideEdge::all(),
            face: length(&input["strip_face_width"]),
            measured: MeasuredStripFace::Wide,
            length: None,
            voids: StripVoids::Sealed,
        });
        let plan = planned(&spec);
        let ledger = &plan.current().ledger;
        assert_litres(ledger.net, &expected["net_litres_voids_sealed"]);
        let closed = ledger.volume(LedgerItem::CornerStrips) + ledger.volume(LedgerItem::StripCorners);
        assert_litres(closed * -1.0, &expected["closed_off_litres"]);
        assert!(plan.parts.iter().any(|part| part.length.mitred), "the strips are mitred into each other");
    }
}

#[test]
fn ripping_corner_strips() {
    for case in cases("cleat_rip_nesting") {
        let (input, expected) = (&case["input"], &case["expected"]);
        let count = input["count"].as_u64().expect("a count") as usize;
        let [face, thickness, kerf] =
            ["strip_face_width", "thickness", "kerf"].map(|name| length(&input[name]));
        let blank = strips::blank_width(count, face, thickness, kerf);
        assert_mm(blank, &expected["blank_width_mm"]);
        let one_more = strips::blank_width(count + 1, face, thickness, kerf);
        assert_mm(one_more - blank, &expected["pitch_mm"]);
    }
}

#[test]
fn round_ports() {
    for case in cases("round_port") {
        let (input, expected) = (&case["input"], &case["expected"]);
        let mut spec = external(input);
        spec.port = Port::Round(RoundPort {
            count: 1,
            diameter: length(&input["port_inner_diameter"]),
            wall: length(&input["port_wall"]),
            length: length(&input["port_length"]),
            centres: Vec::new(),
        });
        let plan = planned(&spec);
        let ledger = &plan.current().ledger;
        assert_litres(ledger.net, &expected["net_litres"]);
        let taken = ledger.volume(LedgerItem::PortAir) + ledger.volume(LedgerItem::PortWalls);
        assert_litres(taken * -1.0, &expected["displacement_litres"]);
        let port = plan.current().assembly.port.expect("a port");
        assert_mm(port.inside_length, &expected["length_inside_box_mm"]);
        assert_mm(port.to_back, &expected["clearance_to_back_mm"]);
        let air = ledger.volume(LedgerItem::PortAir).litres() * -1e4;
        let area_cm2 = air / port.inside_length.millimetres();
        assert_near(area_cm2, number(&expected["port_area_cm2"]), 1e-4);
        assert_near(port.area().square_centimetres(), number(&expected["port_area_cm2"]), 1e-4);
    }
}

#[test]
fn straight_slots() {
    for case in cases("slot_port_straight") {
        let (input, expected) = (&case["input"], &case["expected"]);
        let mut spec = external(input);
        let width = length(&input["slot_width"]);
        let walls = input["added_side_walls"].as_u64();
        spec.port = Port::Slot(SlotPort {
            height: length(&input["slot_height"]),
            length: length(&input["port_length"]),
            width: match walls {
                Some(0) => SlotWidth::Full,
                Some(1) => SlotWidth::AgainstSide(width),
                _ => SlotWidth::FreeStanding(width),
            },
            bends: 0,
        });
        let plan = planned(&spec);
        let build = plan.current();
        assert_litres(build.ledger.net, &expected["net_litres"]);
        let taken = build.ledger.volume(LedgerItem::PortAir) + build.ledger.volume(LedgerItem::PortWalls);
        assert_litres(taken * -1.0, &expected["displacement_litres"]);
        let port = build.assembly.port.expect("a port");
        assert_eq!(port.width, width);
        assert_near(port.area().square_centimetres(), number(&expected["port_area_cm2"]), 1e-4);
        assert_mm(port.inside_length, &expected["length_inside_box_mm"]);
        assert_mm(port.to_back, &expected["mouth_gap_to_back_mm"]);
        assert_mm(size(build, PartId::PortRoof, Axis::Width), &expected["roof_panel_mm"]["width"]);
        assert_mm(size(build, PartId::PortRoof, Axis::Depth), &expected["roof_panel_mm"]["length"]);
        let wall = &expected["side_wall_panel_mm"];
        if wall.is_null() {
            assert!(!build.sizes.has(PartId::PortWall(0)));
        } else {
            assert_mm(size(build, PartId::PortWall(0), Axis::Height), &wall["height"]);
            assert_mm(size(build, PartId::PortWall(0), Axis::Depth), &wall["length"]);
            assert!(!build.sizes.has(PartId::PortWall(1)));
        }
    }
}

#[test]
fn brace_and_terminal() {
    for case in cases("brace_and_terminal") {
        let (input, expected) = (&case["input"], &case["expected"]);
        let mut spec = external(input);
        let window = |value: &Value| {
            let [w, h, r] = ["width", "height", "corner_radius"].map(|name| length(&value[name]));
            Window::new(w, h, r)
        };
        spec.braces = vec![WindowBrace {
            count: input["brace_count"].as_u64().expect("a count") as u8,
            across: Axis::Depth,
            window: window(&input["window_mm"]),
        }];
        // geometry.md section 6: cut-out area × thickness gained, cup body from the outside face lost.
        let cup = &input["terminal_cup_body_mm"];
        let [w, h, r, d] =
            ["width", "height", "corner_radius", "depth_from_outside"].map(|name| number(&cup[name]));
        let cup_litres = (w * h - (4.0 - std::f64::consts::PI) * r * r) * d * 1e-6;
        spec.terminal = Some(TerminalHole {
            face: BACK,
            window: None,
            shape: HoleShape::Rectangle(window(&input["terminal_cutout_mm"])),
            cup_depth: mm(d),
            cup_volume: Some(Volume::from_litres(cup_litres)),
            centre: None,
        });
        let plan = planned(&spec);
        let ledger = &plan.current().ledger;
        assert_litres(ledger.volume(LedgerItem::Braces) * -1.0, &expected["brace_litres_each"]);
        assert_litres(ledger.volume(LedgerItem::TerminalHole), &expected["cutout_air_litres"]);
        assert_litres(ledger.volume(LedgerItem::TerminalCup) * -1.0, &expected["cup_litres"]);
        assert_litres(ledger.net, &expected["net_litres"]);
    }
}

/// `combo-1` is a wedge; its bodies other than the shell are the same on a rectangular one.
#[test]
fn bodies_of_the_combined_case() {
    let case = cases("combined_wedge").remove(0);
    let (input, expected) = (&case["input"], &case["expected"]);
    let outside = &input["external_mm"];
    let mut spec = BoxSpec::plain(
        Dims {
            width: length(&outside["width"]),
            height: length(&outside["height"]),
            depth: length(&outside["depth_bottom"]),
        },
        Board::mdf(length(&input["thickness"])),
    );
    spec.front_layers = 2;
    spec.port = Port::Slot(SlotPort {
        height: length(&input["slot_height"]),
        length: length(&input["port_length"]),
        width: SlotWidth::Full,
        bends: 0,
    });
    spec.strips = Some(CornerStrips {
        edges: InsideEdge::vertical()[..2].to_vec(),
        face: length(&input["front_corner_cleat_face_width"]),
        measured: MeasuredStripFace::Wide,
        length: None,
        voids: StripVoids::Sealed,
    });
    let plan = planned(&spec);
    let ledger = &plan.current().ledger;
    let port = ledger.volume(LedgerItem::PortAir) + ledger.volume(LedgerItem::PortWalls);
    assert_litres(port * -1.0, &expected["port_litres"]);
    assert_litres(ledger.volume(LedgerItem::CornerStrips) * -1.0, &expected["cleats_litres"]);
    let strip = PartId::Strip(InsideEdge::vertical()[0]);
    assert_mm(size(plan.current(), strip, Axis::Height), &input["cleat_length"]);
    assert!(!plan.facts.iter().any(|fact| matches!(fact, Fact::Overlap { .. })));
}
