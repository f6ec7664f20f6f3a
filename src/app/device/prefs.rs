//! Small things kept in local storage.
//!
//! Invariant: storage that is denied, full or garbled reads as nothing and never
//! stops the page.

use super::js;
use gloo_storage::{LocalStorage, Storage as _};
use hearthjar::json::{Json, parse};

/// The storage itself. Browsers that deny it throw at the first look, so that
/// look is taken with care; gloo's own would end the page.
fn storage() -> Option<web_sys::Storage> {
    js::get(&js::window(), "localStorage").map(|_| LocalStorage::raw())
}

/// Reads a value.
pub fn get(key: &str) -> Option<Json> {
    // Raw text: gloo's own reading would bring a second JSON parser along.
    let text = storage()?.get_item(&format!("hearthjar/{key}")).ok()??;
    parse(&text).ok()
}

/// Writes a value; `false` if storage would not have it.
pub fn set(key: &str, value: &Json) -> bool {
    let Some(storage) = storage() else { return false };
    storage.set_item(&format!("hearthjar/{key}"), &value.to_string()).is_ok()
}
