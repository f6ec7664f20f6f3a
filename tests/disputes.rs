//! Two phones that say different things: about a hold, and about the seal of a jar.
//!
//! One moment below the pressure and the full time starts over: USDA Complete Guide to
//! Home Canning, Guide 1, p. 1-22 (2015). An unsealed jar is refrigerated, frozen or run
//! again within 24 hours, or thrown out: p. 1-26. The full time of pints of fish, 100
//! min at 10 psi at sea level: Guide 5, pp. 5-10 and 5-11.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::{id, plan, start};
use hearthjar::batch::{Archive, Batch, Body, Event, JarState, Refused, Seal, Settled, Taken};
use hearthjar::doubt::{Suspect, Where, touched};
use hearthjar::exchange::preview;
use hearthjar::present::{Need, agenda, tap_name};
use hearthjar::run::{DropCause, Page, StageKind, Step, StopCause, Watch};
use hearthjar::shelf::lots;
use hearthjar::units::{EpochMs, PsiGauge, Span};
use proptest::prelude::*;

const BEGUN: EpochMs = EpochMs(1_764_000_000_000);
const BATCH: u8 = 100;
const LOAD: u8 = 2;
const ONE: u8 = 201;
const OTHER: u8 = 202;

/// An event by a phone: name, place in the record, minute of the day.
fn told(phone: u8, name: u8, seq: u32, minute: i64, body: Body) -> Event {
    let at = BEGUN.plus(Span::minutes(minute));
    Event::told_on(Some(id(phone)), id(name), id(BATCH), seq, at, body)
}

fn ran(phone: u8, name: u8, seq: u32, minute: i64, step: Step) -> Event {
    told(phone, name, seq, minute, Body::Ran { load: id(LOAD), step })
}

fn planned() -> Vec<Event> {
    vec![
        told(ONE, 1, 1, 0, Body::BatchStarted(start())),
        told(ONE, LOAD, 2, 0, Body::LoadPlanned(plan(3))),
    ]
}

fn steps(phone: u8, steps: &[(u8, u32, i64, Step)]) -> Vec<Event> {
    steps.iter().map(|(name, seq, minute, step)| ran(phone, *name, *seq, *minute, *step)).collect()
}

/// The first phone's own day: the hold begins at minute 30, breaks at 40, begins again
/// at 45 and is full at 145; then the jars come out.
fn own_day() -> Vec<Event> {
    let mut day = planned();
    day.extend(steps(
        ONE,
        &[
            (3, 3, 2, Step::HeatOn),
            (4, 4, 15, Step::SteamSteady),
            (5, 5, 26, Step::VentClosed),
            (6, 6, 30, Step::AtPressure),
            (7, 7, 40, Step::Dropped(DropCause::HeatTooLow)),
            (8, 8, 45, Step::AtPressure),
            (9, 9, 145, Step::HeatOff),
            (10, 10, 190, Step::WeightOff),
            (11, 11, 201, Step::LidOpened),
            (12, 12, 205, Step::Unloaded),
        ],
    ));
    let seal = Seal::Sealed;
    day.extend((1..=3).map(|jar| {
        let check = Body::SealChecked { load: id(LOAD), jar, seal };
        told(ONE, 12 + jar as u8, 12 + u32::from(jar), 940, check)
    }));
    day
}

fn batch(events: &[Event]) -> Batch {
    let forth = Archive::from_events(events.iter().cloned());
    let back = Archive::from_events(events.iter().rev().cloned());
    assert_eq!(forth.batch(id(BATCH)), back.batch(id(BATCH)));
    forth.batch(id(BATCH)).unwrap().clone()
}

fn archive(events: &[Event]) -> Archive {
    Archive::from_events(events.iter().cloned())
}

const BREAKS: [Step; 3] = [
    Step::Dropped(DropCause::FuelOut),
    Step::Stopped(StopCause::CannerFault),
    Step::Reading(PsiGauge::whole(9)),
];

