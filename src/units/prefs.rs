//! Which unit the user reads and types, chosen per quantity because people mix them.
use super::{ExactLength, Quantity, Unit};

macro_rules! choice {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $key:literal),+ }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
        pub enum $name { $($(#[$vdoc])* $variant),+ }
        impl $name {
            /// Every choice, in the order offered.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];
            /// The word stored for the choice.
            #[must_use]
            pub const fn key(self) -> &'static str { match self { $(Self::$variant => $key),+ } }
            /// The choice a stored word stands for.
            #[must_use]
            pub fn from_key(key: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|choice| choice.key() == key)
            }
        }
    };
}

choice! {
    /// Lengths of boards and boxes.
    LengthUnit {
        /// Millimetres.
        #[default]
        Millimetres = "mm",
        /// Inches and sixteenths.
        Sixteenths = "in16",
        /// Inches and thirty-seconds.
        ThirtySeconds = "in32"
    }
}
choice! {
    /// Volumes, and the areas that go with them.
    VolumeUnit {
        /// Litres and square centimetres.
        #[default]
        Litres = "L",
        /// Cubic feet and square inches.
        CubicFeet = "ft3"
    }
}
choice! {
    /// Cable runs.
    RunUnit {
        /// Metres.
        #[default]
        Metres = "m",
        /// Feet.
        Feet = "ft"
    }
}
choice! {
    /// Cable sizes.
    CableUnit {
        /// Metric cross-sections.
        #[default]
        SquareMillimetres = "mm2",
        /// American wire gauge.
        Gauge = "awg"
    }
}
choice! {
    /// Temperatures.
    TemperatureUnit {
        /// Degrees Celsius.
        #[default]
        Celsius = "C",
        /// Degrees Fahrenheit.
        Fahrenheit = "F"
    }
}

/// The user's units. A preference of the reader: it is stored, but never part of a design or a link.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct UnitPrefs {
    /// Boards and boxes.
    pub length: LengthUnit,
    /// Volumes and areas.
    pub volume: VolumeUnit,
    /// Cable runs.
    pub run: RunUnit,
    /// Cable sizes.
    pub cable: CableUnit,
    /// Temperatures.
    pub temperature: TemperatureUnit,
}

impl UnitPrefs {
    /// The unit a bare number of this quantity is in.
    #[must_use]
    pub const fn unit_for(&self, quantity: Quantity) -> Unit {
        match quantity {
            Quantity::Frequency => Unit::Hertz,
            Quantity::Resistance => Unit::Ohm,
            Quantity::Inductance => Unit::Millihenry,
            Quantity::Ratio => Unit::One,
            Quantity::Volume => match self.volume {
                VolumeUnit::Litres => Unit::Litre,
                VolumeUnit::CubicFeet => Unit::CubicFoot,
            },
            Quantity::Area => match self.volume {
                VolumeUnit::Litres => Unit::SquareCentimetre,
                VolumeUnit::CubicFeet => Unit::SquareInch,
            },
            Quantity::Length => match self.length {
                LengthUnit::Millimetres => Unit::Millimetre,
                LengthUnit::Sixteenths | LengthUnit::ThirtySeconds => Unit::Inch,
            },
            Quantity::Run => match self.run {
                RunUnit::Metres => Unit::Metre,
                RunUnit::Feet => Unit::Foot,
            },
            Quantity::Mass => Unit::Gram,
            Quantity::Compliance => Unit::MillimetrePerNewton,
            Quantity::ForceFactor => Unit::TeslaMetre,
            Quantity::Power => Unit::Watt,
            Quantity::Voltage => Unit::Volt,
            Quantity::Current => Unit::Ampere,
            Quantity::Temperature => match self.temperature {
                TemperatureUnit::Celsius => Unit::Celsius,
                TemperatureUnit::Fahrenheit => Unit::Fahrenheit,
            },
            Quantity::Percent => Unit::Percent,
            Quantity::Density => Unit::KilogramPerCubicMetre,
        }
    }

    /// Words for storage, `length volume run cable temperature`.
    #[must_use]
    pub fn to_text(&self) -> String {
        [self.length.key(), self.volume.key(), self.run.key(), self.cable.key(), self.temperature.key()]
            .join(" ")
    }
    /// Reads [`UnitPrefs::to_text`]; what it does not know stays at the default.
    #[must_use]
    pub fn from_text(text: &str) -> Self {
        let mut words = text.split(' ');
        let mut next = || words.next().unwrap_or("");
        Self {
            length: LengthUnit::from_key(next()).unwrap_or_default(),
            volume: VolumeUnit::from_key(next()).unwrap_or_default(),
            run: RunUnit::from_key(next()).unwrap_or_default(),
            cable: CableUnit::from_key(next()).unwrap_or_default(),
            temperature: TemperatureUnit::from_key(next()).unwrap_or_default(),
        }
    }

    /// A length as the user's tape shows it, without the unit: `318.5` or `12 9/16`.
    ///
    /// Millimetres show a decimal only where there is one to show; inches are rounded to the chosen fraction.
    #[must_use]
    pub fn length_text(&self, length: ExactLength) -> String {
        let parts = match self.length {
            LengthUnit::Millimetres => {
                let tenths = (length.millimetres() * 10.0).round();
                let number = tenths / 10.0 + 0.0;
                return if tenths % 10.0 == 0.0 { format!("{number:.0}") } else { format!("{number:.1}") };
            }
            LengthUnit::Sixteenths => 16,
            LengthUnit::ThirtySeconds => 32,
        };
        fraction_text(length.inches(), parts)
    }
}

/// Inches rounded to `1/parts`, in lowest terms; zero has no sign.
fn fraction_text(inches: f64, parts: i64) -> String {
    let count = (inches * parts as f64).round() as i64;
    let (mut numerator, mut denominator) = (count.abs() % parts, parts);
    while numerator > 0 && numerator % 2 == 0 {
        numerator /= 2;
        denominator /= 2;
    }
    let whole = count.abs() / parts;
    let sign = if count < 0 { "-" } else { "" };
    match (whole, numerator) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, _) => format!("{sign}{numerator}/{denominator}"),
        _ => format!("{sign}{whole} {numerator}/{denominator}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inches_show_fractions_in_lowest_terms() {
        let prefs = UnitPrefs { length: LengthUnit::Sixteenths, ..UnitPrefs::default() };
        for (sixty_fourths, shown) in
            [(64 * 12 + 36, "12 9/16"), (32, "1/2"), (64, "1"), (63, "1"), (0, "0"), (-8, "-1/8")]
        {
            assert_eq!(prefs.length_text(ExactLength::from_sixty_fourths_inch(sixty_fourths)), shown);
        }
    }

    #[test]
    fn millimetres_show_no_decimal_that_is_not_there() {
        let prefs = UnitPrefs::default();
        assert_eq!(prefs.length_text(ExactLength::from_hundredths_mm(31_800)), "318");
        assert_eq!(prefs.length_text(ExactLength::from_hundredths_mm(1_810)), "18.1");
        assert_eq!(prefs.length_text(ExactLength::from_hundredths_mm(-1)), "0");
    }

    #[test]
    fn preferences_survive_storage() {
        let prefs =
            UnitPrefs { length: LengthUnit::ThirtySeconds, cable: CableUnit::Gauge, ..UnitPrefs::default() };
        assert_eq!(UnitPrefs::from_text(&prefs.to_text()), prefs);
        assert_eq!(UnitPrefs::from_text("nonsense"), UnitPrefs::default());
    }
}
