//! Blocks that take up air, by brute force: points all over each block, in place and on every step of its way, against
//! points in every body of the box.
use kerf_and_coil::model::geometry::{
    AsBuilt, Board, Body, BodyKind, BoxSpec, Dims, DriverCutout, Insert, Plan, Role, insert, plan,
};
use kerf_and_coil::units::Volume;
use proptest::prelude::*;

use super::mm;
use crate::fittings::Fittings;
use crate::solids::holds;

fn furnished() -> impl Strategy<Value = BoxSpec> {
    let size = (350..900_i32, 320..520_i32, 260..560_i32, 1..=2_u8);
    let driver = (1..=2_u8, 180..300_i32, 90..190_i32, any::<bool>());
    let parts = (0..3_u8, 0..4_u8, 0..4_u8, any::<bool>(), 30..90_i32);
    (size, driver, parts).prop_map(|(size, driver, (strips, port, braces, terminal, face))| {
        let (w, h, d, layers) = size;
        let outside = Dims { width: mm(w.into()), height: mm(h.into()), depth: mm(d.into()) };
        let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
        spec.front_layers = layers;
        let (count, cutout, depth, vented) = driver;
        spec.driver = Some(DriverCutout {
            count,
            cutout: mm(cutout.into()),
            flange: mm(f64::from(cutout) + 25.0),
            depth: mm(depth.into()),
            magnet: mm(f64::from(cutout) * 0.6),
            displacement: Volume::from_litres(2.0),
            pole_vent: vented.then(|| mm(30.0)),
            recess: None,
            centres: Vec::new(),
            elsewhere: Vec::new(),
        });
        Fittings { strips, face, port, brace: braces, terminal }.put_into(&mut spec);
        spec
    })
}

/// What stands in a box while blocks go in, and what may not be touched once they are in.
fn bodies(plan: &Plan) -> (Vec<Body>, Vec<Body>) {
    let inside = |body: &&Body| matches!(body.role, Role::Shell | Role::Displaced | Role::Hull);
    let all: Vec<Body> = plan.current().assembly.bodies.iter().filter(inside).copied().collect();
    all.into_iter().partition(|body| !matches!(body.kind, BodyKind::Driver(_)))
}

/// Points all over a block, its faces included, about so far apart.
fn points(min: [f64; 3], size: [f64; 3], apart: f64) -> Vec<[f64; 3]> {
    let count = size.map(|side| (side / apart).ceil().max(1.0) as usize);
    let mut all = Vec::new();
    for i in 0..=count[0] {
        for j in 0..=count[1] {
            for k in 0..=count[2] {
                let share =
                    [i as f64 / count[0] as f64, j as f64 / count[1] as f64, k as f64 / count[2] as f64];
                all.push([0, 1, 2].map(|axis| min[axis] + size[axis] * share[axis]));
            }
        }
    }
    all
}

fn blocked(bodies: &[Body], holes: &[Body], min: [f64; 3], size: [f64; 3]) -> Option<BodyKind> {
    let points = points(min, size, 12.0);
    // The front is open where its holes are.
    let open = |point: [f64; 3]| holes.iter().any(|hole| holds(&hole.solid, point, -1e-6));
    let hit = bodies.iter().find(|body| {
        let bounds = body.solid.bounds();
        let near = (0..3).all(|i| bounds.max[i] > min[i] && bounds.min[i] < min[i] + size[i]);
        near && points.iter().any(|&point| holds(&body.solid, point, 1e-6) && !open(point))
    });
    hit.map(|body| body.kind)
}

/// The steps of a straight way, 15 mm apart.
fn steps(from: [f64; 3], to: [f64; 3]) -> Vec<[f64; 3]> {
    let far = (0..3).map(|i| (to[i] - from[i]).abs()).fold(0.0, f64::max);
    let count = (far / 15.0).ceil().max(1.0) as usize;
    (0..=count).map(|n| [0, 1, 2].map(|i| from[i] + (to[i] - from[i]) * n as f64 / count as f64)).collect()
}

