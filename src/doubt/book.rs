//! The doubts on record, and the entries that hold, discard and free jars.
//!
//! Invariant: an entry names only jars still in the house; every batch carries
//! what was decided about its own jars.

use super::touched::{Touched, Where};
use crate::batch::{
    Archive, Batch, Body, Cause, Conflict, Doubted, Event, Hold, Id, Jar, JarNumbers, JarState,
    ShelfEvent, Taken, Text, Verdict,
};
use crate::order;
use crate::units::EpochMs;

/// A doubt as it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DoubtKept {
    /// Its name.
    pub doubt: Id,
    /// What kind.
    pub cause: Cause,
    /// The doubt in a sentence.
    pub say: Text,
    /// When it was first said.
    pub at: EpochMs,
    /// Jars held now: batch, load, jar.
    pub held: Vec<(Id, Id, u16)>,
    /// Jars thrown out for it: batch, load, jar; so with the next two.
    pub discarded: Vec<(Id, Id, u16)>,
    /// Jars of the same loads that were eaten or given away before it was said.
    pub before: Vec<(Id, Id, u16)>,
    /// Those eaten or given away since, as by a phone that had not heard of it.
    pub since: Vec<(Id, Id, u16)>,
    /// When and why it was lifted, if it was lifted everywhere.
    pub lifted: Option<(EpochMs, Text)>,
}

/// What to write about jars in doubt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// The doubt's name.
    pub doubt: Id,
    /// What kind.
    pub cause: Cause,
    /// The doubt in a sentence.
    pub say: Text,
    /// What was decided.
    pub verdict: Verdict,
}

/// Every doubt on record, the newest first.
#[must_use]
pub fn doubts(archive: &Archive) -> Vec<DoubtKept> {
    let mut doubts: Vec<DoubtKept> = Vec::new();
    for batch in archive.batches().filter(|batch| !batch.holds.is_empty()) {
        for hold in &batch.holds {
            let said = &hold.said;
            let place = doubts.iter().position(|doubt| doubt.doubt == said.doubt);
            if place.is_none() {
                doubts.push(DoubtKept {
                    doubt: said.doubt,
                    cause: said.cause,
                    say: said.say.clone(),
                    at: hold.at,
                    held: Vec::new(),
                    discarded: Vec::new(),
                    before: Vec::new(),
                    since: Vec::new(),
                    lifted: hold.lifted.clone(),
                });
            }
            let last = doubts.len().saturating_sub(1);
            let Some(doubt) = doubts.get_mut(place.unwrap_or(last)) else { continue };
            doubt.at = doubt.at.min(hold.at);
            if hold.lifted.is_none() {
                doubt.lifted = None;
            }
        }
    }
    for doubt in &mut doubts {
        for batch in archive.batches() {
            count(doubt, batch, archive.events(batch.id));
        }
    }
    order::by_key(doubts, |doubt| (doubt.at.0.saturating_neg(), doubt.doubt.number()))
}

/// Where the jars of one batch are that a doubt is about.
fn count(doubt: &mut DoubtKept, batch: &Batch, events: &[Event]) {
    for load in &batch.loads {
        let about = |hold: &&Hold| hold.said.doubt == doubt.doubt && hold.said.load == load.id;
        let holds: Vec<&Hold> = batch.holds.iter().filter(about).collect();
        for jar in load.jars.iter().filter(|_| !holds.is_empty()) {
            let one = (batch.id, load.id, jar.number);
            let mut named = holds.iter().filter(|hold| hold.said.jars.has(jar.number));
            if let Some(at) = let_go(batch, load.id, jar, events) {
                let list = if at < doubt.at { &mut doubt.before } else { &mut doubt.since };
                list.push(one);
            } else if jar.in_house() {
                if named.any(|hold| hold.keeps(load.id, jar.number)) {
                    doubt.held.push(one);
                }
            } else if named.any(|hold| hold.said.verdict == Verdict::Discarded) {
                doubt.discarded.push(one);
            }
        }
    }
}

/// When a jar was eaten or given away, by any phone's word: one that had not heard of a
/// doubt may have let a held jar go, which the record shows as a conflict.
fn let_go(batch: &Batch, load: Id, jar: &Jar, events: &[Event]) -> Option<EpochMs> {
    if let JarState::Taken(at, how) = jar.state {
        return matches!(how, Taken::Eaten | Taken::Given).then_some(at);
    }
    let about = |one: &&Conflict| one.load == load && one.jar == jar.number;
    for conflict in batch.conflicts.iter().filter(about) {
        let (one, other) = conflict.events;
        let taken = events.iter().find(|event| {
            let out = Some(Taken::Eaten) == taken(event) || Some(Taken::Given) == taken(event);
            out && (event.id() == one || event.id() == other)
        });
        if let Some(event) = taken {
            return Some(event.at());
        }
    }
    None
}

fn taken(event: &Event) -> Option<Taken> {
    match event.body() {
        Some(Body::JarTaken { how, .. }) => Some(*how),
        _ => None,
    }
}

/// The entries that mark every jar a finding touches and that is still in the
/// house, batch by batch.
#[must_use]
pub fn hold(touched: &Touched, mark: &Mark) -> Vec<(Id, Vec<Body>)> {
    let mut entries = Vec::new();
    for load in &touched.loads {
        let here = load.jars.iter().filter(|(_, now)| matches!(now, Where::Here | Where::Held));
        if let Some(jars) = JarNumbers::new(here.map(|(jar, _)| *jar)) {
            add(&mut entries, load.batch, marked(mark, load.load, jars));
        }
    }
    entries
}

/// The entries that throw out every jar a doubt still holds.
#[must_use]
pub fn discard(kept: &DoubtKept) -> Vec<(Id, Vec<Body>)> {
    let mark = Mark {
        doubt: kept.doubt,
        cause: kept.cause,
        say: kept.say.clone(),
        verdict: Verdict::Discarded,
    };
    let mut entries = Vec::new();
    let mut done: Vec<Id> = Vec::new();
    for (batch, load, _) in &kept.held {
        if done.contains(load) {
            continue;
        }
        done.push(*load);
        let jars = kept.held.iter().filter(|(_, one, _)| one == load);
        if let Some(jars) = JarNumbers::new(jars.map(|(.., jar)| *jar)) {
            add(&mut entries, *batch, marked(&mark, *load, jars));
        }
    }
    entries
}

/// The entries that lift a doubt in every batch it touches.
#[must_use]
pub fn lift(archive: &Archive, doubt: Id, reason: &Text) -> Vec<(Id, Vec<Body>)> {
    let mut entries = Vec::new();
    for batch in archive.batches() {
        if batch.holds.iter().any(|hold| hold.said.doubt == doubt && hold.lifted.is_none()) {
            let lifted = ShelfEvent::DoubtLifted { doubt, reason: reason.clone() };
            add(&mut entries, batch.id, Body::AtShelf(lifted));
        }
    }
    entries
}

fn marked(mark: &Mark, load: Id, jars: JarNumbers) -> Body {
    Body::AtShelf(ShelfEvent::Doubted(Doubted {
        doubt: mark.doubt,
        cause: mark.cause,
        say: mark.say.clone(),
        load,
        jars,
        verdict: mark.verdict,
    }))
}

fn add(entries: &mut Vec<(Id, Vec<Body>)>, batch: Id, body: Body) {
    match entries.iter_mut().find(|(one, _)| *one == batch) {
        Some((_, bodies)) => bodies.push(body),
        None => entries.push((batch, vec![body])),
    }
}
