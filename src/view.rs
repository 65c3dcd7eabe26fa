//! The page, in Yew. Components take values and give actions; nothing here computes.
mod app;
mod components;
mod jobs;
mod pages;
mod saving;
mod store;

use crate::design::{demo, evaluate::evaluate};
use crate::platform::{boot, clock, page, worker};

/// Starts the page.
pub fn start() {
    if worker::is_worker() {
        jobs::serve();
        return;
    }
    yew::set_custom_panic_hook(Box::new(boot::show_panic));
    boot::allow_test_panic();
    boot::allow_timing(evaluation_ms);
    if let Some(root) = page::element("app") {
        yew::Renderer::<app::App>::with_root(root).render();
    }
}

/// Mean time of one evaluation of the demo with all its curves, in milliseconds.
fn evaluation_ms() -> f64 {
    const TIMES: u32 = 200;
    let sheet = demo::design().sheet;
    let start = clock::elapsed_ms();
    for _ in 0..TIMES {
        std::hint::black_box(evaluate(std::hint::black_box(&sheet)));
    }
    (clock::elapsed_ms() - start) / f64::from(TIMES)
}
