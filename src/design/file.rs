//! The design file: JSON in which every entry is a text as typed, so that it can be read and mended by hand.
//!
//! `{"format": "kerf-and-coil", "version": 1, "driver": {"fs": "28.4 Hz", …}, …, "as built": {…}, "ticks": […],
//! "readings": […], "trials": […]}`. The schema is made by [`schema`] from the field table.
use serde::Serialize;
use serde_json::{Map, Value, json};
use thiserror::Error;

use super::document::{
    Design, Log, MAX_KEY, MAX_LIST, MAX_NOTE, Reading, clean_text, entry_text, is_key, parse_built,
    parse_entry,
};
use super::limits::{FieldId, Kind, RecordKind};
use super::trials::{
    Aim, MAX_NAME, MAX_TRIALS, SEATS, STATES, Trial, WAYS, level_text, read_levels, read_spread, spread_text,
};
use crate::units::{Entered, Quantity, Unit, UnitPrefs};

/// The word that marks a file as ours.
pub const FORMAT: &str = "kerf-and-coil";
/// The version written.
pub const CURRENT: u64 = 1;
/// Longest file read, in bytes.
pub const MAX_FILE: usize = 1_000_000;

/// Why a text is not a design file.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum OpenError {
    /// Not JSON, or JSON of something else.
    #[error("not a design file")]
    NotADesign,
    /// Longer than any design.
    #[error("too long for a design file")]
    TooLong,
    /// Written by a later version of the page.
    #[error("written by a newer version ({found})")]
    TooNew {
        /// The version found.
        found: u64,
    },
}

/// An entry that did not fit and was left out; its text is kept as a draft where it names a field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repair {
    /// The field, if the key names one.
    pub field: Option<FieldId>,
    /// What stood there.
    pub text: String,
}

/// A design read from outside, and what had to be left out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Opened {
    /// The design, valid in every field.
    pub design: Design,
    /// What did not fit.
    pub repairs: Vec<Repair>,
}

/// The design as a JSON object.
#[must_use]
pub fn to_value(design: &Design) -> Value {
    let mut file = Map::new();
    file.insert("format".into(), FORMAT.into());
    file.insert("version".into(), CURRENT.into());
    for kind in RecordKind::ALL {
        let record: Map<String, Value> = design
            .sheet
            .entries()
            .filter(|(id, _)| id.row().record == *kind)
            .map(|(id, entry)| (id.row().key.to_owned(), Value::String(entry_text(id, entry))))
            .collect();
        if !record.is_empty() {
            file.insert(kind.key().into(), Value::Object(record));
        }
    }
    let built = design.sheet.built();
    if !built.is_empty() {
        let sizes = built.iter().map(|(key, size)| (key.clone(), Value::String(size.to_text())));
        file.insert("as built".into(), Value::Object(sizes.collect()));
    }
    if !design.log.ticks.is_empty() {
        file.insert("ticks".into(), design.log.ticks.iter().cloned().collect());
    }
    if !design.log.readings.is_empty() {
        file.insert("readings".into(), design.log.readings.iter().map(reading_value).collect());
    }
    if !design.log.trials.is_empty() {
        file.insert("trials".into(), design.log.trials.iter().map(trial_value).collect());
    }
    Value::Object(file)
}

/// A reading as it stands in the file.
#[derive(Serialize)]
struct ReadingFile<'a> {
    at: i64,
    subject: &'a str,
    value: Option<String>,
    #[serde(skip_serializing_if = "str::is_empty")]
    note: &'a str,
}

fn reading_value(reading: &Reading) -> Value {
    let file = ReadingFile {
        at: reading.at_s,
        subject: &reading.subject,
        value: reading.value.map(Entered::to_text),
        note: &reading.note,
    };
    serde_json::to_value(file).unwrap_or(Value::Null)
}

