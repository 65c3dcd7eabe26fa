//! Boxes with two rooms, with passive radiators, and fronts alone: volumes by the formulas of geometry.md sections 1,
//! 3, 4 and 5 applied to each room, sizes by hand.
use std::f64::consts::PI;

use kerf_and_coil::model::geometry::divide::divide;
use kerf_and_coil::model::geometry::edges::Owners;
use kerf_and_coil::model::geometry::{
    AsBuilt, Axis, Board, BodyKind, BoxSpec, ChamberPort, ChamberSlot, ChamberTubes, CornerStrips, Dims,
    Divider, DriverCutout, End, Fact, Form, HoleShape, InsideEdge, LedgerItem, MeasuredStripFace, PartId,
    PartName, Plan, Port, Precedence, RadiatorCutout, RadiatorPlace, Role, RoundPort, SlotPort, SlotWidth,
    StripVoids, Verdict, build_order, outlines, plan, weight,
};
use kerf_and_coil::units::{ExactLength, Volume};
use proptest::prelude::*;

use super::mm;

fn driver() -> DriverCutout {
    DriverCutout {
        count: 1,
        cutout: mm(180.0),
        flange: mm(200.0),
        depth: mm(120.0),
        magnet: mm(140.0),
        displacement: Volume::from_litres(2.0),
        pole_vent: None,
        recess: None,
        centres: Vec::new(),
        elsewhere: Vec::new(),
    }
}

fn tubes(count: u8, diameter: f64, length: f64) -> ChamberPort {
    ChamberPort::Tubes(ChamberTubes { count, diameter: mm(diameter), wall: mm(3.0), length: mm(length) })
}

/// 700 × 340 × 400 mm of 18 mm board, its divider 200 mm behind the left side, one 8-inch driver.
fn divided(inward: bool) -> BoxSpec {
    let outside = Dims { width: mm(700.0), height: mm(340.0), depth: mm(400.0) };
    let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
    spec.driver = Some(driver());
    let (port, room) = (tubes(1, 90.0, 210.0), mm(200.0));
    spec.form = Form::Divided(Divider { room, port, inward });
    spec
}

fn with_port(mut spec: BoxSpec, length: f64) -> BoxSpec {
    let (diameter, wall) = (mm(70.0), mm(3.0));
    spec.port = Port::Round(RoundPort { count: 1, diameter, wall, length: mm(length), centres: Vec::new() });
    spec
}

fn planned(spec: &BoxSpec) -> Plan {
    plan(spec, &AsBuilt::new()).unwrap()
}

fn near(actual: f64, expected: f64) {
    assert!((actual - expected).abs() < 1e-9, "{actual}, expected {expected}");
}

/// Litres of a cylinder in millimetres.
fn cylinder(diameter: f64, length: f64) -> f64 {
    PI / 4.0 * diameter * diameter * length * 1e-6
}

