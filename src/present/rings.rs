//! A stack of rings as rows, templates and drawings.
use std::fmt::Write;

use super::assembling::{Frame, Picture, StepView};
use super::bench::Row;
use super::cutting::{BillRow, driver_supplies, glue};
use super::format::{fixed, si};
use super::isometric::{At, Eye, visible};
use super::tables::PartRow;
use super::templates::{Template, hole_name};
use crate::design::document::Sheet;
use crate::design::evaluate::{Layer, LayerUse, PlateHole, RingReport};
use crate::design::limits::FieldId;
use crate::model::geometry::faces::{CORNERS, Drawn, Edge, Polyhedron, circle, prism};
use crate::model::geometry::rings::{Contour, placed};
use crate::model::geometry::{Axis, Corner, End, Hole, HoleShape, HoleUse, Outline, PartId};
use crate::units::{ExactLength, Mass, Quantity, UnitPrefs, Volume};
use crate::words::{cutting, rings as words, table};

/// What a layer is called.
#[must_use]
pub fn layer_name(use_: LayerUse) -> String {
    match use_ {
        LayerUse::Bottom => words::BOTTOM_PLATE.into(),
        LayerUse::Rings { first, last } => words::rings(first, last),
        LayerUse::Baffle => words::BAFFLE.into(),
        LayerUse::OuterBaffle => words::OUTER_BAFFLE.into(),
    }
}

fn file(use_: LayerUse) -> String {
    match use_ {
        LayerUse::Bottom => "bottom-plate".into(),
        LayerUse::Rings { first, .. } => format!("ring-{first}"),
        LayerUse::Baffle => "baffle-plate".into(),
        LayerUse::OuterBaffle => "baffle-plate-outer".into(),
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
    let hole = |hole: &PlateHole| Hole {
        use_: hole.use_,
        at: at(&hole.at),
        shape: HoleShape::Round(hole.diameter),
        depth: hole.depth,
    };
    let holes = found.holes(layer.use_).iter().map(hole).collect();
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
        let kilograms = found.layer_mass(layer).kilograms();
        PartRow {
            name: format!("{} × {}", layer.count, layer_name(layer.use_)),
            size: format!("{width} × {depth} × {thickness}"),
            edges: format!("{} cm², {} kg", fixed(area * 1e4, 1), fixed(kilograms, 2)),
        }
    };
    let mut rows: Vec<PartRow> = found.layers().iter().map(row).collect();
    if let Some(tubes) = &found.tubes {
        let long = tubes.length.map(|length| prefs.length_text(length));
        let outer = prefs.length_text(tubes.outer);
        rows.push(PartRow {
            name: words::tube(tubes.centres.len() as u8),
            size: long.map_or_else(|| words::BY_SOUND.into(), |long| table::tube(&long, &outer)),
            edges: words::through(if tubes.in_baffle { words::BAFFLE } else { words::BOTTOM_PLATE }),
        });
    }
    rows
}

/// Every hole in a plate: for what, how large and deep, and from the plate's left and front to its centre.
#[must_use]
pub fn holes(found: &RingReport, prefs: &UnitPrefs) -> Vec<PartRow> {
    let mut rows = Vec::new();
    for layer in found.layers().iter().filter(|layer| layer.inner.is_none()) {
        let (_, corner, _) = placed(layer.outer);
        rows.extend(found.holes(layer.use_).iter().map(|hole| {
            let at = [0, 1].map(|i| ((hole.at[i] - corner[i]) * 10.0).round() / 10.0);
            let at = at.map(|at| prefs.length_text(ExactLength::from_millimetres(at)));
            let deep = hole.depth.map(|depth| cutting::deep(&prefs.length_text(depth)));
            let deep = deep.unwrap_or_else(|| cutting::THROUGH.into());
            PartRow {
                name: format!("{}: {}", layer_name(layer.use_), hole_name(hole.use_)),
                size: format!("⌀ {}, {deep}", prefs.length_text(hole.diameter)),
                edges: at.join(", "),
            }
        }));
    }
    rows
}

