//! The space as measured: distances against projections onto half-spaces, diagonals and stations against coordinates.
use kerf_and_coil::design::document::{Sheet, parse_entry};
use kerf_and_coil::design::evaluate::evaluate;
use kerf_and_coil::design::limits::FieldId;
use kerf_and_coil::design::space::{in_place, outside_of, vehicle};
use kerf_and_coil::design::warnings::{Severity, Warning};
use kerf_and_coil::design::{demo, link};
use kerf_and_coil::model::geometry::legs::Face;
use kerf_and_coil::model::geometry::space::measure::{
    behind, beside, body, leaning, reclined, skew, stations,
};
use kerf_and_coil::model::geometry::space::{
    KeepOut, KeepOutKind, Prism, above_well, arch_rounded, best_place, gap, gaps, largest_block, stands,
};
use kerf_and_coil::model::geometry::{Axis, Dims};
use kerf_and_coil::present::warnings::text;
use kerf_and_coil::units::{ExactLength, UnitPrefs};

/// Pseudo-random numbers from 0 to 1: SplitMix64 (Steele, Lea, Flood 2014; constants from memory).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (z ^ (z >> 31)) as f64 / u64::MAX as f64
    }
    fn within(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }
}

type V = [f64; 3];

fn dot(a: V, b: V) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// A body as half-spaces n·x ≤ d, from its corners alone: every plane through three corners that has all others behind.
fn half_spaces(corners: &[V]) -> Vec<(V, f64)> {
    let mut all: Vec<(V, f64)> = Vec::new();
    for i in 0..corners.len() {
        for j in i + 1..corners.len() {
            for k in j + 1..corners.len() {
                let [u, v] =
                    [j, k].map(|other| [0, 1, 2].map(|axis| corners[other][axis] - corners[i][axis]));
                let n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
                let size = dot(n, n).sqrt();
                if size < 1e-6 {
                    continue;
                }
                for n in [n.map(|x| x / size), n.map(|x| -x / size)] {
                    let d = dot(n, corners[i]);
                    let behind = corners.iter().all(|at| dot(n, *at) <= d + 1e-7);
                    let known = all.iter().any(|(m, e)| dot(*m, n) > 1.0 - 1e-12 && (e - d).abs() < 1e-6);
                    if behind && !known {
                        all.push((n, d));
                    }
                }
            }
        }
    }
    all
}

/// The point of a body nearest to a point: of the feet on every one, two or three of its planes together the nearest that
/// lies in the body.
fn project(planes: &[(V, f64)], at: V) -> V {
    let inside = |x: V| planes.iter().all(|(n, d)| dot(*n, x) <= d + 1e-7);
    if inside(at) {
        return at;
    }
    let count = planes.len();
    let mut best = (f64::INFINITY, at);
    for i in 0..count {
        for j in i..count {
            for k in j..count {
                let mut chosen = vec![i, j, k];
                chosen.dedup();
                let Some(foot) = foot(&chosen.iter().map(|p| planes[*p]).collect::<Vec<_>>(), at) else {
                    continue;
                };
                let way = [0, 1, 2].map(|axis| foot[axis] - at[axis]);
                if dot(way, way) < best.0 && inside(foot) {
                    best = (dot(way, way), foot);
                }
            }
        }
    }
    best.1
}

/// The foot of a point on what planes have in common: Gauss on N Nᵀ λ = N p − d.
fn foot(planes: &[(V, f64)], at: V) -> Option<V> {
    let count = planes.len();
    let mut rows: Vec<Vec<f64>> = planes
        .iter()
        .map(|(n, d)| planes.iter().map(|(m, _)| dot(*n, *m)).chain([dot(*n, at) - d]).collect::<Vec<f64>>())
        .collect();
    for pivot in 0..count {
        let largest =
            (pivot..count).max_by(|a, b| rows[*a][pivot].abs().total_cmp(&rows[*b][pivot].abs()))?;
        rows.swap(pivot, largest);
        if rows[pivot][pivot].abs() < 1e-9 {
            return None;
        }
        let own = rows[pivot].clone();
        for (_, row) in rows.iter_mut().enumerate().filter(|(other, _)| *other != pivot) {
            let share = row[pivot] / own[pivot];
            row.iter_mut().zip(&own).for_each(|(entry, own)| *entry -= share * own);
        }
    }
    let mut foot = at;
    for (row, (n, _)) in (0..count).zip(planes) {
        let share = rows[row][count] / rows[row][row];
        foot = [0, 1, 2].map(|axis| foot[axis] - share * n[axis]);
    }
    Some(foot)
}

