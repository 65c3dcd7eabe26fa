//! The built box proven by its impedance: net volume and tuning from the frequencies of peaks and dip.
use crate::model::error::{ModelError, within};
use crate::units::{Frequency, Volume};

/// Frequencies measured on a closed box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClosedProof {
    /// Resonance of the driver by itself, the same day.
    pub fs: Frequency,
    /// Resonance in the box.
    pub fc: Frequency,
    /// Half the interval within which a peak was found, such as 0.2 Hz.
    pub resolution: Frequency,
    /// Vas of all drivers in the box together.
    pub vas: Volume,
}

/// Frequencies measured on a vented box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VentedProof {
    /// Resonance of the driver by itself, the same day.
    pub fs: Frequency,
    /// Lower peak.
    pub low: Frequency,
    /// Upper peak.
    pub high: Frequency,
    /// The dip between them, if it was found.
    pub dip: Option<Frequency>,
    /// Half the interval within which a peak was found.
    pub resolution: Frequency,
    /// Vas of all drivers in the box together.
    pub vas: Volume,
}

/// What the box is by its impedance; each with its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProvenBox {
    /// Volume the driver feels: net volume, larger with fill.
    pub volume: Volume,
    /// Its standard uncertainty, that of Vas left out.
    pub volume_uncertainty: Volume,
    /// Tuning fb of a vented box, fc of a closed one.
    pub tuning: Frequency,
    /// Its standard uncertainty.
    pub tuning_uncertainty: Frequency,
    /// Dip minus tuning: losses, coil inductance and a leak part them; more than a few per cent asks for a look.
    pub dip_apart: Option<Frequency>,
}

/// Standard uncertainty of the volume by what the lossless formulas leave out, as a share: leaks, fill, the coil's
/// inductance. The six reference circuits of closed and vented boxes, losses down to QL 7, stay within 1.8 %.
const VOLUME_MODEL: f64 = 0.015;
/// The same of the tuning; the reference circuits stay within 0.1 %.
const TUNING_MODEL: f64 = 0.002;

/// Net volume of a closed box: V = Vas/((fc/fs)² − 1).
///
/// # Errors
/// [`ModelError::OutOfRange`] for frequencies outside 1 Hz to 1 kHz or a volume outside 0.1 L to 20 m³;
/// [`ModelError::Impossible`] unless fc exceeds fs.
///
/// # Source
/// Small, JAES 20 (1972) 798: fc² = fs²(1 + Vas/V), lossless.
pub fn prove_closed(proof: ClosedProof) -> Result<ProvenBox, ModelError> {
    let measured = [proof.fs.hertz(), proof.fc.hertz()];
    check(&measured, proof.resolution, proof.vas)?;
    let ratio = |f: &[f64]| {
        let (fs, fc) = pair(f);
        (fc / fs).powi(2) - 1.0
    };
    finish(&measured, proof.resolution, proof.vas, ratio, |f| pair(f).1, None)
}

/// Net volume and tuning of a vented box: fb = fL·fH/fs, Vas/V = (fL² + fH² − fb²)/fs² − 1.
///
/// # Errors
/// As [`prove_closed`]; [`ModelError::Impossible`] unless fs and fb lie between the two peaks.
///
/// # Source
/// Small, JAES 21 (1973) 363: fL·fH = fs·fb and fL² + fH² = fb² + fs²(1 + α), lossless.
pub fn prove_vented(proof: VentedProof) -> Result<ProvenBox, ModelError> {
    let measured = [proof.fs.hertz(), proof.low.hertz(), proof.high.hertz()];
    check(&measured, proof.resolution, proof.vas)?;
    let tuning = |f: &[f64]| match f {
        [fs, low, high] => low * high / fs,
        _ => f64::NAN,
    };
    let ratio = move |f: &[f64]| match f {
        [fs, low, high] => (low * low + high * high - tuning(f).powi(2)) / (fs * fs) - 1.0,
        _ => f64::NAN,
    };
    let [fs, low, high] = measured;
    let fb = tuning(&measured);
    if !(low < fs && fs < high && low < fb && fb < high) {
        return Err(ModelError::Impossible {
            what: "The driver's own resonance must lie between the two peaks: measure the three again",
        });
    }
    if let Some(dip) = proof.dip.map(Frequency::hertz)
        && !(low < dip && dip < high)
    {
        return Err(ModelError::Impossible { what: "The dip must lie between the two peaks" });
    }
    finish(&measured, proof.resolution, proof.vas, ratio, tuning, proof.dip)
}

