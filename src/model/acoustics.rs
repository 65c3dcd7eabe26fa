//! Loudspeakers in boxes: air, driver, coil, wiring, enclosure, and the network they are solved as.
//!
//! Every enclosure is a description that builds a [`Network`]; [`respond`] solves that network at each frequency and
//! knows no box types. Amplitudes are rms unless a name says peak, time runs as e^{+jωt}, and the air is radiated into
//! half space.
//!
//! The lumped elements are valid while every dimension of the box is below about an eighth of a wavelength; above
//! some 200 Hz the numbers are arithmetic, not a forecast.
mod air;
mod cabin;
mod ceiling;
mod check;
mod closed;
mod coil;
mod downfire;
mod driver;
mod enclosure;
mod filter;
mod intake;
mod port;
mod response;
mod solve;
mod step;
mod sweep;
mod unequal;
mod wiring;

pub mod datasheet;
pub mod figures;
pub mod network;
pub mod search;
pub mod slack;

pub use air::Air;
pub use cabin::{Cabin, corner_of_length, corner_of_volume};
pub use ceiling::{Ceiling, Limiter, Limits, TravelLeft, ceiling, high_pass_for, travel_left};
pub use closed::{closed_box_frequency, closed_box_q, closed_box_volume};
pub use coil::CoilImpedance;
pub use downfire::{FloorGap, cone_sag, least_gap};
pub use driver::{Driver, SmallSignal};
pub use enclosure::{Enclosure, Losses, PassiveRadiator, SealedChamber, VentedChamber};
pub use filter::{SignalPath, Slope, Stage};
pub use intake::{Intake, compression_db, steady_warming_k, warm_resistance};
pub use network::Network;
pub use port::{End, Opening, Port, minimum_port_area};
pub use response::{DuctResponse, RadiatorResponse, Response};
pub use solve::{Drive, respond};
pub use step::step_response;
pub use sweep::{respond_either_way, respond_quickly};
pub use unequal::{DriverPart, cost_db, driver_parts, hardest_coil, stand_in};
pub use wiring::{Load, Wiring};
