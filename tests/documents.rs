//! Design files: their schema, files and links of version 1 which every later version must read, and what is refused.
#[path = "support/designs.rs"]
mod designs;

use std::path::{Path, PathBuf};
use std::process::Command;

use kerf_and_coil::design::document::{Design, entry_text};
use kerf_and_coil::design::file::{self, OpenError, Opened};
use kerf_and_coil::design::link::{self, LinkError};
use kerf_and_coil::design::trials::{Trial, level_text, spread_text};
use kerf_and_coil::design::{demo, stored};
use kerf_and_coil::units::Entered;
use proptest::prelude::*;
use serde_json::{Map, Value, json};

fn fixtures() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures")
}

fn fixture(name: &str) -> String {
    let path = fixtures().join(name);
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Designs of version 1: each has a file, a link, and the entries both must give.
const VERSION_1: &[&str] = &["demo", "inches", "shape", "slot", "as-built", "trials", "level-spread"];

/// Every entry of a design on a line, sorted: `driver.fs = 29.0 Hz`.
fn listing(design: &Design) -> String {
    let mut lines: Vec<String> = design
        .sheet
        .entries()
        .map(|(id, entry)| format!("{}.{} = {}", id.row().record.key(), id.row().key, entry_text(id, entry)))
        .collect();
    lines.extend(
        design.sheet.built().iter().map(|(key, size)| format!("as built.{key} = {}", size.to_text())),
    );
    lines.extend(design.log.ticks.iter().map(|key| format!("tick = {key}")));
    lines.extend(design.log.readings.iter().map(|reading| {
        let value = reading.value.map_or("open".into(), Entered::to_text);
        format!("reading = {}, {}, {value}, {}", reading.at_s, reading.subject, reading.note)
            .trim_end_matches(", ")
            .into()
    }));
    lines.extend(design.log.trials.iter().map(|trial| {
        let Trial { at_s, spot, place, used, seat, state, way, takes, left_out, note, .. } = trial;
        let (levels, spreads) = (level_text(&trial.level), spread_text(&trial.spread));
        let aim = trial.aim.key();
        let more = match (trial.level_spread, trial.height) {
            (None, None) => String::new(),
            (spread, height) => {
                let text = |value: Option<u16>| value.map_or("-".into(), |value| value.to_string());
                format!(", {}, {}", text(spread), text(height.map(u16::from)))
            }
        };
        format!("trial = {at_s}, {spot}, {place:?}, {aim}, {used}, {seat}, {state}, {way}, {takes}, {left_out}, {note}, {levels}, {spreads}{more}")
    }));
    lines.sort();
    lines.join("\n") + "\n"
}

#[test]
fn files_and_links_of_version_1_give_the_entries_beside_them() {
    for name in VERSION_1 {
        let expected = fixture(&format!("version-1/{name}.txt"));
        let from_file = file::read(&fixture(&format!("version-1/{name}.json"))).expect("a design file");
        let from_link = link::read(&fixture(&format!("version-1/{name}.link"))).expect("a link");
        for (from, opened) in [("file", &from_file), ("link", &from_link)] {
            assert_eq!(listing(&opened.design), expected, "{name} from its {from}");
            assert_eq!(opened.repairs, [], "{name} from its {from}");
        }
        assert_eq!(from_file.design, from_link.design, "{name}");
    }
}

#[test]
fn every_fixture_is_listed() {
    let mut found: Vec<String> = std::fs::read_dir(fixtures().join("version-1"))
        .expect("the fixtures")
        .map(|entry| entry.expect("a fixture").file_name().to_string_lossy().into_owned())
        .filter(|name| name.ends_with(".json") && name != "to-mend.json")
        .collect();
    found.sort();
    let mut listed: Vec<String> = VERSION_1.iter().map(|name| format!("{name}.json")).collect();
    listed.sort();
    assert_eq!(found, listed);
}

#[test]
fn what_does_not_fit_is_left_out_and_told() {
    let opened = file::read(&fixture("version-1/to-mend.json")).expect("a design file");
    let mut text = listing(&opened.design);
    let mut left_out: Vec<String> = opened
        .repairs
        .iter()
        .map(|repair| match repair.field {
            Some(id) => format!("left out = {}.{}, {}", id.row().record.key(), id.row().key, repair.text),
            None => format!("left out = {}", repair.text),
        })
        .collect();
    left_out.sort();
    text += &(left_out.join("\n") + "\n");
    assert_eq!(text, fixture("version-1/to-mend.txt"));
}

#[test]
fn what_is_refused_is_refused_with_its_reason() {
    let file_error =
        |name: &str| file::read(&fixture(&format!("refused/{name}"))).expect_err("must be refused");
    assert_eq!(file_error("newer.json"), OpenError::TooNew { found: 2 });
    assert_eq!(file_error("something-else.json"), OpenError::NotADesign);
    assert_eq!(file_error("cut-short.json"), OpenError::NotADesign);
    let link_error =
        |name: &str| link::read(&fixture(&format!("refused/{name}"))).expect_err("must be refused");
    assert_eq!(link_error("cut-short.link"), LinkError::Truncated);
    assert_eq!(link_error("damaged.link"), LinkError::Corrupt);
    assert_eq!(link_error("newer-codec.link"), LinkError::UnknownCodec);
    assert_eq!(link_error("no-design.link"), LinkError::NoDesign);
    assert_eq!(file::read(&" ".repeat(file::MAX_FILE + 1)), Err(OpenError::TooLong));
    assert_eq!(link::read(&format!("#d=1.{}", "A".repeat(link::MAX_PAYLOAD))), Err(LinkError::TooLong));
}

proptest! {
    /// File, link and stored record, one after the other.
    #[test]
    fn every_way_round_gives_the_same_design(design in designs::random_design()) {
        let Opened { design: from_file, .. } = file::read(&file::write(&design)).unwrap();
        let Opened { design: from_link, .. } = link::read(&link::fragment(&from_file)).unwrap();
        prop_assert_eq!(file::write(&from_link), file::write(&design));
        let record = stored::Stored { revision: 1, design: from_link, drafts: Default::default() };
        prop_assert_eq!(stored::read(&stored::write(&record)).unwrap().design, design);
    }

    #[test]
    fn every_file_written_fits_the_schema(design in designs::random_design()) {
        prop_assert_eq!(faults(&file::schema(), &file::to_value(&design), "design"), Vec::<String>::new());
    }
}

#[test]
fn the_schema_kept_is_the_one_in_use() {
    let kept: Value = serde_json::from_str(&fixture("design.schema.json")).expect("JSON");
    assert!(
        kept == file::schema(),
        "The schema has changed. If old files still fit, renew it by\n\
         cargo run --bin report -- --schema > tests/fixtures/design.schema.json"
    );
}

#[test]
fn files_of_version_1_fit_the_schema() {
    let schema = file::schema();
    assert_eq!(faults(&schema, &file::to_value(&demo::design()), "demo"), Vec::<String>::new());
    for name in VERSION_1 {
        let value: Value = serde_json::from_str(&fixture(&format!("version-1/{name}.json"))).expect("JSON");
        assert_eq!(faults(&schema, &value, name), Vec::<String>::new());
    }
}

#[test]
fn the_schema_refuses_what_is_wrong() {
    let schema = file::schema();
    let refused = [
        json!({}),
        json!({ "format": "kerf-and-coil" }),
        json!({ "format": "kerf-and-coil", "version": 2 }),
        json!({ "format": "kerf-and-coil", "version": 1, "engine": {} }),
        json!({ "format": "kerf-and-coil", "version": 1, "driver": { "fs": 29.0 } }),
        json!({ "format": "kerf-and-coil", "version": 1, "driver": { "fs": "29,0 Hz" } }),
        json!({ "format": "kerf-and-coil", "version": 1, "driver": { "fs": "29 mm" } }),
        json!({ "format": "kerf-and-coil", "version": 1, "driver": { "unheard of": "1" } }),
        json!({ "format": "kerf-and-coil", "version": 1, "enclosure": { "kind": "transmission line" } }),
        json!({ "format": "kerf-and-coil", "version": 1, "job": { "name": "x".repeat(61) } }),
        json!({ "format": "kerf-and-coil", "version": 1, "as built": { "left.height": "318 Hz" } }),
        json!({ "format": "kerf-and-coil", "version": 1, "ticks": [1] }),
        json!({ "format": "kerf-and-coil", "version": 1, "readings": [{ "at": 1.5, "subject": "line" }] }),
        json!({ "format": "kerf-and-coil", "version": 1, "readings": [{ "at": 1 }] }),
        json!({ "format": "kerf-and-coil", "version": 1, "trials": [{ "spot": "a" }] }),
        json!({ "format": "kerf-and-coil", "version": 1, "trials": [{ "level": "70", "seat": "roof" }] }),
    ];
    for value in refused {
        assert_eq!(faults(&schema, &value, "made up").len(), 1, "{value}");
    }
}

/// The same judgement by an independent validator, where Python with its `jsonschema` package is at hand.
#[test]
fn another_validator_agrees() {
    let script = "\
import json, sys
try:
    import jsonschema
except ImportError:
    sys.exit(77)
schema = json.load(open(sys.argv[1]))
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)
for path in sys.argv[2:]:
    for error in validator.iter_errors(json.load(open(path))):
        sys.exit(path + ': ' + error.message)
";
    let files = VERSION_1.iter().map(|name| fixtures().join(format!("version-1/{name}.json")));
    let run = |files: Vec<PathBuf>| {
        Command::new("python3")
            .arg("-c")
            .arg(script)
            .arg(fixtures().join("design.schema.json"))
            .args(files)
            .output()
    };
    let Ok(output) = run(files.collect()) else { return };
    if output.status.code() == Some(77) {
        return;
    }
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let newer = run(vec![fixtures().join("refused/newer.json")]).expect("it ran before");
    assert!(!newer.status.success(), "a newer version must not fit");
}

