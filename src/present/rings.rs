//! A stack of rings as rows, templates and drawings.
use std::fmt::Write;

use super::assembling::{Frame, Picture, StepView};
use super::bench::Row;
use super::cutting::{BillRow, driver_supplies, glue};
use super::format::fixed;
use super::isometric::{At, Eye, visible};
use super::tables::PartRow;
use super::templates::Template;
use crate::design::document::Sheet;
use crate::design::evaluate::{Layer, LayerUse, RingReport};
use crate::design::limits::FieldId;
use crate::model::geometry::faces::{Polyhedron, prism};
use crate::model::geometry::rings::{Contour, placed};
use crate::model::geometry::{Axis, Corner, End, Hole, HoleShape, HoleUse, Outline, PartId};
use crate::units::{ExactLength, Mass, Quantity, UnitPrefs, Volume};
use crate::words::rings as words;

/// What a layer is called.
#[must_use]
pub fn layer_name(use_: LayerUse) -> String {
    match use_ {
        LayerUse::Bottom => words::BOTTOM_PLATE.into(),
        LayerUse::Rings { first, last } => words::rings(first, last),
        LayerUse::Baffle => words::BAFFLE.into(),
    }
}

fn file(use_: LayerUse) -> String {
    match use_ {
        LayerUse::Bottom => "bottom-plate".into(),
        LayerUse::Rings { first, .. } => format!("ring-{first}"),
        LayerUse::Baffle => "baffle-plate".into(),
    }
}

/// The templates: every outline with its opening, pins and drivers' holes.
#[must_use]
pub fn templates(found: &RingReport) -> Vec<Template> {
    found.layers().iter().map(|layer| template(found, layer)).collect()
}

fn template(found: &RingReport, layer: &Layer<'_>) -> Template {
    let (edge, corner, size) = placed(layer.outer);
    let at = |place: &[f64; 2]| [0, 1].map(|i| ExactLength::from_millimetres(place[i] - corner[i]));
    let round = |use_, place: &[f64; 2], diameter| Hole {
        use_,
        at: at(place),
        shape: HoleShape::Round(diameter),
        depth: None,
    };
    let mut holes = Vec::new();
    if layer.inner.is_some() {
        let pins = found.stack.pins.iter();
        holes.extend(pins.map(|place| round(HoleUse::Pin, place, found.spec.pin_diameter)));
    }
    if layer.use_ == LayerUse::Baffle && found.cutout > ExactLength::ZERO {
        holes.extend(found.drivers.iter().map(|place| round(HoleUse::Driver, place, found.cutout)));
    }
    let outline = Outline {
        part: PartId::Front(0),
        axes: [Axis::Width, Axis::Depth],
        size: size.map(ExactLength::from_millimetres),
        thickness: found.spec.thickness,
        holes,
        edge,
        openings: layer.inner.map(|inner| inner.edge(corner)).into_iter().collect::<Vec<Vec<Corner>>>(),
    };
    Template { file: file(layer.use_), title: layer_name(layer.use_), count: layer.count, outline }
}

/// The lines of the cut list: the rectangle each layer is routed from.
#[must_use]
pub fn parts(found: &RingReport, step: ExactLength, prefs: &UnitPrefs) -> Vec<PartRow> {
    let thickness = prefs.length_text(found.spec.thickness);
    let row = |layer: &Layer<'_>| {
        let [width, depth] = layer.blank(step).map(|size| prefs.length_text(size));
        let area = layer.area().square_metres();
        let kilograms = area * found.spec.thickness.metres() * found.spec.density_kg_m3;
        PartRow {
            name: format!("{} × {}", layer.count, layer_name(layer.use_)),
            size: format!("{width} × {depth} × {thickness}"),
            edges: format!("{} cm², {} kg", fixed(area * 1e4, 1), fixed(kilograms, 2)),
        }
    };
    found.layers().iter().map(row).collect()
}

