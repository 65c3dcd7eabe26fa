//! Where round openings sit on boards over a polygon: the sides and the divider of shaped boxes.
use super::{Disc, Layout, Region, best};
use crate::model::geometry::axes::Point;
use crate::model::geometry::inscribed::{largest_circle, room};
use crate::model::geometry::plane::{At, length, minus};
use crate::model::geometry::polygon::Polygon;
use crate::model::geometry::profile::Inside;
use crate::model::geometry::spec::{BoxSpec, Divider, Form, Port, RadiatorCutout, RadiatorPlace};
use crate::units::ExactLength;

use super::panels::slot_roofs;

/// Levels between which rectangles are tried.
const LEVELS: u32 = 8;
/// First and last step of what is moved, in mm.
const STEPS: [f64; 2] = [64.0, 0.5];
/// Most rounds in which all are moved.
const MOST_ROUNDS: usize = 200;
/// Ways of a move.
const WAYS: [At; 8] =
    [[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0], [0.7, 0.7], [-0.7, 0.7], [0.7, -0.7], [-0.7, -0.7]];

impl Layout {
    /// Moves what sits in the sides or in the divider of a shaped box to where their polygon has room for it; `right` is
    /// where the right side begins. Places that were not looked for stay.
    #[inline(never)] // only shaped boxes need it: it may come after the first result
    pub(in crate::model::geometry) fn put_on_polygons(
        &mut self,
        spec: &BoxSpec,
        inside: &Inside,
        right: ExactLength,
    ) {
        let all = self.drivers.iter().chain(&self.tubes).chain(&self.others);
        if all.into_iter().all(|at| *at == Point::default()) {
            return;
        }
        match spec.form {
            Form::Radiators(radiators @ RadiatorCutout { place: RadiatorPlace::Sides, .. }) => {
                let found = on_polygon(&inside.polygon, (1, radiators.flange.millimetres()), (0, 0.0));
                let widths = [ExactLength::ZERO, right];
                for (place, width) in self.others.iter_mut().zip(widths) {
                    *place = found.first().map_or(*place, |at| point(*at, width));
                }
            }
            Form::Divided(divider) => self.put_on_divider(spec, divider, inside),
            _ => {}
        }
    }

    fn put_on_divider(&mut self, spec: &BoxSpec, divider: Divider, inside: &Inside) {
        let flange = spec.driver.as_ref().map_or(0.0, |driver| driver.flange.millimetres());
        let tube = match &spec.port {
            Port::Round(port) if divider.inward => (port.diameter + port.wall * 2).millimetres(),
            _ => 0.0,
        };
        let tubes = if divider.inward { self.tubes.len() } else { 0 };
        let found =
            on_polygon(&clear_of_roofs(spec, divider, inside), (self.drivers.len(), flange), (tubes, tube));
        let face = inside.min.width + divider.room;
        let places = self.drivers.iter_mut().chain(self.tubes.iter_mut().take(tubes));
        for (place, at) in places.zip(found) {
            *place = point(at, face);
        }
    }
}

/// What slots on either side of a divider leave of it.
pub(in crate::model::geometry) fn clear_of_roofs(
    spec: &BoxSpec,
    divider: Divider,
    inside: &Inside,
) -> Polygon {
    let [before, behind] = slot_roofs(spec, divider);
    let up = inside.min.height + before.max(behind);
    inside.polygon.clipped(1, up.millimetres(), true)
}

/// Places of discs of these diameters, in mm, on a board over a polygon: depth and height, with the most wood between them
/// and around them. One sits where it has most room; several begin in rectangles within the polygon.
#[must_use]
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(in crate::model::geometry) fn on_polygon(
    polygon: &Polygon,
    (big, flange): (usize, f64),
    (small, tube): (usize, f64),
) -> Vec<At> {
    let line = polygon.corners();
    let Some((middle, _)) = largest_circle(line) else { return vec![[0.0; 2]; big + small] };
    if big + small == 1 {
        return vec![middle];
    }
    let mut discs = vec![Disc { diameter: flange }; big];
    discs.extend(vec![Disc { diameter: tube }; small]);
    let mut found = (f64::NEG_INFINITY, vec![middle; big + small]);
    for region in rectangles(polygon) {
        let places = best(region, big, flange, small, tube);
        let wood = least_wood(line, &discs, &places);
        if wood > found.0 + 1e-9 {
            found = (wood, places);
        }
    }
    moved(line, &discs, &mut found.1);
    found.1
}

/// A place on such a board as a point of the box, to whole millimetres: they are marked out by hand.
#[must_use]
pub(in crate::model::geometry) fn point([depth, height]: At, width: ExactLength) -> Point {
    let mm = |at: f64| ExactLength::from_millimetres(at.round());
    Point { depth: mm(depth), width, height: mm(height) }
}

/// Rectangles within a polygon, between every two of a few levels.
fn rectangles(polygon: &Polygon) -> Vec<Region> {
    let [low, high] = polygon.bounds();
    let level = |number: u32| low[1] + (high[1] - low[1]) * f64::from(number) / f64::from(LEVELS);
    let mut all = Vec::new();
    for from in 0..LEVELS {
        for to in from + 1..=LEVELS {
            let (low, high) = (level(from), level(to));
            if let Some([near, far]) = polygon.clear_between(low, high) {
                all.push(Region { min: [near, low], size: [far - near, high - low] });
            }
        }
    }
    all
}

/// The narrowest piece of wood around one of the discs; below zero where it overlaps something.
fn wood_around(line: &[At], discs: &[Disc], places: &[At], which: usize) -> f64 {
    let radius = |i: usize| discs[i].diameter / 2.0;
    let mut least = room(line, places[which]) - radius(which);
    for (other, at) in places.iter().enumerate().filter(|(other, _)| *other != which) {
        least = least.min(length(minus(*at, places[which])) - radius(which) - radius(other));
    }
    least
}

fn least_wood(line: &[At], discs: &[Disc], places: &[At]) -> f64 {
    (0..places.len()).map(|i| wood_around(line, discs, places, i)).fold(f64::INFINITY, f64::min)
}

/// Moves each disc, by ever smaller steps, to where more wood is left around it.
fn moved(line: &[At], discs: &[Disc], places: &mut [At]) {
    let mut step = STEPS[0];
    // Discs that push one another to and fro end where they are.
    for _ in 0..MOST_ROUNDS {
        if step < STEPS[1] {
            break;
        }
        let mut better = false;
        for which in 0..places.len() {
            let mut least = wood_around(line, discs, places, which);
            for [x, y] in WAYS {
                let from = places[which];
                places[which] = [from[0] + x * step, from[1] + y * step];
                let wood = wood_around(line, discs, places, which);
                if wood > least + 1e-6 {
                    (least, better) = (wood, true);
                } else {
                    places[which] = from;
                }
            }
        }
        if !better {
            step /= 2.0;
        }
    }
}
