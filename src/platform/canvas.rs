//! Drawing with plotters on a canvas, sharp on any screen and without style attributes.
//!
//! The stock canvas backend measures text through an element with a style attribute, which a strict
//! Content-Security-Policy forbids, and counts in whole canvas pixels. This one measures on the canvas itself,
//! counts in units of at most half a device pixel, so that curves have no steps, and puts level and upright
//! lines on whole device pixels, so that they are sharp.

use super::page::pixel_ratio;
use plotters::coord::Shift;
use plotters::drawing::{DrawingArea, IntoDrawingArea};
use plotters_backend::text_anchor::{HPos, VPos};
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind,
    FontTransform,
};
use plotters_canvas::CanvasBackend;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement};

/// The largest side of a canvas in device pixels; more is refused by some phones.
const LARGEST_SIDE: f64 = 4096.0;

/// Widths that are kept before the store is emptied; a page of charts needs about a hundred.
const KEPT_WIDTHS: usize = 2000;

/// A drawing area on a canvas.
pub type CanvasArea = DrawingArea<Canvas, Shift>;

/// Prepares the canvas for `width` × `height` CSS pixels, empties it, and calls `draw`.
///
/// `draw` gets the area and the number of drawing units to one CSS pixel: sizes, line widths and text are to
/// be multiplied by it. The canvas' size on the page comes from the style sheet alone.
///
/// `None` if the size is not positive and finite or the browser gives no drawing context; then nothing is
/// drawn and `draw` is not called.
pub fn with_canvas<R>(
    canvas: &HtmlCanvasElement,
    width: f64,
    height: f64,
    draw: impl FnOnce(&CanvasArea, u32) -> R,
) -> Option<R> {
    draw_on(canvas, &Grid::new(width, height, pixel_ratio())?, None, draw)
}

/// A picture to save.
pub struct Picture {
    /// As SVG.
    pub svg: String,
    /// As PNG, in a `data:` address; empty if the browser refuses.
    pub png: String,
}

/// Draws on a canvas that is not on the page, `width` × `height` CSS pixels at two device pixels each, and as SVG.
///
/// `draw` is called as by [`with_canvas`]. `None` if the browser gives no canvas.
pub fn picture(width: f64, height: f64, draw: impl FnOnce(&CanvasArea, u32)) -> Option<Picture> {
    let canvas: HtmlCanvasElement = super::document()?.create_element("canvas").ok()?.dyn_into().ok()?;
    let grid = Grid::new(width, height, 2.0)?;
    let sheet = Rc::new(RefCell::new(super::svg::Sheet::new(grid.size, (width, height))));
    draw_on(&canvas, &grid, Some(Rc::clone(&sheet)), draw)?;
    let svg = sheet.borrow().text();
    Some(Picture { svg, png: canvas.to_data_url().unwrap_or_default() })
}

fn draw_on<R>(
    canvas: &HtmlCanvasElement,
    grid: &Grid,
    sheet: Option<Rc<RefCell<super::svg::Sheet>>>,
    draw: impl FnOnce(&CanvasArea, u32) -> R,
) -> Option<R> {
    // Only when it differs: the page is laid out anew after each setting, even of the same size.
    if (canvas.width(), canvas.height()) != grid.pixels {
        canvas.set_width(grid.pixels.0);
        canvas.set_height(grid.pixels.1);
    }
    let context: CanvasRenderingContext2d = canvas.get_context("2d").ok()??.dyn_into().ok()?;
    context.set_transform(grid.scale, 0.0, 0.0, grid.scale, 0.0, 0.0).ok()?;
    context.clear_rect(0.0, 0.0, f64::from(grid.size.0), f64::from(grid.size.1));
    let inner = CanvasBackend::with_canvas_object(canvas.clone())?;
    let font = RefCell::default();
    let area = Canvas { inner, context, size: grid.size, scale: grid.scale, font, sheet }.into_drawing_area();
    Some(draw(&area, grid.units))
}

