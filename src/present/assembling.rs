//! The order of gluing as steps, each with a drawing of what then stands; and the box taken apart.
use std::fmt::Write;

use super::isometric::{At, Eye, Stroke, visible};
use super::names;
use crate::design::built::piece_key;
use crate::design::report::BoxReport;
use crate::model::geometry::faces::{At3, Drawn, Edge, Face, Polyhedron, normal, polyhedra};
use crate::model::geometry::plane::{area, shared_edge};
use crate::model::geometry::{
    Assembly, Axis, Body, BodyKind, BuildOrder, End, Joint, PartId, Port, Side, Solid, Step, build_order,
};
use crate::words::{assembling as words, faces};

/// A line drawing: paths for what stood before and for what is new.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Width and height.
    pub size: [f64; 2],
    /// What stood before.
    pub before: String,
    /// What is new.
    pub new: String,
    /// Hatching of where glue goes.
    pub glue: String,
}

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct StepView {
    /// Key of its tick.
    pub tick: String,
    /// Its number and what is put on.
    pub title: String,
    /// From where, and what gets glue.
    pub how: String,
    /// What then stands.
    pub picture: Picture,
}

/// Everything about putting a box together.
#[derive(Clone, Debug, PartialEq)]
pub struct Assembling {
    /// The steps.
    pub steps: Vec<StepView>,
    /// The box taken apart.
    pub exploded: Picture,
    /// What follows when the glue is dry.
    pub after: Vec<String>,
}

/// Width of a drawing in its own units.
const WIDTH: f64 = 320.0;
/// How far panels stand off in the box taken apart, as a share of its longest side.
const APART: f64 = 0.4;

/// How the box is put together.
#[must_use]
pub fn assembling(report: &BoxReport) -> Assembling {
    let assembly = &report.plan.current().assembly;
    let order = build_order(assembly);
    let all = polyhedra(assembly);
    let eye = eye(&order);
    let frame = Frame::around(&all, eye);
    let pieces: Vec<PartId> = order.steps.iter().flat_map(|step| step.pieces.iter().copied()).collect();
    let mut standing: Vec<&Polyhedron> = Vec::new();
    let mut steps = Vec::new();
    for (number, step) in order.steps.iter().enumerate() {
        let before = standing.len();
        standing.extend(all.iter().filter(|piece| step.pieces.contains(&piece.piece)));
        let mut picture = frame.picture(&visible(&standing, eye), before);
        picture.glue = frame.path(&glued(assembly, step, &standing[..before], eye));
        steps.push(view(number, step, &pieces, picture));
    }
    let apart = taken_apart(assembly, &all);
    let pieces: Vec<&Polyhedron> = apart.iter().collect();
    let exploded = Frame::around(&apart, eye).picture(&visible(&pieces, eye), usize::MAX);
    Assembling { steps, exploded, after: after(report) }
}

/// The box is seen from the panels that are put on last, so that what is inside shows until the end.
#[must_use]
pub fn eye(order: &BuildOrder) -> Eye {
    let place = |id: PartId| order.steps.iter().position(|step| step.pieces.contains(&id));
    let later = |low: PartId, high: PartId| if place(low) > place(high) { End::Low } else { End::High };
    Eye([
        later(PartId::Front(0), PartId::Back),
        later(PartId::Left, PartId::Right),
        later(PartId::Bottom, PartId::Top),
    ])
}

/// Every panel of the shell moved away from the middle; layers of the front one behind the other.
fn taken_apart(assembly: &Assembly, all: &[Polyhedron]) -> Vec<Polyhedron> {
    let longest = assembly.outside.millimetres().into_iter().fold(0.0, f64::max);
    let layers = all.iter().filter(|piece| matches!(piece.piece, PartId::Front(_))).count() as f64;
    let far = longest * APART;
    let out = step_looks(all) * far;
    let shift = |id: PartId| match id {
        PartId::Front(layer) => [-far * (1.0 + (layers - 1.0 - f64::from(layer)) / 2.0), 0.0, 0.0],
        PartId::Back => [far, 0.0, 0.0],
        PartId::Left => [0.0, -far, 0.0],
        PartId::Right => [0.0, far, 0.0],
        PartId::Bottom => [0.0, 0.0, -far],
        PartId::Top => [0.0, 0.0, far],
        // The riser stands off farther than the tread it stands on.
        PartId::Tread => [0.0, 0.0, out / 4.0],
        PartId::Riser => [far, 0.0, out / 2.0],
        _ => [0.0; 3],
    };
    let moved = all.iter().cloned().map(|mut piece| {
        let by = shift(piece.piece);
        let points = piece.faces.iter_mut().flat_map(|face| face.rings.iter_mut().flatten());
        points
            .chain(piece.edges.iter_mut().flat_map(|edge| &mut edge.ends))
            .for_each(|at| *at = [0, 1, 2].map(|i| at[i] + by[i]));
        piece
    });
    moved.collect()
}

