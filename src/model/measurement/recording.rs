//! From a recording of three sweeps to three takes: where they start, their curves, the noise, and what went wrong.
use num_complex::Complex64;

use super::bands::{Band, trial_frequencies};
use super::collect::{Collected, LEAST_RATE_HZ};
use super::fourier;
use super::sweep::{Lead, NextStep, Sweep, fade, next_step, noise_t};
use super::takes::Takes;

/// The response kept before and behind its peak, s.
const BEFORE_S: f64 = 0.2;
const BEHIND_S: f64 = 0.9;
/// Regularisation of the division, of the largest power.
const LEAST_POWER: f64 = 1e-6;
/// Below the sweep there is nothing to hear, only noise that the division would raise: taken out between these, Hz.
const NOTHING_HZ: f64 = 9.0;
const ALL_HZ: f64 = 16.0;
/// Bands that rank: sixth-octaves.
const PER_OCTAVE: u32 = 6;
/// Steps of the mean over a band, evenly over log f.
const STEPS: usize = 16;
/// Points less than this over the noise are gaps, dB.
const LEAST_OVER_NOISE_DB: f64 = 15.0;
/// Less than this over the noise is no sweep at all, dB.
const LEAST_FOUND_DB: f64 = 6.0;
/// The frequencies by which a take as a whole is judged, Hz.
const BASS_HZ: std::ops::RangeInclusive<f64> = 25.0..=80.0;
/// The peak of a found sweep stands at least so far over the usual sample of the response, dB.
const LEAST_PEAK_DB: f64 = 15.0;
/// Longest recording looked at, s.
const LONGEST_S: f64 = 150.0;
/// Furthest that clocks of two devices run apart: 1000 ppm.
const CLOCKS: f64 = 1e-3;
/// What windows and bands leave uncertain without any noise, dB.
const METHOD_DB: f64 = 0.02;
/// A sweep torn in two has this share more of its energy away from its peak than the others.
const TORN: f64 = 0.05;
/// A piece of silence whose spectrum is taken, s.
const PIECE_S: f64 = 0.5;
/// Limits of the step down by 6 dB and up again, dB.
const STEP_DB: f64 = 0.5;
const AGAIN_DB: f64 = 0.3;
/// Third harmonic against the fundamental, dB: from here on a doubt, from here on no take.
const DISTORTION_DOUBT_DB: f64 = -40.0;
const DISTORTION_DB: f64 = -30.0;

/// What is wrong with a recording.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SweepFault {
    /// The device records at too low a rate, Hz.
    Rate(f64),
    /// No three sweeps were found.
    NotFound,
    /// The recording starts too late: there is no silence to measure the noise in.
    NoSilence,
    /// So many samples at the end of the scale.
    Clipped(usize),
    /// The third harmonic against the fundamental, dB: something is overloaded.
    Overload(f64),
    /// The same, small enough for the take to count.
    NearOverload(f64),
    /// The mean distance from the noise, dB, where it is too small.
    Noise(f64),
    /// A piece is missing, or twice there.
    Gap,
    /// The sweep played 6 dB lower came back by this much lower, dB: a gain control is at work.
    GainControl(f64),
    /// The last sweep came back by this much louder than the first, dB.
    LevelDrift(f64),
}

impl SweepFault {
    /// Whether the takes must not be used.
    #[must_use]
    pub const fn spoils(self) -> bool {
        !matches!(self, Self::NearOverload(_))
    }
}

/// What a recording of three sweeps gives.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SweepTake {
    /// Mean and spread of the three at the 40 points of a trial, dB under full scale; gaps are not finite.
    pub takes: Takes,
    /// The three by themselves.
    pub curves_db: Vec<Vec<f64>>,
    /// Half width of the 95 % interval that the noise leaves the mean, dB.
    pub half_width_db: Vec<f64>,
    /// The first sweep over the noise, dB.
    pub over_noise_db: Vec<f64>,
    /// Mean of that over the bass, dB.
    pub bass_over_noise_db: f64,
    /// When the first sweep started, s from the start of the recording.
    pub start_s: f64,
    /// What is wrong.
    pub faults: Vec<SweepFault>,
}