/// The stack in one sentence: how many rings and plates, their weight, the air.
#[must_use]
pub fn line(found: &RingReport, net: Option<Volume>, prefs: &UnitPrefs) -> String {
    words::line(
        found.spec.rings,
        found.spec.front_plates + found.spec.back_plates,
        &fixed(found.stack.mass.kilograms(), 1),
        &si(net.unwrap_or(found.net).cubic_metres(), Quantity::Volume, prefs).to_string(),
    )
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
    if let Some(tubes) = &found.tubes
        && let Some(length) = tubes.length
    {
        let [outer, length] = [tubes.outer, length].map(|size| prefs.length_text(size));
        rows.push((words::tube_bill(&outer, &length), tubes.centres.len().to_string(), "×"));
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
pub fn notes(found: &RingReport, prefs: &UnitPrefs) -> Vec<String> {
    let mut all = Vec::new();
    if found.spec.pins > 0 && found.stack.pins.is_empty() {
        all.push(words::NO_PINS.into());
    }
    if let Some(tubes) = found.tubes.as_ref().filter(|tubes| !tubes.in_baffle) {
        all.push(words::mouth_below(&super::format::length(tubes.inside, prefs).to_string()));
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
    if let Some(tubes) = &found.tubes {
        let end = if tubes.in_baffle { &mut before } else { &mut new };
        for place in &tubes.centres {
            end.push_str(&circle(place, tubes.outer.millimetres()));
        }
    }
    for place in &found.stack.pins {
        let _ = write!(new, "{}", circle(place, found.spec.pin_diameter.millimetres()));
    }
    Picture { size: [WIDTH, (max[1] - min[1]) * scale], before, new, glue: String::new() }
}

/// The stack as it stands, with the holes in its baffle.
#[must_use]
pub fn stack_drawn(found: &RingReport) -> Picture {
    let pieces = pieces(found);
    let all: Vec<&Polyhedron> = pieces.iter().collect();
    super::assembling::framed(&pieces, EYE, &visible(&all, EYE))
}

/// From where a stack is seen: its baffle from above.
const EYE: Eye = Eye([End::Low, End::High, End::High]);

/// Layers from the bottom up as bodies, those that are alike as one: where they meet is drawn, but nothing lies between.
fn pieces(found: &RingReport) -> Vec<Polyhedron> {
    let thickness = found.spec.thickness.millimetres();
    let mut low = 0.0;
    let layers = found.layers();
    let most = MOST_CORNERS[usize::from(layers.len() > MANY)];
    let body = |layer: &Layer<'_>| {
        let (edges, from) = (edges(found, layer, most), low);
        low += layer.count as f64 * thickness;
        let mut body = prism(PartId::Front(0), Axis::Height, &edges, [from, low]);
        for seam in 1..layer.count {
            seamed(&mut body, &edges, from + seam as f64 * thickness);
        }
        body
    };
    layers.iter().map(body).collect()
}

/// Adds the line in which two boards of a prism meet, at this height.
fn seamed(body: &mut Polyhedron, edges: &[Vec<Turn>], height: f64) {
    // After both ends there is a face for each side of each edge, in their order.
    let mut face = 2;
    for ring in edges {
        let next = ring.iter().cycle().skip(1);
        for ((from, _), (to, _)) in ring.iter().zip(next) {
            let ends = [*from, *to].map(|[depth, width]| [depth, width, height]);
            body.edges.push(Edge { ends, faces: [face; 2], drawn: Drawn::Always });
            face += 1;
        }
    }
}

/// A corner of an outline, and whether the edge there is a fold in something round.
type Turn = ([f64; 2], bool);

/// Most corners of an outline in a drawing in space: as many as its circles have, and fewer where there are many unlike
/// layers, whose lines lie close.
const MOST_CORNERS: [usize; 2] = [CORNERS, 32];
/// Many layers.
const MANY: usize = 8;

/// An outline turns by more than this at a corner, in radians; by less where it is an arc in chords.
const SHARP: f64 = 0.2;

/// An outline with few corners for a drawing: as near as they allow, and true where its edge is a fold in an arc.
fn sketch(contour: &Contour, most: usize) -> Vec<Turn> {
    let mut points = contour.polyline();
    points.dedup_by(|a, b| (a[0] - b[0]).hypot(a[1] - b[1]) < 1e-6);
    let count = points.len();
    let is_sharp = |i: usize| {
        let [a, b, c] = [i + count - 1, i, i + 1].map(|i| points[i % count]);
        let (into, out) = ([b[0] - a[0], b[1] - a[1]], [c[0] - b[0], c[1] - b[1]]);
        (into[0] * out[1] - into[1] * out[0]).atan2(into[0] * out[0] + into[1] * out[1]).abs() > SHARP
    };
    let sharp: Vec<bool> = (0..count).map(is_sharp).collect();
    // Twice as far off each time: a straight line is soon reached.
    let mut within = 0.1;
    loop {
        let kept = thinned(&points, &sharp, within);
        if kept.len() <= most || within > 50.0 {
            return kept.into_iter().map(|i| (points[i], !sharp[i])).collect();
        }
        within *= 1.4;
    }
}

/// Which points of a closed line stay so that none left out, nor a sharp one, lies farther off than this.
fn thinned(points: &[[f64; 2]], sharp: &[bool], within: f64) -> Vec<usize> {
    let count = points.len();
    let mut kept = vec![0];
    let mut from = 0;
    for next in 2..=count {
        let (a, b) = (points[from], points[next % count]);
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let long = dx.hypot(dy).max(1e-9);
        let off = |at: &[f64; 2]| ((at[0] - a[0]) * dy - (at[1] - a[1]) * dx).abs() / long;
        let between = points.get(from + 1..next).unwrap_or_default();
        if sharp[next - 1] || between.iter().any(|at| off(at) > within) {
            kept.push(next - 1);
            from = next - 1;
        }
    }
    kept
}

/// Edges of a layer and of the holes through it.
fn edges(found: &RingReport, layer: &Layer<'_>, most: usize) -> Vec<Vec<Turn>> {
    let mut all = vec![sketch(layer.outer, most)];
    all.extend(layer.inner.map(|inner| sketch(inner, most)));
    let holes = found.holes(layer.use_);
    let through = |hole: &&PlateHole| hole.depth.is_none() && hole.use_ != HoleUse::Pin;
    all.extend(holes.iter().filter(through).map(|hole| circle(hole.at, hole.diameter.millimetres() / 2.0)));
    // In space the depth comes first.
    all.iter_mut().flatten().for_each(|(at, _)| at.reverse());
    all
}

/// How a stack is put together: the bottom, the rings on it, what is done while it is open, the baffle.
#[must_use]
pub fn steps(found: &RingReport) -> Vec<StepView> {
    let all = pieces(found);
    let is_baffle = |layer: &&Layer<'_>| matches!(layer.use_, LayerUse::Baffle | LayerUse::OuterBaffle);
    // The bottom's boards are one body, the baffle's one or two.
    let open = all.len() - found.layers().iter().filter(is_baffle).count();
    let frame = Frame::around(&all, EYE);
    let strokes = |count: usize| visible(&all.iter().take(count).collect::<Vec<_>>(), EYE);
    // What is done inside changes no line.
    let (lowest, standing, whole) = (strokes(1), strokes(open), strokes(all.len()));
    let step = |tick: &str, title: &str, how: String, picture| StepView {
        tick: format!("glue stack {tick}"),
        title: title.into(),
        how,
        picture,
    };
    let pinned = if found.stack.pins.is_empty() { words::BY_EDGE } else { words::BY_PINS };
    let [below, above] = [found.spec.back_plates, found.spec.front_plates].map(usize::from);
    vec![
        step("bottom", words::STEP_BOTTOM, words::laminate(below), frame.picture(&lowest, 0)),
        step("rings", words::STEP_RINGS, pinned.into(), frame.picture(&standing, 1)),
        step("inside", words::STEP_INSIDE, words::INSIDE.into(), frame.picture(&standing, open)),
        step("baffle", words::STEP_BAFFLE, words::laminate(above), frame.picture(&whole, open)),
    ]
}
