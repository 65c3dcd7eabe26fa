//! Battens behind a board of a shaped box that comes off: volumes, lengths and bevels by hand and by counting points, ways
//! out by trying.
use kerf_and_coil::model::error::ModelError;
use kerf_and_coil::model::geometry::edges::{BACK, BOTTOM, FRONT, LEFT, Place, RIGHT, TOP};
use kerf_and_coil::model::geometry::profile;
use kerf_and_coil::model::geometry::spec::Loose;
use kerf_and_coil::model::geometry::{
    AsBuilt, Axis, Back, BackJoint, Batten, Board, BodyKind, BoxSpec, CornerStrips, Dims, End, Fact,
    InsideEdge, LedgerItem, PartId, Plan, Profile, Solid, Window, WindowBrace, battens, build_order, plan,
    weight,
};
use kerf_and_coil::units::ExactLength;

use super::mm;

type At = [f64; 2];

/// 900 × 360 × 340 mm of 18 mm board, 200 mm deep along the top, uncut to the tape.
fn wedge(joint: BackJoint) -> BoxSpec {
    let outside = Dims { width: mm(900.0), height: mm(360.0), depth: mm(340.0) };
    let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
    spec.tape_step = ExactLength::ZERO;
    let back = Back::TopDepth(mm(200.0));
    spec.profile = Some(Profile { setback: ExactLength::ZERO, back, joint, front: BackJoint::Over });
    spec
}

fn off(face: Place, batten: f64) -> Option<Loose> {
    Some(Loose { face, batten: mm(batten) })
}

#[track_caller]
fn planned(spec: &BoxSpec) -> Plan {
    plan(spec, &AsBuilt::new()).expect("a box")
}

#[track_caller]
fn close(actual: f64, expected: f64, by: f64) {
    assert!((actual - expected).abs() < by, "{actual}, expected {expected}");
}

/// Litres of all battens, from the ledger and from the bodies.
fn litres(plan: &Plan) -> f64 {
    let of_bodies: f64 = plan
        .planned
        .assembly
        .bodies
        .iter()
        .filter(|body| matches!(body.kind, BodyKind::Batten(_)))
        .map(|body| body.solid.volume().litres())
        .sum();
    let of_ledger = -plan.planned.ledger.volume(LedgerItem::Battens).litres();
    close(of_bodies, of_ledger, 1e-12);
    of_ledger
}

fn overlaps(plan: &Plan) -> Vec<&Fact> {
    plan.facts.iter().filter(|fact| matches!(fact, Fact::Overlap { .. })).collect()
}

/// Lean of the wedge's back, and how far its inner face stands from the front at a height.
fn inner_back(up: f64) -> (f64, f64) {
    let slope = 140.0_f64.hypot(360.0);
    ((140.0_f64 / 360.0).atan(), 340.0 - up * 140.0 / 360.0 - 18.0 * slope / 360.0)
}

