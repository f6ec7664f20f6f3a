//! The texts of the language in use, as the start-up script has fetched them.
//!
//! Invariant: nothing is drawn before they are here: without them the page would be
//! blank where it must warn.

use super::js;
use hearthjar::words;
use wasm_bindgen::JsValue;

/// Where the start-up script leaves them.
const PLACE: &str = "hearthjarTexts";

/// Takes the texts in. Texts that are missing, or of another build, end the start with
/// an exception, which the start-up script answers.
pub fn take() {
    let texts = js::get(&js::window(), PLACE).and_then(|texts| texts.as_string());
    if texts.is_none_or(|texts| words::load(texts).is_err()) {
        wasm_bindgen::throw_val(JsValue::from_str("the texts are not those of this build"));
    }
}