/// Distance of two bodies by projecting to and fro (Cheney, Goldstein 1959).
fn distance(a: &Prism, b: &Prism) -> f64 {
    let (a, b) = (half_spaces(&a.corners()), half_spaces(&b.corners()));
    let mut at = [0.0; 3];
    let mut last = f64::INFINITY;
    for _ in 0..4000 {
        let on_a = project(&a, at);
        at = project(&b, on_a);
        let way = [0, 1, 2].map(|i| at[i] - on_a[i]);
        let found = dot(way, way).sqrt();
        if last - found < 1e-10 {
            return found;
        }
        last = found;
    }
    last
}

fn random_prism(chance: &mut Chance, spread: f64) -> Prism {
    let axis = Axis::ALL[(chance.next() * 2.999) as usize];
    let count = 3 + (chance.next() * 3.99) as usize;
    let (mut angle, mut section) = (chance.within(0.0, 6.0), Vec::new());
    let (rx, ry) = (chance.within(30.0, 200.0), chance.within(30.0, 200.0));
    for _ in 0..count {
        angle += std::f64::consts::TAU / count as f64;
        section.push([rx * angle.cos(), ry * angle.sin()]);
    }
    let from = chance.within(-100.0, 0.0);
    let prism = Prism::over(axis, [from, from + chance.within(20.0, 300.0)], section);
    prism.moved([0, 1, 2].map(|_| chance.within(-spread, spread)))
}

#[test]
fn bodies_apart_are_as_far_apart_as_projections_say() {
    let mut chance = Chance(7);
    let (mut apart, mut corners) = (0, 0);
    for _ in 0..80 {
        let (a, b) = (random_prism(&mut chance, 300.0), random_prism(&mut chance, 300.0));
        let found = gap(&a, &b);
        let expected = distance(&a, &b);
        if found.distance > 0.0 {
            apart += 1;
            assert!((found.distance - expected).abs() < 0.01 + 1e-4 * expected, "{found:?} {expected}");
            let axis = found.direction.iter().filter(|x| x.abs() > 1e-6).count();
            corners += usize::from(axis > 1);
        } else {
            assert!(expected < 0.1, "{found:?} but {expected} apart");
        }
    }
    assert!(apart > 30 && corners > 10, "{apart} apart, {corners} obliquely");
}

#[test]
fn the_depth_of_an_overlap_is_the_least_way_out() {
    let mut chance = Chance(21);
    let mut seen = 0;
    for _ in 0..60 {
        let (a, b) = (random_prism(&mut chance, 60.0), random_prism(&mut chance, 60.0));
        let found = gap(&a, &b);
        if found.distance > -2.0 {
            continue;
        }
        seen += 1;
        let deep = -found.distance;
        let out = b.moved(found.direction.map(|x| x * (deep + 0.5)));
        // Moved so far, a plane parts them by the half millimetre: no way out of this length is too short.
        let reach = |body: &Prism| {
            let along = body.corners().into_iter().map(|at| dot(at, found.direction));
            along.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], x| [low.min(x), high.max(x)])
        };
        assert!((reach(&out)[0] - reach(&a)[1] - 0.5).abs() < 1e-6, "{found:?}");
        // And no shorter one frees them, in whatever direction.
        for _ in 0..6 {
            let way = [0, 1, 2].map(|_| chance.within(-1.0, 1.0));
            let size = dot(way, way).sqrt().max(1e-9);
            let still = b.moved(way.map(|x| x / size * (deep - 1.0)));
            assert!(distance(&a, &still) < 0.05, "{found:?} is not the least way");
        }
    }
    assert!(seen > 20, "{seen}");
}

