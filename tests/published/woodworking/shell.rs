//! Exactness, rounding, wrong cuts, fence order and the way back from a volume, on boxes worked out by hand.
use kerf_and_coil::model::error::ModelError;
use kerf_and_coil::model::geometry::edges::Owners;
use kerf_and_coil::model::geometry::{
    AsBuilt, Axis, Board, Boards, BodyKind, BoxSpec, CornerStrips, Dimension, Dims, DriverCutout, End, Fact,
    FitRequest, InsideEdge, LedgerItem, MeasuredStripFace, Pair, PartId, PartName, Port, Precedence, Recess,
    RoundPort, SlotPort, SlotWidth, Space, StandsOver, StripVoids, Tilt, Verdict, Window, WindowBrace, fence,
    fit, plan, standing_over,
};
use kerf_and_coil::units::{ExactLength, Volume};

use super::{mm, upright_strips};
use crate::assert_near;

fn dims(width: f64, height: f64, depth: f64) -> Dims {
    Dims { width: mm(width), height: mm(height), depth: mm(depth) }
}

/// The box of case `rect-2`: inside 384 x 424 x 326 mm, two front layers.
fn double_front() -> BoxSpec {
    let mut spec = BoxSpec::plain(dims(420.0, 460.0, 380.0), Board::mdf(mm(18.0)));
    spec.front_layers = 2;
    spec
}

fn driver() -> DriverCutout {
    DriverCutout {
        count: 1,
        cutout: mm(284.0),
        flange: mm(310.0),
        depth: mm(150.0),
        magnet: mm(156.0),
        displacement: Volume::from_litres(4.5),
        pole_vent: Some(mm(30.0)),
        recess: Some(Recess { depth: None, clearance: mm(4.0) }),
        centres: Vec::new(),
        elsewhere: Vec::new(),
    }
}

#[test]
fn a_size_is_the_same_in_either_unit() {
    // 13 3/8 in = 856/64 in; 13.375 × 25.4 mm = 339.725 mm.
    let inches = ExactLength::from_sixty_fourths_inch(856);
    assert_eq!(inches, mm(339.725));
    // Height typed in inches, width in millimetres: one fence setting.
    let mut spec = BoxSpec::plain(dims(339.725, 0.0, 400.0), Board::mdf(mm(18.0)));
    spec.outside.height = inches;
    spec.tape_step = ExactLength::ZERO;
    let plan = plan(&spec, &AsBuilt::new()).expect("a box");
    let setting = plan.fence.iter().filter(|s| s.size == inches).collect::<Vec<_>>();
    assert_eq!(setting.len(), 1);
    // Front and back in both directions, top and bottom across.
    assert_eq!(setting[0].cuts.len(), 5);
}

/// geometry.md section 1, second row of the table: 424 x 326 sides, 420 x 326 top and bottom, 420 x 460 front and back.
#[test]
fn fence_order_of_the_double_front_box() {
    let plan = plan(&double_front(), &AsBuilt::new()).expect("a box");
    let settings: Vec<(f64, usize)> = plan
        .fence
        .iter()
        .map(|s| (s.size.millimetres(), s.cuts.iter().map(|cut| cut.pieces.len()).sum()))
        .collect();
    // 460: two fronts, one back. 424: two sides. 420: fronts, back, top, bottom. 326: two sides, top, bottom.
    assert_eq!(settings, [(460.0, 3), (424.0, 2), (420.0, 5), (326.0, 4)]);
}

#[test]
fn settings_depend_on_who_covers_whom() {
    // 400 x 460 x 400 mm, 18 mm, by the rule of geometry.md section 1:
    // front/back > sides > top/bottom: 400 x 460, 460 x 364, 364 x 364: three settings;
    // front/back > top/bottom > sides: 400 x 460, 400 x 364, 424 x 364: four;
    // sides > top/bottom > front/back: 460 x 400, 364 x 400, 364 x 424: four.
    let spec = BoxSpec::plain(dims(400.0, 460.0, 400.0), Board::mdf(mm(18.0)));
    let counted = fence::settings_by_precedence(&spec);
    let of = |order| counted.iter().find(|(found, _)| *found == order).map(|(_, count)| *count);
    let order = |pairs| Precedence::new(pairs).expect("three pairs");
    assert_eq!(of(order([Pair::FrontBack, Pair::Sides, Pair::TopBottom])), Some(3));
    assert_eq!(of(order([Pair::FrontBack, Pair::TopBottom, Pair::Sides])), Some(4));
    assert_eq!(of(order([Pair::Sides, Pair::TopBottom, Pair::FrontBack])), Some(4));
    assert_eq!(counted.len(), 6);
}

