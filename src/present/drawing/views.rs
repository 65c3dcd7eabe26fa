//! The two views, body by body.
mod forms;

pub(super) use forms::bent_line;

use crate::model::geometry::solids::Bounds;
use crate::model::geometry::{Assembly, Axis, Body, BodyKind, PartId, Role, Solid};

use super::marks::{Span, View};
use super::{Mark, Style, shaped};

const WIDTH: usize = Axis::Width.index();
const HEIGHT: usize = Axis::Height.index();
const DEPTH: usize = Axis::Depth.index();

fn span(bounds: &Bounds, across: usize) -> Span {
    Span { min: [bounds.min[across], bounds.min[HEIGHT]], max: [bounds.max[across], bounds.max[HEIGHT]] }
}

/// The box from the front: boards one sees, holes, and what lies behind the front dashed.
pub(super) fn front(assembly: &Assembly, view: View) -> Vec<Mark> {
    let mut marks = Vec::new();
    let front = assembly.front_thickness.millimetres();
    for body in &assembly.bodies {
        if of_other_forms(body) || matches!(body.solid, Solid::Round { along: Axis::Height, .. }) {
            marks.extend(forms::front(body, view));
            continue;
        }
        let bounds = body.bounds();
        let rect = span(&bounds, WIDTH);
        let style = match (body.role, body.kind) {
            // Only boards whose edge or face reaches the front are seen.
            (Role::Shell, _) if bounds.min[DEPTH] <= 0.0 => Style::Outline,
            (Role::Shell, _) => continue,
            // In the back.
            (_, BodyKind::DriverHole(_)) if bounds.min[DEPTH] > front => Style::Hidden,
            (_, BodyKind::DriverHole(_) | BodyKind::Recess(_) | BodyKind::PortMouth(_)) => Style::Outline,
            (_, BodyKind::TerminalWindow) => Style::Outline,
            (_, BodyKind::TerminalHole) if bounds.min[DEPTH] < front => Style::Outline,
            // A tube's bore is seen through its mouth; a slot's air has no edge of its own.
            (_, BodyKind::PortAir(_)) if matches!(body.solid, Solid::Round { .. }) => Style::Outline,
            (_, BodyKind::PortAir(_) | BodyKind::PortTube(_) | BodyKind::StripVoid(_)) => continue,
            (_, BodyKind::LegWindow(_)) => Style::Hidden,
            _ => Style::Hidden,
        };
        match body.solid {
            Solid::Round { .. } if body.turn.is_some() => {
                shaped::turned_circle(body, style, view, &mut marks)
            }
            Solid::Round { base, along: Axis::Depth, from, to, .. } => {
                let centre = [base.width.millimetres(), base.height.millimetres()];
                let driver = matches!(body.kind, BodyKind::Driver(_));
                let diameter = if driver { from.min(to) } else { from }.millimetres();
                marks.push(view.circle(style, centre, diameter));
                if matches!(body.kind, BodyKind::DriverHole(_) | BodyKind::PortMouth(_)) {
                    marks.extend(view.cross(centre, diameter));
                }
            }
            _ => marks.push(view.rect(style, rect)),
        }
        if matches!(body.solid, Solid::Frame { .. }) {
            marks.extend(window(body, Axis::Depth, &bounds, WIDTH, view));
        }
    }
    marks
}

/// Whether a body belongs to a divided box or one with radiators, or lies across the box.
const fn of_other_forms(body: &Body) -> bool {
    matches!(body.kind, BodyKind::Board(PartId::Divider) | BodyKind::RadiatorHole(_) | BodyKind::Radiator(_))
        || matches!(
            body.solid,
            Solid::Round { along: Axis::Width, .. } | Solid::Tube { along: Axis::Width, .. }
        )
}

/// The window of a brace that is seen face on.
#[inline(never)] // the first picture has no braces
fn window(body: &Body, looking: Axis, bounds: &Bounds, across: usize, view: View) -> Option<Mark> {
    let Solid::Frame { through, window, .. } = body.solid else {
        return None;
    };
    (through == looking && window.across > crate::units::ExactLength::ZERO).then(|| {
        let size = [window.across.millimetres(), window.up.millimetres()];
        let whole = span(bounds, across);
        let middle = [0, 1].map(|axis| (whole.min[axis] + whole.max[axis]) / 2.0);
        let opening = Span {
            min: [middle[0] - size[0] / 2.0, middle[1] - size[1] / 2.0],
            max: [middle[0] + size[0] / 2.0, middle[1] + size[1] / 2.0],
        };
        view.rect(Style::Hidden, opening)
    })
}

