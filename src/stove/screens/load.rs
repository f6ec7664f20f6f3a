//! One load: the run and the rest; the seal check follows on the same address.
//!
//! Invariant: one main action a stage; it is ready only when the stage machine
//! would take it.

use super::batch::another_load;
use super::dispute::dispute;
use super::load_parts::{doubt, drop_part, figures, lamp, leave, load_jars};
use super::log::{canner, log};
use super::not_here;
use super::seals::seals;
use crate::app::device::{clock, dom, files, sound};
use crate::app::draw::{
    El, Known, button, el, follow, later, link, memo, memo_by, of, region, say, spawn,
};
use crate::app::parts::{
    clock_face, due_at, foot, heading, items, mind_list, page, prep, translated,
};
use crate::app::store::Store;
use hearthjar::batch::{Body, Id, Load};
use hearthjar::exchange::{Reminder, When, calendar};
use hearthjar::present::{Action, Clock, Route, RunView, cold_line, dial_at_run, digits, lot_bars};
use hearthjar::process::{PrepStep, by_id};
use hearthjar::run::{RunPlan, Stage, StageKind, Step};
use hearthjar::t;
use hearthjar::units::{EpochMs, Span};
use std::cell::Cell;
use std::sync::Arc;

/// The load a screen is about.
#[derive(Clone, Copy)]
pub(super) struct Here {
    pub store: Store,
    pub batch: Id,
    pub load: Id,
    /// What the load is; changes only with the record.
    pub is: Known<Option<Arc<Load>>>,
}

impl Here {
    /// Records a step of this load.
    pub fn step(self, step: Step) {
        self.store.act(self.batch, Body::Ran { load: self.load, step });
    }

    /// Looks at the load; asked again when it changes.
    pub fn look<T>(self, read: impl FnOnce(Option<&Load>) -> T) -> T {
        read(self.is.get().as_deref())
    }

    /// What is in the jars, and which load of the batch it is.
    pub fn what(self) -> String {
        let number = self.is.get_untracked().map_or(1, |load| load.number);
        self.store.name_of(self.batch, number)
    }
}

/// Which of its two screens a load shows.
#[derive(Clone, PartialEq)]
enum Show {
    Missing,
    Seals,
    Stage(Box<RunView>, StageKind),
}

/// The load's screen.
pub fn load(store: Store, batch: Id, load: Id) -> Vec<El> {
    let is = memo_by(
        move || store.look(|archive| archive.stamp(batch)),
        move || store.look(|archive| archive.batch(batch)?.load(load).cloned().map(Arc::new)),
    );
    let here = Here { store, batch, load, is };
    // All of the view but its running time, so that a tick redraws only digits.
    let show = memo(move || {
        let now = store.now.get();
        here.look(|load| load.map_or(Show::Missing, |load| still(here, load, now)))
    });
    // A new stage is a new screen: who hears or types begins at its heading. A screen
    // drawn anew within a stage leaves the focus where it is.
    let stage = memo(move || match show.get() {
        Show::Stage(_, stage) => Some(stage),
        _ => None,
    });
    let first = Cell::new(true);
    follow(move || {
        stage.get();
        if !first.replace(false) {
            // In a task of its own: what has the focus must be laid out, which takes about
            // as long as drawing it.
            clock::soon(|| dom::focus("title"));
        }
    });
    let drawn = Cell::new(None);
    vec![region(move || match show.get() {
        Show::Missing => not_here(t!("This load is not in the record on this phone.")),
        Show::Seals => seals(here),
        Show::Stage(view, stage) => {
            let new = drawn.replace(Some(stage)) != Some(stage);
            stage_screen(here, view, stage, new)
        }
    })]
}

