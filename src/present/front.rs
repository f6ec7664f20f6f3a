//! The batches that the first screen needs: with them alone the page can open. And those
//! that changed since the shelf was kept.
//!
//! Invariant: every batch that anyone is at, that anything is due of, or that still
//! waits before the canner is in the front; a note of another number of rows is none.

use crate::batch::{Archive, Id};
use crate::json::Json;
use crate::order;
use crate::units::EpochMs;

/// As many batches as the first screen lists, the newest.
pub const LISTED: usize = 20;

/// As many batches as may have changed since the shelf was kept: reading them anew is
/// still much less than reading all.
pub const MOST_CHANGED: usize = 100;

/// What is read first when the page opens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Front {
    /// How many rows the whole record had.
    pub rows: u32,
    /// The batches.
    pub batches: Vec<Id>,
}

/// What has to be read beside a kept shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Since {
    /// Which keeping of the shelf it is about.
    pub shelf: Id,
    /// The batches that have changed since, or more; and the rows the record has now.
    pub changed: Front,
}

impl Front {
    /// The front of a record that has so many rows.
    #[must_use]
    pub fn of(archive: &Archive, rows: u32) -> Self {
        let mut batches: Vec<Id> = archive.at_work().map(|batch| batch.id).collect();
        batches.extend(newest(archive, LISTED).iter().map(|(_, batch)| *batch));
        let mut batches = order::by_key(batches, |batch| (0, batch.number()));
        batches.dedup();
        Self { rows, batches }
    }

    /// As it is kept between two visits.
    #[must_use]
    pub fn to_json(&self) -> Json {
        Json::object(self.members())
    }

    fn members(&self) -> [(&'static str, Json); 2] {
        let batches = self.batches.iter().map(|batch| Json::text(&batch.to_string())).collect();
        [("batches", Json::List(batches)), ("rows", Json::whole(self.rows.into()))]
    }

    /// Reads what was kept; `None` if it is not that.
    #[must_use]
    pub fn from_json(json: &Json) -> Option<Self> {
        let rows = json.whole_of("rows")?;
        let mut batches = Vec::new();
        let Json::List(list) = json.get("batches")? else { return None };
        for batch in list {
            batches.push(batch.as_str()?.parse().ok()?);
        }
        Some(Self { rows, batches })
    }
}

impl Since {
    /// A shelf just kept, of a record of so many rows.
    #[must_use]
    pub const fn kept(shelf: Id, rows: u32) -> Self {
        Self { shelf, changed: Front { rows, batches: Vec::new() } }
    }

    /// Notes the batches changed, and how many rows there are with that; `None` once
    /// they are too many for the shelf to be of use.
    #[must_use]
    pub fn and(mut self, rows: u32, batches: &[Id]) -> Option<Self> {
        let known = &mut self.changed.batches;
        for batch in batches {
            if !known.contains(batch) {
                known.push(*batch);
            }
        }
        let few = known.len() <= MOST_CHANGED;
        self.changed.rows = rows;
        few.then_some(self)
    }

    /// As it is kept between two visits.
    #[must_use]
    pub fn to_json(&self) -> Json {
        let [batches, rows] = self.changed.members();
        Json::object([batches, rows, ("shelf", Json::text(&self.shelf.to_string()))])
    }

    /// Reads what was kept; `None` if it is not that.
    #[must_use]
    pub fn from_json(json: &Json) -> Option<Self> {
        let shelf = json.str_of("shelf")?.parse().ok()?;
        Some(Self { shelf, changed: Front::from_json(json)? })
    }
}

/// The newest batches, at most so many, and when they began, the newest first. A large
/// record is gone through once, not sorted.
#[must_use]
pub fn newest(archive: &Archive, most: usize) -> Vec<(EpochMs, Id)> {
    let mut best = Vec::new();
    // What began before that is not among them.
    let mut floor = EpochMs(i64::MIN);
    for batch in archive.batches() {
        let Some((at, _)) = &batch.start else { continue };
        if *at < floor {
            continue;
        }
        best.push((*at, batch.id));
        if best.len() > 2 * most {
            best = newest_first(best);
            best.truncate(most);
            floor = best.last().map_or(floor, |(at, _)| *at);
        }
    }
    let mut best = newest_first(best);
    best.truncate(most);
    best
}

/// All batches that have begun, raw lots too, the newest first.
#[must_use]
pub fn begun(archive: &Archive) -> Vec<Id> {
    let mut all = Vec::new();
    for batch in archive.batches() {
        if let Some((at, _)) = batch.begun() {
            all.push((at, batch.id));
        }
    }
    newest_first(all).into_iter().map(|(_, id)| id).collect()
}

#[inline(never)]
fn newest_first(all: Vec<(EpochMs, Id)>) -> Vec<(EpochMs, Id)> {
    let mut all = order::by_key(all, |(at, id)| (at.0, id.number()));
    all.reverse();
    all
}
