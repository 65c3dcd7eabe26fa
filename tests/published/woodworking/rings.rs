//! Stacked rings: the reference cases `ring-1` and `ring-2` (geometry.md section 7), the formula for smooth outlines, and
//! outlines of every kind against sums over their own lines and arcs.
use kerf_and_coil::model::geometry::rings::{
    Bore, Contour, Knot, RingSpec, RingStack, Station, Wanted, d_shape, ellipse, places, polygon, rectangle,
    stack, traced,
};
use proptest::prelude::*;
use serde_json::Value;
use std::f64::consts::PI;

use super::mm;
use crate::assert_near;

const CASES: &str = include_str!("../data/woodworking/geometry_cases.json");

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn spec(outline: Contour, wall: f64, thickness: f64, rings: usize) -> RingSpec {
    RingSpec {
        top: outline.clone(),
        bottom: outline,
        wall: mm(wall),
        thickness: mm(thickness),
        rings,
        front_plates: 1,
        back_plates: 1,
        bit_radius: mm(6.0),
        pins: 4,
        pin_diameter: mm(8.0),
        density_kg_m3: 740.0,
    }
}

#[test]
fn the_reference_cases() {
    let all: Value = serde_json::from_str(CASES).expect("the cases are JSON");
    let cases = all["cases"].as_array().expect("a list");
    let mut seen = 0;
    for case in cases.iter().filter(|case| case["kind"] == "layered_rings") {
        let (input, expected) = (&case["input"], &case["expected"]);
        let size = &input["outline_mm"];
        let outline =
            rectangle([number(&size["width"]), number(&size["height"])], number(&size["corner_radius"]))
                .expect("an outline");
        let mut wanted = spec(
            outline,
            number(&input["wall"]),
            number(&input["sheet_thickness"]),
            number(&input["rings"]) as usize,
        );
        wanted.front_plates = number(&input["front_plates"]) as u8;
        wanted.back_plates = number(&input["back_plates"]) as u8;
        let found = stack(&wanted).expect("a stack");
        let litres = number(&expected["net_litres"]);
        assert_near(found.air.litres(), litres, 1e-6 * litres);
        let area = number(&expected["ring_area_cm2"]);
        assert_near(found.rings[0].area().square_metres() * 1e4, area, 1e-6 * area);
        assert_near(found.depth.millimetres(), number(&expected["total_depth_mm"]), 1e-6);
        // And the solid models of the reference, whose circles have 4096 sides.
        let solid = number(&case["verified"]["net_volume_mm3"]["solid_model"]);
        assert_near(found.air.litres() * 1e6, solid, 1e-6 * solid);
        let inner = &expected["inner_outline_mm"];
        let [min, max] = found.rings[0].inner.bounds();
        assert_near(max[0] - min[0], number(&inner["width"]), 1e-6);
        assert_near(max[1] - min[1], number(&inner["height"]), 1e-6);
        assert!(
            found.rings[0]
                .inner
                .knots()
                .iter()
                .all(|k| (k.radius - number(&inner["corner_radius"])).abs() < 1e-9)
        );
        assert_eq!(found.pins.len(), 4);
        seen += 1;
    }
    assert_eq!(seen, 2);
}