/// Inside 664 × 304 × 364 mm; left of the 18 mm divider 200 mm, right of it 446 mm.
#[test]
fn a_divided_box_by_hand() {
    for inward in [false, true] {
        let spec = with_port(divided(inward), 150.0);
        let plan = planned(&spec);
        let build = &plan.planned;
        let front = build.front_room.as_ref().expect("a room before the drivers");
        near(front.gross.litres(), 200.0 * 304.0 * 364.0 * 1e-6);
        // 96 mm outside, 192 mm of it behind the front.
        near(front.net.litres(), 200.0 * 304.0 * 364.0 * 1e-6 - cylinder(96.0, 192.0));
        near(build.ledger.gross.litres(), 446.0 * 304.0 * 364.0 * 1e-6);
        // The hole in the divider gains, the driver takes, the port takes what lies behind its own board of 18 mm.
        let behind = 446.0 * 304.0 * 364.0 * 1e-6 + cylinder(180.0, 18.0) - 2.0 - cylinder(76.0, 132.0);
        near(build.ledger.net.litres(), behind);
        near(plan.net().litres(), behind);

        // Rounding keeps whole millimetres: the divider fills the inside's depth and height.
        let piece = |name| plan.parts.iter().find(|part| part.name == name).expect("a part");
        let divider = piece(PartName::Divider);
        assert_eq!((divider.length.planned, divider.width.planned), (mm(364.0), mm(304.0)));
        assert_eq!(piece(PartName::FrontTube).length.planned, mm(210.0));
        assert_eq!(piece(PartName::PortTube).length.planned, mm(150.0));
        // Front 2 × 700 × 340 (with the back), divider, tops 700 wide, sides let in between: all six and the divider.
        assert_eq!(
            plan.parts.iter().filter(|part| part.thickness == mm(18.0)).map(|p| p.count()).sum::<usize>(),
            7
        );

        // 446 mm behind the divider, less what the driver reaches beyond its 18 mm.
        let gap = mm(446.0 - (120.0 - 18.0));
        assert!(plan.facts.contains(&Fact::MagnetToSide { gap }), "{:?}", plan.facts);
        let to_back = if inward { 446.0 - 132.0 } else { 364.0 - 132.0 };
        assert!(plan.facts.contains(&Fact::PortToBack { gap: mm(to_back), wanted: mm(70.0) }));
        assert!(plan.facts.contains(&Fact::PortToBack { gap: mm(364.0 - 192.0), wanted: mm(90.0) }));
        assert_eq!(plan.facts.iter().map(Fact::verdict).max(), Some(Verdict::Fine), "{:?}", plan.facts);

        // The divider carries the driver's hole, and of an inward port its mouth; the front only its own tubes.
        let boards = outlines(build);
        let holes = |piece| {
            let board = boards.iter().find(|board| board.part == piece).expect("a board");
            board.holes.iter().map(|hole| hole.use_).collect::<Vec<_>>()
        };
        use kerf_and_coil::model::geometry::HoleUse::{Driver, Port as Mouth};
        assert_eq!(holes(PartId::Divider), if inward { vec![Driver, Mouth] } else { vec![Driver] });
        assert_eq!(holes(PartId::Front(0)), if inward { vec![Mouth] } else { vec![Mouth, Mouth] });
        assert!(holes(PartId::Left).is_empty() && holes(PartId::Right).is_empty());
    }
}

/// Three things must show: a driver deeper than its room, a tube wider than its room, a flange larger than the divider.
#[test]
fn what_does_not_fit_in_a_divided_box_is_told() {
    let mut spec = divided(false);
    if let Some(driver) = &mut spec.driver {
        driver.depth = mm(480.0);
        driver.flange = mm(310.0);
        driver.cutout = mm(306.0);
    }
    spec.form = Form::Divided(Divider { room: mm(90.0), port: tubes(1, 90.0, 210.0), inward: false });
    let facts = planned(&spec).facts;
    let fails =
        |wanted: fn(&Fact) -> bool| facts.iter().any(|fact| wanted(fact) && fact.verdict() == Verdict::Fails);
    // 556 mm behind: 480 − 18 fits; make the room before the drivers larger and it does not.
    assert!(!fails(|fact| matches!(fact, Fact::MagnetToSide { .. })));
    assert!(fails(|fact| matches!(fact, Fact::TubeToWall { .. })));
    assert!(fails(|fact| matches!(fact, Fact::FlangeToEdge { .. })));
    spec.form = Form::Divided(Divider { room: mm(250.0), port: tubes(1, 90.0, 210.0), inward: false });
    let facts = planned(&spec).facts;
    let magnet = facts.iter().find(|fact| matches!(fact, Fact::MagnetToSide { .. }));
    assert_eq!(magnet, Some(&Fact::MagnetToSide { gap: mm(396.0 - 462.0) }));
    assert_eq!(magnet.map(Fact::verdict), Some(Verdict::Fails));
}

fn full_slot(height: f64, length: f64) -> Port {
    Port::Slot(SlotPort { height: mm(height), length: mm(length), width: SlotWidth::Full, bends: 0 })
}

/// The divided box with a slot on the floor of either room: 40 mm high and 210 mm long before the drivers, 30 mm and
/// 260 mm behind them.
fn with_slots() -> BoxSpec {
    let mut spec = divided(false);
    let slot = ChamberSlot { height: mm(40.0), length: mm(210.0) };
    spec.form = Form::Divided(Divider { room: mm(200.0), port: ChamberPort::Slot(slot), inward: false });
    spec.port = full_slot(30.0, 260.0);
    spec
}

