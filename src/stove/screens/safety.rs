//! What this tool is not. Read once before anything else, and at any time after.
//!
//! Invariant: nothing can be canned with this tool before it was shown.

use crate::app::draw::{El, button, el, of};
use crate::app::parts::{foot, heading, items, page, translated};
use crate::app::store::Store;
use hearthjar::present::Route;
use hearthjar::words::Word;
use hearthjar::{t, w};

const POINTS: [Word; 6] = [
    w!("Hearthjar shows tested processes as published, with the publication beside each number. \
         Where none exists it says no. It never shortens a time."),
    w!("It measures nothing. You read the gauge, see the steam and check the seals."),
    w!("It does not replace your canner's manual, the published guide, or your local extension \
         office. Where they say otherwise, follow them. Local rules and licensed practice come \
         first, above all if you sell or serve what you can."),
    w!("Stay by a hot canner. A locked or sleeping phone may not ring: set a kitchen timer too."),
    w!("Never taste food to find out whether it is safe. In doubt, throw it out."),
    w!("The tables were typed from machine-read copies. Compare a number with the printed page \
         before you rely on it."),
];

/// The safety page.
pub fn safety(store: Store) -> Vec<El> {
    let mut screen = vec![
        page(vec![
            heading(t!("Before you can")),
            of("p", "lead").text(t!(
                "Fish and other low-acid food, canned wrong, can grow botulism: no smell, no \
                 taste, and it kills."
            )),
            items("plain", POINTS.map(Word::say)),
            el("div").maybe(translated(|| {})),
            of("p", "source").text(t!(
                "USDA Complete Guide to Home Canning, Agriculture Information Bulletin 539, \
                 2015, Guides 1, 4 and 5, and the extension publications named at each number."
            )),
        ])
        .attr("tabindex", "0"),
    ];
    // Looked up once: the tap that changes it leaves the screen.
    if !store.prefs.with_untracked(|prefs| prefs.safety_read) {
        screen.push(foot(vec![button("main", t!("I have read this"), move || {
            store.prefer(|prefs| prefs.safety_read = true);
            store.go(Route::Today);
        })]));
    }
    screen
}
