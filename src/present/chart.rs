//! Charts over a logarithmic frequency axis, drawn through any plotters backend: a canvas in the page, SVG in
//! tests and exports.
use std::rc::Rc;

use crate::model::acoustics::Limiter;
use plotters::coord::Shift;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

/// Frequencies that carry a grid line and a number.
pub const TICKS_HZ: [f64; 7] = [10.0, 20.0, 30.0, 50.0, 100.0, 200.0, 500.0];

/// How a curve is drawn; the line tells the curves apart before the colour does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// Full and heavy: the chosen curve.
    Full,
    /// Dashed.
    Dashed,
    /// Dash and dot: a limit.
    Chain,
    /// Single points with this sign.
    Points(Sign),
    /// A stretch of the ceiling: pattern and colour tell what limits it.
    Limit(Limiter),
    /// Another design beside the chosen one, by number.
    Beside(u8),
}

/// The sign of a point; signs tell the points apart, not colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// A filled circle.
    Disc,
    /// An open circle.
    Ring,
    /// An upright cross.
    Cross,
    /// A square on its corner.
    Diamond,
    /// A triangle on its side.
    Up,
    /// A triangle on its corner.
    Down,
}

/// What a chart runs along.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Across {
    /// Frequency in hertz, logarithmic.
    #[default]
    Frequency,
    /// Time in milliseconds, linear.
    Time,
    /// Volume in litres, logarithmic.
    Litres,
}

impl Across {
    /// Unit of the values along it.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Frequency => "Hz",
            Self::Time => "ms",
            Self::Litres => "L",
        }
    }
}

/// The drawn and left-out lengths of a line in CSS pixels; empty is full.
const fn pattern(line: Line) -> &'static [f64] {
    match line {
        Line::Full | Line::Limit(Limiter::Voltage) => &[],
        Line::Dashed | Line::Beside(0) => &[6.0, 4.0],
        Line::Chain | Line::Points(_) => &[10.0, 3.0, 2.0, 3.0],
        Line::Limit(Limiter::Cone) => &[9.0, 3.0],
        Line::Limit(Limiter::Port) | Line::Beside(1) => &[2.0, 3.0],
        Line::Limit(Limiter::Coil) => &[12.0, 3.0, 2.0, 3.0, 2.0, 3.0],
        Line::Limit(Limiter::Current) => &[16.0, 5.0],
        Line::Limit(Limiter::Radiator) => &[5.0, 3.0],
        Line::Beside(_) => &[14.0, 3.0, 2.0, 3.0],
    }
}

const fn stroke_of(line: Line, sheet: &Sheet) -> (RGBColor, f64) {
    match line {
        Line::Full | Line::Limit(Limiter::Voltage) => (sheet.mark, 2.0),
        Line::Limit(Limiter::Cone | Limiter::Coil) => (sheet.stop, 2.4),
        Line::Limit(_) => (sheet.ink, 2.4),
        Line::Beside(_) | Line::Points(_) => (sheet.ink, 1.4),
        Line::Dashed | Line::Chain => (sheet.soft, 1.4),
    }
}

/// Which value axis a curve is read on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}

/// Lower and upper edge of a band, one value of each per frequency.
pub type Edges = (Rc<[f64]>, Rc<[f64]>);

/// A named curve: one value per frequency; gaps are not finite.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// Name in tables, in speech and in the download.
    pub name: String,
    /// Unit of the values.
    pub unit: &'static str,
    /// One value per frequency.
    pub values: Rc<[f64]>,
    /// Decimals worth showing.
    pub places: usize,
    /// The line.
    pub line: Line,
    /// The axis.
    pub side: Side,
    /// A band about the curve.
    pub band: Option<Edges>,
}

/// A value axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axis {
    /// Value at the lower edge.
    pub low: f64,
    /// Value at the upper edge.
    pub high: f64,
    /// Distance of the grid lines.
    pub step: f64,
}

