//! First power as ordered steps: what to do, what to expect by the report, what came out, and what that allows.
//!
//! Nothing is stored but readings in the design's log, so file, link and storage carry them as they are:
//!
//! * `powerup <step>`: a reading, or the index of what was seen as a plain number; keys by [`Step::key`].
//! * `line`: the load's resistance, shared with the meter check; without a value, an open line.
//! * `meter overruled`: the meter check's verdict on that reading was overruled there; that clears the step here too.
//! * `powerup overrule <step>`: the step's verdict was overruled, or the step left out; the note holds the reason.
//! * `powerup start`: readings before it belong to an earlier run.
//!
//! A verdict is never stored: it follows from the reading and from what the design is now.
mod facts;
mod read;
mod run;
mod step;

pub use facts::{Facts, GainFact, Idle, Level, OverFeed, facts};
pub use read::{ReadUnit, parse_reading};
pub use run::{START, StepState, current, overrule_subject, run, subject};
pub use step::{Basis, Choice, Expected, Step, expected};
pub(super) use step::{at_amplifier, at_power};