/// Displaced by a full-width slot: (h + t) × width × length behind the front (geometry.md section 5), room by room.
#[test]
fn slots_of_a_divided_box_by_hand() {
    let spec = with_slots();
    let plan = planned(&spec);
    let build = &plan.planned;
    let front = build.front_room.as_ref().expect("a room before the drivers");
    near(front.gross.litres(), 200.0 * 304.0 * 364.0 * 1e-6);
    near(front.net.litres(), (200.0 * 304.0 * 364.0 - 58.0 * 200.0 * 192.0) * 1e-6);
    near(front.volume(LedgerItem::PortAir).litres(), -40.0 * 200.0 * 192.0 * 1e-6);
    near(front.volume(LedgerItem::PortWalls).litres(), -18.0 * 200.0 * 192.0 * 1e-6);
    let behind = (446.0 * 304.0 * 364.0 - 48.0 * 446.0 * 242.0) * 1e-6 + cylinder(180.0, 18.0) - 2.0;
    near(plan.net().litres(), behind);

    let piece = |name| plan.parts.iter().find(|part| part.name == name).expect("a part");
    let size = |name| (piece(name).length.planned, piece(name).width.planned);
    assert_eq!(size(PartName::FrontRoof), (mm(200.0), mm(192.0)));
    assert_eq!(size(PartName::PortRoof), (mm(446.0), mm(242.0)));
    assert!(plan.facts.contains(&Fact::PortToBack { gap: mm(364.0 - 192.0), wanted: mm(40.0) }));
    assert!(plan.facts.contains(&Fact::PortToBack { gap: mm(364.0 - 242.0), wanted: mm(30.0) }));
    // The driver stands in the middle of what the higher roof leaves of the divider: 304 − 58 mm.
    assert_eq!(build.assembly.layout.drivers[0].height, mm(18.0 + 58.0 + 123.0));
    assert_eq!(plan.facts.iter().map(Fact::verdict).max(), Some(Verdict::Fine), "{:?}", plan.facts);

    // Both mouths are cut out of the front, on the bottom's upper face, as wide as their rooms.
    let boards = outlines(build);
    let board = boards.iter().find(|board| board.part == PartId::Front(0)).expect("a front");
    let mouths: Vec<_> = board
        .holes
        .iter()
        .map(|hole| match hole.shape {
            HoleShape::Rectangle(window) => (hole.at, window.across, window.up),
            HoleShape::Round(_) => panic!("no tube"),
        })
        .collect();
    assert_eq!(
        mouths,
        [([mm(118.0), mm(38.0)], mm(200.0), mm(40.0)), ([mm(459.0), mm(33.0)], mm(446.0), mm(30.0))]
    );
    // Boards by hand: 740 kg/m³ times each block less its holes.
    let wood = 2.0 * 700.0 * 340.0 * 18.0 + 2.0 * 700.0 * 364.0 * 18.0 + 3.0 * 304.0 * 364.0 * 18.0
        - (200.0 * 40.0 + 446.0 * 30.0) * 18.0
        + (200.0 * 192.0 + 446.0 * 242.0) * 18.0;
    let wood = wood * 1e-9 - cylinder(180.0, 18.0) * 1e-3;
    near(weight(&spec, &build.assembly, None).wood.kilograms(), wood * 740.0);
    let order = build_order(&build.assembly);
    let glued: Vec<PartId> = order.steps.iter().flat_map(|step| step.pieces.clone()).collect();
    assert_eq!(glued.len(), 9, "{glued:?}");
    assert!(order.steps.iter().skip(1).all(|step| step.from.is_some() && !step.joints.is_empty()));
}

/// A front let in between the four others has its mouths cut out of its lower edge, as neither slot is as wide as it.
#[test]
fn slots_through_a_front_let_in() {
    let mut spec = with_slots();
    spec.owners = Owners::by(Precedence::ALL[5]);
    let plan = planned(&spec);
    let front = plan.parts.iter().find(|part| part.name == PartName::Front).expect("a front");
    assert_eq!((front.length.planned, front.width.planned), (mm(664.0), mm(304.0)));
    let mouths =
        plan.planned.assembly.with_role(Role::Cut).filter(|body| matches!(body.kind, BodyKind::PortMouth(_)));
    assert_eq!(mouths.count(), 2);
    assert!(plan.facts.iter().all(|fact| fact.verdict() == Verdict::Fine), "{:?}", plan.facts);
}