/// A chart as data.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// Stable name, used in file names and by tests.
    pub key: &'static str,
    /// Title, with the drive.
    pub title: String,
    /// The frequencies in hertz, ascending; times in milliseconds where the chart runs along time.
    pub frequencies_hz: Rc<[f64]>,
    /// What it runs along.
    pub across: Across,
    /// The curves.
    pub curves: Vec<Curve>,
    /// Left axis.
    pub left: Axis,
    /// Right axis, if a curve uses it.
    pub right: Option<Axis>,
    /// A limit drawn across, on the left axis.
    pub limit: Option<f64>,
}

/// Colours and sizes of the sheet a chart is drawn on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// Background.
    pub paper: RGBColor,
    /// Text and frame.
    pub ink: RGBColor,
    /// Secondary text.
    pub soft: RGBColor,
    /// Grid.
    pub grid: RGBColor,
    /// The accent: the chosen curve.
    pub mark: RGBColor,
    /// A limit.
    pub stop: RGBColor,
    /// Text size in device pixels.
    pub text_px: f64,
    /// Device pixels per CSS pixel.
    pub scale: f64,
}

impl Sheet {
    /// Paper and ink, for exports and tests.
    #[must_use]
    pub const fn day(text_px: f64, scale: f64) -> Self {
        Self {
            paper: RGBColor(0xff, 0xfd, 0xf7),
            ink: RGBColor(0x1c, 0x21, 0x26),
            soft: RGBColor(0x5b, 0x61, 0x68),
            grid: RGBColor(0xd9, 0xd2, 0xc1),
            mark: RGBColor(0x1d, 0x4e, 0xd8),
            stop: RGBColor(0xa5, 0x1d, 0x1d),
            text_px,
            scale,
        }
    }
    /// The same sheet at night.
    #[must_use]
    pub const fn night(text_px: f64, scale: f64) -> Self {
        Self {
            paper: RGBColor(0x1b, 0x1f, 0x23),
            ink: RGBColor(0xec, 0xe7, 0xda),
            soft: RGBColor(0xa2, 0xa7, 0xac),
            grid: RGBColor(0x3a, 0x40, 0x46),
            mark: RGBColor(0x8f, 0xb1, 0xff),
            stop: RGBColor(0xff, 0x9a, 0x8c),
            text_px,
            scale,
        }
    }
}

/// A round step of 1, 2 or 5 times a power of ten that divides `span` into at most `lines` parts.
#[must_use]
pub fn round_step(span: f64, lines: usize) -> f64 {
    if !span.is_finite() || span <= 0.0 || lines == 0 {
        return 1.0;
    }
    let raw = span / lines as f64;
    let power = 10f64.powf(raw.log10().floor());
    [1.0, 2.0, 5.0, 10.0]
        .iter()
        .map(|m| m * power)
        .find(|step| *step >= raw * 0.999_999)
        .unwrap_or(10.0 * power)
}

impl Axis {
    /// From zero to a round value not below the largest finite value and `at_least`.
    #[must_use]
    pub fn from_zero(values: &[f64], at_least: f64) -> Self {
        let top = values.iter().copied().filter(|v| v.is_finite()).fold(at_least.max(1e-6), f64::max);
        let step = round_step(top, 4);
        Self { low: 0.0, high: step * (top / step).ceil(), step }
    }
    /// `span` down from a multiple of `step` not below the largest finite value.
    #[must_use]
    pub fn below_top(values: &[f64], span: f64, step: f64) -> Self {
        let top = values.iter().copied().filter(|v| v.is_finite()).fold(f64::NEG_INFINITY, f64::max);
        let high = if top.is_finite() { step * (top / step).ceil() } else { span };
        Self { low: high - span, high, step }
    }
    /// Where a value lies, 0 at the lower edge and 1 at the upper, not clamped.
    #[must_use]
    pub fn share(&self, value: f64) -> f64 {
        (value - self.low) / (self.high - self.low)
    }
    /// The values at the grid lines.
    #[must_use]
    pub fn ticks(&self) -> Vec<f64> {
        if !(self.step > 0.0 && self.high > self.low) {
            return Vec::new();
        }
        let count = ((self.high - self.low) / self.step).round().clamp(0.0, 20.0) as usize;
        (0..=count).map(|i| self.low + i as f64 * self.step).collect()
    }
}

/// Where a frequency lies on an axis from `low` to `high`, 0 to 1, not clamped.
#[must_use]
pub fn frequency_share(hz: f64, low: f64, high: f64) -> f64 {
    (hz / low).ln() / (high / low).ln()
}

