//! The microphone's samples as they are, and sound played beside it.
//!
//! No rate is asked for, neither of the microphone nor of the context: browsers turn their processing back on then, or
//! refuse. What the browser does to the sound is read back from the track.

use super::{EventListener, boot, error_name, error_text, method, property, window};
use js_sys::{Array, Float32Array, Object, Reflect};
use thiserror::Error;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    AudioBufferSourceNode, AudioContext, AudioContextState, AudioNode, AudioWorkletNode,
    AudioWorkletNodeOptions, MediaStream, MediaStreamConstraints, MediaStreamTrack, MessageEvent,
};

/// What a browser may do to the sound; all of it is asked to be off.
const PROCESSING: [&str; 3] = ["echoCancellation", "noiseSuppression", "autoGainControl"];
/// The frame clock may jump while the microphone starts, s.
const SETTLING_S: f64 = 0.5;

/// Why the microphone could not be heard, or not any longer.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum MicrophoneError {
    /// The page came over plain http or the browser is too old.
    #[error("no microphone for this page")]
    Unavailable,
    /// The user or the browser said no.
    #[error("the microphone was refused")]
    Refused,
    /// There is none.
    #[error("there is no microphone")]
    None,
    /// Processing stays on; its names.
    #[error("the browser keeps processing on: {0}")]
    Processed(String),
    /// Samples are missing.
    #[error("samples are missing")]
    Gap,
    /// The microphone went away, was muted, or the sound system stopped.
    #[error("the microphone went away")]
    Lost,
    /// A sound device was plugged in or taken out.
    #[error("the sound devices changed")]
    Changed,
    /// Something else; the browser's own words.
    #[error("{0}")]
    Other(String),
}

/// What comes from a microphone.
#[derive(Clone, Debug, PartialEq)]
pub enum Sound {
    /// The next samples.
    Samples(Vec<f32>),
    /// Nothing more comes.
    Failed(MicrophoneError),
}

/// The sound system with the track that was opened in it; both end when this is dropped, also half way.
struct Open {
    context: AudioContext,
    track: Option<MediaStreamTrack>,
}

impl Drop for Open {
    fn drop(&mut self) {
        if let Some(track) = &self.track {
            track.stop();
        }
        // What is gone already needs no end.
        let _ = self.context.close();
    }
}

/// A microphone that listens; it ends, and what it plays, when this is dropped.
pub struct Microphone {
    _listeners: Vec<EventListener>,
    tap: AudioWorkletNode,
    playing: Option<AudioBufferSourceNode>,
    awake: Option<JsValue>,
    open: Open,
}

impl Microphone {
    /// Asks for the microphone and hands its samples to `heard`. Call it while handling a tap.
    ///
    /// # Errors
    /// [`MicrophoneError`].
    pub async fn listen(heard: impl Fn(Sound) + Clone + 'static) -> Result<Self, MicrophoneError> {
        let navigator = window().map(|window| window.navigator()).ok_or(MicrophoneError::Unavailable)?;
        property(&navigator, "mediaDevices").ok_or(MicrophoneError::Unavailable)?;
        // Made at once, while the tap counts.
        let mut open = Open { context: AudioContext::new().map_err(other)?, track: None };
        let stream = stream(&navigator).await?;
        let track: MediaStreamTrack =
            stream.get_audio_tracks().get(0).dyn_into().map_err(|_| MicrophoneError::None)?;
        // The method of that name makes a second track, which would leave the first one listening.
        open.track = Some(Clone::clone(&track));
        let on = still_on(&track);
        if !on.is_empty() {
            return Err(MicrophoneError::Processed(on));
        }
        // Before anything is waited for: what goes wrong meanwhile is told as well.
        let mut listeners = Vec::new();
        for name in ["ended", "mute"] {
            let heard = heard.clone();
            listeners.push(EventListener::new(&track, name, move |_| {
                heard(Sound::Failed(MicrophoneError::Lost));
            }));
        }
        if let Ok(devices) = navigator.media_devices() {
            let heard = heard.clone();
            listeners.push(EventListener::new(&devices, "devicechange", move |_| {
                heard(Sound::Failed(MicrophoneError::Changed));
            }));
        }
        let context = open.context.clone();
        let tap = tapped(&context, &stream).await.map_err(other)?;
        listeners.push(samples(&tap, f64::from(context.sample_rate()), heard.clone())?);
        let state = context.clone();
        listeners.push(EventListener::new(&context, "statechange", move |_| {
            if state.state() != AudioContextState::Running {
                heard(Sound::Failed(MicrophoneError::Lost));
            }
        }));
        let awake = stay_awake(&navigator).await;
        Ok(Self { _listeners: listeners, tap, playing: None, awake, open })
    }
    /// Samples in a second.
    #[must_use]
    pub fn rate_hz(&self) -> f64 {
        f64::from(self.open.context.sample_rate())
    }
    /// Plays samples between −1 and 1 at the microphone's own rate, once.
    ///
    /// # Errors
    /// [`MicrophoneError::Other`] if the browser can't.
    pub fn play(&mut self, samples: &[f32]) -> Result<(), MicrophoneError> {
        let context = &self.open.context;
        let start = || {
            let count = u32::try_from(samples.len()).unwrap_or(u32::MAX);
            let buffer = context.create_buffer(1, count, context.sample_rate())?;
            buffer.copy_to_channel(samples, 0)?;
            let source = context.create_buffer_source()?;
            source.set_buffer(Some(&buffer));
            source.connect_with_audio_node(&context.destination())?;
            source.start()?;
            Ok(source)
        };
        self.playing = Some(start().map_err(|error: JsValue| other(error))?);
        Ok(())
    }
}

