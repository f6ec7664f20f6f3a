//! The fold's part at the seal check: what each phone says of a jar's seal.
//!
//! Invariant: while two phones disagree about a seal, the unsafe word stands; a jar
//! that broke, was dealt with or was taken is never sealed again, except by taking
//! back the tap that said so.

use super::body::{Seal, Settled};
use super::event::Event;
use super::fold::{Folding, Refused};
use super::fold_shelf::Said;
use super::id::Id;
use super::state::JarState;
use crate::run::{StageKind, Watch};
use crate::units::EpochMs;

/// The last word of one phone on a jar's seal.
pub(super) struct SealWord {
    load: Id,
    jar: u16,
    watch: Watch,
    seq: u32,
    event: Id,
    seal: Seal,
    at: EpochMs,
}

impl SealWord {
    const fn is_about(&self, load: Id, jar: u16) -> bool {
        self.load.number() == load.number() && self.jar == jar
    }
}

impl Folding {
    /// A phone may check again: its later word holds. Words of different phones that
    /// disagree are a conflict. Words without a phone's name, as of an old record, count
    /// as one phone's unless they have the same place in the batch.
    pub(super) fn check_seal(
        &mut self,
        event: &Event,
        load: Id,
        jar: u16,
        seal: Seal,
    ) -> Result<(), Refused> {
        if self.load(load)?.run.stage().kind() != StageKind::Resting {
            return Err(Refused::NotProcessed);
        }
        let now = self.jar(load, jar)?.state;
        let stays = match now {
            JarState::Taken(..) => true,
            JarState::Settled(..) | JarState::Broken(_) => seal != Seal::Broken,
            _ => false,
        };
        if stays {
            if seal == Seal::Sealed || matches!(now, JarState::Taken(..)) {
                self.against_word(event, load, jar);
            }
            return Err(Refused::JarState);
        }
        self.note_word(event, load, jar, Said::Seal(seal));
        let worst = self.weigh_seals(event, load, jar, seal);
        let jar = self.jar(load, jar)?;
        jar.state = JarState::from(worst);
        jar.found = Some(worst.0);
        Ok(())
    }

    /// Puts a phone's word in the place of its last one; the worst word of all.
    fn weigh_seals(&mut self, event: &Event, load: Id, jar: u16, seal: Seal) -> (Seal, EpochMs) {
        let watch = event.watch();
        let same = |word: &SealWord| {
            word.is_about(load, jar) && word.watch == watch && word.seq < event.seq()
        };
        if let Some(place) = self.seals.iter().position(same) {
            let old = self.seals.get(place).map(|word| word.event);
            self.end_seal_conflicts(load, jar, old);
            self.seals.remove(place);
        }
        let (mut worst, mut against) = ((seal, event.at()), Vec::new());
        for word in self.seals.iter().filter(|word| word.is_about(load, jar)) {
            if word.seal != seal {
                against.push(word.event);
            }
            if badness(word.seal) > badness(worst.0) {
                worst = (word.seal, word.at);
            }
        }
        for other in against {
            self.conflict(load, jar, other, event.id());
        }
        let (seq, at) = (event.seq(), event.at());
        self.seals.push(SealWord { load, jar, watch, seq, event: event.id(), seal, at });
        worst
    }

    /// Ends the conflicts about a jar's seal: those with one event, or all.
    fn end_seal_conflicts(&mut self, load: Id, jar: u16, with: Option<Id>) {
        let seals = &self.seals;
        let of_seal = |event: Id| seals.iter().any(|word| word.event == event);
        self.batch.conflicts.retain(|one| {
            let (a, b) = one.events;
            let meant = with.is_none_or(|with| a == with || b == with);
            !(one.load == load && one.jar == jar && meant && of_seal(a) && of_seal(b))
        });
    }

    /// What was done with a jar that did not seal; its seal is then disputed no more.
    pub(super) fn settle_jar(
        &mut self,
        event: &Event,
        load: Id,
        number: u16,
        way: Settled,
    ) -> Result<(), Refused> {
        let jar = self.jar(load, number)?;
        if !matches!(jar.state, JarState::NotSealed(_) | JarState::Settled(..)) {
            self.against_word(event, load, number);
            return Err(Refused::JarState);
        }
        jar.state = JarState::Settled(event.at(), way);
        self.end_seal_conflicts(load, number, None);
        self.note_word(event, load, number, Said::Settled(way));
        Ok(())
    }
}

const fn badness(seal: Seal) -> u8 {
    match seal {
        Seal::Sealed => 0,
        Seal::NotSealed => 1,
        Seal::Broken => 2,
    }
}