#[test]
fn corner_strips_come_last_and_tilted() {
    let mut spec = double_front();
    spec.strips = Some(upright_strips());
    let plan = plan(&spec, &AsBuilt::new()).expect("a box");
    let last = plan.fence.last().expect("settings");
    assert_eq!((last.tilt, last.size), (Tilt::HALF_RIGHT, mm(75.0)));
    // Four strips as long as the sides are high share the sides' setting.
    let shared = plan.fence.iter().find(|s| s.size == mm(424.0)).expect("a setting");
    assert!(shared.cuts.iter().any(|cut| cut.name == PartName::CornerStrip && cut.pieces.len() == 4));
    // cleat-rip-1: 259.576 mm for these strips with a 3.2 mm kerf, the default.
    assert_near(plan.strip_blanks[0].width.millimetres(), 259.576, 0.01);
}

#[test]
fn a_shorter_cut_takes_area_times_difference() {
    let spec = double_front();
    let sides = [PartId::Left, PartId::Right, PartId::Top, PartId::Bottom];
    let cut: AsBuilt = sides.map(|id| ((id, Dimension::Depth), mm(324.0))).into();
    let all = plan(&spec, &cut).expect("a box");
    // 384 x 424 mm inside, 2 mm less deep: 0.325632 litres.
    assert_near(all.as_built_effect().litres(), -0.325_632, 1e-9);
    assert!(!all.facts.iter().any(|fact| matches!(fact, Fact::Unequal { .. })));
    // One of them alone does the same, and is reported.
    let one = plan(&spec, &[((PartId::Left, Dimension::Depth), mm(324.0))].into()).expect("a box");
    assert_eq!(one.net(), all.net());
    let unequal = Fact::Unequal { axis: Axis::Depth, inside: mm(324.0), difference: mm(2.0) };
    assert!(one.facts.contains(&unequal));
    // A front 1 mm narrow changes no air, only leaves a gap.
    let front = plan(&spec, &[((PartId::Front(0), Dimension::Width), mm(419.0))].into()).expect("a box");
    assert_near(front.as_built_effect().litres(), 0.0, 0.0);
    let (part, dimension) = (PartId::Front(0), Dimension::Width);
    assert!(front.facts.contains(&Fact::Cover { part, dimension, over: mm(-1.0) }));
}

#[test]
fn a_shorter_roof_makes_a_shorter_port() {
    let mut spec = double_front();
    spec.port =
        Port::Slot(SlotPort { height: mm(40.0), length: mm(250.0), width: SlotWidth::Full, bends: 0 });
    let cut: AsBuilt = [((PartId::PortRoof, Dimension::Depth), mm(211.0))].into();
    let built = plan(&spec, &cut).expect("a box");
    // 250 − 36 = 214 was planned; 3 mm less, and (40 + 18) x 384 x 3 mm³ of air back (geometry.md section 5).
    let port = built.current().assembly.port.expect("a port");
    assert_eq!(port.length, mm(247.0));
    assert_near(built.as_built_effect().litres(), 58.0 * 384.0 * 3e-6, 1e-9);
}

#[test]
fn a_driver_in_the_slot_is_found() {
    let mut spec = double_front();
    spec.port =
        Port::Slot(SlotPort { height: mm(120.0), length: mm(250.0), width: SlotWidth::Full, bends: 0 });
    // Hole from 88 to 372 up, the slot from 18 to 138: flange of 314 reaches 73, 65 mm into the slot's mouth.
    spec.driver = Some(DriverCutout { centres: vec![dims(210.0, 230.0, 0.0)], ..driver() });
    let built = plan(&spec, &AsBuilt::new()).expect("a box");
    let fact = Fact::FlangeToPort { driver: 0, gap: mm(-65.0) };
    assert!(built.facts.contains(&fact));
    assert_eq!(fact.verdict(), Verdict::Fails);
    let in_the_port = (BodyKind::Driver(0), BodyKind::PortAir(0));
    assert!(overlapping(&spec).contains(&in_the_port));
}

