//! Terminal by terminal: the nets of a wiring and the order in which to make them.
use super::{CoilId, Tree};

/// Which end of a coil.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Polarity {
    /// The terminal marked plus.
    Plus,
    /// The terminal marked minus.
    Minus,
}

/// A place where a wire ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Terminal {
    /// The line's plus: the amplifier's, or the box terminal's that leads there.
    LinePlus,
    /// The line's minus.
    LineMinus,
    /// An end of a coil.
    Coil(CoilId, Polarity),
}

/// Terminals that are one electrical point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Net {
    /// From the line's plus towards its minus, in the order of the tree.
    pub terminals: Vec<Terminal>,
}

/// One wire to make.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// From one.
    pub number: u16,
    /// Where the wire starts.
    pub from: Terminal,
    /// Where it ends.
    pub to: Terminal,
}

/// The nets of a wiring and its wires.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Connections {
    /// The first holds the line's plus, the last its minus, the joints of series groups stand between.
    pub nets: Vec<Net>,
    /// The wires: each net as a chain from terminal to neighbouring terminal, net by net.
    pub steps: Vec<Step>,
}

impl Tree {
    /// The connections to make, all coils with their plus towards the line's plus.
    #[must_use]
    pub fn connections(&self) -> Connections {
        let mut builder = Builder { nets: vec![vec![Terminal::LinePlus], Vec::new()] };
        builder.place(self, 0, 1);
        let mut nets = builder.nets;
        let mut last = if nets.len() > 1 { nets.remove(1) } else { Vec::new() };
        last.push(Terminal::LineMinus);
        nets.push(last);
        let wires = nets.iter().flat_map(|net| net.iter().zip(net.iter().skip(1)));
        let steps =
            (1u16..).zip(wires).map(|(number, (from, to))| Step { number, from: *from, to: *to }).collect();
        let nets = nets.into_iter().map(|terminals| Net { terminals }).collect();
        Connections { nets, steps }
    }
}

struct Builder {
    nets: Vec<Vec<Terminal>>,
}

impl Builder {
    fn join(&mut self, net: usize, terminal: Terminal) {
        if let Some(terminals) = self.nets.get_mut(net) {
            terminals.push(terminal);
        }
    }

    fn place(&mut self, tree: &Tree, top: usize, bottom: usize) {
        match tree {
            Tree::Coil(id) => {
                self.join(top, Terminal::Coil(*id, Polarity::Plus));
                self.join(bottom, Terminal::Coil(*id, Polarity::Minus));
            }
            Tree::Parallel(members) => {
                for member in members {
                    self.place(member, top, bottom);
                }
            }
            Tree::Series(members) => {
                let mut above = top;
                for (index, member) in members.iter().enumerate() {
                    let below = if index + 1 == members.len() {
                        bottom
                    } else {
                        self.nets.push(Vec::new());
                        self.nets.len() - 1
                    };
                    self.place(member, above, below);
                    above = below;
                }
            }
        }
    }
}
