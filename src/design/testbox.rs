//! What a test box comes to: its gap to the floor, how it stands, and what makes it stand in for other boxes.
use super::document::Sheet;
use super::limits::FieldId;
use super::report::{BoxReport, Part, Report};
use crate::model::geometry::legs::tips;
use crate::model::geometry::{
    Adapter, Face, Insert, LegNeed, Legs, Plug, Port, adapter, door, insert, plug, weight,
};
use crate::units::{Area, ExactLength, Mass, Volume};

/// A test box.
#[derive(Clone, Debug, PartialEq)]
pub struct TestBox {
    /// Its legs.
    pub legs: Legs,
    /// Length of each foot.
    pub foot: ExactLength,
    /// Windows and open ends together.
    pub openings: Area,
    /// Cones together, if known.
    pub cones: Option<Area>,
    /// What sets the height of the legs, if the driver is known.
    pub need: Option<LegNeed>,
    /// Tilt at which it falls over, for each face, in degrees.
    pub tips: [(Face, f64); 6],
    /// Whether the driver's weight is in that.
    pub with_drivers: bool,
    /// Blocks for the target volume, if one is typed.
    pub insert: Option<Part<Insert>>,
    /// The ring for a smaller driver, if one is typed.
    pub adapter: Option<Part<Adapter>>,
    /// Plugs for round ports, and how many.
    pub plug: Option<(u8, Plug)>,
}

/// The test box of a design; `None` where the box is none.
#[must_use]
pub fn test_box(sheet: &Sheet, report: &Report, enclosure: &BoxReport) -> Option<TestBox> {
    let spec = &enclosure.spec;
    let legs = spec.legs?;
    let assembly = &enclosure.plan.current().assembly;
    let mass = sheet.si(FieldId::DriverWeight).map(Mass::from_kilograms);
    let driver = report.driver.as_ref().ok();
    let count = spec.driver.as_ref().map_or(1, |driver| driver.count);
    let need = driver.and_then(|d| LegNeed::of(d.driver.sd, count, d.xmax, legs, assembly.inside.width).ok());
    let target = sheet.si(FieldId::InsertTarget).map(Volume::from_cubic_metres);
    let smaller = sheet.length(FieldId::AdapterCutOut).zip(sheet.length(FieldId::AdapterOutside));
    Some(TestBox {
        legs,
        foot: legs.foot(assembly.outside.height),
        openings: legs.openings(assembly.inside.width),
        cones: driver.map(|driver| driver.driver.sd * f64::from(count)),
        need,
        tips: tips(assembly.outside, legs.height, &weight(spec, assembly, mass)),
        with_drivers: mass.is_some(),
        insert: target.map(|target| Ok(insert(spec, assembly.inside, enclosure.plan.net(), target)?)),
        adapter: smaller.map(|(cutout, flange)| Ok(adapter(spec, cutout, flange)?)),
        plug: match &spec.port {
            Port::Round(round) => Some((round.count, plug(round.diameter))),
            _ => None,
        },
    })
}

/// How the box, legs included, passes the opening it goes into the vehicle through; `None` while that is not typed.
#[must_use]
pub fn passage(sheet: &Sheet, enclosure: &BoxReport) -> Option<door::Passage> {
    let opening = [sheet.length(FieldId::DoorWidth)?, sheet.length(FieldId::DoorHeight)?];
    let mut outside = enclosure.outside;
    if let Some(legs) = enclosure.spec.legs {
        outside.depth = outside.depth + legs.height;
    }
    door::best(outside, opening, sheet.length(FieldId::DoorGap)?)
}
