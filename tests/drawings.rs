//! The drawing against the box it shows: values, places, and that every text can be read.
use kerf_and_coil::model::geometry::edges::{BACK, Owners};
use kerf_and_coil::model::geometry::space::{KeepOut, KeepOutKind, Prism};
use kerf_and_coil::model::geometry::{
    AsBuilt, Axis, Back, BackJoint, Board, BodyKind, BoxSpec, ChamberPort, ChamberTubes, CornerStrips,
    Dimension, Dims, Divider, DriverCutout, Form, HoleShape, InsideEdge, MeasuredStripFace, PartId, Plan,
    Port, Precedence, Profile, RadiatorCutout, RadiatorPlace, Recess, RoundPort, SlotPort, SlotWidth,
    StripVoids, TerminalHole, Window, WindowBrace, plan,
};
use kerf_and_coil::present::drawing::{
    Drawing, FieldHint, Shape, Sheet, Style, around, draw, mouths, to_svg,
};
use kerf_and_coil::present::level::{LevelCut, Stretch, level_cut};
use kerf_and_coil::units::{ExactLength, Volume};
use proptest::prelude::*;

fn mm(value: f64) -> ExactLength {
    ExactLength::from_millimetres(value)
}

fn millimetres(length: ExactLength) -> String {
    format!("{}", (length.millimetres() * 10.0).round() / 10.0)
}

/// A box with everything in it: invented demo data.
fn furnished(width: f64, height: f64, depth: f64) -> BoxSpec {
    let outside = Dims { width: mm(width), height: mm(height), depth: mm(depth) };
    let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
    spec.front_layers = 2;
    spec.driver = Some(DriverCutout {
        count: 1,
        cutout: mm(230.0),
        flange: mm(260.0),
        depth: mm(140.0),
        magnet: mm(150.0),
        displacement: Volume::from_litres(2.5),
        pole_vent: None,
        recess: Some(Recess { depth: None, clearance: mm(3.0) }),
        centres: Vec::new(),
        elsewhere: Vec::new(),
    });
    spec.port =
        Port::Slot(SlotPort { height: mm(35.0), length: mm(220.0), width: SlotWidth::Full, bends: 0 });
    spec.strips = Some(CornerStrips {
        edges: InsideEdge::vertical().to_vec(),
        face: mm(60.0),
        measured: MeasuredStripFace::Wide,
        length: None,
        voids: StripVoids::Sealed,
    });
    spec.terminal = Some(TerminalHole {
        face: BACK,
        window: None,
        shape: HoleShape::Rectangle(Window::new(mm(76.0), mm(76.0), mm(8.0))),
        cup_depth: mm(45.0),
        cup_volume: None,
        centre: None,
    });
    spec
}

fn drawn(spec: &BoxSpec, as_built: &AsBuilt) -> (Plan, Drawing) {
    let plan = plan(spec, as_built).expect("a box");
    let drawing = sheet_of(spec, &plan, &millimetres);
    (plan, drawing)
}

fn sheet_of(spec: &BoxSpec, plan: &Plan, label: &dyn Fn(ExactLength) -> String) -> Drawing {
    let sheet = Sheet { width: 342.0, view_height: 180.0, text_size: 12.0, label };
    draw(spec, &plan.current().assembly, &sheet)
}

#[track_caller]
fn value(drawing: &Drawing, field: FieldHint) -> ExactLength {
    let found = drawing.callouts.iter().find(|callout| callout.field == Some(field));
    found.unwrap_or_else(|| panic!("no dimension {field:?}")).value
}

