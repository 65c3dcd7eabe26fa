//! An enclosure stacked from board rings: outlines, walls, air, pins.
//!
//! Ring by ring the outline goes from that of the bottom to that of the baffle in equal steps; every ring is sawn square.
//! Closed plates lie below the first and above the last ring. Sizes are not rounded to the tape: rings are cut along
//! templates.
mod contour;
mod places;
mod shapes;

pub use contour::{Contour, Knot};
pub use places::{Wanted, places};
pub use shapes::{Station, d_shape, ellipse, polygon, rectangle, traced};

use super::outline::Corner;
use super::plane;
use crate::model::error::ModelError;
use crate::units::{Area, ExactLength, Mass, Volume};
use std::f64::consts::FRAC_PI_4;

/// Least wood that two rings share, all round: 12 mm, as a screw keeps from an edge (`handbook.csv`, row
/// `screw-face-edge`).
pub const LEAST_COMMON_MM: f64 = 12.0;
/// Least wood around a pin's hole: 5 mm (common practice, no source).
const AROUND_PIN_MM: f64 = 5.0;
/// Most rings.
pub const MOST_RINGS: usize = 80;
/// Places tried for pins along the middle of the wall.
const PIN_PLACES: usize = 144;

/// What is wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct RingSpec {
    /// Outline at the bottom.
    pub bottom: Contour,
    /// Outline at the baffle, with as many corners.
    pub top: Contour,
    /// Width of the wood.
    pub wall: ExactLength,
    /// Thickness of the board.
    pub thickness: ExactLength,
    /// How many rings, without the plates.
    pub rings: usize,
    /// Boards the baffle is laminated from.
    pub front_plates: u8,
    /// Boards the bottom is laminated from.
    pub back_plates: u8,
    /// Radius of the router's bit: no inside corner gets sharper.
    pub bit_radius: ExactLength,
    /// Pins that hold the rings in line while the glue sets.
    pub pins: usize,
    /// Their diameter.
    pub pin_diameter: ExactLength,
    /// Density in kg/m³.
    pub density_kg_m3: f64,
}

/// One ring.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// Its outline.
    pub outer: Contour,
    /// Its opening.
    pub inner: Contour,
}

impl Ring {
    /// Area of the wood, pins' holes not taken off.
    #[must_use]
    pub fn area(&self) -> Area {
        Area::from_square_metres((self.outer.area_mm2() - self.inner.area_mm2()) * 1e-6)
    }
}

/// The stack.
#[derive(Clone, Debug, PartialEq)]
pub struct RingStack {
    /// From the bottom up.
    pub rings: Vec<Ring>,
    /// Outline of the bottom plates, of the baffle plates.
    pub plates: [Contour; 2],
    /// Air within the rings: area times thickness, ring by ring.
    pub air: Volume,
    /// From the bottom's underside to the baffle's front.
    pub depth: ExactLength,
    /// Least width of wood that two neighbours share, in mm; that of the wall where all are alike.
    pub common_mm: f64,
    /// Centres of the pins, straight through every ring; empty where no place is in the wood of all.
    pub pins: Vec<[f64; 2]>,
    /// Rings and plates, less what [`RingStack::bore`] took out of them.
    pub mass: Mass,
    /// Its centre of gravity in mm: width and depth from the lower left corner of the bottom's bounds, height from the
    /// underside.
    pub centre_mm: [f64; 3],
}

/// A round hole in the wood, across the boards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bore {
    /// Its centre, in the outline's own millimetres.
    pub at: [f64; 2],
    /// Its diameter.
    pub diameter: ExactLength,
    /// From where to where above the underside.
    pub ends: [ExactLength; 2],
}

impl Bore {
    /// What it takes out.
    #[must_use]
    pub fn volume(&self) -> Volume {
        let long = (self.ends[1] - self.ends[0]).metres().max(0.0);
        Volume::from_cubic_metres(FRAC_PI_4 * self.diameter.metres().powi(2) * long)
    }
}

