//! The batches that the first screen needs: with them alone the page can open.
//!
//! Invariant: every batch that anyone is at, that anything is due of, or that still
//! waits before the canner is among them; a front of another number of rows is none.

use super::{agenda, lot_cards};
use crate::batch::{Archive, Id};
use crate::json::Json;
use crate::order;
use crate::units::EpochMs;

/// As many batches as the first screen lists, the newest.
pub const LISTED: usize = 20;

/// What is read first when the page opens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Front {
    /// How many rows the whole record had.
    pub rows: u32,
    /// The batches.
    pub batches: Vec<Id>,
}

impl Front {
    /// The front of a record that has so many rows.
    #[must_use]
    pub fn of(archive: &Archive, rows: u32, now: EpochMs) -> Self {
        let mut batches: Vec<Id> = agenda(archive, now).iter().map(|due| due.batch).collect();
        batches.extend(lot_cards(archive, now).iter().map(|card| card.batch));
        batches.extend(newest(archive, LISTED).iter().map(|(_, batch)| *batch));
        let mut batches = order::by_key(batches, |batch| (0, batch.number()));
        batches.dedup();
        Self { rows, batches }
    }

    /// As it is kept between two visits.
    #[must_use]
    pub fn to_json(&self) -> Json {
        let batches = self.batches.iter().map(|batch| Json::text(&batch.to_string())).collect();
        Json::object([("batches", Json::List(batches)), ("rows", Json::whole(self.rows.into()))])
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

/// The newest batches, at most so many, and when they began, the newest first.
#[must_use]
pub fn newest(archive: &Archive, most: usize) -> Vec<(EpochMs, Id)> {
    let mut all = Vec::new();
    for batch in archive.batches() {
        if let Some((at, _)) = &batch.start {
            all.push((*at, batch.id));
        }
    }
    let mut all = newest_first(all);
    all.truncate(most);
    all
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
