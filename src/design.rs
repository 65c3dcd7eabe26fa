//! The document: its fields and limits, actions on it, its file, its link, and `evaluate`.
pub mod case;
pub mod demo;
pub mod document;
pub mod file;
pub mod limits;
pub mod link;
pub mod session;
pub mod stored;
