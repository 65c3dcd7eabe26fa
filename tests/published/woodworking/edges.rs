//! Owners of edges: every one of the 4096 ways against a count of cells, and the six orders against the panels of a box.
use kerf_and_coil::model::geometry::edges::{OwnedBox, Owners, owned};
use kerf_and_coil::model::geometry::{
    AsBuilt, Axis, Board, BoxSpec, Dims, End, Pair, PartId, Precedence, plan,
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
        let found = owned(outside(), mm(THICK), &owners).expect("a box");
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
        spec.precedence = order;
        spec.tape_step = ExactLength::ZERO;
        let sizes = plan(&spec, &AsBuilt::new()).expect("a box").exact.sizes;
        let found = owned(outside(), mm(THICK), &Owners::by(order)).expect("a box");
        assert!(found.notches.is_empty(), "pairs never go round");
        for board in &found.boards {
            for axis in Axis::ALL.into_iter().filter(|&axis| Pair::facing(axis) != pair_of(board.part)) {
                assert_eq!(board.size.get(axis), sizes.get(board.part, axis.into()), "{:?}", board.part);
            }
        }
    }
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
    assert!(owners.clone().with(front, (Axis::Depth, End::High)).is_err(), "front and back never meet");
    assert!(owned(Dims::of(|_| mm(36.0)), mm(18.0), &owners).is_err(), "no inside");
    assert!(owned(outside(), ExactLength::ZERO, &owners).is_err(), "no board");
}