impl RingStack {
    /// Takes holes off weight and centre of gravity; none may run into another.
    pub fn bore(&mut self, spec: &RingSpec, bores: &[Bore]) {
        let [corner, _] = spec.bottom.bounds();
        let whole = self.mass.kilograms();
        let mut sum = self.centre_mm.map(|at| at * whole);
        let mut left = whole;
        for bore in bores {
            let mass = bore.volume().cubic_metres() * spec.density_kg_m3;
            let [low, high] = bore.ends.map(ExactLength::millimetres);
            let middle = [bore.at[0] - corner[0], bore.at[1] - corner[1], (low + high) / 2.0];
            left -= mass;
            for (sum, at) in sum.iter_mut().zip(middle) {
                *sum -= mass * at;
            }
        }
        // Holes that take all the wood, or more, are told elsewhere.
        if left > 0.0 {
            self.mass = Mass::from_kilograms(left);
            self.centre_mm = sum.map(|sum| sum / left);
        }
    }
}

/// Works out a stack.
///
/// # Errors
/// [`ModelError::OutOfRange`] for a number outside its range; [`ModelError::Impossible`] where an outline crosses itself,
/// is too narrow for its wall, or neighbouring rings share less than [`LEAST_COMMON_MM`].
pub fn stack(spec: &RingSpec) -> Result<RingStack, ModelError> {
    check(spec)?;
    let (wall, bit) = (spec.wall.millimetres(), spec.bit_radius.millimetres());
    let thickness = spec.thickness.metres();
    let mut rings = Vec::with_capacity(spec.rings);
    let mut air = 0.0;
    for number in 0..spec.rings {
        let share = (number as f64 + 0.5) / spec.rings as f64;
        let outer = spec.bottom.towards(&spec.top, share)?;
        let inner = outer.inset(wall, bit)?;
        if number == 0 || number + 1 == spec.rings {
            thick_enough(&outer, &inner, wall)?;
        }
        air += inner.area_mm2() * 1e-6 * thickness;
        rings.push(Ring { outer, inner });
    }
    let common_mm = common(&rings, wall);
    if common_mm < LEAST_COMMON_MM {
        return Err(ModelError::Impossible {
            what: "neighbouring rings share less than 12 mm of wood: more rings, a wider wall, or ends more alike",
        });
    }
    let layers = spec.rings as i64 + i64::from(spec.front_plates) + i64::from(spec.back_plates);
    let (wood, centre_mm) = wood(spec, &rings);
    Ok(RingStack {
        pins: pins(spec, &rings),
        rings,
        plates: [spec.bottom.clone(), spec.top.clone()],
        air: Volume::from_cubic_metres(air),
        depth: spec.thickness * layers,
        common_mm,
        mass: Mass::from_kilograms(wood * spec.density_kg_m3),
        centre_mm,
    })
}

/// Cubic metres of wood, and its middle.
fn wood(spec: &RingSpec, rings: &[Ring]) -> (f64, [f64; 3]) {
    let thickness = spec.thickness.millimetres();
    let plates = |contour, count: u8| std::iter::repeat_n((contour, None), count.into());
    let walls = rings.iter().map(|ring| (&ring.outer, Some(&ring.inner)));
    let layers =
        plates(&spec.bottom, spec.back_plates).chain(walls).chain(plates(&spec.top, spec.front_plates));
    let mut sum = [0.0; 4];
    for (number, (outer, inner)) in layers.enumerate() {
        // The areas are exact; only where their middle lies comes from chords.
        let area = outer.area_mm2() - inner.map_or(0.0, Contour::area_mm2);
        let [whole, x, y] = plane::moments(&outer.polyline());
        let [hole, hole_x, hole_y] = inner.map_or([0.0; 3], |inner| plane::moments(&inner.polyline()));
        let cut = whole - hole;
        let middle = [(x - hole_x) / cut, (y - hole_y) / cut, (number as f64 + 0.5) * thickness];
        sum[3] += area;
        for (sum, at) in sum.iter_mut().zip(middle) {
            *sum += area * at;
        }
    }
    let [corner, _] = spec.bottom.bounds();
    let [x, y, z, area] = sum;
    (area * thickness * 1e-9, [x / area - corner[0], y / area - corner[1], z / area])
}

