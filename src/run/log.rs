//! What happened in a run, in order, and how long after the heat went on.
//!
//! Invariant: time here is time that surely passed: a clock that moved shifts
//! nothing, and no entry lies before the one ahead of it.

use super::clock::{Watch, uncounted_since};
use super::machine::Run;
use super::stage::{Stage, StageKind};
use crate::units::{EpochMs, PsiGauge, Span};

/// One thing that happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Happened {
    /// A stage began.
    Began(StageKind),
    /// The dial was read.
    Reading(PsiGauge),
    /// The weight was seen or heard to move as its maker describes.
    WeightSteady,
}

/// One entry, with the number of clock moves noted before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Entry {
    pub(super) watch: Watch,
    pub(super) at: EpochMs,
    pub(super) moves: usize,
    pub(super) what: Happened,
}

impl Run {
    /// What happened, each with the time that surely passed since the heat went on.
    /// From one phone's entry to another's the difference of their clocks is taken.
    #[must_use]
    pub fn happened(&self) -> Vec<(Span, Happened)> {
        let mut happened = Vec::with_capacity(self.log.len());
        let (mut passed, mut last) = (Span::ZERO, None);
        for entry in &self.log {
            if let Some(last) = last {
                passed = passed.plus(self.between(last, entry.watch, entry.at, entry.moves));
            }
            happened.push((passed, entry.what));
            last = Some(entry);
        }
        happened
    }

    /// Time that surely passed since the heat went on; never less than up to the
    /// last entry. `None` before the heat is on.
    #[must_use]
    pub fn since_heat(&self, now: EpochMs) -> Option<Span> {
        let (before, _) = *self.happened().last()?;
        let more = self.between(self.log.last()?, self.here, now, self.moves.len());
        Some(before.plus(more))
    }

    /// From an entry to a moment of a phone's clock, with so many moves noted by then.
    fn between(&self, from: &Entry, watch: Watch, at: EpochMs, moves: usize) -> Span {
        let noted = self.moves.get(..moves).unwrap_or_default();
        let moved = match from.watch == watch {
            true => uncounted_since(noted, from.moves, watch),
            false => Span::ZERO,
        };
        at.since(from.at).minus(moved).at_least_zero()
    }

    /// Every dial reading.
    #[must_use]
    pub fn readings(&self) -> Vec<(EpochMs, PsiGauge)> {
        let mut readings = Vec::new();
        for entry in &self.log {
            if let Happened::Reading(psi) = entry.what {
                readings.push((entry.at, psi));
            }
        }
        readings
    }

    /// Every look at the gauge: a reading, or a weight seen moving.
    #[must_use]
    pub fn looks(&self) -> Vec<(EpochMs, Happened)> {
        let mut looks = Vec::new();
        for entry in &self.log {
            if !matches!(entry.what, Happened::Began(_)) {
                looks.push((entry.at, entry.what));
            }
        }
        looks
    }

    /// The wall-clock instant of the next look at the gauge, `every` so long after
    /// the last one in this hold, or after the hold began; while it is missed, the
    /// last of the instants that have passed, each `every` after the one before.
    /// `None` outside the hold and when the full time is over by then: that rings
    /// anyway.
    #[must_use]
    pub fn look_due(&self, every: Span, now: EpochMs) -> Option<EpochMs> {
        let Stage::Holding(_) = self.stage() else { return None };
        let last = self.log.last()?;
        // Only a clock set back moves the instant. One set forward rings early, which
        // costs a look; waiting for time that may have passed could cost the load.
        let moves = self.moves.iter().skip(last.moves);
        let own = moves.filter(|m| m.watch == self.here);
        let back = own.fold(Span::ZERO, |sum, m| sum.plus(Span(m.by.0.min(0))));
        let first = last.at.plus(every).plus(back);
        let missed = now.since(first).at_least_zero().0.checked_div(every.0)?;
        let due = first.plus(Span(missed.saturating_mul(every.0)));
        self.due().is_none_or(|end| due < end).then_some(due)
    }
}