#[test]
fn values_are_the_entries_of_the_box() {
    let spec = furnished(680.0, 340.0, 380.0);
    let (_, drawing) = drawn(&spec, &AsBuilt::new());
    assert_eq!(value(&drawing, FieldHint::Width), mm(680.0));
    assert_eq!(value(&drawing, FieldHint::Height), mm(340.0));
    assert_eq!(value(&drawing, FieldHint::Depth), mm(380.0));
    assert_eq!(value(&drawing, FieldHint::CutOut), mm(230.0));
    assert_eq!(value(&drawing, FieldHint::PortHeight), mm(35.0));
    assert_eq!(value(&drawing, FieldHint::PortLength), mm(220.0));
    assert_eq!(value(&drawing, FieldHint::FrontThickness), mm(36.0));
    // From the driver's rear to the back: 380 − 18 − 18 (recess) − 140 = 204.
    assert!(drawing.callouts.iter().any(|c| c.field.is_none() && c.value == mm(204.0)));
    assert_eq!(drawing.width, 342.0);
}

#[test]
fn a_wrong_cut_shows_on_the_drawing() {
    let spec = furnished(680.0, 340.0, 380.0);
    let cut: AsBuilt = [((PartId::Left, Dimension::Depth), mm(324.0))].into();
    let (_, drawing) = drawn(&spec, &cut);
    // 326 was planned between front and back: the box is 2 mm less deep.
    assert_eq!(value(&drawing, FieldHint::Depth), mm(378.0));
}

#[test]
fn dimensions_span_what_they_say() {
    for spec in variants() {
        let (_, drawing) = drawn(&spec, &AsBuilt::new());
        for callout in &drawing.callouts {
            let length = (callout.to[0] - callout.from[0]).hypot(callout.to[1] - callout.from[1]);
            let difference = length - callout.value.millimetres() * drawing.scale;
            assert!(difference.abs() < 1e-6, "{} is drawn {length} long", callout.text);
        }
    }
}

/// Rectangles of cut wood in the section add up to the cut boards less the holes, by hand.
#[test]
fn hatched_area_is_the_wood_in_the_section() {
    let mut spec = furnished(680.0, 340.0, 380.0);
    spec.strips = None;
    spec.terminal = None;
    let (_, drawing) = drawn(&spec, &AsBuilt::new());
    let area: f64 = drawing
        .marks
        .iter()
        .filter(|mark| mark.style == Style::Cut)
        .map(|mark| match &mark.shape {
            Shape::Rect(_, [width, height]) => width * height / drawing.scale.powi(2),
            _ => 0.0,
        })
        .sum();
    // Front 36 x 340 less recess 18 x 263, hole 18 x 230, slot 36 x 35; back 18 x 340; top and bottom 18 x 326; roof
    // 18 x 184.
    let front = 36.0 * 340.0 - 18.0 * 263.0 - 18.0 * 230.0 - 36.0 * 35.0;
    let expected = front + 18.0 * 340.0 + 2.0 * 18.0 * 326.0 + 18.0 * 184.0;
    assert!((area - expected).abs() < 1e-6 * expected, "hatched {area}, by hand {expected}");
}

#[test]
fn circles_are_the_driver_and_its_recess() {
    let spec = furnished(680.0, 340.0, 380.0);
    let (plan, drawing) = drawn(&spec, &AsBuilt::new());
    let mut diameters: Vec<f64> = drawing
        .marks
        .iter()
        .filter_map(|mark| match mark.shape {
            Shape::Circle(_, radius) => Some((2.0 * radius / drawing.scale * 1000.0).round() / 1000.0),
            _ => None,
        })
        .collect();
    diameters.sort_by(f64::total_cmp);
    // Magnet, cut-out, recess.
    assert_eq!(diameters, [150.0, 230.0, 263.0]);
    assert_eq!(
        plan.current().assembly.bodies.iter().filter(|b| matches!(b.kind, BodyKind::DriverHole(_))).count(),
        1
    );
}

/// 700 × 340 × 400 mm whose front leans back by 60 mm, in 18 mm board.
fn leaning() -> BoxSpec {
    let outside = Dims { width: mm(700.0), height: mm(340.0), depth: mm(400.0) };
    let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
    let joint = BackJoint::Over;
    spec.profile = Some(Profile { setback: mm(60.0), back: Back::Upright, joint, front: joint });
    spec
}

