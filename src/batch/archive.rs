//! All events this phone holds, batch by batch, with their folded state.
//!
//! Invariant: a set. Adding an event twice, or in another order, or on another
//! phone, leads to the same archive; the state is always the fold of the set.

use super::body::{Body, Seal, Settled, Taken};
use super::event::Event;
use super::fold::{Refused, fold, taken_back};
use super::household::Household;
use super::id::Id;
use super::state::{Batch, Jar, JarState, Load};
use crate::order;
use crate::run::Watch;
use crate::units::EpochMs;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

/// Numbers the folds: no two states of any batch bear the same one.
static STAMPS: AtomicU64 = AtomicU64::new(1);

/// What adding an event did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Inserted {
    /// It was new.
    New,
    /// It was there already, or another text of it that stands on every phone.
    Same,
    /// Another text under the same name was there and has given way, as it does
    /// on every phone.
    Settled,
}

#[derive(Clone, Debug)]
struct Log {
    events: Vec<Event>,
    /// Shared: it is worked out anew, never changed.
    state: Arc<Batch>,
    /// Another number whenever the state was worked out anew.
    stamp: u64,
}

/// The events of every batch, and what they amount to.
#[derive(Clone, Debug, Default)]
pub struct Archive {
    /// Sorted by batch; shared, so that a copy of an archive costs little.
    logs: Vec<Arc<Log>>,
    household: Arc<Household>,
    /// The batches at work, sorted: few, and looked at every second.
    at_work: Vec<Id>,
    /// The phone it is on.
    here: Option<Id>,
    /// Another number whenever anything has changed; 0 as long as nothing was in it.
    turn: u64,
}

fn next_stamp() -> u64 {
    STAMPS.fetch_add(1, Ordering::Relaxed)
}

impl Archive {
    /// An archive of nothing.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// An archive of the given events, in any order, doubles allowed.
    #[must_use]
    pub fn from_events(events: impl IntoIterator<Item = Event>) -> Self {
        let mut archive = Self::new();
        archive.extend(events);
        archive
    }

    /// An archive of nothing, on the same phone.
    #[must_use]
    pub fn alike(&self) -> Self {
        let mut archive = Self::new();
        archive.here = self.here;
        archive
    }

    /// Says which phone this is: waits are judged by its clock, and what it adds of a
    /// run says so.
    pub fn set_here(&mut self, phone: Id) {
        if self.here == Some(phone) {
            return;
        }
        self.here = Some(phone);
        let batches: Vec<Id> = self.names().collect();
        for batch in batches {
            self.refold(batch);
        }
    }

    /// Adds many events; each batch touched is folded once.
    pub fn extend(&mut self, events: impl IntoIterator<Item = Event>) {
        let mut touched: Vec<Id> = Vec::new();
        for event in events {
            let batch = event.batch();
            if self.place(event) != Inserted::Same && touched.last() != Some(&batch) {
                touched.push(batch);
            }
        }
        for batch in touched {
            self.refold(batch);
        }
    }

    /// Adds all that another archive holds. What it knows of batches that are not here
    /// is shared, not copied, nor worked out again.
    pub fn absorb(&mut self, other: &Self) {
        let mut ours = core::mem::take(&mut self.logs).into_iter().peekable();
        let (mut come, mut events) = (Vec::new(), Vec::new());
        for log in &other.logs {
            while let Some(own) = ours.next_if(|own| own.state.id < log.state.id) {
                self.logs.push(own);
            }
            if let Some(own) = ours.peek().filter(|own| own.state.id == log.state.id) {
                // Mostly all of it is here already.
                let new = log.events.iter().filter(|event| !own.events.contains(event));
                events.extend(new.cloned());
            } else {
                self.logs.push(Arc::clone(log));
                come.push(log.state.id);
            }
        }
        self.logs.extend(ours);
        self.turn = next_stamp();
        for batch in come {
            if batch == Id::HOUSEHOLD || self.here != other.here {
                self.refold(batch);
            }
        }
        for batch in &other.at_work {
            self.note_work(*batch);
        }
        self.extend(events);
    }

    /// An archive of one batch of this one, on the same phone.
    #[must_use]
    pub fn only(&self, batch: Id) -> Self {
        let mut archive = self.alike();
        let log = self.index(batch).ok().and_then(|index| self.logs.get(index));
        archive.logs.extend(log.cloned());
        archive.turn = next_stamp();
        archive.note_work(batch);
        if batch == Id::HOUSEHOLD {
            archive.household = Arc::clone(&self.household);
        }
        archive
    }

    /// The names of what there are events of: the batches, and the household's log.
    pub fn names(&self) -> impl Iterator<Item = Id> {
        self.logs.iter().map(|log| log.state.id)
    }

    /// Adds one event.
    pub fn insert(&mut self, event: Event) -> Inserted {
        let batch = event.batch();
        let inserted = self.place(event);
        if inserted != Inserted::Same {
            self.refold(batch);
        }
        inserted
    }

