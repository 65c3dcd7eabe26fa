//! Where the divider of a box with two rooms stands.
use super::plan::{front_net_at_step, net_at_step};
use super::spec::{BoxSpec, Divider, Form};
use crate::model::error::ModelError;
use crate::units::{ExactLength, Volume};

/// Both net volumes of a divided box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rooms {
    /// Behind the drivers.
    pub rear: Volume,
    /// Before the drivers.
    pub front: Volume,
}

/// The box with its divider where the room before the drivers holds `front`, to the tape step, and what both rooms
/// then hold as cut.
///
/// The outside stays: what the room before the drivers takes is what the room behind them loses. Its net volume rises
/// along a line with its width, so two tries give the third.
///
/// # Errors
/// [`ModelError::Impossible`] without a divider or where one of the rooms has no air, otherwise as [`super::plan()`].
pub fn divide(spec: &BoxSpec, front: Volume) -> Result<(BoxSpec, Rooms), ModelError> {
    let Some(divider) = spec.divider() else {
        return Err(ModelError::Impossible { what: "a box without a divider can't be divided" });
    };
    let step = spec.tape_step;
    let at = |room: ExactLength| BoxSpec { form: Form::Divided(Divider { room, ..divider }), ..spec.clone() };
    let near = LEAST_ROOM;
    let far = near * 2;
    let [low, high] = [near, far].map(|room| front_net_at_step(&at(room), step).map(Volume::litres));
    let (low, high) = (low?, high?);
    let slope = (high - low) / (far - near).millimetres();
    let width = near.millimetres() + (front.litres() - low) / slope;
    if !width.is_finite() || width <= 0.0 || width > super::spec::LONGEST.millimetres() {
        return Err(ModelError::Impossible { what: "the room before the drivers does not go into the box" });
    }
    let divided = at(ExactLength::from_millimetres(width).rounded_to(step));
    let both = net_at_step(&divided, step)?;
    let front = front_net_at_step(&divided, step)?;
    Ok((divided, Rooms { rear: both - front, front }))
}

/// Width of the room before the drivers to begin with: narrow enough for every box worth dividing.
pub const LEAST_ROOM: ExactLength = ExactLength::from_hundredths_mm(500);
