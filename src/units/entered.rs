//! A number with the unit it was typed in, and what each unit measures.
use super::{Decimal, ExactLength, ParseNumberError, UnitPrefs, parse_number};

/// What a number measures; decides which units it may be typed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Quantity {
    Frequency,
    Resistance,
    Inductance,
    Ratio,
    Volume,
    Area,
    Length,
    /// A cable run: metres or feet.
    Run,
    Mass,
    Compliance,
    ForceFactor,
    Power,
    Voltage,
    Current,
    Temperature,
    Percent,
    Density,
}

macro_rules! units {
    ($($name:ident = $code:literal, $symbol:literal, $quantity:ident, $factor:expr, $offset:expr;)+) => {
        /// A unit a number can be typed in. The code in links and the symbol in files are frozen.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        #[allow(missing_docs)]
        pub enum Unit { $($name),+ }

        impl Unit {
            /// Every unit.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];
            /// The number that stands for the unit in a link.
            #[must_use]
            pub const fn code(self) -> u8 { match self { $(Self::$name => $code),+ } }
            /// The symbol as shown and as written in a design file.
            #[must_use]
            pub const fn symbol(self) -> &'static str { match self { $(Self::$name => $symbol),+ } }
            /// What the unit measures.
            #[must_use]
            pub const fn quantity(self) -> Quantity { match self { $(Self::$name => Quantity::$quantity),+ } }
            /// SI (kelvin excepted: degrees Celsius) = number · factor + offset.
            const fn scale(self) -> (f64, f64) { match self { $(Self::$name => ($factor, $offset)),+ } }
        }
    };
}
units! {
    Hertz = 1, "Hz", Frequency, 1.0, 0.0;
    Ohm = 2, "Ω", Resistance, 1.0, 0.0;
    Millihenry = 3, "mH", Inductance, 1e-3, 0.0;
    One = 4, "", Ratio, 1.0, 0.0;
    Litre = 5, "L", Volume, 1e-3, 0.0;
    CubicFoot = 6, "ft³", Volume, 0.028_316_846_592, 0.0;
    SquareCentimetre = 7, "cm²", Area, 1e-4, 0.0;
    SquareInch = 8, "in²", Area, 6.4516e-4, 0.0;
    Millimetre = 9, "mm", Length, 1e-3, 0.0;
    Inch = 10, "in", Length, 0.0254, 0.0;
    Metre = 11, "m", Run, 1.0, 0.0;
    Foot = 12, "ft", Run, 0.3048, 0.0;
    Gram = 13, "g", Mass, 1e-3, 0.0;
    MillimetrePerNewton = 14, "mm/N", Compliance, 1e-3, 0.0;
    TeslaMetre = 15, "T·m", ForceFactor, 1.0, 0.0;
    Watt = 16, "W", Power, 1.0, 0.0;
    Volt = 17, "V", Voltage, 1.0, 0.0;
    Ampere = 18, "A", Current, 1.0, 0.0;
    Celsius = 19, "°C", Temperature, 1.0, 0.0;
    Fahrenheit = 20, "°F", Temperature, 5.0 / 9.0, -160.0 / 9.0;
    Percent = 21, "%", Percent, 0.01, 0.0;
    KilogramPerCubicMetre = 22, "kg/m³", Density, 1.0, 0.0;
}

impl Unit {
    /// The unit of a code in a link.
    #[must_use]
    pub fn from_code(code: u8) -> Option<Self> {
        Self::ALL.iter().copied().find(|unit| unit.code() == code)
    }
    /// A number in this unit, in SI (temperatures in °C).
    #[must_use]
    pub fn to_si(self, number: f64) -> f64 {
        let (factor, offset) = self.scale();
        number * factor + offset
    }
    /// An SI value (temperatures in °C) in this unit.
    #[must_use]
    pub fn from_si(self, si: f64) -> f64 {
        let (factor, offset) = self.scale();
        (si - offset) / factor
    }
}

/// Other ways to write a unit behind a number; compared without case and blanks.
const SPELLINGS: &[(&str, Unit)] = &[
    ("ohm", Unit::Ohm),
    ("ohms", Unit::Ohm),
    ("l", Unit::Litre),
    ("litre", Unit::Litre),
    ("litres", Unit::Litre),
    ("ft3", Unit::CubicFoot),
    ("cuft", Unit::CubicFoot),
    ("cm2", Unit::SquareCentimetre),
    ("in2", Unit::SquareInch),
    ("\"", Unit::Inch),
    ("″", Unit::Inch),
    ("inch", Unit::Inch),
    ("'", Unit::Foot),
    ("tm", Unit::TeslaMetre),
    ("c", Unit::Celsius),
    ("f", Unit::Fahrenheit),
];

/// A number as it was entered: its digits and its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Entered {
    /// The digits.
    pub number: Decimal,
    /// The unit.
    pub unit: Unit,
}

