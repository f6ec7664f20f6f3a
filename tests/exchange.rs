//! Files out and in: the record file, the calendar file, labels, previews.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::{any_events, id};
use hearthjar::batch::{Archive, Event, Id};
use hearthjar::exchange::{
    Change, Comparison, MAX_EVENTS, MAX_FILE_BYTES, ReadError, Reading, Reminder, When, calendar,
    hex, preview, read, tidied, write,
};
use hearthjar::units::{EpochMs, Span};
use proptest::prelude::*;
use sha2::{Digest, Sha256};
use std::sync::Arc;
use std::time::Instant;

fn unique(events: Vec<Event>) -> Vec<Event> {
    Archive::from_events(events).all_events().cloned().collect()
}

proptest! {
    #[test]
    fn what_goes_out_comes_in(events in any_events()) {
        let events = unique(events);
        let text = write(&events);
        let again = read(&text).unwrap();
        prop_assert_eq!(&again, &events);
        // Unknown kinds and members too, to the byte.
        prop_assert_eq!(write(&again), text.clone());
        // What mail does to a text.
        let mailed = format!("\u{feff}\r\n{}\r\n  \r\n", text.replace('\n', "\r\n"));
        prop_assert_eq!(read(&mailed).unwrap(), events);
    }

    #[test]
    fn a_file_read_in_slices_is_the_same_file(events in any_events(), bytes in 1_usize..400) {
        let text = write(&unique(events));
        let tidy = tidied(&text).unwrap();
        let mut reading = Reading::open(&tidy).unwrap();
        reading.check(&hex(&Sha256::digest(reading.json()))).unwrap();
        let mut again = Vec::new();
        loop {
            let some = reading.some(bytes).unwrap();
            if some.is_empty() {
                break;
            }
            again.extend(some);
        }
        prop_assert_eq!(again, read(&text).unwrap());
    }

    #[test]
    fn a_changed_or_cut_file_changes_nothing(
        events in any_events(), place in any::<prop::sample::Index>(), byte in any::<u8>(),
    ) {
        let events = unique(events);
        let text = write(&events);
        let json_at = text.find("\n\n").unwrap() + 2;
        let body = text.trim_end().len();
        let at = json_at + place.index(body - json_at);
        let mut bytes = text.clone().into_bytes();
        prop_assume!(bytes[at] != byte);
        bytes[at] = byte;
        if let Ok(changed) = String::from_utf8(bytes) {
            // A line break may be written as CRLF; nothing else may change.
            if changed.replace("\r\n", "\n").trim_end() != text.trim_end() {
                prop_assert!(read(&changed).is_err());
            }
        }
        if let Some(cut) = text.get(..at) {
            let error = read(cut).unwrap_err();
            prop_assert!(error.is_damage(), "{error:?}");
        }
    }

    #[test]
    fn a_preview_tells_what_taking_in_does(a in any_events(), mut b in any_events()) {
        // Some of it is here already.
        b.extend(a.iter().step_by(2).cloned());
        let ours = Archive::from_events(a);
        let theirs = Archive::from_events(b.clone());
        let before = ours.clone();
        let found = preview(&ours, b);
        // Batch by batch, with a pause after each, it is the same look.
        let mut slow = Comparison::new(Arc::new(ours.clone()), theirs.clone());
        while slow.step(1) {}
        prop_assert_eq!(&slow.found, &found);
        prop_assert!(ours == before);
        let mut after = ours.clone();
        after.extend(found.intake.add().cloned());
        let mut union = ours.clone();
        union.extend(theirs.all_events().cloned());
        prop_assert!(after == union);
        prop_assert_eq!(found.intake.count, found.intake.add().count());
        // What the page keeps in memory shares the file's batches: the same in the end.
        let mut absorbed = ours.clone();
        absorbed.absorb(&found.intake.file);
        prop_assert!(absorbed == union);
        prop_assert_eq!(absorbed.household(), union.household());
        prop_assert!(absorbed.batches().eq(union.batches()));
        // What is there afterwards and was not before, word for word.
        let new = |batch: Id| {
            after.events(batch).iter().filter(|one| !ours.events(batch).contains(one)).count()
        };
        for change in &found.batches {
            let grew = after.events(change.batch).len() - ours.events(change.batch).len();
            match change.change {
                Change::New => prop_assert!(ours.batch(change.batch).is_none()),
                Change::Same => prop_assert_eq!(grew, 0),
                Change::Grown(added) => {
                    prop_assert!(added >= grew && added > 0);
                    prop_assert_eq!(added, new(change.batch));
                }
            }
        }
        prop_assert_eq!(found.household, new(Id::HOUSEHOLD));
        // One tap takes it out again.
        after.remove(&found.intake.names());
        after.extend(found.intake.replaced);
        prop_assert!(after == before);
    }

    #[test]
    fn calendar_lines_are_rfc_5545(summary in any::<String>(), at in 0_i64..4_000_000_000_000) {
        let reminder = Reminder {
            about: id(3), kind: "rest", when: When::At(EpochMs(at), Span::ZERO), summary,
            description: "a;b,c\\d\ne".to_owned(),
        };
        let text = calendar(&[reminder], EpochMs(at));
        // Section 3.1: CRLF after every line, 75 octets at most without it.
        prop_assert!(text.ends_with("END:VCALENDAR\r\n"));
        prop_assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
        for line in text.split("\r\n") {
            prop_assert!(line.len() <= 75, "{line}");
            prop_assert!(!line.contains('\r'));
        }
        let unfolded = text.replace("\r\n ", "");
        prop_assert!(unfolded.contains("\r\nDESCRIPTION:a\\;b\\,c\\\\d\\ne\r\n"));
        for name in ["BEGIN:VEVENT", "END:VEVENT", "BEGIN:VALARM", "UID:", "DTSTAMP:", "TRIGGER:"] {
            let lines = unfolded.split("\r\n").filter(|line| line.starts_with(name)).count();
            prop_assert_eq!(lines, 1, "{}", name);
        }
    }
}

