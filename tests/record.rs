//! The record: events, fold, merge.
//!
//! The laws of merging (idempotent, commutative, associative) are those of a
//! grow-only set, as in Shapiro et al., Conflict-free Replicated Data Types, 2011,
//! from memory.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::{any_body, any_event, any_events, id, plan, start};
use hearthjar::batch::{
    Archive, Batch, Body, Event, EventError, Id, Inserted, JarState, MAX_EVENT_BYTES, Refused,
    Seal, Settled, Taken,
};
use hearthjar::run::{StageKind, Step};
use hearthjar::shelf::lots;
use hearthjar::units::{EpochMs, Minutes, PsiGauge, Span};
use proptest::prelude::*;

fn merged(parts: &[&[Event]]) -> Archive {
    Archive::from_events(parts.iter().flat_map(|part| part.iter().cloned()))
}

fn states(archive: &Archive) -> Vec<Batch> {
    archive.batches().cloned().collect()
}

proptest! {
    #[test]
    fn an_event_survives_its_text(event in any_event()) {
        let again = Event::parse(event.text()).unwrap();
        prop_assert_eq!(&again, &event);
        prop_assert_eq!(again.body(), event.body());
        prop_assert_eq!((again.id(), again.batch(), again.seq(), again.at()),
            (event.id(), event.batch(), event.seq(), event.at()));
    }

    #[test]
    fn a_body_survives_its_text(body in any_body()) {
        let event = Event::new(id(1), id(2), 3, EpochMs(4), body.clone());
        let again = Event::parse(event.text()).unwrap();
        prop_assert_eq!(again.body(), Some(&body));
    }

    #[test]
    fn merging_is_the_union_of_sets(a in any_events(), b in any_events(), c in any_events()) {
        let all = merged(&[&a, &b, &c]);
        for other in [merged(&[&c, &b, &a]), merged(&[&b, &a, &c, &a, &b])] {
            prop_assert!(all == other, "order or repetition changed the archive");
            prop_assert_eq!(states(&all), states(&other));
        }
        // Phones that exchange their archives, not their histories.
        let ab: Vec<Event> = merged(&[&a, &b]).all_events().cloned().collect();
        let bc: Vec<Event> = merged(&[&b, &c]).all_events().cloned().collect();
        let left = merged(&[&ab, &c]);
        let right = merged(&[&a, &bc]);
        prop_assert!(left == right && left == all);
        prop_assert_eq!(states(&left), states(&right));
    }

    #[test]
    fn one_at_a_time_or_all_at_once(events in any_events()) {
        let at_once = Archive::from_events(events.clone());
        let mut singly = Archive::new();
        for event in events.iter().rev() {
            singly.insert(event.clone());
            prop_assert_eq!(singly.insert(event.clone()), Inserted::Same);
        }
        prop_assert!(at_once == singly);
        prop_assert_eq!(states(&at_once), states(&singly));
        prop_assert_eq!(at_once.household(), singly.household());
    }

    #[test]
    fn taking_out_what_was_added_restores(a in any_events(), b in any_events()) {
        let before = Archive::from_events(a.clone());
        // Only events of new names: another text of an old name is another matter.
        let new: Vec<Event> = Archive::from_events(b).all_events()
            .filter(|event| !a.iter().any(|old| old.id() == event.id())).cloned().collect();
        let names: Vec<(Id, Id)> = new.iter().map(|event| (event.batch(), event.id())).collect();
        let mut after = before.clone();
        after.extend(new);
        after.remove(&names);
        prop_assert!(before == after);
        prop_assert_eq!(states(&before), states(&after));
    }

    #[test]
    fn a_draft_that_is_taken_fits_and_a_refused_one_changes_nothing(
        events in any_events(), body in any_body(), at in 0_i64..1_000_000,
    ) {
        let archive = Archive::from_events(events);
        let batch = id(100);
        let name = id(200);
        let drafted = archive.draft(batch, EpochMs(1_765_000_000_000 + at), [(name, body)]);
        if let Ok(drafted) = drafted {
            let mut after = archive.clone();
            after.extend(drafted);
            let state = after.batch(batch).unwrap();
            prop_assert!(!state.refused.iter().any(|(refused, _)| *refused == name));
        }
    }

    #[test]
    fn no_record_ever_shelves_a_load_without_its_full_time(events in any_events()) {
        let archive = Archive::from_events(events);
        for lot in lots(&archive, "") {
            let load = archive.batch(lot.batch).unwrap().load(lot.load).unwrap();
            let (from, to) = load.run.told_hold().unwrap();
            prop_assert!(to.since(from) >= Span::minutes(100));
            prop_assert!(load.run.is_processed() || lot.held == lot.jars);
        }
    }
}

