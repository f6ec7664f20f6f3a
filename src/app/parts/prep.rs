//! What to know and do at a step of the work, as a fold-out list.
//!
//! Invariant: a rule from another publication than the row's own names it.

use crate::app::draw::{El, el, of, say};
use hearthjar::process::{PrepStep, Process};
use hearthjar::t;

/// The notes of one step; `None` if it has none.
pub fn prep(process: &'static Process, at: PrepStep, open: bool) -> Option<El> {
    let title = match at {
        PrepStep::Keep => t!("Before: catch and cold"),
        PrepStep::Prepare => t!("Prepare"),
        PrepStep::Fill => t!("Fill the jars"),
        PrepStep::Open => t!("When you open a jar"),
    };
    let lines: Vec<El> = process
        .notes_at(at)
        .map(|note| {
            let source = note.publication().map(|text| of("span", "source").text(text));
            say("li", note.text()).text(" ").maybe(source)
        })
        .collect();
    if lines.is_empty() {
        return None;
    }
    let fold = el("details").child(say("summary", title));
    let fold = if open { fold.attr("open", "") } else { fold };
    Some(fold.child(el("ol").children(lines)))
}
