//! The whole report as JSON, for the native `report` program and for tests; the page does without it.
//!
//! Every number stands under a key that names its unit (`net_litres`, `fuse_a`). What there is no value for is left
//! out, so that a `null` never stands for a number. A part that can't be worked out says why in its place:
//! `{"missing": [["driver.fs", …], …]}`, `{"refused": "…"}` or `{"waiting": true}`.
mod electrical;
mod enclosure;
mod shop;
mod sound;

pub use shop::shop;

use std::rc::Rc;

use serde_json::{Map, Value, json};

use super::warnings;
use crate::design::document::Design;
use crate::design::file::Repair;
use crate::design::limits::FieldId;
use crate::design::report::{Gap, Part, Report};
use crate::design::warnings::{Place, Severity};
use crate::units::{ExactLength, Quantity, UnitPrefs, Volume};

/// Everything a design comes to; `repairs` are the entries that were left out when it was read.
#[must_use]
pub fn report(design: &Design, report: &Report, repairs: &[Repair]) -> Value {
    Object::new()
        .with("name", design.sheet.text(FieldId::DesignName))
        .with("left_out", repairs.iter().map(repair).collect::<Vec<_>>())
        .with("driver", part(&report.driver, sound::driver))
        .with("wiring", part(&report.wiring, electrical::wiring))
        .with("enclosure", part(&report.enclosure, enclosure::enclosure))
        .with("sound", part(&report.sound, |found| sound::sound(found, report.loud.as_deref().ok())))
        .with("feed", part(&report.feed, electrical::feed))
        .maybe("cable_proof", report.proof.as_ref().map(electrical::proof))
        .with("filled", filled(report))
        .with("warnings", all_warnings(report))
        .into()
}

/// A value as the indented text of a file.
#[must_use]
pub fn text(value: &Value) -> String {
    format!("{value:#}\n")
}

fn part<T>(part: &Part<Rc<T>>, show: impl Fn(&T) -> Value) -> Value {
    match part {
        Ok(found) => show(found),
        Err(Gap::Missing(sets)) => {
            let keys = |set: &Vec<FieldId>| set.iter().map(|id| field_key(*id)).collect::<Vec<_>>();
            json!({ "missing": sets.iter().map(keys).collect::<Vec<_>>() })
        }
        Err(Gap::Refused(error)) => json!({ "refused": error.to_string() }),
        Err(Gap::Waiting) => json!({ "waiting": true }),
        Err(Gap::Rings) => json!({ "stacked_rings": true }),
    }
}

/// Record and key of a field, as in a design file.
fn field_key(id: FieldId) -> String {
    format!("{}.{}", id.row().record.key(), id.row().key)
}

fn repair(repair: &Repair) -> Value {
    Object::new().maybe("field", repair.field.map(field_key)).with("text", repair.text.clone()).into()
}

/// What counts where nothing was entered, in the unit that is usual for the field.
fn filled(report: &Report) -> Value {
    let prefs = UnitPrefs::default();
    let one = |(id, si): (&FieldId, &f64)| {
        let unit = prefs.unit_for(id.quantity().unwrap_or(Quantity::Ratio));
        json!({ "field": field_key(*id), "value": unit.from_si(*si), "unit": unit.symbol() })
    };
    report.filled.iter().map(one).collect()
}

fn all_warnings(report: &Report) -> Value {
    let prefs = UnitPrefs::default();
    let one = |warning: &crate::design::warnings::Warning| {
        json!({
            "place": match warning.place() {
                Place::Desk => "desk",
                Place::Saw => "saw",
                Place::Car => "car",
            },
            "severity": match warning.severity() {
                Severity::Stop => "stop",
                Severity::Care => "care",
            },
            "text": warnings::text(warning, &prefs),
        })
    };
    report.warnings.iter().map(one).collect()
}

fn mm(length: ExactLength) -> Value {
    length.millimetres().into()
}

fn litres(volume: Volume) -> Value {
    volume.litres().into()
}

/// An object built key by key, in which what is absent is left out.
struct Object(Map<String, Value>);

impl Object {
    fn new() -> Self {
        Self(Map::new())
    }
    fn with(mut self, key: &str, value: impl Into<Value>) -> Self {
        self.0.insert(key.to_owned(), value.into());
        self
    }
    fn maybe<T: Into<Value>>(self, key: &str, value: Option<T>) -> Self {
        match value {
            Some(value) => self.with(key, value),
            None => self,
        }
    }
}

impl From<Object> for Value {
    fn from(object: Object) -> Self {
        Self::Object(object.0)
    }
}
