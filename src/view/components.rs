//! Parts of a sheet: entries, pictures, folds, notes.
mod chart;
mod drawing;
mod field;
mod fold;
mod parts;
mod wiring;

pub use chart::{ChartView, CursorView};
pub use drawing::DrawingView;
pub use field::Fields;
pub use fold::Fold;
pub use wiring::WiringView;
pub use parts::{Caution, FigureGrid, GapNote, Icon, Note, NoteKind, SheetBox};
