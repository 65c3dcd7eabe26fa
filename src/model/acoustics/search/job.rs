//! The search in steps: a grid over every kind, volume and pipe, each volume's best found on its own, then finer.
//!
//! A piece of work is one kind at one volume with one set of openings: a grid over what is free there, then smaller and
//! smaller steps about its best place. The best volumes are then looked at between their neighbours, again and again,
//! so no box depends on where the grid happened to lie.

use super::boxes::{Candidate, Kind, Spot, candidate};
use super::brief::Brief;
use super::merit::{Bench, Merit};
use crate::model::error::ModelError;
use crate::small::sort_by_number;

/// Volumes of the first grid.
const VOLUMES: usize = 24;
/// Lengths or weights of the first grid.
const LENGTHS: usize = 24;
/// Shares of the air before the cone of the first grid, with as many lengths each.
const SHARES: usize = 10;
/// Lengths before and behind the cone, and shares, of a grid over boxes with two pipes, which every pair of them gets.
const PAIRS: [usize; 3] = [6, 5, 6];
/// Volumes of the first grid for each one at which boxes with two pipes are looked at.
const STRIDE: usize = 2;
/// Pairs of pipes at a volume that are looked at more closely, and the grid that they get.
const CLOSER: usize = 4;
const FINER: [usize; 3] = [12, 9, 12];
/// How often a step is halved.
const HALVINGS: usize = 7;
/// How often volumes between neighbours are looked at.
const ROUNDS: usize = 6;
/// Sets of openings of a kind, and places of each, that the finer rounds follow.
const FOLLOWED: usize = 6;

/// A box found.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Found {
    kind: Kind,
    opening: usize,
    spot: Spot,
    candidate: Candidate,
    merit: Merit,
}

/// A kind at a volume with a set of openings, or with all of them.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Piece {
    kind: Kind,
    opening: Option<usize>,
    volume: f64,
    /// The best place at a volume beside it.
    beside: Option<[f64; 3]>,
}

/// A search under way. Give it steps until it is done; to stop it, drop it.
pub struct Job {
    brief: Brief,
    bench: Bench,
    pieces: Vec<Piece>,
    next: usize,
    round: usize,
    spacing: f64,
    found: Vec<Found>,
    evaluations: u64,
}

/// What a search came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// The best box of each kind and then the next best that differ in volume, best first.
    pub ranking: Vec<(Candidate, Merit)>,
    /// The best box of each kind at each volume of the first grid, kinds in order, by rising volume.
    pub trade: Vec<(Candidate, Merit)>,
    /// Candidates evaluated.
    pub evaluations: u64,
}

/// Most boxes in the ranking.
const RANKED: usize = 12;
/// Least ratio of volumes at which two boxes of a kind count as different.
const DIFFERENT: f64 = 1.35;

impl Job {
    /// A search for a brief, not begun.
    ///
    /// # Errors
    /// Those of [`Brief::check`].
    pub fn start(brief: Brief) -> Result<Self, ModelError> {
        let bench = Bench::new(&brief)?;
        let mut pieces = Vec::new();
        for &kind in brief.kinds.iter().filter(|kind| brief.offers(**kind)) {
            for step in 0..VOLUMES {
                let volume = step as f64 / (VOLUMES - 1) as f64;
                if !kind.has_two_pipes() {
                    let openings = (0..kind.openings(&brief)).map(Some);
                    pieces.extend(openings.map(|opening| Piece { kind, opening, volume, beside: None }));
                } else if step % STRIDE == STRIDE - 1 {
                    pieces.push(Piece { kind, opening: None, volume, beside: None });
                }
            }
        }
        Ok(Self {
            bench,
            brief,
            pieces,
            next: 0,
            round: 0,
            spacing: 1.0 / (VOLUMES - 1) as f64,
            found: Vec::new(),
            evaluations: 0,
        })
    }

    /// Works until about `budget` more candidates are evaluated or the search is done; whether it is done.
    pub fn step(&mut self, budget: u64) -> bool {
        let until = self.evaluations.saturating_add(budget);
        while !self.is_done() {
            match self.pieces.get(self.next).copied() {
                Some(piece) => {
                    self.next += 1;
                    match piece.opening {
                        Some(opening) => {
                            let best = self.best_of(piece, opening);
                            self.found.extend(best);
                        }
                        None => self.best_pairs(piece),
                    }
                }
                None => self.refine(),
            }
            if self.evaluations >= until {
                break;
            }
        }
        self.is_done()
    }

