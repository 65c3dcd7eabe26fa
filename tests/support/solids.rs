//! Whether a point lies in a body, worked out from the body's own numbers and from nothing else in the model.
use kerf_and_coil::model::geometry::{Axis, End, Solid};

/// Whether a point lies in a body by more than `deep` millimetres, as far as its faces along the axes go.
///
/// Order of coordinates: depth, width, height, in millimetres.
pub fn holds(solid: &Solid, point: [f64; 3], deep: f64) -> bool {
    let between = |x: f64, low: f64, high: f64| x > low + deep && x < high - deep;
    let in_box = |min: [f64; 3], size: [f64; 3]| (0..3).all(|i| between(point[i], min[i], min[i] + size[i]));
    match *solid {
        Solid::Block { min, size } => in_box(min.millimetres(), size.millimetres()),
        Solid::RoundedBlock { min, size, through, corner_radius } => {
            let (min, size) = (min.millimetres(), size.millimetres());
            let [a, b] = through.others().map(Axis::index);
            in_box(min, size)
                && in_rounded(
                    [point[a] - min[a] - size[a] / 2.0, point[b] - min[b] - size[b] / 2.0],
                    [size[a] / 2.0, size[b] / 2.0],
                    corner_radius.millimetres(),
                    deep,
                )
        }
        Solid::Round { base, along, length, from, to } => {
            let (base, length) = (base.millimetres(), length.millimetres());
            let up = point[along.index()] - base[along.index()];
            let [a, b] = along.others().map(Axis::index);
            let away = (point[a] - base[a]).hypot(point[b] - base[b]);
            let radius = (from.millimetres() + (to.millimetres() - from.millimetres()) * up / length) / 2.0;
            between(up, 0.0, length) && away < radius - deep
        }
        Solid::Tube { base, along, length, outer, inner } => {
            let base = base.millimetres();
            let up = point[along.index()] - base[along.index()];
            let [a, b] = along.others().map(Axis::index);
            let away = (point[a] - base[a]).hypot(point[b] - base[b]);
            between(up, 0.0, length.millimetres())
                && between(away, inner.millimetres() / 2.0, outer.millimetres() / 2.0)
        }
        Solid::CornerPrism { edge, start, length, face } => {
            let start = start.millimetres();
            let along = edge.along.index();
            // Distances from the two walls of the edge, into the box.
            let from_walls: Vec<f64> = edge
                .along
                .others()
                .into_iter()
                .map(|axis| {
                    let away = point[axis.index()] - start[axis.index()];
                    if edge.end(axis) == Some(End::High) { -away } else { away }
                })
                .collect();
            between(point[along], start[along], start[along] + length.millimetres())
                && from_walls.iter().all(|away| *away > deep)
                && (face.millimetres() - (from_walls[0] + from_walls[1]) * 2f64.sqrt()) / 2.0 > deep
        }
        // Five planes, each looking away from the corners it does not hold.
        Solid::Wedge { corners } => {
            let minus = |a: [f64; 3], b: [f64; 3]| [0, 1, 2].map(|i| a[i] - b[i]);
            let dot = |a: [f64; 3], b: [f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
            let middle = [0, 1, 2].map(|i| corners.iter().map(|at| at[i]).sum::<f64>() / 6.0);
            [[0, 1, 2], [3, 4, 5], [0, 1, 3], [0, 2, 3], [1, 2, 4]].into_iter().all(|plane| {
                let [a, b, c] = plane.map(|i| corners[i]);
                let (u, v) = (minus(b, a), minus(c, a));
                let normal =
                    [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
                let long = dot(normal, normal).sqrt();
                let side = dot(normal, minus(middle, a)).signum();
                dot(normal, minus(point, a)) * side / long > deep
            })
        }
        Solid::Frame { min, size, through, window } => {
            let (min, size) = (min.millimetres(), size.millimetres());
            let [a, b] = through.others().map(Axis::index);
            let centre = [point[a] - min[a] - size[a] / 2.0, point[b] - min[b] - size[b] / 2.0];
            let half = [window.across.millimetres() / 2.0, window.up.millimetres() / 2.0];
            in_box(min, size) && !in_rounded(centre, half, window.corner_radius.millimetres(), -deep)
        }
        Solid::Arch { min, size, corner_radius } => {
            let (min, size, r) = (min.millimetres(), size.millimetres(), corner_radius.millimetres());
            let (deep_end, low, high) = (min[0] + size[0] - r, min[2] + r, min[2] + size[2] - r);
            let beyond = |h: f64| (point[0] - deep_end).hypot(point[2] - h) > r - deep;
            let corner =
                point[0] > deep_end && ((point[2] < low && beyond(low)) || (point[2] > high && beyond(high)));
            in_box(min, size) && !corner
        }
        Solid::Prism { section, from, width, opening } => {
            let corners = section.corners();
            let edges = || corners.iter().zip(corners.iter().cycle().skip(1));
            let at = [point[0], point[2]];
            let crossed = edges().filter(|(a, b)| {
                (a[0] <= at[0]) != (b[0] <= at[0])
                    && a[1] + (at[0] - a[0]) / (b[0] - a[0]) * (b[1] - a[1]) > at[1]
            });
            let inside = crossed.count() % 2 == 1;
            let near = edges().any(|(a, b)| {
                let (edge, off) = ([b[0] - a[0], b[1] - a[1]], [at[0] - a[0], at[1] - a[1]]);
                let long = edge[0].hypot(edge[1]).max(1e-9);
                let along = (off[0] * edge[0] + off[1] * edge[1]) / long;
                let across = (off[0] * edge[1] - off[1] * edge[0]).abs() / long;
                (0.0..=long).contains(&along) && across <= deep.abs()
            });
            let window = opening.is_some_and(|opening| {
                let half = [opening.window.across, opening.window.up].map(|side| side.millimetres() / 2.0);
                let centre = [at[0] - opening.middle[0], at[1] - opening.middle[1]];
                in_rounded(centre, half, opening.window.corner_radius.millimetres(), -deep)
            });
            let left = from.millimetres();
            between(point[1], left, left + width.millimetres())
                && if deep < 0.0 { inside || near } else { inside && !near }
                && !window
        }
    }
}

/// Within a rectangle with rounded corners around the origin.
fn in_rounded(at: [f64; 2], half: [f64; 2], radius: f64, deep: f64) -> bool {
    let [x, y] = at.map(f64::abs);
    let (over_x, over_y) = (x - (half[0] - radius), y - (half[1] - radius));
    let corner = over_x > 0.0 && over_y > 0.0 && over_x.hypot(over_y) > radius - deep;
    x < half[0] - deep && y < half[1] - deep && !corner
}
