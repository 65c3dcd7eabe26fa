//! The faults made on a bench: wires cut and joined in the list of connections, then solved by nodal equations.
use std::collections::BTreeMap;

use kerf_and_coil::model::electrical::meter::Fault;
use kerf_and_coil::model::electrical::wiring::{CoilId, Polarity, Terminal, Tree};

use super::network::Network;

/// Coil terminals by node, nodes joined by bridges, and the line's two nodes.
pub struct Bench {
    pub ends: BTreeMap<CoilId, [usize; 2]>,
    joined: Vec<(usize, usize)>,
    pub line: [usize; 2],
    nodes: usize,
}

impl Bench {
    pub fn new(tree: &Tree, faults: &[Fault]) -> Self {
        let mut wired = tree.clone();
        for fault in faults {
            if let Fault::GroupSwapped { coils, .. } = fault {
                wired = swap(&wired, coils);
            }
        }
        let connections = wired.connections();
        let mut bench =
            Self { ends: BTreeMap::new(), joined: Vec::new(), line: [0; 2], nodes: connections.nets.len() };
        for (node, net) in connections.nets.iter().enumerate() {
            for terminal in &net.terminals {
                match *terminal {
                    Terminal::LinePlus => bench.line[0] = node,
                    Terminal::LineMinus => bench.line[1] = node,
                    Terminal::Coil(id, Polarity::Plus) => bench.ends.entry(id).or_default()[0] = node,
                    Terminal::Coil(id, Polarity::Minus) => bench.ends.entry(id).or_default()[1] = node,
                }
            }
        }
        bench.cut_jumpers(faults);
        for fault in faults {
            if let Fault::GroupAcrossItself(coils) = fault {
                bench.joined.push((bench.ends[&coils[0]][0], bench.ends[&coils[coils.len() - 1]][1]));
            }
        }
        bench.touch_coils(faults);
        bench
    }

    fn fresh(&mut self) -> usize {
        self.nodes += 1;
        self.nodes - 1
    }

    /// One after the other: a second jumper is cut in the wiring that the first has left. Whoever looked for its place in
    /// the wiring as it was before would leave `1B+` and `2A+` of `1A-(1B|2A)` joined, though both their jumpers are gone.
    fn cut_jumpers(&mut self, faults: &[Fault]) {
        for fault in faults {
            let Fault::JumperMissing { from, to, cut_off } = fault else {
                continue;
            };
            let loose = self.fresh();
            if cut_off.is_empty() || cut_off.contains(to) {
                // Plus side: what hangs on the net of `to`'s plus goes loose.
                let net = self.ends[to][0];
                for (id, ends) in &mut self.ends {
                    if ends[0] == net && (cut_off.is_empty() || cut_off.contains(id)) {
                        ends[0] = loose;
                    }
                }
            } else {
                let net = self.ends[from][1];
                for (id, ends) in &mut self.ends {
                    if ends[1] == net && cut_off.contains(id) {
                        ends[1] = loose;
                    }
                }
            }
        }
    }

    fn touch_coils(&mut self, faults: &[Fault]) {
        for fault in faults {
            if let Fault::DriverOff(driver) = fault {
                let off: Vec<CoilId> = self.ends.keys().copied().filter(|id| id.driver == *driver).collect();
                for id in off {
                    let loose = self.fresh();
                    self.ends.get_mut(&id).unwrap()[0] = loose;
                }
            }
        }
        for fault in faults {
            match fault {
                Fault::CoilShorted(id) | Fault::CoilAcrossItself(id) => {
                    let [a, b] = self.ends[id];
                    self.joined.push((a, b));
                }
                Fault::LineOpen => self.line[0] = self.fresh(),
                Fault::LineShorted => self.joined.push((self.line[0], self.line[1])),
                _ => {}
            }
        }
    }

    pub fn read(&self, faults: &[Fault], between: [usize; 2], ohm: impl Fn(CoilId) -> f64) -> f64 {
        self.network(faults, between, ohm).resistance()
    }

    /// The circuit as it now is, coils without effect left out.
    pub fn network(&self, faults: &[Fault], between: [usize; 2], ohm: impl Fn(CoilId) -> f64) -> Network {
        let open = |id: &CoilId| faults.contains(&Fault::CoilOpen(*id));
        let resistors =
            self.ends.iter().filter(|(id, _)| !open(id)).map(|(id, [a, b])| (*id, *a, *b, ohm(*id)));
        let mut network = Network {
            resistors: resistors.collect(),
            plus: between[0],
            minus: between[1],
            nodes: self.nodes,
        };
        let mut names: Vec<usize> = (0..self.nodes).collect();
        for (a, b) in &self.joined {
            let (keep, gone) = (names[*a], names[*b]);
            network.merge(keep, gone);
            names.iter_mut().filter(|name| **name == gone).for_each(|name| *name = keep);
        }
        network.resistors.retain(|(_, a, b, _)| a != b);
        network
    }
}

fn swap(tree: &Tree, coils: &[CoilId]) -> Tree {
    match tree {
        Tree::Coil(_) => tree.clone(),
        Tree::Series(members) if tree.coils() == coils => Tree::Parallel(members.clone()),
        Tree::Parallel(members) if tree.coils() == coils => Tree::Series(members.clone()),
        Tree::Series(members) => Tree::Series(members.iter().map(|m| swap(m, coils)).collect()),
        Tree::Parallel(members) => Tree::Parallel(members.iter().map(|m| swap(m, coils)).collect()),
    }
}
