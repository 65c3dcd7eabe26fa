//! The order of gluing: which piece can be put on when, from where, and which of its faces get glue.
//!
//! Nothing is listed by hand. A piece goes on where it touches what stands already, along a straight way that is free,
//! and only while every other piece can still be put on after it. Panels that others cover come before those that cover
//! them; what stands inside goes in as soon as walls in two directions hold it.
mod pieces;
mod slabs;

use self::pieces::Piece;
pub(super) use self::pieces::tube;
use super::assembly::Assembly;
use super::axes::{Axis, End};
use super::parts::PartId;

/// A face of a piece: the direction it looks in.
pub type Side = (Axis, End);

/// Where a piece meets one that stands already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Joint {
    /// The piece that is put on.
    pub piece: PartId,
    /// The face of it that gets glue.
    pub face: Side,
    /// The piece it is glued to.
    pub onto: PartId,
}

/// One step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// The pieces put on: one, or several that are alike.
    pub pieces: Vec<PartId>,
    /// The side the first of them comes from; `None` for the first piece of all, and where no straight way is free, as
    /// in a box whose parts are in conflict.
    pub from: Option<Side>,
    /// Where they meet what stands already; of a board that comes off nothing is glued.
    pub joints: Vec<Joint>,
    /// Whether it is the board that comes off, which is screwed on.
    pub is_screwed: bool,
}

/// All steps.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuildOrder {
    /// In order.
    pub steps: Vec<Step>,
    /// The panel of the shell that closes the box.
    pub lid: Option<PartId>,
}

/// Works out the order for a box.
#[must_use]
pub fn build_order(assembly: &Assembly) -> BuildOrder {
    let pieces = pieces::of(assembly);
    let mut steps: Vec<Step> = Vec::new();
    let mut standing: Vec<&Piece> = Vec::with_capacity(pieces.len());
    let mut waiting: Vec<&Piece> = pieces.iter().collect();
    while !waiting.is_empty() {
        let at = next(&standing, &waiting, assembly.loose);
        let piece = waiting.remove(at);
        let from = if standing.is_empty() { None } else { piece.way_in(&standing) };
        let is_screwed = assembly.loose == Some(piece.id);
        let joints = if is_screwed { Vec::new() } else { piece.joints(&standing) };
        let alike = steps.last_mut().filter(|last| {
            let first = last.pieces.first();
            !piece.is_shell && first.is_some_and(|id| id.name() == piece.id.name())
        });
        match alike {
            Some(last) => {
                last.pieces.push(piece.id);
                last.joints.extend(joints);
            }
            None => steps.push(Step { pieces: vec![piece.id], from, joints, is_screwed }),
        }
        standing.push(piece);
    }
    let lid = standing.iter().rev().find(|piece| piece.is_shell).map(|piece| piece.id);
    BuildOrder { steps, lid }
}

/// Place in the list of the piece that is put on next: the first of the best kind. What comes off comes last.
fn next(standing: &[&Piece], waiting: &[&Piece], loose: Option<PartId>) -> usize {
    let kind = |number: usize| {
        let piece = waiting[number];
        let touches = !piece.joints(standing).is_empty();
        let goes_on = piece.way_in(standing).is_some();
        let leaves_others = |piece: &Piece| {
            let with: Vec<&Piece> = standing.iter().copied().chain([piece]).collect();
            waiting.iter().all(|other| other.id == piece.id || other.way_in(&with).is_some())
        };
        let covers_none = || !waiting.iter().any(|other| other.is_shell && piece.covers(other));
        match () {
            () if loose == Some(piece.id) && waiting.len() > 1 => 10,
            // The front lies on the bench and begins.
            () if standing.is_empty() => usize::from(piece.id != PartId::Front(0)),
            () if !touches => 9,
            () if !goes_on => 8,
            () if matches!(piece.id, PartId::Front(_)) => 0,
            () if !piece.is_shell && piece.is_held(standing, waiting) && leaves_others(piece) => 1,
            () if piece.is_shell && covers_none() && leaves_others(piece) => 2,
            () if piece.is_shell && leaves_others(piece) => 3,
            () if leaves_others(piece) => 4,
            () if !piece.is_shell => 5,
            () => 6,
        }
    };
    (0..waiting.len()).min_by_key(|&number| kind(number)).unwrap_or(0)
}
