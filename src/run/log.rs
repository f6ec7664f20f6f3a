//! What happened in a run, in order, and how long after the heat went on.
//!
//! Invariant: time here is time that surely passed: a clock that moved shifts
//! nothing, and no entry lies before the one ahead of it.

use super::clock::{ClockMove, uncounted_since};
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
    pub(super) at: EpochMs,
    pub(super) moves: usize,
    pub(super) what: Happened,
}

impl Run {
    /// What happened, each with the time that surely passed since the heat went on.
    #[must_use]
    pub fn happened(&self) -> Vec<(Span, Happened)> {
        let Some(first) = self.log.first() else { return Vec::new() };
        let mut last = Span::ZERO;
        let mut happened = Vec::with_capacity(self.log.len());
        for entry in &self.log {
            let between = self.moves.get(first.moves..entry.moves).unwrap_or_default();
            last = last.max(surely(first.at, entry.at, between));
            happened.push((last, entry.what));
        }
        happened
    }

    /// Time that surely passed since the heat went on; never less than up to the
    /// last entry. `None` before the heat is on.
    #[must_use]
    pub fn since_heat(&self, now: EpochMs) -> Option<Span> {
        let first = self.log.first()?;
        let moves = self.moves.get(first.moves..).unwrap_or_default();
        let last = self.happened().last().map_or(Span::ZERO, |(at, _)| *at);
        Some(last.max(surely(first.at, now, moves)))
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
        let back = moves.fold(Span::ZERO, |sum, m| sum.plus(Span(m.by.0.min(0))));
        let first = last.at.plus(every).plus(back);
        let missed = now.since(first).at_least_zero().0.checked_div(every.0)?;
        let due = first.plus(Span(missed.saturating_mul(every.0)));
        self.due().is_none_or(|end| due < end).then_some(due)
    }
}

fn surely(from: EpochMs, to: EpochMs, moves: &[ClockMove]) -> Span {
    to.since(from).minus(uncounted_since(moves, 0)).at_least_zero()
}
