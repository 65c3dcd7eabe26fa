//! The document.
pub mod case;
