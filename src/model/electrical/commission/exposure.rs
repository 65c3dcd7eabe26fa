//! How long a level may be heard in a day, by the two American limits.
use crate::model::electrical::check::within;
use crate::model::error::ModelError;

/// Longest time in a day at a level, in seconds, by NIOSH: 8 h at 85 dB(A), halved for every 3 dB.
///
/// `level_dba` is the A-weighted level of broadband noise; the limit was not set for bass alone.
///
/// # Errors
/// [`ModelError::OutOfRange`] unless the level is 80 to 140 dB(A): below, no limit is given; above, none is allowed.
///
/// # Source
/// NIOSH publication 98-126 (1998), table 1-1 and its formula T = 480 min / 2^((L − 85)/3); the ceiling from memory.
pub fn niosh_time_s(level_dba: f64) -> Result<f64, ModelError> {
    let level = within("level in dB(A)", level_dba, 80.0, 140.0)?;
    Ok(8.0 * 3600.0 / ((level - 85.0) / 3.0).exp2())
}

/// Longest time in a day at a level, in seconds, by OSHA: 8 h at 90 dB(A), halved for every 5 dB.
///
/// `level_dba` as for [`niosh_time_s`]. The table G-16 stops at 115 dB(A); the appendix goes on to 130 for the sum of
/// a day.
///
/// # Errors
/// [`ModelError::OutOfRange`] unless the level is 80 to 130 dB(A).
///
/// # Source
/// 29 CFR 1910.95 appendix A, table G-16a and its formula T = 8 h / 2^((L − 90)/5).
pub fn osha_time_s(level_dba: f64) -> Result<f64, ModelError> {
    let level = within("level in dB(A)", level_dba, 80.0, 130.0)?;
    Ok(8.0 * 3600.0 / ((level - 90.0) / 5.0).exp2())
}