#[test]
fn a_stack_balances_where_a_trapezium_does() {
    // Centroid of a trapezium with parallel sides a (below) and b, h apart: h/3 (a + 2b)/(a + b) above a (any handbook of
    // areas). The prism is solid but for its opening, which is a smaller trapezium with sides parallel to it.
    let stations = [
        Station { along: 0.0, left: 150.0, right: 150.0 },
        Station { along: 360.0, left: 240.0, right: 240.0 },
    ];
    let outline = traced(&stations, 0.0).expect("an outline");
    let mut wanted = spec(outline.clone(), 30.0, 18.0, 10);
    wanted.bit_radius = mm(0.0);
    let found = stack(&wanted).expect("a stack");
    let [min, max] = outline.bounds();
    let along = usize::from((max[0] - min[0] - 480.0).abs() < 1e-9);
    assert_near(max[along] - min[along], 360.0, 1e-9);
    let middle = |a: f64, b: f64, h: f64| ((a + b) / 2.0 * h, h / 3.0 * (a + 2.0 * b) / (a + b));
    let (whole, at) = middle(300.0, 480.0, 360.0);
    // The slant's lean: 90 in 360. A wall of 30 moves it in by 30 √(1 + 1/16) along the width.
    let (lean, wall) = (0.25, 30.0 * (1.0 + 0.0625f64).sqrt());
    let (a, b) = (300.0 + 2.0 * (30.0 * lean - wall), 480.0 - 2.0 * (30.0 * lean + wall));
    let (hole, hole_at) = middle(a, b, 300.0);
    let ring = whole - hole;
    let ring_at = (whole * at - hole * (hole_at + 30.0)) / ring;
    // Ten rings, and one plate at each end.
    let expected = (10.0 * ring * ring_at + 2.0 * whole * at) / (10.0 * ring + 2.0 * whole);
    assert_near(found.centre_mm[along], expected, 1e-6 * expected);
    assert_near(found.centre_mm[1 - along], 240.0, 1e-6);
    assert_near(found.centre_mm[2], 6.0 * 18.0, 1e-6);
    assert_near(found.mass.kilograms(), (10.0 * ring + 2.0 * whole) * 18.0 * 740.0 * 1e-9, 1e-6);
}

/// Area of an edge of lines and arcs: shoelace, and at every arc its segment r²/2 (a − sin a); a = 4 atan(bulge), the
/// meaning of a bulge in the DXF reference.
fn area_of_edge(contour: &Contour) -> f64 {
    let edge = contour.edge([0.0, 0.0]);
    let mut sum = 0.0;
    for (i, ((x, y), bulge)) in edge.iter().map(|(at, b)| ((at[0], at[1]), *b)).enumerate() {
        let next = edge[(i + 1) % edge.len()].0;
        sum += (x * next[1] - y * next[0]) / 2.0;
        if bulge != 0.0 {
            let angle = 4.0 * bulge.atan();
            let chord = (next[0] - x).hypot(next[1] - y);
            let r = chord / 2.0 / (angle / 2.0).sin().abs();
            sum += angle.signum() * r * r / 2.0 * (angle.abs() - angle.abs().sin());
        }
    }
    sum
}

fn any_outline() -> impl Strategy<Value = Contour> {
    let size = (200.0..700.0f64, 200.0..700.0f64, 0.0..90.0f64);
    let stations = proptest::collection::vec((40.0..160.0f64, 60.0..220.0f64, 60.0..220.0f64), 2..7);
    prop_oneof![
        size.clone().prop_filter_map("radius", |(w, h, r)| rectangle([w, h], r).ok()),
        size.clone().prop_filter_map("radius", |(w, h, r)| d_shape([w, h], r).ok()),
        size.clone().prop_filter_map("size", |(w, h, _)| ellipse([w, h]).ok()),
        (3..9_usize, size).prop_filter_map("radius", |(n, (w, h, r))| polygon(n, [w, h], r).ok()),
        (stations, 0.0..80.0f64).prop_filter_map("stations", |(steps, radius)| {
            let mut along = 0.0;
            let stations: Vec<Station> = steps
                .iter()
                .map(|(step, left, right)| {
                    along += step;
                    Station { along, left: *left, right: *right }
                })
                .collect();
            traced(&stations, radius).ok()
        }),
    ]
}

fn distance(line: &[[f64; 2]], at: [f64; 2]) -> f64 {
    (0..line.len())
        .map(|i| {
            let (a, b) = (line[i], line[(i + 1) % line.len()]);
            let way = [b[0] - a[0], b[1] - a[1]];
            let share = ((at[0] - a[0]) * way[0] + (at[1] - a[1]) * way[1])
                / (way[0].powi(2) + way[1].powi(2)).max(1e-18);
            let share = share.clamp(0.0, 1.0);
            (at[0] - a[0] - way[0] * share).hypot(at[1] - a[1] - way[1] * share)
        })
        .fold(f64::INFINITY, f64::min)
}