/// What of a value does not fit a schema. Knows the keywords in use and says so if there are others.
fn faults(schema: &Value, value: &Value, path: &str) -> Vec<String> {
    let empty = Map::new();
    let mut found = Vec::new();
    for (keyword, rule) in schema.as_object().unwrap_or(&empty) {
        let fits = match keyword.as_str() {
            "$schema" | "title" | "description" => true,
            "const" => value == rule,
            "enum" => rule.as_array().is_some_and(|values| values.contains(value)),
            "type" => match rule {
                Value::Array(types) => types.iter().any(|one| is_of(value, one)),
                one => is_of(value, one),
            },
            "pattern" => value.as_str().is_none_or(|text| matches_pattern(rule.as_str().unwrap_or(""), text)),
            "maxLength" => {
                value.as_str().is_none_or(|text| text.chars().count() as u64 <= rule.as_u64().unwrap_or(0))
            }
            "maxItems" => {
                value.as_array().is_none_or(|items| items.len() as u64 <= rule.as_u64().unwrap_or(0))
            }
            "required" => value.as_object().is_none_or(|map| {
                rule.as_array().is_some_and(|keys| {
                    keys.iter().all(|key| key.as_str().is_some_and(|key| map.contains_key(key)))
                })
            }),
            "properties" => {
                for (key, one) in rule.as_object().unwrap_or(&empty) {
                    if let Some(inner) = value.get(key) {
                        found.extend(faults(one, inner, &format!("{path}.{key}")));
                    }
                }
                true
            }
            "additionalProperties" => {
                let known = schema.get("properties").and_then(Value::as_object).unwrap_or(&empty);
                let more =
                    value.as_object().unwrap_or(&empty).iter().filter(|(key, _)| !known.contains_key(*key));
                let more: Vec<(&String, &Value)> = more.collect();
                if *rule == Value::Bool(false) {
                    more.is_empty()
                } else {
                    for (key, inner) in more {
                        found.extend(faults(rule, inner, &format!("{path}.{key}")));
                    }
                    true
                }
            }
            "items" => {
                for (i, item) in value.as_array().into_iter().flatten().enumerate() {
                    found.extend(faults(rule, item, &format!("{path}[{i}]")));
                }
                true
            }
            other => panic!("the schema uses {other}, which this test does not know"),
        };
        if !fits {
            found.push(format!("{path}: {keyword} {rule} against {value}"));
        }
    }
    found
}

