//! A large take-in on its way into the record: nothing is lost, doubled, or back again
//! after it was taken out, whenever the phone dies.
//!
//! The laws are our own; the storage is a map in which one stroke is all or nothing.
#![allow(clippy::unwrap_used)] // a failed test may panic

mod common;

use common::{any_events, id, start};
use hearthjar::batch::{Archive, Body, Event, Id, Text};
use hearthjar::exchange::{
    Intake, PIECE_BYTES, PIECES, Parts, maybe_written, next_piece, piece_events, piece_key,
    piece_number, preview, row_key,
};
use hearthjar::units::EpochMs;
use proptest::prelude::*;
use std::collections::BTreeMap;

type Rows = BTreeMap<String, String>;

const NAME: &str = "0123456789abcdef";

fn key(event: &Event) -> String {
    format!("{}/{}", event.batch(), event.id())
}

/// What an opening finds.
fn opened(rows: &Rows) -> Archive {
    let mut archive = Archive::new();
    for (key, text) in rows {
        if key.starts_with(PIECES) {
            let (events, all) = piece_events(text);
            assert!(all);
            archive.extend(events);
        } else {
            archive.insert(Event::parse(text).unwrap());
        }
    }
    archive
}

fn keep(rows: &mut Rows, intake: &Intake) -> usize {
    let mut events = intake.add();
    let mut pieces = 0;
    while let Some(text) = next_piece(&mut events) {
        rows.insert(piece_key(NAME, pieces), text);
        pieces += 1;
    }
    pieces
}

fn first_left(rows: &Rows) -> Option<usize> {
    rows.keys().find(|key| key.starts_with(PIECES)).map(|key| piece_number(key).unwrap())
}

/// Events enough for several pieces: notes in batches that are not here, and in one that is.
fn many(notes: usize) -> Vec<Event> {
    let mut events = Vec::new();
    for number in 0..notes {
        let (batch, seq) = (id(40 + (number / 50) as u8), 1 + (number % 50) as u32);
        let mut bytes = [7; 16];
        bytes[..8].copy_from_slice(&(number as u64).to_be_bytes());
        let text = Text::new(&"Ostermere ".repeat(12 + number % 7)).unwrap();
        let body = Body::Noted { load: None, text };
        events.push(Event::new(Id::from_bytes(bytes), batch, seq, EpochMs(1_000), body));
    }
    events
}

#[derive(Clone, Copy, Debug)]
enum Act {
    /// So many parts are written.
    Write(usize),
    /// The phone dies and is opened again: the writing begins anew.
    Kill,
    /// A person adds something to a batch of it.
    Tap,
    /// Another tab writes a part with what it knows.
    Other,
}

fn any_act() -> impl Strategy<Value = Act> {
    prop_oneof![
        4 => (1_usize..12).prop_map(Act::Write),
        1 => Just(Act::Kill),
        1 => Just(Act::Tap),
        1 => Just(Act::Other),
    ]
}

