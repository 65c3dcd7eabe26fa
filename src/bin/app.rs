//! The page: starts the Yew application.
fn main() {}
