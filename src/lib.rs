//! Kerf & Coil: subwoofer enclosures for vehicles, from the driver's data sheet to the fused cable.
//!
//! Read the modules in this order. An arrow may only point to the left:
//! [`small`], [`units`] and [`words`] ← [`model`] ← [`design`] ← [`present`] ← `view` → `platform`.
//!
//! * [`units`]: quantities (SI inside), exact lengths, typed decimal entries, the user's choice of units.
//! * [`small`]: small collections.
//! * [`words`]: every word on screen.
//! * [`model`]: acoustics, electrics and box geometry; pure functions, no storage, no clock, no web.
//! * [`design`]: the document, its limits, its versions, its codecs, and `evaluate`.
//! * [`present`]: a report turned into text, tables, charts and drawings; no DOM.
//! * `platform` and `view`: only on wasm32.
pub mod design;
pub mod model;
pub mod present;
pub mod small;
pub mod units;
pub mod words;

#[cfg(target_arch = "wasm32")]
pub mod platform;
#[cfg(target_arch = "wasm32")]
pub mod view;
