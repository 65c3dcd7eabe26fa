//! What only divided boxes and boxes with passive radiators have: the divider, radiators, and what lies across the box.
use crate::model::geometry::assembly::FRONT_TUBES;
use crate::model::geometry::{Assembly, Axis, Body, BodyKind, Point, Role, Solid};
use crate::units::ExactLength;

use super::super::marks::{Span, View};
use super::super::{Mark, Style, shaped};
use super::{DEPTH, WIDTH, span};

/// Where the room before the drivers is cut: through its first tube, or the middle of its slot.
#[inline(never)]
pub(super) fn before_cones(assembly: &Assembly) -> f64 {
    let mouth = assembly.bodies.iter().find(|body| body.kind == BodyKind::PortMouth(FRONT_TUBES));
    mouth.map_or(assembly.outside.width.millimetres() / 2.0, |mouth| {
        let bounds = mouth.solid.bounds();
        (bounds.min[WIDTH] + bounds.max[WIDTH]) / 2.0
    })
}

/// From the front: a radiator's hole in the front is seen, everything else hidden behind it.
#[inline(never)]
pub(super) fn front(body: &Body, view: View) -> Vec<Mark> {
    let hidden = || view.rect(Style::Hidden, span(&body.solid.bounds(), WIDTH));
    match (body.kind, body.solid) {
        (BodyKind::RadiatorHole(_), Solid::Round { .. }) if body.turn.is_some() => {
            let mut marks = Vec::new();
            shaped::turned_circle(body, Style::Outline, view, &mut marks);
            marks
        }
        (BodyKind::RadiatorHole(_), Solid::Round { base, along: Axis::Depth, from, .. }) => {
            let (centre, diameter) =
                ([base.width, base.height].map(|at| at.millimetres()), from.millimetres());
            let mut marks = vec![view.circle(Style::Outline, centre, diameter)];
            marks.extend(view.cross(centre, diameter));
            marks
        }
        // Behind its own hole.
        (BodyKind::Radiator(_), Solid::Round { along: Axis::Depth, .. }) => Vec::new(),
        (_, Solid::Round { from, to, .. }) if from != to => vec![cone(&body.solid, Axis::Width, view)],
        _ => vec![hidden()],
    }
}

/// The first driver in another face that the section can go through.
#[inline(never)]
pub(super) fn first_elsewhere(assembly: &Assembly) -> Option<&Point> {
    let within = |at: &&Point| at.width > ExactLength::ZERO && at.width < assembly.outside.width;
    assembly.layout.elsewhere.iter().find(within)
}

/// What the plane takes of a round body through a level board, within its bounds: a chord along the depth.
#[inline(never)]
pub(super) fn through_level(solid: &Solid, mut within: Span, plane: f64) -> Span {
    if let Solid::Round { base, from, to, .. } = solid {
        let radius = from.max(to).millimetres() / 2.0;
        let off = plane - base.width.millimetres();
        let chord = (radius * radius - off * off).max(0.0).sqrt();
        let middle = base.depth.millimetres();
        (within.min[0], within.max[0]) = (middle - chord, middle + chord);
    }
    within
}

/// A driver that stands across the view, of which `across` is the level direction.
#[inline(never)]
pub(super) fn cone(solid: &Solid, across: Axis, view: View) -> Mark {
    let Solid::Round { base, along, length, from, to } = *solid else {
        return view.rect(Style::Hidden, span(&solid.bounds(), across.index()));
    };
    let [a, b] = [from, to].map(|end| end.millimetres() / 2.0);
    let (near, far) = (base.get(along).millimetres(), (base.get(along) + length).millimetres());
    let corners = if along == Axis::Height {
        let middle = base.get(across).millimetres();
        [[middle - a, near], [middle + a, near], [middle + b, far], [middle - b, far]]
    } else {
        let middle = base.height.millimetres();
        [[near, middle - a], [near, middle + a], [far, middle + b], [far, middle - b]]
    };
    view.polygon(Style::Hidden, &corners)
}

/// In the section: holes that are seen along their axis as circles, full where they lie beyond the plane.
#[inline(never)]
pub(super) fn section(body: &Body, plane: f64, view: View) -> Vec<Mark> {
    let bounds = body.solid.bounds();
    match (body.kind, body.role, body.solid) {
        (_, Role::GainedAir | Role::Cut, Solid::Round { base, along: Axis::Width, from, .. }) => {
            let style = if bounds.min[WIDTH] >= plane { Style::Outline } else { Style::Hidden };
            let centre = [base.depth, base.height].map(|at| at.millimetres());
            vec![view.circle(style, centre, from.millimetres())]
        }
        (BodyKind::Radiator(_), _, Solid::Round { along: Axis::Depth, .. }) => {
            vec![view.rect(Style::Hidden, span(&bounds, DEPTH))]
        }
        _ => Vec::new(),
    }
}

/// The centre line of a bent slot, and the terminal hole, which then is in the side beyond.
#[inline(never)]
pub(in crate::present::drawing) fn bent_line(assembly: &Assembly, view: View) -> Vec<Mark> {
    let leg = |number| assembly.bodies.iter().find(|body| body.kind == BodyKind::PortAir(number));
    let middle = |body: &Body, i: usize| {
        let span = span(&body.solid.bounds(), DEPTH);
        (span.min[i] + span.max[i]) / 2.0
    };
    let mut marks = Vec::new();
    if let (Some(floor), Some(back)) = (leg(0), leg(1)) {
        // The leg up the back from the middle of its lower end to that of its upper one, as it leans.
        let corners = back.profile();
        let ends = [[0, 1], [2, 3]].map(|ends| {
            let [a, b] = ends.map(|i| corners.get(i).copied().unwrap_or_default());
            [0, 1].map(|i| (a[i] + b[i]) / 2.0)
        });
        let [low, high] = ends;
        let at = |up: f64| [low[0] + (high[0] - low[0]) * (up - low[1]) / (high[1] - low[1]).max(1e-9), up];
        let mut way = vec![[0.0, middle(floor, 1)], at(middle(floor, 1))];
        match leg(2) {
            Some(top) => {
                let up = middle(top, 1);
                way.extend([at(up), [span(&top.solid.bounds(), DEPTH).min[0], up]]);
            }
            None => way.push(high),
        }
        marks.extend(way.windows(2).map(|pair| view.line(Style::Centre, pair[0], pair[1])));
    }
    let hole = assembly.bodies.iter().find(|body| body.kind == BodyKind::TerminalHole);
    // One in a back that leans is drawn with its board.
    let hole = hole.filter(|body| body.turn.is_none());
    marks.extend(hole.map(|body| view.rect(Style::Outline, span(&body.solid.bounds(), DEPTH))));
    marks
}
