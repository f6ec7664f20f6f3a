//! Opening the record, and what is done when storage fails: the run goes on in
//! memory, storage is tried again, rows that cannot be read are handed out.
//!
//! Invariant: what only memory holds is written as soon as storage takes it; no row
//! that could not be read is written over or taken out.

use super::swap::WAY_BACK;
use super::{CHANGED, Storage, Store, key_of, new_id, rows_of};
use crate::app::device::{clock, db, files, local, tabs, worker};
use crate::app::draw::spawn;
use hearthjar::batch::{Archive, Event, Id};
use hearthjar::exchange::{PIECES, piece_events};
use hearthjar::json::Json;
use hearthjar::t;
use hearthjar::units::EpochMs;
use std::cell::Cell;
use std::sync::Arc;

/// How often lost storage is tried again, milliseconds.
const AGAIN_MS: i64 = 10_000;

/// The key of the row that holds this phone's name: whose clock the times of a run
/// were read from. It is no event, and never leaves the phone as a row.
const PHONE: &str = "phone";

thread_local! {
    /// This phone's name, once it is known or made.
    static HERE: Cell<Option<Id>> = const { Cell::new(None) };
    /// Storage is being tried again.
    static TRYING: Cell<bool> = const { Cell::new(false) };
    static TRIED: Cell<EpochMs> = const { Cell::new(EpochMs(0)) };
    /// Some events have no rows of their own yet.
    static IN_PIECES: Cell<bool> = const { Cell::new(false) };
}

/// Whether some events had no rows of their own when the record was read.
pub fn in_pieces() -> bool {
    IN_PIECES.get()
}

/// A row that could not be read, as far as there are words for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    /// Its key.
    pub key: String,
    /// What it holds.
    pub text: String,
}

/// The events among the rows; those that are none are set apart.
pub(super) fn sort(rows: Vec<db::Row>, unread: &mut Vec<Unread>) -> Vec<Event> {
    let mut events = Vec::with_capacity(rows.len());
    for (key, text) in rows {
        if key.starts_with(PIECES)
            && let Ok(text) = &text
        {
            IN_PIECES.set(true);
            let (some, all) = piece_events(text);
            events.extend(some);
            if all {
                continue;
            }
        }
        match text.as_ref().ok().and_then(|text| Event::parse(text).ok()) {
            Some(event) if key_of(&event) == key => events.push(event),
            _ if key == PHONE || key == WAY_BACK => {}
            _ => unread.push(Unread { key, text: text.unwrap_or_else(|odd| odd) }),
        }
    }
    events
}

/// This phone's name; made anew while none is known.
pub(super) fn here() -> Id {
    let here = HERE.get().unwrap_or_else(new_id);
    HERE.set(Some(here));
    here
}

impl Store {
    /// Reads the record from storage: what the first screen needs before the rest, if
    /// that is known.
    pub async fn open(self) {
        if let Err(error) = self.try_open().await {
            self.lose(&error);
        }
    }

    async fn try_open(self) -> Result<(), db::DbError> {
        let db = self.begin().await?;
        match self.read_front(&db).await {
            Some((events, rows)) => {
                self.fill(sort(events, &mut Vec::new()));
                self.read_rest(db, rows);
            }
            None => {
                let rows = db.rows().await?;
                let events = self.sort_out(rows);
                self.has_all();
                self.note_changed();
                self.fill(events);
            }
        }
        self.read_again_if_told();
        Ok(())
    }

    /// Opens the storage.
    pub(super) async fn begin(self) -> Result<db::Db, db::DbError> {
        let db = self.open_db().await?;
        self.db.set_value(Some(db.clone()));
        Ok(db)
    }

    async fn open_db(self) -> Result<db::Db, db::DbError> {
        let db = db::Db::open(move |error| {
            self.db.set_value(None);
            self.lose(&error);
        })
        .await?;
        // Beside the record, as safe as the record: a phone that forgets its name
        // doubts its own clock. One that is full still opens.
        if let Ok(kept) = db.claim(PHONE, &here().to_string()).await
            && let Ok(phone) = kept.parse()
        {
            HERE.set(Some(phone));
        }
        Ok(db)
    }

    pub(super) fn fill(self, events: Vec<Event>) {
        let mut archive = Archive::new();
        archive.set_here(here());
        archive.extend(events);
        self.put_in_place(archive);
    }

