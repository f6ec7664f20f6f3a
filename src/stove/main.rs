//! The stove's half of the page: what is on, the finder, the run, the seals, files
//! in and out. It opens first and alone, and needs nothing of the other half.
//!
//! Native builds have no page: they only test the library.

#[cfg(target_arch = "wasm32")]
#[allow(dead_code, reason = "each half uses its own part of the shared pieces")]
#[path = "../app/mod.rs"]
mod app;
#[cfg(target_arch = "wasm32")]
mod page;
#[cfg(target_arch = "wasm32")]
mod screens;
#[cfg(target_arch = "wasm32")]
mod ticker;

#[cfg(target_arch = "wasm32")]
fn main() {
    page::start();
}

#[cfg(not(target_arch = "wasm32"))]
fn main() {
    eprintln!("Hearthjar runs in a browser: see README.md.");
}
