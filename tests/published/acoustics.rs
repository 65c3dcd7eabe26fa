//! acoustics against the world.
