//! The archive's own part: which batch an event goes to, when a state is worked out
//! anew, what is taken out, whose clock a load is looked at by, and what the fold
//! counts and refuses on the way.
//!
//! Outside sources: USDA Complete Guide to Home Canning, Guide 1, p. 1-22 (2015), a
//! drop restarts the full time; Guide 5, pp. 5-10 and 5-11, 100 min at 10 psi.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::finished::processed;
use common::{id, plan, start};
use hearthjar::batch::{Archive, Body, CannerKept, Event, Id, Inserted, Load, Refused, Seal, Text};
use hearthjar::process::Gauge;
use hearthjar::run::{DropCause, StageKind, Step, StopCause};
use hearthjar::units::{EpochMs, PsiGauge, Span};

const AT: EpochMs = EpochMs(1_764_000_000_000);

fn note(batch: u8, name: u8, seq: u32, words: &str) -> Event {
    let text = Text::new(words).unwrap();
    Event::new(id(name), id(batch), seq, AT, Body::Noted { load: None, text })
}

fn canner(name: u8, seq: u32) -> Event {
    let kept = CannerKept {
        canner: id(name),
        name: Text::new("Blue one").unwrap(),
        gauge: Gauge::Dial,
        quarts: 16,
        notes: Text::default(),
        gone: false,
    };
    Event::new(id(name), Id::HOUSEHOLD, seq, AT, Body::CannerKept(kept))
}

fn stamps(archive: &Archive) -> Vec<(Id, u64)> {
    archive.stamped().map(|(stamp, batch)| (batch.id, stamp)).collect()
}

#[test]
fn a_batch_has_another_stamp_exactly_when_it_has_changed() {
    let first = [note(100, 1, 1, "a"), note(101, 2, 1, "b"), canner(3, 1)];
    let mut archive = Archive::from_events(first.clone());
    let before = stamps(&archive);
    // The household's log is no batch.
    assert_eq!(before.iter().map(|(batch, _)| *batch).collect::<Vec<_>>(), [id(100), id(101)]);
    assert_ne!(before[0].1, before[1].1);
    // One by one they bear the same stamps; what is not here bears none.
    for (batch, stamp) in &before {
        assert_eq!(archive.stamp(*batch), *stamp);
    }
    assert_eq!(archive.stamp(id(102)), 0);
    // What is there already changes nothing, one by one or all at once.
    archive.extend(first.clone());
    for event in first {
        assert_eq!(archive.insert(event), Inserted::Same);
    }
    assert_eq!(stamps(&archive), before);
    // A new event changes its own batch and no other.
    assert_eq!(archive.insert(note(101, 4, 2, "c")), Inserted::New);
    let after = stamps(&archive);
    assert_eq!(after[0], before[0]);
    assert_ne!(after[1], before[1]);
    archive.extend([note(100, 5, 2, "d"), note(101, 6, 3, "e"), note(100, 7, 3, "f")]);
    let last = stamps(&archive);
    assert!(last.iter().zip(&after).all(|(one, other)| one.1 != other.1));
    assert_eq!(archive.batch(id(100)).unwrap().notes.len(), 3);
    // Another text of one event gives way or stands, by one rule on every phone.
    let other = note(101, 6, 3, "z");
    assert_eq!(archive.insert(other.clone()), Inserted::Settled);
    assert_eq!(archive.insert(note(101, 6, 3, "e")), Inserted::Same);
    assert_eq!(archive.events(id(101)).last(), Some(&other));
}

#[test]
fn events_stand_in_order_in_whatever_order_they_come() {
    let wanted =
        [note(100, 4, 1, "a"), note(100, 2, 2, "b"), note(100, 3, 2, "c"), note(100, 1, 3, "d")];
    for order in [[0, 1, 2, 3], [3, 2, 1, 0], [2, 0, 3, 1], [1, 3, 0, 2]] {
        let mut archive = Archive::new();
        for place in order {
            assert_eq!(archive.insert(wanted[place].clone()), Inserted::New);
            assert_eq!(archive.insert(wanted[place].clone()), Inserted::Same);
        }
        assert_eq!(archive.events(id(100)), wanted, "{order:?}");
        // One of them again at a later place, by a forged text: the greater text stands,
        // and in its place.
        assert_eq!(archive.insert(note(100, 2, 9, "b")), Inserted::Settled);
        let names: Vec<_> = archive.events(id(100)).iter().map(Event::id).collect();
        assert_eq!(names, [id(4), id(3), id(1), id(2)]);
        assert_eq!(archive.insert(wanted[1].clone()), Inserted::Same);
        assert_eq!(archive.events(id(100)).len(), 4);
    }
    // Alone in its batch, too.
    let mut archive = Archive::from_events([note(100, 1, 1, "a")]);
    assert_eq!(archive.insert(note(100, 1, 2, "a")), Inserted::Settled);
    assert_eq!(archive.events(id(100)), [note(100, 1, 2, "a")]);
}

