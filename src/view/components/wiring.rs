//! The wiring, drawn.
use yew::prelude::*;

use super::parts::{el, frame, line, px, text};
use crate::present::wiring_drawing::{COIL, Segment, Wire, WiringDrawing};
use crate::words::{car, table};

pub(super) fn label(at: [f64; 2], anchor: &str, class: &str, content: &str) -> Html {
    let [x, y] = at.map(px);
    el("text", &[("class", class), ("x", &x), ("y", &y), ("text-anchor", anchor)], vec![text(content)])
}

pub(super) fn dot(class: &str, at: [f64; 2], radius: &str) -> Html {
    let [x, y] = at.map(px);
    el("circle", &[("class", class), ("cx", &x), ("cy", &y), ("r", radius)], Vec::new())
}

/// A wire in its line style.
pub(super) fn wire(segment: &Segment) -> Html {
    let class = match segment.wire {
        Wire::Plus => "wire plus",
        Wire::Minus => "wire minus",
        Wire::Between => "wire between",
    };
    line(class, segment.ends)
}

/// The wiring, drawn.
pub fn wiring_view(drawing: &WiringDrawing) -> Html {
    let [corner, extent] = drawing.amplifier;
    let middle = [corner[0] + extent[0] / 2.0, corner[1] + extent[1] / 2.0 + 5.0];
    let mut parts = vec![frame("edge", corner, extent), label(middle, "middle", "val", car::AMPLIFIER_SHORT)];
    parts.extend(drawing.segments.iter().map(wire));
    parts.extend(drawing.joints.iter().map(|at| dot("joint", *at, "3")));
    parts.extend(drawing.posts.iter().map(|at| dot("post", *at, "4")));
    for coil in &drawing.coils {
        let [x, y] = coil.at;
        parts.push(frame("edge paper", [x - COIL[0] / 2.0, y - COIL[1] / 2.0], COIL));
        parts.push(label([x, y + 5.0], "middle", "val", &table::coil_name(&coil.coil.to_string())));
    }
    for sign in &drawing.signs {
        parts.push(label(sign.at, "middle", "val", if sign.plus { "+" } else { "−" }));
    }
    let [width, height] = drawing.size.map(px);
    let view = format!("0 0 {width} {height}");
    let attributes = [
        ("class", "wiring"),
        ("viewBox", view.as_str()),
        ("width", &width),
        ("height", &height),
        ("role", "img"),
        ("aria-label", car::DIAGRAM),
    ];
    el("svg", &attributes, parts)
}
