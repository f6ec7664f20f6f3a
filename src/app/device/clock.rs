//! The two clocks of a browser, and when to look at them.
//!
//! Invariant: callbacks read the clocks; nobody counts ticks.

use super::js::{call, construct, get, listen, promise, set, window};
use crate::app::draw::spawn;
use hearthjar::units::EpochMs;
use js_sys::{Array, Object};
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::{JsValue, closure::Closure};
use wasm_bindgen_futures::JsFuture;

/// Wall-clock time.
pub fn now() -> EpochMs {
    EpochMs(js_sys::Date::now() as i64)
}

/// The steady clock, milliseconds; it may stand still while the phone sleeps.
pub fn steady() -> f64 {
    get(&window(), "performance")
        .and_then(|performance| call(&performance, "now", &[]).ok())
        .and_then(|value| value.as_f64())
        .unwrap_or_else(js_sys::Date::now)
}

fn document() -> JsValue {
    get(&window(), "document").unwrap_or(JsValue::UNDEFINED)
}

/// Whether the page is hidden.
pub fn is_hidden() -> bool {
    get(&document(), "hidden").and_then(|hidden| hidden.as_bool()).unwrap_or(false)
}

/// Calls back once, that many milliseconds later or, out of sight, somewhat after that.
pub fn after(wait_ms: f64, run: impl FnOnce() + 'static) {
    let run = Closure::once_into_js(run);
    let _ = call(&window(), "setTimeout", &[run, JsValue::from_f64(wait_ms)]);
}

type Tick = Rc<RefCell<Option<Closure<dyn FnMut()>>>>;

/// Calls back just after each whole second, for the life of the page.
pub fn on_second(mut heard: impl FnMut() + 'static) {
    let tick: Tick = Rc::new(RefCell::new(None));
    let again = Rc::clone(&tick);
    *tick.borrow_mut() = Some(Closure::new(move || {
        heard();
        arm(&again);
    }));
    arm(&tick);
}

fn arm(tick: &Tick) {
    // Just after the second, so that a shown second is never late by almost one.
    // In whole numbers: the remainder of a fraction is 2 kB of code.
    let wait = 1_005 - now().0.rem_euclid(1_000);
    if let Some(closure) = tick.borrow().as_ref() {
        let _ = call(
            &window(),
            "setTimeout",
            &[closure.as_ref().clone(), JsValue::from_f64(wait as f64)],
        );
    }
}

/// Lets the page answer before long work goes on: taps, frames and whatever else waits
/// come first.
pub async fn breathe() {
    let channel = construct("MessageChannel", &Array::new()).unwrap_or(JsValue::UNDEFINED);
    let (Some(here), Some(there)) = (get(&channel, "port1"), get(&channel, "port2")) else {
        return pause(0.0).await;
    };
    // A task of its own, in turn with the others; timers would wait 4 ms each.
    let told = promise(|yes, _| {
        set(&here, "onmessage", &yes);
        let _ = call(&there, "postMessage", &[JsValue::NULL]);
    });
    let _ = JsFuture::from(told).await;
    let _ = call(&here, "close", &[]);
}

/// Does something in a task of its own, once what is under way is done; in the order of
/// the calls.
pub fn soon(run: impl FnOnce() + 'static) {
    soon_boxed(Box::new(run));
}

#[inline(never)]
fn soon_boxed(run: Box<dyn FnOnce()>) {
    spawn(async move {
        breathe().await;
        run();
    });
}

/// Waits until the page has nothing else to do, though not for long.
pub async fn idle() {
    let told = promise(|yes, _| {
        let most = Object::new();
        set(&most, "timeout", &JsValue::from_f64(IDLE_MS));
        if call(&window(), "requestIdleCallback", &[yes.clone().into(), most.into()]).is_err() {
            let _ = call(&window(), "setTimeout", &[yes.into()]);
        }
    });
    let _ = JsFuture::from(told).await;
}

/// The longest that work behind the page waits for its turn, milliseconds.
const IDLE_MS: f64 = 200.0;

/// Waits, milliseconds.
pub async fn pause(ms: f64) {
    let over = promise(|yes, _| {
        let _ = call(&window(), "setTimeout", &[yes.into(), JsValue::from_f64(ms)]);
    });
    let _ = JsFuture::from(over).await;
}

/// Calls back whenever the page comes on screen again.
pub fn on_shown(heard: impl FnMut() + 'static) {
    let heard = Rc::new(RefCell::new(heard));
    for (target, event) in
        [(document(), "visibilitychange"), (window(), "pageshow"), (window(), "focus")]
    {
        let heard = Rc::clone(&heard);
        listen(&target, event, move |_| {
            if !is_hidden()
                && let Ok(mut heard) = heard.try_borrow_mut()
            {
                heard();
            }
        });
    }
}

/// Calls back when the page is hidden or about to go.
pub fn on_hidden(heard: impl FnMut() + 'static) {
    let heard = Rc::new(RefCell::new(heard));
    for (target, event) in [(document(), "visibilitychange"), (window(), "pagehide")] {
        let heard = Rc::clone(&heard);
        listen(&target, event, move |_| {
            if (is_hidden() || event == "pagehide")
                && let Ok(mut heard) = heard.try_borrow_mut()
            {
                heard();
            }
        });
    }
}
