//! Each board as it is drawn and drilled: its outline and every hole in it, from the solids of the assembly.
use super::assembly::{Body, BodyKind, Role};
use super::axes::{Axis, Dims, Point};
use super::parts::PartId;
use super::plan::Build;
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
    /// Mouth of a port.
    Port,
    /// Terminals.
    Terminal,
    /// Window of a brace.
    Window,
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
}

/// The axis a board's thickness lies along.
const fn thick(part: PartId, solid: Solid) -> Axis {
    match (part, solid) {
        (_, Solid::Frame { through, .. }) => through,
        (PartId::Left | PartId::Right | PartId::PortWall(_), _) => Axis::Width,
        (PartId::Top | PartId::Bottom | PartId::PortRoof, _) => Axis::Height,
        _ => Axis::Depth,
    }
}

/// Directions on paper: across, up.
const fn paper(thick: Axis) -> [Axis; 2] {
    match thick {
        Axis::Depth => [Axis::Width, Axis::Height],
        Axis::Width => [Axis::Depth, Axis::Height],
        Axis::Height => [Axis::Width, Axis::Depth],
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
        _ => return None,
    };
    let thick = thick(part, body.solid);
    let axes = paper(thick);
    let thickness = size.get(thick);
    let mut holes = Vec::new();
    if body.role == Role::Shell {
        holes.extend(assembly.bodies.iter().filter_map(|cut| hole(cut, thick, axes, min, size)));
    }
    if let Solid::Frame { window, through, .. } = body.solid {
        let half = |axis| halved(size.get(axis));
        let shape = HoleShape::Rectangle(turned(window, through, axes));
        holes.push(Hole { use_: HoleUse::Window, at: axes.map(half), shape, depth: None });
    }
    // As it is cut: a port's roof may be cut a little wider than the room it goes into.
    let size = axes.map(|axis| build.sizes.get(part, axis.into()));
    Some(Outline { part, axes, size, thickness, holes })
}

/// A window whose sides run along [`Axis::others`], with its sides as they lie on paper.
fn turned(window: Window, through: Axis, axes: [Axis; 2]) -> Window {
    if through.others()[0] == axes[0] {
        window
    } else {
        Window::new(window.up, window.across, window.corner_radius)
    }
}

fn halved(length: ExactLength) -> ExactLength {
    ExactLength::from_eighth_micrometres(length.eighth_micrometres() / 2)
}

/// The hole a body makes in a board, if it does.
fn hole(cut: &Body, thick: Axis, axes: [Axis; 2], min: Point, size: Dims) -> Option<Hole> {
    let use_ = match (cut.kind, cut.role) {
        (BodyKind::DriverHole(_), _) => HoleUse::Driver,
        (BodyKind::Recess(_), _) => HoleUse::Recess,
        (BodyKind::PortMouth(_), Role::Cut) => HoleUse::Port,
        (BodyKind::TerminalHole, _) => HoleUse::Terminal,
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
    (deep > ExactLength::ZERO && inside).then(|| Hole {
        use_,
        at: axes.map(|axis| centre.get(axis) - min.get(axis)),
        shape,
        depth: (deep < size.get(thick)).then_some(deep),
    })
}

fn middle(min: Point, size: Dims) -> Point {
    Dims::of(|axis| min.get(axis) + halved(size.get(axis)))
}
