//! Random bytes from the browser's own source.
//!
//! Invariant: never a clock or a counter in disguise.

use super::js::{get, window};
use js_sys::Uint8Array;
use wasm_bindgen::JsValue;

/// Sixteen random bytes (W3C Web Cryptography, `getRandomValues`).
pub fn random_bytes() -> [u8; 16] {
    let array = Uint8Array::new_with_length(16);
    if let Some(crypto) = get(&window(), "crypto") {
        let _ = super::js::call(&crypto, "getRandomValues", &[JsValue::from(array.clone())]);
    }
    let mut bytes = [0; 16];
    array.copy_to(&mut bytes);
    bytes
}
