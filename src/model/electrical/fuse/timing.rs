//! How long a fuse may take to open, by published points.
use std::time::Duration;

use super::FuseFamily;
use crate::model::electrical::Standing;

/// A point of a family's time-current gates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeCurrentPoint {
    /// Current over rating.
    pub over_rating: f64,
    /// The fuse must carry the current at least so long.
    pub shortest: Duration,
    /// It must have opened by then; `None` where it need not open.
    pub longest: Option<Duration>,
    /// How well the point is known.
    pub standing: Standing,
}

const fn gate(over_rating: f64, shortest_ms: u64, longest_ms: u64, standing: Standing) -> TimeCurrentPoint {
    let longest = if longest_ms == 0 { None } else { Some(Duration::from_millis(longest_ms)) };
    TimeCurrentPoint { over_rating, shortest: Duration::from_millis(shortest_ms), longest, standing }
}

/// Hundred hours, in milliseconds.
const H100: u64 = 360_000_000;

const E: [TimeCurrentPoint; 5] = [
    gate(1.0, H100, 0, Standing::Verified),
    gate(1.35, 60_000, 1_800_000, Standing::Verified),
    gate(2.0, 2_000, 60_000, Standing::Verified),
    gate(3.5, 200, 7_000, Standing::Verified),
    gate(6.0, 40, 1_000, Standing::Memory),
];
const C: [TimeCurrentPoint; 6] = [
    gate(1.1, H100, 0, Standing::Memory),
    gate(1.35, 750, 1_800_000, Standing::Partly),
    gate(1.6, 250, 50_000, Standing::Memory),
    gate(2.0, 150, 5_000, Standing::Memory),
    gate(3.5, 40, 500, Standing::Memory),
    gate(6.0, 20, 100, Standing::Memory),
];
const F: [TimeCurrentPoint; 5] = [
    gate(1.1, H100, 0, Standing::Memory),
    gate(1.35, 750, 600_000, Standing::Memory),
    gate(2.0, 150, 5_000, Standing::Memory),
    gate(3.5, 80, 250, Standing::Memory),
    gate(6.0, 30, 100, Standing::Memory),
];
const SF51: [TimeCurrentPoint; 5] = [
    gate(1.0, 14_400_000, 0, Standing::Memory),
    gate(1.35, 120_000, 1_800_000, Standing::Memory),
    gate(2.0, 1_000, 15_000, Standing::Memory),
    gate(3.5, 300, 5_000, Standing::Memory),
    gate(6.0, 100, 1_000, Standing::Memory),
];

impl FuseFamily {
    /// The published gates by rising current; empty where none are at hand.
    ///
    /// # Source
    /// Large blade: DIN 72581-3 extract, up to 3.5 times the rating. Everything else is from memory.
    #[must_use]
    pub const fn time_current(self) -> &'static [TimeCurrentPoint] {
        match self {
            Self::LargeBlade => &E,
            Self::MediumBlade => &C,
            Self::MiniatureBlade => &F,
            Self::Strip51 => &SF51,
            Self::SubMiniatureBlade | Self::Strip30 | Self::SingleBolt => &[],
        }
    }

    /// The point that bounds how long `over_rating` times the rating may flow: the last whose current is not above it.
    /// More current opens a fuse no later, so the bound holds between the points. `None` below the first gate.
    #[must_use]
    pub fn opening_bound(self, over_rating: f64) -> Option<TimeCurrentPoint> {
        let points = self.time_current().iter().rev();
        points.copied().find(|point| point.over_rating <= over_rating && point.longest.is_some())
    }
}
