//! Vibration, where there is one.
//!
//! Invariant: never the only sign of anything.

use super::js::{call, get, navigator};
use js_sys::Array;
use wasm_bindgen::JsValue;

/// Whether this browser can vibrate.
pub fn can() -> bool {
    get(&navigator(), "vibrate").is_some()
}

/// Vibrates: on, off, on ... milliseconds.
pub fn buzz(pattern: &[u32]) {
    let pattern: Array = pattern.iter().map(|ms| JsValue::from_f64(f64::from(*ms))).collect();
    let _ = call(&navigator(), "vibrate", &[pattern.into()]);
}
