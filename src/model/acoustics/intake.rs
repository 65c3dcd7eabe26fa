//! What the amplifier has to give: current and power.

use super::{Drive, Response};
use crate::units::Resistance;

/// Current and power at each frequency of a response.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Intake {
    /// Rms current of the source, A.
    pub current_a: Vec<f64>,
    /// Power that enters the loudspeaker's terminals, W.
    pub power_w: Vec<f64>,
}

impl Intake {
    /// The intake at `drive`, with nothing in the signal path: I = E/|Z + Rg|, P = I²·Re Z.
    #[must_use]
    pub fn of(drive: &Drive, response: &Response) -> Self {
        let mut out = Self::default();
        for z in &response.impedance_ohm {
            let current = drive.voltage.volts() / (z + drive.source_resistance.ohms()).norm();
            out.current_a.push(current);
            out.power_w.push(current * current * z.re);
        }
        out
    }

    /// The intake behind a signal path that multiplies the voltage by `gain` at each frequency.
    #[must_use]
    pub fn through(mut self, gain: &[f64]) -> Self {
        for ((current, power), gain) in self.current_a.iter_mut().zip(&mut self.power_w).zip(gain) {
            *current *= gain;
            *power *= gain * gain;
        }
        self
    }
}

/// Temperature coefficient of copper's resistance at 20 °C, 1/K (IEC 60228).
pub const COPPER_PER_KELVIN: f64 = 0.003_93;

/// A coil's resistance when it is warmer than 20 °C by `kelvin`.
#[must_use]
pub fn warm_resistance(cold: Resistance, kelvin: f64) -> Resistance {
    cold * (1.0 + COPPER_PER_KELVIN * kelvin)
}

/// How much a coil warms at a constant voltage that would be `cold_watts` in the cold coil.
///
/// The warm coil takes less: ΔT = Rth·P/(1 + αΔT), so αΔT = (√(1 + 4α·Rth·P) − 1)/2. The whole power is taken to heat
/// the coil, and only the resistance to limit the current: an upper bound near the impedance's least.
#[must_use]
pub fn steady_warming_k(cold_watts: f64, thermal_resistance_k_w: f64) -> f64 {
    let drive = COPPER_PER_KELVIN * thermal_resistance_k_w * cold_watts.max(0.0);
    0.5 * ((1.0 + 4.0 * drive).sqrt() - 1.0) / COPPER_PER_KELVIN
}

/// The level a warm coil loses in the mass-controlled band, dB: 20·lg((R(1+αΔT) + Rg)/(R + Rg)).
#[must_use]
pub fn compression_db(cold: Resistance, source: Resistance, kelvin: f64) -> f64 {
    let warm = warm_resistance(cold, kelvin);
    20.0 * ((warm.ohms() + source.ohms()) / (cold.ohms() + source.ohms())).log10()
}
