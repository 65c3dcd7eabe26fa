//! Owners of edges: every one of the 4096 ways against a count of cells, and the six orders against the panels of a box.
use kerf_and_coil::model::geometry::edges::{self, OwnedBox, Owners, owned};
use kerf_and_coil::model::geometry::{
    AsBuilt, Axis, Board, BodyKind, BoxSpec, Dims, End, Pair, PartId, Precedence, Solid, build_order, plan,
};
use kerf_and_coil::units::ExactLength;

use super::mm;

const THICK: f64 = 18.0;

fn outside() -> Dims {
    Dims { width: mm(400.0), height: mm(330.0), depth: mm(360.0) }
}

/// How many boards fill each of the 27 cells that two cuts, a thickness from each face, make of the block.
fn cells(found: &OwnedBox) -> Vec<usize> {
    let size = outside().millimetres();
    let middle = |axis: usize, cell: usize| match cell {
        0 => THICK / 2.0,
        1 => size[axis] / 2.0,
        _ => size[axis] - THICK / 2.0,
    };
    (0..27)
        .map(|cell| {
            let at = [cell / 9, cell / 3 % 3, cell % 3];
            let inside = |board: &&kerf_and_coil::model::geometry::edges::OwnedBoard| {
                let (low, size) = (board.min.millimetres(), board.size.millimetres());
                (0..3).all(|axis| {
                    let at = middle(axis, at[axis]);
                    at > low[axis] && at < low[axis] + size[axis]
                })
            };
            found.boards.iter().filter(inside).count()
        })
        .collect()
}

#[test]
fn every_way_to_own_the_edges_fills_what_it_says() {
    let mut seen = [0; 9];
    for bits in 0..4096_u32 {
        let mut number = 0;
        // Twelve edges in whatever order they are asked for.
        let owners = Owners::of({
            let number = std::cell::Cell::new(0);
            move |_, _| {
                number.set(number.get() + 1);
                bits >> (number.get() - 1) & 1 == 1
            }
        });
        let found = owned(outside(), mm(THICK), owners).expect("a box");
        for (cell, count) in cells(&found).into_iter().enumerate() {
            let at = [cell / 9, cell / 3 % 3, cell % 3];
            let open = at == [1, 1, 1];
            let corner = at.iter().all(|&place| place != 1);
            let ends = at.map(|place| if place == 0 { End::Low } else { End::High });
            let notch = corner && found.notches.contains(&ends);
            assert_eq!(count, usize::from(!open && !notch), "cell {at:?} of {bits}");
            number += count;
        }
        assert!(number > 0);
        // Wood, air and notches are the outside.
        let litres = |size: Dims| size.millimetres().iter().product::<f64>() * 1e-6;
        let wood: f64 = found.boards.iter().map(|board| litres(board.size)).sum();
        let notches = found.notches.len() as f64 * found.notch_volume().litres();
        assert!((wood + found.air().litres() + notches - litres(outside())).abs() < 1e-9);
        seen[found.notches.len()] += 1;
    }
    // Of the eight ways to own the three edges of a corner two go round: 2/8 of all, on average two corners of eight.
    let open: usize = seen.iter().enumerate().map(|(notches, boxes)| notches * boxes).sum();
    assert_eq!(open, 4096 * 8 / 4);
}

#[test]
fn an_order_of_pairs_is_one_of_them() {
    for order in Precedence::ALL {
        let mut spec = BoxSpec::plain(outside(), Board::mdf(mm(THICK)));
        spec.owners = Owners::by(order);
        spec.tape_step = ExactLength::ZERO;
        let sizes = plan(&spec, &AsBuilt::new()).expect("a box").exact.sizes;
        let found = owned(outside(), mm(THICK), Owners::by(order)).expect("a box");
        assert!(found.notches.is_empty(), "pairs never go round");
        for board in &found.boards {
            for axis in Axis::ALL.into_iter().filter(|&axis| Pair::facing(axis) != pair_of(board.part)) {
                assert_eq!(board.size.get(axis), sizes.get(board.part, axis.into()), "{:?}", board.part);
            }
        }
    }
}

/// A planned box has its boards where the count of cells above found them; owners that leave a corner open are refused.
#[test]
fn a_planned_box_follows_its_owners() {
    let mut refused = 0;
    for bits in 0..4096_u32 {
        let owners = Owners::of({
            let number = std::cell::Cell::new(0);
            move |_, _| {
                number.set(number.get() + 1);
                bits >> (number.get() - 1) & 1 == 1
            }
        });
        let wanted = owned(outside(), mm(THICK), owners).expect("a box");
        let mut spec = BoxSpec::plain(outside(), Board::mdf(mm(THICK)));
        (spec.owners, spec.tape_step) = (owners, ExactLength::ZERO);
        let Ok(plan) = plan(&spec, &AsBuilt::new()) else {
            assert!(!wanted.notches.is_empty(), "{bits:b}");
            refused += 1;
            continue;
        };
        assert!(wanted.notches.is_empty(), "{bits:b}");
        assert_eq!(plan.exact.assembly.misfits, [], "{bits:b}");
        for board in wanted.boards {
            let body =
                plan.exact.assembly.bodies.iter().find(|body| body.kind == BodyKind::Board(board.part));
            let solid = Solid::Block { min: board.min, size: board.size };
            assert_eq!(body.expect("a board").solid, solid, "{:?} of {bits:b}", board.part);
        }
    }
    // Of 4096 ways as many leave no corner open as a count of the cells says; the rest is refused.
    assert!(refused > 2048 && refused < 4096, "{refused}");
}

