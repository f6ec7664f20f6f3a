//! Opening with a kept shelf: only the batches that changed since it was kept are read
//! before the first screen, all others behind it.
//!
//! Invariant: a kept shelf is of this very record: its note counts the rows there are,
//! and names each batch that changed since. Whatever changes in another way takes the note
//! away.

use super::Store;
use super::front::{SMALL, note_since, read_batches, since_kept};
use super::rescue::sort;
use crate::app::device::{aside, db};
use crate::app::draw::spawn;
use hearthjar::batch::{Archive, Id};
use hearthjar::present::Since;
use std::sync::{Arc, Weak};

/// The name it is laid aside under.
const SHELF: &str = "kept-shelf";

impl Store {
    /// Reads the record from storage. `take` is given the text of the kept shelf and the
    /// name it was kept under, and says whether it is of use.
    pub async fn open_kept(self, take: impl AsyncFnOnce(String, Id) -> bool) {
        if let Err(error) = self.try_open_kept(take).await {
            self.lose(&error);
        }
    }

    async fn try_open_kept(
        self,
        take: impl AsyncFnOnce(String, Id) -> bool,
    ) -> Result<(), db::DbError> {
        let db = self.begin().await?;
        match read_changed(&db, take).await {
            Some(rows) => {
                self.fill(sort(rows, &mut Vec::new()));
                spawn(self.read_anew(db));
            }
            None => self.read_anew(db).await,
        }
        self.read_again_if_told();
        Ok(())
    }

    /// How many batches have changed since the shelf was kept, or more; `None` if none is.
    pub fn changed_since_kept(self) -> Option<usize> {
        since_kept().map(|since| since.changed.batches.len())
    }

    /// How many rows the record has on disk, if all of them are in memory; what is kept
    /// now is of this many.
    pub async fn settled_rows(self) -> Option<u32> {
        let db = self.db.get_value().filter(|_| self.is_whole() && !self.is_reading())?;
        let rows = db.count().await.ok()?;
        (rows >= SMALL && !self.busy.get_untracked()).then_some(rows)
    }

    /// Keeps the shelf of `record`, if that is still the record.
    pub async fn keep_shelf(self, text: &str, name: Id, rows: u32, record: &Weak<Archive>) -> bool {
        aside::lay(SHELF, text).await
            && self.is_still(record)
            && note_since(Some(&Since::kept(name, rows)))
    }

    /// Whether this is the record as it was.
    pub fn is_still(self, record: &Weak<Archive>) -> bool {
        record.ptr_eq(&Arc::downgrade(&self.record()))
    }
}

async fn read_changed(
    db: &db::Db,
    take: impl AsyncFnOnce(String, Id) -> bool,
) -> Option<Vec<db::Row>> {
    let since = since_kept().filter(|since| since.changed.rows >= SMALL)?;
    // The browser counts while the text is fetched.
    let count = db.counting().ok()?;
    let text = aside::text(SHELF).await?;
    if count.await.ok()? != since.changed.rows {
        return None;
    }
    let rows = read_batches(db, &since.changed).await?;
    take(text, since.shelf).await.then_some(rows)
}
