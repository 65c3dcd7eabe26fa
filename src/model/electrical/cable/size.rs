//! Conductor sizes: American wire gauge, metric, and vehicle cable sold by gauge number.
use std::fmt;

use super::COPPER_OHM_MM2_PER_M;
use crate::units::{Area, Length};

/// Which list of sizes a cable is bought from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SizeSystem {
    /// American wire gauge.
    Awg,
    /// Square millimetres, IEC 60228 class 5.
    Metric,
    /// SAE vehicle cable: gauge numbers with 3 % to 11 % less copper than AWG.
    SaeVehicle,
}

impl SizeSystem {
    /// The sizes on offer for a feed, thinnest first.
    #[must_use]
    pub fn sizes(self) -> Vec<Size> {
        match self {
            // The gauges in trade: those of the ampacity table.
            Self::Awg => super::ampacity::table_sizes().map(Size::Awg).collect(),
            Self::Metric => MetricSize::all().map(Size::Metric).collect(),
            Self::SaeVehicle => SAE_MM2
                .iter()
                .rev()
                .filter_map(|(number, _)| AwgSize::new(*number).map(Size::SaeVehicle))
                .collect(),
        }
    }
}

/// A conductor size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Size {
    /// By ASTM B258 geometry.
    Awg(AwgSize),
    /// By IEC 60228 class 5 resistance.
    Metric(MetricSize),
    /// By gauge number with the area of SAE vehicle cable; a number without such an area counts as the next smaller one.
    SaeVehicle(AwgSize),
}

impl Size {
    /// Area of annealed copper with the resistance of a copper conductor of this size at 20 °C.
    #[must_use]
    pub fn copper_equivalent_area(self) -> Area {
        Area::from_square_metres(
            1e-6 * match self {
                Self::Awg(size) => size.area_mm2(),
                Self::Metric(size) => COPPER_OHM_MM2_PER_M * 1e3 / size.ohm_per_km(),
                Self::SaeVehicle(size) => sae_area_mm2(size),
            },
        )
    }
}

impl fmt::Display for Size {
    /// The size without its unit: `4`, `1/0`, `2.5`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Awg(size) | Self::SaeVehicle(size) => size.fmt(f),
            Self::Metric(size) => size.fmt(f),
        }
    }
}

/// An American wire gauge from 4/0 to 18. Ordered from thick to thin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct AwgSize(i8);

impl AwgSize {
    /// By number, with 0, −1, −2, −3 for 1/0 to 4/0; `None` outside −3 to 18.
    #[must_use]
    pub const fn new(number: i8) -> Option<Self> {
        if number >= -3 && number <= 18 { Some(Self(number)) } else { None }
    }
    /// The number, with 0, −1, −2, −3 for 1/0 to 4/0.
    #[must_use]
    pub const fn number(self) -> i8 {
        self.0
    }
    /// Every gauge, thick to thin.
    pub fn all() -> impl Iterator<Item = Self> {
        (-3..=18).map(Self)
    }
    /// Diameter of the solid wire, 0.127 mm · 92^((36 − n)/39).
    ///
    /// # Source
    /// ASTM B258.
    #[must_use]
    pub fn diameter(self) -> Length {
        Length::from_millimetres(0.127 * 92f64.powf((36.0 - f64::from(self.0)) / 39.0))
    }
    /// Area of the solid wire.
    #[must_use]
    pub fn area(self) -> Area {
        Area::from_square_metres(self.area_mm2() * 1e-6)
    }
    fn area_mm2(self) -> f64 {
        std::f64::consts::FRAC_PI_4 * self.diameter().millimetres().powi(2)
    }
}

impl fmt::Display for AwgSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 <= 0 { write!(f, "{}/0", 1 - self.0) } else { write!(f, "{}", self.0) }
    }
}

/// A metric size of IEC 60228, 0.5 mm² to 120 mm². Ordered from thin to thick.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MetricSize(u16);

/// Nominal area in 1/100 mm² and greatest resistance in Ω/km at 20 °C, class 5, plain copper (IEC 60228).
const CLASS5: [(u16, f64); 15] = [
    (50, 39.0),
    (75, 26.0),
    (100, 19.5),
    (150, 13.3),
    (250, 7.98),
    (400, 4.95),
    (600, 3.30),
    (1000, 1.91),
    (1600, 1.21),
    (2500, 0.780),
    (3500, 0.554),
    (5000, 0.386),
    (7000, 0.272),
    (9500, 0.206),
    (12000, 0.161),
];

impl MetricSize {
    /// By hundredths of a square millimetre (75 is 0.75 mm²); `None` for an area that is no size.
    #[must_use]
    pub fn new(hundredths_mm2: u16) -> Option<Self> {
        CLASS5.iter().any(|(size, _)| *size == hundredths_mm2).then_some(Self(hundredths_mm2))
    }
    /// In hundredths of a square millimetre.
    #[must_use]
    pub const fn hundredths_mm2(self) -> u16 {
        self.0
    }
    /// Every size, thin to thick.
    pub fn all() -> impl Iterator<Item = Self> {
        CLASS5.iter().map(|(size, _)| Self(*size))
    }
    /// The area it is sold by.
    #[must_use]
    pub fn nominal_area(self) -> Area {
        Area::from_square_metres(f64::from(self.0) * 1e-8)
    }
    fn ohm_per_km(self) -> f64 {
        // Every value of the type is in the table; the thinnest row is the cautious answer otherwise.
        CLASS5.iter().find(|(size, _)| *size == self.0).map_or(39.0, |(_, ohm)| *ohm)
    }
}

impl fmt::Display for MetricSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", f64::from(self.0) / 100.0)
    }
}

/// Areas of SAE vehicle cable in mm² by gauge number, as printed in two marine-cable tables.
const SAE_MM2: [(i8, f64); 13] = [
    (-3, 104.128),
    (-2, 80.364),
    (-1, 63.389),
    (0, 50.154),
    (1, 39.417),
    (2, 31.644),
    (4, 18.931),
    (6, 12.434),
    (8, 7.504),
    (10, 4.734),
    (12, 2.956),
    (14, 1.876),
    (16, 1.184),
];

fn sae_area_mm2(size: AwgSize) -> f64 {
    // 18 AWG ends the list: 0.779 mm².
    SAE_MM2.iter().find(|(number, _)| *number >= size.number()).map_or(0.779, |(_, area)| *area)
}
