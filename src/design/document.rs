//! The design: one sheet of entries, the cuts as they came out, and a log of ticks and readings.
use thiserror::Error;

use super::limits::{FieldId, Kind, RecordKind};
use super::trials::Trial;
use crate::small::{TextSet, VecMap};
use crate::units::{Entered, ExactLength, ParseNumberError, Quantity, UnitPrefs};

/// What stands in a field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Entry {
    /// A number as it was typed.
    Number(Entered),
    /// Index into the field's list of choices.
    Choice(u8),
    /// A text.
    Text(String),
}

/// Why a text can't stand in a field.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum EntryError {
    /// The text is no number.
    #[error(transparent)]
    NotANumber(#[from] ParseNumberError),
    /// Below the field's smallest value.
    #[error("too small")]
    TooSmall,
    /// Above the field's largest value.
    #[error("too large")]
    TooLarge,
    /// Not one of the field's choices.
    #[error("unknown choice")]
    UnknownChoice,
}

/// Everything entered; what an undo step takes back.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sheet {
    entries: VecMap<FieldId, Entry>,
    built: VecMap<String, Entered>,
}

/// Something read in the car, with the time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reading {
    /// Seconds since 1970, UTC.
    pub at_s: i64,
    /// What was measured, as a stable key.
    pub subject: String,
    /// The value; `None` for an open circuit.
    pub value: Option<Entered>,
    /// The user's remark, such as the reason for overruling a verdict.
    pub note: String,
}

/// Ticks, readings and trials: facts, which undo never takes back.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Log {
    /// Keys of the steps ticked off.
    pub ticks: TextSet,
    /// Readings in the order taken.
    pub readings: Vec<Reading>,
    /// Trials in the order taken.
    pub trials: Vec<Trial>,
}

/// A whole job: the sheet and its log.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Design {
    /// Everything entered.
    pub sheet: Sheet,
    /// Everything ticked off and read.
    pub log: Log,
}

/// Most ticks, readings and as-built sizes that a design keeps.
pub const MAX_LIST: usize = 500;
/// Longest stable key of a tick, a reading's subject or a built size, in bytes.
pub const MAX_KEY: usize = 60;
/// Longest remark, in characters.
pub const MAX_NOTE: usize = 300;

/// Cleans a text: no control characters, no blanks at the ends, at most `max` characters.
#[must_use]
pub fn clean_text(text: &str, max: usize) -> String {
    let cleaned: String = text.chars().filter(|c| !c.is_control()).take(max).collect();
    cleaned.trim().to_owned()
}

/// Whether a text may serve as a stable key.
#[must_use]
pub fn is_key(text: &str) -> bool {
    !text.is_empty() && text.len() <= MAX_KEY && text.chars().all(|c| c.is_ascii_graphic() || c == ' ')
}

