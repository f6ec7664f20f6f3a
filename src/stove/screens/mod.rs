//! The stove's screens, one a file.
//!
//! Invariant: a screen is a function of the store; leaving it loses nothing.

mod batch;
mod dispute;
mod find;
mod find_form;
mod find_lot;
mod hand_over;
mod load;
mod load_parts;
mod log;
mod safety;
mod seals;
mod today;
mod unsealed;

use crate::app::device::dom;
use crate::app::draw::{El, link, of, spawn};
use crate::app::parts::{foot, heading, page};
use hearthjar::present::Route;
use hearthjar::t;

pub use batch::batch;
pub use find::find;
pub use hand_over::hand_over;
pub use load::load;
pub use safety::safety;
pub use today::today;

/// The place of the desk's screens, drawn by the other half of the page.
/// Until then the start-up script says what is the matter.
pub fn desk() -> Vec<El> {
    // After the place is in the page.
    spawn(async {
        leptos::task::tick().await;
        dom::call_desk();
    });
    vec![of("div", "desk").attr("id", "desk")]
}

/// A screen whose subject is not in the record.
fn not_here(text: &str) -> Vec<El> {
    vec![
        page(vec![heading(t!("Not here")), of("p", "lead").text(text)]),
        foot(vec![link("main", &Route::Today.hash(), t!("Today"))]),
    ]
}
