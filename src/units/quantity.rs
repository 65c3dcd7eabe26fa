//! Newtypes over `f64`, one per physical quantity, so that litres can't pass for cubic metres.

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident { $($(#[$udoc:meta])* $unit:ident / $from:ident = $factor:expr;)+ }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            $(
                $(#[$udoc])*
                #[must_use]
                pub const fn $from(value: f64) -> Self { Self(value * $factor) }
                /// The value in the unit the method is named after.
                #[must_use]
                pub const fn $unit(self) -> f64 { self.0 / $factor }
            )+
        }

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self { Self(self.0 + other.0) }
        }
        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self { Self(self.0 - other.0) }
        }
        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self { Self(self.0 * factor) }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(items: I) -> Self { Self(items.map(|x| x.0).sum()) }
        }
    };
}

quantity! {
    /// A length used in physics; lengths that are cut are [`super::ExactLength`].
    Length {
        /// From metres.
        metres / from_metres = 1.0;
        /// From millimetres.
        millimetres / from_millimetres = 1e-3;
    }
}
quantity! {
    /// An area.
    Area {
        /// From square metres.
        square_metres / from_square_metres = 1.0;
        /// From square centimetres.
        square_centimetres / from_square_centimetres = 1e-4;
    }
}
quantity! {
    /// A volume.
    Volume {
        /// From cubic metres.
        cubic_metres / from_cubic_metres = 1.0;
        /// From litres.
        litres / from_litres = 1e-3;
    }
}
quantity! {
    /// A mass.
    Mass {
        /// From kilograms.
        kilograms / from_kilograms = 1.0;
        /// From grams.
        grams / from_grams = 1e-3;
    }
}
quantity! {
    /// A frequency.
    Frequency {
        /// From hertz.
        hertz / from_hertz = 1.0;
    }
}
quantity! {
    /// An electrical resistance or the magnitude of an impedance.
    Resistance {
        /// From ohms.
        ohms / from_ohms = 1.0;
    }
}
quantity! {
    /// An inductance.
    Inductance {
        /// From henries.
        henries / from_henries = 1.0;
        /// From millihenries.
        millihenries / from_millihenries = 1e-3;
    }
}
quantity! {
    /// A power.
    Power {
        /// From watts.
        watts / from_watts = 1.0;
    }
}
quantity! {
    /// A voltage; rms unless the name says peak or DC.
    Voltage {
        /// From volts.
        volts / from_volts = 1.0;
    }
}
quantity! {
    /// A current; rms unless the name says peak or DC.
    Current {
        /// From amperes.
        amperes / from_amperes = 1.0;
    }
}
quantity! {
    /// An absolute pressure.
    Pressure {
        /// From pascals.
        pascals / from_pascals = 1.0;
    }
}
quantity! {
    /// A mechanical compliance.
    Compliance {
        /// From metres per newton.
        metres_per_newton / from_metres_per_newton = 1.0;
        /// From millimetres per newton.
        millimetres_per_newton / from_millimetres_per_newton = 1e-3;
    }
}
quantity! {
    /// A force factor, Bl.
    ForceFactor {
        /// From tesla metres.
        tesla_metres / from_tesla_metres = 1.0;
    }
}

/// A temperature.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Temperature(f64);

impl Temperature {
    /// From degrees Celsius.
    #[must_use]
    pub const fn from_celsius(value: f64) -> Self {
        Self(value)
    }
    /// In degrees Celsius.
    #[must_use]
    pub const fn celsius(self) -> f64 {
        self.0
    }
    /// In kelvin.
    #[must_use]
    pub const fn kelvin(self) -> f64 {
        self.0 + 273.15
    }
}
