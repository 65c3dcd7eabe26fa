//! A report turned into text, tables, charts and drawings; no DOM.
pub mod chart;
pub mod charts;
pub mod drawing;
pub mod figures;
pub mod format;
pub mod json;
pub mod lines;
pub mod meter;
pub mod names;
pub mod quick;
pub mod tables;
pub mod trials;
pub mod warnings;
pub mod wiring_drawing;
