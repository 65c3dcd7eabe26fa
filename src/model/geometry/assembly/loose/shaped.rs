//! Battens of shaped boxes: along every edge of a side, or around a board of the section.
use super::{free_along, no_opening};
use crate::model::error::ModelError;
use crate::model::geometry::assembly::{Assembly, BodyKind, Role};
use crate::model::geometry::axes::{Axis, End};
use crate::model::geometry::plane::{At, area, dot, meet, minus, moved, pairs, plus, unit};
use crate::model::geometry::polygon::Polygon;
use crate::model::geometry::profile::Inside;
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::Loose;
use crate::units::ExactLength;

/// What battens along all edges of a section leave of it; `None` where they meet.
pub(super) fn inset(section: &Polygon, batten: ExactLength) -> Option<Polygon> {
    let edges: Vec<[At; 2]> = pairs(section.corners()).collect();
    let inner = edges.iter().map(|edge| moved(*edge, batten.millimetres()));
    let before = inner.clone().cycle().skip(edges.len().saturating_sub(1));
    let corners = inner.zip(before).map(|(edge, before)| meet(before, edge)).collect::<Option<Vec<At>>>()?;
    let whole =
        pairs(&corners).zip(&edges).all(|([from, to], [a, b])| dot(minus(to, from), minus(*b, *a)) > 1e-6);
    (whole && area(&corners) > 0.0).then(|| Polygon::new(&corners))
}

impl Assembly {
    /// Battens behind a side along each edge of the section, mitred into each other; behind any other board two across the
    /// width whose edges are bevelled as the boards beside them lean, in pieces between braces, and two between these along
    /// the sides. Against the board that comes off each is as wide as it is thick.
    #[inline(never)] // few boxes have any: it may come after the first result
    pub(in crate::model::geometry::assembly) fn add_shaped_battens(
        &mut self,
        inside: &Inside,
        loose: Loose,
    ) -> Result<(), ModelError> {
        if loose.batten <= ExactLength::ZERO {
            return Ok(());
        }
        if self.opening(loose).into_iter().min() <= Some(ExactLength::ZERO) {
            return Err(no_opening());
        }
        let (left, right) = (inside.min.width, inside.min.width + inside.size.width);
        let pieces = if loose.face.0 == Axis::Width {
            let from = if loose.face.1 == End::Low { left } else { right - loose.batten };
            let inner = inset(&inside.polygon, loose.batten).ok_or_else(no_opening)?;
            if inside.size.width <= loose.batten {
                return Err(no_opening());
            }
            let both = pairs(inside.polygon.corners()).zip(pairs(inner.corners()));
            both.map(|([a, b], [c, d])| (vec![a, b, d, c], from, loose.batten)).collect()
        } else {
            self.around_board(inside, loose, [left, right])?
        };
        for (number, (corners, from, width)) in (0u8..).zip(pieces) {
            let section = Polygon::new(&corners);
            let solid = Solid::Prism { section, from, width, opening: None };
            self.push(BodyKind::Batten(number), Role::Displaced, solid);
        }
        Ok(())
    }

    /// Sections, left faces and widths of the battens around a board between the sides.
    fn around_board(
        &self,
        inside: &Inside,
        loose: Loose,
        [left, right]: [ExactLength; 2],
    ) -> Result<Vec<(Vec<At>, ExactLength, ExactLength)>, ModelError> {
        let line = inside.polygon.corners();
        let corner = |i: usize| line.get(i % line.len().max(1)).copied().unwrap_or_default();
        let wall = inside.wall(loose.face);
        let (from, to) = (corner(wall), corner(wall + 1));
        let (way, b) = (unit(minus(to, from)), loose.batten.millimetres());
        let inward = [-way[1], way[0]];
        let [foot, head] = inside.before_board(loose)?;
        let (low, high) = (plus(from, way, b), plus(to, way, -b));
        // A board that leans by 45° or more against its neighbour leaves no inner face of a batten there.
        if dot(minus(foot, low), way) >= 0.0 || dot(minus(head, high), way) <= 0.0 {
            return Err(ModelError::Impossible {
                what: "the boards beside the one that comes off lean too far over it for battens",
            });
        }
        let over = |at: At| plus(at, inward, b);
        let mut pieces = Vec::new();
        let boards = self.across_battens();
        for section in [vec![from, low, over(low), foot], vec![high, to, head, over(high)]] {
            let whole = Solid::Prism {
                section: Polygon::new(&section),
                from: left,
                width: right - left,
                opening: None,
            };
            for [start, end] in free_along(whole.bounds(), Axis::Width, &boards) {
                pieces.push((section.clone(), start, end - start));
            }
        }
        let between = vec![low, high, over(high), over(low)];
        for start in [left, right - loose.batten] {
            pieces.push((between.clone(), start, loose.batten));
        }
        Ok(pieces)
    }
}
