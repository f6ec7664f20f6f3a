//! From a set of events to the state of a batch.
//!
//! Invariant: the result depends only on the set, never on the order in which
//! events arrived; an event that does not fit is kept and listed, not dropped.

use super::body::{Body, LoadPlan, Settled, Text};
use super::event::Event;
use super::fold_hold::Break;
use super::fold_seal::SealWord;
use super::fold_shelf::Word;
use super::id::Id;
use super::state::{Batch, Jar, JarState, Load};
use crate::lot::{LotError, RawLot};
use crate::run::{Run, RunPlan, StageKind, Step, StepError};

/// Why an event did not fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// It speaks of a load that is not there.
    NoLoad,
    /// It speaks of a jar that is not there.
    NoJar,
    /// The number of jars is not 1 to 60, or the heat is on already.
    JarCount,
    /// The step does not fit the run.
    Step(StepError),
    /// It does not fit the raw lot.
    Lot(LotError),
    /// Jars are checked only after the full time and unloading.
    NotProcessed,
    /// The jar is not in a state this could happen to.
    JarState,
    /// The batch had begun already.
    Twice,
    /// It belongs to the household's log.
    Misplaced,
    /// The jar is held for a doubt.
    Held,
    /// It lifts a doubt that is not open here.
    NoDoubt,
}

/// Most jars in one load.
pub(crate) const MAX_JARS: u16 = 60;

/// The state a batch's events amount to. `events` must be sorted and free of
/// doubles, as [`Archive`](super::Archive) keeps them.
#[must_use]
pub fn fold(id: Id, events: &[Event]) -> Batch {
    let taken_back = taken_back(events);
    let mut folding = Folding {
        batch: Batch::empty(id),
        words: Vec::new(),
        seals: Vec::new(),
        breaks: Vec::new(),
    };
    for event in events {
        // A clock's jump is a fact, not a tap: taking it back would count its time.
        if !taken_back.contains(&event.id()) || is_clock_move(event) {
            folding.apply(event);
        }
    }
    folding.settle_disputes();
    folding.batch
}

/// The events that an undo takes back. Undos are read from the newest to the
/// oldest, so an undo that was itself undone does nothing.
pub(crate) fn taken_back(events: &[Event]) -> Vec<Id> {
    let mut gone = Vec::new();
    for event in events.iter().rev() {
        if let Some(Body::Undone { event: target }) = event.body()
            && !gone.contains(&event.id())
            && *target != event.id()
        {
            gone.push(*target);
        }
    }
    gone
}

fn is_clock_move(event: &Event) -> bool {
    matches!(event.body(), Some(Body::Ran { step: Step::ClockMoved { .. }, .. }))
}

pub(super) struct Folding {
    pub(super) batch: Batch,
    /// For each jar the last word on its state, its place, its doubts.
    pub(super) words: Vec<Word>,
    /// For each jar what every phone last said of its seal.
    pub(super) seals: Vec<SealWord>,
    /// What was told that breaks a hold.
    pub(super) breaks: Vec<Break>,
}

impl Folding {
    fn apply(&mut self, event: &Event) {
        let Some(body) = event.body() else {
            self.batch.unknown += 1;
            return;
        };
        if matches!(body, Body::Undone { .. }) {
            return;
        }
        match self.take(event, body) {
            Ok(()) if is_clock_move(event) => {}
            Ok(()) => {
                self.batch.last = Some(event.id());
                self.note_last(event.id(), body);
            }
            Err(why) => self.batch.refused.push((event.id(), why)),
        }
    }

    /// Notes the tap that a load's own "take back" is about.
    fn note_last(&mut self, event: Id, body: &Body) {
        let (Body::JarsCounted { load, .. }
        | Body::Ran { load, .. }
        | Body::SealChecked { load, .. }
        | Body::UnsealedSettled { load, .. }
        | Body::Shelved { load, .. }) = body
        else {
            return;
        };
        if let Ok(load) = self.load(*load) {
            load.last = Some(event);
        }
    }