/// A floor drawn as a parallelogram of chosen angle: its diagonals from coordinates, and every rectangle tried.
#[test]
fn diagonals_tell_how_far_a_floor_is_out_of_square() {
    for (across, away, degrees) in
        [(1000.0, 700.0, 0.0), (1000.0, 700.0, 1.5), (930.0, 610.0, -3.0), (300.0, 900.0, 40.0)]
    {
        let lean: f64 = f64::to_radians(degrees);
        let rear_left = [away * lean.sin(), away * lean.cos()];
        let first = (rear_left[0] + across).hypot(rear_left[1]);
        let second = (rear_left[0] - across).hypot(rear_left[1]);
        let found = skew(across, away, [first, second]).unwrap();
        assert!((found.degrees - degrees).abs() < 1e-9, "{found:?}");
        assert!((found.shift - rear_left[0]).abs() < 1e-9 && (found.square - rear_left[1]).abs() < 1e-9);
        assert!(found.miss.abs() < 1e-9);
        // Width left at each depth, read off the two sides.
        let best = (1..=10_000)
            .map(|step| rear_left[1] * f64::from(step) / 10_000.0)
            .map(|x| (across - (rear_left[0] * x / rear_left[1]).abs()) * x)
            .fold(0.0, f64::max);
        let area = found.rectangle[0] * found.rectangle[1];
        assert!((area / best - 1.0).abs() < 1e-6, "{area} {best}");
    }
    // 10 mm too long: half of it is a miss of the mean square.
    let slip = skew(300.0, 400.0, [510.0, 500.0]).unwrap();
    assert!((slip.miss - 5.025).abs() < 0.01, "{slip:?}");
    assert!(skew(300.0, 400.0, [900.0, 100.0]).is_err());
    assert!(skew(f64::NAN, 400.0, [500.0, 500.0]).is_err());
}

fn holds(prism: &Prism, at: V) -> bool {
    half_spaces(&prism.corners()).iter().all(|(n, d)| dot(*n, at) <= d + 1e-9)
}

/// Whatever lies behind the line through the stations is kept free, and nothing else.
#[test]
fn stations_keep_free_what_lies_beyond_them() {
    let side = stations("450 510; 0 620;200 600,5", 2, 2).unwrap();
    let bodies = behind(&side, 650.0, 500.0, 900.0);
    let line = |z: f64| match z {
        z if z < 200.0 => 620.0 + (600.5 - 620.0) * z / 200.0,
        z if z < 450.0 => 600.5 + (510.0 - 600.5) * (z - 200.0) / 250.0,
        _ => 510.0,
    };
    let mut chance = Chance(3);
    for _ in 0..400 {
        let at = [chance.within(450.0, 649.0), chance.within(1.0, 899.0), chance.within(1.0, 499.0)];
        let kept = bodies.iter().any(|body| holds(body, at));
        assert_eq!(kept, at[0] >= line(at[2]), "{at:?}");
    }
    let plan = stations("0 400 420; 300 380 300; 600 700", 2, 3).unwrap();
    let [left, right] = beside(&plan, 400.0, [600.0, 820.0, 500.0]);
    let between = |x: f64, a: [f64; 3]| {
        if x < 300.0 { a[0] + (a[1] - a[0]) * x / 300.0 } else { a[1] + (a[2] - a[1]) * (x - 300.0) / 300.0 }
    };
    for _ in 0..400 {
        let at = [chance.within(1.0, 599.0), chance.within(1.0, 819.0), chance.within(1.0, 499.0)];
        let kept = left.iter().chain(&right).any(|body| holds(body, at));
        let [low, high] =
            [400.0 - between(at[0], [400.0, 380.0, 350.0]), 400.0 + between(at[0], [420.0, 300.0, 350.0])];
        assert_eq!(kept, at[1] <= low || at[1] >= high, "{at:?}");
    }
    for bad in ["", "1 2", "a b; 1 2", "1 2 3; 4 5 6", "1 -2; 3 4", "1 2; 3 1e9"] {
        assert!(stations(bad, 2, 2).is_err(), "{bad}");
    }
}

