//! The three places and the panels over them.
mod car;
mod contents;
mod designs;
mod desk;
mod meter;
mod quick;
mod saw;
mod settings;

pub use car::CarPage;
pub use contents::ContentsPanel;
pub use designs::DesignsPanel;
pub use desk::DeskPage;
pub use saw::SawPage;
pub use settings::SettingsPanel;

use yew::prelude::*;

use super::components::{Note, NoteKind};
use super::store::Handle;
use crate::design::warnings::{Place, Severity};
use crate::present::warnings::text;

/// The warnings of a place.
fn warnings(store: &Handle, place: Place) -> Html {
    let of_place = store.report.warnings.iter().filter(|warning| warning.place() == place);
    html! {
        <div class="warnings" role="list">
            { for of_place.map(|warning| {
                let kind = if warning.severity() == Severity::Stop { NoteKind::Stop } else { NoteKind::Care };
                html! { <div role="listitem"><Note {kind} text={text(warning, &store.prefs)} /></div> }
            }) }
        </div>
    }
}
