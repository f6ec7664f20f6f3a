//! The shelf kept ready: worked out once for each change of a batch.
//!
//! Invariant: whatever changes came before, the lots are those of the archive
//! last shown to [`Shelf::follow`], oldest first.

use super::lot::Lot;
use crate::batch::{Archive, Batch, Id, Text};
use crate::order;
use crate::process::{Group, Jar as JarSize};

/// The lots of one batch as it was at a stamp; kept from an earlier visit and not yet
/// compared with the batch if the stamp is [`KEPT`].
#[derive(Debug)]
struct Part {
    batch: Id,
    stamp: u64,
    lots: Vec<Lot>,
}

/// No fold bears this number.
const KEPT: u64 = 0;

/// All lots on the shelf.
#[derive(Debug, Default)]
pub struct Shelf {
    /// Sorted by batch, as the archive is.
    parts: Vec<Part>,
    /// The lots, oldest first: number of the part, number in it.
    order: Vec<(usize, usize)>,
    /// What the lots are found by, one behind the other in the same order, and where each
    /// ends: a search goes through one text, not from lot to lot.
    words: String,
    ends: Vec<usize>,
    /// Another number after each change.
    turn: u64,
    /// The archive last followed, by its turn, and whether it was the whole record.
    followed: Option<(u64, bool)>,
}

impl Shelf {
    /// The shelf of an archive.
    #[must_use]
    pub fn of(archive: &Archive) -> Self {
        let mut shelf = Self::default();
        shelf.follow(archive);
        shelf
    }

    /// A shelf of kept lots, those of a batch side by side and the batches in the order
    /// of their names; `None` if they are not.
    #[must_use]
    pub fn of_kept(lots: Vec<Lot>) -> Option<Self> {
        let mut shelf = Self { turn: 1, ..Self::default() };
        for lot in lots {
            match shelf.parts.last_mut() {
                Some(part) if part.batch > lot.batch => return None,
                Some(part) if part.batch == lot.batch => part.lots.push(lot),
                _ => shelf.parts.push(Part { batch: lot.batch, stamp: KEPT, lots: vec![lot] }),
            }
        }
        shelf.sort();
        Some(shelf)
    }

    /// The lots of a number of batches from that one on, as they are to be kept; `None`
    /// after the last.
    #[must_use]
    pub fn to_keep(&self, from: usize, most: usize) -> Option<impl Iterator<Item = &Lot>> {
        let parts = self.parts.get(from..)?;
        let some = parts.get(..most).unwrap_or(parts);
        (!some.is_empty()).then(|| some.iter().flat_map(|part| &part.lots))
    }

    /// Works the lots of some kept batches out anew, from the one after `last` on: the
    /// last one looked at, `None` after all; and whether any differed.
    pub fn check(&mut self, archive: &Archive, last: Id, most: usize) -> (Option<Id>, bool) {
        let from = self.parts.partition_point(|part| part.batch <= last);
        let (mut seen, mut wrong) = (None, false);
        for part in self.parts.iter_mut().skip(from).take(most) {
            seen = Some(part.batch);
            if part.stamp == KEPT {
                let lots = archive.batch(part.batch).map(lots_of).unwrap_or_default();
                wrong |= part.lots != lots;
                *part = Part { batch: part.batch, stamp: archive.stamp(part.batch), lots };
            }
        }
        if wrong {
            self.turn += 1;
            self.sort();
        }
        (seen, wrong)
    }

    /// Brings the shelf up to date; batches that did not change are not looked at
    /// again, nor are kept ones that wait for their check. Says whether anything changed.
    pub fn follow(&mut self, archive: &Archive) -> bool {
        self.follow_in(archive, true)
    }

    /// The same with a part of the record: what the archive has no batch of stays.
    pub fn follow_part(&mut self, archive: &Archive) -> bool {
        self.follow_in(archive, false)
    }

