//! The fold's part at the shelf: jars leaving it, places, lids, doubts, and where
//! two phones disagree about a jar.
//!
//! Invariant: a held jar is never eaten, given or kept for eating on record; it is
//! free again only when every doubt about it is lifted. What no phone would have
//! written had it known the other's word is a conflict, never settled in silence.

use super::body::{Seal, Settled, Taken, Text};
use super::event::Event;
use super::fold::{Folding, Refused};
use super::id::Id;
use super::shelf_event::{Doubted, JarNumbers, ShelfEvent, Verdict};
use super::state::{Conflict, Hold, Jar, JarState};

/// What an event said about a jar.
#[derive(Clone, PartialEq, Eq)]
pub(super) enum Said {
    Seal(Seal),
    Settled(Settled),
    Taken(Taken),
    Place(Text),
    Verdict(Verdict),
}

impl Said {
    /// Words of different matters do not contradict each other.
    const fn matter(&self) -> u8 {
        match self {
            Self::Seal(_) | Self::Settled(_) | Self::Taken(_) => 0,
            Self::Place(_) => 1,
            Self::Verdict(_) => 2,
        }
    }
}

/// The last word on one matter of a jar.
pub(super) struct Word {
    load: Id,
    jar: u16,
    seq: u32,
    event: Id,
    said: Said,
}

impl Jar {
    /// Whether it is still in the house, in whatever state.
    #[must_use]
    pub const fn in_house(&self) -> bool {
        match self.state {
            JarState::Unchecked | JarState::Sealed(_) | JarState::NotSealed(_) => true,
            JarState::Settled(_, way) => matches!(way, Settled::Refrigerated | Settled::Frozen),
            JarState::Broken(_) | JarState::Taken(..) => false,
        }
    }
}

impl Folding {
    /// Notes a word. Two written without knowledge of each other, which have the
    /// same place in the batch, conflict if they differ.
    pub(super) fn note_word(&mut self, event: &Event, load: Id, jar: u16, said: Said) {
        let matter = said.matter();
        let word = Word { load, jar, seq: event.seq(), event: event.id(), said };
        let same = |w: &&mut Word| w.load == load && w.jar == jar && w.said.matter() == matter;
        let Some(last) = self.words.iter_mut().find(same) else {
            self.words.push(word);
            return;
        };
        let conflict = (last.seq == word.seq && last.said != word.said).then_some(last.event);
        *last = word;
        if let Some(other) = conflict {
            self.conflict(load, jar, other, event.id());
        }
    }

    pub(super) fn conflict(&mut self, load: Id, jar: u16, one: Id, other: Id) {
        let conflict = Conflict { load, jar, events: (one, other) };
        if !self.batch.conflicts.contains(&conflict) {
            self.batch.conflicts.push(conflict);
        }
    }

    /// Whoever had known the last word on this jar would not have written the event.
    pub(super) fn against_word(&mut self, event: &Event, load: Id, jar: u16) {
        let last = self
            .words
            .iter()
            .find(|word| word.load == load && word.jar == jar && word.said.matter() == 0)
            .map(|word| word.event);
        if let Some(last) = last {
            self.conflict(load, jar, last, event.id());
        }
    }

    /// Refuses what would put a held jar to use.
    pub(super) fn not_held(&mut self, event: &Event, load: Id, jar: u16) -> Result<(), Refused> {
        if !self.jar(load, jar)?.held {
            return Ok(());
        }
        let hold = self.batch.holds.iter().find(|hold| hold.keeps(load, jar));
        if let Some(hold) = hold.map(|hold| hold.event) {
            self.conflict(load, jar, hold, event.id());
        }
        Err(Refused::Held)
    }

