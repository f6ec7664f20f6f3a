//! The calendar's reminders and the tables, as far as no other program is needed:
//! tests/browser/files.test.mjs reads both with independent parsers.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic)] // a failed test may panic

mod common;

use common::finished::{BEGUN, processed, utc};
use common::{any_events, id, start};
use hearthjar::batch::{Archive, BatchStart, Body, CannerKept, Event, Id, Seal, Text};
use hearthjar::exchange::{When, batch_table, calendar, jar_table, reminders};
use hearthjar::process::Gauge;
use hearthjar::units::{Altitude, EpochMs, PsiGauge, Span};
use proptest::prelude::*;

/// Cells of a table, by the grammar of RFC 4180, section 2, written here on purpose.
fn rows(text: &str) -> Vec<Vec<String>> {
    let mut chars = text.strip_prefix('\u{feff}').unwrap().chars().peekable();
    let (mut rows, mut row) = (Vec::new(), Vec::new());
    while chars.peek().is_some() {
        let mut cell = String::new();
        if chars.next_if_eq(&'"').is_some() {
            loop {
                match chars.next().unwrap() {
                    '"' if chars.next_if_eq(&'"').is_some() => cell.push('"'),
                    '"' => break,
                    c => cell.push(c),
                }
            }
        } else {
            while let Some(c) = chars.next_if(|c| !matches!(c, ',' | '\r' | '"')) {
                cell.push(c);
            }
        }
        row.push(cell);
        match chars.next() {
            Some(',') => {}
            Some('\r') => {
                assert_eq!(chars.next(), Some('\n'));
                rows.push(std::mem::take(&mut row));
            }
            other => panic!("{other:?} after a cell"),
        }
    }
    assert!(row.is_empty(), "the last line has no end");
    rows
}

proptest! {
    #[test]
    fn a_table_is_rows_of_one_width_without_formulas(
        events in any_events(), content in "[=+@\\-\t ,\"\r\n＝x]{0,8}",
    ) {
        let content = Text::new(&content).unwrap();
        let begun = BatchStart { content, altitude: Altitude::from_feet(-10).unwrap(), ..start() };
        let first = Event::new(id(0), id(100), 0, EpochMs(0), Body::BatchStarted(begun));
        let archive = Archive::from_events(events.into_iter().chain([first]));
        let jars: usize = archive.loads().iter().map(|(_, load)| load.jars.len()).sum();
        let tables = [
            (jar_table(&archive, &utc), jars),
            (batch_table(&archive, &utc), archive.batches().count()),
        ];
        for (text, count) in tables {
            let rows = rows(&text);
            prop_assert_eq!(rows.len(), count + 1);
            for row in &rows {
                prop_assert_eq!(row.len(), rows[0].len());
                for cell in row {
                    let dangerous = cell.trim_start()
                        .starts_with(['=', '+', '-', '@', '＝', '＋', '－', '＠'])
                        || cell.starts_with(['\t', '\r', '\n']);
                    prop_assert!(!dangerous || cell == "-10", "{cell:?}");
                }
            }
        }
    }
}

#[test]
fn a_row_says_what_the_record_says() {
    let content = Text::new("=HYPERLINK(\"http://x\"), \"Ostermere\"").unwrap();
    let begun = BatchStart { content, ..start() };
    let (archive, _) = processed(id(100), begun, 3, &[Seal::Sealed, Seal::NotSealed, Seal::Broken]);
    let jars = rows(&jar_table(&archive, &utc));
    let cell = |row: usize, name: &str| {
        let column = jars[0].iter().position(|head| head == name).unwrap();
        jars[row][column].as_str()
    };
    assert_eq!(jars.len(), 4);
    assert_eq!(cell(1, "content"), "'=HYPERLINK(\"http://x\"), \"Ostermere\"");
    assert_eq!(
        [cell(1, "state"), cell(2, "state"), cell(3, "state")],
        ["sealed", "not sealed", "broken"]
    );
    assert_eq!([cell(1, "minutes"), cell(1, "psi"), cell(1, "altitude ft")], ["100", "10", "0"]);
    assert_eq!((cell(2, "jar"), cell(2, "load")), ("2", "1"));
    // 136 min after 16:00, and 3.876 s for the parts of a second of seven taps.
    assert_eq!(cell(1, "canned (UTC)"), "2025-11-24T18:16:03Z");
    assert_eq!(cell(1, "best by (local)"), "2026-11-24");
    assert!(cell(1, "publication").contains("USDA Complete Guide to Home Canning"));
    let batches = rows(&batch_table(&archive, &utc));
    let at = |name: &str| {
        let column = batches[0].iter().position(|head| head == name).unwrap();
        batches[1][column].as_str()
    };
    assert_eq!(
        [at("jars"), at("sealed"), at("not sealed or broken"), at("not checked")],
        ["3", "1", "2", "0"]
    );
}

