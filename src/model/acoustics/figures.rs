//! The few numbers one reads off the curves.

use super::solve::REFERENCE_PA;
use super::{Drive, Network, Response};
use crate::model::error::ModelError;
use crate::units::{Frequency, Length, Resistance};
use std::f64::consts::TAU;

/// A largest or smallest value and where it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extreme<T> {
    /// The value.
    pub value: T,
    /// Its frequency.
    pub at: Frequency,
}

/// Key figures of one response.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Level of the mass-controlled band, to which f3 and f10 refer, dB re 20 µPa.
    pub reference_level_db: f64,
    /// Highest level.
    pub loudest_db: Extreme<f64>,
    /// The half-power point, 3.01 dB below the reference, if it lies within the response.
    pub f3: Option<Frequency>,
    /// Where the level falls 10 dB below the reference, if it does within the response.
    pub f10: Option<Frequency>,
    /// Largest peak excursion of a cone.
    pub excursion: Extreme<Length>,
    /// Largest peak air velocity in m/s in each duct group, in the network's order.
    pub duct_velocities_m_s: Vec<Extreme<f64>>,
    /// Largest peak excursion in each passive radiator group, in the network's order.
    pub radiator_excursions: Vec<Extreme<Length>>,
    /// Smallest |Z| of the whole response.
    pub impedance_minimum: Extreme<Resistance>,
    /// Smallest |Z| above the highest peak of |Z|; the load an amplifier sees in the pass band.
    pub impedance_minimum_above_peaks: Extreme<Resistance>,
    /// Local maxima of |Z| inside the response, from low to high frequency.
    pub impedance_peaks: Vec<Extreme<Resistance>>,
}

/// The key figures of a response of `network` to `drive`.
///
/// Extremes between two frequencies are found by a parabola over log f, crossings by a straight line over log f.
/// Extremes at the ends of the response are the values there.
///
/// # Errors
/// [`ModelError::Impossible`] unless the response has ascending frequencies and the ducts and radiators of `network`;
/// [`ModelError::Missing`] for an empty one. Otherwise those of [`Network::check`] and [`Drive::check`].
pub fn figures(
    network: &Network,
    drive: impl Into<Drive>,
    response: &Response,
) -> Result<Figures, ModelError> {
    let drive = drive.into();
    let reference_level_db = reference_level_db(network, drive)?;
    let f = &response.frequencies_hz;
    if !f.windows(2).all(|pair| matches!(pair, [a, b] if a < b)) {
        return Err(ModelError::Impossible { what: "The frequencies of the response don't ascend" });
    }
    let magnitude = response.impedance_magnitude_ohm();
    let opposite: Vec<f64> = magnitude.iter().map(|z| -z).collect();
    let peaks = peaks(f, &magnitude);
    let last_peak = peaks.last().map_or(0.0, |peak| peak.at.hertz());
    let above = f.partition_point(|&x| x < last_peak);
    let minimum_from = |start: usize| {
        let (f, z) = (f.get(start..)?, opposite.get(start..)?);
        largest(f, z).map(|found| found.map(|z| Resistance::from_ohms(-z)))
    };
    let minimum = minimum_from(0).ok_or(EMPTY)?;
    Ok(Figures {
        reference_level_db,
        loudest_db: largest(f, &response.spl_db).ok_or(EMPTY)?,
        f3: lower_crossing(response, reference_level_db - 10.0 * 2f64.log10()),
        f10: lower_crossing(response, reference_level_db - 10.0),
        excursion: largest(f, &response.excursion_peak_m).ok_or(EMPTY)?.map(Length::from_metres),
        duct_velocities_m_s: response
            .ducts
            .iter()
            .map(|duct| largest(f, &duct.velocity_peak_m_s).ok_or(EMPTY))
            .collect::<Result<_, _>>()?,
        radiator_excursions: response
            .radiators
            .iter()
            .map(|r| Ok(largest(f, &r.excursion_peak_m).ok_or(EMPTY)?.map(Length::from_metres)))
            .collect::<Result<_, ModelError>>()?,
        impedance_minimum: minimum,
        impedance_minimum_above_peaks: minimum_from(above).unwrap_or(minimum),
        impedance_peaks: peaks.into_iter().map(|peak| peak.map(Resistance::from_ohms)).collect(),
    })
}

const EMPTY: ModelError = ModelError::Missing { what: "A response with at least one frequency" };

