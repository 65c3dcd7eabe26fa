//! ports
