//! The live drawing of the box: front view and side section, from the solids of the assembly, as data.
//!
//! Coordinates are sheet units: CSS pixels when the sheet is shown at its natural width, x to the right, y downwards.
//! [`Drawing::scale`] says how many of them a millimetre takes. Text keeps its size whatever the box measures, so it
//! stays legible on a phone, and the layout gives every value a place of its own.
mod around;
mod marks;
mod shaped;
mod sheet;
mod svg;
mod views;

use crate::model::geometry::{Assembly, BoxSpec};
use crate::units::ExactLength;

pub use around::{Around, Mouth, around, mouths};
pub use svg::{hatch_within, to_svg};

/// A point on the sheet: x to the right, y downwards.
pub type At = [f64; 2];

/// What a mark means. Line style carries meaning before colour does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Style {
    /// A visible edge.
    Outline,
    /// An edge hidden behind wood: dashed.
    Hidden,
    /// A centre line: chained.
    Centre,
    /// Wood cut by the section: outlined and hatched.
    Cut,
    /// Dimension and extension lines.
    Dimension,
}

/// The geometry of a mark.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A straight line.
    Line(At, At),
    /// A rectangle: upper left corner and size.
    Rect(At, At),
    /// A circle: centre and radius.
    Circle(At, f64),
    /// A closed outline.
    Polygon(Vec<At>),
}

/// One thing drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// What it means.
    pub style: Style,
    /// Where it is.
    pub shape: Shape,
}

/// The entry a dimension belongs to, so that it can be tapped and typed over where it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FieldHint {
    /// Outside width.
    Width,
    /// Outside height.
    Height,
    /// Outside depth.
    Depth,
    /// Height of a slot port.
    PortHeight,
    /// Width of a slot port that isn't as wide as the box.
    PortWidth,
    /// Length of a port, front included.
    PortLength,
    /// Thickness of the board (the value shown is the whole front).
    FrontThickness,
    /// Length of a tube before the drivers, front included.
    FrontLength,
    /// Diameter of the driver's hole, the first of the diameters.
    CutOut,
    /// Inner diameter of a tube.
    PortDiameter,
    /// Inner diameter of a tube before the drivers.
    FrontDiameter,
    /// Height of a slot before the drivers.
    FrontHeight,
    /// Diameter of a passive radiator's hole.
    Radiator,
    /// Outside depth along the top.
    TopDepth,
    /// How far the front's upper edge stands back.
    Setback,
    /// Height of a step.
    StepHeight,
    /// Depth of the part less deep.
    StepDepth,
}

/// A dimension: what it spans, and its value with the place of its text.
#[derive(Clone, Debug, PartialEq)]
pub struct Callout {
    /// One end of what is measured.
    pub from: At,
    /// The other end.
    pub to: At,
    /// Middle of the text.
    pub at: At,
    /// The text, ⌀ in front of a diameter.
    pub text: String,
    /// The value, as cut.
    pub value: ExactLength,
    /// The entry it belongs to; `None` for a result.
    pub field: Option<FieldHint>,
}

/// A finished drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// Natural width.
    pub width: f64,
    /// Natural height.
    pub height: f64,
    /// Sheet units per millimetre.
    pub scale: f64,
    /// Height of the text.
    pub text_size: f64,
    /// Lines and areas, in drawing order.
    pub marks: Vec<Mark>,
    /// Dimensions.
    pub callouts: Vec<Callout>,
}

/// What the drawing is made for.
pub struct Sheet<'a> {
    /// Natural width; 342 on a phone of 390. At least that of the texts: long texts make the sheet wider.
    pub width: f64,
    /// Most height for the views, without the dimensions around them.
    pub view_height: f64,
    /// Height of the text, at least 12.
    pub text_size: f64,
    /// How a length is written.
    pub label: &'a dyn Fn(ExactLength) -> String,
}

/// Width a text may take, as a multiple of its height and its number of characters. Figures of the usual system fonts
/// are 0.5 to 0.6 wide (from memory).
const CHARACTER_WIDTH: f64 = 0.62;

impl Callout {
    /// The box around the text: left, top, right, bottom.
    #[must_use]
    pub fn text_box(&self, text_size: f64) -> [f64; 4] {
        let (half, high) = (text_width(&self.text, text_size) / 2.0, text_size / 2.0);
        [self.at[0] - half, self.at[1] - high, self.at[0] + half, self.at[1] + high]
    }
}

fn text_width(text: &str, text_size: f64) -> f64 {
    text.chars().count() as f64 * CHARACTER_WIDTH * text_size
}

/// Draws the box: front view to the left, section through the driver's middle to the right, dimensions around them.
///
/// Everything follows from the solids of `assembly`; `spec` only says which entry a dimension belongs to. Text is
/// 12 to 100 high and the sheet at least 100 wide whatever is asked for.
#[must_use]
pub fn draw(spec: &BoxSpec, assembly: &Assembly, sheet: &Sheet<'_>) -> Drawing {
    let dimensions = sheet::dimensions(spec, assembly, sheet.label);
    let layout = sheet::lay_out(assembly, sheet, &dimensions);
    let mut marks = views::front(assembly, layout.front);
    marks.extend(views::section(assembly, layout.section));
    let callouts = sheet::place(&layout, &dimensions, &mut marks);
    Drawing {
        width: layout.width,
        height: layout.height,
        scale: layout.front.scale,
        text_size: layout.text_size,
        marks,
        callouts,
    }
}
