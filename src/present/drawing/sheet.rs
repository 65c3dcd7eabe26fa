//! Which dimensions there are, and the place of everything on the sheet.
//!
//! Columns: the height's text, the front view, a slot's height, the section. Rows: diameters and front thickness
//! above the views, widths and lengths below. Every text has a cell of its own, so no two can overlap; a view narrower
//! than its texts leaves the rest of its column empty.
mod forms;

use crate::model::geometry::edges::BACK;
use crate::model::geometry::{Assembly, Axis, BodyKind, BoxSpec, Solid};
use crate::units::ExactLength;

use super::marks::View;
use super::{At, Callout, FieldHint, Mark, Shape, Sheet, Style, text_width};

/// Where a dimension's text goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Place {
    /// Above the front view.
    AboveFront,
    /// Below the front view.
    BelowFront,
    /// Above the section.
    AboveSection,
    /// Below the section.
    BelowSection,
    /// Left of the front view.
    Left,
    /// Between front view and section.
    Between,
}

/// A dimension before it has a place: both ends in millimetres of its view.
#[derive(Clone, Debug)]
pub(super) struct Dimensioned {
    place: Place,
    from: [f64; 2],
    to: [f64; 2],
    value: ExactLength,
    text: String,
    field: Option<FieldHint>,
}

/// The sheet divided up.
#[derive(Clone, Debug)]
pub(super) struct Layout {
    pub(super) width: f64,
    pub(super) height: f64,
    pub(super) text_size: f64,
    pub(super) front: View,
    pub(super) section: View,
    front_column: [f64; 2],
    section_column: [f64; 2],
    views: [f64; 2],
}

/// Margin around everything.
const MARGIN: f64 = 6.0;
/// Height of a row, as a multiple of the text.
const ROW: f64 = 1.6;

/// The dimensions, from the solids.
pub(super) fn dimensions(
    spec: &BoxSpec,
    assembly: &Assembly,
    label: &dyn Fn(ExactLength) -> String,
) -> Vec<Dimensioned> {
    let [depth, width, height] = assembly.outside.millimetres();
    let mut found = Vec::new();
    let mut add = |place, from, to, value, field| {
        let diameter = matches!(
            field,
            Some(
                FieldHint::CutOut | FieldHint::PortDiameter | FieldHint::FrontDiameter | FieldHint::Radiator
            )
        );
        let sign = if diameter { "⌀" } else { "" };
        let text = format!("{sign}{}", label(value));
        found.push(Dimensioned { place, from, to, value, text, field });
    };
    let outside = assembly.outside;
    add(Place::BelowFront, [0.0, 0.0], [width, 0.0], outside.width, Some(FieldHint::Width));
    add(Place::Left, [0.0, 0.0], [0.0, height], outside.height, Some(FieldHint::Height));
    add(Place::BelowSection, [0.0, 0.0], [depth, 0.0], outside.depth, Some(FieldHint::Depth));
    let front = assembly.front_thickness;
    // Of a leaning front it would stand askew.
    if spec.profile.is_none_or(|profile| profile.setback == ExactLength::ZERO) {
        let (place, field) = (Place::AboveSection, Some(FieldHint::FrontThickness));
        add(place, [0.0, height], [front.millimetres(), height], front, field);
    }
    let legs = leg_height(assembly);
    if legs > ExactLength::ZERO {
        add(Place::BelowSection, [-legs.millimetres(), 0.0], [0.0, 0.0], legs, None);
    }
    for body in &assembly.bodies {
        match (body.kind, body.solid) {
            (BodyKind::DriverHole(0), Solid::Round { base, along: Axis::Depth, from, .. }) => {
                let (at, radius) = ([base.width, base.height], from.millimetres() / 2.0);
                let [x, y] = at.map(ExactLength::millimetres);
                add(Place::AboveFront, [x - radius, y], [x + radius, y], from, Some(FieldHint::CutOut));
            }
            (BodyKind::PortAir(0), Solid::Round { base, along: Axis::Depth, from, .. }) => {
                let (at, radius) = ([base.width, base.height], from.millimetres() / 2.0);
                let [x, y] = at.map(ExactLength::millimetres);
                let field = Some(FieldHint::PortDiameter);
                add(Place::AboveFront, [x - radius, y], [x + radius, y], from, field);
            }
            // Behind a divider it is as wide as the room there.
            (BodyKind::PortMouth(0), Solid::Block { min, size })
                if size.width < assembly.inside.width && assembly.front_port.is_none() =>
            {
                let from = [min.width.millimetres(), min.height.millimetres()];
                let to = [(min.width + size.width).millimetres(), from[1]];
                add(Place::BelowFront, from, to, size.width, Some(FieldHint::PortWidth));
            }
            _ => {}
        }
    }
    if !assembly.layout.elsewhere.is_empty()
        && let Some((place, [from, to], value)) = forms::elsewhere(spec, assembly)
    {
        add(place, from, to, value, Some(FieldHint::CutOut));
    }
    if !assembly.layout.others.is_empty() || assembly.front_port.is_some() {
        for (place, [from, to], value, field) in forms::dimensions(assembly) {
            add(place, from, to, value, field);
        }
    }
    if let Some(port) = assembly.port.filter(|_| assembly.front_port.is_none()) {
        let low = assembly.inside_min.height.millimetres();
        if !port.round {
            let high = low + port.height.millimetres();
            add(Place::Between, [0.0, low], [0.0, high], port.height, Some(FieldHint::PortHeight));
        }
        let up = assembly
            .bodies
            .iter()
            .find(|body| body.kind == BodyKind::PortMouth(0))
            .map_or(low, |body| body.solid.bounds().min[2]);
        let straight =
            ([[0.0, up], [port.length.millimetres(), up]], port.length, Some(FieldHint::PortLength));
        let bent = if port.bends > 0 { forms::bend(assembly) } else { None };
        let ([from, to], value, field) = bent.map_or(straight, |(ends, value)| (ends, value, None));
        add(Place::BelowSection, from, to, value, field);
    }
    if let Some(profile) = &spec.profile {
        super::shaped::dimensions(profile, assembly, &mut |above, from, to, field| {
            let value = ExactLength::from_millimetres((to[0] - from[0]).hypot(to[1] - from[1]));
            let place = match above {
                Some(true) => Place::AboveSection,
                Some(false) => Place::BelowSection,
                None => Place::Between,
            };
            add(place, from, to, value, field);
        });
    } else if let Some(rear) = rear_of_driver(assembly, spec) {
        let magnet = spec.driver.as_ref().map_or(ExactLength::ZERO, |driver| driver.magnet);
        let inner_back = assembly.front_thickness + assembly.depth_behind_drivers(magnet) - rear.0;
        if inner_back > ExactLength::ZERO && assembly.inside.depth > ExactLength::ZERO {
            let from = rear.0.millimetres();
            let to = from + inner_back.millimetres();
            add(Place::BelowSection, [from, rear.1], [to, rear.1], inner_back, None);
        }
    }
    // Short dimensions stand next to the view, long ones outside them, so that fewer lines cross a text.
    let span = |d: &Dimensioned| (d.to[0] - d.from[0]).hypot(d.to[1] - d.from[1]);
    found.sort_unstable_by(|a, b| span(a).total_cmp(&span(b)));
    found
}