/// A frame of 20 mm within the section: what is between it and the section 20 mm smaller on every edge, 20 mm thick.
#[test]
fn a_frame_behind_the_side_of_a_wedge_by_hand() {
    let mut spec = wedge(BackJoint::Over);
    let bare = weight(&spec, &planned(&spec).planned.assembly, None);
    spec.loose = off(LEFT, 20.0);
    let plan = planned(&spec);
    let (lean, foot) = inner_back(18.0);
    let head = inner_back(342.0).1;
    let trapezium = |low: f64, high: f64, up: f64| (low + high) / 2.0 * up;
    let outer = trapezium(foot - 18.0, head - 18.0, 324.0);
    // The same lines, 20 mm further in: along the level the back's moves by 20/cos.
    let narrower = |up: f64| inner_back(up).1 - 20.0 / lean.cos() - 38.0;
    let expected = (outer - trapezium(narrower(38.0), narrower(322.0), 284.0)) * 20.0;
    close(litres(&plan), expected * 1e-6, 1e-9);
    assert!(overlaps(&plan).is_empty(), "{:?}", plan.facts);
    // One for each edge, long points outside; mitred half way into corners of 90°, 90° − lean and 90° + lean.
    let (sharp, blunt) = (45.0 + lean.to_degrees() / 2.0, 45.0 - lean.to_degrees() / 2.0);
    let slope = (foot - head).hypot(324.0);
    let wanted = [(slope, [blunt, sharp]), (324.0, [45.0; 2]), (foot - 18.0, [45.0, sharp])];
    let cut = battens(&plan.planned.assembly);
    assert_eq!(cut.len(), 4, "{cut:?}");
    for (batten, (length, ends)) in cut.iter().zip(wanted) {
        close(batten.length.millimetres(), length, 0.01);
        assert_eq!((batten.count, batten.width, batten.thickness), (1, mm(20.0), mm(20.0)));
        close(batten.ends[0].degrees(), ends[0], 0.01);
        close(batten.ends[1].degrees(), ends[1], 0.01);
    }
    close(cut[3].length.millimetres(), head - 18.0, 0.01);
    // The block around what is open: as deep as it is at its foot.
    let [across, up] = plan.planned.assembly.opening(spec.loose.expect("a board"));
    close(across.millimetres(), narrower(38.0), 1e-3);
    close(up.millimetres(), 284.0, 1e-3);
    // Their wood, from 18 to 38 mm of the width, moves the weight to the left.
    let found = weight(&spec, &plan.planned.assembly, None);
    let kg = expected * 740e-9;
    close(found.wood.kilograms() - bare.wood.kilograms(), kg, 1e-9);
    let moment = found.centre_mm[1] * found.wood.kilograms() - bare.centre_mm[1] * bare.wood.kilograms();
    close(moment, kg * 28.0, 1e-6);
}

/// A leaning back that comes off: two battens across the width with one bevelled edge, together as much as square ones, and
/// two between them along the slope.
#[test]
fn battens_around_a_leaning_back_by_hand() {
    for joint in [BackJoint::Over, BackJoint::Between] {
        let mut spec = wedge(joint);
        spec.loose = off(BACK, 20.0);
        let plan = planned(&spec);
        let (lean, foot) = inner_back(18.0);
        let slope = (foot - inner_back(342.0).1).hypot(324.0);
        let volumes: Vec<f64> = plan
            .planned
            .assembly
            .bodies
            .iter()
            .filter(|body| matches!(body.kind, BodyKind::Batten(_)))
            .map(|body| body.solid.volume().cubic_metres() * 1e9)
            .collect();
        let (square, bevel) = (20.0 * 20.0, 20.0 * 20.0 * lean.tan() / 2.0);
        let along = square * (slope - 40.0);
        let wanted = [(square - bevel) * 864.0, (square + bevel) * 864.0, along, along];
        assert_eq!(volumes.len(), 4);
        for (volume, wanted) in volumes.iter().zip(wanted) {
            close(*volume, wanted, 1.0);
        }
        close(litres(&plan), (2.0 * square * 864.0 + 2.0 * along) * 1e-6, 1e-8);
        let cut = battens(&plan.planned.assembly);
        let degrees = lean.to_degrees();
        let find = |width: f64| cut.iter().find(|it| (it.width.millimetres() - width).abs() < 0.01);
        for width in [20.0, 20.0 + 20.0 * lean.tan()] {
            let batten = find(width).expect("a batten across the width");
            assert_eq!((batten.count, batten.length), (1, mm(864.0)));
            close(batten.edge.degrees(), degrees, 0.01);
        }
        let upright: Vec<&Batten> = cut.iter().filter(|it| it.count == 2).collect();
        close(upright[0].length.millimetres(), slope - 40.0, 0.01);
        let [across, up] = plan.planned.assembly.opening(spec.loose.expect("a board"));
        assert_eq!(across, mm(824.0));
        close(up.millimetres(), slope - 40.0, 1e-3);
        assert!(overlaps(&plan).is_empty(), "{:?}", plan.facts);
        let order = build_order(&plan.planned.assembly);
        let last = order.steps.last().expect("a step");
        assert_eq!((last.pieces.as_slice(), last.is_screwed), ([PartId::Back].as_slice(), true));

        // A brace of 18 mm parallel to the sides parts both across the width.
        let window = Window::new(mm(80.0), mm(120.0), mm(10.0));
        spec.braces = vec![WindowBrace { count: 1, across: Axis::Width, window }];
        let braced = planned(&spec);
        close(litres(&braced), (2.0 * square * (864.0 - 18.0) + 2.0 * along) * 1e-6, 1e-8);
        assert!(overlaps(&braced).is_empty(), "{:?}", braced.facts);
    }
}