/// The same tape in inches: 1 in = 25.4 mm (international yard and pound agreement, 1959).
#[test]
fn stations_and_bodies_may_be_in_inches() {
    let inches = stations("in 0 24-1/2; 8 23-5/8; 17.5 20", 2, 2).unwrap();
    let written = stations("in 0 24 1/2; 8 23,625; 17 1/2 20", 2, 2);
    assert!(stations("in 0 24; 17 1/2", 2, 2).is_err(), "one number: 17 and a half");
    let wanted = [[0.0, 24.5], [8.0, 23.625], [17.5, 20.0]];
    for (row, expected) in inches.iter().zip(wanted) {
        for (mm, inch) in row.iter().zip(expected) {
            assert!((mm - inch * 25.4).abs() < 1e-9, "{row:?}");
        }
    }
    assert_eq!(written.unwrap(), inches);
    assert_eq!(stations("0 24-1/2; 8 23-5/8; 17.5 20 in", 2, 2).unwrap(), inches);
    assert_eq!(stations("mm 0 620; 200 540", 2, 2).unwrap(), stations("0 620; 200 540", 2, 2).unwrap());
    let [typed, same] =
        ["in 0 6 16 24 0 3-1/2", "0 152.4 406.4 609.6 0 88.9"].map(|text| body(text).unwrap());
    for (a, b) in typed.corners().iter().flatten().zip(same.corners().iter().flatten()) {
        assert!((a - b).abs() < 1e-9);
    }
    assert!(body("in across 0 36: 0 0, 5 0, 0 3-1/4").is_ok());
    assert!(stations("in 0 500; 8 500", 2, 2).is_err(), "over ten metres");
}

/// What is looked at first by the blocks around bodies is what looking at every pair finds.
#[test]
fn nothing_near_is_passed_over() {
    let mut chance = Chance(11);
    for _ in 0..60 {
        let mut block = || {
            let low = [0, 1, 2].map(|_| chance.within(0.0, 400.0));
            Prism::block(low, low.map(|at| at + chance.within(20.0, 200.0)))
        };
        let bodies = [block(), block()];
        let kept: Vec<KeepOut> =
            (1..=4).map(|number| KeepOut { kind: KeepOutKind::Own(number), prism: block() }).collect();
        let wanted = chance.within(0.0, 60.0);
        let found = stands(&bodies, &kept, [0.0; 3], wanted);
        let near: Vec<_> = gaps(&bodies, &kept, [0.0; 3]);
        for (kind, gap) in near {
            let hit = found.hits.iter().find(|hit| hit.kind == kind);
            assert_eq!(hit.is_some(), gap < wanted - 1e-6, "{kind:?} {gap} {wanted}");
            assert!(hit.is_none_or(|hit| (hit.over - (wanted - gap)).abs() < 1e-9));
        }
    }
}

/// A roll of wrap is no measure of the space.
#[test]
fn only_measures_of_the_space_count_as_such() {
    use kerf_and_coil::design::space::is_measured;
    assert!(!is_measured(&with(&[(FieldId::RollWidth, "1400"), (FieldId::AmplifierHeight, "50")])));
    assert!(is_measured(&with(&[(FieldId::SpaceSide, "0 620; 300 600")])));
    assert!(is_measured(&with(&[(FieldId::BoxFromFront, "10")])));
}

#[test]
fn a_straight_limit_never_lies_behind_a_station() {
    let side = stations("0 620; 200 540; 450 510", 2, 2).unwrap();
    let [low, top] = leaning(&side, 650.0, 450.0).unwrap();
    for (z, free) in [(0.0, 620.0), (200.0, 540.0), (450.0, 510.0)] {
        assert!(low + (top - low) * z / 450.0 <= free + 1e-9);
    }
    // It touches the station in the middle: 540 at 200 with the fall of 110 over 450.
    assert!((low - (540.0 + 110.0 * 200.0 / 450.0)).abs() < 1e-9, "{low}");
    // tan 25° = 0.46631 (table value).
    assert!((reclined(600.0, 400.0, 25.0) - (600.0 - 400.0 * 0.466_31)).abs() < 0.01);
}

#[test]
fn round_bodies_hold_the_round_and_little_more() {
    let arch = arch_rounded([0.0, 200.0], [100.0, 700.0], 260.0);
    for step in 0..=180 {
        let angle = f64::to_radians(f64::from(step));
        let at = [400.0 + 300.0 * angle.cos(), 100.0, 260.0 * angle.sin()];
        assert!(holds(&arch, at), "{at:?}");
    }
    let half_ellipse = std::f64::consts::PI * 300.0 * 260.0 / 2.0 * 200.0;
    assert!(arch.is_convex() && (arch.volume_mm3() / half_ellipse - 1.0).abs() < 1e-3);
    let well = above_well([300.0, 400.0], 620.0, 500.0);
    let cylinder = std::f64::consts::PI * 310.0 * 310.0 * 500.0;
    assert!(well.volume_mm3() >= cylinder && well.volume_mm3() / cylinder - 1.0 < 1e-3);
}

