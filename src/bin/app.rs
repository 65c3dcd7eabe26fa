//! The page: starts the Yew application.

fn main() {
    #[cfg(target_arch = "wasm32")]
    kerf_and_coil::view::start();
}
