//! What is on and what is due, across all batches.
//!
//! Invariant: the most pressing comes first; nothing that still needs a hand is
//! left out.

use crate::batch::{Archive, Batch, Id, Load};
use crate::order;
use crate::run::{RunPlan, Stage};
use crate::units::{EpochMs, Span};

/// What a load needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// The canner is hot: someone is at it.
    Running,
    /// Two phones disagree whether the load had its full time: its jars wait until a
    /// person settles it.
    Disputed,
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
    /// When the load was planned, and its number in the batch.
    pub planned: (EpochMs, u16),
}

/// The day's entries, the most pressing first.
#[must_use]
pub fn agenda(archive: &Archive, now: EpochMs) -> Vec<Due> {
    let mut due = Vec::new();
    for (batch, load) in archive.loads_at_work() {
        due.extend(entry(batch, load, now));
    }
    order::by_key(due, |due| (due.need.rank(), due.place()))
}

impl Due {
    /// Among equals: the load planned first, then by number, then by name.
    fn place(&self) -> u128 {
        let (at, number) = self.planned;
        let at = u128::from(at.0.unsigned_abs());
        // An instant has 53 bits; 48 of the name part what else is equal.
        (at << 64) | (u128::from(number) << 48) | (self.batch.number() >> 80)
    }
}

impl Need {
    /// The most pressing first; among equals the earlier deadline.
    const fn rank(self) -> i64 {
        // Instants stay under 2^53, so whole steps of 2^54 keep the kinds apart.
        const STEP: i64 = 1 << 54;
        match self {
            Self::Running => 0,
            Self::Disputed => STEP,
            Self::Unsealed(deadline) => 2 * STEP + deadline.0,
            Self::CheckSeals => 3 * STEP,
            Self::Planned => 4 * STEP,
            Self::Resting(until) => 5 * STEP + until.0,
        }
    }
}

fn entry(batch: &Batch, load: &Load, now: EpochMs) -> Option<Due> {
    let need = match load.run.stage() {
        Stage::Loading => Need::Planned,
        Stage::Stopped(_) => return None,
        Stage::Resting(_) if load.is_done() => return None,
        Stage::Resting(_) if load.is_disputed() => Need::Disputed,
        Stage::Resting(since) => {
            let rested = since.plus(Span::hours(RunPlan::REST_HOURS));
            match load.unsettled() {
                1.. => Need::Unsealed(load.unsealed_deadline()?),
                0 if now >= rested => Need::CheckSeals,
                0 => Need::Resting(rested),
            }
        }
        _ => Need::Running,
    };
    Some(Due { batch: batch.id, load: load.id, need, planned: (load.planned_at, load.number) })
}
