//! A wiring with its faults in it, as a circuit of coils, breaks and bridges.
use super::faults::Operator;
use crate::model::electrical::wiring::{CoilId, Join, Tree};

/// An element or group. Resistances may be 0 or infinite; no sum of them is undefined.
#[derive(Clone, Debug)]
pub(super) enum Node {
    Coil(CoilId),
    /// A coil whose winding is open or shorted.
    Dead(CoilId, f64),
    /// A break (infinite) or a bridge (0 Ω) in the wiring.
    Ideal(f64),
    Group(Join, Vec<Node>),
}

const BREAK: Node = Node::Ideal(f64::INFINITY);
const BRIDGE: Node = Node::Ideal(0.0);

impl Node {
    /// The wiring with all of `operators` applied at once.
    pub(super) fn build(tree: &Tree, operators: &[Operator]) -> Self {
        let mut next_site = 0;
        let whole = place(tree, operators, &mut next_site);
        if operators.contains(&Operator::BreakLine) {
            whole.interrupted()
        } else if operators.contains(&Operator::BridgeLine) {
            whole.bridged()
        } else {
            whole
        }
    }

    fn interrupted(self) -> Self {
        Self::Group(Join::Series, vec![BREAK, self])
    }

    fn bridged(self) -> Self {
        Self::Group(Join::Parallel, vec![BRIDGE, self])
    }

    /// The wiring without a break or bridge of the line before it.
    pub(super) fn behind_line(&self) -> &Self {
        match self {
            Self::Group(_, members) => match members.as_slice() {
                [Self::Ideal(_), wiring] => wiring,
                _ => self,
            },
            _ => self,
        }
    }

    /// Whether plus and minus of the whole touch.
    pub(super) fn line_touches(&self) -> bool {
        matches!(self, Self::Group(Join::Parallel, members) if matches!(members.as_slice(), [Self::Ideal(_), _]))
    }

    /// Between the two ends.
    pub(super) fn resistance(&self, of: &impl Fn(CoilId) -> f64) -> f64 {
        match self {
            Self::Coil(id) => of(*id),
            Self::Dead(_, ohm) | Self::Ideal(ohm) => *ohm,
            Self::Group(join, members) => combine(*join, members.iter().map(|m| m.resistance(of))),
        }
    }

    /// Across one coil's terminals, everything else in place; `outside` is what is joined across the whole.
    pub(super) fn across(&self, coil: CoilId, of: &impl Fn(CoilId) -> f64, outside: f64) -> Option<f64> {
        match self {
            Self::Coil(id) if *id == coil => Some(combine(Join::Parallel, [of(*id), outside].into_iter())),
            Self::Dead(id, ohm) if *id == coil => Some(combine(Join::Parallel, [*ohm, outside].into_iter())),
            Self::Coil(_) | Self::Dead(..) | Self::Ideal(_) => None,
            Self::Group(join, members) => members.iter().enumerate().find_map(|(index, member)| {
                let others = members.iter().enumerate().filter(|(other, _)| *other != index);
                let rest = others.map(|(_, m)| m.resistance(of)).chain([outside]);
                member.across(coil, of, combine(*join, rest))
            }),
        }
    }

    /// One coil taken off the wiring altogether.
    pub(super) fn alone(&self, coil: CoilId, of: &impl Fn(CoilId) -> f64) -> Option<f64> {
        match self {
            Self::Coil(id) if *id == coil => Some(of(*id)),
            Self::Dead(id, ohm) if *id == coil => Some(*ohm),
            Self::Coil(_) | Self::Dead(..) | Self::Ideal(_) => None,
            Self::Group(_, members) => members.iter().find_map(|m| m.alone(coil, of)),
        }
    }
}

/// Resistances joined; 1/0 and 1/∞ do what they should in floating point.
fn combine(join: Join, ohms: impl Iterator<Item = f64>) -> f64 {
    match join {
        Join::Series => ohms.sum(),
        Join::Parallel => 1.0 / ohms.map(|ohm| 1.0 / ohm).sum::<f64>(),
    }
}

/// Sites are the nodes of the tree, counted in the order they are met from the root.
fn place(tree: &Tree, operators: &[Operator], next_site: &mut u16) -> Node {
    let site = *next_site;
    *next_site += 1;
    let has = |operator: Operator| operators.contains(&operator);
    let node = match tree {
        Tree::Coil(id) if has(Operator::OpenCoil(site)) => Node::Dead(*id, f64::INFINITY),
        Tree::Coil(id) if has(Operator::ShortCoil(site)) => Node::Dead(*id, 0.0),
        Tree::Coil(id) => Node::Coil(*id),
        Tree::Series(members) | Tree::Parallel(members) => {
            let drawn = if matches!(tree, Tree::Series(_)) { Join::Series } else { Join::Parallel };
            let join = if has(Operator::Swap(site)) { drawn.other() } else { drawn };
            let placed = (0u16..).zip(members).map(|(index, member)| {
                let node = place(member, operators, next_site);
                let cut = operators.iter().any(|operator| match operator {
                    Operator::Gap(at, before) => *at == site && *before == index,
                    Operator::KeepBefore(at, cut) => *at == site && index >= *cut,
                    Operator::KeepFrom(at, cut) => *at == site && index < *cut,
                    _ => false,
                });
                if cut { node.interrupted() } else { node }
            });
            Node::Group(join, placed.collect())
        }
    };
    let node = if has(Operator::Bridge(site)) { node.bridged() } else { node };
    match tree {
        // A bridge on a coil that is off the line joins nothing.
        Tree::Coil(id) if has(Operator::DriverOff(id.driver)) => node.interrupted(),
        _ => node,
    }
}
