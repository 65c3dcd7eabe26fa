//! The clearance stack of a design: what stands on the box, what must stay free, the heat of amplifiers beside it.
use super::document::Sheet;
use super::evaluate::{RingTubes, planned_rings};
use super::limits::FieldId;
use super::look::Look;
use super::report::{BoxReport, Report};
use crate::model::geometry::beside::{OVER_MM, OffRoll, bodies_beside, off_roll};
use crate::model::geometry::clearance::{OnFaces, air_flow, before_cone, counted, hollow, spare};
use crate::model::geometry::edges;
use crate::model::geometry::plane::area;
use crate::model::geometry::{Axis, BodyKind, Dims, PartId, Solid, Space};
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
    /// The box with everything on it, before covers that stand over are trimmed flush.
    pub over_all: Dims,
    /// What then remains of the space, along each axis, if one is entered. What is trimmed off takes no more than there is.
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
    /// Amplifiers in the gap under the driver or on the box.
    pub amplifiers: Option<Amplifiers>,
    /// Area of the outside faces in m², and what they take off a roll, if its width is entered.
    pub wrap: Option<(f64, OffRoll)>,
}

/// How amplifiers lie beside cones and ports, or on the box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amplifiers {
    /// How many there is room for.
    pub fit: u32,
    /// How many there are.
    pub wanted: u32,
    /// What is free over them, where the height there is known.
    pub over: Option<ExactLength>,
}

/// What does not go, or only just.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doubt {
    /// Larger than the space by so much with everything on it.
    NoRoom(Axis, ExactLength),
    /// From the surround to the grille at mechanical travel; below zero they meet.
    Grille(ExactLength),
    /// Too little is free before the cone.
    Cone,
    /// Too little is free before the port.
    Port,
    /// Not all amplifiers go beside the cones: how many do, how many there are.
    Bodies(u32, u32),
    /// What is left over the amplifiers' fins.
    Fins(ExactLength),
    /// A tube of a stack of rings is longer than what goes in: its length, the longest that goes in.
    RingTube(ExactLength, ExactLength),
    /// A driver's hole runs into the wall of a stack of rings.
    RingHole,
    /// A driver is deeper than its stack of rings.
    RingDepth,
}

/// Least way from cone to grille at full travel: 5 mm (common practice, no source).
const LEAST_TO_GRILLE: ExactLength = ExactLength::from_hundredths_mm(500);

impl Clearance {
    /// What does not go, or only just.
    #[must_use]
    pub fn doubts(&self) -> Vec<Doubt> {
        let short = |free: &Free| free.found.metres() < free.wanted.metres();
        let over = self.spare.into_iter().flatten().filter(|(_, left)| *left < ExactLength::ZERO);
        let mut all: Vec<Doubt> = over.map(|(axis, left)| Doubt::NoRoom(axis, -left)).collect();
        all.extend(self.grille.filter(|gap| *gap < LEAST_TO_GRILLE).map(Doubt::Grille));
        all.extend(self.cone.as_ref().filter(|free| short(free)).map(|_| Doubt::Cone));
        all.extend(self.port.as_ref().filter(|free| short(free)).map(|_| Doubt::Port));
        if let Some(bodies) = self.amplifiers {
            if bodies.fit < bodies.wanted {
                all.push(Doubt::Bodies(bodies.fit, bodies.wanted));
            }
            all.extend(bodies.over.filter(|over| over.millimetres() < OVER_MM).map(Doubt::Fins));
        }
        all
    }
}

/// Whether anything is entered that the stack is made of; costs next to nothing.
#[must_use]
pub fn is_stacked(sheet: &Sheet) -> bool {
    sheet.has_any(&(FieldId::WrapThickness..=FieldId::FreeInFront))
        || sheet.has_any(&(FieldId::AmplifierPlace..=FieldId::AmplifierPlace))
}

/// What does not go in a stack of rings.
#[must_use]
#[inline(never)] // few boxes are stacked
pub fn ring_doubts(sheet: &Sheet, report: &Report) -> Vec<Doubt> {
    let mut all = Vec::new();
    let Ok(found) = planned_rings(sheet, report) else { return all };
    if let Some(RingTubes { length: Some(length), most, .. }) = found.tubes
        && length > most
    {
        all.push(Doubt::RingTube(length, most));
    }
    if found.cutout > ExactLength::ZERO && found.beside_hole_mm < 0.0 {
        all.push(Doubt::RingHole);
    }
    if found.behind_driver.is_some_and(|room| room <= ExactLength::ZERO) {
        all.push(Doubt::RingDepth);
    }
    all
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
    let elsewhere = enclosure.spec.driver.as_ref().filter(|driver| !driver.elsewhere.is_empty());
    let with_all = |outside: Dims| {
        let over_all = on.over_all(outside);
        elsewhere.map_or(over_all, |driver| on.on_other_faces(over_all, driver))
    };
    let assembly = &enclosure.plan.current().assembly;
    let [trimmed, over_all] = [assembly.outside, assembly.untrimmed()].map(with_all);
    let left = |space: Space| spare(space.usable(), counted(trimmed, over_all, space.usable()));
    // As the vehicle has it, however the box lies there.
    let look = Look::of(sheet);
    let as_it_lies = |(axis, left)| (look.axis(axis), left);
    let travel = sheet.length(FieldId::MechanicalTravel).filter(|_| grille > ExactLength::ZERO);
    let driver = report.driver.as_ref().ok();
    // What lies before the front is free from the outermost thing on it.
    let free = sheet.length(FieldId::FreeInFront).map(|free| free - on.before_front());
    let cone = free
        .zip(driver)
        .and_then(|(found, driver)| Some(Free { found, wanted: before_cone(driver.driver.sd).ok()? }));
    let port = free.zip(assembly.port);
    Clearance {
        spare: enclosure.spec.space.map(|space| left(space).map(as_it_lies)),
        over_all: look.turned(over_all),
        grille: travel.map(|travel| on.cone_to_grille(length(FieldId::SurroundHeight), travel)),
        cone,
        port: port.map(|(found, port)| Free { found, wanted: port.height.to_length() }),
        hollow: sheet.si(FieldId::HollowWater).and_then(|water| hollow(water).ok()),
        heat: heat(sheet, report),
        amplifiers: amplifiers(sheet, enclosure),
        wrap: wrap(sheet, enclosure),
    }
}