/// A batch with one load of three jars, taken to the rest.
struct Kitchen {
    archive: Archive,
    batch: Id,
    load: Id,
    at: EpochMs,
    next: u8,
}

impl Kitchen {
    fn new() -> Self {
        let mut kitchen = Self {
            archive: Archive::new(),
            batch: id(100),
            load: id(2),
            at: EpochMs(1_764_000_000_000),
            next: 1,
        };
        kitchen.act(0, Body::BatchStarted(start())).unwrap();
        kitchen.load = kitchen.act(0, Body::LoadPlanned(plan(3))).unwrap();
        kitchen
    }

    fn act(&mut self, minutes: i64, body: Body) -> Result<Id, Refused> {
        self.at = self.at.plus(Span::minutes(minutes));
        let name = id(self.next);
        self.next += 1;
        let drafted = self.archive.draft(self.batch, self.at, [(name, body)])?;
        self.archive.extend(drafted);
        Ok(name)
    }

    fn step(&mut self, minutes: i64, step: Step) -> Result<Id, Refused> {
        let load = self.load;
        self.act(minutes, Body::Ran { load, step })
    }

    fn rested(mut self) -> Self {
        for (minutes, step) in [
            (5, Step::HeatOn),
            (15, Step::SteamSteady),
            (10, Step::VentClosed),
            (4, Step::AtPressure),
            (100, Step::HeatOff),
            (40, Step::WeightOff),
            (10, Step::LidOpened),
            (2, Step::Unloaded),
        ] {
            self.step(minutes, step).unwrap();
        }
        self
    }

    fn jar(&self, number: u16) -> JarState {
        let batch = self.archive.batch(self.batch).unwrap();
        batch.load(self.load).unwrap().jar(number).unwrap().state
    }
}

#[test]
fn a_load_from_planning_to_an_empty_shelf() {
    let mut kitchen = Kitchen::new();
    let load = kitchen.load;
    let check = |jar, seal| Body::SealChecked { load, jar, seal };
    assert_eq!(kitchen.act(0, check(1, Seal::Sealed)), Err(Refused::NotProcessed));
    kitchen = kitchen.rested();
    assert_eq!(kitchen.act(0, Body::JarsCounted { load, jars: 4 }), Err(Refused::JarCount));
    kitchen.act(720, check(1, Seal::Sealed)).unwrap();
    kitchen.act(0, check(2, Seal::NotSealed)).unwrap();
    kitchen.act(0, check(3, Seal::Broken)).unwrap();
    assert_eq!(kitchen.act(0, check(4, Seal::Sealed)), Err(Refused::NoJar));
    assert_eq!(kitchen.act(0, check(0, Seal::Sealed)), Err(Refused::NoJar));
    // Guide 1, p. 1-26: an unsealed jar is dealt with within 24 h of processing.
    let state = kitchen.archive.batch(kitchen.batch).unwrap().load(load).unwrap();
    let (_, end) = state.run.full_hold().unwrap();
    assert_eq!(state.unsealed_deadline(), Some(end.plus(Span::hours(24))));
    assert_eq!((state.sealed(), state.unsettled(), state.unchecked()), (1, 1, 0));
    let settle = |jar| Body::UnsealedSettled { load, jar, way: Settled::Frozen };
    assert_eq!(kitchen.act(0, settle(1)), Err(Refused::JarState));
    kitchen.act(0, settle(2)).unwrap();
    assert_eq!(lots(&kitchen.archive, "TROUT pint")[0].jars, [1]);
    assert!(lots(&kitchen.archive, "venison").is_empty());
    let take = |jar| Body::JarTaken { load, jar, how: Taken::Eaten };
    assert_eq!(kitchen.act(0, take(2)), Err(Refused::JarState));
    let eaten = kitchen.act(0, take(1)).unwrap();
    assert!(lots(&kitchen.archive, "").is_empty());
    assert_eq!(kitchen.act(0, check(1, Seal::NotSealed)), Err(Refused::JarState));
    // Undo, and undo of the undo.
    let undo = kitchen.act(0, Body::Undone { event: eaten }).unwrap();
    assert_eq!(lots(&kitchen.archive, "")[0].jars, [1]);
    kitchen.act(0, Body::Undone { event: undo }).unwrap();
    assert!(lots(&kitchen.archive, "").is_empty());
}

