//! Parts from other boards: entries to sizes, sheets, bench and the search's room. Expected numbers by hand.
use kerf_and_coil::design::bench::bench;
use kerf_and_coil::design::cutting::{PanelName, jobs, solve};
use kerf_and_coil::design::document::{Design, parse_entry};
use kerf_and_coil::design::evaluate::evaluate;
use kerf_and_coil::design::limits::FieldId;
use kerf_and_coil::design::report::{BoxReport, Gap, Report};
use kerf_and_coil::design::warnings::{Place, Severity, Warning};
use kerf_and_coil::design::{demo, find, strips};
use kerf_and_coil::model::geometry::edges::{BACK, BOTTOM, FRONT, LEFT, Owners, RIGHT, TOP, owned};
use kerf_and_coil::model::geometry::{
    AsBuilt, Axis, Board, BodyKind, BoxSpec, Dims, End, Fact, InsideEdge, LedgerItem, PartId, PartName, Port,
    Precedence, Role, SlotPort, SlotWidth, Solid, build_order, plan,
};
use kerf_and_coil::present::{cutting, tables};
use kerf_and_coil::units::{ExactLength, UnitPrefs};
use proptest::prelude::*;

fn set(design: &mut Design, entries: &[(FieldId, &str)]) {
    for &(id, text) in entries {
        let entry = parse_entry(id, text, &UnitPrefs::default()).expect("an entry");
        design.sheet.set(id, entry).expect("within limits");
    }
}

/// 600 × 420 × 450 mm outside, 18 mm, the front of 25 and 12 mm, braces of 12 mm, strips of 25 mm.
fn mixed() -> Design {
    let mut design = demo::design();
    set(
        &mut design,
        &[
            (FieldId::Board, "18 mm"),
            (FieldId::BoxWidth, "600 mm"),
            (FieldId::BoxHeight, "420 mm"),
            (FieldId::BoxDepth, "450 mm"),
            (FieldId::Braces, "1"),
            (FieldId::SecondBoard, "25 mm"),
            (FieldId::SecondDensity, "690 kg/m³"),
            (FieldId::SecondSheetWidth, "1250 mm"),
            (FieldId::SecondSheetLength, "2500 mm"),
            (FieldId::SecondSheetPrice, "61"),
            (FieldId::ThirdBoard, "12 mm"),
            (FieldId::FrontFrom, "second"),
            (FieldId::FrontInnerFrom, "third"),
            (FieldId::InsideFrom, "third"),
            (FieldId::StripsFrom, "second"),
        ],
    );
    design
}

fn planned(design: &Design) -> (Report, std::rc::Rc<BoxReport>) {
    let report = evaluate(&design.sheet);
    let enclosure = report.enclosure.clone().expect("a box");
    (report, enclosure)
}

#[test]
fn every_group_is_cut_from_its_board() {
    let (_, enclosure) = planned(&mixed());
    let inside = enclosure.plan.current().assembly.inside;
    // 450 − 25 − 12 − 18; the other sides lose two boards of 18.
    assert_eq!(
        [Axis::Depth, Axis::Width, Axis::Height].map(|axis| inside.get(axis).millimetres()),
        [395.0, 564.0, 384.0]
    );
    let thickness = |name| -> Vec<f64> {
        let parts = enclosure.plan.parts.iter().filter(|part| part.name == name);
        parts.map(|part| part.thickness.millimetres()).collect()
    };
    assert_eq!(thickness(PartName::Front), [25.0, 12.0], "two layers of two boards are two lines");
    assert_eq!(thickness(PartName::Back), [18.0]);
    assert_eq!(thickness(PartName::Brace), [12.0]);
    assert_eq!(thickness(PartName::CornerStrip), [25.0]);
    // The recess is the outer layer bored through, so 12 mm of wood hold the screws.
    assert_eq!(enclosure.spec.recess_depth().millimetres(), 25.0);
    // Gross of the ledger by hand.
    let gross = enclosure.plan.current().ledger.gross.litres();
    assert!((gross - 395.0 * 564.0 * 384.0 * 1e-6).abs() < 1e-9);
}

#[test]
fn sheets_are_laid_out_board_by_board() {
    let design = mixed();
    let (_, enclosure) = planned(&design);
    let all = jobs(&design.sheet, &enclosure, &[]);
    let boards: Vec<_> = all.iter().map(|job| (job.board, job.thickness.millimetres())).collect();
    assert_eq!(boards, [(0, 18.0), (1, 25.0), (2, 12.0)]);
    let names = |job: usize| -> Vec<PartName> {
        let name = |name: &PanelName| match name {
            PanelName::Part(name) => *name,
            other => panic!("{other:?}"),
        };
        all[job].names.iter().map(name).collect()
    };
    assert_eq!(names(1), [PartName::Front, PartName::CornerStrip]);
    assert_eq!(names(2), [PartName::Front, PartName::Brace]);
    assert!(
        !names(0)
            .iter()
            .any(|name| matches!(name, PartName::Front | PartName::Brace | PartName::CornerStrip))
    );
    // The second board comes in its own sheets, at its own price; offcuts are of the first board.
    let stock = &all[1].job.stock;
    assert_eq!(
        (stock.len(), stock[0].width.millimetres(), stock[0].length.millimetres()),
        (1, 1250.0, 2500.0)
    );
    assert!(all[1].priced && stock[0].cost == 6100 && !all[2].priced);
    // Ticks of one board are no ticks of another.
    let prefs = UnitPrefs::default();
    let mut ticks = std::collections::BTreeSet::new();
    for job in &all {
        let solution = kerf_and_coil::design::cutting::solve(job).expect("a layout");
        for step in cutting::sheets(job, &solution, &prefs).iter().flat_map(|sheet| &sheet.steps) {
            assert!(ticks.insert(step.tick.clone()), "{}", step.tick);
        }
    }
    // The saw is told which board a setting is for, and only where there are several.
    let rows = tables::fence(&enclosure, &design.sheet, &prefs);
    assert!(rows.iter().all(|row| row.cares.iter().any(|care| care.contains("Only what is cut from"))));
    let plain = demo::design();
    let (_, enclosure) = planned(&plain);
    let rows = tables::fence(&enclosure, &plain.sheet, &prefs);
    assert!(!rows.iter().any(|row| row.cares.iter().any(|care| care.contains("Only what is cut from"))));
}

