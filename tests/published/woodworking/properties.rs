//! Properties that hold for every box.
