//! The few things screens do to the document by hand.
//!
//! Invariant: each is safe to call when its target is not there.

use super::js::{call, construct, get, listen, set, window};
use js_sys::Array;
use wasm_bindgen::JsValue;

fn document() -> JsValue {
    get(&window(), "document").unwrap_or(JsValue::UNDEFINED)
}

/// The part of the address after and with `#`.
pub fn hash() -> String {
    get(&window(), "location")
        .and_then(|location| get(&location, "hash"))
        .and_then(|hash| hash.as_string())
        .unwrap_or_default()
}

/// Goes to an address of this page, and tells of it at once: a browser that is asked for
/// the address itself looks for a place in the page to scroll to, and tells only after
/// whatever else waits.
pub fn go(address: &str) {
    if hash() == address {
        return;
    }
    let address = JsValue::from_str(address);
    let told = get(&window(), "history").is_some_and(|history| {
        call(&history, "pushState", &[JsValue::NULL, "".into(), address.clone()]).is_ok()
    });
    // Some browsers take only so many in half a minute.
    if !told && let Some(location) = get(&window(), "location") {
        return set(&location, "hash", &address);
    }
    if let Some(event) = construct("Event", &Array::of1(&JsValue::from_str(MOVED))) {
        let _ = call(&window(), "dispatchEvent", &[event]);
    }
}

/// Calls back when the address changes.
pub fn on_hash(mut heard: impl FnMut(String) + 'static) {
    listen(&window(), MOVED, move |_| heard(hash()));
}

const MOVED: &str = "hashchange";

/// Has the links inside the page lead on at once. What asks for more than a plain tap, a
/// new tab for one, is left to the browser.
pub fn lead_links() {
    listen(&document(), "click", |event| {
        let holds = |name| get(&event, name).is_some_and(|value| value.is_truthy());
        let more = ["defaultPrevented", "ctrlKey", "metaKey", "shiftKey", "altKey", "button"];
        let Some(target) = get(&event, "target").filter(|_| !more.into_iter().any(holds)) else {
            return;
        };
        let link = call(&target, "closest", &[JsValue::from_str("a[href^='#/']")]);
        let address = link.ok().and_then(|link| {
            call(&link, "getAttribute", &[JsValue::from_str("href")]).ok()?.as_string()
        });
        if let Some(address) = address {
            let _ = super::prevent_default(&event);
            go(&address);
        }
    });
}

/// Asks for the desk's half to draw into its place, or to see that it is gone.
/// The start-up script fetches that half when it is first asked for.
pub fn call_desk() {
    if let Some(event) = construct("Event", &Array::of1(&JsValue::from_str(DESK))) {
        let _ = call(&window(), "dispatchEvent", &[event]);
    }
}

/// Calls back when the desk's half is asked for.
pub fn on_desk(mut heard: impl FnMut() + 'static) {
    listen(&window(), DESK, move |_| heard());
}

const DESK: &str = "hearthjar-desk";

/// The names of the files of the desk's half, which tell builds apart.
pub fn desk_name() -> String {
    let selector = JsValue::from_str("meta[name=desk]");
    call(&document(), "querySelector", &[selector])
        .ok()
        .and_then(|meta| get(&meta, "content")?.as_string())
        .unwrap_or_default()
}

/// The element with an id.
pub fn by_id(id: &str) -> Option<JsValue> {
    call(&document(), "getElementById", &[JsValue::from_str(id)]).ok().filter(|e| !e.is_null())
}

/// Puts the focus on an element without scrolling.
pub fn focus(id: &str) {
    if let Some(element) = by_id(id) {
        let _ = call(&element, "focus", &[]);
    }
}

/// Brings an element into view.
pub fn show(id: &str) {
    if let Some(element) = by_id(id) {
        let _ = call(&element, "scrollIntoView", &[]);
    }
}

/// Takes an element out of the document.
pub fn remove(id: &str) {
    if let Some(element) = by_id(id) {
        let _ = call(&element, "remove", &[]);
    }
}

/// Opens the page anew, at the same address.
pub fn reload() {
    if let Some(location) = get(&window(), "location") {
        let _ = call(&location, "reload", &[]);
    }
}

/// Opens the browser's print dialog; the page stands still until it is closed.
pub fn print() {
    let _ = call(&window(), "print", &[]);
}

/// The title in the tab.
pub fn set_title(title: &str) {
    set(&document(), "title", &JsValue::from_str(title));
}

/// An attribute on the root element.
pub fn set_root(name: &str, value: &str) {
    if let Some(root) = get(&document(), "documentElement") {
        let _ = call(&root, "setAttribute", &[JsValue::from_str(name), JsValue::from_str(value)]);
    }
}