/// The plane of the section, as a width: through the first driver, else the first tube, else the middle.
///
/// Of a divided box it goes through the room before the drivers, so that one sees the divider with their holes.
pub(super) fn section_plane(assembly: &Assembly) -> f64 {
    if assembly.front_port.is_some() {
        return forms::before_cones(assembly);
    }
    let centre = assembly.layout.drivers.first().or(assembly.layout.tubes.first());
    let centre = centre.or_else(|| forms::first_elsewhere(assembly));
    centre.map_or(assembly.outside.width.millimetres() / 2.0, |at| at.width.millimetres())
}

/// The box cut along its depth: cut wood hatched, what lies beyond drawn, what is elsewhere dashed.
pub(super) fn section(assembly: &Assembly, view: View) -> Vec<Mark> {
    let plane = section_plane(assembly);
    let holes: Vec<Span> = assembly
        .bodies
        .iter()
        .filter(|body| matches!(body.role, Role::GainedAir | Role::Cut))
        .filter_map(|body| cut_span(&body.solid, plane))
        .collect();
    let mut marks = Vec::new();
    let outside = assembly.outside;
    let whole = Span { min: [0.0, 0.0], max: [outside.depth.millimetres(), outside.height.millimetres()] };
    if let Some(inside) = &assembly.hollow {
        return shaped::section(assembly, inside, plane, view);
    }
    marks.push(view.rect(Style::Outline, whole));
    for body in &assembly.bodies {
        marks.extend(section_of(body, plane, &holes, view));
    }
    if assembly.port.is_some_and(|port| port.bends > 0) {
        marks.extend(bent_line(assembly, view));
    }
    marks
}

/// What the section shows of one body.
pub(super) fn section_of(body: &Body, plane: f64, holes: &[Span], view: View) -> Vec<Mark> {
    if of_other_forms(body) {
        return forms::section(body, plane, view);
    }
    let bounds = body.solid.bounds();
    let beyond = span(&bounds, DEPTH);
    let cut = cut_span(&body.solid, plane);
    match (body.role, body.kind) {
        // The side beyond the plane is seen below the front, with its window.
        (Role::Shell, BodyKind::Board(PartId::Right)) if bounds.min[DEPTH] < 0.0 => {
            let mut leg = beyond;
            leg.max[0] = 0.0;
            vec![view.rect(Style::Outline, leg)]
        }
        (Role::Cut, BodyKind::LegWindow(1)) => vec![view.rect(Style::Outline, beyond)],
        (Role::GainedAir | Role::Cut, _) | (_, BodyKind::PortAir(_) | BodyKind::StripVoid(_)) => Vec::new(),
        (Role::Shell, _) => cut.map_or(Vec::new(), |rect| {
            let pieces = rect.without(holes);
            pieces.into_iter().map(|piece| view.rect(Style::Cut, piece)).collect()
        }),
        (_, BodyKind::Driver(_)) => driver(&body.solid, view),
        (_, BodyKind::PortTube(_)) => match cut {
            Some(rect) => tube_walls(&body.solid, rect, view),
            None => vec![view.rect(Style::Hidden, beyond)],
        },
        (_, BodyKind::Strip(_)) if matches!(body.solid, Solid::Wedge { .. }) => {
            shaped::strip(body, plane, view)
        }
        (_, BodyKind::Strip(_)) => {
            if cut.is_some() {
                let corners: Vec<[f64; 2]> =
                    body.solid.prism_corners().iter().take(3).map(|at| [at[DEPTH], at[HEIGHT]]).collect();
                vec![view.polygon(Style::Cut, &corners)]
            } else if bounds.min[WIDTH] >= plane {
                vec![view.rect(Style::Outline, beyond)]
            } else {
                Vec::new()
            }
        }
        (_, BodyKind::Board(PartId::Brace(..))) => brace(body, &bounds, cut, plane, view),
        (_, BodyKind::Board(_)) => match cut {
            Some(rect) => vec![view.rect(Style::Cut, rect)],
            None => vec![view.rect(Style::Hidden, beyond)],
        },
        _ => vec![view.rect(Style::Hidden, beyond)],
    }
}