    /// Whether there is nothing left to do.
    #[must_use]
    pub fn is_done(&self) -> bool {
        self.next >= self.pieces.len() && self.round >= ROUNDS
    }

    /// How much is done, 0 to 1; the finer rounds count for a tenth.
    #[must_use]
    pub fn progress(&self) -> f64 {
        let share = self.next as f64 / self.pieces.len().max(1) as f64;
        if self.round == 0 { 0.9 * share } else { 0.9 + 0.1 * (self.round - 1) as f64 / ROUNDS as f64 }
    }

    /// Candidates evaluated so far.
    #[must_use]
    pub fn evaluations(&self) -> u64 {
        self.evaluations
    }

    /// The whole search at once.
    ///
    /// # Errors
    /// Those of [`Brief::check`].
    pub fn run(brief: Brief) -> Result<Outcome, ModelError> {
        let mut job = Self::start(brief)?;
        while !job.step(u64::MAX) {}
        Ok(job.outcome())
    }

    fn look(&mut self, piece: Piece, opening: usize, spot: Spot) -> Option<Found> {
        let kind = piece.kind;
        self.evaluations += 1;
        let candidate = candidate(&self.brief, kind, opening, &spot)?;
        let merit = self.bench.merit(&self.brief, &candidate)?;
        Some(Found { kind, opening, spot, candidate, merit })
    }

    /// The best box of a piece: a grid over what is free, then halved steps about the best of it.
    fn best_of(&mut self, piece: Piece, opening: usize) -> Option<Found> {
        let beside = piece.beside.and_then(|free| {
            let spot = Spot { volume: piece.volume, free };
            self.look(piece, opening, spot)
        });
        if let Some(beside) = beside {
            return Some(self.closer(piece, opening, beside, step(FINER)));
        }
        let counts = grid(piece.kind);
        let best = self.coarse(piece, opening, counts)?;
        Some(self.closer(piece, opening, best, step(counts)))
    }

    /// The best boxes of a piece with two pipes: a grid for every pair, then halved steps about the best pairs.
    fn best_pairs(&mut self, piece: Piece) {
        let counts = grid(piece.kind);
        let pairs = piece.kind.openings(&self.brief);
        let mut found: Vec<Found> =
            (0..pairs).filter_map(|opening| self.coarse(piece, opening, counts)).collect();
        sort_by_number(&mut found, |found| -found.merit.score);
        for best in found.into_iter().take(CLOSER) {
            let opening = best.opening;
            let best = better(Some(best), self.coarse(piece, opening, FINER)).unwrap_or(best);
            let best = self.closer(piece, opening, best, step(FINER));
            self.found.push(best);
        }
    }

    fn coarse(&mut self, piece: Piece, opening: usize, counts: [usize; 3]) -> Option<Found> {
        let share = |index: usize, count: usize| index as f64 / (count - 1).max(1) as f64;
        let mut best: Option<Found> = None;
        for index in 0..counts.iter().product() {
            let at = [index, index / counts[0], index / (counts[0] * counts[1])];
            let free = [0, 1, 2].map(|axis| share(at[axis] % counts[axis], counts[axis]));
            best = better(best, self.look(piece, opening, Spot { volume: piece.volume, free }));
        }
        best
    }

    /// Walks to better neighbours and halves the step where there are none.
    fn closer(&mut self, piece: Piece, opening: usize, mut best: Found, mut step: [f64; 3]) -> Found {
        let free = piece.kind.free();
        let ways = 3_usize.pow(free as u32);
        for _ in 0..HALVINGS {
            step = step.map(|step| 0.5 * step);
            // A step is taken a few times at most before it is halved: the grid was finer than that.
            for _ in 0..3 {
                let here = best;
                for way in 0..ways {
                    let way = [way % 3, way / 3 % 3, way / 9].map(|turn| [0.0, -1.0, 1.0][turn % 3]);
                    let free =
                        [0, 1, 2].map(|axis| (here.spot.free[axis] + way[axis] * step[axis]).clamp(0.0, 1.0));
                    if free != here.spot.free {
                        let spot = Spot { volume: piece.volume, free };
                        best = better(Some(best), self.look(piece, opening, spot)).unwrap_or(best);
                    }
                }
                if best.spot == here.spot {
                    break;
                }
            }
        }
        best
    }

