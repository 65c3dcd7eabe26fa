//! The boxes' own responses at the points of a trial, for the step from the test box to the real one.
use crate::design::document::{Entry, Sheet};
use crate::design::limits::{FieldId, RecordKind};
use crate::design::report::{Part, Report, SoundReport};
use crate::model::acoustics::Limiter;
use crate::model::measurement::{Outlets, Range, interpolate, trial_frequencies};
use crate::units::Entered;

/// What of the enclosure a closed test box of its own takes over.
const KEPT: &[FieldId] = &[FieldId::DriverCount, FieldId::Leakage, FieldId::Absorption];

/// The level of a box in half space for one volt at the amplifier, at the points of a trial, dB.
///
/// # Errors
/// What stands in the way of the sound.
pub fn box_levels(report: &Report) -> Part<Vec<f64>> {
    report.sound.as_ref().map(|sound| levels(sound)).map_err(Clone::clone)
}

fn levels(sound: &SoundReport) -> Vec<f64> {
    let response = &sound.response;
    let per_volt = 20.0 * sound.drive.voltage.volts().max(1e-6).log10();
    let at =
        |hz: f64| interpolate(&response.frequencies_hz, &response.spl_db, hz).map(|level| level - per_volt);
    trial_frequencies().into_iter().map(|hz| at(hz).unwrap_or(f64::NAN)).collect()
}

/// The same driver, wiring and drive in a closed box of so much net volume.
#[must_use]
pub fn closed_test_box(sheet: &Sheet, volume: Entered) -> Sheet {
    let mut test = sheet.clone();
    test.take_record(RecordKind::Enclosure, &Sheet::default());
    for id in KEPT {
        if let Some(entry) = sheet.entry(*id) {
            // It fitted the same field before.
            let _ = test.set(*id, entry.clone());
        }
    }
    // No free space, so that the volume is taken as it stands and no box is cut to whole millimetres.
    [FieldId::SpaceWidth, FieldId::SpaceHeight, FieldId::SpaceDepth]
        .into_iter()
        .for_each(|id| test.clear(id));
    let _ = test.set(FieldId::BoxKind, Entry::Choice(0));
    let _ = test.set(FieldId::WantedNet, Entry::Number(volume));
    test
}

/// What a box has in hand over the trials.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InHand {
    /// Mean over the range, dB.
    pub mean_db: f64,
    /// The least, dB.
    pub least_db: f64,
    /// Where that is, Hz.
    pub hz: f64,
    /// What ends it there.
    pub limiter: Limiter,
}

/// How much louder than the trials the designed box can play at the seat, up to its limits.
///
/// `volts` drove the test box in the trials; `test_db` is that box's own level at the points of a trial. The greatest
/// voltage of the designed box at each frequency, over that, times the ratio of the boxes. `None` while no limit is
/// known.
#[must_use]
pub fn in_hand(report: &Report, test_db: &[f64], volts: f64, range: Range) -> Option<InHand> {
    let (Ok(sound), Ok(loud)) = (&report.sound, &report.loud) else { return None };
    let ceiling = &loud.ceiling.as_ref()?.curve;
    let own = levels(sound);
    let frequencies = &sound.response.frequencies_hz;
    let more: Vec<f64> = ceiling.voltage_v.iter().map(|v| 20.0 * (v / volts).max(1e-9).log10()).collect();
    let at = |(hz, (own, test)): (&f64, (&f64, &f64))| {
        let db = interpolate(frequencies, &more, *hz)? + own - test;
        db.is_finite().then_some((*hz, db))
    };
    let points = trial_frequencies();
    let counted = points.iter().zip(own.iter().zip(test_db));
    let counted: Vec<(f64, f64)> =
        counted.filter(|(hz, _)| (range.low_hz..=range.high_hz).contains(*hz)).filter_map(at).collect();
    let mean_db = counted.iter().map(|(_, db)| db).sum::<f64>() / counted.len().max(1) as f64;
    let (hz, least_db) =
        counted.into_iter().reduce(|least, next| if next.1 < least.1 { next } else { least })?;
    let near = frequencies.partition_point(|point| *point < hz);
    Some(InHand { mean_db, least_db, hz, limiter: *ceiling.limiter.get(near)? })
}

/// Whether the real box moves air at other places than the test box: another type, another count of drivers.
#[must_use]
pub fn outlets(test: &Sheet, real: &Sheet) -> Outlets {
    let same = [FieldId::BoxKind, FieldId::DriverCount].iter().all(|id| test.choice(*id) == real.choice(*id));
    if same { Outlets::Same } else { Outlets::Moved }
}
