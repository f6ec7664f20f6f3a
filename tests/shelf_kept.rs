//! The shelf kept between two visits is the shelf that the record folds to, or is found out.
//!
//! The law is our own: whatever was kept, after the check the shelf is the one worked out
//! from scratch; and before it, what changed since is already right.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod pantry;

use hearthjar::batch::{Archive, Body, Id, JarNumbers, ShelfEvent, Taken};
use hearthjar::json::parse;
use hearthjar::present::{MOST_CHANGED, Since};
use hearthjar::shelf::{Lot, Shelf};
use pantry::{Put, act, any_puts, archive, day, name, text};
use proptest::prelude::*;

const CONTENTS: [&str; 4] = ["Trout, Ostermere", "", "PIKE = 2 + 2", "Äsche, Ütli"];
const PLACES: [&str; 3] = ["Cellar, left", "=Cabin", ""];

/// The lines as they are kept, some batches at a time.
fn lines(shelf: &Shelf, at_a_time: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut from = 0;
    while let Some(lots) = shelf.to_keep(from, at_a_time) {
        lines.extend(lots.map(|lot| lot.to_line().unwrap()));
        from += at_a_time;
    }
    lines
}

fn read(lines: &[String]) -> Shelf {
    Shelf::of_kept(lines.iter().map(|line| Lot::from_line(line).unwrap()).collect()).unwrap()
}

/// Checks all of it; whether any differed.
fn check(shelf: &mut Shelf, archive: &Archive, at_a_time: usize) -> bool {
    let (mut last, mut wrong) = (Some(Id::HOUSEHOLD), false);
    while let Some(after) = last {
        let (seen, some) = shelf.check(archive, after, at_a_time);
        (last, wrong) = (seen, wrong | some);
    }
    wrong
}

/// Something done to one batch after the shelf was kept.
fn change(archive: &mut Archive, put: &Put, how: usize, next: &mut u32) {
    let load = put.load();
    let jars = JarNumbers::new([1]).unwrap();
    let body = match how {
        0 => Body::JarTaken { load, jar: 1, how: Taken::Eaten },
        1 => Body::AtShelf(ShelfEvent::JarsMoved { load, jars, place: text("Town") }),
        _ => Body::AtShelf(ShelfEvent::LidsUsed { load, lot: text("L-9") }),
    };
    // What does not fit, as with a jar that is gone, changes nothing.
    if archive.draft(put.batch(), day(600), [(name(9, 1), body.clone())]).is_ok() {
        act(archive, day(600), next, vec![(put.batch(), vec![body])]);
    }
}