#[test]
fn typed_bodies_are_read_or_refused() {
    let block = body("0 150 400 600 0 90").unwrap();
    assert!((block.volume_mm3() - 150.0 * 200.0 * 90.0).abs() < 1e-6);
    let rail = body("across 0 900: 0 0, 120 0, 0 80").unwrap();
    assert!((rail.volume_mm3() - 900.0 * 120.0 * 80.0 / 2.0).abs() < 1e-6);
    assert!((body("up 0 100: 0 0, 0 50, 50 50, 50 0").unwrap().volume_mm3() - 250_000.0).abs() < 1e-6);
    for bad in [
        "",
        "1 2 3",
        "0 1 0 1 0 x",
        "0 0 0 10 0 10",
        "across 0 900: 0 0, 120 0",
        "over 0 9: 0 0, 1 0, 0 1",
        "across 0 900: 0 0, 100 0, 50 20, 100 100, 0 100",
        "across 0 9 9: 0 0, 9 0, 0 9",
        "up: 0 0, 9 0, 0 9",
        "across 0 900: 0 100, 60 -80, -95 30, 95 30, -60 -80",
        "nan 1 2 3 4 5",
        "across 0 900:,,,",
    ] {
        assert!(body(bad).is_err(), "{bad}");
    }
}

fn mm(value: f64) -> ExactLength {
    ExactLength::from_millimetres(value)
}

fn dims(depth: f64, width: f64, height: f64) -> Dims {
    Dims { depth: mm(depth), width: mm(width), height: mm(height) }
}

#[test]
fn a_box_goes_between_the_arches_or_says_what_must_give_way() {
    let arch = |kind, across: [f64; 2]| KeepOut {
        kind,
        prism: Prism::block([100.0, across[0], 0.0], [500.0, across[1], 300.0]),
    };
    let arches = [arch(KeepOutKind::LeftArch, [0.0, 150.0]), arch(KeepOutKind::RightArch, [850.0, 1000.0])];
    let space = dims(600.0, 1000.0, 400.0);
    // 700 between the arches.
    for (width, over) in [(680.0, None), (690.0, None), (700.0, Some(5.0)), (720.0, Some(15.0))] {
        let bodies = [Prism::block([0.0; 3], [400.0, width, 350.0])];
        let found = best_place(&bodies, &arches, space, dims(400.0, width, 350.0), 5.0, [None; 2]);
        match over {
            None => assert!(found.hits.is_empty(), "{width}: {found:?}"),
            Some(over) => {
                assert_eq!(found.hits.len(), 2, "{width}: {found:?}");
                assert!((found.hits[0].over - over).abs() < 1e-9, "{width}: {found:?}");
                assert!(matches!(found.hits[0].face, Face::Left | Face::Right));
            }
        }
    }
    // One arch only: the box moves over by itself.
    let bodies = [Prism::block([0.0; 3], [400.0, 830.0, 350.0])];
    let found = best_place(&bodies, &arches[..1], space, dims(400.0, 830.0, 350.0), 5.0, [None; 2]);
    assert!(found.hits.is_empty() && found.at[1] >= 155.0 - 1e-9, "{found:?}");
    let block = largest_block(space, &arches, 5.0).unwrap();
    // Above 2·150 of arches 690 × 590 × 390 remain, before or behind them less.
    assert_eq!(block, [[5.0, 155.0, 5.0], [595.0, 845.0, 395.0]]);
}