/// Whether a step's level board looks upwards, 1, or downwards, −1: its riser lies on the side it looks to.
fn step_looks(all: &[Polyhedron]) -> f64 {
    let highest = |id: PartId| {
        let own = all.iter().filter(|piece| piece.piece == id).flat_map(|piece| &piece.edges);
        own.flat_map(|edge| edge.ends).map(|at| at[2]).fold(f64::NEG_INFINITY, f64::max)
    };
    if highest(PartId::Riser) >= highest(PartId::Tread) { 1.0 } else { -1.0 }
}

/// Strokes of pieces as a picture around them, all of it what stands.
#[must_use]
pub fn framed(pieces: &[Polyhedron], eye: Eye, strokes: &[Stroke]) -> Picture {
    Frame::around(pieces, eye).picture(strokes, usize::MAX)
}

/// Where the box lies on paper.
pub(super) struct Frame {
    min: At,
    size: At,
    scale: f64,
}

impl Frame {
    pub(super) fn around(pieces: &[Polyhedron], eye: Eye) -> Self {
        let (mut min, mut max) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        for end in pieces.iter().flat_map(|piece| &piece.edges).flat_map(|edge| edge.ends) {
            let at = eye.project(end);
            for i in 0..2 {
                min[i] = min[i].min(at[i]);
                max[i] = max[i].max(at[i]);
            }
        }
        let scale = WIDTH / (max[0] - min[0]).max(1.0);
        Self { min, size: [WIDTH, (max[1] - min[1]) * scale], scale }
    }

    /// Strokes of the pieces from number `before` on are new.
    pub(super) fn picture(&self, strokes: &[Stroke], before: usize) -> Picture {
        let (new, old): (Vec<Stroke>, Vec<Stroke>) =
            strokes.iter().partition(|stroke| stroke.piece >= before);
        Picture { size: self.size, before: self.path(&old), new: self.path(&new), glue: String::new() }
    }

    fn path(&self, strokes: &[Stroke]) -> String {
        let mut text = String::new();
        let mut last = [f64::NAN; 2];
        for stroke in strokes {
            let [from, to] = stroke.ends.map(|at| [0, 1].map(|i| (at[i] - self.min[i]) * self.scale));
            // Writing to a String cannot fail.
            if (from[0] - last[0]).abs() + (from[1] - last[1]).abs() < 0.05 {
                let _ = write!(text, "L{:.1} {:.1}", to[0], to[1]);
            } else {
                let _ = write!(text, "M{:.1} {:.1}L{:.1} {:.1}", from[0], from[1], to[0], to[1]);
            }
            last = to;
        }
        text
    }
}

/// Distance of hatch lines on the wood, mm: on the edge of a board, and on a whole face.
const HATCH: [f64; 2] = [9.0, 30.0];

/// Hatch lines where the pieces of a step meet what stands, as far as they are seen while those pieces are not there yet.
///
/// Where bodies meet square to an axis, and where boards lean against each other along an edge of their sections.
#[must_use]
pub fn glued(assembly: &Assembly, step: &Step, standing: &[&Polyhedron], eye: Eye) -> Vec<Stroke> {
    let mut hatch = Polyhedron { piece: PartId::Back, faces: Vec::new(), edges: Vec::new() };
    for joint in &step.joints {
        if let Some(ring) = contact(assembly, joint) {
            hatch_on(&mut hatch, joint.face, ring);
        }
    }
    let mut all = standing.to_vec();
    all.push(&hatch);
    let mut strokes = visible(&all, eye);
    strokes.retain(|stroke| stroke.piece == standing.len());
    strokes
}

