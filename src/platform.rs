//! Browser.
