//! The browser's own SHA-256: beside the page and many times faster than code of ours.
//!
//! Invariant: a browser without it gives none; the caller then works it out.

use super::clock;
use super::js::{call, get, window};
use js_sys::{Promise, Uint8Array};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

/// A digest being worked out.
pub struct Digest(Promise);

/// Bytes handed to the browser between two turns of the page.
const SLICE_BYTES: u32 = 4_000_000;

/// Begins the SHA-256 digest of a text; `None` where the browser has none to offer.
pub async fn begin(text: &str) -> Option<Digest> {
    let subtle = get(&get(&window(), "crypto")?, "subtle")?;
    let bytes = Uint8Array::new_with_length(u32::try_from(text.len()).ok()?);
    let mut from = 0;
    for slice in text.as_bytes().chunks(SLICE_BYTES as usize) {
        let end = from + u32::try_from(slice.len()).ok()?;
        bytes.subarray(from, end).copy_from(slice);
        from = end;
        clock::breathe().await;
    }
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
