//! Large take-ins: kept whole at once in a few pieces, shown, and given rows of their own
//! behind the page; and taking events out again.
//!
//! Invariant: an event shown is in a piece or in a row. Pieces are only turned into rows
//! while they are there, and go in one stroke with what is taken out of the record, so
//! nothing comes back. What needs all rows to be there first gives them their rows.

use super::front::note_since;
use super::{CHANGED, ROWS, Storage, Store, new_id, rows_of};
use crate::app::device::{clock, db, tabs};
use crate::app::draw::spawn;
use hearthjar::batch::{Event, Id};
use hearthjar::exchange::{
    FEW, Intake, PIECES, Parts, maybe_written, next_piece, piece_key, piece_number, row_key,
};
use hearthjar::t;
use std::cell::Cell;
use std::sync::Arc;

/// Events that get their rows in one stroke: little enough that a tap hardly waits.
const AT_A_TIME: usize = 100;
/// The pause between two strokes, for whatever a person does.
const PAUSE_MS: f64 = 30.0;
/// The pause while a canner is hot.
const HOT_MS: f64 = 2_000.0;
/// How long until what storage would not have is tried again.
const AGAIN_MS: f64 = 60_000.0;

thread_local! {
    /// Pieces are being turned into rows behind the page.
    static WRITING: Cell<bool> = const { Cell::new(false) };
}

/// What was taken in, and under which name its pieces stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TakenIn {
    /// The events.
    pub intake: Arc<Intake>,
    name: String,
}

impl Store {
    /// Takes in what was looked at; `Err` says why nothing was taken in. Little goes as a
    /// tap goes.
    pub async fn take_in(self, intake: Arc<Intake>) -> Result<TakenIn, String> {
        let name = new_id().to_string();
        let db = self.db.get_value().filter(|_| self.storage.get_untracked() == Storage::Ready);
        let Some(db) = db.filter(|_| intake.count > FEW) else {
            self.keep(intake.add().cloned().collect()).await;
            return Ok(TakenIn { intake, name });
        };
        let kept = {
            let mut events = intake.add();
            let mut number = 0;
            let mut next = || {
                let key = piece_key(&name, number);
                number += 1;
                next_piece(&mut events).map(|text| (key, text))
            };
            db.put_each(&mut next).await
        };
        if let Err(error) = kept {
            // A phone too slow to answer in time may have done it all the same.
            self.reread(None).await;
            let has = |event: &Event| self.look_now(|a| a.has(event.batch(), event.id()));
            if !intake.add().all(has) {
                return Err(t!("Nothing was taken in. {}", error));
            }
        }
        self.archive.update(|archive| Arc::make_mut(archive).absorb(&intake.file));
        self.turned();
        self.write_on();
        Ok(TakenIn { intake, name })
    }

    /// Takes out again what was taken in, wholly or not at all.
    pub async fn take_out(self, taken: &TakenIn) -> bool {
        let TakenIn { intake, name } = taken;
        let names = intake.names();
        if let Some(db) = self.db.get_value() {
            let others = |first: Option<String>| {
                maybe_written(&mut intake.add(), first.as_deref().and_then(piece_number))
            };
            let with = format!("{PIECES}{name}/");
            if let Err(error) = db.take_back(&with, &others, &rows_of(&intake.replaced)).await {
                return self.not_taken_out(&error);
            }
        }
        self.archive.update(|archive| {
            let archive = Arc::make_mut(archive);
            archive.remove(&names);
            archive.extend(intake.replaced.iter().cloned());
        });
        self.turned();
        true
    }

    /// Takes events out of storage and memory: removal of the demo.
    pub async fn drop_events(self, names: Vec<(Id, Id)>) -> bool {
        let keys: Vec<String> = names.iter().map(|(b, e)| row_key(*b, *e)).collect();
        let gone = match (self.write_pieces(false).await, self.db.get_value()) {
            (Ok(()), Some(db)) => db.delete(&keys).await,
            // With no storage there is only memory.
            (_, None) => Ok(()),
            (error, _) => error,
        };
        if let Err(error) = gone {
            return self.not_taken_out(&error);
        }
        self.archive.update(|archive| Arc::make_mut(archive).remove(&names));
        self.turned();
        true
    }

    fn not_taken_out(self, error: &db::DbError) -> bool {
        self.lose(error);
        self.warn(t!("Nothing was taken out: the phone's storage would not have it."));
        false
    }

    /// Follows a large change of the record, and tells the others of it.
    pub(super) fn turned(self) {
        note_since(None);
        self.note_changed();
        self.copy_clocks();
        self.read_again_if_reading();
        tabs::tell(CHANGED);
    }

    /// Gives the events of pieces rows of their own, behind the page; call it when the
    /// record has been opened, too.
    pub fn write_on(self) {
        if WRITING.replace(true) {
            return;
        }
        spawn(async move {
            while self.write_pieces(true).await.is_err() {
                // All of it is kept in the pieces meanwhile.
                clock::pause(AGAIN_MS).await;
            }
            WRITING.set(false);
        });
    }

    /// Gives the events of all pieces rows of their own, as fast as it goes or so that
    /// whatever a person does comes first.
    pub(super) async fn write_pieces(self, behind: bool) -> Result<(), db::DbError> {
        let Some(db) = self.db.get_value() else { return Err(db::DbError::Missing) };
        let mut last = PIECES.to_owned();
        let mut any = false;
        while let Some((piece, text)) = db.first_after(&last, PIECES).await? {
            last.clone_from(&piece);
            let text = text.unwrap_or_default();
            let mut parts = Parts::of(&text);
            loop {
                if behind {
                    self.others_first().await;
                }
                let part = self.look_now(|archive| parts.next_part(archive, AT_A_TIME));
                let Some(part) = part else { break };
                if !db.put_while(&piece, &rows_of(&part.events), part.last).await? {
                    break;
                }
                any = true;
            }
        }
        if any {
            // There are as many rows as there will be: the front can be noted.
            self.note_changed();
            tabs::tell(ROWS);
        }
        Ok(())
    }

    async fn others_first(self) {
        clock::pause(if self.is_hot() { HOT_MS } else { PAUSE_MS }).await;
        while self.busy.get_untracked() {
            clock::pause(PAUSE_MS).await;
        }
    }
}
