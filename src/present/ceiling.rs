//! What gives first, in words: the one sentence, the stretches, heat and floor.
use super::bench::Row;
use super::figures::hertz;
use super::format::{fixed, si};
use crate::design::report::{LoudReport, SoundReport};
use crate::model::acoustics::{Enclosure, Limiter, TravelLeft};
use crate::units::{Frequency, Length, Quantity, UnitPrefs};
use crate::words::acoustics as words;

/// The name of a limit.
#[must_use]
pub const fn limiter_name(limiter: Limiter) -> &'static str {
    match limiter {
        Limiter::Cone => words::CONE,
        Limiter::Radiator => words::RADIATOR_LIMIT,
        Limiter::Port => words::PORT,
        Limiter::Coil => words::COIL,
        Limiter::Voltage => words::VOLTAGE,
        Limiter::Current => words::AMPLIFIER_CURRENT,
    }
}

const fn first(limiter: Limiter) -> &'static str {
    match limiter {
        Limiter::Cone => words::CONE_FIRST,
        Limiter::Radiator => words::RADIATOR_FIRST,
        Limiter::Port => words::PORT_FIRST,
        Limiter::Coil => words::COIL_FIRST,
        Limiter::Voltage => words::VOLTAGE_FIRST,
        Limiter::Current => words::CURRENT_FIRST,
    }
}

/// What gives first at the bottom, and what helps: one sentence.
#[must_use]
#[inline(never)] // the first picture does without it
pub fn sentence(loud: &LoudReport) -> String {
    let Some(ceiling) = &loud.ceiling else { return words::CEILING_UNKNOWN.into() };
    let Some((_, to, limiter)) = ceiling.segments.first() else { return words::CEILING_UNKNOWN.into() };
    let sentence = if ceiling.segments.len() == 1 {
        words::throughout(first(*limiter))
    } else {
        words::first(&hertz(to.hertz()), first(*limiter))
    };
    if *limiter != Limiter::Cone {
        return format!("{sentence}.");
    }
    match (&ceiling.filters, ceiling.high_pass) {
        (Some(left), _) => with_filters(&sentence, left),
        (None, Some(corner)) => words::add_high_pass(&sentence, &hertz(corner.hertz())),
        (None, None) => format!("{sentence}."),
    }
}

/// What the filters entered do about it, and what remains to be done.
fn with_filters(sentence: &str, left: &TravelLeft) -> String {
    let text = |at: Frequency| hertz(at.hertz());
    match (left.corner, left.over, left.enough) {
        (Some(corner), None, _) => words::high_pass_holds(sentence, &text(corner)),
        (None, None, _) => words::filters_hold(sentence),
        (Some(corner), Some((low, high)), Some(enough)) => {
            words::raise_high_pass(sentence, &text(corner), (&text(low), &text(high)), &text(enough))
        }
        (Some(corner), Some((low, high)), None) => {
            words::high_pass_fails(sentence, &text(corner), (&text(low), &text(high)))
        }
        (None, Some(_), Some(enough)) => words::add_high_pass(sentence, &text(enough)),
        (None, Some(_), None) => format!("{sentence}."),
    }
}

/// The stretches of the ceiling, from low to high.
#[must_use]
pub fn stretches(loud: &LoudReport) -> Vec<Row> {
    let segments = loud.ceiling.iter().flat_map(|ceiling| &ceiling.segments);
    segments
        .map(|(from, to, limiter)| {
            let mut stretch = words::from_to(&hertz(from.hertz()), &hertz(to.hertz()));
            if *limiter == Limiter::Voltage
                && let Some(volts) = full_voltage(loud)
            {
                stretch = words::at_volts(&stretch, &fixed(volts, 1));
            }
            (limiter_name(*limiter), stretch, "")
        })
        .collect()
}

/// The voltage of the amplifier, where it limits: less than the drive asks for where the supply or the feed gives less.
fn full_voltage(loud: &LoudReport) -> Option<f64> {
    let curve = &loud.ceiling.as_ref()?.curve;
    let limited = curve.limiter.iter().position(|limiter| *limiter == Limiter::Voltage)?;
    curve.voltage_v.get(limited).copied()
}

/// The coil's heat: known figures, and what holds without them.
#[must_use]
pub fn heat(loud: &LoudReport) -> Vec<Row> {
    let heat = &loud.heat;
    let mut rows = Vec::new();
    if let (Some(kelvin), Some(lost)) = (heat.warming_k, heat.compression_db) {
        rows.push((words::WARMING, fixed(kelvin, 0), "K"));
        rows.push((words::COMPRESSION, fixed(lost, 1), "dB"));
    }
    rows.push((words::COMPRESSION_100, fixed(heat.compression_at_100_k_db, 1), "dB"));
    rows.extend(heat.time_s.map(|time| (words::HEAT_TIME, fixed(time, 0), "s")));
    rows
}

/// Sag, gap and shift of a driver that fires down; nothing of others.
#[must_use]
pub fn floor(sound: &SoundReport, prefs: &UnitPrefs) -> Vec<Row> {
    let Some(floor) = &sound.floor else { return Vec::new() };
    let length = |length: Length| si(length.metres(), Quantity::Length, prefs);
    let least = length(floor.least);
    let shift =
        |(from, to): &(Frequency, Frequency)| words::shift(&fixed(from.hertz(), 1), &fixed(to.hertz(), 1));
    let mut rows = vec![
        (words::SAG, fixed(floor.sag.millimetres(), 1), "mm"),
        (words::GAP_LEAST, least.number, least.unit),
        (words::GAP_MASS, fixed(floor.added.grams(), 0), "g"),
        (words::GAP_SHIFT, shift(&floor.fs), "Hz"),
    ];
    let vented = matches!(
        sound.built.enclosure,
        Enclosure::Vented { .. } | Enclosure::PassiveRadiator { .. } | Enclosure::Bandpass6Parallel { .. }
    );
    let name = if vented { words::GAP_PEAKS_TUNED } else { words::GAP_PEAKS };
    let peaks: Vec<String> = floor.peaks.iter().map(shift).collect();
    if !peaks.is_empty() {
        rows.push((name, peaks.join(", "), "Hz"));
    }
    rows
}