/// Around the hollow corner of a step: an L of 464 × 214 and 264 × 150 mm and one 20 mm within.
#[test]
fn a_frame_behind_the_side_of_a_step_by_hand() {
    let outside = Dims { width: mm(600.0), height: mm(400.0), depth: mm(500.0) };
    let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
    spec.tape_step = ExactLength::ZERO;
    let back = Back::Step { height: mm(250.0), depth: mm(300.0), shallow: End::High };
    let joint = BackJoint::Over;
    spec.profile = Some(Profile { setback: ExactLength::ZERO, back, joint, front: joint });
    spec.loose = off(RIGHT, 20.0);
    let plan = planned(&spec);
    let outer = 464.0 * 214.0 + 264.0 * 150.0;
    let inner = 424.0 * 174.0 + 224.0 * 150.0;
    close(litres(&plan), (outer - inner) * 20.0 * 1e-6, 1e-9);
    assert!(overlaps(&plan).is_empty(), "{:?}", plan.facts);
    assert_eq!(battens(&plan.planned.assembly).iter().map(|it| it.count).sum::<usize>(), 6);
    // The lower back, 214 mm high inside: square battens of 564, 564, 174 and 174 mm.
    spec.loose = off(BACK, 20.0);
    close(litres(&planned(&spec)), 400.0 * 2.0 * (564.0 + 174.0) * 1e-6, 1e-9);
    spec.loose = off(TOP, 20.0);
    close(litres(&planned(&spec)), 400.0 * 2.0 * (564.0 + 224.0) * 1e-6, 1e-9);
}

/// Shapes: both faces leaning, one upright, a step below.
fn shapes() -> Vec<BoxSpec> {
    let outside = Dims { width: mm(500.0), height: mm(380.0), depth: mm(420.0) };
    let step = Back::Step { height: mm(170.0), depth: mm(260.0), shallow: End::Low };
    let joints = [BackJoint::Over, BackJoint::Between];
    let mut all = Vec::new();
    for (setback, back) in [
        (60.0, Back::TopDepth(mm(250.0))),
        (0.0, Back::TopDepth(mm(240.0))),
        (50.0, Back::Upright),
        (0.0, step),
    ] {
        for joint in joints {
            for front in joints {
                let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
                spec.tape_step = ExactLength::ZERO;
                spec.profile = Some(Profile { setback: mm(setback), back, joint, front });
                all.push(spec);
            }
        }
    }
    all
}

/// How deep two convex outlines lie in one another, by the axes square to their edges; below zero apart.
fn in_one_another(a: &[At], b: &[At]) -> f64 {
    let axes = [a, b].into_iter().flat_map(|line| {
        (0..line.len()).map(move |i| {
            let [from, to] = [line[i], line[(i + 1) % line.len()]];
            let long = (to[0] - from[0]).hypot(to[1] - from[1]);
            [(to[1] - from[1]) / long, (from[0] - to[0]) / long]
        })
    });
    let reach = |line: &[At], axis: At| {
        line.iter()
            .map(|at| at[0] * axis[0] + at[1] * axis[1])
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)))
    };
    let depth = axes.map(|axis| {
        let ((a, b), (c, d)) = (reach(a, axis), reach(b, axis));
        b.min(d) - a.max(c)
    });
    depth.fold(f64::INFINITY, f64::min)
}