fn trial_value(trial: &Trial) -> Value {
    let named = |keys: &[&str], code: u8| keys.get(usize::from(code)).copied().unwrap_or_default().to_owned();
    let states = STATES.iter().enumerate().filter(|(bit, _)| trial.state >> bit & 1 == 1);
    let states: Vec<&str> = states.map(|(_, key)| *key).collect();
    let mut file = Map::new();
    let mut text = |key: &str, value: String| {
        if !value.is_empty() {
            file.insert(key.into(), Value::String(value));
        }
    };
    text("spot", trial.spot.clone());
    text("aim", trial.aim.key());
    text("box", trial.used.clone());
    text("seat", named(&SEATS, trial.seat));
    text("by", named(&WAYS, trial.way));
    text("level", level_text(&trial.level));
    text("spread", spread_text(&trial.spread));
    text("note", trial.note.clone());
    if trial.left_out {
        text("counts", "no".into());
    }
    file.insert("at".into(), trial.at_s.into());
    file.insert("takes".into(), trial.takes.into());
    if let Some(hundredths) = trial.level_spread {
        file.insert("level spread".into(), (f64::from(hundredths) / 100.0).to_string().into());
    }
    if let Some(height) = trial.height {
        file.insert("height".into(), height.into());
    }
    if let Some([x, y]) = trial.place {
        file.insert("place".into(), json!([x, y]));
    }
    if !states.is_empty() {
        file.insert("state".into(), json!(states));
    }
    Value::Object(file)
}

/// The design as the text of a file.
#[must_use]
pub fn write(design: &Design) -> String {
    serde_json::to_string_pretty(&to_value(design)).unwrap_or_default()
}

/// Reads a design file.
///
/// Whatever fits is kept; what doesn't is listed in [`Opened::repairs`]. Never panics, whatever the text.
///
/// # Errors
/// [`OpenError`] if the text as a whole is not a design file of a version this page knows.
pub fn read(text: &str) -> Result<Opened, OpenError> {
    if text.len() > MAX_FILE {
        return Err(OpenError::TooLong);
    }
    let value: Value = serde_json::from_str(text).map_err(|_| OpenError::NotADesign)?;
    from_value(&value)
}

/// Reads a design from JSON; see [`read`].
///
/// # Errors
/// As [`read`].
pub fn from_value(value: &Value) -> Result<Opened, OpenError> {
    if value.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return Err(OpenError::NotADesign);
    }
    match value.get("version").and_then(Value::as_u64) {
        Some(1) => Ok(read_version_1(value)),
        Some(found) if found > CURRENT => Err(OpenError::TooNew { found }),
        _ => Err(OpenError::NotADesign),
    }
}

fn read_version_1(value: &Value) -> Opened {
    let mut opened = Opened { design: Design::default(), repairs: Vec::new() };
    for kind in RecordKind::ALL {
        let Some(record) = value.get(kind.key()).and_then(Value::as_object) else { continue };
        for (key, entry) in record {
            read_entry(&mut opened, *kind, key, entry);
        }
    }
    if let Some(built) = value.get("as built").and_then(Value::as_object) {
        for (key, size) in built {
            match size.as_str().map(|text| parse_built(text, &UnitPrefs::default())) {
                Some(Ok(size)) => opened.design.sheet.set_built(key, size),
                _ => opened.repairs.push(Repair { field: None, text: shorten(&size.to_string()) }),
            }
        }
    }
    opened.design.log = read_log(value);
    opened
}

fn read_entry(opened: &mut Opened, kind: RecordKind, key: &str, entry: &Value) {
    let text = match entry {
        Value::String(text) => text.clone(),
        Value::Number(number) => number.to_string(),
        other => shorten(&other.to_string()),
    };
    let field = FieldId::from_key(kind, key);
    let fits = field.is_some_and(|id| {
        parse_entry(id, &text, &UnitPrefs::default())
            .and_then(|entry| opened.design.sheet.set(id, entry))
            .is_ok()
    });
    if !fits {
        opened.repairs.push(Repair { field, text: shorten(&text) });
    }
}

fn read_log(value: &Value) -> Log {
    let list = |key: &str| value.get(key).and_then(Value::as_array).into_iter().flatten().take(MAX_LIST);
    let ticks = list("ticks").filter_map(Value::as_str).filter(|key| is_key(key)).map(str::to_owned);
    let readings = list("readings").filter_map(read_reading);
    let trials = list("trials").take(MAX_TRIALS).filter_map(read_trial);
    Log { ticks: ticks.collect(), readings: readings.collect(), trials: trials.collect() }
}

