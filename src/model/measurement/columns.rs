//! Columns of text as measuring chains write them: frequency, level, perhaps phase and more.
//!
//! Lines that do not begin with a number are headings or remarks. Fields part at tabs or semicolons, at blanks, or at
//! commas; the decimal sign is a point or a comma. The reading that fits every line is taken, and where two readings
//! would fit nothing is guessed.
use super::Curve;
use crate::model::error::ModelError;
use thiserror::Error;

/// Longest text read, in bytes.
pub const MAX_TEXT: usize = 2_000_000;
/// Most lines of numbers read.
const MAX_ROWS: usize = 100_000;
/// Fewest frequencies between [`LOWEST_HZ`] and [`HIGHEST_HZ`] that make a curve.
const FEWEST: usize = 3;
const LOWEST_HZ: f64 = 10.0;
const HIGHEST_HZ: f64 = 500.0;

/// Why a text gives no curve. Lines count from 1.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum ColumnsError {
    /// Nothing in it.
    #[error("the text is empty")]
    Empty,
    /// Bytes that are no text.
    #[error("this is no text")]
    NotText,
    /// More than [`MAX_TEXT`] bytes or 100,000 rows.
    #[error("the text is too long")]
    TooLong,
    /// No line begins with a number.
    #[error("no line begins with a number")]
    NoNumbers,
    /// A line holds a frequency and nothing else.
    #[error("line {line} has one column")]
    OneColumn {
        /// The line.
        line: usize,
    },
    /// Commas could be decimal signs or part the columns.
    #[error("the commas of line {line} can be read two ways")]
    TwoWays {
        /// The line.
        line: usize,
    },
    /// Something in a line of numbers is no number.
    #[error("{text:?} in line {line} is no number")]
    NotANumber {
        /// The line.
        line: usize,
        /// What stands there, shortened.
        text: String,
    },
    /// A line has fewer columns than the first one.
    #[error("line {line} has {found} columns, not {expected}")]
    Uneven {
        /// The line.
        line: usize,
        /// Its columns.
        found: usize,
        /// Those of the first line of numbers.
        expected: usize,
    },
    /// A frequency below zero or above 1 MHz, or a level beyond ±300 dB.
    #[error("line {line} is out of range")]
    OutOfRange {
        /// The line.
        line: usize,
    },
    /// Too few frequencies between 10 Hz and 500 Hz.
    #[error("{found} frequencies between 10 and 500 Hz")]
    TooFew {
        /// How many there are.
        found: usize,
    },
    /// There is no such column.
    #[error("there is no column {column}")]
    NoColumn {
        /// The column asked for, from 1.
        column: usize,
    },
}

/// A table read from text, to be looked at before it is taken.
#[derive(Clone, Debug, PartialEq)]
pub struct Columns {
    /// The lines before the first number, cleaned and shortened: at most three.
    pub headings: Vec<String>,
    /// Lines passed over: headings, remarks, empty levels.
    pub passed_over: usize,
    /// How many columns each line has.
    pub columns: usize,
    /// Rows of numbers; the first is the frequency in Hz. A level that was left empty is not finite.
    pub rows: Vec<Vec<f64>>,
    /// The line each row stood in.
    lines: Vec<usize>,
}

/// How fields part and which sign is decimal.
#[derive(Clone, Copy, PartialEq)]
enum Reading {
    /// Tabs and semicolons; either decimal sign.
    Marks,
    /// A comma and a blank; either decimal sign.
    CommaBlank,
    /// Blanks; either decimal sign.
    Blanks,
    /// Commas; decimal point.
    Commas,
}

/// Reads any bytes as columns.
///
/// # Errors
/// [`ColumnsError`] with the line at fault; never panics, whatever the bytes.
pub fn read_bytes(bytes: &[u8]) -> Result<Columns, ColumnsError> {
    if bytes.len() > MAX_TEXT {
        return Err(ColumnsError::TooLong);
    }
    read(&String::from_utf8_lossy(bytes))
}

