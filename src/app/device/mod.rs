//! What the browser offers, each feature behind a few plain functions.
//!
//! Invariant: a missing feature is an answer, never a panic; no rule of canning
//! is known here.

pub mod aside;
pub mod buzz;
pub mod clock;
pub mod db;
pub mod digest;
pub mod dom;
pub mod files;
pub mod js;
pub mod keep;
pub mod local;
pub mod position;
pub mod prefs;
pub mod random;
pub mod sound;
pub mod tabs;
pub mod texts;
pub mod wake;
pub mod worker;

/// Keeps the browser from doing what it would do by itself.
pub fn prevent_default(event: &wasm_bindgen::JsValue) -> bool {
    js::call(event, "preventDefault", &[]).is_ok()
}