impl Drop for Microphone {
    fn drop(&mut self) {
        self._listeners.clear();
        // What is gone already needs no end.
        if let Some(source) = &self.playing {
            let _ = source.disconnect();
        }
        let _ = self.tap.disconnect();
        if let Some(awake) = &self.awake {
            let _ = method(awake, "release").map(|release| release.call0(awake));
        }
    }
}

fn other(error: impl Into<JsValue>) -> MicrophoneError {
    MicrophoneError::Other(error_text(&error.into()))
}

async fn stream(navigator: &web_sys::Navigator) -> Result<MediaStream, MicrophoneError> {
    let off = Object::new();
    for name in PROCESSING {
        Reflect::set(&off, &name.into(), &false.into()).map_err(other)?;
    }
    let wanted = MediaStreamConstraints::new();
    wanted.set_audio(&off);
    let asked =
        navigator.media_devices().and_then(|devices| devices.get_user_media_with_constraints(&wanted));
    let given =
        JsFuture::from(asked.map_err(other)?).await.map_err(|error| match error_name(&error).as_str() {
            "NotAllowedError" | "SecurityError" => MicrophoneError::Refused,
            "NotFoundError" | "OverconstrainedError" => MicrophoneError::None,
            _ => other(error),
        })?;
    given.dyn_into().map_err(|_| MicrophoneError::None)
}

/// What of the processing the track says is on.
fn still_on(track: &MediaStreamTrack) -> String {
    let settings = method(track, "getSettings").and_then(|get| get.call0(track).ok()).unwrap_or_default();
    let on = |name: &&&str| {
        property(&settings, name).is_some_and(|value| value.as_bool() == Some(true) || value.is_string())
    };
    PROCESSING.iter().filter(on).copied().collect::<Vec<_>>().join(", ")
}

async fn tapped(context: &AudioContext, stream: &MediaStream) -> Result<AudioWorkletNode, JsValue> {
    let (of, tap) = boot::script("tap").ok_or(JsValue::NULL)?;
    let address = tap.call0(&of)?.as_string().unwrap_or_default();
    JsFuture::from(context.audio_worklet()?.add_module(&address)?).await?;
    let options = AudioWorkletNodeOptions::new();
    for (name, value) in [
        ("numberOfInputs", JsValue::from(1)),
        ("numberOfOutputs", 0.into()),
        ("channelCount", 1.into()),
        ("channelCountMode", "explicit".into()),
    ] {
        Reflect::set(&options, &name.into(), &value)?;
    }
    let tap = AudioWorkletNode::new_with_options(context, "tap", &options)?;
    let source = context.create_media_stream_source(stream)?;
    let node: &AudioNode = tap.as_ref();
    source.connect_with_audio_node(node)?;
    JsFuture::from(context.resume()?).await?;
    Ok(tap)
}

fn samples(
    tap: &AudioWorkletNode,
    rate_hz: f64,
    heard: impl Fn(Sound) + 'static,
) -> Result<EventListener, MicrophoneError> {
    let port = tap.port().map_err(other)?;
    let next = std::cell::Cell::new(-1.0);
    let listener = EventListener::new(&port, "message", move |event| {
        let Some(data) = event.dyn_ref::<MessageEvent>().map(MessageEvent::data) else { return };
        let Ok(pair) = data.dyn_into::<Array>() else { return };
        let (first, block) = (pair.get(0).as_f64().unwrap_or(0.0), pair.get(1).dyn_into::<Float32Array>());
        let Ok(block) = block else { return };
        if next.get() > SETTLING_S * rate_hz && first != next.get() {
            heard(Sound::Failed(MicrophoneError::Gap));
        }
        next.set(first + f64::from(block.length()));
        heard(Sound::Samples(block.to_vec()));
    });
    port.start();
    Ok(listener)
}

/// Keeps the screen on; nothing where a browser can't.
async fn stay_awake(navigator: &web_sys::Navigator) -> Option<JsValue> {
    let lock = property(navigator, "wakeLock")?;
    let asked = method(&lock, "request")?.call1(&lock, &"screen".into()).ok()?;
    JsFuture::from(asked.dyn_into::<js_sys::Promise>().ok()?).await.ok()
}
