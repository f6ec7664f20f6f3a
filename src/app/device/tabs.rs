//! Other tabs of the same app.
//!
//! Invariant: where a browser cannot link tabs, each works alone and rings alone.

use super::js::{call, get, listen, navigator, promise, set, window};
use js_sys::{Array, Function, Object, Reflect};
use std::cell::RefCell;
use wasm_bindgen::{JsCast, JsValue, closure::Closure};
use wasm_bindgen_futures::JsFuture;

thread_local! {
    static CHANNEL: RefCell<Option<JsValue>> = const { RefCell::new(None) };
}

/// Joins the other tabs; call once. `heard` gets what they tell.
pub fn join(mut heard: impl FnMut(String) + 'static) {
    let channel = get(&window(), "BroadcastChannel")
        .and_then(|class| class.dyn_into::<Function>().ok())
        .and_then(|class| {
            Reflect::construct(&class, &Array::of1(&JsValue::from_str("hearthjar"))).ok()
        });
    if let Some(channel) = &channel {
        listen(channel, "message", move |event| {
            if let Some(text) = get(&event, "data").and_then(|data| data.as_string()) {
                heard(text);
            }
        });
    }
    CHANNEL.with_borrow_mut(|slot| *slot = channel);
}

/// Tells the other tabs.
pub fn tell(text: &str) {
    CHANNEL.with_borrow(|slot| {
        if let Some(channel) = slot {
            let _ = call(channel, "postMessage", &[JsValue::from_str(text)]);
        }
    });
}

/// Whether this tab is the one to ring: the first to ask holds a lock for as
/// long as it lives (Web Locks API).
pub async fn only_one_rings(name: &str) -> bool {
    let Some(locks) = get(&navigator(), "locks") else { return true };
    let name = JsValue::from_str(name);
    let asked = promise(move |yes, _| {
        let options = Object::new();
        set(&options, "ifAvailable", &JsValue::TRUE);
        let granted = Closure::once_into_js(move |lock: JsValue| -> JsValue {
            let got = !lock.is_null();
            let _ = yes.call1(&JsValue::UNDEFINED, &JsValue::from_bool(got));
            // A promise that never settles holds the lock until the tab goes.
            if got { promise(|_, _| {}).into() } else { JsValue::UNDEFINED }
        });
        let _ = call(&locks, "request", &[name.clone(), options.into(), granted]);
    });
    JsFuture::from(asked).await.ok().and_then(|got| got.as_bool()).unwrap_or(true)
}
