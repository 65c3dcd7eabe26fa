//! Decimal numbers with the digits as they were typed.
use thiserror::Error;

/// A decimal number that remembers how many places were printed: 0.50 is not 0.5.
///
/// The value is `mantissa / 10^places`; at most [`Decimal::MAX_PLACES`] places and 15 digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Decimal {
    mantissa: i64,
    places: u8,
}

/// Largest magnitude of a mantissa: 15 digits, all of which an `f64` holds exactly.
const MAX_MANTISSA: i64 = 999_999_999_999_999;

impl Decimal {
    /// Most places after the decimal sign; 1/64 needs six.
    pub const MAX_PLACES: u8 = 9;

    /// From a mantissa and a count of places; `None` if either is out of range.
    #[must_use]
    pub const fn new(mantissa: i64, places: u8) -> Option<Self> {
        if places > Self::MAX_PLACES || mantissa > MAX_MANTISSA || mantissa < -MAX_MANTISSA {
            return None;
        }
        Some(Self { mantissa, places })
    }
    /// A value rounded to `places`; a value that is not finite or too large gives `None`.
    #[must_use]
    pub fn from_f64(value: f64, places: u8) -> Option<Self> {
        let places = places.min(Self::MAX_PLACES);
        let scaled = (value * 10f64.powi(i32::from(places))).round();
        if !scaled.is_finite() || scaled.abs() > MAX_MANTISSA as f64 {
            return None;
        }
        Self::new(scaled as i64, places)
    }
    /// The number without its decimal sign.
    #[must_use]
    pub const fn mantissa(self) -> i64 {
        self.mantissa
    }
    /// Digits printed after the decimal sign.
    #[must_use]
    pub const fn places(self) -> u8 {
        self.places
    }
    /// The value, correctly rounded.
    #[must_use]
    pub fn value(self) -> f64 {
        self.mantissa as f64 / 10f64.powi(i32::from(self.places))
    }
    /// Half a unit of the last printed digit: how far the true value may lie from the printed one.
    #[must_use]
    pub fn half_digit(self) -> f64 {
        0.5 / 10f64.powi(i32::from(self.places))
    }
}

impl std::fmt::Display for Decimal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let digits = self.mantissa.unsigned_abs().to_string();
        let places = usize::from(self.places);
        let sign = if self.mantissa < 0 { "-" } else { "" };
        if places == 0 {
            return write!(f, "{sign}{digits}");
        }
        let padded = format!("{digits:0>width$}", width = places + 1);
        let (whole, rest) = padded.split_at(padded.len() - places);
        write!(f, "{sign}{whole}.{rest}")
    }
}

/// Why a text is not a number.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum ParseNumberError {
    /// Nothing was typed.
    #[error("empty")]
    Empty,
    /// Something other than digits, one decimal sign or a fraction.
    #[error("not a number")]
    NotANumber,
    /// Two decimal signs, such as 1.234,5.
    #[error("two decimal signs")]
    TwoSigns,
    /// A fraction whose denominator is not 2, 4, 8, 16, 32 or 64.
    #[error("a fraction must be in halves to sixty-fourths")]
    OddFraction,
    /// More digits than any tape or meter shows.
    #[error("too many digits")]
    TooLong,
}

/// Reads a number as people type it: `12.5`, `12,5`, `13 3/8`, `13-3/8`, `3/8`, `-4`.
///
/// The decimal sign is a point or a comma; there is no thousands sign, so `1,234` is 1.234.
///
/// # Errors
/// [`ParseNumberError`]; never panics, whatever the text.
pub fn parse_number(text: &str) -> Result<Decimal, ParseNumberError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(ParseNumberError::Empty);
    }
    if text.len() > 40 {
        return Err(ParseNumberError::TooLong);
    }
    let (negative, rest) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (true, rest.trim_start()),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let number = if rest.contains(['/', '⁄']) { parse_fraction(rest)? } else { parse_decimal(rest)? };
    let mantissa = if negative { -number.mantissa } else { number.mantissa };
    Decimal::new(mantissa, number.places).ok_or(ParseNumberError::TooLong)
}

