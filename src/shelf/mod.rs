//! The jars put up: what stands where, oldest first.
//!
//! Invariant: only jars that had the full unbroken time and were found sealed
//! are on the shelf; those of a load that two phones disagree about stand there held.

mod index;
mod kept;
mod lot;
mod search;
mod year;
mod yields;

pub use index::Shelf;
pub use lot::{BEST_WITHIN, Lot};
pub use search::{Filter, Search};
pub use year::{Month, Rate, Year, span};
pub use yields::{Share, Yield, yields};

use crate::batch::Archive;

/// The shelf, oldest first; `typed` keeps the lots that hold every word of it. For
/// a single look: screens keep a [`Shelf`].
#[must_use]
pub fn lots(archive: &Archive, typed: &str) -> Vec<Lot> {
    let shelf = Shelf::of(archive);
    let mut search = Search::default();
    search.find(&shelf, typed, &Filter::default());
    (0..search.len()).filter_map(|line| search.line(&shelf, line).cloned()).collect()
}
