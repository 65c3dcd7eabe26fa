//! Properties that hold for every box: choose a box, add up its air by the formulas of geometry.md without the model,
//! compare; round, and see that nothing moves by more than it may; feed it nonsense.
use std::collections::BTreeSet;
use std::f64::consts::PI;

use kerf_and_coil::model::geometry::edges::{self, BACK, BOTTOM, FRONT, LEFT, Owners, Place, RIGHT, TOP};
use kerf_and_coil::model::geometry::{
    AsBuilt, Axis, Board, Boards, BodyKind, BoxSpec, CornerStrips, Dimension, Dims, DriverCutout, End,
    FitRequest, HoleShape, InsideEdge, LedgerItem, MeasuredStripFace, PartId, PartName, Plan, Port,
    Precedence, Recess, Role, RoundPort, SlotPort, SlotWidth, Space, Stock, StripVoids, TerminalHole, Window,
    WindowBrace, fit, plan, weight,
};
use kerf_and_coil::units::{ExactLength, Volume};
use proptest::prelude::*;

use super::mm;

fn tenth(range: std::ops::Range<i64>) -> impl Strategy<Value = ExactLength> {
    range.prop_map(|n| ExactLength::from_hundredths_mm(n * 10))
}

fn step() -> impl Strategy<Value = ExactLength> {
    prop_oneof![
        Just(ExactLength::ZERO),
        Just(mm(0.5)),
        Just(mm(1.0)),
        Just(ExactLength::from_sixty_fourths_inch(4)),
    ]
}

/// One board for everything, or one for each group.
fn boards() -> impl Strategy<Value = Boards> {
    let board = |number| {
        (tenth(90..260), 400.0..800.0).prop_map(move |(thickness, density_kg_m3)| Board {
            thickness,
            density_kg_m3,
            number,
        })
    };
    let each = (board(0), [board(1), board(2)], board(3), board(4))
        .prop_map(|(shell, front, inner, strips)| Boards { shell, front, inner, strips });
    prop_oneof![tenth(90..260).prop_map(|t| Boards::all(Board::mdf(t))), each]
}

fn shell() -> impl Strategy<Value = BoxSpec> {
    let size = (tenth(4500..9000), tenth(4500..7000), tenth(4000..8000));
    (size, boards(), 1..=2_u8, 0..6_usize, step()).prop_map(
        |((width, height, depth), boards, layers, order, step)| {
            let mut spec = BoxSpec::plain(Dims { width, height, depth }, boards.shell);
            spec.boards = boards;
            spec.front_layers = layers;
            spec.owners = Owners::by(Precedence::ALL[order]);
            spec.tape_step = step;
            spec
        },
    )
}

fn port() -> impl Strategy<Value = Port> {
    let slot = (tenth(200..600), tenth(600..2500), 0..3, tenth(500..2000)).prop_map(
        |(height, length, kind, width)| {
            let width = match kind {
                0 => SlotWidth::Full,
                1 => SlotWidth::AgainstSide(width),
                _ => SlotWidth::FreeStanding(width),
            };
            Port::Slot(SlotPort { height, length, width, bends: 0 })
        },
    );
    let round = (1..=2_u8, tenth(400..1100), tenth(0..50), tenth(600..2500)).prop_map(
        |(count, diameter, wall, length)| {
            Port::Round(RoundPort { count, diameter, wall, length, centres: Vec::new() })
        },
    );
    prop_oneof![Just(Port::None), slot, round]
}

const OTHER_FACES: [Place; 5] = [BACK, LEFT, RIGHT, BOTTOM, TOP];

