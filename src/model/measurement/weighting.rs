//! Frequency weightings of a sound level meter.

/// A weighting.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weighting {
    /// A: takes 50 dB off at 20 Hz.
    A,
    /// C: takes 6 dB off at 20 Hz.
    C,
    /// Z: nothing taken off.
    Z,
}

/// Pole frequencies, Hz.
const F1: f64 = 20.60;
const F2: f64 = 107.7;
const F3: f64 = 737.9;
const F4: f64 = 12_194.0;

impl Weighting {
    /// What the weighting adds to a tone, dB; zero for a frequency that is not positive.
    ///
    /// # Source
    /// IEC 61672-1:2013, annex E, equations E.1 and E.6.
    #[must_use]
    pub fn gain_db(self, hz: f64) -> f64 {
        if !(hz.is_finite() && hz > 0.0) {
            return 0.0;
        }
        let f2 = hz * hz;
        let pole = |corner: f64| f2 + corner * corner;
        match self {
            Self::Z => 0.0,
            Self::C => 20.0 * (F4 * F4 * f2 / (pole(F1) * pole(F4))).log10() + 0.062,
            Self::A => {
                let below = pole(F1) * (pole(F2) * pole(F3)).sqrt() * pole(F4);
                20.0 * (F4 * F4 * f2 * f2 / below).log10() + 2.000
            }
        }
    }
    /// A weighted reading of a tone without its weighting, dB.
    #[must_use]
    pub fn taken_off(self, reading_db: f64, hz: f64) -> f64 {
        reading_db - self.gain_db(hz)
    }
    /// Whether readings of bass under this weighting are worth comparing: A leaves a 20 Hz tone 44 dB further under
    /// the noise than C does.
    #[must_use]
    pub fn fits_bass(self) -> bool {
        self != Self::A
    }
}
