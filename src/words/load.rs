//! The texts of one language, taken in once at the start.
//!
//! Invariant: once taken in they never change; a change of language opens the page anew.

use super::catalogue;
use std::sync::OnceLock;

static TEXTS: OnceLock<Vec<&'static str>> = OnceLock::new();
static DECIMAL_MARK: OnceLock<char> = OnceLock::new();

/// A file of texts that belongs to another build.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Foreign;

/// Takes texts in: a line that names the catalogue, then one line a text. It may be
/// the first part of the catalogue only.
///
/// # Errors
/// [`Foreign`] if the texts are not those this code was built with.
pub fn load(texts: String) -> Result<(), Foreign> {
    let texts: &'static str = texts.leak();
    let (name, lines) = texts.split_once('\n').ok_or(Foreign)?;
    if name != catalogue::NAME {
        return Err(Foreign);
    }
    let lines: Vec<&'static str> = lines.lines().collect();
    if lines.len() < catalogue::FIRST {
        return Err(Foreign);
    }
    TEXTS.set(lines).map_err(|_| Foreign)
}

pub(super) fn text(number: u16) -> &'static &'static str {
    match TEXTS.get() {
        Some(texts) => texts.get(usize::from(number)).unwrap_or(&"…"),
        None => native(number),
    }
}

#[cfg(not(target_arch = "wasm32"))]
fn native(number: u16) -> &'static &'static str {
    catalogue::ENGLISH.get(usize::from(number)).unwrap_or(&"…")
}

#[cfg(target_arch = "wasm32")]
const fn native(_: u16) -> &'static &'static str {
    &"…"
}

/// The mark between whole numbers and their parts, as the phone's region has it.
pub fn set_decimal_mark(mark: char) {
    let _ = DECIMAL_MARK.set(mark);
}

/// The mark between whole numbers and their parts; a point until one is set.
#[must_use]
pub fn decimal_mark() -> char {
    DECIMAL_MARK.get().copied().unwrap_or('.')
}
