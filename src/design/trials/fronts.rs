//! The subwoofer with the front speakers, as typed: five levels a band and a delay, kept as one text.
use crate::model::error::ModelError;
use crate::model::measurement::{FrontLevels, FrontPhase, front_phase};
use crate::units::parse_number;

/// Bands in which a subwoofer and front speakers meet, Hz.
pub const FRONT_BANDS_HZ: [f64; 6] = [40.0, 50.0, 63.0, 80.0, 100.0, 125.0];
/// Levels of a band: subwoofer, front speakers, both, both with polarity turned, both with the subwoofer later.
pub const FRONT_LEVELS: usize = 5;
/// Longest text of one level.
const LONGEST: usize = 7;

/// What is typed, band by band.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FrontTable {
    /// The levels of each band, as typed.
    pub cells: [[String; FRONT_LEVELS]; FRONT_BANDS_HZ.len()],
    /// By how much the subwoofer played later for the last level, in ms, as typed.
    pub delay_ms: String,
}

/// What one band's levels come to.
#[derive(Clone, Debug, PartialEq)]
pub enum FrontBand {
    /// One of the three levels needed is missing.
    Missing,
    /// A text that is no level.
    NotALevel,
    /// What they tell, or how they contradict one another.
    Read(Result<FrontPhase, ModelError>),
}

impl FrontTable {
    /// What [`Self::text`] wrote; anything else gives what of it can be read.
    #[must_use]
    pub fn read(text: &str) -> Self {
        let mut table = Self::default();
        let mut rows = text.split(';');
        for cells in &mut table.cells {
            let row = rows.next().unwrap_or_default();
            for (cell, text) in cells.iter_mut().zip(row.split('/')) {
                *cell = short(text);
            }
        }
        table.delay_ms = short(rows.next().unwrap_or_default());
        table
    }
    /// The table as one text: levels parted by `/`, bands by `;`, the delay last. Empty while nothing is typed.
    #[must_use]
    pub fn text(&self) -> String {
        if *self == Self::default() {
            return String::new();
        }
        let mut text = String::new();
        for cells in &self.cells {
            text.push_str(&cells.each_ref().map(|cell| short(cell)).join("/"));
            text.push(';');
        }
        text.push_str(&short(&self.delay_ms));
        text
    }
    /// The delay, s; 0 while none is typed, `None` for what is no delay of up to 100 ms.
    #[must_use]
    pub fn delay_s(&self) -> Option<f64> {
        if self.delay_ms.is_empty() {
            return Some(0.0);
        }
        let ms = parse_number(&self.delay_ms).ok()?.value();
        (-100.0..=100.0).contains(&ms).then_some(ms / 1e3)
    }
    /// What each band comes to, in the order of [`FRONT_BANDS_HZ`].
    #[must_use]
    pub fn bands(&self) -> Vec<FrontBand> {
        let delay = self.delay_s().unwrap_or(0.0);
        FRONT_BANDS_HZ.iter().zip(&self.cells).map(|(hz, cells)| band(*hz, cells, delay)).collect()
    }
}

fn band(hz: f64, cells: &[String; FRONT_LEVELS], delay_s: f64) -> FrontBand {
    let levels = cells.each_ref().map(|cell| level(cell));
    if levels.iter().any(Result::is_err) {
        return FrontBand::NotALevel;
    }
    let [Ok(Some(sub_db)), Ok(Some(front_db)), Ok(Some(both_db)), Ok(turned_db), Ok(delayed_db)] = levels
    else {
        return FrontBand::Missing;
    };
    FrontBand::Read(front_phase(
        FrontLevels { hz, sub_db, front_db, both_db, turned_db, delayed_db },
        delay_s,
    ))
}

/// A level as typed; nothing for an empty cell.
fn level(text: &str) -> Result<Option<f64>, ()> {
    if text.is_empty() {
        return Ok(None);
    }
    let value = parse_number(text).map_err(|_| ())?.value();
    if (-200.0..=200.0).contains(&value) { Ok(Some(value)) } else { Err(()) }
}

/// A cell's text without what parts cells.
fn short(text: &str) -> String {
    text.chars()
        .filter(|c| !matches!(c, '/' | ';') && !c.is_control())
        .take(LONGEST)
        .collect::<String>()
        .trim()
        .to_owned()
}
