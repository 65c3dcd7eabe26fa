//! The box cut level and seen from above, from the pieces themselves: the front below, left at the left.
use std::fmt::Write;

use super::drawing::hatch_within;
use crate::model::geometry::faces::{At3, Face, Polyhedron, polyhedra};
use crate::model::geometry::plane::hull;
use crate::model::geometry::{Assembly, Axis, Body, BodyKind, PartId, Solid};
use crate::units::ExactLength;

/// A point in the cut: width, depth in millimetres.
pub type At = [f64; 2];
/// An edge of cut wood.
type Segment = [At; 2];

/// The cut as paths, and what lies in it along two lines.
#[derive(Clone, Debug, PartialEq)]
pub struct LevelCut {
    /// Height of the cut above the bottom.
    pub height: ExactLength,
    /// Width and height of the picture.
    pub size: [f64; 2],
    /// Outlines of cut wood.
    pub wood: String,
    /// Hatching of cut wood.
    pub hatch: String,
    /// What lies elsewhere: drivers, and pieces that are not cut.
    pub hidden: String,
    /// Wood and air in turn from the left to the right, where the line crosses most air.
    pub across: Vec<Stretch>,
    /// How far behind the front's lower edge that is.
    pub behind: ExactLength,
    /// The same from the front to the back, at or near the first driver.
    pub along: Vec<Stretch>,
    /// How far from the left that is.
    pub from_left: ExactLength,
}

/// A stretch of a line through the cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Whether it is wood.
    pub is_wood: bool,
    /// How long.
    pub length: ExactLength,
}

/// Width of the picture in its own units.
const WIDTH: f64 = 320.0;
/// Distance of hatch lines in the picture's units.
const HATCH: f64 = 6.0;
/// A shorter stretch of a line is none: pieces that touch, in millimetres.
const SHORTEST: f64 = 0.05;

/// Cuts a box at the height of its first driver that does not look up or down, else of its first tube, else half way up.
#[must_use]
pub fn level_cut(assembly: &Assembly) -> LevelCut {
    let [deep, wide, high] = assembly.outside.millimetres();
    let middle = |body: &Body, axis: Axis| {
        let (bounds, i) = (body.bounds(), axis.index());
        (bounds.min[i] + bounds.max[i]) / 2.0
    };
    let upright = |body: &&Body| !matches!(body.solid, Solid::Round { along: Axis::Height, .. });
    let hole =
        assembly.bodies.iter().filter(upright).find(|body| matches!(body.kind, BodyKind::DriverHole(_)));
    let mouth = || assembly.bodies.iter().find(|body| matches!(body.solid, Solid::Tube { .. }));
    let height = hole.or_else(mouth).map_or(high / 2.0, |body| middle(body, Axis::Height));
    let straight = hole.filter(|hole| matches!(hole.solid, Solid::Round { along: Axis::Depth, .. }));
    let line = straight.map_or(wide / 2.0, |hole| middle(hole, Axis::Width));

    let pieces = polyhedra(assembly);
    let scale = WIDTH / wide.max(1.0);
    let lowest = pieces.iter().flat_map(points).map(|at| at[0]).fold(0.0, f64::min);
    let paper = |[x, y]: At| [x * scale, (deep - y) * scale];
    let (mut wood, mut hatch, mut hidden) = (String::new(), String::new(), String::new());
    let mut cuts = Vec::new();
    for piece in &pieces {
        let cut = cut(piece, height);
        if cut.is_empty() {
            let below = points(piece).all(|at| at[2] <= height);
            let outer = points(piece).any(|at| at[2] <= 0.01 || at[2] >= high - 0.01);
            if below && !outer {
                outline(
                    &mut hidden,
                    &hull(&points(piece).map(|at| [at[1], at[0]]).collect::<Vec<_>>()),
                    paper,
                );
            }
            continue;
        }
        for [from, to] in &cut {
            stroke(&mut wood, paper(*from), paper(*to));
        }
        hatch.push_str(&hatch_within(&cut.iter().map(|ends| ends.map(paper)).collect::<Vec<_>>(), HATCH));
        cuts.push((matches!(piece.piece, PartId::Strip(_)), cut));
    }
    for body in &assembly.bodies {
        if matches!(body.kind, BodyKind::Driver(_) | BodyKind::Radiator(_)) {
            outline(&mut hidden, &seen(body), paper);
        }
    }
    let (behind, across) = fullest(&cuts, 1, deep, deep / 2.0);
    let (from_left, along) = fullest(&cuts, 0, wide, line);
    LevelCut {
        height: ExactLength::from_millimetres(height),
        size: [WIDTH, (deep - lowest) * scale],
        wood,
        hatch,
        hidden,
        across,
        behind: ExactLength::from_millimetres(behind),
        along,
        from_left: ExactLength::from_millimetres(from_left),
    }
}

