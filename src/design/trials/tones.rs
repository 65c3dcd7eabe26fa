//! Tones and voltages of the guided search, kept as one text.
use crate::model::measurement::Tone;

/// Tones from a text: `hertz:volts`, parted by blanks; what is none is passed over.
#[must_use]
pub fn read_tones(text: &str) -> Vec<Tone> {
    let tone = |word: &str| {
        let (hz, volts) = word.split_once(':')?;
        let (hz, volts): (f64, f64) = (hz.parse().ok()?, volts.parse().ok()?);
        ((1.0..=1000.0).contains(&hz) && (1e-6..=1e3).contains(&volts)).then_some((hz, volts))
    };
    text.split_whitespace().filter_map(tone).collect()
}

/// Tones as a text, in the order they were read.
#[must_use]
pub fn tones_text(tones: &[Tone]) -> String {
    let words: Vec<String> = tones.iter().map(|(hz, volts)| format!("{hz}:{volts}")).collect();
    words.join(" ")
}
