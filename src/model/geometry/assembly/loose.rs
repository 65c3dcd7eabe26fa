//! A board that comes off: what frames its opening inside.
mod shaped;

use super::{Assembly, Body, BodyKind, Role};
use crate::model::error::ModelError;
use crate::model::geometry::axes::{Axis, Dims, End, Point};
use crate::model::geometry::parts::PartId;
use crate::model::geometry::plane::{length, minus, pairs};
use crate::model::geometry::solids::{Bounds, Solid};
use crate::model::geometry::spec::Loose;
use crate::units::ExactLength;

/// A piece of batten shorter than this is left out, in millimetres.
const SHORTEST: f64 = 5.0;

#[inline(never)] // its words come after the first result
fn no_opening() -> ModelError {
    ModelError::Impossible {
        what: "the battens of the board that comes off leave no opening: make them thinner",
    }
}

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
            return Err(no_opening());
        }
        let (axis, end) = loose.face;
        let [first, second] = axis.face();
        let thick = loose.batten;
        let (low, high) = (self.inside_min, self.inside_min + self.inside);
        let level = if end == End::Low { low.get(axis) } else { high.get(axis) - thick };
        let boards = self.across_battens();
        let mut number = 0;
        for (along, side, from, to) in [
            (first, second, low.get(first), high.get(first)),
            (second, first, low.get(second) + thick, high.get(second) - thick),
        ] {
            for far in End::BOTH {
                let at = if far == End::Low { low.get(side) } else { high.get(side) - thick };
                let min = Point::default().with(axis, level).with(side, at).with(along, from);
                let size = Dims::of(|_| thick).with(along, to - from);
                let whole = Bounds { min: min.millimetres(), max: (min + size).millimetres() };
                for [from, to] in free_along(whole, along, &boards) {
                    let solid =
                        Solid::Block { min: min.with(along, from), size: size.with(along, to - from) };
                    self.push(BodyKind::Batten(number), Role::Displaced, solid);
                    number += 1;
                }
            }
        }
        Ok(())
    }

    /// The boards that battens end at.
    fn across_battens(&self) -> Vec<Bounds> {
        let boards = self.bodies.iter();
        let boards =
            boards.filter(|body| matches!(body.kind, BodyKind::Board(PartId::Brace(..) | PartId::Divider)));
        boards.map(Body::bounds).collect()
    }

    /// What is open behind a board that comes off, between its battens: as one stands before it, across and up. Of a side that
    /// is no rectangle, of the block around that.
    #[must_use]
    #[inline(never)] // few boxes have one: it may come after the first result
    pub fn opening(&self, loose: Loose) -> [ExactLength; 2] {
        let mm = ExactLength::from_millimetres;
        if let (Some(Solid::Prism { section, .. }), Axis::Width) = (&self.hollow, loose.face.0) {
            let left = shaped::inset(section, loose.batten).unwrap_or(*section);
            let [low, high] = left.bounds();
            return [0, 1].map(|i| mm(high[i] - low[i]));
        }
        let [low, high] = self.free_on(loose.face);
        [0, 1].map(|i| mm(high[i] - low[i]) - loose.batten * 2)
    }

    /// Lengths of the edges of what a board that comes off covers inside, one after the other, in metres: its gasket lies
    /// along them.
    #[must_use]
    #[inline(never)] // few boxes have one: it may come after the first result
    pub fn seat(&self, loose: Loose) -> Vec<f64> {
        if let (Some(Solid::Prism { section, .. }), Axis::Width) = (&self.hollow, loose.face.0) {
            return pairs(section.corners()).map(|[from, to]| length(minus(to, from)) / 1e3).collect();
        }
        let [low, high] = self.free_on(loose.face);
        let sides = [0, 1].map(|i| (high[i] - low[i]) / 1e3);
        [sides, sides].concat()
    }
}

/// The stretches of a batten that no board crosses.
fn free_along(whole: Bounds, along: Axis, boards: &[Bounds]) -> Vec<[ExactLength; 2]> {
    let crosses = |board: &&Bounds| {
        let others = along.others().map(Axis::index);
        others.iter().all(|&i| board.min[i] < whole.max[i] - 0.01 && board.max[i] > whole.min[i] + 0.01)
    };
    let i = along.index();
    let mut crossed: Vec<[f64; 2]> =
        boards.iter().filter(crosses).map(|board| [board.min[i], board.max[i]]).collect();
    crate::small::sort_by(&mut crossed, |a, b| a[0].total_cmp(&b[0]));
    let mut free = Vec::new();
    let mut from = whole.min[i];
    for [start, end] in crossed.into_iter().chain([[whole.max[i]; 2]]) {
        let to = start.min(whole.max[i]);
        if to - from >= SHORTEST {
            free.push([from, to].map(ExactLength::from_millimetres));
        }
        from = from.max(end);
    }
    free
}
