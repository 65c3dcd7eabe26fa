//! Physics and geometry: SI in and out, no serde, clock, storage or web.
pub mod acoustics;
pub mod cutting;
pub mod electrical;
pub mod error;
pub mod geometry;
pub mod measurement;
pub mod numeric;
