//! The signal path before the amplifier: crossover slopes, a parametric band, a shelf.
//!
//! All are analogue prototypes, quotients of polynomials in p = jω/ωc, and act on a finished response: the system is
//! linear, so that level, travel, air speed and current all follow the same factor.

use super::Response;
use super::check::within;
use crate::model::error::ModelError;
use crate::units::Frequency;
use num_complex::Complex64;
use std::f64::consts::{FRAC_1_SQRT_2, TAU};

/// The family and steepness of a high-pass or low-pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slope {
    /// Butterworth, 12 dB per octave; 3.01 dB down at the corner.
    Butterworth12,
    /// Butterworth, 18 dB per octave.
    Butterworth18,
    /// Butterworth, 24 dB per octave.
    Butterworth24,
    /// Linkwitz-Riley, 12 dB per octave; 6.02 dB down at the corner.
    LinkwitzRiley12,
    /// Linkwitz-Riley, 24 dB per octave. There is none of 18: a Linkwitz-Riley is two equal Butterworths in a row.
    LinkwitzRiley24,
}

impl Slope {
    /// Q of each second-order section, and whether a first-order one comes on top.
    ///
    /// Butterworth: Q = 1/(2·cos θ) of the poles' angles θ; Linkwitz-Riley: two Butterworths of half the order.
    const fn sections(self) -> (&'static [f64], bool) {
        match self {
            Self::Butterworth12 => (&[FRAC_1_SQRT_2], false),
            Self::Butterworth18 => (&[1.0], true),
            Self::Butterworth24 => (&[0.541_196_100_146_197, 1.306_562_964_876_377], false),
            Self::LinkwitzRiley12 => (&[0.5], false),
            Self::LinkwitzRiley24 => (&[FRAC_1_SQRT_2, FRAC_1_SQRT_2], false),
        }
    }
}

/// One stage of the signal path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stage {
    /// Keeps what is above the corner.
    HighPass {
        /// Family and steepness.
        slope: Slope,
        /// Corner.
        corner: Frequency,
    },
    /// Keeps what is below the corner.
    LowPass {
        /// Family and steepness.
        slope: Slope,
        /// Corner.
        corner: Frequency,
    },
    /// One parametric band.
    Band {
        /// Its middle.
        centre: Frequency,
        /// Gain there, dB.
        gain_db: f64,
        /// Q: its bandwidth, between the points of half the gain in dB, is narrow for a large Q.
        q: f64,
    },
    /// A shelf that lifts or lowers what is below its corner, where it has half its gain in dB.
    LowShelf {
        /// Corner.
        corner: Frequency,
        /// Gain far below the corner, dB.
        gain_db: f64,
    },
}

/// Quotient of polynomials in p: numerator and denominator, each from p² down.
type Section = ([f64; 3], [f64; 3]);

impl Stage {
    /// Checks every value.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`].
    pub fn check(&self) -> Result<(), ModelError> {
        within("filter frequency in Hz", self.frequency().hertz(), 1.0, 1e5)?;
        match *self {
            Self::Band { gain_db, q, .. } => {
                within("band gain in dB", gain_db, -40.0, 40.0)?;
                within("band Q", q, 0.05, 50.0)?;
            }
            Self::LowShelf { gain_db, .. } => {
                within("shelf gain in dB", gain_db, -40.0, 40.0)?;
            }
            Self::HighPass { .. } | Self::LowPass { .. } => {}
        }
        Ok(())
    }

    const fn frequency(&self) -> Frequency {
        match *self {
            Self::HighPass { corner, .. } | Self::LowPass { corner, .. } | Self::LowShelf { corner, .. } => {
                corner
            }
            Self::Band { centre, .. } => centre,
        }
    }

    /// Transfer function and its derivative by ω at the angular frequency `omega` in rad/s, above zero.
    ///
    /// # Source
    /// Slopes: see [`Slope`]. Band and shelf: the analogue prototypes of the W3C note "Audio EQ Cookbook" (R. Bristow-
    /// Johnson), shelf with Q = 1/√2.
    #[must_use]
    pub fn at(&self, omega: f64) -> (Complex64, Complex64) {
        let unit = TAU * self.frequency().hertz();
        let p = Complex64::new(0.0, omega / unit);
        let step = Complex64::new(0.0, 1.0 / unit);
        let mut product = (Complex64::ONE, Complex64::ZERO);
        let mut times = |section: Section| product = multiplied(product, value(section, p, step));
        match *self {
            Self::HighPass { slope, .. } | Self::LowPass { slope, .. } => {
                let high = matches!(self, Self::HighPass { .. });
                let (qs, first) = slope.sections();
                for q in qs {
                    let top = if high { [1.0, 0.0, 0.0] } else { [0.0, 0.0, 1.0] };
                    times((top, [1.0, 1.0 / q, 1.0]));
                }
                if first {
                    let top = if high { [0.0, 1.0, 0.0] } else { [0.0, 0.0, 1.0] };
                    times((top, [0.0, 1.0, 1.0]));
                }
            }
            Self::Band { gain_db, q, .. } => {
                let a = 10f64.powf(gain_db / 40.0);
                times(([1.0, a / q, 1.0], [1.0, 1.0 / (a * q), 1.0]));
            }
            Self::LowShelf { gain_db, .. } => {
                let a = 10f64.powf(gain_db / 40.0);
                let middle = (2.0 * a).sqrt();
                times(([a, a * middle, a * a], [a, middle, 1.0]));
            }
        }
        product
    }
}

