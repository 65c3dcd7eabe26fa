//! A report turned into text, tables, charts and drawings; no DOM.
pub mod chart;
pub mod charts;
pub mod commission;
pub mod commission_sheet;
pub mod drawing;
pub mod feed;
pub mod figures;
pub mod format;
pub mod json;
pub mod lines;
pub mod meter;
pub mod names;
pub mod probe_drawing;
pub mod quick;
pub mod tables;
pub mod warnings;
pub mod wiring_drawing;
