//! A drawing as SVG text, for the page, for export and for tests.
use std::fmt::Write;

use super::{At, Drawing, Mark, Shape, Style};

/// Distance of hatch lines in sheet units.
const HATCH: f64 = 5.0;

/// The drawing as one SVG element.
///
/// Marks carry the class of their style (`outline`, `hidden`, `centre`, `cut`, `dimension`, text `value`) and plain
/// presentation attributes, no style attribute, so that a page can restyle them and a file stands alone. `title` is
/// what a screen reader says.
#[must_use]
pub fn to_svg(drawing: &Drawing, title: &str) -> String {
    let mut svg = String::with_capacity(8192);
    let (width, height) = (number(drawing.width), number(drawing.height));
    // Writing to a String cannot fail.
    let _ = write!(
        svg,
        r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" role="img" fill="none" stroke="currentColor"><title>{}</title>"#,
        escaped(title)
    );
    for style in [Style::Cut, Style::Outline, Style::Hidden, Style::Centre, Style::Dimension] {
        let mut path = String::new();
        for mark in drawing.marks.iter().filter(|mark| mark.style == style) {
            path.push_str(&outline(mark));
            if style == Style::Cut {
                path.push_str(&hatch(&mark.shape));
            }
        }
        if !path.is_empty() {
            let _ = write!(svg, r#"<path {} d="{path}"/>"#, attributes(style));
        }
    }
    for callout in &drawing.callouts {
        let _ = write!(
            svg,
            r#"<text class="value" x="{}" y="{}" font-size="{}" text-anchor="middle" dominant-baseline="central" fill="currentColor" stroke="none">{}</text>"#,
            number(callout.at[0]),
            number(callout.at[1]),
            number(drawing.text_size),
            escaped(&callout.text)
        );
    }
    svg.push_str("</svg>");
    svg
}

fn attributes(style: Style) -> &'static str {
    match style {
        Style::Outline => r#"class="outline" stroke-width="1.5""#,
        Style::Hidden => r#"class="hidden" stroke-width="1" stroke-dasharray="4 3""#,
        Style::Centre => r#"class="centre" stroke-width="0.7" stroke-dasharray="9 3 2 3""#,
        Style::Cut => r#"class="cut" stroke-width="0.8""#,
        Style::Dimension => r#"class="dimension" stroke-width="0.7""#,
    }
}

/// To a hundredth, without needless zeros; what is not finite is written as 0.
fn number(value: f64) -> String {
    let rounded = if value.is_finite() { (value * 100.0).round() / 100.0 } else { 0.0 };
    // Adding zero turns −0 into 0.
    format!("{}", rounded + 0.0)
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

fn point([x, y]: At) -> String {
    format!("{} {}", number(x), number(y))
}

fn outline(mark: &Mark) -> String {
    match &mark.shape {
        Shape::Line(from, to) => format!("M{}L{}", point(*from), point(*to)),
        Shape::Rect(at, [width, height]) => {
            format!("M{}h{}v{}h{}z", point(*at), number(*width), number(*height), number(-width))
        }
        Shape::Circle([x, y], radius) => {
            let (r, across) = (number(*radius), number(2.0 * radius));
            let back = number(-2.0 * radius);
            format!("M{}a{r} {r} 0 1 0 {across} 0a{r} {r} 0 1 0 {back} 0z", point([x - radius, *y]))
        }
        Shape::Polygon(points) => {
            let corners: Vec<String> = points.iter().map(|&at| point(at)).collect();
            if corners.is_empty() { String::new() } else { format!("M{}z", corners.join("L")) }
        }
    }
}

/// Lines at 45 degrees, so far apart along an axis, within an outline of closed rings: between every second crossing with
/// its edges.
#[must_use]
#[inline(never)] // only shaped boxes and the level cut need it: it may come after the first result
pub fn hatch_within(edges: &[[At; 2]], apart: f64) -> String {
    let sums = || edges.iter().flatten().map(|at| at[0] + at[1]);
    let (low, high) = (sums().fold(f64::INFINITY, f64::min), sums().fold(f64::NEG_INFINITY, f64::max));
    let first = (low / apart).ceil();
    let count = if (high - low).is_finite() { (high / apart - first).clamp(-1.0, 2000.0) } else { -1.0 };
    let mut path = String::new();
    for i in 0..=(count as i64) {
        let c = (first + i as f64) * apart;
        let mut crossings: Vec<f64> = Vec::new();
        for [from, to] in edges {
            let (a, b) = (from[0] + from[1] - c, to[0] + to[1] - c);
            if (a < 0.0) != (b < 0.0) {
                crossings.push(from[0] + (to[0] - from[0]) * a / (a - b));
            }
        }
        crate::small::sort_by(&mut crossings, f64::total_cmp);
        for pair in crossings.chunks_exact(2) {
            path.push_str(&format!("M{}L{}", point([pair[0], c - pair[0]]), point([pair[1], c - pair[1]])));
        }
    }
    path
}

/// Lines at 45 degrees within a rectangle or a polygon.
fn hatch(shape: &Shape) -> String {
    if let Shape::Polygon(corners) = shape {
        let next = corners.iter().cycle().skip(1);
        return hatch_within(&corners.iter().zip(next).map(|(a, b)| [*a, *b]).collect::<Vec<_>>(), HATCH);
    }
    let Shape::Rect([left, top], [width, height]) = *shape else {
        return String::new();
    };
    let (right, bottom) = (left + width, top + height);
    let mut path = String::new();
    // Lines x + y = c, the same family all over the sheet, so that neighbouring boards of one layer match.
    let first = ((left + top) / HATCH).ceil();
    let count = ((right + bottom) / HATCH - first).clamp(0.0, 2000.0) as usize;
    for i in 0..=count {
        let c = (first + i as f64) * HATCH;
        let (from_x, to_x) = ((c - bottom).max(left), (c - top).min(right));
        if to_x > from_x {
            path.push_str(&format!("M{}L{}", point([from_x, c - from_x]), point([to_x, c - to_x])));
        }
    }
    path
}
