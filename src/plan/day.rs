//! The hours of the day: several loads over the canners and stoves there are.
//!
//! Invariant: no step is planned shorter than its least time, a canner has one load
//! at a time and a stove one canner; if every step lasts no longer than its most,
//! the day ends no later than planned.

use super::ranged::Range;
use super::steps::{Step, StepKind, Steps};
use crate::run::RunPlan;
use crate::units::{EpochMs, Span};

/// A load that is to be run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Job {
    /// Its canner.
    pub lane: usize,
    /// Its steps.
    pub steps: Steps,
}

/// When a step begins, at the earliest and at the latest planned: minutes from the
/// start of the day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mark {
    /// The step.
    pub kind: StepKind,
    /// When it begins.
    pub begins: Range<u32>,
}

/// The whole day, counted from its start.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Schedule {
    /// Steps for the whole batch.
    pub before: Vec<Mark>,
    /// For each load its steps, then the end of unloading as the beginning of the rest.
    pub loads: Vec<Vec<Mark>>,
    /// Minutes to the last jar out of the canner.
    pub ends: Range<u32>,
    /// Minutes from the end of smoking to the last heat on, at most.
    pub stands: u32,
}

/// A schedule set on the clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Day {
    /// When the first step has to begin.
    pub start: EpochMs,
    /// When the last jar is out of the canner.
    pub out: Range<EpochMs>,
    /// When the seals of the last load may be checked.
    pub checked: Range<EpochMs>,
}

/// One run through the day with every step at one end of its range.
struct Pass {
    before: Vec<u32>,
    loads: Vec<Vec<u32>>,
    ends: u32,
    last_heat: u32,
    smoke_over: u32,
}

const KINDS: [StepKind; 9] = [
    StepKind::Pack,
    StepKind::WarmUp,
    StepKind::Vent,
    StepKind::Rise,
    StepKind::Hold,
    StepKind::Fall,
    StepKind::Wait,
    StepKind::Unload,
    StepKind::Rest,
];

/// The day of these loads, in this order, over so many stoves (at least one).
#[must_use]
pub fn schedule(before: &[Step], jobs: &[Job], stoves: usize) -> Schedule {
    // Order and canners are settled and stoves are alike, so a step that is quicker
    // can make no other later: the two ends of the ranges bound every day between.
    let most = pass(before, jobs, stoves.max(1), Range::most);
    let least = pass(before, jobs, stoves.max(1), Range::least);
    let marks =
        |kind: StepKind, one: u32, other: u32| Mark { kind, begins: Range::new(one, other) };
    let loads = least.loads.iter().zip(&most.loads).map(|(least, most)| {
        let times = least.iter().zip(most);
        KINDS.iter().zip(times).map(|(kind, (one, other))| marks(*kind, *one, *other)).collect()
    });
    Schedule {
        before: before
            .iter()
            .zip(least.before.iter().zip(&most.before))
            .map(|(step, (one, other))| marks(step.kind, *one, *other))
            .collect(),
        loads: loads.collect(),
        ends: Range::new(least.ends, most.ends),
        stands: most.last_heat.saturating_sub(most.smoke_over),
    }
}

fn pass(before: &[Step], jobs: &[Job], stoves: usize, end: fn(Range<u32>) -> u32) -> Pass {
    let mut now = 0_u32;
    let mut times =
        Pass { before: Vec::new(), loads: Vec::new(), ends: 0, last_heat: 0, smoke_over: 0 };
    for step in before {
        times.before.push(now);
        now += end(step.minutes);
        if step.kind == StepKind::Smoke {
            times.smoke_over = now;
        }
    }
    times.ends = now;
    let lanes = jobs.iter().map(|job| job.lane + 1).max().unwrap_or(0);
    let (mut hands, mut canners, mut burners) = (now, vec![now; lanes], vec![now; stoves]);
    for job in jobs {
        let [pack, warm_up, vent, rise, hold, fall, wait, unload, between] =
            job.steps.all().map(|step| end(step.minutes));
        let first = burners.iter().enumerate().min_by_key(|(_, free)| **free);
        let (stove, stove_free) = first.map_or((0, now), |(stove, free)| (stove, *free));
        let canner_free = canners.get(job.lane).copied().unwrap_or(now);
        // Packing ends as the canner and the stove are free, so that filled jars
        // do not stand about.
        let heat_on = (hands + pack).max(canner_free).max(stove_free);
        let mut marks = vec![heat_on - pack, heat_on];
        let mut at = heat_on;
        for minutes in [warm_up, vent, rise, hold, fall, wait, unload] {
            at += minutes;
            marks.push(at);
        }
        let heat_off = heat_on + warm_up + vent + rise + hold;
        hands = heat_on;
        if let Some(free) = burners.get_mut(stove) {
            *free = heat_off;
        }
        if let Some(free) = canners.get_mut(job.lane) {
            *free = at + between;
        }
        times.ends = times.ends.max(at);
        times.last_heat = times.last_heat.max(heat_on);
        times.loads.push(marks);
    }
    times
}

impl Schedule {
    /// The day that begins at an instant.
    #[must_use]
    pub fn from(&self, start: EpochMs) -> Day {
        let out = Range::new(self.at(start, self.ends.least()), self.at(start, self.ends.most()));
        let checked = Range::new(
            out.least().plus(Span::hours(RunPlan::REST_HOURS)),
            out.most().plus(Span::hours(RunPlan::REST_HOURS_MAX)),
        );
        Day { start, out, checked }
    }

    /// The day whose last jar is out by an instant, even if every step takes its
    /// longest.
    #[must_use]
    pub fn until(&self, deadline: EpochMs) -> Day {
        self.from(EpochMs(deadline.0.saturating_sub(Span::minutes(i64::from(self.ends.most())).0)))
    }

    /// The instant so many minutes into a day.
    #[must_use]
    pub const fn at(&self, start: EpochMs, minutes: u32) -> EpochMs {
        start.plus(Span::minutes(minutes as i64))
    }
}
