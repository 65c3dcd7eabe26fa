//! Power, gain voltage and supply current of an amplifier at a load.
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

/// An amplifier as rated.
#[derive(Clone, Debug, PartialEq)]
pub struct Amplifier {
    ratings: Vec<Rating>,
    stable_minimum: Resistance,
    channels: u8,
    efficiency: f64,
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
        Ok(Self { ratings, stable_minimum, channels, efficiency })
    }

    /// Ratings by rising load.
    #[must_use]
    pub fn ratings(&self) -> &[Rating] {
        &self.ratings
    }

    /// Whether the maker allows this load.
    #[must_use]
    pub fn is_stable_at(&self, load: Resistance) -> bool {
        load.ohms() >= self.stable_minimum.ohms() * (1.0 - SAME_LOAD)
    }

    /// Power of one channel at a load and supply.
    ///
    /// At a rated load the rating; elsewhere a range. As the load falls, an amplifier's voltage does not rise and its
    /// current does not fall, so at an unrated load the power lies between the voltage-limited P = V²/Z and the
    /// current-limited P = I²Z of the neighbouring ratings. A differing supply scales by (Vs/Vrated)², which holds for
    /// an amplifier whose rails follow its supply; one with regulated rails changes less.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for a load outside 0.01 Ω to 10 kΩ or a supply outside 1 V to 1000 V.
    pub fn power_at(&self, load: Resistance, supply: Voltage) -> Result<PowerAtLoad, ModelError> {
        let z = load_ohm("load in ohms", load.ohms())?;
        let vs = supply_v("supply in volts", supply.volts())?;
        let points = self.at_supply(vs);
        let stable = self.is_stable_at(load);
        let below = points.iter().rev().find(|point| point.z <= z * (1.0 + SAME_LOAD));
        let above = points.iter().find(|point| point.z >= z * (1.0 - SAME_LOAD));
        let used = [below, above];
        let supply_scaled = used.iter().flatten().any(|point| point.scaled);
        let exact = used.into_iter().flatten().find(|point| (point.z / z - 1.0).abs() <= SAME_LOAD);
        let (low, high, interpolated, basis) = match (exact, below, above) {
            (Some(point), ..) => (point.p, point.p, Some(point.p), PowerBasis::Rated),
            (None, Some(b), Some(a)) => {
                let low = b.voltage_limited(z).max(a.current_limited(z));
                let high = a.voltage_limited(z).min(b.current_limited(z));
                let slope = (a.p / b.p).ln() / (a.z / b.z).ln();
                let line = b.p * (z / b.z).powf(slope);
                // Ratings that contradict the assumption still give an ordered range around the line.
                (low.min(high).min(line), high.max(low).max(line), Some(line), PowerBasis::BetweenRated)
            }
            (None, Some(only), None) | (None, None, Some(only)) => {
                let (v, i) = (only.voltage_limited(z), only.current_limited(z));
                (v.min(i), v.max(i), None, PowerBasis::OutsideRated)
            }
            (None, None, None) => {
                return Err(ModelError::Missing { what: "rated power" });
            }
        };
        Ok(PowerAtLoad {
            low: Power::from_watts(low),
            high: Power::from_watts(high),
            interpolated: interpolated.map(Power::from_watts),
            basis,
            supply_scaled,
            stable,
        })
    }

    /// One point a load, of the rating whose supply is nearest, scaled to `vs`.
    fn at_supply(&self, vs: f64) -> Vec<Point> {
        let mut points: Vec<(f64, Point)> = Vec::new();
        for rating in &self.ratings {
            let ratio = vs / rating.supply.volts();
            let distance = ratio.ln().abs();
            let scaled = distance > 1e-9;
            let p = rating.power.watts() * ratio * ratio;
            let point = Point { z: rating.load.ohms(), p, scaled };
            match points.last_mut() {
                Some((nearest, last)) if (last.z / point.z - 1.0).abs() <= SAME_LOAD => {
                    if distance < *nearest {
                        (*nearest, *last) = (distance, point);
                    }
                }
                _ => points.push((distance, point)),
            }
        }
        points.into_iter().map(|(_, point)| point).collect()
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

#[derive(Clone, Copy)]
struct Point {
    z: f64,
    p: f64,
    scaled: bool,
}

impl Point {
    /// V²/Z with V² = P·Z of this point.
    fn voltage_limited(&self, z: f64) -> f64 {
        self.p * self.z / z
    }
    /// I²Z with I² = P/Z of this point.
    fn current_limited(&self, z: f64) -> f64 {
        self.p * z / self.z
    }
}
