//! Slots that bend: lengths along the centre line and volumes by hand, whatever the box.
use kerf_and_coil::model::geometry::edges::{BACK, Owners};
use kerf_and_coil::model::geometry::overlap::overlaps;
use kerf_and_coil::model::geometry::{
    AsBuilt, Axis, Board, BodyKind, BoxSpec, CornerStrips, Dimension, Dims, DriverCutout, Fact, HoleShape,
    InsideEdge, LedgerItem, MeasuredStripFace, PartId, Plan, Port, Precedence, Role, SlotPort, SlotWidth,
    Stock, StripVoids, TerminalHole, Verdict, Window, WindowBrace, plan,
};
use kerf_and_coil::units::{ExactLength, Volume};
use proptest::prelude::*;

use super::mm;

fn slot(height: f64, length: f64, bends: u8) -> Port {
    Port::Slot(SlotPort { height: mm(height), length: mm(length), width: SlotWidth::Full, bends })
}

/// 500 × 400 × 450 outside, board 18, front single: inside 464 × 364 × 414.
fn box_with(port: Port) -> BoxSpec {
    let outside = Dims { width: mm(500.0), height: mm(400.0), depth: mm(450.0) };
    let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
    spec.port = port;
    spec
}

fn planned(spec: &BoxSpec) -> Plan {
    plan(spec, &AsBuilt::new()).expect("a box")
}

fn size(plan: &Plan, id: PartId, axis: Axis) -> f64 {
    plan.current().sizes.get(id, Dimension::from(axis)).millimetres()
}

#[test]
fn a_slot_bends_as_often_as_it_must() {
    // Straight up to 18 + 414; one bend leaves 18 + 414 + 18 + riser.
    let bends =
        |length| planned(&box_with(slot(40.0, length, 2))).current().assembly.port.expect("a port").bends;
    assert_eq!([300.0, 392.0, 500.0, 690.0, 800.0].map(bends), [0, 0, 1, 1, 2]);
    // 18 + 414 + 364 − 40 + board: the upper board is at least as deep as the upright one is thick.
    assert_eq!([772.0, 774.0].map(bends), [1, 2]);
    let refused = |length, bends| plan(&box_with(slot(40.0, length, bends)), &AsBuilt::new()).is_err();
    assert!(refused(500.0, 0) && refused(800.0, 1) && refused(1300.0, 2));
}

#[test]
fn two_bends_by_hand() {
    // Floor leg to the middle of the back leg 414 − 20 + 18, up from the middle of the floor leg to that of the top leg
    // 364 − 40, forward 20 + L: 18 + 394 + 324 + 20 + L = 856 for L = 100.
    let plan = planned(&box_with(slot(40.0, 856.0, 2)));
    assert_eq!(size(&plan, PartId::PortRoof, Axis::Depth), 374.0);
    assert_eq!(size(&plan, PartId::PortRiser, Axis::Height), 364.0 - 2.0 * 58.0);
    assert_eq!(size(&plan, PartId::PortCeiling, Axis::Depth), 100.0);
    let port = plan.current().assembly.port.expect("a port");
    assert_eq!(port.length, mm(856.0));
    // From the end of the upper board to the front: 414 − 40 − 100.
    assert_eq!(port.to_back, mm(274.0));
    let ledger = &plan.current().ledger;
    let air = 464.0 * (414.0 * 40.0 + 40.0 * (364.0 - 80.0) + 140.0 * 40.0) * 1e-6;
    assert!((ledger.volume(LedgerItem::PortAir).litres() + air).abs() < 1e-9);
    let wood = 464.0 * 18.0 * (374.0 + 248.0 + 100.0) * 1e-6;
    assert!((ledger.volume(LedgerItem::PortWalls).litres() + wood).abs() < 1e-9);
}

#[test]
fn a_board_cut_wrong_changes_the_length_that_counts() {
    // By hand: a roof 354 instead of 374 leaves 60 at the bend, where the air is 40/60 as long for its mass:
    // 18 + 414 − 30 + (40 + 18 + 150 − 20)·40/60; with 374 it would be 18 + 414 + 18 + 150.
    let spec = box_with(slot(40.0, 600.0, 1));
    assert_eq!(planned(&spec).current().assembly.port.expect("a port").length, mm(600.0));
    let cut: AsBuilt = [((PartId::PortRoof, Dimension::Depth), mm(354.0))].into();
    let port = plan(&spec, &cut).expect("a box").current().assembly.port.expect("a port");
    assert!((port.length.millimetres() - (402.0 + 188.0 * 40.0 / 60.0)).abs() < 1e-3, "{:?}", port.length);
    // Too long it narrows the bend, which is said; up to the back it is no port.
    let cut = |size| -> AsBuilt { [((PartId::PortRoof, Dimension::Depth), mm(size))].into() };
    let long = plan(&spec, &cut(384.0)).expect("a box");
    let said = Fact::Cover { part: PartId::PortRoof, dimension: Dimension::Depth, over: mm(10.0) };
    assert!(long.facts.contains(&said), "{:?}", long.facts);
    assert!(plan(&spec, &cut(414.0)).is_err());
}