/// Level in the mass-controlled band, where neither the suspension, the box nor the coil's inductance counts.
///
/// All drivers together, with the source resistance: p = ρ·N·Sd·Bl·i/(2π·r·Mms), i the current through Re alone.
///
/// # Errors
/// Those of [`Network::check`] and [`Drive::check`]; [`ModelError::OutOfRange`] for a drive of 0 V, which has no level.
pub fn reference_level_db(network: &Network, drive: impl Into<Drive>) -> Result<f64, ModelError> {
    let drive = drive.into();
    drive.check()?;
    network.check()?;
    if let Some(tree) = &network.unequal {
        return super::unequal::reference_level(network, tree, &drive);
    }
    let driver = &network.load.driver;
    let wiring = &network.load.wiring;
    let volts = drive.voltage.volts() / wiring.series_factor;
    let source = drive.source_resistance.ohms() * wiring.parallel / wiring.series_factor;
    let current = volts / (driver.re.ohms() + source);
    let acceleration = driver.bl.tesla_metres() * current / driver.mms.kilograms();
    let area = driver.sd.square_metres() * wiring.drivers as f64;
    let pressure = network.air.density_kg_m3() * area * acceleration / (TAU * drive.distance.metres());
    super::check::within("drive voltage in V", drive.voltage.volts(), 1e-9, 1e4)?;
    super::check::finite("reference level in dB", 20.0 * (pressure / REFERENCE_PA).log10())
}

/// The highest frequency below the loudest one at which the level falls through `level_db`, if there is one.
///
/// Walks down from the loudest frequency of the response, so that neither the coil's inductance nor the upper edge of
/// a band-pass is taken for the lower limit.
#[must_use]
pub fn lower_crossing(response: &Response, level_db: f64) -> Option<Frequency> {
    let points: Vec<(f64, f64)> =
        response.frequencies_hz.iter().zip(&response.spl_db).map(|(&f, &level)| (f, level)).collect();
    let loudest = points.iter().enumerate().max_by(|a, b| a.1.1.total_cmp(&b.1.1))?.0;
    let (mut above_f, mut above) = *points.get(loudest)?;
    if above < level_db {
        return None;
    }
    for &(f, level) in points.get(..loudest)?.iter().rev() {
        if level < level_db {
            let share = (above - level_db) / (above - level);
            return Some(Frequency::from_hertz(above_f * (f / above_f).powf(share)));
        }
        (above_f, above) = (f, level);
    }
    None
}

impl<T> Extreme<T> {
    fn map<U>(self, f: impl FnOnce(T) -> U) -> Extreme<U> {
        Extreme { value: f(self.value), at: self.at }
    }
}

/// The largest value, or `None` of nothing.
fn largest(f: &[f64], values: &[f64]) -> Option<Extreme<f64>> {
    let index = values.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1))?.0;
    refined(f, values, index)
}

/// Every local maximum that is not at an end.
fn peaks(f: &[f64], values: &[f64]) -> Vec<Extreme<f64>> {
    values
        .windows(3)
        .enumerate()
        .filter(|(_, w)| matches!(w, [a, b, c] if a < b && b >= c))
        .filter_map(|(i, _)| refined(f, values, i + 1))
        .collect()
}

/// The top of the parabola over log f through a largest value and its neighbours; at an end the value itself.
fn refined(f: &[f64], values: &[f64], index: usize) -> Option<Extreme<f64>> {
    let at = |i: usize| Some((f.get(i)?.ln(), *values.get(i)?));
    let (x, y) = at(index)?;
    let plain = Extreme { value: y, at: Frequency::from_hertz(*f.get(index)?) };
    let (Some((x0, y0)), Some((x2, y2))) = (index.checked_sub(1).and_then(at), at(index + 1)) else {
        return Some(plain);
    };
    // Newton's form about the middle point: y + slope·d + bend·d².
    let (left, right) = ((y - y0) / (x - x0), (y2 - y) / (x2 - x));
    let bend = (right - left) / (x2 - x0);
    let slope = left + bend * (x - x0);
    let shift = -slope / (2.0 * bend);
    if bend < 0.0 && shift > x0 - x && shift < x2 - x {
        Some(Extreme { value: y + 0.5 * slope * shift, at: Frequency::from_hertz((x + shift).exp()) })
    } else {
        Some(plain)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A parabola over log f, chosen with its top between two points, comes back.
    #[test]
    fn a_top_between_points_is_found() {
        let f = crate::model::numeric::log_grid(10.0, 500.0, 50);
        let values: Vec<f64> = f.iter().map(|f| 7.0 - (f / 61.7).ln().powi(2)).collect();
        let top = largest(&f, &values).unwrap();
        assert!((top.at.hertz() - 61.7).abs() < 1e-9, "{top:?}");
        assert!((top.value - 7.0).abs() < 1e-12, "{top:?}");
        assert_eq!(peaks(&f, &values).len(), 1);
    }

    /// 24 dB an octave below 40 Hz, falling above 100 Hz: the lower edge is where the straight line says.
    #[test]
    fn the_lower_edge_is_found_below_the_loudest_point() {
        let f = crate::model::numeric::log_grid(10.0, 500.0, 200);
        let response = Response {
            spl_db: f
                .iter()
                .map(|f| 90.0 + 24.0 * (f / 40.0).log2().min(0.0) - 6.0 * (f / 100.0).log2().max(0.0))
                .collect(),
            frequencies_hz: f,
            ..Response::default()
        };
        let f12 = lower_crossing(&response, 78.0).unwrap().hertz();
        assert!((f12 - 40.0 / 2f64.sqrt()).abs() < 1e-9, "{f12}");
        assert_eq!(lower_crossing(&response, 91.0), None);
        assert_eq!(lower_crossing(&response, 20.0), None);
    }
}
