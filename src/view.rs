//! The page: what it shows before the places are built in.

use crate::platform::{boot, offline, page, spawn_local};
use yew::prelude::*;

/// Starts the page.
pub fn start() {
    yew::set_custom_panic_hook(Box::new(boot::show_panic));
    boot::allow_test_panic();
    if let Some(root) = page::element("app") {
        yew::Renderer::<App>::with_root(root).render();
    }
}

#[component]
fn App() -> Html {
    let update = use_state(|| None::<offline::Update>);
    let found = update.clone();
    use_effect_with((), move |()| {
        boot::started();
        spawn_local(async move {
            let _ = offline::register(move |new| found.set(Some(new))).await;
        });
    });
    let notice = update.as_ref().map(|new| {
        let new = new.clone();
        let accept = Callback::from(move |_: MouseEvent| new.accept());
        html! { <button class="key" data-update="true" onclick={accept}>{ "New version: reload" }</button> }
    });
    html! { <main class="starting"><h1>{ "Kerf & Coil" }</h1>{ notice }</main> }
}
