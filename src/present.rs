//! A report turned into text, tables, charts and drawings; no DOM.
pub mod chart;
pub mod format;