/// Radiators of shaped boxes: those in the sides as circles in the section, one in a leaning front as an ellipse whose
/// height is that of its diameter times the cosine of the lean, and no wood where its hole is cut.
#[test]
fn radiators_of_shaped_boxes_are_drawn_where_they_sit() {
    let radiators = |count, place| {
        let (cutout, flange, depth) = (mm(120.0), mm(140.0), mm(50.0));
        let displacement = Volume::from_litres(0.5);
        Form::Radiators(RadiatorCutout { count, cutout, flange, depth, displacement, place })
    };
    let mut spec = leaning();
    spec.form = radiators(2, RadiatorPlace::Sides);
    let (plan, drawing) = drawn(&spec, &AsBuilt::new());
    let circles = drawing.marks.iter().filter_map(|mark| match mark.shape {
        Shape::Circle(at, radius) => Some((at, 2.0 * radius / drawing.scale)),
        _ => None,
    });
    let circles: Vec<_> = circles.collect();
    assert_eq!(circles.len(), 2, "both sides");
    assert!(circles.iter().all(|(_, diameter)| (diameter - 120.0).abs() < 1e-6), "{circles:?}");
    // Above the depth's dimension, as far from its ends as the radiator sits.
    let depth = drawing.callouts.iter().find(|c| c.field == Some(FieldHint::Depth)).expect("a depth");
    let at = plan.current().assembly.layout.others[0];
    let along = (circles[0].0[0] - depth.from[0]) / drawing.scale;
    assert!((along - at.depth.millimetres()).abs() < 1e-6, "{along} {at:?}");

    spec.form = radiators(1, RadiatorPlace::Front);
    let (_, drawing) = drawn(&spec, &AsBuilt::new());
    let lean = (60.0_f64 / 340.0).atan();
    let round = |points: &Vec<[f64; 2]>, i: usize| {
        let ends =
            points.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), p| (a.min(p[i]), b.max(p[i])));
        (ends.1 - ends.0) / drawing.scale
    };
    let ellipse = drawing.marks.iter().find_map(|mark| match &mark.shape {
        Shape::Polygon(points) if mark.style == Style::Outline && points.len() > 20 => Some(points),
        _ => None,
    });
    let ellipse = ellipse.expect("the hole from the front");
    // 72 corners lie on it: less than a thousandth is missing.
    assert!((round(ellipse, 0) - 120.0).abs() < 0.12, "{}", round(ellipse, 0));
    assert!((round(ellipse, 1) - 120.0 * lean.cos()).abs() < 0.12, "{}", round(ellipse, 1));
}

/// The divider of a shaped box is dimensioned from the left side, hidden from the front, its driver's hole in the section.
#[test]
fn the_divider_of_a_shaped_box_is_drawn() {
    let mut spec = leaning();
    let (count, displacement) = (1, Volume::from_litres(1.0));
    let (cutout, flange, depth, magnet) = (mm(150.0), mm(170.0), mm(80.0), mm(100.0));
    let (pole_vent, recess, centres, elsewhere) = (None, None, Vec::new(), Vec::new());
    spec.driver = Some(DriverCutout {
        count,
        cutout,
        flange,
        depth,
        magnet,
        displacement,
        pole_vent,
        recess,
        centres,
        elsewhere,
    });
    let tubes = ChamberTubes { count: 1, diameter: mm(70.0), wall: mm(3.0), length: mm(110.0) };
    let (room, port, inward) = (mm(210.0), ChamberPort::Tubes(tubes), false);
    spec.form = Form::Divided(Divider { room, port, inward });
    let (_, drawing) = drawn(&spec, &AsBuilt::new());
    let across = |callout: &&kerf_and_coil::present::drawing::Callout| callout.value == mm(210.0);
    let room = drawing.callouts.iter().find(across).expect("the width of the room before the drivers");
    assert!(((room.to[0] - room.from[0]) / drawing.scale - 210.0).abs() < 1e-6);
    let hidden = drawing.marks.iter().any(|mark| match mark.shape {
        Shape::Rect(at, [wide, _]) if mark.style == Style::Hidden => {
            (wide / drawing.scale - 18.0).abs() < 1e-6 && (at[0] - room.to[0]).abs() < 1e-6
        }
        _ => false,
    });
    assert!(hidden, "the divider behind the front");
    let hole = drawing.marks.iter().filter(|mark| {
        matches!(mark.shape, Shape::Circle(_, radius) if (2.0 * radius / drawing.scale - 150.0).abs() < 1e-6)
    });
    assert_eq!(hole.count(), 1);
    assert_legible(&drawing).expect("legible");
}

