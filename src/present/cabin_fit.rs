//! The cabin fitted to trials, in words and as a chart.
use super::chart::{Chart, Line};
use super::format::fixed;
use super::trials::chart;
use crate::design::trials::CABIN_RANGE;
use crate::model::acoustics::Cabin;
use crate::model::measurement::{CabinFit, trial_frequencies};
use crate::units::Frequency;
use crate::words::cabin_fit as words;

/// Corner, leak, and what is left, as sentences.
#[must_use]
pub fn sentence(fit: &CabinFit) -> String {
    let one = |hz: f64| fixed(hz, 1);
    let corner = words::corner(&one(fit.corner.hz), &one(fit.corner.low_hz), &one(fit.corner.high_hz));
    let leak = match fit.leak {
        Some(leak) => words::leak(&one(leak.hz), &one(leak.low_hz), &one(leak.high_hz)),
        None => words::NO_LEAK.into(),
    };
    [corner, leak, words::left(&fixed(fit.left_db, 1))].join(" ")
}

/// Measured level, and the box's own response times the cabin fitted and the one entered, on the same axes.
#[must_use]
pub fn compared(fit: &CabinFit, measured: &[f64], box_db: &[f64], entered: Option<&Cabin>) -> Chart {
    let points = trial_frequencies();
    let in_cabin = |cabin: &Cabin| -> Vec<f64> {
        let pairs = points.iter().zip(box_db);
        pairs.map(|(hz, own)| own + cabin.gain_db(Frequency::from_hertz(*hz))).collect()
    };
    // The level is the microphone's: each prediction is laid over the measurement by its mean.
    let laid = |levels: Vec<f64>| {
        let apart = points.iter().zip(measured.iter().zip(&levels));
        let apart: Vec<f64> = apart
            .filter(|(hz, _)| (CABIN_RANGE.low_hz..=CABIN_RANGE.high_hz).contains(*hz))
            .map(|(_, (here, there))| here - there)
            .filter(|apart| apart.is_finite())
            .collect();
        let mean = apart.iter().sum::<f64>() / apart.len().max(1) as f64;
        levels.into_iter().map(|level| level + mean).collect::<Vec<f64>>()
    };
    let mut curves = vec![
        (words::MEASURED.to_owned(), measured.to_vec(), Line::Full),
        (words::FITTED.to_owned(), laid(in_cabin(&fit.cabin)), Line::Dashed),
    ];
    curves.extend(entered.map(|cabin| (words::ENTERED.to_owned(), laid(in_cabin(cabin)), Line::Chain)));
    chart("cabin", words::CHART, curves)
}
