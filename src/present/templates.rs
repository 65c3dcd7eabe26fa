//! Templates at full size: each board's outline and holes as SVG, as DXF and as pages to print and join.
use std::fmt::Write;

use crate::design::built::piece_key;
use crate::design::report::BoxReport;
use crate::model::geometry::{Corner, Hole, HoleShape, HoleUse, Outline, outlines};
use crate::units::ExactLength;
use crate::words::cutting as words;

/// A template: boards that are alike share one.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    /// Short name without blanks, for a file.
    pub file: String,
    /// What it shows.
    pub title: String,
    /// How many boards are made from it.
    pub count: usize,
    /// The board.
    pub outline: Outline,
}

/// Paper to print on: width and height in mm, and what the style sheet calls it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 × 297 mm.
    A4,
    /// 8 1/2 × 11 in.
    Letter,
}

impl Paper {
    const fn size(self) -> [f64; 2] {
        match self {
            Self::A4 => [210.0, 297.0],
            Self::Letter => [215.9, 279.4],
        }
    }
    const fn name(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "letter",
        }
    }
}

/// What no printer reaches, at each edge of a page, in mm.
const MARGIN: f64 = 12.0;
/// What two pages share, in mm.
const OVERLAP: f64 = 10.0;
/// Height of the line of text at the foot of a page, in mm.
const FOOT: f64 = 14.0;
/// Length of the bar that shows the scale, in mm.
const BAR: f64 = 100.0;

/// The templates of a box; boards of one line that are alike share one.
#[must_use]
pub fn templates(report: &BoxReport) -> Vec<Template> {
    let mut all: Vec<Template> = Vec::new();
    let found = outlines(report.plan.current());
    let pieces: Vec<_> = found.iter().map(|outline| outline.part).collect();
    for outline in found {
        let same = all.iter_mut().find(|template| {
            let known = &template.outline;
            known.part.name() == outline.part.name()
                && known.size == outline.size
                && known.holes == outline.holes
                && known.edge == outline.edge
        });
        if let Some(template) = same {
            template.count += 1;
            template.title = super::names::part(outline.part.name()).into();
            continue;
        }
        let title = super::names::one(outline.part, &pieces);
        all.push(Template { file: piece_key(outline.part).replace(' ', "-"), title, count: 1, outline });
    }
    all
}

/// Millimetres to a hundredth, without needless zeros.
fn mm(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".into() } else { text.into() }
}

/// A hole's half width, half height and corner radius in mm; a circle's radius thrice.
fn half(shape: HoleShape) -> [f64; 3] {
    match shape {
        HoleShape::Round(diameter) => [diameter.millimetres() / 2.0; 3],
        HoleShape::Rectangle(window) => {
            let sides = [window.across, window.up].map(|side| side.millimetres() / 2.0);
            [sides[0], sides[1], window.corner_radius.millimetres().min(sides[0]).min(sides[1])]
        }
    }
}

fn centre(hole: &Hole) -> [f64; 2] {
    hole.at.map(ExactLength::millimetres)
}

/// The board at full size as an SVG file: one unit is one millimetre.
#[must_use]
pub fn svg(template: &Template) -> String {
    let [width, height] = template.outline.size.map(ExactLength::millimetres);
    let (w, h) = (mm(width), mm(height));
    format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" viewBox="0 0 {w} {h}"><title>{}</title><g fill="none" stroke="black" stroke-width="0.25">{}</g></svg>"#,
        template.title,
        marks(&template.outline)
    )
}