fn still(here: Here, load: &Load, now: EpochMs) -> Show {
    if let Stage::Resting(since) = load.run.stage() {
        let rested = since.plus(Span::hours(RunPlan::REST_HOURS));
        if now >= rested || load.unchecked() < load.jars.len() {
            return Show::Seals;
        }
    }
    let process = by_id(&load.plan.process);
    let water = process.map_or(t!("as the process says"), |process| process.water());
    let fill: Vec<String> = process
        .map(|process| {
            let space = process.headspace();
            t!("Headspace {} in ({} mm), from the food to the rim.", space, space.millimetres())
        })
        .into_iter()
        .collect();
    let mut view = RunView::of(load, now, water, &fill);
    view.clock = Clock::None;
    // A lot past a published limit is barred here as in the finder.
    let bars = || here.store.look(|archive| lot_bars(archive.batch(here.batch)?, now));
    if load.run.stage() == Stage::Loading
        && let Some(over) = bars()
    {
        view.action = None;
        view.notices.push(over.to_owned());
    }
    // The button follows the clock itself: the end of a wait draws nothing else anew.
    if let Some(action) = &mut view.action {
        action.wait = None;
    }
    Show::Stage(Box::new(view), load.run.stage().kind())
}

/// The load as its stage's own screen follows it: no more once another stage has begun,
/// when that screen is about to go and nothing of it need be drawn anew.
fn within(here: Here, stage: StageKind) -> Here {
    let last = Cell::new(0);
    let stamp = move || {
        if here.look(|load| load.is_some_and(|load| load.run.stage().kind() == stage)) {
            last.set(here.store.look_now(|archive| archive.stamp(here.batch)));
        }
        last.get()
    };
    Here { is: memo_by(stamp, move || here.is.get_untracked()), ..here }
}

/// A stage; what is read last comes last if the stage is new on the screen.
fn stage_screen(here: Here, view: Box<RunView>, stage: StageKind, new: bool) -> Vec<El> {
    let Some(load) = here.is.get_untracked() else { return Vec::new() };
    let here = within(here, stage);
    let back = link("", &Route::Batch(here.batch).hash(), &here.what());
    let left = of("div", "stage-clock")
        .child(of("p", "over-title").child(back))
        .child(heading(&view.title))
        .child(clock_face(here.store, here.is));
    let mut right =
        of("div", "stage-do").maybe(doubt(here, view.doubt)).child(region(move || dispute(here)));
    for notice in &view.notices {
        right = right.child(of("p", "said").text(notice));
    }
    right = right.child(items("todo", view.todo.iter().map(String::as_str))).child(figures(&load));
    if stage == StageKind::Loading {
        sound::make_soon();
        right = right.child(lot_line(here)).child(canner(here, &load));
    }
    let lower = lower(here, &view, &load);
    let right = match new {
        true => right.child(later(move || below(here, &view, &load, stage))),
        false => right.children(below(here, &view, &load, stage)),
    };
    vec![page(vec![left, right]), lower]
}

/// What of a stage lies below its instructions and its figures.
fn below(here: Here, view: &RunView, load: &Load, stage: StageKind) -> Vec<El> {
    let process = || by_id(&load.plan.process);
    let mut parts = Vec::new();
    if stage == StageKind::Loading {
        if let Some(process) = process() {
            parts.extend(prep(process, PrepStep::Keep, false));
            parts.extend(prep(process, PrepStep::Prepare, false));
            parts.extend(prep(process, PrepStep::Fill, true));
        }
        parts.push(load_jars(here));
    }
    if matches!(stage, StageKind::Rising | StageKind::Holding) {
        parts.push(log(here, load, stage));
    }
    parts.push(mind_list(&view.minds));
    parts.extend(translated(|| {}));
    if stage == StageKind::Holding {
        parts.push(hold_reminder(here));
    }
    if load.run.is_processed() {
        parts.push(another_load(here.store, here.batch, "second", &load.plan));
    }
    let (href, name) = match load.run.is_processed() {
        true => (Route::Heat(here.batch, here.load).hash(), t!("Heat the jars got")),
        false => (Route::Warming.hash(), t!("Why the full time")),
    };
    parts.push(of("p", "over-title").child(link("", &href, name)));
    if load.run.stage().is_attended() {
        parts.push(lamp());
    }
    if stage == StageKind::Resting {
        parts.extend(process().and_then(|process| prep(process, PrepStep::Open, false)));
    }
    parts.push(leave(here, stage));
    parts
}

