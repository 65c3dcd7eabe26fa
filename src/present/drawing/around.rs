//! Around and on the box: what is kept free in its space and where that ends, and the rounded mouths of its ports.
use crate::model::geometry::assembly::FRONT_TUBES;
use crate::model::geometry::space::{KeepOut, KeepOutKind, Prism};
use crate::model::geometry::{Assembly, Axis, Body, BodyKind, BoxSpec, Solid};
use crate::present::space::outline;
use crate::units::ExactLength;

use super::marks::View;
use super::views::section_plane;
use super::{At, Sheet, sheet};

/// What is near the box, in both views.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Around {
    /// Areas kept free, to be hatched.
    pub areas: Vec<Vec<At>>,
    /// Their edges.
    pub kept: Vec<[At; 2]>,
    /// Where the space ends.
    pub ends: Vec<[At; 2]>,
    /// What is kept free there, each once.
    pub kinds: Vec<KeepOutKind>,
}

/// How far around a view it is drawn, in sheet units: left, above, right, below, clear of the texts there.
const REACH: [f64; 4] = [6.0, 4.0, 6.0, 7.0];

/// What is kept free near the box and where its space ends, both where the box stands: its front left bottom corner at
/// the origin.
#[must_use]
pub fn around(
    spec: &BoxSpec,
    assembly: &Assembly,
    drawn: &Sheet<'_>,
    keep_outs: &[KeepOut],
    space: &Prism,
) -> Around {
    let layout = sheet::lay_out(assembly, drawn, &sheet::dimensions(spec, assembly, drawn.label));
    let outside = assembly.outside.millimetres();
    let mut found = Around::default();
    for (view, seen_along, axes) in
        [(layout.front, Axis::Depth, [1, 2]), (layout.section, Axis::Width, [0, 2])]
    {
        let place = |at: [f64; 3]| view.point(axes.map(|axis: usize| at[axis]));
        let [low, high] = [view.point([0.0; 2]), view.point(axes.map(|axis| outside[axis]))];
        let frame = [[low[0] - REACH[0], high[1] - REACH[1]], [high[0] + REACH[2], low[1] + REACH[3]]];
        let near = |prism: &Prism| {
            let ([min, max], axis) = (prism.bounds(), seen_along.index());
            let reach = REACH[0] / view.scale.max(1e-9);
            min[axis] < outside[axis] + reach && max[axis] > -reach
        };
        for keep_out in keep_outs.iter().filter(|keep_out| near(&keep_out.prism)) {
            let line = outline(&keep_out.prism, seen_along, &place);
            let area = within(&line, frame);
            if area.len() < 3 {
                continue;
            }
            found.areas.push(area);
            found.kept.extend(edges(&line, frame));
            if !found.kinds.contains(&keep_out.kind) {
                found.kinds.push(keep_out.kind);
            }
        }
        found.ends.extend(edges(&outline(space, seen_along, &place), frame));
    }
    found
}

/// What of a convex outline lies within a frame.
fn within(line: &[At], [min, max]: [At; 2]) -> Vec<At> {
    let mut line = line.to_vec();
    for (axis, limit, way) in [(0, min[0], 1.0), (0, max[0], -1.0), (1, min[1], 1.0), (1, max[1], -1.0)] {
        let depth = |at: &At| (at[axis] - limit) * way;
        let mut next = Vec::new();
        for (a, b) in line.iter().zip(line.iter().cycle().skip(1)) {
            let (from, to) = (depth(a), depth(b));
            if from >= 0.0 {
                next.push(*a);
            }
            if (from >= 0.0) != (to >= 0.0) {
                let share = from / (from - to);
                next.push([0, 1].map(|i| a[i] + (b[i] - a[i]) * share));
            }
        }
        line = next;
    }
    line
}

/// What of an outline's edges lies within a frame.
fn edges(line: &[At], frame: [At; 2]) -> Vec<[At; 2]> {
    let pairs = line.iter().zip(line.iter().cycle().skip(1));
    pairs.filter_map(|(a, b)| stretch([*a, *b], frame)).collect()
}

