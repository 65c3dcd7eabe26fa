//! What a test box comes to: its gap to the floor, how it stands, and what makes it stand in for other boxes.
use super::document::Sheet;
use super::limits::FieldId;
use super::report::{BoxReport, Part, Report};
use super::space::hatch;
use crate::model::geometry::legs::tips;
use crate::model::geometry::{
    Adapter, Board, Face, Insert, LegNeed, Legs, Plug, Port, adapter, door, insert, plug, weight,
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
    /// Cones that look at the floor together, if there are any and their area is known.
    pub cones: Option<Area>,
    /// What sets the height of the legs, if a known driver looks at the floor.
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
    /// What is cut for blocks, ring and plugs.
    pub extras: Vec<ExtraPart>,
}

/// What is cut beside the box itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Extra {
    /// A board of a block that takes up air.
    Block,
    /// The ring for a smaller driver.
    Ring,
    /// The disc of a plug that goes into the bore.
    PlugInside,
    /// The disc of a plug in front of it.
    PlugOutside,
}

/// Equal pieces cut beside the box itself, from the box's own board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ExtraPart {
    /// What they are.
    pub name: Extra,
    /// How many.
    pub count: usize,
    /// The longer side; a disc's diameter.
    pub length: ExactLength,
    /// The shorter side; a disc's diameter.
    pub width: ExactLength,
    /// Of a disc the diameter of its hole, zero without one; `None` for a rectangle.
    pub hole: Option<ExactLength>,
}

impl ExtraPart {
    fn disc(name: Extra, count: usize, across: ExactLength, hole: ExactLength) -> Self {
        Self { name, count, length: across, width: across, hole: Some(hole) }
    }

    /// What all its pieces weigh.
    #[must_use]
    pub fn mass(&self, board: Board) -> Mass {
        let [length, width] = [self.length, self.width].map(ExactLength::metres);
        let area = match self.hole {
            None => length * width,
            Some(hole) => std::f64::consts::FRAC_PI_4 * (length * length - hole.metres().powi(2)),
        };
        Mass::from_kilograms(self.count as f64 * area * board.thickness.metres() * board.density_kg_m3)
    }
}

/// The test box of a design; `None` where the box is none.
#[must_use]
pub fn test_box(sheet: &Sheet, report: &Report, enclosure: &BoxReport) -> Option<TestBox> {
    let spec = &enclosure.spec;
    let legs = spec.legs?;
    let assembly = &enclosure.plan.current().assembly;
    let mass = sheet.si(FieldId::DriverWeight).map(Mass::from_kilograms);
    let driver = report.driver.as_ref().ok();
    let count = spec.driver.as_ref().map_or(1, |driver| driver.in_front());
    let need = driver.filter(|_| count > 0);
    let need = need.and_then(|d| LegNeed::of(d.driver.sd, count, d.xmax, legs, assembly.inside.width).ok());
    let target = sheet.si(FieldId::InsertTarget).map(Volume::from_cubic_metres);
    let smaller = sheet.length(FieldId::AdapterCutOut).zip(sheet.length(FieldId::AdapterOutside));
    let insert: Option<Part<Insert>> =
        target.map(|target| Ok(insert(spec, assembly, enclosure.plan.net(), target)?));
    let adapter: Option<Part<Adapter>> = smaller.map(|(cutout, flange)| Ok(adapter(spec, cutout, flange)?));
    let plug = match &spec.port {
        Port::Round(round) => Some((round.count, plug(round.diameter))),
        _ => None,
    };
    Some(TestBox {
        extras: extras(insert.as_ref(), adapter.as_ref(), plug, spec.boards.shell.thickness),
        legs,
        foot: legs.foot(assembly.outside.height),
        openings: legs.openings(assembly.inside.width),
        cones: driver.filter(|_| count > 0).map(|driver| driver.driver.sd * f64::from(count)),
        need,
        tips: tips(assembly.outside, legs.height, &weight(spec, assembly, mass)),
        with_drivers: mass.is_some(),
        insert,
        adapter,
        plug,
    })
}

fn extras(
    insert: Option<&Part<Insert>>,
    adapter: Option<&Part<Adapter>>,
    plug: Option<(u8, Plug)>,
    thickness: ExactLength,
) -> Vec<ExtraPart> {
    let mut all = Vec::new();
    if let Some(Ok(insert)) = insert {
        for (count, length, width) in insert.boards(thickness) {
            let count = count * insert.count();
            all.push(ExtraPart { name: Extra::Block, count, length, width, hole: None });
        }
    }
    if let Some(Ok(ring)) = adapter {
        all.push(ExtraPart::disc(Extra::Ring, 1, ring.outside, ring.hole));
    }
    if let Some((count, plug)) = plug {
        let zero = ExactLength::ZERO;
        all.push(ExtraPart::disc(Extra::PlugInside, count.into(), plug.inner, zero));
        all.push(ExtraPart::disc(Extra::PlugOutside, count.into(), plug.outer, zero));
    }
    all
}

/// How the box, legs included, passes the opening it goes into the vehicle through; `None` while that is not typed. Of an
/// opening whose diagonals say that it is out of square, the largest true rectangle in it counts.
#[must_use]
pub fn passage(sheet: &Sheet, enclosure: &BoxReport) -> Option<door::Passage> {
    let mut opening = [sheet.length(FieldId::DoorWidth)?, sheet.length(FieldId::DoorHeight)?];
    if let Some(Ok(hatch)) = hatch(sheet) {
        opening = hatch.rectangle.map(ExactLength::from_millimetres);
    }
    let mut outside = enclosure.outside;
    if let Some(legs) = enclosure.spec.legs {
        outside.depth = outside.depth + legs.height;
    }
    door::best(outside, opening, sheet.length(FieldId::DoorGap)?)
}
