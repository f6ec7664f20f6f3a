//! What the fold of a batch's events amounts to.
//!
//! Invariant: built only by the fold; a jar is in exactly one state.

use super::body::{BatchStart, LoadPlan, Seal, Settled, Taken, Text};
use super::fold::Refused;
use super::id::Id;
use super::shelf_event::{Doubted, Verdict};
use crate::lot::RawLot;
use crate::plan::Weights;
use crate::run::{Run, Stage};
use crate::units::{EpochMs, Span};

/// Where a jar stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JarState {
    /// Not yet checked.
    Unchecked,
    /// Sealed, and still on the shelf or counter.
    Sealed(EpochMs),
    /// Not sealed, and still to be dealt with.
    NotSealed(EpochMs),
    /// Broken.
    Broken(EpochMs),
    /// Was not sealed and has been dealt with.
    Settled(EpochMs, Settled),
    /// Left the shelf.
    Taken(EpochMs, Taken),
}

/// One jar of a load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Jar {
    /// Number in the load, from 1.
    pub number: u16,
    /// Where it stands.
    pub state: JarState,
    /// What the last check of its seal found, whatever became of it since.
    pub found: Option<Seal>,
    /// Whether a doubt, or a dispute about its load, holds it back.
    pub held: bool,
}

/// One canner load.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Load {
    /// Name: that of the event that planned it.
    pub id: Id,
    /// Number in the batch, from 1.
    pub number: u16,
    /// When it was planned.
    pub planned_at: EpochMs,
    /// The plan as recorded.
    pub plan: LoadPlan,
    /// The run so far.
    pub run: Run,
    /// The jars.
    pub jars: Vec<Jar>,
    /// Where the sealed jars stand, if said.
    pub place: Option<Text>,
    /// Jars that stand in a place of their own since they were moved.
    pub moved: Vec<(u16, Text)>,
    /// The lot of the lids; empty if not said.
    pub lids: Text,
    /// The newest tap on this load that is not taken back: a step, a count, a seal, what
    /// was done with a jar, the place. Doubts are lifted with a reason, not taken back.
    pub last: Option<Id>,
    /// What another phone tells, and when by its clock, that breaks the hold of this
    /// load, complete or still running: that hold does not count.
    pub broke: Option<(Id, EpochMs)>,
}

/// Jars of a load put in doubt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hold {
    /// The event that said so.
    pub event: Id,
    /// When.
    pub at: EpochMs,
    /// What was said.
    pub said: Doubted,
    /// When and why the doubt was lifted.
    pub lifted: Option<(EpochMs, Text)>,
}

/// Two phones said different things about one jar. Of a seal the unsafe word stands,
/// of all else the later one, until one of the two is taken back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Conflict {
    /// The load.
    pub load: Id,
    /// Jar number, from 1.
    pub jar: u16,
    /// The two events that disagree.
    pub events: (Id, Id),
}

/// A batch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Batch {
    /// Its name.
    pub id: Id,
    /// When and how it began; `None` while that event has not arrived.
    pub start: Option<(EpochMs, BatchStart)>,
    /// The raw lot it is canned from, if one was recorded.
    pub lot: Option<RawLot>,
    /// The loads, in order.
    pub loads: Vec<Load>,
    /// The notes, with time and load.
    pub notes: Vec<(EpochMs, Option<Id>, Text)>,
    /// What its food weighed.
    pub weights: Weights,
    /// Events that did not fit the state they met.
    pub refused: Vec<(Id, Refused)>,
    /// Events of a kind this build does not know.
    pub unknown: usize,
    /// Disagreements between phones.
    pub conflicts: Vec<Conflict>,
    /// Jars put in doubt, in the order it was said.
    pub holds: Vec<Hold>,
    /// The newest event not taken back, which an undo would take back.
    pub last: Option<Id>,
}

impl Load {
    /// Whether the full time was told, and another phone says it broke: the jars are
    /// held until a person settles which is true.
    #[must_use]
    pub const fn is_disputed(&self) -> bool {
        self.run.told_hold().is_some() && !self.run.is_processed()
    }

    /// Whether nothing of it is still to be done or decided before the shelf: it was
    /// stopped, or rests with every jar checked and what did not seal dealt with, and no
    /// jar of it that is still here is disputed.
    #[must_use]
    pub fn is_done(&self) -> bool {
        match self.run.stage() {
            Stage::Stopped(_) => true,
            Stage::Resting(_) if self.is_disputed() => !self.jars.iter().any(Jar::in_house),
            Stage::Resting(_) => self.unchecked() == 0 && self.unsettled() == 0,
            _ => false,
        }
    }

