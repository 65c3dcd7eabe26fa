//! Power and supply current of an amplifier at a load: ratings, bridging, and how power follows the supply.
mod points;

use super::check::{load_ohm, supply_v, within};
use crate::model::error::ModelError;
use crate::units::{Current, Power, Resistance, Voltage};

/// One line of the maker's rating.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rating {
    /// Load per channel.
    pub load: Resistance,
    /// Continuous power per channel into it.
    pub power: Power,
    /// Supply at which it was measured; 14.4 V where the maker follows CTA-2006.
    pub supply: Voltage,
}

/// How outputs are joined to the load.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Output {
    /// One channel drives the load.
    #[default]
    Single,
    /// Two channels of one amplifier in opposite phase: each works into half the load.
    Bridged,
    /// Two amplifiers in opposite phase, where their maker allows it: each works into half the load.
    Strapped,
}

impl Output {
    /// How many outputs work in series on the load.
    #[must_use]
    pub const fn parts(self) -> f64 {
        match self {
            Self::Single => 1.0,
            Self::Bridged | Self::Strapped => 2.0,
        }
    }
    /// How many amplifiers, each with an input of its own from the feed, share the draw.
    #[must_use]
    pub const fn amplifiers(self) -> f64 {
        match self {
            Self::Single | Self::Bridged => 1.0,
            Self::Strapped => 2.0,
        }
    }
}

/// How power follows the supply where the maker rates one supply only.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Rails {
    /// Rails in proportion to the supply: P with its square.
    #[default]
    Follow,
    /// Regulated rails: P stays, and the current rises as the supply falls.
    Regulated,
}

impl Rails {
    const fn exponent(self) -> f64 {
        match self {
            Self::Follow => 2.0,
            Self::Regulated => 0.0,
        }
    }
}

/// An amplifier as rated.
#[derive(Clone, Debug, PartialEq)]
pub struct Amplifier {
    ratings: Vec<Rating>,
    stable_minimum: Resistance,
    channels: u8,
    efficiency: f64,
    output: Output,
    rails: Rails,
}

/// Where a power at a load comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PowerBasis {
    /// The maker rates this load.
    Rated,
    /// Not rated; the maker rates a lower and a higher load.
    BetweenRated,
    /// Not rated, and outside what is rated.
    OutsideRated,
}

/// Power of one channel at a load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PowerAtLoad {
    /// The least of the models; equal to `high` at a rated load.
    pub low: Power,
    /// The most of the models.
    pub high: Power,
    /// Along a straight line between the neighbouring ratings on logarithmic axes; the rating itself at a rated load.
    pub interpolated: Option<Power>,
    /// Rated or not.
    pub basis: PowerBasis,
    /// Whether power was scaled because the supply differs from the rating's.
    pub supply_scaled: bool,
    /// Whether the load is at or above the stable minimum.
    pub stable: bool,
}

impl PowerAtLoad {
    /// One figure for a plan: rated or interpolated, else the low end of the range.
    #[must_use]
    pub fn expected(&self) -> Power {
        self.interpolated.unwrap_or(self.low)
    }
}

/// What an amplifier draws from its supply.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SupplyDraw {
    /// All channels at full power, continuously: the current that cable and fuse are chosen for.
    pub worst_case: Current,
    /// Average with the music duty given.
    pub average: Current,
    /// The share of full power that the average assumes.
    pub music_share: f64,
}

/// Two loads are the same rating where they differ by less than this part.
const SAME_LOAD: f64 = 0.005;

impl Amplifier {
    /// An amplifier with at least one rating.
    ///
    /// `efficiency` is power out over power in at full power, 0.2 to 0.99.
    ///
    /// # Errors
    /// [`ModelError::Missing`] without a rating; [`ModelError::OutOfRange`] for a load outside 0.01 Ω to 10 kΩ, a
    /// power outside 0.1 W to 100 kW, a supply outside 1 V to 1000 V, channels outside 1 to 16, or the efficiency.
    pub fn new(
        mut ratings: Vec<Rating>,
        stable_minimum: Resistance,
        channels: u8,
        efficiency: f64,
    ) -> Result<Self, ModelError> {
        if ratings.is_empty() {
            return Err(ModelError::Missing { what: "rated power" });
        }
        for rating in &ratings {
            load_ohm("rated load in ohms", rating.load.ohms())?;
            within("rated power in watts", rating.power.watts(), 0.1, 1e5)?;
            supply_v("rated supply in volts", rating.supply.volts())?;
        }
        load_ohm("stable minimum load in ohms", stable_minimum.ohms())?;
        within("number of channels", f64::from(channels), 1.0, 16.0)?;
        within("efficiency", efficiency, 0.2, 0.99)?;
        crate::small::sort_by(&mut ratings, |a, b| a.load.ohms().total_cmp(&b.load.ohms()));
        let (output, rails) = (Output::Single, Rails::Follow);
        Ok(Self { ratings, stable_minimum, channels, efficiency, output, rails })
    }