#[test]
fn a_board_without_a_thickness_is_asked_for() {
    let mut design = demo::design();
    set(&mut design, &[(FieldId::InsideFrom, "third")]);
    let gap = evaluate(&design.sheet).enclosure.expect_err("no thickness");
    assert_eq!(gap, Gap::Missing(vec![vec![FieldId::ThirdBoard]]));
    // A board that nothing is cut from changes nothing.
    let mut idle = demo::design();
    set(&mut idle, &[(FieldId::SecondBoard, "40 mm")]);
    let (_, with) = planned(&idle);
    let (_, without) = planned(&demo::design());
    assert_eq!(with.plan.net(), without.plan.net());
}

/// A front of 9 mm between supports 564 × 384 mm sags by (18/9)³ what the back does under the same pressure; E is the same.
#[test]
fn a_thin_front_is_the_weakest_panel() {
    let mut design = mixed();
    set(
        &mut design,
        &[(FieldId::FrontLayers, "single"), (FieldId::ThirdBoard, "9 mm"), (FieldId::FrontFrom, "third")],
    );
    set(
        &mut design,
        &[(FieldId::InsideFrom, "first"), (FieldId::Recess, "on top"), (FieldId::BoxDepth, "380 mm")],
    );
    // A brace would halve front and back.
    set(&mut design, &[(FieldId::Braces, "0")]);
    let (report, enclosure) = planned(&design);
    let thin = bench(&design.sheet, &report, &enclosure).panel.expect("a panel");
    let mut thick = design.clone();
    set(&mut thick, &[(FieldId::FrontFrom, "first"), (FieldId::BoxDepth, "389 mm")]);
    let (report, enclosure) = planned(&thick);
    let even = bench(&thick.sheet, &report, &enclosure).panel.expect("a panel");
    assert_eq!((thin.faces, even.faces), (Axis::Depth, Axis::Depth));
    // The same inside, but for the driver's hole in 9 mm more of wood: pressures differ by half a percent at most.
    let ratio = thin.sag.metres() / thin.pressure.pascals() / (even.sag.metres() / even.pressure.pascals());
    assert!((ratio - 8.0).abs() < 1e-6, "{ratio}");
    // Twice as stiff a board sags half as much.
    set(&mut design, &[(FieldId::ThirdModulus, "6")]);
    let (report, enclosure) = planned(&design);
    let stiff = bench(&design.sheet, &report, &enclosure).panel.expect("a panel");
    assert!((stiff.sag.metres() * 2.0 / thin.sag.metres() - 1.0).abs() < 1e-9);
}

#[test]
fn the_search_knows_the_boards() {
    let mut design = mixed();
    for id in [FieldId::BoxWidth, FieldId::BoxHeight, FieldId::BoxDepth] {
        design.sheet.clear(id);
    }
    let report = evaluate(&design.sheet);
    let room = find::brief(&design.sheet, &report).expect("a brief").room;
    let millimetres = [room.board, room.front, room.divider].map(|size| (size.metres() * 1e4).round() / 10.0);
    assert_eq!(millimetres, [18.0, 37.0, 12.0]);
}

/// A sixth-order band-pass of the demo's driver with a slot through the front from either room.
fn two_slots() -> Design {
    let mut design = demo::design();
    set(
        &mut design,
        &[
            (FieldId::BoxKind, "bandpass 6 outward"),
            (FieldId::Strips, "none"),
            (FieldId::SpaceWidth, "1000 mm"),
            (FieldId::SpaceHeight, "440 mm"),
            (FieldId::SpaceDepth, "700 mm"),
            (FieldId::BoxWidth, "800 mm"),
            (FieldId::BoxHeight, "420 mm"),
            (FieldId::BoxDepth, "480 mm"),
            (FieldId::WantedNet, "60 l"),
            (FieldId::FrontNet, "25 l"),
            (FieldId::PortShape, "slot"),
            (FieldId::SlotHeight, "30 mm"),
            (FieldId::FrontPortShape, "slot"),
            (FieldId::FrontSlotHeight, "35 mm"),
        ],
    );
    design
}

/// Length that the ends of a slot add, by numbers alone: the static air mass before a piston a × b in a wall is the mean of
/// 1/(2πr) over the piston twice; against a wall along its width it is that of the piston with its mirror image. In polar
/// coordinates the inner integral is a polynomial, the outer one is summed here.
fn ends_of_slot(width: f64, height: f64) -> f64 {
    let twice = |a: f64, b: f64| {
        let parts = 20_000;
        let step = std::f64::consts::FRAC_PI_2 / f64::from(parts);
        let over_angles: f64 = (0..parts)
            .map(|part| {
                let (sin, cos) = ((f64::from(part) + 0.5) * step).sin_cos();
                let far = (a / cos).min(b / sin);
                a * b * far - far * far / 2.0 * (a * sin + b * cos) + far.powi(3) / 3.0 * sin * cos
            })
            .sum();
        4.0 * over_angles * step
    };
    let flush = twice(width, height) / (std::f64::consts::TAU * width * height);
    let on_the_floor = twice(width, 2.0 * height) / (2.0 * std::f64::consts::TAU * width * height);
    flush + on_the_floor
}