#[test]
fn the_svg_is_well_formed() {
    for spec in variants() {
        let (_, drawing) = drawn(&spec, &AsBuilt::new());
        let svg = to_svg(&drawing, "front & side of \"<box>\"");
        assert_well_formed(&svg);
        assert!(!svg.contains("style="), "the page's policy forbids style attributes");
        assert!(!svg.contains("NaN") && !svg.contains("inf"));
        assert_eq!(svg.matches("<text").count(), drawing.callouts.len());
    }
}

/// Tags close in order, attributes are quoted, no bare ampersand.
fn assert_well_formed(svg: &str) {
    let mut open = Vec::new();
    let mut rest = svg;
    while let Some(start) = rest.find('<') {
        let text = &rest[..start];
        assert!(!text.contains('>'), "a bare > in {text}");
        let end = start + rest[start..].find('>').expect("a tag ends");
        let tag = &rest[start + 1..end];
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name.to_owned()));
        } else {
            let name = tag.split([' ', '/']).next().expect("a name");
            assert_eq!(tag.matches('"').count() % 2, 0, "an attribute isn't closed in {tag}");
            if !tag.ends_with('/') {
                open.push(name.to_owned());
            }
        }
        rest = &rest[end + 1..];
    }
    assert!(open.is_empty(), "{open:?} stay open");
    let entities = ["&amp;", "&lt;", "&gt;", "&quot;"];
    let known: usize = entities.iter().map(|entity| svg.matches(entity).count()).sum();
    assert_eq!(svg.matches('&').count(), known);
}

fn variants() -> Vec<BoxSpec> {
    let whole = furnished(680.0, 340.0, 380.0);
    let mut upright = furnished(340.0, 900.0, 380.0);
    upright.port = Port::Round(RoundPort {
        count: 2,
        diameter: mm(76.0),
        wall: mm(3.0),
        length: mm(180.0),
        centres: Vec::new(),
    });
    let mut inset = furnished(500.0, 420.0, 450.0);
    inset.owners = Owners::by(Precedence::ALL[5]);
    let window = Window::new(mm(120.0), mm(120.0), mm(20.0));
    inset.braces = vec![
        WindowBrace { count: 1, across: Axis::Width, window },
        WindowBrace { count: 1, across: Axis::Depth, window },
    ];
    let mut beside = furnished(600.0, 360.0, 500.0);
    beside.port = Port::Slot(SlotPort {
        height: mm(35.0),
        length: mm(220.0),
        width: SlotWidth::AgainstSide(mm(150.0)),
        bends: 0,
    });
    let outside = Dims { width: mm(600.0), height: mm(400.0), depth: mm(350.0) };
    let plain = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
    vec![whole, upright, inset, beside, plain]
}

