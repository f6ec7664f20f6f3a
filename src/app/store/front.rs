//! Opening with the batches of the first screen, and reading the rest behind it.
//!
//! Invariant: a batch in memory is there whole or not at all. A front that turns out to be
//! of another number of rows is taken off the screen again, and whatever it left out is in
//! memory a little later: then everything has been read and folded.

use super::{Storage, Store};
use crate::app::device::{clock, db, prefs};
use crate::app::draw::spawn;
use hearthjar::batch::{Archive, Event, Id};
use hearthjar::exchange::PIECES;
use hearthjar::json::Json;
use hearthjar::present::{Front, MOST_CHANGED, Since};
use std::cell::{Cell, RefCell};
use std::sync::Arc;

/// The name it is kept under, beside the record: losing it costs a moment.
const FRONT: &str = "front";
/// The name under which stands what has changed since the shelf was kept.
const SINCE_KEPT: &str = "shelf";
/// Rows read at a time: little enough that a tap is never kept waiting.
const AT_A_TIME: u32 = 150;
/// The same while a person waits for them.
const OPENING: u32 = 1_000;
/// Records of fewer rows are read at once sooner than in two parts.
pub(super) const SMALL: u32 = 1_000;

thread_local! {
    /// Something changed since the front was noted.
    static CHANGED: Cell<bool> = const { Cell::new(false) };
    /// Counts the readings of everything; the last one counts.
    static TURN: Cell<u32> = const { Cell::new(0) };
    /// What came into memory since the reading under way began.
    static SINCE: RefCell<Option<Vec<Event>>> = const { RefCell::new(None) };
    /// The batches that came into memory since the page opened: so many, or a few more.
    static TOUCHED: RefCell<Vec<Id>> = const { RefCell::new(Vec::new()) };
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
    TOUCHED.with_borrow_mut(|touched| {
        for event in events {
            if touched.len() <= MOST_CHANGED && !touched.contains(&event.batch()) {
                touched.push(event.batch());
            }
        }
    });
}

/// What stands of the shelf's last keeping.
pub fn since_kept() -> Option<Since> {
    Since::from_json(&prefs::get(SINCE_KEPT)?)
}

/// Notes what has changed since the shelf was kept; with nothing it is not believed any more.
pub fn note_since(since: Option<&Since>) -> bool {
    prefs::set(SINCE_KEPT, &since.map_or(Json::Null, Since::to_json))
}

/// Something was told while the record was being opened.
pub(super) fn again_once_open() {
    AGAIN.set(true);
}

impl Store {
    /// Reads the front, if there is one; and how many rows there must be for it to fit.
    pub(super) async fn read_front(self, db: &db::Db) -> Option<(Vec<db::Row>, u32)> {
        let front = Front::from_json(&prefs::get(FRONT)?)?;
        if front.rows < SMALL {
            return None;
        }
        Some((read_batches(db, &front).await?, front.rows))
    }

    /// Reads what the front left out; until then the first screen waits if the front
    /// does not fit the record.
    pub(super) fn read_rest(self, db: db::Db, rows: u32) {
        self.lacks.set(!self.clocks_elsewhere().is_empty());
        spawn(async move {
            // Counting many rows takes a while. With storage lost meanwhile, what is in
            // memory is all there is.
            if db.count().await != Ok(rows) && !self.whole.get_untracked() {
                self.lacks.set(true);
            }
            self.read_anew(db).await;
        });
    }

    /// Reads batches into memory that a part of the record left out.
    pub async fn fetch(self, batches: &[Id]) {
        let Some(db) = self.db.get_value() else { return };
        if let Ok(rows) = db.rows_of(&named(batches.iter().copied())).await {
            self.take(super::rescue::sort(rows, &mut Vec::new()));
        }
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
            if !opening {
                clock::idle().await;
            }
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
            self.has_all();
            let before = self.record();
            self.put_in_place(archive);
            self.note_changed();
            if let Some(before) = Arc::into_inner(before) {
                spawn(async move {
                    let mut rest = before.let_go();
                    while rest.by_ref().take(AT_A_TIME as usize).count() > 0 {
                        clock::idle().await;
                    }
                });
            }
        }
    }

    /// What is in memory is all there is.
    pub(super) fn has_all(self) {
        self.whole.set(true);
        self.lacks.set(false);
    }

    /// Whether the whole record is in memory, not only what could be read of it.
    pub fn is_whole(self) -> bool {
        self.storage.get_untracked() == Storage::Ready && self.whole.get_untracked()
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
        let whole = self.is_whole();
        let Some(db) = self.db.get_value().filter(|_| whole && CHANGED.replace(false)) else {
            return;
        };
        spawn(async move {
            let counted = db.count().await;
            // A row under way may be counted and not yet be in memory: next time then.
            if self.busy.get_untracked() || CHANGED.get() {
                CHANGED.set(true);
            } else if let Ok(rows) = counted {
                let front = self.look_now(|archive| Front::of(archive, rows));
                let _ = prefs::set(FRONT, &front.to_json());
                if let Some(since) = since_kept() {
                    let since = TOUCHED.with_borrow(|touched| since.and(rows, touched));
                    let _ = note_since(since.as_ref());
                }
            }
        });
    }
}

/// The rows of some batches and of the household; `None` while some batches are in
/// pieces, and not in their rows.
pub(super) async fn read_batches(db: &db::Db, front: &Front) -> Option<Vec<db::Row>> {
    if db.first_after(PIECES, PIECES).await.ok()?.is_some() {
        return None;
    }
    let batches = std::iter::once(Id::HOUSEHOLD).chain(front.batches.iter().copied());
    db.rows_of(&named(batches)).await.ok()
}

fn named(batches: impl Iterator<Item = Id>) -> Vec<String> {
    batches.map(|batch| batch.to_string()).collect()
}
