//! What a level meter set to A takes off a low tone.
use crate::model::electrical::check::within;
use crate::model::error::ModelError;

/// A-weighting at a frequency, in dB; 0 at 1 kHz, −34.6 at 40 Hz.
///
/// # Errors
/// [`ModelError::OutOfRange`] unless the frequency is 5 Hz to 20 kHz.
///
/// # Source
/// IEC 61672-1 annex E, with f1 = 20.60 Hz, f2 = 107.7 Hz, f3 = 737.9 Hz, f4 = 12 194 Hz and 2.000 dB.
pub fn a_weighting_db(frequency_hz: f64) -> Result<f64, ModelError> {
    let f = within("frequency in hertz", frequency_hz, 5.0, 20_000.0)?.powi(2);
    let [f1, f2, f3, f4] = [20.60_f64, 107.7, 737.9, 12_194.0].map(|corner| corner.powi(2));
    let response = f4 * f * f / ((f + f1) * ((f + f2) * (f + f3)).sqrt() * (f + f4));
    Ok(20.0 * response.log10() + 2.0)
}
