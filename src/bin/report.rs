//! Prints the report of a design file.
fn main() {}
