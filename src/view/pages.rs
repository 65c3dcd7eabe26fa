//! The three places and the panels over them.
mod car;
mod compare;
mod contents;
mod depth;
mod designs;
mod desk;
mod find;
mod guide;
mod meter;
mod owner;
mod powerup;
mod prove;
mod quick;
mod saw;
mod settings;
mod slack;
mod trials;
mod wiring;

pub use car::car;
pub use contents::contents;
pub use designs::DesignsPanel;
pub use desk::{desk, drawn};
pub use guide::guide;
pub use saw::saw;
pub use settings::settings;

use yew::prelude::*;

use super::components::{NoteKind, el, note};
use super::store::Handle;
use crate::design::warnings::{Place, Severity};
use crate::present::warnings::text as warning_text;

/// The warnings of a place.
fn warnings(store: &Handle, place: Place) -> Html {
    let of_place = store.report.warnings.iter().filter(|warning| warning.place() == place);
    let notes = of_place.map(|warning| {
        let kind = if warning.severity() == Severity::Stop { NoteKind::Stop } else { NoteKind::Care };
        note(kind, &warning_text(warning, &store.prefs))
    });
    el("div", &[("class", "warnings")], notes.collect())
}
