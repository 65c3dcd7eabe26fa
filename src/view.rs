//! Yew.