/// Both tunings as asked for, and as c/2π·√(S/(V·L)) gives them for the slots as cut in the rooms as cut.
#[test]
fn slots_of_two_rooms_are_tuned() {
    let mut design = two_slots();
    set(&mut design, &[(FieldId::WantedTuning, "38 Hz"), (FieldId::FrontTuning, "62 Hz")]);
    let (report, enclosure) = planned(&design);
    let build = enclosure.plan.current();
    let sound = report.sound.as_ref().expect("a sound");
    let c = sound.air.speed_of_sound_m_s();
    let room = build.front_room.as_ref().expect("a room before the drivers");
    // Rooms as asked for, but for what the outside that is fixed leaves them.
    assert!((build.ledger.net.litres() / room.net.litres() / (60.0 / 25.0) - 1.0).abs() < 0.02);
    let inside = build.assembly.inside.width.millimetres();
    let divider = enclosure.spec.divider().expect("a divider").room.millimetres();
    for (port, cut, net, width, height, wanted) in [
        (enclosure.port, build.assembly.port, build.ledger.net, inside - divider - 18.1, 30.0, 38.0),
        (enclosure.front_port, build.assembly.front_port, room.net, divider, 35.0, 62.0),
    ] {
        let (port, cut) = (port.expect("a port"), cut.expect("a port"));
        assert!((cut.width.millimetres() - width).abs() < 1e-9, "{:?}, expected {width}", cut.width);
        assert_eq!((cut.height.millimetres(), cut.round), (height, false));
        let [w, h] = [width, height].map(|size| size * 1e-3);
        let long = cut.length.metres() + ends_of_slot(w, h);
        let hertz = c / std::f64::consts::TAU * (w * h / (net.cubic_metres() * long)).sqrt();
        assert!((port.tuning.hertz() - hertz).abs() < 1e-5 * hertz, "{} {hertz}", port.tuning.hertz());
        // The tape's half a millimetre, and rooms that settle to the tape.
        assert!((hertz - wanted).abs() < 0.1, "{hertz}, wanted {wanted}");
    }
    let of_the_box =
        |warning: &&Warning| warning.place() == Place::Saw || matches!(warning, Warning::Tuning { .. });
    let doubts: Vec<_> = report.warnings.iter().filter(of_the_box).collect();
    assert!(doubts.is_empty(), "{doubts:?}");
}

/// Without a number for anything but the volumes, both kinds give a box that stands, in a space too.
#[test]
fn slots_settle_by_themselves() {
    for kind in ["bandpass 4", "bandpass 6 outward", "bandpass 6 inward"] {
        let mut design = two_slots();
        set(&mut design, &[(FieldId::BoxKind, kind)]);
        let (report, enclosure) = planned(&design);
        let warned: Vec<_> = report.warnings.iter().filter(|warning| warning.place() == Place::Saw).collect();
        assert!(warned.is_empty(), "{kind}: {warned:?}");
        let rear = enclosure.plan.current().assembly.port;
        assert_eq!(
            rear.map(|port| port.round),
            [None, Some(false), Some(true)][match kind {
                "bandpass 4" => 0,
                "bandpass 6 outward" => 1,
                _ => 2,
            }]
        );
        // A tube across the rear room asks for its width, whatever is wanted.
        if kind == "bandpass 6 inward" {
            continue;
        }
        for id in [FieldId::BoxWidth, FieldId::BoxHeight, FieldId::BoxDepth] {
            design.sheet.clear(id);
        }
        let (report, enclosure) = planned(&design);
        let build = enclosure.plan.current();
        let room = build.front_room.as_ref().expect("a room before the drivers");
        assert!((build.ledger.net.litres() - 60.0).abs() < 0.6, "{kind}: {}", build.ledger.net.litres());
        assert!((room.net.litres() - 25.0).abs() < 0.2, "{kind}: {}", room.net.litres());
        assert!(
            report.warnings.iter().all(|warning| warning.severity() != Severity::Stop),
            "{kind}: {:?}",
            report.warnings
        );
    }
}

fn mm(value: f64) -> ExactLength {
    ExactLength::from_millimetres(value)
}

/// Four boards around, each past the next; front and back over them or between.
fn pinwheel(outside: Dims, board: Board, over: bool) -> BoxSpec {
    let mut spec = BoxSpec::plain(outside, board);
    spec.owners = Owners::ring(over);
    spec
}

