//! Views of a shaped box: boards as their sections, what belongs to a leaning board turned with it.
use crate::model::geometry::plane::hull;
use crate::model::geometry::{Assembly, Axis, Body, BodyKind, Polygon, Profile, Role, Solid};

use super::marks::View;
use super::views::{bent_line, cut_span, section_of};
use super::{At, FieldHint, Mark, Shape, Style};

/// Corners of a circle seen at an angle.
const ROUND: u32 = 72;

/// Dimensions of the side: along the top, the lean of the front, the step. `add` takes whether they stand above or below
/// the section or before it, both ends in millimetres, and the entry.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn dimensions(
    profile: &Profile,
    assembly: &Assembly,
    add: &mut dyn FnMut(Option<bool>, At, At, Option<FieldHint>),
) {
    use crate::model::geometry::Back;
    let outline = side(assembly);
    let Some((&head, &crest)) = outline.last().zip(outline.iter().rev().nth(1)) else { return };
    if head[0] > 0.0 {
        add(Some(true), [0.0, head[1]], head, Some(FieldHint::Setback));
    }
    match profile.back {
        Back::Step { height, .. } => {
            let [low, high] = [outline.get(1), outline.get(3)].map(|at| at.copied().unwrap_or_default());
            let deep = if low[0] < high[0] { [low[0], 0.0] } else { [high[0], high[1]] };
            let below = low[0] < high[0];
            let from = [0.0, if below { 0.0 } else { head[1] }];
            add(Some(!below), from, [deep[0], from[1]], Some(FieldHint::StepDepth));
            add(
                None,
                [low[0].min(high[0]), 0.0],
                [low[0].min(high[0]), height.millimetres()],
                Some(FieldHint::StepHeight),
            );
        }
        // With an upright back it is a result.
        Back::Upright => add(Some(true), head, crest, None),
        _ => add(Some(true), head, crest, Some(FieldHint::TopDepth)),
    }
}

/// Corners of the left side.
fn side(assembly: &Assembly) -> Vec<At> {
    assembly.side().map_or(Vec::new(), |side| side.corners().to_vec())
}

/// A hole or a driver in a leaning front, from the front.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn turned_circle(body: &Body, style: Style, view: View, marks: &mut Vec<Mark>) {
    let (Solid::Round { base, length, from, to, .. }, Some(turn)) = (body.solid, body.turn) else { return };
    let driver = matches!(body.kind, BodyKind::Driver(_));
    let radius = if driver { to } else { from }.millimetres() / 2.0;
    let depth = if driver { base.depth + length } else { base.depth }.millimetres();
    let (across, up) = (base.width.millimetres(), base.height.millimetres());
    let corner = |number: u32| {
        let angle = f64::from(number) * std::f64::consts::TAU / f64::from(ROUND);
        let [_, width, height] =
            turn.place([depth, across + radius * angle.cos(), up + radius * angle.sin()]);
        [width, height]
    };
    let points: Vec<At> = (0..ROUND).map(corner).collect();
    marks.push(view.polygon(style, &points));
    if matches!(body.kind, BodyKind::DriverHole(_) | BodyKind::PortMouth(_) | BodyKind::RadiatorHole(_)) {
        let [_, x, y] = turn.place([depth, across, up]);
        marks.extend(view.cross([x, y], 2.0 * radius));
    }
}