#[test]
fn what_stands_in_the_way_of_a_bent_slot() {
    let mut spec = box_with(slot(40.0, 600.0, 1));
    spec.strips = Some(CornerStrips {
        edges: InsideEdge::all(),
        face: mm(60.0),
        measured: MeasuredStripFace::Wide,
        length: None,
        voids: StripVoids::Sealed,
    });
    spec.terminal = Some(TerminalHole {
        face: BACK,
        window: None,
        shape: HoleShape::Rectangle(Window::new(mm(80.0), mm(60.0), mm(5.0))),
        cup_depth: mm(50.0),
        cup_volume: None,
        centre: None,
    });
    let one = planned(&spec);
    // Two rear uprights and four along the floor go; the riser ends at 208 of 364, so those along the top stay.
    assert!(one.facts.contains(&Fact::StripsInSlot { count: 6 }), "{:?}", one.facts);
    assert!(overlaps(&one.current().assembly).is_empty());
    let hole = one.current().assembly.bodies.iter().find(|body| body.kind == BodyKind::TerminalHole);
    let bounds = hole.expect("a hole").solid.bounds();
    assert_eq!([bounds.min[1], bounds.max[1]], [482.0, 500.0], "in the right side");
    spec.port = slot(40.0, 860.0, 2);
    let two = planned(&spec);
    assert!(two.facts.contains(&Fact::StripsInSlot { count: 9 }), "{:?}", two.facts);
    assert!(overlaps(&two.current().assembly).is_empty());
    // A magnet that reaches the upright board, 356 behind the front's inner face.
    spec.strips = None;
    spec.driver = Some(DriverCutout {
        count: 1,
        cutout: mm(180.0),
        flange: mm(200.0),
        depth: mm(360.0),
        magnet: mm(140.0),
        displacement: Volume::from_litres(2.0),
        pole_vent: None,
        recess: None,
        centres: Vec::new(),
        elsewhere: Vec::new(),
    });
    let gap = |plan: &Plan| {
        plan.facts.iter().find_map(|fact| match fact {
            Fact::MagnetToBack { gap } => Some(*gap),
            _ => None,
        })
    };
    assert_eq!(gap(&planned(&spec)), Some(mm(356.0 - 342.0)));
    // Above a short upright board it has the depth to the back.
    spec.port = slot(40.0, 470.0, 1);
    assert_eq!(gap(&planned(&spec)), Some(mm(414.0 - 342.0)));
}

fn tenth(range: std::ops::Range<i64>) -> impl Strategy<Value = ExactLength> {
    range.prop_map(|n| ExactLength::from_hundredths_mm(n * 10))
}

/// Boxes with a slot that may bend, and what has to keep out of its way.
fn boxes() -> impl Strategy<Value = BoxSpec> {
    let outside = (tenth(3000..9000), tenth(3000..7000), tenth(2500..8000));
    let board = (tenth(90..260), 1..=2_u8, 0..6_usize, 0..4_usize);
    let port = (tenth(200..700), tenth(2000..16000), 1..=2_u8);
    (outside, board, port, any::<(bool, bool, bool)>()).prop_map(
        |(
            (width, height, depth),
            (t, layers, order, step),
            (high, length, bends),
            (brace, strips, terminal),
        )| {
            let mut spec = BoxSpec::plain(Dims { width, height, depth }, Board::mdf(t));
            spec.front_layers = layers;
            spec.owners = Owners::by(Precedence::ALL[order]);
            spec.tape_step =
                [ExactLength::ZERO, mm(0.5), mm(1.0), ExactLength::from_sixty_fourths_inch(4)][step];
            spec.port = Port::Slot(SlotPort { height: high, length, width: SlotWidth::Full, bends });
            let window = Window::new(mm(60.0), mm(60.0), mm(10.0));
            if brace {
                spec.braces = vec![WindowBrace { count: 2, across: Axis::Width, window }];
            }
            spec.strips = strips.then(|| CornerStrips {
                edges: InsideEdge::all(),
                face: mm(30.0),
                measured: MeasuredStripFace::Wide,
                length: None,
                voids: StripVoids::Sealed,
            });
            spec.terminal = terminal.then(|| TerminalHole {
                face: BACK,
                window: None,
                shape: HoleShape::Rectangle(Window::new(mm(60.0), mm(50.0), mm(5.0))),
                cup_depth: mm(40.0),
                cup_volume: None,
                centre: None,
            });
            spec
        },
    )
}

