//! The stove's half of the page: what is on, the finder, the run, the seals, files
//! in and out. It opens first and alone, and needs nothing of the other half.
//!
//! Native builds have no page: they only test the library.
#![cfg_attr(target_arch = "wasm32", no_main)]

#[cfg(target_arch = "wasm32")]
mod ahead;
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

/// Not `main`: that would bring along what the standard library does around it, for
/// output that no page has.
#[cfg(target_arch = "wasm32")]
#[wasm_bindgen::prelude::wasm_bindgen(start)]
fn start() {
    page::start();
}

#[cfg(not(target_arch = "wasm32"))]
fn main() {
    eprintln!("Hearthjar runs in a browser: see README.md.");
}