    fn follow_in(&mut self, archive: &Archive, whole: bool) -> bool {
        // A key typed, or a screen opened, mostly finds the same record.
        let now = Some((archive.turn(), whole));
        if self.followed == now {
            return false;
        }
        self.followed = now;
        let mut before = core::mem::take(&mut self.parts).into_iter().peekable();
        let mut changed = false;
        let mut parts = Vec::with_capacity(before.len());
        for (stamp, batch) in archive.stamped() {
            while let Some(part) = before.next_if(|part| part.batch < batch.id) {
                if whole {
                    changed = true;
                } else {
                    parts.push(part);
                }
            }
            // A batch of a part of the record is there for having changed.
            let same = |part: &Part| part.stamp == stamp || (whole && part.stamp == KEPT);
            if let Some(part) = before.next_if(|part| part.batch == batch.id && same(part)) {
                parts.push(part);
                continue;
            }
            before.next_if(|part| part.batch == batch.id);
            parts.push(Part { batch: batch.id, stamp, lots: lots_of(batch) });
            changed = true;
        }
        if whole {
            changed |= before.next().is_some();
        } else {
            parts.extend(before);
        }
        self.parts = parts;
        if changed {
            self.turn += 1;
            self.sort();
        }
        changed
    }

    fn sort(&mut self) {
        let mut order = Vec::with_capacity(self.order.len() + 8);
        for (number, part) in self.parts.iter().enumerate() {
            order.extend((0..part.lots.len()).map(|inner| (number, inner)));
        }
        // Loads of one batch stand in their own order: equal keys keep it.
        self.order = order::by_key(order, |(part, inner)| {
            self.at(*part, *inner).map_or((0, 0), |lot| (lot.canned.0, lot.batch.number()))
        });
        let (mut words, mut ends) = (String::new(), Vec::with_capacity(self.order.len()));
        for lot in self.lots() {
            words.push_str(&lot.words);
            ends.push(words.len());
        }
        (self.words, self.ends) = (words, ends);
    }

    fn at(&self, part: usize, inner: usize) -> Option<&Lot> {
        self.parts.get(part)?.lots.get(inner)
    }

    /// The lot with a number, from 0, oldest first.
    #[must_use]
    pub fn lot(&self, number: usize) -> Option<&Lot> {
        let (part, inner) = *self.order.get(number)?;
        self.at(part, inner)
    }

    /// What the lot with a number is found by.
    #[must_use]
    pub fn words(&self, number: usize) -> &str {
        let end = self.ends.get(number).copied().unwrap_or(0);
        let begin = number.checked_sub(1).and_then(|before| self.ends.get(before).copied());
        self.words.get(begin.unwrap_or(0)..end).unwrap_or("")
    }

    /// Every lot, oldest first.
    pub fn lots(&self) -> impl Iterator<Item = &Lot> {
        self.order.iter().filter_map(|(part, inner)| self.at(*part, *inner))
    }

    /// How many lots there are.
    #[must_use]
    pub const fn len(&self) -> usize {
        self.order.len()
    }

    /// Whether the shelf is empty.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.order.is_empty()
    }

    /// Another number after each change.
    #[must_use]
    pub const fn turn(&self) -> u64 {
        self.turn
    }

    /// The places jars stand in, in order of their oldest lot.
    #[must_use]
    pub fn places(&self) -> Vec<&Text> {
        let mut places: Vec<&Text> = Vec::new();
        for place in self.lots().filter_map(|lot| lot.place.as_ref()) {
            if !place.is_empty() && !places.contains(&place) {
                places.push(place);
            }
        }
        places
    }

    /// The jar sizes that stand on the shelf.
    #[must_use]
    pub fn sizes(&self) -> Vec<JarSize> {
        let here = |size: &JarSize| self.lots().any(|lot| lot.size == *size);
        JarSize::ALL.iter().copied().filter(here).collect()
    }

    /// The groups of food that stand on the shelf.
    #[must_use]
    pub fn groups(&self) -> Vec<Group> {
        let mut groups = Vec::new();
        for group in self.lots().filter_map(|lot| lot.group) {
            if !groups.contains(&group) {
                groups.push(group);
            }
        }
        groups
    }
}

fn lots_of(batch: &Batch) -> Vec<Lot> {
    let mut lots = Vec::new();
    for load in &batch.loads {
        Lot::of(batch, load, &mut lots);
    }
    lots
}
