//! What is on and what is due, across all batches.
//!
//! Invariant: the most pressing comes first; nothing that still needs a hand is
//! left out.

use crate::batch::{Archive, Batch, Id, Load};
use crate::run::{RunPlan, Stage};
use crate::units::{EpochMs, Span};

/// What a load needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Need {
    /// The canner is hot: someone is at it.
    Running,
    /// Unsealed jars to deal with before an instant.
    Unsealed(EpochMs),
    /// Rested long enough: check the seals.
    CheckSeals,
    /// Planned, heat not on.
    Planned,
    /// Resting until an instant.
    Resting(EpochMs),
}

/// One entry of the day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Due {
    /// The batch.
    pub batch: Id,
    /// The load.
    pub load: Id,
    /// What it needs.
    pub need: Need,
}

/// The day's entries, the most pressing first.
#[must_use]
pub fn agenda(archive: &Archive, now: EpochMs) -> Vec<Due> {
    let mut due: Vec<Due> = archive
        .batches()
        .flat_map(|batch| batch.loads.iter().filter_map(move |load| entry(batch, load, now)))
        .collect();
    due.sort_by_key(|due| (due.need, due.batch, due.load));
    due
}

fn entry(batch: &Batch, load: &Load, now: EpochMs) -> Option<Due> {
    let need = match load.run.stage() {
        Stage::Loading => Need::Planned,
        Stage::Stopped(_) => return None,
        Stage::Resting(since) => {
            let rested = since.plus(Span::hours(RunPlan::REST_HOURS));
            match (load.unsettled(), load.unchecked()) {
                (1.., _) => Need::Unsealed(load.unsealed_deadline()?),
                (0, 0) => return None,
                _ if now >= rested => Need::CheckSeals,
                _ => Need::Resting(rested),
            }
        }
        _ => Need::Running,
    };
    Some(Due { batch: batch.id, load: load.id, need })
}
