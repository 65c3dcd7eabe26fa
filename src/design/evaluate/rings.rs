//! An enclosure of stacked rings: from entries to the stack, its air and its parts.
use super::enclosure::{cutouts, planned_port, wanted_tuning};
use super::kind::{Base, Kind};
use super::{Filled, missing, needed_length};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{Gap, Part};
use crate::model::acoustics::Opening;
use crate::model::error::ModelError;
use crate::model::geometry::rings::{
    Contour, RingSpec, RingStack, Station, d_shape, ellipse, polygon, rectangle, stack, traced,
};
use crate::model::geometry::space::measure::rows;
use crate::units::{Area, ExactLength, Volume};
use std::f64::consts::FRAC_PI_4;

/// A stack of rings with what goes into it.
#[derive(Clone, Debug, PartialEq)]
pub struct RingReport {
    /// As wanted.
    pub spec: RingSpec,
    /// As cut.
    pub stack: RingStack,
    /// Centres of the drivers' holes on the baffle, in the outline's own millimetres, and their diameter.
    pub drivers: Vec<[f64; 2]>,
    /// Diameter of a driver's hole; zero where none is known.
    pub cutout: ExactLength,
    /// Air gained in the drivers' holes behind the recess: π/4 Dc² (T − r), all drivers.
    pub holes: Volume,
    /// What lies behind the drivers' flanges, all drivers.
    pub bodies: Volume,
    /// From the drivers' rear to the bottom plate, if their depth is known; below zero they do not go in.
    pub behind_driver: Option<ExactLength>,
    /// From the hole to the nearest wall inside, least of all drivers, in mm.
    pub beside_hole_mm: f64,
    /// Air without a port.
    pub net: Volume,
}

/// What a layer of the stack is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LayerUse {
    /// A plate below the rings.
    Bottom,
    /// Rings that are alike, counted from the bottom, beginning with 1.
    Rings {
        /// The lowest.
        first: usize,
        /// The highest.
        last: usize,
    },
    /// A plate above them.
    Baffle,
}

/// Layers of the stack that are alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer<'a> {
    /// What they are.
    pub use_: LayerUse,
    /// How many.
    pub count: usize,
    /// Their outline.
    pub outer: &'a Contour,
    /// Their opening; a plate has none.
    pub inner: Option<&'a Contour>,
}

impl Layer<'_> {
    /// Area of the wood of one, holes for pins and drivers not taken off.
    #[must_use]
    pub fn area(&self) -> Area {
        let opening = self.inner.map_or(0.0, Contour::area_mm2);
        Area::from_square_metres((self.outer.area_mm2() - opening) * 1e-6)
    }

    /// Width and depth of the rectangle one is cut from, rounded up to whole steps.
    #[must_use]
    pub fn blank(&self, step: ExactLength) -> [ExactLength; 2] {
        let [min, max] = self.outer.bounds();
        // Nobody sees a twentieth of a millimetre at the edge of a blank.
        [0, 1].map(|i| ExactLength::from_millimetres(max[i] - min[i] - 0.05).rounded_up_to(step))
    }
}

impl RingReport {
    /// From the bottom up, layers that are alike together.
    #[must_use]
    pub fn layers(&self) -> Vec<Layer<'_>> {
        let [bottom, top] = &self.stack.plates;
        let plates = |use_, count: u8, outer| Layer { use_, count: count.into(), outer, inner: None };
        let mut all = vec![plates(LayerUse::Bottom, self.spec.back_plates, bottom)];
        let rings = &self.stack.rings;
        let mut first = 0;
        for alike in rings.chunk_by(|a, b| a == b) {
            let use_ = LayerUse::Rings { first: first + 1, last: first + alike.len() };
            let ring = &alike[0];
            all.push(Layer { use_, count: alike.len(), outer: &ring.outer, inner: Some(&ring.inner) });
            first += alike.len();
        }
        all.push(plates(LayerUse::Baffle, self.spec.front_plates, top));
        all
    }

    /// Area of all joints between layers: what the smaller of two neighbours covers of the other.
    #[must_use]
    pub fn glued(&self) -> Area {
        let layers = self.layers();
        let each =
            layers.iter().flat_map(|layer| std::iter::repeat_n(layer.area().square_metres(), layer.count));
        let areas: Vec<f64> = each.collect();
        Area::from_square_metres(areas.windows(2).map(|pair| pair[0].min(pair[1])).sum())
    }
}

