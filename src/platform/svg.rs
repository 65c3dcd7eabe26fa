//! A drawing as SVG text, shape by shape: what the canvas shows, to be saved.

use plotters_backend::text_anchor::{HPos, Pos, VPos};
use plotters_backend::{BackendColor, BackendCoord};
use std::fmt::Write;

/// A drawing in the making.
pub struct Sheet {
    shapes: String,
    head: String,
}

impl Sheet {
    /// An empty drawing of `units` drawing units, shown at `size` CSS pixels.
    pub fn new(units: (u32, u32), size: (f64, f64)) -> Self {
        let head = format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" width="{:.0}" height="{:.0}" viewBox="0 0 {} {}">"#,
            size.0, size.1, units.0, units.1
        );
        Self { shapes: String::new(), head }
    }

    /// The whole text.
    pub fn text(&self) -> String {
        format!("{}\n{}</svg>\n", self.head, self.shapes)
    }

    /// A line through points; filled without a stroke width, closed if asked.
    pub fn path(&mut self, points: &[BackendCoord], color: BackendColor, stroke: Option<u32>, closed: bool) {
        let mut d = String::new();
        for (i, (x, y)) in points.iter().enumerate() {
            // Writing to a String can't fail.
            let _ = write!(d, "{}{x} {y}", if i == 0 { 'M' } else { 'L' });
        }
        if closed {
            d.push('Z');
        }
        let _ = writeln!(self.shapes, r#"<path d="{d}" {}/>"#, paint(color, stroke));
    }

    /// A circle; filled without a stroke width.
    pub fn circle(&mut self, (x, y): BackendCoord, radius: u32, color: BackendColor, stroke: Option<u32>) {
        let paint = paint(color, stroke);
        let _ = writeln!(self.shapes, r#"<circle cx="{x}" cy="{y}" r="{radius}" {paint}/>"#);
    }

    /// A text.
    pub fn words(&mut self, text: &str, (x, y): BackendCoord, size: f64, anchor: &Pos, color: BackendColor) {
        let along = match anchor.h_pos {
            HPos::Left => "start",
            HPos::Center => "middle",
            HPos::Right => "end",
        };
        let down = match anchor.v_pos {
            VPos::Top => 0.8,
            VPos::Center => 0.35,
            VPos::Bottom => -0.2,
        };
        let escaped = text.replace('&', "&amp;").replace('<', "&lt;");
        let _ = writeln!(
            self.shapes,
            r#"<text x="{x}" y="{:.0}" font-family="sans-serif" font-size="{size:.0}" text-anchor="{along}" {}>{escaped}</text>"#,
            f64::from(y) + down * size,
            paint(color, None),
        );
    }
}

fn paint(color: BackendColor, stroke: Option<u32>) -> String {
    let (red, green, blue) = color.rgb;
    match stroke {
        Some(width) => format!(
            r##"fill="none" stroke="#{red:02x}{green:02x}{blue:02x}" stroke-width="{width}" stroke-linejoin="round""##
        ),
        None => format!(r##"fill="#{red:02x}{green:02x}{blue:02x}" fill-opacity="{}""##, color.alpha),
    }
}
