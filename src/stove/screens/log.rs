//! The pressure log of a run: readings by tap, the next look, the chart.
//!
//! Invariant: a weighted gauge is not read as a number: it is seen moving, or it is
//! not, and then the full time starts over.

use super::load::Here;
use crate::app::draw::{El, button, derive, el, memo, of, region, say, signal};
use crate::app::parts::{chart, choices, due_at, psi_stepper, section, stroke, why};
use hearthjar::batch::{Id, Load};
use hearthjar::heat::{FRAME, look_text, pressure_log};
use hearthjar::present::{DIAL_RULES, dial_at_run};
use hearthjar::process::Gauge;
use hearthjar::run::{StageKind, Step};
use hearthjar::units::{Altitude, PsiGauge, Span};
use hearthjar::words::Word;
use hearthjar::{t, w};

/// Where it is published that a weight is watched, not read.
const WEIGHT: Word = w!("USDA Complete Guide to Home Canning, Guide 1, p. 1-22, 2015");

/// The log, from the closed vent to the end of the full time.
pub(super) fn log(here: Here, load: &Load, stage: StageKind) -> El {
    let dial = load.plan.gauge == Gauge::Dial;
    let holding = stage == StageKind::Holding;
    let last = load.run.readings().last().map_or(load.run.plan().pressure, |(_, psi)| *psi);
    let mut part =
        el("div").child(section(if dial { t!("Dial readings") } else { t!("The weight") }));
    if dial {
        // A reading under the figure is logged by going down from it, never by default.
        let tenths = signal(last.max(load.run.plan().pressure).tenths());
        part = part.child(psi_stepper(t!("Dial, psi"), tenths)).child(button(
            "second",
            t!("Log this reading"),
            move || {
                if let Ok(psi) = PsiGauge::from_tenths(tenths.get_untracked()) {
                    here.step(Step::Reading(psi));
                }
            },
        ));
    } else if holding {
        part = part
            .child(button("second", t!("It moves as its maker says"), move || {
                here.step(Step::WeightSteady);
            }))
            .child(why(t!("A weight has no figure to read: look and listen."), WEIGHT.say()));
    }
    if holding {
        part = part.child(reminder(here));
    }
    part.child(of("div", "").fill(move || here.look(|load| drawn(here, load?)).unwrap_or_default()))
}

/// When to look at the gauge again.
fn reminder(here: Here) -> El {
    let store = here.store;
    let every = derive(move || store.habit(|prefs| prefs.look_every.to_string()));
    let next = of("p", "quiet").text_by(move || {
        let every = store.habit(|prefs| prefs.look_every);
        let due =
            here.look(|load| load?.run.look_due(Span::minutes(every.into()), store.now.get()));
        match due.filter(|_| every > 0) {
            Some(due) if due <= store.now.get_untracked() => {
                t!("Look at the gauge now.").to_owned()
            }
            Some(due) => t!("Next look at {}.", due_at(store, due)),
            None => String::new(),
        }
    });
    let list = [("0", t!("off")), ("5", "5 min"), ("10", "10 min"), ("15", "15 min")];
    el("div")
        .child(choices(t!("Remind me to look"), "look", &list, every, move |key| {
            store.prefer(|prefs| prefs.look_every = key.parse().unwrap_or(0));
        }))
        .child(next)
}

/// The chart and the readings behind it.
fn drawn(here: Here, load: &Load) -> Option<Vec<El>> {
    let store = here.store;
    let altitude = store.look_now(|archive| {
        let start = archive.batch(here.batch).and_then(|batch| batch.start.as_ref());
        start.map_or(Altitude::SEA_LEVEL, |(_, start)| start.altitude)
    });
    let metric = store.habit(|prefs| prefs.metric);
    let log = pressure_log(load, altitude, store.now.get_untracked(), metric)?;
    let (left, right, ..) = FRAME;
    let y = log.required;
    let drawn = chart(
        &log.words,
        ["psi", t!("minutes since the vent was closed"), t!("steam")],
        &log.levels,
        &log.ticks,
    )
    .child(stroke("needed", &format!("M{left} {y}H{right}")))
    .child(stroke("gauge", &log.line))
    .child(stroke("looks", &log.looks))
    .child(stroke("dips", &log.dips));
    let lines = load.run.looks().into_iter().rev().map(|(at, look)| {
        let text = look_text(load, altitude, look, metric);
        say("li", &format!("{}: {text}", due_at(store, at)))
    });
    let words = of("p", "quiet").text(&log.words);
    let list = el("details")
        .child(say("summary", t!("All readings")))
        .child(of("ul", "plain").children(lines.collect()));
    Some(vec![drawn, words, list])
}

/// What is to be known of the canner before the heat goes on: its dial, its notes.
pub(super) fn canner(here: Here, load: &Load) -> El {
    let plan = load.plan.clone();
    let kept = memo(move || here.store.look(|archive| archive.stamp(Id::HOUSEHOLD)));
    region(move || {
        kept.get();
        let now = here.store.now.get_untracked();
        let (advice, notes) = here.store.look_now(|archive| {
            let household = archive.household();
            let mut canners = household.canners.iter();
            let kept = canners.find(|one| one.name == plan.canner && !one.name.is_empty());
            let notes = kept.map(|one| one.notes.clone());
            (dial_at_run(household, &plan, now), notes)
        });
        let mut lines = Vec::new();
        if let Some(advice) = advice {
            let class = if advice.setting.is_some() { "said" } else { "answer no" };
            lines.extend(advice.say.iter().map(|line| of("p", class).text(line)));
            lines.push(why("", DIAL_RULES.say()));
        }
        if let Some(notes) = notes.filter(|notes| !notes.is_empty()) {
            lines.push(of("p", "").child(say("b", t!("Your notes: "))).text(notes.as_str()));
        }
        lines
    })
}
