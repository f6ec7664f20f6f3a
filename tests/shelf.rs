//! The shelf: what stands where, searching it, the year, and two phones at it.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod pantry;

use hearthjar::batch::{
    Archive, Body, Cause, Doubted, Event, Id, JarNumbers, JarState, Refused, Seal, Settled,
    ShelfEvent, Taken, Verdict,
};
use hearthjar::plan::Weighed;
use hearthjar::process::{Food, Gauge, Jar};
use hearthjar::shelf::{
    BEST_WITHIN, Filter, Lot, Month, Rate, Search, Share, Shelf, Year, lots, span, yields,
};
use hearthjar::units::{EpochMs, Mass, Span};
use pantry::{Put, act, any_puts, archive, day, name, text};
use proptest::prelude::*;
use std::time::Instant;

const CONTENTS: [&str; 4] = ["Trout, Ostermere", "Smoked char", "PIKE", "Äsche Ütli"];
const PLACES: [&str; 3] = ["Cellar, left", "Cabin", ""];

fn found(search: &Search, shelf: &Shelf) -> Vec<Lot> {
    (0..search.len()).map(|line| search.line(shelf, line).unwrap().clone()).collect()
}

proptest! {
    #[test]
    fn a_shelf_that_follows_is_the_shelf_from_scratch(puts in any_puts(&CONTENTS, &PLACES, 0..500), order in any::<u64>()) {
        let mut events: Vec<Event> = puts.iter().flat_map(Put::events).collect();
        // Some order, as two phones would bring them.
        events.sort_by_key(|event| event.id().number().rotate_left((order % 128) as u32));
        let mut growing = Archive::new();
        let mut shelf = Shelf::default();
        for some in events.chunks(7) {
            growing.extend(some.iter().cloned());
            shelf.follow(&growing);
            let turn = shelf.turn();
            prop_assert!(!shelf.follow(&growing) && shelf.turn() == turn);
            let scratch = Shelf::of(&growing);
            prop_assert!(shelf.lots().eq(scratch.lots()));
        }
        let whole: Vec<&Lot> = shelf.lots().collect();
        prop_assert!(whole.is_sorted_by_key(|lot| lot.canned));
        let standing: usize = puts.iter().filter(|put| put.finished)
            .map(|put| put.jars.iter().filter(|jar| **jar == (Seal::Sealed, None)).count()).sum();
        prop_assert_eq!(whole.iter().map(|lot| lot.jars.len()).sum::<usize>(), standing);
        // Batches that go are followed too.
        let names: Vec<(Id, Id)> = events.iter().take(events.len() / 2)
            .map(|event| (event.batch(), event.id())).collect();
        growing.remove(&names);
        shelf.follow(&growing);
        prop_assert!(shelf.lots().eq(Shelf::of(&growing).lots()));
    }

    #[test]
    fn a_search_that_goes_on_finds_what_a_new_one_finds(
        puts in any_puts(&CONTENTS, &PLACES, 0..500),
        typed in proptest::collection::vec("(|t|tr|trout|TROUT |trout p|cel|cellar, left pi|p|ü|utl|äs|ASCHE|x)", 1..8),
        places in proptest::collection::vec(proptest::option::of(0..3_usize), 8),
    ) {
        let archive = archive(&puts);
        let shelf = Shelf::of(&archive);
        let mut search = Search::default();
        for (typed, place) in typed.iter().zip(&places) {
            let filter = Filter { place: place.map(|p| text(PLACES[p])), ..Filter::default() };
            search.find(&shelf, typed, &filter);
            // By the plain meaning of the words: each stands somewhere in the lot, and
            // letters with and without accents are one.
            let bare = |text: &str| text.to_lowercase().replace('ä', "a").replace('ü', "u");
            let plain: Vec<Lot> = shelf.lots().filter(|lot| {
                let food = Food::by_key(&lot.product).unwrap().name();
                let all = format!("{} {} {food} raw pack pint {}", lot.content.as_str(), lot.product,
                    lot.place.as_ref().map_or("", |place| place.as_str()));
                let here = filter.place.is_none() || lot.place == filter.place;
                here && bare(typed).split_whitespace().all(|word| bare(&all).contains(word))
            }).cloned().collect();
            prop_assert_eq!(search.jars(), plain.iter().map(|lot| lot.jars.len()).sum::<usize>());
            prop_assert_eq!(found(&search, &shelf), plain);
        }
    }
}

