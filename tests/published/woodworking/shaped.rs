//! Shaped boxes: slanted back, slanted front, both, step. geometry.md section 2, and properties that hold for all.
use kerf_and_coil::model::geometry::edges::BACK;
use kerf_and_coil::model::geometry::plane::area;
use kerf_and_coil::model::geometry::{
    AsBuilt, Axis, Back, BackJoint, Board, BoardEnd, BoardFace, BodyKind, BoxSpec, CornerStrips, Dimension,
    Dims, DriverCutout, End, Fact, InsideEdge, LedgerItem, MeasuredFace, MeasuredStripFace, PartId, PartName,
    Plan, Port, Profile, Role, RoundPort, SlotPort, SlotWidth, Solid, Space, StripVoids, TerminalHole,
    Verdict, Window, WindowBrace, outlines, plan, weight,
};
use kerf_and_coil::model::geometry::{HoleShape, spec::Slant};
use kerf_and_coil::units::{ExactLength, Volume};
use proptest::prelude::*;

use super::mm;
use crate::assert_near;

/// A closed box of exact sizes in mm: width, height, depth.
fn shaped([width, height, depth]: [f64; 3], thickness: f64, setback: f64, back: Back) -> BoxSpec {
    let outside = Dims { width: mm(width), height: mm(height), depth: mm(depth) };
    let mut spec = BoxSpec::plain(outside, Board::mdf(mm(thickness)));
    spec.tape_step = ExactLength::ZERO;
    spec.profile =
        Some(Profile { setback: mm(setback), back, joint: BackJoint::Over, front: BackJoint::Over });
    spec
}

fn wedge() -> BoxSpec {
    shaped([900.0, 360.0, 340.0], 18.0, 0.0, Back::TopDepth(mm(200.0)))
}

fn step(shallow: End) -> Back {
    Back::Step { height: mm(150.0), depth: mm(230.0), shallow }
}

fn driver() -> DriverCutout {
    DriverCutout {
        count: 1,
        cutout: mm(200.0),
        flange: mm(224.0),
        depth: mm(110.0),
        magnet: mm(130.0),
        displacement: Volume::from_litres(1.6),
        pole_vent: Some(mm(30.0)),
        recess: None,
        centres: Vec::new(),
        elsewhere: Vec::new(),
    }
}

#[track_caller]
fn planned(spec: &BoxSpec) -> Plan {
    plan(spec, &AsBuilt::new()).expect("a box")
}

/// One of each shape, with something in it.
fn all_shapes() -> Vec<BoxSpec> {
    let mut all = vec![
        wedge(),
        shaped([700.0, 340.0, 380.0], 18.0, 60.0, Back::Upright),
        shaped([820.0, 340.0, 380.0], 18.0, 60.0, Back::TopDepth(mm(240.0))),
        shaped([600.0, 380.0, 400.0], 18.0, 0.0, step(End::High)),
        shaped([600.0, 380.0, 400.0], 18.0, 0.0, step(End::Low)),
    ];
    for spec in &mut all {
        spec.front_layers = 2;
        spec.driver = Some(driver());
        let window = Window::new(mm(60.0), mm(120.0), mm(10.0));
        spec.braces = vec![WindowBrace { count: 1, across: Axis::Width, window }];
        spec.terminal = Some(TerminalHole {
            face: BACK,
            window: None,
            shape: HoleShape::Rectangle(Window::new(mm(70.0), mm(60.0), ExactLength::ZERO)),
            cup_depth: mm(40.0),
            cup_volume: None,
            centre: None,
        });
        spec.strips = Some(CornerStrips {
            edges: InsideEdge::vertical().to_vec(),
            face: mm(50.0),
            measured: MeasuredStripFace::Wide,
            length: None,
            voids: StripVoids::Sealed,
        });
    }
    all
}

fn volume(plan: &Plan, wanted: impl Fn(Role) -> bool) -> f64 {
    let bodies = plan.exact.assembly.bodies.iter().filter(|body| wanted(body.role));
    bodies.map(|body| body.solid.volume().litres()).sum()
}

