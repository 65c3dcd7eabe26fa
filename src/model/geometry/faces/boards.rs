//! Boards: a block less every hole that reaches into it, layer by layer.
use super::{Corner, Polyhedron, circle, rounded};
use crate::model::geometry::End;
use crate::model::geometry::assembly::{Assembly, Body, BodyKind, Role};
use crate::model::geometry::axes::Axis;
use crate::model::geometry::ledger::corner_is_wood;
use crate::model::geometry::outline::thick;
use crate::model::geometry::solids::Solid;
use crate::model::geometry::strips;

/// A hole: its ring, and from where to where it goes along the board's thickness.
pub(super) struct Hole {
    pub(super) ring: Vec<Corner>,
    pub(super) reach: [f64; 2],
    /// Whether it is a rectangle, which may lie at the board's edge.
    square: bool,
}

/// Nearer to an edge than this a rectangle opens it.
const AT_EDGE: f64 = 1e-3;

pub(super) fn add(made: &mut Polyhedron, assembly: &Assembly, body: &Body, is_shell: bool) {
    let bounds = body.solid.bounds();
    let thick = thick(made.piece, body.solid);
    let [a, b] = thick.others().map(Axis::index);
    let (min, max) = ([bounds.min[a], bounds.min[b]], [bounds.max[a], bounds.max[b]]);
    let (low, high) = (bounds.min[thick.index()], bounds.max[thick.index()]);
    let mut holes: Vec<Hole> = Vec::new();
    if is_shell {
        holes = holes_in(assembly, body, thick, [min, max], [low, high]);
    }
    let mut outline = rectangle(min, max);
    if let Solid::Frame { window, .. } = body.solid {
        let centre = [0, 1].map(|i| (min[i] + max[i]) / 2.0);
        let half = [window.across, window.up].map(|side| side.millimetres() / 2.0);
        if half[0] > 0.0 {
            let ring = rounded(centre, half, window.corner_radius.millimetres());
            holes.push(Hole { ring, reach: [low, high], square: false });
        }
        outline = notched(assembly, body, thick, min, max);
    }
    // Planes between which nothing changes.
    let mut planes = vec![low, high];
    planes.extend(holes.iter().flat_map(|hole| hole.reach).filter(|at| *at > low && *at < high));
    planes.sort_unstable_by(f64::total_cmp);
    planes.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    for pair in planes.windows(2) {
        let here: Vec<&Hole> =
            holes.iter().filter(|hole| hole.reach[0] <= pair[0] && hole.reach[1] >= pair[1]).collect();
        let rims = [pair[0] <= low, pair[1] >= high];
        for rings in opened(&outline, &here, min, max) {
            made.add_prism(thick, &rings, [pair[0], pair[1]], rims);
        }
    }
}

fn rectangle(min: [f64; 2], max: [f64; 2]) -> Vec<Corner> {
    [[min[0], min[1]], [max[0], min[1]], [max[0], max[1]], [min[0], max[1]]].map(|at| (at, false)).to_vec()
}

/// The holes in a board that lies between `low` and `high` of its thickness: of what is turned as it is.
pub(super) fn holes_in(
    assembly: &Assembly,
    body: &Body,
    thick: Axis,
    around: [[f64; 2]; 2],
    ends: [f64; 2],
) -> Vec<Hole> {
    let cuts = assembly.bodies.iter().filter(|cut| matches!(cut.role, Role::Cut | Role::GainedAir));
    cuts.filter(|cut| cut.turn == body.turn).filter_map(|cut| hole(cut, thick, around, ends)).collect()
}

