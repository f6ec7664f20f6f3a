//! When the last backup was made, kept beside the record.
//!
//! Invariant: losing it costs one reminder, never more.

use super::device::prefs;
use crate::app::store::Store;
use hearthjar::exchange::{Backup, BackupDue, backup_due, own_entries};
use hearthjar::json::Json;
use hearthjar::t;
use hearthjar::units::EpochMs;

const KEY: &str = "backup";

/// The last backup that left this phone.
pub fn last() -> Option<Backup> {
    let json = prefs::get(KEY)?;
    Some(Backup { at: EpochMs(json.whole_of("at")?), entries: json.whole_of("entries")? })
}

/// Notes that a backup of the record as it stands has left this phone.
pub fn made(store: Store) {
    let entries = store.look_now(own_entries);
    let at = store.now.get_untracked();
    let json = Json::object([
        ("at", Json::whole(at.0)),
        ("entries", Json::whole(i64::try_from(entries).unwrap_or(i64::MAX))),
    ]);
    prefs::set(KEY, &json);
}

/// A sentence when a backup is due; asked again when the record changes.
pub fn reminder(store: Store) -> Option<String> {
    let now = store.now.get_untracked();
    let due = store.look(|archive| backup_due(archive, last(), now))?;
    let days = |age: hearthjar::units::Span| age.0 / 86_400_000;
    Some(match due {
        BackupDue::Never(age) => {
            t!("This record is {} days old and has no backup.", days(age))
        }
        BackupDue::Old(age) => {
            t!("The last backup is {} days old, and there is more since.", days(age))
        }
    })
}
