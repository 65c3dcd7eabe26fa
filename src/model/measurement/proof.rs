//! The built box proven by its impedance: net volume, tuning and losses from the frequencies of peaks and dip.
use super::proof_circuit::{Circuit, Rig};
use crate::model::acoustics::CoilImpedance;
use crate::model::error::{ModelError, within};
use crate::model::numeric::DenseSystem;
use crate::units::{Frequency, Resistance, Volume};
use num_complex::Complex64;

/// The drivers in the box together, as the generator sees them; by their data sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProofDriver {
    /// DC resistance as wired.
    pub re: Resistance,
    /// The rest of the coils' impedance as wired.
    pub coil: CoilImpedance,
    /// Resonance printed.
    pub fs: Frequency,
    /// Electrical Q printed.
    pub qes: f64,
    /// Mechanical Q printed.
    pub qms: f64,
    /// Vas of all of them together.
    pub vas: Volume,
}

/// What was measured: tones behind a resistor, a meter across the box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proof {
    /// The drivers.
    pub driver: ProofDriver,
    /// The resistor in series.
    pub resistor: Resistance,
    /// Peak of the driver by itself, the same day.
    pub fs: Frequency,
    /// Peaks of the box.
    pub peaks: Peaks,
    /// Half the interval within which a peak was found, such as 0.1 Hz.
    pub resolution: Frequency,
}

/// The frequencies of the box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Peaks {
    /// A closed box's one.
    Closed(Frequency),
    /// A vented box's two, with the dip between.
    Vented {
        /// Lower peak.
        low: Frequency,
        /// Upper peak.
        high: Frequency,
        /// The dip, if it was found.
        dip: Option<Frequency>,
        /// The meter's reading there over the generator's voltage, if both are known.
        share: Option<f64>,
    },
}

/// What the box is by its impedance; each with its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProvenBox {
    /// Volume the driver feels: net volume, larger with fill.
    pub volume: Volume,
    /// Its standard uncertainty, that of the moving mass and the cone's area left out.
    pub volume_uncertainty: Volume,
    /// Tuning fb of a vented box, fc of a closed one.
    pub tuning: Frequency,
    /// Its standard uncertainty.
    pub tuning_uncertainty: Frequency,
    /// The box's losses together, where the dip's reading tells them.
    pub loss: Option<BoxLoss>,
    /// Where a box with these values dips, for the relation fL·fH = fs·fb.
    pub dip: Option<Frequency>,
    /// Where it peaks with its port stopped up, for fL² + fH² = fb² + fc².
    pub stopped: Frequency,
}

/// What a box loses by leak, fill and port together, told as the leak that would lose as much; twice the standard
/// uncertainty to either side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoxLoss {
    /// QL; `None` where the reading leaves nothing to a leak.
    pub ql: Option<f64>,
    /// No less than this.
    pub low: f64,
    /// No more than this; `None` where the reading can't tell.
    pub high: Option<f64>,
}

/// Losses 1/QL where no reading tells them, and their standard uncertainty (an assumption: QL 5 to beyond 40).
const LOSS: (f64, f64) = (0.1, 0.045);
/// Standard uncertainty of the impedance at the dip, as a share (an assumption: meter and resistor 1 % each, a warm coil).
const OHMS: f64 = 0.02;
/// The same of Qes and of Qms as printed (an assumption).
const PRINTED: [f64; 2] = [0.05, 0.1];
/// The same of the volume and the tuning by what the circuit leaves out, such as a port's loss beside the leak's.
const MODEL: [f64; 2] = [0.01, 0.002];