/// Inside 384 × 424 × 326 mm behind a front of 36 mm; a strip of 60 mm face takes 42.4 mm of each wall. Along the floor of
/// a slot no strip lies; where its walls leave the room, or its end the way round, it does.
#[test]
fn strips_beside_a_straight_slot() {
    let with = |length: f64, width: SlotWidth| {
        let mut spec = double_front();
        spec.port = Port::Slot(SlotPort { height: mm(40.0), length: mm(length), width, bends: 0 });
        spec.strips =
            Some(CornerStrips { edges: InsideEdge::all().to_vec(), face: mm(60.0), ..upright_strips() });
        let plan = plan(&spec, &AsBuilt::new()).expect("a box");
        assert!(!plan.facts.iter().any(|fact| matches!(fact, Fact::Overlap { .. })), "{:?}", plan.facts);
        let told = plan.facts.iter().find_map(|fact| match fact {
            Fact::StripsInSlot { count } => Some(*count),
            _ => None,
        });
        let standing = plan.planned.sizes.iter().filter(|(id, _, _)| matches!(id, PartId::Strip(_)));
        let edges: std::collections::BTreeSet<PartId> = standing.map(|(id, _, _)| id).collect();
        assert_eq!(edges.len(), 12 - usize::from(told.unwrap_or(0)));
        told
    };
    // Left, right and front; from 326 − 42.4 − 40 = 243.6 mm behind the front on also that at the back.
    assert_eq!(with(250.0, SlotWidth::Full), Some(3));
    assert_eq!(with(36.0 + 243.0, SlotWidth::Full), Some(3));
    assert_eq!(with(36.0 + 244.0, SlotWidth::Full), Some(4));
    // 100 mm and a wall of 18 from the left: the right one stays.
    assert_eq!(with(250.0, SlotWidth::AgainstSide(mm(100.0))), Some(2));
    assert_eq!(with(250.0, SlotWidth::AgainstSide(mm(330.0))), Some(3));
    // 136 mm in the middle leave 124 mm at each side.
    assert_eq!(with(250.0, SlotWidth::FreeStanding(mm(100.0))), Some(1));
}

#[test]
fn rounding_shows_in_the_net_volume() {
    // 17.7 mm is the average of 18 mm birch plywood (handbook, ply-birch-18): panels end on tenths.
    let mut spec = double_front();
    spec.boards = Boards::all(Board::mdf(mm(17.7)));
    let plan = plan(&spec, &AsBuilt::new()).expect("a box");
    // By hand: exact 384.6 x 424.6 x 326.9; as cut 420 − 35.4 = 384.6, sides 424 high, 326 deep.
    assert_near(plan.exact.ledger.net.litres(), 384.6 * 424.6 * 326.9e-6, 1e-9);
    assert_near(plan.planned.ledger.net.litres(), 384.6 * 424.0 * 326.0e-6, 1e-9);
    let effect = (384.6 * 424.0 * 326.0 - 384.6 * 424.6 * 326.9) * 1e-6;
    assert_near(plan.rounding_effect().litres(), effect, 1e-9);
}