/// Side of a driver: the cone of its hull.
fn driver(solid: &Solid, view: View) -> Vec<Mark> {
    let Solid::Round { base, along, length, from, to } = *solid else {
        return Vec::new();
    };
    if along == Axis::Height {
        return vec![forms::cone(solid, Axis::Depth, view)];
    }
    let (near, far) = (base.depth.millimetres(), (base.depth + length).millimetres());
    let middle = base.height.millimetres();
    let [front, rear] = [from, to].map(|diameter| diameter.millimetres() / 2.0);
    let outline =
        [[near, middle - front], [near, middle + front], [far, middle + rear], [far, middle - rear]];
    let reach = (far - near) * 0.12;
    vec![
        view.polygon(Style::Hidden, &outline),
        view.line(Style::Centre, [-reach, middle], [far + reach, middle]),
    ]
}

#[inline(never)] // the first picture has no tubes
fn tube_walls(solid: &Solid, rect: Span, view: View) -> Vec<Mark> {
    let Solid::Tube { outer, inner, .. } = *solid else {
        return Vec::new();
    };
    let wall = (outer - inner).millimetres() / 2.0;
    let mut low = rect;
    low.max[1] = rect.min[1] + wall;
    let mut high = rect;
    high.min[1] = rect.max[1] - wall;
    vec![view.rect(Style::Cut, low), view.rect(Style::Cut, high)]
}

#[inline(never)] // the first picture has no braces
fn brace(body: &Body, bounds: &Bounds, cut: Option<Span>, plane: f64, view: View) -> Vec<Mark> {
    let Solid::Frame { through, window: opening, .. } = body.solid else {
        return Vec::new();
    };
    let Some(rect) = cut.filter(|_| through != Axis::Width) else {
        let mut marks = vec![view.rect(Style::Hidden, span(bounds, DEPTH))];
        marks.extend(window(body, Axis::Width, bounds, DEPTH, view));
        return marks;
    };
    // Whether the plane passes through the window, and where the window lies in the section.
    let half = |length: crate::units::ExactLength| length.millimetres() / 2.0;
    let (across_plane, along, axis) = if through == Axis::Depth {
        (half(opening.across), half(opening.up), 1)
    } else {
        (half(opening.up), half(opening.across), 0)
    };
    let middle_width = (bounds.min[WIDTH] + bounds.max[WIDTH]) / 2.0;
    let mut holes = Vec::new();
    if (plane - middle_width).abs() < across_plane {
        let middle = (rect.min[axis] + rect.max[axis]) / 2.0;
        let mut hole = rect;
        hole.min[axis] = middle - along;
        hole.max[axis] = middle + along;
        holes.push(hole);
    }
    rect.without(&holes).into_iter().map(|piece| view.rect(Style::Cut, piece)).collect()
}

/// Depth and height a body takes in the plane, if the plane cuts it. Of a cone the larger end counts.
pub(super) fn cut_span(solid: &Solid, plane: f64) -> Option<Span> {
    let bounds = solid.bounds();
    if plane <= bounds.min[WIDTH] || plane >= bounds.max[WIDTH] {
        return None;
    }
    let mut rect = span(&bounds, DEPTH);
    let round = match *solid {
        Solid::Round { base, along: Axis::Depth, from, to, .. } => Some((base, from.max(to))),
        Solid::Tube { base, along: Axis::Depth, outer, .. } => Some((base, outer)),
        Solid::Round { along: Axis::Height, .. } => return Some(forms::through_level(solid, rect, plane)),
        _ => None,
    };
    if let Some((base, diameter)) = round {
        let radius = diameter.millimetres() / 2.0;
        let off = plane - base.width.millimetres();
        let chord = (radius * radius - off * off).max(0.0).sqrt();
        let middle = base.height.millimetres();
        rect.min[1] = middle - chord;
        rect.max[1] = middle + chord;
    }
    Some(rect)
}
