//! The stage machine: the only place where a step changes a run.
//!
//! Invariant: the hold starts only at [`Step::AtPressure`], any drop sets it back
//! to zero, and [`Step::HeatOff`] is refused until the full time has passed on a
//! clock that never counts doubtful time.

use super::clock::{ClockMove, Trust, uncounted_since};
use super::log::{Entry, Happened};
use super::plan::RunPlan;
use super::stage::{Stage, StageKind};
use super::step::{DropCause, Step, StepError, StopCause};
use crate::units::{EpochMs, Minutes, Span};

/// A hold that was broken, and why.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Restart {
    /// When the drop was noted.
    pub at: EpochMs,
    /// Why the pressure fell.
    pub cause: DropCause,
    /// How long the broken hold had lasted.
    pub held: Span,
}

/// One load's run: a fold over its steps.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    plan: RunPlan,
    stage: Stage,
    /// Number of clock moves seen before the current stage began.
    moves_before: usize,
    /// Number of clock moves seen before the heat went on.
    moves_before_heat: usize,
    heat_on: Option<EpochMs>,
    hold: Option<(EpochMs, EpochMs)>,
    stopped: Option<StopCause>,
    restarts: Vec<Restart>,
    pub(super) log: Vec<Entry>,
    pub(super) moves: Vec<ClockMove>,
}

impl Run {
    /// A run that has not begun.
    #[must_use]
    pub const fn new(plan: RunPlan) -> Self {
        Self {
            plan,
            stage: Stage::Loading,
            moves_before: 0,
            moves_before_heat: 0,
            heat_on: None,
            hold: None,
            stopped: None,
            restarts: Vec::new(),
            log: Vec::new(),
            moves: Vec::new(),
        }
    }

    /// The numbers this run is held to.
    #[must_use]
    pub const fn plan(&self) -> RunPlan {
        self.plan
    }

    /// The stage reached.
    #[must_use]
    pub const fn stage(&self) -> Stage {
        self.stage
    }

    /// Start and end of the unbroken full hold; `None` until it is complete.
    #[must_use]
    pub const fn full_hold(&self) -> Option<(EpochMs, EpochMs)> {
        self.hold
    }

    /// Whether the load had its full unbroken time.
    #[must_use]
    pub const fn is_processed(&self) -> bool {
        self.hold.is_some()
    }

    /// Why the run was given up, if it was.
    #[must_use]
    pub const fn stopped(&self) -> Option<StopCause> {
        self.stopped
    }

    /// When the heat went on.
    #[must_use]
    pub const fn heat_on(&self) -> Option<EpochMs> {
        self.heat_on
    }

    /// Every broken hold.
    #[must_use]
    pub fn restarts(&self) -> &[Restart] {
        &self.restarts
    }

    /// Every clock change noted.
    #[must_use]
    pub fn clock_moves(&self) -> &[ClockMove] {
        &self.moves
    }

    /// Forward jumps of this stage the person has not yet answered for, summed.
    #[must_use]
    pub fn doubtful_time(&self) -> Span {
        self.moves
            .iter()
            .skip(self.moves_before)
            .filter(|m| m.trust == Trust::Open)
            .fold(Span::ZERO, |sum, m| sum.plus(m.by))
    }

    /// Time that surely passed in the current stage, never negative.
    #[must_use]
    pub fn elapsed(&self, now: EpochMs) -> Span {
        self.stage.since().map_or(Span::ZERO, |since| self.surely(since, self.moves_before, now))
    }

    fn surely(&self, since: EpochMs, first_move: usize, now: EpochMs) -> Span {
        now.since(since).minus(uncounted_since(&self.moves, first_move)).at_least_zero()
    }

    /// The least time the current stage must last, if it has one.
    #[must_use]
    pub fn least(&self) -> Option<Span> {
        match self.stage {
            Stage::WarmUp(_) if self.plan.heat_before_vent.0 > 0 => {
                Some(self.plan.heat_before_vent.span())
            }
            Stage::Venting(since) => Some(self.vent_needed(since)),
            Stage::Holding(_) => Some(self.plan.hold.span()),
            Stage::Standing(_) => Some(RunPlan::STAND.span()),
            Stage::Resting(_) => Some(Span::hours(RunPlan::REST_HOURS)),
            _ => None,
        }
    }

    /// Venting time: the plain minutes, or more where heating and venting
    /// together have a least time of their own.
    fn vent_needed(&self, since: EpochMs) -> Span {
        let plain = self.plan.vent.span();
        let Some(heat_on) = self.heat_on else { return plain };
        let moved = uncounted_since(&self.moves, self.moves_before_heat)
            .minus(uncounted_since(&self.moves, self.moves_before));
        let heated = since.since(heat_on).minus(moved).at_least_zero();
        plain.max(self.plan.heat_plus_vent.span().minus(heated))
    }

    /// Time the current stage still needs; `None` where no time is set.
    #[must_use]
    pub fn left(&self, now: EpochMs) -> Option<Span> {
        self.least().map(|least| least.minus(self.elapsed(now)).at_least_zero())
    }

