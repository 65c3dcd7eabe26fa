//! The wiring as a drawing, from its tree: series members below one another, parallel ones side by side. The plus
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

/// The finished drawing, in units of a CSS pixel at natural size.
#[derive(Clone, Debug, PartialEq)]
pub struct WiringDrawing {
    /// Natural size.
    pub size: [f64; 2],
    /// Wires.
    pub segments: Vec<Segment>,
    /// Coils; plus above, minus below.
    pub coils: Vec<CoilBox>,
    /// Dots where wires join.
    pub joints: Vec<[f64; 2]>,
    /// The amplifier's posts: plus, minus.
    pub posts: [[f64; 2]; 2],
}

/// Size of a coil's box.
pub const COIL: [f64; 2] = [56.0, 34.0];
const COLUMN: f64 = 72.0;
const STUB: f64 = 18.0;
const POST_X: f64 = 30.0;
const LEFT: f64 = 76.0;
const TOP: f64 = 28.0;

/// Width and height of a tree, wires at its ends included.
fn extent(tree: &Tree) -> [f64; 2] {
    match tree {
        Tree::Coil(_) => [COLUMN, COIL[1] + 2.0 * STUB],
        Tree::Series(members) => {
            members.iter().map(extent).fold([0.0, 0.0], |[w, h], [mw, mh]| [w.max(mw), h + mh])
        }
        Tree::Parallel(members) => {
            let inner =
                members.iter().map(extent).fold([0.0, 0.0_f64], |[w, h], [mw, mh]| [w + mw, h.max(mh)]);
            [inner[0], inner[1] + 2.0 * STUB]
        }
    }
}

/// Draws a wiring.
#[must_use]
pub fn draw(tree: &Tree) -> WiringDrawing {
    let [width, height] = extent(tree);
    let middle = LEFT + width / 2.0;
    let (top, bottom) = (TOP, TOP + height);
    let posts = [[POST_X, top], [POST_X, bottom]];
    let mut drawing = WiringDrawing {
        size: [LEFT + width + 8.0, bottom + 28.0],
        segments: vec![
            Segment { wire: Wire::Plus, ends: [posts[0], [middle, top]] },
            Segment { wire: Wire::Minus, ends: [posts[1], [middle, bottom]] },
        ],
        coils: Vec::new(),
        joints: Vec::new(),
        posts,
    };
    drawing.place(tree, middle, top, height, [Wire::Plus, Wire::Minus]);
    drawing
}

impl WiringDrawing {
    /// Puts a tree between (x, top) and (x, top + height), its ends in the two styles.
    fn place(&mut self, tree: &Tree, x: f64, top: f64, height: f64, [upper, lower]: [Wire; 2]) {
        let bottom = top + height;
        match tree {
            Tree::Coil(coil) => {
                let at = [x, (top + bottom) / 2.0];
                self.wire(upper, [x, top], [x, at[1] - COIL[1] / 2.0]);
                self.wire(lower, [x, at[1] + COIL[1] / 2.0], [x, bottom]);
                self.coils.push(CoilBox { coil: *coil, at });
            }
            Tree::Series(members) => {
                let natural: f64 = members.iter().map(|member| extent(member)[1]).sum();
                let stretch = if natural > 0.0 { height / natural } else { 1.0 };
                let mut y = top;
                let last = members.len().saturating_sub(1);
                for (i, member) in members.iter().enumerate() {
                    let part = extent(member)[1] * stretch;
                    let wires = [
                        if i == 0 { upper } else { Wire::Between },
                        if i == last { lower } else { Wire::Between },
                    ];
                    self.place(member, x, y, part, wires);
                    y += part;
                }
            }
            Tree::Parallel(members) => {
                let width: f64 = members.iter().map(|member| extent(member)[0]).sum();
                let (inner_top, inner_bottom) = (top + STUB, bottom - STUB);
                self.wire(upper, [x, top], [x, inner_top]);
                self.wire(lower, [x, inner_bottom], [x, bottom]);
                let mut left = x - width / 2.0;
                let mut middles = Vec::new();
                for member in members {
                    let part = extent(member)[0];
                    let middle = left + part / 2.0;
                    middles.push(middle);
                    self.place(member, middle, inner_top, inner_bottom - inner_top, [upper, lower]);
                    left += part;
                }
                if let (Some(first), Some(last)) = (middles.first(), middles.last()) {
                    self.wire(upper, [*first, inner_top], [*last, inner_top]);
                    self.wire(lower, [*first, inner_bottom], [*last, inner_bottom]);
                }
                self.joints.extend([[x, inner_top], [x, inner_bottom]]);
            }
        }
    }

    fn wire(&mut self, wire: Wire, from: [f64; 2], to: [f64; 2]) {
        self.segments.push(Segment { wire, ends: [from, to] });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::electrical::wiring::balanced;

    #[test]
    fn every_coil_is_drawn_once_and_none_covers_another() {
        for (drivers, coils) in [(1, 1), (1, 2), (2, 2), (3, 1), (4, 2)] {
            for wiring in balanced(drivers, coils).unwrap() {
                let drawing = draw(&wiring.tree);
                let mut ids: Vec<CoilId> = drawing.coils.iter().map(|c| c.coil).collect();
                ids.sort();
                let mut expected = wiring.tree.coils();
                expected.sort();
                assert_eq!(ids, expected);
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