/// Upright strips stand on the roofs they would pass through; those on the floors of slots are left out and told.
#[test]
fn strips_beside_slots_of_a_divided_box() {
    let mut spec = with_slots();
    let edges: Vec<InsideEdge> =
        InsideEdge::all().into_iter().filter(|edge| edge.along != Axis::Width).collect();
    spec.strips = Some(CornerStrips { length: None, ..strips(edges) });
    let plan = planned(&spec);
    assert!(plan.facts.contains(&Fact::StripsInSlot { count: 2 }), "{:?}", plan.facts);
    assert!(!plan.facts.iter().any(|fact| matches!(fact, Fact::Overlap { .. })), "{:?}", plan.facts);
    let long = |first, second| {
        let edge = InsideEdge { along: Axis::Height, first, second };
        plan.planned.sizes.get(PartId::Strip(edge), Axis::Height.into())
    };
    // Both slots end more than the strips' 43 mm before the back.
    assert_eq!([long(End::Low, End::Low), long(End::Low, End::High)], [mm(304.0 - 58.0), mm(304.0 - 48.0)]);
    assert_eq!([long(End::High, End::Low), long(End::High, End::High)], [mm(304.0); 2]);
}

/// What slots in a divided box can't be is refused, with its reason.
#[test]
fn slots_that_a_divided_box_can_not_have() {
    let refused = |spec: &BoxSpec| plan(spec, &AsBuilt::new()).expect_err("refused").to_string();
    let mut inward = with_slots();
    inward.form = Form::Divided(Divider { room: mm(200.0), port: tubes(1, 90.0, 210.0), inward: true });
    assert!(refused(&inward).contains("through the divider"), "{}", refused(&inward));
    let mut narrow = with_slots();
    narrow.port = Port::Slot(SlotPort {
        height: mm(30.0),
        length: mm(200.0),
        width: SlotWidth::AgainstSide(mm(100.0)),
        bends: 0,
    });
    assert!(refused(&narrow).contains("as wide as its room"));
    let mut long = with_slots();
    let slot = ChamberSlot { height: mm(40.0), length: mm(400.0) };
    long.form = Form::Divided(Divider { room: mm(200.0), port: ChamberPort::Slot(slot), inward: false });
    assert!(refused(&long).contains("longer than the box is deep"));
    let slot = ChamberSlot { height: mm(290.0), length: mm(210.0) };
    long.form = Form::Divided(Divider { room: mm(200.0), port: ChamberPort::Slot(slot), inward: false });
    assert!(refused(&long).contains("higher than the inside"));
}

/// Radiators of 2 L with holes of 220 mm: beside the driver through the 36 mm front, or through both 18 mm sides.
#[test]
fn passive_radiators_by_hand() {
    let outside = Dims { width: mm(700.0), height: mm(340.0), depth: mm(400.0) };
    let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
    spec.front_layers = 2;
    spec.driver = Some(driver());
    let radiators = |count, place| RadiatorCutout {
        count,
        cutout: mm(220.0),
        flange: mm(240.0),
        depth: mm(80.0),
        displacement: Volume::from_litres(1.5),
        place,
    };
    let plain = planned(&spec).net().litres();
    near(plain, 664.0 * 304.0 * 346.0 * 1e-6 + cylinder(180.0, 36.0) - 2.0);
    spec.form = Form::Radiators(radiators(1, RadiatorPlace::Front));
    let one = planned(&spec);
    near(one.net().litres(), plain + cylinder(220.0, 36.0) - 1.5);
    near(one.planned.ledger.volume(LedgerItem::RadiatorHoles).litres(), cylinder(220.0, 36.0));
    // Beside one another: 340 mm are not enough for 240 + 200 above one another.
    let [driver_at, radiator_at] =
        [one.planned.assembly.layout.drivers[0], one.planned.assembly.layout.others[0]];
    let apart = (driver_at.width - radiator_at.width).millimetres().abs();
    assert!(apart >= 220.0 + 12.0, "{apart}");
    assert!(one.facts.iter().all(|fact| fact.verdict() == Verdict::Fine), "{:?}", one.facts);
    assert!(one.facts.contains(&Fact::RadiatorBehind { gap: mm(346.0 - (80.0 - 36.0)) }));

    spec.form = Form::Radiators(radiators(2, RadiatorPlace::Sides));
    let two = planned(&spec);
    near(two.net().litres(), plain + 2.0 * (cylinder(220.0, 18.0) - 1.5));
    // Opposite one another in the middle of the inside: 36 + 173 deep, 170 up.
    let places = &two.planned.assembly.layout.others;
    assert_eq!(places.len(), 2);
    assert!(places.iter().all(|at| at.depth == mm(209.0) && at.height == mm(170.0)), "{places:?}");
    assert!(two.facts.contains(&Fact::RadiatorBehind { gap: mm(664.0 - 62.0) }));
    let boards = outlines(&two.planned);
    use kerf_and_coil::model::geometry::HoleUse;
    for side in [PartId::Left, PartId::Right] {
        let board = boards.iter().find(|board| board.part == side).expect("a side");
        assert_eq!(board.holes.len(), 1);
        assert_eq!(board.holes[0].use_, HoleUse::Radiator);
        assert_eq!(board.holes[0].depth, None);
        // From the side's own corner: it is let in between front and back, 346 × 304 mm.
        assert_eq!(board.holes[0].at, [mm(173.0), mm(152.0)]);
    }
    // Two of them, 602 mm apart behind, touch nothing; deeper than half the box they meet.
    let deep = RadiatorCutout { depth: mm(360.0), ..radiators(2, RadiatorPlace::Sides) };
    spec.form = Form::Radiators(deep);
    assert!(planned(&spec).facts.iter().any(|fact| matches!(fact, Fact::Overlap { .. })));
}