impl SweepTake {
    /// Whether the takes may be used.
    #[must_use]
    pub fn sound(&self) -> bool {
        self.takes.count > 0 && !self.faults.iter().any(|fault| fault.spoils())
    }
    /// What would make the next take better; see [`next_step`]. `full_scale_db` is the sound pressure level of 0 dB.
    #[must_use]
    pub fn next_step(&self, played_s: f64, full_scale_db: Option<f64>) -> NextStep {
        use SweepFault::{Clipped, NearOverload, Overload};
        let strained =
            self.faults.iter().any(|fault| matches!(fault, Clipped(_) | Overload(_) | NearOverload(_)));
        let top = self
            .takes
            .mean_db
            .iter()
            .copied()
            .filter(|level| level.is_finite())
            .fold(f64::NEG_INFINITY, f64::max);
        next_step(self.bass_over_noise_db, played_s, strained, full_scale_db.map(|full| full + top))
    }
    fn without(fault: SweepFault) -> Self {
        Self { faults: vec![fault], ..Self::default() }
    }
}

/// Reads a recording of what [`Sweep::played`] gives.
///
/// The start is found by itself. H = Y·X*/(|X|² + 10⁻⁶·max|X|²), its response windowed from 200 ms before to 900 ms
/// behind the peak, power taken over sixth-octaves, the power of the noise taken off. Levels are those of the sweep at
/// full level, relative to the end of the scale. Valid from 20 Hz to 200 Hz.
///
/// # Source
/// Deconvolution: Farina, AES 108th convention (2000). Windows, limits of drift, distortion and level step: measured
/// for this project in simulation.
#[must_use]
pub fn read_sweeps(recording: &Collected, sweep: Sweep) -> SweepTake {
    if recording.given_hz < LEAST_RATE_HZ {
        return SweepTake::without(SweepFault::Rate(recording.given_hz));
    }
    let rate = recording.rate_hz;
    let longest = (LONGEST_S * rate) as usize;
    let heard = recording.samples.get(..longest).unwrap_or(&recording.samples);
    let once = sweep.samples(rate);
    let response = Response::new(heard, &once, rate);
    let Some(starts) = response.find(sweep, heard.len()) else {
        return SweepTake::without(SweepFault::NotFound);
    };
    let [first, second, third] = starts;
    let Some(noise) = noise(heard, first, rate) else {
        return SweepTake::without(SweepFault::NoSilence);
    };
    let curves: Vec<Measured> = starts.iter().map(|start| response.curve(*start, &noise)).collect();
    let mut take = joined(&curves);
    take.start_s = first as f64 / rate;
    let over = take.bass_over_noise_db;
    if over.is_nan() || over < LEAST_FOUND_DB {
        return SweepTake::without(SweepFault::NotFound);
    }
    if over < LEAST_OVER_NOISE_DB + 6.0 {
        // In so much noise nothing else can be told.
        take.faults.push(SweepFault::Noise(over));
        return take;
    }
    let mut fault = |found: bool, fault: SweepFault| {
        if found {
            take.faults.push(fault);
        }
    };
    fault(recording.clipped > 0, SweepFault::Clipped(recording.clipped));
    let period = sweep.period_s();
    let off = |from: usize, to: usize| (to as f64 - from as f64) / rate - period;
    let (early, late) = (off(first, second), off(second, third));
    // Clocks that run apart shift both by the same; a sample and a half is what a peak may be off.
    let slack = 1.5 / rate;
    let late_or_early = early.abs().max(late.abs()) > CLOCKS * period + slack;
    let torn = response.apart(starts) > TORN;
    fault(late_or_early || (early - late).abs() > 2.0 * slack || torn, SweepFault::Gap);
    let bass = |a: usize, b: usize| bass_difference(&curves, a, b);
    let step = 0.5 * (bass(1, 0) + bass(1, 2));
    let asked = 20.0 * Sweep::STEPS[1].log10();
    let again = bass(2, 0);
    let distortion = response.third_harmonic_db(first, sweep);
    fault((step - asked).abs() > STEP_DB, SweepFault::GainControl(step));
    fault(again.abs() > AGAIN_DB, SweepFault::LevelDrift(again));
    if distortion > DISTORTION_DB {
        fault(true, SweepFault::Overload(distortion));
    } else {
        fault(distortion > DISTORTION_DOUBT_DB, SweepFault::NearOverload(distortion));
    }
    take
}