/// A trial; what does not fit in it takes its usual value, and without a level there is none.
fn read_trial(value: &Value) -> Option<Trial> {
    let text = |key: &str| value.get(key).and_then(Value::as_str).unwrap_or_default();
    let code = |keys: &[&str], key: &str| {
        keys.iter().position(|known| *known == text(key)).and_then(|at| u8::try_from(at).ok()).unwrap_or(0)
    };
    let small = |value: &Value| value.as_u64().and_then(|number| u8::try_from(number).ok());
    let place = value
        .get("place")
        .and_then(Value::as_array)
        .and_then(|place| Some([place.first().and_then(small)?, place.get(1).and_then(small)?]));
    let states = value.get("state").and_then(Value::as_array);
    let state = STATES.iter().enumerate().filter(|(_, key)| {
        states.is_some_and(|states| states.iter().any(|state| state.as_str() == Some(key)))
    });
    let trial = Trial {
        at_s: value.get("at").and_then(Value::as_i64).unwrap_or(0),
        spot: text("spot").to_owned(),
        place,
        aim: Aim::from_key(text("aim")).unwrap_or(Aim::Up),
        used: text("box").to_owned(),
        seat: code(&SEATS, "seat"),
        state: state.fold(0, |bits, (bit, _)| bits | 1 << bit),
        way: code(&WAYS, "by"),
        takes: value.get("takes").and_then(small).unwrap_or(1),
        level: read_levels(text("level")),
        spread: read_spread(text("spread")),
        level_spread: text("level spread")
            .parse::<f64>()
            .ok()
            .map(|s| (100.0 * s).round().clamp(0.0, f64::from(u16::MAX)) as u16),
        height: value.get("height").and_then(small),
        left_out: text("counts") == "no",
        note: text("note").to_owned(),
    };
    trial.checked()
}

fn read_reading(value: &Value) -> Option<Reading> {
    let subject = value.get("subject").and_then(Value::as_str).filter(|key| is_key(key))?;
    let reading_value = match value.get("value").and_then(Value::as_str) {
        Some(text) => Some(parse_any(text)?),
        None => None,
    };
    Some(Reading {
        at_s: value.get("at").and_then(Value::as_i64).unwrap_or(0),
        subject: subject.to_owned(),
        value: reading_value,
        note: clean_text(value.get("note").and_then(Value::as_str).unwrap_or(""), MAX_NOTE),
    })
}

/// A number with any unit.
fn parse_any(text: &str) -> Option<Entered> {
    let mut quantities: Vec<Quantity> = Unit::ALL.iter().map(|unit| unit.quantity()).collect();
    quantities.dedup();
    let named = |quantity: &Quantity| {
        let entered = Entered::parse(text, *quantity, &UnitPrefs::default()).ok()?;
        (entered.to_text() == text).then_some(entered)
    };
    quantities.iter().find_map(named)
}

fn shorten(text: &str) -> String {
    text.chars().take(MAX_KEY).collect()
}

/// The JSON Schema of a design file, made from the field table.
#[must_use]
pub fn schema() -> Value {
    let mut properties = Map::new();
    properties.insert("format".into(), json!({ "const": FORMAT }));
    properties.insert("version".into(), json!({ "const": CURRENT }));
    for kind in RecordKind::ALL {
        let fields: Map<String, Value> =
            kind.fields().map(|id| (id.row().key.to_owned(), field_schema(id))).collect();
        properties.insert(
            kind.key().into(),
            json!({ "type": "object", "properties": fields, "additionalProperties": false }),
        );
    }
    let length = json!({ "type": "string", "pattern": number_pattern(Quantity::Length) });
    properties.insert("as built".into(), json!({ "type": "object", "additionalProperties": length }));
    properties.insert(
        "ticks".into(),
        json!({ "type": "array", "maxItems": MAX_LIST, "items": { "type": "string" } }),
    );
    properties.insert(
        "readings".into(),
        json!({ "type": "array", "maxItems": MAX_LIST, "items": {
            "type": "object",
            "required": ["at", "subject"],
            "properties": {
                "at": { "type": "integer", "description": "seconds since 1970, UTC" },
                "subject": { "type": "string" },
                "value": { "type": ["string", "null"] },
                "note": { "type": "string" },
            },
        } }),
    );
    properties
        .insert("trials".into(), json!({ "type": "array", "maxItems": MAX_TRIALS, "items": trial_schema() }));
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Kerf & Coil design",
        "type": "object",
        "required": ["format", "version"],
        "properties": properties,
        "additionalProperties": false,
    })
}