/// The outline in which a joint's two bodies meet, in the plane of the face of what stands.
fn contact(assembly: &Assembly, joint: &Joint) -> Option<Vec<At3>> {
    let body = |id: PartId| {
        let kind = match id {
            PartId::Strip(edge) => BodyKind::Strip(edge),
            id => BodyKind::Board(id),
        };
        assembly.bodies.iter().find(|body| body.kind == kind)
    };
    let (own, onto) = (body(joint.piece)?, body(joint.onto)?);
    let (axis, end) = joint.face;
    let i = axis.index();
    let plane = if end == End::Low { onto.bounds().max[i] } else { onto.bounds().min[i] };
    if is_along_axes(own) && is_along_axes(onto) {
        return rectangle(own, onto, (axis, plane));
    }
    let (Some(own_line), Some(onto_line)) = (section(own), section(onto)) else { return None };
    if axis != Axis::Width {
        let [near, far] = [own.bounds(), onto.bounds()];
        let [low, high] = [near.min[1].max(far.min[1]), near.max[1].min(far.max[1])];
        let [from, to] = shared_edge(&own_line, &onto_line, TOUCHES)?;
        return Some(vec![
            [from[0], low, from[1]],
            [to[0], low, to[1]],
            [to[0], high, to[1]],
            [from[0], high, from[1]],
        ]);
    }
    // Against a side lies the whole section of a board or a strip across the width.
    let (own, onto) = (own_line, onto_line);
    let ring = if area(&own).abs() < area(&onto).abs() { own } else { onto };
    Some(ring.iter().map(|at| [at[0], plane, at[1]]).collect())
}

fn is_along_axes(body: &Body) -> bool {
    body.turn.is_none()
        && match body.solid {
            Solid::Block { .. } | Solid::Frame { .. } | Solid::CornerPrism { .. } => true,
            Solid::Prism { section, .. } => {
                let [low, high] = section.bounds();
                let block = (high[0] - low[0]) * (high[1] - low[1]);
                (area(section.corners()) - block).abs() < 1e-3
            }
            _ => false,
        }
}

/// The section of a board or a strip across the width, where it stands: depth and height.
fn section(body: &Body) -> Option<Vec<[f64; 2]>> {
    match body.solid {
        Solid::Prism { section, .. } => {
            let place = |at: &[f64; 2]| body.turn.map_or(*at, |turn| turn.point(*at));
            Some(section.corners().iter().map(place).collect())
        }
        Solid::Wedge { corners } if matches!(body.kind, BodyKind::Strip(edge) if edge.along == Axis::Width) => {
            Some(corners.iter().take(3).map(|at| [at[0], at[2]]).collect())
        }
        _ => None,
    }
}

/// Nearer than this the edges of two sections lie on one another, in mm: the tape's step may leave a hair between them.
const TOUCHES: f64 = 0.6;

/// What two blocks share of a plane.
fn rectangle(own: &Body, onto: &Body, (axis, plane): (Axis, f64)) -> Option<Vec<At3>> {
    let (own, onto) = (own.bounds(), onto.bounds());
    let [a, b] = axis.others().map(Axis::index);
    let shared = |i: usize| [own.min[i].max(onto.min[i]), own.max[i].min(onto.max[i])];
    let (across, up) = (shared(a), shared(b));
    let at = |[x, y]: [usize; 2]| {
        let mut point = [plane; 3];
        (point[a], point[b]) = (across[x], up[y]);
        point
    };
    let wide = across[1] - across[0] >= 1.0 && up[1] - up[0] >= 1.0;
    wide.then(|| [[0, 0], [1, 0], [1, 1], [0, 1]].map(at).to_vec())
}

