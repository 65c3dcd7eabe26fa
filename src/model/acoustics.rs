//! Loudspeakers in boxes: air, driver, coil, wiring, enclosure, and the network they are solved as.
//!
//! Every enclosure is a description that builds a [`Network`]; [`respond`] solves that network at each frequency and
//! knows no box types. Amplitudes are rms unless a name says peak, time runs as e^{+jωt}, and the air is radiated into
//! half space.
//!
//! The lumped elements are valid while every dimension of the box is below about an eighth of a wavelength; above
//! some 200 Hz the numbers are arithmetic, not a forecast.
mod air;
mod check;
mod closed;
mod coil;
mod driver;
mod enclosure;
mod port;
mod response;
mod solve;
mod sweep;
mod wiring;

pub mod datasheet;
pub mod figures;
pub mod network;
pub mod search;
pub mod slack;

pub use air::Air;
pub use closed::{closed_box_frequency, closed_box_q, closed_box_volume};
pub use coil::CoilImpedance;
pub use driver::{Driver, SmallSignal};
pub use enclosure::{Enclosure, Losses, PassiveRadiator, SealedChamber, VentedChamber};
pub use network::Network;
pub use port::{End, Opening, Port, minimum_port_area};
pub use response::{DuctResponse, RadiatorResponse, Response};
pub use solve::{Drive, respond};
pub use sweep::respond_quickly;
pub use wiring::{Load, Wiring};