/// Whether a block of this size gets from outside to its place, by trying both ways round the corner at every step.
fn gets_there(plan: &Plan, bodies: &[Body], at: [f64; 3], size: [f64; 3]) -> bool {
    let assembly = &plan.current().assembly;
    let holes: Vec<Body> =
        assembly.bodies.iter().filter(|body| matches!(body.kind, BodyKind::DriverHole(_))).copied().collect();
    let front = assembly.inside_min.depth.millimetres();
    assembly.layout.drivers.iter().any(|hole| {
        let [_, w, h] = hole.millimetres();
        let before = [-size[0], w - size[1] / 2.0, h - size[2] / 2.0];
        let entry = [at[0], before[1], before[2]];
        let free = |place: &[f64; 3]| blocked(bodies, &holes, *place, size).is_none();
        [[at[0], at[1], entry[2]], [at[0], entry[1], at[2]]].iter().any(|&corner| {
            let way = [steps(before, entry), steps(entry, corner), steps(corner, at)].concat();
            way.iter().all(free) && at[0] >= front
        })
    })
}

fn check(plan: &Plan, found: &Insert) -> Result<(), TestCaseError> {
    let assembly = &plan.current().assembly;
    let (mut standing, later) = bodies(plan);
    let size = [found.length, found.side, found.side].map(|x| x.millimetres());
    for place in &found.places {
        let at = (*place + assembly.inside_min).millimetres();
        prop_assert!(gets_there(plan, &standing, at, size), "{place:?} is not reached: {found:?}");
        let hit = blocked(&standing, &[], at, size);
        prop_assert!(hit.is_none(), "{place:?} touches {hit:?}");
        let hit = blocked(&later, &[], at, size);
        prop_assert!(hit.is_none(), "{place:?} is where {hit:?} goes");
        for i in 0..3 {
            let (low, high) = (assembly.inside_min.millimetres()[i], assembly.inside.millimetres()[i]);
            prop_assert!(at[i] >= low && at[i] + size[i] <= low + high, "{place:?} is not inside");
        }
        // From here on it is in the way of those that follow.
        let solid = kerf_and_coil::model::geometry::Solid::Block {
            min: *place + assembly.inside_min,
            size: Dims { depth: found.length, width: found.side, height: found.side },
        };
        standing.push(Body { kind: BodyKind::TerminalCup, role: Role::Displaced, solid, turn: None });
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]
    #[test]
    fn blocks_go_in_through_the_hole_and_touch_nothing(spec in furnished(), share in 0.5..0.98f64) {
        let Ok(plan) = plan(&spec, &AsBuilt::new()) else { return Ok(()) };
        // Of a box that is itself in conflict nothing is asked.
        prop_assume!(plan.facts.iter().all(|fact| !matches!(fact, kerf_and_coil::model::geometry::Fact::Overlap { .. })));
        let assembly = &plan.current().assembly;
        let Ok(found) = insert(&spec, assembly, plan.net(), plan.net() * share) else { return Ok(()) };
        check(&plan, &found)?;
        let wood: f64 = found.places.iter().map(|_| found.side.metres().powi(2) * found.length.metres() * 1e3).sum();
        prop_assert!((plan.net().litres() - wood - found.net.litres()).abs() < 1e-9);
    }
}

#[test]
fn most_boxes_can_stand_in_for_smaller_ones() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let (mut tried, mut found) = (0, 0);
    while tried < 40 {
        let spec = furnished().new_tree(&mut runner).expect("a box").current();
        let Ok(plan) = plan(&spec, &AsBuilt::new()) else { continue };
        tried += 1;
        let assembly = &plan.current().assembly;
        found += usize::from(insert(&spec, assembly, plan.net(), plan.net() * 0.9).is_ok());
    }
    assert!(found >= 28, "{found} of {tried}");
}