/// Of lines every twelfth of the way through the box, the nearest to `wish` first, that which crosses most stretches of air,
/// and most air in them: a brace's window would hide the brace. Corner strips, marked so, don't count there.
fn fullest(cuts: &[(bool, Vec<Segment>)], fixed: usize, wide: f64, wish: f64) -> (f64, Vec<Stretch>) {
    let met = |at: f64, strips: bool| {
        let here = cuts.iter().filter(move |(strip, _)| strips || !strip);
        in_turn(here.flat_map(move |(_, cut)| crossings(cut, fixed, at)).collect())
    };
    let air = |at: f64| {
        let stretches = met(at, false);
        let airs = stretches.iter().filter(|stretch| !stretch.is_wood);
        let far: f64 = airs.clone().map(|stretch| stretch.length.millimetres()).sum();
        (airs.count(), far.round() as u32)
    };
    let mut lines: Vec<f64> = (2..=10).map(|twelfths| wide * f64::from(twelfths) / 12.0).collect();
    lines.push(wish);
    crate::small::sort_by(&mut lines, |a, b| (a - wish).abs().total_cmp(&(b - wish).abs()));
    let most = lines.iter().map(|at| air(*at)).max();
    let line = lines.into_iter().find(|at| Some(air(*at)) == most).unwrap_or(wish);
    (line, met(line, true))
}

fn points(piece: &Polyhedron) -> impl Iterator<Item = At3> + '_ {
    piece.faces.iter().flat_map(|face| face.rings.iter().flatten().copied())
}

/// The outline of what a level plane takes of a piece.
fn cut(piece: &Polyhedron, height: f64) -> Vec<Segment> {
    let mut slanted = Vec::new();
    // By the axis they run along and how far they lie from the other, in tenths of a micrometre.
    let mut straight: Vec<((usize, i64), [f64; 2])> = Vec::new();
    for [from, to] in piece.faces.iter().flat_map(|face| across_face(face, height)) {
        let along = (0..2).find(|&i| (from[1 - i] - to[1 - i]).abs() < 1e-6);
        match along {
            Some(i) => straight.push(((i, (from[1 - i] * 1e4).round() as i64), [from[i], to[i]])),
            None => slanted.push([from, to]),
        }
    }
    straight.sort_unstable_by_key(|(line, _)| *line);
    // Layers of a piece touch: what two of them have in common is inside the wood.
    for line in straight.chunk_by(|a, b| a.0 == b.0) {
        let Some(((i, off), _)) = line.first() else { continue };
        let mut ends: Vec<f64> = line.iter().flat_map(|(_, ends)| *ends).collect();
        crate::small::sort_by(&mut ends, f64::total_cmp);
        for pair in ends.chunks_exact(2).filter(|pair| pair[1] - pair[0] > 1e-6) {
            let off = *off as f64 / 1e4;
            slanted.push([pair[0], pair[1]].map(|at| if *i == 0 { [at, off] } else { [off, at] }));
        }
    }
    slanted
}