#[test]
fn a_box_is_never_cut_larger_than_asked_for() {
    // 18.1 mm by calipers: between top and bottom 330 − 36.2 = 293.8, so 293; put together 329.2. Front and back cover
    // that and stay at the 330 asked for: 0.8 mm to sand, which a tape in millimetres does not show.
    let mut spec = BoxSpec::plain(dims(710.0, 330.0, 208.0), Board::mdf(mm(18.1)));
    spec.front_layers = 2;
    spec.space = Some(Space { size: dims(720.0, 340.0, 218.0), clearance: mm(5.0), slant: None });
    let built = plan(&spec, &AsBuilt::new()).expect("a box");
    let size = |id, dimension| built.planned.sizes.get(id, dimension);
    assert_eq!(size(PartId::Left, Dimension::Height), mm(293.0));
    assert_eq!(size(PartId::Front(0), Dimension::Height), mm(330.0));
    // 208 − 54.3 = 153.7.
    assert_eq!(size(PartId::Top, Dimension::Depth), mm(153.0));
    assert_eq!(built.planned.assembly.outside, dims(710.0, 329.2, 207.3));
    assert_eq!(built.planned.assembly.misfits, []);
    assert!(built.facts.iter().all(|fact| fact.verdict() == Verdict::Fine));
    // Until they are trimmed, boards of 330 leave nothing of the 330; the width stands between, the depth is the sides'.
    let over = |id| StandsOver { part: id, dimension: Dimension::Height, over: mm(0.8) };
    let standing = standing_over(&spec, &built.planned);
    assert_eq!(standing, [PartId::Front(0), PartId::Front(1), PartId::Back].map(over));
    assert_eq!(built.planned.assembly.untrimmed(), dims(710.0, 330.0, 207.3));
    assert!(built.facts.contains(&Fact::Space { axis: Axis::Height, spare: mm(0.0) }));
    assert!(built.facts.contains(&Fact::Space { axis: Axis::Depth, spare: mm(0.7) }));
    // 0.2 mm more than there is room for is told, whatever the tape shows: 330.2 − 36.2 = 294 is a whole step.
    spec.outside.height = mm(330.2);
    let built = plan(&spec, &AsBuilt::new()).expect("a box");
    let fact = Fact::Space { axis: Axis::Height, spare: mm(-0.2) };
    assert!(built.facts.contains(&fact));
    assert_eq!(fact.verdict(), Verdict::Fails);
}

#[test]
fn a_cover_follows_the_box_put_together() {
    // 330.7 asked for: between 330.7 − 36.2 = 294.5, so 294, put together 330.2: the cover is 330, not 331.
    let mut spec = BoxSpec::plain(dims(710.0, 330.7, 208.0), Board::mdf(mm(18.1)));
    let cover = |spec: &BoxSpec| {
        let built = plan(spec, &AsBuilt::new()).expect("a box");
        assert_eq!(built.planned.assembly.misfits, []);
        built.planned.sizes.get(PartId::Back, Dimension::Height)
    };
    assert_eq!(cover(&spec), mm(330.0));
    // 330.9 with 18.45 mm boards: between 294 exactly, put together 330.9: 331 is 0.1 mm off, 330 would be 0.9.
    spec.outside.height = mm(330.9);
    spec.boards = Boards::all(Board::mdf(mm(18.45)));
    assert_eq!(cover(&spec), mm(331.0));
    // What is trimmed off needs no room: 330.9 has room for the box itself.
    spec.space = Some(Space { size: dims(720.0, 330.9, 218.0), clearance: mm(0.0), slant: None });
    let built = plan(&spec, &AsBuilt::new()).expect("a box");
    assert_eq!(built.planned.assembly.untrimmed().height, mm(331.0));
    let fact = Fact::Space { axis: Axis::Height, spare: mm(0.0) };
    assert!(built.facts.contains(&fact) && fact.verdict() == Verdict::Fine);
}

#[test]
fn a_misfit_is_one_from_a_step_of_the_tape_on() {
    let mut spec = double_front();
    let told = |spec: &BoxSpec, id, depth| {
        let cut: AsBuilt = [((id, Dimension::Depth), mm(depth))].into();
        let built = plan(spec, &cut).expect("a box");
        built.facts.iter().any(|fact| matches!(fact, Fact::Unequal { .. } | Fact::Cover { .. }))
    };
    // 326 was planned.
    assert!(!told(&spec, PartId::Left, 325.1));
    assert!(told(&spec, PartId::Left, 325.0));
    spec.tape_step = mm(0.5);
    assert!(told(&spec, PartId::Left, 325.5));
    spec.tape_step = ExactLength::ZERO;
    assert!(told(&spec, PartId::Left, 325.99));
    // Even then the air of the shorter cut counts: 384 x 424 x 0.4 mm³.
    spec.tape_step = mm(1.0);
    let cut: AsBuilt = [((PartId::Left, Dimension::Depth), mm(325.6))].into();
    let built = plan(&spec, &cut).expect("a box");
    assert_near(built.as_built_effect().litres(), -384.0 * 424.0 * 0.4e-6, 1e-9);
}