impl Entered {
    /// The value in SI (temperatures in °C).
    #[must_use]
    pub fn si(self) -> f64 {
        self.unit.to_si(self.number.value())
    }
    /// Half a unit of the last printed digit, in SI.
    #[must_use]
    pub fn half_digit_si(self) -> f64 {
        self.number.half_digit() * self.unit.scale().0
    }
    /// The exact length; what is finer than 1/8 µm is rounded. Zero for a unit that is no length.
    #[must_use]
    pub fn exact_length(self) -> ExactLength {
        let per_unit = match self.unit {
            Unit::Millimetre => 8_000_i128,
            Unit::Inch => 203_200,
            _ => return ExactLength::ZERO,
        };
        let scale = 10_i128.pow(u32::from(self.number.places()));
        let product = i128::from(self.number.mantissa()) * per_unit;
        let rounded = (2 * product + scale * product.signum()) / (2 * scale);
        ExactLength::from_eighth_micrometres(rounded.clamp(-(1 << 60), 1 << 60) as i64)
    }
    /// Reads a number with or without a unit behind it; without one it is in the user's unit.
    ///
    /// # Errors
    /// [`ParseNumberError`], also for a unit of another quantity.
    pub fn parse(text: &str, quantity: Quantity, prefs: &UnitPrefs) -> Result<Self, ParseNumberError> {
        let text = text.trim();
        let split = text
            .rfind(|c: char| c.is_ascii_digit() || c == '.' || c == ',')
            .map_or(0, |at| at + text[at..].chars().next().map_or(0, char::len_utf8));
        // A superscript belongs to the unit, and "ft3" ends in a digit: try the longest unit first.
        let (number, unit) = split_unit(text, quantity).unwrap_or((&text[..split], None));
        if unit.is_none() && !text[split..].trim().is_empty() {
            return Err(ParseNumberError::NotANumber);
        }
        let unit = unit.unwrap_or_else(|| prefs.unit_for(quantity));
        Ok(Self { number: parse_number(number)?, unit })
    }
    /// As written in a design file: digits, blank, unit.
    #[must_use]
    pub fn to_text(self) -> String {
        match self.unit {
            Unit::One => self.number.to_string(),
            unit => format!("{} {}", self.number, unit.symbol()),
        }
    }
}

/// Takes a unit of the quantity off the end of the text.
fn split_unit(text: &str, quantity: Quantity) -> Option<(&str, Option<Unit>)> {
    let names = Unit::ALL.iter().map(|unit| (unit.symbol(), *unit)).chain(SPELLINGS.iter().copied());
    let lower = text.to_ascii_lowercase();
    let mut best: Option<(usize, Unit)> = None;
    for (name, unit) in names {
        if name.is_empty() || unit.quantity() != quantity {
            continue;
        }
        if lower.ends_with(&name.to_ascii_lowercase())
            && text.len() >= name.len()
            && text.is_char_boundary(text.len() - name.len())
            && best.is_none_or(|(length, _)| name.len() > length)
        {
            best = Some((name.len(), unit));
        }
    }
    best.map(|(length, unit)| (text[..text.len() - length].trim_end(), Some(unit)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parse(text: &str, quantity: Quantity) -> Result<Entered, ParseNumberError> {
        Entered::parse(text, quantity, &UnitPrefs::default())
    }

    // 1 in = 25.4 mm and 1 ft³ = 28.316846592 L exactly: international yard and pound agreement, 1959.
    #[test]
    fn inches_and_millimetres_are_exact() {
        let inches = parse("13 3/8 in", Quantity::Length).unwrap();
        let millimetres = parse("339,725", Quantity::Length).unwrap();
        assert_eq!(inches.exact_length(), millimetres.exact_length());
        assert_eq!(parse("1 ft3", Quantity::Volume).unwrap().si(), 0.028_316_846_592);
    }

    #[test]
    fn a_unit_of_another_quantity_is_refused() {
        assert!(parse("12 V", Quantity::Length).is_err());
        assert!(parse("12 mm mm", Quantity::Length).is_err());
        assert!(parse("mm", Quantity::Length).is_err());
    }

    #[test]
    fn fahrenheit_is_offset() {
        let hot = parse("104 °F", Quantity::Temperature).unwrap();
        assert!((hot.si() - 40.0).abs() < 1e-12);
        assert!((hot.half_digit_si() - 0.5 * 5.0 / 9.0).abs() < 1e-12);
    }

    #[test]
    fn text_and_back() {
        for (text, quantity) in [
            ("1.10 ft³", Quantity::Volume),
            ("28.40 Hz", Quantity::Frequency),
            ("0.50", Quantity::Ratio),
            ("-5 °C", Quantity::Temperature),
        ] {
            let entered = parse(text, quantity).unwrap();
            assert_eq!(entered.to_text(), text);
        }
    }
}