impl Sheet {
    /// The entry of a field, if there is one.
    #[must_use]
    pub fn entry(&self, id: FieldId) -> Option<&Entry> {
        self.entries.get(&id)
    }
    /// Every entry, in table order.
    pub fn entries(&self) -> impl Iterator<Item = (FieldId, &Entry)> {
        self.entries.iter().map(|(id, entry)| (*id, entry))
    }
    /// The number entered or the default.
    #[must_use]
    pub fn number(&self, id: FieldId) -> Option<Entered> {
        match (self.entries.get(&id), id.row().kind) {
            (Some(Entry::Number(entered)), _) => Some(*entered),
            (_, Kind::Number { default, .. }) => default,
            _ => None,
        }
    }
    /// The number entered by the user; no default.
    #[must_use]
    pub fn given(&self, id: FieldId) -> Option<Entered> {
        match self.entries.get(&id) {
            Some(Entry::Number(entered)) => Some(*entered),
            _ => None,
        }
    }
    /// Whether any entry of a stretch of the table is there; reads no row.
    #[must_use]
    #[inline(never)]
    pub fn has_any(&self, stretch: &std::ops::RangeInclusive<FieldId>) -> bool {
        self.entries.keys().any(|id| stretch.contains(id))
    }
    /// The number in SI, or the default's.
    #[must_use]
    pub fn si(&self, id: FieldId) -> Option<f64> {
        self.number(id).map(Entered::si)
    }
    /// The exact length, or the default's.
    #[must_use]
    pub fn length(&self, id: FieldId) -> Option<ExactLength> {
        self.number(id).map(Entered::exact_length)
    }
    /// The choice made or the default; 0 for a field that is no choice.
    #[must_use]
    pub fn choice(&self, id: FieldId) -> u8 {
        match (self.entries.get(&id), id.row().kind) {
            (Some(Entry::Choice(index)), _) => *index,
            (_, Kind::Choice { default, .. }) => default,
            _ => 0,
        }
    }
    /// The key of the choice made or of the default.
    #[must_use]
    pub fn choice_key(&self, id: FieldId) -> &'static str {
        match id.row().kind {
            Kind::Choice { rows, .. } => rows.get(usize::from(self.choice(id))).map_or("", |row| row.key),
            _ => "",
        }
    }
    /// The text entered; empty if none.
    #[must_use]
    pub fn text(&self, id: FieldId) -> &str {
        match self.entries.get(&id) {
            Some(Entry::Text(text)) => text,
            _ => "",
        }
    }
    /// Cuts as they came out, by stable key.
    #[must_use]
    pub fn built(&self) -> &VecMap<String, Entered> {
        &self.built
    }
    /// Puts an entry in if it fits the field; an empty text clears the field.
    ///
    /// # Errors
    /// [`EntryError`]; the sheet is then unchanged.
    pub fn set(&mut self, id: FieldId, entry: Entry) -> Result<(), EntryError> {
        match checked(id, entry)? {
            Entry::Text(text) if text.is_empty() => self.clear(id),
            entry => {
                self.entries.insert(id, entry);
            }
        }
        Ok(())
    }
    /// Empties a field; its default counts again.
    pub fn clear(&mut self, id: FieldId) {
        self.entries.remove(&id);
    }
    /// Records the size a cut came out at. Ignored unless the key is a key and the size a positive length.
    pub fn set_built(&mut self, key: &str, size: Entered) {
        let fits = self.built.len() < MAX_LIST || self.built.contains_key(key);
        let metres = size.exact_length().metres();
        if is_key(key) && fits && metres > 0.0 && metres < 10.0 {
            self.built.insert(key.to_owned(), size);
        }
    }
    /// Forgets the size a cut came out at: it counts as planned again.
    pub fn clear_built(&mut self, key: &str) {
        self.built.remove(key);
    }
    /// A copy of the entries of one record.
    #[must_use]
    pub fn record(&self, kind: RecordKind) -> Self {
        let entries = self.entries().filter(|(id, _)| id.row().record == kind);
        Self { entries: entries.map(|(id, entry)| (id, entry.clone())).collect(), built: VecMap::new() }
    }
    /// Replaces the entries of one record by those of another sheet.
    pub fn take_record(&mut self, kind: RecordKind, from: &Self) {
        self.entries.retain(|id, _| id.row().record != kind);
        self.entries.extend(from.record(kind).entries);
        if kind == RecordKind::Enclosure {
            self.built.clear();
        }
    }
}

/// The entry if it fits the field.
fn checked(id: FieldId, entry: Entry) -> Result<Entry, EntryError> {
    match (id.row().kind, entry) {
        (Kind::Number { quantity, min, max, .. }, Entry::Number(entered)) => {
            if entered.unit.quantity() != quantity {
                return Err(EntryError::NotANumber(ParseNumberError::NotANumber));
            }
            let si = entered.si();
            // A limit typed in another unit may miss it by a rounding error.
            let slack = 1e-9 * (max - min).abs();
            if si < min - slack {
                Err(EntryError::TooSmall)
            } else if si > max + slack {
                Err(EntryError::TooLarge)
            } else {
                Ok(Entry::Number(entered))
            }
        }
        (Kind::Choice { rows, .. }, Entry::Choice(index)) if usize::from(index) < rows.len() => {
            Ok(Entry::Choice(index))
        }
        (Kind::Text { max }, Entry::Text(text)) => Ok(Entry::Text(clean_text(&text, max))),
        _ => Err(EntryError::UnknownChoice),
    }
}

