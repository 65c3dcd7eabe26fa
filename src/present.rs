//! Presentation.