    /// The jar with a number.
    #[must_use]
    pub fn jar(&self, number: u16) -> Option<&Jar> {
        self.jars.get(usize::from(number.checked_sub(1)?))
    }

    /// Where a jar stands, if said.
    #[must_use]
    pub fn place_of(&self, jar: u16) -> Option<&Text> {
        let moved = self.moved.iter().find(|(number, _)| *number == jar);
        moved.map(|(_, place)| place).or(self.place.as_ref())
    }

    /// How many jars are in a state.
    #[must_use]
    pub fn count(&self, is: fn(JarState) -> bool) -> usize {
        self.jars.iter().filter(|jar| is(jar.state)).count()
    }

    /// How many jars still await their check.
    #[must_use]
    pub fn unchecked(&self) -> usize {
        self.count(|s| matches!(s, JarState::Unchecked))
    }

    /// How many jars stand sealed.
    #[must_use]
    pub fn sealed(&self) -> usize {
        self.count(|s| matches!(s, JarState::Sealed(_)))
    }

    /// How many jars were found sealed, whatever became of them since.
    #[must_use]
    pub fn found_sealed(&self) -> usize {
        self.jars.iter().filter(|jar| jar.found == Some(Seal::Sealed)).count()
    }

    /// How many unsealed jars are still to be dealt with.
    #[must_use]
    pub fn unsettled(&self) -> usize {
        self.count(|s| matches!(s, JarState::NotSealed(_)))
    }

    /// The instant by which an unsealed jar must be dealt with: 24 h after the
    /// full time ended (USDA Complete Guide, Guide 1, p. 1-26; counting from the
    /// end of the hold is the earliest, so the safest, reading).
    #[must_use]
    pub fn unsealed_deadline(&self) -> Option<EpochMs> {
        self.run.told_hold().map(|(_, end)| end.plus(Span::hours(24)))
    }
}

impl Hold {
    /// Whether it holds a jar back now.
    #[must_use]
    pub fn keeps(&self, load: Id, jar: u16) -> bool {
        self.lifted.is_none()
            && self.said.verdict == Verdict::Held
            && self.said.load == load
            && self.said.jars.has(jar)
    }
}

impl Batch {
    /// A batch nothing is known of yet.
    #[must_use]
    pub const fn empty(id: Id) -> Self {
        Self {
            id,
            start: None,
            lot: None,
            loads: Vec::new(),
            notes: Vec::new(),
            weights: Weights { whole: None, dressed: None, packed: None },
            refused: Vec::new(),
            unknown: 0,
            conflicts: Vec::new(),
            holds: Vec::new(),
            last: None,
        }
    }

    /// The load with a name.
    #[must_use]
    pub fn load(&self, id: Id) -> Option<&Load> {
        self.loads.iter().find(|load| load.id == id)
    }

    /// Whether this is the invented example.
    #[must_use]
    pub fn is_demo(&self) -> bool {
        self.start.as_ref().is_some_and(|(_, start)| start.demo)
            || self.lot.as_ref().is_some_and(|lot| lot.start().demo)
    }

    /// When it began and what it is called: as a batch, or as the raw lot it still is.
    #[must_use]
    pub fn begun(&self) -> Option<(EpochMs, &Text)> {
        let start = self.start.as_ref().map(|(at, start)| (*at, &start.content));
        let lot = self.lot.as_ref().map(|lot| (lot.start().first.since, &lot.start().name));
        start.or(lot)
    }

    /// The raw lot while some of it still waits for heat: it has not ended, and no
    /// load is planned or one of them is still cold.
    #[must_use]
    pub fn waiting_lot(&self) -> Option<&RawLot> {
        let lot = self.lot.as_ref().filter(|lot| lot.ended().is_none())?;
        let cold = |load: &Load| load.run.heat_on().is_none() && load.run.stopped().is_none();
        (self.loads.is_empty() || self.loads.iter().any(cold)).then_some(lot)
    }

    /// Whether anything of it is still to be done before the shelf: its lot waits for
    /// heat, or a load is not done.
    #[must_use]
    pub fn is_at_work(&self) -> bool {
        self.waiting_lot().is_some() || !self.loads.iter().all(Load::is_done)
    }
}

impl From<(Seal, EpochMs)> for JarState {
    fn from((seal, at): (Seal, EpochMs)) -> Self {
        match seal {
            Seal::Sealed => Self::Sealed(at),
            Seal::NotSealed => Self::NotSealed(at),
            Seal::Broken => Self::Broken(at),
        }
    }
}
