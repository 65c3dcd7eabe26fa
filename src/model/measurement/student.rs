//! Student's t for a handful of takes.

/// Degrees of freedom and the two-sided 95 % value.
///
/// # Source
/// Table G.2 of ISO/IEC Guide 98-3:2008 (GUM), 95 % column; values from memory, held by a test that integrates the
/// density.
const TWO_SIDED_95: &[(usize, f64)] = &[
    (1, 12.706),
    (2, 4.303),
    (3, 3.182),
    (4, 2.776),
    (5, 2.571),
    (6, 2.447),
    (7, 2.365),
    (8, 2.306),
    (9, 2.262),
    (10, 2.228),
    (12, 2.179),
    (15, 2.131),
    (20, 2.086),
    (30, 2.042),
    (60, 2.000),
];

/// t for a two-sided interval of 95 % with so many degrees of freedom, n − 1 for n takes.
///
/// Between entries of the table the next smaller one counts, so that an interval is never too narrow; `None` without
/// any degree of freedom.
#[must_use]
pub fn student_t(degrees: usize) -> Option<f64> {
    TWO_SIDED_95.iter().rev().find(|(least, _)| *least <= degrees).map(|(_, t)| *t)
}
