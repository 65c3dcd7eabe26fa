//! The wiring, drawn.
use yew::prelude::*;

use super::parts::{el, px, scroll, text};
use crate::present::wiring_drawing::{COIL, Wire, WiringDrawing};
use crate::words::{car, table};

fn label(at: [f64; 2], anchor: &str, class: &str, content: &str) -> Html {
    let [x, y] = at.map(px);
    el("text", &[("class", class), ("x", &x), ("y", &y), ("text-anchor", anchor)], vec![text(content)])
}

fn dot(class: &str, at: [f64; 2], radius: &str) -> Html {
    let [x, y] = at.map(px);
    el("circle", &[("class", class), ("cx", &x), ("cy", &y), ("r", radius)], Vec::new())
}

fn frame(class: &str, at: [f64; 2], size: [f64; 2]) -> Html {
    let ([x, y], [w, h]) = (at.map(px), size.map(px));
    el("rect", &[("class", class), ("x", &x), ("y", &y), ("width", &w), ("height", &h)], Vec::new())
}

/// The wiring, drawn, in a frame that can be moved sideways.
pub fn wiring_view(drawing: &WiringDrawing) -> Html {
    scroll(car::DIAGRAM, wiring_svg(drawing))
}

/// The drawing of the wiring alone.
pub fn wiring_svg(drawing: &WiringDrawing) -> Html {
    let [plus, minus] = drawing.posts;
    let mut parts = vec![
        frame("edge", [8.0, plus[1] - 16.0], [44.0, minus[1] - plus[1] + 32.0]),
        label([30.0, (plus[1] + minus[1]) / 2.0], "middle", "val", car::AMPLIFIER_SHORT),
    ];
    for segment in &drawing.segments {
        let class = match segment.wire {
            Wire::Plus => "wire plus",
            Wire::Minus => "wire minus",
            Wire::Between => "wire between",
        };
        let [[x1, y1], [x2, y2]] = segment.ends.map(|end| end.map(px));
        parts.push(el(
            "line",
            &[("class", class), ("x1", &x1), ("y1", &y1), ("x2", &x2), ("y2", &y2)],
            Vec::new(),
        ));
    }
    parts.extend(drawing.joints.iter().map(|at| dot("joint", *at, "3")));
    for ([x, y], sign) in drawing.posts.into_iter().zip(["+", "−"]) {
        parts.push(dot("post", [x + 22.0, y], "4"));
        parts.push(label([x + 32.0, y - 6.0], "start", "val", sign));
    }
    for coil in &drawing.coils {
        let [x, y] = coil.at;
        parts.push(frame("edge paper", [x - COIL[0] / 2.0, y - COIL[1] / 2.0], COIL));
        parts.push(label([x, y + 5.0], "middle", "val", &table::coil_name(&coil.coil.to_string())));
        parts.push(label([x + 6.0, y - COIL[1] / 2.0 - 4.0], "start", "", "+"));
        parts.push(label([x + 6.0, y + COIL[1] / 2.0 + 13.0], "start", "", "−"));
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
