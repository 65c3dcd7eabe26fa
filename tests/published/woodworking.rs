//! woodworking against the world.