/// The hole a body makes in a board that lies between `low` and `high`, if any.
fn hole(cut: &Body, thick: Axis, [min, max]: [[f64; 2]; 2], [low, high]: [f64; 2]) -> Option<Hole> {
    let bounds = cut.solid.bounds();
    let [a, b] = thick.others().map(Axis::index);
    let reach = [bounds.min[thick.index()].max(low), bounds.max[thick.index()].min(high)];
    let sides = [[bounds.min[a], bounds.max[a]], [bounds.min[b], bounds.max[b]]];
    let meets = (0..2).all(|i| sides[i][1] > min[i] + AT_EDGE && sides[i][0] < max[i] - AT_EDGE);
    if reach[1] - reach[0] <= 1e-9 || !meets {
        return None;
    }
    let centre = sides.map(|[from, to]| (from + to) / 2.0);
    let half = sides.map(|[from, to]| (to - from) / 2.0);
    let hole = |ring, square| Some(Hole { ring, reach, square });
    match cut.solid {
        Solid::Round { along, from, .. } if along == thick => {
            hole(circle(centre, from.millimetres() / 2.0), false)
        }
        Solid::RoundedBlock { through, corner_radius, .. } if through == thick => {
            hole(rounded(centre, half, corner_radius.millimetres()), false)
        }
        Solid::Arch { corner_radius, .. } if thick == Axis::Width => {
            hole(arch(sides, corner_radius.millimetres()), true)
        }
        // A port's mouth: cut to the board, whose edge it may lie on.
        Solid::Block { .. } if matches!(cut.kind, BodyKind::PortMouth(_)) && thick == Axis::Depth => {
            let inner = [0, 1].map(|i| [sides[i][0].max(min[i]), sides[i][1].min(max[i])]);
            hole(rectangle([inner[0][0], inner[1][0]], [inner[0][1], inner[1][1]]), true)
        }
        _ => None,
    }
}

/// A leg's window, open at the low end of the depth: from there anticlockwise, as seen with depth across, height up.
fn arch([depth, height]: [[f64; 2]; 2], radius: f64) -> Vec<Corner> {
    let centre = [(depth[0] + depth[1]) / 2.0, (height[0] + height[1]) / 2.0];
    let half = [(depth[1] - depth[0]) / 2.0, (height[1] - height[0]) / 2.0];
    let whole = rounded(centre, half, radius);
    // Square where it is open.
    let mut ring = vec![([depth[0], height[0]], false)];
    ring.extend(whole.into_iter().filter(|(at, _)| at[0] > centre[0]));
    ring.push(([depth[0], height[1]], false));
    ring
}

/// The outline with its holes; where a rectangle lies at its edge the outline runs around it, and may fall in two.
fn opened(outline: &[Corner], holes: &[&Hole], min: [f64; 2], max: [f64; 2]) -> Vec<Vec<Vec<Corner>>> {
    let mut parts = vec![outline.to_vec()];
    let mut inner = Vec::new();
    for hole in holes {
        let at = |i: usize, side: f64| hole.ring.iter().any(|(corner, _)| (corner[i] - side).abs() < AT_EDGE);
        let touches = [at(0, min[0]), at(1, min[1]), at(0, max[0]), at(1, max[1])];
        if !hole.square || touches == [false; 4] {
            inner.push(hole.ring.clone());
        } else {
            parts = without(&hole.ring, touches, min, max);
        }
    }
    let within = |part: &[Corner], ring: &[Corner]| {
        let span = |points: &[Corner], i: usize| {
            let low = points.iter().map(|(at, _)| at[i]).fold(f64::INFINITY, f64::min);
            (low, points.iter().map(|(at, _)| at[i]).fold(f64::NEG_INFINITY, f64::max))
        };
        (0..2).all(|i| span(ring, i).0 >= span(part, i).0 && span(ring, i).1 <= span(part, i).1)
    };
    let with_holes = parts.into_iter().map(|part| {
        let own = inner.iter().filter(|ring| within(&part, ring)).cloned();
        [part.clone()].into_iter().chain(own).collect()
    });
    with_holes.collect()
}

