//! The screens, one a file.
//!
//! Invariant: a screen is a function of the store; leaving it loses nothing.

mod batch;
mod find;
mod find_form;
mod hand_over;
mod load;
mod load_parts;
mod more;
mod safety;
mod seals;
mod shelf;
mod take_in;
mod today;
mod unsealed;

use super::draw::{El, link, of};
use super::parts::{foot, heading, page};
use hearthjar::present::Route;

pub use batch::batch;
pub use find::find;
pub use hand_over::hand_over;
pub use load::load;
pub use more::more;
pub use safety::safety;
pub use shelf::shelf;
pub use today::today;

/// A screen whose subject is not in the record.
fn not_here(what: &str) -> Vec<El> {
    vec![
        page(vec![
            heading("Not here"),
            of("p", "lead").text(&format!("This {what} is not in the record on this phone.")),
        ]),
        foot(vec![link("main", &Route::Today.hash(), "Today")]),
    ]
}
