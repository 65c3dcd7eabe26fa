//! Which spot is best: trials grouped by how the box stood, judged from what is kept.
use super::{Aim, Trial};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::model::error::ModelError;
use crate::model::measurement::{Heard, Range, Takes, Verdict, Weights, drift, judge, trial_frequencies};

/// What makes trials repeats of one another: everything but the seat and the time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SpotName {
    /// The spot's name.
    pub spot: String,
    /// Where the cone faces.
    pub aim: Aim,
    /// The box used.
    pub used: String,
    /// The vehicle's state.
    pub state: u8,
}

/// A spot with everything heard of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    /// What it is.
    pub name: SpotName,
    /// Where it lies on the plan, by the last trial that says so.
    pub place: Option<[u8; 2]>,
    /// How high it stands, by the last trial that says so.
    pub height: Option<u8>,
    /// Its trials that count, by their index in the log.
    pub trials: Vec<usize>,
    /// The takes at each seat.
    pub heard: Vec<Heard>,
}

impl Trial {
    /// The spot this trial belongs to.
    #[must_use]
    pub fn name(&self) -> SpotName {
        SpotName { spot: self.spot.clone(), aim: self.aim, used: self.used.clone(), state: self.state }
    }
}

/// Spots in the order they were first tried; trials left out do not count.
#[must_use]
pub fn spots(trials: &[Trial]) -> Vec<Spot> {
    let mut spots: Vec<Spot> = Vec::new();
    for (index, trial) in trials.iter().enumerate().filter(|(_, trial)| !trial.left_out) {
        let name = trial.name();
        let at = spots.iter().position(|spot| spot.name == name).unwrap_or_else(|| {
            spots.push(Spot { name, place: None, height: None, trials: Vec::new(), heard: Vec::new() });
            spots.len() - 1
        });
        if let Some(spot) = spots.get_mut(at) {
            spot.trials.push(index);
            spot.place = trial.place.or(spot.place);
            spot.height = trial.height.or(spot.height);
        }
    }
    for spot in &mut spots {
        spot.heard = heard(trials, &spot.trials);
    }
    spots
}

fn heard(trials: &[Trial], of_spot: &[usize]) -> Vec<Heard> {
    let at = |seat: u8| {
        let sets: Vec<Takes> = of_spot
            .iter()
            .filter_map(|index| trials.get(*index))
            .filter(|trial| trial.seat == seat)
            .map(Trial::takes)
            .collect();
        (!sets.is_empty()).then_some(Heard { seat, trials: sets })
    };
    (0..super::SEATS.len() as u8).filter_map(at).collect()
}

/// The frequencies the user wants to count.
#[must_use]
pub fn range_of(sheet: &Sheet) -> Range {
    let usual = Range::default();
    Range {
        low_hz: sheet.si(FieldId::TrialLow).unwrap_or(usual.low_hz),
        high_hz: sheet.si(FieldId::TrialHigh).unwrap_or(usual.high_hz),
    }
}

/// What the user wants to count beside the level; nothing, unless entered.
#[must_use]
pub fn weights_of(sheet: &Sheet) -> Weights {
    let weight = |id| sheet.si(id).unwrap_or(0.0);
    Weights { seats: weight(FieldId::WeightSeats), hole: weight(FieldId::WeightHole) }
}

/// The spots and the verdict on them.
///
/// # Errors
/// As [`judge`].
pub fn choose(trials: &[Trial], range: Range, weights: Weights) -> Result<(Vec<Spot>, Verdict), ModelError> {
    let spots = spots(trials);
    let heard: Vec<Vec<Heard>> = spots.iter().map(|spot| spot.heard.clone()).collect();
    let verdict = judge(&trial_frequencies(), &heard, range, weights)?;
    Ok((spots, verdict))
}

/// How far the first trial moved when it was repeated after another spot had been tried, dB.
#[must_use]
pub fn drifted(trials: &[Trial], range: Range) -> Option<f64> {
    let counting = || trials.iter().filter(|trial| !trial.left_out);
    let first = counting().next()?;
    let same = |trial: &Trial| trial.seat == first.seat && trial.name() == first.name();
    let between = counting().position(|trial| trial.name() != first.name())?;
    let again = counting().skip(between).filter(|trial| same(trial)).last()?;
    drift(&trial_frequencies(), &first.takes(), &again.takes(), range)
}