/// Area of the outline in mm², from the sizes asked for.
fn side_area(spec: &BoxSpec) -> f64 {
    let profile = spec.profile.expect("a shape");
    let [depth, _, height] = spec.outside.millimetres();
    let setback = profile.setback.millimetres();
    match profile.back {
        Back::Upright => (2.0 * depth - setback) / 2.0 * height,
        Back::TopDepth(top) => (depth + top.millimetres()) / 2.0 * height,
        Back::Slope { run, rise } => {
            let top = depth - setback - run.millimetres() * height / rise.millimetres();
            (depth + top) / 2.0 * height
        }
        Back::Step { height: up, depth: less, shallow } => {
            let (up, less) = (up.millimetres(), less.millimetres());
            let whole = match shallow {
                End::High => depth * up + less * (height - up),
                End::Low => less * up + depth * (height - up),
            };
            whole - setback * height / 2.0
        }
    }
}

// Part volumes + net + displaced = outside volume: what the issue asks of every shape.
#[test]
fn boards_air_and_bodies_fill_the_outside() {
    for spec in all_shapes() {
        let plan = planned(&spec);
        let ledger = &plan.exact.ledger;
        let outside = side_area(&spec) * spec.outside.width.millimetres() * 1e-6;
        let shell = volume(&plan, |role| role == Role::Shell);
        assert_near(shell + ledger.gross.litres(), outside, 1e-6 * outside);
        let displaced = volume(&plan, |role| role == Role::Displaced) + 1.6;
        let gained = volume(&plan, |role| role == Role::GainedAir);
        assert_near(shell + ledger.net.litres() + displaced - gained, outside, 1e-6 * outside);
    }
}

// geometry.md section 2: (W − 2t)(H − 2t) × ((Db + Dt)/2 − tF − t/cosθ); a step by its two rectangles.
#[test]
fn the_inside_of_wedges_and_steps_by_hand() {
    for layers in [1_u8, 2] {
        for joint in [BackJoint::Over, BackJoint::Between] {
            let mut spec = wedge();
            spec.front_layers = layers;
            spec.profile = spec.profile.map(|profile| Profile { joint, ..profile });
            let lean = (140.0_f64 / 360.0).atan();
            let front = 18.0 * f64::from(layers);
            let deep = (340.0 + 200.0) / 2.0 - front - 18.0 / lean.cos();
            let litres = 864.0 * 324.0 * deep * 1e-6;
            assert_near(planned(&spec).net().litres(), litres, 1e-6 * litres);
        }
        for shallow in [End::High, End::Low] {
            let mut spec = shaped([600.0, 380.0, 400.0], 18.0, 0.0, step(shallow));
            spec.front_layers = layers;
            let front = 18.0 * f64::from(layers);
            let [deep, less] = [400.0, 230.0].map(|depth| depth - front - 18.0);
            let inner = match shallow {
                End::High => deep * (150.0 - 36.0) + less * (380.0 - 150.0),
                End::Low => less * 150.0 + deep * (380.0 - 150.0 - 36.0),
            };
            let litres = 564.0 * inner * 1e-6;
            assert_near(planned(&spec).net().litres(), litres, 1e-6 * litres);
        }
    }
}

// A front that leans is the same box turned round: the wedge with front and back exchanged has the same inside.
#[test]
fn a_leaning_front_is_a_wedge_turned_round() {
    let wedge = planned(&wedge()).net();
    let turned = planned(&shaped([900.0, 360.0, 340.0], 18.0, 140.0, Back::Upright)).net();
    assert_near(turned.litres(), wedge.litres(), 1e-6 * wedge.litres());
}

