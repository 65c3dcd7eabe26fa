//! electrical against the world.