proptest! {
    #[test]
    fn what_was_kept_is_the_shelf(puts in any_puts(&CONTENTS, &PLACES, -40..500), some in 1_usize..5) {
        let archive = archive(&puts);
        let shelf = Shelf::of(&archive);
        let mut kept = read(&lines(&shelf, some));
        prop_assert!(kept.lots().eq(shelf.lots()));
        // Kept again, it is the same.
        prop_assert_eq!(lines(&kept, some), lines(&shelf, some));
        // With a part of the record, and with all of it, nothing is different.
        kept.follow_part(&Archive::new());
        prop_assert!(kept.lots().eq(shelf.lots()));
        kept.follow(&archive);
        prop_assert!(kept.lots().eq(shelf.lots()));
        prop_assert!(!check(&mut kept, &archive, some));
        prop_assert!(kept.lots().eq(shelf.lots()));
    }

    #[test]
    fn what_changed_since_is_right_at_once(
        puts in any_puts(&CONTENTS, &PLACES, -40..500),
        changes in proptest::collection::vec((0..12_usize, 0..3_usize), 0..6),
    ) {
        let mut record = archive(&puts);
        let mut shelf = read(&lines(&Shelf::of(&record), 3));
        let mut part = Archive::new();
        let mut next = 0;
        for (which, how) in changes {
            let Some(put) = puts.get(which) else { continue };
            change(&mut record, put, how, &mut next);
            part.extend(record.events(put.batch()).to_vec());
        }
        shelf.follow_part(&part);
        let scratch = Shelf::of(&record);
        prop_assert!(shelf.lots().eq(scratch.lots()));
        shelf.follow(&record);
        prop_assert!(!check(&mut shelf, &record, 2));
        prop_assert!(shelf.lots().eq(scratch.lots()));
    }

    #[test]
    fn a_wrong_one_is_found_out(
        puts in any_puts(&CONTENTS, &PLACES, -40..500),
        changes in proptest::collection::vec((0..12_usize, 0..3_usize), 0..6),
        some in 1_usize..5,
    ) {
        let mut record = archive(&puts);
        let before = Shelf::of(&record);
        let mut shelf = read(&lines(&before, 3));
        let mut next = 0;
        // Changed behind its back, and not named; some batches gone, some new.
        for (which, how) in changes {
            if let Some(put) = puts.get(which) {
                change(&mut record, put, how, &mut next);
            }
        }
        record.extend(Put::plain(99, 3, 2).events());
        if let Some(put) = puts.first() {
            let names: Vec<(Id, Id)> =
                record.events(put.batch()).iter().map(|e| (e.batch(), e.id())).collect();
            record.remove(&names);
        }
        shelf.follow(&record);
        let scratch = Shelf::of(&record);
        let differed = !shelf.lots().eq(scratch.lots());
        let turn = shelf.turn();
        prop_assert_eq!(check(&mut shelf, &record, some), differed);
        prop_assert_eq!(shelf.turn() != turn, differed);
        prop_assert!(shelf.lots().eq(scratch.lots()));
    }

    #[test]
    fn a_garbled_line_is_none_or_another_lot(
        puts in any_puts(&CONTENTS, &PLACES, -40..500), at in any::<usize>(), with in any::<char>(),
    ) {
        for line in lines(&Shelf::of(&archive(&puts)), 4) {
            let mut chars: Vec<char> = line.chars().collect();
            let at = at % chars.len();
            chars[at] = with;
            let garbled: String = chars.into_iter().collect();
            // Whatever is read would be written the same way again.
            if let Some(lot) = Lot::from_line(&garbled) {
                let again = Lot::from_line(&lot.to_line().unwrap());
                prop_assert_eq!(again, Some(lot));
            }
            prop_assert_eq!(Lot::from_line(&format!("{line}\tmore")), None);
            prop_assert_eq!(Lot::from_line(line.rsplit_once('\t').unwrap().0), None);
        }
    }

    #[test]
    fn the_note_names_what_changed(rows in any::<u32>(), seeds in proptest::collection::vec(0..200_u32, 0..150)) {
        let batches: Vec<Id> = seeds.iter().map(|seed| name(1, *seed)).collect();
        let mut names = batches.clone();
        names.sort_unstable();
        names.dedup();
        let since = Since::kept(name(7, 7), rows);
        let Some(since) = since.and(rows / 2, &batches) else {
            prop_assert!(names.len() > MOST_CHANGED);
            return Ok(());
        };
        prop_assert!(names.len() <= MOST_CHANGED);
        let again = since.clone().and(rows / 2, &batches);
        prop_assert_eq!(again.as_ref(), Some(&since));
        let mut told = since.changed.batches.clone();
        told.sort_unstable();
        prop_assert_eq!((told, since.changed.rows, since.shelf), (names, rows / 2, name(7, 7)));
        prop_assert_eq!(Since::from_json(&parse(&since.to_json().to_string()).unwrap()), Some(since));
    }
}

#[test]
fn batches_out_of_order_are_no_shelf_and_odd_notes_are_none() {
    let puts = [Put::plain(1, 0, 2), Put::plain(2, 1, 2)];
    let shelf = Shelf::of(&archive(&puts));
    let lots: Vec<Lot> = shelf.lots().cloned().collect();
    assert!(Shelf::of_kept(lots.clone()).is_some());
    assert!(Shelf::of_kept(lots.into_iter().rev().collect()).is_none());
    assert!(shelf.to_keep(2, 1).is_none());
    for text in
        ["{}", "null", r#"{"batches":[],"rows":5}"#, r#"{"batches":[],"rows":5,"shelf":"x"}"#]
    {
        assert_eq!(Since::from_json(&parse(text).unwrap()), None, "{text}");
    }
}

#[test]
fn a_product_no_line_can_hold_is_not_kept() {
    let shelf = Shelf::of(&archive(&[Put::plain(1, 0, 2)]));
    let lot = shelf.lot(0).unwrap();
    assert!(lot.to_line().is_some());
    for odd in ["fish\tof tomorrow", "fish\nof tomorrow"] {
        let mut lot = lot.clone();
        lot.product = odd.to_owned();
        assert_eq!(lot.to_line(), None);
    }
}