#[test]
fn moved_jars_stand_apart_and_are_found_there() {
    let put = Put { place: "Cellar", ..Put::plain(1, 0, 4) };
    let (batch, load) = (put.batch(), put.load());
    let mut archive = archive(&[put]);
    let mut next = 0;
    let moved = |jars: [u16; 2], place| {
        let jars = JarNumbers::new(jars).unwrap();
        vec![(batch, vec![Body::AtShelf(ShelfEvent::JarsMoved { load, jars, place: text(place) })])]
    };
    act(&mut archive, day(2), &mut next, moved([2, 4], "Cabin"));
    let cabin = lots(&archive, "cabin");
    assert_eq!((cabin.len(), cabin[0].jars.as_slice()), (1, [2, 4].as_slice()));
    assert_eq!(lots(&archive, "cellar")[0].jars, [1, 3]);
    let taken = vec![(batch, vec![Body::JarTaken { load, jar: 2, how: Taken::Eaten }])];
    act(&mut archive, day(3), &mut next, taken);
    // A jar that is gone is not moved; with one that is here, that one is.
    act(&mut archive, day(4), &mut next, moved([1, 2], "Cabin"));
    assert_eq!(lots(&archive, "cabin")[0].jars, [1, 4]);
    let gone = JarNumbers::new([2]).unwrap();
    let body = Body::AtShelf(ShelfEvent::JarsMoved { load, jars: gone, place: text("Town") });
    assert_eq!(archive.draft(batch, day(5), [(name(9, 99), body)]), Err(Refused::JarState));
    // The whole load put elsewhere ends what was moved before.
    let all = vec![(batch, vec![Body::Shelved { load, place: text("Town") }])];
    act(&mut archive, day(6), &mut next, all);
    assert_eq!(lots(&archive, "")[0].jars, [1, 3, 4]);
}

#[test]
fn best_by_is_a_year_and_filters_narrow() {
    let old = Put { content: "Old pike", ..Put::plain(1, 0, 3) };
    let new = Put { content: "New pike", place: "Cabin", ..Put::plain(2, 300, 2) };
    let archive = archive(&[new, old]);
    let shelf = Shelf::of(&archive);
    let contents: Vec<&str> = shelf.lots().map(|lot| lot.content.as_str()).collect();
    assert_eq!(contents, ["Old pike", "New pike"]);
    // USDA Complete Guide, Guide 1, p. 1-12: within a year.
    let first = shelf.lot(0).unwrap();
    assert_eq!(first.best_by, first.canned.plus(Span::hours(24 * 365)));
    let mut search = Search::default();
    let past = |now| Filter { past_best: Some(now), ..Filter::default() };
    search.find(&shelf, "pike", &past(first.best_by));
    assert!(search.is_empty());
    search.find(&shelf, "pike", &past(first.best_by.plus(Span(1))));
    assert_eq!((search.len(), search.jars()), (1, 3));
    search.find(&shelf, "", &Filter { size: Some(Jar::Quart), ..Filter::default() });
    assert!(search.is_empty());
    search.find(&shelf, "", &Filter { place: Some(text("Cabin")), ..Filter::default() });
    assert_eq!(search.jars(), 2);
    assert_eq!(shelf.places(), [&text("Cellar"), &text("Cabin")]);
    assert_eq!(shelf.sizes(), [Jar::Pint]);
    assert_eq!(shelf.groups().len(), 1);
}

