//! Three phones at one canner, each with a clock of its own, that hand each other
//! their records in any order.
//!
//! Laws: those of a grow-only set (Shapiro et al., Conflict-free Replicated Data
//! Types, 2011, from memory). The full time: USDA Complete Guide to Home Canning,
//! Guide 5, pp. 5-10 and 5-11 (2015), 100 min for pints of fish.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::{id, plan, start};
use hearthjar::batch::{
    Archive, Batch, Body, Event, Id, JarNumbers, Seal, ShelfEvent, Taken, Text,
};
use hearthjar::exchange::{preview, read, restore, write};
use hearthjar::run::{DropCause, Page, Stage, StageKind, Step, Watch};
use hearthjar::shelf::lots;
use hearthjar::units::{EpochMs, PsiGauge};
use proptest::prelude::*;

const MIN: i64 = 60_000;
const BEGUN: i64 = 1_764_000_000_000;
const HOLD: i64 = 100 * MIN;

/// A phone whose clock is off by a fixed amount.
struct Phone {
    name: Id,
    skew: i64,
    archive: Archive,
    backup: Vec<Event>,
}

/// The kitchen: true time, and three phones in it.
struct Kitchen {
    now: i64,
    phones: Vec<Phone>,
    next: u8,
    load: Id,
}

fn batch() -> Id {
    id(100)
}

fn phone_name(number: usize) -> Id {
    id(200 + u8::try_from(number).unwrap())
}

impl Kitchen {
    fn new(skews: [i64; 3]) -> Self {
        let phones = skews.into_iter().enumerate().map(|(number, skew)| {
            let mut archive = Archive::new();
            archive.set_here(phone_name(number));
            Phone { name: phone_name(number), skew, archive, backup: Vec::new() }
        });
        let mut kitchen = Self { now: BEGUN, phones: phones.collect(), next: 1, load: id(2) };
        kitchen.write(0, Body::BatchStarted(start()));
        kitchen.load = kitchen.write(0, Body::LoadPlanned(plan(3))).unwrap();
        for to in [1, 2] {
            kitchen.hand(0, to);
        }
        kitchen
    }

    fn write(&mut self, phone: usize, body: Body) -> Option<Id> {
        let name = id(self.next);
        self.next += 1;
        let at = EpochMs(self.now + self.phones[phone].skew);
        let archive = &mut self.phones[phone].archive;
        let drafted = archive.draft(batch(), at, [(name, body)]).ok()?;
        archive.extend(drafted);
        Some(name)
    }

    fn step(&mut self, phone: usize, step: Step) -> Option<Id> {
        self.write(phone, Body::Ran { load: self.load, step })
    }

    fn stage(&self, phone: usize) -> Stage {
        let batch = self.phones[phone].archive.batch(batch()).unwrap();
        batch.load(self.load).unwrap().run.stage()
    }

    /// One phone hands its whole record to another, as a file.
    fn hand(&mut self, from: usize, to: usize) {
        let file = write(self.phones[from].archive.all_events());
        let intake = preview(&self.phones[to].archive, read(&file).unwrap()).intake;
        self.phones[to].archive.extend(intake.add().cloned());
        self.note_elsewhere(to);
    }

    /// What the page does every second.
    fn note_elsewhere(&mut self, phone: usize) {
        let found = self.phones[phone].archive.batch(batch()).and_then(|b| b.load(self.load));
        let Some(run) = found.map(|load| load.run.clone()) else { return };
        if run.is_timed_for_safety() && !run.is_seen_here() {
            let now = EpochMs(self.now + self.phones[phone].skew);
            let by = now.since(run.stage().since().unwrap());
            self.step(phone, Step::ClockMoved { by, page: Page::Elsewhere });
        }
    }

    /// An honest answer to "have so many minutes really passed?"
    fn answer(&mut self, phone: usize) {
        let Some(since) = self.stage(phone).since() else { return };
        let said = self.phones[phone].archive.all_events();
        let watch = said
            .filter(|event| event.at() == since && matches!(event.body(), Some(Body::Ran { .. })))
            .map(Event::watch)
            .next();
        let own = self.phones.iter().find(|p| watch == Some(Watch(Some(p.name.number()))));
        let Some(skew) = own.map(|p| p.skew) else { return };
        let claimed = self.now + self.phones[phone].skew - since.0;
        let truly = self.now - (since.0 - skew);
        let right = claimed <= truly;
        self.step(phone, if right { Step::ClockRight } else { Step::ClockWrong });
    }

    fn all_hand_over(&mut self, order: &[(usize, usize)]) {
        for (from, to) in order {
            self.hand(*from, *to);
        }
        // Whatever happened, twice round brings everything to everyone.
        for _ in 0..2 {
            for (from, to) in [(0, 1), (1, 2), (2, 0), (0, 1), (1, 2)] {
                self.hand(from, to);
            }
        }
    }
}

