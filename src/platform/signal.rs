//! Short signals for hands that are busy: a tone and a buzz.

use super::{property, window};
use std::cell::RefCell;
use wasm_bindgen::JsValue;
use web_sys::{AudioContext, OscillatorType};

/// What a signal says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Signal {
    /// As expected: one higher tone, one short buzz.
    Good,
    /// Stop and look: one long low tone, one long buzz.
    Bad,
}

impl Signal {
    /// Frequency of the tone in hertz and its length in seconds.
    const fn tone(self) -> (f32, f64) {
        match self {
            Self::Good => (880.0, 0.12),
            Self::Bad => (220.0, 0.5),
        }
    }
}

thread_local! {
    // Browsers allow only a few of these, so one is made and kept.
    static AUDIO: RefCell<Option<AudioContext>> = const { RefCell::new(None) };
}

/// Sounds the tone; `None` if the browser has no sound or refuses it. Call it while handling a tap.
pub fn sound(signal: Signal) -> Option<()> {
    let audio = AUDIO.with(|kept| {
        let mut kept = kept.try_borrow_mut().ok()?;
        if kept.is_none() {
            *kept = AudioContext::new().ok();
        }
        kept.clone()
    })?;
    play(&audio, signal).ok()
}

/// Buzzes; `None` if the device can't.
pub fn buzz(signal: Signal) -> Option<()> {
    let navigator = window()?.navigator();
    property(&navigator, "vibrate")?;
    let (_, seconds) = signal.tone();
    navigator.vibrate_with_duration((seconds * 1000.0) as u32).then_some(())
}

fn play(audio: &AudioContext, signal: Signal) -> Result<(), JsValue> {
    let (frequency_hz, seconds) = signal.tone();
    let _ = audio.resume()?;
    let (tone, volume) = (audio.create_oscillator()?, audio.create_gain()?);
    tone.set_type(OscillatorType::Triangle);
    tone.frequency().set_value(frequency_hz);
    tone.connect_with_audio_node(&volume)?;
    volume.connect_with_audio_node(&audio.destination())?;
    let (now, level) = (audio.current_time(), volume.gain());
    // Rising and falling within 10 ms keeps the tone from clicking.
    level.set_value_at_time(0.0, now)?;
    level.linear_ramp_to_value_at_time(0.3, now + 0.01)?;
    level.set_value_at_time(0.3, now + seconds - 0.01)?;
    level.linear_ramp_to_value_at_time(0.0, now + seconds)?;
    tone.start()?;
    tone.stop_with_when(now + seconds)
}
