//! Depth, folded: what is not open is not on the page.
use yew::prelude::*;

/// A fold.
#[derive(PartialEq, Properties)]
pub struct FoldProps {
    /// What is inside.
    pub title: AttrValue,
    /// Makes what is inside; called only while it is open.
    pub content: Callback<(), Html>,
    /// Whether it starts open.
    #[prop_or_default]
    pub open: bool,
}

/// A fold.
#[component]
pub fn Fold(props: &FoldProps) -> Html {
    let open = use_state(|| props.open);
    let onclick = {
        let open = open.clone();
        Callback::from(move |_: MouseEvent| open.set(!*open))
    };
    html! {
        <div class="fold">
            <button type="button" class="foldkey" aria-expanded={if *open { "true" } else { "false" }} {onclick}>
                <span>{ props.title.clone() }</span><span class="turn" aria-hidden="true">{ if *open { "−" } else { "+" } }</span>
            </button>
            if *open { <div class="folded">{ props.content.emit(()) }</div> }
        </div>
    }
}
