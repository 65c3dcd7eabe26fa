//! Coils, amplifier, meter and feed: what is wired, what it draws, and what protects it.
//!
//! * [`wiring`]: the series/parallel tree of the coils, from which load, shares and connections follow.
//! * [`meter`]: what a resistance reading means, by faults generated from the tree.
//! * [`amplifier`]: power, gain voltage and supply current at a load.
//! * [`cable`]: conductors, their resistance, their ampacity, and the voltage they lose.
//! * [`fuse`]: standard ratings, the rating for a cable, and where a fuse has to sit.
//! * [`feed`]: the smallest cable and its fuse for a load, with every reason.
//! * [`tree`]: the whole feed, segment by segment, from battery to amplifiers.
//! * [`supply`]: battery, alternator, the point at which source and amplifier agree.
//! * [`prove`]: metal and true size of a cable from its mass and its millivolts.
//! * [`line`]: what the loudspeaker cable takes.
//! * [`commission`]: first power, step by step, and how long loud sound may last.
//! * [`quick`]: single questions that need no design.
pub mod amplifier;
pub mod cable;
mod check;
pub mod commission;
pub mod feed;
pub mod fuse;
pub mod line;
pub mod meter;
pub mod prove;
pub mod quick;
pub mod supply;
pub mod tree;
pub mod wiring;

/// How well a number is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Standing {
    /// Stands in the text of the named standard or regulation.
    Verified,
    /// Partly read, partly remembered.
    Partly,
    /// From memory: not to be shown as a quoted standard.
    Memory,
    /// Follows from other values by a formula given in the documentation.
    Derived,
    /// Common practice, no source.
    CommonPractice,
}
