//! How much current a conductor may carry.
use super::{AwgSize, Cable, Material};
use crate::model::electrical::Standing;
use crate::model::electrical::check::within;
use crate::model::error::ModelError;
use crate::units::{Current, Temperature};

/// What the insulation is rated for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Insulation {
    /// Not known: treated as 60 °C, the lowest column.
    Unknown,
    /// 60 °C.
    C60,
    /// 75 °C.
    C75,
    /// 80 °C.
    C80,
    /// 90 °C.
    C90,
    /// 105 °C.
    C105,
    /// 125 °C.
    C125,
    /// 200 °C.
    C200,
}

impl Insulation {
    /// Every rating of the table, lowest first.
    pub const RATED: [Self; 7] =
        [Self::C60, Self::C75, Self::C80, Self::C90, Self::C105, Self::C125, Self::C200];

    /// The temperature it stands.
    #[must_use]
    pub const fn rating(self) -> Temperature {
        Temperature::from_celsius(match self {
            Self::Unknown | Self::C60 => 60.0,
            Self::C75 => 75.0,
            Self::C80 => 80.0,
            Self::C90 => 90.0,
            Self::C105 => 105.0,
            Self::C125 => 125.0,
            Self::C200 => 200.0,
        })
    }

    const fn column(self) -> usize {
        match self {
            Self::Unknown | Self::C60 => 0,
            Self::C75 => 1,
            Self::C80 => 2,
            Self::C90 => 3,
            Self::C105 => 4,
            Self::C125 => 5,
            Self::C200 => 6,
        }
    }
}

/// 33 CFR 183.425 Table 5, conductors below 50 V: gauge number, and amperes by insulation 60, 75, 80, 90, 105, 125
/// and 200 °C. Thick to thin.
const TABLE_5: [(i8, [u16; 7]); 15] = [
    (-3, [300, 360, 385, 385, 445, 475, 510]),
    (-2, [260, 310, 330, 330, 385, 410, 430]),
    (-1, [225, 265, 285, 285, 330, 355, 370]),
    (0, [195, 230, 245, 245, 285, 305, 325]),
    (1, [165, 195, 210, 210, 245, 265, 280]),
    (2, [140, 170, 175, 180, 210, 225, 240]),
    (3, [120, 145, 150, 155, 180, 195, 210]),
    (4, [105, 125, 130, 135, 160, 170, 180]),
    (6, [80, 95, 100, 100, 120, 125, 135]),
    (8, [55, 65, 70, 70, 80, 90, 100]),
    (10, [40, 40, 50, 55, 60, 70, 70]),
    (12, [25, 25, 35, 40, 45, 50, 55]),
    (14, [20, 20, 25, 30, 35, 40, 45]),
    (16, [15, 15, 20, 25, 25, 30, 35]),
    (18, [10, 10, 15, 20, 20, 25, 25]),
];

/// The gauges of the table, thin to thick.
pub(super) fn table_sizes() -> impl Iterator<Item = AwgSize> {
    TABLE_5.iter().rev().filter_map(|(number, _)| AwgSize::new(*number))
}

/// What a conductor may carry, and how that came about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ampacity {
    /// Continuous current at the stated ambient; zero where the ambient is at or above the insulation's rating or the
    /// conductor is thinner than the table.
    pub current: Current,
    /// The table's row, or `None` below 18 AWG.
    pub row: Option<AwgSize>,
    /// The table's value for copper at 30 °C.
    pub table: Current,
    /// The insulation it holds for.
    pub insulation: Insulation,
    /// Factor for the ambient, 0 to 1.
    pub ambient_factor: f64,
    /// Factor for the metal, 0 to 1; 1 for copper.
    pub material_factor: f64,
    /// [`Standing::Verified`] for copper in AWG at up to 30 °C straight from the regulation, else
    /// [`Standing::Derived`].
    pub standing: Standing,
}

/// Factor on the table's current for another ambient than its 30 °C: √((Ti − Ta)/(Ti − 30 °C)).
///
/// Equal conductor temperature: heat given off rises with the difference to the air, heat made with I². It gives the
/// published 0.85 for 105 °C insulation at 50 °C, but it is an engineering formula of ours, not part of the
/// regulation. Below 30 °C the factor stays 1, by caution; at or above the insulation's rating it is 0.
///
/// # Errors
/// [`ModelError::OutOfRange`] unless the ambient is −60 °C to 250 °C.
pub fn ambient_factor(insulation: Insulation, ambient: Temperature) -> Result<f64, ModelError> {
    let air = within("ambient temperature in °C", ambient.celsius(), -60.0, 250.0)?;
    let limit = insulation.rating().celsius();
    Ok(((limit - air) / (limit - 30.0)).clamp(0.0, 1.0).sqrt())
}

/// What `cable` may carry continuously in air of `ambient` temperature.
///
/// Copper by 33 CFR 183.425 Table 5: a rule for petrol boats, applied to a car by caution; it is the one free public
/// table for low voltage. A size between the table's rows (metric, SAE vehicle cable, odd gauges) takes the largest
/// row whose copper is not above its own, so it is never overrated. Copper-clad aluminium and aluminium are outside
/// the table; they take copper's row for their size times √(conductivity), at which they heat as copper does: derived,
/// not a standard.
///
/// # Errors
/// [`ModelError::OutOfRange`] unless the ambient is −60 °C to 250 °C.
///
/// # Source
/// 33 CFR 183.425, Table 5.
pub fn ampacity(cable: Cable, insulation: Insulation, ambient: Temperature) -> Result<Ampacity, ModelError> {
    let ambient_factor = ambient_factor(insulation, ambient)?;
    let area = cable.size.copper_equivalent_area().square_metres() * (1.0 + 1e-9);
    let row = TABLE_5.iter().find_map(|(number, amperes)| {
        let size = AwgSize::new(*number)?;
        let current = amperes.get(insulation.column())?;
        (size.area().square_metres() <= area).then_some((size, *current))
    });
    let table = row.map_or(0.0, |(_, amperes)| f64::from(amperes));
    let material_factor = cable.material.conductivity().sqrt();
    let in_table = cable.material == Material::Copper
        && row.is_some_and(|(size, _)| cable.size == super::Size::Awg(size))
        && ambient_factor >= 1.0;
    Ok(Ampacity {
        current: Current::from_amperes(table * ambient_factor * material_factor),
        row: row.map(|(size, _)| size),
        table: Current::from_amperes(table),
        insulation,
        ambient_factor,
        material_factor,
        standing: if in_table { Standing::Verified } else { Standing::Derived },
    })
}
