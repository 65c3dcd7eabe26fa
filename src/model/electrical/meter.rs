//! What a resistance reading means, before anything is powered.
