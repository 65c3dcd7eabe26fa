//! Presentation: a report turned into text, tables, charts and drawings; no DOM.
pub mod drawing;