#[test]
fn bevels_and_long_points_of_the_wedge() {
    // Case wedge-1 of the reference.
    let plan = planned(&wedge());
    let part = |name| plan.parts.iter().find(|part| part.name == name).expect("a part");
    let back = part(PartName::Back);
    let tilts: Vec<f64> = back.bevels.iter().map(|bevel| bevel.tilt.degrees()).collect();
    assert_eq!(tilts, [21.25, 21.25]);
    assert_eq!(back.bevels[0].end, BoardEnd::Lower);
    assert_ne!(back.bevels[0].long_on, back.bevels[1].long_on, "parallel ends");
    assert_near(back.width.exact.millimetres(), 393.264_158, 1e-3);
    assert_eq!(back.width.measured_on, MeasuredFace::LongPoints);
    let bottom = part(PartName::Bottom);
    assert_eq!((bottom.bevels.len(), bottom.bevels[0].end), (1, BoardEnd::Rear));
    assert_eq!(bottom.bevels[0].long_on, BoardFace::Outside);
    assert_near(bottom.width.exact.millimetres(), 302.686_792, 1e-3);
    let top = part(PartName::Top);
    assert_eq!(top.bevels[0].long_on, BoardFace::Inside);
    assert_near(top.width.exact.millimetres(), 169.686_792, 1e-3);
    assert!(part(PartName::Side).shaped && part(PartName::Side).bevels.is_empty());
    // The table setting of the back is its face, that of the bottom its short point, both from the reference; the
    // saw's tilt is in hundredths of a degree.
    let at_table = |name| {
        let setting = plan.fence.iter().find(|s| s.cuts.iter().any(|c| c.name == name && c.bevel.is_some()));
        setting.expect("a setting").at_table(mm(18.0)).millimetres()
    };
    assert_near(at_table(PartName::Back), 386.264_158, 0.01);
    assert_near(at_table(PartName::Bottom), 295.686_792, 0.01);
    assert_near(at_table(PartName::Top), 162.686_792, 0.01);
    // Square blanks first, bevels last; both ends of the back at one setting.
    let first_bevel = plan.fence.iter().position(|s| s.tilt.degrees() > 0.0).expect("a bevel");
    assert!(plan.fence.iter().skip(first_bevel).all(|s| s.cuts.iter().all(|c| c.bevel.is_some())));
    let of_back = plan.fence.iter().flat_map(|s| &s.cuts).filter(|c| c.name == PartName::Back);
    assert_eq!(of_back.filter(|c| c.bevel.is_some()).count(), 2);
}

// profile-1 of the reference: butt tilts 10.008° at the front, 13.2405° at the back.
#[test]
fn both_ends_of_a_double_slant_have_their_own_bevel() {
    let plan = planned(&shaped([820.0, 340.0, 380.0], 18.0, 60.0, Back::TopDepth(mm(240.0))));
    assert_near(plan.net().litres(), 65.120_620, 1e-5);
    let bottom = plan.parts.iter().find(|part| part.name == PartName::Bottom).expect("a bottom");
    let found: Vec<_> = bottom.bevels.iter().map(|b| (b.end, b.tilt.degrees(), b.long_on)).collect();
    assert_eq!(
        found,
        [(BoardEnd::Front, 10.01, BoardFace::Outside), (BoardEnd::Rear, 13.24, BoardFace::Outside)]
    );
}

#[test]
fn boards_of_a_step_are_square() {
    for shallow in End::BOTH {
        let plan = planned(&shaped([600.0, 380.0, 400.0], 18.0, 0.0, step(shallow)));
        assert!(plan.parts.iter().all(|part| part.bevels.is_empty()));
        let size = |id, dimension| plan.exact.sizes.get(id, dimension).millimetres();
        let lower = if shallow == End::High { PartId::Back } else { PartId::Riser };
        // From the underside to the level of the step: the lower upright board covers the bottom, and either covers the
        // step board above it or, in the inside corner, stands up to its upper face.
        assert_near(size(lower, Dimension::Height), 150.0, 1e-3);
        // The step board runs through in the inside corner and stops at the upright board behind.
        assert_near(size(PartId::Tread, Dimension::Depth), 400.0 - 230.0, 1e-3);
    }
}

// The rim of the magnet, not its axis, comes nearest to a back that leans over it.
#[test]
fn the_magnets_rim_against_a_slanted_back() {
    let mut spec = wedge();
    spec.driver = Some(driver());
    let plan = planned(&spec);
    let lean = (140.0_f64 / 360.0).atan();
    // Inside face of the back: depth 340 − z tanθ − t/cosθ at height z; the driver sits half way up.
    let up = plan.current().assembly.layout.drivers[0].height.millimetres();
    let free = |z: f64| 340.0 - z * lean.tan() - 18.0 / lean.cos();
    let rim = (free(up + 65.0) - 110.0) * lean.cos();
    let axis = free(up) - 110.0;
    assert!(rim < axis * lean.cos());
    let gap = plan.facts.iter().find_map(|fact| match fact {
        Fact::MagnetToBack { gap } => Some(gap.millimetres()),
        _ => None,
    });
    assert_near(gap.expect("a gap"), rim, 1e-3);
    let vent = plan.facts.iter().find_map(|fact| match fact {
        Fact::PoleVent { gap, .. } => Some(gap.millimetres()),
        _ => None,
    });
    assert_near(vent.expect("a gap"), axis, 1e-3);
    // A deeper driver whose axis still clears the back runs into it with its rim.
    if let Some(driver) = &mut spec.driver {
        driver.depth = mm(free(up + 65.0) + 5.0);
    }
    assert!(free(up) > free(up + 65.0) + 5.0);
    let stopped = planned(&spec);
    let magnet = stopped.facts.iter().find(|fact| matches!(fact, Fact::MagnetToBack { .. }));
    assert_eq!(magnet.map(Fact::verdict), Some(Verdict::Fails));
}