/// A front alone of two layers: nothing else is cut, and it holds no air.
#[test]
fn a_baffle_is_its_layers() {
    let outside = Dims { width: mm(640.4), height: mm(410.0), depth: mm(36.0) };
    let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
    spec.front_layers = 2;
    spec.driver = Some(driver());
    spec.form = Form::Baffle;
    let plan = planned(&spec);
    assert_eq!(plan.parts.len(), 1);
    assert_eq!((plan.parts[0].name, plan.parts[0].count()), (PartName::Front, 2));
    assert_eq!((plan.parts[0].length.planned, plan.parts[0].width.planned), (mm(640.0), mm(410.0)));
    assert_eq!(plan.net(), Volume::default());
    assert!(plan.planned.ledger.lines.is_empty());
    near(plan.board_area().square_metres(), 2.0 * 0.640 * 0.410);
    // 740 kg/m³ times both layers less the holes.
    let wood = (640.0 * 410.0 * 36.0) * 1e-9 - cylinder(180.0, 36.0) * 1e-3;
    near(plan.board_mass(&spec).kilograms(), wood * 740.0);
    assert!(plan.facts.iter().all(|fact| fact.verdict() == Verdict::Fine), "{:?}", plan.facts);
    spec.port = Port::Round(RoundPort {
        count: 1,
        diameter: mm(70.0),
        wall: mm(3.0),
        length: mm(100.0),
        centres: Vec::new(),
    });
    assert!(plan_fails(&spec));
}

fn plan_fails(spec: &BoxSpec) -> bool {
    plan(spec, &AsBuilt::new()).is_err()
}

/// A strip in the upper left edge along the depth belongs to the room before the drivers.
fn strips(edges: Vec<InsideEdge>) -> CornerStrips {
    CornerStrips {
        edges,
        face: mm(60.0),
        measured: MeasuredStripFace::Wide,
        length: Some(mm(150.0)),
        voids: StripVoids::Sealed,
    }
}

fn any_divided() -> impl Strategy<Value = BoxSpec> {
    let size = (6000..10_000_i64, 3400..6000_i64, 4000..7000_i64);
    let room = (1300..2400_i64, 1..=2_u8, 400..900_i64, 400..2500_i64);
    let rear = (0..4, 500..1500_i64, 0..=4_usize, 120..220_i64, any::<bool>());
    (size, room, rear).prop_map(|((w, h, d), (room, count, bore, length), (kind, rear, edges, t, slot))| {
        let tenth = |n: i64| ExactLength::from_hundredths_mm(n * 10);
        let outside = Dims { width: tenth(w), height: tenth(h), depth: tenth(d) };
        let mut spec = BoxSpec::plain(outside, Board::mdf(tenth(t)));
        spec.driver = Some(driver());
        let port = if slot {
            ChamberPort::Slot(ChamberSlot { height: tenth(bore), length: tenth(length) })
        } else {
            ChamberPort::Tubes(ChamberTubes {
                count,
                diameter: tenth(bore),
                wall: mm(3.0),
                length: tenth(length),
            })
        };
        spec.form = Form::Divided(Divider { room: tenth(room), port, inward: kind == 2 });
        if kind == 3 {
            spec.port = full_slot(35.0, rear as f64 / 10.0);
        } else if kind > 0 {
            spec = with_port(spec, rear as f64 / 10.0);
        }
        if edges > 0 {
            let along: Vec<InsideEdge> =
                InsideEdge::all().into_iter().filter(|edge| edge.along == Axis::Height).collect();
            spec.strips = Some(strips(along[..edges].to_vec()));
        }
        spec
    })
}

