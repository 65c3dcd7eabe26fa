//! The page, in Yew. Components take values and give actions; nothing here computes.
mod app;
mod components;
mod pages;
mod saving;
mod store;

use crate::platform::{boot, page};

/// Starts the page.
pub fn start() {
    yew::set_custom_panic_hook(Box::new(boot::show_panic));
    boot::allow_test_panic();
    if let Some(root) = page::element("app") {
        yew::Renderer::<app::App>::with_root(root).render();
    }
}
