//! 6th-order band-pass whose chambers both vent outside.
use super::VentedChamber;
use crate::model::acoustics::network::{Network, Place};
use crate::model::acoustics::{Air, Load};
use crate::model::error::ModelError;

#[inline(never)]
pub(super) fn network(
    load: Load,
    air: Air,
    rear: &VentedChamber,
    front: &VentedChamber,
) -> Result<Network, ModelError> {
    let mut network = Network::new(load, air, Place::Chamber(1), Place::Chamber(0));
    network.add_vented(rear, Place::Outside)?;
    network.add_vented(front, Place::Outside)?;
    Ok(network)
}