/// A wedge under a limit that leans as it does: the gap square to the limit, by hand.
#[test]
fn a_wedge_clears_a_limit_that_leans_as_it_does() {
    let wedge =
        Prism::over(Axis::Width, [0.0, 800.0], vec![[0.0, 0.0], [400.0, 0.0], [250.0, 300.0], [0.0, 300.0]]);
    let side = vec![vec![0.0, 450.0], vec![400.0, 250.0]];
    let limits: Vec<KeepOut> = behind(&side, 600.0, 400.0, 1000.0)
        .into_iter()
        .map(|prism| KeepOut { kind: KeepOutKind::Behind, prism })
        .collect();
    let wedge = [wedge];
    let found = stands(&wedge, &limits, [5.0, 100.0, 5.0], 5.0);
    // Both fall 1 in 2; the limit stands 450 − 405 − 2.5 behind at the same height: 42.5 · cos(atan 0.5).
    let expected = 42.5 * (2.0 / 5.0_f64.sqrt());
    let gap = gaps(&wedge, &limits, found.at)[0].1;
    assert!((gap - expected).abs() < 1e-9, "{gap} {expected}");
    assert!(found.hits.is_empty());
}

fn with(entries: &[(FieldId, &str)]) -> Sheet {
    let mut sheet = demo::design().sheet;
    for (id, text) in entries {
        sheet.set(*id, parse_entry(*id, text, &UnitPrefs::default()).unwrap()).unwrap();
    }
    sheet
}

fn hits(sheet: &Sheet) -> Vec<Warning> {
    let report = evaluate(sheet);
    report.warnings.iter().filter(|warning| matches!(warning, Warning::KeepOut(_))).cloned().collect()
}

#[test]
fn a_design_is_warned_where_its_box_hits_and_a_good_one_is_not() {
    use FieldId::{ArchHeight, ArchLength, ArchSide, ArchWidth, BoxFromLeft, BoxWidth, SpaceSide};
    assert_eq!(hits(&demo::design().sheet), []);
    let arches = [(ArchSide, "both"), (ArchWidth, "20"), (ArchHeight, "100"), (ArchLength, "300")];
    let sheet = with(&arches);
    // Left to itself the box is made to go between the arches.
    assert_eq!(hits(&sheet), []);
    assert!(evaluate(&sheet).warnings.iter().all(|warning| warning.severity() != Severity::Stop));
    let (space, standing) = in_place(&sheet, &evaluate(&sheet)).unwrap();
    assert_eq!(space.keep_outs.len(), 2);
    let outside = evaluate(&sheet).enclosure.as_ref().unwrap().outside;
    let wide = space.block.width.millimetres();
    assert!(outside.width.millimetres() <= wide - 50.0);
    // With the box in the middle: half of what the space is wider, less 20 of the arch.
    let expected = (wide - outside.width.millimetres()) / 2.0 - 20.0;
    let report = evaluate(&sheet);
    for (_, gap) in &space.gaps(&outside_of(report.enclosure.as_ref().unwrap()), standing.at) {
        assert!((gap - expected).abs() < 1e-6 && expected >= 5.0, "{gap} {expected}");
    }
    // As wide as the space and typed: 15 deep in both arches and five to keep.
    let mut typed = arches.to_vec();
    typed.push((BoxWidth, "710"));
    let found = hits(&with(&typed));
    assert_eq!(found.len(), 2, "{found:?}");
    let mut typed = arches.to_vec();
    typed.push((BoxFromLeft, "12"));
    let found = hits(&with(&typed));
    let Some(Warning::KeepOut(hit)) = found.first() else { panic!("{found:?}") };
    // Eight deep in the arch and five to keep.
    assert!((hit.over - 13.0).abs() < 1e-6, "{hit:?}");
    assert_eq!(found[0].severity(), Severity::Stop);
    assert!(text(&found[0], &UnitPrefs::default()).contains("left wheel arch"));
    // A block behind everything, in any words, never panics and is said to be unread.
    for bad in ["x", "1;2", "0 0; 0 0", ";;;", "1 1 1; 2 2 2"] {
        let sheet = with(&[(SpaceSide, bad)]);
        let _ = evaluate(&sheet);
        let space = vehicle(&sheet).unwrap();
        assert_eq!(space.refused.is_empty(), bad == "0 0; 0 0", "{bad}: {space:?}");
    }
}

#[test]
fn the_space_travels_in_a_link() {
    use FieldId::{ArchSide, KeepOut as Own, SeatRecline, SpaceSide};
    let mut design = demo::design();
    design.sheet = with(&[
        (ArchSide, "left"),
        (SeatRecline, "24.5"),
        (SpaceSide, "0 620; 400 540"),
        (Own, "0 9 0 9 0 9"),
    ]);
    let opened = link::read(&link::fragment(&design)).unwrap();
    assert_eq!(opened.design.sheet, design.sheet);
}

