//! The place with the most room in a polygon: the middle of the largest circle that lies within it.
//!
//! Such a circle touches three of the polygon's edges, or of the corners at which it turns the other way. For each three of
//! them the circle is worked out, and the one with the most room all around is taken.
use super::plane::{At, cross, distance, dot, holds, length, minus, pairs, unit};

/// What a circle may touch.
#[derive(Clone, Copy)]
enum Touched {
    /// The line of an edge: inwards, and how far along that it lies.
    Edge(At, f64),
    /// A corner at which the outline turns the other way.
    Corner(At),
}

/// Room within this much of the most is as much, mm.
const AS_MUCH: f64 = 1e-6;

/// Distance of a point from a closed line; below zero outside.
pub(super) fn room(line: &[At], at: At) -> f64 {
    let apart = distance(line, at);
    if holds(line, at) { apart } else { -apart }
}

/// Middle and radius of the largest circle within a closed line given anticlockwise; `None` where that has no inside.
///
/// Where circles as large may stand along a stretch, as between two parallel edges, the middle of the stretch.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn largest_circle(line: &[At]) -> Option<(At, f64)> {
    let touched = touched(line);
    let mut best: (f64, Vec<At>) = (0.0, Vec::new());
    for (i, a) in touched.iter().enumerate() {
        for (j, b) in touched.iter().enumerate().skip(i + 1) {
            for c in touched.iter().skip(j + 1) {
                for at in touching([*a, *b, *c]) {
                    let found = room(line, at);
                    if found > best.0 + AS_MUCH {
                        best = (found, vec![at]);
                    } else if found > best.0 - AS_MUCH && !best.1.is_empty() {
                        best.1.push(at);
                    }
                }
            }
        }
    }
    let first = *best.1.first()?;
    let far = |from: At| {
        let apart = |at: &At| length(minus(*at, from));
        best.1.iter().copied().max_by(|a, b| apart(a).total_cmp(&apart(b))).unwrap_or(from)
    };
    let end = far(first);
    let other = far(end);
    let middle = [0, 1].map(|i| (end[i] + other[i]) / 2.0);
    let found = room(line, middle);
    // Two places with a narrow between them have no middle.
    Some(if found > best.0 - AS_MUCH { (middle, found) } else { (first, best.0) })
}

fn touched(line: &[At]) -> Vec<Touched> {
    let mut all: Vec<Touched> = Vec::with_capacity(line.len() + 2);
    for [from, to] in pairs(line).filter(|[from, to]| length(minus(*to, *from)) > 1e-9) {
        let along = unit(minus(to, from));
        let inwards = [-along[1], along[0]];
        all.push(Touched::Edge(inwards, dot(inwards, from)));
    }
    let count = line.len();
    for (i, at) in line.iter().enumerate() {
        let (before, after) = (line[(i + count - 1) % count], line[(i + 1) % count]);
        if cross(minus(*at, before), minus(after, *at)) < -1e-9 {
            all.push(Touched::Corner(*at));
        }
    }
    all
}

/// Middles of the circles that touch three things.
///
/// An edge gives inwards · p − r = c. Two corners are as far from p, which gives a line without r; what then is left is a
/// quadratic equation in r.
fn touching(three: [Touched; 3]) -> Vec<At> {
    let mut corners = three.iter().filter_map(|it| match it {
        Touched::Corner(at) => Some(*at),
        Touched::Edge(..) => None,
    });
    let first = corners.next();
    // Each a·x + b·y + c·r = d.
    let mut linear: Vec<[f64; 4]> = Vec::with_capacity(3);
    for it in three {
        if let Touched::Edge([x, y], reach) = it {
            linear.push([x, y, -1.0, reach]);
        }
    }
    if let Some(first) = first {
        for other in corners {
            let way = minus(other, first);
            linear.push([way[0], way[1], 0.0, (dot(other, other) - dot(first, first)) / 2.0]);
        }
    }
    match (first, linear.as_slice()) {
        (None, [a, b, c]) => {
            // p = from + along·r of two of them, put into the third; two parallel ones give no p.
            let found = [[a, b, c], [a, c, b], [b, c, a]].into_iter().find_map(|[a, b, c]| {
                let (from, along) = solved(a, b)?;
                let slope = c[0] * along[0] + c[1] * along[1] + c[2];
                let rest = c[3] - c[0] * from[0] - c[1] * from[1];
                (slope.abs() > 1e-9).then(|| at_radius(from, along, rest / slope))
            });
            found.into_iter().collect()
        }
        (Some(corner), [a, b]) => {
            let Some((from, along)) = solved(a, b) else { return Vec::new() };
            // |from + along·r − corner|² = r².
            let off = minus(from, corner);
            let (square, half, rest) = (dot(along, along) - 1.0, dot(along, off), dot(off, off));
            if square.abs() < 1e-12 {
                let radius = -rest / (2.0 * half);
                return if radius.is_finite() { vec![at_radius(from, along, radius)] } else { Vec::new() };
            }
            let root = half * half - square * rest;
            if root < 0.0 {
                return Vec::new();
            }
            [1.0, -1.0].map(|sign| at_radius(from, along, (sign * root.sqrt() - half) / square)).to_vec()
        }
        _ => Vec::new(),
    }
}

fn at_radius(from: At, along: At, radius: f64) -> At {
    [from[0] + along[0] * radius, from[1] + along[1] * radius]
}

/// p as from + along·r by two equations; `None` where their lines are parallel.
fn solved(a: &[f64; 4], b: &[f64; 4]) -> Option<(At, At)> {
    let whole = a[0] * b[1] - a[1] * b[0];
    if whole.abs() < 1e-9 {
        return None;
    }
    let by = |p: f64, q: f64| [(p * b[1] - a[1] * q) / whole, (a[0] * q - p * b[0]) / whole];
    Some((by(a[3], b[3]), by(-a[2], -b[2])))
}
