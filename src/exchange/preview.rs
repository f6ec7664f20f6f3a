//! What taking in a file would change, before anything is changed.
//!
//! Invariant: looking changes nothing; what is taken in is exactly what was
//! shown, and the undo takes out exactly that.

use crate::batch::{Archive, Batch, Event, Id, Text};
use crate::units::EpochMs;
use std::collections::{BTreeMap, BTreeSet};

/// What a file holds about one batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// A batch this phone does not know.
    New,
    /// Nothing this phone does not know.
    Same,
    /// So many entries this phone does not know.
    Grown(usize),
}

/// One batch of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BatchChange {
    /// The batch.
    pub batch: Id,
    /// What is in the jars, if the file or this phone says.
    pub content: Option<Text>,
    /// When it began.
    pub began: Option<EpochMs>,
    /// What is new about it.
    pub change: Change,
}

/// What taking in a file would do.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Preview {
    /// Batch by batch.
    pub batches: Vec<BatchChange>,
    /// New canners and places.
    pub household: usize,
    /// What would be taken in.
    pub intake: Intake,
}

/// The events to take in, and how to take them out again.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Intake {
    /// Events to add.
    pub add: Vec<Event>,
    /// This phone's own text of events the file holds another text of.
    pub replaced: Vec<Event>,
}

impl Intake {
    /// Batch and name of every event an undo takes out.
    #[must_use]
    pub fn names(&self) -> Vec<(Id, Id)> {
        self.add.iter().map(|event| (event.batch(), event.id())).collect()
    }
}

/// Looks at events beside an archive.
#[must_use]
pub fn preview(archive: &Archive, events: Vec<Event>) -> Preview {
    let mut preview = Preview::default();
    let mut by_batch: BTreeMap<Id, Vec<Event>> = BTreeMap::new();
    for event in events {
        by_batch.entry(event.batch()).or_default().push(event);
    }
    for (batch, events) in by_batch {
        let added = sort_out(archive, batch, &events, &mut preview.intake);
        if batch == Id::HOUSEHOLD {
            preview.household = added;
            continue;
        }
        let merged = Archive::from_events(archive.events(batch).iter().cloned().chain(events));
        let start = merged.batch(batch).and_then(|batch: &Batch| batch.start.clone());
        preview.batches.push(BatchChange {
            batch,
            content: start.as_ref().map(|(_, start)| start.content.clone()),
            began: start.map(|(at, _)| at),
            change: match (archive.batch(batch), added) {
                (None, _) => Change::New,
                (Some(_), 0) => Change::Same,
                (Some(_), added) => Change::Grown(added),
            },
        });
    }
    preview
}

/// Finds what is new among one batch's events; of two texts of one event the
/// archive's own rule decides, here as there.
fn sort_out(archive: &Archive, batch: Id, events: &[Event], intake: &mut Intake) -> usize {
    let own: BTreeMap<Id, &Event> = archive.events(batch).iter().map(|e| (e.id(), e)).collect();
    let mut best: BTreeMap<Id, &Event> = BTreeMap::new();
    for event in events {
        let place = best.entry(event.id()).or_insert(event);
        if *place < event {
            *place = event;
        }
    }
    let mut seen = BTreeSet::new();
    let mut added = 0;
    for event in best.into_values() {
        match own.get(&event.id()) {
            Some(mine) if *mine >= event => continue,
            Some(mine) => intake.replaced.push((*mine).clone()),
            None => {}
        }
        if seen.insert(event.id()) {
            intake.add.push(event.clone());
            added += 1;
        }
    }
    added
}