proptest! {
    /// Wood, both rooms and what is taken from them add up to the outside; the rooms by their own formulas.
    #[test]
    fn rooms_and_wood_add_up_to_the_outside(spec in any_divided()) {
        let Ok(plan) = plan(&spec, &AsBuilt::new()) else { return Ok(()) };
        let build = &plan.exact;
        let front = build.front_room.as_ref().expect("a room before the drivers");
        let outside: f64 = build.assembly.outside.millimetres().iter().product::<f64>() * 1e-6;
        let wood: f64 = build.assembly.with_role(Role::Shell).map(|body| body.solid.volume().litres()).sum();
        let gross = front.gross.litres() + build.ledger.gross.litres();
        prop_assert!((outside - wood - gross).abs() < 1e-6 * outside);

        let t = spec.boards.shell.thickness.millimetres();
        let (w, h, d) = (
            spec.outside.width.millimetres() - 2.0 * t,
            spec.outside.height.millimetres() - 2.0 * t,
            spec.outside.depth.millimetres() - 2.0 * t,
        );
        let divider = spec.divider().expect("a divider");
        let room = divider.room.millimetres();
        let strip = |low: bool| {
            let edges = spec.strips.iter().flat_map(|strips| &strips.edges);
            let here = edges.filter(|edge| (edge.end(Axis::Width) == Some(End::Low)) == low);
            here.count() as f64 * 60.0 * 60.0 / 4.0 * 150.0 * 1e-6
        };
        let taken = match divider.port {
            ChamberPort::Tubes(tubes) => {
                let outer = tubes.diameter.millimetres() + 6.0;
                f64::from(tubes.count) * cylinder(outer, (tubes.length.millimetres() - t).max(0.0))
            }
            ChamberPort::Slot(slot) => {
                (slot.height.millimetres() + t) * room * (slot.length.millimetres() - t) * 1e-6
            }
        };
        let expected = room * h * d * 1e-6 - taken - strip(true);
        prop_assert!((front.net.litres() - expected).abs() < 1e-9, "{} {expected}", front.net.litres());
        let port = match &spec.port {
            Port::Round(port) => cylinder(76.0, port.length.millimetres() - t),
            Port::Slot(slot) => (35.0 + t) * (w - room - t) * (slot.length.millimetres() - t) * 1e-6,
            Port::None => 0.0,
        };
        let expected = (w - room - t) * h * d * 1e-6 + cylinder(180.0, t) - 2.0 - port - strip(false);
        prop_assert!((build.ledger.net.litres() - expected).abs() < 1e-9, "{} {expected}", build.ledger.net.litres());
    }

    /// The divider comes to stand where the room before it holds what was asked, to half a step of the tape.
    #[test]
    fn the_divider_stands_where_it_should(spec in any_divided(), litres in 8.0..20.0_f64) {
        let wanted = Volume::from_litres(litres);
        let Ok((found, rooms)) = divide(&spec, wanted) else { return Ok(()) };
        let Ok(plan) = plan(&found, &AsBuilt::new()) else { return Ok(()) };
        let front = plan.planned.front_room.as_ref().expect("a room before the drivers").net;
        prop_assert!((rooms.front - front).litres().abs() < 1e-9 && (rooms.rear - plan.net()).litres().abs() < 1e-9);
        let inside = plan.planned.assembly.inside;
        // Half a step, and half of what a length can tell: 1/16 µm.
        let half_step = 0.500_1 * inside.height.millimetres() * inside.depth.millimetres() * 1e-6;
        prop_assert!((front.litres() - litres).abs() <= half_step, "{} of {litres}", front.litres());
    }
}