/// How drawing units, device pixels and CSS pixels belong together.
struct Grid {
    /// Drawing units to one CSS pixel: two to a device pixel and at least four, as plotters counts in whole ones.
    units: u32,
    /// Size in drawing units.
    size: (u32, u32),
    /// Size in device pixels.
    pixels: (u32, u32),
    /// Device pixels to one drawing unit.
    scale: f64,
}

impl Grid {
    fn new(width: f64, height: f64, ratio: f64) -> Option<Self> {
        if !(width >= 1.0 && height >= 1.0 && width.is_finite() && height.is_finite()) {
            return None;
        }
        let ratio = ratio.min(LARGEST_SIDE / width.max(height));
        let units = (2.0 * ratio.ceil()).max(4.0);
        // Casts of floats saturate, and every value is finite here.
        let whole = |size: f64, by: f64| ((size * by).round() as u32).max(1);
        Some(Self {
            units: units as u32,
            size: (whole(width, units), whole(height, units)),
            pixels: (whole(width, ratio), whole(height, ratio)),
            scale: ratio / units,
        })
    }
}

thread_local! {
    /// Widths of texts by font and text: measuring is the dearest part of a redraw.
    static WIDTHS: RefCell<BTreeMap<(String, String), f64>> = const { RefCell::new(BTreeMap::new()) };
}

/// A plotters backend on a canvas.
pub struct Canvas {
    inner: CanvasBackend,
    context: CanvasRenderingContext2d,
    size: (u32, u32),
    scale: f64,
    /// The font set last: the browser brings its styles up to date for every setting.
    font: RefCell<String>,
    /// Where the same is drawn as SVG, for a picture to save.
    sheet: Option<Rc<RefCell<super::svg::Sheet>>>,
}

impl Canvas {
    /// Does the same on the SVG, where one is asked for.
    fn also(&self, draw: impl FnOnce(&mut super::svg::Sheet)) {
        if let Some(sheet) = &self.sheet
            && let Ok(mut sheet) = sheet.try_borrow_mut()
        {
            draw(&mut sheet);
        }
    }

    /// Makes `font` the context's font, if it is not already.
    fn set_font(&self, font: &str) {
        if let Ok(mut last) = self.font.try_borrow_mut()
            && *last != font
        {
            self.context.set_font(font);
            font.clone_into(&mut last);
        }
    }

    /// A level or upright line on whole device pixels; `false` if the line is neither and nothing was drawn.
    fn draw_sharp<S: BackendStyle>(&self, from: BackendCoord, to: BackendCoord, style: &S) -> bool {
        if from.0 != to.0 && from.1 != to.1 {
            return false;
        }
        let color = style.color();
        let (red, green, blue) = color.rgb;
        let width = (f64::from(style.stroke_width()) * self.scale).round().max(1.0);
        // An odd width is centred on a pixel, an even one between two.
        let half = if width % 2.0 == 0.0 { 0.0 } else { 0.5 };
        let on_pixel = |unit: i32| ((f64::from(unit) * self.scale - half).round() + half) / self.scale;
        let context = &self.context;
        context.set_stroke_style_str(&format!("rgba({red},{green},{blue},{})", color.alpha));
        context.set_line_width(width / self.scale);
        context.begin_path();
        context.move_to(on_pixel(from.0), on_pixel(from.1));
        context.line_to(on_pixel(to.0), on_pixel(to.1));
        context.stroke();
        true
    }

    /// Width of `text` in drawing units, measured once for each font.
    fn width(&self, font: String, text: &str) -> f64 {
        WIDTHS.with(|widths| {
            let key = (font, text.to_owned());
            if let Some(width) = widths.try_borrow().ok().and_then(|widths| widths.get(&key).copied()) {
                return width;
            }
            self.set_font(&key.0);
            let width = self.context.measure_text(text).map_or(0.0, |metrics| metrics.width());
            if let Ok(mut widths) = widths.try_borrow_mut() {
                if widths.len() >= KEPT_WIDTHS {
                    widths.clear();
                }
                widths.insert(key, width);
            }
            width
        })
    }
}