    /// Sets up the next finer round: volumes halfway to the neighbours of the best ones.
    fn refine(&mut self) {
        self.round += 1;
        self.spacing *= 0.5;
        self.pieces.clear();
        self.next = 0;
        if self.round > ROUNDS {
            return;
        }
        sort_by_number(&mut self.found, |found| -found.merit.score);
        let mut pieces: Vec<Piece> = Vec::new();
        for &kind in &self.brief.kinds {
            let of_kind = self.found.iter().filter(|found| found.kind == kind).take(FOLLOWED);
            for found in of_kind {
                for side in [-1.0, 1.0] {
                    let stride = if kind.has_two_pipes() { STRIDE as f64 } else { 1.0 };
                    let volume = (found.spot.volume + side * stride * self.spacing).clamp(0.0, 1.0);
                    let piece = Piece {
                        kind,
                        opening: Some(found.opening),
                        volume,
                        beside: kind.has_two_pipes().then_some(found.spot.free),
                    };
                    let known = self.found.iter().any(|old| {
                        old.kind == kind
                            && Some(old.opening) == piece.opening
                            && (old.spot.volume - volume).abs() < 1e-9
                    });
                    let asked = pieces.iter().any(|other| {
                        (other.kind, other.opening, other.volume) == (kind, piece.opening, volume)
                    });
                    if !known && !asked {
                        pieces.push(piece);
                    }
                }
            }
        }
        self.pieces = pieces;
    }

    /// What was found so far.
    #[must_use]
    pub fn outcome(&self) -> Outcome {
        let mut found = self.found.clone();
        sort_by_number(&mut found, |found| -found.merit.score);
        let mut ranking: Vec<&Found> = Vec::new();
        let first = |kind: Kind| found.iter().find(|found| found.kind == kind);
        ranking.extend(self.brief.kinds.iter().filter_map(|kind| first(*kind)));
        for other in &found {
            let ratio = |a: &Found| {
                let ratio = a.candidate.net.cubic_metres() / other.candidate.net.cubic_metres();
                ratio.max(1.0 / ratio)
            };
            let alike = |a: &&Found| a.kind == other.kind && ratio(a) < DIFFERENT;
            if ranking.len() < RANKED && !ranking.iter().any(alike) {
                ranking.push(other);
            }
        }
        sort_by_number(&mut ranking, |found| -found.merit.score);
        let pair = |found: &Found| (found.candidate, found.merit);
        Outcome {
            ranking: ranking.into_iter().map(pair).collect(),
            trade: self.trade(&found).into_iter().map(pair).collect(),
            evaluations: self.evaluations,
        }
    }

    /// The best of each kind at each volume of the first grid; `found` is sorted, best first.
    fn trade<'a>(&self, found: &'a [Found]) -> Vec<&'a Found> {
        let mut trade = Vec::new();
        for &kind in &self.brief.kinds {
            for step in 0..VOLUMES {
                let volume = step as f64 / (VOLUMES - 1) as f64;
                trade.extend(
                    found.iter().find(|one| one.kind == kind && (one.spot.volume - volume).abs() < 1e-9),
                );
            }
        }
        trade
    }
}

/// Places of each free size in a piece's first grid.
const fn grid(kind: Kind) -> [usize; 3] {
    match kind.free() {
        0 => [1, 1, 1],
        1 => [LENGTHS, 1, 1],
        2 => [LENGTHS, SHARES, 1],
        _ => PAIRS,
    }
}

fn step(counts: [usize; 3]) -> [f64; 3] {
    counts.map(|count| if count > 1 { 1.0 / (count - 1) as f64 } else { 0.0 })
}

fn better(a: Option<Found>, b: Option<Found>) -> Option<Found> {
    match (a, b) {
        (Some(a), Some(b)) => Some(if b.merit.score > a.merit.score { b } else { a }),
        (a, b) => a.or(b),
    }
}
