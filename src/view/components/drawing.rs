//! The box as a shop drawing; dimensions that are entries can be tapped and typed over where they stand.
use std::rc::Rc;

use web_sys::HtmlInputElement;
use yew::prelude::*;

use crate::design::limits::FieldId;
use crate::design::report::BoxReport;
use crate::present::drawing::{Callout, Drawing, FieldHint, Mark, Shape, Sheet, Style, draw};
use crate::units::UnitPrefs;
use crate::words::page;

/// The drawing.
#[derive(PartialEq, Properties)]
pub struct DrawingProps {
    /// The box.
    pub enclosure: Rc<BoxReport>,
    /// Units.
    pub prefs: UnitPrefs,
    /// A dimension was typed over.
    pub on_text: Callback<(FieldId, String)>,
}

const fn field_of(hint: FieldHint) -> Option<FieldId> {
    match hint {
        FieldHint::Width => Some(FieldId::BoxWidth),
        FieldHint::Height => Some(FieldId::BoxHeight),
        FieldHint::Depth => Some(FieldId::BoxDepth),
        FieldHint::CutOut => Some(FieldId::CutOut),
        FieldHint::PortHeight => Some(FieldId::SlotHeight),
        FieldHint::PortDiameter => Some(FieldId::PortDiameter),
        FieldHint::PortLength => Some(FieldId::PortLength),
        // The front's thickness is that of its layers together; a slot is as wide as the box.
        FieldHint::FrontThickness | FieldHint::PortWidth => None,
    }
}

/// The drawing.
#[component]
pub fn DrawingView(props: &DrawingProps) -> Html {
    let editing = use_state_eq(|| None::<FieldId>);
    let drawing = use_memo((Rc::clone(&props.enclosure), props.prefs), |(enclosure, prefs)| {
        let label = |length| prefs.length_text(length);
        let sheet = Sheet { width: 342.0, view_height: 190.0, text_size: 13.0, label: &label };
        draw(&enclosure.spec, &enclosure.plan.current().assembly, &sheet)
    });
    let drawing: &Drawing = &drawing;
    html! {
        <svg class="drawing" viewBox={format!("0 0 {:.0} {:.0}", drawing.width, drawing.height)} role="group" aria-label={page::DRAWING}>
            <defs>
                <pattern id="wood" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
                    <path d="M0 0v6" class="grain" />
                </pattern>
            </defs>
            { for drawing.marks.iter().map(mark) }
            { for drawing.callouts.iter().map(|callout| dimension(callout, props, &editing)) }
        </svg>
    }
}

fn mark(mark: &Mark) -> Html {
    let class = match mark.style {
        Style::Outline => "edge",
        Style::Hidden => "hid",
        Style::Centre => "axis",
        Style::Cut => "wood",
        Style::Dimension => "dim",
    };
    let n = |value: f64| format!("{value:.1}");
    match &mark.shape {
        Shape::Line(a, b) => html! { <line {class} x1={n(a[0])} y1={n(a[1])} x2={n(b[0])} y2={n(b[1])} /> },
        Shape::Rect(at, size) => {
            html! { <rect {class} x={n(at[0])} y={n(at[1])} width={n(size[0])} height={n(size[1])} /> }
        }
        Shape::Circle(at, radius) => html! { <circle {class} cx={n(at[0])} cy={n(at[1])} r={n(*radius)} /> },
        Shape::Polygon(points) => {
            let points: Vec<String> = points.iter().map(|p| format!("{:.1},{:.1}", p[0], p[1])).collect();
            html! { <polygon {class} points={points.join(" ")} /> }
        }
    }
}

fn dimension(callout: &Callout, props: &DrawingProps, editing: &UseStateHandle<Option<FieldId>>) -> Html {
    let [x, y] = callout.at.map(|v| format!("{v:.1}"));
    let Some(id) = callout.field.and_then(field_of) else {
        return html! { <text class="val" {x} {y} text-anchor="middle" dominant-baseline="central">{ &callout.text }</text> };
    };
    if **editing == Some(id) {
        return editor(callout, id, props, editing);
    }
    let start = {
        let editing = editing.clone();
        Callback::from(move |()| editing.set(Some(id)))
    };
    let onclick = start.reform(|_: MouseEvent| ());
    let onkeydown = Callback::from(move |event: KeyboardEvent| {
        if event.key() == "Enter" || event.key() == " " {
            event.prevent_default();
            start.emit(());
        }
    });
    let [left, top, right, bottom] = callout.text_box(13.0);
    let middle = [(left + right) / 2.0, (top + bottom) / 2.0];
    // At least 44 × 32 CSS pixels to the finger at the sheet's natural size.
    let (wide, high) = ((right - left).max(44.0), (bottom - top).max(32.0));
    html! {
        <g class="tap" role="button" tabindex="0" aria-label={page::dimension(id.row().label, &callout.text)} {onclick} {onkeydown}>
            <rect class="touch" x={format!("{:.1}", middle[0] - wide / 2.0)} y={format!("{:.1}", middle[1] - high / 2.0)}
                width={format!("{wide:.1}")} height={format!("{high:.1}")} />
            <text class="val own" {x} {y} text-anchor="middle" dominant-baseline="central">{ &callout.text }</text>
        </g>
    }
}

/// The dimension as a field, in its place on the drawing.
fn editor(callout: &Callout, id: FieldId, props: &DrawingProps, editing: &UseStateHandle<Option<FieldId>>) -> Html {
    let (on_text, close) = (props.on_text.clone(), editing.clone());
    let oninput = Callback::from(move |event: InputEvent| {
        let input: HtmlInputElement = event.target_unchecked_into();
        on_text.emit((id, input.value()));
    });
    let onblur = {
        let close = close.clone();
        Callback::from(move |_: FocusEvent| close.set(None))
    };
    let onkeydown = Callback::from(move |event: KeyboardEvent| {
        if event.key() == "Enter" || event.key() == "Escape" {
            close.set(None);
        }
    });
    let (x, y) = (callout.at[0] - 36.0, callout.at[1] - 16.0);
    html! {
        <foreignObject x={format!("{:.1}", x.max(0.0))} y={format!("{y:.1}")} width="76" height="34">
            <DimensionInput label={id.row().label} value={props.prefs.length_text(callout.value)} {oninput} {onblur} {onkeydown} />
        </foreignObject>
    }
}

#[derive(PartialEq, Properties)]
struct InputProps {
    label: &'static str,
    value: AttrValue,
    oninput: Callback<InputEvent>,
    onblur: Callback<FocusEvent>,
    onkeydown: Callback<KeyboardEvent>,
}

/// An input that takes the focus once, and keeps what is typed while the drawing under it changes.
#[component]
fn DimensionInput(props: &InputProps) -> Html {
    let node = use_node_ref();
    let first = use_memo((), |()| props.value.clone());
    {
        let node = node.clone();
        use_effect_with((), move |()| {
            if let Some(input) = node.cast::<HtmlInputElement>() {
                let _ = input.focus();
                input.select();
            }
        });
    }
    let typed = use_state(|| None::<String>);
    let oninput = {
        let (typed, emit) = (typed.clone(), props.oninput.clone());
        Callback::from(move |event: InputEvent| {
            let input: HtmlInputElement = event.target_unchecked_into();
            typed.set(Some(input.value()));
            emit.emit(event);
        })
    };
    html! {
        <input class="over" ref={node} type="text" inputmode="decimal" autocomplete="off" aria-label={props.label}
            value={(*typed).clone().unwrap_or_else(|| first.to_string())} {oninput} onblur={props.onblur.clone()} onkeydown={props.onkeydown.clone()} />
    }
}