    /// Takes the place of what is in memory.
    pub(super) fn put_in_place(self, archive: Archive) {
        self.show(archive);
        self.storage.set(Storage::Ready);
        self.copy_clocks();
    }

    fn sort_out(self, rows: Vec<db::Row>) -> Vec<Event> {
        let mut unread = Vec::new();
        let events = sort(rows, &mut unread);
        self.set_apart(unread);
        events
    }

    /// Notes the rows that could not be read.
    pub(super) fn set_apart(self, unread: Vec<Unread>) {
        if let Some(db) = self.db.get_value() {
            db.note_unread(unread.iter().map(|row| row.key.clone()).collect());
        }
        if self.apart.with_untracked(|apart| *apart != unread) {
            self.apart.set(unread);
        }
    }

    /// Says that the record cannot be saved, and lets the run go on in memory.
    pub(super) fn lose(self, error: &db::DbError) {
        let lost = Storage::Lost(error.to_string());
        if self.storage.try_get_untracked().is_some_and(|now| now != lost) {
            self.archive.update(|archive| Arc::make_mut(archive).set_here(here()));
            // What is in memory is all there is to show and to hand over now.
            self.has_all();
            self.storage.set(lost);
            if *error == db::DbError::Newer {
                worker::look_for_update();
            }
        }
    }

    /// Takes in what another tab could not save, and saves it if that goes here.
    pub(super) async fn keep_told(self, events: Vec<Event>) {
        if self.storage.get_untracked() == Storage::Ready {
            self.keep(events).await;
        } else {
            self.take(events);
        }
    }

    /// Tries lost storage again, once in a while; call it every second.
    pub fn try_again_in_time(self) {
        let now = clock::now();
        let lost = matches!(self.storage.try_get_untracked(), Some(Storage::Lost(_)));
        if lost && now.since(TRIED.get()).0.abs() >= AGAIN_MS {
            self.try_again(false);
        }
    }

    /// Tries lost storage again; says how it went if a person asked.
    pub fn try_again(self, asked: bool) {
        if TRYING.replace(true) {
            return;
        }
        TRIED.set(clock::now());
        spawn(async move {
            match self.save_again().await {
                Ok(()) => {
                    tabs::tell(CHANGED);
                    self.say(t!("Everything is being saved again."));
                }
                Err(error) => {
                    if matches!(error, db::DbError::Failed(_)) {
                        // It may be closed for good: the next try opens it anew.
                        self.db.set_value(None);
                    }
                    self.lose(&error);
                    if asked {
                        self.warn(t!("It still cannot be saved."));
                    }
                }
            }
            TRYING.set(false);
        });
    }

    /// Opens storage if it is not open, writes what only memory holds, and takes in
    /// what was there.
    async fn save_again(self) -> Result<(), db::DbError> {
        let db = match self.db.get_value() {
            Some(db) => db,
            None => self.begin().await?,
        };
        loop {
            let stored = Archive::from_events(self.sort_out(db.rows().await?));
            let missing: Vec<Event> = self.look_now(|archive| {
                let mut missing = Vec::new();
                for event in archive.all_events() {
                    if !stored.has(event.batch(), event.id()) {
                        missing.push(event.clone());
                    }
                }
                missing
            });
            if missing.is_empty() {
                // A reading that began before would not know what was written since.
                self.stop_reading();
                // Nothing waits between here and the end: what memory holds is stored.
                self.archive.update(|archive| Arc::make_mut(archive).set_here(here()));
                self.take(stored.all_events().cloned().collect());
                self.has_all();
                self.storage.set(Storage::Ready);
                return Ok(());
            }
            db.put(&rows_of(&missing)).await?;
        }
    }

    /// Hands out the rows that could not be read, as a file.
    pub fn hand_out_unread(self) {
        let rows = self.apart.get_untracked();
        let list = rows.iter().map(|row| {
            Json::object([("key", Json::text(&row.key)), ("row", Json::text(&row.text))])
        });
        let text = format!(
            "Hearthjar rows that could not be read\n\n{}\n",
            Json::object([("unread", Json::List(list.collect()))])
        );
        let name = format!("hearthjar-unread-{}.txt", local::time(clock::now()).date());
        spawn(async move {
            match files::offer(&name, "text/plain", &text).await {
                files::Offered::Downloaded => self.say(t!("Saved as {}.", name)),
                files::Offered::Failed => self.warn(t!("This browser gives out no files.")),
                files::Offered::Shared | files::Offered::Cancelled => {}
            }
        });
    }
}
