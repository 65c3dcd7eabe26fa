//! An independent solver for networks of resistors: nodal equations, no notion of series or parallel.
use std::collections::BTreeMap;

use kerf_and_coil::model::electrical::wiring::{CoilId, Connections, Polarity, Terminal};

/// Resistors between numbered nodes.
#[derive(Clone, Debug)]
pub struct Network {
    /// Coil, its two nodes, its resistance.
    pub resistors: Vec<(CoilId, usize, usize, f64)>,
    pub plus: usize,
    pub minus: usize,
    pub nodes: usize,
}

impl Network {
    pub fn from_connections(connections: &Connections, ohm: impl Fn(CoilId) -> f64) -> Self {
        let mut ends: BTreeMap<CoilId, [usize; 2]> = BTreeMap::new();
        let (mut plus, mut minus) = (usize::MAX, usize::MAX);
        for (node, net) in connections.nets.iter().enumerate() {
            for terminal in &net.terminals {
                match *terminal {
                    Terminal::LinePlus => plus = node,
                    Terminal::LineMinus => minus = node,
                    Terminal::Coil(id, Polarity::Plus) => ends.entry(id).or_insert([usize::MAX; 2])[0] = node,
                    Terminal::Coil(id, Polarity::Minus) => {
                        ends.entry(id).or_insert([usize::MAX; 2])[1] = node
                    }
                }
            }
        }
        let resistors = ends.into_iter().map(|(id, [a, b])| (id, a, b, ohm(id))).collect();
        Self { resistors, plus, minus, nodes: connections.nets.len() }
    }

    pub fn node_of(&self, id: CoilId) -> (usize, usize) {
        let (_, a, b, _) = self.resistors.iter().find(|(coil, ..)| *coil == id).unwrap();
        (*a, *b)
    }

    /// Makes two nodes one.
    pub fn merge(&mut self, keep: usize, gone: usize) {
        let moved = |node: &mut usize| {
            if *node == gone {
                *node = keep
            }
        };
        for (_, a, b, _) in &mut self.resistors {
            moved(a);
            moved(b);
        }
        moved(&mut self.plus);
        moved(&mut self.minus);
    }

    /// Node voltages with 1 A from plus to minus, minus at 0 V; `None` if no current can flow.
    pub fn voltages(&self) -> Option<Vec<f64>> {
        if self.plus == self.minus {
            return Some(vec![0.0; self.nodes]);
        }
        let reached = self.reached_from(self.plus);
        if !reached[self.minus] {
            return None;
        }
        let n = self.nodes;
        let mut matrix = vec![vec![0.0; n + 1]; n];
        for (_, a, b, ohm) in &self.resistors {
            let g = 1.0 / ohm;
            matrix[*a][*a] += g;
            matrix[*b][*b] += g;
            matrix[*a][*b] -= g;
            matrix[*b][*a] -= g;
        }
        matrix[self.plus][n] += 1.0;
        for node in 0..n {
            if node == self.minus || !reached[node] {
                matrix[node] = vec![0.0; n + 1];
                matrix[node][node] = 1.0;
            }
        }
        Some(gauss(matrix))
    }

    pub fn resistance(&self) -> f64 {
        self.voltages().map_or(f64::INFINITY, |volts| volts[self.plus] - volts[self.minus])
    }

    fn reached_from(&self, start: usize) -> Vec<bool> {
        let mut reached = vec![false; self.nodes];
        let mut open = vec![start];
        while let Some(node) = open.pop() {
            if std::mem::replace(&mut reached[node], true) {
                continue;
            }
            for (_, a, b, _) in &self.resistors {
                if *a == node {
                    open.push(*b);
                } else if *b == node {
                    open.push(*a);
                }
            }
        }
        reached
    }
}

fn gauss(mut m: Vec<Vec<f64>>) -> Vec<f64> {
    let n = m.len();
    for column in 0..n {
        let pivot = (column..n).max_by(|a, b| m[*a][column].abs().total_cmp(&m[*b][column].abs())).unwrap();
        m.swap(column, pivot);
        for row in 0..n {
            if row != column {
                let factor = m[row][column] / m[column][column];
                let pivot_row = m[column].clone();
                m[row].iter_mut().zip(&pivot_row).for_each(|(cell, above)| *cell -= factor * above);
            }
        }
    }
    (0..n).map(|row| m[row][n] / m[row][row]).collect()
}
