//! A closed box.
use super::SealedChamber;
use crate::model::acoustics::network::{Network, Place};
use crate::model::acoustics::{Air, Load};
use crate::model::error::ModelError;

pub(super) fn network(load: Load, air: Air, rear: &SealedChamber) -> Result<Network, ModelError> {
    let mut network = Network::new(load, air, Place::Outside, Place::Chamber(0));
    network.add_sealed(rear)?;
    Ok(network)
}
