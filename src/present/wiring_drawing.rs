//! The wiring as a drawing, from its tree: series members below one another and parallel ones side by side, or turned
//! on its side where that is too wide for a phone. The plus
//! side is a full line, the minus side dashed, joints between coils chained: the line style tells, not the colour.
use crate::model::electrical::wiring::{CoilId, Tree};

/// A wire's line style.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wire {
    /// At the potential of the amplifier's plus.
    Plus,
    /// At the potential of its minus.
    Minus,
    /// Between coils.
    Between,
}

/// A straight wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Style.
    pub wire: Wire,
    /// From, to.
    pub ends: [[f64; 2]; 2],
}

/// A coil's place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilBox {
    /// Which coil.
    pub coil: CoilId,
    /// Middle of its box.
    pub at: [f64; 2],
}

/// A plus or minus mark.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sign {
    /// Its foot, in the middle.
    pub at: [f64; 2],
    /// Plus or minus.
    pub plus: bool,
}

/// The finished drawing, in units of a CSS pixel at natural size.
#[derive(Clone, Debug, PartialEq)]
pub struct WiringDrawing {
    /// Natural size.
    pub size: [f64; 2],
    /// Wires.
    pub segments: Vec<Segment>,
    /// Coils.
    pub coils: Vec<CoilBox>,
    /// Plus and minus at coils and posts.
    pub signs: Vec<Sign>,
    /// Dots where wires join.
    pub joints: Vec<[f64; 2]>,
    /// The amplifier's posts: plus, minus.
    pub posts: [[f64; 2]; 2],
    /// The amplifier: corner, size.
    pub amplifier: [[f64; 2]; 2],
}

/// Size of a coil's box.
pub const COIL: [f64; 2] = [56.0, 34.0];
/// The width a phone shows without moving the drawing sideways.
pub const PHONE_WIDTH: f64 = 340.0;
const LEFT: f64 = 76.0;
const TOP: f64 = 28.0;

/// Which way the current runs, from plus to minus.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    /// From top to bottom, parallel members side by side.
    Down,
    /// From left to right, parallel members one below the other.
    Across,
}

impl Way {
    /// Room of a coil: aside, along.
    const fn coil(self) -> [f64; 2] {
        match self {
            Self::Down => [COIL[0] + 8.0, COIL[1] + 36.0],
            Self::Across => [COIL[1] + 14.0, COIL[0] + 32.0],
        }
    }
    /// A rail's distance from the members it joins.
    const fn rail(self) -> f64 {
        match self {
            Self::Down => 18.0,
            Self::Across => 14.0,
        }
    }
    /// Half a coil's box along the current.
    const fn half(self) -> f64 {
        match self {
            Self::Down => COIL[1] / 2.0,
            Self::Across => COIL[0] / 2.0,
        }
    }
    /// A point `aside` and `along` on the sheet.
    const fn point(self, [aside, along]: [f64; 2]) -> [f64; 2] {
        match self {
            Self::Down => [LEFT + aside, TOP + along],
            Self::Across => [TOP + along, LEFT + aside],
        }
    }
    /// Aside and along of a tree, wires at its ends included.
    fn extent(self, tree: &Tree) -> [f64; 2] {
        match tree {
            Tree::Coil(_) => self.coil(),
            Tree::Series(members) => members
                .iter()
                .map(|member| self.extent(member))
                .fold([0.0, 0.0], |[w, h], [mw, mh]| [w.max(mw), h + mh]),
            Tree::Parallel(members) => {
                let inner = members
                    .iter()
                    .map(|member| self.extent(member))
                    .fold([0.0, 0.0_f64], |[w, h], [mw, mh]| [w + mw, h.max(mh)]);
                [inner[0], inner[1] + 2.0 * self.rail()]
            }
        }
    }
    fn size(self, tree: &Tree) -> [f64; 2] {
        let [aside, along] = self.extent(tree);
        match self {
            Self::Down => [LEFT + aside + 8.0, TOP + along + 28.0],
            Self::Across => [TOP + along + 28.0, LEFT + aside + 8.0],
        }
    }
}

/// Draws a wiring: downwards where that fits a phone, else the way that is narrower.
#[must_use]
pub fn draw(tree: &Tree) -> WiringDrawing {
    let (down, across) = (Way::Down.size(tree), Way::Across.size(tree));
    let way = if down[0] <= PHONE_WIDTH || down[0] <= across[0] { Way::Down } else { Way::Across };
    let [aside, along] = way.extent(tree);
    let middle = aside / 2.0;
    let ends = [way.point([middle, 0.0]), way.point([middle, along])];
    let (posts, amplifier) = match way {
        Way::Down => ([[52.0, ends[0][1]], [52.0, ends[1][1]]], [[8.0, TOP - 16.0], [44.0, along + 32.0]]),
        Way::Across => {
            ([[ends[0][0], 40.0], [ends[1][0], 40.0]], [[ends[0][0] - 16.0, 8.0], [along + 32.0, 32.0]])
        }
    };
    let mut drawing = WiringDrawing {
        size: way.size(tree),
        segments: vec![
            Segment { wire: Wire::Plus, ends: [posts[0], ends[0]] },
            Segment { wire: Wire::Minus, ends: [posts[1], ends[1]] },
        ],
        coils: Vec::new(),
        signs: posts
            .iter()
            .zip([true, false])
            .map(|([x, y], plus)| Sign {
                at: if way == Way::Down { [x + 12.0, y - 6.0] } else { [x + 10.0, y + 16.0] },
                plus,
            })
            .collect(),
        joints: Vec::new(),
        posts,
        amplifier,
    };
    drawing.place(way, tree, [middle, 0.0], along, [Wire::Plus, Wire::Minus]);
    drawing
}