/// What a stack needs beside its boards.
#[must_use]
pub fn supplies(found: &RingReport, sheet: &Sheet, prefs: &UnitPrefs) -> Vec<BillRow> {
    let mut rows = vec![glue(found.glued().square_metres())];
    if !found.stack.pins.is_empty() {
        // Through every ring.
        let length = prefs.length_text(found.spec.thickness * found.spec.rings as i64);
        let size =
            format!("{}: ⌀ {} × {length}", words::PIN_BILL, prefs.length_text(found.spec.pin_diameter));
        rows.push((size, found.stack.pins.len().to_string(), "×"));
    }
    if let Some(flange) = sheet.length(FieldId::OutsideDiameter).filter(|_| found.cutout > ExactLength::ZERO)
    {
        rows.extend(driver_supplies([flange, found.cutout], found.drivers.len() as u8, sheet));
    }
    rows
}

/// What is lifted, and what pulls at its fixings in a crash.
#[must_use]
pub fn cautions(found: &RingReport, driver: Option<Mass>) -> Vec<String> {
    let drivers = driver.map_or(0.0, Mass::kilograms) * found.drivers.len() as f64;
    let total = Mass::from_kilograms(found.stack.mass.kilograms() + drivers);
    super::bench::load_cautions(total)
}

/// The air, line by line; `net` is what the sound is worked out with, from which the tubes follow.
#[must_use]
pub fn ledger(found: &RingReport, net: Option<Volume>) -> Vec<Row> {
    let litres = |volume: Volume| fixed(volume.litres(), 2);
    let mut rows = vec![(words::LEDGER_AIR, litres(found.stack.air), "L")];
    if found.holes.litres() > 0.0 {
        rows.push((words::LEDGER_HOLES, format!("+{}", litres(found.holes)), "L"));
    }
    if found.bodies.litres() > 0.0 {
        rows.push((words::LEDGER_BODIES, format!("−{}", litres(found.bodies)), "L"));
    }
    let net = net.unwrap_or(found.net);
    let tubes = (found.net - net).litres();
    if tubes > 1e-6 {
        rows.push((words::LEDGER_PORT, format!("−{}", fixed(tubes, 2)), "L"));
    }
    rows.push((words::LEDGER_NET, litres(net), "L"));
    rows
}

/// Sizes and weight.
#[must_use]
pub fn figures(found: &RingReport, prefs: &UnitPrefs) -> Vec<Row> {
    let unit = prefs.unit_for(Quantity::Length).symbol();
    let length = |mm: f64| prefs.length_text(ExactLength::from_millimetres((mm * 10.0).round() / 10.0));
    let centre = found.stack.centre_mm.map(|mm| prefs.length_text(ExactLength::from_millimetres(mm.round())));
    vec![
        (words::HEIGHT, prefs.length_text(found.stack.depth), unit),
        (words::COMMON, length(found.stack.common_mm), unit),
        (words::WEIGHT, fixed(found.stack.mass.kilograms(), 1), "kg"),
        (words::CENTRE, centre.join(", "), unit),
    ]
}

/// What to mind.
#[must_use]
pub fn notes(found: &RingReport) -> Vec<&'static str> {
    let mut all = Vec::new();
    if found.spec.pins > 0 && found.stack.pins.is_empty() {
        all.push(words::NO_PINS);
    }
    if found.cutout > ExactLength::ZERO && found.beside_hole_mm < 0.0 {
        all.push(words::DRIVER_WIDE);
    }
    if found.behind_driver.is_some_and(|room| room <= ExactLength::ZERO) {
        all.push(words::DRIVER_DEEP);
    }
    all
}

/// Width of a drawing in its own units.
const WIDTH: f64 = 320.0;