/// Reads a text as columns.
///
/// # Errors
/// As [`read_bytes`].
pub fn read(text: &str) -> Result<Columns, ColumnsError> {
    if text.len() > MAX_TEXT {
        return Err(ColumnsError::TooLong);
    }
    let text = text.trim_start_matches('\u{feff}');
    if text.contains('\0') {
        return Err(ColumnsError::NotText);
    }
    if text.trim().is_empty() {
        return Err(ColumnsError::Empty);
    }
    let all: Vec<(usize, &str)> = text
        .split(['\n', '\r'])
        .enumerate()
        .map(|(i, line)| (i + 1, line.trim()))
        .filter(|(_, line)| !line.is_empty())
        .collect();
    let data: Vec<(usize, &str)> = all.iter().copied().filter(|(_, line)| begins_with_number(line)).collect();
    if data.is_empty() {
        return Err(ColumnsError::NoNumbers);
    }
    if data.len() > MAX_ROWS {
        return Err(ColumnsError::TooLong);
    }
    let reading = reading(&data)?;
    let mut columns = Columns {
        headings: headings(&all),
        passed_over: all.len() - data.len(),
        columns: 0,
        rows: Vec::new(),
        lines: Vec::new(),
    };
    for (line, content) in data {
        let row = row(content, reading).map_err(|text| ColumnsError::NotANumber { line, text })?;
        match (columns.columns, row.len()) {
            (_, 0 | 1) => return Err(ColumnsError::OneColumn { line }),
            (0, found) => columns.columns = found,
            (expected, found) if found < expected => {
                return Err(ColumnsError::Uneven { line, found, expected });
            }
            _ => {}
        }
        columns.rows.push(row);
        columns.lines.push(line);
    }
    Ok(columns)
}

impl Columns {
    /// The curve of one column of levels, counted from 1; the first beside the frequency is 2.
    ///
    /// Rows at 0 Hz and empty levels are passed over, rows may stand in any order.
    ///
    /// # Errors
    /// [`ColumnsError`].
    pub fn curve(&self, column: usize) -> Result<Curve, ColumnsError> {
        if column < 2 || column > self.columns {
            return Err(ColumnsError::NoColumn { column });
        }
        let mut points = Vec::with_capacity(self.rows.len());
        for (row, line) in self.rows.iter().zip(&self.lines) {
            let (Some(hz), Some(level)) = (row.first(), row.get(column - 1)) else { continue };
            if !(0.0..=1e6).contains(hz) || (level.is_finite() && level.abs() > 300.0) {
                return Err(ColumnsError::OutOfRange { line: *line });
            }
            if *hz >= 0.1 && level.is_finite() {
                points.push((*hz, *level));
            }
        }
        let found = points.iter().filter(|(hz, _)| (LOWEST_HZ..=HIGHEST_HZ).contains(hz)).count();
        if found < FEWEST {
            return Err(ColumnsError::TooFew { found });
        }
        Curve::new(&points).map_err(|error| match error {
            ModelError::OutOfRange { .. } => ColumnsError::OutOfRange { line: 1 },
            _ => ColumnsError::TooFew { found },
        })
    }
    /// Whether the third column looks like a phase: some value below −20 and every one within ±360.
    #[must_use]
    pub fn has_phase(&self) -> bool {
        let third = || self.rows.iter().filter_map(|row| row.get(2)).filter(|v| v.is_finite());
        self.columns == 3 && third().all(|v| v.abs() <= 360.0) && third().any(|v| *v < -20.0)
    }
}

fn begins_with_number(line: &str) -> bool {
    let line = line.trim_start_matches(['"', '\'', ' ']);
    let rest = line.strip_prefix(['+', '-', '−']).unwrap_or(line);
    let rest = rest.strip_prefix(['.', ',']).unwrap_or(rest);
    rest.starts_with(|c: char| c.is_ascii_digit())
}