/// A curve of one sweep at the points of a trial.
struct Measured {
    level_db: Vec<f64>,
    /// Power over that of the noise.
    ratio: Vec<f64>,
    /// Standard deviation that the noise leaves, dB.
    deviation_db: Vec<f64>,
}

/// Mean of one curve over another in the bass, dB; NaN without a common point.
fn bass_difference(curves: &[Measured], of: usize, over: usize) -> f64 {
    let (Some(a), Some(b)) = (curves.get(of), curves.get(over)) else { return f64::NAN };
    let points = trial_frequencies();
    let pairs = points.iter().zip(a.level_db.iter().zip(&b.level_db));
    mean(pairs.filter(|(hz, _)| BASS_HZ.contains(*hz)).map(|(_, (a, b))| a - b))
}

/// Mean of the finite values; NaN without any.
fn mean(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) =
        values.filter(|x| x.is_finite()).fold((0.0, 0.0), |(sum, count), x| (sum + x, count + 1.0));
    sum / count
}

/// The three as takes of one level.
fn joined(curves: &[Measured]) -> SweepTake {
    let raised = |(curve, step): (&Measured, &f64)| {
        curve.level_db.iter().map(|level| level - 20.0 * step.log10()).collect::<Vec<f64>>()
    };
    let curves_db: Vec<Vec<f64>> = curves.iter().zip(&Sweep::STEPS).map(raised).collect();
    let takes = Takes::over(&curves_db);
    let points = trial_frequencies();
    let half = |k: usize| {
        let squares: f64 = curves.iter().filter_map(|curve| curve.deviation_db.get(k)).map(|s| s * s).sum();
        (noise_t() * squares.sqrt() / curves.len() as f64).hypot(METHOD_DB)
    };
    let over_noise_db: Vec<f64> = curves
        .first()
        .map(|curve| curve.ratio.iter().map(|ratio| 10.0 * ratio.max(1e-9).log10()).collect())
        .unwrap_or_default();
    let in_bass = points.iter().zip(&over_noise_db).filter(|(hz, _)| BASS_HZ.contains(*hz));
    SweepTake {
        half_width_db: (0..points.len()).map(half).collect(),
        bass_over_noise_db: mean(in_bass.map(|(_, db)| *db)),
        over_noise_db,
        takes,
        curves_db,
        ..SweepTake::default()
    }
}

/// Power spectrum of the noise at any frequency: pieces of silence, each with a Hann window, overlapping by half.
struct Noise {
    pieces: Vec<Vec<f64>>,
    power: f64,
    rate: f64,
}

impl Noise {
    /// Mean square per sample and unit of bandwidth in cycles.
    fn at(&self, hz: f64) -> f64 {
        let sum: f64 = self.pieces.iter().map(|piece| fourier::at(piece, hz / self.rate).norm_sqr()).sum();
        sum / self.pieces.len().max(1) as f64 / self.power
    }
}

