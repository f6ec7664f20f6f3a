//! The fold's part at the canner: steps, and holds that another phone says broke.
//!
//! Invariant: a hold counts only if no other phone tells of a drop, a low reading or
//! a stop within it, wherever in the order of events that was written. In doubt the
//! hold does not count, until one of the taps is taken back.

use super::event::Event;
use super::fold::{Folding, Refused};
use super::id::Id;
use crate::run::{RunPlan, Step, Watch};
use crate::units::EpochMs;

/// Something told that breaks a hold it falls into.
pub(super) struct Break {
    load: Id,
    event: Id,
    watch: Watch,
    at: EpochMs,
    /// Whoever wrote it had not seen the heat go off: to them the hold broke.
    unaware: bool,
}

impl Folding {
    pub(super) fn ran(&mut self, event: &Event, load: Id, step: Step) -> Result<(), Refused> {
        let found = self.load(load)?;
        let breaks = breaks_hold(step, found.run.plan());
        let unaware = found.run.told_hold().is_some();
        let taken = found.run.take_by(event.watch(), step, event.at());
        if breaks {
            let (watch, at) = (event.watch(), event.at());
            self.breaks.push(Break { load, event: event.id(), watch, at, unaware });
        }
        taken.map_err(Refused::Step)
    }

    /// Once every event is read: which holds another phone says broke. Their jars are
    /// held until that is settled.
    pub(super) fn settle_disputes(&mut self) {
        for load in &mut self.batch.loads {
            let mut mine = self.breaks.iter().filter(|one| one.load == load.id);
            let within =
                mine.clone().find(|one| one.unaware || load.run.is_within_hold(one.watch, one.at));
            // Clocks far apart may put it elsewhere: the last one told is meant then.
            let other = mine.next_back().filter(|_| load.run.is_disputed());
            let Some(told) = within.or(other) else { continue };
            load.broke = Some((told.event, told.at));
            load.run.dispute();
            if load.is_disputed() {
                for jar in &mut load.jars {
                    jar.held = true;
                }
            }
        }
    }
}

fn breaks_hold(step: Step, plan: RunPlan) -> bool {
    match step {
        Step::Dropped(_) | Step::Stopped(_) => true,
        Step::Reading(psi) => psi < plan.pressure,
        _ => false,
    }
}
