//! Lengths that are cut: integers of one eighth of a micrometre.

use super::Length;

/// A length as an integer count of 1/8 µm, in which 0.01 mm (80) and 1/64 in (3175) are both exact.
///
/// Equal sizes are therefore equal, whichever unit they were typed in, and can be grouped.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ExactLength(i64);

/// Counts per millimetre.
const PER_MILLIMETRE: i64 = 8_000;
/// Counts per inch (25.4 mm exactly).
const PER_INCH: i64 = 203_200;

impl ExactLength {
    /// Nothing.
    pub const ZERO: Self = Self(0);

    /// From counts of 1/8 µm.
    #[must_use]
    pub const fn from_eighth_micrometres(count: i64) -> Self {
        Self(count)
    }
    /// In counts of 1/8 µm.
    #[must_use]
    pub const fn eighth_micrometres(self) -> i64 {
        self.0
    }
    /// From whole hundredths of a millimetre; exact.
    #[must_use]
    pub const fn from_hundredths_mm(hundredths: i64) -> Self {
        Self(hundredths * (PER_MILLIMETRE / 100))
    }
    /// From whole sixty-fourths of an inch; exact.
    #[must_use]
    pub const fn from_sixty_fourths_inch(sixty_fourths: i64) -> Self {
        Self(sixty_fourths * (PER_INCH / 64))
    }
    /// The nearest exact length to a number of millimetres; a value that is not finite gives zero.
    #[must_use]
    pub fn from_millimetres(mm: f64) -> Self {
        // `as` saturates, so a silly length stays a length.
        Self((mm * PER_MILLIMETRE as f64).round().clamp(-1e15, 1e15) as i64)
    }
    /// In millimetres.
    #[must_use]
    pub fn millimetres(self) -> f64 {
        self.0 as f64 / PER_MILLIMETRE as f64
    }
    /// In inches.
    #[must_use]
    pub fn inches(self) -> f64 {
        self.0 as f64 / PER_INCH as f64
    }
    /// In metres.
    #[must_use]
    pub fn metres(self) -> f64 {
        self.millimetres() * 1e-3
    }
    /// As a physical quantity.
    #[must_use]
    pub fn to_length(self) -> Length {
        Length::from_metres(self.metres())
    }
    /// Rounded to the nearest multiple of `step`; half a step goes up. A step of zero changes nothing.
    #[must_use]
    pub fn rounded_to(self, step: Self) -> Self {
        if step.0 <= 0 {
            return self;
        }
        Self(self.0.saturating_add(step.0 / 2).div_euclid(step.0).saturating_mul(step.0))
    }
    /// Half of it; of an odd count of 1/8 µm the part towards zero.
    #[must_use]
    pub const fn halved(self) -> Self {
        Self::from_eighth_micrometres(self.eighth_micrometres() / 2)
    }
    /// Rounded down to a multiple of `step`. A step of zero changes nothing.
    #[must_use]
    pub fn rounded_down_to(self, step: Self) -> Self {
        if step.0 <= 0 {
            return self;
        }
        Self(self.0.div_euclid(step.0).saturating_mul(step.0))
    }
    /// Rounded up to a multiple of `step`. A step of zero changes nothing.
    #[must_use]
    pub fn rounded_up_to(self, step: Self) -> Self {
        let down = self.rounded_down_to(step);
        if down == self { down } else { down + step }
    }
}

impl std::ops::Add for ExactLength {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}
impl std::ops::Sub for ExactLength {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}
impl std::ops::Mul<i64> for ExactLength {
    type Output = Self;
    fn mul(self, count: i64) -> Self {
        Self(self.0.saturating_mul(count))
    }
}
impl std::ops::Neg for ExactLength {
    type Output = Self;
    fn neg(self) -> Self {
        Self(self.0.saturating_neg())
    }
}
impl std::iter::Sum for ExactLength {
    fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
        items.fold(Self::ZERO, |sum, item| sum + item)
    }
}
