//! closed_forms
