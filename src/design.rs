//! The document: its fields and limits, actions on it, its file, its link, and `evaluate`.
pub mod built;
pub mod case;
pub mod demo;
pub mod document;
pub mod evaluate;
pub mod file;
pub mod limits;
pub mod link;
pub mod meter;
pub mod quick;
pub mod report;
pub mod session;
pub mod stored;
pub mod trials;
pub mod warnings;