fn dial_checked(archive: &mut Archive, at: EpochMs) {
    let canner = CannerKept {
        canner: id(50),
        name: Text::new("Blue one").unwrap(),
        gauge: Gauge::Dial,
        quarts: 16,
        notes: Text::default(),
        gone: false,
    };
    let psi = PsiGauge::whole(11);
    let check = Body::GaugeChecked { canner: id(50), reading: psi, standard: psi };
    archive.insert(Event::new(id(51), Id::HOUSEHOLD, 1, at, Body::CannerKept(canner)));
    archive.insert(Event::new(id(52), Id::HOUSEHOLD, 2, at, check));
}

#[test]
fn each_wait_has_its_reminder_and_no_more() {
    let kinds = |archive: &Archive, now| {
        let mut all: Vec<(&str, When)> =
            reminders(archive, now, &utc).iter().map(|one| (one.kind, one.when)).collect();
        all.sort_by_key(|(kind, _)| *kind);
        all
    };
    // Resting: the end of 12 h of rest (Guide 1, p. 1-25), and 24 h for jars that
    // did not seal (p. 1-26).
    let (mut resting, load) = processed(id(100), start(), 2, &[]);
    let run = &resting.batch(id(100)).unwrap().load(load).unwrap().run;
    let unloaded = run.stage().since().unwrap();
    let (_, held) = run.full_hold().unwrap();
    let rest = ("rest", When::At(unloaded.plus(Span::hours(12)), Span::ZERO));
    let unsealed = ("unsealed", When::At(held.plus(Span::hours(24)), Span::hours(2)));
    assert_eq!(kinds(&resting, unloaded), [rest, unsealed]);
    assert_eq!(kinds(&resting, unloaded.plus(Span::hours(13))), [unsealed]);
    assert_eq!(kinds(&resting, unloaded.plus(Span::hours(48))), []);
    // A dial's check holds for a year (Guide 1, p. 1-20).
    dial_checked(&mut resting, BEGUN);
    let year = BEGUN.plus(Span::hours(365 * 24));
    let gauge = ("gauge", When::On(utc(year)));
    assert_eq!(kinds(&resting, unloaded.plus(Span::hours(48))), [gauge]);
    assert_eq!(kinds(&resting, year.plus(Span(1))), []);
    // Checked: best by, and an unsealed jar still open.
    let (checked, _) = processed(id(100), start(), 2, &[Seal::Sealed, Seal::NotSealed]);
    let best = ("best-by", When::On(utc(held.plus(Span::hours(365 * 24)))));
    assert_eq!(kinds(&checked, unloaded.plus(Span::hours(13))), [best, unsealed]);
}

#[test]
fn a_second_writing_bears_the_same_names_and_a_higher_sequence() {
    let (archive, _) = processed(id(100), start(), 2, &[]);
    let later = BEGUN.plus(Span::hours(4));
    let values = |text: &str, name: &str| -> Vec<String> {
        let unfolded = text.replace("\r\n ", "");
        unfolded.split("\r\n").filter_map(|l| l.strip_prefix(name)).map(str::to_owned).collect()
    };
    let all = reminders(&archive, later, &utc);
    let (one, two) = (calendar(&all, later), calendar(&all, later.plus(Span::minutes(5))));
    assert_eq!(values(&one, "UID:").len(), 2);
    assert_eq!(values(&one, "UID:"), values(&two, "UID:"));
    let number = |text: &str| values(text, "SEQUENCE:")[0].parse::<i32>().unwrap();
    assert!(number(&two) > number(&one));
    assert!(one.contains("TRIGGER:-PT120M\r\n") && one.contains("TRIGGER:PT0M\r\n"));
}