#[test]
fn letters_with_and_without_accents_find_each_other() {
    // The base letters of the Unicode Character Database's decompositions.
    let put = Put { content: "Salmón ahumado, Ñandú", ..Put::plain(1, 0, 2) };
    let archive = archive(&[put]);
    for typed in ["salmon", "SALMÓN", "sálmon", "nandu", "ñandú"] {
        assert_eq!(lots(&archive, typed).len(), 1, "{typed}");
    }
    assert!(lots(&archive, "salmen").is_empty());
}

#[test]
fn two_phones_at_one_shelf_show_where_they_differ() {
    let put = Put::plain(1, 0, 4);
    let (batch, load) = (put.batch(), put.load());
    let both = archive(&[put]);
    let take = |jar, how| Body::JarTaken { load, jar, how };
    let moved = |place| {
        let jars = JarNumbers::new([3]).unwrap();
        Body::AtShelf(ShelfEvent::JarsMoved { load, jars, place: text(place) })
    };
    let held = |jar| {
        Body::AtShelf(ShelfEvent::Doubted(Doubted {
            doubt: name(8, 1),
            cause: Cause::LidLot,
            say: text("Lids lift"),
            load,
            jars: JarNumbers::new([jar]).unwrap(),
            verdict: Verdict::Held,
        }))
    };
    // What the phones write, each on its own, and the jars in conflict after.
    let cases: [(Vec<Body>, Vec<Body>, &[u16]); 7] = [
        (vec![take(1, Taken::Eaten)], vec![take(1, Taken::Given)], &[1]),
        (vec![take(1, Taken::Eaten)], vec![take(1, Taken::Eaten)], &[]),
        // Not at the same place in their records.
        (vec![take(2, Taken::Eaten), take(1, Taken::Eaten)], vec![take(1, Taken::Spoiled)], &[1]),
        (vec![moved("Cabin")], vec![moved("Town")], &[3]),
        (vec![moved("Cabin")], vec![take(3, Taken::Eaten)], &[]),
        (vec![held(4)], vec![take(4, Taken::Eaten)], &[4]),
        (vec![take(2, Taken::Eaten), held(4)], vec![take(4, Taken::Given)], &[4]),
    ];
    for (ours, theirs, jars) in cases {
        let (mut one, mut two) = (both.clone(), both.clone());
        act(&mut one, day(3), &mut 100, vec![(batch, ours.clone())]);
        act(&mut two, day(3), &mut 200, vec![(batch, theirs.clone())]);
        let mut ab = one.clone();
        ab.extend(two.all_events().cloned());
        let mut ba = two;
        ba.extend(one.all_events().cloned());
        let state = ab.batch(batch).unwrap();
        assert_eq!(Some(state), ba.batch(batch));
        let said: Vec<u16> = state.conflicts.iter().map(|conflict| conflict.jar).collect();
        assert_eq!(said, jars, "{ours:?} beside {theirs:?}");
    }
    // Alone, one phone never disagrees with itself.
    let mut alone = both;
    for body in [take(1, Taken::Eaten), moved("Cabin"), moved("Town"), held(4)] {
        act(&mut alone, day(3), &mut 300, vec![(batch, vec![body])]);
        let next = alone.batch(batch).unwrap();
        assert!(next.conflicts.is_empty());
        let used = alone.events(batch).len();
        act(&mut alone, day(3), &mut (400 + used as u32), vec![]);
    }
}