    fn take(&mut self, event: &Event, body: &Body) -> Result<(), Refused> {
        let at = event.at();
        match body {
            Body::BatchStarted(start) => {
                if self.batch.start.is_some() {
                    return Err(Refused::Twice);
                }
                self.batch.start = Some((at, start.clone()));
            }
            Body::LoadPlanned(plan) => self.plan(event, plan)?,
            Body::JarsCounted { load, jars } => {
                let load = self.load(*load)?;
                if !(1..=MAX_JARS).contains(jars) || load.run.stage().kind() != StageKind::Loading {
                    return Err(Refused::JarCount);
                }
                load.jars = jars_unchecked(*jars);
            }
            Body::Ran { load, step } => {
                self.ran(event, *load, *step)?;
            }
            Body::SealChecked { load, jar, seal } => {
                self.check_seal(event, *load, *jar, *seal)?;
            }
            Body::UnsealedSettled { load, jar, way } => {
                if *way != Settled::Discarded {
                    self.not_held(event, *load, *jar)?;
                }
                self.settle_jar(event, *load, *jar, *way)?;
            }
            Body::Shelved { load, place } => self.shelve(event, *load, place)?,
            Body::JarTaken { load, jar, how } => self.take_out(event, *load, *jar, *how)?,
            Body::AtShelf(what) => self.at_shelf(event, what)?,
            Body::Noted { load, text } => self.batch.notes.push((at, *load, text.clone())),
            Body::Undone { .. } => {}
            Body::Lot(said) => {
                RawLot::take(&mut self.batch.lot, said, at).map_err(Refused::Lot)?;
            }
            Body::Weighed { what, mass } => self.batch.weights.take(*what, *mass),
            Body::CannerKept(_)
            | Body::PlaceKept(_)
            | Body::GaugeChecked { .. }
            | Body::CannerHolds { .. } => {
                return Err(Refused::Misplaced);
            }
        }
        Ok(())
    }

    pub(super) fn load(&mut self, id: Id) -> Result<&mut Load, Refused> {
        self.batch.loads.iter_mut().find(|load| load.id == id).ok_or(Refused::NoLoad)
    }

    fn plan(&mut self, event: &Event, plan: &LoadPlan) -> Result<(), Refused> {
        if !(1..=MAX_JARS).contains(&plan.jars) {
            return Err(Refused::JarCount);
        }
        let number = u16::try_from(self.batch.loads.len() + 1).map_err(|_| Refused::JarCount)?;
        self.batch.loads.push(Load {
            id: event.id(),
            number,
            planned_at: event.at(),
            run: Run::new(run_plan(plan)),
            jars: jars_unchecked(plan.jars),
            plan: plan.clone(),
            place: None,
            moved: Vec::new(),
            lids: Text::default(),
            last: None,
            broke: None,
        });
        Ok(())
    }

    pub(super) fn jar(&mut self, load: Id, number: u16) -> Result<&mut Jar, Refused> {
        let index = usize::from(number.checked_sub(1).ok_or(Refused::NoJar)?);
        self.load(load)?.jars.get_mut(index).ok_or(Refused::NoJar)
    }
}

fn jars_unchecked(jars: u16) -> Vec<Jar> {
    (1..=jars)
        .map(|number| Jar { number, state: JarState::Unchecked, found: None, held: false })
        .collect()
}

/// The numbers a recorded load is held to. A record can ask for more than the
/// table it names, never for less.
fn run_plan(plan: &LoadPlan) -> RunPlan {
    let recorded = RunPlan {
        pressure: plan.pressure,
        hold: plan.minutes,
        vent: plan.vent,
        heat_before_vent: plan.heat_before_vent,
        heat_plus_vent: plan.heat_plus_vent,
    };
    match crate::process::by_id(&plan.process) {
        Some(process) => recorded.stricter(RunPlan {
            pressure: process.lowest_pressure(plan.gauge),
            hold: process.minutes(),
            vent: process.vent(),
            heat_before_vent: process.heat_before_vent(),
            heat_plus_vent: process.heat_plus_vent(),
        }),
        None => recorded,
    }
}