/// A rectangle less a hole that lies at its edges; `touches`: low across, low up, high across, high up.
fn without(ring: &[Corner], touches: [bool; 4], min: [f64; 2], max: [f64; 2]) -> Vec<Vec<Corner>> {
    let low = [0, 1].map(|i| ring.iter().map(|(at, _)| at[i]).fold(f64::INFINITY, f64::min));
    let high = [0, 1].map(|i| ring.iter().map(|(at, _)| at[i]).fold(f64::NEG_INFINITY, f64::max));
    let mut parts = Vec::new();
    let mut keep = |from: [f64; 2], to: [f64; 2]| {
        if to[0] - from[0] > AT_EDGE && to[1] - from[1] > AT_EDGE {
            parts.push(rectangle(from, to));
        }
    };
    match touches {
        [true, _, true, _] => {
            keep(min, [max[0], low[1]]);
            keep([min[0], high[1]], max);
        }
        [_, true, _, true] => {
            keep(min, [low[0], max[1]]);
            keep([high[0], min[1]], max);
        }
        // At one edge across: from the board's corner up to the hole, around it, and on.
        [left, false, right, false] if left || right => {
            let (open, far) = if left { (min[0], max[0]) } else { (max[0], min[0]) };
            let mut way: Vec<Corner> = ring.to_vec();
            if way.iter().all(|(_, fold)| !fold) {
                let deep = if left { high[0] } else { low[0] };
                way = [[open, low[1]], [deep, low[1]], [deep, high[1]], [open, high[1]]]
                    .map(|at| (at, false))
                    .to_vec();
            }
            let mut all = vec![([far, max[1]], false), ([far, min[1]], false), ([open, min[1]], false)];
            all.extend(way);
            all.push(([open, max[1]], false));
            parts.push(all);
        }
        [false, bottom, false, _] => {
            let (open, far) = if bottom { (min[1], max[1]) } else { (max[1], min[1]) };
            let deep = if bottom { high[1] } else { low[1] };
            let way = [
                [max[0], far],
                [min[0], far],
                [min[0], open],
                [low[0], open],
                [low[0], deep],
                [high[0], deep],
                [high[0], open],
                [max[0], open],
            ];
            parts.push(way.map(|at| (at, false)).to_vec());
        }
        // In a corner.
        [left, bottom, ..] => {
            let (x, far_x) = if left { (min[0], max[0]) } else { (max[0], min[0]) };
            let (y, far_y) = if bottom { (min[1], max[1]) } else { (max[1], min[1]) };
            let (deep_x, deep_y) =
                (if left { high[0] } else { low[0] }, if bottom { high[1] } else { low[1] });
            let way = [[far_x, far_y], [x, far_y], [x, deep_y], [deep_x, deep_y], [deep_x, y], [far_x, y]];
            parts.push(way.map(|at| (at, false)).to_vec());
        }
    }
    parts
}

/// A brace's outline: its corners are cut off where strips run through.
fn notched(assembly: &Assembly, brace: &Body, thick: Axis, min: [f64; 2], max: [f64; 2]) -> Vec<Corner> {
    let axes = thick.others();
    let leg_at = |ends: [End; 2]| {
        let found = assembly.bodies.iter().find_map(|body| match (body.kind, body.solid) {
            (BodyKind::Strip(_), Solid::CornerPrism { edge, face, .. }) if edge.along == thick => {
                let here = edge.end(axes[0]) == Some(ends[0]) && edge.end(axes[1]) == Some(ends[1]);
                (here && corner_is_wood(assembly, brace, edge, face)).then(|| strips::leg_mm(face))
            }
            _ => None,
        });
        found.unwrap_or(0.0)
    };
    use End::{High, Low};
    let mut all = Vec::with_capacity(8);
    for ([x, y], ends, first) in [
        ([min[0], min[1]], [Low, Low], 1),
        ([max[0], min[1]], [High, Low], 0),
        ([max[0], max[1]], [High, High], 1),
        ([min[0], max[1]], [Low, High], 0),
    ] {
        let leg = leg_at(ends);
        let inward = [if ends[0] == Low { leg } else { -leg }, if ends[1] == Low { leg } else { -leg }];
        if leg > 0.0 {
            // Anticlockwise: the point on the edge one comes along first.
            let points = [[x + inward[0], y], [x, y + inward[1]]];
            all.extend([points[first], points[1 - first]].map(|at| (at, false)));
        } else {
            all.push(([x, y], false));
        }
    }
    all
}