/// Whether the box is stacked from rings: one room only, so no band-pass and no baffle.
pub(crate) fn is_stack(sheet: &Sheet) -> bool {
    sheet.choice_key(FieldId::Construction) == "rings"
        && matches!(Kind::of(sheet), Kind::Closed | Kind::Vented | Kind::PassiveRadiator | Kind::PushPull)
}

/// The stack of a sheet.
///
/// # Errors
/// [`Gap::Missing`] names what is not entered, [`Gap::Refused`] what does not go together.
pub fn ring_report(sheet: &Sheet) -> Part<RingReport> {
    let spec = spec(sheet)?;
    let stack = stack(&spec)?;
    let count = usize::from(cutouts(sheet).max(1));
    let cutout = sheet.length(FieldId::CutOut).unwrap_or_default();
    let front = spec.thickness * i64::from(spec.front_plates);
    // As on a box of boards: one whole board deep, of a single one half.
    let recess = match (sheet.choice_key(FieldId::Recess), spec.front_plates) {
        ("flush", 1) => spec.thickness.halved(),
        ("flush", _) => spec.thickness,
        _ => ExactLength::ZERO,
    };
    let hole = FRAC_PI_4 * cutout.metres().powi(2) * (front - recess).metres() * count as f64;
    let body = sheet.si(FieldId::DriverDisplacement).unwrap_or(0.0) * count as f64;
    let (holes, bodies) = (Volume::from_cubic_metres(hole), Volume::from_cubic_metres(body));
    let net = stack.air + holes - bodies;
    if net.cubic_metres() <= 0.0 {
        return Err(ModelError::Impossible { what: "what is in the stack leaves no air" }.into());
    }
    let last = stack.rings.last().ok_or(Gap::Waiting)?;
    let drivers = centres(&last.inner, count);
    let beside = drivers.iter().map(|at| last.inner.clearance(*at) - cutout.millimetres() / 2.0);
    let inside = spec.thickness * spec.rings as i64;
    let reach = sheet.length(FieldId::MountingDepth).map(|depth| depth - (front - recess));
    Ok(RingReport {
        beside_hole_mm: beside.fold(f64::INFINITY, f64::min),
        behind_driver: reach.map(|reach| inside - reach),
        drivers,
        cutout,
        holes,
        bodies,
        net,
        spec,
        stack,
    })
}

/// Drivers in a row along the longer side, in the middle of the other.
fn centres(inner: &Contour, count: usize) -> Vec<[f64; 2]> {
    let [min, max] = inner.bounds();
    let size = [max[0] - min[0], max[1] - min[1]];
    let along = usize::from(size[1] > size[0]);
    let centre = |number: usize| {
        let mut at = [0, 1].map(|i| (min[i] + max[i]) / 2.0);
        at[along] = min[along] + size[along] * (number as f64 + 0.5) / count as f64;
        at
    };
    (0..count).map(centre).collect()
}

fn spec(sheet: &Sheet) -> Part<RingSpec> {
    let count = sheet.si(FieldId::RingCount).ok_or_else(|| missing(&[FieldId::RingCount]))?;
    let bottom = outline(sheet)?;
    let [min, max] = bottom.bounds();
    let size = [max[0] - min[0], max[1] - min[1]];
    let top = [FieldId::RingTopWidth, FieldId::RingTopDepth]
        .map(|id| sheet.length(id).map(ExactLength::millimetres));
    let top = match top {
        [None, None] => bottom.clone(),
        [width, depth] => bottom.stretched([width.unwrap_or(size[0]), depth.unwrap_or(size[1])])?,
    };
    let plates = |id| sheet.choice_key(id).parse().unwrap_or(1);
    Ok(RingSpec {
        bottom,
        top,
        wall: needed_length(sheet, FieldId::RingWall)?,
        thickness: needed_length(sheet, FieldId::Board)?,
        rings: count.round() as usize,
        front_plates: plates(FieldId::RingFront),
        back_plates: plates(FieldId::RingBack),
        bit_radius: sheet.length(FieldId::RouterBit).unwrap_or_default().halved(),
        pins: sheet.choice_key(FieldId::RingPins).parse().unwrap_or(0),
        pin_diameter: needed_length(sheet, FieldId::PinDiameter)?,
        density_kg_m3: sheet.si(FieldId::BoardDensity).unwrap_or(740.0),
    })
}