/// The silence before the first sweep; `None` with less than two seconds of it.
fn noise(heard: &[f64], first: usize, rate: f64) -> Option<Noise> {
    let ago = |seconds: f64| first.saturating_sub((seconds * rate) as usize);
    let silence = heard.get(ago(Lead::default().silence_s - 0.6)..ago(0.2))?;
    let length = (PIECE_S * rate) as usize;
    if (silence.len() as f64) < 2.0 * rate {
        return None;
    }
    let window: Vec<f64> = (0..length).map(|n| fade(2.0 * n as f64 / length as f64)).collect();
    let window: Vec<f64> = window.iter().zip(window.iter().rev()).map(|(a, b)| a.min(*b)).collect();
    let starts = (0..).step_by(length / 2).take_while(|at| at + length <= silence.len());
    let pieces = starts
        .filter_map(|at| silence.get(at..at + length))
        .map(|piece| piece.iter().zip(&window).map(|(x, w)| x * w).collect())
        .collect();
    Some(Noise { pieces, power: window.iter().map(|w| w * w).sum(), rate })
}

/// The whole recording divided by the sweep.
struct Response {
    h: Vec<f64>,
    /// |X|² at each step of the transform.
    power: Vec<f64>,
    rate: f64,
}

impl Response {
    fn new(heard: &[f64], once: &[f64], rate: f64) -> Self {
        let size = (heard.len() + once.len()).max(16).next_power_of_two();
        let sweep = fourier::forward(once, size);
        let power: Vec<f64> = sweep.iter().map(Complex64::norm_sqr).collect();
        let least = LEAST_POWER * power.iter().copied().fold(f64::MIN_POSITIVE, f64::max);
        let heard = fourier::forward(heard, size);
        let share = |k: usize| {
            let hz = k.min(size - k) as f64 * rate / size as f64;
            fade((hz - NOTHING_HZ) / (ALL_HZ - NOTHING_HZ))
        };
        let quotient = heard.iter().zip(&sweep).zip(&power).enumerate();
        let quotient = quotient.map(|(k, ((y, x), p))| y * x.conj() * share(k) / (p + least));
        Self { h: fourier::back(quotient.collect()), power, rate }
    }
    /// The sample at a place; places before the start lie at the end.
    fn sample(&self, at: isize) -> f64 {
        self.h.get(at.rem_euclid(self.h.len().max(1) as isize) as usize).copied().unwrap_or(0.0)
    }
    /// Where the three sweeps start.
    fn find(&self, sweep: Sweep, heard: usize) -> Option<[usize; 3]> {
        let period = sweep.period_s() * self.rate;
        let last = heard.checked_sub((2.0 * period + sweep.seconds() * self.rate) as usize)?;
        // Between the shifts that a short gap or the clocks bring, the largest near each place counts.
        let reach = (0.03 * self.rate) as usize;
        let near = |at: usize| {
            let from = at.saturating_sub(reach);
            let values = self.h.get(from..(at + reach + 1).min(self.h.len())).unwrap_or_default();
            values
                .iter()
                .enumerate()
                .fold((0.0, from), |best, (i, x)| if x.abs() > best.0 { (x.abs(), from + i) } else { best })
        };
        let after = |start: usize, turn: f64| near(start + (turn * period).round() as usize);
        let mut best = (0.0, 0);
        for (at, x) in self.h.iter().enumerate().take(last) {
            // The first alone must be able to win before the others are looked at.
            if x.abs() * 3.5 > best.0 {
                let score = x.abs() + 2.0 * after(at, 1.0).0.min(x.abs()) + after(at, 2.0).0.min(x.abs());
                if score > best.0 {
                    best = (score, at);
                }
            }
        }
        let first = best.1;
        let peak = self.h.get(first)?.abs();
        let usual = {
            let mut sizes: Vec<f64> = self.h.iter().take(heard).map(|x| x.abs()).collect();
            crate::small::sort_by_number(&mut sizes, |x| *x);
            sizes.get(sizes.len() / 2).copied().unwrap_or(0.0)
        };
        let clear = |height: f64| height > usual * 10_f64.powf(LEAST_PEAK_DB / 20.0) && height > 0.0;
        let (second, third) = (after(first, 1.0), after(first, 2.0));
        (clear(peak) && clear(2.0 * second.0) && clear(third.0)).then_some([first, second.1, third.1])
    }
    /// The window about a peak and what it leaves of the response, from its first sample.
    fn windowed(&self, peak: usize) -> (Vec<f64>, f64) {
        let (before, behind) = ((BEFORE_S * self.rate) as isize, (BEHIND_S * self.rate) as isize);
        let mut squares = 0.0;
        let mut piece = |n: isize| {
            let w = fade((n + before) as f64 / (0.5 * before as f64))
                * fade((behind - n) as f64 / (0.4 * behind as f64));
            squares += w * w;
            w * self.sample(peak as isize + n)
        };
        let samples = (-before..behind).map(&mut piece).collect();
        (samples, squares)
    }
    /// How much the three differ in the share of their energy that lies more than 40 ms before or behind the peak.
    fn apart(&self, starts: [usize; 3]) -> f64 {
        let reach = |seconds: f64| (seconds * self.rate) as isize;
        let energy = |peak: usize, from: f64, to: f64| {
            (reach(from)..reach(to)).map(|n| self.sample(peak as isize + n).powi(2)).sum::<f64>()
        };
        let spread = |from: f64, to: f64| {
            let shares = starts.map(|peak| energy(peak, from, to) / energy(peak, -BEFORE_S, 0.4));
            let most = shares.iter().copied().fold(0.0, f64::max);
            most - shares.iter().copied().fold(1.0, f64::min)
        };
        spread(-BEFORE_S, -0.04).max(spread(0.04, 0.4))
    }
    fn sweep_power(&self, hz: f64) -> f64 {
        let at = (hz / self.rate * self.power.len() as f64).round().max(0.0) as usize;
        self.power.get(at).copied().unwrap_or(0.0).max(f64::MIN_POSITIVE)
    }
    fn curve(&self, peak: usize, noise: &Noise) -> Measured {
        let (samples, squares) = self.windowed(peak);
        let mut measured = Measured { level_db: Vec::new(), ratio: Vec::new(), deviation_db: Vec::new() };
        for mid in trial_frequencies() {
            let band = Band::around(mid, PER_OCTAVE);
            let (mut power, mut floor) = (0.0, 0.0);
            for i in 0..=STEPS {
                let hz = band.low_hz * (band.high_hz / band.low_hz).powf(i as f64 / STEPS as f64);
                let share = if i == 0 || i == STEPS { 0.5 } else { 1.0 } / STEPS as f64;
                power += share * fourier::at(&samples, hz / self.rate).norm_sqr();
                floor += share * noise.at(hz) * squares / self.sweep_power(hz);
            }
            let left = power - floor;
            let ratio = left / floor.max(1e-30);
            // Independent values of the noise in the band: its width by the length of the window, and one.
            let count = 1.0 + (band.high_hz - band.low_hz) * squares / self.rate;
            let relative = ((2.0 / ratio + 1.0 / (ratio * ratio)) / count).sqrt();
            let clear = ratio >= 10_f64.powf(LEAST_OVER_NOISE_DB / 10.0);
            measured.level_db.push(if clear { 10.0 * left.log10() } else { f64::NAN });
            measured.ratio.push(ratio);
            measured.deviation_db.push(10.0 / std::f64::consts::LN_10 * relative);
        }
        measured
    }
    /// Energy of the third harmonic against that of the fundamental, the noise's taken off, dB.
    fn third_harmonic_db(&self, peak: usize, sweep: Sweep) -> f64 {
        let reach = (0.05 * self.rate) as isize;
        let energy = |seconds: f64| {
            let at = peak as isize - (seconds * self.rate).round() as isize;
            (at - reach..=at + reach).map(|n| self.sample(n).powi(2)).sum::<f64>()
        };
        // Between the harmonics lies nothing but noise.
        let between = energy(sweep.ahead_s(2.5)).min(energy(sweep.ahead_s(3.5)));
        let third = (energy(sweep.ahead_s(3.0)) - between).max(0.0);
        10.0 * (third / energy(0.0).max(f64::MIN_POSITIVE)).max(1e-12).log10()
    }
}
