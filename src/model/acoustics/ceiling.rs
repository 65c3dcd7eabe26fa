//! The greatest level at each frequency, and what limits it there.

use super::filter::{SignalPath, Slope, Stage};
use super::intake::Intake;
use super::{Drive, Load, Response};
use crate::model::error::ModelError;
use crate::units::{Frequency, Length, Power, Voltage};

/// What ends the rise of the level.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limiter {
    /// The cone's travel.
    Cone,
    /// The passive radiators' travel.
    Radiator,
    /// The speed of the air in a port.
    Port,
    /// The heat in the coils.
    Coil,
    /// The voltage the amplifier gives.
    Voltage,
    /// The current the amplifier gives.
    Current,
}

/// What the parts stand; `None` is unknown and does not limit.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    /// Peak travel of a cone, one way.
    pub cone: Option<Length>,
    /// Peak travel of a passive radiator, one way.
    pub radiator: Option<Length>,
    /// Peak air speed in a port, m/s.
    pub port_m_s: Option<f64>,
    /// Power that heats all coils together.
    pub coil: Option<Power>,
    /// Rms voltage at the amplifier.
    pub voltage: Option<Voltage>,
    /// Rms current of the amplifier, A.
    pub current_a: Option<f64>,
}

/// The ceiling: one entry for each frequency of the response it was made from.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ceiling {
    /// Greatest level, dB re 20 µPa rms.
    pub level_db: Vec<f64>,
    /// What limits it.
    pub limiter: Vec<Limiter>,
    /// Voltage of the source there, rms V.
    pub voltage_v: Vec<f64>,
}

/// The ceiling of a response to `drive`, with nothing in the signal path; `None` where nothing is known to limit.
///
/// Each limit is a sine's at that frequency alone; the coils are cold.
#[must_use]
pub fn ceiling(load: &Load, drive: &Drive, response: &Response, limits: &Limits) -> Option<Ceiling> {
    let intake = Intake::of(drive, response);
    let heating = load.dc_resistance().ohms();
    let mut out = Ceiling::default();
    for i in 0..response.frequencies_hz.len() {
        let mut least: Option<(f64, Limiter)> = None;
        let mut offer = |limit: Option<f64>, value: Option<f64>, limiter| {
            if let (Some(limit), Some(value)) = (limit, value)
                && value > 0.0
                && least.is_none_or(|(factor, _)| limit / value < factor)
            {
                least = Some((limit / value, limiter));
            }
        };
        let current = intake.current_a.get(i).copied();
        offer(limits.cone.map(Length::metres), response.excursion_peak_m.get(i).copied(), Limiter::Cone);
        for radiator in &response.radiators {
            let travel = radiator.excursion_peak_m.get(i).copied();
            offer(limits.radiator.map(Length::metres), travel, Limiter::Radiator);
        }
        for duct in &response.ducts {
            offer(limits.port_m_s, duct.velocity_peak_m_s.get(i).copied(), Limiter::Port);
        }
        offer(limits.coil.map(|power| (power.watts() / heating).sqrt()), current, Limiter::Coil);
        offer(limits.voltage.map(Voltage::volts), Some(drive.voltage.volts()), Limiter::Voltage);
        offer(limits.current_a, current, Limiter::Current);
        let (factor, limiter) = least?;
        out.level_db.push(response.spl_db.get(i)? + 20.0 * factor.max(1e-30).log10());
        out.limiter.push(limiter);
        out.voltage_v.push(drive.voltage.volts() * factor);
    }
    (!out.level_db.is_empty()).then_some(out)
}

/// The lowest corner, to 1 %, from which a high-pass keeps the cone within `limit` at the response's drive.
///
/// `None` if the cone stays within without one, or if no corner up to `highest` does it.
///
/// # Errors
/// Those of [`Stage::check`].
pub fn high_pass_for(
    response: &Response,
    limit: Length,
    slope: Slope,
    highest: Frequency,
) -> Result<Option<Frequency>, ModelError> {
    // A high-pass lifts nothing: where the cone stays within its travel without one, it does with one.
    let over: Vec<(f64, f64)> = response
        .frequencies_hz
        .iter()
        .zip(&response.excursion_peak_m)
        .filter_map(|(f, x)| {
            let most = limit.metres() * 1.001 / x;
            (most < 1.0).then_some((std::f64::consts::TAU * f, most * most))
        })
        .collect();
    if over.is_empty() {
        return Ok(None);
    }
    let keeps = |corner: f64| {
        let stage = Stage::HighPass { slope, corner: Frequency::from_hertz(corner) };
        stage.check().map(|()| over.iter().all(|(omega, most)| stage.at(*omega).0.norm_sqr() <= *most))
    };
    // A higher corner lets less through everywhere, so that halving the ratio finds the lowest that does.
    let (mut low, mut high) = (1.0, highest.hertz());
    if !keeps(high)? {
        return Ok(None);
    }
    while high / low > 1.01 {
        let middle = f64::sqrt(low * high);
        if keeps(middle)? { high = middle } else { low = middle }
    }
    Ok(Some(Frequency::from_hertz(high)))
}

/// What a signal path leaves of the cone's travel at the response's drive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TravelLeft {
    /// Corner of its high-pass, if it has one.
    pub corner: Option<Frequency>,
    /// Lowest and highest frequency at which the cone still goes too far; `None` where it never does.
    pub over: Option<(Frequency, Frequency)>,
    /// The lowest corner that is enough: of its high-pass at its own slope, or of one of 24 dB per octave where it has
    /// none; `None` where nothing is lacking or no corner helps.
    pub enough: Option<Frequency>,
}

/// Whether a signal path keeps the cone within `limit`, and the high-pass that would.
///
/// The drive is the most the amplifier gives, so what lifts lifts nothing.
///
/// # Errors
/// Those of [`high_pass_for`].
#[inline(never)]
pub fn travel_left(
    response: &Response,
    path: &SignalPath,
    limit: Length,
    highest: Frequency,
) -> Result<TravelLeft, ModelError> {
    let through = |path: &SignalPath| -> Vec<f64> {
        let both = response.frequencies_hz.iter().zip(&response.excursion_peak_m);
        both.map(|(f, x)| x * path.at(std::f64::consts::TAU * f).0.norm().min(1.0)).collect()
    };
    let mut corner = None;
    let mut slope = Slope::Butterworth24;
    let mut others = Vec::new();
    for stage in &path.stages {
        match *stage {
            Stage::HighPass { slope: own, corner: at } => (slope, corner) = (own, Some(at)),
            other => others.push(other),
        }
    }
    let too_far = through(path);
    let too_far: Vec<f64> = response
        .frequencies_hz
        .iter()
        .zip(&too_far)
        .filter_map(|(f, x)| (*x > limit.metres() * 1.001).then_some(*f))
        .collect();
    let over = too_far.first().zip(too_far.last());
    let over = over.map(|(low, high)| (Frequency::from_hertz(*low), Frequency::from_hertz(*high)));
    let enough = match over {
        None => None,
        Some(_) => {
            let excursion_peak_m = through(&SignalPath { stages: others });
            let rest = Response { excursion_peak_m, ..response.clone() };
            high_pass_for(&rest, limit, slope, highest)?
        }
    };
    Ok(TravelLeft { corner, over, enough })
}