#[test]
fn a_phones_own_restarts_dispute_nothing() {
    let batch = batch(&own_day());
    let load = batch.load(id(LOAD)).unwrap();
    assert_eq!(load.run.full_hold().map(|(a, b)| b.since(a)), Some(Span::minutes(100)));
    assert_eq!(load.broke, None);
}

#[test]
fn a_drop_ordered_before_the_hold_it_belongs_into_disputes_it() {
    // The other phone knew the record up to the first hold's start: its word takes the
    // place after that, before the second start, whichever name comes first there.
    for step in [BREAKS[0], BREAKS[2]] {
        for name in [0, 60] {
            let mut events = own_day();
            events.push(ran(OTHER, name, 7, 90, step));
            let batch = batch(&events);
            let load = batch.load(id(LOAD)).unwrap();
            assert!(load.is_disputed(), "{step:?}, {name}");
            assert_eq!(load.broke.map(|(event, _)| event), Some(id(name)));
            assert_eq!(load.run.full_hold(), None);
        }
    }
}

#[test]
fn the_mirror_a_drop_ordered_after_the_heat_is_off() {
    for step in BREAKS {
        let mut events = own_day();
        events.push(ran(OTHER, 60, 20, 90, step));
        assert!(batch(&events).load(id(LOAD)).unwrap().is_disputed(), "{step:?}");
    }
}

#[test]
fn what_lies_outside_the_hold_does_not_dispute_it() {
    // The drop that the first phone restarted for, told by both; and one of the end.
    for (seq, minute) in [(7, 40), (7, 45), (7, 146)] {
        let mut events = own_day();
        events.push(ran(OTHER, 60, seq, minute, BREAKS[0]));
        let batch = batch(&events);
        assert!(batch.load(id(LOAD)).unwrap().run.is_processed(), "{seq}, {minute}");
    }
}

#[test]
fn a_drop_within_a_hold_that_still_runs_is_told_at_once() {
    let mut events = own_day();
    events.truncate(8);
    events.push(ran(OTHER, 60, 7, 90, BREAKS[0]));
    let batch = batch(&events);
    let load = batch.load(id(LOAD)).unwrap();
    assert_eq!(load.run.stage().kind(), StageKind::Holding);
    assert_eq!(load.broke, Some((id(60), BEGUN.plus(Span::minutes(90)))));
    // Started over by the person, nothing is against the new hold.
    events.push(ran(ONE, 61, 20, 95, Step::Dropped(DropCause::Unsure)));
    events.push(ran(ONE, 62, 21, 96, Step::AtPressure));
    events.push(ran(ONE, 63, 22, 196, Step::HeatOff));
    assert!(self::batch(&events).load(id(LOAD)).unwrap().run.is_processed());
}

#[test]
fn whoever_only_looks_on_can_break_a_hold_that_still_runs_and_the_own_restarts_cannot() {
    let broke = |events: &[Event]| batch(events).load(id(LOAD)).unwrap().broke;
    let mut events = own_day();
    events.truncate(8);
    // The other phone knows of the hold from when it came there, and saw it fall.
    let by = Span::minutes(5);
    events.push(ran(OTHER, 59, 9, 80, Step::ClockMoved { by, page: Page::Elsewhere }));
    assert_eq!(broke(&events), None);
    events.push(ran(OTHER, 60, 7, 90, BREAKS[0]));
    assert_eq!(broke(&events), Some((id(60), BEGUN.plus(Span::minutes(90)))));
    // A drop told of the very moment the hold began is the one before it.
    let mut events = own_day();
    events.truncate(8);
    events.push(ran(OTHER, 60, 7, 45, BREAKS[0]));
    assert_eq!(broke(&events), None);
    // The own drop before the hold, by a clock that was set back in between.
    let mut events = own_day();
    events.truncate(8);
    events.retain(|event| event.id() != id(7));
    events.push(ran(ONE, 7, 7, 50, BREAKS[0]));
    assert_eq!(broke(&events), None);
}