/// The area the curves are drawn in, in device pixels.
struct Frame {
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
    low_hz: f64,
    high_hz: f64,
    across: Across,
}

impl Frame {
    /// The frame of a chart on a sheet of this size; `None` if nothing can be drawn.
    fn of(chart: &Chart, sheet: &Sheet, (width, height): (u32, u32)) -> Option<Self> {
        let em = sheet.text_px;
        let labels =
            |axis: &Axis| axis.ticks().iter().map(|v| number(*v, axis.step).len()).max().unwrap_or(1) as f64;
        let (low_hz, high_hz) = (chart.frequencies_hz.first()?, chart.frequencies_hz.last()?);
        let frame = Self {
            left: (labels(&chart.left) * 0.62 + 0.6) * em,
            right: f64::from(width) - chart.right.as_ref().map_or(0.8, |axis| labels(axis) * 0.62 + 0.6) * em,
            top: 0.6 * em,
            bottom: f64::from(height) - 1.5 * em,
            low_hz: *low_hz,
            high_hz: high_hz.max(low_hz * 1.001 + 1e-9),
            across: chart.across,
        };
        (frame.right - frame.left >= em && frame.bottom - frame.top >= em).then_some(frame)
    }
    fn x(&self, hz: f64) -> f64 {
        let share = match self.across {
            Across::Frequency | Across::Litres => frequency_share(hz, self.low_hz, self.high_hz),
            Across::Time => (hz - self.low_hz) / (self.high_hz - self.low_hz),
        };
        self.left + share * (self.right - self.left)
    }
    /// Where the grid's upright lines are.
    fn ticks(&self) -> Vec<f64> {
        match self.across {
            Across::Frequency | Across::Litres => TICKS_HZ.to_vec(),
            Across::Time => {
                let step = round_step(self.high_hz - self.low_hz, 5);
                Axis { low: self.low_hz, high: self.high_hz, step }.ticks()
            }
        }
    }
    fn y(&self, axis: &Axis, value: f64) -> f64 {
        self.bottom - axis.share(value) * (self.bottom - self.top)
    }
}

fn pixel(x: f64, y: f64) -> (i32, i32) {
    (x.round() as i32, y.round() as i32)
}

/// Draws the chart with a cursor at `cursor`, an index into its frequencies.
///
/// Empty, one-point and non-finite curves are drawn as far as they go.
///
/// # Errors
/// Whatever the backend reports.
pub fn draw<DB: DrawingBackend>(
    area: &DrawingArea<DB, Shift>,
    chart: &Chart,
    sheet: &Sheet,
    cursor: Option<usize>,
) -> Result<(), DrawingAreaErrorKind<DB::ErrorType>> {
    area.fill(&sheet.paper)?;
    let Some(frame) = Frame::of(chart, sheet, area.dim_in_pixel()) else { return Ok(()) };
    draw_grid(area, chart, sheet, &frame)?;
    if let Some(limit) = chart.limit.filter(|limit| (0.0..=1.0).contains(&chart.left.share(*limit))) {
        let y = frame.y(&chart.left, limit);
        let points = [(frame.left, y), (frame.right, y)];
        draw_line(area, &points, Line::Chain, sheet.stop.stroke_width(stroke(sheet, 1.2)), sheet)?;
    }
    for curve in &chart.curves {
        draw_curve(area, chart, curve, sheet, &frame)?;
    }
    if let Some(hz) = cursor.and_then(|index| chart.frequencies_hz.get(index)) {
        draw_cursor(area, chart, sheet, &frame, *hz, cursor.unwrap_or(0))?;
    }
    Ok(())
}

/// The index whose values on the left axis lie nearest to a place on a sheet of this size, in its units.
#[must_use]
pub fn nearest(chart: &Chart, sheet: &Sheet, size: (u32, u32), (x, y): (f64, f64)) -> Option<usize> {
    let frame = Frame::of(chart, sheet, size)?;
    let mut best: Option<(f64, usize)> = None;
    for curve in &chart.curves {
        for (index, (hz, value)) in chart.frequencies_hz.iter().zip(curve.values.iter()).enumerate() {
            let distance = (frame.x(*hz) - x).hypot(frame.y(&chart.left, *value) - y);
            if distance.is_finite() && best.is_none_or(|(least, _)| distance < least) {
                best = Some((distance, index));
            }
        }
    }
    best.map(|(_, index)| index)
}

