//! Trials as texts in a file and as bytes in a link.
use super::{Aim, GAP, MAX_TRIALS, Trial};
use crate::design::link::{Cursor, put_number, put_text, unzigzag, zigzag};
use crate::model::measurement::TRIAL_POINTS;

/// Levels as a text: decibels parted by blanks, `-` where nothing was measured.
#[must_use]
pub fn level_text(levels: &[i16]) -> String {
    let mut text = String::new();
    for level in levels {
        if !text.is_empty() {
            text.push(' ');
        }
        if *level == GAP {
            text.push('-');
        } else {
            text.push_str(&(f64::from(*level) / 2.0).to_string());
        }
    }
    text
}

/// Levels from a text; what is no number becomes a gap.
#[must_use]
pub fn read_levels(text: &str) -> Vec<i16> {
    let half = |word: &str| match word.parse::<f64>() {
        Ok(level) if (-1000.0..=1000.0).contains(&level) => (2.0 * level).round() as i16,
        _ => GAP,
    };
    text.split_whitespace().take(TRIAL_POINTS).map(half).collect()
}

/// Spreads as a text: decibels parted by blanks.
#[must_use]
pub fn spread_text(spreads: &[u8]) -> String {
    let words: Vec<String> = spreads.iter().map(|tenths| (f64::from(*tenths) / 10.0).to_string()).collect();
    words.join(" ")
}

/// Spreads from a text; what is no number becomes zero.
#[must_use]
pub fn read_spread(text: &str) -> Vec<u8> {
    let tenths = |word: &str| word.parse::<f64>().map_or(0, |s| (10.0 * s).round().clamp(0.0, 255.0) as u8);
    text.split_whitespace().take(TRIAL_POINTS).map(tenths).collect()
}

/// What stands behind the six named aims: degrees follow.
const DEGREES: u8 = 6;

/// Writes trials into a link's body. Neighbouring levels differ little: their steps deflate well.
pub(in crate::design) fn put_trials(bytes: &mut Vec<u8>, trials: &[Trial]) {
    put_number(bytes, trials.len() as u64);
    let mut before = 0;
    for trial in trials {
        put_number(bytes, zigzag(trial.at_s.wrapping_sub(before)));
        before = trial.at_s;
        put_text(bytes, &trial.spot);
        match trial.place {
            Some([x, y]) => bytes.extend([1, x, y]),
            None => bytes.push(0),
        }
        match trial.aim {
            Aim::Degrees(degrees) => {
                bytes.push(DEGREES);
                put_number(bytes, degrees.into());
            }
            named => {
                let code = Aim::NAMED.iter().position(|(aim, _)| *aim == named);
                bytes.push(code.and_then(|code| u8::try_from(code).ok()).unwrap_or(0));
            }
        }
        put_text(bytes, &trial.used);
        bytes.extend([trial.seat, trial.state, trial.way, u8::from(trial.left_out), trial.takes]);
        put_text(bytes, &trial.note);
        let mut last = 0;
        for level in &trial.level {
            if *level == GAP {
                put_number(bytes, 0);
            } else {
                put_number(bytes, zigzag(i64::from(*level) - last) + 1);
                last = i64::from(*level);
            }
        }
        bytes.extend_from_slice(&trial.spread);
    }
}

/// Reads what [`put_trials`] wrote; `None` if it is cut short.
pub(in crate::design) fn take_trials(cursor: &mut Cursor<'_>) -> Option<Vec<Trial>> {
    let count = usize::try_from(cursor.number()?).ok().filter(|count| *count <= MAX_TRIALS)?;
    let mut trials = Vec::new();
    let mut before = 0_i64;
    for _ in 0..count {
        let at_s = before.wrapping_add(unzigzag(cursor.number()?));
        before = at_s;
        let spot = cursor.text()?.to_owned();
        let place = if cursor.byte()? == 1 { Some([cursor.byte()?, cursor.byte()?]) } else { None };
        let aim = match cursor.byte()? {
            DEGREES => Aim::Degrees((cursor.number()? % 360) as u16),
            code => Aim::NAMED.get(usize::from(code)).map_or(Aim::Up, |(aim, _)| *aim),
        };
        let used = cursor.text()?.to_owned();
        let mut codes = [0; 5];
        for code in &mut codes {
            *code = cursor.byte()?;
        }
        let [seat, state, way, left_out, takes] = codes;
        let note = cursor.text()?.to_owned();
        let level = take_levels(cursor)?;
        let spread = if takes > 1 { cursor.take(TRIAL_POINTS)?.to_vec() } else { Vec::new() };
        let left_out = left_out == 1;
        let trial = Trial {
            at_s,
            spot,
            place,
            aim,
            used,
            seat,
            state,
            way,
            takes,
            level,
            spread,
            left_out,
            note,
            level_spread: None,
            height: None,
        };
        trials.extend(trial.checked());
    }
    Some(trials)
}

/// Writes what trials got to keep later, each value one higher so that 0 is nothing; nothing if none has any.
pub(in crate::design) fn put_more(bytes: &mut Vec<u8>, trials: &[Trial]) {
    if trials.iter().all(|trial| trial.level_spread.is_none() && trial.height.is_none()) {
        return;
    }
    put_number(bytes, trials.len() as u64);
    for trial in trials {
        put_number(bytes, trial.level_spread.map_or(0, |spread| u64::from(spread) + 1));
        put_number(bytes, trial.height.map_or(0, |height| u64::from(height) + 1));
    }
}

/// Reads what [`put_more`] wrote into the trials read before; `None` if it is cut short.
///
/// What a later page puts behind it is passed over. With another count of trials it belongs to others.
pub(in crate::design) fn take_more(cursor: &mut Cursor<'_>, trials: &mut [Trial]) -> Option<()> {
    if cursor.number()? != trials.len() as u64 {
        return Some(());
    }
    for trial in trials {
        let (spread, height) = (cursor.number()?.checked_sub(1), cursor.number()?.checked_sub(1));
        trial.level_spread = spread.and_then(|spread| u16::try_from(spread).ok());
        trial.height = height.and_then(|height| u8::try_from(height).ok());
        if let Some(checked) = trial.clone().checked() {
            *trial = checked;
        }
    }
    Some(())
}

fn take_levels(cursor: &mut Cursor<'_>) -> Option<Vec<i16>> {
    let mut last = 0_i64;
    let mut levels = Vec::with_capacity(TRIAL_POINTS);
    for _ in 0..TRIAL_POINTS {
        levels.push(match cursor.number()? {
            0 => GAP,
            step => {
                last = last.checked_add(unzigzag(step - 1))?;
                i16::try_from(last).ok()?
            }
        });
    }
    Some(levels)
}
