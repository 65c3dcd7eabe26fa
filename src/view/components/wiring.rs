//! The wiring, drawn.
use yew::prelude::*;

use crate::present::wiring_drawing::{COIL, Wire, WiringDrawing};
use crate::words::{car, table};

/// The wiring, drawn.
#[derive(PartialEq, Properties)]
pub struct WiringProps {
    /// The drawing.
    pub drawing: WiringDrawing,
}

/// The wiring, drawn.
#[component]
pub fn WiringView(props: &WiringProps) -> Html {
    let drawing = &props.drawing;
    let n = |value: f64| format!("{value:.1}");
    let [plus, minus] = drawing.posts;
    html! {
        <div class="scroll" tabindex="0" role="region" aria-label={car::DIAGRAM}>
        <svg class="wiring" viewBox={format!("0 0 {:.0} {:.0}", drawing.size[0], drawing.size[1])} width={n(drawing.size[0])}
            height={n(drawing.size[1])} role="img" aria-label={car::DIAGRAM}>
            <rect class="edge" x="8" y={n(plus[1] - 16.0)} width="44" height={n(minus[1] - plus[1] + 32.0)} />
            <text class="val" x="30" y={n((plus[1] + minus[1]) / 2.0)} text-anchor="middle">{ car::AMPLIFIER_SHORT }</text>
            { for drawing.segments.iter().map(|segment| {
                let class = match segment.wire {
                    Wire::Plus => "wire plus",
                    Wire::Minus => "wire minus",
                    Wire::Between => "wire between",
                };
                let [[x1, y1], [x2, y2]] = segment.ends;
                html! { <line {class} x1={n(x1)} y1={n(y1)} x2={n(x2)} y2={n(y2)} /> }
            }) }
            { for drawing.joints.iter().map(|[x, y]| html! { <circle class="joint" cx={n(*x)} cy={n(*y)} r="3" /> }) }
            { for drawing.posts.iter().zip(["+", "−"]).map(|([x, y], sign)| html! {
                <><circle class="post" cx={n(*x + 22.0)} cy={n(*y)} r="4" /><text class="val" x={n(*x + 32.0)} y={n(*y - 6.0)}>{ sign }</text></>
            }) }
            { for drawing.coils.iter().map(|coil| {
                let [x, y] = coil.at;
                html! {
                    <g>
                        <rect class="edge paper" x={n(x - COIL[0] / 2.0)} y={n(y - COIL[1] / 2.0)} width={n(COIL[0])} height={n(COIL[1])} />
                        <text class="val" x={n(x)} y={n(y + 5.0)} text-anchor="middle">{ table::coil_name(&coil.coil.to_string()) }</text>
                        <text x={n(x + 6.0)} y={n(y - COIL[1] / 2.0 - 4.0)}>{ "+" }</text>
                        <text x={n(x + 6.0)} y={n(y + COIL[1] / 2.0 + 13.0)}>{ "−" }</text>
                    </g>
                }
            }) }
        </svg>
        </div>
    }
}
