//! Restoring a backup in the record's place, taking that back, and when to make one.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::finished::{processed, random_id};
use common::{any_events, id, start};
use hearthjar::batch::{Archive, BatchStart, Body, Event, Id, Text};
use hearthjar::exchange::{
    BACKUP_EVERY, Backup, BackupDue, Fate, Swap, backup_due, own_entries, read, restore, write,
};
use hearthjar::units::{EpochMs, Span};
use proptest::prelude::*;

proptest! {
    #[test]
    fn a_restore_leaves_exactly_the_file(a in any_events(), mut b in any_events()) {
        // Some of it is here already.
        b.extend(a.iter().step_by(2).cloned());
        let ours = Archive::from_events(a);
        let theirs = Archive::from_events(b.clone());
        let before = ours.clone();
        let found = restore(&ours, read(&write(&b)).unwrap());
        prop_assert!(ours == before, "looking changed something");
        let mut after = ours.clone();
        prop_assert_eq!(found.swap.is_done(&after), found.swap.is_empty());
        found.swap.apply(&mut after);
        prop_assert!(found.swap.is_done(&after));
        prop_assert!(after == theirs);
        // The same file once more changes nothing, and says so.
        prop_assert_eq!(found.swap.is_empty(), before == theirs);
        prop_assert!(restore(&after, theirs.all_events().cloned().collect()).swap.is_empty());
        let states = |archive: &Archive| archive.batches().cloned().collect::<Vec<_>>();
        prop_assert_eq!(states(&after), states(&theirs));
        // What was said of each batch is what happened to it.
        let mut told: Vec<Id> = Vec::new();
        for one in &found.batches {
            told.push(one.batch);
            let (mine, file) = (ours.events(one.batch), after.events(one.batch));
            match one.fate {
                Fate::New => prop_assert!(mine.is_empty() && !file.is_empty()),
                Fate::Gone => prop_assert!(!mine.is_empty() && file.is_empty()),
                Fate::Same => prop_assert_eq!(mine, file),
                Fate::Changed { come, go } => {
                    prop_assert_eq!(file.iter().filter(|e| !mine.contains(e)).count(), come);
                    prop_assert_eq!(mine.iter().filter(|e| !file.contains(e)).count(), go);
                    prop_assert!(come + go > 0);
                }
            }
        }
        let count = |of: &Archive, less: &Archive| {
            let less = less.events(Id::HOUSEHOLD);
            of.events(Id::HOUSEHOLD).iter().filter(|one| !less.contains(one)).count()
        };
        prop_assert_eq!(found.household, (count(&after, &ours), count(&ours, &after)));
        let mut all: Vec<Id> = ours.batches().chain(theirs.batches()).map(|b| b.id).collect();
        all.sort();
        all.dedup();
        told.sort();
        prop_assert_eq!(told, all);
        // The way back survives a reload, and takes back exactly that.
        let (at, kept) = Swap::from_text(&found.swap.to_text(EpochMs(5))).unwrap();
        prop_assert_eq!((at, &kept), (EpochMs(5), &found.swap));
        kept.reverse().apply(&mut after);
        prop_assert!(after == before);
    }

    #[test]
    fn what_was_added_after_a_restore_stays_when_it_is_taken_back(
        a in any_events(), b in any_events(),
    ) {
        let before = Archive::from_events(a);
        let found = restore(&before, b);
        let mut after = before.clone();
        found.swap.apply(&mut after);
        let text = Text::new("written after the restore").unwrap();
        let note = Event::new(
            random_id(1), id(101), 50, EpochMs(9), Body::Noted { load: None, text },
        );
        after.insert(note.clone());
        found.swap.reverse().apply(&mut after);
        let mut wanted = before;
        wanted.insert(note);
        prop_assert!(after == wanted);
    }
}

#[test]
fn a_text_that_is_no_way_back_is_none() {
    let whole = Swap::default().to_text(EpochMs(1));
    assert!(Swap::from_text(&whole).is_some());
    for broken in ["", "{}", "[]", &whole[..whole.len() - 1], &whole.replace("Entries: 0", "x")] {
        assert!(Swap::from_text(broken).is_none(), "{broken}");
    }
}

#[test]
fn a_backup_is_due_after_thirty_days_with_something_new() {
    let (archive, _) = processed(id(100), start(), 3, &[]);
    let begun = archive.batch(id(100)).unwrap().start.as_ref().unwrap().0;
    let days = |n: i64| begun.plus(Span::hours(24 * n));
    assert_eq!(BACKUP_EVERY, Span::hours(720));
    assert_eq!(backup_due(&Archive::new(), None, days(400)), None);
    assert_eq!(backup_due(&archive, None, days(29)), None);
    assert_eq!(backup_due(&archive, None, days(31)), Some(BackupDue::Never(Span::hours(744))));
    let entries = own_entries(&archive);
    assert_eq!(entries, 10);
    let last = |entries| Some(Backup { at: days(31), entries });
    // Nothing new: no reminder, however old.
    assert_eq!(backup_due(&archive, last(entries), days(400)), None);
    assert_eq!(backup_due(&archive, last(entries - 1), days(60)), None);
    let due = backup_due(&archive, last(entries - 1), days(61));
    assert_eq!(due, Some(BackupDue::Old(BACKUP_EVERY)));
    // A clock set back does not nag.
    assert_eq!(backup_due(&archive, last(entries - 1), days(3)), None);
    // The invented example is nobody's record.
    let (example, _) = processed(id(100), BatchStart { demo: true, ..start() }, 3, &[]);
    assert_eq!(own_entries(&example), 0);
    assert_eq!(backup_due(&example, None, days(400)), None);
}