/// One stroke: the next part of the first piece, unless that is gone.
fn write_part(rows: &mut Rows, memory: &Archive, piece: &str, skip: usize, most: usize) -> bool {
    let Some(text) = rows.get(piece).cloned() else { return false };
    let mut parts = Parts::of(&text);
    for _ in 0..skip {
        if parts.next_part(memory, most).is_none() {
            return false;
        }
    }
    let Some(part) = parts.next_part(memory, most) else { return false };
    for event in &part.events {
        rows.insert(key(event), event.text().to_owned());
    }
    if part.last {
        rows.remove(piece);
    }
    !part.last
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn whenever_the_phone_dies_all_is_there_once(
        acts in proptest::collection::vec(any_act(), 0..16), most in 20_usize..90,
        a in any_events(), out in any::<bool>(),
    ) {
        let ours = Archive::from_events(a.clone());
        let mut rows: Rows = ours.all_events().map(|e| (key(e), e.text().to_owned())).collect();
        // Some of it is here already.
        let events = many(900);
        for event in events.iter().take(30).step_by(3) {
            rows.insert(key(event), event.text().to_owned());
        }
        let before = opened(&rows);
        let intake = preview(&before, events.clone()).intake;
        prop_assert_eq!(intake.count, events.len() - 10);
        let pieces = keep(&mut rows, &intake);
        prop_assert!(pieces > 1, "{} pieces", pieces);
        let mut memory = before.clone();
        memory.absorb(&intake.file);
        let (mut taps, mut at) = (Vec::new(), 0);
        for act in acts {
            match act {
                Act::Write(parts) => for _ in 0..parts {
                    let Some(first) = first_left(&rows) else { break };
                    let piece = piece_key(NAME, first);
                    at = if write_part(&mut rows, &memory, &piece, at, most) { at + 1 } else { 0 };
                },
                Act::Kill => {
                    memory = opened(&rows);
                    at = 0;
                }
                Act::Tap => {
                    let mut bytes = [9; 16];
                    bytes[0] = taps.len() as u8;
                    let note = Body::Noted { load: None, text: Text::new("A tap").unwrap() };
                    let tap = memory.draft(id(41), EpochMs(2_000), [(Id::from_bytes(bytes), note)]);
                    for event in tap.unwrap() {
                        rows.insert(key(&event), event.text().to_owned());
                        memory.insert(event.clone());
                        taps.push(event);
                    }
                }
                Act::Other => if let Some(first) = first_left(&rows) {
                    write_part(&mut rows, &before, &piece_key(NAME, first), 0, most);
                }
            }
            prop_assert!(opened(&rows) == memory, "after {:?}", act);
        }
        if out {
            let left = first_left(&rows);
            for (batch, event) in maybe_written(&mut intake.add(), left) {
                rows.remove(&format!("{batch}/{event}"));
            }
            rows.retain(|key, _| !key.starts_with(PIECES));
            for event in &intake.replaced {
                rows.insert(key(event), event.text().to_owned());
            }
            let mut expected = before;
            expected.extend(taps);
            prop_assert!(opened(&rows) == expected, "taken out, {:?} left", left);
        } else {
            for _ in 0..10_000 {
                let Some(first) = first_left(&rows) else { break };
                let piece = piece_key(NAME, first);
                at = if write_part(&mut rows, &memory, &piece, at, most) { at + 1 } else { 0 };
            }
            prop_assert_eq!(first_left(&rows), None);
            prop_assert_eq!(rows.len(), memory.all_events().count(), "each in one row");
            prop_assert!(opened(&rows) == memory);
        }
    }
}

#[test]
fn a_newer_text_is_not_written_over() {
    let note = |text: &str| {
        let body = Body::Noted { load: None, text: Text::new(text).unwrap() };
        Event::new(id(1), id(40), 1, EpochMs(1_000), body)
    };
    let (older, newer) = (note("a"), note("b"));
    assert!(newer > older);
    let archive = Archive::from_events([newer.clone()]);
    let part = Parts::of(older.text()).next_part(&archive, 10).unwrap();
    assert_eq!((part.events, part.last), (vec![newer.clone()], true));
    let archive = Archive::from_events([older]);
    let part = Parts::of(newer.text()).next_part(&archive, 10).unwrap();
    assert_eq!(part.events, [newer]);
}

#[test]
fn a_piece_with_a_line_that_cannot_be_read_stays() {
    let begun = Event::new(id(1), id(40), 1, EpochMs(1_000), Body::BatchStarted(start()));
    let text = format!("{}\n{{torn", begun.text());
    let (events, all) = piece_events(&text);
    assert_eq!((events, all), (vec![begun.clone()], false));
    let mut parts = Parts::of(&text);
    let part = parts.next_part(&Archive::new(), 10).unwrap();
    assert_eq!((part.events, part.last), (vec![begun], false));
    assert!(parts.next_part(&Archive::new(), 10).is_none());
}

#[test]
fn pieces_are_of_a_size_to_be_read_in_one_go() {
    let events = many(4_000);
    let mut left = events.iter();
    let mut pieces = Vec::new();
    while let Some(text) = next_piece(&mut left) {
        assert!(text.len() < PIECE_BYTES + 8_192);
        // Only the last is small.
        assert!(text.len() >= PIECE_BYTES || left.len() == 0);
        pieces.push(piece_events(&text).0);
    }
    assert!(pieces.len() > 2);
    assert_eq!(pieces.concat(), events);
    // Which events a piece holds is known again without its text.
    let names = |events: &[Event]| -> Vec<_> {
        events.iter().map(|event| (event.batch(), event.id())).collect()
    };
    for left in 0..pieces.len() {
        let held: Vec<Event> = pieces.iter().take(left + 1).flatten().cloned().collect();
        assert_eq!(maybe_written(&mut events.iter(), Some(left)), names(&held));
    }
    assert_eq!(maybe_written(&mut events.iter(), None), names(&events));
    for event in &events {
        // The database of earlier builds has these names: they may never change.
        assert_eq!(row_key(event.batch(), event.id()), key(event));
    }
    assert_eq!(piece_number(&piece_key(NAME, 12)), Some(12));
    assert!(piece_key(NAME, 99) < piece_key(NAME, 100));
}
