//! alignments
