//! Opening with the first screen's batches shows what opening with all of them shows.
//!
//! The law is our own: whatever the whole record has due, the front has due.

mod common;

use common::any_events;
use common::finished::{processed, random_id};
use hearthjar::batch::{Archive, Body, Event, Seal};
use hearthjar::json::parse;
use hearthjar::present::{Front, LISTED, agenda, lot_cards, newest};
use hearthjar::units::EpochMs;
use proptest::prelude::*;

/// What is in memory after an opening with the front.
fn opened(archive: &Archive, front: &Front) -> Archive {
    let batches = front.batches.iter();
    Archive::from_events(batches.flat_map(|batch| archive.events(*batch).to_vec()))
}

proptest! {
    #[test]
    fn nothing_due_is_left_out(events in any_events(), at in 0_i64..(1 << 42), days in 0_i64..400) {
        // Twenty newer batches, so that none of the others is there for being new.
        let newer = (0..20).map(|seed| {
            let start = Body::BatchStarted(common::start());
            Event::new(random_id(seed), random_id(seed + 100), 1, EpochMs(1 << 42), start)
        });
        let archive = Archive::from_events(events.into_iter().chain(newer));
        let front = Front::of(&archive, 7);
        let part = opened(&archive, &front);
        // Also when the page opens long after the front was noted.
        for now in [EpochMs(at), EpochMs(at + days * 86_400_000)] {
            prop_assert_eq!(agenda(&part, now), agenda(&archive, now));
            prop_assert_eq!(lot_cards(&part, now), lot_cards(&archive, now));
        }
        prop_assert_eq!(newest(&part, LISTED), newest(&archive, LISTED));
        let text = front.to_json().to_string();
        prop_assert_eq!(Front::from_json(&parse(&text).unwrap()), Some(front));
    }
}

proptest! {
    #[test]
    fn the_newest_are_the_first_of_all_sorted(times in proptest::collection::vec(0_i64..40, 0..120), most in 0_usize..12) {
        let begun = times.iter().zip(0_u64..).map(|(at, seed)| {
            let start = Body::BatchStarted(common::start());
            Event::new(random_id(seed), random_id(seed + 500), 1, EpochMs(*at), start)
        });
        let archive = Archive::from_events(begun);
        let mut all: Vec<_> = archive.batches().map(|batch| (batch.start.as_ref().unwrap().0, batch.id)).collect();
        all.sort();
        all.reverse();
        all.truncate(most);
        prop_assert_eq!(newest(&archive, most), all);
    }
}

#[test]
fn a_front_stays_small_and_odd_ones_are_none() {
    let mut archive = Archive::new();
    for seed in 1..200 {
        let (one, _) = processed(random_id(seed), common::start(), 3, &[Seal::Sealed; 3]);
        archive.extend(one.all_events().cloned());
    }
    let front = Front::of(&archive, 2_000);
    assert_eq!(front.batches.len(), 20);
    for text in ["{}", "[]", "null", r#"{"rows":5}"#, r#"{"batches":["x"],"rows":5}"#] {
        assert_eq!(Front::from_json(&parse(text).unwrap()), None, "{text}");
    }
}
