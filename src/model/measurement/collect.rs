//! Samples as they come from a microphone: made few for the bass, and looked at for clipping on the way.
use std::f64::consts::{PI, TAU};

/// Lowest sample rate accepted, Hz: below it a hands-free profile or a voice codec is at work.
pub const LEAST_RATE_HZ: f64 = 32_000.0;
/// The rate aimed at, Hz.
const FEW_HZ: f64 = 1_200.0;
/// The filter passes up to here and stops what would fold back below it, Hz.
const PASS_HZ: f64 = 330.0;
/// Kaiser's β for 80 dB.
const BETA: f64 = 7.857;
/// Samples above this are at the end of the scale.
const TOP: f64 = 0.98;
/// Equal samples at the largest value for so long are a flat top, s. The top of a slow bass tone in 16 bits stays equal
/// for up to 1 ms by itself; cut off by 1 dB, a tone of 40 Hz stays for 4 ms.
const FLAT_S: f64 = 1.5e-3;
/// A flat top lower than this is silence.
const LEAST_TOP: f64 = 0.05;

/// What was collected.
#[derive(Clone, Debug, PartialEq)]
pub struct Collected {
    /// The samples' rate as they came, Hz.
    pub given_hz: f64,
    /// The rate of the samples kept, Hz.
    pub rate_hz: f64,
    /// Samples kept.
    pub samples: Vec<f64>,
    /// Largest absolute value that came.
    pub peak: f64,
    /// Samples at the end of the scale or in a flat top.
    pub clipped: usize,
}

/// Takes samples block by block.
#[derive(Clone, Debug)]
pub struct Collector {
    filter: Vec<f64>,
    every: usize,
    /// The last samples that came, as many as the filter has at least.
    line: Vec<f64>,
    /// Samples still to come before the next one is kept.
    wait: usize,
    over: usize,
    /// Longest run at the largest value so far, and the run now.
    longest: u32,
    run: (f64, u32),
    out: Collected,
}

impl Collector {
    /// For samples at this rate, held between 8 kHz and 768 kHz.
    #[must_use]
    pub fn new(given_hz: f64) -> Self {
        let given_hz = if given_hz.is_finite() { given_hz.clamp(8_000.0, 768_000.0) } else { 48_000.0 };
        let every = (given_hz / FEW_HZ).floor().max(1.0) as usize;
        let rate_hz = given_hz / every as f64;
        let filter = low_pass(given_hz, rate_hz);
        let line = vec![0.0; filter.len() - 1];
        let wait = filter.len() / 2;
        let out = Collected { given_hz, rate_hz, samples: Vec::new(), peak: 0.0, clipped: 0 };
        Self { filter, every, line, wait, over: 0, longest: 0, run: (0.0, 0), out }
    }
    /// Takes a block; a sample that is no number counts as silence.
    pub fn push(&mut self, block: &[f32]) {
        for sample in block {
            let sample = f64::from(*sample);
            let sample = if sample.is_finite() { sample.clamp(-8.0, 8.0) } else { 0.0 };
            self.watch(sample);
            self.line.push(sample);
        }
        let length = self.filter.len();
        let mut at = 0;
        while let Some(piece) = self.line.get(at + self.wait..).and_then(|rest| rest.get(..length)) {
            let sum = piece.iter().zip(&self.filter).map(|(x, h)| x * h).sum();
            self.out.samples.push(sum);
            at += self.wait;
            self.wait = self.every;
        }
        // What the next output needs stays; its place is `wait` behind the last one.
        self.line.drain(..at.min(self.line.len()));
    }
    fn watch(&mut self, sample: f64) {
        let size = sample.abs();
        self.over += usize::from(size > TOP);
        if self.run.1 > 0 && sample == self.run.0 {
            self.run.1 += 1;
        } else {
            self.run = (sample, 1);
        }
        if size > self.out.peak {
            self.out.peak = size;
            self.longest = 0;
        }
        if size == self.out.peak {
            self.longest = self.longest.max(self.run.1);
        }
    }
    /// Seconds taken so far.
    #[must_use]
    pub fn seconds(&self) -> f64 {
        self.out.samples.len() as f64 / self.out.rate_hz
    }
    /// What was collected.
    #[must_use]
    pub fn finish(self) -> Collected {
        let long = f64::from(self.longest) >= FLAT_S * self.out.given_hz;
        let flat = if long && self.out.peak > LEAST_TOP { self.longest as usize } else { 0 };
        Collected { clipped: self.over.max(flat), ..self.out }
    }
}

/// A windowed sinc with unit gain at zero.
///
/// # Source
/// Kaiser's window and length: Oppenheim and Schafer, Discrete-Time Signal Processing, 7.5.3.
fn low_pass(given_hz: f64, kept_hz: f64) -> Vec<f64> {
    let stop_hz = (kept_hz - PASS_HZ).max(PASS_HZ + 50.0);
    let width = TAU * (stop_hz - PASS_HZ) / given_hz;
    let half = ((80.0 - 7.95) / (2.285 * width) / 2.0).ceil().clamp(8.0, 20_000.0);
    let cut = (PASS_HZ + stop_hz) / given_hz;
    let tap = |n: f64| {
        let sinc = if n == 0.0 { cut } else { (PI * cut * n).sin() / (PI * n) };
        sinc * bessel(BETA * (1.0 - (n / half).powi(2)).max(0.0).sqrt())
    };
    let taps: Vec<f64> = (0..=2 * half as usize).map(|n| tap(n as f64 - half)).collect();
    let sum: f64 = taps.iter().sum();
    taps.iter().map(|tap| tap / sum).collect()
}

/// I₀ by its series.
fn bessel(x: f64) -> f64 {
    let (mut sum, mut term) = (1.0, 1.0);
    for k in 1..40 {
        term *= (x / 2.0 / f64::from(k)).powi(2);
        sum += term;
    }
    sum
}