/// The outline at the bottom.
fn outline(sheet: &Sheet) -> Part<Contour> {
    let radius = needed_length(sheet, FieldId::RingRadius)?.millimetres();
    let shape = sheet.choice_key(FieldId::RingShape);
    if shape == "traced" {
        let text = sheet.text(FieldId::RingTrace);
        if text.trim().is_empty() {
            return Err(missing(&[FieldId::RingTrace]));
        }
        let stations = stations(text).ok_or(ModelError::Impossible {
            what: "each station has three numbers in mm, or behind in in inches: along, left, right; stations are separated by semicolons",
        })?;
        let clearance = sheet.length(FieldId::Clearance).unwrap_or_default().millimetres();
        return Ok(traced(&stations, radius)?.inset(clearance, 0.0)?);
    }
    let ids = [FieldId::RingWidth, FieldId::RingDepth];
    let lacking: Vec<FieldId> = ids.into_iter().filter(|id| sheet.given(*id).is_none()).collect();
    let [Some(width), Some(depth)] = ids.map(|id| sheet.length(id)) else { return Err(missing(&lacking)) };
    let size = [width, depth].map(ExactLength::millimetres);
    Ok(match shape {
        "D" => d_shape(size, radius)?,
        "ellipse" => ellipse(size)?,
        "polygon" => polygon(sheet.choice_key(FieldId::RingSides).parse().unwrap_or(6), size, radius)?,
        _ => rectangle(size, radius)?,
    })
}

/// Stations from a text: `0 100 80; 150 140 90`.
fn stations(text: &str) -> Option<Vec<Station>> {
    let station = |row: Vec<f64>| match row.as_slice() {
        [along, left, right] => Some(Station { along: *along, left: *left, right: *right }),
        _ => None,
    };
    rows(text)?.into_iter().map(station).collect()
}

/// Rounds in which a tube and the air beside it are brought together.
const ROUNDS: usize = 6;

/// Air that loads the drivers, the tubes of a vented stack taken off: each as long as the tuning needs in what then is
/// left.
#[inline(never)] // few boxes are stacked
pub(super) fn net(base: &Base<'_>, filled: &mut Filled) -> Part<Volume> {
    let found = ring_report(base.sheet)?;
    let round = base.sheet.choice_key(FieldId::PortShape) != "slot";
    if Kind::of(base.sheet) != Kind::Vented || !round {
        return Ok(found.net);
    }
    let wall = needed_length(base.sheet, FieldId::PortWall)?.metres();
    let front = found.spec.thickness.metres() * f64::from(found.spec.front_plates);
    let mut net = found.net;
    for _ in 0..ROUNDS {
        let tuning = wanted_tuning(base.sheet, Some(net), Some(base.load), &base.air, filled)?;
        let port = planned_port(base.sheet, net, tuning, &base.air)?;
        let Opening::Round { diameter } = port.opening else { break };
        let outer = FRAC_PI_4 * (diameter.metres() + 2.0 * wall).powi(2);
        let inside = (port.length.metres() - front).max(0.0);
        let left = found.net.cubic_metres() - outer * inside * f64::from(port.count);
        if left <= 0.0 {
            return Err(ModelError::Impossible { what: "what is in the stack leaves no air" }.into());
        }
        net = Volume::from_cubic_metres(left);
    }
    Ok(net)
}
