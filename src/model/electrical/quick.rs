//! Single questions that need no design.
use super::check::{current_a, load_ohm, within};
use crate::model::error::ModelError;
use crate::units::{Current, Power, Resistance, Voltage};

/// The DC resistance to expect of a coil of this nominal impedance: 0.70 to 0.95 of it.
///
/// Common practice, no source.
///
/// # Errors
/// [`ModelError::OutOfRange`] unless the nominal impedance is 0.01 Ω to 10 kΩ.
pub fn coil_resistance_band(nominal: Resistance) -> Result<(Resistance, Resistance), ModelError> {
    load_ohm("nominal impedance in ohms", nominal.ohms())?;
    Ok((nominal * 0.70, nominal * 0.95))
}

/// AC voltage (rms) across a load at a power, √(P·Z): what the meter shows when the gain is right.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a power outside 0 W to 100 kW or a load outside 0.01 Ω to 10 kΩ.
pub fn gain_voltage(power: Power, load: Resistance) -> Result<Voltage, ModelError> {
    let p = within("power in watts", power.watts(), 0.0, 1e5)?;
    let z = load_ohm("load in ohms", load.ohms())?;
    Ok(Voltage::from_volts((p * z).sqrt()))
}

/// What the supply's sag under load leaves of a power, and the AC voltage (rms) that makes it: P·(U₁/U₀)² and √(P·Z)·U₁/U₀
/// where the power is what an amplifier without a regulated supply makes at `rest` (U₀), and `loaded` (U₁) is what its
/// terminals still see at that load. Its largest output swing follows its supply.
///
/// # Errors
/// As [`gain_voltage`]; [`ModelError::OutOfRange`] for a supply outside 1 V to 1000 V, or `loaded` above `rest`.
pub fn sagged_gain(
    power: Power,
    load: Resistance,
    rest: Voltage,
    loaded: Voltage,
) -> Result<(Power, Voltage), ModelError> {
    let volts = gain_voltage(power, load)?;
    let at_rest = super::check::supply_v("supply at rest in volts", rest.volts())?;
    let left = within("supply under load in volts", loaded.volts(), 1.0, at_rest)? / at_rest;
    Ok((power * (left * left), volts * left))
}

/// Power into a load at an AC voltage (rms), V²/Z.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a voltage outside 0 V to 10 kV or a load outside 0.01 Ω to 10 kΩ.
pub fn power_from_voltage(voltage: Voltage, load: Resistance) -> Result<Power, ModelError> {
    let v = within("voltage in volts", voltage.volts(), 0.0, 1e4)?;
    let z = load_ohm("load in ohms", load.ohms())?;
    Ok(Power::from_watts(v * v / z))
}

/// Voltage lost over a resistance, and its part of the supply in percent.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a current outside 1 mA to 100 kA, a resistance outside 0 Ω to 10 kΩ or a supply outside 1 V to 1000 V.
pub fn drop_over(
    resistance: Resistance,
    current: Current,
    supply: Voltage,
) -> Result<(Voltage, f64), ModelError> {
    let r = within("resistance in ohms", resistance.ohms(), 0.0, 1e4)?;
    let i = current_a("current in amperes", current.amperes())?;
    let vs = super::check::supply_v("supply in volts", supply.volts())?;
    Ok((Voltage::from_volts(r * i), 100.0 * r * i / vs))
}
