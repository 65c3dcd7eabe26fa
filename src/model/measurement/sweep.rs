//! The sweep that is played in the car, and what is played around it.
use std::f64::consts::{PI, TAU};

use super::student::student_t;

/// Where a sweep starts and ends, Hz.
const FROM_HZ: f64 = 15.0;
const TO_HZ: f64 = 300.0;
/// Fades at start and end, so that nothing clicks, s.
const FADE_IN_S: f64 = 0.1;
const FADE_OUT_S: f64 = 0.02;
/// Peak of a sweep at full level: 6 dB under the end of the scale.
const PEAK: f64 = 0.5;
/// Lead: a tone that rises, so that a volume set too high is heard before it is loud.
const LEAD_HZ: f64 = 50.0;
const LEAD_FROM_DB: f64 = -46.0;
/// Samples in a second of the files, Hz.
const RATE: u32 = 48_000;

/// Lengths of a sweep offered, s.
pub const SWEEP_SECONDS: [u8; 3] = [5, 10, 20];

/// A synchronised exponential sweep, 15 Hz to 300 Hz.
///
/// # Source
/// Farina, AES 108th convention (2000); Novak, Lotton, Simon, JAES 63 (2015) 786: x = sin(2π·f1·L·e^(t/L)) with
/// f1·L an integer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sweep {
    /// L, the time in which the frequency grows e-fold, s.
    rate_s: f64,
}

/// The times of what is played, s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lead {
    /// The rising tone.
    pub tone_s: f64,
    /// Silence before the first sweep, in which the noise is measured.
    pub silence_s: f64,
    /// Silence behind each sweep.
    pub gap_s: f64,
}

impl Default for Lead {
    fn default() -> Self {
        Self { tone_s: 4.0, silence_s: 4.0, gap_s: 1.0 }
    }
}

impl Sweep {
    /// What the three sweeps are played at: the step down and up again shows a gain control.
    pub const STEPS: [f64; 3] = [1.0, 0.5, 1.0];

    /// A sweep of about so many seconds, held between 2 s and 60 s.
    #[must_use]
    pub fn new(seconds: f64) -> Self {
        let seconds = if seconds.is_finite() { seconds.clamp(2.0, 60.0) } else { 10.0 };
        let cycles = (FROM_HZ * seconds / (TO_HZ / FROM_HZ).ln()).round();
        Self { rate_s: cycles / FROM_HZ }
    }
    /// Its exact length, s.
    #[must_use]
    pub fn seconds(self) -> f64 {
        self.rate_s * (TO_HZ / FROM_HZ).ln()
    }
    /// From the start of one sweep to the start of the next, s.
    #[must_use]
    pub fn period_s(self) -> f64 {
        self.seconds() + Lead::default().gap_s
    }
    /// How long before the response of the fundamental that of the harmonic `order` arrives, s.
    #[must_use]
    pub fn ahead_s(self, order: f64) -> f64 {
        self.rate_s * order.ln()
    }
    /// The sweep's samples between −1 and 1.
    #[must_use]
    pub fn samples(self, rate_hz: f64) -> Vec<f64> {
        let length = self.seconds();
        let count = (length * rate_hz).round().max(0.0) as usize;
        let phase = TAU * FROM_HZ * self.rate_s;
        let sample = |n: usize| {
            let t = n as f64 / rate_hz;
            fade(t / FADE_IN_S) * fade((length - t) / FADE_OUT_S) * (phase * (t / self.rate_s).exp()).sin()
        };
        (0..count).map(sample).collect()
    }
    /// All that is played: a tone that rises from quiet, silence, three sweeps at 0, −6 and 0 dB, each with silence
    /// behind it.
    #[must_use]
    pub fn played(self, rate_hz: f64) -> Vec<f64> {
        let lead = Lead::default();
        let steps = |seconds: f64| (seconds * rate_hz).round().max(0.0) as usize;
        let tone = |n: usize| {
            let t = n as f64 / rate_hz;
            let level = 10_f64.powf(LEAD_FROM_DB * (1.0 - t / lead.tone_s) / 20.0);
            fade((lead.tone_s - t) / FADE_IN_S) * PEAK * level * (TAU * LEAD_HZ * t).sin()
        };
        let mut samples: Vec<f64> = (0..steps(lead.tone_s)).map(tone).collect();
        let once = self.samples(rate_hz);
        let start = lead.tone_s + lead.silence_s;
        for (turn, level) in Self::STEPS.iter().enumerate() {
            samples.resize(steps(start + turn as f64 * self.period_s()), 0.0);
            samples.extend(once.iter().map(|x| PEAK * level * x));
        }
        samples.resize(samples.len() + steps(lead.gap_s), 0.0);
        samples
    }
    /// How long all that is played lasts, s.
    #[must_use]
    pub fn played_s(self) -> f64 {
        let lead = Lead::default();
        lead.tone_s + lead.silence_s + Self::STEPS.len() as f64 * self.period_s()
    }
    /// The bytes of a WAV file of [`Self::played`]: one channel, 16 bits, 48 kHz.
    ///
    /// # Source
    /// RIFF WAVE, format 1 (PCM): Microsoft and IBM, Multimedia Programming Interface (1991).
    #[must_use]
    pub fn wav(self) -> Vec<u8> {
        wav_file(&self.played(f64::from(RATE)), RATE)
    }
}