#[test]
fn jars_of_a_disputed_load_stay_in_sight_and_uneaten() {
    let mut events = own_day();
    let drop = ran(OTHER, 60, 7, 90, BREAKS[0]);
    let before = archive(&events);
    assert_eq!(preview(&before, vec![drop.clone()]).batches[0].disputed, [1]);
    let other = Body::SealChecked { load: id(LOAD), jar: 1, seal: Seal::NotSealed };
    let found = preview(&before, vec![told(OTHER, 90, 40, 950, other)]);
    assert_eq!((found.intake.count, &found.batches[0].disputed[..]), (1, &[][..]));
    events.push(drop);
    let archive = archive(&events);
    let lot = lots(&archive, "").remove(0);
    assert_eq!((lot.jars.as_slice(), lot.held), (&[1, 2, 3][..], vec![1, 2, 3]));
    let now = BEGUN.plus(Span::hours(48));
    assert_eq!(
        agenda(&archive, now).iter().map(|due| due.need).collect::<Vec<_>>(),
        [Need::Disputed]
    );
    let found = touched(&archive, &Suspect::Batch(id(BATCH)));
    assert_eq!(found.count(Where::Held), 3);
    let take = |how| {
        archive.draft(id(BATCH), now, [(id(70), Body::JarTaken { load: id(LOAD), jar: 1, how })])
    };
    for how in [Taken::Eaten, Taken::Given] {
        assert_eq!(take(how), Err(Refused::Held));
    }
    for how in [Taken::Spoiled, Taken::LostSeal] {
        assert!(take(how).is_ok());
    }
    // Taken back where it was a mistake, the jars are free on every phone.
    events.push(told(OTHER, 71, 30, 2000, Body::Undone { event: id(60) }));
    let settled = self::archive(&events);
    assert!(lots(&settled, "")[0].held.is_empty());
    assert!(agenda(&settled, now).is_empty());
}

#[test]
fn a_jar_eaten_before_the_dispute_was_known_stays_eaten() {
    let mut events = own_day();
    let how = Taken::Eaten;
    events.push(told(ONE, 70, 16, 2000, Body::JarTaken { load: id(LOAD), jar: 1, how }));
    events.push(ran(OTHER, 60, 7, 90, BREAKS[0]));
    let archive = archive(&events);
    assert_eq!(lots(&archive, "")[0].jars, [2, 3]);
    assert_eq!(touched(&archive, &Suspect::Batch(id(BATCH))).count(Where::Eaten), 1);
}

#[test]
fn a_seal_in_dispute_counts_as_not_sealed_until_settled() {
    let check = |seal| Body::SealChecked { load: id(LOAD), jar: 1, seal };
    for (seq, name) in [(16, 70), (200, 70), (12, 70)] {
        let mut events = own_day();
        events.retain(|event| event.id() != id(13));
        events.push(told(ONE, 13, 13, 940, check(Seal::NotSealed)));
        events.push(told(OTHER, name, seq.max(13), 941, check(Seal::Sealed)));
        let found = batch(&events);
        let jar = found.load(id(LOAD)).unwrap().jar(1).unwrap().state;
        assert!(matches!(jar, JarState::NotSealed(_)), "{jar:?}");
        assert_eq!(found.conflicts.len(), 1);
        // Whoever said it checks again and agrees: settled.
        events.push(told(ONE, 80, 201, 950, check(Seal::Sealed)));
        let found = batch(&events);
        let jar = found.load(id(LOAD)).unwrap().jar(1).unwrap().state;
        assert!(matches!(jar, JarState::Sealed(_)), "{jar:?}");
        assert_eq!(found.conflicts, []);
    }
}

fn seal() -> impl Strategy<Value = Seal> {
    (0..Seal::ALL.len()).prop_map(|i| Seal::ALL[i])
}

#[derive(Clone, Copy, Debug)]
enum Word {
    Seal(Seal),
    Settle(Settled),
    Take(Taken),
}

fn word() -> impl Strategy<Value = Word> {
    prop_oneof![
        4 => seal().prop_map(Word::Seal),
        1 => (0..Settled::ALL.len()).prop_map(|i| Word::Settle(Settled::ALL[i])),
        1 => (0..Taken::ALL.len()).prop_map(|i| Word::Take(Taken::ALL[i])),
    ]
}

