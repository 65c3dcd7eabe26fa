//! The circuit behind the proof of a box: driver, box, resistor and meter.
use super::proof::Proof;
use crate::model::acoustics::CoilImpedance;
use num_complex::Complex64;
use std::f64::consts::TAU;

/// A box by its small-signal values.
#[derive(Clone, Copy, Debug)]
pub(super) struct Circuit {
    /// Resonance of the driver by itself.
    pub(super) fs: f64,
    /// Compliance of the driver over that of the box.
    pub(super) alpha: f64,
    /// Tuning of the port.
    pub(super) fb: f64,
    /// 1/QL, at fb or, closed, at fc.
    pub(super) loss: f64,
}

impl Circuit {
    pub(super) fn of([fs, alpha, fb, loss]: [f64; 4]) -> Self {
        Self { fs: fs.exp(), alpha: alpha.exp(), fb: fb.exp(), loss }
    }
    /// fc = fs·√(1 + α).
    pub(super) fn fc(&self) -> f64 {
        self.fs * (1.0 + self.alpha).sqrt()
    }
}

/// Driver and meter.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rig {
    re: f64,
    coil: CoilImpedance,
    /// Qes over fs, which the mass gives.
    qes_per_hz: f64,
    qms: f64,
    resistor: f64,
}

impl Rig {
    pub(super) fn of(proof: &Proof) -> Self {
        let driver = &proof.driver;
        Self {
            re: driver.re.ohms(),
            coil: driver.coil,
            qes_per_hz: driver.qes / driver.fs.hertz(),
            qms: driver.qms,
            resistor: proof.resistor.ohms(),
        }
    }
    /// The meter's reading over the generator's voltage; `load` is what the box puts before the cone, over the moving
    /// mass's impedance at fs.
    fn share(&self, fs: f64, hz: f64, load: Complex64) -> f64 {
        let s = Complex64::new(0.0, hz / fs);
        let cone = s + 1.0 / s + 1.0 / self.qms + load;
        let z = self.re + self.coil.at(TAU * hz).0 + self.re / (self.qes_per_hz * fs) / cone;
        (z / (z + self.resistor)).norm()
    }
    /// The driver by itself.
    pub(super) fn free(&self, circuit: &Circuit, hz: f64) -> f64 {
        self.share(circuit.fs, hz, Complex64::ZERO)
    }
    /// The box with its port stopped up, or without one.
    pub(super) fn closed(&self, circuit: &Circuit, hz: f64) -> f64 {
        self.boxed(circuit, circuit.fc(), hz, Complex64::ZERO)
    }
    /// The box with its port.
    pub(super) fn vented(&self, circuit: &Circuit, hz: f64) -> f64 {
        self.boxed(circuit, circuit.fb, hz, 1.0 / Complex64::new(0.0, hz / circuit.fb))
    }
    /// Air, leak and port side by side, each by what flows through it over ω·Cab at `reference`.
    fn boxed(&self, circuit: &Circuit, reference: f64, hz: f64, port: Complex64) -> f64 {
        let air = Complex64::new(0.0, hz / reference);
        let load = circuit.alpha * circuit.fs / reference / (air + circuit.loss + port);
        self.share(circuit.fs, hz, load)
    }
    /// Where the stopped box peaks.
    pub(super) fn peak_stopped(&self, circuit: &Circuit) -> f64 {
        let fc = circuit.fc();
        extreme(|hz| -self.closed(circuit, hz), 0.8 * fc, 1.25 * fc)
    }
    /// Where the vented box dips; `None` for values out of which no search can be made.
    pub(super) fn dip(&self, circuit: &Circuit) -> Option<f64> {
        let found = extreme(|hz| self.vented(circuit, hz), 0.75 * circuit.fb, 1.25 * circuit.fb);
        found.is_finite().then_some(found)
    }
}

/// The least value of a function with one valley, by thirds.
fn extreme(of: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    for _ in 0..40 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if of(a) < of(b) { high = b } else { low = a }
    }
    0.5 * (low + high)
}