#[test]
fn a_leaning_front_carries_driver_and_tube_square_to_it() {
    let mut spec = shaped([700.0, 380.0, 420.0], 18.0, 120.0, Back::Upright);
    spec.driver = Some(driver());
    spec.port = Port::Round(RoundPort {
        count: 1,
        diameter: mm(70.0),
        wall: mm(3.0),
        length: mm(150.0),
        centres: Vec::new(),
    });
    let plan = planned(&spec);
    let lean = (120.0_f64 / 380.0).atan();
    let bodies = &plan.exact.assembly.bodies;
    for body in bodies.iter().filter(|b| matches!(b.kind, BodyKind::DriverHole(_) | BodyKind::PortTube(_))) {
        assert_near(body.turn.expect("turned").lean, lean, 1e-9);
    }
    let net = plan.exact.ledger.gross.litres() - plan.net().litres();
    // Tube 76 mm outside, 132 mm behind the front; driver 1.6 l; hole 200 mm × 18 mm gained.
    let pi = std::f64::consts::PI;
    let taken = pi / 4.0 * (76.0 * 76.0 * 132.0 - 200.0 * 200.0 * 18.0) * 1e-6 + 1.6;
    assert_near(net, taken, 1e-6);
    // The template of the front is a plain rectangle as long as the slope, with round holes.
    let front = outlines(&plan.exact).into_iter().find(|o| o.part == PartId::Front(0)).expect("a front");
    assert_near(front.size[1].millimetres(), 380.0 / lean.cos() + 18.0 * lean.tan(), 1e-3);
    assert_eq!(front.holes.len(), 2);
    assert!(front.edge.is_empty());
}

#[test]
fn what_such_boxes_cannot_have_is_refused() {
    let mut slot = shaped([700.0, 380.0, 420.0], 18.0, 120.0, Back::Upright);
    let width = SlotWidth::AgainstSide(mm(200.0));
    slot.port = Port::Slot(SlotPort { height: mm(40.0), length: mm(200.0), width, bends: 0 });
    let mut brace = wedge();
    let window = Window::new(mm(60.0), mm(60.0), ExactLength::ZERO);
    brace.braces = vec![WindowBrace { count: 1, across: Axis::Depth, window }];
    let mut long = wedge();
    long.port =
        Port::Slot(SlotPort { height: mm(40.0), length: mm(310.0), width: SlotWidth::Full, bends: 0 });
    let upside_down = shaped([700.0, 380.0, 300.0], 18.0, 0.0, Back::TopDepth(mm(350.0)));
    let flat = shaped([700.0, 380.0, 300.0], 18.0, 0.0, Back::TopDepth(mm(20.0)));
    let deep = shaped([700.0, 380.0, 230.0], 18.0, 0.0, step(End::High));
    for (spec, word) in [
        (slot, "slot"),
        (brace, "brace"),
        (long, "slot"),
        (upside_down, "upside"),
        (flat, "inside"),
        (deep, "step"),
    ] {
        let error = plan(&spec, &AsBuilt::new()).expect_err(word);
        assert!(error.to_string().contains(word), "{word}: {error}");
    }
}

fn strips_in(edges: Vec<InsideEdge>) -> Option<CornerStrips> {
    all_shapes().remove(0).strips.map(|strips| CornerStrips { edges, ..strips })
}

fn edge(along: Axis, first: End, second: End) -> InsideEdge {
    InsideEdge { along, first, second }
}

