//! Parts of a sheet: entries, pictures, folds, notes.
mod chart;
mod drawing;
mod field;
mod fold;
mod parts;
mod probes;
mod reading;
mod wiring;

pub use chart::{ChartView, cursor_view};
pub use drawing::{DrawingView, phone_sheet};
pub use field::fields;
pub use fold::Fold;
pub use parts::{
    Icon, NoteKind, caution, el, figure, figure_grid, frame, gap_note, head, line, note, pairs, px, scroll,
    table, table_row, text, tx,
};
pub use probes::for_hand;
pub use reading::{ReadingRow, reading_row};
pub use wiring::wiring_view;
