//! An enclosure of stacked rings: from entries to the stack, its air and its parts.
use super::enclosure::{cutouts, is_slot, planned_port, port_count, wanted_tuning};
use super::kind::{Base, Kind};
use super::{Filled, missing, needed_length, tape_step};
use crate::design::document::Sheet;
use crate::design::limits::FieldId;
use crate::design::report::{Gap, Part, Report};
use crate::model::acoustics::Enclosure;
use crate::model::error::ModelError;
use crate::model::geometry::HoleUse;
use crate::model::geometry::rings::{
    Bore, Contour, RingSpec, RingStack, Station, Wanted, d_shape, ellipse, places, polygon, rectangle, stack,
    traced,
};
use crate::model::geometry::space::measure::rows;
use crate::units::{Area, ExactLength, Mass, Volume};
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
    /// Diameter and depth of the recess for a driver's flange, if it lies flush.
    pub recess: Option<[ExactLength; 2]>,
    /// The tubes of a vented stack.
    pub tubes: Option<RingTubes>,
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

/// Tubes of a vented stack: all through the baffle, or all through the bottom.
#[derive(Clone, Debug, PartialEq)]
pub struct RingTubes {
    /// Diameter of one inside.
    pub inside: ExactLength,
    /// Outside: that of its hole.
    pub outer: ExactLength,
    /// Whether they go through the baffle, not through the bottom.
    pub in_baffle: bool,
    /// The plates of that end together.
    pub plates: ExactLength,
    /// Their centres, in the outline's own millimetres.
    pub centres: Vec<[f64; 2]>,
    /// Length of one, its plates included; `None` while neither an entry nor the sound gives it.
    pub length: Option<ExactLength>,
    /// The longest that leaves as much air before its inner end as it is wide (common practice, no source).
    pub most: ExactLength,
}

