//! Reaching browser features that may not exist.
//!
//! Invariant: every look-up can fail quietly; callers decide what that means.

use js_sys::{Array, Function, Promise, Reflect};
use wasm_bindgen::{JsCast, JsValue, closure::Closure};
use wasm_bindgen_futures::JsFuture;

/// A property, unless it is missing, `undefined` or `null`.
#[inline(never)]
pub fn get(target: &JsValue, name: &str) -> Option<JsValue> {
    if target.is_undefined() || target.is_null() {
        return None;
    }
    let value = Reflect::get(target, &JsValue::from_str(name)).ok()?;
    (!value.is_undefined() && !value.is_null()).then_some(value)
}

/// Sets a property.
#[inline(never)]
pub fn set(target: &JsValue, name: &str, value: &JsValue) {
    let _ = Reflect::set(target, &JsValue::from_str(name), value);
}

/// Calls a method; `Err` holds what it threw, or `undefined` if it is missing.
#[inline(never)]
pub fn call(target: &JsValue, name: &str, arguments: &[JsValue]) -> Result<JsValue, JsValue> {
    let method = get(target, name).ok_or(JsValue::UNDEFINED)?;
    let method: &Function = method.dyn_ref().ok_or(JsValue::UNDEFINED)?;
    method.apply(target, &arguments.iter().collect::<Array>())
}

/// A new thing of a class; `None` if there is no such class here.
#[inline(never)]
pub fn construct(class: &str, arguments: &Array) -> Option<JsValue> {
    let class = get(&window(), class)?.dyn_into::<Function>().ok()?;
    Reflect::construct(&class, arguments).ok()
}

/// Calls a method that answers later.
pub async fn later(
    target: &JsValue,
    name: &str,
    arguments: &[JsValue],
) -> Result<JsValue, JsValue> {
    let promise = call(target, name, arguments)?;
    match promise.dyn_into::<Promise>() {
        Ok(promise) => JsFuture::from(promise).await,
        Err(value) => Ok(value),
    }
}

/// The `name` of an exception, such as `QuotaExceededError`.
#[inline(never)]
pub fn error_name(error: &JsValue) -> String {
    get(error, "name").and_then(|name| name.as_string()).unwrap_or_default()
}

/// The window as a plain value.
#[inline(never)]
pub fn window() -> JsValue {
    js_sys::global().into()
}

/// The navigator.
#[inline(never)]
pub fn navigator() -> JsValue {
    get(&window(), "navigator").unwrap_or(JsValue::UNDEFINED)
}

/// Listens for the life of the page; the closure is given up on purpose.
pub fn listen(target: &JsValue, event: &str, heard: impl FnMut(JsValue) + 'static) {
    listen_boxed(target, event, Box::new(heard));
}

#[inline(never)]
fn listen_boxed(target: &JsValue, event: &str, heard: Box<dyn FnMut(JsValue)>) {
    let closure = Closure::<dyn FnMut(JsValue)>::wrap(heard);
    let _ = call(target, "addEventListener", &[JsValue::from_str(event), closure.as_ref().clone()]);
    closure.forget();
}

/// A promise settled by the first of two callbacks.
pub fn promise(mut start: impl FnMut(Function, Function)) -> Promise {
    Promise::new(&mut |yes, no| start(yes, no))
}