/// 600 × 420 × 450 mm of 18 mm, the front of 25 and 12 mm: width × height, or width × depth, or depth × height by hand.
#[test]
fn cut_lists_by_hand() {
    use edges::{BACK, BOTTOM, FRONT, LEFT, RIGHT, TOP};
    let order = |pairs| Owners::by(Precedence::new(pairs).expect("three pairs"));
    let with = |owners: Owners, changes: &[(edges::Place, edges::Place)]| {
        changes.iter().fold(owners, |owners, (owner, other)| owners.with(*owner, *other).expect("an edge"))
    };
    let plain = Owners::default();
    let back_let_in = [(LEFT, BACK), (RIGHT, BACK), (BOTTOM, BACK), (TOP, BACK)];
    let over_all = [(LEFT, FRONT), (LEFT, BACK), (LEFT, BOTTOM), (LEFT, TOP)];
    // Front, back, left, right, bottom, top.
    let cases: [(&str, Owners, [[f64; 2]; 6]); 5] = [
        (
            "left past the top",
            with(plain, &[(LEFT, TOP)]),
            [[600.0, 420.0], [600.0, 420.0], [395.0, 402.0], [395.0, 384.0], [600.0, 395.0], [582.0, 395.0]],
        ),
        (
            "front let in below and beside, past the top",
            with(order([Pair::Sides, Pair::TopBottom, Pair::FrontBack]), &[(FRONT, TOP)]),
            [[564.0, 402.0], [564.0, 384.0], [450.0, 420.0], [450.0, 420.0], [564.0, 450.0], [564.0, 413.0]],
        ),
        (
            "front over all, back let in",
            with(plain, &back_let_in),
            [[600.0, 420.0], [564.0, 384.0], [413.0, 384.0], [413.0, 384.0], [600.0, 413.0], [600.0, 413.0]],
        ),
        (
            "ring, front over it, back let in",
            with(Owners::ring(true), &back_let_in),
            [[600.0, 420.0], [564.0, 384.0], [413.0, 402.0], [413.0, 402.0], [582.0, 413.0], [582.0, 413.0]],
        ),
        (
            "left over everything",
            with(plain, &over_all),
            [[582.0, 420.0], [582.0, 420.0], [450.0, 420.0], [395.0, 384.0], [582.0, 395.0], [582.0, 395.0]],
        ),
    ];
    for (name, owners, sizes) in cases {
        let outside = Dims { width: mm(600.0), height: mm(420.0), depth: mm(450.0) };
        let mut spec = BoxSpec::plain(outside, Board::mdf(mm(18.0)));
        let layer = |thickness, number| Board { number, ..Board::mdf(mm(thickness)) };
        spec.boards.front = [layer(25.0, 1), layer(12.0, 2)];
        (spec.front_layers, spec.owners) = (2, owners);
        let plan = plan(&spec, &AsBuilt::new()).expect(name);
        let of = |id: PartId, axes: [Axis; 2]| {
            axes.map(|axis| plan.planned.sizes.get(id, axis.into()).millimetres())
        };
        let (w, h, d) = (Axis::Width, Axis::Height, Axis::Depth);
        let found = [
            of(PartId::Front(0), [w, h]),
            of(PartId::Back, [w, h]),
            of(PartId::Left, [d, h]),
            of(PartId::Right, [d, h]),
            of(PartId::Bottom, [w, d]),
            of(PartId::Top, [w, d]),
        ];
        assert_eq!(found, sizes, "{name}");
        assert_eq!(of(PartId::Front(1), [w, h]), sizes[0], "{name}: both layers alike");
        assert!((plan.net().litres() - 564.0 * 384.0 * 395.0 * 1e-6).abs() < 1e-9, "{name}");
        assert_eq!(build_order(&plan.planned.assembly).steps.len(), 7, "{name}: every board is glued on");
        assert_eq!(plan.planned.assembly.misfits, [], "{name}");
    }
}

#[test]
fn known_rules_are_owners() {
    assert_eq!(Owners::default(), Owners::by(Precedence::default()));
    for over in [false, true] {
        assert!(Owners::ring(over).check().is_ok());
    }
    // The left side past the front, the front past the top, the top past the left side.
    let open = Owners::default().with(edges::LEFT, edges::FRONT).expect("an edge");
    let why = open.check().expect_err("open corners").to_string();
    assert!(why.contains("front left bottom corner"), "{why}");
}

fn pair_of(id: PartId) -> Pair {
    match id {
        PartId::Front(_) | PartId::Back => Pair::FrontBack,
        PartId::Left | PartId::Right => Pair::Sides,
        _ => Pair::TopBottom,
    }
}

#[test]
fn what_is_no_edge_and_what_is_no_box_is_refused() {
    let front = (Axis::Depth, End::Low);
    let owners = Owners::by(Precedence::default());
    assert!(owners.with(front, (Axis::Depth, End::High)).is_err(), "front and back never meet");
    assert!(owned(Dims::of(|_| mm(36.0)), mm(18.0), owners).is_err(), "no inside");
    assert!(owned(outside(), ExactLength::ZERO, owners).is_err(), "no board");
}
