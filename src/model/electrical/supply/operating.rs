//! The point at which a source with resistance and an amplifier agree, and whether there is one.
use crate::model::electrical::check::{supply_v, within};
use crate::model::error::ModelError;
use crate::units::{Current, Power, Resistance, Voltage};

/// A voltage behind a resistance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Source {
    /// Voltage without load.
    pub emf: Voltage,
    /// Everything in series: battery, cable, return.
    pub resistance: Resistance,
}

impl Source {
    /// The most it can deliver to any load, V²/4R, at half its voltage; `None` without resistance.
    #[must_use]
    pub fn most_power(&self) -> Option<Power> {
        let (v, r) = (self.emf.volts(), self.resistance.ohms());
        (r > 0.0).then(|| Power::from_watts(v * v / (4.0 * r)))
    }
    /// The current into a dead short; `None` without resistance.
    #[must_use]
    pub fn short_circuit(&self) -> Option<Current> {
        let (v, r) = (self.emf.volts(), self.resistance.ohms());
        (r > 0.0).then(|| Current::from_amperes(v / r))
    }
    /// The same source behind more resistance.
    #[must_use]
    pub fn behind(self, more: Resistance) -> Self {
        Self { resistance: self.resistance + more, ..self }
    }
}

/// What settles at the load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OperatingPoint {
    /// Voltage at the load.
    pub voltage: Voltage,
    /// Current in the feed.
    pub current: Current,
    /// Power taken there: voltage times current.
    pub power: Power,
    /// What the source loses on the way.
    pub sag: Voltage,
}

/// There is no point: the load wants more than the source has at every voltage above half the source's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NoPoint {
    /// The most the source delivers to any load, V²/4R.
    pub most: Power,
    /// What the load would take at half the source's voltage.
    pub wanted: Power,
}

/// Steps of the search for the uppermost point.
const STEPS: u32 = 64;

/// The operating point with the highest voltage, above half the source's.
///
/// `demand` is the power the load takes at a voltage. A load of constant power has two points or none; only the upper
/// one is stable, and an amplifier switches off long before half the voltage, so points below are none.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a voltage outside 2 V to 1000 V or a resistance outside 0 Ω to 100 Ω; whatever
/// `demand` refuses.
pub fn operate(
    source: Source,
    demand: &dyn Fn(Voltage) -> Result<Power, ModelError>,
) -> Result<Result<OperatingPoint, NoPoint>, ModelError> {
    let v0 = within(
        "source voltage in volts",
        supply_v("source voltage in volts", source.emf.volts())?,
        2.0,
        1e3,
    )?;
    let r = within("source resistance in ohms", source.resistance.ohms(), 0.0, 100.0)?;
    // What the source can give at v beyond what the load takes, times r.
    let spare = |v: f64| -> Result<f64, ModelError> {
        Ok(v * (v0 - v) - r * demand(Voltage::from_volts(v))?.watts())
    };
    let mut above = v0;
    for step in 1..=STEPS {
        let v = v0 * (1.0 - 0.5 * f64::from(step) / f64::from(STEPS));
        if spare(v)? >= 0.0 {
            let v = settle(&spare, v, above)?;
            return Ok(Ok(point(v0, r, v, demand)?));
        }
        above = v;
    }
    let wanted = demand(Voltage::from_volts(0.5 * v0))?;
    Ok(Err(NoPoint { most: Power::from_watts(v0 * v0 / (4.0 * r.max(1e-12))), wanted }))
}

/// Bisects to the last digit, as a small resistance makes much current of little voltage: `spare` is not negative at
/// `low` and not positive at `high`.
fn settle(
    spare: &dyn Fn(f64) -> Result<f64, ModelError>,
    mut low: f64,
    mut high: f64,
) -> Result<f64, ModelError> {
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if spare(middle)? >= 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(low)
}

fn point(
    v0: f64,
    r: f64,
    v: f64,
    demand: &dyn Fn(Voltage) -> Result<Power, ModelError>,
) -> Result<OperatingPoint, ModelError> {
    // Without resistance the source's voltage alone gives no current: the demand does.
    let amperes = if r > 1e-9 { (v0 - v) / r } else { demand(Voltage::from_volts(v))?.watts() / v };
    Ok(OperatingPoint {
        voltage: Voltage::from_volts(v),
        current: Current::from_amperes(amperes),
        power: Power::from_watts(v * amperes),
        sag: Voltage::from_volts(v0 - v),
    })
}