fn stroke(sheet: &Sheet, css_px: f64) -> u32 {
    (css_px * sheet.scale).round().max(1.0) as u32
}

fn number(value: f64, step: f64) -> String {
    let places = if step >= 1.0 { 0 } else { (-step.log10()).ceil().clamp(0.0, 4.0) as usize };
    format!("{:.places$}", value + 0.0)
}

fn draw_grid<DB: DrawingBackend>(
    area: &DrawingArea<DB, Shift>,
    chart: &Chart,
    sheet: &Sheet,
    frame: &Frame,
) -> Result<(), DrawingAreaErrorKind<DB::ErrorType>> {
    let grid = sheet.grid.stroke_width(stroke(sheet, 1.0));
    let font = (FontFamily::SansSerif, sheet.text_px).into_font();
    let label = |h, v| TextStyle::from(font.clone()).color(&sheet.soft).pos(Pos::new(h, v));
    for hz in frame.ticks().iter().filter(|hz| (frame.low_hz..=frame.high_hz * 1.0001).contains(*hz)) {
        let x = frame.x(*hz);
        area.draw(&PathElement::new(vec![pixel(x, frame.top), pixel(x, frame.bottom)], grid))?;
        let at = pixel(x, frame.bottom + 0.35 * sheet.text_px);
        let side = if *hz >= frame.high_hz * 0.98 { HPos::Right } else { HPos::Center };
        area.draw(&Text::new(format!("{hz:.0}"), at, label(side, VPos::Top)))?;
    }
    for value in chart.left.ticks() {
        let y = frame.y(&chart.left, value);
        area.draw(&PathElement::new(vec![pixel(frame.left, y), pixel(frame.right, y)], grid))?;
        let at = pixel(frame.left - 0.3 * sheet.text_px, y);
        area.draw(&Text::new(number(value, chart.left.step), at, label(HPos::Right, VPos::Center)))?;
    }
    for (axis, value) in chart.right.iter().flat_map(|axis| axis.ticks().into_iter().map(move |v| (axis, v)))
    {
        let at = pixel(frame.right + 0.3 * sheet.text_px, frame.y(axis, value));
        area.draw(&Text::new(number(value, axis.step), at, label(HPos::Left, VPos::Center)))?;
    }
    Ok(())
}

fn draw_curve<DB: DrawingBackend>(
    area: &DrawingArea<DB, Shift>,
    chart: &Chart,
    curve: &Curve,
    sheet: &Sheet,
    frame: &Frame,
) -> Result<(), DrawingAreaErrorKind<DB::ErrorType>> {
    let axis = match (curve.side, &chart.right) {
        (Side::Right, Some(axis)) => axis,
        _ => &chart.left,
    };
    if let Some((low, high)) = &curve.band {
        draw_band(area, chart, axis, (low, high), sheet, frame)?;
    }
    if let Line::Points(sign) = curve.line {
        return draw_points(area, chart, curve, sign, sheet, frame);
    }
    let (color, width) = stroke_of(curve.line, sheet);
    let style = color.stroke_width(stroke(sheet, width));
    let mut run: Vec<(f64, f64)> = Vec::with_capacity(curve.values.len());
    for (hz, value) in chart.frequencies_hz.iter().zip(curve.values.iter()) {
        let share = axis.share(*value);
        if share.is_finite() && (-0.02..=1.02).contains(&share) {
            run.push((frame.x(*hz), frame.y(axis, *value).clamp(frame.top, frame.bottom)));
        } else if !run.is_empty() {
            draw_line(area, &run, curve.line, style, sheet)?;
            run.clear();
        }
    }
    draw_line(area, &run, curve.line, style, sheet)
}