/// Stacked rings against an arch: an ellipse 400 wide and 300 deep in a space 600 wide; its point beside the arch by the
/// equation of the ellipse. The largest circle-like body stands free where the block around it would not.
#[test]
fn stacked_rings_stand_in_the_space_as_well() {
    use FieldId::{
        BoxFromFront, BoxFromLeft, Construction, KeepOut as Body, RingCount, RingDepth, RingShape, RingWidth,
        SpaceDepth, SpaceWidth,
    };
    use kerf_and_coil::design::evaluate::ring_report;
    use kerf_and_coil::design::space::outside_of_rings;
    // A post that reaches 40 into the corner of the block around the ellipse: 30 + 40 across, 20 + 40 deep.
    let sheet = with(&[
        (Construction, "rings"),
        (RingCount, "12"),
        (RingShape, "ellipse"),
        (RingWidth, "400"),
        (RingDepth, "300"),
        (SpaceWidth, "600"),
        (SpaceDepth, "500"),
        (BoxFromLeft, "30"),
        (BoxFromFront, "20"),
        (Body, "0 60 0 70 0 300"),
    ]);
    let rings = ring_report(&sheet).unwrap_or_else(|gap| panic!("{gap:?}"));
    let (bodies, size) = outside_of_rings(&rings);
    assert!((size.width.millimetres() - 400.0).abs() < 0.2 && (size.depth.millimetres() - 300.0).abs() < 0.2);
    let space = vehicle(&sheet).unwrap();
    let standing = space.place(&sheet, &bodies, size);
    assert_eq!(standing.at[..2], [20.0, 30.0]);
    // The post's corner lies 130 across and 90 deep from the ellipse's middle (half axes 200 and 150): nearest of many
    // points on the curve.
    let nearest = (0..200_000)
        .map(|i| std::f64::consts::TAU * f64::from(i) / 200_000.0)
        .map(|angle| (200.0 * angle.cos() - 160.0).hypot(150.0 * angle.sin() - 110.0))
        .fold(f64::INFINITY, f64::min);
    let gap = space.gaps(&bodies, standing.at)[0].1;
    assert!((gap - nearest).abs() < 0.5, "{gap} {nearest}");
    // The block around it would stand in the post by 40.
    let block = Prism::block([0.0; 3], size.millimetres());
    assert!(space.gaps(&[block], standing.at)[0].1 < -30.0);
}

/// A hatch out of square passes what its largest true rectangle does: 1000 wide, 500 high, its top 60 to the right.
#[test]
fn a_hatch_out_of_square_lets_less_through() {
    use FieldId::{BoxDepth, BoxHeight, BoxWidth, DoorDiagonal, DoorGap, DoorHeight, DoorOther, DoorWidth};
    use kerf_and_coil::design::testbox::passage;
    let square: f64 = (500.0_f64 * 500.0 - 60.0 * 60.0).sqrt();
    let diagonals = [(1000.0 + 60.0_f64).hypot(square), (1000.0 - 60.0_f64).hypot(square)];
    let spare = |skewed: bool| {
        let mut sheet = with(&[
            (BoxWidth, "700"),
            (BoxHeight, "340"),
            (BoxDepth, "300"),
            (DoorWidth, "1000"),
            (DoorHeight, "500"),
            (DoorGap, "0"),
        ]);
        if skewed {
            for (id, mm) in [DoorDiagonal, DoorOther].into_iter().zip(diagonals) {
                sheet.set(id, parse_entry(id, &format!("{mm:.3}"), &UnitPrefs::default()).unwrap()).unwrap();
            }
        }
        let report = evaluate(&sheet);
        let found = passage(&sheet, report.enclosure.as_ref().unwrap()).unwrap();
        (found.spare.millimetres(), report.enclosure.as_ref().unwrap().outside)
    };
    let ((plain, outside), (less, _)) = (spare(false), spare(true));
    // Depth and height go through first: half of what the opening is higher than the lower of the two, upright.
    let low = outside.depth.millimetres().min(outside.height.millimetres());
    assert!((plain - (500.0 - low) / 2.0).abs() < 0.2, "{plain} {outside:?}");
    assert!((less - (square - low) / 2.0).abs() < 0.2 && less < plain, "{less} {plain}");
}