fn is_of(value: &Value, name: &Value) -> bool {
    match name.as_str().unwrap_or("") {
        "object" => value.is_object(),
        "array" => value.is_array(),
        "string" => value.is_string(),
        "integer" => value.is_i64() || value.is_u64(),
        "null" => value.is_null(),
        other => panic!("the schema uses the type {other}, which this test does not know"),
    }
}

/// The one pattern in use: a decimal number, and behind a blank one of some units.
fn matches_pattern(pattern: &str, text: &str) -> bool {
    let rest = pattern.strip_prefix("^-?[0-9]+([.][0-9]+)?").and_then(|rest| rest.strip_suffix('$'));
    let rest = rest
        .unwrap_or_else(|| panic!("the schema uses the pattern {pattern}, which this test does not know"));
    let units: Vec<&str> = match rest.strip_prefix(" (").and_then(|rest| rest.strip_suffix(')')) {
        Some(units) => units.split('|').collect(),
        None => Vec::new(),
    };
    let (number, unit) = text.split_once(' ').map_or((text, None), |(number, unit)| (number, Some(unit)));
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    let number = number.strip_prefix('-').unwrap_or(number);
    let is_number =
        number.split_once('.').map_or(digits(number), |(whole, rest)| digits(whole) && digits(rest));
    let is_unit = unit.map_or(units.is_empty(), |unit| units.contains(&unit));
    is_number && is_unit
}