/// Case pinwheel-1 of the woodworking reference: its sizes and its air, and one setting of the fence for all four.
#[test]
fn a_pinwheel_is_that_of_the_reference() {
    let outside = Dims { width: mm(400.0), height: mm(400.0), depth: mm(360.0) };
    let plan = plan(&pinwheel(outside, Board::mdf(mm(18.0)), false), &AsBuilt::new()).expect("a box");
    assert!((plan.net().litres() - 42.928_704).abs() < 1e-9);
    let sizes = &plan.planned.sizes;
    for id in [PartId::Left, PartId::Right, PartId::Top, PartId::Bottom] {
        let across = if matches!(id, PartId::Left | PartId::Right) { Axis::Height } else { Axis::Width };
        assert_eq!(sizes.get(id, across.into()), mm(382.0));
        assert_eq!(sizes.get(id, Axis::Depth.into()), mm(360.0));
    }
    for id in [PartId::Front(0), PartId::Back] {
        assert_eq!([Axis::Width, Axis::Height].map(|axis| sizes.get(id, axis.into())), [mm(364.0); 2]);
    }
    let settings: Vec<f64> = plan.fence.iter().map(|setting| setting.size.millimetres()).collect();
    assert_eq!(settings, [382.0, 364.0, 360.0]);
    assert_eq!(plan.fence[0].cuts.iter().map(|cut| cut.pieces.len()).sum::<usize>(), 4);
    let order = build_order(&plan.planned.assembly);
    assert_eq!(order.steps.len(), 6, "every board is glued on");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    /// Whatever runs through, the boards stand where the owners of the edges put them; nothing stands in another, and wood
    /// and air are the block.
    #[test]
    fn any_owners_fill_their_block(
        sizes in (3000..9000_i64, 3000..7000_i64, 3000..8000_i64), thick in 90..260_i64, bits in 0..4096_u32, step in 0..3_usize,
        ring in prop::option::of(any::<bool>()), slot in any::<bool>(), layers in 1..=2_u8,
    ) {
        let tenth = |n: i64| ExactLength::from_hundredths_mm(n * 10);
        let outside = Dims { width: tenth(sizes.0), height: tenth(sizes.1), depth: tenth(sizes.2) };
        let around = [FRONT, BACK, LEFT, RIGHT, BOTTOM, TOP];
        let all = around.iter().enumerate().flat_map(|(place, a)| around[place + 1..].iter().map(move |b| [*a, *b]));
        let pairs: Vec<_> = all.filter(|[a, b]| a.0 != b.0).collect();
        prop_assert_eq!(pairs.len(), 12);
        let mut owners = Owners::default();
        for (place, [a, b]) in pairs.into_iter().enumerate() {
            let (owner, other) = if bits >> place & 1 == 1 { (a, b) } else { (b, a) };
            owners = owners.with(owner, other).expect("an edge");
        }
        let owners = ring.map_or(owners, Owners::ring);
        prop_assume!(owners.check().is_ok());
        let mut spec = BoxSpec::plain(outside, Board::mdf(tenth(thick)));
        spec.owners = owners;
        spec.tape_step = [ExactLength::ZERO, mm(1.0), ExactLength::from_sixty_fourths_inch(4)][step];
        if layers == 1 {
            let wanted = owned(outside, tenth(thick), owners).expect("a box");
            let exact = plan(&spec, &AsBuilt::new()).expect("a box").exact;
            for board in wanted.boards {
                let body = exact.assembly.bodies.iter().find(|body| body.kind == BodyKind::Board(board.part)).expect("a board");
                prop_assert_eq!(body.solid, Solid::Block { min: board.min, size: board.size });
            }
        }
        spec.front_layers = layers;
        if slot {
            spec.port = Port::Slot(SlotPort { height: mm(40.0), length: mm(150.0), width: SlotWidth::Full, bends: 0 });
        }
        let plan = plan(&spec, &AsBuilt::new()).expect("a box");
        prop_assert_eq!(&plan.planned.assembly.misfits, &[]);
        for axis in Axis::ALL {
            let smaller = spec.outside.get(axis) - plan.planned.assembly.outside.get(axis);
            prop_assert!(smaller >= ExactLength::ZERO && (smaller < spec.tape_step || smaller == ExactLength::ZERO));
        }
        let build = &plan.exact;
        let wood: f64 = build.assembly.with_role(Role::Shell).map(|body| body.solid.volume().litres()).sum();
        // A front let in between sides and bottom ends above the slot: its mouth is outside air.
        let let_in = [LEFT, RIGHT, BOTTOM].iter().all(|other| owners.owns(*other, FRONT));
        let mouth = build.assembly.port.filter(|_| let_in).map_or(0.0, |port| {
            port.width.millimetres() * 40.0 * build.assembly.front_thickness.millimetres() * 1e-6
        });
        let block: f64 = outside.millimetres().iter().product::<f64>() * 1e-6;
        prop_assert!((block - wood - mouth - build.ledger.gross.litres()).abs() < 1e-9 * block);
    }

    /// The ring is what it says: left over top, top over right, right over bottom, bottom over left.
    #[test]
    fn the_ring_goes_round(over in any::<bool>()) {
        let around = [LEFT, TOP, RIGHT, BOTTOM];
        let mut owners = Owners::by(Precedence::ALL[if over { 0 } else { 3 }]);
        for (place, board) in around.iter().enumerate() {
            owners = owners.with(*board, around[(place + 1) % 4]).expect("an edge");
        }
        prop_assert_eq!(owners, Owners::ring(over));
    }
}

/// An edge by itself: the left side past the top. What leaves a corner open is refused, and the reason names the corner.
#[test]
fn edges_are_chosen_one_by_one() {
    let mut design = mixed();
    set(&mut design, &[(FieldId::EdgeLeftTop, "left")]);
    let (_, enclosure) = planned(&design);
    let size = |id: PartId, axis: Axis| enclosure.plan.planned.sizes.get(id, axis.into()).millimetres();
    assert_eq!(size(PartId::Left, Axis::Height), 402.0);
    assert_eq!(size(PartId::Right, Axis::Height), 384.0);
    assert_eq!([PartId::Top, PartId::Bottom].map(|id| size(id, Axis::Width)), [582.0, 600.0]);
    // The two sides are two lines of the cut list now.
    let sides = enclosure.plan.parts.iter().filter(|part| part.name == PartName::Side);
    assert_eq!(sides.map(|part| part.count()).collect::<Vec<_>>(), [1, 1]);

    set(&mut design, &[(FieldId::EdgeFrontLeft, "left")]);
    let gap = evaluate(&design.sheet).enclosure.expect_err("an open corner");
    let Gap::Refused(why) = gap else { panic!("{gap:?}") };
    assert!(why.to_string().contains("front left bottom corner"), "{why}");
    // In a shaped box the sides cover the rest whatever is chosen.
    set(&mut design, &[(FieldId::Shape, "slanted back"), (FieldId::TopDepth, "400 mm")]);
    assert!(evaluate(&design.sheet).enclosure.is_ok());
}

