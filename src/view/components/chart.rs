//! A chart on a canvas, and the cursor that reads all of them.
use std::rc::Rc;

use web_sys::{Element, HtmlCanvasElement, HtmlInputElement};
use yew::prelude::*;

use crate::platform::Timeout;
use crate::platform::canvas::with_canvas;
use crate::platform::page::{SizeWatch, in_view};
use crate::present::chart::{Chart, Sheet, draw, nearest, reading};
use crate::present::figures::hertz;
use crate::words::name;

/// Charts out of sight wait for those in sight and for the next key.
const UNSEEN_AFTER_MS: u32 = 120;

/// A chart.
#[derive(PartialEq, Properties)]
pub struct ChartProps {
    /// The chart.
    pub chart: Rc<Chart>,
    /// Where it is read.
    pub cursor: usize,
    /// Night sheet.
    pub dark: bool,
    /// What stands beside the title; the values at the cursor unless given.
    #[prop_or_default]
    pub caption: Option<AttrValue>,
    /// Called with the index of the value nearest to a tap.
    #[prop_or_default]
    pub tap: Option<Callback<usize>>,
}

/// A chart. The canvas is for the eye; the caption, the cursor and the table say the same in words.
#[component]
pub fn ChartView(props: &ChartProps) -> Html {
    let canvas = use_node_ref();
    let size = use_state_eq(|| (0.0_f64, 0.0_f64));
    {
        let (canvas, size) = (canvas.clone(), size.clone());
        use_effect_with((), move |()| {
            let watch = canvas
                .cast::<Element>()
                .and_then(|element| SizeWatch::new(&element, move |width, height| size.set((width, height))));
            move || drop(watch)
        });
    }
    {
        let canvas = canvas.clone();
        let inputs = (Rc::clone(&props.chart), props.cursor, props.dark, *size);
        use_effect_with(inputs, move |inputs| {
            let waiting = canvas.cast::<HtmlCanvasElement>().and_then(|canvas| {
                if in_view(&canvas) {
                    paint(&canvas, inputs);
                    return None;
                }
                let inputs = inputs.clone();
                Some(Timeout::new(UNSEEN_AFTER_MS, move || paint(&canvas, &inputs)))
            });
            move || drop(waiting)
        });
    }
    let at = props.chart.frequencies_hz.get(props.cursor).copied().unwrap_or(0.0);
    let caption = props
        .caption
        .clone()
        .unwrap_or_else(|| format!("{}\u{a0}Hz: {}", hertz(at), reading(&props.chart, props.cursor)).into());
    let onclick = props.tap.clone().map(|tap| {
        let (chart, size) = (Rc::clone(&props.chart), *size);
        Callback::from(move |event: MouseEvent| {
            let place = (f64::from(event.offset_x()), f64::from(event.offset_y()));
            let size = (size.0 as u32, size.1 as u32);
            if let Some(index) = nearest(&chart, &Sheet::day(12.0, 1.0), size, place) {
                tap.emit(index);
            }
        })
    });
    html! {
        <figure class="chart" data-chart={props.chart.key}>
            <figcaption>
                <span>{ &props.chart.title }</span>
                <span class="reading">{ caption }</span>
            </figcaption>
            <canvas ref={canvas} aria-hidden="true" {onclick}></canvas>
        </figure>
    }
}

/// What a painted chart depends on: the chart, the cursor, whether it is night, and the size.
type Inputs = (Rc<Chart>, usize, bool, (f64, f64));

fn paint(canvas: &HtmlCanvasElement, (chart, cursor, dark, (width, height)): &Inputs) {
    with_canvas(canvas, *width, *height, |area, units| {
        let units = f64::from(units);
        let sheet = if *dark { Sheet::night(12.0 * units, units) } else { Sheet::day(12.0 * units, units) };
        // A backend that refuses leaves an empty canvas; caption and table still hold the numbers.
        let _ = draw(area, chart, &sheet, Some(*cursor));
    });
}

/// The cursor: a native range input, for finger and arrow keys; it speaks every curve.
pub fn cursor_view(charts: &[Rc<Chart>], cursor: usize, on_move: Callback<usize>) -> Html {
    let Some(first) = charts.first() else { return Html::default() };
    let last = first.frequencies_hz.len().saturating_sub(1);
    let at = first.frequencies_hz.get(cursor).copied().unwrap_or(0.0);
    let values: Vec<String> = charts.iter().map(|chart| reading(chart, cursor)).collect();
    let spoken = format!("{} Hz: {}", hertz(at), values.join(", "));
    let oninput = Callback::from(move |event: InputEvent| {
        let input: HtmlInputElement = event.target_unchecked_into();
        if let Ok(index) = input.value().parse() {
            on_move.emit(index);
        }
    });
    html! {
        <label class="cursor">
            <span>{ name::CURSOR }{ " " }<b>{ hertz(at) }{ "\u{a0}Hz" }</b></span>
            <input type="range" min="0" max={last.to_string()} step="1" value={cursor.to_string()}
                aria-valuetext={spoken} {oninput} />
        </label>
    }
}
