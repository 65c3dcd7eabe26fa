//! Numbers as text: no decimals that nobody can cut, read or hear.
use crate::design::document::EntryError;
use crate::design::limits::{FieldId, Kind};
use crate::units::{Entered, ExactLength, ParseNumberError, Quantity, Unit, UnitPrefs};
use crate::words::entry as words;

/// A number ready to show: digits and unit apart, so that a page can set them in two sizes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// The digits; a dash where there is no number.
    pub number: String,
    /// The unit's symbol, empty for a ratio.
    pub unit: &'static str,
}

impl std::fmt::Display for Shown {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.unit.is_empty() {
            f.write_str(&self.number)
        } else {
            // A no-break space keeps number and unit on one line.
            write!(f, "{}\u{a0}{}", self.number, self.unit)
        }
    }
}

/// What stands where there is no number.
pub const NO_NUMBER: &str = "–";

/// `value` with `places` decimals; never "-0", and a dash for what is not finite.
#[must_use]
pub fn fixed(value: f64, places: usize) -> String {
    if !value.is_finite() {
        return NO_NUMBER.to_owned();
    }
    let text = format!("{value:.places$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
        _ => text,
    }
}

/// Decimals that make sense for a value in a unit.
fn places(unit: Unit, value: f64) -> usize {
    let size = value.abs();
    let by_size = |limits: [(f64, usize); 2], above: usize| {
        limits.iter().find(|(limit, _)| size < *limit).map_or(above, |(_, places)| *places)
    };
    match unit {
        Unit::Hertz => by_size([(30.0, 1), (30.0, 1)], 0),
        Unit::Ohm => by_size([(10.0, 2), (100.0, 1)], 0),
        Unit::One => by_size([(10.0, 2), (100.0, 1)], 0),
        Unit::Litre => by_size([(10.0, 2), (100.0, 1)], 0),
        Unit::CubicFoot => by_size([(1.0, 3), (10.0, 2)], 1),
        Unit::Inch => 2,
        Unit::Metre | Unit::Foot | Unit::Volt | Unit::Percent => by_size([(10.0, 1), (100.0, 1)], 0),
        Unit::Millimetre => by_size([(30.0, 1), (30.0, 1)], 0),
        Unit::Millihenry | Unit::TeslaMetre => by_size([(10.0, 2), (100.0, 1)], 0),
        Unit::MillimetrePerNewton => 3,
        Unit::Gram | Unit::Watt | Unit::Ampere => by_size([(10.0, 1), (10.0, 1)], 0),
        Unit::SquareCentimetre | Unit::SquareInch => by_size([(10.0, 1), (100.0, 1)], 0),
        Unit::Celsius | Unit::Fahrenheit | Unit::KilogramPerCubicMetre => 0,
    }
}

/// An SI value (°C for temperatures) in the user's unit.
#[must_use]
pub fn si(value: f64, quantity: Quantity, prefs: &UnitPrefs) -> Shown {
    let unit = prefs.unit_for(quantity);
    if quantity == Quantity::Length && value.is_finite() {
        return length(ExactLength::from_millimetres(value * 1e3), prefs);
    }
    let number = unit.from_si(value);
    Shown { number: fixed(number, places(unit, number)), unit: unit.symbol() }
}

/// A length as the user's tape shows it.
#[must_use]
pub fn length(length: ExactLength, prefs: &UnitPrefs) -> Shown {
    Shown { number: prefs.length_text(length), unit: prefs.unit_for(Quantity::Length).symbol() }
}

/// An entry: its own digits while it is in the user's unit, converted otherwise.
#[must_use]
pub fn entered(entered: Entered, prefs: &UnitPrefs) -> Shown {
    let unit = prefs.unit_for(entered.unit.quantity());
    if entered.unit == unit && unit != Unit::Inch {
        return Shown { number: entered.number.to_string(), unit: unit.symbol() };
    }
    if unit.quantity() == Quantity::Length {
        return length(entered.exact_length(), prefs);
    }
    si(entered.si(), unit.quantity(), prefs)
}

/// The range a number field may have, in the user's unit; empty for other fields.
#[must_use]
pub fn range(id: FieldId, prefs: &UnitPrefs) -> String {
    match id.row().kind {
        Kind::Number { quantity, min, max, .. } => {
            words::range(&si(min, quantity, prefs).to_string(), &si(max, quantity, prefs).to_string())
        }
        _ => String::new(),
    }
}

/// Why a text can't stand in a field, for the user.
#[must_use]
pub fn refusal(error: EntryError, id: FieldId, prefs: &UnitPrefs) -> String {
    match error {
        EntryError::NotANumber(error) => words::still_used(match error {
            ParseNumberError::Empty => words::EMPTY,
            ParseNumberError::NotANumber => words::NOT_A_NUMBER,
            ParseNumberError::TwoSigns => words::TWO_SIGNS,
            ParseNumberError::OddFraction => words::ODD_FRACTION,
            ParseNumberError::TooLong => words::TOO_LONG,
        }),
        EntryError::TooSmall | EntryError::TooLarge => words::out_of_range(id.row().label, &range(id, prefs)),
        EntryError::UnknownChoice => words::UNKNOWN_CHOICE.into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::VolumeUnit;

    #[test]
    fn no_minus_zero_and_no_nan() {
        assert_eq!(fixed(-0.001, 1), "0.0");
        assert_eq!(fixed(f64::NAN, 1), NO_NUMBER);
        assert_eq!(fixed(-1.25, 1), "-1.2");
    }

    #[test]
    fn an_entry_keeps_its_digits_in_its_own_unit() {
        let mut prefs = UnitPrefs::default();
        let vas = Entered::parse("33.00", Quantity::Volume, &prefs).unwrap();
        assert_eq!(entered(vas, &prefs).to_string(), "33.00\u{a0}L");
        prefs.volume = VolumeUnit::CubicFeet;
        assert_eq!(entered(vas, &prefs).to_string(), "1.17\u{a0}ft³");
    }
}
