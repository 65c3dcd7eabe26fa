//! Parts of a sheet: entries, pictures, folds, notes.
mod chart;
mod drawing;
mod field;
mod fold;
mod parts;

pub use chart::{ChartView, CursorView};
pub use drawing::DrawingView;
pub use field::{Field, Fields};
pub use fold::Fold;
pub use parts::{Caution, FigureGrid, GapNote, Icon, Note, NoteKind, SheetBox};