impl WiringDrawing {
    /// Puts a tree between `from` (aside, along) and `length` further along, its ends in the two styles.
    fn place(&mut self, way: Way, tree: &Tree, from: [f64; 2], length: f64, [upper, lower]: [Wire; 2]) {
        let [x, start] = from;
        let end = start + length;
        match tree {
            Tree::Coil(coil) => self.coil(way, *coil, from, end, [upper, lower]),
            Tree::Series(members) => {
                let natural: f64 = members.iter().map(|member| way.extent(member)[1]).sum();
                let stretch = if natural > 0.0 { length / natural } else { 1.0 };
                let mut at = start;
                let last = members.len().saturating_sub(1);
                for (i, member) in members.iter().enumerate() {
                    let part = way.extent(member)[1] * stretch;
                    let wires = [
                        if i == 0 { upper } else { Wire::Between },
                        if i == last { lower } else { Wire::Between },
                    ];
                    self.place(way, member, [x, at], part, wires);
                    at += part;
                }
            }
            Tree::Parallel(members) => {
                let width: f64 = members.iter().map(|member| way.extent(member)[0]).sum();
                let (inner, inner_end) = (start + way.rail(), end - way.rail());
                self.wire(way, upper, from, [x, inner]);
                self.wire(way, lower, [x, inner_end], [x, end]);
                let mut left = x - width / 2.0;
                let mut middles = Vec::new();
                for member in members {
                    let part = way.extent(member)[0];
                    let middle = left + part / 2.0;
                    middles.push(middle);
                    self.place(way, member, [middle, inner], inner_end - inner, [upper, lower]);
                    left += part;
                }
                if let (Some(first), Some(last)) = (middles.first(), middles.last()) {
                    self.wire(way, upper, [*first, inner], [*last, inner]);
                    self.wire(way, lower, [*first, inner_end], [*last, inner_end]);
                }
                self.joints.extend([way.point([x, inner]), way.point([x, inner_end])]);
            }
        }
    }

    fn coil(&mut self, way: Way, coil: CoilId, from: [f64; 2], end: f64, [upper, lower]: [Wire; 2]) {
        let [x, start] = from;
        let middle = (start + end) / 2.0;
        let (near, far) = (middle - way.half(), middle + way.half());
        self.wire(way, upper, from, [x, near]);
        self.wire(way, lower, [x, far], [x, end]);
        for (along, plus) in [(near, true), (far, false)] {
            let [px, py] = way.point([x, along]);
            let at = match (way, plus) {
                (Way::Down, true) => [px + 9.0, py - 4.0],
                (Way::Down, false) => [px + 9.0, py + 13.0],
                (Way::Across, true) => [px - 8.0, py - 4.0],
                (Way::Across, false) => [px + 8.0, py - 4.0],
            };
            self.signs.push(Sign { at, plus });
        }
        self.coils.push(CoilBox { coil, at: way.point([x, middle]) });
    }

    fn wire(&mut self, way: Way, wire: Wire, from: [f64; 2], to: [f64; 2]) {
        self.segments.push(Segment { wire, ends: [way.point(from), way.point(to)] });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::electrical::wiring::balanced;

    #[test]
    fn every_coil_is_drawn_once_and_none_covers_another() {
        let all = (1..=8).flat_map(|drivers| [1, 2, 4].map(|coils| (drivers, coils)));
        for (drivers, coils) in all {
            for wiring in balanced(drivers, coils).unwrap() {
                let drawing = draw(&wiring.tree);
                let mut ids: Vec<CoilId> = drawing.coils.iter().map(|c| c.coil).collect();
                ids.sort();
                let mut expected = wiring.tree.coils();
                expected.sort();
                assert_eq!(ids, expected);
                assert_eq!(
                    drawing.signs.len(),
                    2 * ids.len() + 2,
                    "a plus and a minus at every coil and post"
                );
                // Up to 8 drivers × 2 coils nothing has to be moved sideways on a phone.
                assert!(coils > 2 || drawing.size[0] <= PHONE_WIDTH, "{}: {:?}", wiring.tree, drawing.size);
                let inside =
                    |[x, y]: [f64; 2]| x >= 0.0 && y >= 0.0 && x <= drawing.size[0] && y <= drawing.size[1];
                assert!(
                    drawing.segments.iter().all(|s| s.ends.iter().all(|end| inside(*end))),
                    "{}",
                    wiring.tree
                );
                for (i, a) in drawing.coils.iter().enumerate() {
                    for b in &drawing.coils[..i] {
                        let apart =
                            (a.at[0] - b.at[0]).abs() >= COIL[0] || (a.at[1] - b.at[1]).abs() >= COIL[1];
                        assert!(apart, "{a:?} {b:?}");
                    }
                }
            }
        }
    }
}
