//! The word that what is read is a translation, and the way to the English text.
//!
//! Invariant: it stands wherever rules of safety are shown in another language; in
//! English there is nothing to say.

use crate::app::device::texts;
use crate::app::draw::{El, button, link, of, say};
use hearthjar::present::Route;
use hearthjar::t;

/// The language in use, as the catalogue names it.
pub fn language() -> &'static str {
    t!("en##language")
}

/// That the English text rules; `None` in English.
fn line() -> Option<El> {
    let line = t!("This is a translation that no authority has checked: the English text rules.");
    (language() != "en").then(|| say("p", line))
}

/// Says that the English text rules, with the way to the choice of language: for
/// screens that hold what was typed, which a page opened anew would lose.
pub fn translated_here() -> Option<El> {
    let more = link("", &Route::More.hash(), t!("Show it in English"));
    Some(of("div", "translated").child(line()?).child(of("p", "over-title").child(more)))
}

/// Says that the English text rules, with a button that shows the same screen in
/// English; `keep` first keeps what was typed. `None` in English.
pub fn translated(keep: impl Fn() + 'static) -> Option<El> {
    let line = line()?;
    let english = button("second", t!("Show it in English"), move || {
        keep();
        texts::choose(Some("en"));
    });
    Some(of("div", "translated").child(line).child(english))
}
