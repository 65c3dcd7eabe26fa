//! Joining and taking apart by hand: loose parts become groups, groups become their members.
use super::{CoilSet, Join, Tree};

/// A wiring in the making: parts that are not joined with each other yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bench {
    /// The parts, in the order shown.
    pub parts: Vec<Tree>,
}

impl Bench {
    /// The members of a wiring's outermost group, and the coils it leaves open.
    #[must_use]
    pub fn of(tree: &Tree, set: &CoilSet) -> Self {
        let mut parts = vec![tree.clone()];
        parts.extend(tree.unused(set).into_iter().map(Tree::Coil));
        Self { parts }
    }

    /// Joins the parts at these places; they become one, at the first place. Fewer than two change nothing.
    pub fn join(&mut self, places: &[usize], join: Join) {
        let (mut chosen, mut rest, mut first) = (Vec::new(), Vec::new(), None);
        for (place, part) in self.parts.drain(..).enumerate() {
            if places.contains(&place) {
                first = first.or(Some(rest.len()));
                chosen.push(part);
            } else {
                rest.push(part);
            }
        }
        let at = first.unwrap_or(rest.len()).min(rest.len());
        if !chosen.is_empty() {
            if chosen.len() > 1 {
                rest.insert(at, Tree::group(join, chosen).canonical());
            } else {
                chosen.into_iter().for_each(|only| rest.insert(at, only));
            }
        }
        self.parts = rest;
    }

    /// Takes the part at a place apart into its members; a coil stays.
    pub fn take_apart(&mut self, place: usize) {
        let Some((_, members)) = self.parts.get(place).and_then(Tree::members) else { return };
        let members = members.to_vec();
        self.parts.splice(place..=place, members);
    }

    /// The wiring, once everything is joined.
    #[must_use]
    pub fn whole(&self) -> Option<&Tree> {
        match self.parts.as_slice() {
            [only] => Some(only),
            _ => None,
        }
    }
}