    /// The same amplifier with its outputs joined otherwise. `least` is the least load the maker allows so joined;
    /// without it, each output's own least load counts, which is twice the stable minimum for two in series.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for a least load outside 0.01 Ω to 10 kΩ.
    pub fn joined(mut self, output: Output, least: Option<Resistance>) -> Result<Self, ModelError> {
        if let Some(least) = least {
            load_ohm("least load in ohms", least.ohms())?;
            self.stable_minimum = least * (1.0 / output.parts());
        }
        self.output = output;
        Ok(self)
    }

    /// The same amplifier with its supply described otherwise.
    #[must_use]
    pub const fn with_rails(mut self, rails: Rails) -> Self {
        self.rails = rails;
        self
    }

    /// How the outputs are joined.
    #[must_use]
    pub const fn output(&self) -> Output {
        self.output
    }

    /// Power out over power in at full power.
    #[must_use]
    pub const fn efficiency(&self) -> f64 {
        self.efficiency
    }

    /// The least load as joined.
    #[must_use]
    pub fn least_load(&self) -> Resistance {
        self.stable_minimum * self.output.parts()
    }

    /// Ratings by rising load.
    #[must_use]
    pub fn ratings(&self) -> &[Rating] {
        &self.ratings
    }

    /// Whether the maker allows this load.
    #[must_use]
    pub fn is_stable_at(&self, load: Resistance) -> bool {
        load.ohms() >= self.least_load().ohms() * (1.0 - SAME_LOAD)
    }

    /// Power into a load at a supply.
    ///
    /// Two outputs in series each see half the load and give half the power. At a rated load the rating; elsewhere a
    /// range. As the load falls, an amplifier's voltage does not rise and its current does not fall, so between two rated
    /// loads the power lies between the voltage-limited P = V²/Z and the current-limited P = I²Z of both. The higher the
    /// load, the more it is the voltage that limits: on logarithmic axes the slope of power over load falls from 1 towards
    /// −1. So beyond the ratings the line through the last two of them is the most, and the voltage-limited power above, the
    /// current-limited below, the least. With a single rating the most is that same power into a higher load (common
    /// practice, no source) and the voltage-limited one into a lower. A load rated at two supplies follows the power law through both; one rated at a single supply scales
    /// with (Vs/Vrated)² or, with regulated rails, not at all.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for a load outside 0.02 Ω to 10 kΩ or a supply outside 1 V to 1000 V.
    pub fn power_at(&self, load: Resistance, supply: Voltage) -> Result<PowerAtLoad, ModelError> {
        let parts = self.output.parts();
        let whole = load_ohm("load in ohms", load.ohms())?;
        let z = load_ohm("load of each output in ohms", whole / parts)?;
        let vs = supply_v("supply in volts", supply.volts())?;
        let stable = self.is_stable_at(load);
        let found = points::power(&points::at_supply(&self.ratings, self.rails.exponent(), vs), z)?;
        Ok(PowerAtLoad {
            low: found.low * parts,
            high: found.high * parts,
            interpolated: found.interpolated.map(|power| power * parts),
            stable,
            ..found
        })
    }

    /// Current from the supply at `per_channel` power in every channel: I = n·P/(η·V).
    ///
    /// `music_share` is the average as a share of full power, 0 to 1; 1/8 is common practice for music and 1/3 for
    /// dense bass (common practice, no source).
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for a power outside 0 W to 100 MW, a supply outside 1 V to 1000 V or a share outside 0 to 1.
    pub fn supply_draw(
        &self,
        per_channel: Power,
        supply: Voltage,
        music_share: f64,
    ) -> Result<SupplyDraw, ModelError> {
        let p = within("power in watts", per_channel.watts(), 0.0, 1e8)?;
        let vs = supply_v("supply in volts", supply.volts())?;
        let share = within("music share", music_share, 0.0, 1.0)?;
        let worst = f64::from(self.channels) * p / (self.efficiency * vs);
        Ok(SupplyDraw {
            worst_case: Current::from_amperes(worst),
            average: Current::from_amperes(worst * share),
            music_share: share,
        })
    }
}