/// Where glue goes is hatched on what stands: every line lies on a board that stands and on one that is put on, and where the
/// new board is taken away it is in sight.
#[test]
fn glue_is_hatched_where_boards_meet() {
    let mut design = mixed();
    set(&mut design, &[(FieldId::Strips, "four")]);
    hatched_soundly(&design);
    // The sides of a wedge come last, onto the ends of all other boards.
    set(
        &mut design,
        &[(FieldId::Shape, "slanted back"), (FieldId::TopDepth, "380 mm"), (FieldId::Strips, "all")],
    );
    hatched_soundly(&design);
}

fn hatched_soundly(design: &Design) {
    use kerf_and_coil::model::geometry::faces::polyhedra;
    use kerf_and_coil::present::assembling::{eye, glued};
    let (_, enclosure) = planned(design);
    let assembly = &enclosure.plan.current().assembly;
    let (order, all) = (build_order(assembly), polyhedra(assembly));
    let mut standing = Vec::new();
    let (mut hatched, mut lines) = (0, 0);
    let bounds = |id: PartId| {
        let wanted = |kind: BodyKind| {
            kind == BodyKind::Board(id)
                || matches!((kind, id), (BodyKind::Strip(a), PartId::Strip(b)) if a == b)
        };
        assembly.bodies.iter().find(|body| wanted(body.kind)).expect("a body").bounds()
    };
    for step in &order.steps {
        let strokes = glued(assembly, step, &standing, eye(&order));
        hatched += usize::from(!strokes.is_empty());
        for stroke in &strokes {
            lines += 1;
            let touches = |id: PartId| {
                let found = bounds(id);
                stroke
                    .in_box
                    .iter()
                    .all(|at| (0..3).all(|i| at[i] >= found.min[i] - 3.5 && at[i] <= found.max[i] + 3.5))
            };
            assert!(
                step.joints.iter().any(|joint| touches(joint.piece) && touches(joint.onto)),
                "{stroke:?}"
            );
        }
        standing.extend(all.iter().filter(|piece| step.pieces.contains(&piece.piece)));
    }
    let last =
        glued(assembly, order.steps.last().expect("steps"), &standing_before(&order, &all), eye(&order));
    assert!(!last.is_empty(), "the last board has its glue");
    assert!(
        hatched * 3 >= order.steps.len() && lines > 100,
        "{hatched} of {} steps, {lines} lines",
        order.steps.len()
    );
}

/// The back of a wedge leans against top and bottom: the lines of its glue lie in the planes in which the boards meet. By
/// hand: the back covers both (joint `Over`), so the plane runs through its inner face, which leans by 100 over 340 mm.
#[test]
fn glue_of_a_leaning_back_is_hatched() {
    use kerf_and_coil::model::geometry::faces::polyhedra;
    use kerf_and_coil::present::assembling::{eye, glued};
    let mut design = mixed();
    let sizes = [
        (FieldId::Shape, "slanted back"),
        (FieldId::BoxDepth, "400 mm"),
        (FieldId::BoxHeight, "340 mm"),
        (FieldId::TopDepth, "300 mm"),
        (FieldId::Strips, "none"),
    ];
    set(&mut design, &sizes);
    let (_, enclosure) = planned(&design);
    let assembly = &enclosure.plan.current().assembly;
    let (order, all) = (build_order(assembly), polyhedra(assembly));
    let mut standing = Vec::new();
    let mut lines = 0;
    for step in &order.steps {
        let leaning = step.joints.iter().any(|joint| {
            (joint.piece == PartId::Back || joint.onto == PartId::Back) && joint.face.0 != Axis::Width
        });
        if leaning {
            for stroke in glued(assembly, step, &standing, eye(&order)) {
                let [from, to] = stroke.in_box;
                let (run, rise) = (to[0] - from[0], to[2] - from[2]);
                // What does not lie on an upright or a level board leans as the back does.
                if run.abs() > 0.01 && rise.abs() > 0.01 {
                    lines += 1;
                    assert!((run / rise + 100.0 / 340.0).abs() < 0.02, "{stroke:?}");
                }
            }
        }
        standing.extend(all.iter().filter(|piece| step.pieces.contains(&piece.piece)));
    }
    assert!(lines > 10, "{lines} lines on leaning faces");
}

/// What stands before the last step.
fn standing_before<'a>(
    order: &kerf_and_coil::model::geometry::BuildOrder,
    all: &'a [kerf_and_coil::model::geometry::faces::Polyhedron],
) -> Vec<&'a kerf_and_coil::model::geometry::faces::Polyhedron> {
    let last = order.steps.last().expect("steps");
    all.iter().filter(|piece| !last.pieces.contains(&piece.piece)).collect()
}

/// Whatever size the box comes out at, a brace keeps its rim: the window is as large as its board less two rims. The rims are
/// those entered, the sizes those cut.
#[test]
fn a_brace_keeps_its_rim_whatever_the_box_comes_out_at() {
    for (rim, entries) in [
        (60.0, &[(FieldId::BoxDepth, "300 mm")][..]),
        (40.0, &[][..]),
        (
            30.0,
            &[
                (FieldId::BoxWidth, "500 mm"),
                (FieldId::SpaceHeight, "400 mm"),
                (FieldId::SpaceDepth, "500 mm"),
            ][..],
        ),
    ] {
        let mut design = demo::design();
        let rim_text = format!("{rim} mm");
        let usual =
            [(FieldId::Strips, "none"), (FieldId::Braces, "2"), (FieldId::BraceRim, rim_text.as_str())];
        set(&mut design, &usual);
        set(&mut design, entries);
        let (_, enclosure) = planned(&design);
        let frames: Vec<[f64; 4]> = enclosure
            .plan
            .current()
            .assembly
            .bodies
            .iter()
            .filter_map(|body| match body.solid {
                Solid::Frame { size, window, .. } => {
                    Some([size.depth, window.across, size.height, window.up].map(|l| l.millimetres()))
                }
                _ => None,
            })
            .collect();
        assert_eq!(frames.len(), 2);
        for [deep, across, high, up] in frames {
            assert!((deep - across - 2.0 * rim).abs() < 1e-6, "{deep} {across}");
            assert!((high - up - 2.0 * rim).abs() < 1e-6, "{high} {up}");
        }
    }
}

