//! The vehicle from above and from its side, to tap where the box stands. Own drawing: a body, a windscreen, five seats,
//! a load floor.
use web_sys::Element;
use yew::prelude::*;

use crate::view::components::{el, tx};
use crate::words::trials as words;

/// Size of the sketch in its own units; one unit is a CSS pixel at its natural size.
const WIDE: f64 = 200.0;
const LONG: f64 = 330.0;
/// The side view lies with the front to the left; floor and roof of the space inside, from its top.
const TALL: f64 = 130.0;
const ROOF: f64 = 18.0;
const FLOOR: f64 = 104.0;

/// A spot on the sketch: its place in per cent, its mark, whether it is the one being entered.
pub(super) struct Pin {
    pub(super) place: [u8; 2],
    /// Per cent from floor to roof.
    pub(super) height: Option<u8>,
    pub(super) mark: String,
    pub(super) own: bool,
}

/// The sketch with pins; a tap gives the place tapped in per cent from the left and from the front.
pub(super) fn plan(pins: &[Pin], tapped: Callback<[u8; 2]>) -> Html {
    let onclick = Callback::from(move |event: MouseEvent| {
        let Some(frame) = bounds_of(&event) else { return };
        let share = |at: f64, size: f64| {
            // A sketch without a size can't be tapped, but a division by zero would be no place.
            if size > 0.0 { (100.0 * at / size).round().clamp(0.0, 100.0) as u8 } else { 50 }
        };
        let across = share(f64::from(event.client_x()) - frame.left(), frame.width());
        let along = share(f64::from(event.client_y()) - frame.top(), frame.height());
        tapped.emit([across, along]);
    });
    html! {
        <svg class="drawing plan" viewBox="0 0 200 330" role="img" aria-label={words::PLAN_SPOKEN} {onclick}>
            { body() }
            { for pins.iter().map(pin) }
        </svg>
    }
}

/// The vehicle from its left side, with the pins whose height is known; a tap gives the place from the front and the
/// height above the floor, in per cent.
pub(super) fn side(pins: &[Pin], tapped: Callback<[u8; 2]>) -> Html {
    let onclick = Callback::from(move |event: MouseEvent| {
        let Some(frame) = bounds_of(&event) else { return };
        if frame.width() <= 0.0 || frame.height() <= 0.0 {
            return;
        }
        let along = 100.0 * (f64::from(event.client_x()) - frame.left()) / frame.width();
        let down = TALL * (f64::from(event.client_y()) - frame.top()) / frame.height();
        let height = 100.0 * (FLOOR - down) / (FLOOR - ROOF);
        tapped.emit([along, height].map(|share| share.round().clamp(0.0, 100.0) as u8));
    });
    let shown = pins.iter().filter_map(|pin| {
        let height = f64::from(pin.height?) / 100.0;
        let at = [LONG * f64::from(pin.place[1]) / 100.0, FLOOR - (FLOOR - ROOF) * height];
        Some(mark(at, pin))
    });
    html! {
        <svg class="drawing plan side" viewBox="0 0 330 130" role="img" aria-label={words::SIDE_SPOKEN} {onclick}>
            { path("edge", "M8 104Q6 78 30 70L84 62L122 22Q128 14 140 14H262Q284 14 300 40L318 70Q324 78 322 104Z") }
            { path("edge", "M48 104a22 22 0 0 1 44 0M238 104a22 22 0 0 1 44 0") }
            { path("dim", "M128 100v-20h26l8-40h8l-6 60zM190 100v-20h26l8-40h8l-6 60z") }
            { path("hid", "M236 84h80") }
            { path("axis", "M4 104h322") }
            { el("text", &[("x", "10"), ("y", "124"), ("text-anchor", "start")], vec![tx("tspan", "", words::FRONT)]) }
            { for shown }
        </svg>
    }
}

/// The frame of the sketch on the screen. The event's target may be a pin: the sketch around it counts.
fn bounds_of(event: &MouseEvent) -> Option<web_sys::DomRect> {
    let element: Element = event.target_dyn_into()?;
    Some(element.closest("svg").ok().flatten()?.get_bounding_client_rect())
}

fn path(class: &str, d: &str) -> Html {
    el("path", &[("class", class), ("d", d)], Vec::new())
}

fn body() -> Html {
    html! {
        <>
            { path("edge", "M28 60Q30 14 100 10Q170 14 172 60L176 270Q174 318 100 320Q26 318 24 270Z") }
            { path("edge", "M40 84Q100 62 160 84M46 104Q100 88 154 104") }
            { path("dim", "M48 122h40v44h-40zM112 122h40v44h-40zM46 186h108v38h-108z") }
            { path("hid", "M40 236h120M46 236L42 292Q100 304 158 292L154 236") }
            { path("axis", "M100 4v322") }
            { el("text", &[("x", "104"), ("y", "48"), ("text-anchor", "start")], vec![tx("tspan", "", words::FRONT)]) }
        </>
    }
}

fn pin(pin: &Pin) -> Html {
    let at = |share: u8, size: f64| size * f64::from(share) / 100.0;
    mark([at(pin.place[0], WIDE), at(pin.place[1], LONG)], pin)
}

/// A pin at a place of a sketch.
fn mark([x, y]: [f64; 2], pin: &Pin) -> Html {
    let (x, y) = (format!("{x:.1}"), format!("{y:.1}"));
    let text = [
        ("x", x.as_str()),
        ("y", &y),
        ("text-anchor", "middle"),
        ("dominant-baseline", "central"),
        ("class", "val"),
    ];
    html! {
        <g class={if pin.own { "pin mine" } else { "pin" }}>
            { el("circle", &[("cx", &x), ("cy", &y), ("r", "12")], Vec::new()) }
            { el("text", &text, vec![tx("tspan", "", &pin.mark)]) }
        </g>
    }
}