proptest! {
    #[test]
    fn areas_are_those_of_the_lines_and_arcs_cut(outline in any_outline()) {
        let (ours, edge) = (outline.area_mm2(), area_of_edge(&outline));
        prop_assert!((ours - edge).abs() < 1e-6 * edge, "{ours} {edge}");
        let [min, max] = outline.bounds();
        for at in outline.polyline() {
            prop_assert!((0..2).all(|i| at[i] > min[i] - 1e-6 && at[i] < max[i] + 1e-6), "{at:?} {min:?} {max:?}");
        }
        // The bounds are reached, but for what a chord lies within its arc.
        for i in 0..2 {
            let low = outline.polyline().iter().map(|at| at[i]).fold(f64::INFINITY, f64::min);
            prop_assert!(low - min[i] < 0.03, "{low} {min:?}");
        }
    }

    #[test]
    fn a_smooth_outline_loses_what_the_formula_says(w in 300.0..700.0f64, h in 300.0..700.0f64, r in 60.0..150.0f64, share in 0.05..1.0f64) {
        // geometry.md section 7: A(d) = A − P d + π d² while d is at most the smallest radius.
        let outline = rectangle([w, h], r).expect("an outline");
        let d = r * share;
        let inner = outline.inset(d, 0.0).expect("room");
        let expected = outline.area_mm2() - outline.length_mm() * d + PI * d * d;
        prop_assert!((inner.area_mm2() - expected).abs() < 1e-9 * expected);
    }

    #[test]
    fn a_wall_is_as_wide_everywhere(outline in any_outline(), wall in 15.0..45.0f64, rings in 1..20_usize) {
        let Ok(found) = stack(&spec(outline, wall, 18.0, rings)) else { return Ok(()) };
        let ring = &found.rings[0];
        let (outer, inner) = (ring.outer.polyline(), ring.inner.polyline());
        let mut least = f64::INFINITY;
        for at in &inner {
            least = least.min(distance(&outer, *at));
        }
        prop_assert!((least - wall).abs() < 0.06 || least > wall, "{least} for {wall}");
        // Wood and air together are all there is.
        let whole = ring.outer.area_mm2() * 18.0 * rings as f64;
        let wood = ring.area().square_metres() * 1e6 * 18.0 * rings as f64;
        prop_assert!((whole - wood - found.air.litres() * 1e6).abs() < 1e-6 * whole);
        for pin in &found.pins {
            prop_assert!(distance(&outer, *pin) > 8.9 && distance(&inner, *pin) > 8.9, "{pin:?}");
        }
        prop_assert!(found.mass.kilograms() > 0.0);
    }

    #[test]
    fn any_stations_give_a_stack_or_a_reason(
        stations in proptest::collection::vec((-2000.0..2000.0f64, -500.0..500.0f64, -500.0..500.0f64), 0..9),
        radius in -10.0..500.0f64, wall in -10.0..300.0f64, rings in 0..200_usize, size in (-10.0..2000.0f64, -10.0..2000.0f64),
    ) {
        let stations: Vec<Station> =
            stations.iter().map(|(along, left, right)| Station { along: *along, left: *left, right: *right }).collect();
        if let Ok(outline) = traced(&stations, radius) {
            let mut wanted = spec(outline.clone(), wall, 18.0, rings);
            if let Ok(top) = outline.stretched([size.0, size.1]) {
                wanted.top = top;
            }
            if let Ok(found) = stack(&wanted) {
                prop_assert!(finite(&found));
            }
        }
        let _ = Contour::new(vec![Knot { at: [f64::NAN, 0.0], radius: 0.0 }; 4]);
    }
}

fn finite(found: &RingStack) -> bool {
    found.air.litres().is_finite() && found.air.litres() > 0.0 && found.mass.kilograms().is_finite()
}

