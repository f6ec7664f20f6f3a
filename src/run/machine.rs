//! The stage machine: the only place where a step changes a run.
//!
//! Invariant: the hold starts only at [`Step::AtPressure`], any drop sets it back
//! to zero, and [`Step::HeatOff`] is refused until the full time has passed on a
//! clock that never counts doubtful time. A wait is judged by the clock of the phone
//! that saw it begin; for another phone it begins when that one took it in.

use super::clock::{ClockMove, Page, Trust, Watch, uncounted_since};
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

/// Who saw the current stage begin, and when by its own clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Seen {
    watch: Watch,
    since: EpochMs,
    /// Number of clock moves noted before.
    moves_before: usize,
    /// Whether it told of the beginning, and did not only take it in.
    told: bool,
}

/// A full hold as it was told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Hold {
    /// By the clock of the phone that told of its end.
    from: EpochMs,
    to: EpochMs,
    /// The earliest beginning and the latest end by any clock.
    first: EpochMs,
    last: EpochMs,
    /// The phone that told of both ends.
    own: Watch,
}

/// One load's run: a fold over its steps.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    plan: RunPlan,
    stage: Stage,
    /// Whose view is asked for.
    pub(super) here: Watch,
    /// Who saw the current stage begin, the one who told of it first.
    seen: Vec<Seen>,
    /// Who saw the heat go on.
    heat_seen: Vec<Seen>,
    heat_on: Option<EpochMs>,
    hold: Option<Hold>,
    /// Another phone says that the hold broke.
    disputed: bool,
    /// Who had seen the last broken hold begin, and who told that it broke.
    broken: (Vec<Seen>, Watch),
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
            here: Watch(None),
            seen: Vec::new(),
            heat_seen: Vec::new(),
            heat_on: None,
            hold: None,
            disputed: false,
            broken: (Vec::new(), Watch(None)),
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
        if self.disputed { None } else { self.told_hold() }
    }

    /// Start and end of the full hold as told, though another phone may say it broke.
    #[must_use]
    pub const fn told_hold(&self) -> Option<(EpochMs, EpochMs)> {
        match self.hold {
            Some(hold) => Some((hold.from, hold.to)),
            None => None,
        }
    }

    /// Whether the load had its full unbroken time.
    #[must_use]
    pub const fn is_processed(&self) -> bool {
        self.full_hold().is_some()
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

    /// Every change of this phone's clock that was noted.
    pub fn clock_moves(&self) -> impl DoubleEndedIterator<Item = &ClockMove> {
        self.moves.iter().filter(|m| m.watch == self.here)
    }

    /// Looks at the run from another phone: times left, due and doubtful are by its
    /// clock from here on.
    pub const fn look_from(&mut self, here: Watch) {
        self.here = here;
    }

    /// Whether this phone knows by its own clock when the current stage began.
    #[must_use]
    pub fn is_seen_here(&self) -> bool {
        self.seen_by(self.here).is_some()
    }

    fn seen_by(&self, watch: Watch) -> Option<Seen> {
        self.seen.iter().find(|seen| seen.watch == watch).copied()
    }

    /// Forward jumps of this stage the person has not yet answered for, summed.
    #[must_use]
    pub fn doubtful_time(&self) -> Span {
        let Some(seen) = self.seen_by(self.here) else { return Span::ZERO };
        self.moves
            .iter()
            .skip(seen.moves_before)
            .filter(|m| m.trust == Trust::Open && m.watch == self.here)
            .fold(Span::ZERO, |sum, m| sum.plus(m.by))
    }

    /// Time that surely passed in the current stage, never negative.
    #[must_use]
    pub fn elapsed(&self, now: EpochMs) -> Span {
        self.elapsed_by(self.here, now)
    }

    fn elapsed_by(&self, watch: Watch, now: EpochMs) -> Span {
        self.seen_by(watch).map_or(Span::ZERO, |seen| self.surely(seen, now))
    }

    fn surely(&self, seen: Seen, now: EpochMs) -> Span {
        let uncounted = uncounted_since(&self.moves, seen.moves_before, seen.watch);
        now.since(seen.since).minus(uncounted).at_least_zero()
    }

    /// The least time the current stage must last, if it has one.
    #[must_use]
    pub fn least(&self) -> Option<Span> {
        self.least_by(self.here)
    }

    fn least_by(&self, watch: Watch) -> Option<Span> {
        match self.stage {
            Stage::WarmUp(_) if self.plan.heat_before_vent.0 > 0 => {
                Some(self.plan.heat_before_vent.span())
            }
            Stage::Venting(_) => Some(self.vent_needed(watch)),
            Stage::Holding(_) => Some(self.plan.hold.span()),
            Stage::Standing(_) => Some(RunPlan::STAND.span()),
            Stage::Resting(_) => Some(Span::hours(RunPlan::REST_HOURS)),
            _ => None,
        }
    }

    /// Venting time: the plain minutes, or more where heating and venting
    /// together have a least time of their own.
    fn vent_needed(&self, watch: Watch) -> Span {
        let heat = self.heat_seen.iter().find(|seen| seen.watch == watch).copied();
        let heated = match (heat, self.seen_by(watch)) {
            (Some(heat), Some(vent)) => {
                let moved = uncounted_since(&self.moves, heat.moves_before, watch)
                    .minus(uncounted_since(&self.moves, vent.moves_before, watch));
                vent.since.since(heat.since).minus(moved).at_least_zero()
            }
            _ => Span::ZERO,
        };
        self.plan.vent.span().max(self.plan.heat_plus_vent.span().minus(heated))
    }

    /// Time the current stage still needs; `None` where no time is set.
    #[must_use]
    pub fn left(&self, now: EpochMs) -> Option<Span> {
        self.left_by(self.here, now)
    }

    fn left_by(&self, watch: Watch, now: EpochMs) -> Option<Span> {
        let least = self.least_by(watch)?;
        Some(least.minus(self.elapsed_by(watch, now)).at_least_zero())
    }

    /// The wall-clock instant at which the current stage's time is over; `None` too
    /// while this phone does not know when the stage began.
    #[must_use]
    pub fn due(&self) -> Option<EpochMs> {
        let seen = self.seen_by(self.here)?;
        let uncounted = uncounted_since(&self.moves, seen.moves_before, seen.watch);
        Some(seen.since.plus(self.least()?).plus(uncounted))
    }

    /// Takes one step at a wall-clock time.
    ///
    /// # Errors
    /// [`StepError`], as for [`Run::take_by`].
    pub fn take(&mut self, step: Step, at: EpochMs) -> Result<(), StepError> {
        self.take_by(Watch(None), step, at)
    }

    /// Takes one step at a time read from a phone's own clock.
    ///
    /// # Errors
    /// [`StepError`] when the step does not belong here or a time is not over;
    /// the run is then unchanged.
    pub fn take_by(&mut self, watch: Watch, step: Step, at: EpochMs) -> Result<(), StepError> {
        let wait = |run: &Self| match run.left_by(watch, at) {
            Some(left) if left > Span::ZERO => {
                Err(StepError::TooSoon { stage: run.stage.kind(), left })
            }
            _ => Ok(()),
        };
        match (self.stage, step) {
            (Stage::Loading, Step::HeatOn) => {
                self.heat_on = Some(at);
                self.enter(Stage::WarmUp(at), watch, at);
                self.heat_seen.clone_from(&self.seen);
            }
            (Stage::WarmUp(_), Step::SteamSteady) => {
                wait(self)?;
                self.enter(Stage::Venting(at), watch, at);
            }
            (Stage::Venting(_), Step::SteamFaltered) => {
                // The heating time keeps running; only the venting starts over.
                self.stage = Stage::WarmUp(self.heat_on.unwrap_or(at));
                self.note(watch, at, Happened::Began(StageKind::WarmUp));
                self.seen.clone_from(&self.heat_seen);
            }
            (Stage::Venting(_), Step::VentClosed) => {
                wait(self)?;
                self.enter(Stage::Rising(at), watch, at);
            }
            (Stage::Rising(_), Step::AtPressure) => self.enter(Stage::Holding(at), watch, at),
            (Stage::Rising(_), Step::Reading(psi)) => {
                self.note(watch, at, Happened::Reading(psi));
            }
            (Stage::Holding(_), Step::WeightSteady) => {
                self.note(watch, at, Happened::WeightSteady);
            }
            (Stage::Holding(_), Step::Reading(psi)) => {
                self.note(watch, at, Happened::Reading(psi));
                if psi < self.plan.pressure {
                    self.restart(watch, at, DropCause::LowReading);
                }
            }
            (Stage::Holding(_), Step::Dropped(cause)) => self.restart(watch, at, cause),
            (Stage::Holding(_), Step::HeatOff) => {
                wait(self)?;
                self.hold = self.hold_by(&self.seen, watch, at);
                self.enter(Stage::Falling(at), watch, at);
            }
            // Whoever ends the hold here had not heard that it broke: the heat is off all
            // the same, and the hold is told, but disputed.
            (Stage::Rising(_) | Stage::Stopped(_), Step::HeatOff)
                if self.unaware_end(watch, at).is_some() =>
            {
                self.hold = self.unaware_end(watch, at);
                self.disputed = true;
                self.stopped = None;
                self.enter(Stage::Falling(at), watch, at);
            }
            (Stage::Falling(_), Step::WeightOff) => self.enter(Stage::Standing(at), watch, at),
            (Stage::Standing(_), Step::LidOpened) => {
                wait(self)?;
                self.enter(Stage::Unloading(at), watch, at);
            }
            (Stage::Unloading(_), Step::Unloaded) => self.enter(Stage::Resting(at), watch, at),
            (
                Stage::Loading
                | Stage::WarmUp(_)
                | Stage::Venting(_)
                | Stage::Rising(_)
                | Stage::Holding(_),
                Step::Stopped(cause),
            ) => {
                self.stopped = Some(cause);
                self.keep_broken(watch);
                self.enter(Stage::Stopped(at), watch, at);
            }
            (stage, Step::ClockMoved { by, page }) if stage.since().is_some() => {
                // From now on this phone knows, by its own clock, how long it has been.
                if page == Page::Elsewhere && self.seen_by(watch).is_none() {
                    self.see(watch, at.plus(Span::ZERO.minus(by)), false);
                }
                self.moves.push(ClockMove::new(at, by, page, watch));
            }
            (_, Step::ClockRight) => self.answer(watch, Trust::Given),
            (_, Step::ClockWrong) => self.answer(watch, Trust::Refused),
            (stage, step) => {
                if stage.is_begun_by(step) && self.seen_by(watch).is_none() {
                    // Two phones told of one beginning: each waits by its own clock.
                    self.see(watch, at, true);
                }
                return Err(StepError::NotNow(stage.kind()));
            }
        }
        Ok(())
    }

    fn enter(&mut self, stage: Stage, watch: Watch, at: EpochMs) {
        self.stage = stage;
        self.seen.clear();
        self.see(watch, at, true);
        self.note(watch, at, Happened::Began(stage.kind()));
    }

    fn note(&mut self, watch: Watch, at: EpochMs, what: Happened) {
        self.log.push(Entry { watch, at, moves: self.moves.len(), what });
    }

    fn see(&mut self, watch: Watch, since: EpochMs, told: bool) {
        self.seen.push(Seen { watch, since, moves_before: self.moves.len(), told });
    }

    fn hold_by(&self, all: &[Seen], watch: Watch, at: EpochMs) -> Option<Hold> {
        let seen = *all.iter().find(|seen| seen.watch == watch)?;
        let first = all.iter().fold(seen.since, |first, one| first.min(one.since));
        // A clock set back meanwhile makes the end look earlier than it was.
        let last = at.max(seen.since.plus(self.surely(seen, at)));
        let own = if seen.told { watch } else { Watch(None) };
        Some(Hold { from: seen.since, to: at, first, last, own })
    }

    /// Whether a phone that tells of a drop at a time of its clock may speak of the
    /// hold, complete or still running: not the one that began it itself, whose drops
    /// before that are its own restarts.
    #[must_use]
    pub fn is_within_hold(&self, watch: Watch, at: EpochMs) -> bool {
        match (self.hold, self.stage) {
            (Some(hold), _) => {
                let own = hold.own == watch && watch.0.is_some();
                !own && hold.first < at && at <= hold.last
            }
            (None, Stage::Holding(_)) => {
                let own = self.seen_by(watch).is_some_and(|seen| seen.told && watch.0.is_some());
                !own && self.seen.iter().any(|seen| seen.since < at)
            }
            _ => false,
        }
    }

    /// The hold as a phone ends it that had not heard from another that it broke; `None`
    /// if it is no full one by that phone's own clock, or the phone told of it itself.
    fn unaware_end(&self, watch: Watch, at: EpochMs) -> Option<Hold> {
        let (seen, by) = &self.broken;
        let hold = self.hold_by(seen, watch, at).filter(|_| *by != watch)?;
        let own = seen.iter().find(|seen| seen.watch == watch)?;
        (self.surely(*own, at) >= self.plan.hold.span()).then_some(hold)
    }

    fn keep_broken(&mut self, by: Watch) {
        let held = matches!(self.stage, Stage::Holding(_));
        self.broken = (if held { self.seen.clone() } else { Vec::new() }, by);
    }

    /// Whether another phone says that the hold was broken.
    #[must_use]
    pub const fn is_disputed(&self) -> bool {
        self.disputed
    }

    /// Another phone says that the hold was broken: it does not count. The stages go
    /// on, as the canner is hot all the same.
    pub const fn dispute(&mut self) {
        self.disputed = true;
    }

    fn restart(&mut self, watch: Watch, at: EpochMs, cause: DropCause) {
        let held = self.elapsed_by(watch, at);
        self.keep_broken(watch);
        self.restarts.push(Restart { at, cause, held });
        self.enter(Stage::Rising(at), watch, at);
    }

    /// The person compared the whole stage with another clock, so a yes is about
    /// every move since the stage began, back or forth; a no is about the open ones.
    fn answer(&mut self, watch: Watch, trust: Trust) {
        let first = self.seen_by(watch).map_or(self.moves.len(), |seen| seen.moves_before);
        for (index, m) in self.moves.iter_mut().enumerate().filter(|(_, m)| m.watch == watch) {
            if m.trust == Trust::Open || (trust == Trust::Given && index >= first) {
                m.trust = if index >= first { trust } else { Trust::Refused };
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
