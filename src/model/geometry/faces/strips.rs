//! Corner strips: a board's section across an inside edge, with mitred ends where strips meet.
use super::{At3, Drawn, Edge, Face, Polyhedron};
use crate::model::geometry::assembly::{Assembly, Body, BodyKind};
use crate::model::geometry::axes::{Axis, End, InsideEdge};
use crate::model::geometry::solids::Solid;
use crate::model::geometry::strips::leg_mm;

/// A strip that ends nearer to the corner than this runs right into it.
const INTO_CORNER: f64 = 3.5;

pub(super) fn add(made: &mut Polyhedron, assembly: &Assembly, body: &Body) {
    let Solid::CornerPrism { edge, start, length, face } = body.solid else { return };
    let leg = leg_mm(face);
    // One board's thickness within the wide face.
    let rest = (leg - assembly.strips.millimetres() * std::f64::consts::SQRT_2).max(0.0);
    // Distances from the two walls, once around; the corners in the middle of the faces are where two mitres meet.
    let mut section = vec![[leg, 0.0], [leg / 2.0, leg / 2.0], [0.0, leg]];
    if rest > 0.0 {
        section.extend([[0.0, rest], [rest / 2.0, rest / 2.0], [rest, 0.0]]);
    } else {
        section.push([0.0, 0.0]);
    }
    let (start, length) = (start.millimetres(), length.millimetres());
    let along = edge.along.index();
    let ends = [End::Low, End::High].map(|end| mitres(assembly, body, edge, end));
    let at = |[x, y]: [f64; 2], end: usize| -> At3 {
        let mut point = start;
        for (axis, away) in edge.along.others().into_iter().zip([x, y]) {
            point[axis.index()] += if edge.end(axis) == Some(End::High) { -away } else { away };
        }
        let cut = [x, y].into_iter().zip(ends[end]).filter(|(_, mitred)| *mitred).map(|(away, _)| away);
        let cut = cut.fold(0.0, f64::max);
        point[along] += if end == 0 { cut } else { length - cut };
        point
    };
    let middle = mean(&section.iter().flat_map(|s| [at(*s, 0), at(*s, 1)]).collect::<Vec<_>>());
    let count = section.len();
    for (i, from) in section.iter().enumerate() {
        let to = section[(i + 1) % count];
        push(made, vec![at(*from, 0), at(to, 0), at(to, 1), at(*from, 1)], middle);
    }
    // The end on either side of the middle; one plane unless two mitres meet there.
    let halves: [Vec<usize>; 2] =
        if rest > 0.0 { [vec![0, 1, 4, 5], vec![1, 2, 3, 4]] } else { [vec![0, 1, 3], vec![1, 2, 3]] };
    let mut caps = [[0; 2]; 2];
    for (end, cap) in caps.iter_mut().enumerate() {
        for (face, corners) in cap.iter_mut().zip(&halves) {
            *face = made.faces.len();
            push(made, corners.iter().map(|&i| at(section[i], end)).collect(), middle);
        }
    }
    for i in 0..count {
        let next = (i + 1) % count;
        let is_middle = i == 1 || (rest > 0.0 && i == 4);
        let drawn = if is_middle { Drawn::Never } else { Drawn::Always };
        made.edges.push(Edge {
            ends: [at(section[i], 0), at(section[i], 1)],
            faces: [(i + count - 1) % count, i],
            drawn,
        });
        for (end, cap) in caps.iter().enumerate() {
            let half = usize::from(!(halves[0].contains(&i) && halves[0].contains(&next)));
            let faces = [i, cap[half]];
            made.edges.push(Edge {
                ends: [at(section[i], end), at(section[next], end)],
                faces,
                drawn: Drawn::Always,
            });
        }
    }
    let far = if rest > 0.0 { 4 } else { 3 };
    for (end, cap) in caps.iter().enumerate() {
        if ends[end] == [true; 2] {
            let ends = [at(section[1], end), at(section[far], end)];
            made.edges.push(Edge { ends, faces: *cap, drawn: Drawn::Always });
        }
    }
}

/// Whether the strip's end is mitred against a strip along the first, and along the second, of its walls' axes.
fn mitres(assembly: &Assembly, body: &Body, edge: InsideEdge, end: End) -> [bool; 2] {
    let bounds = body.solid.bounds();
    let i = edge.along.index();
    let low = assembly.inside_min.millimetres()[i];
    let from_corner = match end {
        End::Low => bounds.min[i] - low,
        End::High => low + assembly.inside.millimetres()[i] - bounds.max[i],
    };
    if from_corner > INTO_CORNER {
        return [false; 2];
    }
    let [first, second] = edge.along.others();
    // A strip along one wall's axis lies on the other wall, at this end.
    [(first, second), (second, first)].map(|(along, wall): (Axis, Axis)| {
        assembly.bodies.iter().any(|other| match other.kind {
            BodyKind::Strip(other) => {
                other.along == along
                    && other.end(wall) == edge.end(wall)
                    && other.end(edge.along) == Some(end)
            }
            _ => false,
        })
    })
}

fn mean(points: &[At3]) -> At3 {
    let count = points.len().max(1) as f64;
    [0, 1, 2].map(|i| points.iter().map(|point| point[i]).sum::<f64>() / count)
}

/// Adds a face that looks away from the middle.
fn push(made: &mut Polyhedron, ring: Vec<At3>, middle: At3) {
    // Newell's sum: the area vector of a flat ring.
    let mut normal = [0.0; 3];
    for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
        for (i, sum) in normal.iter_mut().enumerate() {
            let (j, k) = ((i + 1) % 3, (i + 2) % 3);
            *sum += a[j] * b[k] - a[k] * b[j];
        }
    }
    let long = normal.iter().map(|x| x * x).sum::<f64>().sqrt().max(1e-12);
    let centre = mean(&ring);
    let outward: f64 = (0..3).map(|i| normal[i] * (centre[i] - middle[i])).sum();
    let sign = if outward < 0.0 { -1.0 } else { 1.0 };
    made.faces.push(Face { rings: vec![ring], normal: normal.map(|x| sign * x / long) });
}
