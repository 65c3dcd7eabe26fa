//! First power: what a reading of the power-up comes to, the lamp in the fuse's place, and how long loud sound may last.
mod exposure;
mod judge;
mod lamp;
mod weighting;

pub use exposure::{niosh_time_s, osha_time_s};
pub use judge::{Limits, Verdict, joint_excess};
pub use lamp::lamp_current;
pub use weighting::a_weighting_db;