fn parse_decimal(text: &str) -> Result<Decimal, ParseNumberError> {
    let mut mantissa = 0_i64;
    let mut places = None;
    let mut digits = 0;
    for c in text.chars() {
        match c {
            '0'..='9' => {
                digits += 1;
                let digit = i64::from(c as u8 - b'0');
                mantissa = mantissa
                    .checked_mul(10)
                    .and_then(|m| m.checked_add(digit))
                    .filter(|m| *m <= MAX_MANTISSA)
                    .ok_or(ParseNumberError::TooLong)?;
                places = places.map(|p: u8| p.saturating_add(1));
            }
            '.' | ',' | '·' if places.is_none() => places = Some(0),
            '.' | ',' | '·' => return Err(ParseNumberError::TwoSigns),
            _ => return Err(ParseNumberError::NotANumber),
        }
    }
    if digits == 0 {
        return Err(ParseNumberError::NotANumber);
    }
    Decimal::new(mantissa, places.unwrap_or(0)).ok_or(ParseNumberError::TooLong)
}

fn parse_fraction(text: &str) -> Result<Decimal, ParseNumberError> {
    let (left, denominator) = text.split_once(['/', '⁄']).ok_or(ParseNumberError::NotANumber)?;
    let left = left.trim();
    let (whole, numerator) = match left.rsplit_once([' ', '-', '\u{a0}']) {
        Some((whole, numerator)) => (whole.trim(), numerator),
        None => ("0", left),
    };
    let whole_number = |t: &str| -> Result<i64, ParseNumberError> {
        let number = parse_decimal(t.trim())?;
        if number.places > 0 { Err(ParseNumberError::NotANumber) } else { Ok(number.mantissa) }
    };
    let (whole, numerator, denominator) =
        (whole_number(whole)?, whole_number(numerator)?, whole_number(denominator)?);
    // n/64 = n · 15625 / 10⁶, so each fraction of a tape measure is a decimal of at most six places.
    let (scale, places) = match denominator {
        2 => (5, 1),
        4 => (25, 2),
        8 => (125, 3),
        16 => (625, 4),
        32 => (3_125, 5),
        64 => (15_625, 6),
        _ => return Err(ParseNumberError::OddFraction),
    };
    let mantissa = whole
        .checked_mul(10_i64.pow(places))
        .and_then(|w| numerator.checked_mul(scale).and_then(|n| w.checked_add(n)))
        .ok_or(ParseNumberError::TooLong)?;
    Decimal::new(mantissa, places as u8).ok_or(ParseNumberError::TooLong)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_people_type() {
        for (text, shown) in [
            ("12.5", "12.5"),
            ("12,50", "12.50"),
            (" 0.707 ", "0.707"),
            (".5", "0.5"),
            ("13 3/8", "13.375"),
            ("13-3/8", "13.375"),
            ("3/8", "0.375"),
            ("-4", "-4"),
            ("−0,5", "-0.5"),
            ("5/64", "0.078125"),
        ] {
            assert_eq!(parse_number(text).map(|d| d.to_string()).as_deref(), Ok(shown), "{text}");
        }
    }

    #[test]
    fn refuses_what_is_no_number() {
        for text in [
            "",
            " ",
            "nan",
            "inf",
            "1e9",
            "1.234,5",
            "1/3",
            "a",
            "1/0",
            "--1",
            ".",
            "1 2",
            "9".repeat(30).as_str(),
        ] {
            assert!(parse_number(text).is_err(), "{text}");
        }
    }

    #[test]
    fn remembers_the_printed_digits() {
        let printed = parse_number("0.50").unwrap();
        assert_eq!(printed.half_digit(), 0.005);
        assert_ne!(printed, parse_number("0.5").unwrap());
    }
}
