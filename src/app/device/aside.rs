//! Texts laid aside: worked out from the record, and only there to spare working them out
//! again.
//!
//! Invariant: losing one costs a moment. A browser without such a place has none laid aside.

use super::js::{construct, get, later, window};
use js_sys::Array;
use wasm_bindgen::JsValue;

/// The cache of its own that they lie in. Those of the service worker begin with
/// `hearthjar-`, and are taken for builds.
const NAME: &str = "hearthjar aside";

async fn place() -> Option<JsValue> {
    let caches = get(&window(), "caches")?;
    later(&caches, "open", &[JsValue::from_str(NAME)]).await.ok()
}

/// The text laid aside under a name.
pub async fn text(name: &str) -> Option<String> {
    let found = later(&place().await?, "match", &[JsValue::from_str(name)]).await.ok()?;
    later(&found, "text", &[]).await.ok()?.as_string()
}

/// Lays a text aside in the place of the one before; `false` if it would not go.
pub async fn lay(name: &str, text: &str) -> bool {
    let Some(place) = place().await else { return false };
    let Some(response) = construct("Response", &Array::of1(&JsValue::from_str(text))) else {
        return false;
    };
    later(&place, "put", &[JsValue::from_str(name), response]).await.is_ok()
}