/// A box with everything a first job may have in it.
fn furnished() -> impl Strategy<Value = BoxSpec> {
    let elsewhere = proptest::collection::vec(0..5_usize, 0..=2);
    let driver = (1..=2_u8, 0..2, 1.0..6.0, elsewhere);
    let driver =
        driver.prop_map(|(count, flush, litres, elsewhere): (u8, i32, f64, Vec<usize>)| DriverCutout {
            count,
            cutout: mm(180.0),
            flange: mm(200.0),
            depth: mm(120.0),
            magnet: mm(140.0),
            displacement: Volume::from_litres(litres),
            pole_vent: Some(mm(25.0)),
            recess: (flush == 1).then_some(Recess { depth: Some(mm(5.0)), clearance: mm(2.0) }),
            centres: Vec::new(),
            elsewhere: elsewhere.into_iter().take(count.into()).map(|face| OTHER_FACES[face]).collect(),
        });
    let strips = (0..=4_usize, tenth(300..1000), any::<bool>(), any::<bool>());
    let terminal = (tenth(400..900), tenth(0..60), tenth(0..600), 0..6_usize);
    let parts = (proptest::option::of(driver), strips, port(), proptest::option::of(terminal), any::<bool>());
    (shell(), parts).prop_map(|(mut spec, (driver, (count, face, narrow, open), port, terminal, brace))| {
        spec.driver = driver;
        spec.port = port;
        spec.strips = (count > 0).then(|| CornerStrips {
            edges: InsideEdge::vertical()[..count].to_vec(),
            face,
            measured: if narrow { MeasuredStripFace::Narrow } else { MeasuredStripFace::Wide },
            length: Some(mm(200.0)),
            voids: if open { StripVoids::Open } else { StripVoids::Sealed },
        });
        spec.terminal = terminal.map(|(side, corner_radius, cup_depth, face)| TerminalHole {
            face: OTHER_FACES.get(face).copied().unwrap_or(FRONT),
            window: Some(mm(20.0)),
            shape: HoleShape::Rectangle(Window::new(side, side, corner_radius)),
            cup_depth,
            cup_volume: None,
            centre: None,
        });
        if brace {
            let window = Window::new(mm(120.0), mm(100.0), mm(30.0));
            spec.braces = vec![WindowBrace { count: 1, across: Axis::Height, window }];
        }
        spec
    })
}

/// Net litres by the formulas of geometry.md sections 1, 3, 4, 5, 6, from the specification alone.
fn net_by_formula(spec: &BoxSpec) -> f64 {
    let t = spec.boards.shell.thickness.millimetres();
    let of = |board: Board| board.thickness.millimetres();
    let (inner, strip) = (of(spec.boards.inner), of(spec.boards.strips));
    let front: f64 = spec.boards.front.into_iter().take(spec.front_layers.into()).map(of).sum();
    let (w, h, d) = (
        spec.outside.width.millimetres() - 2.0 * t,
        spec.outside.height.millimetres() - 2.0 * t,
        spec.outside.depth.millimetres() - front - t,
    );
    let mut net = w * h * d;
    if let Some(driver) = &spec.driver {
        let others = driver.elsewhere.len() as f64;
        let recess = driver.recess.map_or(0.0, |_| 5.0);
        let boards = (f64::from(driver.count) - others) * (front - recess) + others * t;
        net +=
            PI / 4.0 * 180.0 * 180.0 * boards - f64::from(driver.count) * driver.displacement.litres() * 1e6;
    }
    if let Some(strips) = &spec.strips {
        let mut face = strips.face.millimetres();
        if strips.measured == MeasuredStripFace::Narrow {
            face += 2.0 * strip;
        }
        let void =
            if strips.voids == StripVoids::Open { (face - 2.0 * strip).max(0.0).powi(2) / 4.0 } else { 0.0 };
        net -= strips.edges.len() as f64 * 200.0 * (face * face / 4.0 - void);
        // The brace is notched round the strips, which run through it in the middle of their length.
        net += (strips.edges.len() * spec.braces.len()) as f64 * inner * face * face / 4.0;
    }
    match &spec.port {
        Port::None => {}
        Port::Round(port) => {
            let outer = port.diameter.millimetres() + 2.0 * port.wall.millimetres();
            net -= f64::from(port.count) * PI / 4.0 * outer * outer * (port.length.millimetres() - front);
        }
        Port::Slot(slot) => {
            let width = match slot.width {
                SlotWidth::Full => w,
                SlotWidth::AgainstSide(b) => b.millimetres() + inner,
                SlotWidth::FreeStanding(b) => b.millimetres() + 2.0 * inner,
            };
            net -= (slot.height.millimetres() + inner) * width * (slot.length.millimetres() - front);
        }
    }
    if let Some(terminal) = &spec.terminal
        && let HoleShape::Rectangle(hole) = terminal.shape
    {
        let radius = hole.corner_radius.millimetres();
        let area = hole.across.millimetres() * hole.up.millimetres() - (4.0 - PI) * radius * radius;
        // In a double front it goes through the inner layer, behind the window of the outer one.
        let board = match (terminal.face == FRONT, spec.front_layers) {
            (true, 2) => of(spec.boards.front[1]),
            (true, _) => front,
            _ => t,
        };
        net += area * (board - terminal.cup_depth.millimetres());
    }
    for _ in &spec.braces {
        net -= inner * (w * d - (120.0 * 100.0 - (4.0 - PI) * 900.0));
    }
    net * 1e-6
}

