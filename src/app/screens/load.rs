//! One load: the run, the rest, the seal check and what follows it.
//!
//! Invariant: one main action a stage; it is ready only when the stage machine
//! would take it.

use super::seals::seals;
use crate::app::device::{files, sound, wake};
use crate::app::parts::{clock_face, due_at, heading, mind_list, section, stepper, why};
use crate::app::store::Store;
use crate::app::{Lamp, device::clock};
use hearthjar::batch::{Body, Id, Load};
use hearthjar::exchange::{Reminder, calendar};
use hearthjar::present::{Action, Route, RunView, words};
use hearthjar::process::{Gauge, by_id};
use hearthjar::run::{DropCause, Stage, StageKind, Step, StopCause};
use hearthjar::units::{EpochMs, PsiGauge, Span};
use leptos::prelude::*;

/// The load a screen is about.
#[derive(Clone, Copy)]
struct Here {
    store: Store,
    batch: Id,
    load: Id,
    /// What the load is; changes only with the record.
    is: Memo<Option<Load>>,
}

impl Here {
    fn step(self, step: Step) {
        self.store.act(self.batch, Body::Ran { load: self.load, step });
    }
}

/// The load's screen.
pub fn load(store: Store, batch: Id, load: Id) -> AnyView {
    let is =
        Memo::new(move |_| store.archive.with(|archive| archive.batch(batch)?.load(load).cloned()));
    let here = Here { store, batch, load, is };
    // All of the view but its running time, so that a tick redraws only digits.
    let still = Memo::new(move |_| {
        let now = store.now.get();
        is.with(|load| {
            let load = load.as_ref()?;
            let process = by_id(&load.plan.process);
            let water = process.map_or("as the process says", |process| process.water());
            let mut view = RunView::of(load, now, water, &fill(load));
            view.clock = hearthjar::present::Clock::None;
            if let Some(Action { wait: Some(wait), .. }) = &mut view.action {
                *wait = Span(1);
            }
            Some(view)
        })
    });
    view! {
        {move || match (still.get(), is.with(Option::is_some)) {
            (Some(view), true) => stage(here, view),
            _ => view! {
                {heading("Not here")}
                <p class="lead">"This load is not in the record on this phone."</p>
                <div class="foot"><a class="main" href=Route::Today.hash()>"Today"</a></div>
            }.into_any(),
        }}
    }
    .into_any()
}

/// How to fill the jars of a load.
fn fill(load: &Load) -> Vec<String> {
    let Some(process) = by_id(&load.plan.process) else { return Vec::new() };
    let headspace = process.headspace();
    vec![format!(
        "Headspace {headspace} in ({} mm), from the food to the rim.",
        headspace.millimetres()
    )]
}

fn stage(here: Here, view: RunView) -> AnyView {
    let Some(load) = here.is.get_untracked() else { return ().into_any() };
    let what = here.store.archive.with_untracked(|archive| {
        let (_, start) = archive.batch(here.batch)?.start.as_ref()?;
        Some(format!("{}, load {}", start.content.as_str(), load.number))
    });
    if let Stage::Resting(since) = load.run.stage() {
        let rested = since.plus(Span::hours(12));
        if here.store.now.get_untracked() >= rested || load.unchecked() < load.jars.len() {
            return seals(here.store, here.batch, load, what.unwrap_or_default());
        }
    }
    let todo: Vec<AnyView> =
        view.todo.iter().map(|todo| view! { <li>{todo.clone()}</li> }.into_any()).collect();
    let notices: Vec<AnyView> = view
        .notices
        .iter()
        .map(|notice| view! { <p class="said">{notice.clone()}</p> }.into_any())
        .collect();
    view! {
        <div class="stage">
            <div class="stage-clock">
                <p class="over-title"><a href=Route::Batch(here.batch).hash()>{what}</a></p>
                {heading(view.title.clone())}
                {clock_face(here.store, here.is)}
            </div>
            <div class="stage-do">
                {doubt(here, &load, view.doubt)}
                {notices}
                <ul class="todo">{todo}</ul>
                {figures(&load)}
                {extras(here, &load)}
                {mind_list(&view.minds)}
                {lamp(&load)}
                {leave(here, &load)}
            </div>
            {foot(here, view.action, &load)}
        </div>
    }
    .into_any()
}

