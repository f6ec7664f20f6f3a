//! A lot: jars of one load that stand in one place.
//!
//! Invariant: only jars that had the full unbroken time and were found sealed, or
//! whose full time another phone disputes: all those are held. The words searched are
//! all small letters without accents.

use crate::batch::{Batch, Id, JarState, Load, Text};
use crate::process::{Food, Group, Jar as JarSize, Pack};
use crate::units::{EpochMs, Span};
use crate::words::bare;

/// Months after which quality falls off: 12 (USDA Complete Guide to Home
/// Canning, Guide 1, p. 1-12, 2015), here as days.
pub const BEST_WITHIN: Span = Span::hours(365 * 24);

/// The jars of one load that still stand in one place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lot {
    /// The batch.
    pub batch: Id,
    /// The load.
    pub load: Id,
    /// Number of the load in its batch, from 1.
    pub load_number: u16,
    /// Whether the batch has more loads than this.
    pub of_several: bool,
    /// What is in the jars.
    pub content: Text,
    /// Key of the product.
    pub product: String,
    /// The group the product belongs to, if this build knows it.
    pub group: Option<Group>,
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
    /// Those of them a doubt or a dispute holds back.
    pub held: Vec<u16>,
    /// What a search looks through.
    pub(super) words: String,
}

impl Lot {
    /// The lots of a load, one a place; none until its full time was told.
    pub(super) fn of(batch: &Batch, load: &Load, lots: &mut Vec<Self>) {
        let (Some((_, start)), Some((_, canned))) = (&batch.start, load.run.told_hold()) else {
            return;
        };
        let first = lots.len();
        for jar in &load.jars {
            if !matches!(jar.state, JarState::Sealed(_)) {
                continue;
            }
            let place = load.place_of(jar.number);
            let named = place.map(Text::as_str);
            let here = lots
                .iter()
                .skip(first)
                .position(|lot| lot.place.as_ref().map(Text::as_str) == named);
            let index = first + here.unwrap_or(lots.len() - first);
            if here.is_none() {
                let food = Food::by_key(&start.product);
                lots.push(Self {
                    batch: batch.id,
                    load: load.id,
                    load_number: load.number,
                    of_several: batch.loads.len() > 1,
                    content: start.content.clone(),
                    product: start.product.clone(),
                    group: food.map(Food::group),
                    pack: start.pack,
                    size: start.jar,
                    canned,
                    best_by: canned.plus(BEST_WITHIN),
                    place: place.cloned(),
                    jars: Vec::new(),
                    held: Vec::new(),
                    words: words(&[
                        start.content.as_str(),
                        food.map_or(start.product.as_str(), |food| food.name()),
                        &start.product,
                        start.pack.name(),
                        start.jar.name(),
                        named.unwrap_or_default(),
                        load.lids.as_str(),
                        load.plan.canner.as_str(),
                    ]),
                });
            }
            if let Some(lot) = lots.get_mut(index) {
                lot.jars.push(jar.number);
                if jar.held {
                    lot.held.push(jar.number);
                }
            }
        }
    }

    /// Whether its quality year is over.
    #[must_use]
    pub fn is_past_best(&self, now: EpochMs) -> bool {
        now > self.best_by
    }
}

fn words(parts: &[&str]) -> String {
    let mut words = String::with_capacity(parts.iter().map(|part| part.len() + 1).sum());
    for part in parts {
        words.push_str(part);
        words.push(' ');
    }
    plain(&words)
}

/// Small letters without their accents, in whatever script people name their jars.
pub(super) fn plain(text: &str) -> String {
    text.to_lowercase().chars().map(bare).collect()
}