/// The state as no phone in particular sees it.
fn state(events: impl IntoIterator<Item = Event>) -> Vec<Batch> {
    Archive::from_events(events).batches().cloned().collect()
}

fn own_events(phone: &Phone) -> Vec<Event> {
    phone.archive.all_events().cloned().collect()
}

#[derive(Clone, Debug)]
enum Act {
    Pass(i64),
    Forward,
    Drop,
    Low,
    Undo,
    Note,
    Check(u16, Seal),
    Take(u16, Taken),
    Move(u16),
    Hand(usize),
    Answer,
    Backup,
    Restore,
}

fn act() -> impl Strategy<Value = Act> {
    let seal = prop_oneof![Just(Seal::Sealed), Just(Seal::NotSealed)];
    let taken = prop_oneof![Just(Taken::Eaten), Just(Taken::Given), Just(Taken::Spoiled)];
    prop_oneof![
        5 => (0_i64..120 * MIN).prop_map(Act::Pass),
        9 => Just(Act::Forward),
        1 => Just(Act::Drop),
        1 => Just(Act::Low),
        1 => Just(Act::Undo),
        1 => Just(Act::Note),
        2 => (1_u16..4, seal).prop_map(|(jar, seal)| Act::Check(jar, seal)),
        1 => (1_u16..4, taken).prop_map(|(jar, how)| Act::Take(jar, how)),
        1 => (1_u16..4).prop_map(Act::Move),
        4 => (0_usize..3).prop_map(Act::Hand),
        2 => Just(Act::Answer),
        1 => Just(Act::Backup),
        1 => Just(Act::Restore),
    ]
}

fn forward(kind: StageKind) -> Option<Step> {
    Some(match kind {
        StageKind::Loading => Step::HeatOn,
        StageKind::WarmUp => Step::SteamSteady,
        StageKind::Venting => Step::VentClosed,
        StageKind::Rising => Step::AtPressure,
        StageKind::Holding => Step::HeatOff,
        StageKind::Falling => Step::WeightOff,
        StageKind::Standing => Step::LidOpened,
        StageKind::Unloading => Step::Unloaded,
        StageKind::Resting | StageKind::Stopped => return None,
    })
}

fn perform(kitchen: &mut Kitchen, phone: usize, act: Act) {
    let load = kitchen.load;
    match act {
        Act::Pass(ms) => kitchen.now += ms,
        Act::Forward => {
            if let Some(step) = forward(kitchen.stage(phone).kind()) {
                kitchen.step(phone, step);
            }
        }
        Act::Drop => {
            let _ = kitchen.step(phone, Step::Dropped(DropCause::Unsure));
        }
        Act::Low => {
            let _ = kitchen.step(phone, Step::Reading(PsiGauge::whole(8)));
        }
        Act::Undo => {
            let last = kitchen.phones[phone].archive.batch(batch()).and_then(|b| b.last);
            // The beginning and the plan stay, or there is nothing to look at.
            if let Some(event) = last.filter(|event| ![id(1), id(2)].contains(event)) {
                kitchen.write(phone, Body::Undone { event });
            }
        }
        Act::Note => {
            let text = Text::new("x").unwrap();
            let _ = kitchen.write(phone, Body::Noted { load: None, text });
        }
        Act::Check(jar, seal) => {
            let _ = kitchen.write(phone, Body::SealChecked { load, jar, seal });
        }
        Act::Take(jar, how) => {
            let _ = kitchen.write(phone, Body::JarTaken { load, jar, how });
        }
        Act::Move(jar) => {
            let jars = JarNumbers::new([jar]).unwrap();
            let place = Text::new(&format!("Shelf {phone}")).unwrap();
            let moved = ShelfEvent::JarsMoved { load, jars, place };
            let _ = kitchen.write(phone, Body::AtShelf(moved));
        }
        Act::Hand(to) => kitchen.hand(phone, to),
        Act::Answer => kitchen.answer(phone),
        Act::Backup => {
            kitchen.phones[phone].backup = own_events(&kitchen.phones[phone]);
        }
        Act::Restore => {
            let backup = kitchen.phones[phone].backup.clone();
            if !backup.is_empty() {
                let archive = &mut kitchen.phones[phone].archive;
                restore(archive, backup).swap.apply(archive);
                kitchen.note_elsewhere(phone);
            }
        }
    }
}