fn headings(all: &[(usize, &str)]) -> Vec<String> {
    let clean = |line: &str| line.chars().filter(|c| !c.is_control()).take(60).collect::<String>();
    let before = all.iter().take_while(|(_, line)| !begins_with_number(line));
    before.map(|(_, line)| clean(line)).take(3).collect()
}

/// The reading that fits the first lines of numbers.
fn reading(data: &[(usize, &str)]) -> Result<Reading, ColumnsError> {
    let sample = || data.iter().take(200);
    if sample().any(|(_, line)| line.contains(['\t', ';'])) {
        return Ok(Reading::Marks);
    }
    let fits = |reading: Reading| {
        let widths = sample().map(|(_, line)| row(line, reading).map_or(0, |row| row.len()));
        let widths: Vec<usize> = widths.collect();
        widths.first().is_some_and(|first| *first >= 2 && widths.iter().all(|width| width >= first))
    };
    if sample().all(|(_, line)| line.contains(", ")) && fits(Reading::CommaBlank) {
        return Ok(Reading::CommaBlank);
    }
    if fits(Reading::Blanks) || !sample().any(|(_, line)| line.contains(',')) {
        return Ok(Reading::Blanks);
    }
    // "20,5,75,3": four whole numbers, or two with a decimal comma.
    let whole = |line: &str| !line.contains('.') && line.matches(',').count() % 2 == 1;
    if let Some((line, text)) = data.first()
        && text.matches(',').count() > 1
        && sample().all(|(_, line)| whole(line))
    {
        return Err(ColumnsError::TwoWays { line: *line });
    }
    Ok(Reading::Commas)
}

/// The numbers of a line, or what in it is no number. Units behind numbers and empty ends are passed over.
fn row(line: &str, reading: Reading) -> Result<Vec<f64>, String> {
    let fields: Vec<&str> = match reading {
        Reading::Marks => line.split(['\t', ';']).collect(),
        Reading::CommaBlank => line.split(", ").collect(),
        Reading::Blanks => line.split_whitespace().collect(),
        Reading::Commas => line.split(',').collect(),
    };
    let last = fields.iter().rposition(|field| !bare(field).is_empty()).map_or(0, |last| last + 1);
    let mut row = Vec::new();
    for field in fields.iter().take(last) {
        let field = bare(field);
        if is_unit(field) {
            continue;
        }
        // A remark at the end of a line.
        if row.len() >= 2 && field.starts_with(['#', '*', '/', '!']) {
            break;
        }
        row.push(number(field).ok_or_else(|| field.chars().take(20).collect::<String>())?);
    }
    Ok(row)
}

fn bare(field: &str) -> &str {
    field.trim_matches(|c: char| c.is_whitespace() || c == '"' || c == '\'')
}

const UNITS: [&str; 6] = ["hz", "db", "deg", "°", "dbspl", "spl"];

fn is_unit(field: &str) -> bool {
    UNITS.iter().any(|unit| field.eq_ignore_ascii_case(unit))
}

/// A number with a point or a comma, perhaps an exponent, perhaps a unit; not finite where nothing was measured.
fn number(field: &str) -> Option<f64> {
    let lower = field.to_ascii_lowercase();
    let unit = UNITS.iter().find_map(|unit| lower.strip_suffix(unit)).unwrap_or(&lower);
    let text = unit.trim().replace('−', "-");
    if matches!(text.as_str(), "" | "-" | "--" | "nan" | "inf" | "-inf" | "+inf" | "-infinity" | "infinity") {
        return Some(f64::NAN);
    }
    let signs = text.matches([',', '.']).count();
    let plain = text.bytes().all(|b| b.is_ascii_digit() || b",.+-e".contains(&b));
    if signs > 1 || !plain || text.len() > 40 {
        return None;
    }
    text.replace(',', ".").parse().ok().filter(|value: &f64| value.is_finite())
}
