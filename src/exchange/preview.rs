//! What taking in a file would change, before anything is changed.
//!
//! Invariant: looking changes nothing; what is taken in is exactly what was
//! shown, and the undo takes out exactly that.

use crate::batch::{Archive, Batch, Event, Id, Load, Text};
use crate::units::EpochMs;
use std::sync::Arc;

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
    /// All that the file holds.
    pub file: Arc<Archive>,
    /// Batches of it that this phone knows nothing of: all their events are new.
    pub fresh: Vec<Id>,
    /// What is new of the others.
    pub grown: Vec<Event>,
    /// This phone's own text of events the file holds another text of.
    pub replaced: Vec<Event>,
    /// How many events are new.
    pub count: usize,
}

impl Intake {
    /// The events to add, batch by batch.
    pub fn add(&self) -> impl Iterator<Item = &Event> {
        self.fresh.iter().flat_map(|batch| self.file.events(*batch)).chain(&self.grown)
    }

    /// Batch and name of every event an undo takes out.
    #[must_use]
    pub fn names(&self) -> Vec<(Id, Id)> {
        self.add().map(|event| (event.batch(), event.id())).collect()
    }
}

/// Looks at events beside an archive.
#[must_use]
pub fn preview(archive: &Archive, events: Vec<Event>) -> Preview {
    // An archive of its own settles doubles in the file by the archive's own rule.
    let mut file = archive.alike();
    file.extend(events);
    let mut look = Comparison::new(Arc::new(archive.clone()), file);
    look.step(usize::MAX);
    look.found
}

/// A record file being compared with what is here, some batches at a time.
pub struct Comparison {
    here: Arc<Archive>,
    /// What is still to be compared; the last comes first.
    left: Vec<Id>,
    /// What was found so far.
    pub found: Preview,
}

impl Comparison {
    /// Nothing is compared yet.
    #[must_use]
    pub fn new(here: Arc<Archive>, file: Archive) -> Self {
        let mut left: Vec<Id> = file.names().collect();
        left.reverse();
        let intake = Intake { file: Arc::new(file), ..Intake::default() };
        Self { here, left, found: Preview { intake, ..Preview::default() } }
    }

    /// Compares so many batches; whether there are more.
    pub fn step(&mut self, most: usize) -> bool {
        for _ in 0..most {
            let Some(batch) = self.left.pop() else { return false };
            self.compare(batch);
        }
        !self.left.is_empty()
    }

    fn compare(&mut self, id: Id) {
        let (here, intake) = (&*self.here, &mut self.found.intake);
        let file = Arc::clone(&intake.file);
        let unknown = here.events(id).is_empty();
        let mut after = None;
        let added = if unknown {
            intake.fresh.push(id);
            file.events(id).len()
        } else {
            let before = intake.grown.len();
            let added = sort_out(here, file.events(id), intake);
            if added > 0 {
                let mut both = here.only(id);
                both.extend(intake.grown.iter().skip(before).cloned());
                after = both.batch(id).cloned();
            }
            added
        };
        intake.count += added;
        if id == Id::HOUSEHOLD {
            self.found.household = added;
            return;
        }
        let (ours, theirs) = (here.batch(id), file.batch(id));
        let begun = ours.or(theirs).and_then(Batch::begun).or(theirs.and_then(Batch::begun));
        let after = if unknown { theirs } else { after.as_ref() };
        let mut disputed = Vec::new();
        for load in after.into_iter().flat_map(|batch| &batch.loads) {
            let was = ours.and_then(|batch| batch.load(load.id)).is_some_and(Load::is_disputed);
            if load.is_disputed() && !was {
                disputed.push(load.number);
            }
        }
        self.found.batches.push(BatchChange {
            batch: id,
            content: begun.map(|(_, content)| content.clone()),
            began: begun.map(|(at, _)| at),
            change: match (ours, added) {
                (None, _) => Change::New,
                (Some(_), 0) => Change::Same,
                (Some(_), added) => Change::Grown(added),
            },
            disputed,
        });
    }
}

/// Finds what is new among one batch's events; of two texts of one event the
/// archive's own rule decides, here as there.
fn sort_out(archive: &Archive, events: &[Event], intake: &mut Intake) -> usize {
    let mut added = 0;
    for event in events {
        let own = archive.events(event.batch()).iter().find(|own| own.id() == event.id());
        if own.is_none_or(|own| own < event) {
            intake.replaced.extend(own.cloned());
            intake.grown.push(event.clone());
            added += 1;
        }
    }
    added
}