/// Reads a field's text: a number with or without a unit, a choice's key, or a text.
///
/// # Errors
/// [`EntryError`]; never panics, whatever the text.
pub fn parse_entry(id: FieldId, text: &str, prefs: &UnitPrefs) -> Result<Entry, EntryError> {
    let entry = match id.row().kind {
        Kind::Number { quantity, .. } => Entry::Number(Entered::parse(text, quantity, prefs)?),
        Kind::Choice { rows, .. } => {
            let index =
                rows.iter().position(|row| row.key == text.trim()).ok_or(EntryError::UnknownChoice)?;
            Entry::Choice(u8::try_from(index).map_err(|_| EntryError::UnknownChoice)?)
        }
        Kind::Text { .. } => Entry::Text(text.to_owned()),
    };
    checked(id, entry)
}

/// An entry as written in a file.
#[must_use]
pub fn entry_text(id: FieldId, entry: &Entry) -> String {
    match (entry, id.row().kind) {
        (Entry::Number(entered), _) => entered.to_text(),
        (Entry::Choice(index), Kind::Choice { rows, .. }) => {
            rows.get(usize::from(*index)).map_or("", |row| row.key).to_owned()
        }
        (Entry::Choice(_), _) => String::new(),
        (Entry::Text(text), _) => text.clone(),
    }
}

/// Reads a length that was cut, in the user's unit unless it names one.
///
/// # Errors
/// [`EntryError`] unless it is a length of up to ten metres.
pub fn parse_built(text: &str, prefs: &UnitPrefs) -> Result<Entered, EntryError> {
    let size = Entered::parse(text, Quantity::Length, prefs)?;
    match size.exact_length().metres() {
        metres if metres <= 0.0 => Err(EntryError::TooSmall),
        metres if metres >= 10.0 => Err(EntryError::TooLarge),
        _ => Ok(size),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parse(id: FieldId, text: &str) -> Result<Entry, EntryError> {
        parse_entry(id, text, &UnitPrefs::default())
    }

    #[test]
    fn limits_hold_in_every_unit() {
        assert!(parse(FieldId::Board, "18,1").is_ok());
        assert_eq!(parse(FieldId::Board, "70"), Err(EntryError::TooLarge));
        assert_eq!(parse(FieldId::Board, "3 in"), Err(EntryError::TooLarge));
        assert!(parse(FieldId::Board, "3/4 in").is_ok());
        assert_eq!(parse(FieldId::Fs, "1"), Err(EntryError::TooSmall));
        assert!(parse(FieldId::Ambient, "104 °F").is_ok());
        assert_eq!(parse(FieldId::BoxKind, "transmission"), Err(EntryError::UnknownChoice));
    }

    #[test]
    fn taking_an_enclosure_forgets_the_cuts_of_the_last_one() {
        let mut sheet = Sheet::default();
        let size = parse_built("318", &UnitPrefs::default()).unwrap();
        sheet.set_built("top.width", size);
        let mut other = Sheet::default();
        other.set(FieldId::Board, parse(FieldId::Board, "16").unwrap()).unwrap();
        other.set(FieldId::Fs, parse(FieldId::Fs, "30").unwrap()).unwrap();
        sheet.take_record(RecordKind::Enclosure, &other);
        assert!(sheet.built().is_empty());
        assert!(sheet.given(FieldId::Board).is_some());
        assert!(sheet.given(FieldId::Fs).is_none());
    }

    #[test]
    fn control_characters_and_length_are_cut() {
        assert_eq!(clean_text(" a\nb\u{0}c ", 60), "abc");
        assert_eq!(clean_text(&"x".repeat(100), 60).len(), 60);
    }
}
