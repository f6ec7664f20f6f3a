//! Doubts find exactly the jars they touch, held against a model that walks the
//! whole household day by day.
//!
//! Pressures: fish in pints on a dial 11, 12, 13, 14 psi up to 2,000, 4,000, 6,000
//! and 8,000 ft, on a weight 10 psi up to 1,000 ft and 15 above (USDA Complete
//! Guide to Home Canning, Guide 5, p. 5-11, 2015).
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod pantry;

use hearthjar::batch::{
    Archive, Body, CannerKept, Cause, Event, Id, JarState, Refused, Seal, Taken, Text, Verdict,
};
use hearthjar::doubt::{Mark, Suspect, Where, discard, doubts, findings, hold, lift, touched};
use hearthjar::process::Gauge;
use hearthjar::units::{Altitude, EpochMs, PsiGauge, Span};
use pantry::{Put, act, day, name, text};
use proptest::prelude::*;

const CANNERS: [&str; 3] = ["Big one", "Old one", ""];
const LIDS: [&str; 4] = ["L-204", "l-204", "M 77", ""];
const KITCHENS: [&str; 3] = ["Cabin", "Town", ""];
const HEIGHTS: [i32; 4] = [640, 1_500, 2_150, 5_200];

/// A check of the dial of one canner: canner, day, what it read too much in tenths.
type Check = (usize, i64, i16);

fn household(checks: &[Check]) -> Vec<Event> {
    let mut events = Vec::new();
    let mut add = |at: EpochMs, body: Body| {
        let seq = u32::try_from(events.len() + 1).unwrap();
        events.push(Event::new(name(5, seq), Id::HOUSEHOLD, seq, at, body));
    };
    for (number, canner) in CANNERS[..2].iter().enumerate() {
        let canner = CannerKept {
            canner: name(4, u32::try_from(number).unwrap()),
            name: text(canner),
            gauge: Gauge::Dial,
            quarts: 16,
            notes: Text::default(),
            gone: false,
        };
        add(day(-1), Body::CannerKept(canner));
    }
    for (canner, on, error) in checks {
        let reading = PsiGauge::from_tenths(110_u16.checked_add_signed(*error).unwrap()).unwrap();
        let canner = name(4, u32::try_from(*canner).unwrap());
        let standard = PsiGauge::whole(11);
        // At noon, so that no check falls on a load.
        let at = day(*on).plus(Span::hours(12));
        add(at, Body::GaugeChecked { canner, reading, standard });
    }
    events
}

fn any_jar() -> impl Strategy<Value = (Seal, Option<Taken>)> {
    let taken = proptest::option::of((0..4_usize).prop_map(|i| Taken::ALL[i]));
    (
        prop_oneof![4 => Just(Seal::Sealed), 1 => Just(Seal::NotSealed), 1 => Just(Seal::Broken)],
        taken,
    )
}

fn any_put() -> impl Strategy<Value = Put> {
    let jars = proptest::collection::vec(any_jar(), 1..5);
    let picks = (0..3_usize, 0..4_usize, 0..3_usize, 0..4_usize);
    (picks, 0_u8..3, any::<bool>(), 0_i64..60, jars, 0..8_u8).prop_map(
        |((canner, lids, kitchen, feet), added, dial, day, jars, unfinished)| Put {
            gauge: if dial { Gauge::Dial } else { Gauge::Weighted },
            canner: CANNERS[canner],
            // Only a dial that reads high has anything added.
            added: if dial && canner < 2 { added } else { 0 },
            feet: HEIGHTS[feet],
            kitchen: KITCHENS[kitchen],
            lids: LIDS[lids],
            jars,
            finished: unfinished > 0,
            ..Put::plain(0, day, 0)
        },
    )
}

fn any_pantry() -> impl Strategy<Value = (Vec<Put>, Vec<Check>)> {
    let checks = proptest::collection::vec((0..2_usize, 0_i64..60, -12_i16..26), 1..6);
    (proptest::collection::vec(any_put(), 1..8), checks).prop_map(|(mut puts, mut checks)| {
        for (number, put) in (1..).zip(&mut puts) {
            put.number = number;
        }
        // One check of a canner a day.
        checks.sort_unstable();
        checks.dedup_by_key(|(canner, on, _)| (*canner, *on));
        (puts, checks)
    })
}

/// What the model says of a load: not touched, perhaps, surely.
type Says = Option<bool>;

/// A load in the list: its name, whether sure, its jars.
type Listed = (Id, bool, Vec<(u16, Where)>);

/// Walks from the load's day to the bad check, or from that to the load's day: any
/// check on the way that this load's setting allows for clears it.
fn by_gauge(put: &Put, checks: &[Check], bad: Check) -> Says {
    let (canner, found, _) = bad;
    if put.gauge == Gauge::Weighted || (put.canner != CANNERS[canner] && !put.canner.is_empty()) {
        return None;
    }
    // Checks are made at noon, after the load of the day.
    let mut days = if put.day <= found { put.day..=found } else { found..=put.day - 1 };
    let all_bad = days.all(|today| {
        checks.iter().filter(|(c, on, _)| (*c, *on) == (canner, today)).all(|(.., error)| {
            // Whole psi added, tenths read high.
            f64::from(*error) / 10.0 > f64::from(put.added)
        })
    });
    all_bad.then_some(!put.canner.is_empty())
}