/// Net volume, tuning and losses: the circuit of driver, box, resistor and meter whose peaks and dip are those found.
///
/// The mass that moves is taken as printed, so that the compliance follows from the driver's own peak of the day.
///
/// # Errors
/// [`ModelError::OutOfRange`] for frequencies outside 1 Hz to 1 kHz or a volume outside 0.1 L to 20 m³;
/// [`ModelError::Impossible`] for peaks that no box has.
///
/// # Source
/// Small, JAES 20 (1972) 798 and 21 (1973) 363: the circuits. Without losses, inductance and with a large resistor they
/// give fc² = fs²(1 + α), fL·fH = fs·fb and fL² + fH² = fb² + fs²(1 + α), where the solution starts.
pub fn prove(proof: &Proof) -> Result<ProvenBox, ModelError> {
    let start = start(proof)?;
    let solved = solve(proof, LOSS.0, start, 40).ok_or(ModelError::Impossible {
        what: "No box behind this driver has these peaks: measure them again, the driver by itself too",
    })?;
    let circuit = Circuit::of(solved);
    let volume = volume(proof, &circuit);
    within("volume by these peaks in L", volume * 1e3, 0.1, 2e4)?;
    let rig = Rig::of(proof);
    let vented = matches!(proof.peaks, Peaks::Vented { .. });
    let stopped = rig.peak_stopped(&circuit);
    let tuning = |circuit: &Circuit| if vented { circuit.fb } else { circuit.fc() };
    let mut squares = [0.0; 3];
    for (moved, loss) in moved(proof) {
        // Where a moved reading fits no box any more, the uncertainty is as large as the figure.
        let other = solve(&moved, loss, solved, 20).map(Circuit::of);
        let apart = other.map_or([volume, tuning(&circuit), 1.0], |other| {
            [
                self::volume(&moved, &other) - volume,
                tuning(&other) - tuning(&circuit),
                other.loss - circuit.loss,
            ]
        });
        squares.iter_mut().zip(apart).for_each(|(sum, apart)| *sum += apart * apart);
    }
    let [spread, detuned, lossy] = squares.map(f64::sqrt);
    let reads_loss = matches!(proof.peaks, Peaks::Vented { share: Some(_), .. });
    Ok(ProvenBox {
        volume: Volume::from_cubic_metres(volume),
        volume_uncertainty: Volume::from_cubic_metres(spread.hypot(MODEL[0] * volume)),
        tuning: Frequency::from_hertz(tuning(&circuit)),
        tuning_uncertainty: Frequency::from_hertz(detuned.hypot(MODEL[1] * tuning(&circuit))),
        loss: reads_loss.then(|| box_loss(circuit.loss, lossy)).flatten(),
        dip: vented.then(|| rig.dip(&circuit)).flatten().map(Frequency::from_hertz),
        stopped: Frequency::from_hertz(stopped),
    })
}

/// A loss 1/QL with its standard uncertainty as QL.
fn box_loss(loss: f64, standard: f64) -> Option<BoxLoss> {
    let ql = |loss: f64| (loss > 0.0).then(|| 1.0 / loss);
    let low = ql(loss + 2.0 * standard)?;
    Some(BoxLoss { ql: ql(loss), low, high: ql(loss - 2.0 * standard) })
}

/// V = ρc²·Sd²/(Mms·ωs²·α) = Vas·(fs printed/fs of the day)²/α.
fn volume(proof: &Proof, circuit: &Circuit) -> f64 {
    let softer = proof.driver.fs.hertz() / circuit.fs;
    proof.driver.vas.cubic_metres() * softer * softer / circuit.alpha
}

/// The unknowns: ln fs, ln α, ln fb, 1/QL.
type Unknowns = [f64; 4];