#[test]
fn what_slips_in_is_rounded_down() {
    let mut spec = double_front();
    spec.boards = Boards::all(Board::mdf(mm(17.7)));
    spec.port =
        Port::Slot(SlotPort { height: mm(40.0), length: mm(250.0), width: SlotWidth::Full, bends: 0 });
    let plan = plan(&spec, &AsBuilt::new()).expect("a box");
    // The inside is 384.6 wide: a roof of 385 wouldn't go in.
    assert_eq!(plan.planned.sizes.get(PartId::PortRoof, Dimension::Width), mm(384.0));
}

#[test]
fn a_let_in_front_ends_above_the_slot() {
    // geometry.md section 5: the inset front of a full-width slot is Hi − h high; rect-1's order, inside height 424.
    let mut spec = BoxSpec::plain(dims(420.0, 460.0, 380.0), Board::mdf(mm(18.0)));
    spec.owners = Owners::by(Precedence::ALL[5]);
    spec.port =
        Port::Slot(SlotPort { height: mm(40.0), length: mm(200.0), width: SlotWidth::Full, bends: 0 });
    let built = plan(&spec, &AsBuilt::new()).expect("a box");
    let height = |id| built.planned.sizes.get(id, Dimension::Height);
    assert_eq!(height(PartId::Front(0)), mm(384.0));
    assert_eq!(height(PartId::Back), mm(424.0));
    assert_eq!(built.planned.assembly.inside.height, mm(424.0));
}

#[test]
fn gaps_by_hand() {
    let mut spec = double_front();
    spec.driver = Some(driver());
    spec.port =
        Port::Slot(SlotPort { height: mm(30.0), length: mm(300.0), width: SlotWidth::Full, bends: 0 });
    let plan = plan(&spec, &AsBuilt::new()).expect("a box");
    // 326 − (150 − (36 − 18)) = 194; port 326 − (300 − 36) = 62.
    assert!(plan.facts.contains(&Fact::MagnetToBack { gap: mm(194.0) }));
    assert!(plan.facts.contains(&Fact::PoleVent { gap: mm(194.0), wanted: mm(25.0) }));
    assert!(plan.facts.contains(&Fact::PortToBack { gap: mm(62.0), wanted: mm(30.0) }));
    // Wood under the flange: one layer.
    assert!(plan.facts.contains(&Fact::WoodBehindRecess { left: mm(18.0), wanted: mm(12.0) }));
}

#[test]
fn a_magnet_in_the_back_fails() {
    let mut spec = double_front();
    spec.outside.depth = mm(180.0);
    spec.driver = Some(DriverCutout { displacement: Volume::from_litres(1.0), ..driver() });
    let plan = plan(&spec, &AsBuilt::new()).expect("a box");
    // 126 deep inside, 132 needed.
    let fact = Fact::MagnetToBack { gap: mm(-6.0) };
    assert!(plan.facts.contains(&fact));
    assert_eq!(fact.verdict(), Verdict::Fails);
}

fn overlapping(spec: &BoxSpec) -> Vec<(BodyKind, BodyKind)> {
    let plan = plan(spec, &AsBuilt::new()).expect("a box");
    let pairs = plan.facts.iter().filter_map(|fact| match fact {
        Fact::Overlap { a, b } => Some((*a, *b)),
        _ => None,
    });
    pairs.collect()
}

