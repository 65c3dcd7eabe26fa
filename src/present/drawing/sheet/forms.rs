//! Dimensions that only divided boxes and boxes with passive radiators have.
use super::{FieldHint, Place};
use crate::model::geometry::assembly::FRONT_TUBES;
use crate::model::geometry::{Assembly, Axis, BodyKind, BoxSpec, PartId, Point, Solid};
use crate::units::ExactLength;

/// A dimension: where, both ends, its value, and its entry.
type Wanted = (Place, [[f64; 2]; 2], ExactLength, Option<FieldHint>);

/// Diameters of radiators and tubes, the width of the room before the drivers, the length of its port and a slot's height.
#[inline(never)]
pub(super) fn dimensions(assembly: &Assembly) -> Vec<Wanted> {
    let mut found = Vec::new();
    for body in &assembly.bodies {
        match (body.kind, body.solid) {
            (
                kind @ (BodyKind::RadiatorHole(0) | BodyKind::PortAir(FRONT_TUBES)),
                Solid::Round { base, along: Axis::Depth, from, .. },
            ) => {
                let [x, y] = [base.width, base.height].map(ExactLength::millimetres);
                let radius = from.millimetres() / 2.0;
                let hint = match kind {
                    BodyKind::RadiatorHole(_) => FieldHint::Radiator,
                    _ => FieldHint::FrontDiameter,
                };
                found.push((Place::AboveFront, [[x - radius, y], [x + radius, y]], from, Some(hint)));
            }
            // Inside width of the room before the drivers: where the divider stands.
            (
                BodyKind::Board(PartId::Divider),
                Solid::Block { min: Point { width: to, .. }, .. } | Solid::Prism { from: to, .. },
            ) => {
                let from = assembly.inside_min.width;
                let ends = [from, to].map(|at| [at.millimetres(), 0.0]);
                found.push((Place::BelowFront, ends, to - from, None));
            }
            _ => {}
        }
    }
    if let Some(port) = assembly.front_port {
        let low = assembly.inside_min.height.millimetres();
        let up = assembly.layout.others.first().map_or(low, |at| at.height.millimetres());
        if !port.round {
            let ends = [[0.0, low], [0.0, low + port.height.millimetres()]];
            found.push((Place::Between, ends, port.height, Some(FieldHint::FrontHeight)));
        }
        let ends = [[0.0, up], [port.length.millimetres(), up]];
        found.push((Place::BelowSection, ends, port.length, Some(FieldHint::FrontLength)));
    }
    found
}

/// The diameter of the first driver's hole through a side, the top or the bottom.
#[inline(never)]
pub(super) fn elsewhere(spec: &BoxSpec, assembly: &Assembly) -> Option<(Place, [[f64; 2]; 2], ExactLength)> {
    let first = spec.driver.as_ref()?.in_front();
    assembly.bodies.iter().find_map(|body| match (body.kind, body.solid) {
        (BodyKind::DriverHole(number), Solid::Round { base, along, from, .. })
            if number == first && along != Axis::Depth =>
        {
            let level = if along == Axis::Width { base.depth } else { base.width };
            let place = if along == Axis::Width { Place::AboveSection } else { Place::AboveFront };
            let [x, y] = [level, base.height].map(ExactLength::millimetres);
            let radius = from.millimetres() / 2.0;
            Some((place, [[x - radius, y], [x + radius, y]], from))
        }
        _ => None,
    })
}

/// The clear depth at the first bend of a slot: between its roof and the back.
#[inline(never)]
pub(super) fn bend(assembly: &Assembly) -> Option<([[f64; 2]; 2], ExactLength)> {
    assembly.bodies.iter().find_map(|body| match (body.kind, body.solid) {
        (BodyKind::PortAir(1), Solid::Block { min, size }) => {
            let up = min.height.millimetres();
            let ends = [min.depth, min.depth + size.depth].map(|at| [at.millimetres(), up]);
            Some((ends, size.depth))
        }
        // Before a back that leans, at the lower face of the roof.
        (BodyKind::PortAir(1), Solid::Prism { section, .. }) => {
            let &[from, to, ..] = section.corners() else { return None };
            Some(([from, to], ExactLength::from_millimetres(to[0] - from[0])))
        }
        _ => None,
    })
}
