//! The screen wake lock, so that the lamp stays lit beside a hot canner.
//!
//! Invariant: the state shown is the lock's own; it is asked for again whenever
//! the page comes back on screen.

use super::js::{call, get, later, listen, navigator};
use crate::app::draw::{Var, signal};
use std::cell::{Cell, RefCell};
use wasm_bindgen::JsValue;

/// How the lock stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wake {
    /// Not asked for.
    Idle,
    /// The screen stays on.
    Held,
    /// This browser has no such lock.
    Missing,
    /// It was refused, often to save the battery.
    Refused,
}

thread_local! {
    static WANTED: Cell<bool> = const { Cell::new(false) };
    static LOCK: RefCell<Option<JsValue>> = const { RefCell::new(None) };
    static STATE: Cell<Option<Var<Wake>>> = const { Cell::new(None) };
}

/// Sets up the lock; call once.
pub fn start() {
    STATE.set(Some(signal(Wake::Idle)));
    super::clock::on_shown(|| {
        if WANTED.get() {
            hold();
        }
    });
}

/// How the lock stands, to be followed; `None` before `start`.
pub fn state() -> Option<Var<Wake>> {
    STATE.get()
}

fn tell(wake: Wake) {
    if let Some(state) = STATE.get() {
        state.set(wake);
    }
}

/// Asks for the lock and keeps asking.
pub fn hold() {
    WANTED.set(true);
    if LOCK.with_borrow(Option::is_some) {
        return;
    }
    let Some(locks) = get(&navigator(), "wakeLock") else {
        tell(Wake::Missing);
        return;
    };
    crate::app::draw::spawn(async move {
        match later(&locks, "request", &[JsValue::from_str("screen")]).await {
            Ok(lock) => {
                listen(&lock, "release", |_| {
                    LOCK.with_borrow_mut(|slot| *slot = None);
                    tell(Wake::Idle);
                });
                LOCK.with_borrow_mut(|slot| *slot = Some(lock));
                tell(Wake::Held);
            }
            Err(_) => tell(Wake::Refused),
        }
    });
}

/// Lets the screen sleep again.
pub fn release() {
    WANTED.set(false);
    if let Some(lock) = LOCK.with_borrow_mut(Option::take) {
        let _ = call(&lock, "release", &[]);
    }
    tell(Wake::Idle);
}
