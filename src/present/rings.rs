//! A stack of rings as rows, templates and drawings.
use std::fmt::Write;

use super::assembling::Picture;
use super::bench::Row;
use super::format::fixed;
use super::isometric::{At, Eye, visible};
use super::tables::PartRow;
use super::templates::Template;
use crate::design::evaluate::RingReport;
use crate::model::geometry::faces::{Polyhedron, prism};
use crate::model::geometry::rings::{Contour, placed};
use crate::model::geometry::{Axis, Corner, End, Hole, HoleShape, HoleUse, Outline, PartId};
use crate::units::{ExactLength, Quantity, UnitPrefs, Volume};
use crate::words::rings as words;

/// Rings that are alike, or a plate.
struct Layer<'a> {
    file: String,
    title: String,
    count: usize,
    outer: &'a Contour,
    inner: Option<&'a Contour>,
    /// Whether the pins go through it, whether the drivers do.
    pins: bool,
    drivers: bool,
}

/// From the bottom up, layers that are alike together.
fn layers(found: &RingReport) -> Vec<Layer<'_>> {
    let [bottom, top] = &found.stack.plates;
    let plate = |file: &str, title: &str, count: u8, outer, drivers| Layer {
        file: file.into(),
        title: title.into(),
        count: count.into(),
        outer,
        inner: None,
        pins: false,
        drivers,
    };
    let mut all = vec![plate("bottom-plate", words::BOTTOM_PLATE, found.spec.back_plates, bottom, false)];
    let rings = &found.stack.rings;
    let mut first = 0;
    while first < rings.len() {
        let alike = rings[first..].iter().take_while(|ring| **ring == rings[first]).count();
        all.push(Layer {
            file: format!("ring-{}", first + 1),
            title: words::rings(first + 1, first + alike),
            count: alike,
            outer: &rings[first].outer,
            inner: Some(&rings[first].inner),
            pins: true,
            drivers: false,
        });
        first += alike;
    }
    all.push(plate("baffle-plate", words::BAFFLE, found.spec.front_plates, top, true));
    all
}

/// The templates: every outline with its opening, pins and drivers' holes.
#[must_use]
pub fn templates(found: &RingReport) -> Vec<Template> {
    layers(found).iter().map(|layer| template(found, layer)).collect()
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
    if layer.pins {
        let pins = found.stack.pins.iter();
        holes.extend(pins.map(|place| round(HoleUse::Pin, place, found.spec.pin_diameter)));
    }
    if layer.drivers && found.cutout > ExactLength::ZERO {
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
    Template { file: layer.file.clone(), title: layer.title.clone(), count: layer.count, outline }
}

/// The lines of the cut list: the rectangle each layer is routed from.
#[must_use]
pub fn parts(found: &RingReport, prefs: &UnitPrefs) -> Vec<PartRow> {
    let text = |mm: f64| prefs.length_text(ExactLength::from_millimetres(mm.ceil()));
    let thickness = prefs.length_text(found.spec.thickness);
    let row = |layer: &Layer<'_>| {
        let [min, max] = layer.outer.bounds();
        let area = layer.outer.area_mm2() - layer.inner.map_or(0.0, Contour::area_mm2);
        let kilograms = area * 1e-6 * found.spec.thickness.metres() * found.spec.density_kg_m3;
        PartRow {
            name: format!("{} × {}", layer.count, layer.title),
            size: format!("{} × {} × {thickness}", text(max[0] - min[0]), text(max[1] - min[1])),
            edges: format!("{} cm², {} kg", fixed(area / 100.0, 1), fixed(kilograms, 2)),
        }
    };
    layers(found).iter().map(row).collect()
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
    let needed: f64 = layers(found)
        .iter()
        .map(|layer| {
            let [min, max] = layer.outer.bounds();
            layer.count as f64 * (max[0] - min[0]) * (max[1] - min[1]) * 1e-6
        })
        .sum();
    vec![
        (words::HEIGHT, prefs.length_text(found.stack.depth), unit),
        (words::COMMON, length(found.stack.common_mm), unit),
        (words::WEIGHT, fixed(found.stack.mass.kilograms(), 1), "kg"),
        (words::BOARD, fixed(needed, 2), "m²"),
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
        return Picture { size: [WIDTH; 2], before: String::new(), new: String::new() };
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
    Picture { size: [WIDTH, (max[1] - min[1]) * scale], before, new }
}

/// The stack as it stands, drivers' holes in the baffle.
#[must_use]
pub fn stack_drawn(found: &RingReport) -> Picture {
    let thickness = found.spec.thickness.millimetres();
    let mut pieces: Vec<Polyhedron> = Vec::new();
    let mut height = 0.0;
    for layer in layers(found) {
        for _ in 0..layer.count {
            let smooth = |contour: &Contour| {
                // A fold between short chords is part of an arc.
                contour.polyline().into_iter().map(|at| (at, true)).collect::<Vec<_>>()
            };
            let mut rings = vec![smooth(layer.outer)];
            rings.extend(layer.inner.map(smooth));
            let holes = found.drivers.iter().filter(|_| layer.drivers && found.cutout > ExactLength::ZERO);
            rings.extend(holes.map(|place| {
                let r = found.cutout.millimetres() / 2.0;
                (0..48)
                    .map(|n| {
                        let (sin, cos) = (f64::from(n) / 48.0 * std::f64::consts::TAU).sin_cos();
                        ([place[0] + r * cos, place[1] + r * sin], true)
                    })
                    .collect()
            }));
            pieces.push(prism(PartId::Front(0), Axis::Height, &rings, [height, height + thickness]));
            height += thickness;
        }
    }
    let all: Vec<&Polyhedron> = pieces.iter().collect();
    let strokes = visible(&all, Eye([End::Low, End::High, End::High]));
    super::assembling::framed(&pieces, Eye([End::Low, End::High, End::High]), &strokes)
}