#[test]
fn overlaps_are_found_and_touching_is_none() {
    let mut spec = double_front();
    let tube = |across: f64, up: f64| {
        Port::Round(RoundPort {
            count: 1,
            diameter: mm(70.0),
            wall: mm(3.0),
            length: mm(200.0),
            centres: vec![dims(across, up, 0.0)],
        })
    };
    let strips = CornerStrips {
        edges: InsideEdge::vertical().to_vec(),
        face: mm(75.0),
        measured: MeasuredStripFace::Wide,
        length: None,
        voids: StripVoids::Sealed,
    };
    spec.strips = Some(strips);
    // A tube of radius 38 whose centre is q from the wall keeps clear of a front strip (leg 53.033) once it is beyond
    // the strip's foot: q − 38 ≥ 53.033, as the strip is deepest at the front.
    spec.port = tube(18.0 + 92.0, 230.0);
    assert_eq!(overlapping(&spec), []);
    spec.port = tube(18.0 + 90.0, 230.0);
    let left = InsideEdge::vertical()[0];
    assert_eq!(overlapping(&spec), [(BodyKind::PortTube(0), BodyKind::Strip(left))]);
    // A driver's cone: 284 at the front to 156 at the magnet, over 132 mm, in the middle; the tube beside it.
    spec.strips = None;
    spec.outside.width = mm(600.0);
    spec.driver = Some(DriverCutout { centres: vec![dims(200.0, 230.0, 0.0)], ..driver() });
    spec.port = tube(200.0 + 142.0 + 38.0 + 1.0, 230.0);
    assert_eq!(overlapping(&spec), []);
    spec.port = tube(200.0 + 142.0 + 38.0 - 2.0, 230.0);
    assert_eq!(overlapping(&spec), [(BodyKind::Driver(0), BodyKind::PortTube(0))]);
    // A brace with a window lets the tube through only where the window is.
    spec.driver = None;
    spec.braces = vec![WindowBrace {
        count: 1,
        across: Axis::Depth,
        window: Window::new(mm(200.0), mm(200.0), mm(20.0)),
    }];
    spec.port = tube(300.0, 230.0);
    assert_eq!(overlapping(&spec), []);
    spec.port = tube(180.0, 230.0);
    assert_eq!(overlapping(&spec), [(BodyKind::PortTube(0), BodyKind::Board(PartId::Brace(0, 0)))]);
}

#[test]
fn a_brace_passed_by_strips_counts_the_common_wood_once() {
    // Strips along the depth through a brace across the depth: each prism w²/4 = 1406.25 mm² (cleat-1), 18 mm of it
    // inside the brace, four times.
    let mut spec = double_front();
    spec.strips = Some(CornerStrips {
        edges: InsideEdge::along(Axis::Depth).to_vec(),
        face: mm(75.0),
        measured: MeasuredStripFace::Wide,
        length: None,
        voids: StripVoids::Sealed,
    });
    spec.braces = vec![WindowBrace {
        count: 1,
        across: Axis::Depth,
        window: Window::new(mm(200.0), mm(200.0), mm(20.0)),
    }];
    let built = plan(&spec, &AsBuilt::new()).expect("a box");
    let shared = built.planned.ledger.volume(LedgerItem::BracedStrips).litres();
    assert_near(shared, 4.0 * 1406.25 * 18.0 * 1e-6, 1e-9);
    assert_eq!(overlapping(&spec), []);
}

#[test]
fn fit_solves_the_depth() {
    // geometry.md section 1: D = V / ((W − 2t)(H − 2t)) + tF + tK; 50 litres in 384 x 424: 307.095 + 54 = 361.095.
    let request = FitRequest {
        net: Volume::from_litres(50.0),
        space: Some(Space { size: dims(440.0, 480.0, 500.0), clearance: mm(10.0), slant: None }),
        width: None,
        height: None,
        depth: None,
    };
    let mut template = double_front();
    template.tape_step = ExactLength::ZERO;
    let found = fit(&request, &template).expect("a fit");
    assert_eq!(found.solved, Some(Axis::Depth));
    assert_eq!((found.spec.outside.width, found.spec.outside.height), (mm(420.0), mm(460.0)));
    let depth = 50e6 / (384.0 * 424.0) + 54.0;
    assert_near(found.spec.outside.depth.millimetres(), depth, 0.001);
    assert_near(found.net.litres(), 50.0, 1e-4);
    // The space takes 480 deep: 384 x 424 x 426 = 69.360 litres.
    assert_near(found.largest.expect("a limit").litres(), 384.0 * 424.0 * 426.0 * 1e-6, 1e-6);
    let too_much = fit(&FitRequest { net: Volume::from_litres(90.0), ..request }, &template).expect("a fit");
    assert!(!too_much.fits);
    assert_eq!(too_much.spec.outside.depth, mm(480.0));
}