    pub(super) fn take_out(
        &mut self,
        event: &Event,
        load: Id,
        jar: u16,
        how: Taken,
    ) -> Result<(), Refused> {
        if matches!(how, Taken::Eaten | Taken::Given) {
            self.not_held(event, load, jar)?;
        }
        match self.jar(load, jar)?.state {
            JarState::Sealed(_) => {}
            JarState::Taken(_, before) => {
                if before != how {
                    self.against_word(event, load, jar);
                }
            }
            _ => {
                self.against_word(event, load, jar);
                return Err(Refused::JarState);
            }
        }
        self.jar(load, jar)?.state = JarState::Taken(event.at(), how);
        self.note_word(event, load, jar, Said::Taken(how));
        Ok(())
    }

    /// The whole load was put in a place.
    pub(super) fn shelve(&mut self, event: &Event, load: Id, place: &Text) -> Result<(), Refused> {
        let found = self.load(load)?;
        found.place = Some(place.clone());
        found.moved.clear();
        let jars: Vec<u16> = found.jars.iter().map(|jar| jar.number).collect();
        for jar in jars {
            self.note_word(event, load, jar, Said::Place(place.clone()));
        }
        Ok(())
    }

    pub(super) fn at_shelf(&mut self, event: &Event, what: &ShelfEvent) -> Result<(), Refused> {
        match what {
            ShelfEvent::LidsUsed { load, lot } => self.load(*load)?.lids = lot.clone(),
            ShelfEvent::JarsMoved { load, jars, place } => self.shift(event, *load, jars, place)?,
            ShelfEvent::Doubted(doubted) => self.doubt(event, doubted)?,
            ShelfEvent::DoubtLifted { doubt, reason } => {
                let mut open = false;
                for hold in &mut self.batch.holds {
                    if hold.said.doubt == *doubt && hold.lifted.is_none() {
                        hold.lifted = Some((event.at(), reason.clone()));
                        open = true;
                    }
                }
                if !open {
                    return Err(Refused::NoDoubt);
                }
                self.settle_holds();
            }
        }
        Ok(())
    }

    fn shift(
        &mut self,
        event: &Event,
        load: Id,
        jars: &JarNumbers,
        place: &Text,
    ) -> Result<(), Refused> {
        let mut shifted = Vec::new();
        for number in jars.as_slice() {
            let jar = *self.jar(load, *number)?;
            if matches!(jar.state, JarState::Sealed(_)) {
                shifted.push(*number);
            }
        }
        if shifted.is_empty() {
            return Err(Refused::JarState);
        }
        for number in shifted {
            let found = self.load(load)?;
            match found.moved.iter_mut().find(|(jar, _)| *jar == number) {
                Some((_, stands)) => *stands = place.clone(),
                None => found.moved.push((number, place.clone())),
            }
            self.note_word(event, load, number, Said::Place(place.clone()));
        }
        Ok(())
    }

    fn doubt(&mut self, event: &Event, doubted: &Doubted) -> Result<(), Refused> {
        let load = doubted.load;
        for number in doubted.jars.as_slice() {
            self.jar(load, *number)?;
        }
        for number in doubted.jars.as_slice() {
            let jar = self.jar(load, *number)?;
            match jar.state {
                // The doubt reached a jar that another phone had let go.
                JarState::Taken(_, Taken::Eaten | Taken::Given) => {
                    self.against_word(event, load, *number);
                }
                _ if doubted.verdict == Verdict::Discarded && jar.in_house() => {
                    jar.state = JarState::Taken(event.at(), Taken::Doubted);
                    self.note_word(event, load, *number, Said::Taken(Taken::Doubted));
                }
                _ => {}
            }
            self.note_word(event, load, *number, Said::Verdict(doubted.verdict));
        }
        self.batch.holds.push(Hold {
            event: event.id(),
            at: event.at(),
            said: doubted.clone(),
            lifted: None,
        });
        self.settle_holds();
        Ok(())
    }

    fn settle_holds(&mut self) {
        for load in &mut self.batch.loads {
            for jar in &mut load.jars {
                let keeps = |hold: &Hold| hold.keeps(load.id, jar.number);
                jar.held = self.batch.holds.iter().any(keeps);
            }
        }
    }
}
