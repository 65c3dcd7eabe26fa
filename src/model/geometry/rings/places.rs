//! Places for tubes in a plate: within the openings of the rings, off drivers, off one another.
use super::contour::Contour;
use crate::model::geometry::plane;

/// Least wood or air between a tube and a wall, a flange, a driver's body or another tube, in mm (common practice, no
/// source).
const AROUND_MM: f64 = 15.0;
/// Places tried across an outline.
const ACROSS: f64 = 40.0;
/// Steps along its middle lines, in mm.
const STEP_MM: f64 = 2.0;

/// A place in mm, and how much more than the least is left around a tube there.
type Place = ([f64; 2], f64);

/// Tubes that want a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// Outer radius in mm.
    pub radius: f64,
    /// How many.
    pub count: usize,
}

/// Centres for tubes within all outlines and off circles given by centre and radius in mm: on the middle lines of the
/// first outline if they go there, otherwise anywhere, each where most room is left. `None` where they do not all go.
#[must_use]
pub fn places(walls: &[&Contour], wanted: Wanted, off: &[([f64; 2], f64)]) -> Option<Vec<[f64; 2]>> {
    let [min, max] = walls.first()?.bounds();
    let lines: Vec<Vec<[f64; 2]>> = walls.iter().map(|wall| wall.polyline()).collect();
    let least = wanted.radius + AROUND_MM;
    let free = |at: [f64; 2]| {
        let room = |line: &Vec<[f64; 2]>| {
            if plane::holds(line, at) { plane::distance(line, at) - least } else { f64::NEG_INFINITY }
        };
        let room = lines.iter().map(room).fold(f64::INFINITY, f64::min);
        (room >= 0.0).then_some((at, room))
    };
    let middle = [0, 1].map(|i| (min[i] + max[i]) / 2.0);
    let along = |i: usize, step: f64| {
        (0..=((max[i] - min[i]) / step) as usize).map(move |number| min[i] + number as f64 * step)
    };
    // The middle itself first: it wins where nothing else has more room.
    let cross = std::iter::once(middle)
        .chain(along(0, STEP_MM).map(|x| [x, middle[1]]))
        .chain(along(1, STEP_MM).map(|y| [middle[0], y]));
    let cross: Vec<Place> = cross.filter_map(free).collect();
    chosen(&cross, middle, wanted, off).or_else(|| {
        let step = [0, 1].map(|i| ((max[i] - min[i]) / ACROSS).ceil().max(1.0));
        let all = along(0, step[0]).flat_map(|x| along(1, step[1]).map(move |y| [x, y]));
        chosen(&all.filter_map(free).collect::<Vec<_>>(), middle, wanted, off)
    })
}

/// Of these places one after the other that has most room.
fn chosen(
    free: &[Place],
    middle: [f64; 2],
    wanted: Wanted,
    off: &[([f64; 2], f64)],
) -> Option<Vec<[f64; 2]>> {
    let mut off = off.to_vec();
    let mut found = Vec::with_capacity(wanted.count);
    for _ in 0..wanted.count {
        let room = |(at, wall): &Place| {
            // The first of several with nothing to keep off goes to one side: in the middle it would be in the way.
            if off.is_empty() && wanted.count > 1 {
                return (at[0] - middle[0]).hypot(at[1] - middle[1]);
            }
            let gaps = off.iter().map(|(other, radius)| {
                (at[0] - other[0]).hypot(at[1] - other[1]) - radius - wanted.radius - AROUND_MM
            });
            gaps.fold(*wall, f64::min)
        };
        let mut best: Option<Place> = None;
        for place in free {
            let room = room(place);
            if room >= 0.0 && best.is_none_or(|best| room > best.1) {
                best = Some((place.0, room));
            }
        }
        let (at, _) = best?;
        off.push((at, wanted.radius));
        found.push(at);
    }
    Some(found)
}