fn table(gauge: Gauge, feet: i32) -> Option<i32> {
    match (gauge, feet) {
        (_, 8_001..) => None,
        (Gauge::Dial, ..=2_000) => Some(11),
        (Gauge::Dial, ..=4_000) => Some(12),
        (Gauge::Dial, ..=6_000) => Some(13),
        (Gauge::Dial, _) => Some(14),
        (Gauge::Weighted, ..=1_000) => Some(10),
        (Gauge::Weighted, _) => Some(15),
    }
}

fn by_altitude(put: &Put, used: i32, kitchen: &str, really: i32) -> Says {
    let same = put.kitchen.is_empty() || put.kitchen == kitchen;
    if put.feet != used || !same {
        return None;
    }
    let had = table(put.gauge, put.feet).unwrap();
    let short = table(put.gauge, really).is_none_or(|needed| needed > had);
    short.then_some(put.kitchen == kitchen)
}

/// Where the model says a jar is.
fn place(jar: (Seal, Option<Taken>)) -> Where {
    match jar {
        (Seal::Broken, _) => Where::Gone,
        (Seal::NotSealed, _) | (Seal::Sealed, None) => Where::Here,
        (Seal::Sealed, Some(Taken::Eaten)) => Where::Eaten,
        (Seal::Sealed, Some(Taken::Given)) => Where::Given,
        (Seal::Sealed, Some(_)) => Where::Gone,
    }
}

fn agrees(archive: &Archive, puts: &[Put], suspect: &Suspect, model: impl Fn(&Put) -> Says) {
    let found = touched(archive, suspect);
    let mut expected: Vec<Listed> = Vec::new();
    for put in puts.iter().filter(|put| put.finished) {
        if let Some(sure) = model(put) {
            let jars = (1..).zip(put.jars.iter().map(|jar| place(*jar))).collect();
            expected.push((put.load(), sure, jars));
        }
    }
    let mut said: Vec<_> =
        found.loads.iter().map(|load| (load.load, load.sure, load.jars.clone())).collect();
    said.sort_by_key(|(load, ..)| *load);
    assert_eq!(said, expected, "{suspect:?}");
    let dates: Vec<_> = found.loads.iter().map(|load| load.canned).collect();
    assert!(dates.is_sorted());
}

#[test]
fn a_load_on_the_old_setting_after_a_bad_check_is_touched() {
    // USDA, Home Canning of Meat and Poultry, gage adjustments: reads high by n, add n.
    let on = |number, day, added| Put { canner: "Big one", added, ..Put::plain(number, day, 3) };
    let puts = [on(1, 4, 0), on(2, 6, 0), on(3, 7, 2), on(4, 9, 0)];
    // 1.5 psi high at noon of day 5; a new dial read true on day 8.
    let mut events = household(&[(0, 5, 15), (0, 8, 0)]);
    events.extend(puts.iter().flat_map(Put::events));
    let archive = Archive::from_events(events);
    let bad = findings(&archive)[0].event;
    let found = touched(&archive, &Suspect::Gauge(bad));
    let loads: Vec<_> = found.loads.iter().map(|one| (one.load, one.sure)).collect();
    assert_eq!(loads, [(puts[0].load(), true), (puts[1].load(), true)]);
}

