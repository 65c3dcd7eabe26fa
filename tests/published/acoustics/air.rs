//! air