/// Where the lossless formulas lead, after everything entered was looked at.
fn start(proof: &Proof) -> Result<Unknowns, ModelError> {
    let fs = proof.fs.hertz();
    let frequency = |f: Frequency| within("frequency in Hz", f.hertz(), 1.0, 1000.0);
    frequency(proof.fs)?;
    frequency(proof.driver.fs)?;
    within("resolution in Hz", proof.resolution.hertz(), 0.0, 20.0)?;
    within("Vas in L", proof.driver.vas.cubic_metres() * 1e3, 0.1, 2e4)?;
    within("resistance in Ω", proof.driver.re.ohms(), 0.05, 1000.0)?;
    within("resistor in Ω", proof.resistor.ohms(), 0.1, 1e5)?;
    within("Qes", proof.driver.qes, 0.05, 20.0)?;
    within("Qms", proof.driver.qms, 0.1, 100.0)?;
    proof.driver.coil.check()?;
    let (alpha, fb) = match proof.peaks {
        Peaks::Closed(fc) => {
            frequency(fc)?;
            ((fc.hertz() / fs).powi(2) - 1.0, fs)
        }
        Peaks::Vented { low, high, dip, share } => {
            for f in [Some(low), Some(high), dip].into_iter().flatten() {
                frequency(f)?;
            }
            if let Some(share) = share {
                within("reading over the generator's voltage", share, 1e-4, 0.999)?;
            }
            let (low, high) = (low.hertz(), high.hertz());
            let fb = low * high / fs;
            if !(low < fs && fs < high && low < fb && fb < high) {
                return Err(ModelError::Impossible {
                    what: "The driver's own resonance must lie between the two peaks: measure the three again",
                });
            }
            if dip.is_some_and(|dip| !(low < dip.hertz() && dip.hertz() < high)) {
                return Err(ModelError::Impossible { what: "The dip must lie between the two peaks" });
            }
            ((low * low + high * high - fb * fb) / (fs * fs) - 1.0, fb)
        }
    };
    if !(alpha.is_finite() && alpha > 0.0) {
        return Err(ModelError::Impossible {
            what: "The box must raise the driver's resonance: measure the driver by itself again",
        });
    }
    Ok([fs.ln(), alpha.ln(), fb.ln(), LOSS.0])
}

/// How far the circuit is from what was measured: slopes of the reading over log f at the peaks, and the reading at the
/// dip, or `loss` where there is none.
fn residuals(proof: &Proof, loss: f64, x: Unknowns) -> [f64; 4] {
    let (rig, circuit) = (Rig::of(proof), Circuit::of(x));
    let slope = |share: &dyn Fn(f64) -> f64, hz: f64| {
        let (up, down) = (share(hz * 1.001), share(hz / 1.001));
        (up / down).ln() / 0.002
    };
    let free = slope(&|hz| rig.free(&circuit, hz), proof.fs.hertz());
    match proof.peaks {
        Peaks::Closed(fc) => {
            let closed = slope(&|hz| rig.closed(&circuit, hz), fc.hertz());
            [free, closed, x[2] - proof.fs.hertz().ln(), x[3] - loss]
        }
        Peaks::Vented { low, high, dip, share } => {
            let at = |f: Frequency| slope(&|hz| rig.vented(&circuit, hz), f.hertz());
            let lossy = match dip.zip(share) {
                Some((dip, share)) => (rig.vented(&circuit, dip.hertz()) / share).ln(),
                None => x[3] - loss,
            };
            [free, at(low), at(high), lossy]
        }
    }
}

/// Newton's steps, none longer than a fifth; `None` where they lead nowhere.
fn solve(proof: &Proof, loss: f64, mut x: Unknowns, steps: usize) -> Option<Unknowns> {
    for _ in 0..steps {
        let here = residuals(proof, loss, x);
        let mut system = DenseSystem::<4>::new();
        for column in 0..4 {
            let mut beside = x;
            beside[column] += 1e-5;
            for (row, (there, here)) in residuals(proof, loss, beside).iter().zip(here).enumerate() {
                system.add(row, column, Complex64::from((there - here) / 1e-5));
            }
        }
        let step = system.factorised()?.solve(&here.map(Complex64::from)).map(|step| step.re);
        let longest = step.iter().fold(0.0_f64, |longest, step| longest.max(step.abs()));
        if !longest.is_finite() {
            return None;
        }
        let share = (0.2 / longest).min(1.0);
        x.iter_mut().zip(step).for_each(|(x, step)| *x -= share * step);
        // A box that gains energy has no meaning; a little of it is a reading's error.
        x[3] = x[3].clamp(-0.1, 2.0);
        if longest < 1e-9 {
            break;
        }
    }
    let far = residuals(proof, loss, x).iter().fold(0.0_f64, |far, one| far.max(one.abs()));
    (far < 1e-3 && x.iter().all(|x| x.is_finite())).then_some(x)
}