proptest! {
    #[test]
    fn a_doubt_finds_exactly_the_jars_it_touches(
        (puts, checks) in any_pantry(),
        kitchen in 0..3_usize, used in 0..4_usize, really in 0_i32..9_000, lids in 0..3_usize,
        one in any::<proptest::sample::Index>(),
    ) {
        let mut events = household(&checks);
        events.extend(puts.iter().flat_map(Put::events));
        let archive = Archive::from_events(events);
        let all = findings(&archive);
        prop_assert_eq!(all.len(), checks.iter().filter(|(.., error)| *error > 0).count());
        for finding in &all {
            let bad = checks.iter().copied().find(|(canner, on, error)| {
                finding.canner == name(4, u32::try_from(*canner).unwrap())
                    && finding.at == day(*on).plus(Span::hours(12)) && finding.high == *error
            });
            let bad = bad.unwrap();
            prop_assert_eq!(finding.name.as_str(), CANNERS[bad.0]);
            agrees(&archive, &puts, &Suspect::Gauge(finding.event), |put| {
                by_gauge(put, &checks, bad)
            });
        }
        let (height, town) = (HEIGHTS[used], KITCHENS[kitchen]);
        let altitude = |feet| Altitude::from_feet(feet).unwrap();
        let at = Suspect::Altitude {
            used: altitude(height), place: Some(text(town)), really: altitude(really),
        };
        agrees(&archive, &puts, &at, |put| by_altitude(put, height, town, really));
        let anywhere =
            Suspect::Altitude { used: altitude(height), place: None, really: altitude(really) };
        agrees(&archive, &puts, &anywhere, |put| by_altitude(put, height, put.kitchen, really));
        let lot = LIDS[lids];
        agrees(&archive, &puts, &Suspect::Lids(text(lot)), |put| {
            put.lids.eq_ignore_ascii_case(lot).then_some(true)
        });
        let one = one.get(&puts);
        agrees(&archive, &puts, &Suspect::Dip(one.batch(), one.load()), |put| {
            (put.number == one.number).then_some(true)
        });
        agrees(&archive, &puts, &Suspect::Batch(one.batch()), |put| {
            (put.number == one.number).then_some(true)
        });
    }

    #[test]
    fn held_jars_stay_until_the_doubt_is_lifted((puts, _) in any_pantry(), lids in 0..3_usize) {
        let mut archive = pantry::archive(&puts);
        let before = archive.clone();
        let found = touched(&archive, &Suspect::Lids(text(LIDS[lids])));
        let mark = Mark {
            doubt: name(8, 1), cause: Cause::LidLot, say: text("Lids lift"), verdict: Verdict::Held,
        };
        let mut next = 0;
        let later = day(90);
        act(&mut archive, later, &mut next, hold(&found, &mark));
        for (batch, load) in archive.loads() {
            let listed = found.loads.iter().any(|one| one.load == load.id);
            for jar in &load.jars {
                prop_assert_eq!(jar.held && jar.in_house(), listed && jar.in_house());
                let take = |how| Body::JarTaken { load: load.id, jar: jar.number, how };
                let draft = |how| archive.draft(batch.id, later, [(name(9, 999), take(how))]);
                if jar.held {
                    prop_assert_eq!(draft(Taken::Eaten).unwrap_err(), Refused::Held);
                    prop_assert_eq!(draft(Taken::Given).unwrap_err(), Refused::Held);
                }
            }
        }
        let book = doubts(&archive);
        prop_assert_eq!(book.len(), usize::from(found.count(Where::Here) > 0));
        let Some(kept) = book.first() else { return Ok(()) };
        prop_assert_eq!(kept.held.len(), found.count(Where::Here));
        // Eaten or given before: those of the loads that still have jars here.
        let here: Vec<Id> = kept.held.iter().map(|(_, load, _)| *load).collect();
        let gone = found.loads.iter().filter(|one| here.contains(&one.load)).flat_map(|one| &one.jars);
        let eaten = gone.filter(|(_, now)| matches!(now, Where::Eaten | Where::Given)).count();
        prop_assert_eq!((kept.before.len(), kept.since.len()), (eaten, 0));
        // A phone that has not heard of it eats one: since, in whatever order it came.
        let sealed = |(batch, load, jar): &&(Id, Id, u16)| {
            let load = before.batch(*batch).unwrap().load(*load).unwrap();
            matches!(load.jar(*jar).unwrap().state, JarState::Sealed(_))
        };
        let to_eat = kept.held.iter().find(sealed).copied();
        for (notes, (batch, load, jar)) in (0..2).zip(to_eat.into_iter().cycle()) {
            let mut other = before.clone();
            let eat = Body::JarTaken { load, jar, how: Taken::Eaten };
            let note = Body::Noted { load: None, text: text("Soup") };
            let bodies = (0..notes).map(|_| note.clone()).chain([eat]);
            let mut after = archive.clone();
            for (body, number) in bodies.zip(900..) {
                let drafted = other.draft(batch, later.plus(Span(1)), [(name(9, number), body)]);
                other.extend(drafted.unwrap());
            }
            after.extend(other.all_events().cloned().collect::<Vec<_>>());
            let told = &doubts(&after)[0];
            prop_assert_eq!(&told.since, &vec![(batch, load, jar)]);
            prop_assert_eq!(told.held.len() + 1, kept.held.len());
            prop_assert_eq!(told.before.len(), kept.before.len());
        }
        // Thrown out: nothing is left to hold, and nothing else has changed.
        let mut thrown = archive.clone();
        act(&mut thrown, later, &mut next, discard(kept));
        prop_assert!(doubts(&thrown)[0].held.is_empty());
        prop_assert_eq!(doubts(&thrown)[0].discarded.len(), kept.held.len());
        for (batch, load) in thrown.loads() {
            let old = before.batch(batch.id).unwrap().load(load.id).unwrap();
            for (jar, was) in load.jars.iter().zip(&old.jars) {
                let out = kept.held.contains(&(batch.id, load.id, jar.number));
                prop_assert_eq!(jar.state != was.state, out);
            }
        }
        // Lifted: all is as before.
        let lifted = lift(&archive, name(8, 1), &text("New lids"));
        act(&mut archive, later, &mut next, lifted);
        prop_assert!(archive.loads().iter().all(|(_, load)| load.jars.iter().all(|jar| !jar.held)));
        prop_assert_eq!(doubts(&archive)[0].lifted.clone().unwrap().1, text("New lids"));
        for (batch, load) in archive.loads() {
            prop_assert_eq!(&load.jars, &before.batch(batch.id).unwrap().load(load.id).unwrap().jars);
        }
        // A doubt that is not open cannot be lifted.
        let again = lift(&archive, name(8, 1), &Text::default());
        prop_assert!(again.is_empty());
    }
}
