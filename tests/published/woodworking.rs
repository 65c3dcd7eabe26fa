//! The box geometry against the reference cases of `data/woodworking` (formulas checked there against solid models)
//! and the handbook's figures.
mod battens;
mod bench;
mod bent;
mod bent_shaped;
mod cases;
mod demo;
mod edges;
mod elsewhere;
mod forms;
mod handbook;
mod inserts;
mod legs;
mod properties;
mod reference;
mod rings;
mod shaped;
mod shaped_forms;
mod shell;

use kerf_and_coil::model::geometry::{CornerStrips, InsideEdge, MeasuredStripFace, StripVoids};
use kerf_and_coil::units::ExactLength;

/// Millimetres as an exact length.
pub fn mm(value: f64) -> ExactLength {
    ExactLength::from_millimetres(value)
}

/// Sealed strips in the four upright edges, 75 mm over the wide face.
pub fn upright_strips() -> CornerStrips {
    CornerStrips {
        edges: InsideEdge::vertical().to_vec(),
        face: mm(75.0),
        measured: MeasuredStripFace::Wide,
        length: None,
        voids: StripVoids::Sealed,
    }
}