#[test]
fn the_year_counts_jars_in_their_months() {
    // Months of 30 days that begin at noon; the time zone is the caller's business.
    let mut edges = [EpochMs(0); 13];
    for (number, edge) in (0..).zip(&mut edges) {
        *edge = day(number * 30).plus(Span::hours(-12));
    }
    let one = Put {
        lids: "L-204",
        canner: "Big one",
        jars: vec![
            (Seal::Sealed, Some(Taken::Eaten)),
            (Seal::Sealed, Some(Taken::LostSeal)),
            (Seal::NotSealed, None),
            (Seal::Sealed, None),
        ],
        // Canned on the last morning of a month; the jars leave in the next.
        ..Put::plain(1, 29, 0)
    };
    let two = Put {
        lids: "l-204",
        jars: vec![(Seal::Broken, None), (Seal::Sealed, Some(Taken::Given))],
        ..Put::plain(2, 95, 0)
    };
    let before = Put { lids: "M 77", ..Put::plain(3, -40, 5) };
    let unfinished = Put { finished: false, ..Put::plain(4, 40, 3) };
    let archive = archive(&[one, two, before, unfinished]);
    let year = Year::of(&archive, &edges);
    assert_eq!(year.months[0], Month { put_up: 3, ..Month::default() });
    assert_eq!(year.months[1], Month { eaten: 1, thrown: 1, ..Month::default() });
    assert_eq!(year.months[3], Month { put_up: 1, given: 1, ..Month::default() });
    assert_eq!(year.total(), Month { put_up: 4, eaten: 1, given: 1, thrown: 1 });
    let rate = |name, checked, sealed, lost| Rate { name: text(name), checked, sealed, lost };
    assert_eq!(year.lids, [rate("L-204", 6, 4, 1)]);
    assert_eq!(year.canners, [rate("Big one", 4, 3, 1), rate("", 2, 1, 0)]);
    assert_eq!(year.lids[0].percent(), Some(66));
    assert_eq!(rate("", 0, 0, 0).percent(), None);
    assert_eq!(rate("", 1_000, 999, 0).percent(), Some(99));
    let (first, last) = span(&archive).unwrap();
    assert!(first < day(0) && last > day(95));
}

#[test]
fn the_yield_counts_only_what_was_weighed_twice() {
    let mut events = Vec::new();
    // Whole, cleaned and packed, in grams; 0 for not weighed.
    let weights = [(3_000, 0, 1_500), (1_000, 800, 400), (500, 0, 600), (900, 700, 0)];
    for (number, (whole, dressed, packed)) in (1..).zip(weights) {
        let put = Put::plain(number, 10, 2);
        let kinds =
            [(Weighed::Whole, whole), (Weighed::Dressed, dressed), (Weighed::Packed, packed)];
        for (seq, (what, grams)) in (90..).zip(kinds) {
            let mass = Mass::from_grams(grams).unwrap();
            let body = Body::Weighed { what, mass };
            if grams > 0 {
                let id = name(3, number * 100 + seq);
                events.push(Event::new(id, put.batch(), seq, day(10), body));
            }
        }
        events.extend(put.events());
    }
    let archive = Archive::from_events(events);
    let found = yields(&archive, day(0), day(20));
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].whole, Share { batches: 2, before: 4_000, packed: 1_900 });
    assert_eq!(found[0].dressed, Share { batches: 1, before: 800, packed: 400 });
    assert_eq!((found[0].whole.percent(), found[0].dressed.percent()), (Some(47), Some(50)));
    assert!(yields(&archive, day(11), day(20)).is_empty());
}

#[test]
fn a_discarded_jar_is_off_the_shelf_for_good() {
    let put = Put::plain(1, 0, 2);
    let (batch, load) = (put.batch(), put.load());
    let mut archive = archive(&[put]);
    let doubted = |verdict, jar| {
        Body::AtShelf(ShelfEvent::Doubted(Doubted {
            doubt: name(8, 1),
            cause: Cause::GaugeHigh,
            say: text("Dial 1.5 psi high"),
            load,
            jars: JarNumbers::new([jar]).unwrap(),
            verdict,
        }))
    };
    let mut next = 0;
    let entries = vec![doubted(Verdict::Held, 1), doubted(Verdict::Discarded, 2)];
    act(&mut archive, day(3), &mut next, vec![(batch, entries)]);
    let lot = &lots(&archive, "")[0];
    assert_eq!((lot.jars.as_slice(), lot.held.as_slice()), ([1].as_slice(), [1].as_slice()));
    let reason = text("The standard was wrong");
    let lifted = Body::AtShelf(ShelfEvent::DoubtLifted { doubt: name(8, 1), reason });
    act(&mut archive, day(4), &mut next, vec![(batch, vec![lifted.clone()])]);
    let lot = &lots(&archive, "")[0];
    assert_eq!((lot.jars.as_slice(), lot.held.len()), ([1].as_slice(), 0));
    let state = archive.batch(batch).unwrap().load(load).unwrap().jar(2).unwrap().state;
    assert!(matches!(state, JarState::Taken(_, Taken::Doubted)));
    let again = archive.draft(batch, day(4), [(name(9, 99), lifted)]);
    assert_eq!(again, Err(Refused::NoDoubt));
    assert_eq!(BEST_WITHIN, Span::hours(365 * 24));
}