/// The main action, always at the same place.
fn foot(here: Here, action: Option<Action>, load: &Load) -> AnyView {
    let Some(action) = action else {
        return match load.run.stage() {
            Stage::Resting(since) => rest_foot(here, since),
            _ => view! {
                <div class="foot"><a class="main" href=Route::Today.hash()>"Today"</a></div>
            }
            .into_any(),
        };
    };
    let step = action.step;
    let waiting = action.wait.is_some();
    let primes = matches!(step, Step::HeatOn | Step::SteamSteady | Step::AtPressure);
    let label = action.label;
    let wait = move || {
        let left =
            here.is.with(|load| load.as_ref().and_then(|load| load.run.left(here.store.now.get())));
        format!("Wait {} more", left.map_or_else(String::new, hearthjar::present::digits))
    };
    let text = move || if waiting { wait() } else { label.clone() };
    let drop = (load.run.stage().kind() == StageKind::Holding).then(|| drop_part(here));
    view! {
        <div class="foot">
            {drop}
            <button type="button" class="main" disabled=move || waiting || here.store.busy.get()
                on:click=move |_| {
                    if primes {
                        sound::prime();
                    }
                    here.step(step);
                }>{text}</button>
        </div>
    }
    .into_any()
}

fn rest_foot(here: Here, since: EpochMs) -> AnyView {
    let rested = since.plus(Span::hours(12));
    let reminder = move |_| {
        let (store, batch, load) = (here.store, here.batch, here.load);
        let content = store.archive.with_untracked(|archive| {
            let (_, start) = archive.batch(batch)?.start.as_ref()?;
            Some(start.content.as_str().to_owned())
        });
        let reminders = [Reminder {
            load,
            kind: "rest",
            at: rested,
            summary: format!("Check the seals: {}", content.unwrap_or_default()),
            description: "12 hours of rest are over. Jars that did not seal must be dealt with \
                          within 24 hours of the end of the full time."
                .to_owned(),
        }];
        give_calendar(store, &reminders);
    };
    view! {
        <div class="foot">
            <p>{format!("Check the seals from {}.", due_at(here.store, rested))}</p>
            <button type="button" class="second" on:click=reminder>"Put it in my calendar"</button>
            <a class="main" href=Route::Today.hash()>"Today"</a>
        </div>
    }
    .into_any()
}

/// Hands reminders to the phone's calendar.
fn give_calendar(store: Store, reminders: &[Reminder]) {
    let text = calendar(reminders, clock::now());
    leptos::task::spawn_local(async move {
        match files::offer("hearthjar-reminder.ics", "text/calendar", &text).await {
            files::Offered::Failed => {
                store.warn("This browser gives out no files. Set an alarm by hand.")
            }
            files::Offered::Cancelled => {}
            _ => store.say("Open the file to add it to your calendar."),
        }
    });
}

/// The drop: cannot be skipped, says why, starts the full time over.
fn drop_part(here: Here) -> AnyView {
    let open = RwSignal::new(false);
    let causes = [
        (DropCause::HeatTooLow, "Heat was too low"),
        (DropCause::FuelOut, "Fuel or power ran out"),
        (DropCause::WeightStill, "The weight stopped"),
        (DropCause::Leak, "It leaked"),
        (DropCause::Unsure, "Not sure"),
    ];
    let buttons = move || {
        causes
            .into_iter()
            .map(|(cause, name)| {
                view! {
                    <button type="button" class="second"
                        on:click=move |_| here.step(Step::Dropped(cause))>{name}</button>
                }
                .into_any()
            })
            .collect::<Vec<_>>()
    };
    view! {
        <Show when=move || open.get() fallback=move || view! {
            <button type="button" class="danger" on:click=move |_| open.set(true)>
                "Pressure dropped"
            </button>
        }>
            <div class="sheet" role="group" aria-label="Why did the pressure drop?">
                <p><strong>"Why? The full time starts over from zero."</strong></p>
                {buttons()}
                <button type="button" class="second" on:click=move |_| open.set(false)>
                    "It did not drop"
                </button>
            </div>
        </Show>
    }
    .into_any()
}

/// The question a forward jump of the clock raises.
fn doubt(here: Here, load: &Load, doubt: Option<Span>) -> Option<AnyView> {
    let (doubt, since) = (doubt?, load.run.stage().since()?);
    let passed = move || words(here.store.now.get().since(since));
    Some(
        view! {
            <div class="question" role="alert">
                <p><strong>{format!("The clock moved forward {} while this page was not watching.",
                    words(doubt))}</strong></p>
                <p>{move || format!("This step began at {}. Look at another clock: have {} really \
                    passed?", due_at(here.store, since), passed())}</p>
                <button type="button" class="second" on:click=move |_| here.step(Step::ClockRight)>
                    "Yes, the phone only slept"
                </button>
                <button type="button" class="second" on:click=move |_| here.step(Step::ClockWrong)>
                    "No, or not sure: do not count it"
                </button>
            </div>
        }
        .into_any(),
    )
}

/// The numbers this load is held to, with their publication.
fn figures(load: &Load) -> AnyView {
    let plan = load.run.plan();
    let gauge = load.plan.gauge.name();
    view! {
        <div class="held">
            <p>{format!("{} min at {} psi ({} kPa), {gauge}", plan.hold, plan.pressure,
                plan.pressure.kpa())}</p>
            {why("", load.plan.publication.clone())}
        </div>
    }
    .into_any()
}