/// Wood of the shell, air and holes add up to the outside: independent of the ledger's own sum.
fn assert_volumes_add_up(plan: &Plan) -> Result<(), TestCaseError> {
    let build = &plan.exact;
    let sum = |role| -> f64 { build.assembly.with_role(role).map(|b| b.solid.volume().litres()).sum() };
    let outside: f64 = build.assembly.outside.millimetres().iter().product::<f64>() * 1e-6;
    let mouth_in_a_short_front = plan.exact.assembly.port.filter(|port| {
        !port.round && !build.assembly.bodies.iter().any(|b| matches!(b.kind, BodyKind::PortMouth(_)))
    });
    // Where a front ends above the slot, the slot's mouth is outside air.
    let open = mouth_in_a_short_front.map_or(0.0, |port| {
        (port.width.millimetres() * port.height.millimetres() * build.assembly.front_thickness.millimetres())
            * 1e-6
    });
    let shell = sum(Role::Shell);
    let gross = build.ledger.gross.litres();
    prop_assert!((outside - shell - open - gross).abs() < 1e-6 * outside, "{outside} {shell} {open} {gross}");
    Ok(())
}

proptest! {
    #[test]
    fn the_ledger_equals_an_independent_sum(spec in furnished()) {
        if let Ok(plan) = plan(&spec, &AsBuilt::new()) {
            let expected = net_by_formula(&spec);
            let net = plan.exact.ledger.net.litres();
            prop_assert!((net - expected).abs() < 1e-9 * expected.abs() + 1e-9, "net {net}, by formula {expected}");
            assert_volumes_add_up(&plan)?;
            let lines: f64 = plan.exact.ledger.lines.iter().map(|line| line.volume.litres()).sum();
            prop_assert!((plan.exact.ledger.gross.litres() + lines - net).abs() < 1e-9);
        } else {
            // Only small air or a bulky port may be refused here.
            prop_assert!(net_by_formula(&spec) < 60.0, "refused: {spec:?}");
        }
    }

    /// Each board of the cut list by its own size, thickness and density, put where it stands, without the model's solids.
    #[test]
    fn the_weight_is_that_of_the_cut_list(spec in shell()) {
        let Ok(plan) = plan(&spec, &AsBuilt::new()) else { return Ok(()) };
        let build = plan.current();
        let outside = build.assembly.outside;
        let found = weight(&spec, &build.assembly, None);
        let (mut mass, mut moment) = (0.0, [0.0; 3]);
        for part in &plan.parts {
            for &id in &part.pieces {
                let board = spec.boards.of(id);
                prop_assert_eq!(part.thickness, board.thickness);
                let kg = part.length.planned.metres() * part.width.planned.metres()
                    * board.thickness.metres() * board.density_kg_m3;
                // Half a thickness within its own face, in the middle of the box along the other two.
                let half = board.thickness.millimetres() / 2.0;
                let mut at = outside.millimetres().map(|size| size / 2.0);
                let first = spec.boards.front[0].thickness.millimetres();
                match id {
                    PartId::Front(layer) => at[0] = half + f64::from(layer) * first,
                    PartId::Back => at[0] = outside.depth.millimetres() - half,
                    PartId::Left => at[1] = half,
                    PartId::Right => at[1] = outside.width.millimetres() - half,
                    PartId::Bottom => at[2] = half,
                    _ => at[2] = outside.height.millimetres() - half,
                }
                // A board between front and back stands in the middle of the inside.
                if !matches!(id, PartId::Front(_) | PartId::Back) && spec.owners.owns(edges::FRONT, edges::place(id)) {
                    at[0] = build.assembly.inside_min.depth.millimetres() + build.assembly.inside.depth.millimetres() / 2.0;
                }
                mass += kg;
                (0..3).for_each(|axis| moment[axis] += kg * at[axis]);
            }
        }
        prop_assert!((found.wood.kilograms() - mass).abs() < 1e-9 * mass, "{} {mass}", found.wood.kilograms());
        prop_assert!((plan.board_mass(&spec).kilograms() - mass).abs() < 1e-9 * mass);
        // What a covering board stands over by less than a step lies at one end of it.
        let step = spec.tape_step.millimetres();
        for (at, moment) in found.centre_mm.iter().zip(moment) {
            prop_assert!((at - moment / mass).abs() < 1e-6 + step / 2.0);
        }
    }

    #[test]
    fn rounding_moves_no_size_by_more_than_it_may(spec in furnished()) {
        if let Ok(plan) = plan(&spec, &AsBuilt::new()) {
            let step = spec.tape_step.eighth_micrometres();
            for part in &plan.parts {
                // A panel moves by less than a step; what slips into the rounded shell may follow it by less than a step
                // and goes down to a step of its own.
                let slips_in = matches!(part.name, PartName::PortRoof | PartName::Brace | PartName::CornerStrip);
                for cut in part.cuts() {
                    let moved = (cut.planned - cut.exact).eighth_micrometres();
                    let most = if slips_in { 2 * step } else { step };
                    prop_assert!(moved.abs() < most || moved == 0, "{:?} moved {moved}", part.name);
                    if step > 0 {
                        prop_assert_eq!(cut.planned.eighth_micrometres() % step, 0);
                    } else {
                        prop_assert_eq!(cut.planned, cut.exact);
                    }
                }
            }
        }
    }

    #[test]
    fn a_box_is_not_cut_larger_than_asked_for_nor_told_off_for_its_rounding(spec in furnished()) {
        if let Ok(plan) = plan(&spec, &AsBuilt::new()) {
            for axis in Axis::ALL {
                let smaller = spec.outside.get(axis) - plan.planned.assembly.outside.get(axis);
                prop_assert!(smaller >= ExactLength::ZERO && (smaller < spec.tape_step || smaller == ExactLength::ZERO));
            }
            prop_assert_eq!(&plan.planned.assembly.misfits, &[]);
        }
    }

    #[test]
    fn every_size_is_cut_once(spec in furnished()) {
        if let Ok(plan) = plan(&spec, &AsBuilt::new()) {
            let mut cut = BTreeSet::new();
            for setting in &plan.fence {
                for done in &setting.cuts {
                    for &piece in &done.pieces {
                        prop_assert!(cut.insert((piece, done.dimension)), "{piece:?} is cut twice");
                        prop_assert_eq!(plan.planned.sizes.get(piece, done.dimension), setting.size);
                    }
                }
            }
            let wanted: BTreeSet<_> = plan.parts.iter().filter(|p| p.stock == Stock::Board)
                .flat_map(|p| p.pieces.iter().flat_map(|&id| p.cuts().into_iter().map(move |c| (id, c.dimension))))
                .collect();
            prop_assert_eq!(&cut, &wanted);
            let all: usize = plan.planned.sizes.iter().filter(|(id, _, _)| id.name() != PartName::PortTube).count();
            prop_assert_eq!(cut.len(), all);
            let settings: BTreeSet<_> = plan.fence.iter().map(|s| (s.size, s.tilt, s.mitred, s.board)).collect();
            prop_assert_eq!(settings.len(), plan.fence.len(), "the fence moves back to an earlier setting");
            // Boards share no setting, but the fence stands still from one to the next.
            let mut fence: Vec<_> = plan.fence.iter().map(|s| (s.size, s.tilt, s.mitred)).collect();
            let alike = fence.iter().collect::<BTreeSet<_>>().len();
            fence.dedup();
            prop_assert_eq!(fence.len(), alike, "the fence moves back to an earlier size");
            for setting in &plan.fence {
                for &piece in setting.cuts.iter().flat_map(|cut| &cut.pieces) {
                    prop_assert_eq!(setting.board, spec.boards.of(piece).number);
                }
            }
        }
    }

    #[test]
    fn a_wrong_cut_changes_net_by_area_times_difference(spec in shell(), axis in 0..3_usize, off in -30..0_i64) {
        let Ok(before) = plan(&spec, &AsBuilt::new()) else { return Ok(()) };
        let axis = Axis::ALL[axis];
        let off = ExactLength::from_hundredths_mm(off * 10);
        // Every panel that has a size along the axis comes out shorter by the same amount.
        let cut: AsBuilt = before.planned.sizes.iter()
            .filter(|&(_, dimension, _)| dimension == Dimension::from(axis))
            .map(|(id, dimension, size)| ((id, dimension), size + off))
            .collect();
        let after = plan(&spec, &cut).expect("still a box");
        let [a, b] = axis.others().map(|other| before.planned.assembly.inside.get(other).millimetres());
        let expected = a * b * off.millimetres() * 1e-6;
        prop_assert!((after.as_built_effect().litres() - expected).abs() < 1e-9);
        prop_assert_eq!(after.planned.ledger.net, before.planned.ledger.net, "the plan is kept");
    }

    #[test]
    fn fit_comes_back_to_the_box(spec in furnished(), spare in 0..200_i64) {
        let mut template = spec.clone();
        template.tape_step = ExactLength::ZERO;
        if let Ok(wanted) = plan(&template, &AsBuilt::new()) {
            let size = Dims { depth: spec.outside.depth + mm(spare as f64), ..spec.outside };
            let request = FitRequest {
                net: wanted.exact.ledger.net,
                space: Some(Space { size, clearance: ExactLength::ZERO, slant: None }),
                width: None, height: None, depth: None,
            };
            let found = fit(&request, &template).expect("the box itself fits");
            prop_assert!(found.fits);
            let off = (found.spec.outside.depth - spec.outside.depth).millimetres();
            prop_assert!(off.abs() < 0.001, "depth is off by {off} mm");
            prop_assert!(found.largest.expect("a limit").litres() >= request.net.litres() - 1e-9);
        }
    }

    #[test]
    fn nonsense_gives_an_error_or_finite_numbers(
        numbers in proptest::collection::vec(prop_oneof![any::<i64>(), -100..10_000_000_i64, 0..5_000_000_i64], 24),
        counts in proptest::collection::vec(any::<u8>(), 6),
        real in prop_oneof![any::<f64>(), 0.0..1000.0],
    ) {
        let n = |i: usize| ExactLength::from_eighth_micrometres(numbers[i]);
        let mut spec = BoxSpec::plain(Dims { width: n(0), height: n(1), depth: n(2) }, Board {
            thickness: n(3),
            density_kg_m3: real,
            number: 0,
        });
        spec.boards.front[1] = Board { thickness: n(5), density_kg_m3: real, number: 1 };
        spec.boards.inner = Board { thickness: n(12), density_kg_m3: real, number: 2 };
        spec.front_layers = counts[0] % 4;
        spec.owners = Owners::by(Precedence::ALL[usize::from(counts[1]) % 6]);
        spec.tape_step = n(4);
        spec.kerf = n(5);
        spec.driver = Some(DriverCutout {
            count: counts[2] % 10, cutout: n(6), flange: n(7), depth: n(8), magnet: n(9),
            displacement: Volume::from_litres(real), pole_vent: Some(n(10)),
            recess: Some(Recess { depth: Some(n(11)), clearance: n(12) }),
            centres: vec![Dims { width: n(13), height: n(14), depth: n(15) }], elsewhere: Vec::new(),
        });
        spec.strips = Some(CornerStrips {
            edges: InsideEdge::all().into_iter().take(usize::from(counts[3]) % 13).collect(),
            face: n(16), measured: MeasuredStripFace::Narrow, length: Some(n(17)), voids: StripVoids::Open,
        });
        spec.port = match counts[4] % 3 {
            0 => Port::None,
            1 => Port::Round(RoundPort { count: counts[5] % 10, diameter: n(18), wall: n(19), length: n(20), centres: vec![] }),
            _ => Port::Slot(SlotPort { height: n(18), length: n(20), width: SlotWidth::FreeStanding(n(19)), bends: 0 }),
        };
        spec.braces = vec![WindowBrace { count: counts[5], across: Axis::Width, window: Window::new(n(21), n(22), n(23)) }];
        spec.space = Some(Space { size: Dims { width: n(0), height: n(1), depth: n(2) }, clearance: n(3), slant: None });
        check_finite(&spec)?;
        // Again without what nearly always excludes a box, so that more nonsense gets through.
        spec.strips = None;
        spec.driver = None;
        spec.braces.clear();
        spec.boards = Boards::all(Board::mdf(mm(18.0)));
        spec.front_layers = 1;
        check_finite(&spec)?;
        let request = FitRequest { net: Volume::from_litres(real), space: spec.space, width: Some(n(6)), height: None, depth: None };
        if let Ok(found) = fit(&request, &spec) {
            prop_assert!(found.net.litres().is_finite() && found.net.litres() > 0.0);
        }
    }

}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// What strips on any set of edges close off, against counting cells: a cell's middle is closed off if it lies
    /// within a prism, whose membership is written here: both distances from the walls add up to at most the leg.
    #[test]
    fn strips_in_any_corners_close_off_what_counting_finds(
        chosen in proptest::sample::subsequence(InsideEdge::all(), 1..=12),
        short in proptest::option::of((13..24_i64).prop_map(|n| n * 8)),
    ) {
        let inside = [240.0, 200.0, 216.0];
        let t = 12.0;
        let mut spec = BoxSpec::plain(
            Dims { depth: mm(inside[0] + 2.0 * t), width: mm(inside[1] + 2.0 * t), height: mm(inside[2] + 2.0 * t) },
            Board::mdf(mm(t)),
        );
        spec.tape_step = ExactLength::ZERO;
        // Cells counted along the slope have no bias where the leg is an odd number of half cells.
        let face = 62.0 * 2.0_f64.sqrt();
        spec.strips = Some(CornerStrips {
            edges: chosen.clone(), face: mm(face), measured: MeasuredStripFace::Wide,
            length: short.map(|length| mm(length as f64)), voids: StripVoids::Sealed,
        });
        let plan = plan(&spec, &AsBuilt::new()).expect("a box");
        let ledger = &plan.exact.ledger;
        let taken = ledger.volume(LedgerItem::CornerStrips) + ledger.volume(LedgerItem::StripCorners);
        let closed = (taken * -1.0).litres();
        let leg = face / 2.0_f64.sqrt();
        let cell = 4.0;
        let counts = inside.map(|length| (length / cell) as usize);
        let mut found = 0_usize;
        for x in 0..counts[0] {
            for y in 0..counts[1] {
                for z in 0..counts[2] {
                    let at = [x, y, z].map(|i| (i as f64 + 0.5) * cell);
                    let within = chosen.iter().any(|edge| {
                        let sum: f64 = edge.along.others().iter().map(|&axis| {
                            let from_low = at[axis.index()];
                            if edge.end(axis) == Some(End::Low) { from_low } else { inside[axis.index()] - from_low }
                        }).sum();
                        let room = inside[edge.along.index()];
                        let length = short.map_or(room, |l| l as f64);
                        sum <= leg && (at[edge.along.index()] - room / 2.0).abs() <= length / 2.0
                    });
                    found += usize::from(within);
                }
            }
        }
        let counted = found as f64 * cell.powi(3) * 1e-6;
        prop_assert!((closed - counted).abs() < 0.01 * counted, "ledger {closed}, counted {counted}");
    }
}

fn check_finite(spec: &BoxSpec) -> Result<(), TestCaseError> {
    if let Ok(plan) = plan(spec, &AsBuilt::new()) {
        for build in [&plan.exact, &plan.planned] {
            prop_assert!(build.ledger.net.litres().is_finite() && build.ledger.net.litres() > 0.0);
            prop_assert!(build.ledger.lines.iter().all(|line| line.volume.litres().is_finite()));
        }
        prop_assert!(plan.board_mass(spec).kilograms().is_finite());
        prop_assert!(plan.board_area().square_metres().is_finite());
    }
    Ok(())
}
