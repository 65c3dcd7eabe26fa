//! Coupled pairs (isobaric): two drivers one behind the other, wired to move alike, act as one of half the compliance.
//!
//! The air between the two is taken as stiff; that holds while it is small against the box and against Vas.
use super::{SealedChamber, closed};
use crate::model::acoustics::network::Network;
use crate::model::acoustics::{Air, Load};
use crate::model::error::ModelError;

#[inline(never)]
pub(super) fn network(load: Load, air: Air, rear: &SealedChamber) -> Result<Network, ModelError> {
    closed::network(load.in_pairs()?, air, rear)
}
