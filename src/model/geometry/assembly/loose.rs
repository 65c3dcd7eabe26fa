//! A board that comes off: what frames its opening inside.
use super::{Assembly, BodyKind, Role};
use crate::model::error::ModelError;
use crate::model::geometry::axes::{Axis, Dims, End, Point};
use crate::model::geometry::parts::PartId;
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::Loose;
use crate::units::ExactLength;

/// A piece of batten shorter than this is left out, in millimetres.
const SHORTEST: f64 = 5.0;

impl Assembly {
    /// Battens of square section around the opening, against the inner face of the board: two from wall to wall, two between
    /// them, each in pieces where a brace or a divider stands.
    #[inline(never)] // few boxes have any: it may come after the first result
    pub(super) fn add_battens(&mut self, loose: Loose) -> Result<(), ModelError> {
        if loose.batten <= ExactLength::ZERO {
            return Ok(());
        }
        let [across, up] = self.opening(loose);
        if across.min(up) <= ExactLength::ZERO || self.inside.get(loose.face.0) <= loose.batten {
            return Err(ModelError::Impossible {
                what: "the battens of the board that comes off leave no opening: make them thinner",
            });
        }
        let (axis, end) = loose.face;
        let [first, second] = axis.face();
        let thick = loose.batten;
        let (low, high) = (self.inside_min, self.inside_min + self.inside);
        let level = if end == End::Low { low.get(axis) } else { high.get(axis) - thick };
        let boards: Vec<([f64; 3], [f64; 3])> = self
            .bodies
            .iter()
            .filter(|body| matches!(body.kind, BodyKind::Board(PartId::Brace(..) | PartId::Divider)))
            .map(|body| (body.bounds().min, body.bounds().max))
            .collect();
        let mut number = 0;
        for (along, side, from, to) in [
            (first, second, low.get(first), high.get(first)),
            (second, first, low.get(second) + thick, high.get(second) - thick),
        ] {
            for far in End::BOTH {
                let at = if far == End::Low { low.get(side) } else { high.get(side) - thick };
                let min = Point::default().with(axis, level).with(side, at).with(along, from);
                let size = Dims::of(|_| thick).with(along, to - from);
                for [from, to] in free_along(min, size, along, &boards) {
                    let solid =
                        Solid::Block { min: min.with(along, from), size: size.with(along, to - from) };
                    self.push(BodyKind::Batten(number), Role::Displaced, solid);
                    number += 1;
                }
            }
        }
        Ok(())
    }

    /// What is open behind a board that comes off, between its battens: as one stands before it, across and up.
    #[must_use]
    #[inline(never)] // few boxes have one: it may come after the first result
    pub fn opening(&self, loose: Loose) -> [ExactLength; 2] {
        loose.face.0.face().map(|axis| self.inside.get(axis) - loose.batten * 2)
    }
}

/// The stretches of a batten that no board crosses.
fn free_along(min: Point, size: Dims, along: Axis, boards: &[([f64; 3], [f64; 3])]) -> Vec<[ExactLength; 2]> {
    let (low, high) = (min.millimetres(), (min + size).millimetres());
    let crosses = |board: &&([f64; 3], [f64; 3])| {
        let others = along.others().map(Axis::index);
        others.iter().all(|&i| board.0[i] < high[i] - 0.01 && board.1[i] > low[i] + 0.01)
    };
    let i = along.index();
    let mut crossed: Vec<[f64; 2]> =
        boards.iter().filter(crosses).map(|board| [board.0[i], board.1[i]]).collect();
    crate::small::sort_by(&mut crossed, |a, b| a[0].total_cmp(&b[0]));
    let mut free = Vec::new();
    let mut from = low[i];
    for [start, end] in crossed.into_iter().chain([[high[i]; 2]]) {
        let to = start.min(high[i]);
        if to - from >= SHORTEST {
            free.push([from, to].map(ExactLength::from_millimetres));
        }
        from = from.max(end);
    }
    free
}