fn check(spec: &RingSpec) -> Result<(), ModelError> {
    let range = |what, value: f64, min: f64, max: f64| {
        if (min..=max).contains(&value) {
            Ok(())
        } else {
            Err(ModelError::OutOfRange { what, value, min, max })
        }
    };
    range("number of rings", spec.rings as f64, 1.0, MOST_RINGS as f64)?;
    range("wall of the rings in mm", spec.wall.millimetres(), 12.0, 200.0)?;
    range("board thickness in mm", spec.thickness.millimetres(), 1.0, 100.0)?;
    range("pins", spec.pins as f64, 0.0, 12.0)?;
    range("pin diameter in mm", spec.pin_diameter.millimetres(), 1.0, 40.0)?;
    range("radius of the router's bit in mm", spec.bit_radius.millimetres(), 0.0, 50.0)?;
    range("plates", f64::from(spec.front_plates.min(spec.back_plates)), 1.0, 4.0)
}

/// The least wall: every point of the opening keeps the wall from the outline, its far parts included.
fn thick_enough(outer: &Contour, inner: &Contour, wall: f64) -> Result<(), ModelError> {
    let edge = outer.polyline();
    let least = inner.polyline().iter().map(|at| plane::distance(&edge, *at)).fold(f64::INFINITY, f64::min);
    // Chords lie within their arcs by less than this.
    if least < wall - 0.05 {
        return Err(ModelError::Impossible {
            what: "the outline is too narrow somewhere for a wall on both sides",
        });
    }
    Ok(())
}

/// The least width that neighbours share: the wall less what an outline moves sideways. In equal steps every corner moves
/// alike, only sides turn a little from one step to the next: the first, the middle and the last tell.
fn common(rings: &[Ring], wall: f64) -> f64 {
    let steps = rings.len().saturating_sub(1);
    let mut told = vec![0, steps / 2, steps.saturating_sub(1)];
    told.dedup();
    let moved = told.into_iter().filter_map(|step| rings.get(step..step + 2)).map(|pair| {
        let (a, b) = (pair[0].outer.polyline(), pair[1].outer.polyline());
        let far = |from: &[[f64; 2]], to: &[[f64; 2]]| {
            from.iter().map(|at| plane::distance(to, *at)).fold(0.0, f64::max)
        };
        if pair[0].outer == pair[1].outer { 0.0 } else { far(&a, &b).max(far(&b, &a)) }
    });
    wall - moved.fold(0.0, f64::max)
}

/// Pins in the middle of the wall, as evenly spread as the wood of all rings allows.
fn pins(spec: &RingSpec, rings: &[Ring]) -> Vec<[f64; 2]> {
    let Some(middle) = rings.get(rings.len() / 2) else { return Vec::new() };
    let Ok(line) = middle.outer.inset(spec.wall.millimetres() / 2.0, 0.0) else { return Vec::new() };
    let keep = spec.pin_diameter.millimetres() / 2.0 + AROUND_PIN_MM;
    let mut ends: Vec<&Ring> = rings.first().into_iter().chain(rings.last()).collect();
    ends.dedup_by(|a, b| a == b);
    let edges: Vec<[Vec<[f64; 2]>; 2]> =
        ends.iter().map(|ring| [ring.outer.polyline(), ring.inner.polyline()]).collect();
    let in_wood = |at: [f64; 2]| {
        edges.iter().all(|[outer, inner]| {
            plane::holds(outer, at)
                && !plane::holds(inner, at)
                && plane::distance(outer, at) >= keep
                && plane::distance(inner, at) >= keep
        })
    };
    let places = line.evenly(PIN_PLACES);
    let good: Vec<bool> = places.iter().map(|at| in_wood(*at)).collect();
    let mut found: Vec<[f64; 2]> = Vec::new();
    for pin in 0..spec.pins {
        let wanted = PIN_PLACES * pin / spec.pins.max(1);
        // The nearest good place along the line.
        let near = (0..PIN_PLACES / 2)
            .flat_map(|off| [(wanted + off) % PIN_PLACES, (wanted + PIN_PLACES - off) % PIN_PLACES])
            .find(|place| good.get(*place) == Some(&true));
        if let Some(at) = near.and_then(|place| places.get(place)).filter(|at| !found.contains(at)) {
            found.push(*at);
        }
    }
    // Fewer than two hold nothing in line.
    if found.len() < 2 { Vec::new() } else { found }
}

/// An outline as an edge with its lower left corner at zero, and where that corner was.
#[must_use]
pub fn placed(contour: &Contour) -> (Vec<Corner>, [f64; 2], [f64; 2]) {
    let [min, max] = contour.bounds();
    (contour.edge(min), min, [max[0] - min[0], max[1] - min[1]])
}
