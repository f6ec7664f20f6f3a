//! Putting a whole record in the place of another, and back.
//!
//! Invariant: done in one transaction together with the row that keeps the way
//! back, so that a phone that dies on the way has the old record or the new one. A
//! way back is never written over: it is gone, or let go, before another is kept.

use super::{Storage, Store, key_of, rows_of};
use crate::app::device::clock;
use hearthjar::exchange::Swap;
use hearthjar::t;
use hearthjar::units::EpochMs;
use std::sync::Arc;

/// Key of the row that keeps the way back; no event has a key like it.
pub const WAY_BACK: &str = "way-back";

impl Store {
    /// Reads the whole record again, so that what is decided next is decided on what
    /// is there; `false` if it cannot be read.
    pub async fn freshen(self) -> bool {
        // A row that is still to be written could not be taken out.
        if self.write_pieces(false).await.is_err() {
            return false;
        }
        self.reread(None).await;
        while self.is_reading() {
            // A later reading has taken the place of this one.
            clock::pause(50.0).await;
        }
        self.storage.get_untracked() == Storage::Ready
    }

    /// Does a swap; `back` is the text that would take it back, `None` if this is the
    /// taking back. Nothing is changed on an error, which is a sentence.
    pub async fn swap(self, swap: Swap, back: Option<String>) -> Result<(), String> {
        let db = self.db.get_value().filter(|_| self.storage.get_untracked() == Storage::Ready);
        let Some(db) = db else {
            return Err(t!("Nothing can be saved here now, so nothing was replaced.").to_owned());
        };
        if back.is_some() && self.way_back().await.is_some() {
            return Err(
                t!("First decide about the last restore, below: put back what was here before it, or keep that backup for good.").to_owned(),
            );
        }
        let mut gone: Vec<String> = swap.go.iter().map(key_of).collect();
        let mut rows = rows_of(&swap.come);
        match back {
            Some(text) => rows.push((WAY_BACK.to_owned(), text)),
            None => gone.push(WAY_BACK.to_owned()),
        }
        if let Err(error) = db.exchange(&gone, &rows).await {
            // A phone too slow to answer in time may have done it all the same.
            self.freshen().await;
            if !self.look_now(|archive| swap.is_done(archive)) {
                return Err(t!("Nothing was replaced. {}", error));
            }
        }
        self.archive.update(|archive| swap.apply(Arc::make_mut(archive)));
        self.turned();
        Ok(())
    }

    /// The last swap and when it was done, if it can still be taken back.
    pub async fn way_back(self) -> Option<(EpochMs, Swap)> {
        let db = self.db.get_value()?;
        let texts = db.texts(&[WAY_BACK.to_owned()]).await.ok()?;
        Swap::from_text(texts.first()?)
    }

    /// Lets the way back go for good; `false` if the storage would not have it.
    pub async fn let_go(self) -> bool {
        let Some(db) = self.db.get_value() else { return false };
        db.delete(&[WAY_BACK.to_owned()]).await.is_ok()
    }

    /// Whether any canner is hot, asked once.
    pub fn is_hot(self) -> bool {
        !self.attended().is_empty()
    }
}
