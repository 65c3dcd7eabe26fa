//! Each board as it is drawn and drilled: its outline and every hole in it, from the solids of the assembly.
use super::assembly::{Body, BodyKind, Role};
use super::axes::{Axis, Dims, Point};
use super::legs;
use super::parts::PartId;
use super::plan::Build;
use super::polygon::{Opening, Polygon};
use super::solids::Solid;
use super::spec::{HoleShape, Window};
use crate::units::ExactLength;

/// What a hole is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HoleUse {
    /// The driver's cut-out.
    Driver,
    /// Flush recess for the driver's flange.
    Recess,
    /// A passive radiator's cut-out.
    Radiator,
    /// Mouth of a port.
    Port,
    /// Terminals.
    Terminal,
    /// Window of a brace.
    Window,
    /// A pin that holds rings in line.
    Pin,
}

/// A hole in a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hole {
    /// What it is for.
    pub use_: HoleUse,
    /// Its centre, from the board's corner: across, up.
    pub at: [ExactLength; 2],
    /// Its shape.
    pub shape: HoleShape,
    /// How deep; `None` is through the board.
    pub depth: Option<ExactLength>,
}

/// A board.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// The piece.
    pub part: PartId,
    /// Directions of the box its width and height on paper run in. All boards are seen from the front, the left side
    /// or from above.
    pub axes: [Axis; 2],
    /// Width and height on paper.
    pub size: [ExactLength; 2],
    /// Thickness.
    pub thickness: ExactLength,
    /// Holes; circles and rectangles with rounded corners.
    pub holes: Vec<Hole>,
    /// Its edge, anticlockwise, where it is no rectangle; empty for a rectangle.
    pub edge: Vec<Corner>,
    /// Openings that are neither circle nor rectangle, as edges.
    pub openings: Vec<Vec<Corner>>,
}

/// A corner of an edge in millimetres from the board's corner, and the bulge of what follows it: the tangent of a quarter
/// of the arc's angle, above zero anticlockwise, zero for a straight line.
pub type Corner = ([f64; 2], f64);

/// The axis a board's thickness lies along.
pub(super) const fn thick(part: PartId, solid: Solid) -> Axis {
    match (part, solid) {
        (_, Solid::Frame { through, .. }) => through,
        (PartId::Left | PartId::Right | PartId::PortWall(_) | PartId::Divider, _) => Axis::Width,
        (
            PartId::Top
            | PartId::Bottom
            | PartId::Tread
            | PartId::PortRoof
            | PartId::PortCeiling
            | PartId::FrontRoof,
            _,
        ) => Axis::Height,
        (PartId::Brace(..), _) => Axis::Width,
        _ => Axis::Depth,
    }
}

/// Every flat board of a box with its holes; corner strips and tubes have no outline.
#[must_use]
pub fn outlines(build: &Build) -> Vec<Outline> {
    build.assembly.bodies.iter().filter_map(|body| outline(build, body)).collect()
}

fn outline(build: &Build, body: &Body) -> Option<Outline> {
    let assembly = &build.assembly;
    let BodyKind::Board(part) = body.kind else { return None };
    let (min, size) = match body.solid {
        Solid::Block { min, size } | Solid::Frame { min, size, .. } => (min, size),
        Solid::Prism { .. } => block_around(&body.solid),
        _ => return None,
    };
    let thick = thick(part, body.solid);
    let axes = thick.face();
    let thickness = size.get(thick);
    let mut holes = Vec::new();
    if body.role == Role::Shell {
        let with_it = assembly.bodies.iter().filter(|cut| cut.turn == body.turn);
        holes.extend(with_it.filter_map(|cut| hole(cut, thick, axes, min, size)));
    }
    if let Solid::Frame { window, through, .. } = body.solid
        && window.across > ExactLength::ZERO
    {
        let half = |axis| size.get(axis).halved();
        let shape = HoleShape::Rectangle(turned(window, through, axes));
        holes.push(Hole { use_: HoleUse::Window, at: axes.map(half), shape, depth: None });
    }
    // As it is cut: a port's roof may be cut a little wider than the room it goes into.
    let size = axes.map(|axis| build.sizes.get(part, axis.into()));
    let window = match part {
        PartId::Left => Some(BodyKind::LegWindow(0)),
        PartId::Right => Some(BodyKind::LegWindow(1)),
        _ => None,
    };
    let window = assembly.bodies.iter().find(|body| Some(body.kind) == window);
    let mut edge = window.map_or(Vec::new(), |window| legs::side_edge(size, &window.solid, min));
    if let Solid::Prism { section, opening, .. } = &body.solid {
        shaped(section, *opening, (thick, size), &mut edge, &mut holes);
    }
    Some(Outline { part, axes, size, thickness, holes, edge, openings: Vec::new() })
}

