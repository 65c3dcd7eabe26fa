//! `data/woodworking/geometry_cases.json` as the program answers it natively (`report --geometry`): every result that a
//! case expects stands under its name, to 1e-6 relative; values given to fewer digits to half of their last one.
use kerf_and_coil::design::geometry_case::{GeometryError, results};
use serde_json::Value;

const CASES: &str = include_str!("../data/woodworking/geometry_cases.json");

/// Kinds that this program does not plan, and says so.
const NOT_PLANNED: &[&str] = &[];

fn close(actual: f64, expected: f64) -> bool {
    (actual - expected).abs() <= 1e-6 * expected.abs().max(0.5)
}

/// What differs, with its path.
fn differences(path: &str, actual: Option<&Value>, expected: &Value, found: &mut Vec<String>) {
    match (actual, expected) {
        (Some(Value::Object(_)), Value::Object(wanted)) => {
            for (key, value) in wanted {
                differences(&format!("{path}.{key}"), actual.and_then(|a| a.get(key)), value, found);
            }
        }
        (Some(Value::Array(list)), Value::Array(wanted)) if list.len() == wanted.len() => {
            for (place, (actual, value)) in list.iter().zip(wanted).enumerate() {
                differences(&format!("{path}[{place}]"), Some(actual), value, found);
            }
        }
        (Some(Value::Number(actual)), Value::Number(wanted)) => {
            let pair = actual.as_f64().zip(wanted.as_f64());
            if !pair.is_some_and(|(actual, wanted)| close(actual, wanted)) {
                found.push(format!("{path}: {actual}, expected {wanted}"));
            }
        }
        (Some(actual), wanted) if actual == wanted => {}
        (None, Value::Null) => {}
        (actual, wanted) => found.push(format!("{path}: {actual:?}, expected {wanted}")),
    }
}

#[test]
fn every_case_of_the_reference() {
    let file: Value = serde_json::from_str(CASES).expect("the cases are JSON");
    let cases = file["cases"].as_array().expect("a list");
    let answers = results(CASES).expect("results");
    let answers = answers.as_array().expect("a list");
    assert_eq!(answers.len(), cases.len());
    let (mut planned, mut wrong) = (0, Vec::new());
    for (case, answer) in cases.iter().zip(answers) {
        assert_eq!(answer["id"], case["id"]);
        let kind = case["kind"].as_str().expect("a kind");
        if NOT_PLANNED.contains(&kind) {
            assert!(answer["refused"].as_str().is_some_and(|why| why.contains(kind)), "{answer}");
            continue;
        }
        differences(case["id"].as_str().expect("an id"), Some(answer), &case["expected"], &mut wrong);
        planned += 1;
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert_eq!(planned, 21);
}

#[test]
fn the_comparison_sees_a_difference() {
    let expected = serde_json::json!({ "net_litres": 10.0, "list": [1.0, 2.0], "face": "outside" });
    for wrong in [
        serde_json::json!({ "net_litres": 10.000_02, "list": [1.0, 2.0], "face": "outside" }),
        serde_json::json!({ "net_litres": 10.0, "list": [1.0], "face": "outside" }),
        serde_json::json!({ "net_litres": 10.0, "list": [1.0, 2.0], "face": "inside" }),
        serde_json::json!({ "list": [1.0, 2.0], "face": "outside" }),
    ] {
        let mut found = Vec::new();
        differences("", Some(&wrong), &expected, &mut found);
        assert_eq!(found.len(), 1, "{wrong}");
    }
}

#[test]
fn one_case_alone_and_files_that_hold_none() {
    let file: Value = serde_json::from_str(CASES).expect("the cases are JSON");
    let one = results(&file["cases"][0].to_string()).expect("a result");
    assert!((one["net_litres"].as_f64().expect("litres") - 56.008_704).abs() < 1e-6);
    for text in ["", "{}", "[1]", r#"{"cases": [{}]}"#, "null", r#"{"kind": 3, "input": {}}"#] {
        assert_eq!(results(text), Err(GeometryError::NotACase), "{text}");
    }
    for (text, why) in [
        (r#"{"kind": "wedge_back_over", "input": {"external_mm": {"width": 1e300}}}"#, "lacks"),
        (r#"{"kind": "rect_box", "input": {}}"#, "lacks"),
        (
            r#"{"kind": "polygon_profile", "input": {"width": 9, "thickness": 4, "profile_ccw_mm": [[0,0],[1,0],[1,1]]}}"#,
            "no inside",
        ),
    ] {
        let answer = results(text).expect("an answer");
        assert!(answer["refused"].as_str().is_some_and(|told| told.contains(why)), "{answer}");
    }
}