/// The outlines from above: the bottom's ring, pins and drivers, and as `before` those of the baffle's end.
#[must_use]
pub fn plan(found: &RingReport) -> Picture {
    let (Some(first), Some(last)) = (found.stack.rings.first(), found.stack.rings.last()) else {
        return Picture { size: [WIDTH; 2], before: String::new(), new: String::new(), glue: String::new() };
    };
    let bounds = [first.outer.bounds(), last.outer.bounds()];
    let min = [0, 1].map(|i| bounds[0][0][i].min(bounds[1][0][i]));
    let max = [0, 1].map(|i| bounds[0][1][i].max(bounds[1][1][i]));
    let scale = WIDTH / (max[0] - min[0]).max(1.0);
    let at = |[x, y]: At| [(x - min[0]) * scale, (max[1] - y) * scale];
    let closed = |points: Vec<At>| {
        let corners: Vec<String> = points
            .into_iter()
            .map(|point| {
                let [x, y] = at(point);
                format!("{x:.1} {y:.1}")
            })
            .collect();
        format!("M{}Z", corners.join("L"))
    };
    let circle = |centre: &At, diameter: f64| {
        let r = diameter / 2.0 * scale;
        let [x, y] = at(*centre);
        format!(
            "M{:.1} {y:.1}a{r:.1} {r:.1} 0 1 0 {:.1} 0a{r:.1} {r:.1} 0 1 0 {:.1} 0Z",
            x - r,
            2.0 * r,
            -2.0 * r
        )
    };
    let mut before = closed(last.outer.polyline()) + &closed(last.inner.polyline());
    for place in &found.drivers {
        let _ = write!(before, "{}", circle(place, found.cutout.millimetres()));
    }
    let mut new = closed(first.outer.polyline()) + &closed(first.inner.polyline());
    for place in &found.stack.pins {
        let _ = write!(new, "{}", circle(place, found.spec.pin_diameter.millimetres()));
    }
    Picture { size: [WIDTH, (max[1] - min[1]) * scale], before, new, glue: String::new() }
}

/// The stack as it stands, drivers' holes in the baffle.
#[must_use]
pub fn stack_drawn(found: &RingReport) -> Picture {
    let pieces = pieces(found);
    let all: Vec<&Polyhedron> = pieces.iter().collect();
    super::assembling::framed(&pieces, EYE, &visible(&all, EYE))
}

/// From where a stack is seen: its baffle from above.
const EYE: Eye = Eye([End::Low, End::High, End::High]);

/// Every layer as a body, from the bottom up.
fn pieces(found: &RingReport) -> Vec<Polyhedron> {
    let thickness = found.spec.thickness.millimetres();
    let layers = found.layers();
    let all = layers.iter().flat_map(|layer| std::iter::repeat_n(layer, layer.count));
    let body = |(number, layer): (usize, &Layer<'_>)| {
        let low = number as f64 * thickness;
        prism(PartId::Front(0), Axis::Height, &edges(found, layer), [low, low + thickness])
    };
    all.enumerate().map(body).collect()
}

/// Edges of a layer: a fold between short chords is part of an arc.
fn edges(found: &RingReport, layer: &Layer<'_>) -> Vec<Vec<([f64; 2], bool)>> {
    let smooth = |contour: &Contour| contour.polyline().into_iter().map(|at| (at, true)).collect();
    let mut all = vec![smooth(layer.outer)];
    all.extend(layer.inner.map(smooth));
    if layer.use_ == LayerUse::Baffle && found.cutout > ExactLength::ZERO {
        let r = found.cutout.millimetres() / 2.0;
        all.extend(found.drivers.iter().map(|place| {
            let corner = |n| {
                let (sin, cos) = (f64::from(n) / 48.0 * std::f64::consts::TAU).sin_cos();
                ([place[0] + r * cos, place[1] + r * sin], true)
            };
            (0..48).map(corner).collect()
        }));
    }
    all
}

/// How a stack is put together: the bottom, the rings on it, what is done while it is open, the baffle.
#[must_use]
pub fn steps(found: &RingReport) -> Vec<StepView> {
    let all = pieces(found);
    let (below, rings) = (usize::from(found.spec.back_plates), found.spec.rings);
    let frame = Frame::around(&all, EYE);
    let picture = |before: usize, count: usize| {
        let standing: Vec<&Polyhedron> = all.iter().take(count).collect();
        frame.picture(&visible(&standing, EYE), before)
    };
    let step = |tick: &str, title: &str, how: String, picture| StepView {
        tick: format!("glue stack {tick}"),
        title: title.into(),
        how,
        picture,
    };
    let open = below + rings;
    let pinned = if found.stack.pins.is_empty() { words::BY_EDGE } else { words::BY_PINS };
    vec![
        step("bottom", words::STEP_BOTTOM, words::laminate(below), picture(0, below)),
        step("rings", words::STEP_RINGS, pinned.into(), picture(below, open)),
        step("inside", words::STEP_INSIDE, words::INSIDE.into(), picture(open, open)),
        step("baffle", words::STEP_BAFFLE, words::laminate(all.len() - open), picture(open, all.len())),
    ]
}
