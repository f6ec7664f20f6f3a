//! The browser's own SHA-256: beside the page and many times faster than code of ours.
//!
//! Invariant: a browser without it gives none; the caller then works it out.

use super::js::{call, get, window};
use js_sys::{Promise, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

/// A digest being worked out.
pub struct Digest(Promise);

/// Begins the SHA-256 digest of a text; `None` where the browser has none to offer.
pub fn begin(text: &str) -> Option<Digest> {
    let subtle = get(&get(&window(), "crypto")?, "subtle")?;
    let bytes = Uint8Array::from(text.as_bytes());
    let digest = call(&subtle, "digest", &[JsValue::from_str("SHA-256"), bytes.into()]);
    digest.ok()?.dyn_into().ok().map(Digest)
}

impl Digest {
    /// The digest's bytes.
    pub async fn bytes(self) -> Option<Vec<u8>> {
        let buffer = JsFuture::from(self.0).await.ok()?;
        Some(Uint8Array::new(&buffer).to_vec())
    }
}