#[test]
fn an_undone_step_never_leaves_a_shorter_hold_behind() {
    let mut kitchen = Kitchen::new();
    for (minutes, step) in
        [(5, Step::HeatOn), (15, Step::SteamSteady), (10, Step::VentClosed), (4, Step::AtPressure)]
    {
        kitchen.step(minutes, step).unwrap();
    }
    let again = kitchen.step(60, Step::Dropped(hearthjar::run::DropCause::Unsure)).unwrap();
    let pressure = kitchen.step(5, Step::AtPressure).unwrap();
    kitchen.step(100, Step::HeatOff).unwrap();
    // Taking back the second start leaves a heat-off that does not fit.
    kitchen.act(0, Body::Undone { event: pressure }).unwrap();
    let batch = kitchen.archive.batch(kitchen.batch).unwrap();
    assert!(!batch.load(kitchen.load).unwrap().run.is_processed());
    assert_eq!(batch.refused.len(), 1);
    // Taking back a mistaken drop joins the hold again: 165 min in one piece.
    let mut other = Archive::from_events(kitchen.archive.all_events().cloned());
    let drafted = other.draft(kitchen.batch, kitchen.at, [(id(90), Body::Undone { event: again })]);
    other.extend(drafted.unwrap());
    let load = other.batch(kitchen.batch).unwrap().load(kitchen.load).unwrap();
    assert_eq!(load.run.full_hold().map(|(a, b)| b.since(a)), Some(Span::minutes(165)));
}

#[test]
fn a_forged_plan_is_held_to_the_table() {
    // Guide 5, pp. 5-10 and 5-11: no less than 100 min, 10 psi, 10 min venting.
    let mut short = plan(2);
    short.minutes = Minutes(5);
    short.vent = Minutes(0);
    short.pressure = PsiGauge::whole(3);
    let event = Event::new(id(1), id(100), 1, EpochMs(0), Body::LoadPlanned(short));
    let archive = Archive::from_events([event]);
    let run = &archive.batch(id(100)).unwrap().loads[0].run;
    assert_eq!(run.plan().hold, Minutes(100));
    assert_eq!(run.plan().vent, Minutes(10));
    assert_eq!(run.plan().pressure, PsiGauge::whole(10));
    assert_eq!(run.stage().kind(), StageKind::Loading);
}

