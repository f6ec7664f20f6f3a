//! The jars put up: what stands where, oldest first.
//!
//! Invariant: only jars that had the full unbroken time and were found sealed
//! are on the shelf.

use crate::batch::{Archive, Batch, Id, JarState, Load, Text};
use crate::order;
use crate::process::{Jar as JarSize, Pack};
use crate::units::{EpochMs, Span};

/// Months after which quality falls off: 12 (USDA Complete Guide to Home
/// Canning, Guide 1, p. 1-12, 2015), here as days.
pub const BEST_WITHIN: Span = Span::hours(365 * 24);

/// The jars of one load that still stand on the shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lot {
    /// The batch.
    pub batch: Id,
    /// The load.
    pub load: Id,
    /// Number of the load in its batch, from 1.
    pub load_number: u16,
    /// What is in the jars.
    pub content: Text,
    /// Key of the product.
    pub product: String,
    /// How it was packed.
    pub pack: Pack,
    /// Jar size.
    pub size: JarSize,
    /// When the full time ended.
    pub canned: EpochMs,
    /// Until when quality is best.
    pub best_by: EpochMs,
    /// Where the jars stand.
    pub place: Option<Text>,
    /// Numbers of the jars that stand here.
    pub jars: Vec<u16>,
}

impl Lot {
    fn of(batch: &Batch, load: &Load) -> Option<Self> {
        let (_, start) = batch.start.as_ref()?;
        let (_, canned) = load.run.full_hold()?;
        let jars: Vec<u16> = load
            .jars
            .iter()
            .filter(|jar| matches!(jar.state, JarState::Sealed(_)))
            .map(|jar| jar.number)
            .collect();
        if jars.is_empty() {
            return None;
        }
        Some(Self {
            batch: batch.id,
            load: load.id,
            load_number: load.number,
            content: start.content.clone(),
            product: start.product.clone(),
            pack: start.pack,
            size: start.jar,
            canned,
            best_by: canned.plus(BEST_WITHIN),
            place: load.place.clone(),
            jars,
        })
    }

    fn matches(&self, words: &[String]) -> bool {
        let place = self.place.as_ref().map_or("", Text::as_str);
        let text = format!(
            "{} {} {} {} {place}",
            self.content.as_str(),
            self.product,
            self.pack.name(),
            self.size.name(),
        )
        .to_ascii_lowercase();
        words.iter().all(|word| text.contains(word))
    }
}

/// The shelf, oldest first; `search` keeps the lots that hold every word of it.
#[must_use]
pub fn lots(archive: &Archive, search: &str) -> Vec<Lot> {
    let words: Vec<String> = search.split_whitespace().map(str::to_ascii_lowercase).collect();
    let mut lots = Vec::new();
    for (batch, load) in archive.loads() {
        lots.extend(Lot::of(batch, load).filter(|lot| lot.matches(&words)));
    }
    // Loads of one batch stand in their own order: equal keys keep it.
    order::by_key(lots, |lot| (lot.canned.0, lot.batch.number()))
}