/// The raw lot's time out of the cold, while it still runs.
fn lot_line(here: Here) -> El {
    let line = memo(move || {
        let now = here.store.now.get();
        here.store.look(|archive| Some(cold_line(archive.batch(here.batch)?.waiting_lot()?, now)))
    });
    region(move || line.get().map(|cold| of("p", "quiet").text(&cold)).into_iter().collect())
}

/// The main action, always at the same place.
fn lower(here: Here, view: &RunView, load: &Load) -> El {
    let today = || link("main", &Route::Today.hash(), t!("Today"));
    let Some(action) = view.action.clone() else {
        return match load.run.stage() {
            Stage::Resting(since) => rest(here, since.plus(Span::hours(RunPlan::REST_HOURS))),
            _ => foot(vec![today()]),
        };
    };
    let now = here.store.now.get_untracked();
    let dial = here.store.look_now(|archive| dial_at_run(archive.household(), &load.plan, now));
    if action.step == Step::HeatOn && dial.is_some_and(|dial| dial.bars(load.run.plan().pressure)) {
        return foot(vec![link("main", &Route::Batch(here.batch).hash(), t!("Another load"))]);
    }
    let mut children = Vec::new();
    if action.step == Step::HeatOff {
        children.push(drop_part(here));
    }
    let Action { step, label, .. } = action;
    let wait = move || {
        let now = here.store.now.get();
        here.look(|load| load?.run.left(now)).filter(|left| *left > Span::ZERO)
    };
    let main = el("button")
        .attr("type", "button")
        .attr("class", "main")
        .disabled_if(move || wait().is_some() || here.store.slow.get())
        .text_by(move || {
            wait().map_or_else(|| label.clone(), |left| t!("Wait {} more", digits(left)))
        })
        .on("click", move |_| {
            // The step first: it bears the time of the tap.
            here.step(step);
            // Browsers let a page sound only after a tap.
            sound::prime();
        });
    children.push(main);
    foot(children)
}

fn rest(here: Here, rested: EpochMs) -> El {
    let when = t!("Check the seals from {}.", due_at(here.store, rested));
    foot(vec![
        say("p", &when),
        button("second", t!("Put it in my calendar"), move || {
            let what = t!("Check the seals: {}", here.what());
            remind(
                here,
                "rest",
                rested,
                what,
                t!("12 hours of rest are over. Jars that did not seal must be dealt with within \
                     24 hours of the end of the full time."),
            );
        }),
        link("main", &Route::Today.hash(), t!("Today")),
    ])
}

/// An alarm in the phone's calendar for the end of the full time.
fn hold_reminder(here: Here) -> El {
    button("second", t!("Put the end in my calendar"), move || {
        let due = here.is.get_untracked().and_then(|load| load.run.due());
        if let Some(due) = due {
            let what = t!("Full time: {}", here.what());
            remind(
                here,
                "hold",
                due,
                what,
                t!("The full time is over if the pressure never dropped. Look at Hearthjar \
                     before you turn the heat off."),
            );
        }
    })
}

/// Hands the end of a long wait to the phone's calendar.
pub(super) fn remind(
    here: Here,
    kind: &'static str,
    at: EpochMs,
    summary: String,
    description: &str,
) {
    let description = description.to_owned();
    let when = When::At(at, Span::ZERO);
    let reminder = Reminder { about: here.load, kind, when, summary, description };
    let text = calendar(&[reminder], clock::now());
    let store = here.store;
    spawn(async move {
        match files::offer("hearthjar-reminder.ics", "text/calendar", &text).await {
            files::Offered::Failed => {
                store.warn(t!("This browser gives out no files. Set an alarm by hand."));
            }
            files::Offered::Cancelled => {}
            _ => store.say(t!("Open the file to add it to your calendar.")),
        }
    });
}
