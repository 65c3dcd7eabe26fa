//! The acoustic core against published tables and independent reference curves, all in `data/acoustics`.
mod air;
mod alignments;
mod cases;
mod closed_forms;
mod datasheet;
mod enclosures;
mod figures;
mod filters;
mod inverse;
mod limits;
mod ports;
mod properties;
mod rig;
mod wiring;

use std::path::{Path, PathBuf};

/// A file of the reference data.
pub fn data(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/published/data/acoustics").join(path)
}

/// The JSON files of the reference cases of every kind.
pub fn reference_cases() -> Vec<PathBuf> {
    let kinds = ["infinite_baffle", "closed", "vented", "passive_radiator", "bandpass4", "bandpass6"];
    let files = kinds.iter().flat_map(|kind| std::fs::read_dir(data("cases").join(kind)).unwrap());
    files
        .map(|file| file.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "json"))
        .collect()
}

/// A table with a header line.
pub struct Table {
    header: Vec<String>,
    rows: Vec<Vec<String>>,
}

/// One row of a table.
pub struct Row<'a> {
    header: &'a [String],
    cells: &'a [String],
}

impl Table {
    /// Reads a CSV file, which must have rows: an empty table would make every check on it pass.
    pub fn read(path: &str) -> Self {
        let text = std::fs::read_to_string(data(path)).unwrap_or_else(|e| panic!("{path}: {e}"));
        let table = Self::parse(&text);
        assert!(!table.rows.is_empty(), "{path} has no rows");
        table
    }

    pub fn parse(text: &str) -> Self {
        let mut lines = text.lines().map(cells);
        Self { header: lines.next().unwrap(), rows: lines.collect() }
    }

    pub fn rows(&self) -> impl Iterator<Item = Row<'_>> {
        self.rows.iter().map(|cells| Row { header: &self.header, cells })
    }

    pub fn header(&self) -> &[String] {
        &self.header
    }

    pub fn column(&self, name: &str) -> Vec<f64> {
        self.rows().map(|row| row.number(name)).collect()
    }
}

impl Row<'_> {
    pub fn text(&self, column: &str) -> &str {
        let index = self
            .header
            .iter()
            .position(|name| name == column)
            .unwrap_or_else(|| panic!("no column {column}"));
        &self.cells[index]
    }

    /// A number; "inf" is infinite.
    pub fn number(&self, column: &str) -> f64 {
        let text = self.text(column);
        text.parse().unwrap_or_else(|_| panic!("{column} is {text:?}"))
    }

    /// A number, or `None` for an empty cell.
    pub fn optional(&self, column: &str) -> Option<f64> {
        let text = self.text(column);
        (!text.is_empty()).then(|| self.number(column))
    }
}

/// Splits a CSV line; quoted cells may contain commas.
fn cells(line: &str) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut quoted = false;
    for character in line.trim_end().chars() {
        match character {
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            _ => cells.last_mut().unwrap().push(character),
        }
    }
    cells
}
