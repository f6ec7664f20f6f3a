//! Opening with the batches of the first screen, and reading the rest behind it.
//!
//! Invariant: a batch in memory is there whole or not at all. The front is only
//! believed while the record has as many rows as when it was noted, and whatever it
//! left out is in memory a little later: then everything has been read and folded.

use super::{Storage, Store};
use crate::app::device::{clock, db, prefs};
use crate::app::draw::spawn;
use hearthjar::batch::{Archive, Id};
use hearthjar::present::Front;
use leptos::prelude::*;
use std::cell::Cell;
use std::sync::Arc;

/// The name it is kept under, beside the record: losing it costs a moment.
const FRONT: &str = "front";
/// Rows read at a time: little enough that a tap is never kept waiting.
const AT_A_TIME: u32 = 250;
/// Records of fewer rows are read at once sooner than in two parts.
const SMALL: u32 = 1_000;

thread_local! {
    /// Something changed since the front was noted.
    static CHANGED: Cell<bool> = const { Cell::new(false) };
}

impl Store {
    /// Reads the front, if there is one and it fits the record.
    pub(super) async fn read_front(self, db: &db::Db) -> Option<Vec<db::Row>> {
        let front = Front::from_json(&prefs::get(FRONT)?)?;
        if front.rows < SMALL || db.count().await.ok()? != front.rows {
            return None;
        }
        let mut rows = Vec::new();
        for batch in std::iter::once(Id::HOUSEHOLD).chain(front.batches) {
            rows.extend(db.rows_of(&batch.to_string()).await.ok()?);
        }
        Some(rows)
    }

    /// Reads everything, a little at a time, then lets it take the place of the front.
    pub(super) async fn read_rest(self, db: db::Db) {
        let mut archive = Archive::new();
        archive.set_here(super::rescue::here());
        let mut unread = Vec::new();
        let mut last = String::new();
        loop {
            let rows = match db.rows_after(&last, AT_A_TIME).await {
                Ok(rows) => rows,
                Err(error) => return self.lose(&error),
            };
            // Everything may have been read meanwhile, for another reason.
            let (Some((key, _)), false) = (rows.last(), self.whole.get_untracked()) else { break };
            last.clone_from(key);
            archive.extend(super::rescue::sort(rows, &mut unread));
        }
        if self.whole.get_untracked() || self.storage.get_untracked() != Storage::Ready {
            return;
        }
        self.set_apart(unread);
        self.archive.update(|now| {
            // What came in meanwhile is in memory only, or in rows passed already.
            archive.extend(now.all_events().cloned());
            *now = Arc::new(archive);
        });
        self.whole.set(true);
        self.note_changed();
    }

    /// The front has to be noted anew.
    pub(super) fn note_changed(self) {
        CHANGED.set(true);
    }

    /// Notes the front if something has changed; call it every second.
    pub fn keep_front_in_time(self) {
        let ready = self.storage.get_untracked() == Storage::Ready && self.whole.get_untracked();
        let Some(db) = self.db.get_value().filter(|_| ready && CHANGED.replace(false)) else {
            return;
        };
        spawn(async move {
            let counted = db.count().await;
            // A row under way may be counted and not yet be in memory: next time then.
            if self.busy.get_untracked() || CHANGED.get() {
                CHANGED.set(true);
            } else if let Ok(rows) = counted {
                let front = self.look_now(|archive| Front::of(archive, rows, clock::now()));
                let _ = prefs::set(FRONT, &front.to_json());
            }
        });
    }
}