/// Volume of all boards as the cut list gives them, in litres: no solid is asked.
fn cut_boards(plan: &Plan) -> f64 {
    let boards = plan.parts.iter().filter(|part| part.stock == Stock::Board);
    let litres = boards
        .filter(|part| part.name != kerf_and_coil::model::geometry::PartName::CornerStrip)
        .map(|part| {
            let [a, b] = [part.length, part.width].map(|cut| cut.exact.millimetres());
            a * b * part.thickness.millimetres() * part.count() as f64
        });
    litres.sum::<f64>() * 1e-6
}

proptest! {
    #[test]
    fn boards_air_and_port_fill_the_outside(spec in boxes()) {
        let Ok(plan) = plan(&spec, &AsBuilt::new()) else { return Ok(()) };
        let Port::Slot(slot) = &spec.port else { return Ok(()) };
        let end = |verdict| plan.facts.iter().any(|fact|
            matches!(fact, Fact::PortToBack { .. }) && fact.verdict() == verdict);
        let closed = end(Verdict::Fails);
        let (assembly, ledger) = (&plan.exact.assembly, &plan.exact.ledger);
        let port = assembly.port.expect("a port");
        if !closed {
            let off = (port.length - slot.length).millimetres();
            prop_assert!(off.abs() < 0.001, "the centre line is off by {off} mm");
            let cut = plan.planned.assembly.port.expect("a port");
            let off = (cut.length - slot.length).millimetres();
            // With hardly a gap before it the last board is cut to what room there is.
            prop_assert!(end(Verdict::Tight) || off.abs() <= 0.5 * spec.tape_step.millimetres() + 0.001, "as cut it is off by {off} mm");
            // (h + t)(L − T − n t) per width: geometry.md section 5 for one bend, the same sum for none and two.
            let [h, t, w] = [slot.height, spec.boards.shell.thickness, assembly.inside.width].map(|l| l.millimetres());
            let long = slot.length.millimetres() - assembly.front_thickness.millimetres() - f64::from(port.bends) * t;
            let taken = ledger.volume(LedgerItem::PortAir) + ledger.volume(LedgerItem::PortWalls);
            let expected = (h + t) * w * long * 1e-6;
            prop_assert!((taken.litres() + expected).abs() < 1e-6 * expected, "{taken:?} {expected} {port:?}");
        }
        // Boards as cut, less their holes, and everything that is no board make up the outside.
        let outside: f64 = assembly.outside.millimetres().iter().product::<f64>() * 1e-6;
        let sum = |wanted: fn(&BodyKind, Role) -> bool| -> f64 {
            assembly.bodies.iter().filter(|body| wanted(&body.kind, body.role)).map(|b| b.solid.volume().litres()).sum()
        };
        let air = sum(|kind, _| matches!(kind, BodyKind::PortAir(_)));
        let windows: f64 = spec.braces.iter().map(|brace| {
            let side = brace.window.across.millimetres();
            f64::from(brace.count) * spec.boards.shell.thickness.millimetres() * (side * side - (4.0 - std::f64::consts::PI) * 100.0) * 1e-6
        }).sum();
        let strips = [LedgerItem::CornerStrips, LedgerItem::StripCorners, LedgerItem::BracedStrips]
            .map(|item| ledger.volume(item).litres()).iter().sum::<f64>();
        let cup = ledger.volume(LedgerItem::TerminalCup).litres();
        // Where a front that is let in ends above the slot, its mouth is open to the outside.
        let mouth = assembly.bodies.iter().any(|body| matches!(body.kind, BodyKind::PortMouth(_)));
        let open = if mouth { 0.0 } else {
            slot.height.millimetres() * assembly.inside.width.millimetres() * assembly.front_thickness.millimetres() * 1e-6
        };
        let hole = ledger.volume(LedgerItem::TerminalHole).litres();
        let all = cut_boards(&plan) - windows + air + open + (ledger.net.litres() - hole - strips - cup);
        prop_assert!((all - outside).abs() < 1e-6 * outside, "{all} {outside}");
    }

    #[test]
    fn nothing_of_a_box_with_a_bent_slot_is_in_its_way(spec in boxes()) {
        let Ok(plan) = plan(&spec, &AsBuilt::new()) else { return Ok(()) };
        if plan.planned.assembly.port.is_some_and(|port| port.bends > 0) {
            prop_assert_eq!(&plan.planned.assembly.misfits, &[]);
            let pairs = overlaps(&plan.planned.assembly);
            // A cup may be larger than the free part of a side; that is said as its own finding.
            let pairs: Vec<_> = pairs.iter().filter(|(a, b)| ![a, b].iter().any(|k| matches!(k, BodyKind::TerminalCup))).collect();
            prop_assert!(pairs.is_empty(), "{pairs:?}");
        }
    }
}