/// Adds lines at 45° over a convex outline that looks towards the piece that is put on.
fn hatch_on(hatch: &mut Polyhedron, (axis, end): Side, ring: Vec<At3>) {
    let [a, b] = axis.others().map(Axis::index);
    let reach = |of: &dyn Fn(&At3) -> f64| {
        ring.iter()
            .map(of)
            .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], x| [low.min(x), high.max(x)])
    };
    let [[left, right], [low, high], [first, last]] =
        [reach(&|at| at[a]), reach(&|at| at[b]), reach(&|at| at[a] + at[b])];
    let narrow = (right - left).min(high - low) < 80.0;
    let apart = if narrow { HATCH[0] } else { HATCH[1] };
    let face = hatch.faces.len();
    let count = ((last - first) / apart).clamp(0.0, 500.0) as u32;
    for number in 1..=count {
        let sum = first + f64::from(number) * apart;
        let edges = ring.iter().zip(ring.iter().cycle().skip(1));
        let crossed: Vec<At3> = edges
            .filter_map(|(from, to)| {
                let [x, y] = [from, to].map(|at| at[a] + at[b] - sum);
                let share = x / (x - y);
                ((x < 0.0) != (y < 0.0)).then(|| [0, 1, 2].map(|i| from[i] + (to[i] - from[i]) * share))
            })
            .collect();
        if let [from, to] = crossed.as_slice()
            && (from[a] - to[a]).abs() > 0.5
        {
            hatch.edges.push(Edge { ends: [*from, *to], faces: [face; 2], drawn: Drawn::Always });
        }
    }
    let sign = if end == End::Low { 1.0 } else { -1.0 };
    // Of boards that lean the face leans, too; which way a ring runs is nobody's choice.
    let normal = normal(&ring);
    let sign = sign * normal[axis.index()].signum();
    let normal = normal.map(|part| part * sign);
    hatch.faces.push(Face { rings: vec![ring], normal });
}

fn view(number: usize, step: &Step, all: &[PartId], picture: Picture) -> StepView {
    let name = match step.pieces.as_slice() {
        [one] => names::one(*one, all),
        several => {
            let kind = several.first().map_or("", |id| names::part(id.name()));
            format!("{} × {kind}", several.len())
        }
    };
    let keys: Vec<String> = step.pieces.iter().map(|id| piece_key(*id)).collect();
    StepView {
        tick: format!("glue {}", keys.join(" ")),
        title: format!("{}. {name}", number + 1),
        how: how(number, step, all),
        picture,
    }
}

fn how(number: usize, step: &Step, all: &[PartId]) -> String {
    if number == 0 {
        return words::FIRST.into();
    }
    let mut text = step.from.map_or_else(|| words::NO_WAY.into(), |side| words::comes_from(side_name(side)));
    text.push(' ');
    if step.is_screwed {
        text.push_str(faces::SCREWED);
        return text;
    }
    let mut glued: Vec<(Side, Vec<String>)> = Vec::new();
    for joint in &step.joints {
        let name = names::one(joint.onto, all);
        match glued.iter_mut().find(|(face, _)| *face == joint.face) {
            Some((_, names)) if names.contains(&name) => {}
            Some((_, names)) => names.push(name),
            None => glued.push((joint.face, vec![name])),
        }
    }
    let glued: Vec<String> =
        glued.iter().map(|(face, names)| words::face_onto(side_name(*face), &names.join(", "))).collect();
    text.push_str(&words::glue(&glued.join("; ")));
    text
}

const fn side_name((axis, end): Side) -> &'static str {
    match (axis, end) {
        (Axis::Depth, End::Low) => words::FRONT,
        (Axis::Depth, End::High) => words::BACK,
        (Axis::Width, End::Low) => words::LEFT,
        (Axis::Width, End::High) => words::RIGHT,
        (Axis::Height, End::Low) => words::BELOW,
        (Axis::Height, End::High) => words::ABOVE,
    }
}

/// What follows when the glue is dry, from what the box has.
fn after(report: &BoxReport) -> Vec<String> {
    let spec = &report.spec;
    let mut all = vec![words::SEAL.to_owned()];
    let before = spec.divider().is_some_and(|divider| divider.tubes().is_some());
    if matches!(spec.port, Port::Round(_)) || before {
        all.push(words::TUBES.into());
    }
    if spec.terminal.is_some() {
        all.push(words::TERMINALS.into());
    }
    if spec.driver.is_some() {
        all.push(words::DRIVERS.into());
    }
    all
}