/// One brace stands in the middle: the terminals then go into the middle of the bay to its right, a quarter of the inside on.
#[test]
fn terminals_go_beside_a_brace_in_the_middle() {
    let mut design = demo::design();
    set(&mut design, &[(FieldId::Strips, "none"), (FieldId::Braces, "1"), (FieldId::BoxWidth, "700 mm")]);
    let (_, enclosure) = planned(&design);
    let assembly = &enclosure.plan.current().assembly;
    let hole = assembly.bodies.iter().find(|body| body.kind == BodyKind::TerminalHole).expect("terminals");
    let bounds = hole.bounds();
    let middle = (bounds.min[1] + bounds.max[1]) / 2.0;
    assert!((middle - (350.0 + assembly.inside.width.millimetres() / 4.0)).abs() < 0.01, "{middle}");
}

/// A brace on the roof of a straight slot keeps its rim of 60 mm all round: 420 − 36 mm inside, less 35 + 18 mm of slot.
#[test]
fn a_brace_on_a_slot_keeps_its_rim() {
    let mut design = demo::design();
    set(
        &mut design,
        &[
            (FieldId::Board, "18 mm"),
            (FieldId::BoxKind, "vented"),
            (FieldId::Strips, "none"),
            (FieldId::PortShape, "slot"),
            (FieldId::SlotHeight, "35 mm"),
            (FieldId::PortLength, "300 mm"),
            (FieldId::BoxWidth, "600 mm"),
            (FieldId::BoxHeight, "420 mm"),
            (FieldId::BoxDepth, "450 mm"),
            (FieldId::Braces, "2"),
            (FieldId::BraceRim, "60 mm"),
        ],
    );
    let (_, enclosure) = planned(&design);
    let frames = enclosure.plan.current().assembly.bodies.iter().filter_map(|body| match body.solid {
        Solid::Frame { size, window, .. } => Some((size.height.millimetres(), window.up.millimetres())),
        _ => None,
    });
    assert_eq!(frames.collect::<Vec<_>>(), [(331.0, 211.0); 2]);
    // Of two braces each is told by its number, counted from one; a single tube needs none.
    let steps = |design: &Design| -> Vec<String> {
        let (_, enclosure) = planned(design);
        kerf_and_coil::present::assembling::assembling(&enclosure)
            .steps
            .into_iter()
            .map(|step| step.title)
            .collect()
    };
    let details = cutting::details(&enclosure, &design.sheet, &UnitPrefs::default());
    let windows: Vec<&str> =
        details.iter().map(|row| row.name.as_str()).filter(|name| name.contains("brace")).collect();
    assert_eq!(windows, ["brace 1: window", "brace 2: window"]);
    set(
        &mut design,
        &[(FieldId::PortShape, "round"), (FieldId::PortDiameter, "80 mm"), (FieldId::Braces, "0")],
    );
    let titles = steps(&design);
    assert!(titles.iter().any(|title| title.ends_with(". port tube")), "{titles:?}");
}

/// Every choice gives a box of the same air, from entries on; what runs through is as long as the box.
#[test]
fn every_choice_of_joints_holds_the_same_air() {
    let mut nets = Vec::new();
    let orders = [
        "front, top, sides",
        "front, sides, top",
        "top, front, sides",
        "top, sides, front",
        "sides, front, top",
        "sides, top, front",
        "front, ring",
        "ring, front",
    ];
    for order in orders {
        let mut design = mixed();
        set(&mut design, &[(FieldId::Joints, order)]);
        let (_, enclosure) = planned(&design);
        nets.push(enclosure.plan.net().litres());
        let first = match order.split_once(',').expect("an order").0 {
            "front" => (PartId::Front(0), Axis::Height, 420.0),
            "top" => (PartId::Top, Axis::Width, 600.0),
            "sides" => (PartId::Left, Axis::Height, 420.0),
            _ => (PartId::Left, Axis::Height, 402.0),
        };
        assert_eq!(
            enclosure.plan.planned.sizes.get(first.0, first.1.into()).millimetres(),
            first.2,
            "{order}"
        );
    }
    assert!(nets.iter().all(|net| (net - nets[0]).abs() < 1e-9), "{nets:?}");
    let mut design = mixed();
    set(&mut design, &[(FieldId::Joints, "ring, front"), (FieldId::TestBox, "legs")]);
    let owners = planned(&design).1.spec.owners;
    assert!(
        [FRONT, BACK, BOTTOM, TOP].iter().all(|other| owners.owns(LEFT, *other)),
        "sides that form legs run past the rest"
    );
}

/// Volume that corner strips close off, in mm³, and where they share it.
fn strip_volume(enclosure: &BoxReport) -> f64 {
    let rows = [LedgerItem::CornerStrips, LedgerItem::StripCorners];
    let ledger = &enclosure.plan.current().ledger;
    -rows.iter().map(|row| ledger.volume(*row).cubic_metres()).sum::<f64>() * 1e9
}

