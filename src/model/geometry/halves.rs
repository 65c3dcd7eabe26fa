//! A box in which a board without a window gives each half of the drivers air of its own.
use super::assembly::{Assembly, Body, BodyKind};
use super::axes::Axis;
use super::ledger::{Ledger, entry};
use super::parts::PartId;
use super::solids::Bounds;
use super::spec::{BoxSpec, Port};
use crate::model::error::ModelError;
use crate::units::Volume;

/// Checks that both halves can be alike: drivers and tubes in even numbers, no slot, one plain room.
///
/// # Errors
/// [`ModelError::Impossible`] where they can't.
pub fn check(spec: &BoxSpec) -> Result<(), ModelError> {
    let refuse = |what| Err(ModelError::Impossible { what });
    if !spec.is_plain() {
        return refuse("air of their own for two halves is planned for closed boxes and boxes with tubes");
    }
    if spec.driver.as_ref().is_some_and(|driver| driver.count % 2 == 1) {
        return refuse("air of their own for two halves needs an even number of drivers");
    }
    match &spec.port {
        Port::None => Ok(()),
        Port::Round(tubes) if tubes.count % 2 == 0 => Ok(()),
        _ => refuse("each half needs its own port: an even number of tubes"),
    }
}

/// The air on both sides of the board between, left first; `None` where there is no such board.
///
/// Each half is the inside beside the board, less what stands in it; what stands in both is shared by its width. What
/// strips share in corners and with the board is given back to both alike.
#[must_use]
pub fn halves(spec: &BoxSpec, assembly: &Assembly, ledger: &Ledger) -> Option<[Volume; 2]> {
    let kind = spec.braces.iter().position(|brace| brace.is_solid())?;
    let is_board =
        |body: &&Body| matches!(body.kind, BodyKind::Board(PartId::Brace(of, _)) if usize::from(of) == kind);
    let board = assembly.bodies.iter().find(is_board)?.bounds();
    let (low, high) = (board.min[Axis::Width.index()], board.max[Axis::Width.index()]);
    let left = assembly.inside_min.width.millimetres();
    let right = left + assembly.inside.width.millimetres();
    // Air of each millimetre of width, m³.
    let section = match &assembly.hollow {
        Some(hollow) => hollow.volume().cubic_metres() / (right - left),
        None => assembly.inside.height.millimetres() * assembly.inside.depth.millimetres() * 1e-9,
    };
    let middle = (low + high) / 2.0;
    // The share of a body that stands left of the board.
    let share = |bounds: &Bounds| {
        let [from, to] = [bounds.min, bounds.max].map(|at| at[Axis::Width.index()]);
        ((middle - from) / (to - from).max(1e-9)).clamp(0.0, 1.0)
    };
    let mut air = [(low - left) * section, (right - high) * section];
    let mut put = |volume: f64, share: f64| {
        air[0] += volume * share;
        air[1] += volume * (1.0 - share);
    };
    for body in assembly.bodies.iter().filter(|body| !is_board(body)) {
        if let Some((_, sign)) = entry(body) {
            put(sign * body.solid.volume().cubic_metres(), share(&body.bounds()));
        }
        if let (Some(driver), BodyKind::Driver(_)) = (&spec.driver, body.kind) {
            put(-driver.displacement.cubic_metres(), share(&body.bounds()));
        }
    }
    let rest = ledger.net.cubic_metres() - air[0] - air[1];
    Some(air.map(|half| Volume::from_cubic_metres(half + rest / 2.0)))
}
