//! The choice of language.
//!
//! Invariant: nothing is typed on its screen, so the page can be opened anew; a run's
//! clock is the wall's and goes on.

use crate::app::device::texts;
use crate::app::draw::{El, of, signal};
use crate::app::parts::choices;
use crate::app::store::Store;
use hearthjar::t;

/// The language's choice, each in its own words.
pub(super) fn language(store: Store) -> Vec<El> {
    let now = signal(texts::chosen().unwrap_or_else(|| "browser".to_owned()));
    let list = [("browser", t!("as the browser")), ("en", "English"), ("es", "español")];
    let choose = move |key: &'static str| {
        if !texts::choose(Some(key).filter(|key| *key != "browser")) {
            store.warn(t!("This browser keeps no choices, so the language stays as it is."));
        }
    };
    vec![
        choices(t!("Language (idioma)"), "language", &list, now.into(), choose),
        of("p", "quiet").text(t!("The page opens anew in it. A running clock goes on.")),
    ]
}
