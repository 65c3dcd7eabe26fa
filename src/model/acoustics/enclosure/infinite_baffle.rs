//! An infinite baffle: the back radiates into air that neither presses back nor is heard.
use crate::model::acoustics::network::{Network, Place};
use crate::model::acoustics::{Air, Load};

pub(super) fn network(load: Load, air: Air) -> Network {
    Network::new(load, air, Place::Outside, Place::Absorbed)
}