#[test]
fn fit_takes_the_step_nearest_to_the_volume() {
    // 18.1 mm boards in 720 x 340 x 360 mm less 5 mm all round: 710 x 330, inside as cut 673.8 x 293 mm and a whole
    // number of millimetres deep. 30 litres are 151.961 mm of that: 152, outside 152 + 54.3, asked for as 207.
    let request = FitRequest {
        net: Volume::from_litres(30.0),
        space: Some(Space { size: dims(720.0, 340.0, 360.0), clearance: mm(5.0), slant: None }),
        width: None,
        height: None,
        depth: None,
    };
    let mut template = BoxSpec::plain(Dims::default(), Board::mdf(mm(18.1)));
    template.front_layers = 2;
    let found = fit(&request, &template).expect("a fit");
    assert!(found.fits);
    assert_eq!(found.spec.outside, dims(710.0, 330.0, 207.0));
    assert_near(found.net.litres(), 673.8 * 293.0 * 152.0e-6, 1e-9);
}

#[test]
fn fit_finds_the_least_depth_a_port_goes_into() {
    // One litre would need far less, but the tube ends at the back: 250 + 18 mm.
    let mut template = double_front();
    template.port = Port::Round(RoundPort {
        count: 1,
        diameter: mm(70.0),
        wall: mm(3.0),
        length: mm(250.0),
        centres: Vec::new(),
    });
    let request = FitRequest {
        net: Volume::from_litres(1.0),
        space: Some(Space { size: dims(420.0, 460.0, 480.0), clearance: ExactLength::ZERO, slant: None }),
        width: None,
        height: None,
        depth: None,
    };
    let found = fit(&request, &template).expect("a fit");
    assert!(found.fits);
    assert_eq!(found.spec.outside.depth, mm(268.0));
}

#[test]
fn boxes_that_cannot_exist_are_refused() {
    let refused = |spec: &BoxSpec| {
        matches!(
            plan(spec, &AsBuilt::new()),
            Err(ModelError::Impossible { .. } | ModelError::OutOfRange { .. })
        )
    };
    let mut spec = double_front();
    spec.outside.depth = mm(54.0);
    assert!(refused(&spec), "no inside");
    let mut spec = double_front();
    spec.front_layers = 1;
    spec.driver = Some(driver());
    assert!(refused(&spec), "a recess of one layer in one layer");
    let mut spec = double_front();
    spec.driver = Some(DriverCutout { displacement: Volume::from_litres(80.0), ..driver() });
    assert!(refused(&spec), "no air left");
    let mut spec = double_front();
    spec.outside.width = ExactLength::from_eighth_micrometres(i64::MIN);
    assert!(refused(&spec), "a silly width");
}

/// Strips with legs of 150 mm in 200 × 200 × 364 mm: opposite each other on one wall they meet; in edges diagonally opposite
/// 45° faces they don't (x + y < 150 and x + y > 250 mm), and two that end in a common corner share a³/3 (geometry.md section 3).
#[test]
fn strips_meet_only_where_they_share_a_wall() {
    let edge = |along, first, second| InsideEdge { along, first, second };
    let outside = Dims { width: mm(236.0), height: mm(236.0), depth: mm(400.0) };
    let with = |edges: &[InsideEdge]| {
        let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
        spec.tape_step = ExactLength::ZERO;
        let face = mm(150.0 * std::f64::consts::SQRT_2);
        spec.strips = Some(CornerStrips { edges: edges.to_vec(), face, ..super::upright_strips() });
        plan(&spec, &AsBuilt::new()).map(|plan| {
            let taken = |item| -plan.exact.ledger.volume(item).litres();
            taken(LedgerItem::CornerStrips) + taken(LedgerItem::StripCorners)
        })
    };
    let low = edge(Axis::Depth, End::Low, End::Low);
    let prism = |long: f64| 150.0 * 150.0 / 2.0 * long * 1e-6;
    let near = |found: f64, expected: f64| assert!((found - expected).abs() < 1e-4, "{found}, {expected}");
    near(with(&[low]).expect("a box"), prism(364.0));
    near(with(&[low, edge(Axis::Depth, End::High, End::High)]).expect("a box"), 2.0 * prism(364.0));
    let across = edge(Axis::Width, End::Low, End::Low);
    let shared = 150.0_f64.powi(3) / 3.0 * 1e-6;
    near(with(&[low, across]).expect("a box"), prism(364.0) + prism(200.0) - shared);
    // On the bottom from both sides; on the front from below and above.
    for other in [edge(Axis::Depth, End::High, End::Low), edge(Axis::Width, End::Low, End::High)] {
        assert!(matches!(with(&[low, other]), Err(ModelError::Impossible { .. })), "{other:?}");
    }
}
