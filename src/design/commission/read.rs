//! A reading as typed at a step, in the unit the meter shows there.
use crate::units::{Decimal, Entered, Quantity, Unit, UnitPrefs};

/// The unit a step is read in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadUnit {
    /// Ω.
    Ohm,
    /// kΩ; stored in ohms.
    Kiloohm,
    /// A.
    Ampere,
    /// V.
    Volt,
    /// mV; stored in volts.
    Millivolt,
    /// mA; stored in amperes.
    Milliampere,
}

impl ReadUnit {
    /// Its symbol.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Ohm => "Ω",
            Self::Kiloohm => "kΩ",
            Self::Ampere => "A",
            Self::Volt => "V",
            Self::Millivolt => "mV",
            Self::Milliampere => "mA",
        }
    }
    /// What it measures.
    #[must_use]
    pub const fn quantity(self) -> Quantity {
        self.stored().1
    }
    /// SI value of one.
    #[must_use]
    pub const fn si(self) -> f64 {
        match self {
            Self::Kiloohm => 1e3,
            Self::Millivolt | Self::Milliampere => 1e-3,
            Self::Ohm | Self::Ampere | Self::Volt => 1.0,
        }
    }
    /// The unit it is stored in, what it measures, and how many places the decimal sign moves to the right.
    const fn stored(self) -> (Unit, Quantity, i8) {
        match self {
            Self::Ohm => (Unit::Ohm, Quantity::Resistance, 0),
            Self::Kiloohm => (Unit::Ohm, Quantity::Resistance, 3),
            Self::Ampere => (Unit::Ampere, Quantity::Current, 0),
            Self::Volt => (Unit::Volt, Quantity::Voltage, 0),
            Self::Millivolt => (Unit::Volt, Quantity::Voltage, -3),
            Self::Milliampere => (Unit::Ampere, Quantity::Current, -3),
        }
    }
    /// Least and greatest reading a meter can show there, SI.
    const fn range(self) -> (f64, f64) {
        match self {
            Self::Ohm => (0.0, 1e6),
            Self::Kiloohm => (0.0, 1e9),
            _ => (-500.0, 500.0),
        }
    }
}

/// Reads a bare number in the step's unit, or one with its own unit behind it; `None` where it is no such reading.
///
/// Never panics, whatever the text.
#[must_use]
pub fn parse_reading(text: &str, unit: ReadUnit) -> Option<Entered> {
    let prefs = UnitPrefs::default();
    let text = text.trim();
    let bare = text.strip_suffix(unit.symbol()).unwrap_or(text);
    let (stored, quantity, moved) = unit.stored();
    let entered = match Entered::parse(bare, Quantity::Ratio, &prefs) {
        Ok(bare) => Entered { number: shifted(bare.number, moved)?, unit: stored },
        Err(_) => Entered::parse(text, quantity, &prefs).ok()?,
    };
    let (low, high) = unit.range();
    (entered.si() >= low && entered.si() <= high).then_some(entered)
}

/// The decimal sign moved to the right by `by` places; the digits stay.
fn shifted(number: Decimal, by: i8) -> Option<Decimal> {
    let places = i32::from(number.places()) - i32::from(by);
    match u8::try_from(places) {
        Ok(places) => Decimal::new(number.mantissa(), places),
        Err(_) => {
            let power = 10_i64.checked_pow(places.unsigned_abs())?;
            Decimal::new(number.mantissa().checked_mul(power)?, 0)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_is_in_the_unit_of_its_step_unless_it_names_one() {
        let si = |text, unit| parse_reading(text, unit).map(Entered::si);
        assert_eq!(si("12,5", ReadUnit::Millivolt), Some(0.0125));
        assert_eq!(si("-30 mV", ReadUnit::Millivolt), Some(-0.03));
        assert_eq!(si("0.02 V", ReadUnit::Millivolt), Some(0.02));
        assert_eq!(si("2.2", ReadUnit::Kiloohm), Some(2200.0));
        assert_eq!(si("470 kΩ", ReadUnit::Kiloohm), Some(470_000.0));
        assert_eq!(si("-12.6", ReadUnit::Volt), Some(-12.6));
        assert_eq!(si("35", ReadUnit::Milliampere), Some(0.035));
        assert_eq!(si("0.02 A", ReadUnit::Milliampere), Some(0.02));
        for text in ["", "abc", "-1", "12 V", "1e9", "99999999999999999999"] {
            assert_eq!(si(text, ReadUnit::Ohm), None, "{text}");
        }
    }
}
