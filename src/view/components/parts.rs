//! Small parts as plain functions: elements, sheets, figures, notes, signs.
//!
//! A component costs the page some four kilobytes and an element written out by the macro some hundreds of bytes;
//! what needs neither state nor events of its own is made here.
use yew::prelude::*;
use yew::virtual_dom::VTag;

use crate::design::limits::FieldId;
use crate::design::report::Gap;
use crate::present::figures::Figure;
use crate::words::page;

/// An element with attributes and children; an attribute without a value is left out.
pub fn el(tag: &'static str, attributes: &[(&'static str, &str)], children: Vec<Html>) -> Html {
    let mut element = VTag::new(tag);
    for (name, value) in attributes {
        if !value.is_empty() {
            element.add_attribute(name, AttrValue::from(std::rc::Rc::<str>::from(*value)));
        }
    }
    element.add_children(children);
    element.into()
}

/// A text.
pub fn text(text: &str) -> Html {
    Html::VText(yew::virtual_dom::VText::new(std::rc::Rc::<str>::from(text)))
}

/// An element that holds only a text.
pub fn tx(tag: &'static str, class: &str, content: &str) -> Html {
    el(tag, &[("class", class)], vec![text(content)])
}

/// The small title of a sheet, with an addition at its right.
pub fn head(title: &str, aside: &str) -> Html {
    el("h2", &[], vec![tx("span", "", title), tx("span", "", aside)])
}

/// A row of a table: its header and its cells, each with an optional second line.
pub fn table_row(class: &str, header: (&str, &str), cells: &[(&str, &str)]) -> Html {
    let cell = |tag: &'static str, scope: &str, (value, more): (&str, &str)| {
        let mut children = vec![text(value)];
        if !more.is_empty() {
            children.push(tx("small", "", more));
        }
        el(tag, &[("scope", scope)], children)
    };
    let mut children = vec![cell("th", "row", header)];
    children.extend(cells.iter().map(|content| cell("td", "", *content)));
    el("tr", &[("class", class)], children)
}

/// A table; `heads` may be empty.
pub fn table(class: &str, heads: &[&str], rows: Vec<Html>) -> Html {
    let mut children = Vec::new();
    if !heads.is_empty() {
        let heads = heads.iter().map(|head| el("th", &[("scope", "col")], vec![text(head)])).collect();
        children.push(el("thead", &[], vec![el("tr", &[], heads)]));
    }
    children.push(el("tbody", &[], rows));
    el("table", &[("class", class)], children)
}

/// Something wider than the page may be, to be moved sideways with finger or keys.
pub fn scroll(label: &str, content: Html) -> Html {
    el(
        "div",
        &[("class", "scroll"), ("tabindex", "0"), ("role", "region"), ("aria-label", label)],
        vec![content],
    )
}

/// A rectangle of a drawing.
pub fn frame(class: &str, at: [f64; 2], size: [f64; 2]) -> Html {
    let ([x, y], [w, h]) = (at.map(px), size.map(px));
    el("rect", &[("class", class), ("x", &x), ("y", &y), ("width", &w), ("height", &h)], Vec::new())
}

/// A straight line of a drawing.
pub fn line(class: &str, ends: [[f64; 2]; 2]) -> Html {
    let [[x1, y1], [x2, y2]] = ends.map(|end| end.map(px));
    el("line", &[("class", class), ("x1", &x1), ("y1", &y1), ("x2", &x2), ("y2", &y2)], Vec::new())
}

/// One large figure: key for tests, value, unit, what it is.
pub fn figure(key: &str, value: &str, unit: &str, name: &str) -> Html {
    let value = el("dd", &[], vec![text(value), tx("small", "", &format!(" {unit}"))]);
    el("div", &[("class", "fig"), ("data-figure", key)], vec![tx("dt", "", name), value])
}

/// Large figures.
pub fn figure_grid(figures: &[Figure]) -> Html {
    let rows = figures.iter().map(|figure_| {
        let name = format!("{} {}", figure_.name, figure_.at);
        figure(figure_.key, &figure_.value.number, figure_.value.unit, name.trim_end())
    });
    el("dl", &[("class", "figs")], rows.collect())
}