/// Volume that strips of a 50 mm wide face close off in the wedge of geometry.md section 2: 900 wide, 360 high, 340 and 200 deep,
/// all of 18 mm, the back leaning by 21.2505°; inside 324 mm high and, at a height z above the floor, 322 − z tan θ − 18/cos θ
/// deep. By hand: w²/4 for each mm where boards meet at 90°, w²/(4 tan(φ/2)) where they meet at φ; an end that leans by θ
/// takes (a/3) tan θ off the length in the mean, as the centre of the section lies a third of the leg a from the wall.
#[test]
fn strips_at_a_leaning_back_by_hand() {
    use End::{High, Low};
    let lean = (140.0_f64 / 360.0).atan();
    let leg = 50.0 / 2.0_f64.sqrt();
    let deep = |z: f64| 322.0 - z * lean.tan() - 18.0 / lean.cos();
    let right = 50.0 * 50.0 / 4.0;
    let cases = [
        // Both ends of the strip at the back lean alike, so that all its edges are as long as the back.
        ("up the back", edge(Axis::Height, High, Low), right * 324.0 / lean.cos(), 45.0),
        ("up the front", edge(Axis::Height, Low, Low), right * 324.0, 45.0),
        ("along the floor", edge(Axis::Depth, Low, Low), right * (deep(18.0) - leg / 3.0 * lean.tan()), 45.0),
        // At the top the back leans away from the strip.
        ("along the top", edge(Axis::Depth, Low, High), right * (deep(342.0) + leg / 3.0 * lean.tan()), 45.0),
        (
            "across, at the foot of the back",
            edge(Axis::Width, High, Low),
            0.0,
            45.0 - lean.to_degrees() / 2.0,
        ),
        ("across, at its head", edge(Axis::Width, High, High), 0.0, 45.0 + lean.to_degrees() / 2.0),
        ("across, at the front", edge(Axis::Width, Low, Low), right * 864.0, 45.0),
    ];
    for (name, edge, mm3, tilt) in cases {
        let mut spec = wedge();
        spec.strips = strips_in(vec![edge]);
        let plan = planned(&spec);
        let mm3 = if mm3 > 0.0 { mm3 } else { right / tilt.to_radians().tan() * 864.0 };
        assert_near(-plan.exact.ledger.volume(LedgerItem::CornerStrips).litres(), mm3 * 1e-6, 1e-6);
        assert!(!plan.facts.iter().any(|fact| matches!(fact, Fact::StripsLeftOut { .. })), "{name}");
        let part = plan.parts.iter().find(|part| part.name == PartName::CornerStrip).expect(name);
        assert!((part.width.tilt.degrees() - tilt).abs() < 0.006, "{name}: {}", part.width.tilt.degrees());
    }
    // From long point to long point; two angles at once at either end.
    let mut spec = wedge();
    spec.strips = strips_in(vec![edge(Axis::Height, High, Low)]);
    let plan = planned(&spec);
    let part = plan.parts.iter().find(|part| part.name == PartName::CornerStrip).expect("a strip");
    assert!((part.length.planned.millimetres() - (324.0 / lean.cos() + leg * lean.tan())).abs() < 1e-3);
    let angles = [(lean.tan() / 2.0_f64.sqrt()).atan(), (lean.sin() / 2.0_f64.sqrt()).asin()];
    for end in &part.oblique {
        for (found, wanted) in [end.gauge, end.blade].into_iter().zip(angles) {
            assert!((found.degrees() - wanted.to_degrees()).abs() < 0.006, "{found:?}");
        }
    }
    assert_eq!(part.oblique.len(), 2);
    // The hollow behind a strip across the foot: its hidden face is 2t tan(φ/2) narrower.
    let mut spec = wedge();
    spec.strips = strips_in(vec![edge(Axis::Width, High, Low)]).map(|strips| CornerStrips {
        face: mm(90.0),
        voids: StripVoids::Open,
        ..strips
    });
    let half = std::f64::consts::FRAC_PI_4 - lean / 2.0;
    let narrow = 90.0 - 36.0 * half.tan();
    let wood = (90.0 * 90.0 - narrow * narrow) / (4.0 * half.tan()) * 864.0 * 1e-6;
    let ledger = planned(&spec).exact.ledger;
    let taken = ledger.volume(LedgerItem::CornerStrips) + ledger.volume(LedgerItem::StripVoids);
    assert_near(-taken.litres(), wood, 1e-6);
}