/// Fills a band, its edges dashed: it can be told from the paper without its colour.
fn draw_band<DB: DrawingBackend>(
    area: &DrawingArea<DB, Shift>,
    chart: &Chart,
    axis: &Axis,
    (low, high): (&[f64], &[f64]),
    sheet: &Sheet,
    frame: &Frame,
) -> Result<(), DrawingAreaErrorKind<DB::ErrorType>> {
    let edge = |values: &[f64]| -> Vec<(f64, f64)> {
        let points = chart.frequencies_hz.iter().zip(values).filter(|(_, value)| value.is_finite());
        points
            .map(|(hz, value)| (frame.x(*hz), frame.y(axis, *value).clamp(frame.top, frame.bottom)))
            .collect()
    };
    let (low, high) = (edge(low), edge(high));
    let around = low.iter().chain(high.iter().rev()).map(|(x, y)| pixel(*x, *y)).collect::<Vec<_>>();
    if around.len() > 2 {
        area.draw(&Polygon::new(around, sheet.mark.mix(0.16)))?;
    }
    let style = sheet.mark.stroke_width(stroke(sheet, 1.0));
    for edge in [low, high] {
        // An edge out of the picture lies along the frame and is not drawn.
        let inside = edge.iter().filter(|(_, y)| *y > frame.top && *y < frame.bottom);
        draw_line(area, &inside.copied().collect::<Vec<_>>(), Line::Dashed, style, sheet)?;
    }
    Ok(())
}

#[inline(never)] // no first picture has points
fn draw_points<DB: DrawingBackend>(
    area: &DrawingArea<DB, Shift>,
    chart: &Chart,
    curve: &Curve,
    sign: Sign,
    sheet: &Sheet,
    frame: &Frame,
) -> Result<(), DrawingAreaErrorKind<DB::ErrorType>> {
    let size = stroke(sheet, 4.0) as i32;
    let style = sheet.ink.stroke_width(stroke(sheet, 1.5));
    for (hz, value) in chart.frequencies_hz.iter().zip(curve.values.iter()) {
        if !(0.0..=1.0).contains(&chart.left.share(*value)) {
            continue;
        }
        let (x, y) = pixel(frame.x(*hz), frame.y(&chart.left, *value));
        match sign {
            Sign::Disc => area.draw(&Circle::new((x, y), size, sheet.ink.filled()))?,
            Sign::Ring => area.draw(&Circle::new((x, y), size, style))?,
            Sign::Cross => {
                area.draw(&PathElement::new(vec![(x - size, y), (x + size, y)], style))?;
                area.draw(&PathElement::new(vec![(x, y - size), (x, y + size)], style))?;
            }
            Sign::Diamond => {
                let around = vec![(x, y - size), (x + size, y), (x, y + size), (x - size, y), (x, y - size)];
                area.draw(&PathElement::new(around, style))?;
            }
            Sign::Up | Sign::Down => {
                let size_up = if sign == Sign::Up { size } else { -size };
                let base = y + size_up;
                let around = vec![(x - size, base), (x + size, base), (x, y - size_up), (x - size, base)];
                area.draw(&PathElement::new(around, style))?;
            }
        }
    }
    Ok(())
}

/// Draws a polyline in one of the line styles. Dashes are measured along the line.
fn draw_line<DB: DrawingBackend>(
    area: &DrawingArea<DB, Shift>,
    points: &[(f64, f64)],
    line: Line,
    style: ShapeStyle,
    sheet: &Sheet,
) -> Result<(), DrawingAreaErrorKind<DB::ErrorType>> {
    let pattern = pattern(line);
    if pattern.is_empty() {
        if points.len() > 1 {
            let pixels: Vec<(i32, i32)> = points.iter().map(|(x, y)| pixel(*x, *y)).collect();
            area.draw(&PathElement::new(pixels, style))?;
        }
        return Ok(());
    }
    for dash in dashes(points, pattern, sheet.scale) {
        area.draw(&PathElement::new(dash, style))?;
    }
    Ok(())
}