proptest! {
    /// The law of seals against the words themselves, in the record's own order.
    #[test]
    fn the_unsafe_word_stands(words in proptest::collection::vec((0_usize..3, 17_u32..30, word()), 1..12)) {
        let phones = [ONE, OTHER, 203];
        let (load, jar) = (id(LOAD), 1);
        let body = |word| match word {
            Word::Seal(seal) => Body::SealChecked { load, jar, seal },
            Word::Settle(way) => Body::UnsealedSettled { load, jar, way },
            Word::Take(how) => Body::JarTaken { load, jar, how },
        };
        let mut events = own_day();
        events.retain(|event| event.id() != id(13));
        let mut said: Vec<Event> = words.iter().zip(30..).map(|((phone, seq, word), name)| {
            told(phones[*phone], name, *seq, 1000, body(*word))
        }).collect();
        said.sort();
        // A phone writes one event at one place of the record.
        let mut seen = Vec::new();
        said.retain(|event| {
            let place = (event.seq(), event.watch());
            let new = !seen.contains(&place);
            seen.push(place);
            new
        });
        let mut ended = false;
        let mut last: [Option<Seal>; 3] = [None; 3];
        for (place, event) in said.iter().enumerate() {
            events.push(event.clone());
            let found = batch(&events);
            let state = found.load(load).unwrap().jar(1).unwrap().state;
            prop_assert!(!(ended && matches!(state, JarState::Sealed(_))), "sealed again at {place}");
            ended |= matches!(state, JarState::Broken(_) | JarState::Settled(..) | JarState::Taken(..));
            let phone = phones.iter().position(|phone| event.watch() == Watch(Some(id(*phone).number())));
            match event.body() {
                Some(Body::SealChecked { seal, .. }) if !ended || *seal == Seal::Broken => {
                    last[phone.unwrap()] = Some(*seal);
                }
                _ => {}
            }
            if !ended {
                let open = last.contains(&Some(Seal::NotSealed));
                prop_assert_eq!(matches!(state, JarState::NotSealed(_)), open, "at {}", place);
                let both = open && last.contains(&Some(Seal::Sealed));
                prop_assert!(!both || !found.conflicts.is_empty());
            }
        }
    }
}

#[test]
fn a_jar_this_phone_called_broken_is_marked_again_by_taking_that_back() {
    let check = |seal| Body::SealChecked { load: id(LOAD), jar: 1, seal };
    let mut events = own_day();
    events.push(told(ONE, 70, 20, 950, check(Seal::Broken)));
    let mut here = archive(&events);
    here.set_here(id(ONE));
    let again = |here: &Archive| {
        let taps = here.seal_taps(id(BATCH), id(LOAD), 1, Seal::Sealed);
        here.draft(
            id(BATCH),
            BEGUN.plus(Span::hours(20)),
            taps.into_iter().zip(80..).map(|(b, n)| (id(n), b)).collect::<Vec<_>>(),
        )
    };
    assert_eq!(here.seal_taps(id(BATCH), id(LOAD), 1, Seal::Sealed).len(), 2);
    let drafted = again(&here).unwrap();
    let mut after = here.clone();
    after.extend(drafted);
    let state = |archive: &Archive| {
        archive.batch(id(BATCH)).unwrap().load(id(LOAD)).unwrap().jar(1).unwrap().state
    };
    assert!(matches!(state(&after), JarState::Sealed(_)));
    // Another phone's word is not taken back in passing.
    here.set_here(id(OTHER));
    assert_eq!(again(&here), Err(Refused::JarState));
}

#[test]
fn a_broken_jar_tapped_broken_again_takes_nothing_back() {
    let mut events = own_day();
    let check = Body::SealChecked { load: id(LOAD), jar: 1, seal: Seal::Broken };
    events.push(told(ONE, 70, 20, 950, check.clone()));
    let mut here = archive(&events);
    here.set_here(id(ONE));
    assert_eq!(here.seal_taps(id(BATCH), id(LOAD), 1, Seal::Broken), [check]);
}

