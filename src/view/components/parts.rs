//! Small parts: sheets, figures, notes, icons.
use yew::prelude::*;

use crate::design::limits::FieldId;
use crate::design::report::Gap;
use crate::present::figures::Figure;
use crate::words::page;

/// A bordered sheet with a small title.
#[derive(PartialEq, Properties)]
pub struct SheetProps {
    /// Title.
    pub title: AttrValue,
    /// Addition at the right of the title.
    #[prop_or_default]
    pub aside: AttrValue,
    /// Target of a jump.
    #[prop_or_default]
    pub id: Option<AttrValue>,
    /// Content.
    pub children: Html,
}

/// A bordered sheet with a small title.
#[component]
pub fn SheetBox(props: &SheetProps) -> Html {
    html! {
        <section class="sheet" id={props.id.clone()}>
            <h2><span>{ props.title.clone() }</span><span>{ props.aside.clone() }</span></h2>
            { props.children.clone() }
        </section>
    }
}

/// Large figures.
#[derive(PartialEq, Properties)]
pub struct FigureProps {
    /// The figures.
    pub figures: Vec<Figure>,
}

/// Large figures.
#[component]
pub fn FigureGrid(props: &FigureProps) -> Html {
    html! {
        <dl class="figs">
            { for props.figures.iter().map(|figure| html! {
                <div class="fig" key={figure.key} data-figure={figure.key}>
                    <dt>{ figure.name } if !figure.at.is_empty() { { " " }{ &figure.at } }</dt>
                    <dd>{ &figure.value.number }<small>{ " " }{ figure.value.unit }</small></dd>
                </div>
            }) }
        </dl>
    }
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

/// A note.
#[derive(PartialEq, Properties)]
pub struct NoteProps {
    /// How it is marked.
    pub kind: NoteKind,
    /// Its text.
    pub text: AttrValue,
}

/// A note: a sign and words, never colour alone.
#[component]
pub fn Note(props: &NoteProps) -> Html {
    let (class, sign, icon) = match props.kind {
        NoteKind::Good => ("note good", page::GOOD, Icon::Good),
        NoteKind::Care => ("note", page::CARE, Icon::Care),
        NoteKind::Stop => ("note stop", page::STOP, Icon::Stop),
    };
    html! {
        <div {class}>
            { icon.html() }
            <p><b>{ sign }</b>{ " " }{ props.text.clone() }</p>
        </div>
    }
}

/// A caution beside the step where the hurt could happen.
#[derive(PartialEq, Properties)]
pub struct CautionProps {
    /// Its text.
    pub text: &'static str,
}

/// A caution beside the step where the hurt could happen.
#[component]
pub fn Caution(props: &CautionProps) -> Html {
    html! { <Note kind={NoteKind::Care} text={props.text} /> }
}

/// What is missing for a part of the report.
#[derive(PartialEq, Properties)]
pub struct GapProps {
    /// The gap.
    pub gap: Gap,
}

/// What is missing for a part of the report.
#[component]
pub fn GapNote(props: &GapProps) -> Html {
    let labels = |set: &Vec<FieldId>| set.iter().map(|id| id.row().label).collect::<Vec<_>>().join(", ");
    let text = match &props.gap {
        Gap::Missing(sets) => {
            let sets: Vec<String> = sets.iter().take(3).map(labels).collect();
            page::missing(&sets.join(page::OR))
        }
        Gap::Refused(error) => page::refused(&error.to_string()),
        Gap::Waiting => page::WAITING.into(),
    };
    html! { <p class="gap">{ text }</p> }
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
}

impl Icon {
    /// The sign.
    #[must_use]
    pub fn html(self) -> Html {
        let d = match self {
            Self::Desk => "M3 20h18M5 20 17 4l2.500 2L8 20M15 6.500l2.500 2",
            Self::Saw => "M2 15h20M4 15v5M20 15v5M7 15a5 5 0 0 1 10 0M12 8V6M15.500 9.500 17 8M8.500 9.500 7 8",
            Self::Car => "M2 16v-4l4-1 3-5h7l4 5 2 1v4h-3M5 16H2M9 16h6M5 16a2 2 0 1 0 4 0a2 2 0 1 0-4 0M15 16a2 2 0 1 0 4 0a2 2 0 1 0-4 0",
            Self::Good => "M4 12.500 9.500 18 20 6",
            Self::Care => "M12 4 2.500 20h19zM12 10v5M12 17.500v.500",
            Self::Stop => "M8 3h8l5 5v8l-5 5H8l-5-5V8zM12 8v5M12 16v.500",
        };
        html! { <svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path {d} /></svg> }
    }
}
