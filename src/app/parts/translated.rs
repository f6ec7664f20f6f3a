//! The word that what is read is a translation, and the way to the English text.
//!
//! Invariant: it stands wherever rules of safety are shown in another language; in
//! English there is nothing to say.

use crate::app::device::texts;
use crate::app::draw::{El, button, of, say};
use hearthjar::t;

/// The language in use, as the catalogue names it.
pub fn language() -> &'static str {
    t!("en##language")
}

/// Says that the English text rules, with a button that shows the same screen in
/// English; `keep` first keeps what was typed. `None` in English.
pub fn translated(keep: impl Fn() + 'static) -> Option<El> {
    if language() == "en" {
        return None;
    }
    let line = t!("This is a translation that no authority has checked: the English text rules.");
    let english = button("second", t!("Show it in English"), move || {
        keep();
        texts::choose(Some("en"));
    });
    Some(of("div", "translated").child(say("p", line)).child(english))
}
