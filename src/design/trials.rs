//! Trials in the car: a spot, an aim, a seat, and what was heard there, packed so that many of them go into a link.
//!
//! Trials are facts like readings: undo leaves them alone. Levels are kept in steps of 0.5 dB, spreads in steps of
//! 0.1 dB, that of the mean level in steps of 0.01 dB, and every verdict is worked out from what is kept, so that all who open the design see the same one.
mod cabin;
mod choice;
mod fronts;
mod microphone;
mod packed;
mod predict;
mod tones;

pub use cabin::{CABIN_RANGE, cabin_by_trials, cabin_entries, mean_of_spots};
pub use choice::{Spot, SpotName, choose, drifted, range_of, spots, weights_of};
pub use fronts::{FRONT_BANDS_HZ, FRONT_LEVELS, FrontBand, FrontTable};
pub use microphone::{ANCHOR_HZ, absolutes, anchored, correction, correction_text, covers, full_scale};
pub use packed::{level_text, read_levels, read_spread, spread_text};
pub(super) use packed::{put_more, put_trials, take_more, take_trials};
pub use predict::{InHand, box_levels, closed_test_box, in_hand, outlets};
pub use tones::{read_tones, tones_text};

use super::document::{MAX_NOTE, clean_text};
use crate::model::measurement::{TRIAL_POINTS, Takes};

/// Most trials that a design keeps.
pub const MAX_TRIALS: usize = 100;
/// Longest name of a spot or of a box, in characters.
pub const MAX_NAME: usize = 30;
/// What stands for a level that was not measured.
pub const GAP: i16 = i16::MIN;
/// Widest spread of a mean level kept, in hundredths of a decibel.
const WIDEST: u16 = 10_000;
/// Quietest and loudest level kept, in half decibels.
const LEVELS: std::ops::RangeInclusive<i16> = -400..=600;

/// Where the cone faces, seen from the driver's seat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// To the roof.
    Up,
    /// To the floor.
    Down,
    /// To the windscreen.
    Front,
    /// To the tailgate.
    Rear,
    /// To the left side.
    Left,
    /// To the right side.
    Right,
    /// Degrees clockwise from the front, seen from above.
    Degrees(u16),
}

impl Aim {
    /// The named directions; a direction's place here is its code in links.
    pub const NAMED: [(Self, &'static str); 6] = [
        (Self::Up, "up"),
        (Self::Down, "down"),
        (Self::Front, "front"),
        (Self::Rear, "rear"),
        (Self::Left, "left"),
        (Self::Right, "right"),
    ];
    /// As written in a file: `rear`, or `135` for degrees.
    #[must_use]
    pub fn key(self) -> String {
        match (self, Self::NAMED.iter().find(|(aim, _)| *aim == self)) {
            (Self::Degrees(degrees), _) => degrees.to_string(),
            (_, Some((_, key))) => (*key).to_owned(),
            _ => String::new(),
        }
    }
    /// The aim of a key.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        let named = Self::NAMED.iter().find(|(_, name)| *name == key).map(|(aim, _)| *aim);
        named.or_else(|| key.parse().ok().filter(|degrees| *degrees < 360).map(Self::Degrees))
    }
}

/// Keys of the seats listened at; a seat's place here is its code.
pub const SEATS: [&str; 5] = ["driver", "passenger", "rear left", "rear right", "elsewhere"];
/// Keys of what may be otherwise than closed and upright; a state's place here is its bit.
pub const STATES: [&str; 4] = ["top down", "windows open", "seats folded", "tailgate open"];
/// Keys of the ways to a curve; a way's place here is its code.
pub const WAYS: [&str; 3] = ["tones", "columns", "sweep"];

