//! The pieces of the run's screen.
//!
//! Invariant: the restart after a drop cannot be passed by; every tap can be
//! taken back.

use super::load::Here;
use crate::app::device::wake::{self, Wake};
use crate::app::draw::{El, Var, button, el, follow, of, region, say, signal};
use crate::app::parts::{due_at, stepper, take_back, why};
use hearthjar::batch::{Body, Load};
use hearthjar::present::{Route, words};
use hearthjar::process::Gauge;
use hearthjar::run::{DropCause, Page, Stage, StageKind, Step, StopCause};
use hearthjar::t;
use hearthjar::units::Span;

/// The question a forward jump of the clock raises.
pub(super) fn doubt(here: Here, doubt: Option<Span>) -> Option<El> {
    let since = here.is.get_untracked()?.run.stage().since()?;
    // Looked up once: the view it belongs to is drawn anew when the question changes.
    let last = here.is.with_untracked(|load| Some(load.as_ref()?.run.clock_moves().last()?.page));
    let elsewhere = last == Some(Page::Elsewhere);
    let moved = match elsewhere {
        true => t!("Another phone began this step {} before, by its clock.", words(doubt?)),
        false => {
            t!(
                "The clock moved forward {} while this page was not watching.",
                words(doubt?.plus(Span(500)))
            )
        }
    };
    let yes =
        if elsewhere { t!("Yes, it has been that long") } else { t!("Yes, the phone only slept") };
    let ask = el("p").text_by(move || {
        t!(
            "This step began at {}. Look at another clock: have {} really passed?",
            due_at(here.store, since),
            words(here.store.now.get().since(since))
        )
    });
    let question = of("div", "question")
        .attr("role", "alert")
        .child(el("p").child(say("strong", &moved)))
        .child(ask)
        .child(button("second", yes, move || here.step(Step::ClockRight)))
        .child(button("second", t!("No, or not sure: do not count it"), move || {
            here.step(Step::ClockWrong);
        }));
    Some(question)
}

/// The numbers this load is held to, with their publication.
pub(super) fn figures(load: &Load) -> El {
    let plan = load.run.plan();
    let added = match load.plan.added {
        0 => String::new(),
        psi => t!(", {} of it for a dial that reads high", psi),
    };
    let text = t!(
        "{} min at {} psi ({} kPa), {}{}",
        plan.hold,
        plan.pressure,
        plan.pressure.kpa(),
        load.plan.gauge.name(),
        added
    );
    of("div", "held").child(say("p", &text)).child(why("", &load.plan.publication))
}

/// How many jars the load has, until the heat is on.
pub(super) fn load_jars(here: Here) -> El {
    // Counted up from what was last asked for, which may not be written yet.
    let count = signal(0);
    follow(move || {
        let jars = here.look(|load| load.map_or(0, |load| load.jars.len()));
        count.set(u16::try_from(jars).unwrap_or(0));
    });
    stepper(t!("Jars in this load"), count.into(), 1, 60, move |jars| {
        count.set(jars);
        here.store.act(here.batch, Body::JarsCounted { load: here.load, jars });
    })
}

/// The drop: says why, starts the full time over.
pub(super) fn drop_part(here: Here) -> El {
    let open = signal(false);
    region(move || {
        if !open.get() {
            return vec![button("danger", t!("Pressure dropped"), move || open.set(true))];
        }
        let weighted = here.look(|load| load.is_none_or(|load| load.plan.gauge == Gauge::Weighted));
        let causes = [
            (DropCause::HeatTooLow, t!("Heat was too low")),
            (DropCause::FuelOut, t!("Fuel or power ran out")),
            (DropCause::WeightStill, t!("The weight stopped")),
            (DropCause::Leak, t!("It leaked")),
            (DropCause::Unsure, t!("Not sure")),
        ];
        let buttons = causes
            .into_iter()
            .filter(|(cause, _)| weighted || *cause != DropCause::WeightStill)
            .map(|(cause, name)| button("second", name, move || here.step(Step::Dropped(cause))))
            .collect();
        let sheet = of("div", "sheet")
            .attr("role", "group")
            .attr("aria-label", t!("Why did the pressure drop?"))
            .child(el("p").child(say("strong", t!("Why? The full time starts over from zero."))))
            .children(buttons)
            .child(button("second", t!("It did not drop"), move || open.set(false)));
        vec![sheet]
    })
}

/// What the screen lamp can be relied on for.
pub(super) fn lamp() -> El {
    let state = wake::state();
    let held = move || match state.map(Var::get) {
        Some(Wake::Held) => t!("The screen stays on."),
        Some(Wake::Refused) => t!("The phone will not keep the screen on."),
        Some(Wake::Missing) => {
            t!("This browser cannot keep the screen on: set the phone not to sleep.")
        }
        _ => t!("The screen may go dark."),
    };
    of("p", "quiet")
        .text_by(move || held().to_owned())
        .text(t!(" A locked or sleeping phone may not ring: set a kitchen timer too."))
}

/// Taking back the last tap, and giving up.
pub(super) fn leave(here: Here, stage: StageKind) -> El {
    let undo = region(move || {
        let last = here.look(|load| load?.last);
        last.into_iter().map(|event| take_back(here.store, here.batch, event)).collect()
    });
    let hot = matches!(
        stage,
        StageKind::WarmUp | StageKind::Venting | StageKind::Rising | StageKind::Holding
    );
    let remove = region(move || {
        // The numbers of other loads stay: only the newest goes, only untouched, and never
        // the only one, which the batch was begun for.
        let newest = here.look(|load| {
            load.is_some_and(|load| load.last.is_none() && load.run.stage() == Stage::Loading)
        }) && here.store.look(|archive| {
            let Some(batch) = archive.batch(here.batch) else { return false };
            batch.loads.len() > 1 && batch.loads.last().is_some_and(|load| load.id == here.load)
        });
        newest
            .then(|| button("second", t!("Remove this load"), move || removed(here)))
            .into_iter()
            .collect()
    });
    of("div", "leave").child(undo).child(remove).maybe(hot.then(|| give_up(here)))
}

/// A load planned by mistake goes; its batch stays, and another one can be planned.
fn removed(here: Here) {
    let gone = Body::Undone { event: here.load };
    here.store.act_all(here.batch, vec![gone], move |_| {
        here.store.go(Route::Batch(here.batch));
    });
}

fn give_up(here: Here) -> El {
    let causes = [
        (StopCause::FuelOut, t!("Fuel or power is gone")),
        (StopCause::CannerFault, t!("The canner leaks or fails")),
        (StopCause::BoiledDry, t!("It may have boiled dry")),
        (StopCause::Other, t!("Another reason")),
    ];
    let buttons = causes
        .into_iter()
        .map(|(cause, name)| button("second", name, move || here.step(Step::Stopped(cause))))
        .collect();
    of("details", "stop")
        .child(say("summary", t!("Stop this load")))
        .child(say("p", t!("The load then counts as not processed.")))
        .children(buttons)
}