/// A section's value and derivative by ω; `step` is dp/dω.
fn value((top, bottom): Section, p: Complex64, step: Complex64) -> (Complex64, Complex64) {
    let polynomial = |[a, b, c]: [f64; 3]| ((p * a + b) * p + c, p * (2.0 * a) + b);
    let ((n, dn), (d, dd)) = (polynomial(top), polynomial(bottom));
    (n / d, (dn * d - n * dd) / (d * d) * step)
}

fn multiplied((a, da): (Complex64, Complex64), (b, db): (Complex64, Complex64)) -> (Complex64, Complex64) {
    (a * b, da * b + a * db)
}

/// Stages one after the other.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SignalPath {
    /// The stages; their order does not matter.
    pub stages: Vec<Stage>,
}

impl SignalPath {
    /// Checks every stage.
    ///
    /// # Errors
    /// Those of [`Stage::check`].
    pub fn check(&self) -> Result<(), ModelError> {
        self.stages.iter().try_for_each(Stage::check)
    }

    /// Transfer function and its derivative by ω at `omega` in rad/s.
    #[must_use]
    pub fn at(&self, omega: f64) -> (Complex64, Complex64) {
        let one = (Complex64::ONE, Complex64::ZERO);
        self.stages.iter().fold(one, |product, stage| multiplied(product, stage.at(omega)))
    }

    /// |H| in dB at each frequency.
    #[must_use]
    pub fn gain_db(&self, frequencies_hz: &[f64]) -> Vec<f64> {
        frequencies_hz.iter().map(|f| 20.0 * self.at(TAU * f).0.norm().max(1e-30).log10()).collect()
    }

    /// The response behind this path, `most` being the largest factor the amplifier follows at the response's drive.
    ///
    /// Where the path asks for more than `most`, the amplifier is taken to stay there: its voltage limit. What it adds
    /// in distortion is outside of the model.
    ///
    /// # Errors
    /// Those of [`SignalPath::check`], or [`ModelError::OutOfRange`] for a result that is no finite number.
    pub fn applied(&self, response: &Response, most: Option<f64>) -> Result<Response, ModelError> {
        self.check()?;
        let mut out = response.clone();
        for (i, f) in response.frequencies_hz.iter().enumerate() {
            let (h, dh) = self.at(TAU * f);
            let asked = h.norm();
            let size = most.map_or(asked, |most| asked.min(most));
            let factor = if asked > 0.0 { h * (size / asked) } else { h };
            super::check::finite("gain of the signal path", size)?;
            let delay = if asked > 0.0 { -(dh / h).im } else { 0.0 };
            out.scale(i, factor, delay);
        }
        Ok(out)
    }
}

impl Response {
    /// Multiplies what point `i` shows for one drive by a complex factor with its own group delay.
    fn scale(&mut self, i: usize, factor: Complex64, delay_s: f64) {
        let size = factor.norm();
        let set = |values: &mut Vec<f64>, f: &dyn Fn(f64) -> f64| {
            if let Some(value) = values.get_mut(i) {
                *value = f(*value);
            }
        };
        let turn = |flows: &mut Vec<Complex64>| {
            if let Some(flow) = flows.get_mut(i) {
                *flow *= factor;
            }
        };
        let degrees = factor.arg().to_degrees();
        set(&mut self.spl_db, &|level| level + 20.0 * size.max(1e-30).log10());
        set(&mut self.phase_deg, &|phase| 180.0 - (180.0 - phase - degrees).rem_euclid(360.0));
        set(&mut self.group_delay_s, &|delay| delay + delay_s);
        set(&mut self.excursion_peak_m, &|x| x * size);
        turn(&mut self.outside_flow_m3_s);
        turn(&mut self.cone_flow_m3_s);
        for duct in &mut self.ducts {
            set(&mut duct.velocity_peak_m_s, &|v| v * size);
            turn(&mut duct.flow_m3_s);
        }
        for radiator in &mut self.radiators {
            set(&mut radiator.excursion_peak_m, &|x| x * size);
            turn(&mut radiator.flow_m3_s);
        }
    }
}