    /// The wall-clock instant at which the current stage's time is over.
    #[must_use]
    pub fn due(&self) -> Option<EpochMs> {
        let since = self.stage.since()?;
        Some(since.plus(self.least()?).plus(uncounted_since(&self.moves, self.moves_before)))
    }

    /// Takes one step at a wall-clock time.
    ///
    /// # Errors
    /// [`StepError`] when the step does not belong here or a time is not over;
    /// the run is then unchanged.
    pub fn take(&mut self, step: Step, at: EpochMs) -> Result<(), StepError> {
        let wait = |run: &Self| match run.left(at) {
            Some(left) if left > Span::ZERO => {
                Err(StepError::TooSoon { stage: run.stage.kind(), left })
            }
            _ => Ok(()),
        };
        match (self.stage, step) {
            (Stage::Loading, Step::HeatOn) => {
                self.heat_on = Some(at);
                self.moves_before_heat = self.moves.len();
                self.enter(Stage::WarmUp(at));
            }
            (Stage::WarmUp(_), Step::SteamSteady) => {
                wait(self)?;
                self.enter(Stage::Venting(at));
            }
            (Stage::Venting(_), Step::SteamFaltered) => {
                // The heating time keeps running; only the venting starts over.
                self.stage = Stage::WarmUp(self.heat_on.unwrap_or(at));
                self.note(at, Happened::Began(StageKind::WarmUp));
                self.moves_before = self.moves_before_heat;
            }
            (Stage::Venting(_), Step::VentClosed) => {
                wait(self)?;
                self.enter(Stage::Rising(at));
            }
            (Stage::Rising(_), Step::AtPressure) => self.enter(Stage::Holding(at)),
            (Stage::Rising(_), Step::Reading(psi)) => self.note(at, Happened::Reading(psi)),
            (Stage::Holding(_), Step::WeightSteady) => self.note(at, Happened::WeightSteady),
            (Stage::Holding(_), Step::Reading(psi)) => {
                self.note(at, Happened::Reading(psi));
                if psi < self.plan.pressure {
                    self.restart(at, DropCause::LowReading);
                }
            }
            (Stage::Holding(_), Step::Dropped(cause)) => self.restart(at, cause),
            (Stage::Holding(since), Step::HeatOff) => {
                wait(self)?;
                self.hold = Some((since, at));
                self.enter(Stage::Falling(at));
            }
            (Stage::Falling(_), Step::WeightOff) => self.enter(Stage::Standing(at)),
            (Stage::Standing(_), Step::LidOpened) => {
                wait(self)?;
                self.enter(Stage::Unloading(at));
            }
            (Stage::Unloading(_), Step::Unloaded) => self.enter(Stage::Resting(at)),
            (
                Stage::Loading
                | Stage::WarmUp(_)
                | Stage::Venting(_)
                | Stage::Rising(_)
                | Stage::Holding(_),
                Step::Stopped(cause),
            ) => {
                self.stopped = Some(cause);
                self.enter(Stage::Stopped(at));
            }
            (stage, Step::ClockMoved { by, page }) if stage.since().is_some() => {
                self.moves.push(ClockMove::new(at, by, page));
            }
            (_, Step::ClockRight) => self.answer(Trust::Given),
            (_, Step::ClockWrong) => self.answer(Trust::Refused),
            (stage, _) => return Err(StepError::NotNow(stage.kind())),
        }
        Ok(())
    }

    fn enter(&mut self, stage: Stage) {
        self.moves_before = self.moves.len();
        self.stage = stage;
        if let Some(at) = stage.since() {
            self.note(at, Happened::Began(stage.kind()));
        }
    }

    fn note(&mut self, at: EpochMs, what: Happened) {
        self.log.push(Entry { at, moves: self.moves.len(), what });
    }

    fn restart(&mut self, at: EpochMs, cause: DropCause) {
        let held = self.elapsed(at);
        self.restarts.push(Restart { at, cause, held });
        self.enter(Stage::Rising(at));
    }

    /// The person compared the whole stage with another clock, so a yes is about
    /// every move since the stage began, back or forth; a no is about the open ones.
    fn answer(&mut self, trust: Trust) {
        for (index, m) in self.moves.iter_mut().enumerate() {
            if m.trust == Trust::Open || (trust == Trust::Given && index >= self.moves_before) {
                m.trust = if index >= self.moves_before { trust } else { Trust::Refused };
            }
        }
    }

    /// The stages whose minutes a doubtful clock could cut short.
    #[must_use]
    pub const fn is_timed_for_safety(&self) -> bool {
        matches!(
            self.stage.kind(),
            StageKind::WarmUp | StageKind::Venting | StageKind::Holding | StageKind::Standing
        )
    }

    /// The full time in minutes, for showing.
    #[must_use]
    pub const fn hold_minutes(&self) -> Minutes {
        self.plan.hold
    }
}