fn trial_schema() -> Value {
    json!({
        "type": "object",
        "required": ["level"],
        "properties": {
            "at": { "type": "integer", "description": "seconds since 1970, UTC" },
            "spot": { "type": "string", "maxLength": MAX_NAME },
            "place": {
                "type": "array", "maxItems": 2, "items": { "type": "integer" },
                "description": "on the plan, in per cent from the left side and from the front",
            },
            "aim": {
                "type": "string",
                "description": "up, down, front, rear, left, right, or degrees clockwise from the front",
            },
            "box": { "type": "string", "maxLength": MAX_NAME },
            "seat": { "enum": SEATS },
            "state": { "type": "array", "items": { "enum": STATES } },
            "by": { "enum": WAYS },
            "takes": { "type": "integer" },
            "level": {
                "type": "string",
                "description": "mean in dB at 40 twelfth-octaves from 20 Hz to 200 Hz, parted by blanks; - for a gap",
            },
            "spread": { "type": "string", "description": "standard deviation of one take in dB at the same points" },
            "level spread": {
                "type": "string",
                "description": "standard deviation of one take's mean level over 25 Hz to 80 Hz, dB",
            },
            "height": { "type": "integer", "description": "per cent from floor to roof" },
            "counts": { "enum": ["yes", "no"] },
            "note": { "type": "string" },
        },
    })
}

fn field_schema(id: FieldId) -> Value {
    let row = id.row();
    match row.kind {
        Kind::Number { quantity, min, max, .. } => json!({
            "type": "string",
            "title": row.label,
            "pattern": number_pattern(quantity),
            "description": format!("{min} to {max} in SI units (°C for temperatures)"),
        }),
        Kind::Choice { rows, .. } => json!({
            "title": row.label,
            "enum": rows.iter().map(|choice| choice.key).collect::<Vec<_>>(),
        }),
        Kind::Text { max } => json!({ "type": "string", "title": row.label, "maxLength": max }),
    }
}

fn number_pattern(quantity: Quantity) -> String {
    let units: Vec<&str> =
        Unit::ALL.iter().filter(|unit| unit.quantity() == quantity).map(|unit| unit.symbol()).collect();
    let unit = if units == [""] { String::new() } else { format!(" ({})", units.join("|")) };
    format!("^-?[0-9]+([.][0-9]+)?{unit}$")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_bad_entry_does_not_lose_the_rest() {
        let text = r#"{"format":"kerf-and-coil","version":1,
            "driver":{"fs":"28.40 Hz","qts":"fish","re":1e99,"unheard":"1"},"enclosure":[1],
            "as built":{"top.width":"318 mm","x":"-1 mm"},"ticks":["a",2],"readings":[{"subject":"coil","at":5,"value":"3.9 Ω"},{"value":1}]}"#;
        let opened = read(text).unwrap();
        assert_eq!(opened.design.sheet.given(FieldId::Fs).unwrap().to_text(), "28.40 Hz");
        assert_eq!(opened.design.sheet.built().len(), 1);
        assert_eq!(opened.design.log.ticks.len(), 1);
        assert_eq!(opened.design.log.readings.len(), 1);
        assert_eq!(opened.repairs.len(), 4);
        assert!(opened.repairs.contains(&Repair { field: Some(FieldId::Qts), text: "fish".into() }));
    }

    #[test]
    fn other_files_are_refused() {
        assert_eq!(read("{}"), Err(OpenError::NotADesign));
        assert_eq!(read("[1"), Err(OpenError::NotADesign));
        assert_eq!(read(r#"{"format":"kerf-and-coil","version":7}"#), Err(OpenError::TooNew { found: 7 }));
    }
}
