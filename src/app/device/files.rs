//! Files out and in: share sheet, download, clipboard, file picker.
//!
//! Invariant: text goes out whole or not at all; a file too large is refused by
//! its size before it is read.

use super::js::{call, construct, error_name, get, later, listen, navigator, promise, set, window};
use js_sys::{Array, Object, Uint8Array};
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

/// Bytes of a file read between two turns of the page.
const SLICE_BYTES: f64 = 2_000_000.0;

/// How a file went out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Offered {
    /// Through the share sheet.
    Shared,
    /// As a download.
    Downloaded,
    /// The person closed the sheet.
    Cancelled,
    /// Not at all.
    Failed,
}

/// What the file picker brought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Picked {
    /// A text.
    Text(String),
    /// Larger than allowed.
    TooBig,
    /// Not UTF-8 text, or not readable.
    NotText,
    /// The person closed the picker.
    Cancelled,
}

fn file(name: &str, mime: &str, text: &str) -> Option<JsValue> {
    let options = Object::new();
    set(&options, "type", &JsValue::from_str(mime));
    // As bytes: a large text made a string first would hold the page up.
    let parts = Array::of1(&Uint8Array::from(text.as_bytes()));
    construct("File", &Array::of3(&parts, &JsValue::from_str(name), &options))
}

/// Offers a text file: by share sheet if the browser can share files, else as a
/// download. Call inside a tap.
pub async fn offer(name: &str, mime: &str, text: &str) -> Offered {
    let Some(file) = file(name, mime, text) else { return Offered::Failed };
    let shared = Object::new();
    set(&shared, "files", &Array::of1(&file));
    let shared = JsValue::from(shared);
    let can = call(&navigator(), "canShare", std::slice::from_ref(&shared));
    if can.ok().and_then(|yes| yes.as_bool()) == Some(true) {
        match later(&navigator(), "share", &[shared]).await {
            Ok(_) => return Offered::Shared,
            Err(error) if error_name(&error) == "AbortError" => return Offered::Cancelled,
            Err(_) => {}
        }
    }
    if download(name, &file).is_some() { Offered::Downloaded } else { Offered::Failed }
}

fn download(name: &str, file: &JsValue) -> Option<()> {
    let class = get(&window(), "URL")?;
    let address = call(&class, "createObjectURL", std::slice::from_ref(file)).ok()?;
    let document = get(&window(), "document")?;
    let link = call(&document, "createElement", &[JsValue::from_str("a")]).ok()?;
    set(&link, "href", &address);
    set(&link, "download", &JsValue::from_str(name));
    call(&link, "click", &[]).ok()?;
    // Some browsers read the blob only after the click has returned.
    super::clock::after(60_000.0, move || {
        let _ = call(&class, "revokeObjectURL", &[address]);
    });
    Some(())
}

/// Puts text on the clipboard.
pub async fn copy(text: &str) -> bool {
    let Some(clipboard) = get(&navigator(), "clipboard") else { return false };
    later(&clipboard, "writeText", &[JsValue::from_str(text)]).await.is_ok()
}

/// Lets the person pick a text file. Call inside a tap.
pub async fn pick(max_bytes: usize) -> Picked {
    let Some(input) = get(&window(), "document")
        .and_then(|document| call(&document, "createElement", &[JsValue::from_str("input")]).ok())
    else {
        return Picked::NotText;
    };
    set(&input, "type", &JsValue::from_str("file"));
    set(&input, "accept", &JsValue::from_str(".txt,.json,text/plain"));
    let chosen = promise(|yes, _| {
        for event in ["change", "cancel"] {
            let yes = yes.clone();
            let input_now = input.clone();
            listen(&input, event, move |_| {
                let files = get(&input_now, "files").unwrap_or(JsValue::UNDEFINED);
                let first = get(&files, "0").unwrap_or(JsValue::NULL);
                let _ = yes.call1(&JsValue::UNDEFINED, &first);
            });
        }
        let _ = call(&input, "click", &[]);
    });
    match JsFuture::from(chosen).await {
        Ok(file) if !file.is_null() => read(&file, max_bytes).await,
        _ => Picked::Cancelled,
    }
}

async fn read(file: &JsValue, max_bytes: usize) -> Picked {
    let size = get(file, "size").and_then(|size| size.as_f64()).unwrap_or(f64::MAX);
    if size > max_bytes as f64 {
        return Picked::TooBig;
    }
    let mut text = String::with_capacity(size as usize);
    let mut rest: Vec<u8> = Vec::new();
    let mut from = 0.0;
    while from < size {
        let ends = [from, from + SLICE_BYTES].map(JsValue::from_f64);
        from += SLICE_BYTES;
        let Ok(slice) = call(file, "slice", &ends) else { return Picked::NotText };
        let Ok(buffer) = later(&slice, "arrayBuffer", &[]).await else { return Picked::NotText };
        rest.extend(Uint8Array::new(&buffer).to_vec());
        // A character may be cut in two where a slice ends.
        let whole = match std::str::from_utf8(&rest) {
            Ok(_) => rest.len(),
            Err(error) if error.error_len().is_none() => error.valid_up_to(),
            Err(_) => return Picked::NotText,
        };
        let after = rest.split_off(whole);
        match String::from_utf8(std::mem::replace(&mut rest, after)) {
            Ok(slice) => text.push_str(&slice),
            Err(_) => return Picked::NotText,
        }
    }
    if rest.is_empty() { Picked::Text(text) } else { Picked::NotText }
}