/// Depth of the first driver's rear and the lower edge of its magnet.
fn rear_of_driver(assembly: &Assembly, spec: &BoxSpec) -> Option<(ExactLength, f64)> {
    // With one in the back, its own magnet stands there.
    spec.driver.as_ref().filter(|driver| driver.in_front() > 0 && !driver.elsewhere.contains(&BACK))?;
    assembly.bodies.iter().find_map(|body| match (body.kind, body.solid) {
        (BodyKind::Driver(0), Solid::Round { base, along: Axis::Depth, length, to, .. }) => {
            Some((base.depth + length, base.height.millimetres() - to.millimetres() / 2.0))
        }
        _ => None,
    })
}

/// A wish within its range; what is not a number gives the usual value.
fn sane(wish: f64, usual: f64, least: f64, most: f64) -> f64 {
    if wish.is_finite() { wish.clamp(least, most) } else { usual }
}

/// Divides the sheet: columns, rows, and the largest scale at which both views fit.
pub(super) fn lay_out(assembly: &Assembly, sheet: &Sheet<'_>, dimensions: &[Dimensioned]) -> Layout {
    let text_size = sane(sheet.text_size, 12.0, 12.0, 100.0);
    let widest = |places: &[Place]| {
        let here = dimensions.iter().filter(|d| places.contains(&d.place));
        here.map(|d| text_width(&d.text, text_size)).fold(0.0, f64::max)
    };
    let rows = |place| dimensions.iter().filter(|d| d.place == place).count();
    let left = widest(&[Place::Left]) + 14.0;
    // Between the views: the slot's height with its line, or just air.
    let between = match rows(Place::Between) {
        0 => 20.0,
        _ => widest(&[Place::Between]) + 22.0,
    };
    let least = [
        widest(&[Place::AboveFront, Place::BelowFront]),
        widest(&[Place::AboveSection, Place::BelowSection]),
    ];
    let [depth, width, height] = assembly.outside.millimetres();
    let legs = leg_height(assembly).millimetres();
    let room = (sane(sheet.width, 342.0, 100.0, 1e5) - 2.0 * MARGIN - left - between)
        .max(least[0] + least[1] + 20.0);
    let taken = |scale: f64| (width * scale).max(least[0]) + ((depth + legs) * scale).max(least[1]);
    let (mut scale, mut too_large) = (0.0, sane(sheet.view_height, 200.0, 20.0, 1e5) / height.max(1.0));
    if taken(too_large) <= room {
        scale = too_large;
    } else {
        for _ in 0..60 {
            let middle = (scale + too_large) / 2.0;
            if taken(middle) <= room { scale = middle } else { too_large = middle }
        }
    }
    let row = text_size * ROW;
    let above = rows(Place::AboveFront).max(rows(Place::AboveSection)) as f64 * row + 4.0;
    let below = rows(Place::BelowFront).max(rows(Place::BelowSection)) as f64 * row + 6.0;
    // A view is at least as high as the texts beside it.
    let view_height = (height * scale).max(text_size);
    let top = MARGIN + above;
    let bottom = top + view_height;
    let column = |from: f64, size: f64| [from, from + size];
    let front_column = column(MARGIN + left, (width * scale).max(least[0]));
    let section_column = column(front_column[1] + between, ((depth + legs) * scale).max(least[1]));
    let view = |column: [f64; 2], size: f64| View {
        origin: [column[0] + (column[1] - column[0] - size * scale) / 2.0, bottom],
        scale,
    };
    Layout {
        width: section_column[1] + MARGIN,
        height: bottom + below + MARGIN,
        text_size,
        front: view(front_column, width),
        section: below_front(view(section_column, depth + legs), legs),
        front_column,
        section_column,
        views: [top, bottom],
    }
}

