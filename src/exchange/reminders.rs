//! Which reminders the record calls for.
//!
//! Invariant: one reminder a kind and subject, only for what lies ahead; the same
//! record gives the same reminders under the same names.

use super::calendar::{Reminder, When};
use super::stamp::Local;
use crate::batch::{Archive, Batch, Load};
use crate::process::Gauge;
use crate::run::{RunPlan, Stage};
use crate::shelf::BEST_WITHIN;
use crate::t;
use crate::units::{EpochMs, Span};

/// How long before the deadline for unsealed jars the alarm sounds: time enough
/// to check and refrigerate (common practice, no source).
const UNSEALED_AHEAD: Span = Span::hours(2);

/// Every reminder of the record from `now` on.
#[must_use]
pub fn reminders(archive: &Archive, now: EpochMs, local: Local<'_>) -> Vec<Reminder> {
    let mut all = Vec::new();
    for (batch, load) in archive.loads() {
        all.extend(rest_end(batch, load, now));
        all.extend(unsealed(batch, load, now));
        all.extend(best_by(batch, load, now, local));
    }
    all.extend(gauge_checks(archive, now, local));
    all
}

fn what(batch: &Batch, load: &Load) -> String {
    let content = batch.start.as_ref().map_or("", |(_, start)| start.content.as_str());
    t!("{}, load {}", content, load.number)
}

fn rest_end(batch: &Batch, load: &Load, now: EpochMs) -> Option<Reminder> {
    let Stage::Resting(since) = load.run.stage() else { return None };
    let end = since.plus(Span::hours(RunPlan::REST_HOURS));
    (load.unchecked() > 0 && end >= now).then(|| Reminder {
        about: load.id,
        kind: "rest",
        when: When::At(end, Span::ZERO),
        summary: t!("Check the seals: {}", what(batch, load)),
        description: t!("12 hours of rest are over (USDA Complete Guide to Home Canning, Guide 1, p. 1-25, 2015). Press each lid; take the bands off and wipe the jars.")
            .to_owned(),
    })
}

fn unsealed(batch: &Batch, load: &Load, now: EpochMs) -> Option<Reminder> {
    let open = load.unsettled() > 0 || load.unchecked() > 0;
    let resting = matches!(load.run.stage(), Stage::Resting(_));
    let deadline = load.unsealed_deadline().filter(|at| open && resting && *at >= now)?;
    Some(Reminder {
        about: load.id,
        kind: "unsealed",
        when: When::At(deadline, UNSEALED_AHEAD),
        summary: t!("Unsealed jars must be dealt with by now: {}", what(batch, load)),
        description:
            t!("A jar that did not seal is refrigerated, frozen or run again within 24 hours of processing, or thrown out (USDA Complete Guide to Home Canning, Guide 1, p. 1-26, 2015).")
                .to_owned(),
    })
}

fn best_by(batch: &Batch, load: &Load, now: EpochMs, local: Local<'_>) -> Option<Reminder> {
    let (_, start) = batch.start.as_ref()?;
    let (_, canned) = load.run.full_hold()?;
    let best_by = canned.plus(BEST_WITHIN);
    let (jars, content) = (load.sealed(), start.content.as_str());
    (jars > 0 && best_by >= now).then(|| Reminder {
        about: load.id,
        kind: "best-by",
        when: When::On(local(best_by)),
        summary: t!("Best by today: {}, {} × {}", content, jars, start.jar.name()),
        description: t!("Plan to use jars within a year of canning (USDA Complete Guide to Home Canning, Guide 1, p. 1-12, 2015). Check each seal before you open one.")
            .to_owned(),
    })
}

fn gauge_checks(archive: &Archive, now: EpochMs, local: Local<'_>) -> Vec<Reminder> {
    let household = archive.household();
    let mut due = Vec::new();
    for canner in household.canners.iter().filter(|canner| canner.gauge == Gauge::Dial) {
        let Some(check) = household.check(canner.canner) else { continue };
        if check.valid_until() < now {
            continue;
        }
        due.push(Reminder {
            about: canner.canner,
            kind: "gauge",
            when: When::On(local(check.valid_until())),
            summary: t!("Have the dial gauge checked: {}", canner.name.as_str()),
            description: t!("Dial gauges are checked every year before use (USDA Complete Guide to Home Canning, Guide 1, p. 1-20, 2015).")
                .to_owned(),
        });
    }
    due
}
