//! Other tabs of the same app, and the other half of this page.
//!
//! Invariant: where a browser cannot link tabs, each works alone and rings alone.

use super::clock;
use super::js::{call, construct, get, listen, navigator, promise};
use js_sys::Array;
use std::cell::{Cell, RefCell};
use wasm_bindgen::{JsValue, closure::Closure};

thread_local! {
    static LEADS: Cell<bool> = const { Cell::new(false) };
    static CHANNEL: RefCell<Option<JsValue>> = const { RefCell::new(None) };
}

/// Joins the other tabs; call once. `heard` gets what they tell.
pub fn join(mut heard: impl FnMut(String) + 'static) {
    let channel = construct("BroadcastChannel", &Array::of1(&JsValue::from_str("hearthjar")));
    if let Some(channel) = &channel {
        listen(channel, "message", move |event| {
            if let Some(text) = get(&event, "data").and_then(|data| data.as_string()) {
                heard(text);
            }
        });
    }
    CHANNEL.with_borrow_mut(|slot| *slot = channel);
}

/// Tells the other tabs, once what is under way is done; in the order of the calls.
pub fn tell(text: &str) {
    let text = JsValue::from_str(text);
    clock::soon(move || {
        if let Some(channel) = CHANNEL.with_borrow(Clone::clone) {
            let _ = call(&channel, "postMessage", &[text]);
        }
    });
}

/// Whether this tab speaks for all: it rings, and is the first to note what the
/// clock did.
pub fn leads() -> bool {
    LEADS.get()
}

/// Waits for its turn to lead; the tab before it leads until it closes (Web Locks API).
pub fn stand() {
    let Some(locks) = get(&navigator(), "locks") else {
        LEADS.set(true);
        return;
    };
    let granted = Closure::once_into_js(|_: JsValue| -> JsValue {
        LEADS.set(true);
        // A promise that never settles holds the lock until the tab goes.
        promise(|_, _| {}).into()
    });
    if call(&locks, "request", &[JsValue::from_str("hearthjar"), granted]).is_err() {
        LEADS.set(true);
    }
}