/// Outline, holes and centre crosses; paper runs downwards, the board upwards.
fn marks(outline: &Outline) -> String {
    let [width, height] = outline.size.map(ExactLength::millimetres);
    let mut text = if outline.edge.is_empty() {
        format!(r#"<path class="outline" d="M0 0H{}V{}H0Z"/>"#, mm(width), mm(height))
    } else {
        format!(r#"<path class="outline" d="{}"/>"#, edge_path(&outline.edge, height))
    };
    for opening in &outline.openings {
        // Writing to a String cannot fail.
        let _ = write!(text, r#"<path class="hole" d="{}"/>"#, edge_path(opening, height));
    }
    for hole in &outline.holes {
        let [x, up] = centre(hole);
        let y = height - up;
        let [a, b, r] = half(hole.shape);
        let class = if hole.depth.is_some() { "rebate" } else { "hole" };
        // Writing to a String cannot fail.
        let _ = match hole.shape {
            HoleShape::Round(_) => {
                write!(text, r#"<circle class="{class}" cx="{}" cy="{}" r="{}"/>"#, mm(x), mm(y), mm(a))
            }
            HoleShape::Rectangle(_) => {
                let (w, h, r) = (mm(2.0 * a), mm(2.0 * b), mm(r));
                let (left, top) = (mm(x - a), mm(y - b));
                write!(
                    text,
                    r#"<rect class="{class}" x="{left}" y="{top}" width="{w}" height="{h}" rx="{r}" ry="{r}"/>"#
                )
            }
        };
        let _ = write!(
            text,
            r#"<path class="cross" d="M{} {}h10M{} {}v10"/>"#,
            mm(x - 5.0),
            mm(y),
            mm(x),
            mm(y - 5.0)
        );
    }
    text
}

/// An edge as a path; paper runs downwards, so what is anticlockwise on the board is so on paper with its sign turned.
fn edge_path(edge: &[Corner], height: f64) -> String {
    let mut text = String::new();
    for (number, (at, bulge)) in edge.iter().enumerate() {
        let [x, y] = [at[0], height - at[1]];
        if number == 0 {
            let _ = write!(text, "M{} {}", mm(x), mm(y));
        }
        let Some((next, _)) = edge.get(number + 1).or_else(|| edge.first()) else { continue };
        let [x, y] = [next[0], height - next[1]];
        if *bulge == 0.0 {
            let _ = write!(text, "L{} {}", mm(x), mm(y));
        } else {
            // Half the chord is r sin(angle/2); the bulge is tan(angle/4).
            let chord = (next[0] - at[0]).hypot(next[1] - at[1]);
            let radius = chord * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
            let large = u8::from(bulge.abs() > 1.0);
            let sweep = u8::from(*bulge < 0.0);
            let r = exact(radius);
            let _ = write!(text, "A{r} {r} 0 {large} {sweep} {} {}", mm(x), mm(y));
        }
    }
    text.push('Z');
    text
}

/// The board at full size as a DXF file of release 12: closed polylines with arcs as bulges, circles; millimetres.
#[must_use]
pub fn dxf(template: &Template) -> String {
    let mut text = String::new();
    let mut pair = |code: u16, value: &str| {
        text.push_str(&format!("{code:>3}\r\n{value}\r\n"));
    };
    for (code, value) in [(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1009"), (0, "ENDSEC")] {
        pair(code, value);
    }
    pair(0, "SECTION");
    pair(2, "ENTITIES");
    let [width, height] = template.outline.size.map(ExactLength::millimetres);
    let corners = [[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]];
    if template.outline.edge.is_empty() {
        polyline(&mut pair, "OUTLINE", &corners.map(|at| (at, 0.0)));
    } else {
        polyline(&mut pair, "OUTLINE", &template.outline.edge);
    }
    for opening in &template.outline.openings {
        polyline(&mut pair, "HOLE", opening);
    }
    for hole in &template.outline.holes {
        let layer = if hole.depth.is_some() { "REBATE" } else { "HOLE" };
        let [x, y] = centre(hole);
        let [a, b, r] = half(hole.shape);
        match hole.shape {
            HoleShape::Round(_) => {
                pair(0, "CIRCLE");
                pair(8, layer);
                for (code, value) in [(10, x), (20, y), (30, 0.0), (40, a)] {
                    pair(code, &exact(value));
                }
            }
            HoleShape::Rectangle(_) => polyline(&mut pair, layer, &rounded([x, y], [a, b], r)),
        }
    }
    pair(0, "ENDSEC");
    pair(0, "EOF");
    text
}

/// Corners of a rectangle anticlockwise, each with the bulge of what follows: a quarter circle's is tan(90°/4).
fn rounded([x, y]: [f64; 2], [a, b]: [f64; 2], r: f64) -> Vec<([f64; 2], f64)> {
    let corners = [[1.0, -1.0], [1.0, 1.0], [-1.0, 1.0], [-1.0, -1.0]];
    if r <= 0.0 {
        return corners.iter().map(|[i, j]| ([x + i * a, y + j * b], 0.0)).collect();
    }
    let bulge = (std::f64::consts::PI / 8.0).tan();
    let mut points = Vec::new();
    for (number, [i, j]) in corners.into_iter().enumerate() {
        let horizontal = [x + i * (a - r), y + j * b];
        let vertical = [x + i * a, y + j * (b - r)];
        let (first, second) = if number % 2 == 0 { (horizontal, vertical) } else { (vertical, horizontal) };
        points.push((first, bulge));
        points.push((second, 0.0));
    }
    points
}

fn exact(value: f64) -> String {
    format!("{value:.4}")
}

fn polyline(pair: &mut impl FnMut(u16, &str), layer: &str, points: &[([f64; 2], f64)]) {
    pair(0, "POLYLINE");
    for (code, value) in [(8, layer), (66, "1"), (10, "0.0"), (20, "0.0"), (30, "0.0"), (70, "1")] {
        pair(code, value);
    }
    for ([x, y], bulge) in points {
        pair(0, "VERTEX");
        pair(8, layer);
        for (code, value) in [(10, *x), (20, *y), (30, 0.0), (42, *bulge)] {
            if code != 42 || value != 0.0 {
                pair(code, &format!("{value:.6}"));
            }
        }
    }
    pair(0, "SEQEND");
    pair(8, layer);
}

/// All templates as one file of pages, to be printed at 100 % and joined: an HTML file without script.
#[must_use]
pub fn pages(templates: &[Template], paper: Paper) -> String {
    let mut body = String::new();
    for template in templates {
        for tile in tiles(&template.outline, paper) {
            body.push_str(&page(template, &tile));
        }
    }
    let size = paper.name();
    format!(
        "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><title>{title}</title><style>\
         @page{{size:{size} portrait;margin:{MARGIN}mm}}body{{margin:0}}svg{{display:block;break-after:page}}\
         @media screen{{svg{{margin:8mm;outline:1px solid #888}}}}</style><body>{body}</body></html>",
        title = words::TEMPLATES
    )
}

/// One page of a template: the part of the board it shows, and where it stands among the pages.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tile {
    /// Its column and row, from the upper left.
    pub place: [usize; 2],
    /// How many columns and rows.
    pub of: [usize; 2],
    /// Left and top of what it shows, in mm on paper.
    pub at: [f64; 2],
    /// Width and height of what it shows.
    pub size: [f64; 2],
}

/// The pages of a board: as few as cover it with [`OVERLAP`] between them.
#[must_use]
pub fn tiles(outline: &Outline, paper: Paper) -> Vec<Tile> {
    let [w, h] = paper.size();
    let size = [w - 2.0 * MARGIN, h - 2.0 * MARGIN - FOOT];
    // A little room around the outline, so that its line is printed whole.
    let board = outline.size.map(|side| side.millimetres() + 2.0);
    let of = [0, 1].map(|axis| {
        let more = (board[axis] - size[axis]) / (size[axis] - OVERLAP);
        // Boards have at most 10 m.
        1 + more.max(0.0).ceil() as usize
    });
    let mut all = Vec::new();
    for row in 0..of[1] {
        for column in 0..of[0] {
            let at = |axis: usize, number: usize| number as f64 * (size[axis] - OVERLAP) - 1.0;
            all.push(Tile { place: [column, row], of, at: [at(0, column), at(1, row)], size });
        }
    }
    all
}

fn page(template: &Template, tile: &Tile) -> String {
    let [w, h] = tile.size;
    let [x, y] = tile.at;
    let place = format!("{}{}", letter(tile.place[0]), tile.place[1] + 1);
    let (right, low) = (x + w, y + h);
    let mut lines = String::new();
    // Where the next page begins: its edge lies on this line.
    if tile.place[0] + 1 < tile.of[0] {
        lines.push_str(&format!("M{} {}V{}", mm(right - OVERLAP), mm(y), mm(low)));
    }
    if tile.place[1] + 1 < tile.of[1] {
        lines.push_str(&format!("M{} {}H{}", mm(x), mm(low - OVERLAP), mm(right)));
    }
    let bar = format!("M{} {}v3m0 -1.500h{BAR}m0 -1.500v3", mm(x), mm(low + 3.0));
    let clip = format!("t{}{place}", template.file);
    format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="{}mm" height="{}mm" viewBox="{} {} {} {}"><clipPath id="{clip}"><rect x="{}" y="{}" width="{}" height="{}"/></clipPath><g fill="none" stroke="black" stroke-width="0.25"><g clip-path="url(#{clip})">{}</g><path stroke-dasharray="3 2" d="{lines}"/><path d="{bar}"/></g><text x="{}" y="{}" font-family="sans-serif" font-size="4">{}</text></svg>"#,
        mm(w),
        mm(h + FOOT),
        mm(x),
        mm(y),
        mm(w),
        mm(h + FOOT),
        mm(x),
        mm(y),
        mm(w),
        mm(h),
        marks(&template.outline),
        mm(x),
        mm(low + 11.0),
        words::page_foot(&template.title, &place, tile.of[0] * tile.of[1])
    )
}

fn letter(column: usize) -> char {
    char::from(b'A' + u8::try_from(column % 26).unwrap_or(0))
}

/// What a hole is called.
#[must_use]
pub const fn hole_name(use_: HoleUse) -> &'static str {
    match use_ {
        HoleUse::Driver => words::HOLE_DRIVER,
        HoleUse::Recess => words::HOLE_RECESS,
        HoleUse::Radiator => words::HOLE_RADIATOR,
        HoleUse::Port => words::HOLE_PORT,
        HoleUse::Terminal => words::HOLE_TERMINAL,
        HoleUse::Window => words::HOLE_WINDOW,
        HoleUse::Pin => words::HOLE_PIN,
    }
}
