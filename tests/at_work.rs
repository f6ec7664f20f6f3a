//! The batches of which something is still to be done are kept beside the record and
//! never looked for among all of it: whatever is done to the record, they are those that
//! a look through all of it finds. So is a number for the whole: records that bear the
//! same one are the same.
//!
//! The law is our own. What is still to be done: USDA Complete Guide to Home Canning,
//! Guide 1, pp. 1-25 and 1-26 (2015), jars rest, then every seal is checked, and what did
//! not seal is dealt with.
#![allow(clippy::unwrap_used)] // a failed test may panic

mod common;

use common::any_events;
use common::finished::{processed, random_id};
use hearthjar::batch::{Archive, Batch, Body, Event, Id, Jar, JarState, Load, Seal, Settled};
use hearthjar::present::agenda;
use hearthjar::run::Stage;
use hearthjar::units::EpochMs;
use proptest::prelude::*;

/// Said once more, jar by jar.
fn is_open(load: &Load) -> bool {
    match load.run.stage() {
        Stage::Stopped(_) => false,
        Stage::Resting(_) => load.jars.iter().any(|jar| match jar.state {
            _ if load.is_disputed() => jar.in_house(),
            JarState::Unchecked | JarState::NotSealed(_) => true,
            _ => false,
        }),
        _ => true,
    }
}

fn looked_for(archive: &Archive) -> Vec<Id> {
    let works = |batch: &&Batch| batch.waiting_lot().is_some() || batch.loads.iter().any(is_open);
    archive.batches().filter(works).map(|batch| batch.id).collect()
}

fn found(archive: &Archive) -> Vec<Id> {
    archive.at_work().map(|batch| batch.id).collect()
}

#[derive(Clone, Debug)]
enum Act {
    Add(Vec<Event>),
    Absorb(Vec<Event>, Option<u8>),
    Remove(Vec<usize>),
    Here(u8),
}

/// A run through the canner, its seals, what was done with some jars; cut anywhere.
fn any_run() -> impl Strategy<Value = Vec<Event>> {
    let seal = prop_oneof![Just(Seal::Sealed), Just(Seal::NotSealed), Just(Seal::Broken)];
    let seals = proptest::collection::vec(seal, 0..4);
    (0_u64..4, 1_u16..4, seals, 0_usize..3, 0_usize..40).prop_map(
        |(seed, jars, seals, settled, cut)| {
            let seals: Vec<Seal> = seals.into_iter().take(usize::from(jars)).collect();
            let (mut archive, load) = processed(random_id(seed), common::start(), jars, &seals);
            for jar in (1..=jars).take(settled) {
                let body = Body::UnsealedSettled { load, jar, way: Settled::Discarded };
                let named = (random_id(seed + 1_000 + u64::from(jar)), body);
                // Refused where the jar sealed.
                if let Ok(events) = archive.draft(random_id(seed), EpochMs(1 << 42), [named]) {
                    archive.extend(events);
                }
            }
            let all: Vec<Event> = archive.all_events().cloned().collect();
            let most = all.len();
            all.into_iter().take(most.saturating_sub(cut.saturating_sub(20))).collect()
        },
    )
}

fn any_act() -> impl Strategy<Value = Act> {
    let some = || prop_oneof![1 => any_events(), 3 => any_run()];
    prop_oneof![
        4 => some().prop_map(Act::Add),
        2 => (some(), proptest::option::of(0_u8..3)).prop_map(|(events, phone)| Act::Absorb(events, phone)),
        2 => proptest::collection::vec(0_usize..60, 0..12).prop_map(Act::Remove),
        1 => (0_u8..3).prop_map(Act::Here),
    ]
}

proptest! {
    #[test]
    fn those_at_work_are_those_a_look_through_all_finds(acts in proptest::collection::vec(any_act(), 1..8)) {
        let mut archive = Archive::new();
        let mut turns: Vec<(u64, Archive)> = vec![(archive.turn(), archive.clone())];
        for act in acts {
            match act {
                Act::Add(events) => archive.extend(events),
                Act::Absorb(events, phone) => {
                    let mut other = Archive::new();
                    other.extend(events);
                    if let Some(phone) = phone {
                        other.set_here(common::id(200 + phone));
                    }
                    let mut plain = archive.clone();
                    plain.extend(other.all_events().cloned());
                    archive.absorb(&other);
                    prop_assert!(archive == plain && archive.batches().eq(plain.batches()));
                }
                Act::Remove(places) => {
                    let all: Vec<(Id, Id)> = archive.all_events().map(|e| (e.batch(), e.id())).collect();
                    let names: Vec<(Id, Id)> = places.iter().filter_map(|at| all.get(*at).copied()).collect();
                    archive.remove(&names);
                }
                Act::Here(phone) => archive.set_here(common::id(200 + phone)),
            }
            prop_assert_eq!(found(&archive), looked_for(&archive));
            // One turn, one record; and what was added twice has changed nothing.
            for (turn, then) in &turns {
                prop_assert!(*turn != archive.turn() || *then == archive);
            }
            let again: Vec<Event> = archive.all_events().cloned().collect();
            let turn = archive.turn();
            archive.extend(again);
            prop_assert_eq!(archive.turn(), turn);
            turns.push((turn, archive.clone()));
            for batch in archive.names().collect::<Vec<Id>>() {
                let only = archive.only(batch);
                prop_assert_eq!(found(&only), looked_for(&only));
                prop_assert!(only.turn() != turn || only == archive);
            }
            // Whatever is due is due of one of them, and each open load is due.
            let due: Vec<Id> = agenda(&archive, EpochMs(1 << 42)).iter().map(|due| due.load).collect();
            let loads = archive.batches().flat_map(|batch| &batch.loads);
            let open: Vec<Id> = loads.filter(|load| is_open(load)).map(|load| load.id).collect();
            prop_assert_eq!(due.len(), open.len());
            prop_assert!(open.iter().all(|load| due.contains(load)));
        }
    }
}

#[test]
fn a_batch_is_at_work_until_its_last_jar_is_seen_to() {
    let batch = common::id(100);
    let (mut archive, load) = processed(batch, common::start(), 2, &[Seal::Sealed]);
    assert_eq!(found(&archive), [batch]);
    let mut act = |name: u8, body| {
        let events = archive.draft(batch, EpochMs(1 << 42), [(common::id(name), body)]).unwrap();
        archive.extend(events);
        found(&archive)
    };
    assert_eq!(act(1, Body::SealChecked { load, jar: 2, seal: Seal::NotSealed }), [batch]);
    let frozen = Body::UnsealedSettled { load, jar: 2, way: Settled::Discarded };
    assert!(act(2, frozen).is_empty());
    // Taken back, it waits again.
    assert_eq!(act(3, Body::Undone { event: common::id(2) }), [batch]);
    assert!(
        archive.batch(batch).unwrap().loads.iter().any(|load| load.jars.iter().any(Jar::in_house))
    );
}