/// 600 × 420 × 450 mm outside, 18 mm, double front, strips of 60 mm in the edges ticked.
fn own_edges(ticks: &[FieldId]) -> Design {
    let mut design = demo::design();
    let sizes = [
        (FieldId::Board, "18 mm"),
        (FieldId::BoxWidth, "600 mm"),
        (FieldId::BoxHeight, "420 mm"),
        (FieldId::BoxDepth, "450 mm"),
        (FieldId::StripFace, "60 mm"),
        (FieldId::Strips, "own"),
    ];
    set(&mut design, &sizes);
    for id in ticks {
        set(&mut design, &[(*id, "yes")]);
    }
    design
}

/// Strips in three edges that meet in one corner and one that meets none of them.
///
/// By hand: inside 564 × 384 × 396 mm; each closes off 60²/4 = 900 mm² of its edge; in the corner front, left, top every
/// two share a³/3 and all three a³/4 with a = 60/√2, so a³ − a³/4 is counted twice.
#[test]
fn corner_strips_stand_in_the_edges_ticked() {
    let ticks =
        [FieldId::StripFrontLeft, FieldId::StripFrontTop, FieldId::StripLeftTop, FieldId::StripBackBottom];
    let (report, enclosure) = planned(&own_edges(&ticks));
    let cube = (60.0 / 2.0_f64.sqrt()).powi(3);
    let expected = 900.0 * (384.0 + 564.0 + 396.0 + 564.0) - 0.75 * cube;
    let found = strip_volume(&enclosure);
    assert!((found - expected).abs() < 0.01, "{found}, {expected}");
    let bodies = &enclosure.plan.current().assembly.bodies;
    let mut places: Vec<_> = bodies
        .iter()
        .filter(|body| matches!(body.kind, BodyKind::Strip(_)))
        .map(|body| {
            let bounds = body.bounds();
            // Where its middle lies: before or behind, left or right, below or above that of the box.
            [0, 1, 2].map(|axis| {
                let middle = [450.0 + 18.0, 600.0, 420.0][axis];
                ((bounds.min[axis] + bounds.max[axis] - middle) / 30.0).round() as i32
            })
        })
        .map(|at| at.map(i32::signum))
        .collect();
    places.sort_unstable();
    // Depth, width, height.
    assert_eq!(places, [[-1, -1, 0], [-1, 0, 1], [0, -1, 1], [1, 0, -1]]);
    assert!(!report_says(&report, &own_edges(&ticks), |warning| matches!(warning, Warning::NoStripTicked)));
    // Taken into the wiring of the search: strips across lie above and below the drivers, upright ones beside them.
    let room = |ticks: &[FieldId]| {
        let design = own_edges(ticks);
        let report = evaluate(&design.sheet);
        find::brief(&design.sheet, &report).expect("a brief").room.edges.map(|leg| leg.metres() > 0.0)
    };
    assert_eq!(room(&[FieldId::StripFrontTop]), [false, true]);
    assert_eq!(room(&[FieldId::StripBackRight]), [true, false]);
    assert_eq!(room(&[FieldId::StripLeftTop]), [false, false]);
}

fn report_says(report: &Report, design: &Design, says: impl Fn(&Warning) -> bool) -> bool {
    kerf_and_coil::design::warnings::all(report, &design.sheet).iter().any(says)
}

/// Nothing asked for is dropped without a word.
#[test]
fn corner_strips_that_cannot_be_are_told() {
    let (report, enclosure) = planned(&own_edges(&[]));
    assert!(enclosure.spec.strips.is_none());
    assert!(report_says(&report, &own_edges(&[]), |warning| *warning == Warning::NoStripTicked));

    // Four edges run across; the divider of a band-pass stands in their way.
    let mut divided = own_edges(&[]);
    let kind = [(FieldId::BoxKind, "bandpass 4"), (FieldId::WantedNet, "30 l"), (FieldId::FrontNet, "20 l")];
    set(&mut divided, &kind);
    set(&mut divided, &[(FieldId::Strips, "all")]);
    let (report, _) = planned(&divided);
    assert!(report_says(&report, &divided, |warning| *warning == Warning::StripsAtDivider { count: 4 }));
    let own = [(FieldId::Strips, "own"), (FieldId::StripBackTop, "yes"), (FieldId::StripBackLeft, "yes")];
    set(&mut divided, &own);
    let (report, enclosure) = planned(&divided);
    assert!(report_says(&report, &divided, |warning| *warning == Warning::StripsAtDivider { count: 1 }));
    assert_eq!(strips::left_out(&divided.sheet, &enclosure.plan), [FieldId::StripBackTop]);

    // Of a shaped box: the edge behind a step has no two boards that meet.
    let step = [
        (FieldId::Shape, "step above"),
        (FieldId::StepHeight, "200 mm"),
        (FieldId::StepDepth, "250 mm"),
        (FieldId::StripBackLeft, "yes"),
        (FieldId::StripBackBottom, "yes"),
    ];
    let mut shaped = own_edges(&[]);
    set(&mut shaped, &step);
    let (_, enclosure) = planned(&shaped);
    assert_eq!(strips::left_out(&shaped.sheet, &enclosure.plan), [FieldId::StripBackLeft]);
}

/// Between a back that leans by θ = atan(100/400) and the bottom lie 90° − θ, and a strip there closes off
/// w²/(4 tan(φ/2)) of its edge (geometry.md section 3 for any angle).
#[test]
fn a_strip_ticked_in_a_leaning_edge_has_its_own_bevel() {
    let mut design = own_edges(&[FieldId::StripBackBottom]);
    let slant =
        [(FieldId::Shape, "slanted back"), (FieldId::BoxHeight, "400 mm"), (FieldId::TopDepth, "350 mm")];
    set(&mut design, &slant);
    let (_, enclosure) = planned(&design);
    let half = (90.0_f64.to_radians() - (100.0_f64 / 400.0).atan()) / 2.0;
    let expected = 60.0 * 60.0 / (4.0 * half.tan()) * 564.0;
    let found = strip_volume(&enclosure);
    // Boards are cut to the whole millimetre: over 400 mm that turns the back by up to 1/400, and so 2·(1/400)/sin φ.
    assert!((found / expected - 1.0).abs() < 0.005, "{found}, {expected}");
}