/// The box cut along its depth.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn section(assembly: &Assembly, inside: &Solid, plane: f64, view: View) -> Vec<Mark> {
    let mut marks = vec![view.polygon(Style::Outline, &side(assembly))];
    for body in &assembly.bodies {
        match (body.solid, body.role) {
            (Solid::Prism { .. }, Role::Shell) => marks.extend(board(assembly, body, plane, view)),
            (Solid::Prism { .. }, _) if matches!(body.kind, BodyKind::PortAir(_)) => {}
            (Solid::Prism { from, width, opening, .. }, _) => {
                let section = Polygon::new(&body.profile());
                let [left, right] = [from, from + width].map(|at| at.millimetres());
                let cut = left < plane && plane < right;
                let pieces = match opening {
                    Some(window) if cut => section.around(window.bounds()),
                    _ => vec![section],
                };
                let style = if cut { Style::Cut } else { Style::Hidden };
                marks.extend(pieces.iter().map(|piece| view.polygon(style, piece.corners())));
                if let (Some(window), false) = (opening, cut) {
                    let [low, high] = window.bounds();
                    let corners = [low, [high[0], low[1]], high, [low[0], high[1]]];
                    marks.push(view.polygon(Style::Hidden, &corners));
                }
            }
            _ => {
                let flat = section_of(body, plane, &[], view);
                marks.extend(flat.into_iter().map(|mark| turned(mark, body, view)));
            }
        }
    }
    if assembly.port.is_some_and(|port| port.bends > 0) {
        marks.extend(bent_line(assembly, view));
    }
    let Solid::Prism { section, .. } = inside else { return marks };
    marks.push(view.polygon(Style::Outline, section.corners()));
    marks
}

/// A strip that leans or has a bevel of its own: cut where it lies across the plane, drawn where it lies beyond.
#[inline(never)] // only shaped boxes need it: it may come after the first result
pub(super) fn strip(body: &Body, plane: f64, view: View) -> Vec<Mark> {
    let corners: Vec<At> = body.solid.prism_corners().iter().map(|at| [at[0], at[2]]).collect();
    let bounds = body.solid.bounds();
    let across = matches!(body.kind, BodyKind::Strip(edge) if edge.along == Axis::Width);
    if across && bounds.min[1] < plane && plane < bounds.max[1] {
        return vec![view.polygon(Style::Cut, corners.get(..3).unwrap_or(&corners))];
    }
    if bounds.min[1] >= plane { vec![view.polygon(Style::Outline, &hull(&corners))] } else { Vec::new() }
}

/// The wood of a board, its holes taken out, where it stands.
fn board(assembly: &Assembly, board: &Body, plane: f64, view: View) -> Vec<Mark> {
    let Solid::Prism { section, from, width, .. } = board.solid else { return Vec::new() };
    let [left, right] = [from, from + width].map(|at| at.millimetres());
    if plane <= left || plane >= right {
        return Vec::new();
    }
    let mut pieces: Vec<Polygon> = vec![section];
    for hole in &assembly.bodies {
        if !matches!(hole.role, Role::GainedAir | Role::Cut) || hole.turn != board.turn {
            continue;
        }
        if let Some(span) = cut_span(&hole.solid, plane) {
            pieces = pieces.iter().flat_map(|piece| without(piece, [span.min, span.max])).collect();
        }
    }
    let place = |at: &At| board.turn.map_or(*at, |turn| turn.point(*at));
    let outline = |piece: &Polygon| piece.corners().iter().map(place).collect::<Vec<At>>();
    pieces.iter().map(|piece| view.polygon(Style::Cut, &outline(piece))).collect()
}

fn without(piece: &Polygon, hole: [At; 2]) -> Vec<Polygon> {
    let [low, high] = piece.bounds();
    let apart = (0..2).any(|i| hole[1][i] <= low[i] || hole[0][i] >= high[i]);
    if apart { vec![*piece] } else { piece.around(hole) }
}

/// A mark of a body as it stands: turned with its board.
fn turned(mark: Mark, body: &Body, view: View) -> Mark {
    let Some(turn) = body.turn else { return mark };
    let place = |at: At| {
        let flat = [(at[0] - view.origin[0]) / view.scale, (view.origin[1] - at[1]) / view.scale];
        view.point(turn.point(flat))
    };
    let shape = match mark.shape {
        Shape::Line(from, to) => Shape::Line(place(from), place(to)),
        Shape::Rect([x, y], [w, h]) => {
            Shape::Polygon([[x, y], [x + w, y], [x + w, y + h], [x, y + h]].map(place).to_vec())
        }
        Shape::Circle(at, radius) => Shape::Circle(place(at), radius),
        Shape::Polygon(points) => Shape::Polygon(points.into_iter().map(place).collect()),
    };
    Mark { style: mark.style, shape }
}
