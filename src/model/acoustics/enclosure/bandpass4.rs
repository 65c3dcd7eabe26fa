//! 4th-order band-pass: closed behind the cone, ported before it.
use super::{SealedChamber, VentedChamber};
use crate::model::acoustics::network::{Network, Place};
use crate::model::acoustics::{Air, Load};
use crate::model::error::ModelError;

#[inline(never)]
pub(super) fn network(
    load: Load,
    air: Air,
    rear: &SealedChamber,
    front: &VentedChamber,
) -> Result<Network, ModelError> {
    let mut network = Network::new(load, air, Place::Chamber(1), Place::Chamber(0));
    network.add_sealed(rear)?;
    network.add_vented(front, Place::Outside)?;
    Ok(network)
}