#[test]
fn an_unsealed_jar_of_a_disputed_load_can_only_be_thrown_out() {
    let seal = Body::SealChecked { load: id(LOAD), jar: 1, seal: Seal::NotSealed };
    let mut events = own_day();
    events.push(told(ONE, 70, 20, 950, seal));
    let settle = |archive: &Archive, way| {
        let body = Body::UnsealedSettled { load: id(LOAD), jar: 1, way };
        archive.draft(id(BATCH), BEGUN.plus(Span::hours(20)), [(id(80), body)]).map(|_| ())
    };
    let free = archive(&events);
    events.push(ran(OTHER, 60, 7, 90, BREAKS[0]));
    let disputed = archive(&events);
    for &way in Settled::ALL {
        assert_eq!(settle(&free, way), Ok(()), "{way:?}");
        let held = if way == Settled::Discarded { Ok(()) } else { Err(Refused::Held) };
        assert_eq!(settle(&disputed, way), held, "{way:?}");
    }
}

#[test]
fn only_a_seal_told_of_a_broken_jar_is_a_conflict() {
    for (seal, conflicts) in [(Seal::Sealed, 1), (Seal::NotSealed, 0)] {
        let mut events = own_day();
        let check = |seal| Body::SealChecked { load: id(LOAD), jar: 1, seal };
        events.push(told(ONE, 70, 20, 950, check(Seal::Broken)));
        events.push(told(OTHER, 71, 21, 960, check(seal)));
        assert_eq!(batch(&events).conflicts.len(), conflicts, "{seal:?}");
    }
}

#[test]
fn of_two_phones_that_agree_the_later_time_stands() {
    let mut events = own_day();
    events.retain(|event| event.id() != id(13));
    let check = Body::SealChecked { load: id(LOAD), jar: 1, seal: Seal::NotSealed };
    events.push(told(ONE, 70, 20, 940, check.clone()));
    events.push(told(OTHER, 71, 21, 950, check));
    let found = batch(&events);
    let state = found.load(id(LOAD)).unwrap().jar(1).unwrap().state;
    assert_eq!(state, JarState::NotSealed(BEGUN.plus(Span::minutes(950))));
    assert_eq!(found.conflicts, []);
}

#[test]
fn checking_again_ends_only_the_conflicts_of_that_word() {
    const THIRD: u8 = 203;
    let check = |seal| Body::SealChecked { load: id(LOAD), jar: 1, seal };
    let mut events = own_day();
    events.retain(|event| event.id() != id(13));
    events.push(told(ONE, 70, 20, 940, check(Seal::Sealed)));
    events.push(told(OTHER, 71, 21, 941, check(Seal::NotSealed)));
    events.push(told(THIRD, 72, 22, 942, check(Seal::Sealed)));
    let between = |events: &[Event]| -> Vec<_> {
        batch(events).conflicts.iter().map(|conflict| conflict.events).collect()
    };
    assert_eq!(between(&events), [(id(70), id(71)), (id(71), id(72))]);
    events.push(told(THIRD, 73, 23, 943, check(Seal::NotSealed)));
    assert_eq!(between(&events), [(id(70), id(71)), (id(70), id(73))]);
}

#[test]
fn a_jar_taken_against_a_seal_stays_told_when_the_seal_is_checked_again() {
    let check = |seal| Body::SealChecked { load: id(LOAD), jar: 1, seal };
    let mut events = own_day();
    events.retain(|event| event.id() != id(13));
    events.push(told(ONE, 70, 20, 940, check(Seal::NotSealed)));
    let how = Taken::Eaten;
    events.push(told(OTHER, 71, 21, 941, Body::JarTaken { load: id(LOAD), jar: 1, how }));
    assert_eq!(batch(&events).conflicts.len(), 1);
    events.push(told(ONE, 72, 22, 942, check(Seal::Sealed)));
    assert_eq!(batch(&events).conflicts[0].events, (id(70), id(71)));
}