/// Every pair of texts apart, every text on the sheet, and 12 units high at 342 wide.
fn assert_legible(drawing: &Drawing) -> Result<(), TestCaseError> {
    prop_assert!(drawing.text_size >= 12.0);
    for (i, a) in drawing.callouts.iter().enumerate() {
        let [left, top, right, bottom] = a.text_box(drawing.text_size);
        let on_sheet = left >= 0.0 && top >= 0.0 && right <= drawing.width && bottom <= drawing.height;
        prop_assert!(on_sheet, "{} leaves the sheet", a.text);
        for b in &drawing.callouts[i + 1..] {
            let other = b.text_box(drawing.text_size);
            let apart = right <= other[0] || other[2] <= left || bottom <= other[1] || other[3] <= top;
            prop_assert!(apart, "{} over {}", a.text, b.text);
        }
    }
    for mark in &drawing.marks {
        let points = match &mark.shape {
            Shape::Line(from, to) => vec![*from, *to],
            Shape::Rect(at, size) => vec![*at, [at[0] + size[0], at[1] + size[1]]],
            Shape::Circle(at, _) => vec![*at],
            Shape::Polygon(points) => points.clone(),
        };
        for point in points {
            prop_assert!(point.iter().all(|x| x.is_finite()));
        }
    }
    Ok(())
}

proptest! {
    #[test]
    fn no_text_covers_another(
        which in 0..5_usize, width in 330.0..2500.0_f64, height in 330.0..2500.0_f64, depth in 330.0..2500.0_f64,
        inches in any::<bool>(),
    ) {
        let mut spec = variants().remove(which);
        spec.outside = Dims { width: mm(width), height: mm(height), depth: mm(depth) };
        if let Ok(plan) = plan(&spec, &AsBuilt::new()) {
            let in_inches = |length: ExactLength| {
                let sixteenths = (length.inches() * 16.0).round();
                format!("{} {}/16″", (sixteenths / 16.0).floor(), sixteenths % 16.0)
            };
            let label: &dyn Fn(ExactLength) -> String = if inches { &in_inches } else { &millimetres };
            let drawing = sheet_of(&spec, &plan, label);
            assert_legible(&drawing)?;
            prop_assert!(drawing.width <= 342.0 + 1e-6, "the sheet is {} wide", drawing.width);
        }
    }

    #[test]
    fn silly_sheets_give_finite_drawings(width in any::<f64>(), view_height in any::<f64>(), text_size in any::<f64>()) {
        let spec = furnished(680.0, 340.0, 380.0);
        let plan = plan(&spec, &AsBuilt::new()).expect("a box");
        let sheet = Sheet { width, view_height, text_size, label: &millimetres };
        let drawing = draw(&spec, &plan.current().assembly, &sheet);
        let svg = to_svg(&drawing, "box");
        prop_assert!(!svg.contains("NaN") && !svg.contains("inf"));
    }
}

/// Writes the variants as files to look at: `cargo test --test drawings -- --ignored`.
#[test]
#[ignore = "writes files to look at"]
fn write_the_variants() {
    let folder = std::env::temp_dir().join("kerf-and-coil-drawings");
    std::fs::create_dir_all(&folder).expect("a folder");
    for (i, spec) in variants().iter().enumerate() {
        let (_, drawing) = drawn(spec, &AsBuilt::new());
        std::fs::write(folder.join(format!("{i}.svg")), to_svg(&drawing, "box")).expect("a file");
    }
}

/// Where the box's lower left corner lies in both views: that of its width, and that of its depth.
fn corners(drawing: &Drawing) -> [[f64; 2]; 2] {
    [FieldHint::Width, FieldHint::Depth].map(|field| {
        let found = drawing.callouts.iter().find(|callout| callout.field == Some(field));
        found.expect("a dimension").from
    })
}

