//! Putting a whole backup in the place of the record, and back again.
//!
//! Invariant: looking changes nothing; what is exchanged is exactly what was shown;
//! an exchange and its reverse leave the record as it was, and what was added in
//! between stays.

use super::record_file::{read, write};
use crate::batch::{Archive, Event, Id, Text};
use crate::json::{Json, parse};
use crate::units::EpochMs;

/// What a restore would do to one batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    /// It would come.
    New,
    /// It stays as it is.
    Same,
    /// So many entries would come and so many would go.
    Changed {
        /// Entries that would come.
        come: usize,
        /// Entries that would go.
        go: usize,
    },
    /// It would go: the file does not hold it.
    Gone,
}

/// One batch of a restore.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BatchFate {
    /// The batch.
    pub batch: Id,
    /// What is in the jars, if the file or this phone says.
    pub content: Option<Text>,
    /// When it began.
    pub began: Option<EpochMs>,
    /// What would happen to it.
    pub fate: Fate,
}

/// Events to put in and to take out, in one stroke.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Swap {
    /// Events to put in.
    pub come: Vec<Event>,
    /// Events to take out; one of the same name may be among those to put in.
    pub go: Vec<Event>,
}

/// What a restore would do.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Restore {
    /// Batch by batch: those of the file and those here.
    pub batches: Vec<BatchFate>,
    /// Entries on canners and places that would come, and that would go.
    pub household: (usize, usize),
    /// The events themselves.
    pub swap: Swap,
}

impl Swap {
    /// Whether it changes nothing.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.come.is_empty() && self.go.is_empty()
    }

    /// Does it to an archive.
    pub fn apply(&self, archive: &mut Archive) {
        archive.remove(&names(&self.go));
        archive.extend(self.come.iter().cloned());
    }

    /// Whether an archive is as this swap leaves it.
    #[must_use]
    pub fn is_done(&self, archive: &Archive) -> bool {
        let has = |event: &Event| archive.events(event.batch()).binary_search(event).is_ok();
        self.come.iter().all(has) && !self.go.iter().any(has)
    }

    /// The swap that takes this one back.
    #[must_use]
    pub fn reverse(self) -> Self {
        Self { come: self.go, go: self.come }
    }

    /// The text that keeps the way back over a reload.
    #[must_use]
    pub fn to_text(&self, at: EpochMs) -> String {
        Json::object([
            ("at", Json::whole(at.0)),
            ("come", Json::Text(write(&self.come))),
            ("go", Json::Text(write(&self.go))),
        ])
        .to_string()
    }

    /// Reads such a text; `None` if it is none.
    #[must_use]
    pub fn from_text(text: &str) -> Option<(EpochMs, Self)> {
        let json = parse(text).ok()?;
        let events = |name| read(json.str_of(name)?).ok();
        let swap = Self { come: events("come")?, go: events("go")? };
        Some((EpochMs(json.whole_of("at")?), swap))
    }
}

/// Batch and name of each event.
#[must_use]
pub fn names(events: &[Event]) -> Vec<(Id, Id)> {
    events.iter().map(|event| (event.batch(), event.id())).collect()
}

/// Looks at a backup beside an archive.
#[must_use]
pub fn restore(archive: &Archive, events: Vec<Event>) -> Restore {
    let mut found = Restore::default();
    // An archive of its own settles doubles in the file by the archive's own rule.
    let file = Archive::from_events(events);
    found.household = compare(archive, &file, Id::HOUSEHOLD, &mut found.swap);
    for theirs in file.batches() {
        let (come, go) = compare(archive, &file, theirs.id, &mut found.swap);
        let fate = match (archive.batch(theirs.id), come, go) {
            (None, ..) => Fate::New,
            (Some(_), 0, 0) => Fate::Same,
            (Some(_), come, go) => Fate::Changed { come, go },
        };
        found.batches.push(told(theirs, fate));
    }
    for ours in archive.batches().filter(|ours| file.batch(ours.id).is_none()) {
        compare(archive, &file, ours.id, &mut found.swap);
        found.batches.push(told(ours, Fate::Gone));
    }
    found
}

fn told(batch: &crate::batch::Batch, fate: Fate) -> BatchFate {
    let begun = batch.begun();
    BatchFate {
        batch: batch.id,
        content: begun.map(|(_, content)| content.clone()),
        began: begun.map(|(at, _)| at),
        fate,
    }
}

/// Notes what comes and goes in one batch; says how many of each.
fn compare(here: &Archive, file: &Archive, batch: Id, swap: &mut Swap) -> (usize, usize) {
    let (ours, theirs) = (here.events(batch), file.events(batch));
    // Both are sorted by the whole of an event, so equal ones are found quickly.
    let missing = |from: &[Event], event: &Event| from.binary_search(event).is_err();
    let before = (swap.come.len(), swap.go.len());
    swap.come.extend(theirs.iter().filter(|event| missing(ours, event)).cloned());
    swap.go.extend(ours.iter().filter(|event| missing(theirs, event)).cloned());
    (swap.come.len() - before.0, swap.go.len() - before.1)
}