    /// Takes events out again, named by batch and event: only for undoing an import
    /// or removing the demo.
    pub fn remove(&mut self, names: &[(Id, Id)]) {
        let names = order::by_key(names.to_vec(), |(_, event)| (0, event.number()));
        let gone = |event: &Event| {
            let first = names.partition_point(|(_, name)| *name < event.id());
            let same = names.iter().skip(first).take_while(|(_, name)| *name == event.id());
            same.into_iter().any(|(batch, _)| *batch == event.batch())
        };
        let mut touched = Vec::new();
        for log in &mut self.logs {
            if log.events.iter().any(gone) {
                let log = Arc::make_mut(log);
                log.events.retain(|event| !gone(event));
                touched.push(log.state.id);
            }
        }
        for batch in touched {
            self.refold(batch);
        }
        self.logs.retain(|log| !log.events.is_empty());
        self.turn = next_stamp();
    }

    /// Gives the archive up batch by batch, one with each step: all at once takes long.
    pub fn let_go(self) -> impl Iterator<Item = ()> {
        self.logs.into_iter().map(drop)
    }

    fn index(&self, batch: Id) -> Result<usize, usize> {
        self.logs.binary_search_by(|log| log.state.id.cmp(&batch))
    }

    fn log(&self, batch: Id) -> Option<&Log> {
        self.index(batch).ok().and_then(|index| self.logs.get(index)).map(|log| &**log)
    }

    fn log_mut(&mut self, batch: Id) -> Option<&mut Log> {
        let index = self.index(batch).ok()?;
        self.logs.get_mut(index).map(Arc::make_mut)
    }

    fn place(&mut self, event: Event) -> Inserted {
        let id = event.batch();
        if let Err(index) = self.index(id) {
            let log = Log { events: Vec::new(), state: Arc::new(Batch::empty(id)), stamp: 0 };
            self.logs.insert(index, Arc::new(log));
        }
        let Some(log) = self.log_mut(id) else { return Inserted::Same };
        // The usual case is an append; a name is looked for only among the rest.
        if log.events.last().is_none_or(|last| (last.seq(), last.id()) < (event.seq(), event.id()))
            && !log.events.iter().any(|old| old.id() == event.id())
        {
            log.events.push(event);
            return Inserted::New;
        }
        if let Some(index) = log.events.iter().position(|old| old.id() == event.id()) {
            let Some(old) = log.events.get_mut(index) else { return Inserted::Same };
            if *old >= event {
                return Inserted::Same;
            }
            log.events.remove(index);
            let place = log.events.partition_point(|other| *other < event);
            log.events.insert(place, event);
            return Inserted::Settled;
        }
        let place = log.events.partition_point(|other| *other < event);
        log.events.insert(place, event);
        Inserted::New
    }

    fn refold(&mut self, batch: Id) {
        let here = Watch(self.here.map(Id::number));
        let Some(log) = self.log_mut(batch) else { return };
        let stamp = next_stamp();
        log.stamp = stamp;
        if batch != Id::HOUSEHOLD {
            let mut state = fold(batch, &log.events);
            for load in &mut state.loads {
                load.run.look_from(here);
            }
            log.state = Arc::new(state);
            self.note_work(batch);
        } else {
            self.household = Arc::new(Household::fold(self.events(batch)));
        }
        self.turn = stamp;
    }

    fn note_work(&mut self, batch: Id) {
        let works = self.batch(batch).is_some_and(Batch::is_at_work);
        match (self.at_work.binary_search(&batch), works) {
            (Err(place), true) => self.at_work.insert(place, batch),
            (Ok(place), false) => drop(self.at_work.remove(place)),
            _ => {}
        }
    }

    /// The events that would record these things now, if they fit the state. Taking back
    /// what is taken back already records nothing.
    ///
    /// # Errors
    /// [`Refused`] if the batch as it stands would not take one of them; nothing
    /// changes.
    pub fn draft(
        &self,
        batch: Id,
        at: EpochMs,
        bodies: impl Into<Vec<(Id, Body)>>,
    ) -> Result<Vec<Event>, Refused> {
        self.drafted(batch, at, bodies.into())
    }

    fn drafted(
        &self,
        batch: Id,
        at: EpochMs,
        bodies: Vec<(Id, Body)>,
    ) -> Result<Vec<Event>, Refused> {
        let mut trial = self.events(batch).to_vec();
        let before = trial.len();
        for (id, body) in bodies {
            // Tapped twice, an undo does nothing more.
            if matches!(body, Body::Undone { event } if taken_back(&trial).contains(&event)) {
                continue;
            }
            let seq = trial.last().map_or(0, Event::seq).saturating_add(1);
            let named = matches!(body, Body::Ran { .. } | Body::SealChecked { .. });
            let phone = self.here.filter(|_| named);
            trial.push(Event::told_on(phone, id, batch, seq, at, body));
        }
        let drafted = trial.get(before..).unwrap_or_default().to_vec();
        if batch != Id::HOUSEHOLD {
            let after = fold(batch, &trial);
            let mine = |id: &Id| drafted.iter().any(|event| event.id() == *id);
            if drafted.iter().any(|event| eats_disputed(&after, event)) {
                return Err(Refused::Held);
            }
            if let Some((_, why)) = after.refused.iter().find(|(id, _)| mine(id)) {
                return Err(*why);
            }
        }
        Ok(drafted)
    }

