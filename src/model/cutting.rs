//! Sheets into panels by edge-to-edge cuts: exactly where that can be done, with a bound where it can't.
//!
//! Read in this order: [`job`] (what is wanted, from which stock) → [`tree`] (a sheet as a tree of cuts, its panels'
//! places and its numbered cuts) → [`exact`] (the least cost, proved) and [`search`] (good, with a bound), both chosen
//! by [`Solver`].
//!
//! A kerf lies between neighbours. Sheets and panels are therefore grown by one kerf each, after which they lie side by
//! side without any, which is exact.
mod bounds;
pub mod exact;
mod fill;
pub mod job;
mod multiset;
pub mod search;
mod stairs;
pub mod tree;

pub use exact::Exact;
pub use job::{Job, PanelKind, Regime, Stock};
pub use search::Search;
pub use tree::{Cut, CutWay, Node, Placed, SheetLayout};

use crate::model::error::ModelError;

/// How good a layout is known to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quality {
    /// No cheaper layout exists, and none of that cost leaves a longer offcut on the last sheet.
    Proved,
    /// Found by trying; at least this many sheets are needed whatever the layout.
    Found {
        /// Lower bound of the number of sheets of the largest size in stock.
        least_sheets: usize,
    },
}

/// A job laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct Solution {
    /// The sheets, the one with the offcut last.
    pub sheets: Vec<SheetLayout>,
    /// How good it is known to be.
    pub quality: Quality,
    /// Cost of the stock used.
    pub cost: u64,
}

/// Lays a job out in slices, so that a page stays alive meanwhile.
#[derive(Clone, Debug)]
pub enum Solver {
    /// Within the exact method's reach.
    Exact(Box<Exact>),
    /// Beyond it.
    Search(Box<Search>),
}

impl Solver {
    /// Chooses the method.
    ///
    /// # Errors
    /// As [`Job::check`]; [`ModelError::Impossible`] where at most so many turns of the cuts are asked for beyond the
    /// exact method's reach: only that method can promise them.
    pub fn new(job: &Job, effort: u32) -> Result<Self, ModelError> {
        job.check()?;
        if Exact::reaches(job) {
            return Ok(Self::Exact(Box::new(Exact::new(job))));
        }
        if job.regime != Regime::Any {
            return Err(ModelError::Impossible {
                what: "so many different panels can't be held to few turns of the cuts",
            });
        }
        Ok(Self::Search(Box::new(Search::new(job, effort))))
    }
    /// Does a slice of work of about `work` elementary steps; whether it is done.
    pub fn advance(&mut self, work: usize) -> bool {
        match self {
            Self::Exact(exact) => exact.advance(work),
            Self::Search(search) => search.advance(work),
        }
    }
    /// The layout, once done.
    ///
    /// # Errors
    /// [`ModelError::Impossible`] where the stock does not do.
    pub fn solution(&self) -> Result<Solution, ModelError> {
        match self {
            Self::Exact(exact) => exact.solution(),
            Self::Search(search) => search.solution(),
        }
    }
}

/// Rounds of the search where nothing else is said.
pub const USUAL_EFFORT: u32 = 6000;

/// Lays a job out at once.
///
/// # Errors
/// As [`Job::check`], and [`ModelError::Impossible`] where the stock does not do.
pub fn solve(job: &Job, effort: u32) -> Result<Solution, ModelError> {
    let mut solver = Solver::new(job, effort)?;
    while !solver.advance(usize::MAX / 2) {}
    solver.solution()
}