#[test]
fn the_digest_is_sha_256() {
    // FIPS 180-4, example of "abc" (NIST, SHA-256 examples).
    let hex = |bytes: &[u8]| bytes.iter().map(|b| format!("{b:02x}")).collect::<String>();
    assert_eq!(
        hex(&Sha256::digest(b"abc")),
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    );
    // The file carries that digest of its JSON part, without the last line break.
    let text = write(&[]);
    let (head, json) = text.split_once("\n\n").unwrap();
    assert_eq!(json, "{\"events\":[\n\n]}\n");
    assert!(head.ends_with(&hex(&Sha256::digest(json.trim_end()))));
}

#[test]
fn an_instant_in_a_calendar_is_utc() {
    // 1,000,000,000 s is 2001-09-09 01:46:40 UTC (common check value of Unix time,
    // from memory; chrono, a reference library, works it out).
    let reminder = Reminder {
        about: id(1),
        kind: "rest",
        when: When::At(EpochMs(1_000_000_000_000), Span::ZERO),
        summary: "Check".to_owned(),
        description: String::new(),
    };
    assert!(calendar(&[reminder], EpochMs(0)).contains("DTSTART:20010909T014640Z\r\n"));
}

#[test]
fn each_kind_of_bad_file_has_its_own_sentence() {
    let good = write(&[]);
    let with = |from: &str, to: &str| good.replace(from, to);
    let png = String::from_utf8_lossy(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR").into_owned();
    for (text, error) in [
        (String::new(), ReadError::Empty),
        (" \n\u{feff}".to_owned(), ReadError::Empty),
        ("<!doctype html><title>No</title>".to_owned(), ReadError::Foreign),
        ("batch,jar\r\n1,2\r\n".to_owned(), ReadError::Foreign),
        (png, ReadError::Foreign),
        (with("record 1", "record one"), ReadError::Foreign),
        (with("record 1", "record 2"), ReadError::Newer(2)),
        (good.split("\n\n").next().unwrap().to_owned(), ReadError::Cut),
        (with("Entries: 0", "Entries: many"), ReadError::Cut),
        (with("Entries: 0", "Entries: 3"), ReadError::Altered),
        (with("Entries: 0", &format!("Entries: {}", MAX_EVENTS + 1)), ReadError::TooMany),
        (with("[\n\n]", "[\n1\n]"), ReadError::Altered),
    ] {
        let found = read(&text).unwrap_err();
        assert_eq!(found, error, "{text}");
        assert!(found.to_string().ends_with('.'));
        assert_eq!(found.is_newer(), matches!(error, ReadError::Newer(_)));
    }
}

#[test]
fn a_huge_file_is_refused_at_once() {
    let huge = "x".repeat(50 * 1024 * 1024);
    let start = Instant::now();
    assert_eq!(read(&huge), Err(ReadError::TooBig));
    assert!(start.elapsed().as_millis() < 1_000);
    assert!(huge.len() > MAX_FILE_BYTES);
}

/// A file around any JSON part, with the digest that belongs to it.
fn sealed(json: &str, entries: usize) -> String {
    let digest: String =
        Sha256::digest(json.trim_end()).iter().map(|b| format!("{b:02x}")).collect();
    format!("Hearthjar record 1\nx\nEntries: {entries}\nSHA-256: {digest}\n\n{json}\n")
}

#[test]
fn files_that_once_could_have_hurt_are_errors() {
    let folder = format!("{}/tests/files", env!("CARGO_MANIFEST_DIR"));
    let mut seen = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let json = String::from_utf8_lossy(&std::fs::read(&path).unwrap()).into_owned();
        assert!(read(&sealed(&json, 1)).is_err(), "{} was taken in", path.display());
        assert!(read(&json).is_err());
        seen += 1;
    }
    assert!(seen >= 10);
    let deep = format!("{{\"events\":{}{}}}", "[".repeat(3_000_000), "]".repeat(3_000_000));
    assert!(read(&sealed(&deep, 1)).is_err());
}
