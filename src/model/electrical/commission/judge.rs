//! A reading against what was expected.
use crate::units::{Current, Voltage};

/// What a reading or what is seen comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// As expected: go on.
    Right,
    /// Not as expected, but nothing is in danger: look again before going on.
    LookAgain,
    /// Nothing further is powered until the cause is found.
    Stop,
}

/// What a reading may be, in SI units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Least value that is right.
    pub low: f64,
    /// Greatest value that is right.
    pub high: f64,
    /// Below this, stop.
    pub stop_below: f64,
    /// Above this, stop.
    pub stop_above: f64,
}

impl Limits {
    /// Right from `low` to `high`, and nothing that stops.
    #[must_use]
    pub const fn between(low: f64, high: f64) -> Self {
        Self { low, high, stop_below: f64::NEG_INFINITY, stop_above: f64::INFINITY }
    }
    /// The same with a value below and one above which it stops.
    #[must_use]
    pub const fn stopping(self, below: f64, above: f64) -> Self {
        Self { stop_below: below, stop_above: above, ..self }
    }
    /// The verdict; a value that is no number stops.
    #[must_use]
    pub fn judge(&self, value: f64) -> Verdict {
        if value >= self.low && value <= self.high {
            Verdict::Right
        } else if value >= self.stop_below && value <= self.stop_above {
            Verdict::LookAgain
        } else {
            Verdict::Stop
        }
    }
}

/// Heat in joints beyond the cable that is still right, W (common practice, no source).
const RIGHT_W: f64 = 3.0;
/// Heat in joints beyond the cable at which to stop, W (common practice, no source).
const STOP_W: f64 = 10.0;

/// Limits for the voltage lost over a stretch at a current: what cable or fuse lose by themselves is expected, and what
/// comes on top is heat in a joint. Up to 3 W of it are right, more than 10 W stop (common practice, no source).
#[must_use]
pub fn joint_excess(expected: Voltage, at: Current) -> Limits {
    let amperes = at.amperes().max(1.0);
    let most = |watts: f64| expected.volts() + watts / amperes;
    // The sign only tells which probe is which.
    Limits { low: -most(RIGHT_W), high: most(RIGHT_W), stop_below: -most(STOP_W), stop_above: most(STOP_W) }
}