/// A WAV file of a tone as loud as the sweeps at full level, which rises like the lead before them and then stays.
#[must_use]
pub fn tone_wav(hz: f64, seconds: f64) -> Vec<u8> {
    let rise = Lead::default().tone_s;
    let length = rise + seconds.clamp(0.0, 120.0);
    let sample = |n: usize| {
        let t = n as f64 / f64::from(RATE);
        let level = 10_f64.powf(LEAD_FROM_DB * (1.0 - (t / rise).min(1.0)) / 20.0);
        fade((length - t) / FADE_IN_S) * PEAK * level * (TAU * hz * t).sin()
    };
    let count = (length * f64::from(RATE)).round() as usize;
    wav_file(&(0..count).map(sample).collect::<Vec<_>>(), RATE)
}

/// Samples between −1 and 1 as a WAV file of one channel with 16 bits.
#[must_use]
pub fn wav_file(samples: &[f64], rate_hz: u32) -> Vec<u8> {
    let data = 2 * samples.len() as u32;
    let mut file = Vec::with_capacity(44 + samples.len() * 2);
    file.extend_from_slice(b"RIFF");
    file.extend_from_slice(&(36 + data).to_le_bytes());
    file.extend_from_slice(b"WAVEfmt ");
    file.extend_from_slice(&16_u32.to_le_bytes());
    for half in [1_u16, 1] {
        file.extend_from_slice(&half.to_le_bytes());
    }
    file.extend_from_slice(&rate_hz.to_le_bytes());
    file.extend_from_slice(&(2 * rate_hz).to_le_bytes());
    for half in [2_u16, 16] {
        file.extend_from_slice(&half.to_le_bytes());
    }
    file.extend_from_slice(b"data");
    file.extend_from_slice(&data.to_le_bytes());
    for sample in samples {
        file.extend_from_slice(&((32767.0 * sample.clamp(-1.0, 1.0)).round() as i16).to_le_bytes());
    }
    file
}

/// Half a cosine from 0 at 0 to 1 at 1.
pub(super) fn fade(share: f64) -> f64 {
    0.5 - 0.5 * (PI * share.clamp(0.0, 1.0)).cos()
}

/// Enough over the noise in the bass, dB.
const ENOUGH_DB: f64 = 30.0;

/// The shortest sweep offered that brings the level to 30 dB over the noise, from what a sweep of `played_s` brought;
/// the longest one where none does. Noise falls by 3 dB for twice the length.
#[must_use]
pub fn seconds_for(signal_to_noise_db: f64, played_s: f64) -> u8 {
    let [short, usual, long] = SWEEP_SECONDS;
    let enough =
        |seconds: u8| signal_to_noise_db + 10.0 * (f64::from(seconds) / played_s).log10() >= ENOUGH_DB;
    [short, usual].into_iter().find(|seconds| enough(*seconds)).unwrap_or(long)
}

/// Loudest that a take may be at the head, dB, and what a step up brings.
const LOUDEST_DB: f64 = 95.0;
const UP_DB: f64 = 6.0;

/// What would make the next take better.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NextStep {
    /// Nothing: it stands far enough out of the noise.
    Enough,
    /// Play 6 dB louder.
    Louder,
    /// Let each sweep last so many seconds.
    Longer(u8),
    /// Quieter surroundings: neither louder nor longer goes.
    Quieter,
}

/// What a take in so much noise, played in sweeps of `played_s`, asks for.
///
/// Louder by 6 dB until it stands 30 dB over the noise, but never where the third harmonic has come within 40 dB (as
/// `strained` says), nor to more than 95 dB at the head where `loudest_db`, its sound pressure level, is known.
#[must_use]
pub fn next_step(over_noise_db: f64, played_s: f64, strained: bool, loudest_db: Option<f64>) -> NextStep {
    if over_noise_db >= ENOUGH_DB {
        return NextStep::Enough;
    }
    if !strained && loudest_db.is_none_or(|level| level + UP_DB <= LOUDEST_DB) {
        return NextStep::Louder;
    }
    let longer = seconds_for(over_noise_db, played_s);
    if f64::from(longer) > played_s * 1.2 { NextStep::Longer(longer) } else { NextStep::Quieter }
}

/// Student's t for the noise, which is known from about a dozen independent pieces of silence.
pub(super) fn noise_t() -> f64 {
    student_t(12).unwrap_or(2.2)
}
