//! The desk's half of the page: what is done sitting down, before the stove and
//! long after it. Fetched when the first of its screens is opened.
//!
//! Native builds have no page: they only test the library.
#![cfg_attr(target_arch = "wasm32", no_main)]

#[cfg(target_arch = "wasm32")]
#[allow(dead_code, reason = "each half uses its own part of the shared pieces")]
#[path = "../app/mod.rs"]
mod app;
#[cfg(target_arch = "wasm32")]
mod demo;
#[cfg(target_arch = "wasm32")]
mod kept;
#[cfg(target_arch = "wasm32")]
mod page;
#[cfg(target_arch = "wasm32")]
mod plan;
#[cfg(target_arch = "wasm32")]
mod screens;

/// Not `main`: see the stove's half.
#[cfg(target_arch = "wasm32")]
#[wasm_bindgen::prelude::wasm_bindgen(start)]
fn start() {
    page::start();
}

#[cfg(not(target_arch = "wasm32"))]
fn main() {
    eprintln!("Hearthjar runs in a browser: see README.md.");
}