/// What a drawing step gives.
type Drawn = Result<(), DrawingErrorKind<<CanvasBackend as DrawingBackend>::ErrorType>>;

impl DrawingBackend for Canvas {
    type ErrorType = <CanvasBackend as DrawingBackend>::ErrorType;

    fn get_size(&self) -> (u32, u32) {
        self.size
    }

    fn ensure_prepared(&mut self) -> Drawn {
        self.inner.ensure_prepared()
    }

    fn present(&mut self) -> Drawn {
        self.inner.present()
    }

    fn draw_pixel(&mut self, point: BackendCoord, color: BackendColor) -> Drawn {
        self.inner.draw_pixel(point, color)
    }

    fn draw_line<S: BackendStyle>(&mut self, from: BackendCoord, to: BackendCoord, style: &S) -> Drawn {
        self.also(|sheet| sheet.path(&[from, to], style.color(), Some(style.stroke_width()), false));
        if self.draw_sharp(from, to, style) {
            return Ok(());
        }
        self.inner.draw_line(from, to, style)
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        from: BackendCoord,
        to: BackendCoord,
        style: &S,
        fill: bool,
    ) -> Drawn {
        let corners = [from, (to.0, from.1), to, (from.0, to.1)];
        let stroke = (!fill).then(|| style.stroke_width());
        self.also(|sheet| sheet.path(&corners, style.color(), stroke, true));
        self.inner.draw_rect(from, to, style, fill)
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        style: &S,
    ) -> Drawn {
        let path: Vec<BackendCoord> = path.into_iter().collect();
        match path.as_slice() {
            // The lines of a grid come as paths of two points.
            &[from, to] => self.draw_line(from, to, style),
            _ => {
                self.also(|sheet| sheet.path(&path, style.color(), Some(style.stroke_width()), false));
                self.inner.draw_path(path, style)
            }
        }
    }

    fn draw_circle<S: BackendStyle>(
        &mut self,
        center: BackendCoord,
        radius: u32,
        style: &S,
        fill: bool,
    ) -> Drawn {
        let stroke = (!fill).then(|| style.stroke_width());
        self.also(|sheet| sheet.circle(center, radius, style.color(), stroke));
        self.inner.draw_circle(center, radius, style, fill)
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        style: &S,
    ) -> Drawn {
        let path: Vec<BackendCoord> = path.into_iter().collect();
        self.also(|sheet| sheet.path(&path, style.color(), None, true));
        self.inner.fill_polygon(path, style)
    }

    fn draw_text<S: BackendTextStyle>(&mut self, text: &str, style: &S, pos: BackendCoord) -> Drawn {
        if !matches!(style.transform(), FontTransform::None) {
            self.font = RefCell::default();
            return self.inner.draw_text(text, style, pos);
        }
        let (anchor, color) = (style.anchor(), style.color());
        self.also(|sheet| sheet.words(text, pos, style.size(), &anchor, color));
        let (red, green, blue) = color.rgb;
        self.set_font(&font_of(style));
        let context = &self.context;
        context.set_text_baseline(match anchor.v_pos {
            VPos::Top => "top",
            VPos::Center => "middle",
            VPos::Bottom => "bottom",
        });
        context.set_text_align(match anchor.h_pos {
            HPos::Left => "start",
            HPos::Right => "end",
            HPos::Center => "center",
        });
        context.set_fill_style_str(&format!("rgba({red},{green},{blue},{})", color.alpha));
        // Text that the browser refuses is left out; caption and table say the same.
        let _ = context.fill_text(text, f64::from(pos.0), f64::from(pos.1));
        Ok(())
    }

    fn estimate_text_size<S: BackendTextStyle>(
        &self,
        text: &str,
        style: &S,
    ) -> Result<(u32, u32), DrawingErrorKind<Self::ErrorType>> {
        let width = self.width(font_of(style), text);
        Ok((width.ceil() as u32, style.size().ceil() as u32))
    }
}

/// The font as a canvas names it.
fn font_of<S: BackendTextStyle>(style: &S) -> String {
    format!("{} {}px {}", style.style().as_str(), style.size(), style.family().as_str())
}
