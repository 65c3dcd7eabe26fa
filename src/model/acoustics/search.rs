//! Finds a box: of everything that fits the space, what serves the wishes best.
//!
//! A [`Brief`] says what there is and what matters, [`Job`] searches in steps that can be stopped at any time, and an
//! [`Outcome`] ranks what was found. Every candidate is an [`super::Enclosure`] that fits the [`Room`] with its driver
//! and its port, solved as the same network as everywhere else at [`POINTS`] frequencies. The search is a grid, coarse
//! to fine, with no chance in it: the same brief gives the same boxes.
//!
//! Also the plain inverse questions ([`inverse`]) and the published alignments as places to begin ([`alignments`]).
pub mod alignments;
pub mod inverse;

mod boxes;
mod brief;
mod job;
mod merit;
mod room;

pub use boxes::{Candidate, Kind, Pipe};
pub use brief::{Band, Brief, Limits, RadiatorUnit, Tube, Weights};
pub use job::{Job, Outcome};
pub use merit::{Bench, Bound, Merit, POINTS};
pub use room::{Placed, Room};