#[test]
fn an_ellipse_is_one() {
    for (w, h) in [(400.0, 400.0), (500.0, 350.0), (600.0, 300.0)] {
        let drawn = ellipse([w, h]).expect("an outline");
        let area = PI / 4.0 * w * h;
        assert_near(drawn.area_mm2(), area, 2e-3 * area);
        for [x, y] in drawn.polyline() {
            // Along the ray from the middle.
            let off = ((2.0 * x / w).hypot(2.0 * y / h) - 1.0) * x.hypot(y);
            assert!(off.abs() < 0.003 * w, "{off} of {w} × {h}");
        }
    }
}

#[test]
fn a_stack_that_widens_goes_there_in_equal_steps() {
    let mut wanted = spec(rectangle([300.0, 260.0], 60.0).expect("an outline"), 32.0, 18.0, 10);
    wanted.top = wanted.bottom.stretched([360.0, 260.0]).expect("an outline");
    let found = stack(&wanted).expect("a stack");
    let widths: Vec<f64> =
        found.rings.iter().map(|ring| ring.outer.bounds()[1][0] - ring.outer.bounds()[0][0]).collect();
    for (number, width) in widths.iter().enumerate() {
        assert_near(*width, 303.0 + 6.0 * number as f64, 1e-9);
    }
    assert_near(found.common_mm, 29.0, 0.05);
    // Shared by all rings is too little for pins straight through.
    assert!(found.pins.len() < 4 || found.pins.iter().all(|pin| pin[1].abs() > 100.0), "{:?}", found.pins);
    wanted.rings = 1;
    assert!(stack(&wanted).is_ok());
    wanted.rings = 2;
    wanted.top = wanted.bottom.stretched([460.0, 260.0]).expect("an outline");
    assert!(stack(&wanted).is_err(), "rings that hardly touch are refused");
}

#[test]
fn a_narrow_neck_is_refused() {
    let stations = [(0.0, 120.0, 120.0), (150.0, 20.0, 20.0), (300.0, 120.0, 120.0)];
    let stations = stations.map(|(along, left, right)| Station { along, left, right });
    let outline = traced(&stations, 10.0).expect("an outline");
    assert!(stack(&spec(outline, 32.0, 18.0, 5)).is_err());
}

#[test]
fn a_polygon_is_as_wide_as_asked_with_its_corners_rounded() {
    let measured = |outline: &Contour| {
        let line = outline.polyline();
        [0, 1].map(|i| {
            let low = line.iter().map(|at| at[i]).fold(f64::INFINITY, f64::min);
            line.iter().map(|at| at[i]).fold(f64::NEG_INFINITY, f64::max) - low
        })
    };
    for (sides, radius) in [(3, 20.0), (4, 60.0), (5, 30.0), (6, 80.0), (6, 0.0), (8, 60.0)] {
        let outline = polygon(sides, [420.0, 380.0], radius).expect("an outline");
        // Chords lie within their arcs by at most 0.02 mm at either end.
        let [width, depth] = measured(&outline);
        assert!((width - 420.0).abs() < 0.05 && (depth - 380.0).abs() < 0.05, "{sides}: {width} {depth}");
        assert!(outline.knots().iter().all(|knot| knot.radius == radius));
        let [width, depth] = measured(&outline.stretched([460.0, 380.0]).expect("an outline"));
        assert!((width - 460.0).abs() < 0.05 && (depth - 380.0).abs() < 0.05, "{sides}: {width} {depth}");
    }
    // So is an ellipse, and one that grows.
    let outline = ellipse([420.0, 380.0]).expect("an outline");
    let [width, depth] = measured(&outline);
    assert!((width - 420.0).abs() < 0.05 && (depth - 380.0).abs() < 0.05, "{width} {depth}");
    let top = outline.stretched([460.0, 380.0]).expect("an outline");
    let [width, depth] = measured(&outline.towards(&top, 0.25).expect("an outline"));
    assert!((width - 430.0).abs() < 0.3 && (depth - 380.0).abs() < 0.3, "{width} {depth}");
    // A regular hexagon of 6 sides of 210, two corners across: a radius of 80 takes 80 (1/cos 30° − 1) off each corner, so
    // that by hand it comes out at 420 − 2 · 12.376 = 395.2 unless it begins larger.
    let corners = |outline: &Contour| outline.knots().iter().map(|k| k.at[0]).fold(0.0, f64::max);
    let outline = polygon(6, [420.0, 420.0 * 3f64.sqrt() / 2.0], 80.0).expect("an outline");
    assert!(corners(&outline) > 210.0 + 12.0, "{}", corners(&outline));
}

