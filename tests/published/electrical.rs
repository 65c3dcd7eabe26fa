//! Coils, meter, amplifier and feed against standards, worked examples and independent network solutions.
//!
//! The tables and their origin: `data/electrical/README.md`.
mod amplifier;
mod bench;
mod brute;
mod cable;
mod commission;
mod feed;
mod fuse;
mod line;
mod meter;
mod meter_states;
mod network;
mod prove;
mod short;
mod spice;
mod supply;
mod tree;
mod wiring;

/// Rows of a table below its heading, split at commas outside quotation marks.
fn rows(csv: &str) -> Vec<Vec<String>> {
    csv.lines().skip(1).filter(|line| !line.trim().is_empty()).map(split).collect()
}

fn split(line: &str) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut quoted = false;
    for character in line.chars() {
        match character {
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            other => cells.last_mut().unwrap().push(other),
        }
    }
    cells
}

/// A number in a cell.
#[track_caller]
fn number(cell: &str) -> f64 {
    cell.parse().unwrap_or_else(|_| panic!("{cell:?} is no number"))
}
