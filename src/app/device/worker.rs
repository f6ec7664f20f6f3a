//! New builds of the app, as the service worker fetches them.
//!
//! Invariant: a new build waits until a person or a cold start lets it in; it
//! never takes over during a run.

use super::js::{call, get, later, listen, navigator, set};
use crate::app::draw::Var;
use js_sys::Object;
use std::cell::Cell;
use std::rc::Rc;
use wasm_bindgen::JsValue;

fn workers() -> Option<JsValue> {
    get(&navigator(), "serviceWorker")
}

async fn registration() -> Option<JsValue> {
    later(&workers()?, "getRegistration", &[]).await.ok().filter(|found| !found.is_undefined())
}

/// Sets `waiting` when a new build is ready and waits.
pub fn watch(waiting: Var<bool>) {
    crate::app::draw::spawn(async move {
        let Some(workers) = workers() else { return };
        // The first visit has no registration yet: `ready` waits for it.
        let Some(ready) = get(&workers, "ready") else { return };
        let Ok(promise) = wasm_bindgen::JsCast::dyn_into::<js_sys::Promise>(ready) else { return };
        let Ok(registration) = wasm_bindgen_futures::JsFuture::from(promise).await else { return };
        look(&registration, waiting);
        let found = registration.clone();
        listen(&registration, "updatefound", move |_| {
            let Some(installing) = get(&found, "installing") else { return };
            let found = found.clone();
            listen(&installing, "statechange", move |_| look(&found, waiting));
        });
    });
}

fn look(registration: &JsValue, waiting: Var<bool>) {
    waiting.set(get(registration, "waiting").is_some());
}

/// Looks for a new build on the host.
pub fn look_for_update() {
    crate::app::draw::spawn(async {
        if let Some(registration) = registration().await {
            let _ = later(&registration, "update", &[]).await;
        }
    });
}

/// Lets the waiting build in and reloads the page once.
pub fn take_over() {
    crate::app::draw::spawn(async {
        let (Some(workers), Some(registration)) = (workers(), registration().await) else { return };
        let Some(waiting) = get(&registration, "waiting") else { return };
        let done = Rc::new(Cell::new(false));
        listen(&workers, "controllerchange", move |_| {
            if !done.replace(true) {
                super::dom::reload();
            }
        });
        let message = Object::new();
        set(&message, "type", &JsValue::from_str("take-over"));
        let _ = call(&waiting, "postMessage", &[message.into()]);
    });
}