/// 680 × 340 × 380 mm in a space 5 mm larger all round, an arch 30 mm off its left side, a body behind it and one far above.
#[test]
fn what_is_kept_free_is_drawn_where_it_comes_near() {
    let spec = furnished(680.0, 340.0, 380.0);
    let (plan, drawing) = drawn(&spec, &AsBuilt::new());
    let kept = |kind, min, max| KeepOut { kind, prism: Prism::block(min, max) };
    // Depth, width, height.
    let all = [
        kept(KeepOutKind::LeftArch, [100.0, -60.0, 0.0], [300.0, -5.0, 120.0]),
        kept(KeepOutKind::Behind, [390.0, 0.0, 0.0], [800.0, 680.0, 200.0]),
        kept(KeepOutKind::Lid, [0.0, 0.0, 900.0], [380.0, 680.0, 1000.0]),
        kept(KeepOutKind::Well, [1500.0, 100.0, 0.0], [1600.0, 300.0, 100.0]),
    ];
    let space = Prism::block([-5.0, -5.0, -5.0], [385.0, 685.0, 345.0]);
    let sheet = Sheet { width: 342.0, view_height: 180.0, text_size: 12.0, label: &millimetres };
    let near = around(&spec, &plan.current().assembly, &sheet, &all, &space);
    // Neither what is far above nor what is far behind.
    assert_eq!(near.kinds, [KeepOutKind::LeftArch, KeepOutKind::Behind]);
    let [front, section] = corners(&drawing);
    let box_of = |area: &Vec<[f64; 2]>| {
        let bound =
            |axis: usize, pick: fn(f64, f64) -> f64, start| area.iter().map(|at| at[axis]).fold(start, pick);
        [
            bound(0, f64::min, f64::INFINITY),
            bound(0, f64::max, f64::NEG_INFINITY),
            bound(1, f64::min, f64::INFINITY),
            bound(1, f64::max, f64::NEG_INFINITY),
        ]
    };
    let close = |found: [f64; 4], expected: [f64; 4]| {
        let off = (0..4).map(|i| (found[i] - expected[i]).abs()).fold(0.0, f64::max);
        assert!(off < 1e-6, "{found:?}, {expected:?}");
    };
    // From the front: the arch from the frame's edge, 6 units off the box, to 5 mm off it, 120 mm high.
    let scale = drawing.scale;
    close(
        box_of(&near.areas[0]),
        [front[0] - 6.0, front[0] - 5.0 * scale, front[1] - 120.0 * scale, front[1]],
    );
    // In the section the arch lies beside the box, 100 to 300 mm from the front.
    assert!(near.areas.iter().any(|area| {
        let [left, right, ..] = box_of(area);
        (left - section[0] - 100.0 * scale).abs() < 1e-6 && (right - section[0] - 300.0 * scale).abs() < 1e-6
    }));
    // And what lies behind it begins 10 mm behind the back.
    assert!(near.areas.iter().any(|area| (box_of(area)[0] - section[0] - 390.0 * scale).abs() < 1e-6));
    // The space: four straight lines around either view, as long as the frame lets them be.
    assert_eq!(near.ends.len(), 8);
    assert!(near.ends.iter().all(|[a, b]| {
        let flat = (a[0] - b[0]).abs() < 1e-6 || (a[1] - b[1]).abs() < 1e-6;
        flat && [a, b].iter().all(|at| at.iter().all(|x| x.is_finite()))
    }));
    // A space far larger than the box has no end near it.
    let hall = Prism::block([-2e3; 3], [3e3; 3]);
    assert!(around(&spec, &plan.current().assembly, &sheet, &[], &hall).ends.is_empty());
}