fn stretch([a, b]: [At; 2], [min, max]: [At; 2]) -> Option<[At; 2]> {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for axis in 0..2 {
        let way = b[axis] - a[axis];
        if way.abs() < 1e-9 {
            if a[axis] < min[axis] || a[axis] > max[axis] {
                return None;
            }
            continue;
        }
        let ends = [(min[axis] - a[axis]) / way, (max[axis] - a[axis]) / way];
        from = from.max(ends[0].min(ends[1]));
        to = to.min(ends[0].max(ends[1]));
    }
    let at = |share: f64| [0, 1].map(|i| a[i] + (b[i] - a[i]) * share);
    (from < to).then(|| [at(from), at(to)])
}

/// The rounded end of a tube, in the section.
#[derive(Clone, Debug, PartialEq)]
pub struct Mouth {
    /// What the rounding takes from the front, to be left blank; empty where nothing is taken.
    pub taken: Vec<At>,
    /// The arc.
    pub arc: Vec<At>,
    /// Whether it lies before the section or behind it.
    pub hidden: bool,
    /// The radius.
    pub radius: ExactLength,
    /// Middle of the bore at this end, and how high the bore is there.
    pub bore: (At, f64),
}

/// Corners of a quarter circle.
const QUARTER: u32 = 8;

/// The rounded ends of the tubes that open through the front. `radii` gives those of the inner and of the outer end, for the
/// tubes before the drivers or those of the room behind them.
#[must_use]
pub fn mouths(
    spec: &BoxSpec,
    assembly: &Assembly,
    drawn: &Sheet<'_>,
    radii: &dyn Fn(bool) -> [Option<ExactLength>; 2],
) -> Vec<Mouth> {
    let layout = sheet::lay_out(assembly, drawn, &sheet::dimensions(spec, assembly, drawn.label));
    let plane = section_plane(assembly);
    let mut found = Vec::new();
    for body in &assembly.bodies {
        let (BodyKind::PortAir(number), Solid::Round { base, length, along: Axis::Depth, from, .. }) =
            (body.kind, body.solid)
        else {
            continue;
        };
        let opens = |other: &&Body| {
            other.kind == BodyKind::PortMouth(number)
                && (other.turn.is_some() || other.solid.bounds().min[0] < 0.01)
        };
        let Some(mouth) = assembly.bodies.iter().find(opens) else { continue };
        let [inner, outer] = radii(number >= FRONT_TUBES);
        let ends =
            [(outer, mouth.solid.bounds().min[0], 1.0), (inner, (base.depth + length).millimetres(), -1.0)];
        let (half, up) = (from.millimetres() / 2.0, base.height.millimetres());
        let hidden = (base.width.millimetres() - plane).abs() >= half;
        for (radius, end, way) in ends {
            let Some(radius) = radius else { continue };
            for above in [1.0, -1.0] {
                let round = Round { end, way, half, up, above, radius: radius.millimetres() };
                found.push(round.drawn(layout.section, body, (radius, hidden), way > 0.0));
            }
        }
    }
    found
}

/// One side of a rounded end: from the bore to the face that it ends in.
struct Round {
    end: f64,
    way: f64,
    half: f64,
    up: f64,
    above: f64,
    radius: f64,
}

impl Round {
    fn drawn(&self, view: View, body: &Body, (radius, hidden): (ExactLength, bool), takes: bool) -> Mouth {
        let point = |depth: f64, off: f64| {
            let at = [self.end + self.way * depth, 0.0, self.up + self.above * off];
            let [depth, _, height] = body.turn.map_or(at, |turn| turn.place(at));
            view.point([depth, height])
        };
        let (r, half) = (self.radius, self.half);
        let arc: Vec<At> = (0..=QUARTER)
            .map(|step| {
                let (sin, cos) =
                    (f64::from(step) * std::f64::consts::FRAC_PI_2 / f64::from(QUARTER)).sin_cos();
                point(r - r * sin, half + r - r * cos)
            })
            .collect();
        let mut taken = Vec::new();
        if takes {
            taken.push(point(0.0, half));
            taken.extend(&arc);
        }
        let bore = (point(r, 0.0), 2.0 * half * view.scale);
        Mouth { taken, arc, hidden, radius, bore }
    }
}