/// A box turned in its space, by hand: the demo's space is 720 × 340 × 360 mm with 5 mm of air at each face, so 330 mm
/// may stand upright, and what looks up is the box's own depth.
#[test]
fn a_box_turns_in_its_space() {
    use kerf_and_coil::design::report::Gap;
    use kerf_and_coil::model::geometry::Space;
    let with = |entries: &[(FieldId, &str)]| {
        let mut sheet = demo::design().sheet;
        for (id, text) in entries {
            let entry = parse_entry(*id, text, &UnitPrefs::default()).unwrap();
            sheet.set(*id, entry).unwrap();
        }
        sheet
    };
    let usable = |sheet: &Sheet| {
        let report = evaluate(sheet);
        let enclosure = report.enclosure.unwrap();
        let outside = enclosure.outside;
        let usable = enclosure.spec.space.map(Space::usable).unwrap();
        for axis in [Axis::Width, Axis::Height, Axis::Depth] {
            assert!(outside.get(axis) <= usable.get(axis), "{outside:?} in {usable:?}");
        }
        usable.millimetres()
    };
    // Depth, width, height of the box.
    assert_eq!(usable(&with(&[])), [350.0, 710.0, 330.0]);
    assert_eq!(usable(&with(&[(FieldId::Look, "up")])), [330.0, 710.0, 350.0]);
    assert_eq!(usable(&with(&[(FieldId::Look, "aside"), (FieldId::WantedNet, "20")])), [710.0, 350.0, 330.0]);
    let down = [(FieldId::Look, "down"), (FieldId::FloorGap, "55")];
    assert_eq!(usable(&with(&down)), [275.0, 710.0, 350.0]);
    // A baffle fills its opening, whatever an earlier box looked at.
    assert_eq!(
        usable(&with(&[(FieldId::Look, "up"), (FieldId::BoxKind, "infinite baffle")])),
        [350.0, 710.0, 330.0]
    );
    // What leans or is kept free is known for a box that looks forward only.
    for more in [(FieldId::SpaceTopDepth, "300"), (FieldId::SeatRecline, "20")] {
        let report = evaluate(&with(&[(FieldId::Look, "up"), more]));
        assert!(matches!(report.enclosure, Err(Gap::Refused(_))), "{more:?}");
    }
}

/// What is left of the space, and over the box, is told as the vehicle has it.
#[test]
fn clearances_of_a_turned_box_are_those_of_the_vehicle() {
    use kerf_and_coil::design::clearance::clearance;
    let mut sheet = demo::design().sheet;
    let entries = [
        (FieldId::Look, "down"),
        (FieldId::FloorGap, "60"),
        (FieldId::BoxWidth, "600"),
        (FieldId::BoxHeight, "330"),
        (FieldId::BoxDepth, "220"),
        (FieldId::Board, "18"),
        (FieldId::AmplifierPlace, "over the box"),
        (FieldId::AmplifierLength, "290"),
        (FieldId::AmplifierWidth, "200"),
        (FieldId::AmplifierHeight, "40"),
    ];
    for (id, text) in entries {
        sheet.set(id, parse_entry(id, text, &UnitPrefs::default()).unwrap()).unwrap();
    }
    let report = evaluate(&sheet);
    let enclosure = report.enclosure.clone().unwrap();
    let found = clearance(&sheet, &report, &enclosure);
    assert_eq!(found.over_all.millimetres(), [330.0, 600.0, 220.0]);
    let left = |axis| {
        let spare = found.spare.unwrap();
        spare.iter().find(|(along, _)| *along == axis).unwrap().1.millimetres()
    };
    // 720 − 10 − 600; 340 − 10 − 60 − 220; 360 − 10 − 330.
    assert_eq!([left(Axis::Width), left(Axis::Height), left(Axis::Depth)], [110.0, 50.0, 20.0]);
    // On a back of 600 × 330: two of 290 × 200 beside each other; 340 − 220 − 60 − 5 − 40 mm over them.
    let bodies = found.amplifiers.unwrap();
    assert!(bodies.fit >= 2, "{bodies:?}");
    assert_eq!(bodies.over.unwrap().millimetres(), 15.0);
}
