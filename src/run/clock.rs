//! Changes of the wall clock during a run, and what they do to elapsed time.
//!
//! Invariant: time that may not have passed does not count. A forward jump
//! counts only after the person has said the clock is right. Times read from
//! different phones' clocks are never taken one from the other unasked.

use crate::keys::keys;
use crate::units::{EpochMs, Span};

/// What the page was doing when the clock moved against it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Page {
    /// On screen and running.
    Shown,
    /// Hidden, perhaps asleep.
    Hidden,
    /// Closed: nothing watched the clock.
    Closed,
    /// Not here: another phone saw the stage begin, by a clock of its own.
    Elsewhere,
}

/// Whose clock a time was read from: a phone's name; `None` where none was noted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Watch(pub Option<u128>);

/// Whether the time of a jump counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trust {
    /// It does not, and nothing is to be asked.
    Refused,
    /// It does not yet: the person is asked.
    Open,
    /// It does: the person said the clock is right.
    Given,
}

/// One jump of the wall clock against the steady clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ClockMove {
    /// Wall-clock time after the jump.
    pub at: EpochMs,
    /// How far the wall clock moved against the steady one; negative is back.
    pub by: Span,
    /// What the page was doing.
    pub page: Page,
    /// Whether the jump counts as time passed.
    pub trust: Trust,
    /// Whose clock moved.
    pub watch: Watch,
}

impl ClockMove {
    /// A jump as it is first noted.
    #[must_use]
    pub const fn new(at: EpochMs, by: Span, page: Page, watch: Watch) -> Self {
        // A sleeping phone and a changed clock look alike from here, whatever the
        // page was doing, so every forward jump waits for an answer.
        let trust = if by.0 > 0 { Trust::Open } else { Trust::Refused };
        Self { at, by, page, trust, watch }
    }

    /// The part of the wall-clock difference that is not counted.
    #[must_use]
    pub const fn uncounted(&self) -> Span {
        match self.trust {
            Trust::Given => Span::ZERO,
            Trust::Refused | Trust::Open => self.by,
        }
    }
}

/// What must be taken off the difference a phone's clock shows since `first`.
pub(crate) fn uncounted_since(moves: &[ClockMove], first: usize, watch: Watch) -> Span {
    let own = moves.iter().skip(first).filter(|m| m.watch == watch);
    own.fold(Span::ZERO, |sum, m| sum.plus(m.uncounted()))
}

keys!(Page { Shown = "shown", Hidden = "hidden", Closed = "closed", Elsewhere = "elsewhere" });