/// A quarter circle of 15 mm from the bore, 100 mm wide, to the front's face; by hand its middle lies 15 mm behind the face and
/// 50 + 15 mm off the tube's middle.
#[test]
fn a_rounded_mouth_is_an_arc_from_bore_to_face() {
    let mut spec = furnished(680.0, 340.0, 380.0);
    let tube =
        RoundPort { count: 1, diameter: mm(100.0), wall: mm(3.0), length: mm(200.0), centres: Vec::new() };
    spec.port = Port::Round(tube);
    let (plan, drawing) = drawn(&spec, &AsBuilt::new());
    let sheet = Sheet { width: 342.0, view_height: 180.0, text_size: 12.0, label: &millimetres };
    let assembly = &plan.current().assembly;
    let none = mouths(&spec, assembly, &sheet, &|_| [None, None]);
    assert!(none.is_empty());
    let outer = mouths(&spec, assembly, &sheet, &|_| [None, Some(mm(15.0))]);
    // Above and below the bore.
    assert_eq!(outer.len(), 2);
    let [_, section] = corners(&drawing);
    let scale = drawing.scale;
    let air = assembly.bodies.iter().find(|body| body.kind == BodyKind::PortAir(0)).expect("a tube");
    let bounds = air.solid.bounds();
    let middle = (bounds.min[2] + bounds.max[2]) / 2.0;
    for (mouth, way) in outer.iter().zip([1.0, -1.0]) {
        let centre = [section[0] + 15.0 * scale, section[1] - (middle + way * 65.0) * scale];
        for at in &mouth.arc {
            let radius = (at[0] - centre[0]).hypot(at[1] - centre[1]);
            assert!((radius - 15.0 * scale).abs() < 1e-6, "{radius}");
        }
        let ends = [mouth.arc.first(), mouth.arc.last()].map(|at| *at.expect("an arc"));
        // It ends in the face, and begins at the bore.
        assert!((ends[1][0] - section[0]).abs() < 1e-6 || (ends[0][0] - section[0]).abs() < 1e-6);
        // r² − πr²/4 is taken off; the polygon of eight chords takes 1 % of the circle more.
        let area: f64 = mouth
            .taken
            .iter()
            .zip(mouth.taken.iter().cycle().skip(1))
            .map(|(a, b)| a[0] * b[1] - a[1] * b[0])
            .sum::<f64>()
            / 2.0;
        let expected = 15.0 * 15.0 * (1.0 - std::f64::consts::FRAC_PI_4) * scale * scale;
        assert!((area.abs() / expected - 1.0).abs() < 0.04, "{area}, {expected}");
    }
    // Rounded inside as well: two more at the other end, where no wood is taken.
    let both = mouths(&spec, assembly, &sheet, &|_| [Some(mm(20.0)), Some(mm(15.0))]);
    assert_eq!(both.len(), 4);
    let inner = both.iter().filter(|mouth| mouth.radius == mm(20.0) && mouth.taken.is_empty());
    // The tube is 200 mm long with the front.
    let far = inner.flat_map(|mouth| &mouth.arc).map(|at| (at[0] - section[0]) / scale).fold(0.0, f64::max);
    assert!((far - 200.0).abs() < 0.51, "{far}");
}

/// Wood and air in turn as text, air in brackets, in millimetres.
fn chain(stretches: &[Stretch]) -> String {
    let one = |stretch: &Stretch| {
        let text = millimetres(stretch.length);
        if stretch.is_wood { text } else { format!("({text})") }
    };
    stretches.iter().map(one).collect::<Vec<_>>().join(" ")
}

fn level(spec: &BoxSpec) -> LevelCut {
    let plan = plan(spec, &AsBuilt::new()).expect("a box");
    level_cut(&plan.current().assembly)
}

/// By hand: 680 wide with sides of 18 is 644 inside; the middles of two braces stand at thirds of it, 214.67 apart, so that
/// 205.67 are left beside the sides and 196.67 between the braces of 18. Front to back it is 380 − 3 × 18 = 326 inside.
#[test]
fn a_level_cut_tells_wood_and_air_in_turn() {
    let mut spec = furnished(680.0, 340.0, 380.0);
    spec.strips = None;
    spec.port = Port::None;
    spec.braces = vec![WindowBrace {
        across: Axis::Width,
        count: 2,
        window: Window::new(mm(150.0), mm(200.0), mm(20.0)),
    }];
    let cut = level(&spec);
    assert_eq!(chain(&cut.across), "18 (205.7) 18 (196.7) 18 (205.7) 18");
    // Beside the driver: both layers of the front, the inside, the back.
    assert_eq!(chain(&cut.along), "18 18 (326) 18");
}