/// All twelve in a box whose every board stands upright, given as a shape: geometry.md section 3, (a²/2)·4(Wi+Hi+Di) − 6a³.
#[test]
fn strips_that_meet_share_their_corners() {
    let mut spec = shaped([600.0, 380.0, 400.0], 18.0, 0.0, Back::Upright);
    spec.strips = strips_in(InsideEdge::all());
    let a = 50.0 / 2.0_f64.sqrt();
    let total = a * a / 2.0 * 4.0 * (564.0 + 344.0 + 364.0) - 6.0 * a * a * a;
    let ledger = planned(&spec).exact.ledger;
    let taken = ledger.volume(LedgerItem::CornerStrips) + ledger.volume(LedgerItem::StripCorners);
    assert_near(-taken.litres(), total * 1e-6, 1e-6);
}

/// In a step all edges that meet a side or run across have a strip but those up the two boards at its back.
#[test]
fn strips_around_a_step() {
    let mut spec = shaped([600.0, 380.0, 400.0], 18.0, 0.0, step(End::High));
    spec.strips = strips_in(InsideEdge::all());
    let plan = planned(&spec);
    let strips = plan.exact.assembly.bodies.iter().filter(|b| matches!(b.kind, BodyKind::Strip(_)));
    assert_eq!(strips.count(), 2 + 4 + 4);
    assert!(plan.facts.contains(&Fact::StripsLeftOut { count: 2 }));
    // Strips so wide that two meet in the middle of the short top are left out there.
    let mut spec = wedge();
    spec.strips = strips_in(InsideEdge::all()).map(|strips| CornerStrips { face: mm(130.0), ..strips });
    let plan = planned(&spec);
    assert!(plan.facts.iter().any(|fact| matches!(fact, Fact::StripsLeftOut { .. })), "{:?}", plan.facts);
}

#[test]
fn a_bottom_cut_short_brings_the_foot_of_the_back_forward() {
    let spec = wedge();
    let short = planned(&spec).planned.sizes.get(PartId::Bottom, Dimension::Depth) - mm(4.0);
    let as_built = AsBuilt::from([((PartId::Bottom, Dimension::Depth), short)]);
    let built = plan(&spec, &as_built).expect("a box");
    // The foot stands 4 mm and the little that the steeper back takes further forward.
    let foot = {
        let bottom = short.millimetres();
        let mut foot: f64 = 336.0;
        for _ in 0..20 {
            let lean = ((foot - 200.0) / 360.0).atan();
            foot = bottom + 18.0 + 18.0 / lean.cos();
        }
        foot
    };
    let lean = ((foot - 200.0) / 360.0).atan();
    // The top's own length keeps its long point: it moves the head by the change of its bevel only.
    let litres = built.net().litres();
    let near = 864.0 * 324.0 * ((foot + 200.0) / 2.0 - 18.0 - 18.0 / lean.cos()) * 1e-6;
    assert_near(litres, near, 1e-3 * near);
    assert!(litres < built.planned.ledger.net.litres() - 0.4);
}

#[test]
fn a_leaning_limit_of_the_space() {
    // A box flush with the limit: foot 340 and top 200 over 360 in a space of the same lean, 10 mm air all round.
    let mut spec = wedge();
    let lean = 140.0_f64 / 360.0;
    let gap = 10.0;
    // Moved 10 mm from front and floor and 10 mm square to the limit.
    let deep = 340.0 + gap + gap * lean + gap * lean.hypot(1.0);
    let up = 400.0;
    let slant = Slant { depth: mm(deep), top_depth: mm(deep - up * lean), height: mm(up) };
    let size = Dims { width: mm(920.0), height: mm(up), depth: mm(deep) };
    spec.space = Some(Space { size, clearance: mm(gap), slant: Some(slant) });
    let spare = |spec: &BoxSpec| {
        planned(spec).facts.iter().find_map(|fact| match fact {
            Fact::SlantedSpace { spare } => Some(spare.millimetres()),
            _ => None,
        })
    };
    assert_near(spare(&spec).expect("a fact"), 0.0, 1e-3);
    // A rectangular box of the same foot sticks through it at its top by the run, square to the limit.
    spec.profile = None;
    assert_near(spare(&spec).expect("a fact"), -140.0 * lean.atan().cos(), 1e-3);
}