#[test]
fn events_are_found_in_their_batch_and_taken_out_of_no_other() {
    // One name in two batches: names are unlike in truth, a forged file may say so.
    let events = [note(100, 1, 1, "a"), note(101, 1, 1, "b"), note(101, 2, 2, "c"), canner(3, 1)];
    let mut archive = Archive::from_events(events);
    assert!(archive.has(id(100), id(1)) && archive.has(id(101), id(2)));
    assert!(!archive.has(id(100), id(2)) && !archive.has(id(102), id(1)));
    // One event more or less, or another text of it, is another archive.
    let other = [note(100, 1, 1, "z"), note(101, 1, 1, "b"), note(101, 2, 2, "c"), canner(3, 1)];
    assert!(archive != Archive::from_events(other.clone()));
    assert!(archive != Archive::from_events(other.into_iter().skip(1)));
    assert!(archive != Archive::new() && Archive::new() == Archive::from_events([]));
    assert!(archive.batch(Id::HOUSEHOLD).is_none());
    assert_eq!(archive.household().canners.len(), 1);
    archive.remove(&[(id(101), id(1)), (id(100), id(2)), (id(101), id(9))]);
    assert!(archive.has(id(100), id(1)) && !archive.has(id(101), id(1)));
    assert_eq!(archive.batch(id(101)).unwrap().notes.len(), 1);
    // The last one gone, the batch is gone.
    archive.remove(&[(id(101), id(2)), (Id::HOUSEHOLD, id(3))]);
    assert_eq!(archive.batches().map(|batch| batch.id).collect::<Vec<_>>(), [id(100)]);
    assert!(archive.household().canners.is_empty());
    assert_eq!(archive.all_events().count(), 1);
}

#[test]
fn every_load_comes_with_its_batch() {
    let (mut archive, one) = processed(id(100), start(), 2, &[Seal::Sealed]);
    let (other, two) = processed(id(101), start(), 2, &[]);
    archive.extend(other.all_events().cloned());
    let loads: Vec<_> = archive.loads().iter().map(|(b, load)| (b.id, load.id)).collect();
    assert_eq!(loads, [(id(100), one), (id(101), two)]);
}

#[test]
fn a_load_is_looked_at_by_the_clock_of_the_phone_it_is_on() {
    let (ours, theirs) = (id(200), id(201));
    let tell = |name: u8, seq, minutes, step| {
        let body = Body::Ran { load: id(2), step };
        Event::told_on(Some(ours), id(name), id(100), seq, AT.plus(Span::minutes(minutes)), body)
    };
    let planned = Event::new(id(2), id(100), 1, AT, Body::LoadPlanned(plan(2)));
    let mut archive = Archive::from_events([planned, tell(3, 2, 0, Step::HeatOn)]);
    let seen = |archive: &Archive| archive.loads()[0].1.run.is_seen_here();
    assert!(!seen(&archive));
    archive.set_here(theirs);
    assert!(!seen(&archive));
    archive.set_here(ours);
    assert!(seen(&archive));
    // It stays so when more comes in.
    archive.insert(tell(4, 3, 15, Step::SteamSteady));
    assert!(seen(&archive));
    assert_eq!(archive.loads()[0].1.run.due(), Some(AT.plus(Span::minutes(25))));
    // What this phone adds of a run names it; a note does not.
    let text = Text::new("Steady").unwrap();
    let bodies = [
        (id(5), Body::Noted { load: None, text }),
        (id(6), Body::Ran { load: id(2), step: Step::VentClosed }),
    ];
    let drafted = archive.draft(id(100), AT.plus(Span::minutes(25)), bodies).unwrap();
    let said: Vec<_> = drafted.iter().map(|event| (event.seq(), event.watch().0)).collect();
    assert_eq!(said, [(4, None), (5, Some(ours.number()))]);
}