    /// What a tap on a jar records at the seal check: the mark; and where this phone
    /// itself called the jar broken, that is taken back first.
    #[must_use]
    pub fn seal_taps(&self, batch: Id, load: Id, jar: u16, seal: Seal) -> Vec<Body> {
        let mut taps = Vec::with_capacity(2);
        let found = self.batch(batch).and_then(|batch| batch.load(load)?.jar(jar));
        if seal != Seal::Broken && matches!(found, Some(Jar { state: JarState::Broken(_), .. })) {
            let is_broken = |event: &Event| {
                matches!(event.body(),
                Some(Body::SealChecked { load: its_load, jar: its_jar, seal: Seal::Broken })
                    if (*its_load, *its_jar) == (load, jar))
            };
            let here = Watch(self.here.map(Id::number));
            let gone = taken_back(self.events(batch));
            let own = self.events(batch).iter().rev().find(|event| {
                is_broken(event) && event.watch() == here && !gone.contains(&event.id())
            });
            taps.extend(own.map(|event| Body::Undone { event: event.id() }));
        }
        taps.push(Body::SealChecked { load, jar, seal });
        taps
    }

    /// The batches, without the household's log.
    pub fn batches(&self) -> impl DoubleEndedIterator<Item = &Batch> {
        self.logs.iter().map(|log| &*log.state).filter(|batch| batch.id != Id::HOUSEHOLD)
    }

    /// The batches in the order of their names, each with a number that is another
    /// one whenever the batch has changed: for what is worked out once a batch.
    pub fn stamped(&self) -> impl Iterator<Item = (u64, &Batch)> {
        let batches = self.logs.iter().filter(|log| log.state.id != Id::HOUSEHOLD);
        batches.map(|log| (log.stamp, &*log.state))
    }

    /// A number for the whole as it stands: archives that bear the same one hold the same.
    #[must_use]
    pub const fn turn(&self) -> u64 {
        self.turn
    }

    /// The number of one batch as it stands; another one whenever it has changed, 0 if it
    /// is not here.
    #[must_use]
    pub fn stamp(&self, batch: Id) -> u64 {
        self.log(batch).map_or(0, |log| log.stamp)
    }

    /// The batches of which something is still to be done before the shelf, see
    /// [`Batch::is_at_work`]: found without looking at the others.
    pub fn at_work(&self) -> impl Iterator<Item = &Batch> {
        self.at_work.iter().filter_map(|batch| self.batch(*batch))
    }

    /// The loads of the batches at work, each with its batch.
    pub fn loads_at_work(&self) -> impl Iterator<Item = (&Batch, &Load)> {
        self.at_work().flat_map(|batch| batch.loads.iter().map(move |load| (batch, load)))
    }

    /// Every load, with its batch.
    #[must_use]
    pub fn loads(&self) -> Vec<(&Batch, &Load)> {
        let mut loads = Vec::new();
        for batch in self.batches() {
            for load in &batch.loads {
                loads.push((batch, load));
            }
        }
        loads
    }

    /// One batch.
    #[must_use]
    pub fn batch(&self, id: Id) -> Option<&Batch> {
        self.log(id).map(|log| &*log.state).filter(|batch| batch.id != Id::HOUSEHOLD)
    }

    /// The household's canners and places.
    #[must_use]
    pub fn household(&self) -> &Household {
        &self.household
    }

    /// One batch's events, sorted.
    #[must_use]
    pub fn events(&self, batch: Id) -> &[Event] {
        self.log(batch).map_or(&[], |log| &log.events)
    }

    /// Every event, sorted by batch.
    pub fn all_events(&self) -> impl Iterator<Item = &Event> {
        self.logs.iter().flat_map(|log| &log.events)
    }

    /// Whether an event is here.
    #[must_use]
    pub fn has(&self, batch: Id, event: Id) -> bool {
        self.events(batch).iter().any(|one| one.id() == event)
    }
}

/// Whether a jar of a disputed load would be put to use. What another phone did before
/// the dispute was known is a fact, and counts; nothing new is done here.
fn eats_disputed(batch: &Batch, event: &Event) -> bool {
    let load = match event.body() {
        Some(Body::JarTaken { load, how: Taken::Eaten | Taken::Given, .. }) => *load,
        Some(Body::UnsealedSettled { load, way, .. }) if *way != Settled::Discarded => *load,
        _ => return false,
    };
    batch.load(load).is_some_and(Load::is_disputed)
}

impl PartialEq for Archive {
    fn eq(&self, other: &Self) -> bool {
        self.all_events().eq(other.all_events())
    }
}

impl Eq for Archive {}