/// Where a level plane crosses a face, in pairs: between them is face, beyond them none.
fn across_face(face: &Face, height: f64) -> Vec<Segment> {
    let mut found: Vec<At> = Vec::new();
    for ring in &face.rings {
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            if (a[2] <= height) != (b[2] <= height) {
                // From below, so that two faces find the same point on the edge they share.
                let (low, high) = if a[2] < b[2] { (a, b) } else { (b, a) };
                let share = (height - low[2]) / (high[2] - low[2]);
                found.push([1, 0].map(|i| low[i] + (high[i] - low[i]) * share));
            }
        }
    }
    // Along the line both planes have in common.
    let [toward, beside, _] = face.normal;
    let far = |at: &At| at[0] * toward - at[1] * beside;
    crate::small::sort_by(&mut found, |a, b| far(a).total_cmp(&far(b)));
    found.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect()
}

/// Where a line crosses cut wood: that on which coordinate `fixed` has this value; pairs of the other coordinate.
fn crossings(cut: &[Segment], fixed: usize, value: f64) -> Vec<[f64; 2]> {
    let mut found: Vec<f64> = Vec::new();
    for [from, to] in cut {
        if (from[fixed] <= value) != (to[fixed] <= value) {
            let share = (value - from[fixed]) / (to[fixed] - from[fixed]);
            found.push(from[1 - fixed] + (to[1 - fixed] - from[1 - fixed]) * share);
        }
    }
    crate::small::sort_by(&mut found, f64::total_cmp);
    found.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect()
}

/// Wood and air in turn along a line; boards that touch stay apart.
fn in_turn(mut wood: Vec<[f64; 2]>) -> Vec<Stretch> {
    crate::small::sort_by(&mut wood, |a, b| a[0].total_cmp(&b[0]));
    let mut turns = Vec::new();
    let mut reached = wood.first().map_or(0.0, |first| first[0]);
    let mut add = |is_wood, long: f64| {
        if long > SHORTEST {
            turns.push(Stretch { is_wood, length: ExactLength::from_millimetres(long) });
        }
    };
    for [from, to] in wood {
        add(false, from - reached);
        add(true, to - from);
        reached = to.max(reached);
    }
    turns
}

/// What one sees of a driver's body from above.
fn seen(body: &Body) -> Vec<At> {
    let Solid::Round { base, along, length, from, to } = body.solid else { return Vec::new() };
    let [depth, width, height] = base.millimetres();
    let (long, [r, s]) = (length.millimetres(), [from, to].map(|across| across.millimetres() / 2.0));
    let corners: Vec<At3> = match along {
        Axis::Depth => [(0.0, -r), (0.0, r), (long, s), (long, -s)]
            .map(|(on, aside)| [depth + on, width + aside, height])
            .to_vec(),
        Axis::Width => [(0.0, -r), (0.0, r), (long, s), (long, -s)]
            .map(|(on, aside)| [depth + aside, width + on, height])
            .to_vec(),
        Axis::Height => (0..48)
            .map(|corner| (f64::from(corner) / 48.0 * std::f64::consts::TAU).sin_cos())
            .map(|(sin, cos)| [depth + r.max(s) * sin, width + r.max(s) * cos, height])
            .collect(),
    };
    let place = |at: At3| body.turn.map_or(at, |turn| turn.place(at));
    corners.into_iter().map(|corner| [place(corner)[1], place(corner)[0]]).collect()
}

fn stroke(path: &mut String, from: At, to: At) {
    // Writing to a String cannot fail.
    let _ = write!(path, "M{:.1} {:.1}L{:.1} {:.1}", from[0], from[1], to[0], to[1]);
}

fn outline(path: &mut String, corners: &[At], paper: impl Fn(At) -> At) {
    for (from, to) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        stroke(path, paper(*from), paper(*to));
    }
}
