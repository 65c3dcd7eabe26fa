//! Import of text columns: awkward files written by hand, and any bytes.
use kerf_and_coil::model::measurement::columns::{Columns, ColumnsError, MAX_TEXT, read, read_bytes};
use proptest::prelude::*;

fn file(name: &str) -> Vec<u8> {
    let path = format!("{}/tests/fixtures/columns/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read(&path).unwrap_or_else(|error| panic!("{path}: {error}"))
}

fn points(columns: &Columns, column: usize) -> Vec<(f64, f64)> {
    let curve = columns.curve(column).unwrap();
    curve.frequencies_hz().iter().copied().zip(curve.levels_db().iter().copied()).collect()
}

const FOUR_POINTS: [(f64, f64); 4] = [(20.0, 71.2), (25.0, 74.8), (31.5, 80.0), (40.0, 83.25)];

#[test]
fn awkward_files_give_the_same_four_points() {
    for name in [
        "stars-blanks-phase.txt",
        "semicolon-comma-bom.csv",
        "tabs-empty-end.tsv",
        "commas.csv",
        "decimal-comma-blanks.txt",
        "decimal-comma-comma-blank.txt",
        "units-and-remarks.txt",
        "exponents-zero-hertz.txt",
        "falling-footer.txt",
    ] {
        let columns = read_bytes(&file(name)).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert_eq!(points(&columns, 2), FOUR_POINTS, "{name}");
        assert_eq!(columns.has_phase(), name == "stars-blanks-phase.txt", "{name}");
    }
}

#[test]
fn the_preview_shows_what_was_passed_over() {
    let columns = read_bytes(&file("stars-blanks-phase.txt")).unwrap();
    assert_eq!((columns.columns, columns.passed_over, columns.rows.len()), (3, 2, 4));
    assert_eq!(
        columns.headings,
        ["* measured in an invented estate car", "* Freq(Hz) SPL(dB) Phase(degrees)"]
    );
    assert_eq!(columns.rows[0], [20.0, 71.2, -12.5]);
    let two = read_bytes(&file("two-takes.csv")).unwrap();
    assert_eq!(two.columns, 3);
    assert_eq!(points(&two, 2)[0], (20.0, 70.2));
    assert_eq!(points(&two, 3)[0], (20.0, 72.2));
    assert_eq!(two.curve(4), Err(ColumnsError::NoColumn { column: 4 }));
    assert_eq!(two.curve(1), Err(ColumnsError::NoColumn { column: 1 }));
    assert!(!two.has_phase());
}

#[test]
fn what_is_refused_says_where_and_why() {
    let refusal = |name: &str| match read_bytes(&file(name)) {
        Ok(columns) => columns.curve(2).expect_err(name),
        Err(error) => error,
    };
    let not_a_number = |line, text: &str| ColumnsError::NotANumber { line, text: text.into() };
    for (name, expected) in [
        ("two-ways.csv", ColumnsError::TwoWays { line: 1 }),
        ("word-in-a-row.csv", not_a_number(3, "seventy")),
        ("short-row.csv", ColumnsError::Uneven { line: 3, found: 2, expected: 3 }),
        ("thousands.csv", not_a_number(1, "1.020,5")),
        ("one-row-bad.txt", not_a_number(1, "x")),
        ("prose.txt", ColumnsError::NoNumbers),
        ("one-column.txt", ColumnsError::OneColumn { line: 1 }),
        ("treble-only.txt", ColumnsError::TooFew { found: 0 }),
        ("level-out-of-range.txt", ColumnsError::OutOfRange { line: 2 }),
        ("picture.png.txt", ColumnsError::NotText),
        ("empty.txt", ColumnsError::Empty),
    ] {
        assert_eq!(refusal(name), expected, "{name}");
    }
    assert_eq!(read(&" ".repeat(MAX_TEXT + 1)), Err(ColumnsError::TooLong));
}

/// Every file of the folder is named in a test above.
#[test]
fn every_fixture_is_read() {
    let folder = format!("{}/tests/fixtures/columns", env!("CARGO_MANIFEST_DIR"));
    let here = include_str!("columns.rs");
    for entry in std::fs::read_dir(folder).unwrap() {
        let name = entry.unwrap().file_name().to_string_lossy().into_owned();
        assert!(name == "README.md" || here.contains(&format!("\"{name}\"")), "{name}");
    }
}

fn taken(columns: &Columns) {
    for column in 0..=columns.columns.min(9) + 1 {
        if let Ok(curve) = columns.curve(column) {
            let finite =
                curve.levels_db().iter().chain(curve.frequencies_hz()).all(|value| value.is_finite());
            assert!(finite && curve.frequencies_hz().windows(2).all(|pair| pair[0] < pair[1]));
            assert_eq!(curve.for_trial().len(), 40);
        }
    }
    let _ = columns.has_phase();
}

proptest! {
    #[test]
    fn any_bytes_give_columns_or_a_reason(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        if let Ok(columns) = read_bytes(&bytes) {
            taken(&columns);
        }
    }

    /// Bytes that look like columns reach further into the reader than any bytes do.
    #[test]
    fn almost_columns_give_columns_or_a_reason(text in "([0-9]{1,3}[.,;\t +eE−\"-]{0,2}[0-9]{0,3}[ ,;\t]{0,2}(nan|-|dB|Hz|x)?\r?\n?){0,40}") {
        if let Ok(columns) = read(&text) {
            taken(&columns);
        }
    }

    /// Points written in any of the usual ways come back as they were.
    #[test]
    fn written_columns_come_back(
        levels in prop::collection::vec(-1200..1300_i32, 3..60),
        separator in prop::sample::select(vec!["\t", ";", " ; ", "  ", ", "]),
        comma in any::<bool>(), heading in any::<bool>(), windows in any::<bool>(),
    ) {
        let number = |value: f64| if comma { format!("{value:.1}").replace('.', ",") } else { format!("{value:.1}") };
        let points: Vec<(f64, f64)> = levels.iter().enumerate().map(|(i, level)| (10.0 + i as f64, f64::from(*level) / 10.0)).collect();
        let mut text = String::from(if heading { "Hz and dB\n" } else { "" });
        for (hz, level) in &points {
            text += &format!("{}{separator}{}{}", number(*hz), number(*level), if windows { "\r\n" } else { "\n" });
        }
        let columns = read(&text).unwrap();
        let curve = columns.curve(2).unwrap();
        prop_assert_eq!(curve.levels_db(), points.iter().map(|p| p.1).collect::<Vec<_>>());
        prop_assert_eq!(curve.frequencies_hz(), points.iter().map(|p| p.0).collect::<Vec<_>>());
    }
}
