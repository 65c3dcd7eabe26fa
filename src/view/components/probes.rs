//! Where the probes go, drawn.
use yew::prelude::*;

use super::parts::{el, frame, line, px};
use super::wiring::{dot, label, wire};
use crate::present::probe_drawing::{Anchor, Lead, ProbeDrawing};

/// Half the size of a probe's mark.
const MARK: f64 = 12.0;

fn lead(lead: Lead, at: [f64; 2]) -> Vec<Html> {
    let [x, y] = at;
    let (letter, mark) = match lead {
        Lead::Red => {
            let r = MARK * 1.3;
            let corners =
                [[x, y - r], [x + r, y], [x, y + r], [x - r, y]].map(|[x, y]| [px(x), px(y)].join(","));
            ("R", el("polygon", &[("class", "probe red"), ("points", &corners.join(" "))], Vec::new()))
        }
        Lead::Black => ("B", frame("probe black", [x - MARK, y - MARK], [2.0 * MARK, 2.0 * MARK])),
    };
    let class = if lead == Lead::Red { "val on-red" } else { "val on-black" };
    vec![mark, label([x, y + 5.0], "middle", class, letter)]
}

/// The picture for the hand that holds the phone.
#[inline(never)]
pub fn for_hand(left: bool, drawing: ProbeDrawing, words: &str) -> Html {
    probe_view(&if left { drawing.mirrored() } else { drawing }, words)
}

/// The picture; `words` say the same.
fn probe_view(drawing: &ProbeDrawing, words: &str) -> Html {
    let mut parts: Vec<Html> = Vec::new();
    parts.extend(drawing.rings.iter().map(|(at, radius)| dot("ring", *at, &px(*radius))));
    parts.extend(drawing.boxes.iter().map(|[corner, size]| frame("edge", *corner, *size)));
    parts.extend(drawing.strokes.iter().map(|ends| line("edge", *ends)));
    parts.extend(drawing.wires.iter().map(wire));
    parts.extend(drawing.tips.iter().map(|ends| line("tip", *ends)));
    parts.extend(drawing.terminals.iter().map(|at| dot("post", *at, "4.5")));
    parts.extend(drawing.leads.iter().flat_map(|(which, at)| lead(*which, *at)));
    parts.extend(drawing.labels.iter().map(|text| {
        let anchor = match text.anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        label(text.at, anchor, "", &text.text)
    }));
    let [width, height] = drawing.size.map(px);
    let view = format!("0 0 {width} {height}");
    let attributes =
        [("class", "wiring probes"), ("viewBox", view.as_str()), ("role", "img"), ("aria-label", words)];
    el("svg", &attributes, parts)
}