/// By hand: a back that leans from 400 deep at the bottom to 250 at the top of 300 stands 325 deep half way up; its board
/// of 18 is 18·√(1 + (150/300)²) = 20.12 deep there, and a plain front of 18 stands before 286.88 of air.
#[test]
fn a_level_cut_of_a_wedge_follows_its_back() {
    let outside = Dims { width: mm(600.0), height: mm(300.0), depth: mm(400.0) };
    let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
    spec.tape_step = mm(0.0);
    let joint = BackJoint::Over;
    spec.profile = Some(Profile { setback: mm(0.0), back: Back::TopDepth(mm(250.0)), joint, front: joint });
    let cut = level(&spec);
    assert_eq!(millimetres(cut.height), "150");
    assert_eq!(chain(&cut.across), "18 (564) 18");
    let lengths: Vec<f64> = cut.along.iter().map(|s| s.length.millimetres()).collect();
    let lean = 18.0 * (1.0 + 0.25_f64).sqrt();
    for (got, wanted) in lengths.iter().zip([18.0, 325.0 - 18.0 - lean, lean]) {
        assert!((got - wanted).abs() < 0.01, "{lengths:?}");
    }
    assert_eq!(lengths.len(), 3);
}

/// The hatched wood of a plain box is as large as its walls: every line of the hatch counts as a strip beside it.
#[test]
fn hatching_covers_the_cut_wood_alone() {
    let outside = Dims { width: mm(640.0), height: mm(300.0), depth: mm(400.0) };
    let cut = level(&BoxSpec::plain(outside, Board::mdf(mm(18.0))));
    let strokes = cut.hatch.split('M').filter(|stroke| !stroke.is_empty()).map(|stroke| {
        let at: Vec<f64> = stroke.split(['L', ' ']).map(|n| n.parse().expect("a number")).collect();
        (at[0] - at[2]).hypot(at[1] - at[3])
    });
    // Lines stand 6/√2 apart on a picture half as large as the box.
    let area = strokes.sum::<f64>() * 6.0 / std::f64::consts::SQRT_2 * 4.0;
    let walls = 640.0 * 400.0 - 604.0 * 364.0;
    assert!((area / walls - 1.0).abs() < 0.02, "{area} of {walls}");
}

// The centre line of a slot that bends, as drawn in a wedge that leans by 15°, is as long as the slot: 600 deep at its foot,
// boards of 18. By hand its first corner lies (h/2)(tan θ + 1/cos θ) before the foot of the back's inner face.
#[test]
fn the_centre_line_of_a_slot_leans_with_the_back() {
    let lean = 15.0_f64.to_radians();
    let outside = Dims { width: mm(500.0), height: mm(400.0), depth: mm(600.0) };
    let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
    spec.tape_step = ExactLength::ZERO;
    let back = Back::TopDepth(mm(600.0 - 400.0 * lean.tan()));
    let (joint, front) = (BackJoint::Over, BackJoint::Over);
    spec.profile = Some(Profile { setback: ExactLength::ZERO, back, joint, front });
    for (length, bends) in [(760.0, 1), (990.0, 2)] {
        spec.port =
            Port::Slot(SlotPort { height: mm(40.0), length: mm(length), width: SlotWidth::Full, bends });
        let (plan, drawing) = drawn(&spec, &AsBuilt::new());
        assert_eq!(plan.current().assembly.port.expect("a port").bends, bends);
        let lines: Vec<f64> = drawing
            .marks
            .iter()
            .filter(|mark| mark.style == Style::Centre)
            .filter_map(|mark| match mark.shape {
                Shape::Line(from, to) => Some((to[0] - from[0]).hypot(to[1] - from[1])),
                _ => None,
            })
            .collect();
        assert_eq!(lines.len(), usize::from(bends) + 1);
        let foot = 600.0 - 18.0 / lean.cos() - 18.0 * lean.tan();
        let corner = foot - 20.0 * (lean.tan() + 1.0 / lean.cos());
        let drawn = lines.iter().sum::<f64>() / lines.first().expect("a line") * corner;
        assert!((drawn - length).abs() < 0.01, "{drawn} {length}");
    }
}
