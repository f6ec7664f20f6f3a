//! How much of the food weighed in a year went into jars.
//!
//! Invariant: only batches weighed both before and at packing count, and one that
//! packed more than it began with counts for nothing: a slip of the scales.

use crate::batch::{Archive, Batch};
use crate::process::Food;
use crate::units::{EpochMs, Mass};

/// Food weighed before, and what of it was packed; grams.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Share {
    /// Batches summed.
    pub batches: u32,
    /// Before.
    pub before: u64,
    /// Into the jars.
    pub packed: u64,
}

/// The yield of one product.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Yield {
    /// Key of the product.
    pub product: String,
    /// Of the food as caught, picked or bought.
    pub whole: Share,
    /// Of the cleaned food.
    pub dressed: Share,
}

impl Share {
    fn add(&mut self, before: Option<Mass>, packed: Option<Mass>) {
        if let (Some(before), Some(packed)) = (before, packed)
            && packed > Mass::ZERO
            && packed <= before
        {
            self.batches += 1;
            self.before += u64::from(before.grams());
            self.packed += u64::from(packed.grams());
        }
    }

    /// Packed of a hundred parts weighed, rounded down; `None` if none was weighed.
    #[must_use]
    pub fn percent(self) -> Option<u64> {
        (self.packed * 100).checked_div(self.before)
    }
}

impl Yield {
    /// The product's name, short.
    #[must_use]
    pub fn name(&self) -> &str {
        Food::by_key(&self.product).map_or(self.product.as_str(), |food| food.short())
    }
}

/// The yields of the batches first canned from one instant to before another, by
/// product.
#[must_use]
pub fn yields(archive: &Archive, from: EpochMs, to: EpochMs) -> Vec<Yield> {
    let mut yields: Vec<Yield> = Vec::new();
    let first = |batch: &Batch| {
        let holds = batch.loads.iter().filter_map(|load| load.run.full_hold());
        holds.map(|(_, canned)| canned).min()
    };
    for batch in archive.batches().filter(|batch| !batch.is_demo()) {
        let (Some(canned), Some((_, start))) = (first(batch), &batch.start) else { continue };
        if canned < from || canned >= to {
            continue;
        }
        let place = yields.iter().position(|one| one.product == start.product);
        let mut one = place.and_then(|at| yields.get(at).cloned()).unwrap_or_else(|| Yield {
            product: start.product.clone(),
            whole: Share::default(),
            dressed: Share::default(),
        });
        one.whole.add(batch.weights.whole, batch.weights.packed);
        one.dressed.add(batch.weights.dressed, batch.weights.packed);
        match place.and_then(|at| yields.get_mut(at)) {
            Some(known) => *known = one,
            None => yields.push(one),
        }
    }
    yields.retain(|one| one.whole.batches + one.dressed.batches > 0);
    yields
}