#[test]
fn weight_of_a_wedge_from_its_sections() {
    let spec = wedge();
    let plan = planned(&spec);
    let section = kerf_and_coil::model::geometry::profile::side(&spec).expect("a side");
    let ring = area(section.outline()) - area(section.inner());
    let litres = (2.0 * 18.0 * area(section.outline()) + 864.0 * ring) * 1e-6;
    assert_near(plan.board_mass(&spec).kilograms(), litres * 0.740, 1e-6);
    let found = weight(&spec, &plan.exact.assembly, None);
    assert_near(found.total.kilograms(), litres * 0.740, 1e-6);
    assert_near(found.centre_mm[1], 450.0, 1e-6);
}

/// A wedge of 18.1 mm and a front of two layers, 349.4 mm deep below and 149.4 mm above as its bottom and top are cut to the
/// millimetre. By hand: bottom and top end at the back's inner face, which along them lies 18.1/cos θ before its outer one
/// with tan θ = 200/330: 349.365 − 21.165 − 36.2 = 292 mm, and from the inner face of the top's upper edge likewise.
#[test]
fn sides_end_where_the_back_stands() {
    let mut spec = shaped([557.2, 330.0, 350.0], 18.1, 0.0, Back::TopDepth(mm(150.0)));
    (spec.front_layers, spec.tape_step) = (2, mm(1.0));
    let plan = planned(&spec);
    let size = |id, dimension| plan.planned.sizes.get(id, dimension).millimetres();
    let bottom = size(PartId::Bottom, Dimension::Depth);
    assert_near(bottom, 292.0, 0.0);
    // The top's long point is on its lower, inner face: 18.1 mm further down the back.
    let top = size(PartId::Top, Dimension::Depth);
    let lean = |low: f64, high: f64| ((low - high) / 330.0_f64).atan();
    let (mut low, mut high) = (350.0, 150.0);
    for _ in 0..50 {
        let lean = lean(low, high);
        low = bottom + 36.2 + 18.1 / lean.cos();
        high = top + 36.2 + 18.1 / lean.cos() - 18.1 * lean.tan();
    }
    assert_near(low, 349.4, 0.05);
    assert_near(size(PartId::Left, Dimension::Depth), low, 1e-3);
    let side = outlines(plan.current()).into_iter().find(|it| it.part == PartId::Left).expect("a side");
    let by_hand = [[0.0, 0.0], [low, 0.0], [high, 330.0], [0.0, 330.0]];
    for ((at, _), expected) in side.edge.iter().zip(by_hand) {
        (0..2).for_each(|i| assert_near(at[i], expected[i], 1e-3));
    }
    let part = plan.parts.iter().find(|part| part.name == PartName::Side).expect("sides");
    assert_near(part.length.planned.millimetres(), low, 1e-3);
}

/// How far a point lies from the line through two others.
fn off_line([a, b]: [[f64; 2]; 2], at: [f64; 2]) -> f64 {
    let (way, to) = ([b[0] - a[0], b[1] - a[1]], [at[0] - a[0], at[1] - a[1]]);
    (way[0] * to[1] - way[1] * to[0]).abs() / way[0].hypot(way[1])
}

/// The outer faces of the boards around the side, as they stand.
fn outer_faces(plan: &Plan) -> Vec<[[f64; 2]; 2]> {
    use PartId::{Back, Bottom, Front, Riser, Top, Tread};
    let around = |body: &&kerf_and_coil::model::geometry::Body| {
        matches!(body.kind, BodyKind::Board(Front(0) | Back | Bottom | Top | Tread | Riser))
    };
    let faces = plan.planned.assembly.bodies.iter().filter(around).map(|body| {
        let Solid::Prism { section, .. } = body.solid else { panic!("a board across the width") };
        let place = |at| body.turn.map_or(at, |turn| turn.point(at));
        [place(section.corners()[0]), place(section.corners()[1])]
    });
    faces.collect()
}