/// Amplifiers in the gap under the front, beside what breathes there, or on the top.
fn amplifiers(sheet: &Sheet, enclosure: &BoxReport) -> Option<Amplifiers> {
    let body = [FieldId::AmplifierLength, FieldId::AmplifierWidth].map(|id| sheet.length(id));
    let body = [body[0]?.millimetres(), body[1]?.millimetres()];
    let height = sheet.length(FieldId::AmplifierHeight);
    let assembly = &enclosure.plan.current().assembly;
    let [depth, width, high] = assembly.outside.millimetres();
    let legs = enclosure.spec.legs.as_ref().map(|legs| legs.height);
    let gap = legs.or_else(|| sheet.length(FieldId::FloorGap));
    let (face, circles, free) = match sheet.choice_key(FieldId::AmplifierPlace) {
        "in the gap" => {
            let breathing = assembly.bodies.iter().filter_map(|body| match (body.kind, body.solid) {
                (BodyKind::DriverHole(_), Solid::Round { base, along: Axis::Depth, .. })
                    if base.depth < assembly.front_thickness =>
                {
                    let flange = enclosure.spec.driver.as_ref().map_or(ExactLength::ZERO, |it| it.flange);
                    Some((base, flange))
                }
                (BodyKind::PortMouth(_), Solid::Round { base, from, .. }) => Some((base, from)),
                _ => None,
            });
            let circles = breathing.map(|(at, across)| {
                ([at.width.millimetres(), at.height.millimetres()], across.millimetres() / 2.0)
            });
            ([width, high], circles.collect::<Vec<_>>(), gap)
        }
        "over the box" => {
            let look = Look::of(sheet);
            // On the drivers' face none may lie; of a box that looks down the back is the upper board.
            let (upper, along, whole) = match look {
                Look::Along | Look::Aside => (PartId::Top, 0, depth),
                Look::Down => (PartId::Back, 2, high),
                Look::Up => return None,
            };
            let driven = enclosure.spec.driver.as_ref();
            if driven.is_some_and(|it| it.elsewhere.iter().any(|face| edges::board(*face) == upper)) {
                return None;
            }
            let free = sheet.length(FieldId::SpaceHeight).map(|space| {
                let gap = if look == Look::Down { gap.unwrap_or_default() } else { ExactLength::ZERO };
                let high = look.turned(assembly.outside).height + gap;
                space - high - sheet.length(FieldId::Clearance).unwrap_or_default()
            });
            // Of a box that is less deep at its top that depth counts.
            let upper = assembly.bodies.iter().find(|body| body.kind == BodyKind::Board(upper));
            let deep = upper.map_or(whole, |upper| {
                let bounds = upper.bounds();
                bounds.max[along] - bounds.min[along]
            });
            ([width, deep.min(whole)], Vec::new(), free)
        }
        _ => return None,
    };
    // In a gap there isn't none go.
    let no_gap = sheet.choice_key(FieldId::AmplifierPlace) == "in the gap" && gap.is_none();
    Some(Amplifiers {
        fit: if no_gap { 0 } else { bodies_beside(face, &circles, body) },
        wanted: sheet.choice_key(FieldId::AmplifierBodies).parse().unwrap_or(1),
        over: free.zip(height).map(|(free, height)| free - height),
    })
}

/// The outside faces: the two sides, and a strip as wide as the box around each edge of them.
fn wrap(sheet: &Sheet, enclosure: &BoxReport) -> Option<(f64, OffRoll)> {
    let roll = sheet.length(FieldId::RollWidth)?.millimetres();
    let turned = 2.0 * sheet.length(FieldId::SeamAllowance).unwrap_or_default().millimetres();
    let assembly = &enclosure.plan.current().assembly;
    let [depth, width, height] = assembly.outside.millimetres();
    let outline = match assembly.side() {
        Some(side) => side.corners().to_vec(),
        None => vec![[0.0, 0.0], [depth, 0.0], [depth, height], [0.0, height]],
    };
    let edges: Vec<f64> = (0..outline.len())
        .map(|i| {
            let [a, b] = [outline[i], outline[(i + 1) % outline.len()]];
            (b[0] - a[0]).hypot(b[1] - a[1])
        })
        .collect();
    let mm2 = 2.0 * area(&outline) + width * edges.iter().sum::<f64>();
    let mut pieces = vec![[depth + turned, height + turned]; 2];
    pieces.extend(edges.iter().map(|edge| [edge + turned, width + turned]));
    Some((mm2 * 1e-6, off_roll(&pieces, roll).ok()?))
}

fn heat(sheet: &Sheet, report: &Report) -> Option<(Power, f64)> {
    let warmer = sheet.given(FieldId::AirWarming)?.si();
    let power = report.wiring.as_ref().ok()?.chosen()?.power?.expected();
    let efficiency = sheet.si(FieldId::Efficiency)?.clamp(0.05, 1.0);
    let loss = Power::from_watts(power.watts() * MUSIC * (1.0 / efficiency - 1.0));
    let density = report.sound.as_ref().map_or(1.2, |sound| sound.air.density_kg_m3());
    Some((loss, air_flow(loss, density, warmer).ok()?))
}
