//! When a new backup is due.
//!
//! Invariant: nobody is reminded while nothing is new since the last backup, and
//! the invented example never counts.

use crate::batch::{Archive, Id};
use crate::units::{EpochMs, Span};

/// How old a backup may grow: 30 days (common practice, no source).
pub const BACKUP_EVERY: Span = Span::hours(30 * 24);

/// The last backup that left this phone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Backup {
    /// When.
    pub at: EpochMs,
    /// Entries of the record then, without the example's.
    pub entries: usize,
}

/// Why a backup is due.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BackupDue {
    /// None was ever made, and the record is so old.
    Never(Span),
    /// The last one is so old, and something is new.
    Old(Span),
}

/// Entries of the record without the example's.
#[must_use]
pub fn own_entries(archive: &Archive) -> usize {
    let batches = archive.batches().filter(|batch| !batch.is_demo());
    let own: usize = batches.map(|batch| archive.events(batch.id).len()).sum();
    own + archive.events(Id::HOUSEHOLD).len()
}

/// Whether a backup is due.
#[must_use]
pub fn backup_due(archive: &Archive, last: Option<Backup>, now: EpochMs) -> Option<BackupDue> {
    if let Some(last) = last {
        let age = now.since(last.at);
        let due = age >= BACKUP_EVERY && own_entries(archive) != last.entries;
        return due.then_some(BackupDue::Old(age));
    }
    let batches = archive.batches().filter(|batch| !batch.is_demo());
    let first = batches.filter_map(|batch| batch.begun().map(|(at, _)| at)).min()?;
    let age = now.since(first);
    (age >= BACKUP_EVERY).then_some(BackupDue::Never(age))
}
