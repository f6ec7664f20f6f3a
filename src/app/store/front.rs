//! Opening with the batches of the first screen, and reading the rest behind it.
//!
//! Invariant: a batch in memory is there whole or not at all. The front is only
//! believed while the record has as many rows as when it was noted, and whatever it
//! left out is in memory a little later: then everything has been read and folded.

use super::{Storage, Store};
use crate::app::device::{clock, db, prefs};
use crate::app::draw::spawn;
use hearthjar::batch::{Archive, Event, Id};
use hearthjar::exchange::PIECES;
use hearthjar::present::Front;
use std::cell::{Cell, RefCell};

/// The name it is kept under, beside the record: losing it costs a moment.
const FRONT: &str = "front";
/// Rows read at a time: little enough that a tap is never kept waiting.
const AT_A_TIME: u32 = 250;
/// The same while a person waits for them.
const OPENING: u32 = 1_000;
/// Records of fewer rows are read at once sooner than in two parts.
const SMALL: u32 = 1_000;

thread_local! {
    /// Something changed since the front was noted.
    static CHANGED: Cell<bool> = const { Cell::new(false) };
    /// Counts the readings of everything; the last one counts.
    static TURN: Cell<u32> = const { Cell::new(0) };
    /// What came into memory since the reading under way began.
    static SINCE: RefCell<Option<Vec<Event>>> = const { RefCell::new(None) };
    /// All is to be read again once the record is open.
    static AGAIN: Cell<bool> = const { Cell::new(false) };
}

/// Notes for a reading under way what came into memory: it may have passed those rows.
pub(super) fn came(events: &[Event]) {
    SINCE.with_borrow_mut(|since| {
        if let Some(since) = since {
            since.extend_from_slice(events);
        }
    });
}

/// Something was told while the record was being opened.
pub(super) fn again_once_open() {
    AGAIN.set(true);
}

impl Store {
    /// Reads the front, if there is one and it fits the record.
    pub(super) async fn read_front(self, db: &db::Db) -> Option<Vec<db::Row>> {
        let front = Front::from_json(&prefs::get(FRONT)?)?;
        if front.rows < SMALL || db.count().await.ok()? != front.rows {
            return None;
        }
        // Batches in pieces are not in their rows.
        if db.first_after(PIECES, PIECES).await.ok()?.is_some() {
            return None;
        }
        let mut rows = Vec::new();
        for batch in std::iter::once(Id::HOUSEHOLD).chain(front.batches) {
            rows.extend(db.rows_of(&batch.to_string()).await.ok()?);
        }
        Some(rows)
    }

    /// Reads everything, a little at a time, then lets it take the place of what is in
    /// memory. A later reading takes the place of this one.
    pub(super) async fn read_anew(self, db: db::Db) {
        self.stop_reading();
        let turn = TURN.get();
        SINCE.set(Some(Vec::new()));
        let mut archive = Archive::new();
        archive.set_here(super::rescue::here());
        let mut unread = Vec::new();
        let mut last = String::new();
        // After the batches come rows that may be large.
        let opening = self.storage.get_untracked() == Storage::Opening;
        let (mut end, mut most) = (PIECES, if opening { OPENING } else { AT_A_TIME });
        loop {
            let rows = db.rows_after(&last, end, most).await;
            if TURN.get() != turn {
                return;
            }
            match rows {
                Ok(rows) => match rows.last() {
                    Some((key, _)) => {
                        last.clone_from(key);
                        archive.extend(super::rescue::sort(rows, &mut unread));
                    }
                    None if end == PIECES => (end, most) = ("\u{ffff}", 1),
                    None => break,
                },
                Err(error) => {
                    SINCE.set(None);
                    // What was read before stands; but a part of it is not enough.
                    if !self.whole.get_untracked() {
                        self.lose(&error);
                    }
                    return;
                }
            }
        }
        archive.extend(SINCE.take().unwrap_or_default());
        // What only memory holds must not go.
        if !matches!(self.storage.get_untracked(), Storage::Lost(_)) {
            self.set_apart(unread);
            self.whole.set(true);
            self.put_in_place(archive);
            self.note_changed();
        }
    }

    /// Whether everything is being read.
    pub(super) fn is_reading(self) -> bool {
        SINCE.with_borrow(Option::is_some)
    }

    /// Events were taken out of memory: a reading under way may have seen them.
    pub(super) fn read_again_if_reading(self) {
        if let Some(db) = self.db.get_value().filter(|_| self.is_reading()) {
            spawn(self.read_anew(db));
        }
    }

    /// Something changed while the record was being opened.
    pub(super) fn read_again_if_told(self) {
        if let Some(db) = self.db.get_value().filter(|_| AGAIN.replace(false)) {
            spawn(self.read_anew(db));
        }
    }

    /// What a reading under way finds is of no use any more.
    pub(super) fn stop_reading(self) {
        TURN.set(TURN.get().wrapping_add(1));
        SINCE.set(None);
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