#[test]
fn two_phones_that_disagree_about_a_jar_agree_on_the_conflict() {
    let mut one = Kitchen::new().rested();
    let load = one.load;
    let mut two = Kitchen { archive: one.archive.clone(), next: 60, ..Kitchen::new() };
    two.load = load;
    two.at = one.at.plus(Span::hours(-72)); // its clock is days behind
    one.act(720, Body::SealChecked { load, jar: 1, seal: Seal::Sealed }).unwrap();
    two.act(720, Body::SealChecked { load, jar: 1, seal: Seal::NotSealed }).unwrap();
    let ab = merged(&[
        &one.archive.all_events().cloned().collect::<Vec<_>>(),
        &two.archive.all_events().cloned().collect::<Vec<_>>(),
    ]);
    let ba = merged(&[
        &two.archive.all_events().cloned().collect::<Vec<_>>(),
        &one.archive.all_events().cloned().collect::<Vec<_>>(),
    ]);
    assert!(ab == ba);
    let batch = ab.batch(id(100)).unwrap();
    assert_eq!(batch, ba.batch(id(100)).unwrap());
    assert_eq!(batch.conflicts.len(), 1);
    assert_eq!(batch.conflicts[0].jar, 1);
    // The unsafe word stands; taking it back settles it.
    let (sealed, not) = batch.conflicts[0].events;
    let is_not = |id: &Id| {
        let mut events = ab.events(batch.id).iter();
        let open = Body::SealChecked { load, jar: 1, seal: Seal::NotSealed };
        events.any(|event| event.id() == *id && event.body() == Some(&open))
    };
    let not = [sealed, not].into_iter().find(is_not).unwrap();
    let mut later = Kitchen { archive: ab.clone(), next: 80, load, ..Kitchen::new() };
    later.at = one.at.plus(Span::hours(1));
    assert!(matches!(later.jar(1), JarState::NotSealed(_)));
    later.act(0, Body::Undone { event: not }).unwrap();
    assert!(matches!(later.jar(1), JarState::Sealed(_)));
    assert_eq!(later.archive.batch(id(100)).unwrap().conflicts, []);
}

#[test]
fn texts_that_are_no_events_are_errors() {
    let good = Event::new(id(1), id(2), 3, EpochMs(4), Body::Undone { event: id(5) });
    let text = good.text();
    assert!(Event::parse(text).is_ok());
    for (from, to) in [
        ("\"seq\":3", "\"seq\":-3"),
        ("\"seq\":3", "\"seq\":1000001"),
        ("\"seq\":3", "\"seq\":3.5"),
        ("\"at\":4", "\"at\":-1"),
        ("\"at\":4", "\"at\":8640000000000001"),
        ("\"at\":4", "\"at\":1e400"),
        ("\"at\":4", "\"when\":4"),
        ("\"id\":\"07", "\"id\":\"G7"),
        ("\"batch\":\"07", "\"batch\":\"7"),
    ] {
        assert!(text.contains(from), "{from}");
        assert_eq!(Event::parse(&text.replace(from, to)), Err(EventError::NoHead), "{to}");
    }
    for broken in ["", "[]", "\"x\"", "{", "nul", "{\"id\":}", "{}{}"] {
        assert!(Event::parse(broken).is_err(), "{broken}");
    }
    let deep = "[".repeat(100_000);
    assert_eq!(Event::parse(&deep), Err(EventError::TooLong));
    let nested = format!("{}{}", "[".repeat(1_000), "]".repeat(1_000));
    assert_eq!(Event::parse(&nested), Err(EventError::NotJson));
    let long =
        text.replace("\"at\":4", &format!("\"at\":4,\"x\":\"{}\"", "y".repeat(MAX_EVENT_BYTES)));
    assert_eq!(Event::parse(&long), Err(EventError::TooLong));
}

#[test]
fn a_jump_of_the_clock_cannot_be_taken_back() {
    let mut kitchen = Kitchen::new();
    for (minutes, step) in
        [(5, Step::HeatOn), (15, Step::SteamSteady), (10, Step::VentClosed), (4, Step::AtPressure)]
    {
        kitchen.step(minutes, step).unwrap();
    }
    let started = kitchen.archive.batch(kitchen.batch).unwrap().last;
    let jump = Step::ClockMoved { by: Span::minutes(90), page: hearthjar::run::Page::Hidden };
    let name = kitchen.step(90, jump).unwrap();
    // The undo on the screen is for the tap before it; a forged one does nothing.
    assert_eq!(kitchen.archive.batch(kitchen.batch).unwrap().last, started);
    kitchen.act(0, Body::Undone { event: name }).unwrap();
    assert!(kitchen.step(15, Step::HeatOff).is_err());
    assert!(kitchen.step(85, Step::HeatOff).is_ok());
}