/// What another phone than the one that ended the hold tells of within it, by the
/// clocks' own words, in whatever place of the record.
fn within(events: &[Event], load: Id, hold: Option<(EpochMs, EpochMs)>) -> Option<Id> {
    let (from, to) = hold?;
    let ran = |event: &Event, is: fn(Step) -> bool| match event.body() {
        Some(Body::Ran { load: one, step }) => *one == load && is(*step),
        _ => false,
    };
    let ends = events.iter().filter(|event| ran(event, |step| step == Step::HeatOff));
    let own: Vec<Watch> = ends.filter(|event| event.at() == to).map(Event::watch).collect();
    let mut undone = Vec::new();
    for event in events.iter().rev() {
        if let Some(Body::Undone { event: target }) = event.body()
            && !undone.contains(&event.id())
        {
            undone.push(*target);
        }
    }
    let breaks = |step: Step| match step {
        Step::Dropped(_) | Step::Stopped(_) => true,
        Step::Reading(psi) => psi < PsiGauge::whole(10), // Guide 5, p. 5-11, sea level
        _ => false,
    };
    let told = events.iter().filter(|event| ran(event, breaks) && !undone.contains(&event.id()));
    told.filter(|event| !own.contains(&event.watch()))
        .find(|event| from < event.at() && event.at() <= to)
        .map(Event::id)
}

/// Clocks that are right to the minute, hours off, or days off.
fn skew() -> impl Strategy<Value = i64> {
    prop_oneof![-MIN..MIN, -8 * 60 * MIN..8 * 60 * MIN, -5 * 1440 * MIN..5 * 1440 * MIN]
}

