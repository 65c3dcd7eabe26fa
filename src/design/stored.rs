//! What lies in local storage: the keys, and a design's record with its revision and its unfinished drafts.
use serde_json::{Map, Value, json};

use super::document::{Design, MAX_KEY, Sheet};
use super::file::{self, OpenError, Opened};
use super::limits::{FieldId, RecordKind};
use crate::small::VecMap;

/// Storage keys, all in one place.
pub mod keys {
    use super::RecordKind;

    /// Every key of ours starts so.
    pub const PREFIX: &str = "kc.";
    /// A design, by id.
    pub const DESIGN: &str = "kc.design.";
    /// A record on the shelf: `kc.shelf.<kind>.<id>`.
    pub const SHELF: &str = "kc.shelf.";
    /// A text that could not be read, kept before anything is saved over it.
    pub const BROKEN: &str = "kc.broken.";
    /// The id of the design open last.
    pub const OPEN: &str = "kc.open";
    /// Units, as [`crate::units::UnitPrefs::to_text`].
    pub const UNITS: &str = "kc.units";
    /// Theme: `light`, `dark`, or absent for the system's.
    pub const THEME: &str = "kc.theme";
    /// `off` if the meter check is silent.
    pub const SOUND: &str = "kc.sound";
    /// `left` if the keys stand at the left thumb.
    pub const HAND: &str = "kc.hand";
    /// Starts that have not come to a first picture; counted by the boot script.
    pub const STARTS: &str = "kc.starts";

    /// The key of a shelf record.
    #[must_use]
    pub fn shelf(kind: RecordKind, id: &str) -> String {
        format!("{SHELF}{}.{id}", kind.key())
    }
    /// Kind and id of a shelf key.
    #[must_use]
    pub fn parse_shelf(key: &str) -> Option<(RecordKind, &str)> {
        let (kind, id) = key.strip_prefix(SHELF)?.split_once('.')?;
        Some((RecordKind::from_key(kind)?, id))
    }
}

/// A design as it lies in storage.
#[derive(Clone, Debug, PartialEq)]
pub struct Stored {
    /// Counts saves; another tab that finds a higher one than it read must not save over it.
    pub revision: u64,
    /// The design.
    pub design: Design,
    /// Texts typed into fields that do not fit yet, by field.
    pub drafts: VecMap<FieldId, String>,
}

/// The record as text.
#[must_use]
pub fn write(stored: &Stored) -> String {
    let drafts: Map<String, Value> =
        stored.drafts.iter().map(|(id, text)| (draft_key(*id), Value::String(text.clone()))).collect();
    json!({ "revision": stored.revision, "design": file::to_value(&stored.design), "drafts": drafts })
        .to_string()
}

/// Reads a record; entries that do not fit come back as drafts, so that nothing typed is lost.
///
/// # Errors
/// [`OpenError`] if the text holds no design.
pub fn read(text: &str) -> Result<Stored, OpenError> {
    if text.len() > 2 * file::MAX_FILE {
        return Err(OpenError::TooLong);
    }
    let value: Value = serde_json::from_str(text).map_err(|_| OpenError::NotADesign)?;
    let Opened { design, repairs } = file::from_value(value.get("design").unwrap_or(&Value::Null))?;
    let mut drafts: VecMap<FieldId, String> =
        repairs.into_iter().filter_map(|repair| Some((repair.field?, repair.text))).collect();
    for (key, draft) in value.get("drafts").and_then(Value::as_object).into_iter().flatten() {
        if let (Some(id), Some(draft)) = (field_of_draft(key), draft.as_str()) {
            drafts.insert(id, draft.chars().take(MAX_KEY).collect());
        }
    }
    Ok(Stored { revision: revision(text), design, drafts })
}

/// The revision of a stored text; 0 if it has none.
#[must_use]
pub fn revision(text: &str) -> u64 {
    let value: Option<Value> = serde_json::from_str(text).ok();
    value.and_then(|value| value.get("revision")?.as_u64()).unwrap_or(0)
}

/// A shelf record as text: a design file that holds one record.
#[must_use]
pub fn write_shelf(record: &Sheet) -> String {
    file::to_value(&Design { sheet: record.clone(), ..Design::default() }).to_string()
}

/// Reads a shelf record.
///
/// # Errors
/// [`OpenError`] if the text is no record.
pub fn read_shelf(text: &str, kind: RecordKind) -> Result<Sheet, OpenError> {
    file::read(text).map(|opened| opened.design.sheet.record(kind))
}

fn draft_key(id: FieldId) -> String {
    id.row().code.to_string()
}

fn field_of_draft(key: &str) -> Option<FieldId> {
    key.parse().ok().and_then(FieldId::from_code)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::demo;

    #[test]
    fn stored_and_back() {
        let drafts = VecMap::from_iter([(FieldId::Fs, "2x".to_owned())]);
        let stored = Stored { revision: 7, design: demo::design(), drafts };
        assert_eq!(read(&write(&stored)), Ok(stored));
    }

    #[test]
    fn an_entry_out_of_limits_becomes_a_draft() {
        let text = r#"{"revision":1,"design":{"format":"kerf-and-coil","version":1,"driver":{"fs":"1 Hz"}}}"#;
        let stored = read(text).unwrap();
        assert_eq!(stored.drafts.get(&FieldId::Fs).map(String::as_str), Some("1 Hz"));
    }

    #[test]
    fn shelf_keys_and_records() {
        let key = keys::shelf(RecordKind::Vehicle, "a1");
        assert_eq!(keys::parse_shelf(&key), Some((RecordKind::Vehicle, "a1")));
        assert_eq!(keys::parse_shelf("kc.shelf.boat.a1"), None);
        let vehicle = demo::design().sheet.record(RecordKind::Vehicle);
        assert_eq!(read_shelf(&write_shelf(&vehicle), RecordKind::Vehicle), Ok(vehicle));
    }
}