/// Cuts a polyline into the drawn parts of a pattern of lengths (drawn, left out, drawn, …) in CSS pixels.
fn dashes(points: &[(f64, f64)], pattern: &[f64], scale: f64) -> Vec<Vec<(i32, i32)>> {
    let mut out = Vec::new();
    let mut index = 0;
    let mut left = pattern.first().copied().unwrap_or(1.0) * scale;
    let mut current: Vec<(i32, i32)> = points.first().map(|(x, y)| pixel(*x, *y)).into_iter().collect();
    for pair in points.windows(2) {
        let ((mut x, mut y), (to_x, to_y)) = (pair[0], pair[1]);
        loop {
            let length = (to_x - x).hypot(to_y - y);
            let drawn = index % 2 == 0;
            if length <= left || length < 1e-9 {
                left -= length;
                if drawn {
                    current.push(pixel(to_x, to_y));
                }
                break;
            }
            x += (to_x - x) * left / length;
            y += (to_y - y) * left / length;
            if drawn {
                current.push(pixel(x, y));
                out.push(std::mem::take(&mut current));
            } else {
                current = vec![pixel(x, y)];
            }
            index += 1;
            left = (pattern.get(index % pattern.len()).copied().unwrap_or(1.0) * scale).max(0.5);
        }
    }
    if current.len() > 1 {
        out.push(current);
    }
    out
}

fn draw_cursor<DB: DrawingBackend>(
    area: &DrawingArea<DB, Shift>,
    chart: &Chart,
    sheet: &Sheet,
    frame: &Frame,
    hz: f64,
    index: usize,
) -> Result<(), DrawingAreaErrorKind<DB::ErrorType>> {
    let x = frame.x(hz);
    let hair = sheet.ink.stroke_width(stroke(sheet, 1.0));
    area.draw(&PathElement::new(vec![pixel(x, frame.top), pixel(x, frame.bottom)], hair))?;
    for curve in &chart.curves {
        let axis = match (curve.side, &chart.right) {
            (Side::Right, Some(axis)) => axis,
            _ => &chart.left,
        };
        let Some(value) = curve.values.get(index).filter(|v| (0.0..=1.0).contains(&axis.share(**v))) else {
            continue;
        };
        let at = pixel(x, frame.y(axis, *value));
        area.draw(&Circle::new(at, stroke(sheet, 3.5) as i32, sheet.mark.filled()))?;
    }
    Ok(())
}

/// What the cursor reads at an index, every curve, as one text: for the caption and for speech.
#[must_use]
pub fn reading(chart: &Chart, index: usize) -> String {
    let values = chart.curves.iter().filter_map(|curve| {
        let value = curve.values.get(index).filter(|v| v.is_finite())?;
        let places = curve.places;
        Some(format!("{} {:.places$} {}", curve.name, value + 0.0, curve.unit))
    });
    values.collect::<Vec<_>>().join(", ")
}

/// The chart's data as comma-separated text, one row per frequency.
#[must_use]
pub fn to_csv(charts: &[&Chart]) -> String {
    let Some(first) = charts.first() else { return String::new() };
    let curves: Vec<&Curve> = charts.iter().flat_map(|chart| &chart.curves).collect();
    let mut out = String::from(match first.across {
        Across::Frequency => "frequency Hz",
        Across::Time => "time ms",
        Across::Litres => "volume outside L",
    });
    for curve in &curves {
        out.push_str(&format!(",{} {}", curve.name.replace(',', ";"), curve.unit));
    }
    out.push('\n');
    for (i, hz) in first.frequencies_hz.iter().enumerate() {
        out.push_str(&format!("{hz:.4}"));
        for curve in &curves {
            match curve.values.get(i).filter(|v| v.is_finite()) {
                Some(value) => out.push_str(&format!(",{value:.5}")),
                None => out.push(','),
            }
        }
        out.push('\n');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round() {
        for (span, lines, step) in
            [(40.0, 4, 10.0), (14.0, 4, 5.0), (0.3, 4, 0.1), (7.0, 4, 2.0), (0.0, 4, 1.0)]
        {
            assert!((round_step(span, lines) - step).abs() < 1e-9, "{span}");
        }
    }

    #[test]
    fn dashes_cover_the_drawn_share() {
        let drawn: i32 = dashes(&[(0.0, 0.0), (100.0, 0.0)], &[6.0, 4.0], 1.0)
            .iter()
            .map(|dash| dash.last().unwrap().0 - dash.first().unwrap().0)
            .sum();
        assert_eq!(drawn, 60);
    }
}