/// The block around a body before it is turned.
fn block_around(solid: &Solid) -> (Point, Dims) {
    let bounds = solid.bounds();
    let at = |corner: [f64; 3]| {
        let [depth, width, height] = corner.map(ExactLength::from_millimetres);
        Dims { width, height, depth }
    };
    (at(bounds.min), at(bounds.max) - at(bounds.min))
}

/// Edge and window of a board whose section is no rectangle: seen from its side, of the size it is cut to.
#[inline(never)] // only shaped boxes need it: it may come after the first result
fn shaped(
    section: &Polygon,
    opening: Option<Opening>,
    (thick, size): (Axis, [ExactLength; 2]),
    edge: &mut Vec<Corner>,
    holes: &mut Vec<Hole>,
) {
    if thick != Axis::Width {
        return;
    }
    let [low, high] = section.bounds();
    // A side that came out deeper or higher than planned stands over there.
    let more = [0, 1].map(|i| size[i].millimetres() - (high[i] - low[i]));
    if !section.is_upright_rectangle() {
        let corner = |at: &[f64; 2]| {
            let grown = [0, 1].map(|i| at[i] - low[i] + if at[i] > high[i] - 1e-6 { more[i] } else { 0.0 });
            (grown, 0.0)
        };
        edge.extend(section.corners().iter().map(corner));
    }
    if let Some(opening) = opening {
        let at = [0, 1].map(|i| ExactLength::from_millimetres(opening.middle[i] - low[i]));
        holes.push(Hole {
            use_: HoleUse::Window,
            at,
            shape: HoleShape::Rectangle(opening.window),
            depth: None,
        });
    }
}

/// A window whose sides run along [`Axis::others`], with its sides as they lie on paper.
fn turned(window: Window, through: Axis, axes: [Axis; 2]) -> Window {
    if through.others()[0] == axes[0] {
        window
    } else {
        Window::new(window.up, window.across, window.corner_radius)
    }
}

/// The hole a body makes in a board, if it does.
fn hole(cut: &Body, thick: Axis, axes: [Axis; 2], min: Point, size: Dims) -> Option<Hole> {
    let use_ = match (cut.kind, cut.role) {
        (BodyKind::DriverHole(_), _) => HoleUse::Driver,
        (BodyKind::Recess(_), _) => HoleUse::Recess,
        (BodyKind::RadiatorHole(_), _) => HoleUse::Radiator,
        (BodyKind::PortMouth(_), Role::Cut) => HoleUse::Port,
        (BodyKind::TerminalHole, _) => HoleUse::Terminal,
        (BodyKind::TerminalWindow, _) => HoleUse::Window,
        (BodyKind::LegWindow(_), _) => HoleUse::Window,
        _ => return None,
    };
    let (base, length, centre, shape) = match cut.solid {
        Solid::Round { base, along, length, from, .. } if along == thick => {
            (base.get(thick), length, base, HoleShape::Round(from))
        }
        Solid::RoundedBlock { min: at, size, through, corner_radius } if through == thick => {
            let window = Window::new(size.get(axes[0]), size.get(axes[1]), corner_radius);
            (at.get(thick), size.get(thick), middle(at, size), HoleShape::Rectangle(window))
        }
        Solid::Block { min: at, size } if thick == Axis::Depth => {
            let window = Window::new(size.get(axes[0]), size.get(axes[1]), ExactLength::ZERO);
            (at.get(thick), size.get(thick), middle(at, size), HoleShape::Rectangle(window))
        }
        _ => return None,
    };
    let (low, high) = (min.get(thick), min.get(thick) + size.get(thick));
    let deep = (base + length).min(high) - base.max(low);
    let inside = axes
        .iter()
        .all(|&axis| centre.get(axis) >= min.get(axis) && centre.get(axis) <= min.get(axis) + size.get(axis));
    // A driver's hole goes on through what its recess leaves of the board.
    let ends_inside = deep < size.get(thick) && use_ != HoleUse::Driver;
    (deep > ExactLength::ZERO && inside).then(|| Hole {
        use_,
        at: axes.map(|axis| centre.get(axis) - min.get(axis)),
        shape,
        depth: ends_inside.then_some(deep),
    })
}

fn middle(min: Point, size: Dims) -> Point {
    Dims::of(|axis| min.get(axis) + size.get(axis).halved())
}