/// A round hole in a layer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlateHole {
    /// What it is for.
    pub use_: HoleUse,
    /// Its centre, in the outline's own millimetres.
    pub at: [f64; 2],
    /// Its diameter.
    pub diameter: ExactLength,
    /// How deep; `None` is through the layer.
    pub depth: Option<ExactLength>,
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
    /// A plate above them; where flanges lie flush in a plate of their own, one below that.
    Baffle,
    /// The outermost plate of a baffle of several, in which flanges lie flush.
    OuterBaffle,
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
    /// Area of the wood of one, round holes not taken off.
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
        // A recess through the outermost plate makes it unlike the others.
        let outermost = u8::from(self.recess.is_some() && self.spec.front_plates > 1);
        all.push(plates(LayerUse::Baffle, self.spec.front_plates - outermost, top));
        if outermost > 0 {
            all.push(plates(LayerUse::OuterBaffle, outermost, top));
        }
        all
    }

    /// The round holes of a layer.
    #[must_use]
    pub fn holes(&self, use_: LayerUse) -> Vec<PlateHole> {
        let round = |use_, diameter, depth| move |at: &[f64; 2]| PlateHole { use_, at: *at, diameter, depth };
        let mut all = Vec::new();
        if matches!(use_, LayerUse::Rings { .. }) {
            all.extend(self.stack.pins.iter().map(round(HoleUse::Pin, self.spec.pin_diameter, None)));
            return all;
        }
        let is_baffle = use_ != LayerUse::Bottom;
        if is_baffle && self.cutout > ExactLength::ZERO {
            if use_ == LayerUse::Baffle {
                all.extend(self.drivers.iter().map(round(HoleUse::Driver, self.cutout, None)));
            }
            if let Some([diameter, depth]) = self.recess {
                let (shown, depth) = match use_ {
                    LayerUse::OuterBaffle => (true, None),
                    _ => (self.spec.front_plates == 1, Some(depth)),
                };
                all.extend(self.drivers.iter().filter(|_| shown).map(round(
                    HoleUse::Recess,
                    diameter,
                    depth,
                )));
            }
        }
        if let Some(tubes) = self.tubes.as_ref().filter(|tubes| tubes.in_baffle == is_baffle) {
            all.extend(tubes.centres.iter().map(round(HoleUse::Port, tubes.outer, None)));
        }
        all
    }

    /// Weight of one of a layer's boards: pins fill their holes again, all other holes are taken off.
    #[must_use]
    pub fn layer_mass(&self, layer: &Layer<'_>) -> Mass {
        let thickness = self.spec.thickness;
        let mut cubic = layer.area().square_metres() * thickness.metres();
        for hole in self.holes(layer.use_).iter().filter(|hole| hole.use_ != HoleUse::Pin) {
            let mut square = hole.diameter.metres().powi(2);
            // A recess is bored around the hole.
            if hole.depth.is_some() {
                square -= self.cutout.metres().powi(2);
            }
            cubic -= FRAC_PI_4 * square * hole.depth.unwrap_or(thickness).metres();
        }
        Mass::from_kilograms(cubic.max(0.0) * self.spec.density_kg_m3)
    }

    /// Every hole through the plates, one cylinder behind the other.
    fn bores(&self) -> Vec<Bore> {
        let top = self.stack.depth;
        let front = top - self.spec.thickness * i64::from(self.spec.front_plates);
        let bored = |diameter, ends: [ExactLength; 2]| move |at: &[f64; 2]| Bore { at: *at, diameter, ends };
        let mut all = Vec::new();
        if self.cutout > ExactLength::ZERO {
            let seat = self.recess.map_or(top, |[_, depth]| top - depth);
            all.extend(self.drivers.iter().map(bored(self.cutout, [front, seat])));
            if let Some([diameter, _]) = self.recess {
                all.extend(self.drivers.iter().map(bored(diameter, [seat, top])));
            }
        }
        if let Some(tubes) = &self.tubes {
            let ends = if tubes.in_baffle { [front, top] } else { [ExactLength::ZERO, tubes.plates] };
            all.extend(tubes.centres.iter().map(bored(tubes.outer, ends)));
        }
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

/// Kinds and ports that have no place in a stack.
fn goes_with_rings(sheet: &Sheet) -> Result<(), ModelError> {
    let what = match Kind::of(sheet) {
        Kind::Vented if is_slot(sheet) => {
            "a stack of rings takes no slot: choose a round port, which goes through a plate, or build the box of boards"
        }
        Kind::PassiveRadiator => {
            "a stack of rings takes no passive radiators: build the box of boards, or choose a closed or vented box"
        }
        _ => return Ok(()),
    };
    Err(ModelError::Impossible { what })
}

/// The stack of a sheet.
///
/// # Errors
/// [`Gap::Missing`] names what is not entered, [`Gap::Refused`] what does not go together.
pub fn ring_report(sheet: &Sheet) -> Part<RingReport> {
    goes_with_rings(sheet)?;
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
    let mut found = RingReport {
        beside_hole_mm: beside.fold(f64::INFINITY, f64::min),
        behind_driver: reach.map(|reach| inside - reach),
        recess: seat(sheet, recess)?,
        tubes: None,
        drivers,
        cutout,
        holes,
        bodies,
        net,
        spec,
        stack,
    };
    if Kind::of(sheet) == Kind::Vented {
        found.tubes = Some(tubes(sheet, &found)?);
    }
    let bores = found.bores();
    found.stack.bore(&found.spec, &bores);
    Ok(found)
}

/// The stack of a design, its tubes as long as its sound has them.
///
/// # Errors
/// As [`ring_report`].
#[inline(never)] // few boxes are stacked
pub fn planned_rings(sheet: &Sheet, report: &Report) -> Part<RingReport> {
    let mut found = ring_report(sheet)?;
    if let (Some(tubes), Ok(sound)) = (&mut found.tubes, &report.sound)
        && let Enclosure::Vented { rear } = &sound.built.enclosure
    {
        let length = ExactLength::from_millimetres(rear.port.length.millimetres());
        tubes.length.get_or_insert(length.rounded_up_to(tape_step(sheet)).max(tubes.plates));
    }
    Ok(found)
}

/// Diameter and depth of the recess for a flange, so deep, if it is known.
fn seat(sheet: &Sheet, depth: ExactLength) -> Part<Option<[ExactLength; 2]>> {
    let Some(flange) = sheet.length(FieldId::OutsideDiameter).filter(|_| depth > ExactLength::ZERO) else {
        return Ok(None);
    };
    Ok(Some([flange + needed_length(sheet, FieldId::RecessGap)? * 2, depth]))
}

/// The tubes: beside the drivers in the baffle where they find room, otherwise through the bottom, there beside the
/// drivers' bodies, otherwise below them.
#[inline(never)] // few boxes are stacked
fn tubes(sheet: &Sheet, found: &RingReport) -> Part<RingTubes> {
    let inside = needed_length(sheet, FieldId::PortDiameter)?;
    let outer = inside + needed_length(sheet, FieldId::PortWall)? * 2;
    let spec = &found.spec;
    let (front, back) = (i64::from(spec.front_plates), i64::from(spec.back_plates));
    let open = spec.thickness * spec.rings as i64;
    let rings = &found.stack.rings;
    let (Some(first), Some(last)) = (rings.first(), rings.last()) else { return Err(Gap::Waiting) };
    let mut walls = vec![&first.inner, &last.inner];
    walls.dedup();
    let wanted = Wanted { radius: outer.millimetres() / 2.0, count: usize::from(port_count(sheet)) };
    let around = |diameter: ExactLength| -> Vec<([f64; 2], f64)> {
        found.drivers.iter().map(|at| (*at, diameter.millimetres() / 2.0)).collect()
    };
    let flange = found.recess.map(|[diameter, _]| diameter).or(sheet.length(FieldId::OutsideDiameter));
    let baffle = Some(around(flange.unwrap_or(found.cutout))).filter(|_| found.cutout > ExactLength::ZERO);
    let baffle = baffle.and_then(|off| places(&walls, wanted, &off));
    let in_baffle = baffle.is_some();
    let (centres, room) = match baffle.or_else(|| places(&walls, wanted, &around(found.cutout))) {
        Some(centres) => (centres, open),
        // Below the drivers only what is behind them is free.
        None => {
            let below = places(&walls, wanted, &[]).ok_or(ModelError::Impossible {
                what: "the tubes do not go through the plates with 15 mm around each: fewer or narrower tubes, or a larger outline",
            })?;
            (below, found.behind_driver.unwrap_or(open))
        }
    };
    let plates = spec.thickness * if in_baffle { front } else { back };
    Ok(RingTubes {
        inside,
        outer,
        in_baffle,
        plates,
        centres,
        length: sheet.length(FieldId::PortLength),
        most: (plates + room - inside).max(plates),
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
    let wanted = [0, 1].map(|i| top[i].unwrap_or(size[i]));
    let alike = (0..2).all(|i| (wanted[i] - size[i]).abs() < 1e-6);
    let top = if alike { bottom.clone() } else { bottom.stretched(wanted)? };
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
    let Some(tubes) = &found.tubes else { return Ok(found.net) };
    let outer = FRAC_PI_4 * tubes.outer.metres().powi(2);
    let mut net = found.net;
    for _ in 0..ROUNDS {
        let tuning = wanted_tuning(base.sheet, Some(net), Some(base.load), &base.air, filled)?;
        let port = planned_port(base.sheet, net, tuning, &base.air)?;
        // Of a tube that is too long, which is told as such, only what goes in takes air away.
        let length = port.length.metres().min(tubes.most.metres());
        let inside = (length - tubes.plates.metres()).max(0.0);
        let left = found.net.cubic_metres() - outer * inside * f64::from(port.count);
        if left <= 0.0 {
            return Err(ModelError::Impossible { what: "what is in the stack leaves no air" }.into());
        }
        net = Volume::from_cubic_metres(left);
    }
    Ok(net)
}
