//! Plain questions backwards: the volume for a wanted Qtc, the length of a port for a wanted tuning, and what would do
//! where that port is too long to fit.

use super::brief::Tube;
use crate::model::acoustics::{Air, Load, Port, closed_box_volume};
use crate::model::error::ModelError;
use crate::units::{Frequency, Length, Volume};

/// What to do for a wanted Qtc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum QtcAnswer {
    /// This net volume.
    Volume(Volume),
    /// This net volume, but the space holds less: then this Qtc is what the space gives.
    TooLarge {
        /// What would be needed.
        needed: Volume,
        /// Qtc in the largest box.
        qtc: f64,
    },
    /// No closed box is so slack: the driver's own Qts, this one, is not below it.
    NotBelow(f64),
}

/// The net volume in which a closed box has the wanted Qtc; `largest` is what the space holds.
///
/// # Errors
/// Those of [`closed_box_volume`].
///
/// # Source
/// Small, JAES 20 (1972) 798: Qtc/Qts = √(1 + Vas/Vb).
pub fn volume_for_qtc(load: &Load, qtc: f64, largest: Volume, air: &Air) -> Result<QtcAnswer, ModelError> {
    let Some(needed) = closed_box_volume(load, qtc, air)? else {
        return Ok(QtcAnswer::NotBelow(load.driver.small_signal(air)?.qts()));
    };
    if needed.cubic_metres() <= largest.cubic_metres() {
        return Ok(QtcAnswer::Volume(needed));
    }
    let qtc = crate::model::acoustics::closed_box_q(load, largest, air)?;
    Ok(QtcAnswer::TooLarge { needed, qtc })
}

/// What to do for a wanted tuning.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PortAnswer {
    /// This length.
    Length(Length),
    /// This length, but only so much goes in; then these are what would do.
    TooLong(TooLong),
    /// Even a hole in the front tunes lower: this is what it gives.
    NotSoHigh(Frequency),
}

/// A port that does not go in, and what would.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TooLong {
    /// Length the tuning needs.
    pub needed: Length,
    /// Tuning of the longest that goes in, in the same volume.
    pub tuning: Frequency,
    /// Net volume in which the longest gives the wanted tuning.
    pub volume: Volume,
    /// Area of all openings with which the longest gives the wanted tuning, as a share of the present area; the air in
    /// them is faster by as much.
    pub area_share: f64,
    /// The widest of the pipes at hand that reaches the tuning within the length that goes in.
    pub tube: Option<(Tube, Length)>,
}

/// The length of a port for a wanted tuning of `volume`; no more than `longest` and no less than `shortest` goes in.
///
/// `port` gives everything but the length; `tubes` are pipes to fall back on.
///
/// # Errors
/// Those of [`Port::length_for_tuning`], or [`ModelError::Impossible`] if the longest is shorter than the shortest.
pub fn port_for_tuning(
    port: &Port,
    fb: Frequency,
    volume: Volume,
    [shortest, longest]: [Length; 2],
    tubes: &[Tube],
    air: &Air,
) -> Result<PortAnswer, ModelError> {
    if longest.metres() < shortest.metres() {
        return Err(ModelError::Impossible { what: "No port goes in: the front is thicker than the room" });
    }
    let of = |length: Length| Port { length, ..*port };
    let needed = port.length_for_tuning(fb, volume, air)?.unwrap_or_default();
    if needed.metres() < shortest.metres() {
        return Ok(PortAnswer::NotSoHigh(of(shortest).tuning(volume, air)?));
    }
    if needed.metres() <= longest.metres() {
        return Ok(PortAnswer::Length(needed));
    }
    let tuning = of(longest).tuning(volume, air)?;
    // fb² ∝ S/(V·Leff): at the same length the volume follows the square of the tuning.
    let larger = volume * (tuning.hertz() / fb.hertz()).powi(2);
    let mut best: Option<(Tube, Length)> = None;
    for tube in tubes {
        let other = of_tube(port, tube);
        let Some(length) = other.length_for_tuning(fb, volume, air)? else { continue };
        let fits = (shortest.metres()..=longest.metres()).contains(&length.metres());
        if fits && best.is_none_or(|(best, _)| area(tube) > area(&best)) {
            best = Some((*tube, length));
        }
    }
    Ok(PortAnswer::TooLong(TooLong {
        needed,
        tuning,
        volume: larger,
        area_share: area_share(port, fb, volume, longest, air)?,
        tube: best,
    }))
}

fn area(tube: &Tube) -> f64 {
    f64::from(tube.count) * tube.inside.metres().powi(2)
}

fn of_tube(port: &Port, tube: &Tube) -> Port {
    use crate::model::acoustics::{End, Opening};
    Port {
        opening: Opening::Round { diameter: tube.inside },
        inner: End::Free,
        outer: End::Flanged,
        count: tube.count,
        ..*port
    }
}

/// The share of the port's area at which `length` gives the tuning, each opening shrunk alike in both directions.
fn area_share(
    port: &Port,
    fb: Frequency,
    volume: Volume,
    length: Length,
    air: &Air,
) -> Result<f64, ModelError> {
    // Leff = length + e·s and S = S0·s² with s the scale of the opening: K·S0·s² = length + e·s, K = (c/ω)²/V.
    let ends = port.end_corrections()?.metres();
    let area = port.opening.area().square_metres() * f64::from(port.count);
    let per_area =
        (air.speed_of_sound_m_s() / (std::f64::consts::TAU * fb.hertz())).powi(2) / volume.cubic_metres();
    let a = per_area * area;
    let scale = (ends + (ends * ends + 4.0 * a * length.metres()).sqrt()) / (2.0 * a);
    crate::model::acoustics::check::finite("share of the port's area", scale * scale)
}