/// Whether a board between the sides comes off is as trying 720 directions finds; every other board is in its place.
#[test]
fn a_board_that_can_not_be_drawn_out_is_refused() {
    for spec in shapes() {
        for (face, id) in [(BACK, PartId::Back), (TOP, PartId::Top), (BOTTOM, PartId::Bottom)] {
            let all =
                [PartId::Front(0), PartId::Back, PartId::Top, PartId::Bottom, PartId::Riser, PartId::Tread];
            let section = |id| profile::board(&spec, id).ok();
            let board = section(id).expect("a board");
            let others: Vec<[At; 4]> = all
                .into_iter()
                .filter(|other| *other != id)
                .filter_map(|other| Some(section(other)?.corners()))
                .collect();
            // Outwards: from the inner face to the outer one.
            let along = [0, 1].map(|i| board.outer[1][i] - board.outer[0][i]);
            let out = [along[1], -along[0]];
            let free = (0..720).any(|step| {
                let (sin, cos) = (f64::from(step) * std::f64::consts::PI / 360.0).sin_cos();
                let moved = board.corners().map(|at| [at[0] + 0.1 * cos, at[1] + 0.1 * sin]);
                (out[0] * cos + out[1] * sin) / along[0].hypot(along[1]) > 0.02
                    && others.iter().all(|other| in_one_another(&moved, other) < 1e-4)
            });
            let mut spec = spec.clone();
            spec.loose = off(face, 15.0);
            let found = plan(&spec, &AsBuilt::new());
            assert_eq!(found.is_ok(), free, "{face:?} of {:?}: {:?}", spec.profile, found.err());
        }
    }
}

/// Battens fill what lies within their thickness of the board and of the edges of its opening: counted on a grid of points.
#[test]
fn battens_fill_what_counting_finds() {
    const STEP: f64 = 0.5;
    let b = 26.0;
    let mut seen = 0;
    for mut spec in shapes() {
        for face in [LEFT, BACK, TOP, BOTTOM] {
            spec.loose = off(face, b);
            let Ok(plan) = plan(&spec, &AsBuilt::new()) else { continue };
            let Some(Solid::Prism { section, .. }) = plan.planned.assembly.hollow else {
                panic!("no section")
            };
            let line = section.corners().to_vec();
            // The hollow corner of a step is no matter of distances from lines.
            if line.len() > 4 && face == LEFT {
                continue;
            }
            let edge = |i: usize| [line[i % line.len()], line[(i + 1) % line.len()]];
            let inward = |[from, to]: [At; 2], at: At| {
                let long = (to[0] - from[0]).hypot(to[1] - from[1]);
                let off = [at[0] - from[0], at[1] - from[1]];
                ((to[0] - from[0]) * off[1] - (to[1] - from[1]) * off[0]) / long
            };
            let along = |[from, to]: [At; 2], at: At| {
                let long = (to[0] - from[0]).hypot(to[1] - from[1]);
                (((to[0] - from[0]) * (at[0] - from[0]) + (to[1] - from[1]) * (at[1] - from[1])) / long, long)
            };
            let wall = match face {
                BOTTOM => 0,
                TOP => line.len() - 2,
                // With the lower part shallower the back is the upper one.
                _ if line.len() > 4 => 3,
                _ => 1,
            };
            let beside = [edge(wall + line.len() - 1), edge(wall), edge(wall + 1)];
            let (mut ends, mut middle) = (0.0, 0.0);
            let mut frame = 0.0;
            for x in 0..840 {
                for y in 0..760 {
                    let at = [f64::from(x) * STEP + 0.25, f64::from(y) * STEP + 0.25];
                    if face == LEFT {
                        let deep = (0..line.len()).map(|i| inward(edge(i), at)).fold(f64::INFINITY, f64::min);
                        frame += f64::from(u8::from(deep > 0.0 && deep < b));
                        continue;
                    }
                    let behind = inward(beside[1], at);
                    let within = inward(beside[0], at) > 0.0 && inward(beside[2], at) > 0.0;
                    if behind > 0.0 && behind < b && within {
                        let (up, long) = along(beside[1], at);
                        if up < b || up > long - b { ends += 1.0 } else { middle += 1.0 }
                    }
                }
            }
            let mm3 = STEP * STEP * if face == LEFT { frame * b } else { ends * 464.0 + middle * 2.0 * b };
            let found = litres(&plan);
            assert!(
                (found - mm3 * 1e-6).abs() < 0.004 * found,
                "{face:?} of {:?}: {found}, {mm3}",
                spec.profile
            );
            seen += 1;
        }
    }
    assert!(seen > 30, "{seen}");
}