#[test]
fn words_without_a_phones_name_at_one_place_are_two_phones() {
    let nameless = |name, seq, seal| {
        let at = BEGUN.plus(Span::minutes(950));
        let check = Body::SealChecked { load: id(LOAD), jar: 1, seal };
        Event::told_on(None, id(name), id(BATCH), seq, at, check)
    };
    for (second, sealed, conflicts) in [(20, false, 1), (21, true, 0)] {
        let mut events = own_day();
        events.retain(|event| event.id() != id(13));
        events.push(nameless(70, 20, Seal::NotSealed));
        events.push(nameless(71, second, Seal::Sealed));
        let found = batch(&events);
        let jar = found.load(id(LOAD)).unwrap().jar(1).unwrap().state;
        assert_eq!(matches!(jar, JarState::Sealed(_)), sealed, "{jar:?}");
        assert_eq!(found.conflicts.len(), conflicts);
    }
}

#[test]
fn every_step_that_a_person_taps_has_a_name_of_its_own() {
    let load = id(LOAD);
    let steps = [
        Step::HeatOn,
        Step::SteamSteady,
        Step::SteamFaltered,
        Step::VentClosed,
        Step::AtPressure,
        BREAKS[2],
        Step::WeightSteady,
        BREAKS[0],
        Step::HeatOff,
        Step::WeightOff,
        Step::LidOpened,
        Step::Unloaded,
        Step::ClockRight,
        BREAKS[1],
    ];
    let mut names: Vec<String> =
        steps.iter().map(|step| tap_name(&Body::Ran { load, step: *step }).unwrap()).collect();
    names.sort();
    names.dedup();
    assert_eq!(names.len(), steps.len());
    assert!(names.iter().all(|name| !name.is_empty() && !name.contains("##")));
}

#[test]
fn a_hold_ended_by_a_phone_that_had_not_heard_of_its_break_stays_in_sight() {
    // Both phones saw the hold begin at 45; the other tells of the break at 90, and its
    // word stands before the heat's end at 145 in the record.
    for step in BREAKS {
        for (seq, name) in [(9, 0), (8, 60)] {
            let mut events = own_day();
            events.push(ran(OTHER, name, seq, 90, step));
            let found = batch(&events);
            let load = found.load(id(LOAD)).unwrap();
            assert!(load.is_disputed(), "{step:?}, {seq}");
            assert_eq!(load.broke.map(|(event, _)| event), Some(id(name)));
            assert_eq!((load.run.stage().kind(), load.sealed()), (StageKind::Resting, 3));
            assert_eq!(lots(&archive(&events), "")[0].held, [1, 2, 3]);
            // Nothing is left out of the count but what the undo brings back.
            events.push(told(ONE, 90, 50, 999, Body::Undone { event: id(name) }));
            assert!(batch(&events).load(id(LOAD)).unwrap().run.is_processed());
        }
    }
}

#[test]
fn nobody_ends_a_hold_that_is_not_full_by_the_own_clock() {
    let mut events = own_day();
    events.retain(|event| event.seq() < 9);
    events.push(ran(OTHER, 60, 9, 90, BREAKS[0]));
    for (minute, full) in [(144, false), (145, true)] {
        let mut events = events.clone();
        events.push(ran(ONE, 61, 10, minute, Step::HeatOff));
        let found = batch(&events);
        let load = found.load(id(LOAD)).unwrap();
        assert_eq!(load.is_disputed(), full, "{minute}");
        assert!(!load.run.is_processed());
    }
}

#[test]
fn clocks_days_apart_hide_no_break_that_the_order_shows() {
    for days in [-3, 3] {
        let mut events = own_day();
        events.push(ran(OTHER, 60, 8, 90 + days * 1440, BREAKS[0]));
        let found = batch(&events);
        let load = found.load(id(LOAD)).unwrap();
        assert!(load.is_disputed());
        assert_eq!(load.broke.map(|(event, _)| event), Some(id(60)));
        assert!(load.jars.iter().all(|jar| jar.held));
    }
}