/// How far sides reach beyond the front.
fn leg_height(assembly: &Assembly) -> ExactLength {
    let reach = |body: &crate::model::geometry::Body| match (body.kind, body.solid) {
        (BodyKind::Board(_), Solid::Block { min, .. }) => -min.depth,
        _ => ExactLength::ZERO,
    };
    assembly.bodies.iter().map(reach).fold(ExactLength::ZERO, ExactLength::max)
}

/// The section with room for legs at its left.
fn below_front(view: View, legs: f64) -> View {
    View { origin: [view.origin[0] + legs * view.scale, view.origin[1]], scale: view.scale }
}

/// Gives every dimension its text and its lines.
pub(super) fn place(layout: &Layout, dimensions: &[Dimensioned], marks: &mut Vec<Mark>) -> Vec<Callout> {
    let mut callouts = Vec::with_capacity(dimensions.len());
    for (number, wanted) in dimensions.iter().enumerate() {
        let row = dimensions.iter().take(number).filter(|d| d.place == wanted.place).count();
        let view = match wanted.place {
            Place::AboveFront | Place::BelowFront | Place::Left => layout.front,
            _ => layout.section,
        };
        let (from, to) = (view.point(wanted.from), view.point(wanted.to));
        let half = text_width(&wanted.text, layout.text_size) / 2.0;
        let at = match wanted.place {
            Place::Left | Place::Between => beside(layout, wanted.place, from, to, half, marks),
            _ => in_row(layout, wanted.place, row, [from, to], half, marks),
        };
        callouts.push(Callout {
            from,
            to,
            at,
            text: wanted.text.clone(),
            value: wanted.value,
            field: wanted.field,
        });
    }
    callouts
}

/// A dimension across, its text in a row above or below the views, clear of its line.
fn in_row(layout: &Layout, place: Place, row: usize, ends: [At; 2], half: f64, marks: &mut Vec<Mark>) -> At {
    let [from, to] = ends;
    let step = layout.text_size * ROW;
    let offset = (row as f64 + 0.5) * step;
    let above = matches!(place, Place::AboveFront | Place::AboveSection);
    let y = if above { layout.views[0] - 2.0 - offset } else { layout.views[1] + 6.0 + offset };
    let column = match place {
        Place::AboveFront | Place::BelowFront => layout.front_column,
        _ => layout.section_column,
    };
    let middle = (from[0] + to[0]) / 2.0;
    let x = middle.max(column[0] + half).min(column[1] - half);
    // The line runs above its text.
    let line = y - layout.text_size * 0.62;
    let line = if above { y + layout.text_size * 0.62 } else { line };
    for end in [from, to] {
        let mut over = line;
        over += if above { -2.0 } else { 2.0 };
        marks.push(dimension_line(end, [end[0], over]));
    }
    marks.push(dimension_line([from[0], line], [to[0], line]));
    ticks(&[[from[0], line], [to[0], line]], marks);
    [x, y]
}

/// A dimension upwards, its text to the left of its line.
fn beside(layout: &Layout, place: Place, from: At, to: At, half: f64, marks: &mut Vec<Mark>) -> At {
    let view = if place == Place::Left { layout.front_column[0] } else { layout.section_column[0] };
    let line = view - 6.0;
    for end in [from, to] {
        marks.push(dimension_line(end, [line - 2.0, end[1]]));
    }
    marks.push(dimension_line([line, from[1]], [line, to[1]]));
    ticks(&[[line, from[1]], [line, to[1]]], marks);
    let middle = (from[1] + to[1]) / 2.0;
    // Beside a flat view the text stays within the views' rows.
    let high = layout.text_size / 2.0;
    let y = middle.min(layout.views[1] - high).max(layout.views[0] + high);
    [line - 5.0 - half, y]
}

fn dimension_line(from: At, to: At) -> Mark {
    Mark { style: Style::Dimension, shape: Shape::Line(from, to) }
}

/// Oblique strokes at the ends of a dimension line.
fn ticks(ends: &[At], marks: &mut Vec<Mark>) {
    for &[x, y] in ends {
        marks.push(dimension_line([x - 2.5, y + 2.5], [x + 2.5, y - 2.5]));
    }
}
