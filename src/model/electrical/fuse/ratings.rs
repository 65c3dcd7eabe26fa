//! Standard fuse ratings, family by family, each with what is known of it.
use crate::model::electrical::Standing;
use crate::units::{Current, Voltage};

/// A family of road-vehicle fuses of ISO 8820.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FuseFamily {
    /// Sub-miniature blade, ISO 8820-12 type N.
    SubMiniatureBlade,
    /// Miniature blade, ISO 8820-3 type F.
    MiniatureBlade,
    /// Medium (regular) blade, ISO 8820-3 type C.
    MediumBlade,
    /// High-current (large) blade, ISO 8820-3 type E.
    LargeBlade,
    /// Bolt-in strip with 30 mm hole spacing, ISO 8820-5 type SF 30.
    Strip30,
    /// Bolt-in strip with 51 mm hole spacing, ISO 8820-5 type SF 51.
    Strip51,
    /// Single-bolt block, ISO 8820-6.
    SingleBolt,
}

/// One rating of one family.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FuseRating {
    /// The family.
    pub family: FuseFamily,
    /// Rated current.
    pub rating: Current,
    /// How well it is known that the family has this step.
    pub standing: Standing,
}

const N: [f64; 7] = [5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0];
const F: [f64; 10] = [2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0];
const C: [f64; 13] = [1.0, 2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0];
const E: [f64; 8] = [20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0, 100.0];
const SF30: [f64; 11] = [30.0, 40.0, 50.0, 60.0, 70.0, 80.0, 100.0, 125.0, 150.0, 175.0, 200.0];
const SF51: [f64; 14] =
    [60.0, 80.0, 100.0, 125.0, 150.0, 175.0, 200.0, 225.0, 250.0, 300.0, 350.0, 400.0, 450.0, 500.0];
const BOLT: [f64; 15] =
    [30.0, 40.0, 50.0, 60.0, 75.0, 80.0, 90.0, 100.0, 125.0, 150.0, 175.0, 200.0, 225.0, 250.0, 300.0];

impl FuseFamily {
    /// Every family, smallest form first.
    pub const ALL: [Self; 7] = [
        Self::SubMiniatureBlade,
        Self::MiniatureBlade,
        Self::MediumBlade,
        Self::LargeBlade,
        Self::Strip30,
        Self::Strip51,
        Self::SingleBolt,
    ];

    /// The standard and type.
    #[must_use]
    pub const fn standard(self) -> &'static str {
        match self {
            Self::SubMiniatureBlade => "ISO 8820-12 N",
            Self::MiniatureBlade => "ISO 8820-3 F",
            Self::MediumBlade => "ISO 8820-3 C",
            Self::LargeBlade => "ISO 8820-3 E",
            Self::Strip30 => "ISO 8820-5 SF 30",
            Self::Strip51 => "ISO 8820-5 SF 51",
            Self::SingleBolt => "ISO 8820-6",
        }
    }

    /// The lowest voltage rating in which the family is sold (32 V where 58 V also exists). Verified in the scopes.
    #[must_use]
    pub const fn rated_voltage(self) -> Voltage {
        Voltage::from_volts(match self {
            Self::SingleBolt => 58.0,
            _ => 32.0,
        })
    }

    /// The current the fuse can interrupt at its rated voltage. Verified in the scopes.
    #[must_use]
    pub const fn breaking_capacity(self) -> Current {
        Current::from_amperes(match self {
            Self::SubMiniatureBlade | Self::MiniatureBlade | Self::MediumBlade | Self::LargeBlade => 1000.0,
            Self::Strip30 | Self::Strip51 | Self::SingleBolt => 2000.0,
        })
    }

    /// The family's steps, smallest first.
    ///
    /// Type E up to 80 A stands in a DIN 72581-3 extract. Elsewhere the span of currents is verified and the steps are
    /// from memory or a hobby table.
    pub fn ratings(self) -> impl Iterator<Item = FuseRating> {
        let steps: &'static [f64] = match self {
            Self::SubMiniatureBlade => &N,
            Self::MiniatureBlade => &F,
            Self::MediumBlade => &C,
            Self::LargeBlade => &E,
            Self::Strip30 => &SF30,
            Self::Strip51 => &SF51,
            Self::SingleBolt => &BOLT,
        };
        steps.iter().map(move |amperes| FuseRating {
            family: self,
            rating: Current::from_amperes(*amperes),
            standing: if self == Self::LargeBlade && *amperes <= 80.0 {
                Standing::Verified
            } else {
                Standing::Partly
            },
        })
    }
}
