//! The box as a shop drawing; dimensions that are entries can be tapped and typed over where they stand.
use std::rc::Rc;

use web_sys::HtmlInputElement;
use yew::prelude::*;

use super::parts::{el, px, text};
use crate::design::limits::FieldId;
use crate::design::report::BoxReport;
use crate::present::drawing::{Callout, Drawing, FieldHint, Mark, Shape, Sheet, Style, draw};
use crate::units::{ExactLength, UnitPrefs};
use crate::view::store::{Msg, Store};
use crate::words::page;

/// The drawing.
#[derive(PartialEq, Properties)]
pub struct DrawingProps {
    /// The box.
    pub enclosure: Rc<BoxReport>,
    /// Units.
    pub prefs: UnitPrefs,
    /// Where what is typed over a dimension goes.
    pub out: UseReducerDispatcher<Store>,
    /// What is drawn over the box.
    #[prop_or_default]
    pub over: Html,
}

/// The sheet the box is drawn on.
pub fn phone_sheet(label: &dyn Fn(ExactLength) -> String) -> Sheet<'_> {
    Sheet { width: 342.0, view_height: 190.0, text_size: 13.0, label }
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
        FieldHint::FrontDiameter => Some(FieldId::FrontPortDiameter),
        FieldHint::FrontLength => Some(FieldId::FrontPortLength),
        FieldHint::FrontHeight => Some(FieldId::FrontSlotHeight),
        FieldHint::Radiator => Some(FieldId::RadiatorCutOut),
        // The front's thickness is that of its layers together; a slot is as wide as the box.
        FieldHint::TopDepth => Some(FieldId::TopDepth),
        FieldHint::Setback => Some(FieldId::FrontSetback),
        FieldHint::StepHeight => Some(FieldId::StepHeight),
        FieldHint::StepDepth => Some(FieldId::StepDepth),
        FieldHint::FrontThickness | FieldHint::PortWidth => None,
    }
}

/// The drawing.
#[component]
pub fn DrawingView(props: &DrawingProps) -> Html {
    let editing = use_state_eq(|| None::<FieldId>);
    let drawing = use_memo((Rc::clone(&props.enclosure), props.prefs), |(enclosure, prefs)| {
        let label = |length| prefs.length_text(length);
        draw(&enclosure.spec, &enclosure.plan.current().assembly, &phone_sheet(&label))
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
            { props.over.clone() }
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
    // The pattern's address is an attribute: in a style sheet it would be looked for in the style sheet's file.
    let fill = if mark.style == Style::Cut { "url(#wood)" } else { "" };
    let draw = |tag: &'static str, geometry: &[(&'static str, f64)]| {
        let values: Vec<(&'static str, String)> =
            geometry.iter().map(|(name, value)| (*name, px(*value))).collect();
        let mut attributes = vec![("class", class), ("fill", fill)];
        attributes.extend(values.iter().map(|(name, value)| (*name, value.as_str())));
        el(tag, &attributes, Vec::new())
    };
    match &mark.shape {
        Shape::Line(a, b) => draw("line", &[("x1", a[0]), ("y1", a[1]), ("x2", b[0]), ("y2", b[1])]),
        Shape::Rect(at, size) => {
            draw("rect", &[("x", at[0]), ("y", at[1]), ("width", size[0]), ("height", size[1])])
        }
        Shape::Circle(at, radius) => draw("circle", &[("cx", at[0]), ("cy", at[1]), ("r", *radius)]),
        Shape::Polygon(points) => {
            let points: Vec<String> = points.iter().map(|p| format!("{:.1},{:.1}", p[0], p[1])).collect();
            el("polygon", &[("class", class), ("fill", fill), ("points", &points.join(" "))], Vec::new())
        }
    }
}

fn dimension(callout: &Callout, props: &DrawingProps, editing: &UseStateHandle<Option<FieldId>>) -> Html {
    let [x, y] = callout.at.map(px);
    let value = |class: &str| {
        let place = [
            ("class", class),
            ("x", &x),
            ("y", &y),
            ("text-anchor", "middle"),
            ("dominant-baseline", "central"),
        ];
        el("text", &place, vec![text(&callout.text)])
    };
    let Some(id) = callout.field.and_then(field_of) else { return value("val") };
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
            { el("rect", &[("class", "touch"), ("x", &px(middle[0] - wide / 2.0)), ("y", &px(middle[1] - high / 2.0)), ("width", &px(wide)), ("height", &px(high))], Vec::new()) }
            { value("val own") }
        </g>
    }
}

/// The dimension as a field, in its place on the drawing.
#[inline(never)] // once a dimension is tapped
fn editor(
    callout: &Callout,
    id: FieldId,
    props: &DrawingProps,
    editing: &UseStateHandle<Option<FieldId>>,
) -> Html {
    let (out, close) = (props.out.clone(), editing.clone());
    let oninput = Callback::from(move |event: InputEvent| {
        let input: HtmlInputElement = event.target_unchecked_into();
        out.dispatch(Msg::Typed(id, input.value()));
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
        // Told its namespace: in a drawing an element is made one of the drawing otherwise, and takes no text.
        <input xmlns="http://www.w3.org/1999/xhtml" class="over" ref={node} type="text" inputmode="decimal" autocomplete="off" aria-label={props.label}
            value={(*typed).clone().unwrap_or_else(|| first.to_string())} {oninput} onblur={props.onblur.clone()} onkeydown={props.onkeydown.clone()} />
    }
}