/// The proof with each reading, or the loss assumed, moved by its standard uncertainty: a peak found to ±d lies evenly
/// within it, d/√3 (GUM 4.3.7).
fn moved(proof: &Proof) -> Vec<(Proof, f64)> {
    let standard = proof.resolution.hertz() / 3_f64.sqrt();
    let later = |f: Frequency| Frequency::from_hertz(f.hertz() + standard);
    let mut moved = vec![Proof { fs: later(proof.fs), ..*proof }];
    let mut peaks = |peaks: Peaks| moved.push(Proof { peaks, ..*proof });
    match proof.peaks {
        Peaks::Closed(fc) => peaks(Peaks::Closed(later(fc))),
        Peaks::Vented { low, high, dip, share } => {
            peaks(Peaks::Vented { low: later(low), high, dip, share });
            peaks(Peaks::Vented { low, high: later(high), dip, share });
            // share = Z/(Z + R), so that a share of Z moves it by (1 − share) times as much.
            let off = |share: f64| share * (1.0 + OHMS * (1.0 - share));
            if let Some(share) = share {
                peaks(Peaks::Vented { low, high, dip, share: Some(off(share)) });
            }
        }
    }
    let [qes, qms] = PRINTED.map(|off| 1.0 + off);
    let driver = proof.driver;
    moved.push(Proof { driver: ProofDriver { qes: driver.qes * qes, ..driver }, ..*proof });
    moved.push(Proof { driver: ProofDriver { qms: driver.qms * qms, ..driver }, ..*proof });
    let mut moved: Vec<(Proof, f64)> = moved.into_iter().map(|proof| (proof, LOSS.0)).collect();
    moved.push((*proof, LOSS.0 + LOSS.1));
    moved
}

/// Both sides of a relation that holds without losses and inductance, and what they make of it in this box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Relation {
    /// What the box's two peaks make.
    pub left: f64,
    /// What the other frequencies measured make.
    pub right: f64,
    /// What they would make in a box with the values proven.
    pub expected: f64,
}

/// The two sides may differ so much from what is expected, as a share: a dip or a peak is found no better.
const RELATION: f64 = 0.04;

impl Relation {
    /// fL·fH = fs·fb, fb being the dip as found; `None` without it.
    #[must_use]
    pub fn product(proof: &Proof, proven: &ProvenBox) -> Option<Self> {
        let Peaks::Vented { low, high, dip: Some(dip), .. } = proof.peaks else { return None };
        let fs = proof.fs.hertz();
        Some(Self {
            left: low.hertz() * high.hertz(),
            right: fs * dip.hertz(),
            expected: fs * proven.dip?.hertz(),
        })
    }
    /// fL² + fH² = fb² + fc², fc being the peak measured with the port stopped up.
    #[must_use]
    pub fn sum(proof: &Proof, proven: &ProvenBox, fc: Frequency) -> Option<Self> {
        let Peaks::Vented { low, high, .. } = proof.peaks else { return None };
        let square = |f: Frequency| f.hertz().powi(2);
        Some(Self {
            left: square(low) + square(high),
            right: square(proven.tuning) + square(fc),
            expected: square(proven.tuning) + square(proven.stopped),
        })
    }
    /// Whether the right side is what this box should show.
    #[must_use]
    pub fn holds(&self) -> bool {
        (self.right / self.expected - 1.0).abs() <= RELATION
    }
}