#[test]
fn what_is_shared_with_another_archive_is_looked_at_from_here() {
    let mut here = Archive::from_events([note(101, 9, 1, "b")]);
    here.set_here(id(200));
    let heat = Body::Ran { load: id(2), step: Step::HeatOn };
    let theirs = Archive::from_events([
        canner(8, 1),
        Event::new(id(2), id(100), 1, AT, Body::LoadPlanned(plan(2))),
        Event::told_on(Some(id(200)), id(3), id(100), 2, AT, heat),
    ]);
    let mut absorbed = here.clone();
    absorbed.absorb(&theirs);
    let mut union = here.clone();
    union.extend(theirs.all_events().cloned());
    assert!(absorbed == union);
    assert_eq!(absorbed.household().canners.len(), 1);
    assert_eq!(absorbed.household(), union.household());
    assert!(absorbed.batches().eq(union.batches()));
    let seen = |archive: &Archive| archive.loads()[0].1.run.is_seen_here();
    assert_eq!((seen(&theirs), seen(&absorbed)), (false, true));
    // Of one batch alone there is no canner, of the household alone no load.
    let (batch, household) = (theirs.only(id(100)), theirs.only(Id::HOUSEHOLD));
    assert_eq!((batch.loads().len(), batch.household()), (1, Archive::new().household()));
    assert_eq!((household.loads().len(), household.household()), (0, theirs.household()));
    // One alike is on the same phone.
    let mut alike = here.alike();
    alike.extend(theirs.all_events().cloned());
    assert!(seen(&alike));
}

#[test]
fn a_draft_for_the_household_is_not_judged_as_a_batch() {
    let archive = Archive::from_events([canner(3, 1)]);
    let Some(Body::CannerKept(kept)) = canner(4, 1).body().cloned() else { return };
    let drafted = archive.draft(Id::HOUSEHOLD, AT, [(id(4), Body::CannerKept(kept.clone()))]);
    assert_eq!(drafted.unwrap()[0].seq(), 2);
    let misplaced = archive.draft(id(100), AT, [(id(4), Body::CannerKept(kept))]);
    assert_eq!(misplaced, Err(Refused::Misplaced));
}

/// One batch, event after event.
struct Told {
    archive: Archive,
    seq: u32,
}

impl Told {
    fn new() -> Self {
        Self { archive: Archive::new(), seq: 0 }
    }

    fn say(&mut self, minutes: i64, body: Body) -> Id {
        self.seq += 1;
        let name = id(u8::try_from(self.seq).unwrap());
        let at = AT.plus(Span::minutes(minutes));
        self.archive.insert(Event::new(name, id(100), self.seq, at, body));
        name
    }

    fn load(&self, number: usize) -> &Load {
        &self.archive.batch(id(100)).unwrap().loads[number]
    }

    fn refused(&self) -> Vec<Refused> {
        let refused = &self.archive.batch(id(100)).unwrap().refused;
        refused.iter().map(|(_, why)| *why).collect()
    }

    fn last(&self) -> Option<Id> {
        self.archive.batch(id(100)).unwrap().last
    }
}

#[test]
fn a_load_has_one_to_sixty_jars_until_the_heat_is_on() {
    let mut told = Told::new();
    for jars in [0, 61] {
        told.say(0, Body::LoadPlanned(plan(jars)));
    }
    assert_eq!(told.refused(), [Refused::JarCount; 2]);
    let load = told.say(0, Body::LoadPlanned(plan(3)));
    let other = told.say(0, Body::LoadPlanned(plan(1)));
    told.say(0, Body::LoadPlanned(plan(60)));
    let numbers: Vec<_> = (0..3).map(|n| (told.load(n).number, told.load(n).jars.len())).collect();
    assert_eq!(numbers, [(1, 3), (2, 1), (3, 60)]);
    for (jars, fits) in [(0, false), (61, false), (60, true), (1, true), (5, true)] {
        let before = told.load(0).jars.len();
        told.say(1, Body::JarsCounted { load, jars });
        let now = told.load(0).jars.len();
        assert_eq!(now, if fits { usize::from(jars) } else { before }, "{jars}");
    }
    assert_eq!(told.load(0).jar(5).unwrap().number, 5);
    assert_eq!(told.refused(), [Refused::JarCount; 4]);
    told.say(2, Body::Ran { load, step: Step::HeatOn });
    told.say(3, Body::JarsCounted { load, jars: 4 });
    told.say(3, Body::JarsCounted { load: other, jars: 4 });
    told.say(3, Body::JarsCounted { load: id(99), jars: 4 });
    assert_eq!((told.load(0).jars.len(), told.load(1).jars.len()), (5, 4));
    assert_eq!(told.refused()[4..], [Refused::JarCount, Refused::NoLoad]);
}