#[test]
fn holes_come_off_weight_and_balance() {
    // By hand: plates 400 × 300 × 20, one below and two above ten rings with an opening of 340 × 240; 740 kg/m³.
    // Plate 1.776 kg, ring 0.568 32 kg. A hole of 200 through the upper two, π/4 · 4 dm² · 0.4 dm · 0.74 = 0.929 911 kg,
    // in the middle; one of 100 through the lowest, 0.116 239 kg, 100 from the left and 150 from the front.
    let mut wanted = spec(rectangle([400.0, 300.0], 0.0).expect("an outline"), 30.0, 20.0, 10);
    (wanted.front_plates, wanted.bit_radius) = (2, mm(0.0));
    let mut found = stack(&wanted).expect("a stack");
    let whole = 3.0 * 1.776 + 10.0 * 0.568_32;
    assert_near(found.mass.kilograms(), whole, 1e-9);
    let upper = Bore { at: [0.0, 0.0], diameter: mm(200.0), ends: [mm(220.0), mm(260.0)] };
    let lower = Bore { at: [-100.0, 0.0], diameter: mm(100.0), ends: [mm(0.0), mm(20.0)] };
    found.bore(&wanted, &[upper, lower]);
    let left = whole - 0.929_911 - 0.116_239;
    assert_near(found.mass.kilograms(), left, 2e-6);
    assert_near(found.centre_mm[0], (whole * 200.0 - 0.929_911 * 200.0 - 0.116_239 * 100.0) / left, 1e-3);
    assert_near(found.centre_mm[1], 150.0, 1e-9);
    let height = 1.776 * (10.0 + 230.0 + 250.0) + 5.6832 * 120.0;
    assert_near(found.centre_mm[2], (height - 0.929_911 * 240.0 - 0.116_239 * 10.0) / left, 1e-3);
}

#[test]
fn tubes_stand_where_there_is_room() {
    // The opening of a stack of 420 × 380, radius 80, wall 32: 356 × 316, radius 48. A tube 106 outside keeps 68 from its
    // wall: its centre stays within 110 and 90 of the middle, √(110² + 90²) = 142 at the very most.
    let inner = rectangle([356.0, 316.0], 48.0).expect("an outline");
    let one = Wanted { radius: 53.0, count: 1 };
    assert_eq!(places(&[&inner], one, &[]), Some(vec![[0.0, 0.0]]));
    // Beside a circle of 262 in the middle it would have to be 131 + 53 + 15 = 199 away; beside one of 70 it goes, 103 away.
    assert_eq!(places(&[&inner], one, &[([0.0, 0.0], 131.0)]), None);
    let found = places(&[&inner], one, &[([0.0, 0.0], 35.0)]).expect("a place");
    assert!(found[0][1] == 0.0 && (103.0..=110.0).contains(&found[0][0].abs()), "{found:?}");
    // Two are 106 + 15 apart at least, three do not go: 110 to each side is all there is.
    let found = places(&[&inner], Wanted { count: 2, ..one }, &[]).expect("places");
    assert!((found[0][0] - found[1][0]).hypot(found[0][1] - found[1][1]) >= 121.0, "{found:?}");
    assert!(found.iter().all(|at| at[0].abs() <= 110.0 && at[1].abs() <= 90.0));
    // With the opening elsewhere narrower, that one counts.
    let narrow = rectangle([140.0, 316.0], 20.0).expect("an outline");
    let found = places(&[&inner, &narrow], one, &[([0.0, 0.0], 35.0)]);
    assert_eq!(found, None, "2 to each side and 90 up: never 103 away");
}