/// What all boards cost together. Each of the three takes one sheet: the first board's seven pieces come to 1.3 m² and the
/// others' to less than 0.5 m², of the 3 m² of a sheet.
#[test]
fn the_sheets_of_all_boards_have_one_price() {
    let mut design = mixed();
    let prices = [(FieldId::SheetPrice, "48.50"), (FieldId::ThirdSheetPrice, "39.25")];
    set(&mut design, &prices);
    let bill = |design: &Design| {
        let (_, enclosure) = planned(design);
        let jobs = jobs(&design.sheet, &enclosure, &[]);
        let solved: Vec<_> = jobs.iter().map(|job| (job, solve(job).expect("a layout"))).collect::<Vec<_>>();
        let pairs: Vec<_> = solved.iter().map(|(job, solution)| (*job, solution)).collect();
        cutting::bill(&pairs, &design.sheet, &UnitPrefs::default())
    };
    let found = bill(&design);
    // 48.50 + 61 + 39.25.
    assert_eq!(found.rows.last(), Some(&("all sheets together".into(), "148.75".into(), "")));
    assert_eq!(found.missing, []);
    assert_eq!(found.rows.iter().filter(|row| row.2 == "×").count(), 3);

    // A price that is missing is named, and no sum is made up from areas.
    design.sheet.clear(FieldId::ThirdSheetPrice);
    let found = bill(&design);
    assert_eq!(found.missing, [FieldId::ThirdSheetPrice]);
    assert!(!found.rows.iter().any(|row| row.0 == "all sheets together"));

    // What is cut from an offcut alone is not bought.
    set(&mut design, &prices);
    design.sheet.clear(FieldId::SheetPrice);
    assert_eq!(bill(&design).missing, [FieldId::SheetPrice]);
    set(&mut design, &[(FieldId::OffcutWidth, "1220 mm"), (FieldId::OffcutLength, "2440 mm")]);
    let found = bill(&design);
    assert_eq!(found.missing, []);
    assert_eq!(found.rows.last(), Some(&("all sheets together".into(), "100.25".into(), "")));
}

/// A front of 600 × 420 mm alone on its sheet: on 1250 × 2500 mm the first cut leaves more than a metre and a half, or more
/// than half a metre, of board; on 640 × 460 mm a strip of 40 mm less the kerf.
#[test]
fn a_cut_that_leaves_an_offcut_is_no_trim() {
    let first = |width: &str, length: &str| {
        let mut design = mixed();
        set(&mut design, &[(FieldId::SecondSheetWidth, width), (FieldId::SecondSheetLength, length)]);
        set(&mut design, &[(FieldId::StripsFrom, "first")]);
        let (_, enclosure) = planned(&design);
        let jobs = jobs(&design.sheet, &enclosure, &[]);
        let job = jobs.iter().find(|job| job.board == 1).expect("the second board");
        let views = cutting::sheets(job, &solve(job).expect("a layout"), &UnitPrefs::default());
        views[0].steps[0].gives.clone()
    };
    assert_eq!(first("1250 mm", "2500 mm"), "leaves an offcut");
    assert_eq!(first("640 mm", "460 mm"), "trim");
}

/// What lies in one another is told by how much, never as a distance below zero; and which strip it is.
#[test]
fn two_things_in_one_place_are_told_by_how_much() {
    let prefs = UnitPrefs::default();
    let told = |fact| kerf_and_coil::present::warnings::text(&Warning::Fact(fact), &prefs);
    let mm = |value| ExactLength::from_millimetres(value);
    for (gap, expected) in [(-24.0, "reaches 24\u{a0}mm past the edge"), (4.0, "is 4\u{a0}mm from the edge")]
    {
        let text = told(Fact::FlangeToEdge { driver: 0, gap: mm(gap), wanted: mm(10.0) });
        assert!(text.contains(expected), "{text}");
    }
    for fact in [
        Fact::MagnetToBack { gap: mm(-3.0) },
        Fact::MagnetToSide { gap: mm(-3.0) },
        Fact::PortToBack { gap: mm(-3.0), wanted: mm(40.0) },
        Fact::PoleVent { gap: mm(-3.0), wanted: mm(25.0) },
        Fact::FlangeToFlange { gap: mm(-3.0) },
        Fact::FlangeToPort { driver: 0, gap: mm(-3.0) },
        Fact::CutoutToWall { driver: 0, gap: mm(-3.0) },
        Fact::RadiatorToEdge { radiator: 0, gap: mm(-3.0), wanted: mm(10.0) },
        Fact::RadiatorToFlange { gap: mm(-3.0) },
        Fact::RadiatorToWall { radiator: 0, gap: mm(-3.0) },
        Fact::RadiatorBehind { gap: mm(-3.0) },
        Fact::TubeToWall { tube: 0, gap: mm(-3.0) },
        Fact::TubeToTube { gap: mm(-3.0) },
        Fact::TerminalToWall { gap: mm(-3.0) },
    ] {
        let text = told(fact);
        assert!(text.contains("3\u{a0}mm") && !text.contains(['-', '\u{2212}']), "{text}");
    }
    let edge = InsideEdge { along: Axis::Width, first: End::Low, second: End::High };
    let text = told(Fact::Overlap { a: BodyKind::Driver(0), b: BodyKind::Strip(edge) });
    assert!(text.contains("corner strip (front and top)"), "{text}");
}
