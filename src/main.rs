//! The page. Native builds have none: they only test the library.

#[cfg(target_arch = "wasm32")]
mod app;

#[cfg(target_arch = "wasm32")]
fn main() {
    app::start();
}

#[cfg(not(target_arch = "wasm32"))]
fn main() {
    eprintln!("Hearthjar runs in a browser: see README.md.");
}
