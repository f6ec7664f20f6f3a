//! The texts of the language in use, as the start-up script has fetched them, and the
//! choice of that language.
//!
//! Invariant: nothing is drawn before they are here: without them the page would be
//! blank where it must warn. Another language comes with the page opened anew.

use super::{dom, js, prefs};
use hearthjar::json::Json;
use hearthjar::{t, words};
use js_sys::{Array, Function, Reflect};
use wasm_bindgen::{JsCast, JsValue};

/// Where the start-up script leaves them.
const PLACE: &str = "hearthjarTexts";

/// Where that script reads the chosen language.
const KEY: &str = "language";

/// Takes the texts in. Texts that are missing, or of another build, end the start with
/// an exception, which the start-up script answers.
pub fn take() {
    let texts = js::get(&js::window(), PLACE).and_then(|texts| texts.as_string());
    if texts.is_none_or(|texts| words::load(texts).is_err()) {
        wasm_bindgen::throw_val(JsValue::from_str("the texts are not those of this build"));
    }
    // The publications print a point: so does English, wherever it is read.
    if t!("en##language") != "en"
        && let Some(mark) = decimal_mark()
    {
        words::set_decimal_mark(mark);
    }
}

/// What the browser's region writes between whole numbers and their parts.
fn decimal_mark() -> Option<char> {
    let class = js::get(&js::get(&js::window(), "Intl")?, "NumberFormat")?;
    let class: Function = class.dyn_into().ok()?;
    let format = Reflect::construct(&class, &Array::new()).ok()?;
    let shown = js::call(&format, "format", &[JsValue::from_f64(1.5)]).ok()?.as_string()?;
    shown.chars().find(|mark| matches!(mark, '.' | ','))
}

/// The chosen language; `None` while the browser's own is used.
pub fn chosen() -> Option<String> {
    prefs::get(KEY)?.as_str().map(str::to_owned)
}

/// Chooses a language, `None` for the browser's own, and opens the page anew; `false`
/// if storage would not have it.
pub fn choose(language: Option<&str>) -> bool {
    let kept = prefs::set(KEY, &language.map_or(Json::Null, Json::text));
    if kept {
        dom::reload();
    }
    kept
}