/// A case is a whole canning day on three phones: few by default, more by
/// `PROPTEST_CASES`.
fn cases() -> ProptestConfig {
    let cases = std::env::var("PROPTEST_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(64);
    ProptestConfig { cases, ..ProptestConfig::default() }
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn in_any_order_all_end_equal_and_no_hold_is_short(
        skews in [skew(), skew(), skew()],
        acts in proptest::collection::vec((0_usize..3, act()), 10..90),
        order in proptest::collection::vec((0_usize..3, 0_usize..3), 0..8),
    ) {
        let mut kitchen = Kitchen::new(skews);
        for (phone, act) in acts {
            perform(&mut kitchen, phone, act);
        }
        let everything: Vec<Event> = kitchen.phones.iter().flat_map(own_events).collect();
        kitchen.all_hand_over(&order);
        // Phones may have noted a run that came to them; nothing else is new.
        let events = own_events(&kitchen.phones[0]);
        for phone in &kitchen.phones {
            prop_assert_eq!(&own_events(phone), &events);
        }
        for event in everything {
            prop_assert!(events.contains(&event), "an event was lost");
        }
        // The state is that of the set, in whatever order and however often it came.
        let mut backwards: Vec<Event> = events.iter().rev().cloned().collect();
        backwards.extend(events.iter().step_by(2).cloned());
        prop_assert_eq!(state(backwards), state(events.clone()));

        // Whoever turned the heat off had waited the full time, truly.
        let all = state(events.clone());
        let load = all[0].load(kitchen.load).unwrap();
        if let Some((_, end)) = load.run.full_hold() {
            let skew_of = |event: &Event| {
                let phone = kitchen.phones.iter();
                phone.clone().find(|p| event.watch() == Watch(Some(p.name.number()))).unwrap().skew
            };
            let told = |step: Step| {
                let load = kitchen.load;
                events.iter().filter(move |e| e.body() == Some(&Body::Ran { load, step }))
            };
            let ends = told(Step::HeatOff).filter(|event| event.at() == end);
            let truly: Vec<i64> = ends.map(|event| event.at().0 - skew_of(event)).collect();
            let begun = told(Step::AtPressure).map(|event| event.at().0 - skew_of(event));
            let begun: Vec<i64> = begun.collect();
            prop_assert!(
                truly.iter().any(|end| begun.iter().any(|begun| end - begun >= HOLD)),
                "held from {begun:?} to {truly:?}"
            );
            prop_assert_eq!(load.run.stopped(), None);
            prop_assert_eq!(within(&events, kitchen.load, load.run.full_hold()), None);
        } else {
            // Of a load that two phones disagree about every jar is held.
            for lot in lots(&Archive::from_events(events), "") {
                prop_assert!(load.is_disputed() && lot.held == lot.jars, "{lot:?}");
            }
        }
    }
}

/// A kitchen at the beginning of the hold, told by the first phone, known to all.
fn holding(skews: [i64; 3]) -> Kitchen {
    let mut kitchen = Kitchen::new(skews);
    for (minutes, step) in
        [(0, Step::HeatOn), (15, Step::SteamSteady), (10, Step::VentClosed), (5, Step::AtPressure)]
    {
        kitchen.now += minutes * MIN;
        kitchen.step(0, step).unwrap();
    }
    kitchen.hand(0, 1);
    kitchen.hand(0, 2);
    kitchen
}

#[test]
fn a_clock_two_days_ahead_ends_no_hold_early() {
    let mut kitchen = holding([0, 2 * 1440 * MIN, -2 * 1440 * MIN]);
    kitchen.now += 30 * MIN;
    for phone in [1, 2] {
        assert_eq!(kitchen.step(phone, Step::HeatOff), None, "phone {phone} was not there before");
    }
    // Asked, the person says no: the time on those phones counts from when it came.
    kitchen.answer(1);
    kitchen.now += 69 * MIN;
    assert_eq!(kitchen.step(0, Step::HeatOff), None);
    assert_eq!(kitchen.step(1, Step::HeatOff), None);
    kitchen.now += MIN;
    kitchen.step(0, Step::HeatOff).unwrap();
    kitchen.all_hand_over(&[(2, 0), (1, 0)]);
    for phone in 0..3 {
        assert_eq!(kitchen.stage(phone).kind(), StageKind::Falling);
    }
}

#[test]
fn two_that_saw_the_hold_begin_each_wait_by_their_own_clock() {
    // Neither knows of the other's tap; the names decide which counts as the first.
    for (first, second) in [(0, 1), (1, 0)] {
        let mut kitchen = Kitchen::new([0, 3 * 60 * MIN, 0]);
        for (minutes, step) in [(0, Step::HeatOn), (15, Step::SteamSteady), (10, Step::VentClosed)]
        {
            kitchen.now += minutes * MIN;
            kitchen.step(0, step).unwrap();
        }
        kitchen.now += 5 * MIN;
        kitchen.hand(0, 1);
        kitchen.step(first, Step::AtPressure).unwrap();
        kitchen.step(second, Step::AtPressure).unwrap();
        kitchen.now += 100 * MIN;
        kitchen.step(1, Step::HeatOff).unwrap();
        kitchen.all_hand_over(&[]);
        for phone in 0..3 {
            assert_eq!(kitchen.stage(phone).kind(), StageKind::Falling, "{first} before {second}");
        }
    }
}

#[test]
fn a_drop_that_another_phone_noted_makes_the_hold_not_count() {
    let mut kitchen = holding([0, 0, 0]);
    kitchen.now += 50 * MIN;
    let drop = kitchen.step(1, Step::Dropped(DropCause::FuelOut)).unwrap();
    kitchen.now += 50 * MIN;
    kitchen.step(0, Step::HeatOff).unwrap();
    kitchen.all_hand_over(&[]);
    let load = kitchen.load;
    for phone in 0..3 {
        let archive = &kitchen.phones[phone].archive;
        let found = archive.batch(batch()).unwrap().load(load).unwrap();
        assert!(!found.run.is_processed());
    }
    // Taken back where it was a mistake, the full time counts on every phone.
    kitchen.write(1, Body::Undone { event: drop }).unwrap();
    kitchen.all_hand_over(&[]);
    for phone in 0..3 {
        let archive = &kitchen.phones[phone].archive;
        assert!(archive.batch(batch()).unwrap().load(load).unwrap().run.is_processed());
    }
}

#[test]
fn a_jar_that_went_two_ways_is_a_conflict_on_every_phone() {
    let mut kitchen = holding([0, 26 * 60 * MIN, -1440 * MIN]);
    for (minutes, step) in
        [(100, Step::HeatOff), (40, Step::WeightOff), (10, Step::LidOpened), (1, Step::Unloaded)]
    {
        kitchen.now += minutes * MIN;
        kitchen.step(0, step).unwrap();
    }
    kitchen.now += 720 * MIN;
    let load = kitchen.load;
    for jar in 1..=3 {
        kitchen.write(0, Body::SealChecked { load, jar, seal: Seal::Sealed }).unwrap();
    }
    kitchen.all_hand_over(&[]);
    // One eats the jar, one gives it away, one finds it spoiled and puts a note before.
    kitchen.write(0, Body::JarTaken { load, jar: 1, how: Taken::Eaten }).unwrap();
    kitchen.write(1, Body::JarTaken { load, jar: 1, how: Taken::Given }).unwrap();
    kitchen.write(2, Body::Noted { load: None, text: Text::new("Cloudy").unwrap() }).unwrap();
    kitchen.write(2, Body::JarTaken { load, jar: 1, how: Taken::Spoiled }).unwrap();
    kitchen.all_hand_over(&[(2, 1), (1, 0), (0, 2)]);
    for phone in &kitchen.phones {
        let found = phone.archive.batch(batch()).unwrap();
        assert!(!found.conflicts.is_empty() && found.conflicts.iter().all(|c| c.jar == 1));
        // All three words are still in the record.
        let taken = |e: &&Event| matches!(e.body(), Some(Body::JarTaken { .. }));
        assert_eq!(phone.archive.all_events().filter(taken).count(), 3);
    }
}
