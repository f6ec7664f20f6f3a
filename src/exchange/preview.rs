//! What taking in a file would change, before anything is changed.
//!
//! Invariant: looking changes nothing; what is taken in is exactly what was
//! shown, and the undo takes out exactly that.

use crate::batch::{Archive, Batch, Event, Id, Load, Text};
use crate::units::EpochMs;

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
    /// Numbers of its loads that taking it in would leave disputed: another phone says
    /// that their pressure fell.
    pub disputed: Vec<u16>,
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
    // An archive of its own settles doubles in the file by the archive's own rule.
    let file = Archive::from_events(events);
    preview.household = sort_out(archive, file.events(Id::HOUSEHOLD), &mut preview.intake);
    for theirs in file.batches() {
        let id = theirs.id;
        let added = sort_out(archive, file.events(id), &mut preview.intake);
        let ours = archive.batch(id);
        let begun = ours.and_then(Batch::begun).or(theirs.begun());
        preview.batches.push(BatchChange {
            disputed: Vec::new(),
            batch: id,
            content: begun.map(|(_, content)| content.clone()),
            began: begun.map(|(at, _)| at),
            change: match (ours, added) {
                (None, _) => Change::New,
                (Some(_), 0) => Change::Same,
                (Some(_), added) => Change::Grown(added),
            },
        });
    }
    let mut after = archive.clone();
    after.extend(preview.intake.add.iter().cloned());
    for change in &mut preview.batches {
        let before = archive.batch(change.batch);
        for load in after.batch(change.batch).into_iter().flat_map(|batch| &batch.loads) {
            let was = before.and_then(|batch| batch.load(load.id)).is_some_and(Load::is_disputed);
            if load.is_disputed() && !was {
                change.disputed.push(load.number);
            }
        }
    }
    preview
}

/// Finds what is new among one batch's events; of two texts of one event the
/// archive's own rule decides, here as there.
fn sort_out(archive: &Archive, events: &[Event], intake: &mut Intake) -> usize {
    let mut added = 0;
    for event in events {
        let own = archive.events(event.batch()).iter().find(|own| own.id() == event.id());
        if own.is_none_or(|own| own < event) {
            intake.replaced.extend(own.cloned());
            intake.add.push(event.clone());
            added += 1;
        }
    }
    added
}
