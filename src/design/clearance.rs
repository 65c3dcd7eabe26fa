//! The clearance stack of a design: what stands on the box, what must stay free, the heat of amplifiers beside it.
use super::document::Sheet;
use super::limits::FieldId;
use super::report::{BoxReport, Report};
use crate::model::geometry::clearance::{OnFaces, air_flow, before_cone, hollow, spare};
use crate::model::geometry::{Axis, Dims};
use crate::units::{ExactLength, Length, Power, Volume};

/// Share of full power that music takes on average: one eighth (common practice, no source).
const MUSIC: f64 = 1.0 / 8.0;

/// What is free before something, and what it needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Free {
    /// What there is.
    pub found: ExactLength,
    /// What it should be.
    pub wanted: Length,
}

/// The clearance stack.
#[derive(Clone, Debug, PartialEq)]
pub struct Clearance {
    /// The box with everything on it.
    pub over_all: Dims,
    /// What then remains of the space, along each axis, if one is entered.
    pub spare: Option<[(Axis, ExactLength); 3]>,
    /// From the surround to the grille at mechanical travel.
    pub grille: Option<ExactLength>,
    /// Before the cone.
    pub cone: Option<Free>,
    /// Before the port's mouth: its height or diameter, as behind its inner end (geometry.md section 5).
    pub port: Option<Free>,
    /// An odd hollow by the water it takes.
    pub hollow: Option<Volume>,
    /// Heat of the amplifier at an eighth of its power, and the air in m³/s that carries it off.
    pub heat: Option<(Power, f64)>,
}

/// The stack of a design with a box.
#[must_use]
pub fn clearance(sheet: &Sheet, report: &Report, enclosure: &BoxReport) -> Clearance {
    let length = |id| sheet.length(id).unwrap_or_default();
    let grille = length(FieldId::GrilleDepth);
    let on = OnFaces {
        wrap: length(FieldId::WrapThickness),
        gasket: length(FieldId::GasketThickness),
        flange: length(FieldId::FlangeThickness),
        recess: enclosure.spec.recess_depth(),
        grille,
        grille_inside: grille - length(FieldId::GrilleThickness),
        fixing: length(FieldId::FixingDepth),
    };
    let over_all = on.over_all(enclosure.outside);
    let travel = sheet.length(FieldId::MechanicalTravel).filter(|_| grille > ExactLength::ZERO);
    let driver = report.driver.as_ref().ok();
    // What lies before the front is free from the outermost thing on it.
    let free = sheet.length(FieldId::FreeInFront).map(|free| free - on.before_front());
    let cone = free
        .zip(driver)
        .and_then(|(found, driver)| Some(Free { found, wanted: before_cone(driver.driver.sd).ok()? }));
    let port = free.zip(enclosure.plan.current().assembly.port);
    Clearance {
        spare: enclosure.spec.space.map(|space| spare(space.usable(), over_all)),
        over_all,
        grille: travel.map(|travel| on.cone_to_grille(length(FieldId::SurroundHeight), travel)),
        cone,
        port: port.map(|(found, port)| Free { found, wanted: port.height.to_length() }),
        hollow: sheet.si(FieldId::HollowWater).and_then(|water| hollow(water).ok()),
        heat: heat(sheet, report),
    }
}

fn heat(sheet: &Sheet, report: &Report) -> Option<(Power, f64)> {
    let warmer = sheet.given(FieldId::AirWarming)?.si();
    let power = report.wiring.as_ref().ok()?.chosen()?.power?.expected();
    let efficiency = sheet.si(FieldId::Efficiency)?.clamp(0.05, 1.0);
    let loss = Power::from_watts(power.watts() * MUSIC * (1.0 / efficiency - 1.0));
    let density = report.sound.as_ref().map_or(1.2, |sound| sound.air.density_kg_m3());
    Some((loss, air_flow(loss, density, warmer).ok()?))
}
