//! The day sheet: when each step of each load begins.
//!
//! Invariant: times are instants shown as the browser's zone has them, so a change
//! of the clocks in the middle of the day cannot shift a step.

use super::Plan;
use super::result::{if_enough, load_line, problems};
use super::times::moment;
use crate::app::device::{clock, local};
use crate::app::draw::{El, el, of, say};
use crate::app::parts::{section, when_short};
use hearthjar::plan::{Day, Mark, Range, Schedule, Sheet, Step};
use hearthjar::present::words;
use hearthjar::t;
use hearthjar::units::{EpochMs, Span};

/// The day on the clock, if a date and time were given.
fn on_clock(plan: Plan, schedule: &Schedule) -> Option<Day> {
    let at = moment(plan)?.at();
    Some(if plan.draft.with(|draft| draft.ends) { schedule.until(at) } else { schedule.from(at) })
}

/// When to begin, and when the last jar is out.
pub(super) fn start_line(plan: Plan, sheet: &Sheet) -> Vec<El> {
    let Some(schedule) = &sheet.schedule else { return Vec::new() };
    let long = minutes(schedule.ends);
    let Some(day) = on_clock(plan, schedule) else {
        let text = t!("From the first step to the last jar out: {}.", long);
        return vec![of("p", "lead").text(&text)];
    };
    let title = if plan.draft.with(|draft| draft.ends) { t!("Start by") } else { t!("Start at") };
    let mut parts = vec![
        of("div", "answer yes")
            .child(say("h3", title))
            .child(date_and_time(plan, "", "", day.start))
            .child(say("p", &t!("{} in all.", long)))
            .child(date_and_time(plan, "", t!("The last jar is out by "), day.out.most())),
    ];
    if local::offset(day.start) != local::offset(day.checked.most()) {
        parts.push(of("p", "said").text(t!(
            "The clocks change during this day. Every time here is what your clock will show then, \
                 and each step has its full length."
        )));
    }
    let now = clock::now();
    if day.start < now {
        let out = when_short(plan.store, schedule.from(now).out.most());
        let text = t!("That start is past. Begun now, the last jar may not be out before {}.", out);
        parts.push(of("p", "said").text(&text));
    }
    parts
}

/// A date and a time of day that break only between the two.
fn date_and_time(plan: Plan, class: &str, before: &str, at: EpochMs) -> El {
    let local = local::time(at);
    let clock = local.clock(plan.store.habit(|prefs| prefs.face()));
    of("p", class)
        .text(before)
        .child(of("b", "one").text(&format!("{},", local.date())))
        .text(" ")
        .child(of("b", "one").text(&clock))
}

/// Minutes in words, from least to most.
fn minutes(range: Range<u32>) -> String {
    let text = |minutes: u32| words(Span::minutes(i64::from(minutes)));
    if range.is_single() {
        return if range.most() == 0 { t!("not counted").to_owned() } else { text(range.most()) };
    }
    match range.least() {
        0 => t!("up to {}", text(range.most())),
        least => t!("{} to {}", text(least), text(range.most())),
    }
}

/// The sheet.
pub(super) fn day(plan: Plan) -> Vec<El> {
    vec![crate::app::draw::region(move || {
        let sheet = plan.sheet.get();
        let Some(schedule) = &sheet.schedule else {
            let mut parts =
                vec![say("p", t!("The hours can be worked out when the plan is complete:"))];
            parts.extend(problems(&sheet));
            return parts;
        };
        let day = on_clock(plan, schedule);
        let mut parts = start_line(plan, &sheet);
        if day.is_none() {
            parts.push(
                of("p", "quiet").text(t!("Give a date and time under Plan to see the hours.")),
            );
        }
        if !sheet.before.is_empty() {
            parts.push(section(t!("Before the first jar")));
            parts.push(steps(plan, day, &schedule.before));
        }
        for (number, (load, marks)) in sheet.loads.iter().zip(&schedule.loads).enumerate() {
            parts.push(section(&t!("Load {}", number + 1)));
            let enough = if_enough(load).map(|text| format!(" ({text})")).unwrap_or_default();
            parts.push(say("p", &format!("{}{enough}", load_line(&sheet, load))));
            parts.push(steps(plan, day, marks));
        }
        parts.push(of("p", "quiet").text(t!(
            "Two times are the earliest and the latest. A drop in pressure starts the full time \
                 over and makes the day longer. After 12 to 24 hours of rest, check the seals."
        )));
        parts.extend(sources(&sheet));
        parts
    })]
}

fn steps(plan: Plan, day: Option<Day>, marks: &[Mark]) -> El {
    let next = marks.iter().skip(1).map(|mark| Some(mark.begins)).chain([None]);
    let lines = marks.iter().zip(next).map(|(mark, next)| {
        let time = match day {
            Some(day) => times(plan, day.start, mark.begins),
            None if mark.begins.most() == 0 => t!("at the start").to_owned(),
            None => t!("after {}", minutes(mark.begins)),
        };
        let name = mark.kind.name();
        // A step that takes no time is one nobody gave a time for.
        let name = if next == Some(mark.begins) {
            t!("{} (no time given)", name)
        } else {
            name.to_owned()
        };
        el("li").child(say("b", &time)).child(say("span", &name))
    });
    of("ol", "hours").children(lines.collect())
}

/// The clock times of a step; the weekday where it is not the day of the start.
fn times(plan: Plan, start: EpochMs, begins: Range<u32>) -> String {
    let face = plan.store.habit(|prefs| prefs.face());
    let first = local::time(start).date();
    let show = |minutes: u32| {
        let at = local::time(start.plus(Span::minutes(i64::from(minutes))));
        if at.date() == first { at.clock(face) } else { at.day_and_clock(face) }
    };
    if begins.is_single() {
        show(begins.most())
    } else {
        t!("{} to {}", show(begins.least()), show(begins.most()))
    }
}

/// Where the minutes come from, each step once.
fn sources(sheet: &Sheet) -> Vec<El> {
    let mut seen: Vec<Step> = Vec::new();
    let all = sheet.steps.iter().flat_map(|steps| steps.all());
    for step in sheet.before.iter().copied().chain(all) {
        if !seen.contains(&step) {
            seen.push(step);
        }
    }
    let lines = seen.iter().map(|step| {
        el("li")
            .text(&format!("{}: {}. ", step.kind.name(), minutes(step.minutes)))
            .child(of("span", "source").text(&step.origin.words()))
    });
    let list = of("ul", "plain").children(lines.collect());
    vec![el("details").child(say("summary", t!("Where the minutes come from"))).child(list)]
}