/// Names and values, one under the other: name, value, unit.
pub fn pairs(rows: &[(&str, String, &str)]) -> Html {
    let row = |(name, value, unit): &(&str, String, &str)| {
        let value = el("dd", &[], vec![text(value), tx("small", "", &format!(" {unit}"))]);
        el("div", &[], vec![tx("dt", "", name), value])
    };
    el("dl", &[("class", "pairs")], rows.iter().map(row).collect())
}

/// How a note is marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoteKind {
    /// Go on.
    Good,
    /// Care.
    Care,
    /// Stop.
    Stop,
}

/// A note: a sign and words, never colour alone.
pub fn note(kind: NoteKind, content: &str) -> Html {
    let (class, sign, icon) = match kind {
        NoteKind::Good => ("note good", page::GOOD, Icon::Good),
        NoteKind::Care => ("note", page::CARE, Icon::Care),
        NoteKind::Stop => ("note stop", page::STOP, Icon::Stop),
    };
    let words = el("p", &[], vec![tx("b", "", sign), text(&format!(" {content}"))]);
    el("div", &[("class", class)], vec![icon.html(), words])
}

/// A caution beside the step where the hurt could happen.
pub fn caution(content: &str) -> Html {
    note(NoteKind::Care, content)
}

/// What is missing for a part of the report.
pub fn gap_note(gap: &Gap) -> Html {
    let labels = |set: &Vec<FieldId>| set.iter().map(|id| id.row().label).collect::<Vec<_>>().join(", ");
    let words = match gap {
        Gap::Missing(sets) => {
            let sets: Vec<String> = sets.iter().take(3).map(labels).collect();
            page::missing(&sets.join(page::OR))
        }
        Gap::Refused(error) => page::refused(&error.to_string()),
        Gap::Waiting => page::WAITING.into(),
        Gap::Rings => crate::words::rings::IS_STACK.into(),
    };
    tx("p", "gap", &words)
}

/// Signs, drawn as lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Icon {
    /// A drawing board.
    Desk,
    /// A saw blade over its table.
    Saw,
    /// A car.
    Car,
    /// A tick.
    Good,
    /// A triangle.
    Care,
    /// An octagon.
    Stop,
    /// An arrow back.
    Undo,
    /// An arrow forward.
    Redo,
}

impl Icon {
    /// The sign.
    pub fn html(self) -> Html {
        let d = match self {
            Self::Desk => "M3 20h18M5 20 17 4l2.500 2L8 20M15 6.500l2.500 2",
            Self::Saw => {
                "M2 15h20M4 15v5M20 15v5M7 15a5 5 0 0 1 10 0M12 8V6M15.500 9.500 17 8M8.500 9.500 7 8"
            }
            Self::Car => {
                "M2 16v-4l4-1 3-5h7l4 5 2 1v4h-3M5 16H2M9 16h6M5 16a2 2 0 1 0 4 0a2 2 0 1 0-4 0M15 16a2 2 0 1 0 4 0a2 2 0 1 0-4 0"
            }
            Self::Good => "M4 12.500 9.500 18 20 6",
            Self::Care => "M12 4 2.500 20h19zM12 10v5M12 17.500v.500",
            Self::Stop => "M8 3h8l5 5v8l-5 5H8l-5-5V8zM12 8v5M12 16v.500",
            Self::Undo => "M9 6 4 11l5 5M4 11h10a5 5 0 0 1 0 10h-2",
            Self::Redo => "m15 6 5 5-5 5M20 11H10a5 5 0 0 0 0 10h2",
        };
        let sign = el("path", &[("d", d)], Vec::new());
        el("svg", &[("class", "icon"), ("viewBox", "0 0 24 24"), ("aria-hidden", "true")], vec![sign])
    }
}

/// A length on a drawing, to a tenth of a pixel.
#[must_use]
pub fn px(value: f64) -> String {
    format!("{value:.1}")
}