fn extras(here: Here, load: &Load) -> Option<AnyView> {
    match load.run.stage() {
        Stage::Loading => {
            let count = Signal::derive(move || {
                here.is.with(|load| load.as_ref().map_or(0, |load| load.jars.len() as u16))
            });
            let notes: Vec<AnyView> = by_id(&load.plan.process)
                .map(|process| process.notes())
                .unwrap_or_default()
                .iter()
                .map(|note| view! { <li>{*note}</li> }.into_any())
                .collect();
            Some(
                view! {
                    <details open><summary>"Prepare and fill"</summary><ol>{notes}</ol></details>
                    {stepper("Jars in this load", count, 1, 60, move |jars| {
                        here.store.act(here.batch, Body::JarsCounted { load: here.load, jars });
                    })}
                }
                .into_any(),
            )
        }
        Stage::Rising(_) | Stage::Holding(_) if load.plan.gauge == Gauge::Dial => {
            Some(readings(here, load))
        }
        _ => None,
    }
}

/// Log of dial readings: one below the figure restarts the time.
fn readings(here: Here, load: &Load) -> AnyView {
    let tenths = RwSignal::new(load.run.plan().pressure.tenths());
    let shown = move || {
        PsiGauge::from_tenths(tenths.get()).map_or_else(|_| String::new(), |p| p.to_string())
    };
    let change = move |by: i32| {
        tenths.update(|tenths| {
            let next = (i32::from(*tenths) + by).clamp(0, i32::from(PsiGauge::MAX_TENTHS));
            *tenths = u16::try_from(next).unwrap_or(0);
        });
    };
    let log = move |_| {
        if let Ok(psi) = PsiGauge::from_tenths(tenths.get_untracked()) {
            here.step(Step::Reading(psi));
        }
    };
    let list: Vec<AnyView> = load
        .run
        .readings()
        .iter()
        .rev()
        .take(6)
        .map(|(at, psi)| {
            view! { <li>{format!("{}: {psi} psi", due_at(here.store, *at))}</li> }.into_any()
        })
        .collect();
    view! {
        {section("Dial readings")}
        <div class="stepper" role="group" aria-label="Dial reading, psi">
            <span class="name">"Dial, psi"</span>
            <button type="button" aria-label="Half a psi less" on:click=move |_| change(-5)>"−"</button>
            <output>{shown}</output>
            <button type="button" aria-label="Half a psi more" on:click=move |_| change(5)>"+"</button>
        </div>
        <button type="button" class="second" on:click=log>"Log this reading"</button>
        <ul class="log">{list}</ul>
    }
    .into_any()
}

/// What the screen lamp and the sound can be relied on for.
fn lamp(load: &Load) -> Option<AnyView> {
    if !load.run.stage().is_attended() {
        return None;
    }
    let Lamp(state) = use_context::<Lamp>()?;
    let say = move || match state.get() {
        wake::Wake::Held => "The screen stays on.",
        wake::Wake::Idle => "The screen may go dark.",
        wake::Wake::Missing => {
            "This browser cannot keep the screen on: set the phone not to sleep."
        }
        wake::Wake::Refused => "The phone will not keep the screen on, often to save its battery.",
    };
    Some(
        view! {
            <p class="quiet">{say}" A locked or sleeping phone may not ring: set a kitchen timer \
                too."</p>
        }
        .into_any(),
    )
}

/// Taking back the last tap, and giving up.
fn leave(here: Here, load: &Load) -> AnyView {
    let last = here
        .store
        .archive
        .with_untracked(|archive| archive.batch(here.batch).and_then(|batch| batch.last))
        .filter(|last| *last != here.load);
    let undo = last.map(|event| {
        view! {
            <button type="button" class="second"
                on:click=move |_| here.store.act(here.batch, Body::Undone { event })>
                "Take back the last tap"
            </button>
        }
    });
    let stop = matches!(
        load.run.stage(),
        Stage::WarmUp(_) | Stage::Venting(_) | Stage::Rising(_) | Stage::Holding(_)
    )
    .then(|| {
        let causes = [
            (StopCause::FuelOut, "Fuel or power is gone"),
            (StopCause::CannerFault, "The canner leaks or fails"),
            (StopCause::BoiledDry, "It may have boiled dry"),
            (StopCause::Other, "Another reason"),
        ];
        let buttons: Vec<AnyView> = causes
            .into_iter()
            .map(|(cause, name)| {
                view! {
                    <button type="button" class="second"
                        on:click=move |_| here.step(Step::Stopped(cause))>{name}</button>
                }
                .into_any()
            })
            .collect();
        view! {
            <details class="stop"><summary>"Give this load up"</summary>
                <p>"The load then counts as not processed."</p>{buttons}
            </details>
        }
    });
    view! { <div class="leave">{undo}{stop}</div> }.into_any()
}