/// Strips of 50 mm in all edges end at the battens; those along them are left out.
#[test]
fn strips_of_a_shaped_box_make_room_for_battens() {
    for face in [BACK, TOP, BOTTOM, LEFT, RIGHT] {
        let mut spec = wedge(BackJoint::Between);
        spec.strips =
            Some(CornerStrips { edges: InsideEdge::all(), face: mm(50.0), ..super::upright_strips() });
        spec.strips.as_mut().expect("strips").length = None;
        let bare = planned(&spec);
        spec.loose = off(face, 20.0);
        let plan = planned(&spec);
        let strips = |plan: &Plan| {
            let bodies = plan.planned.assembly.bodies.clone().into_iter();
            bodies.filter(|body| matches!(body.kind, BodyKind::Strip(_))).collect::<Vec<_>>()
        };
        assert_eq!((strips(&bare).len(), strips(&plan).len()), (12, 8), "{face:?}");
        assert!(plan.facts.contains(&Fact::StripsInSlot { count: 4 }), "{:?}", plan.facts);
        assert!(!plan.facts.iter().any(|fact| matches!(fact, Fact::StripsLeftOut { .. })));
        assert!(overlaps(&plan).is_empty(), "{face:?}: {:?}", overlaps(&plan));
        let (lean, _) = inner_back(0.0);
        for strip in strips(&plan) {
            // As far from the inner face of the board as the battens are thick, or further.
            for at in strip.solid.prism_corners() {
                let apart = match face {
                    BACK => (inner_back(at[2]).1 - at[0]) * lean.cos(),
                    TOP => 342.0 - at[2],
                    BOTTOM => at[2] - 18.0,
                    LEFT => at[1] - 18.0,
                    _ => 882.0 - at[1],
                };
                assert!(apart > 20.0 - 1e-3, "{face:?}: {strip:?}, {apart}");
            }
        }
    }
}

/// What is too thick, leans too far or rests on nothing is refused; a front never comes off.
#[test]
fn what_battens_can_not_do() {
    let refused = |spec: &BoxSpec| matches!(plan(spec, &AsBuilt::new()), Err(ModelError::Impossible { .. }));
    let mut spec = wedge(BackJoint::Between);
    for (face, batten) in [(BACK, 0.0), (TOP, 0.0), (BOTTOM, 0.0), (LEFT, 150.0), (TOP, 90.0), (FRONT, 20.0)]
    {
        spec.loose = off(face, batten);
        assert!(refused(&spec), "{face:?}, {batten} mm");
    }
    spec.loose = off(LEFT, 0.0);
    assert!(!refused(&spec));
    // A back that leans by 47.5° over a bottom that comes off.
    spec.outside = Dims { width: mm(900.0), height: mm(220.0), depth: mm(400.0) };
    if let Some(profile) = &mut spec.profile {
        (profile.back, profile.joint) = (Back::TopDepth(mm(160.0)), BackJoint::Over);
    }
    spec.loose = off(BOTTOM, 20.0);
    assert!(refused(&spec));
}