/// The impedance of a box behind a resistor by the voltage across it, the generator's voltage, and the resistor, Ω.
///
/// Exact where the impedance is a pure resistance, as at a peak and at the dip. `None` unless the box takes less than the
/// generator gives.
#[must_use]
pub fn impedance_of(box_volts: f64, source_volts: f64, resistor_ohms: f64) -> Option<f64> {
    let z = resistor_ohms * box_volts / (source_volts - box_volts);
    (z.is_finite() && z > 0.0).then_some(z)
}

/// QL of a vented box by its impedance at the dip: ((Re/(Z − Re))/Qes − 1/Qms)·fb/(fs·Vas/V).
///
/// `ratio` is Z over the drivers' DC resistance. `driver` is Qes and Qms. `None` where the dip leaves nothing to a leak.
///
/// # Source
/// Own derivation from Small's circuit (JAES 21 (1973) 363): at fb compliance and port cancel, so that the cone works into
/// the box's loss alone; the mass beside it is left out. Held against that circuit in full: within 6 % for QL of 7 to 20.
#[must_use]
pub fn box_leakage(
    proven: &ProvenBox,
    fs: Frequency,
    vas: Volume,
    (qes, qms): (f64, f64),
    ratio: f64,
) -> Option<f64> {
    let alpha = vas.cubic_metres() / proven.volume.cubic_metres();
    let loss = 1.0 / ((ratio - 1.0) * qes) - 1.0 / qms;
    let ql = loss * proven.tuning.hertz() / (fs.hertz() * alpha);
    (ratio > 1.0 && ql.is_finite() && ql > 0.0).then_some(ql)
}

fn pair(f: &[f64]) -> (f64, f64) {
    match f {
        [a, b, ..] => (*a, *b),
        _ => (f64::NAN, f64::NAN),
    }
}

fn check(measured: &[f64], resolution: Frequency, vas: Volume) -> Result<(), ModelError> {
    for hz in measured {
        within("frequency in Hz", *hz, 1.0, 1000.0)?;
    }
    within("resolution in Hz", resolution.hertz(), 0.0, 20.0)?;
    within("Vas in L", vas.cubic_metres() * 1e3, 0.1, 2e4).map(|_| ())
}

/// Volume, tuning and what an uncertainty of each frequency does to them, by central differences.
fn finish(
    measured: &[f64],
    resolution: Frequency,
    vas: Volume,
    ratio: impl Fn(&[f64]) -> f64,
    tuning: impl Fn(&[f64]) -> f64,
    dip: Option<Frequency>,
) -> Result<ProvenBox, ModelError> {
    let alpha = ratio(measured);
    if !(alpha.is_finite() && alpha > 0.0) {
        return Err(ModelError::Impossible {
            what: "The box must raise the driver's resonance: measure the driver by itself again",
        });
    }
    // A peak found to ±d lies evenly within it: standard uncertainty d/√3 (GUM 4.3.7).
    let standard = resolution.hertz() / 3_f64.sqrt();
    let spread = |value: &dyn Fn(&[f64]) -> f64| {
        let squares: f64 = (0..measured.len())
            .map(|i| {
                let moved = |by: f64| {
                    let mut f = measured.to_vec();
                    f.iter_mut().skip(i).take(1).for_each(|hz| *hz += by);
                    value(&f)
                };
                let step = 1e-4 * measured.get(i).copied().unwrap_or(1.0);
                (standard * (moved(step) - moved(-step)) / (2.0 * step)).powi(2)
            })
            .sum();
        squares.sqrt()
    };
    let volume = vas.cubic_metres() / alpha;
    within("volume by these peaks in L", volume * 1e3, 0.1, 2e4)?;
    let fb = tuning(measured);
    Ok(ProvenBox {
        volume: Volume::from_cubic_metres(volume),
        // dV/V = dα/α.
        volume_uncertainty: Volume::from_cubic_metres(volume * (spread(&ratio) / alpha).hypot(VOLUME_MODEL)),
        tuning: Frequency::from_hertz(fb),
        tuning_uncertainty: Frequency::from_hertz(spread(&tuning).hypot(TUNING_MODEL * fb)),
        dip_apart: dip.map(|dip| Frequency::from_hertz(dip.hertz() - fb)),
    })
}