#[test]
fn the_last_tap_is_the_one_that_counts_of_its_load_and_its_batch() {
    let mut told = Told::new();
    let load = told.say(0, Body::LoadPlanned(plan(2)));
    assert_eq!((told.load(0).last, told.last()), (None, Some(load)));
    let on = told.say(1, Body::Ran { load, step: Step::HeatOn });
    let other = told.say(1, Body::LoadPlanned(plan(2)));
    let text = Text::new("Hot").unwrap();
    let noted = told.say(2, Body::Noted { load: Some(load), text });
    assert_eq!((told.load(0).last, told.load(1).last, told.last()), (Some(on), None, Some(noted)));
    // What is refused is not the last tap; nor is an undo, nor what it takes back.
    told.say(2, Body::Ran { load, step: Step::HeatOff });
    assert_eq!((told.load(0).last, told.last()), (Some(on), Some(noted)));
    let counted = told.say(2, Body::JarsCounted { load: other, jars: 5 });
    assert_eq!((told.load(1).last, told.last()), (Some(counted), Some(counted)));
    told.say(3, Body::Undone { event: counted });
    assert_eq!((told.load(1).last, told.last()), (None, Some(noted)));
    assert_eq!(told.load(1).jars.len(), 2);
    // An undo of itself is none, and an undo of an undo brings the tap back.
    let name = id(u8::try_from(told.seq + 1).unwrap());
    let itself = told.say(3, Body::Undone { event: name });
    assert_eq!(itself, name);
    let undo = id(u8::try_from(told.seq - 1).unwrap());
    told.say(4, Body::Undone { event: undo });
    assert_eq!(told.load(1).jars.len(), 5);
    // Entries of a kind this build does not know are counted, one by one.
    for seq in [20, 21] {
        let text = format!(
            r#"{{"id":"{}","batch":"{}","seq":{seq},"at":5,"what":{{"kiln_fired":{{}}}}}}"#,
            id(seq),
            id(100)
        );
        told.archive.insert(Event::parse(&text).unwrap());
    }
    assert_eq!(told.archive.batch(id(100)).unwrap().unknown, 2);
}

#[test]
fn a_hold_counts_unless_another_phone_says_it_broke() {
    let reading = |tenths| Step::Reading(PsiGauge::from_tenths(tenths).unwrap());
    // Guide 5, p. 5-11: 10 psi on a weight at sea level; what is at 10 has not dropped.
    for (step, broke) in [
        (Step::Dropped(DropCause::FuelOut), true),
        (Step::Stopped(StopCause::CannerFault), true),
        (reading(99), true),
        (reading(100), false),
        (reading(101), false),
        (Step::WeightSteady, false),
        (Step::AtPressure, false),
    ] {
        let mut told = Told::new();
        let load = told.say(0, Body::LoadPlanned(plan(2)));
        let run = |step| Body::Ran { load, step };
        for (minute, step) in [
            (0, Step::HeatOn),
            (15, Step::SteamSteady),
            (25, Step::VentClosed),
            (30, Step::AtPressure),
        ] {
            told.say(minute, run(step));
        }
        // Before the heat is off the same words are a step of the run, or none.
        told.say(130, run(Step::HeatOff));
        let said = told.say(131, run(step));
        let found = told.load(0);
        assert_eq!(found.run.is_processed(), !broke, "{step:?}");
        assert_eq!(found.broke.map(|(event, _)| event), broke.then_some(said), "{step:?}");
        assert_eq!(found.is_disputed(), broke, "{step:?}");
        // The canner is hot all the same: its stages go on.
        assert_eq!(found.run.stage().kind(), StageKind::Falling, "{step:?}");
        // Refused all the same: whoever wrote it did not know of the heat's end.
        assert!(matches!(told.refused()[..], [Refused::Step(_)]), "{step:?}");
    }
    // A word that does not fit before there is a hold disputes nothing.
    let mut told = Told::new();
    let load = told.say(0, Body::LoadPlanned(plan(2)));
    told.say(0, Body::Ran { load, step: Step::HeatOn });
    told.say(1, Body::Ran { load, step: Step::Dropped(DropCause::Unsure) });
    assert_eq!(told.load(0).broke, None);
    assert_eq!(told.load(0).run.stage().kind(), StageKind::WarmUp);
}