fn any_shape() -> impl Strategy<Value = BoxSpec> {
    let sizes = (100.0..1200.0_f64, 60.0..700.0_f64, 60.0..700.0_f64, 3.0..40.0_f64);
    let back = (0..5_u8, 10.0..700.0_f64, 10.0..700.0_f64);
    let more = (0.0..300.0_f64, any::<[bool; 4]>(), 0..4_u8);
    (sizes, back, more).prop_map(|((width, height, depth, board), (kind, a, b), (setback, flags, port))| {
        let back = match kind {
            0 => Back::Upright,
            1 => Back::TopDepth(mm(a)),
            2 => Back::Slope { run: mm(a), rise: mm(b) },
            3 => Back::Step { height: mm(a), depth: mm(b), shallow: End::High },
            _ => Back::Step { height: mm(a), depth: mm(b), shallow: End::Low },
        };
        let setback = if flags[0] { setback } else { 0.0 };
        let mut spec = shaped([width, height, depth], board, setback, back);
        let full = all_shapes().remove(0);
        spec.tape_step = if flags[1] { mm(1.0) } else { ExactLength::ZERO };
        if let Some(profile) = &mut spec.profile {
            profile.joint = if flags[2] { BackJoint::Between } else { BackJoint::Over };
        }
        if flags[3] {
            (spec.driver, spec.strips, spec.terminal) = (full.driver, full.strips, full.terminal);
            if let Some(strips) = spec.strips.as_mut().filter(|_| flags[1]) {
                (strips.edges, strips.voids) = (InsideEdge::all(), StripVoids::Open);
            }
        }
        spec.port = match port {
            1 => Port::Round(RoundPort {
                count: 1,
                diameter: mm(a.min(90.0)),
                wall: mm(3.0),
                length: mm(b),
                centres: Vec::new(),
            }),
            2 => Port::Slot(SlotPort {
                height: mm(a.min(50.0)),
                length: mm(b),
                width: SlotWidth::Full,
                bends: 0,
            }),
            _ => Port::None,
        };
        spec
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(512))]

    // Whatever is asked for: a box whose boards and inside fill the outline, or an error; never a number that is none.
    #[test]
    fn any_shape_fills_its_outline_or_is_refused(spec in any_shape()) {
        let Ok(plan) = plan(&spec, &AsBuilt::new()) else { return Ok(()) };
        for build in [&plan.exact, &plan.planned] {
            let side = build.assembly.bodies.iter().find(|b| b.kind == BodyKind::Board(PartId::Left));
            let Some(Solid::Prism { section, .. }) = side.map(|side| side.solid) else { panic!("a side") };
            let outside = area(section.corners()) * build.assembly.outside.width.millimetres() * 1e-6;
            let shell: f64 = build.assembly.with_role(Role::Shell).map(|b| b.solid.volume().litres()).sum();
            prop_assert!((shell + build.ledger.gross.litres() - outside).abs() < 2e-6 * outside.max(1.0));
            prop_assert!(build.ledger.net.litres().is_finite());
        }
        // As cut: no piece is a step off what was asked for, and the box is no larger.
        let step = spec.tape_step.millimetres().max(1e-3);
        // Where the height loses a step, a board along a back that leans by so much over so much loses that many.
        let slope = |run: f64, rise: f64| run.hypot(rise) / rise;
        let lean = match spec.profile.as_ref().map(|profile| (profile.back, profile.setback)) {
            Some((Back::Slope { run, rise }, _)) => slope(run.millimetres(), rise.millimetres()),
            Some((Back::TopDepth(top), setback)) => {
                slope((spec.outside.depth - top - setback).millimetres(), spec.outside.height.millimetres())
            }
            _ => 1.0,
        };
        // Not strips: whether one stands on a slot's roof may turn by a hair.
        for part in plan.parts.iter().filter(|part| part.name != PartName::CornerStrip) {
            for cut in part.cuts() {
                let off = (cut.planned - cut.exact).millimetres().abs();
                prop_assert!(off < 3.0 * step * lean, "{:?}: {off}", part.name);
            }
        }
        // Every corner of the sides lies in the outer faces of the two boards that meet there.
        let faces = outer_faces(&plan);
        for side in outlines(&plan.planned).iter().filter(|it| matches!(it.part, PartId::Left | PartId::Right)) {
            let [deep, high] = side.size.map(ExactLength::millimetres);
            let block = [[0.0, 0.0], [deep, 0.0], [deep, high], [0.0, high]];
            let edge: Vec<[f64; 2]> = side.edge.iter().map(|(at, _)| *at).collect();
            let corners = if edge.is_empty() { block.to_vec() } else { edge };
            prop_assert_eq!(corners.len(), faces.len());
            for at in corners {
                let on = faces.iter().filter(|face| off_line(**face, at) < 1e-3).count();
                prop_assert!(on >= 2, "{at:?} of {faces:?}");
            }
        }
        for outline in outlines(plan.current()) {
            prop_assert!(outline.edge.iter().all(|(at, _)| at.iter().all(|x| x.is_finite())));
        }
    }
}