/// One trial: takes at one spot and one seat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trial {
    /// Seconds since 1970, UTC.
    pub at_s: i64,
    /// The spot's name.
    pub spot: String,
    /// Where it lies on the plan, in per cent from the left side and from the front.
    pub place: Option<[u8; 2]>,
    /// Where the cone faces.
    pub aim: Aim,
    /// The box used; empty for the test box.
    pub used: String,
    /// Index into [`SEATS`].
    pub seat: u8,
    /// Bits by [`STATES`].
    pub state: u8,
    /// Index into [`WAYS`].
    pub way: u8,
    /// How many takes.
    pub takes: u8,
    /// Mean level at each of the 40 points in half decibels, or [`GAP`].
    pub level: Vec<i16>,
    /// Standard deviation of one take in tenths of a decibel; empty with a single take.
    pub spread: Vec<u8>,
    /// That of one take's mean level over 25 Hz to 80 Hz in hundredths; `None` with a single take and in old trials.
    pub level_spread: Option<u16>,
    /// How high it stands, in per cent from floor to roof.
    pub height: Option<u8>,
    /// Whether the user left it out of the verdict.
    pub left_out: bool,
    /// A remark.
    pub note: String,
}

impl Trial {
    /// The trial in its one proper form, or `None` if it holds no level.
    ///
    /// Texts are cleaned, codes out of their lists become the first one, levels out of range become gaps.
    #[must_use]
    pub fn checked(mut self) -> Option<Self> {
        self.spot = clean_text(&self.spot, MAX_NAME);
        self.used = clean_text(&self.used, MAX_NAME);
        // Blanks at the end stay while more is typed.
        self.note = self.note.chars().filter(|c| !c.is_control()).take(MAX_NOTE).collect();
        self.place = self.place.map(|[x, y]| [x.min(100), y.min(100)]);
        self.height = self.height.map(|height| height.min(100));
        if let Aim::Degrees(degrees) = self.aim {
            self.aim = Aim::Degrees(degrees % 360);
        }
        let listed = |code: u8, count: usize| if usize::from(code) < count { code } else { 0 };
        self.seat = listed(self.seat, SEATS.len());
        self.way = listed(self.way, WAYS.len());
        self.state &= (1 << STATES.len()) - 1;
        self.takes = self.takes.max(1);
        self.level.resize(TRIAL_POINTS, GAP);
        self.level.iter_mut().filter(|level| !LEVELS.contains(*level)).for_each(|level| *level = GAP);
        if self.level.iter().all(|level| *level == GAP) {
            return None;
        }
        if self.takes == 1 {
            self.spread.clear();
            self.level_spread = None;
        } else {
            self.level_spread = self.level_spread.map(|spread| spread.min(WIDEST));
            self.spread.resize(TRIAL_POINTS, 0);
            let gaps = self.level.iter().map(|level| *level == GAP);
            self.spread.iter_mut().zip(gaps).filter(|(_, gap)| *gap).for_each(|(spread, _)| *spread = 0);
        }
        Some(self)
    }
    /// Puts takes in, rounded to the steps kept.
    pub fn set_takes(&mut self, takes: &Takes) {
        let half = |level: &f64| {
            let steps = (2.0 * level).round();
            // A level that is no number is in no range.
            if (f64::from(*LEVELS.start())..=f64::from(*LEVELS.end())).contains(&steps) {
                steps as i16
            } else {
                GAP
            }
        };
        self.takes = u8::try_from(takes.count).unwrap_or(u8::MAX);
        self.level = takes.mean_db.iter().map(half).collect();
        self.spread = takes.spread_db.iter().map(|s| (10.0 * s).round().clamp(0.0, 255.0) as u8).collect();
        let hundredths = |s: f64| (100.0 * s).round().clamp(0.0, f64::from(WIDEST)) as u16;
        self.level_spread = takes.level_spread_db.filter(|_| takes.count > 1).map(hundredths);
    }
    /// What was heard.
    #[must_use]
    pub fn takes(&self) -> Takes {
        let level = |half: &i16| if *half == GAP { f64::NAN } else { f64::from(*half) / 2.0 };
        let spread = |k: usize| self.spread.get(k).map_or(0.0, |tenths| f64::from(*tenths) / 10.0);
        Takes {
            count: usize::from(self.takes),
            mean_db: self.level.iter().map(level).collect(),
            spread_db: (0..self.level.len()).map(spread).collect(),
            level_spread_db: match self.takes {
                0 | 1 => Some(0.0),
                _ => self.level_spread.map(|hundredths| f64::from(hundredths) / 100.0),
            },
        }
    }
}