#[test]
fn an_unsealed_jar_in_doubt_is_only_thrown_out() {
    let put = Put { jars: vec![(Seal::NotSealed, None); 2], ..Put::plain(1, 0, 0) };
    let (batch, load) = (put.batch(), put.load());
    let mut archive = archive(&[put]);
    let held = Body::AtShelf(ShelfEvent::Doubted(Doubted {
        doubt: name(8, 1),
        cause: Cause::GaugeHigh,
        say: text("Dial 1.5 psi high"),
        load,
        jars: JarNumbers::new([1]).unwrap(),
        verdict: Verdict::Held,
    }));
    let mut next = 0;
    act(&mut archive, day(3), &mut next, vec![(batch, vec![held])]);
    let settle = |jar, way| Body::UnsealedSettled { load, jar, way };
    for way in [Settled::Refrigerated, Settled::Frozen, Settled::Reprocessed] {
        let draft = |jar| archive.draft(batch, day(3), [(name(9, 99), settle(jar, way))]);
        assert_eq!(draft(1), Err(Refused::Held));
        assert!(draft(2).is_ok());
    }
    let out = vec![settle(1, Settled::Discarded)];
    act(&mut archive, day(3), &mut next, vec![(batch, out)]);
    let jar = *archive.batch(batch).unwrap().load(load).unwrap().jar(1).unwrap();
    assert!(matches!(jar.state, JarState::Settled(_, Settled::Discarded)));
}

/// 1,000 batches of 10 jars: prints how long the shelf takes. Not a bar: machines
/// differ. Run with `cargo test --release --test shelf speed -- --nocapture`.
#[test]
fn speed_of_a_large_shelf() {
    let puts: Vec<Put> = (0..1_000)
        .map(|number| Put {
            content: CONTENTS[number as usize % 4],
            place: PLACES[number as usize % 3],
            gauge: Gauge::Weighted,
            ..Put::plain(number + 1, i64::from(number) / 3, 10)
        })
        .collect();
    let mut archive = archive(&puts);
    let start = Instant::now();
    let mut shelf = Shelf::of(&archive);
    println!("index of {} lots: {:?}", shelf.len(), start.elapsed());
    assert_eq!(shelf.len(), 1_000);
    let mut search = Search::default();
    for typed in ["", "t", "tr", "trout", "trout p", "trout pi", "trout", "äs"] {
        let start = Instant::now();
        search.find(&shelf, typed, &Filter::default());
        println!("{typed:?}: {} lots in {:?}", search.len(), start.elapsed());
    }
    let (batch, load) = (puts[500].batch(), puts[500].load());
    let start = Instant::now();
    let eaten = Body::JarTaken { load, jar: 1, how: Taken::Eaten };
    act(&mut archive, day(900), &mut 0, vec![(batch, vec![eaten])]);
    println!("one jar out: {:?}", start.elapsed());
    let start = Instant::now();
    assert!(shelf.follow(&archive));
    println!("shelf follows: {:?}", start.elapsed());
    assert_eq!(shelf.lots().map(|lot| lot.jars.len()).sum::<usize>(), 9_999);
}
